package alter_test

import (
	"testing"

	"bygone.example/core/alter"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Pictures of what is done to skirts, before and after.
func TestGoldenSkirts(t *testing.T) {
	setGodet := func(p *pattern.Pattern) (*operation.Answer, error) {
		return alter.InsertGodet(p, alter.Godet{Seam: "skirt-side", Height: 250, Width: 250})
	}
	pictures(t, []picture{
		{"divide-gores", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.DivideGores(p, alter.Gores{Piece: "skirt-back", Count: 3})
		}},
		{"insert-godet", nil, setGodet},
		{"insert-godet-slit", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.InsertGodet(p, alter.Godet{Piece: "skirt-front", Height: 250, Width: 250})
		}},
		{"move-godet", []alteration{setGodet}, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.ChangeGodet(p, "godet", alter.Godet{Seam: "skirt-centre-back"})
		}},
		{"remove-godet", []alteration{setGodet}, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.RemoveGodet(p, "godet")
		}},
		{"hip-yoke-flared", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.CutHipYoke(p, alter.HipYoke{Depth: 152.4, Ratio: 1, HemGain: 150, Slashes: 5})
		}},
		{"hip-yoke-gathered", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.CutHipYoke(p, alter.HipYoke{Depth: 120, Ratio: 1.75, Slashes: 5})
		}},
		{"overskirt", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.CopyOverskirt(p, alter.Overskirt{Share: 2.0 / 3})
		}},
		{"peplum", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.AddPeplum(p, alter.Peplum{Depth: 120, Fraction: 0.5})
		}},
		{"circle-skirt-full", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.CircleSkirt(p, alter.Circle{Fraction: 1})
		}},
	})
}
