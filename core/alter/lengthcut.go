package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// LengthCut says where pieces are cut across to be made longer or shorter.
type LengthCut struct {
	Piece string
	// Down is how far down the piece the cut lies, as a share of its length along
	// the grain: 0 at its top, 1 at its hem.
	Down float64
	// By is how much longer in mm the seams become; negative folds a pleat out.
	By float64
	// Blend is how far in mm, on either side of the cut, the edges that it crosses
	// are drawn anew through the step; it stops at darts and at the edges' ends.
	Blend float64
}

// LengthenAt cuts a piece straight across its grain and parts it, or folds a
// pleat out of it; so it does, at the same place of the seam, with every piece
// that is sewn along an edge the cut crosses, and on from there. The edges are
// drawn anew through the step.
//
// Kept: what lies above the cut; what lies below it, moved down as it is, hem
// width and all. Changed: every seam crossed becomes longer by By to 1e-9 mm on
// both its sides. So that it does whatever slant its two sides have, the parts
// come apart by a little more than By, and where both edges of a piece are in
// seams by a little more at one end; a fold stays straight and so takes what
// its piece is parted by. Degenerate: a cut that runs through a dart, comes
// through an armscye, a neckline or a waist, or folds out more than there is,
// is refused.
func LengthenAt(p *pattern.Pattern, o LengthCut) (*operation.Answer, error) {
	e := begin(p)
	w, err := e.pieceNamed(o.Piece)
	switch {
	case err != nil:
		return nil, err
	case !(o.Down > 0 && o.Down < 1):
		return nil, refuse(fmt.Sprintf("a cut %g of the way down does not cross piece %q", o.Down, o.Piece), "choose a share between 0 and 1")
	case !(o.Blend >= 0):
		return nil, refuse("the edges cannot be blended over less than nothing", "give 0 mm or more")
	}
	down, err := w.downward()
	if err != nil {
		return nil, err
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, q := range w.outline() {
		lo, hi = min(lo, q.Dot(down)), max(hi, q.Dot(down))
	}
	cuts := map[*work]*acrossCut{w: {down: down}}
	if err := cuts[w].level(w, lo+o.Down*(hi-lo)); err != nil {
		return nil, err
	}
	order := []*work{w}
	for k := 0; k < len(order); k++ {
		next, err := e.spreadCut(cuts, order[k])
		if err != nil {
			return nil, err
		}
		order = append(order, next...)
	}
	for _, w := range order {
		if err := e.partAcross(w, cuts[w], o); err != nil {
			return nil, err
		}
	}
	return e.finish()
}

// SleeveLength says how a sleeve is lengthened at two places.
type SleeveLength struct {
	By    float64 // mm; negative shortens
	Blend float64 // as in LengthCut
}

// LengthenSleeve makes the sleeves longer or shorter, half above the elbow and
// half below it, so that the elbow stays where it bends. The elbow is the notch
// of that name, or else the middle of the underarm seam. It is LengthenAt
// twice, and refuses what that does.
func LengthenSleeve(p *pattern.Pattern, o SleeveLength) (*operation.Answer, error) {
	e := begin(p)
	w, _, hem, err := e.sleeve()
	if err != nil {
		return nil, err
	}
	down, err := w.downward()
	if err != nil {
		return nil, err
	}
	edge := w.lines[w.next(hem)]
	elbow := edge.path().At(edge.length() / 2)
	for _, n := range w.Notches {
		if n.Name == "elbow" {
			elbow = w.lines[w.EdgeIndex(n.Edge)].path().At(n.At)
			break
		}
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, q := range w.outline() {
		lo, hi = min(lo, q.Dot(down)), max(hi, q.Dot(down))
	}
	// The cuts go halfway from the elbow to either end of the underarm seam.
	level := func(from geom.Point) float64 { return (elbow.Add(from).Dot(down)/2 - lo) / (hi - lo) }
	foot, top := edge.start(), edge.end()
	if foot.Dot(down) < top.Dot(down) {
		foot, top = top, foot
	}
	below, err := LengthenAt(p, LengthCut{Piece: w.Name, Down: level(foot), By: o.By / 2, Blend: o.Blend})
	if err != nil {
		return nil, err
	}
	// What was parted below made the piece longer, and the share smaller.
	q := below.Pattern.Piece(w.Name)
	span := math.Inf(-1)
	for _, at := range q.Boundary().Flatten(sideTolerance) {
		span = max(span, at.Dot(down))
	}
	above, err := LengthenAt(below.Pattern, LengthCut{Piece: w.Name, Down: level(top) * (hi - lo) / (span - lo), By: o.By / 2, Blend: o.Blend})
	if err != nil {
		return nil, err
	}
	above.Lineage = below.Lineage.Then(above.Lineage)
	above.Changes = joinChanges(below.Changes, above.Changes)
	above.Cautions = append(below.Cautions, above.Cautions...)
	return above, nil
}

// joinChanges makes one list of the changes of two operations done one after
// the other: what both changed is told once.
func joinChanges(first, second []operation.Change) []operation.Change {
	list := slices.Clone(first)
	for _, c := range second {
		i := slices.IndexFunc(list, func(f operation.Change) bool { return f.What == c.What && f.Piece == c.Piece && f.Unit == c.Unit })
		if i < 0 {
			list = append(list, c)
			continue
		}
		list[i].After = c.After
	}
	return list
}

// downward returns the direction along the grain, or along the fold, from the
// top of a piece to its bottom.
func (w *work) downward() (geom.Point, error) {
	dir := geom.Point{}
	if w.Grain.Given() {
		dir = w.Grain.To.Sub(w.Grain.From).Unit()
	}
	for i, edge := range w.Edges {
		if edge.Finish == pattern.Fold {
			dir = w.lines[i].path().StartDirection()
		}
	}
	if dir == (geom.Point{}) {
		return dir, refuse(fmt.Sprintf("piece %q has no grainline to cut across", w.Name), "draw the grainline first")
	}
	middle := geom.Centroid(w.outline())
	foot := geom.Pt(middle.X, middle.Y-1)
	for _, role := range []string{pattern.Waist, pattern.Hem} { // a hem is lower than a waist
		for i, edge := range w.Edges {
			if edge.Is() == role && (role == pattern.Hem || !strongTop(w)) {
				foot = w.lines[i].path().At(w.lines[i].length() / 2)
			}
		}
	}
	if dir.Dot(foot.Sub(middle)) < 0 {
		dir = dir.Mul(-1)
	}
	return dir, nil
}

// strongTop reports whether the waist is the top of the piece.
func strongTop(w *work) bool { return w.Role == pattern.SkirtFront || w.Role == pattern.SkirtBack }

// acrossCut is a cut across a piece from a place on one edge to a place on
// another. Between i and j, walked forward, lies the part that is moved.
type acrossCut struct {
	down       geom.Point
	i, j       int
	a, b       float64
	setI, setJ bool // the places that seams have fixed
}

// level lays the cut square to down at the distance at along it: through the
// two places where the boundary crosses that line.
func (c *acrossCut) level(w *work, at float64) error {
	found := 0
	for i, l := range w.lines {
		path := l.path()
		for _, s := range path.CutLine(geom.Point{}.Add(c.down.Mul(at)), c.down.Left()) {
			if s < cutSliver || s > path.Length()-cutSliver {
				return refuse(fmt.Sprintf("the cut would run into a corner of piece %q", w.Name), "cut a little higher or lower")
			}
			if path.Direction(s).Dot(c.down) > 0 { // the walk goes down here: what follows is below
				c.i, c.a = i, s
			} else {
				c.j, c.b = i, s
			}
			found++
		}
	}
	return c.sane(w, found)
}

func (c *acrossCut) sane(w *work, found int) error {
	if found != 2 || c.i == c.j {
		return refuse(fmt.Sprintf("the cut does not go once straight across piece %q", w.Name), "cut where the piece has one edge on either side")
	}
	for _, i := range []int{c.i, c.j} {
		switch r := w.Edges[i].Is(); r {
		case pattern.Armscye, pattern.Cap, pattern.Neckline, pattern.Shoulder, pattern.Waist, pattern.Hem:
			return refuse(fmt.Sprintf("the cut would run through the %s of piece %q", r, w.Name), "cut higher or lower, where it crosses only seams that run along the piece")
		}
	}
	return nil
}

// spreadCut takes the cut of a piece across its seams, and returns the pieces it
// came to.
func (e *edit) spreadCut(cuts map[*work]*acrossCut, w *work) ([]*work, error) {
	var reached []*work
	c := cuts[w]
	for _, end := range []struct {
		i  int
		at float64
	}{{c.i, c.a}, {c.j, c.b}} {
		edge := w.Edges[end.i].Name
		for _, s := range e.seams {
			own, other := s.A, s.B
			if other.Has(w.Name, edge) {
				own, other = other, own
			}
			if !own.Has(w.Name, edge) || len(other) == 0 {
				continue
			}
			sewn := sewnAlong(e.in, own, w.Name, edge, end.at)
			spot, ok := e.spot(other, sewn, 0)
			if !ok {
				return nil, refuse(fmt.Sprintf("the cut would come to a corner, dart or notch across the seam %q", s.Name), "cut a little higher or lower")
			}
			mate := e.piece(spot.piece)
			next, err := e.meetCut(cuts, mate, mate.EdgeIndex(spot.edge), spot.at)
			if err != nil {
				return nil, err
			}
			if next {
				reached = append(reached, mate)
			}
		}
	}
	return reached, nil
}

// cutAgree is by how much in mm the cut may come back to a piece beside the
// place it started from, and still be one cut.
const cutAgree = 0.5

// meetCut brings the cut into a piece at a place that a seam gives; fresh tells
// whether the piece had none before.
func (e *edit) meetCut(cuts map[*work]*acrossCut, w *work, i int, at float64) (fresh bool, err error) {
	c := cuts[w]
	if c == nil {
		down, err := w.downward()
		if err != nil {
			return false, err
		}
		c = &acrossCut{down: down}
		if err := c.level(w, w.lines[i].path().At(at).Dot(down)); err != nil {
			return false, err
		}
		cuts[w], fresh = c, true
	}
	switch i {
	case c.i:
		if c.setI && math.Abs(c.a-at) > cutAgree {
			return false, refuse(fmt.Sprintf("going round the garment the cut comes to two places of piece %q", w.Name), "cut higher or lower")
		}
		c.a, c.setI = at, true
	case c.j:
		if c.setJ && math.Abs(c.b-at) > cutAgree {
			return false, refuse(fmt.Sprintf("going round the garment the cut comes to two places of piece %q", w.Name), "cut higher or lower")
		}
		c.b, c.setJ = at, true
	default:
		return false, refuse(fmt.Sprintf("the cut does not go straight on across piece %q", w.Name), "cut higher or lower")
	}
	return fresh, nil
}

// partAcross parts one piece along its cut and draws the edges through the step.
func (e *edit) partAcross(w *work, c *acrossCut, o LengthCut) error {
	p, q := w.lines[c.i].path().At(c.a), w.lines[c.j].path().At(c.b)
	for _, off := range []float64{0, min(0, o.By) / 2, -min(0, o.By) / 2} {
		by := c.down.Mul(off)
		if err := w.keepsDarts(p.Add(by), q.Add(by), ""); err != nil {
			return err
		}
	}
	steps := [2]*edgeStep{}
	for k, end := range []struct {
		i  int
		at float64
	}{{c.i, c.a}, {c.j, c.b}} {
		s, err := w.stepAt(end.i, end.at, k == 0, o)
		if err != nil {
			return err
		}
		s.free = s.free || !e.sewn(w, w.Edges[end.i].Name) || e.mirrored(w, w.Edges[end.i].Name)
		steps[k] = s
	}
	m, ok := settleSteps(c.down, p.Lerp(q, 0.5), o.By, steps)
	if !ok {
		return refuse(fmt.Sprintf("the edges of piece %q cannot both be made %.1f mm longer there", w.Name, o.By), "cut elsewhere, or ask for less")
	}
	moving := w.walk(c.i, c.a, c.j, c.b)
	w.touched = true
	w.movePoints(moving, regionOf(moving), m)
	long := [2]float64{w.lines[c.i].length(), w.lines[c.j].length()}
	for k := w.next(c.i); k != c.j; k = w.next(k) {
		w.lines[k] = w.lines[k].transform(m)
	}
	w.lines[c.i] = steps[0].drawn(m)
	w.lines[c.j] = steps[1].drawn(m)
	w.heal()
	w.keepGrainInside()
	for k, i := range []int{c.i, c.j} {
		e.changed(w.Edges[i].Name, w.Name, long[k], w.lines[i].length(), "mm")
	}
	return nil
}
