package alter

import (
	"fmt"
	"math"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Flat says how a flat collar is drafted.
type Flat struct {
	// Width in mm from the neck edge to the outer edge, square to the neck.
	Width float64
	// Overlap is how much of the shoulder seam's length the front is laid over the
	// back at the arm end. 0 lies quite flat; the more, the shorter the outer
	// edge, and the higher the collar stands before it rolls over.
	Overlap float64
	// KeepFacing bastes a facing that the neckline has onto it, to be sewn in with
	// the collar; else it is taken off.
	KeepFacing bool
}

// FlatCollar drafts a flat collar: the front is laid to the back at the
// shoulder, meeting at the neck and overlapping at the arm; the neck edge is
// traced from the two, the corner at the shoulder blended; the outer edge runs
// Width outside it, square to both centres. What the blending takes off the neck
// edge is added at the centre front.
//
// Kept: the bodice; the collar's neck edge measures exactly what the neckline
// does sewn. Changed: a new piece, its seam and notches; a facing is basted on,
// or goes, as asked. Degenerate: a neckline that is not of a front and a back
// meeting at one shoulder, or has darts or fullness in it, an overlap of more
// than six tenths, and a width that would make the outer edge cross itself are
// refused.
func FlatCollar(p *pattern.Pattern, o Flat) (*operation.Answer, error) {
	switch {
	case !(o.Width >= minSlash):
		return nil, refuse(fmt.Sprintf("a collar %.1f mm wide cannot be sewn", o.Width), fmt.Sprintf("give it a width of %d mm or more", minSlash))
	case !(o.Overlap >= 0 && o.Overlap <= mostOverlap):
		return nil, refuse(fmt.Sprintf("the shoulders cannot overlap by %g of their length", o.Overlap), fmt.Sprintf("give a share from 0 to %g", mostOverlap))
	}
	e := begin(p)
	r, err := e.neckRim()
	if err != nil {
		return nil, err
	}
	if !r.whole && len(r.edges) != 2 {
		return nil, refuse(fmt.Sprintf("the neckline is of %d pieces, and a front is laid to a back at one shoulder", len(r.edges)), "join the pieces beside the shoulder first, or draft a stand collar")
	}
	if err := e.flat(r, "a collar"); err != nil {
		return nil, err
	}
	half := r
	if r.whole {
		if half, err = e.halfNeckRim(r); err != nil {
			return nil, err
		}
	}
	lying, err := layShoulder(half, 0)
	if err != nil {
		return nil, err
	}
	laid, err := layShoulder(half, o.Overlap)
	if err != nil {
		return nil, err
	}
	plain, err := lying.outer(o.Width)
	if err != nil {
		return nil, err
	}
	outer, err := laid.outer(o.Width)
	if err != nil {
		return nil, err
	}
	if err := e.clear(r, o.KeepFacing); err != nil {
		return nil, err
	}
	c := e.newCollar(r, "Flat collar", false)
	fold := laid.back
	if c.fold == foldFront {
		fold = laid.front
	}
	if r.whole {
		centre, down := laid.neck.End(), laid.back
		if e.opensBehind(r) {
			centre, down = laid.neck.Start(), laid.front
		}
		fold = down
		m := geom.Reflection(centre, centre.Add(down))
		// From the front to the back the curves run the other way than a stand's.
		both := collarCurve{laid.neck, outer.Reverse()}.whole(m, !e.opensBehind(r))
		c.middle = pattern.Grain{From: centre, To: centre.Add(down.Mul(o.Width))}
		laid.neck, outer = both.neck, both.top.Reverse()
	}
	upright := geom.Rotation(geom.Point{}, geom.Turn(fold, geom.Pt(0, -1))) // so the fold lies on the paper
	c.middle = pattern.Grain{From: upright.Apply(c.middle.From), To: upright.Apply(c.middle.To)}
	c.draw(laid.neck.Transform(upright), outer.Transform(upright).Reverse())
	e.addCollar(c, r, false)
	e.changedFirst(0, "neckline, sewn to the collar", "", e.sewnRim(r), c.w.lines[0].length(), "mm")
	e.changed("outer edge, shortened by the overlap", c.w.Name, plain.Length(), outer.Length(), "mm")
	e.changed("overlap at the arm end of the shoulder", c.w.Name, 0, o.Overlap*laid.shoulder, "mm")
	e.changed("collar, from neck edge to outer edge", c.w.Name, 0, o.Width, "mm")
	return e.finish()
}

// halfNeckRim returns the first half of a neckline that is drawn out whole, from
// the front to the back, as if its middle piece were cut in two at the centre.
// The two halves of it must be of one length.
func (e *edit) halfNeckRim(r rim) (rim, error) {
	s := r.edges[1]
	l := s.w.lines[s.i]
	long := l.length()
	side, whole := e.in.RunLength(pattern.Run{r.edges[0].ref()})+long/2, e.sewnRim(r)
	if math.Abs(2*side-whole) > exactWaist {
		return rim{}, refuse(fmt.Sprintf("the two sides of the neckline measure %.1f and %.1f mm", side, whole-side), "draft the collar before unfolding the pattern, or draft a stand collar")
	}
	middle, across := l.path().At(long/2), l.path().Direction(long/2)
	inside := middle.Add(across.Left().Mul(long)) // down the centre: how far does not matter
	h := &work{}
	h.Piece = pattern.Piece{Name: s.w.Name, Role: s.w.Role, Edges: []pattern.Edge{{Name: "shoulder"}, s.w.Edges[s.i], {Name: "centre"}}}
	if s.against { // walked from its end to the centre
		h.Edges[0], h.Edges[2] = h.Edges[2], h.Edges[0]
		h.lines = []line{drawn(geom.Line(inside, middle)), l.between(long/2, long), s.w.lines[s.w.next(s.i)]}
	} else {
		h.lines = []line{s.w.lines[s.w.prev(s.i)], l.between(0, long/2), drawn(geom.Line(middle, inside))}
	}
	half := rim{role: r.role, edges: []rimEdge{r.edges[0], {w: h, i: 1, against: s.against}}}
	if e.opensBehind(r) {
		half = half.reversed()
	}
	return half, nil
}

const (
	// mostOverlap as a share of the shoulder: more would fold the neck edge
	// back on itself.
	mostOverlap = 0.6
	// blendShare of the shorter neckline, up to blendMost mm, is what is drawn
	// anew on either side of the shoulder.
	blendShare = 0.5
	blendMost  = 45
	// minLean is the cosine of the sharpest angle between a centre line and the
	// normal of the neckline there, about 65 degrees.
	minLean = 0.42
)

// laidNeck is a front and a back laid together at the shoulder, as far as a
// collar needs them: the neck edge from the centre front to the centre back, the
// pieces' inside on its left, and the directions of the centres from the neck
// down.
type laidNeck struct {
	neck        geom.Path
	front, back geom.Point
	shoulder    float64 // mm: the shorter of the two
}

// layShoulder lays the two pieces of a rim together with the shoulders
// overlapping by a share of their length.
func layShoulder(r rim, share float64) (laidNeck, error) {
	front, back := halfNeck(r.edges[0], true), halfNeck(r.edges[1], false)
	n := laidNeck{shoulder: min(front.shoulder.Length(), back.shoulder.Length())}
	for k, h := range []halfOfNeck{front, back} {
		if h.shoulder.Start().Dist(h.shoulder.End()) < minSlash {
			return n, refuse(fmt.Sprintf("the shoulder of piece %q has no length to lay together", r.edges[k].w.Name), "draft a stand collar")
		}
	}
	a, b := front.shoulder, back.shoulder
	lay := geom.Onto(a.Start(), a.End(), b.Start(), b.End())
	// The walk crosses the shoulder from the front to the back, so that turning
	// the front's shoulder the clockwise way lays it over the back.
	lay = geom.Rotation(b.Start(), -2*math.Asin(share/2)).After(lay)
	whole := front.neck.Length() + back.neck.Length()
	first := front.neck.Transform(lay)
	zone := math.Min(blendMost, blendShare*math.Min(first.Length(), back.neck.Length()))
	first = first.Between(0, first.Length()-zone)
	last := back.neck.Between(zone, back.neck.Length())
	chord := first.End().Dist(last.Start())
	blend := geom.Hermite(first.End(), first.EndDirection().Mul(chord), last.Start(), last.StartDirection().Mul(chord))
	n.neck = first.Join(geom.Path{blend}).Join(last)
	n.front, n.back = lay.Apply(front.centre).Sub(lay.Apply(geom.Point{})), back.centre
	switch lost := whole - n.neck.Length(); {
	case lost > cutSliver:
		at := n.neck.Start()
		n.neck = geom.Path{geom.Line(at.Sub(n.neck.StartDirection().Mul(lost)), at)}.Join(n.neck)
	case lost < -cutSliver:
		n.neck = n.neck.Between(-lost, n.neck.Length())
	}
	return n, nil
}

// outer is the line width mm outside the neck edge, from front to back, square
// to both centres.
func (n laidNeck) outer(width float64) (geom.Path, error) {
	s := drawn(n.neck...).sampled()
	for _, end := range []struct {
		k      int
		centre geom.Point
	}{{0, n.front}, {len(s.points) - 1, n.back}} {
		lean := end.centre.Dot(s.left[end.k])
		if lean < minLean {
			return nil, refuse("the neckline meets the centre at too sharp a point to draw a collar's edge beside it", "draft the collar on a rounder neckline")
		}
		s.left[end.k] = end.centre.Mul(1 / lean)
	}
	return s.drawn(func(p geom.Point, _ float64, left geom.Point) geom.Point { return p.Add(left.Mul(width)) },
		n.front.Right(), n.back.Right()), nil
}

// halfOfNeck is one piece's part of a neckline, walked from the centre front
// to the centre back with the piece on its left; its shoulder from the neck
// outwards, and the direction of its centre from the neck down.
type halfOfNeck struct {
	neck, shoulder geom.Path
	centre         geom.Point
}

func halfNeck(s rimEdge, front bool) halfOfNeck {
	m := geom.Identity
	if s.against { // the piece lies the other way up
		m = geom.Reflection(geom.Pt(0, 0), geom.Pt(0, 1))
	}
	away := func(leaving bool) geom.Path { // the edge beside the neckline, from the corner
		path := s.w.lines[s.beside(leaving)].path()
		if leaving == s.against { // it ends at the corner
			path = path.Reverse()
		}
		return path.Transform(m)
	}
	h := halfOfNeck{neck: s.w.lines[s.i].path().Transform(m), shoulder: away(front), centre: away(!front).StartDirection()}
	if s.against {
		h.neck = h.neck.Reverse()
	}
	return h
}
