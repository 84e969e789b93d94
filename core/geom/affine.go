package geom

import "math"

// Affine maps (x, y) to (A·x + B·y + C, D·x + E·y + F). The zero value
// collapses everything to the origin: start from Identity.
type Affine struct{ A, B, C, D, E, F float64 }

// Identity maps every point to itself.
var Identity = Affine{A: 1, E: 1}

// Translation moves by v.
func Translation(v Point) Affine { return Affine{1, 0, v.X, 0, 1, v.Y} }

// Rotation turns about centre by angle.
func Rotation(centre Point, angle float64) Affine {
	s, c := math.Sincos(angle)
	return Affine{
		c, -s, centre.X - c*centre.X + s*centre.Y,
		s, c, centre.Y - s*centre.X - c*centre.Y,
	}
}

// Onto is the rigid move that takes a to a2 and turns direction a→b to a2→b2.
// Equal distances |ab| and |a2b2| make it take b to b2 as well.
func Onto(a, b, a2, b2 Point) Affine {
	turn := Turn(b.Sub(a), b2.Sub(a2))
	return Translation(a2.Sub(a)).After(Rotation(a, turn))
}

// ScaleAlong stretches by k along direction dir, leaving the line through
// centre square to dir where it is.
func ScaleAlong(centre, dir Point, k float64) Affine {
	u := dir.Unit()
	m := Affine{
		A: 1 + (k-1)*u.X*u.X, B: (k - 1) * u.X * u.Y,
		D: (k - 1) * u.X * u.Y, E: 1 + (k-1)*u.Y*u.Y,
	}
	moved := m.Apply(centre)
	m.C, m.F = centre.X-moved.X, centre.Y-moved.Y
	return m
}

// Reflection mirrors in the line through a and b.
func Reflection(a, b Point) Affine { return ScaleAlong(a, b.Sub(a).Left(), -1) }

// Apply maps a point.
func (m Affine) Apply(p Point) Point {
	return Point{m.A*p.X + m.B*p.Y + m.C, m.D*p.X + m.E*p.Y + m.F}
}

// After returns the map that does first, then m.
func (m Affine) After(first Affine) Affine {
	return Affine{
		m.A*first.A + m.B*first.D, m.A*first.B + m.B*first.E, m.A*first.C + m.B*first.F + m.C,
		m.D*first.A + m.E*first.D, m.D*first.B + m.E*first.E, m.D*first.C + m.E*first.F + m.F,
	}
}

// Inverse returns the map that undoes m; ok is false when m flattens the
// plane and cannot be undone.
func (m Affine) Inverse() (inv Affine, ok bool) {
	det := m.A*m.E - m.B*m.D
	if det == 0 || math.IsNaN(det) {
		return Affine{}, false
	}
	inv = Affine{A: m.E / det, B: -m.B / det, D: -m.D / det, E: m.A / det}
	inv.C = -(inv.A*m.C + inv.B*m.F)
	inv.F = -(inv.D*m.C + inv.E*m.F)
	return inv, true
}
