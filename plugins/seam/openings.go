package seam

import (
	"context"

	"bygone.example/core/alter"
	"bygone.example/core/pattern"
	"bygone.example/sdk"
)

var armscye = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "lower-armscye",
		Purpose: "Deepens the armscye at the underarm, scoops it to front or back, and refits the sleeve's head.",
		Needs:   []sdk.Need{{Piece: pattern.BodiceFront}},
		Parameters: []sdk.Parameter{
			{
				Name: "down", Kind: sdk.Length, Default: "15mm", Min: -100, Max: 300,
				Meaning: "How far it goes down the side seam; negative raises it.", Mark: sdk.FromMemory,
			},
			{
				Name: "scoop-front", Kind: sdk.Length, Default: "5mm", Min: -60, Max: 60,
				Meaning: "How much further it is hollowed into the front.", Mark: sdk.FromMemory,
			},
			{
				Name: "scoop-back", Kind: sdk.Length, Default: "0mm", Min: -60, Max: 60,
				Meaning: "How much further it is hollowed into the back.", Mark: sdk.FromMemory,
			},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.LowerArmscye(r.Pattern, alter.ScyeDepth{
			Down: r.Values.Or("down", 0), ScoopFront: r.Values.Or("scoop-front", 0), ScoopBack: r.Values.Or("scoop-back", 0),
		})
	},
}

var crossBack = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "cross-back",
		Purpose: "Narrows the back at the armscye, and refits the sleeve's head.",
		Needs:   []sdk.Need{{Piece: pattern.BodiceBack, Edge: pattern.Armscye}},
		Parameters: []sdk.Parameter{
			{
				Name: "by", Kind: sdk.Length, Default: "10mm", Min: -60, Max: 80,
				Meaning: "How much each half of the back loses at its narrowest; negative widens it.", Mark: sdk.FromMemory,
			},
			{
				Name: "at", Kind: sdk.Ratio, Default: "0.45", Min: 0.1, Max: 0.9,
				Meaning: "Where, as a share of the back armscye from the shoulder.", Mark: sdk.CommonPractice,
			},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.NarrowCrossBack(r.Pattern, alter.CrossBack{By: r.Values.Or("by", 0), At: r.Values.Or("at", 0)})
	},
}

var neckline = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "neckline",
		Purpose: "Lowers the neckline at the centres and widens it at the shoulders; its facings follow.",
		Needs: []sdk.Need{
			{Piece: pattern.BodiceFront, Edge: pattern.Neckline}, {Piece: pattern.BodiceBack, Edge: pattern.Neckline},
		},
		Parameters: []sdk.Parameter{
			{
				Name: "at-front", Kind: sdk.Length, Default: "40mm", Min: -100, Max: 400,
				Meaning: "How far it goes down the centre front; negative raises it.", Mark: sdk.FromMemory,
			},
			{
				Name: "at-back", Kind: sdk.Length, Default: "20mm", Min: -100, Max: 400,
				Meaning: "How far it goes down the centre back.", Mark: sdk.FromMemory,
			},
			{
				Name: "at-shoulder", Kind: sdk.Length, Default: "1in", Min: -50, Max: 200,
				Meaning: "How far it goes out along both shoulder seams.",
				Mark:    sdk.Published, Source: "C. Hecklinger, Handbook on Dress and Cloak Cutting, New York 1884, fig. 6: a low neck is widened 1 to 1½ in at the shoulder",
			},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.LowerNeckline(r.Pattern, alter.NeckOpening{
			AtFront: r.Values.Or("at-front", 0), AtBack: r.Values.Or("at-back", 0), AtShoulder: r.Values.Or("at-shoulder", 0),
		})
	},
}
