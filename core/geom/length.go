package geom

import "math"

// LengthTolerance is the error allowed in one segment's arc length, relative
// to it. A pattern's longest seam is a few metres: the error stays far below a
// thousandth of a millimetre.
const LengthTolerance = 1e-11

// Length returns the segment's arc length in mm, by adaptive Gauss–Legendre
// quadrature of its speed (error about LengthTolerance, relative).
func (s Segment) Length() float64 { return s.LengthTo(1) }

// LengthTo returns the arc length from the start to parameter t.
func (s Segment) LengthTo(t float64) float64 {
	if !s.Curved {
		return s.P0.Dist(s.P1) * t
	}
	if t <= 0 {
		return 0
	}
	scale := s.P0.Dist(s.C1) + s.C1.Dist(s.C2) + s.C2.Dist(s.P1)
	return s.arc(0, t, s.gauss(0, t), scale*LengthTolerance, 24)
}

// Parameter returns the t at arc length d from the start, clamped to [0, 1].
func (s Segment) Parameter(d float64) float64 {
	total := s.Length()
	if d <= 0 || total == 0 {
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
// halves agree with it.
func (s Segment) arc(t0, t1, whole, tol float64, depth int) float64 {
	m := (t0 + t1) / 2
	left, right := s.gauss(t0, m), s.gauss(m, t1)
	if depth == 0 || math.Abs(left+right-whole) <= tol {
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
