// Package layer is the house plugin that lays one layer of cloth over another.
package layer

import (
	"context"

	"bygone.example/core/alter"
	"bygone.example/core/pattern"
	"bygone.example/sdk"
)

// Plugin lays an outer layer of its own fullness over a fitted one.
var Plugin = &sdk.Plugin{
	Name:       "layer",
	Purpose:    "Lays an outer layer of its own fullness over fitted pieces, basted to them at named edges.",
	Operations: []*sdk.Operation{over},
}

// parts are what can be asked for by name, and the roles of their pieces.
var parts = map[string][]sdk.Role{
	"skirt":  {pattern.SkirtFront, pattern.SkirtBack},
	"bodice": {pattern.BodiceFront, pattern.BodiceBack, pattern.BodiceSideBack, pattern.BodiceSideFront},
	"sleeve": {pattern.Sleeve},
}

var over = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "over",
		Purpose: "Adds an outer layer that is slashed along the grain, spread, and gathered back to the pieces under it.",
		Parameters: []sdk.Parameter{
			{Name: "part", Kind: sdk.Choice, Default: "skirt", Choices: []string{"skirt", "bodice", "sleeve"}, Meaning: "What the layer lies over."},
			{Name: "piece", Kind: sdk.Name, DefaultNote: "the part's", Meaning: "One piece that it lies over, in the place of a part."},
			{
				Name: "at", Kind: sdk.Name, DefaultNote: "of a skirt the waist, of anything else every edge that is sewn, faced or bound",
				Meaning: "The edges at which the layer is basted to what is under it, by role or name.",
			},
			{Name: "also", Kind: sdk.Name, DefaultNote: "none", Meaning: "More edges at which it is basted."},
			{
				Name: "fullness", Kind: sdk.Ratio, Default: "1.5", Min: 1, Max: 4, Mark: sdk.CommonPractice,
				Meaning: "Cut width of the layer over what the piece under it measures sewn, at the waist, or at the hem of a piece without one.",
			},
			{Name: "slashes", Kind: sdk.Count, Default: "5", Min: 1, Max: 50, Mark: sdk.CommonPractice, Meaning: "In how many slashes each piece is spread."},
			{Name: "from", Kind: sdk.OtherPattern, DefaultNote: "none: the layer is a copy of what is under it", Meaning: "The chain's pattern that has the piece for the layer."},
			{Name: "outer", Kind: sdk.Name, DefaultNote: "none", Meaning: "The piece of that pattern that becomes the layer."},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		var at []string
		for _, name := range []string{"at", "also"} {
			if edge := r.Values.Text(name); edge != "" {
				at = append(at, edge)
			}
		}
		return alter.LayerOver(r.Pattern, alter.Layering{
			Roles: parts[r.Values.Text("part")], Piece: r.Values.Text("piece"), At: at,
			Ratio: r.Values.Or("fullness", 1), Slashes: int(r.Values.Or("slashes", 1)),
			Lender: r.Other("from"), Outer: r.Values.Text("outer"),
		})
	},
}
