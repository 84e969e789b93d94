package geom_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"bygone.example/core/geom"
	"bygone.example/core/geom/geomtest"
)

// TestRigid: turning, shifting and mirroring keeps every length, and every area
// but for its sign.
func TestRigid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := geomtest.Rigid().Draw(t, "move")
		p := geomtest.Chain().Draw(t, "path")
		p = append(p, geom.Line(p.End(), p.Start()))
		q := p.Transform(m)
		if got, want := q.Length(), p.Length(); math.Abs(got-want) > 1e-9*(1+want) {
			t.Errorf("Transform().Length() = %.12g, want %.12g", got, want)
		}
		if got, want := math.Abs(q.Area()), math.Abs(p.Area()); math.Abs(got-want) > 1e-4 {
			t.Errorf("Transform().Area() = %.9g, want %.9g", got, want)
		}
		back, ok := m.Inverse()
		if !ok {
			t.Fatalf("Inverse() of %v is not ok", m)
		}
		a := geomtest.Point().Draw(t, "a")
		if got := back.Apply(m.Apply(a)); !got.Near(a, 1e-9) {
			t.Errorf("Inverse().Apply(Apply(%v)) = %v", a, got)
		}
		n := geomtest.Rigid().Draw(t, "second")
		if got, want := n.After(m).Apply(a), n.Apply(m.Apply(a)); !got.Near(want, 1e-9) {
			t.Errorf("After().Apply(%v) = %v, want %v", a, got, want)
		}
	})
}

// TestOnto: it carries a to a2, the direction with it, and is rigid.
func TestOnto(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b, a2, b2 := geomtest.Point().Draw(t, "a"), geomtest.Point().Draw(t, "b"), geomtest.Point().Draw(t, "a2"), geomtest.Point().Draw(t, "b2")
		if a.Dist(b) < 1e-3 || a2.Dist(b2) < 1e-3 {
			t.Skip("no direction to turn")
		}
		m := geom.Onto(a, b, a2, b2)
		if got := m.Apply(a); !got.Near(a2, 1e-8) {
			t.Errorf("Onto().Apply(a) = %v, want %v", got, a2)
		}
		want := a2.Add(b2.Sub(a2).Unit().Mul(a.Dist(b)))
		if got := m.Apply(b); !got.Near(want, 1e-8) {
			t.Errorf("Onto().Apply(b) = %v, want %v", got, want)
		}
		if det := m.A*m.E - m.B*m.D; math.Abs(det-1) > 1e-12 {
			t.Errorf("Onto() stretches by %g", det)
		}
	})
}

func TestAffineKnown(t *testing.T) {
	p := geom.Pt
	for _, c := range []struct {
		name       string
		m          geom.Affine
		from, want geom.Point
	}{
		{"identity", geom.Identity, p(3, 4), p(3, 4)},
		{"translation", geom.Translation(p(1, -1)), p(3, 4), p(4, 3)},
		{"quarter turn", geom.Rotation(p(1, 1), math.Pi/2), p(2, 1), p(1, 2)},
		{"mirror in x = 5", geom.Reflection(p(5, 0), p(5, 1)), p(3, 4), p(7, 4)},
		{"mirror in the diagonal", geom.Reflection(p(0, 0), p(1, 1)), p(3, 4), p(4, 3)},
		{"stretch along x", geom.ScaleAlong(p(1, 0), p(2, 0), 3), p(2, 5), p(4, 5)},
		{"stretch keeps its centre line", geom.ScaleAlong(p(1, 1), p(1, 1), 7), p(2, 0), p(2, 0)},
	} {
		if got := c.m.Apply(c.from); !got.Near(c.want, 1e-12) {
			t.Errorf("%s: Apply(%v) = %v, want %v", c.name, c.from, got, c.want)
		}
	}
	if _, ok := (geom.Affine{}).Inverse(); ok {
		t.Errorf("Inverse() of what flattens the plane is ok, want not")
	}
}

// TestTransformCommutes: a point of the moved segment is the moved point.
func TestTransformCommutes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := geomtest.Segment().Draw(t, "segment")
		m := geom.ScaleAlong(geomtest.Point().Draw(t, "centre"), geom.Polar(1, rapid.Float64Range(0, 7).Draw(t, "dir")), rapid.Float64Range(-3, 3).Draw(t, "k"))
		u := rapid.Float64Range(0, 1).Draw(t, "t")
		if got, want := s.Transform(m).At(u), m.Apply(s.At(u)); !got.Near(want, 1e-8) {
			t.Errorf("Transform().At(%g) = %v, want %v", u, got, want)
		}
	})
}
