package alter_test

import (
	"testing"

	"bygone.example/core/alter"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Pictures of what is done to sleeves, before and after, where it is not done
// as the steps do it by default: those are on the contact sheet.
func TestGoldenSleeves(t *testing.T) {
	do := func(f func(p *pattern.Pattern) (*operation.Answer, error)) alteration { return f }
	bend := do(func(p *pattern.Pattern) (*operation.Answer, error) {
		return alter.BendSleeve(p, alter.ElbowBend{Angle: 0.14, Reach: 0.6})
	})
	pictures(t, []picture{
		{"gigot-1830", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.MakeGigot(p, alter.Gigot{HeadRatio: 2.2, Wrist: 180, From: 0.05, To: 0.95, Slashes: 6})
		}},
		{"gigot-1895", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.MakeGigot(p, alter.Gigot{HeadRatio: 3, Raise: 70, Wrist: 180, From: 0.05, To: 0.95, Slashes: 7})
		}},
		{"pagoda-wide", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.MakePagoda(p, alter.Pagoda{Hem: 850, Drop: 60, Back: 0.15, Slashes: 7})
		}},
		{"bishop-1900", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.MakeBishop(p, alter.Bishop{Cuff: 190, CuffHeight: 60, Ratio: 2.5, Drop: 45, Back: 0.7, HeadRatio: 1.3, From: 0.3, To: 0.85, Placket: 80, Lap: 20, Slashes: 7})
		}},
		{"puff-at-head", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.PuffSleeve(p, alter.Puff{At: alter.PuffHead, HeadRatio: 1.5, Raise: 25, From: 0.2, To: 0.8, Slashes: 6})
		}},
		{"puff-at-cuff", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.PuffSleeve(p, alter.Puff{At: alter.PuffCuff, Into: alter.IntoString, Band: 200, Ratio: 2, Slashes: 6})
		}},
		{"two-piece-from-dart", []alteration{bend}, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.DivideSleeve(p, alter.TwoPiece{Front: 0.15, Back: 0.25, Ease: 6})
		}},
		{"cuff-turned-back", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.AddCuff(p, alter.Cuff{Kind: alter.TurnedBackCuff, Height: 127, Flare: 25})
		}},
		{"undersleeve-armscye", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.AddUndersleeve(p, alter.Undersleeve{Attach: alter.FromArmscye, Shorter: 20})
		}},
		{"head-wider", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.ShapeHead(p, alter.HeadShape{Height: 130, Width: 380})
		}},
	})
}
