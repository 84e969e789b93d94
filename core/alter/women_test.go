package alter

import (
	"testing"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// TestFullnessOnEveryWoman runs every operation on fullness, at the numbers that
// its step has by default or near them, on the dress drafted for every body
// there is: none may be refused, and none may bring in a fault or a warning.
func TestFullnessOnEveryWoman(t *testing.T) {
	back := gatherBack(BackFullness{Zone: 152, Ratio: 2.5})
	steps := []struct {
		name  string
		first []alteration
		do    alteration
	}{
		{"gathers along", []alteration{back}, moveGathers(GatherMove{Piece: "skirt-back", Edge: "waist", To: 1, Share: 1})},
		{"gathers across", []alteration{back}, moveGathers(GatherMove{Piece: "skirt-back", Edge: "waist", ToPiece: "skirt-front", ToEdge: "waist", To: 1, Share: 0.5, Slashes: 5})},
		{"gathers across to the hem", []alteration{back}, moveGathers(GatherMove{Piece: "skirt-back", Edge: "waist", ToPiece: "skirt-front", ToEdge: "waist", To: 1, Share: 0.5, Slashes: 5, Parallel: true})},
		{"flare moved", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return MovePieceFlare(p, PieceFlare{From: "skirt-front", To: "skirt-back", Amount: 100, Slashes: 5})
		}},
		{"flare", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return FlareEdge(p, EdgeFlare{Piece: "sleeve", Edge: "hem", Length: 1.5 * length(p, "sleeve", "hem"), Slashes: 5})
		}},
		{"knife pleats", nil, addPleats(Pleats{Kind: pattern.Knife, Count: 4, AtWaist: 40, AtHem: 40, From: 0.1, To: 1, Toward: TowardSide})},
		{"box pleats", nil, addPleats(Pleats{Kind: pattern.Box, Count: 2, AtWaist: 60, AtHem: 90, To: 1})},
		{"inverted pleats", nil, addPleats(Pleats{Kind: pattern.Inverted, Count: 1, AtWaist: 100, AtHem: 200, To: 1})},
		{"pleats laid", []alteration{back}, layPleats(PleatLaying{Piece: "skirt-back", Edge: "waist", Kind: pattern.Knife, Pressed: pattern.PressedToEnd, Count: 8})},
		{"cartridge pleats", []alteration{back}, cartridges(CartridgePleats{Piece: "skirt-back", Edge: "waist", Pitch: 12})},
		{"tucks round the skirt", nil, tuckSkirt(HemTucks{Count: 4, Width: inch / 4, Space: 0.75 * inch, First: 3.5 * inch})},
		{"tucks", nil, addTucks(Tucks{Piece: "sleeve", Edge: "hem", Count: 3, Width: 5, Space: 12, Centre: 0.5})},
		{"tiers", nil, cutTiers(Tiers{Heights: []float64{215, 190, 200}, Ratio: 1.5})},
		{"straight flounce", nil, addFlounce(Flounce{Kind: StraightFlounce, Depth: 150, Ratio: 1.5})},
		{"circular flounce", nil, addFlounce(Flounce{Kind: CircularFlounce, Depth: 150, Circles: 1})},
		{"spiral flounce", nil, addFlounce(Flounce{Kind: SpiralFlounce, Depth: 150, Radius: 60, Between: 30})},
		{"flounce on the sleeve", nil, addFlounce(Flounce{Piece: "sleeve", Kind: CircularFlounce, Depth: 100, Circles: 0.75})},
	}
	cases := 0
	for _, b := range realBodies(t) {
		p := draftOf(t, b)
		for _, s := range steps {
			before := after(t, p, s.first...)
			a, no := lawful(t, before, s.do)
			if no != nil {
				t.Errorf("%s: %v", s.name, no)
				continue
			}
			noNews(t, before, a)
			cases++
		}
	}
	t.Logf("%d cases", cases)
}
