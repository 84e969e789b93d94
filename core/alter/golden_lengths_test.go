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

// Pictures of what is done to lengths, before and after.
func TestGoldenLengths(t *testing.T) {
	pictures(t, []picture{
		{"lengthen-at-skirt", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.LengthenAt(p, alter.LengthCut{Piece: "skirt-front", Down: 2.0 / 3, By: 80, Blend: 150})
		}},
		{"lengthen-sleeve", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.LengthenSleeve(p, alter.SleeveLength{By: 50.8, Blend: 80})
		}},
		{"lower-waist", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.LowerWaist(p, alter.WaistDrop{BelowArmscye: 300})
		}},
		{"lower-waist-darts-carried", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.LowerWaist(p, alter.WaistDrop{BelowArmscye: 260, CarryDarts: true})
		}},
		{"pouch-front", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.PouchFront(p, alter.Pouch{Piece: "bodice-front", Extra: 80, Zone: 0.6, Kind: pattern.Gathers})
		}},
		{"level-hem", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.LevelHem(p, alter.HemLengths{Front: 965, Side: 990, Back: 1003})
		}},
		{"add-train", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.AddTrain(p, alter.Train{Back: 400})
		}},
		{"circle-skirt", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.CircleSkirt(p, alter.Circle{Fraction: 0.5})
		}},
	})
}

// picture is one operation to be drawn; the steps before it only prepare.
type picture struct {
	name  string
	first []alteration
	do    alteration
}

func pictures(t *testing.T, list []picture) {
	t.Helper()
	for _, c := range list {
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
			var got bytes.Buffer
			if err := draw.Step(p, a.Pattern).SVG(&got, c.name); err != nil {
				t.Fatal(err)
			}
			compare(t, c.name+".svg", got.Bytes())
		})
	}
}
