package geom

import (
	"math"
	"slices"
)

// Segment is one straight line or one cubic Bézier from P0 to P1. C1 and C2
// are the cubic's control points; of a line they are not looked at. The zero
// value is a line of no length at the origin.
type Segment struct {
	P0, C1, C2, P1 Point
	Curved         bool
}

// Line returns the straight segment from a to b.
func Line(a, b Point) Segment { return Segment{P0: a, P1: b} }

// Cubic returns the cubic Bézier with the given ends and control points.
func Cubic(p0, c1, c2, p1 Point) Segment {
	return Segment{P0: p0, C1: c1, C2: c2, P1: p1, Curved: true}
}

// Quadratic returns the cubic that draws exactly the quadratic Bézier with
// control point c.
func Quadratic(p0, c, p1 Point) Segment {
	return Cubic(p0, p0.Lerp(c, 2.0/3), p1.Lerp(c, 2.0/3), p1)
}

// Hermite returns the cubic from p0 to p1 that leaves p0 with velocity v0 and
// reaches p1 with velocity v1.
func Hermite(p0, v0, p1, v1 Point) Segment {
	return Cubic(p0, p0.Add(v0.Mul(1.0/3)), p1.Sub(v1.Mul(1.0/3)), p1)
}

// At returns the point at parameter t in [0, 1].
func (s Segment) At(t float64) Point {
	if !s.Curved {
		return s.P0.Lerp(s.P1, t)
	}
	u := 1 - t
	a, b, c, d := u*u*u, 3*u*u*t, 3*u*t*t, t*t*t
	return Point{
		a*s.P0.X + b*s.C1.X + c*s.C2.X + d*s.P1.X,
		a*s.P0.Y + b*s.C1.Y + c*s.C2.Y + d*s.P1.Y,
	}
}

// Velocity returns the derivative by t at parameter t.
func (s Segment) Velocity(t float64) Point {
	if !s.Curved {
		return s.P1.Sub(s.P0)
	}
	u := 1 - t
	a, b, c := 3*u*u, 6*u*t, 3*t*t
	return Point{
		a*(s.C1.X-s.P0.X) + b*(s.C2.X-s.C1.X) + c*(s.P1.X-s.C2.X),
		a*(s.C1.Y-s.P0.Y) + b*(s.C2.Y-s.C1.Y) + c*(s.P1.Y-s.C2.Y),
	}
}

// Direction returns the unit tangent at parameter t. Where the velocity
// vanishes it is taken from the nearest control points that differ (a control
// point on its end), or is where the curve sets out again (a cusp); of a
// segment of no size it is the zero vector.
func (s Segment) Direction(t float64) Point {
	v := s.Velocity(t)
	if v.Len() > degenerateSpeed {
		return v.Unit()
	}
	if t > 0 && t < 1 {
		if d := s.At(math.Min(1, t+cuspStep)).Sub(s.At(t)); d.Len() > degenerateSpeed*cuspStep {
			return d.Unit()
		}
	}
	if t < 0.5 {
		for _, q := range [...]Point{s.C1, s.C2, s.P1} {
			if d := q.Sub(s.P0); s.Curved && d.Len() > degenerateSpeed {
				return d.Unit()
			}
		}
	}
	for _, q := range [...]Point{s.C2, s.C1, s.P0} {
		if d := s.P1.Sub(q); s.Curved && d.Len() > degenerateSpeed {
			return d.Unit()
		}
	}
	return s.P1.Sub(s.P0).Unit()
}

// degenerateSpeed is the velocity, in mm per unit of t, below which a tangent
// is no longer to be trusted: a thousandth of the finest detail kept on paper.
const degenerateSpeed = 1e-7

// cuspStep is how far in t beyond a cusp its direction is looked for: near
// enough for six digits on curves without a second bend there.
const cuspStep = 1e-4

// Split cuts the segment at parameter t (de Casteljau).
func (s Segment) Split(t float64) (before, after Segment) {
	if !s.Curved {
		m := s.At(t)
		return Line(s.P0, m), Line(m, s.P1)
	}
	a, b, c := s.P0.Lerp(s.C1, t), s.C1.Lerp(s.C2, t), s.C2.Lerp(s.P1, t)
	ab, bc := a.Lerp(b, t), b.Lerp(c, t)
	m := ab.Lerp(bc, t)
	return Cubic(s.P0, a, ab, m), Cubic(m, bc, c, s.P1)
}

// Part returns the stretch between parameters t0 and t1, t0 ≤ t1.
func (s Segment) Part(t0, t1 float64) Segment {
	if t0 <= 0 && t1 >= 1 {
		return s
	}
	head, _ := s.Split(t1)
	if t0 <= 0 {
		return head
	}
	_, part := head.Split(t0 / t1)
	return part
}

// Reverse returns the segment walked the other way.
func (s Segment) Reverse() Segment {
	return Segment{P0: s.P1, C1: s.C2, C2: s.C1, P1: s.P0, Curved: s.Curved}
}

// Transform maps the segment; affine maps keep Béziers exact.
func (s Segment) Transform(m Affine) Segment {
	t := Segment{P0: m.Apply(s.P0), P1: m.Apply(s.P1), Curved: s.Curved}
	if s.Curved {
		t.C1, t.C2 = m.Apply(s.C1), m.Apply(s.C2)
	}
	return t
}

// Finite reports whether every coordinate is an ordinary number.
func (s Segment) Finite() bool {
	return s.P0.Finite() && s.P1.Finite() && (!s.Curved || s.C1.Finite() && s.C2.Finite())
}

// Bounds returns the smallest upright box around the segment, exact for
// cubics (from the roots of the derivative).
func (s Segment) Bounds() Box {
	b := BoxOf(s.P0, s.P1)
	if !s.Curved {
		return b
	}
	for _, t := range append(extrema(s.P0.X, s.C1.X, s.C2.X, s.P1.X), extrema(s.P0.Y, s.C1.Y, s.C2.Y, s.P1.Y)...) {
		b = b.With(s.At(t))
	}
	return b
}

// extrema returns the parameters inside (0, 1) at which one coordinate of a
// cubic stands still, in order.
func extrema(p0, p1, p2, p3 float64) []float64 {
	a := -p0 + 3*p1 - 3*p2 + p3
	b := 2 * (p0 - 2*p1 + p2)
	c := p1 - p0
	var roots []float64
	keep := func(t float64) {
		if t > 0 && t < 1 {
			roots = append(roots, t)
		}
	}
	disc := b*b - 4*a*c
	if disc < 0 {
		return nil
	}
	// The larger root first, the other from their product: neither loses digits
	// when a or c is nearly nothing. A division by zero is kept out by keep.
	q := -(b + math.Copysign(math.Sqrt(disc), b)) / 2
	keep(q / a)
	keep(c / q)
	slices.Sort(roots)
	return slices.Compact(roots)
}
