package planted

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"

	"bygone.example/core/geom"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
)

// agree in mm is how near the walked length of a seam must come to an independent
// integrator's.
const agree = 0.01

// TestAgreement holds both sides of every seam of every sound pattern, as the check
// walks them, against Gauss-Legendre quadrature (gonum integrate/quad) of the
// curves, less what darts, pleats and gathers take up, worked out here on their own.
func TestAgreement(t *testing.T) {
	sound, err := Sound()
	if err != nil {
		t.Fatal(err)
	}
	sides, furthest := 0, 0.0
	for name, p := range sound {
		for i, w := range pairing.Walk(p) {
			s := &p.Seams[i]
			runs := map[string]pattern.Run{"A": s.A, "B": s.B}
			if len(s.B) == 0 {
				runs["B"] = s.A
			}
			for side, got := range map[string]pairing.Side{"A": w.A, "B": w.B} {
				cut, sewn := 0.0, 0.0
				for _, ref := range runs[side] {
					c, n := integrated(p.Piece(ref.Piece), ref.Edge)
					cut, sewn = cut+c, sewn+n
				}
				off := max(math.Abs(got.Cut-cut), math.Abs(got.Sewn-sewn))
				furthest = max(furthest, off)
				sides++
				if off > agree {
					t.Errorf("%s, seam %s, side %s: walked %.4f mm, sewn %.4f; integrated %.4f, sewn %.4f", name, s.Name, side, got.Cut, got.Sewn, cut, sewn)
				}
			}
		}
	}
	if sides == 0 {
		t.Error("no seam was walked")
	}
	t.Logf("%d patterns, %d sides of seams, at most %.2g mm apart", len(sound), sides, furthest)
}

// integrated is the length of an edge by quadrature, flat and sewn.
func integrated(p *pattern.Piece, edge string) (cut, sewn float64) {
	const parts, points = 32, 24
	for _, s := range p.Edge(edge).Path {
		if !s.Curved {
			cut += math.Hypot(s.P1.X-s.P0.X, s.P1.Y-s.P0.Y)
			continue
		}
		// The derivative written out anew, so as not to lean on the geometry's own.
		speed := func(u float64) float64 {
			d := func(p0, c1, c2, p1 float64) float64 {
				return 3*(1-u)*(1-u)*(c1-p0) + 6*u*(1-u)*(c2-c1) + 3*u*u*(p1-c2)
			}
			pt := func(f func(geom.Point) float64) float64 { return d(f(s.P0), f(s.C1), f(s.C2), f(s.P1)) }
			return math.Hypot(pt(func(q geom.Point) float64 { return q.X }), pt(func(q geom.Point) float64 { return q.Y }))
		}
		for k := range parts {
			cut += quad.Fixed(speed, float64(k)/parts, float64(k+1)/parts, points, nil, 0)
		}
	}
	sewn = cut
	fold := func(on string, from, to float64) {
		if on == edge {
			sewn -= to - from
		}
	}
	for _, g := range p.Gathers {
		if g.Edge == edge {
			sewn += g.Length - (g.To - g.From)
		}
	}
	inGathers := func(on string, from, to float64) bool {
		for _, g := range p.Gathers {
			if g.Edge == on && from >= g.From-1e-6 && to <= g.To+1e-6 {
				return true
			}
		}
		return false
	}
	for _, d := range p.Darts {
		if !inGathers(d.Edge, d.From, d.To) { // those are drawn up with the rest
			fold(d.Edge, d.From, d.To)
		}
	}
	for _, d := range p.Pleats {
		if !inGathers(d.Edge, d.From, d.To) {
			fold(d.Edge, d.From, d.To)
		}
	}
	return cut, sewn
}
