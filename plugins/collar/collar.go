// Package collar is the house plugin for collars drafted to the neckline that
// they are sewn to.
package collar

import (
	"context"

	"bygone.example/core/alter"
	"bygone.example/core/pattern"
	"bygone.example/sdk"
)

// Plugin drafts stand collars and flat ones.
var Plugin = &sdk.Plugin{
	Name:       "collar",
	Purpose:    "Drafts collars to the neckline that they are sewn to.",
	Operations: []*sdk.Operation{stand, flat},
}

var needs = []sdk.Need{{Piece: pattern.BodiceFront, Edge: pattern.Neckline}, {Piece: pattern.BodiceBack, Edge: pattern.Neckline}}

// What becomes of a facing that the neckline has.
const (
	off    = "take-off"
	basted = "baste"
)

// Which ends of a stand collar have a lap.
const (
	lapBoth = "both"
	lapOne  = "one"
)

func facing(usual, because string) sdk.Parameter {
	return sdk.Parameter{
		Name: "facing", Kind: sdk.Choice, Default: usual, Choices: []string{off, basted},
		Meaning: "What becomes of a facing that the neckline has: taken off, or basted on and sewn in with the collar; " + because + ".",
	}
}

var stand = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "stand",
		Purpose: "Drafts a stand collar of one height, with a spring towards the centre front, and sews it to the neckline.",
		Makes:   []sdk.Need{{Piece: pattern.Collar, Edge: pattern.Neckline}},
		Needs:   needs,
		Parameters: []sdk.Parameter{
			{
				Name: "height", Kind: sdk.Length, Default: "29mm", Min: 5, Max: 150,
				Meaning: "How high the finished collar is.",
				Mark:    sdk.Published, Source: "Connecticut Museum of Culture and History 1976.18.12 (c. 1881): collar stand 2.9 cm",
			},
			{
				Name: "spring", Kind: sdk.Length, Default: "12mm", Min: -100, Max: 150,
				Meaning: "How far the neck edge rises to the centre front; more lies closer to the neck, less than nothing stands away.", Mark: sdk.FromMemory,
			},
			{
				Name: "lap", Kind: sdk.Length, Default: "0mm", Min: 0, Max: 100,
				Meaning: "How far an end of the collar stands beyond the opening, for a button.", Mark: sdk.FromMemory,
			},
			{
				Name: "lap-at", Kind: sdk.Choice, Default: lapBoth, Choices: []string{lapBoth, lapOne},
				Meaning: "Whether both ends have the lap or one; one alone wants the pattern drawn out whole.",
			},
			facing(off, "the collar's inner layer covers the seam by itself"),
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.StandCollar(r.Pattern, alter.Stand{
			Height: r.Values.Or("height", 0), Spring: r.Values.Or("spring", 0), KeepFacing: r.Values.Text("facing") == basted,
			Lap: r.Values.Or("lap", 0), LapOne: r.Values.Text("lap-at") == lapOne,
		})
	},
}

var flat = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "flat",
		Purpose: "Drafts a flat collar from front and back laid together, the shoulders overlapped for the roll, and sews it to the neckline.",
		Makes:   []sdk.Need{{Piece: pattern.Collar, Edge: pattern.Neckline}},
		Needs:   needs,
		Parameters: []sdk.Parameter{
			{
				Name: "width", Kind: sdk.Length, Default: "70mm", Min: 5, Max: 400,
				Meaning: "How wide the finished collar is, from the neck edge to its outer edge.", Mark: sdk.FromMemory,
			},
			{
				Name: "overlap", Kind: sdk.Ratio, Default: "0.25", Min: 0, Max: 0.6,
				Meaning: "By what share of its length the shoulder seam is overlapped at the arm; 0 lies flat, more makes the collar stand before it rolls.",
				Mark:    sdk.CommonPractice,
			},
			facing(basted, "it covers the seam on the inside"),
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.FlatCollar(r.Pattern, alter.Flat{
			Width: r.Values.Or("width", 0), Overlap: r.Values.Or("overlap", 0), KeepFacing: r.Values.Text("facing") == basted,
		})
	},
}
