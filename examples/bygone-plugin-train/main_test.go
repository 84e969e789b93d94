package main

import (
	"math"
	"testing"

	"bygone.example/core/geom"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
	"bygone.example/sdk"
	"bygone.example/sdk/sdktest"
)

func TestContract(t *testing.T) { sdktest.Plugin(t, plugin) }

// The train is as long as asked for, and the pattern goes together as before.
func TestAdd(t *testing.T) {
	for _, length := range []string{"10mm", "150mm", "1m"} {
		for name, on := range map[string]*sdk.Pattern{
			"as drafted": sdktest.StockDress(t), "turned over": turnedOver(sdktest.StockDress(t)), "on the fold": onFold(t),
		} {
			t.Run(name+" "+length, func(t *testing.T) {
				found := len(pairing.Check(on))
				sdktest.Case{
					Plugin: plugin, Operation: "add", On: on, Params: map[string]string{"length": length},
					Check: func(t *testing.T, before *sdk.Pattern, a *sdk.Answer) {
						back := a.Changes[0]
						want := map[string]float64{"10mm": 10, "150mm": 150, "1m": 1000}[length]
						if got := back.After - back.Before; math.Abs(got-want) > 1e-6 {
							t.Errorf("the centre back is %g mm longer, want %g", got, want)
						}
						list := pairing.Check(a.Pattern)
						if len(list) > found {
							t.Errorf("%d findings, %d before: %v", len(list), found, list)
						}
						notchesStay(t, before, a.Pattern)
					},
				}.Run(t)
			})
		}
	}
}

// notchesStay holds the notches to their places on the cloth.
func notchesStay(t *testing.T, before, after *sdk.Pattern) {
	t.Helper()
	was, is := before.ByRole(pattern.SkirtBack)[0], after.ByRole(pattern.SkirtBack)[0]
	for i, n := range was.Notches {
		if n.Edge == "hem" { // drawn anew: a notch stays in proportion
			if a, b := n.At/was.Edge("hem").Path.Length(), is.Notches[i].At/is.Edge("hem").Path.Length(); math.Abs(a-b) > 1e-9 {
				t.Errorf("notch %s was %g along the hem, is %g", n.Name, a, b)
			}
			continue
		}
		a, b := was.Edge(n.Edge).Path.At(n.At), is.Edge(n.Edge).Path.At(is.Notches[i].At)
		if !a.Near(b, 1e-6) {
			t.Errorf("notch %s has gone from %v to %v", n.Name, a, b)
		}
	}
}

func TestRefuses(t *testing.T) {
	for name, test := range map[string]struct {
		spoil func(*sdk.Piece)
		want  string
	}{
		"a gathered hem": {
			func(p *sdk.Piece) {
				p.Gathers = append(p.Gathers, sdk.Gather{Name: "g", Edge: "hem", From: 50, To: 250, Length: 100, Kind: pattern.Gathers})
			},
			`piece "skirt-back" has a sewn hem, or darts, pleats or gathers on its hem or centre back; add the train before those`,
		},
		"no centre back at the hem": {
			func(p *sdk.Piece) { p.Edge("centre-back").Role = "placket" },
			"no skirt back has its hem next to its centre back; give the edges the roles hem and centre-back",
		},
	} {
		t.Run(name, func(t *testing.T) {
			p := sdktest.StockDress(t)
			test.spoil(p.Piece("skirt-back"))
			sdktest.Case{Plugin: plugin, Operation: "add", On: p, Refusal: test.want}.Run(t)
		})
	}
}

// turnedOver lays the skirt's back face down on the paper: its hem then runs
// to the centre back, not from it. The seams turn with it.
func turnedOver(p *sdk.Pattern) *sdk.Pattern {
	piece := p.Piece("skirt-back")
	flip := geom.Reflection(geom.Pt(0, 0), geom.Pt(0, 1))
	lengths := map[string]float64{}
	var edges []sdk.Edge
	for _, e := range piece.Edges {
		lengths[e.Name] = e.Path.Length()
		e.Path = e.Path.Transform(flip).Reverse()
		edges = append([]sdk.Edge{e}, edges...)
	}
	piece.Edges = edges
	piece.Grain.From, piece.Grain.To = flip.Apply(piece.Grain.From), flip.Apply(piece.Grain.To)
	for i := range piece.Notches {
		piece.Notches[i].At = lengths[piece.Notches[i].Edge] - piece.Notches[i].At
	}
	for i := range p.Seams {
		for _, run := range []sdk.Run{p.Seams[i].A, p.Seams[i].B} {
			for k := range run {
				if run[k].Piece == piece.Name {
					run[k].Backwards = !run[k].Backwards
				}
			}
		}
	}
	return p
}

// onFold is a skirt's back alone, half of it on the fold.
func onFold(t *testing.T) *sdk.Pattern {
	t.Helper()
	p := &sdk.Pattern{Name: "back", Title: "Back", Pieces: []sdk.Piece{{
		Name: "back", Title: "Back", Role: pattern.SkirtBack, Cut: pattern.Cut{Count: 1},
		Edges: []sdk.Edge{
			{Name: "hem", Finish: pattern.Hemmed, Path: geom.Polyline(geom.Pt(0, 0), geom.Pt(300, 0))},
			{Name: "side", Finish: pattern.Open, Path: geom.Polyline(geom.Pt(300, 0), geom.Pt(250, 900))},
			{Name: "waist", Finish: pattern.Bound, Path: geom.Polyline(geom.Pt(250, 900), geom.Pt(0, 900))},
			{Name: "centre-back", Finish: pattern.Fold, Path: geom.Polyline(geom.Pt(0, 900), geom.Pt(0, 0))},
		},
		Notches: []sdk.Notch{{Name: "middle", Edge: "hem", At: 150, Count: 1}},
	}}}
	if problems := p.Validate(); len(problems) > 0 {
		t.Fatal(problems)
	}
	return p
}
