// Package skirt is the house plugin for the length and fullness of skirts.
package skirt

import (
	"context"
	"fmt"

	"bygone.example/core/alter"
	"bygone.example/core/pattern"
	"bygone.example/core/wearer"
	"bygone.example/sdk"
)

// Plugin sets how long and how full a skirt is, and where its fullness lies.
var Plugin = &sdk.Plugin{
	Name:    "skirt",
	Purpose: "Sets how long and full a skirt is, and cuts it in circles, gores, godets, yokes and layers.",
	Operations: []*sdk.Operation{
		lengthen, hem, gatherBack, moveFlare, circle, gores, godet, changeGodet, removeGodet, yoke, over, peplum,
	},
}

var needs = []sdk.Need{{Piece: pattern.SkirtFront}, {Piece: pattern.SkirtBack}}

var slashes = sdk.Parameter{
	Name: "slashes", Kind: sdk.Count, Default: "5", Min: 1, Max: 50,
	Meaning: "In how many slashes each piece is spread; more make a smoother hem.", Mark: sdk.CommonPractice,
}

var lengthen = &sdk.Operation{
	Spec: sdk.Spec{
		Name:     "lengthen",
		Purpose:  "Lengthens the skirt at the hem, or shortens it, every seam by the same length.",
		Needs:    needs,
		Measures: []sdk.Measure{wearer.WaistHeight},
		Parameters: []sdk.Parameter{
			{
				Name: "by", Kind: sdk.Length, Min: -2000, Max: 3000,
				Meaning: "By how much; negative shortens.", DefaultNote: "from the wearer's waist height, the skirt's length at the side, and off-floor",
			},
			{
				Name: "off-floor", Kind: sdk.Length, Default: "30mm", Min: 0, Max: 1500,
				Meaning: "How far the hem is to hang off the floor, if by is not set.", Mark: sdk.FromMemory,
			},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		by, set := r.Values.Number("by")
		off := r.Values.Or("off-floor", 0)
		long := 0.0
		if !set {
			height, taken := r.Wearer.Of(wearer.WaistHeight)
			if !taken {
				return nil, sdk.Refuse("it is not said how long the skirt is to be", "set by, or name a file of the wearer's measures that has waist-height with --wearer FILE")
			}
			var err error
			if long, err = sideLength(r.Pattern); err != nil {
				return nil, err
			}
			by = height - off - long
		}
		a, err := alter.LengthenSkirt(r.Pattern, by)
		if err != nil {
			return nil, err
		}
		if !set {
			a.Changes = append(a.Changes, sdk.Change{
				What: fmt.Sprintf("by, from the wearer's waist height of %.1f cm less %.1f cm off the floor and the side's %.1f cm", (by+off+long)/10, off/10, long/10), After: by, Unit: "mm",
			})
		}
		if !set && off < trips {
			a.Cautions = append(a.Cautions, "A hem this near the floor catches under the foot: lift it on stairs, keep off escalators, and rehearse in it.")
		}
		return a, nil
	},
}

// trips is how far off the floor in mm a hem must hang not to be trodden on:
// common practice among costume makers.
const trips = 50

// sideLength is the length of the skirt's side seam.
func sideLength(p *pattern.Pattern) (float64, error) {
	for _, piece := range p.ByRole(pattern.SkirtFront) {
		if sides := piece.EdgesByRole(pattern.Side); len(sides) == 1 {
			return piece.SewnLength(sides[0].Name), nil
		}
	}
	return 0, sdk.Refuse(fmt.Sprintf("no piece with the role %s has one side edge to measure", pattern.SkirtFront), "set by")
}

var hem = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "hem",
		Purpose: "Spreads or laps the skirt, hinged at the waist, until the hem measures what is asked.",
		Needs:   needs,
		Parameters: []sdk.Parameter{
			{
				Name: "circumference", Kind: sdk.Length, Default: "2083mm", Min: 500, Max: 15000,
				Meaning: "How far it is round the hem.",
				Mark:    sdk.Published, Source: "Manchester Art Gallery 1947.1735 (1805–10): hem 208.3 cm",
			},
			slashes,
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		around := r.Values.Or("circumference", 0)
		a, err := alter.SetHem(r.Pattern, alter.HemSweep{Circumference: around, Slashes: int(r.Values.Or("slashes", 1))})
		if err != nil {
			return nil, err
		}
		if around < hobbles {
			a.Cautions = append(a.Cautions, "A hem this narrow shortens the stride: try stairs and getting up in the mock-up.")
		}
		if around > sweeps {
			a.Cautions = append(a.Cautions, "A hem this wide reaches further than its wearer looks: keep it from flames, heaters and machinery, and ask the venue about its rules.")
		}
		return a, nil
	},
}

// hobbles and sweeps bound the hems in mm that call for no caution: a walking
// stride needs about 1.4 m (from memory), and past 3 m a skirt stands clear of
// the legs (from memory).
const (
	hobbles = 1400
	sweeps  = 3000
)

var gatherBack = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "gather-back",
		Purpose: "Widens the back at its centre from waist to hem and gathers the width at the waist.",
		Needs:   needs,
		Parameters: []sdk.Parameter{
			{
				Name: "zone", Kind: sdk.Length, Default: "152mm", Min: 10, Max: 1500,
				Meaning: "How wide the gathers are once drawn up, over the whole back.",
				Mark:    sdk.Published, Source: "Connecticut Museum of Culture and History 1963.42.3 (c. 1800–10): gathers 15.2 cm wide at the centre back only",
			},
			{
				Name: "ratio", Kind: sdk.Ratio, Default: "2.5", Min: 1, Max: 8,
				Meaning: "Cut width over drawn-up width of the gathers.", Mark: sdk.CommonPractice,
			},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		a, err := alter.GatherBack(r.Pattern, alter.BackFullness{Zone: r.Values.Or("zone", 0), Ratio: r.Values.Or("ratio", 1)})
		if err != nil {
			return nil, err
		}
		a.Cautions = append(a.Cautions, "Thin cloth that hangs full burns fast: keep it from open flames and heaters, and ask the venue and its fire officer about their rules.")
		return a, nil
	},
}

var moveFlare = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "move-flare",
		Purpose: "Moves hem width from the front pieces to the back ones; the total stays.",
		Needs:   needs,
		Parameters: []sdk.Parameter{
			{
				Name: "amount", Kind: sdk.Length, Default: "100mm", Min: -5000, Max: 5000,
				Meaning: "How much of the hem moves, round the whole garment; negative moves it forward.", Mark: sdk.FromMemory,
			},
			slashes,
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.MoveFlareBack(r.Pattern, alter.MoveFlare{Amount: r.Values.Or("amount", 0), Slashes: int(r.Values.Or("slashes", 1))})
	},
}
