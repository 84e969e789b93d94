package waist

import (
	"context"

	"bygone.example/core/alter"
	"bygone.example/core/pattern"
	"bygone.example/sdk"
)

// What becomes of the darts of a waist that is lowered.
const (
	unsewn  = "unsewn"
	carried = "carry"
)

const (
	// lowWaist in mm is how far below the armscye a low waist lies, by the bodice
	// that below-armscye names.
	lowWaist = 300
	// lowerAtLeast in mm is how much lower than the waist it lies on a body whose
	// side is that long already. From memory.
	lowerAtLeast = 50
)

var lower = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "lower",
		Purpose: "Lowers the waist seam: the bodice grows down, the skirt loses its top.",
		Needs: []sdk.Need{
			{Piece: pattern.BodiceFront, Edge: pattern.Waist}, {Piece: pattern.BodiceBack, Edge: pattern.Waist},
			{Piece: pattern.SkirtFront}, {Piece: pattern.SkirtBack},
		},
		Parameters: []sdk.Parameter{
			{
				Name: "below-armscye", Kind: sdk.Length, Min: 50, Max: 1000,
				Meaning:     "How long the side seam of the bodice comes to be under the armscye.",
				DefaultNote: "300mm, and at least 50mm longer than it is (from memory)",
				Mark:        sdk.Published, Source: "University of New Hampshire, Irma Bowen collection 179 (1920s): bodice side seam 30.0 cm",
			},
			{
				Name: "lower-at-front", Kind: sdk.Length, Default: "0mm", Min: -200, Max: 300,
				Meaning: "How much further down the seam goes at the centre front than at the side.", Mark: sdk.FromMemory,
			},
			{
				Name: "lower-at-back", Kind: sdk.Length, Default: "0mm", Min: -200, Max: 300,
				Meaning: "How much further down the seam goes at the centre back than at the side.", Mark: sdk.FromMemory,
			},
			{
				Name: "darts", Kind: sdk.Choice, Default: unsewn, Choices: []string{unsewn, carried},
				Meaning: "What becomes of the bodice's waist darts: left unsewn, so that it hangs straight, with their places marked; or carried on down to the new seam, as wide as they are.",
			},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		below, least := r.Values.Or("below-armscye", 0), 0.0
		if below == 0 {
			below, least = lowWaist, lowerAtLeast
		}
		return alter.LowerWaist(r.Pattern, alter.WaistDrop{
			BelowArmscye: below, AtLeast: least,
			AtCentreFront: r.Values.Or("lower-at-front", 0),
			AtCentreBack:  r.Values.Or("lower-at-back", 0),
			CarryDarts:    r.Values.Text("darts") == carried,
		})
	},
}

var pouch = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "pouch",
		Purpose: "Makes the bodice front longer at its centre, to overhang the waist, and draws the fullness up.",
		Needs:   []sdk.Need{{Piece: pattern.BodiceFront, Edge: pattern.Waist}, {Piece: pattern.BodiceFront, Edge: pattern.CentreFront}},
		Parameters: []sdk.Parameter{
			{
				Name: "piece", Kind: sdk.Name, DefaultNote: "the bodice front",
				Meaning: "The front that is to pouch.",
			},
			{
				Name: "extra", Kind: sdk.Length, Default: "80mm", Min: 5, Max: 300,
				Meaning: "How much longer the centre front becomes; 5 to 12 cm about 1900 to 1908.", Mark: sdk.FromMemory,
			},
			{
				Name: "zone", Kind: sdk.Ratio, Default: "0.6", Min: 0.05, Max: 1,
				Meaning: "The share of the waist, from the centre front, that is drawn up.", Mark: sdk.FromMemory,
			},
			{
				Name: "as", Kind: sdk.Choice, Choices: []string{"gathers", "ease"}, Default: "gathers",
				Meaning: "Whether the fullness is gathered or eased in.",
			},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		piece := r.Values.Text("piece")
		if piece == "" {
			piece = r.Pattern.ByRole(pattern.BodiceFront)[0].Name
		}
		kind := pattern.Gathers
		if r.Values.Text("as") == "ease" {
			kind = pattern.Ease
		}
		return alter.PouchFront(r.Pattern, alter.Pouch{Piece: piece, Extra: r.Values.Or("extra", 0), Zone: r.Values.Or("zone", 0), Kind: kind})
	},
}
