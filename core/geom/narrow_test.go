package geom_test

import (
	"math"
	"testing"

	"bygone.example/core/geom"
)

func TestNarrows(t *testing.T) {
	pt := geom.Pt
	spike := func(degrees float64) []geom.Point {
		h := 300 * math.Tan(degrees/2*math.Pi/180)
		return []geom.Point{pt(0, 0), pt(300, -h), pt(300, h)}
	}
	for _, c := range []struct {
		name    string
		outline []geom.Point
		width   float64 // of the narrowest place; below 0 for none
		inside  bool
	}{
		{"square", []geom.Point{pt(0, 0), pt(100, 0), pt(100, 100), pt(0, 100)}, -1, false},
		{"strip", []geom.Point{pt(0, 0), pt(100, 0), pt(100, 0.3), pt(0, 0.3)}, 0.3, true},
		{"strip wide enough", []geom.Point{pt(0, 0), pt(100, 0), pt(100, 0.6), pt(0, 0.6)}, -1, false},
		{"spike of 2 degrees", spike(2), 10.5 * math.Sin(2*math.Pi/180), true},
		{"spike of 4 degrees", spike(4), -1, false},
		{"stray point 5 mm off", []geom.Point{pt(0, 0), pt(50, 0), pt(50, -5), pt(50.1, 0), pt(100, 0), pt(100, 100), pt(0, 100)}, -1, false},
		{"stray point 30 mm off", []geom.Point{pt(0, 0), pt(50, 0), pt(50, -30), pt(50.1, 0), pt(100, 0), pt(100, 100), pt(0, 100)}, 0.035, true},
		{"neck", []geom.Point{pt(0, 0), pt(100, 0), pt(100, 100), pt(60, 0.2), pt(50, 100), pt(0, 100)}, 0.2, true},
		{"slit", []geom.Point{pt(0, 0), pt(100, 0), pt(100, 100), pt(50.02, 100), pt(50.02, 50), pt(50, 50), pt(50, 100), pt(0, 100)}, 0.02, false},
		{"two points", []geom.Point{pt(0, 0), pt(100, 0)}, -1, false},
		{"doubled points", []geom.Point{pt(0, 0), pt(0, 0), pt(100, 0), pt(100, 100), pt(100, 100), pt(0, 100), pt(0, 0)}, -1, false},
		{"nothing", nil, -1, false},
	} {
		for _, turned := range []bool{false, true} {
			outline := make([]geom.Point, len(c.outline))
			for i, q := range c.outline {
				outline[i] = q
				if turned { // the sweep then goes along the other axis
					outline[i] = pt(-q.Y, q.X)
				}
			}
			got := geom.Narrows(outline, 0.5, 20)
			switch {
			case c.width < 0 && len(got) > 0:
				t.Errorf("%s: Narrows() = %+v, want none", c.name, got[0])
			case c.width >= 0 && len(got) == 0:
				t.Errorf("%s: Narrows() found none, want one of %g mm", c.name, c.width)
			case c.width >= 0 && (math.Abs(got[0].Width-c.width) > 0.01 || got[0].Inside != c.inside || got[0].Apart <= 20):
				t.Errorf("%s: Narrows()[0] = %+v, want %g mm, inside %v", c.name, got[0], c.width, c.inside)
			}
		}
	}
}
