package geom

import "math"

// LengthTolerance is the error aimed at in a segment's arc length, relative to
// its control polygon; beside a cusp it may come to ten times that. A pattern's
// longest seam is a few metres: the error stays far below a thousandth of a
// millimetre.
const LengthTolerance = 1e-11

// Length returns the segment's arc length in mm, by adaptive Gauss–Legendre
// quadrature of its speed (error about LengthTolerance, relative).
func (s Segment) Length() float64 { return s.LengthTo(1) }

// LengthTo returns the arc length from the start to parameter t. A curve with a
// coordinate that is no number has a length that is none; one too large to
// measure has an infinite length or none.
func (s Segment) LengthTo(t float64) float64 {
	if !s.Curved {
		return s.P0.Dist(s.P1) * t
	}
	if t <= 0 {
		return 0
	}
	scale := s.P0.Dist(s.C1) + s.C1.Dist(s.C2) + s.C2.Dist(s.P1)
	var sum, from float64
	for _, slow := range s.slowest(scale) {
		if slow < t {
			sum += s.arc(from, slow, s.gauss(from, slow), scale*LengthTolerance, 24)
			from = slow
		}
	}
	return sum + s.arc(from, t, s.gauss(from, t), scale*LengthTolerance, 24)
}

// slowest returns the parameters at which a curve that all but stops is
// slowest, in order. Near a cusp the speed has a dip that no fixed set of nodes
// need see: all may agree on a length without it. Measured from the dip to both
// sides, none can be missed. A curve that never slows down has none.
func (s Segment) slowest(scale float64) []float64 {
	// The velocity is a quadratic Bézier of these three, up to a factor: where
	// all of them go forward along the chord, so does every velocity.
	d0, d1, d2 := s.C1.Sub(s.P0), s.C2.Sub(s.C1), s.P1.Sub(s.C2)
	u := s.P1.Sub(s.P0).Unit()
	if math.Min(u.Dot(d0), math.Min(u.Dot(d1), u.Dot(d2))) > scale/50 {
		return nil
	}
	// v = At² + Bt + C stands still in length where v·v' = 0, a cubic with
	// Bernstein coefficients f0…f3.
	e0, e1 := d1.Sub(d0), d2.Sub(d1)
	f0, f1 := d0.Dot(e0), (2*d1.Dot(e0)+d0.Dot(e1))/3
	f2, f3 := (d2.Dot(e0)+2*d1.Dot(e1))/3, d2.Dot(e1)
	f := Cubic(Point{X: f0}, Point{X: f1}, Point{X: f2}, Point{X: f3})
	var found []float64
	from := 0.0
	for _, to := range append(extrema(f0, f1, f2, f3), 1) {
		lo, hi := from, to
		if f.At(lo).X < 0 && f.At(hi).X > 0 { // from slower to faster: a dip
			for range 60 {
				if m := (lo + hi) / 2; f.At(m).X < 0 {
					lo = m
				} else {
					hi = m
				}
			}
			if s.Velocity(lo).Len() < scale/10 {
				found = append(found, lo)
			}
		}
		from = to
	}
	return found
}

// Parameter returns the t at arc length d from the start, clamped to [0, 1]; 0 on
// a segment without a length, or with one that is no number.
func (s Segment) Parameter(d float64) float64 {
	total := s.Length()
	if d <= 0 || !(total > 0) {
		return 0
	}
	if d >= total {
		return 1
	}
	if !s.Curved {
		return d / total
	}
	// Newton on the arc length, kept inside a bracket that only shrinks.
	lo, hi, t := 0.0, 1.0, d/total
	for range 60 {
		miss := s.LengthTo(t) - d
		if math.Abs(miss) <= total*LengthTolerance {
			return t
		}
		if miss > 0 {
			hi = t
		} else {
			lo = t
		}
		next := t
		if v := s.Velocity(t).Len(); v > degenerateSpeed {
			next = t - miss/v
		}
		if next <= lo || next >= hi || next == t {
			next = (lo + hi) / 2
		}
		if next == t {
			return t
		}
		t = next
	}
	return t
}

// arc refines the estimate whole of the length between t0 and t1 until two
// halves agree with it. What is no number never agrees with anything: halving it
// on would take 2^depth steps.
func (s Segment) arc(t0, t1, whole, tol float64, depth int) float64 {
	m := (t0 + t1) / 2
	left, right := s.gauss(t0, m), s.gauss(m, t1)
	if depth == 0 || !(math.Abs(left+right-whole) > tol) {
		return left + right
	}
	return s.arc(t0, m, left, tol/2, depth-1) + s.arc(m, t1, right, tol/2, depth-1)
}

func (s Segment) gauss(t0, t1 float64) float64 {
	half, mid := (t1-t0)/2, (t1+t0)/2
	var sum float64
	for i, x := range gaussNodes {
		sum += gaussWeights[i] * (s.Velocity(mid-half*x).Len() + s.Velocity(mid+half*x).Len())
	}
	return sum * half
}

// Nodes and weights of the 16-point Gauss–Legendre rule on [-1, 1], the
// positive half (Abramowitz & Stegun, Handbook of Mathematical Functions,
// table 25.4); the test recomputes them from the Legendre polynomial.
var (
	gaussNodes = [8]float64{
		0.0950125098376374402, 0.2816035507792589132, 0.4580167776572273863, 0.6178762444026437484,
		0.7554044083550030339, 0.8656312023878317439, 0.9445750230732325761, 0.9894009349916499326,
	}
	gaussWeights = [8]float64{
		0.1894506104550684963, 0.1826034150449235889, 0.1691565193950025382, 0.1495959888165767321,
		0.1246289712555338720, 0.0951585116824927848, 0.0622535239386478929, 0.0271524594117540949,
	}
)
