package alter

import (
	"testing"

	"pgregory.net/rapid"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

func narrow(atWaist, atArmscye float64) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) {
		return NarrowBack(p, Narrowing{AtWaist: atWaist, AtArmscye: atArmscye})
	}
}

func TestNarrowBackKeeps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		d, no := lawful(t, p, divide(Panel{AtArmscye: rapid.Float64Range(60, 150).Draw(t, "divided at")}))
		if no != nil {
			return
		}
		p = d.Pattern
		atWaist := rapid.Float64Range(-50, 50).Draw(t, "waist")
		atArm := rapid.Float64Range(-50, 60).Draw(t, "armscye")
		a, no := lawful(t, p, narrow(atWaist, atArm))
		if no != nil {
			return
		}
		q := a.Pattern
		within(t, "the two seam edges", length(q, "bodice-back", "side-back"), length(q, "side-back", "side-back"), exact)
		for _, role := range []string{pattern.Waist, pattern.Armscye} {
			within(t, role, sum(q, role, "bodice-back", "side-back"), sum(p, role, "bodice-back", "side-back"), exact)
		}
		within(t, "centre back at the waist", length(q, "bodice-back", "waist"), length(p, "bodice-back", "waist")-atWaist, laidOff)
		within(t, "centre back at the armscye", length(q, "bodice-back", "armscye"), length(p, "bodice-back", "armscye")-atArm, laidOff)
		others(t, p, q, "bodice-back", "side-back")
	})
}

// narrowedBack in mm is how near the seam comes to where it was when it has
// been moved and moved back: each time it is drawn anew through points of what
// it was, and the shorter side is rounded out, which is not taken back.
const narrowedBack = 3

func TestNarrowBackThereAndBack(t *testing.T) {
	p := divided(t)
	a := done(t, done(t, p, narrow(25, 25)).Pattern, narrow(-25, -25))
	for _, piece := range []string{"bodice-back", "side-back"} {
		off := apart(p.Piece(piece), a.Pattern.Piece(piece))
		t.Logf("%s: %.3f mm", piece, off)
		within(t, piece, off, 0, narrowedBack)
	}
	sameWithin := apart(p.Piece("side-back"), done(t, p, narrow(0, 0)).Pattern.Piece("side-back"))
	within(t, "moved by nothing", sameWithin, 0, exact)
}

func TestNarrowBackRefuses(t *testing.T) {
	p := divided(t)
	refusals{
		{"not divided", dress(t), narrow(20, 20), `the pattern has no piece with the role bodice-side-back; give the piece that is meant the role bodice-side-back`},
		{"wider than the panel", p, narrow(90, 20), `the seam cannot move 90.0 mm along the waist of piece "bodice-back", which measures 77.3 mm; move it by less`},
		{"wider than the side", p, narrow(0, -130), `the seam cannot move 130.0 mm along the armscye of piece "side-back", which measures 109.9 mm; move it by less`},
	}.try(t)
}
