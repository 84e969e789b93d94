package alter

import (
	"math"
	"testing"

	"bygone.example/core/geom"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
	"bygone.example/internal/bodies"
)

// underarmKink is by how many degrees the head's line fails to run on where the
// sleeve is sewn together under the arm.
func underarmKink(p *pattern.Pattern) float64 {
	q := p.Piece("sleeve")
	cap, front, back := q.Edge("cap").Path, q.Edge("underarm.front").Path, q.Edge("underarm.back").Path
	into, out := front, back
	if into.End().Dist(cap.Start()) > out.End().Dist(cap.Start()) {
		into, out = out, into
	}
	return degrees(math.Pi - geom.Turn(into.EndDirection(), cap.StartDirection()) - geom.Turn(cap.EndDirection(), out.StartDirection()))
}

// bends counts how often a path changes from bending one way to the other, what
// is too straight to tell left out, and the largest turn at a joint in degrees.
func bends(path geom.Path) (changes int, corner float64) {
	const straight = 1e-4 // 1/mm: a radius of ten metres
	var last float64
	for i, s := range path {
		if i > 0 {
			corner = max(corner, math.Abs(degrees(geom.Turn(path[i-1].Direction(1), s.Direction(0)))))
		}
		const places = 8
		for k := range places {
			a, b := (float64(k)+0.25)/places, (float64(k)+0.75)/places
			c := geom.Turn(s.Direction(a), s.Direction(b)) / s.At(a).Dist(s.At(b))
			if math.Abs(c) < straight {
				continue
			}
			if c*last < 0 {
				changes++
			}
			last = c
		}
	}
	return changes, corner
}

// Whatever the armscye and the ease, a refitted head runs on under the arm, has
// no corner, and no more waves than the head that it was drawn from.
func TestRefitHeadIsSmooth(t *testing.T) {
	women, err := bodies.Women()
	if err != nil {
		t.Fatal(err)
	}
	men, err := bodies.Men()
	if err != nil {
		t.Fatal(err)
	}
	people := append(bodies.Every(women, 15), bodies.Every(men, 60)...)
	for _, person := range women {
		if person.Row == 1737 || person.Row == 617 { // small arms to deep armscyes
			people = append(people, person)
		}
	}
	for _, person := range people {
		p := draftOf(t, person.Body())
		waves, _ := bends(p.Piece("sleeve").Edge("cap").Path)
		for name, do := range map[string]alteration{
			"no ease":   refit(0),
			"50 mm":     refit(50),
			"lowered":   lowerArmscye(ScyeDepth{Down: 15, ScoopFront: 5}),
			"raised":    lowerArmscye(ScyeDepth{Down: -10}),
			"back":      narrowCrossBack(CrossBack{By: 10}),
			"much more": lowerArmscye(ScyeDepth{Down: 30, ScoopFront: 10, ScoopBack: 5}),
		} {
			a, no := lawful(t, p, do)
			if no != nil {
				continue
			}
			if kink := underarmKink(a.Pattern); math.Abs(kink) > pairing.DefaultTolerances().KinkWarning/2 {
				t.Errorf("row %d, %s: the head kinks by %.1f degrees under the arm", person.Row, name, kink)
			}
			now, corner := bends(a.Pattern.Piece("sleeve").Edge("cap").Path)
			if now > waves || corner > 0.01 {
				t.Errorf("row %d, %s: the head bends to the other side %d times, before %d; its sharpest corner is %.2f degrees", person.Row, name, now, waves, corner)
			}
		}
	}
}

// A head that does not run on under the arm, as it may come from elsewhere, does
// once it is refitted.
func TestRefitCapTruesUnderTheArm(t *testing.T) {
	p := dress(t)
	q := p.Piece("sleeve")
	path := q.Edge("cap").Path.Clone()
	path[0].C1 = path[0].P0.Add(geom.Rotation(geom.Point{}, 0.3).Apply(path[0].C1.Sub(path[0].P0)))
	q.Edge("cap").Path = path
	if kink := underarmKink(p); math.Abs(kink) < pairing.DefaultTolerances().KinkWarning {
		t.Fatalf("the head kinks by %.1f degrees only", kink)
	}
	a := done(t, p, refit(20))
	within(t, "kink", underarmKink(a.Pattern), 0, 1e-6)
	s := a.Pattern.Seam("armscye")
	within(t, "ease", a.Pattern.RunLength(s.B)-a.Pattern.RunLength(s.A), 20, exact)
}
