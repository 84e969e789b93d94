package pairing_test

import (
	"fmt"
	"slices"
	"testing"

	"bygone.example/core/finding"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
)

// fromTheOtherEnd walks every seam of the pattern from its other end.
func fromTheOtherEnd(p *pattern.Pattern) {
	for i := range p.Seams {
		for _, run := range []pattern.Run{p.Seams[i].A, p.Seams[i].B} {
			slices.Reverse(run)
			for k := range run {
				run[k].Backwards = !run[k].Backwards
			}
		}
	}
}

// A notch that is moved or left out is found at both ends of both sides of a
// seam, whichever way the two pieces are listed, whichever end the seam is walked
// from, and whichever of its sides is called A.
func TestNotchesInEveryDirection(t *testing.T) {
	for mask := range 16 {
		for _, side := range []string{"front", "back"} {
			for _, high := range []bool{false, true} {
				for _, left := range []bool{false, true} {
					p := garment()
					notch := map[string]int{} // of the seam's end that is looked at
					for _, piece := range []string{"front", "back"} {
						at := 12.0 // from the waist
						if high {
							at = 188
						}
						if piece == "back" {
							at = 200 - at
						}
						q := p.Piece(piece)
						notch[piece] = len(q.Notches)
						q.Notches = append(q.Notches, pattern.Notch{Name: "end", Edge: "side", At: at, Count: 1})
					}
					q := p.Piece(side)
					if left {
						q.Notches = slices.Delete(q.Notches, notch[side], notch[side]+1)
					} else {
						q.Notches[notch[side]].At += 3
					}
					if mask&1 != 0 {
						drawnClockwise(p, "front")
					}
					if mask&2 != 0 {
						drawnClockwise(p, "back")
					}
					if mask&4 != 0 {
						fromTheOtherEnd(p)
					}
					if s := p.Seam("side"); mask&8 != 0 {
						s.A, s.B = s.B, s.A
					}
					code, on := pairing.NotchDrift, p.Seam("side").B[0].Piece
					if left {
						code, on = pairing.NotchMissing, map[string]string{"front": "back", "back": "front"}[side]
					}
					r := p.Piece(on)
					n := r.Notches[slices.IndexFunc(r.Notches, func(n pattern.Notch) bool { return n.Name == "end" })]
					w := want{code, "side", on, "side", edgeOf(p, on, "side").Path.At(n.At), 0}
					name := fmt.Sprintf("mask %04b, %s, high %v, left out %v", mask, side, high, left)
					got := slices.DeleteFunc(pairing.Check(p), func(f finding.Finding) bool { return f.Code == pairing.BoundaryClockwise })
					if len(got) != 1 || !matches(got[0], w) {
						t.Errorf("%s: want %+v alone", name, w)
						for _, f := range got {
							t.Errorf("%s: Check() found %s", name, show(f))
						}
					}
					if !left && len(got) == 1 && (got[0].Figures.Difference < -3.01 || got[0].Figures.Difference > 3.01 ||
						got[0].Figures.Difference > -2.99 && got[0].Figures.Difference < 2.99) {
						t.Errorf("%s: the notch is %+v out of step, want 3 mm", name, got[0].Figures)
					}
				}
			}
		}
	}
}

// Of several notches of one name, the one that has lost its partner is told, and
// not its neighbours.
func TestNotchesOfOneName(t *testing.T) {
	// Each pair lies at one place of the waist: mm along the bodice's sewn edge,
	// and along the gore's, which is walked backwards.
	pairs := []struct {
		bodice, gore string
		at, onGore   float64
	}{
		{"front", "gore-front", 50, 150},
		{"back", "gore-back", 160, 60},
	}
	for lost, pair := range pairs {
		for _, from := range []string{pair.bodice, pair.gore} {
			p := garment()
			for _, of := range pairs {
				for piece, sewn := range map[string]float64{of.bodice: of.at, of.gore: of.onGore} {
					if q := p.Piece(piece); piece != from {
						q.Notches = append(q.Notches, pattern.Notch{Name: "loop", Edge: "waist", At: q.FlatPosition("waist", sewn), Count: 1})
					}
				}
			}
			mustBeValid(t, p)
			on := pair.gore
			if from == pair.gore {
				on = pair.bodice
			}
			n := p.Piece(on).Notches
			w := want{pairing.NotchMissing, "waist", on, "waist", edgeOf(p, on, "waist").Path.At(n[len(n)-1].At), 0}
			got := pairing.Check(p)
			if len(got) != 1 || !matches(got[0], w) {
				t.Errorf("%s has lost notch %d: want %+v alone", from, lost, w)
				for _, f := range got {
					t.Errorf("Check() found %s", show(f))
				}
			}
		}
	}
}
