package pattern_test

import (
	"math"
	"testing"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// TestFoldsInsideGathers holds that a pleat or dart inside gathers is folded
// before they are drawn up: 100 mm with two pleats of 10 mm are drawn up from 80
// to 40, so that each flat millimetre comes to half of one, and a pleat's two
// ends lie in one place.
func TestFoldsInsideGathers(t *testing.T) {
	p := pattern.Piece{
		Name:    "p",
		Edges:   []pattern.Edge{{Name: "waist", Path: geom.Path{geom.Line(geom.Pt(0, 0), geom.Pt(150, 0))}}},
		Pleats:  []pattern.Pleat{{Name: "b", Edge: "waist", From: 90, To: 100}, {Name: "a", Edge: "waist", From: 40, To: 50}},
		Gathers: []pattern.Gather{{Name: "g", Edge: "waist", From: 20, To: 120, Length: 40}},
	}
	for _, c := range []struct{ flat, sewn float64 }{
		{0, 0}, {20, 20}, {30, 25}, {40, 30}, {45, 30}, {50, 30}, {70, 40}, {90, 50}, {100, 50}, {110, 55}, {120, 60}, {150, 90},
	} {
		if got := p.SewnPosition("waist", c.flat); math.Abs(got-c.sewn) > 1e-12 {
			t.Errorf("%g mm along the flat edge lies at %g sewn, want %g", c.flat, got, c.sewn)
		}
		want := c.flat
		switch c.flat { // hidden in a fold: its start
		case 45, 50:
			want = 40
		case 100:
			want = 90
		}
		if got := p.FlatPosition("waist", c.sewn); math.Abs(got-want) > 1e-12 {
			t.Errorf("%g mm along the sewn edge lies at %g flat, want %g", c.sewn, got, want)
		}
	}
	if got := p.SewnLength("waist"); got != 90 {
		t.Errorf("the edge sews to %g, want 90", got)
	}
}
