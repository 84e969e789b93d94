package skirt

import (
	"context"

	"bygone.example/core/alter"
	"bygone.example/sdk"
)

var circle = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "circle",
		Purpose: "Redraws the skirt's pieces as parts of a circle, or part of one, that fits the waist.",
		Needs:   needs,
		Parameters: []sdk.Parameter{
			{
				Name: "fraction", Kind: sdk.Ratio, Default: "0.5", Min: 0.05, Max: 6,
				Meaning: "How much of a full circle the whole skirt is; not looked at if hem is set.", Mark: sdk.CommonPractice,
			},
			{
				Name: "hem", Kind: sdk.Length, Min: 500, Max: 40000, DefaultNote: "what the fraction gives",
				Meaning: "How far it is to be round the hem.",
			},
			{
				Name: "length", Kind: sdk.Length, Min: 100, Max: 3000, DefaultNote: "the longest that the skirt is from waist to hem",
				Meaning: "How long the skirt is, from waist to hem.",
			},
			{
				Name: "waist", Kind: sdk.Length, Min: 300, Max: 3000, DefaultNote: "what the skirt's waist measures sewn",
				Meaning: "How far it is round the waist, of a skirt that is sewn to no bodice.",
			},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		o := alter.Circle{Fraction: r.Values.Or("fraction", 0), Length: r.Values.Or("length", 0), Waist: r.Values.Or("waist", 0)}
		if hem, set := r.Values.Number("hem"); set {
			o.Fraction, o.Hem = 0, hem
		}
		return alter.CircleSkirt(r.Pattern, o)
	},
}
