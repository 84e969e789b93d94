package skirt

import (
	"context"

	"bygone.example/core/alter"
	"bygone.example/core/pattern"
	"bygone.example/sdk"
)

var yoke = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "yoke",
		Purpose: "Cuts a hip yoke off the skirt, its waist darts closed, and flares or gathers what hangs below.",
		Needs:   needs,
		Parameters: []sdk.Parameter{
			{
				Name: "depth", Kind: sdk.Length, Default: "152mm", Min: 40, Max: 600,
				Meaning: "How deep the yoke is, along every seam from the waist.",
				Mark:    sdk.Published, Source: "I. D. Conover, A Complete Course in Dressmaking, vol. 5 (1922): below the hip line, about 6 in below the waist, a skirt is spread",
			},
			{Name: "ratio", Kind: sdk.Ratio, Default: "1", Min: 1, Max: 6, Meaning: "Cut width of the skirt below over the yoke it is gathered to; 1 is plain.", Mark: sdk.CommonPractice},
			{Name: "hem-gain", Kind: sdk.Length, Default: "0mm", Min: 0, Max: 3000, Meaning: "How much every piece is flared at the hem.", Mark: sdk.CommonPractice},
			slashes,
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.CutHipYoke(r.Pattern, alter.HipYoke{
			Depth: r.Values.Or("depth", 0), Ratio: r.Values.Or("ratio", 1), HemGain: r.Values.Or("hem-gain", 0), Slashes: int(r.Values.Or("slashes", 1)),
		})
	},
}

var over = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "overskirt",
		Purpose: "Makes a second, shorter skirt over the first, basted to its waist.",
		Needs:   needs,
		Parameters: []sdk.Parameter{
			{Name: "share", Kind: sdk.Ratio, Default: "0.667", Min: 0.05, Max: 1, Meaning: "Its length as a share of the skirt's.", Mark: sdk.FromMemory},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.CopyOverskirt(r.Pattern, alter.Overskirt{Share: r.Values.Or("share", 1)})
	},
}

var peplum = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "peplum",
		Purpose: "Adds a basque to the bodice's waist; where a skirt is sewn there, it is basted onto that.",
		Needs:   []sdk.Need{{Piece: pattern.BodiceFront, Edge: pattern.Waist}, {Piece: pattern.BodiceBack, Edge: pattern.Waist}},
		Parameters: []sdk.Parameter{
			{Name: "depth", Kind: sdk.Length, Default: "120mm", Min: 40, Max: 800, Meaning: "How deep the basque is.", Mark: sdk.FromMemory},
			{Name: "fraction", Kind: sdk.Ratio, Default: "0.5", Min: 0.05, Max: 4, Meaning: "How much of a full circle it is cut from, all round.", Mark: sdk.FromMemory},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.AddPeplum(r.Pattern, alter.Peplum{Depth: r.Values.Or("depth", 0), Fraction: r.Values.Or("fraction", 0)})
	},
}
