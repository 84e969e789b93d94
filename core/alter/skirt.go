package alter

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// copies is how many times a piece's edge comes round the garment: the pieces
// cut, each twice over if it is half a piece on the fold.
func (w *work) copies() float64 {
	n := float64(w.Cut.Count)
	if w.OnFold() {
		n *= 2
	}
	return n
}

// around adds up the edges of a role round the whole garment.
func around(pieces []*work, role string) float64 {
	var sum float64
	for _, w := range pieces {
		for i, edge := range w.Edges {
			if edge.Is() == role {
				sum += w.copies() * w.lines[i].length()
			}
		}
	}
	return sum
}

// skirt returns the skirt's pieces, or says there is none.
func (e *edit) skirt() ([]*work, error) {
	pieces := e.roles(pattern.SkirtFront, pattern.SkirtBack)
	if len(pieces) == 0 {
		return nil, refuse("the pattern has no skirt", "give its pieces the roles skirt-front and skirt-back")
	}
	return pieces, nil
}

// LengthenSkirt lengthens the skirt at the hem by mm, or shortens it where by is
// negative. Every edge that runs to the hem goes on straight by the same
// length, so that all seams pair; the hem is drawn again at the same angles to
// them. Degenerate: shortening by more than there is below the hip is refused.
func LengthenSkirt(p *pattern.Pattern, by float64) (*operation.Answer, error) {
	e := begin(p)
	parts, err := e.skirtWith(pattern.Hem)
	if err != nil {
		return nil, err
	}
	pieces := works(parts)
	hem := around(pieces, pattern.Hem)
	for k, w := range pieces {
		i, err := w.edgeOf(pattern.Hem)
		if err != nil {
			return nil, err
		}
		before, after := w.prev(i), w.next(i)
		old := w.lines[before].length()
		short := math.Min(old, w.lines[after].length())
		if by < 0 && (-by > short+parts[k].above-hipDepth || -by > short-minStrip) {
			return nil, refuse(fmt.Sprintf("piece %q cannot be shortened by %.0f mm: little more than its hip would be left", w.Name, -by),
				"shorten it by less")
		}
		w.touched = true
		l := w.lines[i].path()
		// The hem keeps its angles to the edges it runs between.
		leave := geom.Turn(w.lines[before].path().EndDirection(), l.StartDirection())
		arrive := geom.Turn(l.EndDirection(), w.lines[after].path().StartDirection())
		whole := wholeOf(w.lines[i])
		w.lines[before] = extendEnd(w.lines[before], by)
		w.lines[after] = extendStart(w.lines[after], by)
		a, b := w.lines[before].end(), w.lines[after].start()
		chord := a.Dist(b)
		v0 := geom.Rotation(geom.Point{}, leave).Apply(w.lines[before].path().EndDirection()).Mul(chord)
		v1 := geom.Rotation(geom.Point{}, -arrive).Apply(w.lines[after].path().StartDirection()).Mul(chord)
		w.lines[i] = redrawn(geom.Path{geom.Hermite(a, v0, b, v1)}, whole)
		w.keepGrainInside()
		e.changed(w.Edges[before].Name, w.Name, old, w.lines[before].length(), "mm")
	}
	e.changed("hem circumference", "", hem, around(pieces, pattern.Hem), "mm")
	return e.finish()
}

// extendEnd lets a line run on straight, or cuts it off where by is negative.
func extendEnd(l line, by float64) line {
	if by < 0 {
		head, _ := l.split(l.length() + by)
		return head
	}
	if by <= cutSliver {
		return l
	}
	return l.join(drawn(geom.Line(l.end(), l.end().Add(l.path().EndDirection().Mul(by)))))
}

func extendStart(l line, by float64) line {
	if by < 0 {
		_, tail := l.split(-by)
		return tail
	}
	if by <= cutSliver {
		return l
	}
	return drawn(geom.Line(l.start().Sub(l.path().StartDirection().Mul(by)), l.start())).join(l)
}

// HemSweep says how wide the hem becomes.
type HemSweep struct {
	Circumference float64 // mm round the whole garment
	Slashes       int     // per piece
}

// sweepTolerance is how near in mm the hem comes to the circumference asked
// for: the finest a tape can be read, with room to spare.
const sweepTolerance = 0.01

