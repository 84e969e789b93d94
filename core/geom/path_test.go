package geom_test

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"bygone.example/core/geom"
	"bygone.example/core/geom/geomtest"
)

// TestSplitJoin: a path cut in two and joined again is as long, meets where it
// was cut, and goes through the same points.
func TestSplitJoin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := geomtest.Chain().Draw(t, "path")
		total := p.Length()
		d := rapid.Float64Range(0, 1).Draw(t, "share") * total
		before, after := p.Split(d)
		if got := before.Length(); math.Abs(got-d) > 1e-6+1e-9*total {
			t.Errorf("Split(%g) gave %g before the cut", d, got)
		}
		joined := before.Join(after)
		if gap := joined.Gap(); gap > 1e-9 {
			t.Errorf("Split(%g) left a gap of %g", d, gap)
		}
		if got := joined.Length(); math.Abs(got-total) > 1e-6+1e-9*total {
			t.Errorf("Split(%g) then Join = %.9g mm, want %.9g", d, got, total)
		}
		e := rapid.Float64Range(0, 1).Draw(t, "look") * total
		if got, want := joined.At(e), p.At(e); !got.Near(want, 1e-5) {
			t.Errorf("Split(%g) then Join goes through %v at %g, want %v", d, got, e, want)
		}
	})
}

func TestBetween(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := geomtest.Chain().Draw(t, "path")
		total := p.Length()
		from := rapid.Float64Range(0, 1).Draw(t, "from") * total
		to := from + rapid.Float64Range(0, 1).Draw(t, "share")*(total-from)
		if got := p.Between(from, to).Length(); math.Abs(got-(to-from)) > 1e-6+1e-9*total {
			t.Errorf("Between(%g, %g) = %g mm long", from, to, got)
		}
	})
}

// TestSplitLeavesNoSliver: a cut on a joint falls on the joint.
func TestSplitLeavesNoSliver(t *testing.T) {
	p := geomtest.Path(t, "M0 0 L10 0 C20 0 30 10 30 20 L30 50")
	joint := p[:2].Length()
	for _, d := range []float64{-1, 0, 1e-9, 10 - 1e-9, 10, 10 + 1e-9, joint, joint + 1e-8, p.Length(), p.Length() + 5} {
		before, after := p.Split(d)
		if len(before)+len(after) != len(p) {
			t.Errorf("Split(%g) gave %d and %d segments, want %d in all", d, len(before), len(after), len(p))
		}
	}
	before, after := p.Split(5)
	before[0].P0, after[0].P1 = geom.Pt(9, 9), geom.Pt(9, 9)
	if p[0] != geom.Line(geom.Pt(0, 0), geom.Pt(10, 0)) {
		t.Errorf("Split shares memory with its path: %v", p[0])
	}
}

func TestReverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := geomtest.Chain().Draw(t, "path")
		r := p.Reverse()
		if diff := cmp.Diff(p, r.Reverse()); diff != "" {
			t.Errorf("Reverse twice differs:\n%s", diff)
		}
		total := p.Length()
		d := rapid.Float64Range(0, 1).Draw(t, "share") * total
		if got, want := r.At(total-d), p.At(d); !got.Near(want, 1e-5) {
			t.Errorf("Reverse().At(%g) = %v, want %v", total-d, got, want)
		}
		if math.Abs(r.Area()+p.Area()) > 1e-6*(1+math.Abs(p.Area()))+1e-3 {
			t.Errorf("Reverse().Area() = %g, want %g", r.Area(), -p.Area())
		}
	})
}

// TestFlatten: no point of the curve is further than tol from the polyline.
func TestFlatten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := geomtest.Cubic().Draw(t, "cubic")
		tol := rapid.SampledFrom([]float64{0.01, 0.1, 1, 50}).Draw(t, "tol")
		chords := geom.Polyline(geom.Path{s}.Flatten(tol)...)
		if len(chords) == 0 {
			return // of no size
		}
		for range 10 {
			u := rapid.Float64Range(0, 1).Draw(t, "t")
			if _, d := chords.Nearest(s.At(u)); d > tol*(1+1e-9) {
				t.Errorf("Flatten(%g) is %g mm off at t = %g", tol, d, u)
			}
		}
	})
}

