package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Stand says how a stand collar is drafted. Lengths in mm.
type Stand struct {
	// Height of the finished collar.
	Height float64
	// Spring is how far the neck edge has risen at the centre front above the
	// straight line that it follows round the back. The more, the closer the
	// collar's upper edge lies to the neck; less than 0 makes it stand away.
	Spring float64
	// KeepFacing bastes a facing that the neckline has onto it, to be sewn in with
	// the collar; else the facing is taken off, since the collar's own inner
	// layer covers the seam.
	KeepFacing bool
	// Lap is how far an end of the collar stands beyond the opening, for a button:
	// at both ends or, with LapOne, at one. Half a pattern has the same on either
	// side; one end alone wants it drawn out whole.
	Lap    float64
	LapOne bool
}

// closeNeck is the height in mm from which a stand collar meets the chin when
// the head bends; from memory.
const closeNeck = 45

// StandCollar drafts a stand collar to the neckline it is sewn to: straight
// round the back, curved from the shoulder to the centre front, of one height
// all along. It lies on the fold at the centre back, or at the centre front if
// the garment opens behind; without a fold, as where both open, it is cut in two
// halves. Of a garment drawn out whole it is drawn whole too. It is cut twice, the
// inner layer facing the outer one along the top. A lap for a button goes straight
// on beyond the opening, as high as the collar.
//
// Kept: the bodice; the collar's neck edge measures exactly what the neckline
// does sewn. Changed: a new piece, its seam, a pair of notches at every seam of
// the neckline and beside every notch there; a facing goes, or is basted on, as
// asked. Degenerate: no height, more spring than the front can give, and a
// neckline that is sewn to anything but a facing are refused.
func StandCollar(p *pattern.Pattern, o Stand) (*operation.Answer, error) {
	if !(o.Height >= minSlash) {
		return nil, refuse(fmt.Sprintf("a collar %.1f mm high cannot be sewn", o.Height), fmt.Sprintf("give it a height of %d mm or more", minSlash))
	}
	if !(o.Lap >= 0) {
		return nil, refuse("a collar's lap is not less than nothing", "ask for 0 mm or more")
	}
	e := begin(p)
	r, err := e.neckRim()
	if err != nil {
		return nil, err
	}
	if o.Lap > 0 && o.LapOne && !r.whole {
		return nil, refuse("the two halves of this collar are cut alike, and so are their laps", "unfold the pattern first, or ask for a lap at both ends")
	}
	front, total := e.frontPart(r), e.sewnRim(r)
	if r.whole { // both sides alike, from the centre back to the centre front
		front, total = front/2, total/2
	}
	curve, err := springCurve(total-front, front, o)
	if err != nil {
		return nil, err
	}
	if err := e.clear(r, o.KeepFacing); err != nil {
		return nil, err
	}
	c := e.newCollar(r, "Stand collar", true)
	if r.whole {
		at, to := curve.neck.Start(), curve.top.End() // the centre back
		if e.opensBehind(r) {
			at, to = curve.neck.End(), curve.top.Start()
		}
		curve = curve.whole(geom.Reflection(at, to), e.opensBehind(r))
		c.middle = pattern.Grain{From: at, To: to}
	}
	turn := geom.Identity
	if c.fold == foldFront { // the fold stands upright on the paper
		turn = geom.Onto(curve.neck.End(), curve.top.Start(), geom.Pt(0, 0), geom.Pt(0, o.Height))
	}
	if r.whole { // its centre upright
		at, to := c.middle.From, c.middle.To
		turn = geom.Onto(at, to, at, at.Add(geom.Pt(0, o.Height)))
		c.middle.To = turn.Apply(to)
	}
	c.draw(curve.neck.Transform(turn), curve.top.Transform(turn))
	sewn := c.w.lines[0].length()
	c.lap(o.Lap, o.LapOne)
	e.addCollar(c, r, !r.whole)
	e.changedFirst(0, "neckline, sewn to the collar", "", e.sewnRim(r), sewn, "mm")
	if o.Lap > 0 {
		e.changed("lap beyond the opening", c.w.Name, 0, o.Lap, "mm")
	}
	e.changed("upper edge of the collar", c.w.Name, 0, lineOf(c.w, "outer"), "mm")
	e.changed("collar, from neck edge to upper edge", c.w.Name, 0, o.Height, "mm")
	e.changed("spring at the centre front", c.w.Name, 0, o.Spring, "mm")
	if o.Height >= closeNeck {
		e.caution("A collar this high presses the throat when the head bends: fit it in the mock-up on the wearer, sitting and speaking, and fasten it so that it can be opened at once.")
	}
	return e.finish()
}

// neckRim returns the line of the neck that a collar is drafted to.
func (e *edit) neckRim() (rim, error) {
	r, err := e.oneRim(pattern.Neckline, "", pattern.BodiceFront, pattern.BodiceBack)
	if err != nil {
		return rim{}, err
	}
	if r.whole && (r.round || len(r.edges) != 3) {
		return rim{}, refuse("drawn out whole, the neckline is not of a middle and two sides that end at an opening", "draft the collar before unfolding the pattern")
	}
	return r, nil
}

