// Package sleeve is the house plugin that shortens, puffs and refits sleeves.
package sleeve

import (
	"context"

	"bygone.example/core/alter"
	"bygone.example/core/pattern"
	"bygone.example/core/wearer"
	"bygone.example/sdk"
)

// Plugin turns a plain set-in sleeve into a short puffed one.
var Plugin = &sdk.Plugin{
	Name:       "sleeve",
	Purpose:    "Shortens a sleeve, puffs it into a band, and fits its head to the armscye.",
	Operations: []*sdk.Operation{shorten, puff, refit},
}

var needs = []sdk.Need{{Piece: pattern.Sleeve, Edge: pattern.Cap}, {Piece: pattern.Sleeve, Edge: pattern.Hem}}

var shorten = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "shorten",
		Purpose: "Cuts the sleeve off below the underarm.",
		Needs:   needs,
		Parameters: []sdk.Parameter{{
			Name: "underarm", Kind: sdk.Length, Default: "60mm", Min: 5, Max: 800,
			Meaning: "How long the seam under the arm stays.", Mark: sdk.FromMemory,
		}},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.ShortenSleeve(r.Pattern, r.Values.Or("underarm", 0))
	},
}

var puff = &sdk.Operation{
	Spec: sdk.Spec{
		Name:     "puff",
		Purpose:  "Slashes and spreads the sleeve, gathers its head into the armscye and its hem into a band.",
		Needs:    needs,
		Measures: []sdk.Measure{wearer.UpperArm},
		Parameters: []sdk.Parameter{
			{Name: "band", Kind: sdk.Length, Min: 100, Max: 800, Meaning: "How long the band is round the arm.", DefaultNote: "the wearer's upper arm and band-ease"},
			{
				Name: "band-ease", Kind: sdk.Length, Default: "30mm", Min: 0, Max: 200,
				Meaning: "How much longer than the arm the band is, if band is not set.", Mark: sdk.CommonPractice,
			},
			{
				Name: "band-height", Kind: sdk.Length, Default: "13mm", Min: 5, Max: 200,
				Meaning: "How high the finished band is.",
				Mark:    sdk.Published, Source: "University of New Hampshire, Irma G. Bowen collection 856 (1812–16): band 1.3 cm high",
			},
			{
				Name: "ratio", Kind: sdk.Ratio, Default: "1.45", Min: 1, Max: 4,
				Meaning: "Cut width of the hem over the band.",
				Mark:    sdk.Computed, Source: "University of New Hampshire, Irma G. Bowen collection 856 (1812–16): 41.9 cm of cloth to a band of 28.9 cm",
			},
			{
				Name: "head", Kind: sdk.Ratio, Default: "1", Min: 0, Max: 2,
				Meaning: "How much of what the hem gains the head gains too.", Mark: sdk.CommonPractice,
			},
			{
				Name: "from", Kind: sdk.Ratio, Default: "0.4", Min: 0, Max: 0.95,
				Meaning: "Where the gathers begin on the head, as a share of it from the front.", Mark: sdk.FromMemory,
			},
			{
				Name: "to", Kind: sdk.Ratio, Default: "0.9", Min: 0.05, Max: 1,
				Meaning: "Where the gathers end on the head.", Mark: sdk.FromMemory,
			},
			{Name: "slashes", Kind: sdk.Count, Default: "6", Min: 1, Max: 50, Meaning: "In how many slashes.", Mark: sdk.CommonPractice},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		band, set := r.Values.Number("band")
		if !set {
			arm, taken := r.Wearer.Of(wearer.UpperArm)
			if !taken {
				return nil, sdk.Refuse("it is not said how long the band is", "set band, or give a wearer file with upper-arm-girth")
			}
			band = arm + r.Values.Or("band-ease", 0)
		}
		return alter.PuffSleeve(r.Pattern, alter.Puff{
			Band: band, BandHeight: r.Values.Or("band-height", 0), Ratio: r.Values.Or("ratio", 1), HeadShare: r.Values.Or("head", 1),
			From: r.Values.Or("from", 0), To: r.Values.Or("to", 1), Slashes: int(r.Values.Or("slashes", 1)),
		})
	},
}

var refit = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "refit",
		Purpose: "Makes the sleeve's head fit its armscye again.",
		Needs:   needs,
		Parameters: []sdk.Parameter{{
			Name: "ease", Kind: sdk.Length, Default: "25mm", Min: 0, Max: 100,
			Meaning: "By how much a head that is not gathered is longer than the armscye.", Mark: sdk.CommonPractice,
		}},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.RefitCap(r.Pattern, r.Values.Or("ease", 0))
	},
}
