package alter_test

import (
	"bytes"
	"testing"

	"bygone.example/core/alter"
	"bygone.example/core/draw"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
	"bygone.example/internal/stock"
)

// Pictures of the operations on fullness, before and after, for a cutter to
// judge.
func TestGoldenFullness(t *testing.T) {
	flounce := func(o alter.Flounce) alteration {
		return func(p *pattern.Pattern) (*operation.Answer, error) { return alter.AddFlounce(p, o) }
	}
	back := func(p *pattern.Pattern) (*operation.Answer, error) {
		return alter.GatherBack(p, alter.BackFullness{Zone: 152, Ratio: 2.5})
	}
	pleats := func(o alter.Pleats) alteration {
		return func(p *pattern.Pattern) (*operation.Answer, error) { return alter.AddPleats(p, o) }
	}
	for _, c := range []struct {
		name  string
		first []alteration
		do    alteration
	}{
		{"flounce-straight", nil, flounce(alter.Flounce{Kind: alter.StraightFlounce, Depth: 150, Ratio: 1.5})},
		{"flounce-circular", nil, flounce(alter.Flounce{Kind: alter.CircularFlounce, Depth: 200, Circles: 1.5})},
		{"flounce-spiral", nil, flounce(alter.Flounce{Kind: alter.SpiralFlounce, Depth: 100, Radius: 60, Between: 30})},
		{"flounce-sleeve", nil, flounce(alter.Flounce{Kind: alter.CircularFlounce, Piece: "sleeve", Depth: 120, Circles: 0.75})},
		{"tiers", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.CutTiers(p, alter.Tiers{Heights: []float64{220, 240, 260}, Ratio: 1.5})
		}},
		{"pleats-knife", nil, pleats(alter.Pleats{Kind: pattern.Knife, Toward: alter.TowardSide, Count: 4, AtWaist: 40, AtHem: 40, From: 0.1, To: 1})},
		{"pleats-box", nil, pleats(alter.Pleats{Piece: "skirt-front", Kind: pattern.Box, Count: 2, AtWaist: 80, AtHem: 120, From: 0.1, To: 0.9})},
		{"pleats-laid", []alteration{back}, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.LayPleats(p, alter.PleatLaying{Piece: "skirt-back", Edge: "waist", Kind: pattern.Knife, Pressed: pattern.PressedToEnd, Count: 4, Hip: 250, HipDepth: 180, Hem: 370})
		}},
		{"pleats-cartridge", []alteration{back}, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.CartridgePleat(p, alter.CartridgePleats{Piece: "skirt-back", Edge: "waist", Pitch: 12})
		}},
		{"tucks-skirt", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.TuckSkirt(p, alter.HemTucks{Count: 3, Width: 10, Space: 25, First: 90})
		}},
		{"tucks-sleeve", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.AddTucks(p, alter.Tucks{Piece: "sleeve", Edge: "hem", Count: 3, Width: 6, Space: 14, Centre: 0.5})
		}},
		{"gathers-along", []alteration{back}, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.MoveGathers(p, alter.GatherMove{Piece: "skirt-back", Edge: "waist", From: 0.2, To: 0.9, Share: 1})
		}},
		{"gathers-across", []alteration{back}, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.MoveGathers(p, alter.GatherMove{Piece: "skirt-back", Edge: "waist", ToPiece: "skirt-front", ToEdge: "waist", From: 0.1, To: 0.8, Share: 0.5, Slashes: 4, Parallel: true})
		}},
		{"flare-sleeve", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.FlareEdge(p, alter.EdgeFlare{Piece: "sleeve", Edge: "hem", Length: 400, Slashes: 5})
		}},
		{"flare-moved", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.MovePieceFlare(p, alter.PieceFlare{From: "skirt-front", To: "skirt-back", Amount: 200, Slashes: 5})
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, err := stock.Dress()
			if err != nil {
				t.Fatal(err)
			}
			for _, do := range c.first {
				a, err := do(p)
				if err != nil {
					t.Fatal(err)
				}
				p = a.Pattern
			}
			a, err := c.do(p)
			if err != nil {
				t.Fatal(err)
			}
			for _, c := range a.Changes {
				t.Logf("%-45s %-25s %9.2f -> %9.2f %s", c.What, c.Piece, c.Before, c.After, c.Unit)
			}
			var got bytes.Buffer
			if err := draw.Step(p, a.Pattern).SVG(&got, c.name); err != nil {
				t.Fatal(err)
			}
			compare(t, c.name+".svg", got.Bytes())
		})
	}
}
