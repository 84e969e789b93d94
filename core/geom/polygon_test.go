package geom_test

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"bygone.example/core/geom"
	"bygone.example/core/geom/geomtest"
)

// TestAreaAgainstPolygon: the closed form agrees with the shoelace sum of a
// fine polygon.
func TestAreaAgainstPolygon(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := geomtest.Chain().Draw(t, "path")
		p = append(p, geom.Line(p.End(), p.Start()))
		var twice float64
		const n = 2000
		for _, s := range p {
			for i := range n {
				twice += s.At(float64(i) / n).Cross(s.At(float64(i+1) / n))
			}
		}
		// Each chord misses a sliver of about |B''|·|B'|/(12 n³); n of them per curve.
		if got := p.Area(); math.Abs(got-twice/2) > 10*geomtest.Reach*geomtest.Reach*6*7/(n*n) {
			t.Errorf("Area() = %g, polygon %g", got, twice/2)
		}
	})
}

func TestSelfCrossings(t *testing.T) {
	for _, c := range []struct {
		name, d string
		want    []geom.Point
	}{
		{"square", "M0 0 L10 0 L10 10 L0 10 Z", nil},
		{"open line", "M0 0 L10 0", nil},
		{"bow", "M0 0 L10 10 L10 0 L0 10 Z", []geom.Point{geom.Pt(5, 5)}},
		{"open crossing", "M0 0 L10 10 L10 0 L0 8", []geom.Point{geom.Pt(40.0/9, 40.0/9)}},
		{"corner on a side", "M0 0 L10 0 L10 10 L5 0 L0 10 Z", []geom.Point{geom.Pt(5, 0), geom.Pt(5, 0)}},
		{"corner on a corner", "M0 0 L10 0 L20 0 L20 10 L10 0 L0 10 Z", []geom.Point{geom.Pt(10, 0)}},
		{"side upon a side", "M0 0 L30 0 L30 10 L20 0 L10 0 L0 10 Z", []geom.Point{geom.Pt(10, 0)}},
		{"spike", "M0 0 L10 0 L10 10 L10 5 L0 5 Z", []geom.Point{geom.Pt(10, 10)}},
		{"spike at the joint", "M10 10 L10 5 L0 5 L0 0 L10 0 Z", []geom.Point{geom.Pt(10, 10)}},
		{"looped curve", "M0 0 C60 40 -20 40 40 0 Z", []geom.Point{{X: 20}}},
		{"curve that turns round without a loop", "M0 0 C30 40 10 40 40 0 Z", nil},
		{"many collinear pieces", "M0 0 L1 0 L2 0 L3 0 L3.0000004 0 L4 0 L4 4 Z", nil},
		{"two curves that part at a tangent", "M0 0 C100 0 200 20 300 60 C200 30 120 0 0 0 Z", nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := geomtest.Path(t, c.d).SelfCrossings(0.001)
			if len(c.want) == 0 && len(got) > 0 || len(c.want) > 0 && len(got) == 0 {
				t.Fatalf("SelfCrossings() = %v, want at %v", got, c.want)
			}
			for _, w := range c.want {
				near := false
				for _, g := range got {
					near = near || math.Abs(g.At.X-w.X) < 1e-3 && (w.Y == 0 && w.X == 20 || g.At.Near(w, 1e-3))
				}
				if !near {
					t.Errorf("SelfCrossings() = %v, want one at %v", got, w)
				}
			}
		})
	}
}

// TestSelfCrossingsPlace: the arc lengths of a crossing lead to its point.
func TestSelfCrossingsPlace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := geomtest.Chain().Draw(t, "path")
		for _, c := range p.SelfCrossings(0.01) {
			if c.First > c.Second+1e-6 {
				t.Errorf("SelfCrossings() gave %+v out of order", c)
			}
			// A chord stands for its stretch of curve: in proportion, not exactly.
			if a := p.At(c.First); !a.Near(c.At, 0.05) {
				t.Errorf("At(%g) = %v, want near %v", c.First, a, c.At)
			}
		}
	})
}

// TestCutLine: every cut is on the line, and as many are found as a fine walk
// changes sides.
func TestCutLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := geomtest.Chain().Draw(t, "path")
		a, u := geomtest.Point().Draw(t, "a"), geom.Polar(3, rapid.Float64Range(0, 7).Draw(t, "dir"))
		got := p.CutLine(a, u)
		for i, at := range got {
			if off := math.Abs(u.Unit().Cross(p.At(at).Sub(a))); off > 1e-4 {
				t.Errorf("CutLine()[%d] = %g lies %g mm off the line", i, at, off)
			}
			if i > 0 && at <= got[i-1] {
				t.Errorf("CutLine() = %v, want it in walking order", got)
			}
		}
		changes := 0
		last := 0.0
		for _, s := range p {
			for i := range 300 {
				if f := u.Cross(s.At(float64(i) / 299).Sub(a)); math.Abs(f) > 1e-6 { // beyond rounding
					if f*last < 0 {
						changes++
					}
					last = f
				}
			}
		}
		if len(got) < changes {
			t.Errorf("CutLine() found %d places, the walk changes sides %d times", len(got), changes)
		}
	})
}

