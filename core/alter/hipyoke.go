package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// HipYoke says how a yoke is cut off the top of a skirt.
type HipYoke struct {
	Depth float64 // mm below the waist, along every seam
	// Ratio is the cut width of what hangs below over the yoke it is gathered to;
	// 1 leaves it plain.
	Ratio float64
	// HemGain is by how much in mm a side the hem of every piece is flared, hinged
	// at the yoke.
	HemGain float64
	Slashes int // per piece, for either
}

// CutHipYoke cuts a hip yoke off every piece of the skirt, along a line the same
// depth below the waist at every seam and square to it. Waist darts are taken
// in where they are: they are made to end on the line and closed, so that the
// yoke has none. What hangs below is flared from the line, or gathered to it.
//
// Kept: the sewn waist and the seams' lengths to 1e-9 mm; above the line
// everything but the darts. Changed: a dart that reached below the line gives
// its lower end up to the skirt, one that ended above it becomes longer.
// Degenerate: a yoke deeper than the skirt or shallower than can be sewn, and
// a waist that is gathered or pleated, are refused.
func CutHipYoke(p *pattern.Pattern, o HipYoke) (*operation.Answer, error) {
	e := begin(p)
	pieces, err := e.skirt()
	if err != nil {
		return nil, err
	}
	switch {
	case !(o.Depth >= minYoke):
		return nil, refuse(fmt.Sprintf("a yoke of %.0f mm cannot be sewn", o.Depth), fmt.Sprintf("ask for %d mm or more", minYoke))
	case o.Ratio < 1 || o.HemGain < 0:
		return nil, refuse("what hangs from a yoke is as wide as it, or wider", "ask for a ratio of 1 or more and a gain of 0 or more")
	case o.Slashes < 1 && (o.Ratio > 1 || o.HemGain > 0):
		return nil, refuse("a skirt cannot be spread without a slash", "ask for at least one a piece")
	}
	hem := around(pieces, pattern.Hem)
	for k, w := range pieces {
		if pieces[k], err = e.yokeOff(w, o); err != nil {
			return nil, err
		}
	}
	e.changedFirst(0, "hem circumference", "", hem, around(pieces, pattern.Hem), "mm")
	return e.finish()
}

const (
	// minYoke is the least depth in mm of a yoke: two seam allowances must lie in
	// it without meeting.
	minYoke = 40
	// yokeLine is the role of the edges where skirt and yoke meet.
	yokeLine = "yoke"
)

// yokeRole is the role of a yoke cut off a piece of the skirt.
func yokeRole(w *work) pattern.Role {
	if isFront(w) {
		return yokeFront
	}
	return yokeBack
}

// downLeg returns the edge of a leg, and the place on it, that lies depth below
// the waist.
func (l legs) downLeg(up bool, depth float64) (edge int, at float64, ok bool) {
	edges := slices.Clone(l.down)
	if up {
		edges = slices.Clone(l.up)
		slices.Reverse(edges) // from the waist down
	}
	for _, i := range edges {
		long := l.w.lines[i].length()
		if depth < long-minSlash {
			if up {
				return i, long - depth, depth > minSlash
			}
			return i, depth, depth > minSlash
		}
		depth -= long
	}
	return 0, 0, false
}