// opensBehind reports whether a neckline that is drawn out whole has its middle
// at the front.
func (e *edit) opensBehind(r rim) bool { return isFront(r.edges[1].w) }

// whole draws the other half too, mirrored in the centre front where the collar
// opens behind, else in the centre back.
func (c collarCurve) whole(m geom.Affine, opensBehind bool) collarCurve {
	neck, top := c.neck.Transform(m).Reverse(), c.top.Transform(m).Reverse()
	if opensBehind {
		return collarCurve{c.neck.Join(neck), top.Join(c.top)}
	}
	return collarCurve{neck.Join(c.neck), c.top.Join(top)}
}

// collarCurve is the two long edges of half a collar: the neck edge from the
// centre back to the centre front, and the upper one back again.
type collarCurve struct{ neck, top geom.Path }

const (
	// mostSpring in radians is the most that the front of a collar turns upward.
	mostSpring = 1.4
	// leastSpring in mm: a curve that rises by less is drawn straight. It would be
	// an arc of kilometres about a centre too far off to be exact.
	leastSpring = 0.01
)

// springCurve draws half a stand collar on the axes: the centre back at the
// origin, upright; straight for back mm, then curved for front mm, so that the
// neck edge has risen by the spring where it ends.
func springCurve(back, front float64, o Stand) (collarCurve, error) {
	top := geom.Pt(0, o.Height)
	rise := func(turn float64) float64 {
		if turn < 1e-4 { // the series: the quotient loses its digits there
			return front * turn / 2
		}
		return front * (1 - math.Cos(turn)) / turn
	}
	size := math.Abs(o.Spring)
	most := rise(mostSpring)
	if !(size <= most) {
		return collarCurve{}, refuse(fmt.Sprintf("the front of the neckline measures %.0f mm, too little for a spring of %.0f mm", front, size),
			fmt.Sprintf("ask for %.0f mm or less", math.Floor(most)))
	}
	if size < leastSpring {
		end := geom.Pt(back+front, 0)
		return collarCurve{geom.Path{geom.Line(geom.Point{}, end)}, geom.Path{geom.Line(end.Add(top), top)}}, nil
	}
	turn := zero(func(t float64) float64 { return rise(t) - size }, 0, -size, mostSpring, most-size)
	r := front / turn
	up := math.Copysign(1, o.Spring)
	inner := r - up*o.Height // the radius of the upper edge
	if inner < r/4 {
		return collarCurve{}, refuse(fmt.Sprintf("a collar %.0f mm high with a spring of %.0f mm would have no upper edge to speak of", o.Height, size), "ask for less of either")
	}
	centre := geom.Pt(back, up*r)
	arc := func(radius, from, to float64) geom.Path {
		return arcAround(centre, radius, up*(from-math.Pi/2), up*(to-math.Pi/2))
	}
	// The cubics are a trifle shorter than the arc: the angle takes that up, so
	// that the neck edge is exact.
	turn *= front / arc(r, 0, turn).Length()
	c := collarCurve{arc(r, 0, turn), arc(inner, turn, 0)}
	if back > cutSliver {
		straight := func(y float64) geom.Path { return geom.Path{geom.Line(geom.Pt(0, y), geom.Pt(back, y))} }
		c.neck = straight(0).Join(c.neck)
		c.top = c.top.Join(straight(o.Height).Reverse())
	}
	return c, nil
}

// frontPart is how much of a neckline in mm lies on pieces of the front; where
// none tells, six tenths, which the front of a plain neck has (from memory).
func (e *edit) frontPart(r rim) float64 {
	var front float64
	for _, s := range r.edges {
		if isFront(s.w) {
			front += e.sewnBefore(s.w.Name, s.name())
		}
	}
	if front == 0 {
		return 0.6 * e.sewnRim(r)
	}
	return front
}

// foldedAt is where half a collar lies on the fold.
type foldedAt int

const (
	foldBack foldedAt = iota
	foldFront
	foldNone // open at both centres: two halves
)

// collar is half a collar being drafted.
type collar struct {
	w        *work
	fold     foldedAt
	fromBack bool          // its neck edge is drawn from the centre back to the front
	closed   bool          // neither centre opens: its other end is sewn to its mirror image
	middle   pattern.Grain // of a collar that is drawn whole: its centre line
	ends     string        // the role of its two ends then
}

