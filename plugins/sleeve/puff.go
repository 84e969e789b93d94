package sleeve

import (
	"context"
	"slices"

	"bygone.example/core/alter"
	"bygone.example/core/wearer"
	"bygone.example/sdk"
)

var puff = &sdk.Operation{
	Spec: sdk.Spec{
		Name:     "puff",
		Purpose:  "Slashes and spreads the sleeve, gathers its head into the armscye and its hem into a band; or only one of them.",
		Needs:    needs,
		Measures: []sdk.Measure{wearer.UpperArm},
		Parameters: slices.Concat([]sdk.Parameter{
			{
				Name: "at", Kind: sdk.Choice, Default: string(alter.PuffBoth), Choices: []string{string(alter.PuffBoth), string(alter.PuffHead), string(alter.PuffCuff)},
				Meaning: "Where the sleeve is full.",
			},
			{
				Name: "into", Kind: sdk.Choice, Default: string(alter.IntoBand), Choices: []string{string(alter.IntoBand), string(alter.IntoCuff), string(alter.IntoString)},
				Meaning: "What a full hem is drawn up into.",
			},
			{
				Name: "band", Kind: sdk.Length, Min: 100, Max: 800, Meaning: "How long the band is round the arm.",
				DefaultNote: "the wearer's upper arm and band-ease, or as long as the hem was",
			},
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
				Meaning: "How much of what the hem gains the head gains too, where both are full.", Mark: sdk.CommonPractice,
			},
			{
				Name: "head-ratio", Kind: sdk.Ratio, Default: "1.3", Min: 1, Max: 4,
				Meaning: "Cut length of the head over the armscye, where only the head is full; 1.1 to 1.4 in the 1940s.", Mark: sdk.FromMemory,
			},
			{
				Name: "raise", Kind: sdk.Length, Default: "0mm", Min: 0, Max: 200,
				Meaning: "How much higher the top of the head is drawn, so that the puff stands.", Mark: sdk.FromMemory,
			},
		}, gathered("0.4", "0.9"), []sdk.Parameter{
			{Name: "slashes", Kind: sdk.Count, Default: "6", Min: 1, Max: 50, Meaning: "In how many slashes.", Mark: sdk.CommonPractice},
		}),
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		band := girth(r, "band", wearer.UpperArm, hem(r))
		a, err := alter.PuffSleeve(r.Pattern, alter.Puff{
			At: alter.PuffAt(r.Values.Text("at")), Into: alter.PuffInto(r.Values.Text("into")),
			Band: band, BandHeight: r.Values.Or("band-height", 0), Ratio: r.Values.Or("ratio", 1),
			HeadShare: r.Values.Or("head", 1), HeadRatio: r.Values.Or("head-ratio", 1), Raise: r.Values.Or("raise", 0),
			From: r.Values.Or("from", 0), To: r.Values.Or("to", 1), Slashes: int(r.Values.Or("slashes", 1)),
		})
		if r.Values.Text("at") == string(alter.PuffHead) { // no band then
			return a, err
		}
		return tellGirth(r, a, err, "band", wearer.UpperArm, "upper arm", hem(r), band)
	},
}
