package geom_test

import (
	"math"
	"testing"
	"time"

	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"

	"bygone.example/core/geom"
	"bygone.example/core/geom/geomtest"
)

// oracle measures a curve with gonum: Gauss-Legendre on stretches halved until
// two orders agree, which is neither our rule nor our way of dividing.
func oracle(s geom.Segment, t0, t1 float64) float64 {
	speed := func(t float64) float64 { return s.Velocity(t).Len() }
	scale := s.P0.Dist(s.C1) + s.C1.Dist(s.C2) + s.C2.Dist(s.P1)
	var measure func(a, b float64, depth int) float64
	measure = func(a, b float64, depth int) float64 {
		coarse, fine := quad.Fixed(speed, a, b, 11, nil, 0), quad.Fixed(speed, a, b, 25, nil, 0)
		if depth == 0 || math.Abs(coarse-fine) <= 1e-12*scale {
			return fine
		}
		m := (a + b) / 2
		return measure(a, m, depth-1) + measure(m, b, depth-1)
	}
	// A thin dip in the speed hides between the nodes of any rule: it is looked
	// for by sampling, and measured from to both sides.
	const samples = 1000
	at := func(i int) float64 { return t0 + (t1-t0)*float64(i)/samples }
	var sum float64
	from := t0
	for i := range samples + 1 {
		lo, hi := at(max(i-1, 0)), at(min(i+1, samples))
		if speed(at(i)) > speed(lo) || speed(at(i)) > speed(hi) {
			continue
		}
		for range 80 {
			if a, b := lo+(hi-lo)/3, hi-(hi-lo)/3; speed(a) < speed(b) {
				hi = b
			} else {
				lo = a
			}
		}
		if lo > from && lo < t1 {
			sum += measure(from, lo, 30)
			from = lo
		}
	}
	if t1 > from {
		sum += measure(from, t1, 30)
	}
	return sum
}

func TestLengthAgainstQuadrature(t *testing.T) {
	worst := 0.0
	check := func(t *rapid.T, s geom.Segment) {
		u := rapid.Float64Range(0, 1).Draw(t, "t")
		want := oracle(s, 0, u)
		got := s.LengthTo(u)
		whole := s.P0.Dist(s.C1) + s.C1.Dist(s.C2) + s.C2.Dist(s.P1) // the tolerance is relative to the whole
		// Ten times LengthTolerance: what two rules agree on may be that far off
		// beside a cusp. The product asks for 1e-6 of want.
		if miss := math.Abs(got - want); miss > 1e-8*want+10*geom.LengthTolerance*whole+1e-12 {
			t.Errorf("LengthTo(%g) = %.12g, want %.12g (off by %g)", u, got, want, miss)
		} else if want > 1 {
			worst = math.Max(worst, miss/want)
		}
	}
	t.Run("any", func(t *testing.T) {
		rapid.Check(t, func(t *rapid.T) { check(t, geomtest.Cubic().Draw(t, "cubic")) })
	})
	t.Run("near a cusp", func(t *testing.T) {
		rapid.Check(t, func(t *rapid.T) { check(t, geomtest.NearCusp().Draw(t, "cubic")) })
	})
	t.Logf("worst relative error %.2g", worst)
}

func TestLengthKnown(t *testing.T) {
	p := geom.Pt
	for _, c := range []struct {
		name string
		s    geom.Segment
		want float64
	}{
		{"line", geom.Line(p(0, 0), p(3, 4)), 5},
		{"straight cubic", geom.Cubic(p(0, 0), p(1, 0), p(2, 0), p(3, 0)), 3},
		{"there and back", geom.Cubic(p(0, 0), p(4, 0), p(4, 0), p(0, 0)), 6},
		{"parabola y = x² from 0 to 1", geom.Quadratic(p(0, 0), p(0.5, 0), p(1, 1)), (2*math.Sqrt(5) + math.Asinh(2)) / 4},
		{"cusp y³ = x²", geom.Cubic(p(-1, 1), p(1.0/3, -1.0/3), p(-1.0/3, -1.0/3), p(1, 1)), math.NaN()},
		{"of no size", geom.Cubic(p(1, 1), p(1, 1), p(1, 1), p(1, 1)), 0},
	} {
		if math.IsNaN(c.want) {
			c.want = oracle(c.s, 0, 1)
		}
		if got := c.s.Length(); math.Abs(got-c.want) > 1e-12*math.Max(1, c.want) {
			t.Errorf("%s: Length() = %.15g, want %.15g", c.name, got, c.want)
		}
	}
}

