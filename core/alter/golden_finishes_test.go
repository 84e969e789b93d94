package alter_test

import (
	"testing"

	"bygone.example/core/alter"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Pictures of collars and finishes, before and after.
func TestGoldenFinishes(t *testing.T) {
	const inch = 25.4
	joined := []string{pattern.Neckline, pattern.Armscye, pattern.Cap, pattern.Waist}
	unfold := func(p *pattern.Pattern) (*operation.Answer, error) { return alter.Unfold(p, "bodice-front") }
	pictures(t, []picture{
		{"stand-collar", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.StandCollar(p, alter.Stand{Height: 50, Spring: 20})
		}},
		{"stand-collar-whole-lap", []alteration{unfold}, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.StandCollar(p, alter.Stand{Height: 35, Spring: 12, Lap: 20, LapOne: true})
		}},
		{"flat-collar-whole", []alteration{unfold}, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.FlatCollar(p, alter.Flat{Width: 70, Overlap: 0.25})
		}},
		{"placket-slashed", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.Placket(p, alter.PlacketStrip{Piece: "sleeve", Slash: 100, At: 0.25, Finished: 25.4, Seam: 6.35, End: 12.7})
		}},
		{"flat-collar", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.FlatCollar(p, alter.Flat{Width: 70, Overlap: 0.25, KeepFacing: true})
		}},
		{"add-facing-neck", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.AddFacing(p, alter.Facing{Edge: pattern.Neckline, Width: 40})
		}},
		{"add-facing-hem", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.AddFacing(p, alter.Facing{Edge: pattern.Hem, Width: 92})
		}},
		{"placket", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.Placket(p, alter.PlacketStrip{Finished: inch, Seam: inch / 4, End: inch / 2})
		}},
		{"waistband", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.Waistband(p, alter.Band{Finished: 38, Layers: 1, Seam: inch / 4, End: inch / 4})
		}},
		{"bias-binding", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.Bind(p, alter.BiasBinding{Edge: pattern.Neckline, Finished: 10, Seam: inch / 4, Cloth: 914.4})
		}},
		{"lining", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.Line(p, alter.Lining{Join: joined, HemShorter: 40})
		}},
		{"interlining", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.Line(p, alter.Lining{Inter: true, Pieces: []string{"bodice-front", "bodice-back"}})
		}},
	})
}
