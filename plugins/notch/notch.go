// Package notch is the house plugin that sets notches.
package notch

import (
	"context"

	"bygone.example/core/alter"
	"bygone.example/sdk"
)

// Plugin sets pairs of notches along seams.
var Plugin = &sdk.Plugin{
	Name:       "notch",
	Purpose:    "Sets notches in pairs along the sewn length of seams.",
	Operations: []*sdk.Operation{place},
}

var place = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "place",
		Purpose: "Sets notches at the middle of long seams, and at the quarters of longer ones, on both sides at once.",
		Parameters: []sdk.Parameter{
			{
				Name: "longer-than", Kind: sdk.Length, Default: "150mm", Min: 20, Max: 5000,
				Meaning: "How long a seam must be to get a notch at its middle; twice that gets the quarters.", Mark: sdk.CommonPractice,
			},
			{
				Name: "clear", Kind: sdk.Length, Default: "20mm", Min: 0, Max: 200,
				Meaning: "How far a new notch stays from the ends of its edge and from other marks.", Mark: sdk.CommonPractice,
			},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.PlaceNotches(r.Pattern, alter.NotchRule{LongerThan: r.Values.Or("longer-than", 0), Clear: r.Values.Or("clear", 0)})
	},
}
