// Package back is the house plugin that divides and narrows the back.
package back

import (
	"context"
	"fmt"

	"bygone.example/core/alter"
	"bygone.example/core/pattern"
	"bygone.example/sdk"
)

// Plugin cuts the back in the narrow panels of earlier dress.
var Plugin = &sdk.Plugin{
	Name:       "back",
	Purpose:    "Divides the back into a centre and a side piece, and narrows the centre.",
	Operations: []*sdk.Operation{divide, narrow},
}

var divide = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "divide",
		Purpose: "Divides the back by a curved seam from waist to armscye that takes up the waist dart.",
		Makes:   []sdk.Need{{Piece: pattern.BodiceSideBack, Edge: pattern.Waist}, {Piece: pattern.BodiceSideBack, Edge: pattern.SideBack}},
		Needs: []sdk.Need{
			{Piece: pattern.BodiceBack, Edge: pattern.Waist}, {Piece: pattern.BodiceBack, Edge: pattern.Armscye},
		},
		Parameters: []sdk.Parameter{
			{
				Name: "down-armscye", Kind: sdk.Length, Default: "110mm", Min: 5, Max: 500,
				Meaning: "Where the seam ends, measured down the armscye from the shoulder.", Mark: sdk.FromMemory,
			},
			{Name: "dart", Kind: sdk.Name, Meaning: "The waist dart that goes into the seam.", DefaultNote: "the only one, if there is one"},
			{
				Name: "at-waist", Kind: sdk.Length, Default: "70mm", Min: 5, Max: 500,
				Meaning: "Where the seam starts if there is no dart, from the centre back.", Mark: sdk.FromMemory,
			},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.DivideBack(r.Pattern, alter.Panel{
			Dart: r.Values.Text("dart"), AtWaist: r.Values.Or("at-waist", 0), AtArmscye: r.Values.Or("down-armscye", 0),
		})
	},
}

var narrow = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "narrow",
		Purpose: "Moves the side-back seam towards the centre; the side back takes up the width.",
		// A side back is not asked for here: an earlier step may make it.
		Needs: []sdk.Need{{Piece: pattern.BodiceBack, Edge: pattern.Waist}},
		Parameters: []sdk.Parameter{
			{
				Name: "waist-width", Kind: sdk.Length, Default: "50mm", Min: 10, Max: 400,
				Meaning: "How wide the centre back is to be at the waist, from the centre to the seam.", Mark: sdk.FromMemory,
			},
			{
				Name: "up-armscye", Kind: sdk.Length, Default: "20mm", Min: -200, Max: 300,
				Meaning: "How far up the armscye the seam's other end goes.", Mark: sdk.FromMemory,
			},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		backs := r.Pattern.ByRole(pattern.BodiceBack)
		if len(backs) != 1 || len(backs[0].EdgesByRole(pattern.Waist)) != 1 {
			return nil, sdk.Refuse(fmt.Sprintf("one piece with the role %s and one waist edge is wanted", pattern.BodiceBack), "narrow the back before it is drawn out whole or copied, or take that role off the others")
		}
		waist := backs[0].SewnLength(backs[0].EdgesByRole(pattern.Waist)[0].Name)
		move := alter.Narrowing{AtWaist: waist - r.Values.Or("waist-width", waist), AtArmscye: r.Values.Or("up-armscye", 0)}
		a, err := alter.NarrowBack(r.Pattern, move)
		if err != nil {
			return nil, err
		}
		if move.AtWaist > 0 || move.AtArmscye > 0 {
			a.Cautions = append(a.Cautions, "A narrow back keeps the arms from reaching forward: try lifting and reaching in the mock-up before the part asks for it.")
		}
		return a, nil
	},
}