// yokeOff cuts the yoke off one piece and returns the piece below.
func (e *edit) yokeOff(w *work, o HipYoke) (*work, error) {
	l, err := legsOf(w)
	if err != nil {
		return nil, err
	}
	if err := w.plainWaist(l.waist, "cut the yoke before gathering it"); err != nil {
		return nil, err
	}
	i, a, ok1 := l.downLeg(true, o.Depth)
	j, b, ok2 := l.downLeg(false, o.Depth)
	if !ok1 || !ok2 {
		return nil, refuse(fmt.Sprintf("a yoke of %.0f mm ends at a corner of piece %q, or below it", o.Depth, w.Name), "ask for another depth")
	}
	name := w.Edges[l.waist].Name
	up, down := w.lines[i].path(), w.lines[j].path()
	from, to := up.At(a), down.At(b)
	cut := squareAcross(from, up.Direction(a).Left(), to, down.Direction(b).Right())
	var darts []pattern.Dart
	for _, d := range w.Darts {
		if d.Edge == name {
			darts = append(darts, d)
		}
	}
	slices.SortFunc(darts, func(a, b pattern.Dart) int { return int(math.Copysign(1, a.From-b.From)) })
	w.Darts = slices.DeleteFunc(w.Darts, func(d pattern.Dart) bool { return d.Edge == name })
	waist := w.lines[l.waist].path()
	closing, err := w.closingOnto(cut, waist, darts)
	if err != nil {
		return nil, err
	}
	hemWas := w.lines[l.hem].length()
	c := parting{
		i: i, iEnds: a, iStarts: a, j: j, jEnds: b, jStarts: b, kept: cut, taken: cut, seam: yokeLine, role: pattern.Waist,
		piece: pattern.Piece{
			Name: freshPiece(e, "yoke-"+w.Name), Title: "Yoke, " + w.Title, Role: yokeRole(w), Cut: w.Cut,
		},
	}
	yoke := e.part(w, c)
	yoke.Edges[yoke.EdgeIndex(yokeLine)].Role = yokeLine
	seam := &e.made[len(e.made)-1]
	if len(darts) > 0 {
		if err := yoke.closeDarts(name, waist, cut, darts, closing); err != nil {
			return nil, err
		}
		for _, d := range darts {
			e.changed("dart "+d.Name+" is closed in the yoke", yoke.Name, d.To-d.From, 0, "mm")
		}
	}
	if w, err = e.fullBelow(w, yoke, cut.Length(), o); err != nil {
		return nil, err
	}
	w.keepGrainInside()
	line := w.EdgeIndex(yokeLine)
	w.Edges[line].Role = yokeLine
	if o.Ratio > 1 {
		seam.Meeting = pattern.Meeting{Kind: pattern.Gathered}
	}
	e.markYoke(w, line, yoke, cut.Length(), o.Ratio > 1)
	e.changed("yoke line", yoke.Name, 0, cut.Length(), "mm")
	e.changed("hem", w.Name, hemWas, lineOf(w, pattern.Hem), "mm")
	return w, nil
}

// closingOnto returns how the parts of a yoke move when the darts, made to end
// on the cut, are closed: the part before the first stays.
func (w *work) closingOnto(cut, waist geom.Path, darts []pattern.Dart) ([]geom.Affine, error) {
	closed := []geom.Affine{geom.Identity}
	for _, d := range darts {
		f, t := waist.At(d.From), waist.At(d.To)
		middle := f.Lerp(t, 0.5)
		met := cut.CutLine(middle, d.Point.Sub(middle))
		if len(met) != 1 {
			return nil, refuse(fmt.Sprintf("dart %q of piece %q does not point across the yoke", d.Name, w.Name), "turn it elsewhere first")
		}
		at := cut.At(met[0])
		closed = append(closed, closed[len(closed)-1].After(geom.Rotation(at, -geom.Turn(f.Sub(at), t.Sub(at)))))
	}
	return closed, nil
}

