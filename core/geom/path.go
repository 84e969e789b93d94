package geom

import "math"

// Path is a chain of segments, each starting where the one before it ends.
// The empty path has no length; methods that name a point of it return the
// origin. A path is a slice: treat it as read-only once shared, and Clone it
// before changing it in place.
type Path []Segment

// Polyline returns the path of straight lines through the points. Points that
// fall on the one before are left out.
func Polyline(points ...Point) Path {
	var p Path
	for i := 1; i < len(points); i++ {
		if points[i] != points[i-1] {
			p = append(p, Line(points[i-1], points[i]))
		}
	}
	return p
}

// Clone returns a copy that shares nothing with p.
func (p Path) Clone() Path { return append(Path(nil), p...) }

// Start returns the first point.
func (p Path) Start() Point {
	if len(p) == 0 {
		return Point{}
	}
	return p[0].P0
}

// End returns the last point.
func (p Path) End() Point {
	if len(p) == 0 {
		return Point{}
	}
	return p[len(p)-1].P1
}

// Length returns the arc length in mm.
func (p Path) Length() float64 {
	var sum float64
	for _, s := range p {
		sum += s.Length()
	}
	return sum
}

// Locate returns the segment and its parameter at arc length d from the
// start, clamped to the path.
func (p Path) Locate(d float64) (index int, t float64) {
	for i, s := range p {
		l := s.Length()
		if d <= l || i == len(p)-1 {
			return i, s.Parameter(d)
		}
		d -= l
	}
	return 0, 0
}

// At returns the point at arc length d from the start, clamped to the path.
func (p Path) At(d float64) Point {
	if len(p) == 0 {
		return Point{}
	}
	i, t := p.Locate(d)
	return p[i].At(t)
}

// Direction returns the unit tangent at arc length d from the start.
func (p Path) Direction(d float64) Point {
	if len(p) == 0 {
		return Point{}
	}
	i, t := p.Locate(d)
	return p[i].Direction(t)
}

// StartDirection and EndDirection are the tangents at the two ends, both
// pointing along the walk.
func (p Path) StartDirection() Point {
	for _, s := range p {
		if d := s.Direction(0); d != (Point{}) {
			return d
		}
	}
	return Point{}
}

func (p Path) EndDirection() Point {
	for i := len(p) - 1; i >= 0; i-- {
		if d := p[i].Direction(1); d != (Point{}) {
			return d
		}
	}
	return Point{}
}

// sliver is the length in mm below which a piece left over by a cut is
// rounding, not cloth: a tenth of the last decimal that files keep.
const sliver = 1e-7

// Split cuts the path at arc length d. A cut within rounding of a joint falls
// on the joint, so that no sliver is left behind.
func (p Path) Split(d float64) (before, after Path) {
	for i, s := range p {
		l := s.Length()
		if d <= sliver {
			return p[:i:i].Clone(), p[i:].Clone()
		}
		if d < l-sliver {
			a, b := s.Split(s.Parameter(d))
			before = append(p[:i:i].Clone(), a)
			after = append(Path{b}, p[i+1:]...)
			return before, after
		}
		d -= l
	}
	return p.Clone(), nil
}

// Between returns the stretch from arc length from to arc length to.
func (p Path) Between(from, to float64) Path {
	head, _ := p.Split(to)
	_, part := head.Split(from)
	return part
}

// Reverse returns the path walked the other way.
func (p Path) Reverse() Path {
	r := make(Path, len(p))
	for i, s := range p {
		r[len(p)-1-i] = s.Reverse()
	}
	return r
}

// Transform maps every segment.
func (p Path) Transform(m Affine) Path {
	r := make(Path, len(p))
	for i, s := range p {
		r[i] = s.Transform(m)
	}
	return r
}

// Join returns p followed by q. It does not move either: the caller sees to
// it that they meet.
func (p Path) Join(q Path) Path { return append(p[:len(p):len(p)].Clone(), q...) }

// Straight reports whether no point of the path lies further than tol from
// the line through its ends; of a path that ends where it starts, from that
// point.
func (p Path) Straight(tol float64) bool {
	a := p.Start()
	u := p.End().Sub(a).Unit()
	off := func(q Point) float64 {
		if u == (Point{}) {
			return q.Dist(a)
		}
		return u.Cross(q.Sub(a))
	}
	for _, s := range p {
		if math.Abs(off(s.P0)) > tol || math.Abs(off(s.P1)) > tol {
			return false
		}
		if !s.Curved {
			continue
		}
		c1, c2 := off(s.C1), off(s.C2)
		if math.Abs(c1) <= tol && math.Abs(c2) <= tol {
			continue // the curve stays inside its control points
		}
		if u == (Point{}) {
			if b := s.Bounds(); b.Width() > tol || b.Height() > tol {
				return false
			}
			continue
		}
		for _, t := range extrema(off(s.P0), c1, c2, off(s.P1)) {
			if math.Abs(off(s.At(t))) > tol {
				return false
			}
		}
	}
	return true
}

