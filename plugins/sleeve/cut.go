package sleeve

import (
	"context"
	"slices"

	"bygone.example/core/alter"
	"bygone.example/core/pattern"
	"bygone.example/core/wearer"
	"bygone.example/sdk"
)

var bend = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "bend",
		Purpose: "Bends a sleeve that is cut in one forward at the elbow, with a dart at the back.",
		Needs:   needs,
		Parameters: []sdk.Parameter{
			{Name: "angle", Kind: sdk.Angle, Default: "8deg", Min: 1, Max: 25, Meaning: "By how much the lower arm is turned forward.", Mark: sdk.FromMemory},
			{Name: "reach", Kind: sdk.Ratio, Min: 0.2, Max: 0.9, Meaning: "How far the dart goes across the sleeve.", DefaultNote: "0.6, or as much further as the angle needs (from memory)"},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		reach, set := r.Values.Number("reach")
		if set {
			return alter.BendSleeve(r.Pattern, alter.ElbowBend{Angle: r.Values.Or("angle", 0), Reach: reach})
		}
		var refused error
		for n := range 7 {
			reach = 0.6 + 0.05*float64(n)
			a, err := alter.BendSleeve(r.Pattern, alter.ElbowBend{Angle: r.Values.Or("angle", 0), Reach: reach})
			if err == nil {
				a.Changes = append(a.Changes, sdk.Change{What: "reach, found for the angle", After: reach})
				return a, nil
			}
			refused = err
		}
		return nil, refused
	},
}

var divide = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "divide",
		Purpose: "Makes a sleeve in two pieces of one: an upper and an under sleeve, bent at the elbow.",
		Makes:   []sdk.Need{{Piece: pattern.SleeveTop, Edge: pattern.Hem}, {Piece: pattern.SleeveUnder, Edge: pattern.Hem}},
		Needs:   needs,
		Parameters: []sdk.Parameter{
			{Name: "front", Kind: sdk.Ratio, Default: "0.15", Min: 0.05, Max: 0.4, Meaning: "How much of the sleeve's width goes to the under sleeve at the front.", Mark: sdk.FromMemory},
			{Name: "back", Kind: sdk.Ratio, Default: "0.25", Min: 0.05, Max: 0.4, Meaning: "How much of it goes there at the back.", Mark: sdk.FromMemory},
			{
				Name: "angle", Kind: sdk.Angle, Default: "12deg", Min: 0, Max: 28,
				Meaning: "By how much the upper sleeve is bent at the elbow; one with an elbow dart keeps its own bend.", Mark: sdk.FromMemory,
			},
			{
				Name: "ease", Kind: sdk.Length, Default: "6mm", Min: 0, Max: 40,
				Meaning: "How much longer the upper sleeve is at the elbow; that it was eased there is told of a dress of about 1888 (Connecticut Museum of Culture and History 1956.21.2).", Mark: sdk.FromMemory,
			},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.DivideSleeve(r.Pattern, alter.TwoPiece{
			Front: r.Values.Or("front", 0), Back: r.Values.Or("back", 0), Bend: r.Values.Or("angle", 0), Ease: r.Values.Or("ease", 0),
		})
	},
}

var undersleeve = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "undersleeve",
		Purpose: "Makes an undersleeve of the plain sleeve, to wear under one that is wide; do it before widening.",
		Makes:   []sdk.Need{{Piece: pattern.Undersleeve, Edge: pattern.Hem}},
		Needs:   needs,
		Parameters: []sdk.Parameter{
			{
				Name: "from", Kind: sdk.Choice, Default: string(alter.FromLevel), Choices: []string{string(alter.FromLevel), string(alter.FromArmscye)},
				Meaning: "Whether it hangs from a level inside the sleeve or is basted to the armscye.",
			},
			{Name: "level", Kind: sdk.Ratio, Default: "0.7", Min: 0.05, Max: 1, Meaning: "How far down from the head to the elbow it begins, if it hangs from a level.", Mark: sdk.FromMemory},
			{Name: "shorter", Kind: sdk.Length, Default: "20mm", Min: 0, Max: 500, Meaning: "By how much it ends above the sleeve's hem.", Mark: sdk.FromMemory},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.AddUndersleeve(r.Pattern, alter.Undersleeve{
			Attach: alter.UndersleeveTop(r.Values.Text("from")), Level: r.Values.Or("level", 0), Shorter: r.Values.Or("shorter", 0),
		})
	},
}

var cuff = &sdk.Operation{
	Spec: sdk.Spec{
		Name:     "cuff",
		Purpose:  "Ends the sleeve in a cuff, straight or turned back.",
		Makes:    []sdk.Need{{Piece: pattern.SleeveCuff}},
		Needs:    needs,
		Measures: []sdk.Measure{wearer.WristGirth},
		Parameters: slices.Concat([]sdk.Parameter{
			{
				Name: "kind", Kind: sdk.Choice, Default: string(alter.StraightCuff), Choices: []string{string(alter.StraightCuff), string(alter.TurnedBackCuff)},
				Meaning: "The kind of cuff.",
			},
			{
				Name: "height", Kind: sdk.Length, Min: 5, Max: 400, DefaultNote: "44 mm straight (Connecticut Museum of Culture and History 1988.52.2), 127 mm turned back (1963.11.9)",
				Meaning: "How high the finished cuff is.",
			},
			{
				Name: "cuff", Kind: sdk.Length, Min: 100, Max: 800, DefaultNote: "the wearer's wrist and cuff-ease, no longer than the hem; or the hem",
				Meaning: "How long a straight cuff is round the wrist, without its lap.",
			},
			{Name: "cuff-ease", Kind: sdk.Length, Default: "30mm", Min: 0, Max: 200, Meaning: "How much longer than the wrist it is, if cuff is not set.", Mark: sdk.CommonPractice},
			{Name: "flare", Kind: sdk.Length, Default: "12mm", Min: 0, Max: 300, Meaning: "How much longer than the hem the free edge of a turned-back cuff is.", Mark: sdk.FromMemory},
		}, placket),
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		o := alter.Cuff{
			Kind: alter.CuffKind(r.Values.Text("kind")), Height: r.Values.Or("height", 44), Girth: girth(r, "cuff", wearer.WristGirth, 0),
			Flare: r.Values.Or("flare", 0), Placket: r.Values.Or("placket", 0), Lap: r.Values.Or("lap", 0),
		}
		if _, set := r.Values.Number("height"); !set && o.Kind == alter.TurnedBackCuff {
			o.Height = 127
		}
		if _, set := r.Values.Number("cuff"); !set {
			o.Girth = min(o.Girth, hem(r))
		}
		a, err := alter.AddCuff(r.Pattern, o)
		if o.Kind == alter.TurnedBackCuff {
			return a, err
		}
		return tellGirth(r, a, err, "cuff", wearer.WristGirth, "wrist", hem(r), o.Girth)
	},
}