// TestNearest: nothing that is sampled lies nearer than the nearest point, and
// it lies where it says.
func TestNearest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := geomtest.Chain().Draw(t, "path")
		q := geomtest.Point().Draw(t, "q")
		along, d := p.Nearest(q)
		if got := p.At(along).Dist(q); math.Abs(got-d) > 1e-4 {
			t.Errorf("Nearest() = %g along, %g away, but that point is %g away", along, d, got)
		}
		for _, s := range p {
			for i := range 500 {
				if e := s.At(float64(i) / 499).Dist(q); e < d-1e-6 {
					t.Fatalf("Nearest() = %g away, but t = %d/499 is %g away", d, i, e)
				}
			}
		}
	})
}

func TestStraight(t *testing.T) {
	for _, c := range []struct {
		d    string
		tol  float64
		want bool
	}{
		{"M0 0 L50 0 L100 0", 1e-9, true},
		{"M0 0 L50 0.2 L100 0", 0.1, false},
		{"M0 0 L50 0.2 L100 0", 0.21, true},
		{"M0 0 C30 0.1 70 0.1 100 0", 0.08, true}, // the curve rises to 0.075 only
		{"M0 0 C30 0.1 70 0.1 100 0", 0.07, false},
		{"M0 0 C30 30 70 -30 100 0", 1, false},
		{"M0 0 L50 50 L0 0", 0.1, false}, // there and back is no line
		{"M5 5 C90 5 5 90 5 5", 1, false},
		{"", 0.1, true},
	} {
		if got := geomtest.Path(t, c.d).Straight(c.tol); got != c.want {
			t.Errorf("Path(%q).Straight(%g) = %v, want %v", c.d, c.tol, got, c.want)
		}
	}
}

func TestEmptyPath(t *testing.T) {
	var p geom.Path
	if p.Length() != 0 || p.At(3) != (geom.Point{}) || p.Direction(3) != (geom.Point{}) || p.Flatten(1) != nil || !p.Bounds().Empty() || p.Gap() != 0 {
		t.Errorf("the empty path is not empty")
	}
	if a, b := p.Split(1); len(a)+len(b) != 0 {
		t.Errorf("Split of the empty path = %v, %v", a, b)
	}
	if _, d := p.Nearest(geom.Pt(0, 0)); !math.IsInf(d, 1) {
		t.Errorf("Nearest on the empty path is %g away, want infinity", d)
	}
}

// TestBounds: the box holds the curve and touches it on every side.
func TestBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := geomtest.Cubic().Draw(t, "cubic")
		b, sampled := s.Bounds(), geom.EmptyBox
		for i := range 2001 {
			sampled = sampled.With(s.At(float64(i) / 2000))
		}
		if outer := b.Grow(1e-9); outer.Union(sampled) != outer {
			t.Errorf("Bounds() = %v does not hold %v", b, sampled)
		}
		if inner := sampled.Grow(0.02); inner.Union(b) != inner { // 2000 steps over at most 12 m of curve
			t.Errorf("Bounds() = %v is wider than %v", b, sampled)
		}
	})
}

func TestDirection(t *testing.T) {
	p := geom.Pt
	for _, c := range []struct {
		name string
		s    geom.Segment
		t    float64
		want geom.Point
	}{
		{"line", geom.Line(p(0, 0), p(0, 5)), 0.3, p(0, 1)},
		{"control point on the start", geom.Cubic(p(0, 0), p(0, 0), p(5, 0), p(5, 5)), 0, p(1, 0)},
		{"control point on the end", geom.Cubic(p(0, 0), p(5, 0), p(5, 5), p(5, 5)), 1, p(0, 1)},
		{"both on the start", geom.Cubic(p(0, 0), p(0, 0), p(0, 0), p(3, 4)), 0, p(0.6, 0.8)},
		{"all but one on the end", geom.Cubic(p(0, 0), p(3, 4), p(3, 4), p(3, 4)), 1, p(0.6, 0.8)},
		{"after a cusp", geom.Cubic(p(0, 0), p(9, 9), p(0, 9), p(9, 0)), 0.5, p(0, -1)},
		{"of no size", geom.Cubic(p(1, 1), p(1, 1), p(1, 1), p(1, 1)), 0.5, p(0, 0)},
	} {
		if got := c.s.Direction(c.t); !got.Near(c.want, 1e-3) {
			t.Errorf("%s: Direction(%g) = %v, want %v", c.name, c.t, got, c.want)
		}
	}
}

func BenchmarkNearest(b *testing.B) {
	p := geomtest.Path(b, "M220 200 C170 200 160 310 180 360")
	for _, q := range []geom.Point{{X: 150, Y: 300}, {X: 400, Y: 250}, {X: 220, Y: 200}} {
		b.Run("", func(b *testing.B) {
			for b.Loop() {
				p.Nearest(q)
			}
		})
	}
}
