// Package allowance is the house plugin that sets seam and hem allowances.
package allowance

import (
	"context"

	"bygone.example/core/alter"
	"bygone.example/sdk"
)

// Plugin gives every edge the house's allowance.
var Plugin = &sdk.Plugin{
	Name:       "allowance",
	Purpose:    "Gives every edge its seam or hem allowance by a house's rules.",
	Operations: []*sdk.Operation{set},
}

var set = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "set",
		Purpose: "Sets the allowance of every edge: none on folds, equal on both sides of a seam.",
		Parameters: []sdk.Parameter{
			{Name: "seam", Kind: sdk.Length, Default: "15mm", Min: 0, Max: 100, Meaning: "On straight seams.", Mark: sdk.CommonPractice},
			{
				Name: "curve", Kind: sdk.Length, Default: "1/4in", Min: 0, Max: 100,
				Meaning: "On necklines, armscyes and sleeve heads.",
				Mark:    sdk.Published, Source: "C. C. Ingalls, Text-Book on Domestic Art, 1911: neck and armscye of a shirtwaist ¼ in",
			},
			{
				Name: "hem", Kind: sdk.Length, Default: "2 1/2in", Min: 0, Max: 400,
				Meaning: "On the hem of a skirt.",
				Mark:    sdk.Published, Source: "H. Kinne and A. M. Cooley, Clothing and Health, 1916: petticoat hem 2 in finished, 2½ in allowed",
			},
			{Name: "small", Kind: sdk.Length, Default: "15mm", Min: 0, Max: 200, Meaning: "On other hems and faced edges.", Mark: sdk.CommonPractice},
			{Name: "flat-hem", Kind: sdk.Switch, Default: "yes", Meaning: "Whether a hem is made narrower that would not lie flat turned up, as on a flared skirt."},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.SetAllowances(r.Pattern, alter.Allowances{
			Seam: r.Values.Or("seam", 0), Curve: r.Values.Or("curve", 0), Hem: r.Values.Or("hem", 0), Small: r.Values.Or("small", 0),
			FlatHems: r.Values.Or("flat-hem", 1) != 0,
		})
	},
}
