// Package borrow is the house plugin that takes parts of a garment from another
// pattern.
package borrow

import (
	"context"

	"bygone.example/core/alter"
	"bygone.example/core/pattern"
	"bygone.example/sdk"
)

// Plugin borrows a sleeve, a skirt, a collar or a single piece.
var Plugin = &sdk.Plugin{
	Name:       "borrow",
	Purpose:    "Takes a sleeve, a skirt, a collar or another piece from a second pattern and fits it to this one.",
	Operations: []*sdk.Operation{piece},
}

// parts are what can be asked for by name, and the roles of their pieces.
var parts = map[string][]sdk.Role{
	"sleeve": {pattern.Sleeve},
	"skirt":  {pattern.SkirtFront, pattern.SkirtBack},
	"collar": {pattern.Collar},
}

var piece = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "piece",
		Purpose: "Takes a part with what hangs on it from another pattern, in the place of the one here, and fits it to what it joins.",
		Parameters: []sdk.Parameter{
			{Name: "from", Kind: sdk.OtherPattern, Default: sdk.Only, Meaning: "Which of the chain's patterns to take it from."},
			{Name: "part", Kind: sdk.Choice, Default: "sleeve", Choices: []string{"sleeve", "skirt", "collar"}, Meaning: "What to take."},
			{Name: "piece", Kind: sdk.Name, DefaultNote: "the part's", Meaning: "One piece of that pattern to take, with what hangs on it, in the place of a part."},
			{
				Name: "ease", Kind: sdk.Length, Min: 0, Max: 100, DefaultNote: "as much as in its own pattern",
				Meaning: "By how much a sleeve's head that is not gathered is longer than the armscye.",
			},
			{
				Name: "waist", Kind: sdk.Choice, Default: "own", Choices: []string{"own", "gathers", "sides"},
				Meaning: "How a skirt's waist comes to the bodice's: by gathers, at the sides, or whichever suits it.",
			},
			{
				Name: "most-at-side", Kind: sdk.Length, Default: "30mm", Min: 0, Max: 100, Mark: sdk.FromMemory,
				Meaning: "The most that one side edge of a skirt's piece is taken in or let out at the waist.",
			},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.Borrow(r.Pattern, alter.Borrowing{
			Lender: r.Other("from"), Roles: parts[r.Values.Text("part")], Piece: r.Values.Text("piece"),
			Ease: r.Values.Or("ease", -1), Waist: alter.WaistFit(r.Values.Text("waist")), MostAtSide: r.Values.Or("most-at-side", 0),
		})
	},
}
