// Package allowance is the house plugin that sets seam and hem allowances.
package allowance

import (
	"context"

	"bygone.example/core/alter"
	"bygone.example/core/pattern"
	"bygone.example/sdk"
)

// Plugin gives every edge the house's allowance.
var Plugin = &sdk.Plugin{
	Name:       "allowance",
	Purpose:    "Gives every edge its seam or hem allowance by a house's rules.",
	Operations: []*sdk.Operation{set, bringIn, corner},
}

var set = &sdk.Operation{
	Spec: sdk.Spec{
		Name:       "set",
		Purpose:    "Sets the allowance of every edge: none on folds, equal on both sides of a seam.",
		Parameters: widths,
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.SetAllowances(r.Pattern, asked(r))
	},
}

var bringIn = &sdk.Operation{
	Spec: sdk.Spec{
		Name:       "bring-in",
		Purpose:    "Brings a pattern that comes with its allowances included in to the seam lines; what is cut stays as it is.",
		Parameters: widths,
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.BringIn(r.Pattern, asked(r))
	},
}

var corner = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "corner",
		Purpose: "Shapes one corner of the cut line.",
		Parameters: []sdk.Parameter{
			{Name: "piece", Kind: sdk.Name, Default: "skirt-front", Meaning: "The piece."},
			{Name: "edge", Kind: sdk.Name, Default: "hem", Meaning: "The edge that ends in the corner, going round the piece counter-clockwise."},
			{
				Name: "shape", Kind: sdk.Choice, Default: "meet", Choices: []string{"meet", "bevel", "square", "turned", "matched"}, Mark: sdk.CommonPractice,
				Meaning: "Meet runs the cut lines on; bevel cuts the corner off; square ends both at right angles; turned folds a hem's end back along its neighbour; matched ends a seam alike on both its sides.",
			},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		shape := pattern.Corner(r.Values.Text("shape"))
		if shape == "meet" {
			shape = pattern.Meet
		}
		return alter.SetCorner(r.Pattern, alter.CornerShape{Piece: r.Values.Text("piece"), Edge: r.Values.Text("edge"), Shape: shape})
	},
}

// asked are the widths that an operation is told.
func asked(r *sdk.Request) alter.Allowances {
	return alter.Allowances{
		Seam: r.Values.Or("seam", 0), Curve: r.Values.Or("curve", 0), Hem: r.Values.Or("hem", 0), Small: r.Values.Or("small", 0),
		FlatHems: r.Values.Or("flat-hem", 1) != 0, Corners: r.Values.Text("corners") != "keep",
	}
}

// widths are a house's widths by what an edge is.
var widths = []sdk.Parameter{
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
	{
		Name: "corners", Kind: sdk.Choice, Default: "house", Choices: []string{"house", "keep"}, Mark: sdk.CommonPractice,
		Meaning: "House turns a hem's ends back along the edge beside it, mitres two hems that meet, and ends slanting seams alike on both sides; keep leaves the corners as they are.",
	},
}