// Bounds returns the smallest upright box around the path.
func (p Path) Bounds() Box {
	b := EmptyBox
	for _, s := range p {
		b = b.Union(s.Bounds())
	}
	return b
}

// Finite reports whether every coordinate is an ordinary number.
func (p Path) Finite() bool {
	for _, s := range p {
		if !s.Finite() {
			return false
		}
	}
	return true
}

// Gap returns the largest distance between the end of one segment and the
// start of the next: 0 on a well-formed path.
func (p Path) Gap() float64 {
	var gap float64
	for i := 1; i < len(p); i++ {
		gap = math.Max(gap, p[i-1].P1.Dist(p[i].P0))
	}
	return gap
}

// Flatten returns points along the path, ends included, whose polyline stays
// within tol of it.
func (p Path) Flatten(tol float64) []Point {
	if len(p) == 0 {
		return nil
	}
	points := []Point{p[0].P0}
	for _, s := range p {
		if !s.Curved {
			points = append(points, s.P1)
			continue
		}
		for i, n := 1, s.chords(tol); i < n; i++ {
			points = append(points, s.At(float64(i)/float64(n)))
		}
		points = append(points, s.P1)
	}
	return points
}

// chords returns how many equal steps of t keep chords within tol of a cubic:
// n² ≥ max|B”|/(8·tol), and |B”| is bounded by its control polygon.
func (s Segment) chords(tol float64) int {
	a := s.P0.Sub(s.C1.Mul(2)).Add(s.C2).Len()
	b := s.C1.Sub(s.C2.Mul(2)).Add(s.P1).Len()
	n := math.Ceil(math.Sqrt(6 * math.Max(a, b) / (8 * tol)))
	return int(math.Max(1, math.Min(n, maxChords)))
}

// maxChords bounds what one hostile curve can cost.
const maxChords = 4096

// Nearest returns the arc length and the distance of the point of the path
// nearest to q. The empty path is at infinite distance.
func (p Path) Nearest(q Point) (along, distance float64) {
	distance = math.Inf(1)
	var walked float64
	for _, s := range p {
		t, d := s.nearest(q)
		if d < distance {
			along, distance = walked+s.LengthTo(t), d
		}
		walked += s.Length()
	}
	return along, distance
}

func (s Segment) nearest(q Point) (t, d float64) {
	if !s.Curved {
		v := s.P1.Sub(s.P0)
		if l2 := v.Dot(v); l2 > 0 {
			t = math.Max(0, math.Min(1, q.Sub(s.P0).Dot(v)/l2))
		}
		return t, s.At(t).Dist(q)
	}
	n := nearestSearch{s: s, q: q, d: math.Inf(1)}
	for i := range 9 { // a good first guess prunes most of the search
		n.try(float64(i)/8, 1.0/8)
	}
	n.search(s, 0, 1)
	// The place is right within a stretch of which the distance has one valley.
	lo, hi := math.Max(0, n.t-n.width), math.Min(1, n.t+n.width)
	for range 40 {
		a, b := lo+(hi-lo)/3, hi-(hi-lo)/3
		if s.At(a).Dist(q) < s.At(b).Dist(q) {
			hi = b
		} else {
			lo = a
		}
	}
	n.try((lo+hi)/2, 0)
	return n.t, n.d
}

// nearestSearch halves a cubic until what is left is straight, leaving out
// every half whose control points are all further off than the best so far.
type nearestSearch struct {
	s     Segment
	q     Point
	t, d  float64 // the best so far
	width float64 // of the stretch it was found in
}

// nearestSlack in mm is how much nearer another valley may be and go unfound,
// and how straight a stretch must be to be taken for a line.
const nearestSlack = 1e-6

func (n *nearestSearch) try(t, width float64) {
	if d := n.s.At(t).Dist(n.q); d < n.d {
		n.t, n.d, n.width = t, d, width
	}
}

func (n *nearestSearch) search(part Segment, t0, t1 float64) {
	if BoxOf(part.P0, part.C1, part.C2, part.P1).distance(n.q) >= n.d-nearestSlack {
		return
	}
	if part.chords(nearestSlack) == 1 || t1-t0 < 1e-9 {
		u, _ := Line(part.P0, part.P1).nearest(n.q)
		n.try(t0+(t1-t0)*u, t1-t0)
		return
	}
	head, tail := part.Split(0.5)
	m := (t0 + t1) / 2
	if BoxOf(head.P0, head.C1, head.C2, head.P1).distance(n.q) <= BoxOf(tail.P0, tail.C1, tail.C2, tail.P1).distance(n.q) {
		n.search(head, t0, m)
		n.search(tail, m, t1)
		return
	}
	n.search(tail, m, t1)
	n.search(head, t0, m)
}
