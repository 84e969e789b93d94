package pairing_test

import (
	"math"
	"testing"
	"time"

	"bygone.example/core/geom"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
)

// The most detailed outlines that a file may have are checked in seconds,
// whatever their shape.
func TestDetailedOutlines(t *testing.T) {
	const n = pattern.MaxSegments - 4
	round := func(at func(share float64) geom.Point) geom.Path {
		var points []geom.Point
		for i := range n {
			points = append(points, at(float64(i)/n))
		}
		return geom.Polyline(append(points, points[0])...)
	}
	circle := func(share, r float64) geom.Point { return geom.Polar(r, 2*math.Pi*share) }
	for name, path := range map[string]geom.Path{
		"circle":     round(func(s float64) geom.Point { return circle(s, 800) }),
		"saw":        round(func(s float64) geom.Point { return circle(s, 800+2*math.Mod(s*n, 2)) }),
		"star":       round(func(s float64) geom.Point { return circle(s, 20+200*math.Mod(s*n/100, 1)) }),
		"scribble":   round(func(s float64) geom.Point { return circle(s*37, 300+300*math.Sin(s*70)) }),
		"all points": round(func(s float64) geom.Point { return circle(s, 0.9) }),
		"spiral": round(func(s float64) geom.Point {
			turns := math.Abs(2*s-1) * 20
			r := 40 + 2*turns
			if s > 0.5 {
				r += 0.4
			}
			return geom.Polar(r, 2*math.Pi*turns)
		}),
	} {
		p := garment()
		p.Pieces = append(p.Pieces, onFold("cape", "", geom.Pt(0, 0), pattern.Edge{Name: "hem", Path: path, Finish: pattern.Hemmed}))
		if left := p.ValidateParts(); left != nil {
			t.Fatalf("%s: ValidateParts() = %v", name, left)
		}
		start := time.Now()
		found := pairing.Check(p)
		took := time.Since(start)
		codes := map[string]int{}
		for _, f := range found {
			codes[string(f.Code)]++
		}
		t.Logf("%s: %v, %v", name, took, codes)
		if len(found) > 40 {
			t.Errorf("%s: %d findings", name, len(found))
		}
		// Half a second on a quiet machine (measured); room is left for a busy one.
		if took > 15*time.Second {
			t.Errorf("%s: checked in %v", name, took)
		}
	}
}
