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

// Pictures of what is borrowed: before, the dress as it was; after, with the
// part of a dress for a larger figure in it.
func TestGoldenBorrowed(t *testing.T) {
	b := stock.StockBody
	b.Bust, b.Waist, b.Hip, b.UpperArm = b.Bust+60, b.Waist+60, b.Hip+60, b.UpperArm+15
	lender, err := stock.Draft(b)
	if err != nil {
		t.Fatal(err)
	}
	for _, do := range []alteration{
		func(p *pattern.Pattern) (*operation.Answer, error) { return alter.ShortenSleeve(p, 60) },
		func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.PuffSleeve(p, alter.Puff{Band: 330, BandHeight: 13, Ratio: 1.45, HeadShare: 1, From: 0.35, To: 0.85, Slashes: 6})
		},
		func(p *pattern.Pattern) (*operation.Answer, error) { return alter.LengthenSkirt(p, 380) },
	} {
		a, err := do(lender)
		if err != nil {
			t.Fatal(err)
		}
		lender = a.Pattern
	}
	p, err := stock.Dress()
	if err != nil {
		t.Fatal(err)
	}
	for name, o := range map[string]alter.Borrowing{
		"borrow-sleeve": {Lender: lender, Roles: []pattern.Role{pattern.Sleeve}, Ease: -1},
		"borrow-skirt":  {Lender: lender, Roles: []pattern.Role{pattern.SkirtFront, pattern.SkirtBack}, MostAtSide: 30},
	} {
		t.Run(name, func(t *testing.T) {
			a, err := alter.Borrow(p, o)
			if err != nil {
				t.Fatal(err)
			}
			var got bytes.Buffer
			if err := draw.Step(p, a.Pattern).SVG(&got, name); err != nil {
				t.Fatal(err)
			}
			compare(t, name+".svg", got.Bytes())
		})
	}
}

// Pictures of a layer over the skirt, hanging free, and of one over the bodice,
// mounted on it.
func TestGoldenLayers(t *testing.T) {
	p, err := stock.Dress()
	if err != nil {
		t.Fatal(err)
	}
	for name, o := range map[string]alter.Layering{
		"layer-skirt":  {Roles: []pattern.Role{pattern.SkirtFront, pattern.SkirtBack}, Ratio: 1.5, Slashes: 5},
		"layer-bodice": {Roles: []pattern.Role{pattern.BodiceFront, pattern.BodiceBack}, Ratio: 1.5, Slashes: 5},
	} {
		t.Run(name, func(t *testing.T) {
			a, err := alter.LayerOver(p, o)
			if err != nil {
				t.Fatal(err)
			}
			var got bytes.Buffer
			if err := draw.Step(p, a.Pattern).SVG(&got, name); err != nil {
				t.Fatal(err)
			}
			compare(t, name+".svg", got.Bytes())
		})
	}
}