// SetHem slashes every skirt piece from hem to waist, hinged at the waist, and
// spreads (or laps) the slashes until the hem measures what is asked. Pieces
// share the change in proportion to their hems.
//
// Kept: the waist and every edge that runs down to the hem, in length.
// Changed: the hem. Degenerate: a hem that would turn a piece past a quarter
// circle, or lap away to nothing, is refused.
func SetHem(p *pattern.Pattern, o HemSweep) (*operation.Answer, error) {
	e := begin(p)
	parts, err := e.skirtWith(pattern.Hem)
	if err != nil {
		return nil, err
	}
	pieces := works(parts)
	before := around(pieces, pattern.Hem)
	if before == 0 {
		return nil, refuse("no skirt piece has a hem edge", "give the lower edges the role hem")
	}
	if o.Slashes < 1 {
		return nil, refuse("a skirt cannot be spread without a slash", "ask for at least one a piece")
	}
	told := len(e.changes)
	for k, w := range pieces {
		i, err := w.edgeOf(pattern.Hem)
		if err != nil {
			return nil, err
		}
		now := w.lines[i].length()
		target := now * o.Circumference / before
		fresh, err := w.flareTo(i, target, o.Slashes)
		if err != nil {
			return nil, err
		}
		e.replace(w, fresh)
		pieces[k] = fresh
		e.changed("hem", fresh.Name, now, fresh.lines[i].length(), "mm")
	}
	e.changedFirst(told, "hem circumference", "", before, around(pieces, pattern.Hem), "mm")
	return e.finish()
}

// replace puts a piece under work in the place of another.
func (e *edit) replace(old, fresh *work) {
	for i, w := range e.pieces {
		if w == old {
			e.pieces[i] = fresh
		}
	}
}

// copy returns a copy of the piece under work that shares nothing with it.
func (w *work) copy() *work {
	c := *w
	c.Piece = w.Piece.Clone()
	c.lines = make([]line, len(w.lines))
	for i, l := range w.lines {
		c.lines[i] = l.join()
	}
	return &c
}

// flareTo returns the piece with its edge i spread by n slashes, hinged at the
// edge that it hangs from, to the length target.
func (w *work) flareTo(i int, target float64, n int) (*work, error) {
	waist, err := w.upperEdge()
	if err != nil {
		return nil, err
	}
	length, top := w.lines[i].length(), w.lines[waist].length()
	c, ok, err := w.spreadTo(i, target, sweepTolerance, func(growth float64) []slash {
		var cuts []slash
		for k, a := range evenly(0, length, n) {
			// The waist is walked the other way round.
			b := w.besideDarts(w.lines[i].path().At(a), waist, top*float64(n-k)/float64(n+1))
			cuts = append(cuts, slash{i: i, a: a, j: waist, b: b, openA: growth / float64(n)})
		}
		return cuts
	})
	if err == nil && !ok {
		err = refuse(fmt.Sprintf("the hem of piece %q cannot be brought to %.0f mm", w.Name, target), "ask for a hem nearer to what it is")
	}
	return c, err
}

// besideDarts returns the place nearest to at on an edge to which a cut from a
// point leads without crossing a dart of that edge: itself, or a dart's foot.
func (w *work) besideDarts(from geom.Point, i int, at float64) float64 {
	path := w.lines[i].path()
	places := []float64{at}
	for _, d := range w.Darts {
		if d.Edge == w.Edges[i].Name {
			places = append(places, d.From, d.To)
		}
	}
	slices.SortStableFunc(places, func(a, b float64) int { return cmp.Compare(math.Abs(a-at), math.Abs(b-at)) })
	for _, b := range places {
		if w.keepsDarts(from, path.At(b), "") == nil {
			return b
		}
	}
	return at
}

// BackFullness says how much is gathered into the middle of the back.
type BackFullness struct {
	// Zone is the drawn-up width in mm of the gathers, over the whole back.
	Zone float64
	// Ratio is cut width over drawn-up width.
	Ratio float64
}

