package alter

import (
	"testing"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// A skirt with folds or gathers at its waist is fitted by what it measures sewn:
// darts go, gathers take up what they did. Pleats would not fit the waist above.
func TestRaiseGoreWithFullness(t *testing.T) {
	base := after(t, dress(t), rotate(Rotation{Piece: "bodice-front", Dart: "bust-dart", Into: "waist-dart", Share: 1}))
	for name, put := range map[string]func(q *pattern.Piece){
		"a dart": func(q *pattern.Piece) {
			path := q.Edge("waist").Path
			a, b := path.At(90), path.At(100)
			q.Darts = append(q.Darts, pattern.Dart{Name: "dart", Edge: "waist", From: 90, To: 100, Point: a.Lerp(b, 0.5).Add(b.Sub(a).Left().Mul(9))})
		},
		"gathers": func(q *pattern.Piece) {
			q.Gathers = append(q.Gathers, pattern.Gather{Name: "gathers", Edge: "waist", From: 60, To: 120, Length: 30, Kind: pattern.Gathers})
		},
	} {
		t.Run(name, func(t *testing.T) {
			p := base.Clone()
			put(p.Piece("skirt-front"))
			q := done(t, p, raise(WaistRaise{BelowArmscye: 90, KeepLength: true})).Pattern
			skirt := q.Piece("skirt-front")
			within(t, "skirt front, sewn", skirt.SewnLength("waist"), q.Piece("bodice-front").SewnLength("waist"), laidOff)
			if len(skirt.Darts) > 0 {
				t.Errorf("darts left: %v", skirt.Darts)
			}
			for _, g := range skirt.Gathers {
				within(t, "gathers take up", g.To-g.From-g.Length, 30, laidOff)
			}
		})
	}
}

func TestRaiseGorePleated(t *testing.T) {
	p := dress(t)
	front := p.Piece("skirt-front")
	front.Pleats = append(front.Pleats, pattern.Pleat{Name: "pleat", Edge: "waist", From: 90, To: 110, Kind: pattern.Knife})
	refusals{
		{"a pleat", p, raise(WaistRaise{BelowArmscye: 90}), `the waist of piece "skirt-front" is laid in pleats, which would not fit the waist above; raise the waist before laying the pleats`},
	}.try(t)
}

// Above the hip a gore's edges are drawn anew: without a corner where the new
// line leaves the old, and bending one way or not at all by more than the old.
func TestRaiseGoreIsPlain(t *testing.T) {
	p := after(t, dress(t), rotate(Rotation{Piece: "bodice-front", Dart: "bust-dart", Into: "waist-dart", Share: 1}))
	a := done(t, p, raise(WaistRaise{BelowArmscye: 64, AtCentreBack: 15, KeepLength: true})).Pattern
	for _, name := range []string{"skirt-front", "skirt-back"} {
		piece := a.Piece(name)
		for _, e := range piece.Edges {
			for i := 1; i < len(e.Path); i++ {
				if turn := geom.Turn(e.Path[i-1].Direction(1), e.Path[i].Direction(0)); turn > mostTurn || turn < -mostTurn {
					t.Errorf("%s/%s has a corner of %.1f degrees", name, e.Name, degrees(turn))
				}
			}
		}
	}
}
