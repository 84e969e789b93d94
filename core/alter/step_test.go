package alter

import (
	"math"
	"testing"

	"bygone.example/core/pattern"
)

// notchStep is by how much in mm the notches of one name on the two sides of a
// seam miss each other along the sewn seam.
func notchStep(p *pattern.Pattern, seam, notch string) float64 {
	s := p.Seam(seam)
	return math.Abs(places(p, s.A)[notch] - places(p, s.B)[notch])
}

// Notches that met go on meeting, whichever side was redrawn.
func TestNotchesKeepInStep(t *testing.T) {
	p := dress(t)
	for _, step := range job {
		a := done(t, p, step.do)
		for _, s := range p.Seams {
			if s.Meeting.Kind != pattern.Plain || len(s.B) == 0 || a.Pattern.Seam(s.Name) == nil || a.Pattern.Seam(s.Name).Meeting.Kind == pattern.Eased {
				continue
			}
			now := a.Pattern.Seam(s.Name)
			left, right := places(a.Pattern, now.A), places(a.Pattern, now.B)
			for name := range places(p, s.A) {
				if _, both := places(p, s.B)[name]; !both || notchStep(p, s.Name, name) > inStep {
					continue
				}
				_, onA := left[name]
				_, onB := right[name]
				if onA != onB {
					t.Errorf("%s: notch %s of seam %s has lost its mate", step.name, name, s.Name)
				} else if onA && notchStep(a.Pattern, s.Name, name) > inStep {
					t.Errorf("%s: notches %s of seam %s are %.2f mm out of step", step.name, name, s.Name, notchStep(a.Pattern, s.Name, name))
				}
			}
		}
		p = a.Pattern
	}
}

// The ease of a head lies between its notches, and stays there when a dart is
// opened in the armscye.
func TestEaseStaysBetweenItsNotches(t *testing.T) {
	p := dress(t)
	a := done(t, p, rotate(Rotation{Piece: "bodice-front", Dart: "bust-dart", Edge: "armscye", At: 110, Share: 1}))
	for _, name := range []string{"front", "back", "shoulder"} {
		within(t, "notch "+name, notchStep(a.Pattern, "armscye", name), notchStep(p, "armscye", name), laidOff)
	}
	// Puffed, the head has no ease left, and the notches meet.
	q := after(t, p, shorten(60), puff(housePuff))
	for _, name := range []string{"front", "back"} {
		within(t, "notch "+name+" of the puffed head", notchStep(q, "armscye", name), 0, inStep)
	}
}

// A pair of which one notch was cut away with its stretch goes altogether.
func TestLoneNotchesGo(t *testing.T) {
	p := dress(t)
	a := done(t, after(t, p, rotate(Rotation{Piece: "bodice-front", Dart: "bust-dart", Into: "waist-dart", Share: 1})),
		raise(WaistRaise{BelowArmscye: 64, KeepLength: true}))
	for _, piece := range []string{"bodice-front", "bodice-back"} {
		for _, n := range a.Pattern.Piece(piece).Notches {
			if n.Name == "side" {
				t.Errorf("%s keeps notch %v, which was cut away below", piece, n)
			}
		}
	}
}