// closeDarts redraws a yoke whose darts are closed: waist and lower edge anew,
// at the lengths they have sewn, and what lies beyond the darts turned.
func (w *work) closeDarts(edge string, waist, cut geom.Path, darts []pattern.Dart, closed []geom.Affine) error {
	last := closed[len(closed)-1]
	i, k := w.EdgeIndex(edge), w.EdgeIndex(yokeLine)
	sewn := waist.Length()
	for _, d := range darts {
		sewn -= d.To - d.From
	}
	for n := w.next(i); n != k; n = w.next(n) {
		w.lines[n] = w.lines[n].transform(last)
		if w.Edges[n].Finish == pattern.Fold { // the grain lies along the fold, wherever that turns to
			w.Grain = pattern.Grain{From: last.Apply(w.Grain.From), To: last.Apply(w.Grain.To)}
		}
	}
	for n := range w.Landmarks {
		if l := &w.Landmarks[n]; l.At.Near(waist.End(), sideTolerance) {
			l.At = last.Apply(l.At)
		}
	}
	turn := linear(last)
	top, ok1 := squareTo(waist.Start(), waist.StartDirection(), last.Apply(waist.End()), turn.Apply(waist.EndDirection()), sewn)
	foot, ok2 := squareTo(last.Apply(cut.End()), turn.Apply(cut.EndDirection()).Mul(-1), cut.Start(), cut.StartDirection().Mul(-1), cut.Length())
	if !ok1 || !ok2 {
		return refuse(fmt.Sprintf("with its darts closed, the yoke of piece %q cannot be drawn smoothly", w.Title), "make the darts smaller first, or the yoke deeper")
	}
	var fresh line
	at, old := 0.0, 0.0
	for n := 0; n <= len(darts); n++ {
		upTo := waist.Length()
		if n < len(darts) {
			upTo = darts[n].From
		}
		end := at + upTo - old
		if n == len(darts) {
			end = top.Length()
		}
		fresh = fresh.join(redrawn(top.Between(at, end), pattern.Stretch{Piece: w.waistOf(edge), Edge: edge, From: old, To: upTo}))
		if at = end; n < len(darts) {
			old = darts[n].To
		}
	}
	w.lines[i] = fresh
	w.lines[k] = drawn(foot...)
	w.heal()
	w.keepGrainInside()
	return nil
}

// waistOf returns the piece of the input that the edge came from.
func (w *work) waistOf(edge string) string {
	if old, ok := w.lines[w.EdgeIndex(edge)].old(); ok {
		return old.Piece
	}
	return w.Name
}

// fullBelow flares what hangs below the yoke, or makes it full enough to gather.
// Its line must have the role waist while that is done.
func (e *edit) fullBelow(w, yoke *work, target float64, o HipYoke) (*work, error) {
	hem, err := w.edgeOf(pattern.Hem)
	if err != nil {
		return nil, err
	}
	if o.HemGain > 0 {
		fresh, err := w.flareTo(hem, w.lines[hem].length()+o.HemGain, o.Slashes)
		if err != nil {
			return nil, err
		}
		e.replace(w, fresh)
		w = fresh
	}
	if o.Ratio == 1 {
		return w, nil
	}
	line := w.EdgeIndex(yokeLine)
	add := (o.Ratio - 1) * target
	var cuts []slash
	long, top := w.lines[hem].length(), w.lines[line].length()
	for k, a := range evenly(0, long, o.Slashes) {
		cuts = append(cuts, slash{
			i: hem, a: a, j: line, b: top * float64(o.Slashes-k) / float64(o.Slashes+1),
			openA: add / float64(o.Slashes), openB: add / float64(o.Slashes),
		})
	}
	if err := w.spread(cuts); err != nil {
		return nil, err
	}
	now := w.lines[line].length()
	w.fresh.gathers = append(w.fresh.gathers, pattern.Gather{
		Name: freshName(w, yokeLine+"-gathers"), Edge: yokeLine, Kind: pattern.Gathers, From: 0, To: now, Length: target,
	})
	w.keepGrainInside()
	e.changed("yoke line, cut", w.Name, target, now, "mm")
	return w, nil
}

// markYoke gives the yoke's seam its notches: the middle, and where it is
// gathered the quarters (H. Kinne and A. M. Cooley, Clothing and Health, 1916).
func (e *edit) markYoke(w *work, line int, yoke *work, long float64, gathered bool) {
	shares := []float64{0.5}
	if gathered {
		shares = []float64{0.25, 0.5, 0.75}
	} else if long < longSeam {
		return
	}
	now := w.lines[line].length()
	for k, share := range shares {
		n := pattern.Notch{Name: fmt.Sprintf("%s-%d", yoke.Name, k+1), Edge: yokeLine, At: share * now, Count: 1}
		w.fresh.notches = append(w.fresh.notches, n)
		n.At = (1 - share) * long
		yoke.fresh.notches = append(yoke.fresh.notches, n)
	}
}
