// Package shoulder is the house plugin that moves the shoulder seam.
package shoulder

import (
	"context"

	"bygone.example/core/alter"
	"bygone.example/core/pattern"
	"bygone.example/sdk"
)

// Plugin moves the shoulder seam off the top of the shoulder.
var Plugin = &sdk.Plugin{
	Name:       "shoulder",
	Purpose:    "Moves the shoulder seam towards the back, from piece to piece.",
	Operations: []*sdk.Operation{move},
}

var move = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "move",
		Purpose: "Moves the shoulder seam back, neckline and armscye keeping their totals.",
		Needs: []sdk.Need{
			{Piece: pattern.BodiceFront, Edge: pattern.Shoulder}, {Piece: pattern.BodiceBack, Edge: pattern.Shoulder},
		},
		Parameters: []sdk.Parameter{
			{
				Name: "at-neck", Kind: sdk.Length, Default: "20mm", Min: -100, Max: 200,
				Meaning: "How far back along the neckline; negative is forward.", Mark: sdk.FromMemory,
			},
			{
				Name: "at-arm", Kind: sdk.Length, Default: "55mm", Min: -100, Max: 250,
				Meaning: "How far back and down along the armscye; negative is forward.", Mark: sdk.FromMemory,
			},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.MoveShoulder(r.Pattern, alter.ShoulderMove{AtNeck: r.Values.Or("at-neck", 0), AtArm: r.Values.Or("at-arm", 0)})
	},
}
