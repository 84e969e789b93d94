package alter

import (
	"testing"

	"pgregory.net/rapid"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
	"bygone.example/internal/stock"
)

func divide(o Panel) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return DivideBack(p, o) }
}

// divided is the dress with its back divided as the house chain does.
func divided(t failer) *pattern.Pattern {
	t.Helper()
	return after(t, dress(t), divide(Panel{AtArmscye: 110}))
}

// truing is by how much in mm² the pieces together may differ from the back
// they were: the dart's straight legs become curves that run on without a
// corner. A square of five centimetres on a back of some 600 cm².
const truing = 2500

func TestDivideBackKeeps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		dart := rapid.Bool().Draw(t, "with a dart")
		o := Panel{AtArmscye: rapid.Float64Range(20, 180).Draw(t, "armscye")}
		if !dart {
			p = after(t, p, rotate(Rotation{Piece: "bodice-back", Dart: "waist-dart", Edge: "neckline", At: 40, Share: 1}))
			o.AtWaist = rapid.Float64Range(30, 120).Draw(t, "waist")
		}
		a, no := lawful(t, p, divide(o))
		if no != nil {
			return
		}
		q := a.Pattern
		back, side := q.Piece("bodice-back"), q.Piece("side-back")
		within(t, "the two new edges", back.Edge("side-back").Path.Length(), side.Edge("side-back").Path.Length(), exact)
		within(t, "waist", sum(q, "waist", "bodice-back", "side-back"), p.Piece("bodice-back").SewnLength("waist"), exact)
		within(t, "armscye", sum(q, "armscye", "bodice-back", "side-back"), length(p, "bodice-back", "armscye"), exact)
		within(t, "side", length(q, "side-back", "side"), length(p, "bodice-back", "side"), exact)
		within(t, "down the armscye", length(q, "bodice-back", "armscye"), o.AtArmscye, laidOff)
		tol := clothTolerance
		if dart {
			tol = truing
		}
		within(t, "area", cloth(back)+cloth(side), cloth(p.Piece("bodice-back")), tol)
		if side.Landmark("underarm") == nil || back.Landmark("nape") == nil || back.Landmark("shoulder-point") == nil {
			t.Errorf("landmarks on the wrong piece: back %v, side %v", back.Landmarks, side.Landmarks)
		}
		for _, piece := range []*pattern.Piece{back, side} {
			outline := piece.Boundary().Flatten(0.1)
			if !geom.Contains(outline, piece.Grain.From) || !geom.Contains(outline, piece.Grain.To) {
				t.Errorf("%s: the grainline leaves the piece", piece.Name)
			}
		}
		others(t, p, q, "bodice-back")
	})
}

// Below the dart's point the two new edges are mirror images, above it one line.
func TestDivideBackSides(t *testing.T) {
	p := dress(t)
	d := p.Piece("bodice-back").Darts[0]
	waist := p.Piece("bodice-back").Edge("waist").Path
	q := done(t, p, divide(Panel{AtArmscye: 110})).Pattern
	centre := q.Piece("bodice-back").Edge("side-back").Path
	side := q.Piece("side-back").Edge("side-back").Path.Reverse()
	over := geom.Reflection(waist.At(d.From).Lerp(waist.At(d.To), 0.5), d.Point)
	split := q.Piece("bodice-back").Notches[len(q.Piece("bodice-back").Notches)-1].At
	for k := range 33 {
		at := centre.Length() * float64(k) / 32
		want := centre.At(at)
		if at < split {
			want = over.Apply(want)
		}
		within(t, "side's edge", side.At(at).Dist(want), 0, exact)
	}
	if got := centre.At(split); got.Dist(d.Point) > exact {
		t.Errorf("the balance mark is at %v, the dart ended at %v", got, d.Point)
	}
}

func TestDivideBackRefuses(t *testing.T) {
	p := dress(t)
	bare := after(t, p, rotate(Rotation{Piece: "bodice-back", Dart: "waist-dart", Edge: "neckline", At: 40, Share: 1}))
	two := after(t, p, rotate(Rotation{Piece: "bodice-back", Dart: "waist-dart", Edge: "waist", At: 160, Share: 0.5}))
	blouse, err := stock.Blouse()
	if err != nil {
		t.Fatal(err)
	}
	none := p.Clone()
	none.Piece("bodice-back").Role = "yoke"
	lame := p.Clone()
	lame.Piece("bodice-back").Darts[0].Point.X++
	refusals{
		{"no back", none, divide(Panel{AtArmscye: 110}), `the pattern has 0 pieces with the role bodice-back; give one piece that role`},
		{"divided already", divided(t), divide(Panel{AtArmscye: 30}), `the back is divided already; narrow it instead`},
		{"no waist", blouse, divide(Panel{AtArmscye: 110}), `piece "bodice-back" has no waist edge; give one of its edges the role waist; or, where an earlier step took that edge up, take this step before it`},
		{"off the armscye", p, divide(Panel{AtArmscye: 300}), `the side-back seam cannot end 300.0 mm down an armscye of 219.9 mm; choose a place on the armscye`},
		{"no such dart", p, divide(Panel{AtArmscye: 110, Dart: "dart"}), `piece "bodice-back" has no dart "dart"; its darts are waist-dart`},
		{"two darts", two, divide(Panel{AtArmscye: 110}), `the waist of piece "bodice-back" has 2 darts; say which one the seam is to take up`},
		{"legs differ", lame, divide(Panel{AtArmscye: 110}), `the legs of dart "waist-dart" on piece "bodice-back" differ; true the dart's legs first`},
		{"nowhere on the waist", bare, divide(Panel{AtArmscye: 110}), `the side-back seam cannot start 0.0 mm along a waist of 189.2 mm; choose a place on the waist`},
	}.try(t)
}
