package sleeve

import (
	"context"
	"slices"

	"bygone.example/core/alter"
	"bygone.example/core/pattern"
	"bygone.example/core/wearer"
	"bygone.example/sdk"
)

var fanSlashes = sdk.Parameter{
	Name: "slashes", Kind: sdk.Count, Default: "6", Min: 2, Max: 30,
	Meaning: "In how many slashes on either side.", Mark: sdk.CommonPractice,
}

var elbowShare = sdk.Parameter{
	Name: "elbow", Kind: sdk.Ratio, Min: 0.1, Max: 0.9, DefaultNote: "the notch named elbow, or 0.53",
	Meaning: "Where the elbow is, as a share of the seam under the arm from the head.",
}

var placket = []sdk.Parameter{
	{
		Name: "placket", Kind: sdk.Length, Default: "80mm", Min: 0, Max: 400,
		Meaning: "How far the seam under the arm is left open above the cuff; 0 leaves it closed.", Mark: sdk.CommonPractice,
	},
	{
		Name: "lap", Kind: sdk.Length, Default: "20mm", Min: 0, Max: 100,
		Meaning: "By how much the ends of an open cuff lie over each other for a button.", Mark: sdk.CommonPractice,
	},
}

var cuffHeight = sdk.Parameter{
	Name: "cuff-height", Kind: sdk.Length, Default: "44mm", Min: 5, Max: 300, Meaning: "How high the finished cuff is.",
	Mark: sdk.Published, Source: "Connecticut Museum of Culture and History 1988.52.2 (c. 1860): sleeve gathered into a cuff of 4.4 cm",
}

// looseWrist is how much of the hem is left for a cuff where no wrist is known; a
// plain sleeve's hem passes over the hand.
const looseWrist = 0.85

var gigot = &sdk.Operation{
	Spec: sdk.Spec{
		Name:     "gigot",
		Purpose:  "Cuts a leg-of-mutton sleeve: wide and gathered at the head, close from below the elbow to the wrist.",
		Needs:    needs,
		Measures: []sdk.Measure{wearer.WristGirth},
		Parameters: slices.Concat([]sdk.Parameter{
			{
				Name: "head-ratio", Kind: sdk.Ratio, Default: "2.5", Min: 1.05, Max: 4,
				Meaning: "Cut length of the head over the armscye: 2 to 3 about 1830–35, 1.5 to 2 in 1893, 2.5 to 4 in 1895–96.", Mark: sdk.FromMemory,
			},
			{
				Name: "raise", Kind: sdk.Length, Default: "40mm", Min: 0, Max: 300,
				Meaning: "How much higher the top of the head is drawn: the puff of the 1890s stands, that of 1830 hangs and takes 0.", Mark: sdk.FromMemory,
			},
			elbowShare,
			{
				Name: "wrist", Kind: sdk.Length, Min: 120, Max: 400, DefaultNote: "the wearer's wrist and wrist-ease, or as the hem is",
				Meaning: "How long the hem is round the wrist: 160 to 190 mm about 1830, from memory.",
			},
			{Name: "wrist-ease", Kind: sdk.Length, Default: "25mm", Min: 0, Max: 100, Meaning: "How much longer than the wrist it is, if wrist is not set.", Mark: sdk.FromMemory},
		}, gathered("0.06", "0.94"), []sdk.Parameter{fanSlashes}),
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		wrist := girth(r, "wrist", wearer.WristGirth, 0)
		if _, set := r.Values.Number("wrist"); !set && wrist >= hem(r) {
			wrist = 0 // close enough as it is
		}
		a, err := alter.MakeGigot(r.Pattern, alter.Gigot{
			HeadRatio: r.Values.Or("head-ratio", 1), Raise: r.Values.Or("raise", 0), Elbow: r.Values.Or("elbow", 0), Wrist: wrist,
			From: r.Values.Or("from", 0), To: r.Values.Or("to", 1), Slashes: int(r.Values.Or("slashes", 2)),
		})
		return tellGirth(r, a, err, "wrist", wearer.WristGirth, "wrist", hem(r), wrist)
	},
}