// newCollar starts the piece for a rim that is walked from the front.
func (e *edit) newCollar(r rim, title string, fromBack bool) *collar {
	c := &collar{fromBack: fromBack}
	front, back := !e.end(r, false).closed(), !e.end(r, true).closed()
	cut := pattern.Cut{Count: 2}
	switch {
	case r.whole:
		c.fold, c.ends = foldNone, pattern.CentreFront
		if e.opensBehind(r) {
			c.ends = pattern.CentreBack
		}
	case front && back:
		c.fold, cut = foldNone, pattern.Cut{Count: 4, Mirrored: true}
	case back:
		c.fold = foldFront
	case !front:
		c.closed = true
		e.caution("The neck has no opening: measure the collar's upper edge against the head before cutting, or leave a seam open at the neck.")
	}
	c.w = &work{touched: true, Piece: pattern.Piece{Name: freshPiece(e, "collar"), Title: title, Role: pattern.Collar, Cut: cut}}
	return c
}

// draw sets the boundary: the neck edge, the end it comes to, the outer edge
// back, and the end that it began at.
func (c *collar) draw(neck, outer geom.Path) {
	end := func(role string, fold bool) pattern.Edge {
		edge := pattern.Edge{Name: role, Finish: pattern.Faced}
		switch {
		case fold:
			edge.Finish = pattern.Fold
		case c.closed:
			edge.Finish = pattern.Sewn
		}
		return edge
	}
	back, front := end(pattern.CentreBack, c.fold == foldBack), end(pattern.CentreFront, c.fold == foldFront)
	first, last := back, front
	if !c.fromBack {
		first, last = front, back
	}
	if c.ends != "" {
		first, last = end(c.ends, false), end(c.ends, false)
		last.Name += "." + leftHalf
	}
	w := c.w
	w.Edges = []pattern.Edge{{Name: pattern.Neckline}, last, {Name: "outer", Finish: pattern.Faced}, first}
	w.lines = []line{
		drawn(neck...), drawn(geom.Line(neck.End(), outer.Start())), drawn(outer...), drawn(geom.Line(outer.End(), neck.Start())),
	}
	if c.middle.Given() {
		w.Grain = roomyGrain(w.outline(), c.middle)
		return
	}
	// The grain runs along the fold, or the centre back where there is none.
	along := w.lines[slices.IndexFunc(w.Edges, func(e pattern.Edge) bool {
		return e.Finish == pattern.Fold || c.fold == foldNone && e.Name == pattern.CentreBack
	})]
	w.Grain = roomyGrain(w.outline(), pattern.Grain{From: along.start(), To: along.end()})
}

// lap lets the ends at the opening go on beyond it by so many mm: both of them, or
// only the one where the neck edge ends.
func (c *collar) lap(by float64, one bool) {
	w := c.w
	if by < pattern.MinEdge || c.closed {
		return
	}
	lap := pattern.Edge{Name: "lap", Finish: pattern.Faced}
	neck, outer := w.lines[0].path(), w.lines[2].path()
	out := func(p, dir geom.Point) geom.Point { return p.Add(dir.Mul(by)) }
	if w.Edges[3].Finish == pattern.Faced && !(one && w.Edges[1].Finish == pattern.Faced) { // where the neck edge starts
		low, high := out(neck.Start(), neck.StartDirection().Mul(-1)), out(outer.End(), outer.EndDirection())
		w.lines[2] = w.lines[2].join(drawn(geom.Line(outer.End(), high)))
		w.lines[3] = drawn(geom.Line(high, low))
		start := lap
		if w.Edges[1].Finish == pattern.Faced {
			start.Name += ".start"
		}
		w.Edges, w.lines = append(w.Edges, start), append(w.lines, drawn(geom.Line(low, neck.Start())))
	}
	if w.Edges[1].Finish == pattern.Faced {
		low, high := out(neck.End(), neck.EndDirection()), out(outer.Start(), outer.StartDirection().Mul(-1))
		w.lines[2] = drawn(geom.Line(high, outer.Start())).join(w.lines[2])
		w.lines[1] = drawn(geom.Line(low, high))
		w.Edges = slices.Insert(w.Edges, 1, lap)
		w.lines = slices.Insert(w.lines, 1, drawn(geom.Line(neck.End(), low)))
	}
	w.heal()
}

// addCollar puts the drawn piece into the pattern and sews it to the rim; against
// is set where the collar's neck edge is sewn against its direction.
func (e *edit) addCollar(c *collar, r rim, against bool) {
	last := r.edges[len(r.edges)-1].w
	e.pieces = slices.Insert(e.pieces, slices.Index(e.pieces, last)+1, c.w)
	e.made = append(e.made, pattern.Seam{
		Name: freshSeamName(e, c.w.Name), A: r.run(),
		B:       pattern.Run{{Piece: c.w.Name, Edge: pattern.Neckline, Backwards: against}},
		Meeting: e.fullMeeting(r),
	})
	if c.closed {
		e.made = append(e.made, pattern.Seam{
			Name: freshSeamName(e, c.w.Name+"-front"), A: pattern.Run{{Piece: c.w.Name, Edge: pattern.CentreFront}},
			Meeting: pattern.Meeting{Kind: pattern.Plain},
		})
	}
	e.markAlong(r, c.w, pattern.Neckline, c.w.lines[0].length(), against)
}
