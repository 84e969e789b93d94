package alter

import (
	"strings"
	"testing"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// A facing goes along with the seam that it lies under: at the neck by as much,
// and so that its edges still lie on those it is sewn to.
func TestMoveSeamTakesTheFacingAlong(t *testing.T) {
	for _, c := range []struct {
		name string
		o    SeamMove
	}{
		{"back", SeamMove{AtStart: 20, AtEnd: 45}},
		{"forward", SeamMove{AtStart: -12, AtEnd: -30}},
		{"at the neck", SeamMove{AtStart: 15}},
		{"into the front", SeamMove{Into: "bodice-front", AtStart: 10, AtEnd: 20}},
		{"both ways", SeamMove{AtStart: -10, AtEnd: 20}},
		{"bowed", SeamMove{AtStart: 10, AtEnd: 10, Bow: 5}},
	} {
		t.Run(c.name, func(t *testing.T) {
			for _, p := range []*pattern.Pattern{dress(t), turnedOver(dress(t)), withWalksTurned(dress(t), "facing-shoulder")} {
				c.o.Seam = "shoulder"
				a := quietly(t, p, moveSeam(c.o))
				for _, half := range []string{"front", "back"} {
					within(t, half+" facing, neckline", length(a.Pattern, "facing-"+half, "neckline"), length(a.Pattern, "bodice-"+half, "neckline"), laidOff)
				}
				within(t, "shoulders of the facing", length(a.Pattern, "facing-front", "shoulder"), length(a.Pattern, "facing-back", "shoulder"), exact)
				within(t, "outer edges", sum(a.Pattern, "outer", "facing-front", "facing-back"), sum(p, "outer", "facing-front", "facing-back"), laidOff)
				within(t, "area", area(a.Pattern, "facing-front", "facing-back"), area(p, "facing-front", "facing-back"), 1e-3)
				for _, text := range a.Cautions {
					if strings.Contains(text, "facing") {
						t.Errorf("told of a facing that went along: %s", text)
					}
				}
			}
		})
	}
	// The shoulder plugin's operation takes it along in the same way.
	p := dress(t)
	a := done(t, p, moveSeam(SeamMove{Seam: "shoulder", AtStart: 20, AtEnd: 45}))
	b := done(t, p, func(p *pattern.Pattern) (*operation.Answer, error) {
		return MoveShoulder(p, ShoulderMove{AtNeck: 20, AtArm: 45})
	})
	for _, name := range []string{"facing-front", "facing-back"} {
		if off := offBy(a.Pattern.Piece(name), b.Pattern.Piece(name)); off > exact {
			t.Errorf("%s: MoveShoulder lays it %g mm off", name, off)
		}
	}
}

// So does a facing of the armscye at the seam's other end.
func TestMoveSeamTakesTheArmscyeFacingAlong(t *testing.T) {
	p := dress(t)
	bare := p.Clone()
	bare.Pieces = nil
	for _, q := range p.Pieces {
		if q.Role != pattern.Sleeve {
			bare.Pieces = append(bare.Pieces, q)
		}
	}
	bare.Seams = nil
	for _, s := range p.Seams {
		if s.Name != "armscye" && s.Name != "sleeve-underarm" {
			bare.Seams = append(bare.Seams, s)
		}
	}
	for i := range bare.Pieces {
		for k := range bare.Pieces[i].Edges {
			if e := &bare.Pieces[i].Edges[k]; e.Is() == pattern.Armscye {
				e.Finish = pattern.Faced
			}
		}
		bare.Pieces[i].Notches = nil
	}
	faced := done(t, bare, facing(Facing{Edge: pattern.Armscye, Width: 50})).Pattern
	a := done(t, faced, moveSeam(SeamMove{Seam: "shoulder", AtStart: 10, AtEnd: 25}))
	for _, half := range []string{"front", "back"} {
		within(t, half+" facing, armscye", length(a.Pattern, "armscye-facing-"+half, "armscye"), length(a.Pattern, "bodice-"+half, "armscye"), laidOff)
		within(t, half+" facing, neckline", length(a.Pattern, "facing-"+half, "neckline"), length(a.Pattern, "bodice-"+half, "neckline"), laidOff)
	}
	within(t, "shoulders of the facing", length(a.Pattern, "armscye-facing-front", "shoulder"), length(a.Pattern, "armscye-facing-back", "shoulder"), exact)
}

// withWalksTurned is the pattern with a seam walked from its other end and its
// sides changed over.
func withWalksTurned(p *pattern.Pattern, seam string) *pattern.Pattern {
	p = p.Clone()
	s := p.Seam(seam)
	s.A, s.B = s.B, s.A
	for _, run := range []pattern.Run{s.A, s.B} {
		for i := range run {
			run[i].Backwards = !run[i].Backwards
		}
	}
	return p
}
