package alter

import (
	"math"
	"testing"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// endsOf returns where the end notches of gathers stand along a run, sewn.
func endsOf(p *pattern.Pattern, run pattern.Run) []float64 {
	var at []float64
	for _, n := range notchesAlong(p, run) {
		if marksGathers(n.name) {
			at = append(at, n.sewn)
		}
	}
	return at
}

// Gathers that a step lays have a notch at either end that has none near, and its
// partner on what they are sewn to, in step; where they are moved the notches go
// with them.
func TestGathersAreNotchedAtTheirEnds(t *testing.T) {
	p := strictly(t, dress(t), func(p *pattern.Pattern) (*operation.Answer, error) {
		return AddFullness(p, Fullness{Piece: "skirt-front", Edge: "waist", Add: 60, Slashes: 4})
	}).Pattern
	check := func(p *pattern.Pattern, want int) {
		t.Helper()
		var seam *pattern.Seam
		for i := range p.Seams {
			if s := &p.Seams[i]; s.A.Has("skirt-front", "waist") || s.B.Has("skirt-front", "waist") {
				seam = s
			}
		}
		a, b := endsOf(p, seam.A), endsOf(p, seam.B)
		if len(a) != want || len(b) != want {
			t.Fatalf("end notches at %v and %v mm, want %d", a, b, want)
		}
		for k := range a {
			if math.Abs(a[k]-b[k]) > inStep {
				t.Errorf("end notches at %v and %v mm are out of step", a, b)
			}
		}
		front := p.Piece("skirt-front")
		g := front.Gathers[0]
		for _, end := range []float64{g.From, g.To} {
			near := math.Inf(1)
			for _, n := range front.Notches {
				if n.Edge == "waist" {
					near = min(near, math.Abs(front.SewnPosition("waist", n.At)-front.SewnPosition("waist", end)))
				}
			}
			if near > endNotchClear {
				t.Errorf("gathers from %v to %v mm have no notch nearer than %v mm to %v", g.From, g.To, near, end)
			}
		}
	}
	check(p, 1) // the other end is at a notch that was there
	check(strictly(t, p, func(p *pattern.Pattern) (*operation.Answer, error) {
		return MoveGathers(p, GatherMove{Piece: "skirt-front", Edge: "waist", From: 0.1, To: 0.55, Share: 1})
	}).Pattern, 2)
}