var pagoda = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "pagoda",
		Purpose: "Cuts a bell-shaped sleeve: close above the elbow, open and wide at the hem, longer at the back.",
		Needs:   needs,
		Parameters: []sdk.Parameter{
			{
				Name: "hem", Kind: sdk.Length, Default: "600mm", Min: 200, Max: 1500,
				Meaning: "How long the open hem is all round: 450 to 900 mm about 1850–68.", Mark: sdk.FromMemory,
			},
			elbowShare,
			{
				Name: "drop", Kind: sdk.Length, Default: "40mm", Min: 0, Max: 200,
				Meaning: "How much longer the sleeve is at the back; that it is so is told of a silk dress of the 1850s (University of New Hampshire, Bowen collection 807), by how much is not.", Mark: sdk.FromMemory,
			},
			{Name: "back", Kind: sdk.Ratio, Default: "0", Min: 0, Max: 1, Meaning: "How far the width leans to the back: 1 has all of it there.", Mark: sdk.FromMemory},
			fanSlashes,
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.MakePagoda(r.Pattern, alter.Pagoda{
			Hem: r.Values.Or("hem", 0), Elbow: r.Values.Or("elbow", 0), Drop: r.Values.Or("drop", 0), Back: r.Values.Or("back", 0), Slashes: int(r.Values.Or("slashes", 2)),
		})
	},
}

var bishop = &sdk.Operation{
	Spec: sdk.Spec{
		Name:     "bishop",
		Purpose:  "Cuts a bishop sleeve: full towards the hem and longer at the back, gathered into a cuff.",
		Makes:    []sdk.Need{{Piece: pattern.SleeveCuff}},
		Needs:    needs,
		Measures: []sdk.Measure{wearer.WristGirth},
		Parameters: slices.Concat([]sdk.Parameter{
			{
				Name: "cuff", Kind: sdk.Length, Min: 100, Max: 500, DefaultNote: "the wearer's wrist and cuff-ease, or 0.85 of the hem",
				Meaning: "How long the cuff is round the wrist, without its lap.",
			},
			{Name: "cuff-ease", Kind: sdk.Length, Default: "30mm", Min: 0, Max: 200, Meaning: "How much longer than the wrist it is, if cuff is not set.", Mark: sdk.CommonPractice},
			cuffHeight,
			{
				Name: "ratio", Kind: sdk.Ratio, Default: "2", Min: 1, Max: 4,
				Meaning: "Cut width of the hem over the cuff: 1.8 to 2.5 about 1860 and again about 1900–08.", Mark: sdk.FromMemory,
			},
			{Name: "drop", Kind: sdk.Length, Default: "30mm", Min: 0, Max: 200, Meaning: "How much longer the sleeve is at the back, to fall over the cuff.", Mark: sdk.FromMemory},
			{Name: "back", Kind: sdk.Ratio, Default: "0.5", Min: 0, Max: 1, Meaning: "How far the fullness leans to the back.", Mark: sdk.FromMemory},
			{
				Name: "head-ratio", Kind: sdk.Ratio, Min: 1, Max: 4, DefaultNote: "the head is left as it is",
				Meaning: "Cut length of the head over the armscye, for a head that is gathered too, as about 1900.",
			},
		}, gathered("0.35", "0.85"), placket, []sdk.Parameter{
			{Name: "slashes", Kind: sdk.Count, Default: "6", Min: 1, Max: 50, Meaning: "In how many slashes.", Mark: sdk.CommonPractice},
		}),
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		cuff := girth(r, "cuff", wearer.WristGirth, looseWrist*hem(r))
		a, err := alter.MakeBishop(r.Pattern, alter.Bishop{
			Cuff: cuff, CuffHeight: r.Values.Or("cuff-height", 0), Ratio: r.Values.Or("ratio", 1),
			Drop: r.Values.Or("drop", 0), Back: r.Values.Or("back", 0), HeadRatio: r.Values.Or("head-ratio", 0),
			From: r.Values.Or("from", 0), To: r.Values.Or("to", 1), Placket: r.Values.Or("placket", 0), Lap: r.Values.Or("lap", 0),
			Slashes: int(r.Values.Or("slashes", 1)),
		})
		return tellGirth(r, a, err, "cuff", wearer.WristGirth, "wrist", hem(r), cuff)
	},
}
