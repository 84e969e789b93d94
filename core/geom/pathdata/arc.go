package pathdata

import (
	"math"

	"bygone.example/core/geom"
)

// ArcTolerance is how far in mm the cubics may lie from the arc they stand
// for. A tenth of what DESIGN allows, so that rounding cannot eat it up.
const ArcTolerance = 0.001

// arc returns the elliptical arc between two points as cubics, by the
// recommendation's conversion from end points to centre (SVG 1.1, appendix
// F.6). Ends that coincide draw nothing; a radius of 0 draws a line; radii too
// small to reach are enlarged.
func arc(from geom.Point, rx, ry, turn float64, large, sweep bool, to geom.Point) geom.Path {
	if from == to {
		return nil
	}
	if rx == 0 || ry == 0 {
		return geom.Path{geom.Line(from, to)}
	}
	sin, cos := math.Sincos(turn)
	// In the ellipse's own axes, halfway between the ends.
	half := from.Sub(to).Mul(0.5)
	h := geom.Pt(cos*half.X+sin*half.Y, -sin*half.X+cos*half.Y)
	if lambda := (h.X/rx)*(h.X/rx) + (h.Y/ry)*(h.Y/ry); lambda > 1 {
		rx, ry = rx*math.Sqrt(lambda), ry*math.Sqrt(lambda)
	}
	// On the unit circle that the ellipse is a stretched picture of.
	u := geom.Pt(h.X/rx, h.Y/ry)
	c := geom.Point{}
	if d := u.Dot(u); d > 0 && d < 1 {
		c = geom.Pt(u.Y, -u.X).Mul(math.Sqrt(1/d - 1))
		if large == sweep {
			c = c.Mul(-1)
		}
	}
	a := u.Sub(c)
	start := a.Angle()
	delta := geom.Turn(a, u.Mul(-1).Sub(c))
	switch {
	case sweep && delta < 0:
		delta += 2 * math.Pi
	case !sweep && delta > 0:
		delta -= 2 * math.Pi
	}
	mid := from.Lerp(to, 0.5)
	onto := geom.Affine{A: cos * rx, B: -sin * ry, D: sin * rx, E: cos * ry}
	onto.C, onto.F = mid.X, mid.Y
	place := func(angle float64) geom.Point { return onto.Apply(geom.Polar(1, angle).Add(c)) }

	n := arcPieces(math.Max(rx, ry), math.Abs(delta))
	path := make(geom.Path, n)
	step := delta / float64(n)
	k := 4.0 / 3 * math.Tan(step/4)
	at := from
	for i := range path {
		t0, t1 := start+step*float64(i), start+step*float64(i+1)
		end := place(t1)
		if i == n-1 {
			end = to
		}
		c1 := onto.Apply(geom.Polar(1, t0).Add(geom.Polar(k, t0+math.Pi/2)).Add(c))
		c2 := onto.Apply(geom.Polar(1, t1).Add(geom.Polar(k, t1-math.Pi/2)).Add(c))
		path[i] = geom.Cubic(at, c1, c2, end)
		at = end
	}
	return path
}

// quarterError is how far the cubic for a quarter of the unit circle lies from
// it, by its worst (recomputed in the test). It falls with the sixth power of
// the angle.
const quarterError = 2.8e-4

// arcPieces returns how many cubics keep within ArcTolerance on a radius.
func arcPieces(radius, angle float64) int {
	quarters := angle / (math.Pi / 2)
	finer := math.Pow(radius*quarterError/ArcTolerance, 1.0/6)
	n := math.Ceil(quarters*math.Max(1, finer) - 1e-9)
	return int(math.Max(1, math.Min(n, maxArcPieces)))
}

// maxArcPieces bounds one hostile arc: a full turn of 100 m takes 22.
const maxArcPieces = 64