// TestParameterInverse: the parameter at a length has that length before it.
func TestParameterInverse(t *testing.T) {
	for name, cubics := range map[string]*rapid.Generator[geom.Segment]{"any": geomtest.Segment(), "near a cusp": geomtest.NearCusp()} {
		t.Run(name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				s := cubics.Draw(t, "segment")
				total := s.Length()
				d := rapid.Float64Range(0, 1).Draw(t, "share") * total
				u := s.Parameter(d)
				if u < 0 || u > 1 {
					t.Fatalf("Parameter(%g) = %g, want it in [0, 1]", d, u)
				}
				if got := s.LengthTo(u); math.Abs(got-d) > 1e-9*math.Max(total, 1e-3) {
					t.Errorf("LengthTo(Parameter(%.12g)) = %.12g of %.12g", d, got, total)
				}
			})
		})
	}
	s := geom.Cubic(geom.Pt(0, 0), geom.Pt(1, 2), geom.Pt(3, 2), geom.Pt(4, 0))
	if got := s.Parameter(-1); got != 0 {
		t.Errorf("Parameter(-1) = %g, want 0", got)
	}
	if got := s.Parameter(1e9); got != 1 {
		t.Errorf("Parameter(1e9) = %g, want 1", got)
	}
}

// A coordinate that is no number must not keep anybody waiting: what measures
// returns at once, and says that there is no length.
func TestLengthOfNoNumber(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []struct {
		name string
		s    geom.Segment
	}{
		{"line", geom.Line(geom.Pt(0, 0), geom.Pt(nan, 0))},
		{"start", geom.Cubic(geom.Pt(nan, 0), geom.Pt(10, 10), geom.Pt(20, 10), geom.Pt(30, 0))},
		{"control", geom.Cubic(geom.Pt(0, 0), geom.Pt(10, nan), geom.Pt(20, 10), geom.Pt(30, 0))},
		{"end", geom.Cubic(geom.Pt(0, 0), geom.Pt(10, 10), geom.Pt(20, 10), geom.Pt(nan, nan))},
		{"infinite", geom.Cubic(geom.Pt(-inf, 0), geom.Pt(10, 10), geom.Pt(20, 10), geom.Pt(inf, 0))},
		{"huge", geom.Cubic(geom.Pt(-1e308, 0), geom.Pt(1e308, 10), geom.Pt(-1e308, 10), geom.Pt(1e308, 0))},
	} {
		t.Run(c.name, func(t *testing.T) {
			done := make(chan float64, 1)
			go func() {
				path := geom.Path{geom.Line(geom.Pt(0, 0), geom.Pt(5, 0)), c.s}
				c.s.Parameter(5)
				c.s.LengthTo(nan)
				path.At(7)
				path.Split(7)
				done <- path.Length()
			}()
			select {
			case got := <-done:
				if !math.IsNaN(got) && !math.IsInf(got, 1) {
					t.Errorf("Length() = %g, want no number", got)
				}
			case <-time.After(2 * time.Second):
				t.Fatal("Length() did not return")
			}
		})
	}
}

func BenchmarkLength(b *testing.B) {
	s := geom.Cubic(geom.Pt(220, 200), geom.Pt(170, 200), geom.Pt(160, 310), geom.Pt(180, 360))
	for b.Loop() {
		s.Length()
	}
}