// GatherBack widens the skirt's back at the centre back, from waist to hem, and
// draws the added width up again over a zone at the centre.
//
// Kept: the sewn waist, the sides and centres. Changed: the hem grows by the
// width added, exactly. Degenerate: a zone wider than the back, a ratio under 1, or a
// back gathered already is refused.
func GatherBack(p *pattern.Pattern, o BackFullness) (*operation.Answer, error) {
	e := begin(p)
	backs := e.role(pattern.SkirtBack)
	if len(backs) == 0 {
		return nil, refuse("the pattern has no piece with the role skirt-back", "give the back of the skirt that role")
	}
	hem := around(e.roles(pattern.SkirtFront, pattern.SkirtBack), pattern.Hem)
	found := false
	for _, w := range backs {
		centre := w.run(pattern.CentreBack)
		if len(centre) == 0 {
			continue // a side gore: the gathers are at the centre
		}
		found = true
		if err := e.gatherGore(w, centre, o); err != nil {
			return nil, err
		}
	}
	if !found {
		return nil, refuse("no back piece of the skirt has a centre-back edge", "give its middle edge the role centre-back")
	}
	e.changed("hem circumference", "", hem, around(e.roles(pattern.SkirtFront, pattern.SkirtBack), pattern.Hem), "mm")
	return e.finish()
}

// backSlashes is in how many slashes a back is widened: as many as keep the
// faired waist from swinging between the parts.
const backSlashes = 3

// run returns the edges of a role that follow one another, in boundary order:
// a centre back and the opening above it.
func (w *work) run(role string) []int {
	var found []int
	for i := range w.Edges {
		if w.Edges[i].Is() != role || w.Edges[w.prev(i)].Is() == role {
			continue
		}
		for k := i; w.Edges[k].Is() == role; k = w.next(k) {
			found = append(found, k)
		}
		return found
	}
	return nil
}

func (e *edit) gatherGore(w *work, centre []int, o BackFullness) error {
	waist, err := w.edgeOf(pattern.Waist)
	if err != nil {
		return err
	}
	hem, err := w.edgeOf(pattern.Hem)
	if err != nil {
		return err
	}
	name := w.Edges[waist].Name
	if e.takesUp(w, name) {
		return refuse(fmt.Sprintf("the waist of piece %q has darts or fullness in it already", w.Name), "let them out or move them first")
	}
	zone := o.Zone / 2
	top := w.lines[waist].length()
	switch {
	case o.Ratio < 1:
		return refuse(fmt.Sprintf("a fullness ratio of %g would stretch the cloth", o.Ratio), "ask for 1 or more")
	case zone < minGathered || zone > top:
		return refuse(fmt.Sprintf("a zone of %.0f mm does not fit on a back waist of %.0f mm a side", o.Zone, top),
			fmt.Sprintf("ask for a zone between %d and %.0f mm", 2*minGathered, 2*top))
	}
	// Slashes straight down the zone, parted parallel: the centre back slides out
	// as it is, and waist and hem are drawn smoothly through the gaps.
	add := zone * (o.Ratio - 1)
	atEnd := w.next(waist) == centre[0] // where along the waist the centre back is
	foot := w.lines[hem].length()
	full, ok, err := w.spreadBothTo(waist, top+add, hem, foot+add, equalTolerance/10, func(growth, atHem float64) []slash {
		var cuts []slash
		for _, in := range evenly(0, zone, backSlashes) {
			c := slash{i: waist, a: in, j: hem, b: foot - in, openA: growth / backSlashes, openB: atHem / backSlashes}
			if atEnd {
				c.a, c.b = top-in, in
			}
			cuts = append(cuts, c)
		}
		return cuts
	})
	if err == nil && !ok {
		err = refuse(fmt.Sprintf("the waist of piece %q cannot be widened by %.0f mm", w.Name, add), "ask for less fullness")
	}
	if err != nil {
		return err
	}
	e.replace(w, full)
	w = full
	w.touched = true
	added := w.lines[waist].length() - top
	g := pattern.Gather{
		Name: freshName(w, name+"-gathers"), Edge: name, Kind: pattern.Gathers, To: zone + added, Length: zone,
	}
	if atEnd {
		g.From, g.To = top-zone, top+added
	}
	w.fresh.gathers = append(w.fresh.gathers, g)
	e.gatherSeams(w.Name, name, pattern.Gathers)
	e.changed("waist, cut", w.Name, top, w.lines[waist].length(), "mm")
	e.changed("waist, sewn", w.Name, top, w.lines[waist].length()-(g.To-g.From)+g.Length, "mm")
	return nil
}
