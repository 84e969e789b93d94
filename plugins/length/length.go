// Package length is the house plugin for lengths and levels: pieces cut across
// and parted, and hems set, curved and trained.
package length

import (
	"context"

	"bygone.example/core/alter"
	"bygone.example/core/pattern"
	"bygone.example/core/wearer"
	"bygone.example/sdk"
)

// Plugin lengthens pieces at a line and levels hems.
var Plugin = &sdk.Plugin{
	Name:       "length",
	Purpose:    "Lengthens pieces at a line, and levels, curves and trains hems.",
	Operations: []*sdk.Operation{across, sleeve, levelHem, curveHem, train},
}

var across = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "across",
		Purpose: "Cuts a piece and all that is sewn beside it straight across, and parts it or folds a pleat out.",
		Parameters: []sdk.Parameter{
			{
				Name: "piece", Kind: sdk.Name, DefaultNote: "the front of the skirt, if the pattern has one",
				Meaning: "The piece to measure on; those sewn along its sides are cut with it.",
			},
			{
				Name: "down", Kind: sdk.Ratio, Default: "0.667", Min: 0.01, Max: 0.99,
				Meaning: "How far down the piece the cut lies, as a share of its length.",
				Mark:    sdk.Published, Source: "K. H. Watson, Textiles and Clothing, 1907: a gore is cut two-thirds of the way down",
			},
			{
				Name: "by", Kind: sdk.Length, Default: "50.8mm", Min: -500, Max: 1500,
				Meaning: "How much longer the seams become; negative folds a pleat out.", Mark: sdk.FromMemory,
			},
			blend,
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		piece := r.Values.Text("piece")
		if piece == "" {
			fronts := r.Pattern.ByRole(pattern.SkirtFront)
			if len(fronts) == 0 {
				return nil, sdk.Refuse("it is not said which piece is to be cut across", "set piece")
			}
			piece = fronts[0].Name
		}
		return alter.LengthenAt(r.Pattern, alter.LengthCut{
			Piece: piece, Down: r.Values.Or("down", 0), By: r.Values.Or("by", 0), Blend: r.Values.Or("blend", 0),
		})
	},
}

var blend = sdk.Parameter{
	Name: "blend", Kind: sdk.Length, Default: "150mm", Min: 0, Max: 1000,
	Meaning: "How far on either side of a cut the edges it crosses are drawn anew through the step.", Mark: sdk.FromMemory,
}

var sleeve = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "sleeve",
		Purpose: "Lengthens or shortens the sleeve, half above the elbow and half below it.",
		Needs:   []sdk.Need{{Piece: pattern.Sleeve, Edge: pattern.Cap}, {Piece: pattern.Sleeve, Edge: pattern.Hem}},
		Parameters: []sdk.Parameter{
			{
				Name: "by", Kind: sdk.Length, Default: "50.8mm", Min: -300, Max: 500,
				Meaning: "How much longer the underarm seams become; negative shortens.",
				Mark:    sdk.Published, Source: "K. H. Watson, Textiles and Clothing, 1907: 2 in more is 1 in above the elbow and 1 in below",
			},
			blend,
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.LengthenSleeve(r.Pattern, alter.SleeveLength{By: r.Values.Or("by", 0), Blend: r.Values.Or("blend", 0)})
	},
}

var hems = []sdk.Need{{Piece: pattern.SkirtFront}, {Piece: pattern.SkirtBack}}

// place is a parameter for the length at one place of the skirt.
func place(name, at, note string) sdk.Parameter {
	return sdk.Parameter{
		Name: name, Kind: sdk.Length, Min: 200, Max: 3000, DefaultNote: note,
		Meaning: "How long the skirt is to be " + at + ", from waist to hem.",
	}
}

var levelHem = &sdk.Operation{
	Spec: sdk.Spec{
		Name:     "level-hem",
		Purpose:  "Sets the length of the skirt at the front, the side and the back, so that its hem hangs level.",
		Needs:    hems,
		Measures: []sdk.Measure{wearer.WaistHeight},
		Parameters: []sdk.Parameter{
			place("front", "at the centre front", "as at the side"),
			place("side", "at the side", "from the wearer's waist height and off-floor; without a wearer what it is"),
			place("back", "at the centre back", "as at the side"),
			{
				Name: "off-floor", Kind: sdk.Length, Default: "50mm", Min: 0, Max: 1500,
				Meaning: "How far the hem is to hang off the floor, if side is not set.", Mark: sdk.CommonPractice,
			},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		side, set := r.Values.Number("side")
		if !set {
			if height, taken := r.Wearer.Of(wearer.WaistHeight); taken {
				side = height - r.Values.Or("off-floor", 0)
			} else if side = sideOf(r.Pattern); side == 0 {
				return nil, sdk.Refuse("it is not said how long the skirt is to be", "set side, or name a file of the wearer's measures that has waist-height with --wearer FILE")
			}
		}
		return alter.LevelHem(r.Pattern, alter.HemLengths{Front: r.Values.Or("front", side), Side: side, Back: r.Values.Or("back", side)})
	},
}

// sideOf is the length of the skirt's side seam; 0 without one.
func sideOf(p *pattern.Pattern) float64 {
	for _, role := range []pattern.Role{pattern.SkirtFront, pattern.SkirtBack} {
		for _, piece := range p.ByRole(role) {
			if sides := piece.EdgesByRole(pattern.Side); len(sides) == 1 {
				return piece.SewnLength(sides[0].Name)
			}
		}
	}
	return 0
}

var curveHem = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "curve-hem",
		Purpose: "Makes the skirt longer or shorter at the front, the side and the back by different amounts.",
		Needs:   hems,
		Parameters: []sdk.Parameter{
			{Name: "front", Kind: sdk.Length, Default: "-20mm", Min: -1500, Max: 1500, Meaning: "By how much at the centre front; negative shortens.", Mark: sdk.FromMemory},
			{Name: "side", Kind: sdk.Length, Default: "0mm", Min: -1500, Max: 1500, Meaning: "By how much at the side; negative shortens.", Mark: sdk.FromMemory},
			{Name: "back", Kind: sdk.Length, Default: "30mm", Min: -1500, Max: 1500, Meaning: "By how much at the centre back; negative shortens.", Mark: sdk.FromMemory},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.CurveHem(r.Pattern, alter.HemLengths{Front: r.Values.Or("front", 0), Side: r.Values.Or("side", 0), Back: r.Values.Or("back", 0)})
	},
}

var train = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "train",
		Purpose: "Lengthens the back of the skirt into a train and curves it into the side.",
		Needs:   hems,
		Parameters: []sdk.Parameter{
			{Name: "back", Kind: sdk.Length, Default: "300mm", Min: 1, Max: 4000, Meaning: "How much longer the centre back becomes.", Mark: sdk.FromMemory},
			{Name: "side", Kind: sdk.Length, Default: "0mm", Min: 0, Max: 2000, Meaning: "How much longer the side becomes.", Mark: sdk.FromMemory},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.AddTrain(r.Pattern, alter.Train{Back: r.Values.Or("back", 0), Side: r.Values.Or("side", 0)})
	},
}