func TestCutLineKnown(t *testing.T) {
	for _, c := range []struct {
		name, d string
		want    []float64
	}{
		{"once", "M0 0 L10 0", []float64{5}},
		{"at the start", "M5 0 L10 0", []float64{0}},
		{"at the end", "M0 0 L5 0", []float64{5}},
		{"at a joint, once", "M0 0 L5 0 L10 0", []float64{5}},
		{"touching at a corner", "M0 0 L5 0 L0 0", []float64{5}},
		{"along the line", "M0 0 L5 0 L5 10 L0 10", []float64{5, 15}},
		{"not at all", "M0 0 L4 0", nil},
		{"curve that only touches", "M0 0 C6.66666666666667 3 6.66666666666667 7 0 10", []float64{geomtest.Path(t, "M0 0 C6.66666666666667 3 6.66666666666667 7 0 10").Length() / 2}},
		{"twice within a thirtieth", "M0 0 C6.67 3 6.67 7 0 10", nil},
	} {
		p := geomtest.Path(t, c.d)
		got := p.CutLine(geom.Pt(5, -100), geom.Pt(0, 2))
		if c.name == "twice within a thirtieth" {
			if len(got) != 2 {
				t.Errorf("%s: CutLine() = %v, want two places", c.name, got)
			}
			continue
		}
		if diff := cmp.Diff(c.want, got, geomtest.Approx(1e-6)); diff != "" {
			t.Errorf("%s: CutLine() (-want +got):\n%s", c.name, diff)
		}
	}
}

func TestContainsAndCentroid(t *testing.T) {
	ell := []geom.Point{{X: 0, Y: 0}, {X: 20, Y: 0}, {X: 20, Y: 10}, {X: 10, Y: 10}, {X: 10, Y: 20}, {X: 0, Y: 20}}
	for q, want := range map[geom.Point]bool{{X: 5, Y: 15}: true, {X: 15, Y: 15}: false, {X: 15, Y: 5}: true, {X: -1, Y: 5}: false, {X: 30, Y: 10}: false} {
		if got := geom.Contains(ell, q); got != want {
			t.Errorf("Contains(%v) = %v, want %v", q, got, want)
		}
	}
	// 200 mm² about (10, 5) and 100 mm² about (5, 15).
	if got, want := geom.Centroid(ell), geom.Pt(25.0/3, 25.0/3); !got.Near(want, 1e-12) {
		t.Errorf("Centroid() = %v, want %v", got, want)
	}
	if got, want := geom.Centroid(ell[:2]), geom.Pt(10, 0); !got.Near(want, 1e-12) {
		t.Errorf("Centroid() of a line = %v, want %v", got, want)
	}
}

// TestSmooth: the spline goes through its points with one tangent and one
// curvature, and keeps the directions it was given.
func TestSmooth(t *testing.T) {
	curvature := func(s geom.Segment, end bool) float64 {
		v, a := s.Velocity(0), s.P0.Sub(s.C1.Mul(2)).Add(s.C2).Mul(6)
		if end {
			v, a = s.Velocity(1), s.C1.Sub(s.C2.Mul(2)).Add(s.P1).Mul(6)
		}
		return v.Cross(a) / math.Pow(v.Len(), 3)
	}
	rapid.Check(t, func(t *rapid.T) {
		// Points that move on, as along an armscye: at least 10 mm apart.
		var points []geom.Point
		q := geomtest.Point().Draw(t, "start")
		for range rapid.IntRange(2, 8).Draw(t, "n") {
			points = append(points, q)
			q = q.Add(geom.Polar(rapid.Float64Range(10, 200).Draw(t, "step"), rapid.Float64Range(-1.2, 1.2).Draw(t, "dir")))
		}
		var from, to geom.Point
		if rapid.Bool().Draw(t, "ends") {
			from, to = geom.Polar(3, rapid.Float64Range(-1, 1).Draw(t, "from")), geom.Polar(3, rapid.Float64Range(-1, 1).Draw(t, "to"))
		}
		p := geom.Smooth(points, from, to)
		if len(p) != len(points)-1 {
			t.Fatalf("Smooth() of %d points has %d segments", len(points), len(p))
		}
		for i, s := range p {
			if s.P0 != points[i] || s.P1 != points[i+1] {
				t.Errorf("Smooth() misses point %d: %v", i, s)
			}
			if i == 0 {
				continue
			}
			if turn := geom.Turn(p[i-1].Velocity(1), s.Velocity(0)); math.Abs(turn) > 1e-6 {
				t.Errorf("Smooth() turns by %g at point %d", turn, i)
			}
			if k0, k1 := curvature(p[i-1], true), curvature(s, false); s.Velocity(0).Len() > 1 && math.Abs(k0-k1) > 1e-6*(1+math.Abs(k0)) {
				t.Errorf("Smooth() has curvature %g and %g at point %d", k0, k1, i)
			}
		}
		if from != (geom.Point{}) {
			if a, b := geom.Turn(from, p.StartDirection()), geom.Turn(to, p.EndDirection()); math.Abs(a) > 1e-9 || math.Abs(b) > 1e-9 {
				t.Errorf("Smooth() leaves its directions by %g and %g", a, b)
			}
		} else if len(p) > 1 {
			if k := curvature(p[0], false); math.Abs(k) > 1e-6 {
				t.Errorf("Smooth() has curvature %g at its free start", k)
			}
		}
	})
	if got := geom.Smooth([]geom.Point{{X: 1}, {X: 1}}, geom.Point{}, geom.Point{}); got != nil {
		t.Errorf("Smooth() of one place = %v, want nothing", got)
	}
}
