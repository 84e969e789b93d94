// Package waist is the house plugin that moves the waist seam.
package waist

import (
	"context"

	"bygone.example/core/alter"
	"bygone.example/core/pattern"
	"bygone.example/sdk"
)

// Plugin moves the waist seam to a period's height.
var Plugin = &sdk.Plugin{
	Name:       "waist",
	Purpose:    "Moves the waist seam to a period's height and brings the skirt along.",
	Operations: []*sdk.Operation{raise, lower, pouch},
}

var raise = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "raise",
		Purpose: "Raises the waist seam and lets the skirt grow up to it.",
		Needs:   []sdk.Need{{Piece: pattern.BodiceFront, Edge: pattern.Waist}, {Piece: pattern.BodiceBack, Edge: pattern.Waist}},
		Parameters: []sdk.Parameter{
			{
				Name: "below-armscye", Kind: sdk.Length, Default: "64mm", Min: 10, Max: 600,
				Meaning: "How long the side seam stays under the armscye.",
				Mark:    sdk.Published, Source: "Connecticut Museum of Culture and History 1963.42.3 (c. 1800–10): waist seam 6.4 cm below the armhole at the side",
			},
			{
				Name: "higher-at-back", Kind: sdk.Length, Default: "15mm", Min: -100, Max: 200,
				Meaning: "How much further up the waist goes at the centre back than at the side.",
				Mark:    sdk.FromMemory,
			},
			{
				Name: "higher-at-front", Kind: sdk.Length, Default: "0mm", Min: -100, Max: 200,
				Meaning: "How much further up the waist goes at the centre front than at the side.",
				Mark:    sdk.FromMemory,
			},
			{
				Name: "keep-length", Kind: sdk.Switch, Default: "yes",
				Meaning: "Whether the skirt grows by what the bodice loses.",
			},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.RaiseWaist(r.Pattern, alter.WaistRaise{
			BelowArmscye:  r.Values.Or("below-armscye", 0),
			AtCentreBack:  r.Values.Or("higher-at-back", 0),
			AtCentreFront: r.Values.Or("higher-at-front", 0),
			KeepLength:    r.Values.On("keep-length"),
		})
	},
}
