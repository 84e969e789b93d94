package fullness

import (
	"context"
	"fmt"

	"bygone.example/core/alter"
	"bygone.example/core/pattern"
	"bygone.example/sdk"
)

// mostTiers is how many tiers can be given a height each.
const mostTiers = 6

var tiers = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "tiers",
		Purpose: "Cuts a skirt in tiers, each gathered to the one above.",
		Makes:   []sdk.Need{{Piece: pattern.Tier, Edge: pattern.Hem}},
		Needs:   []sdk.Need{{Piece: pattern.SkirtFront}},
		Parameters: append([]sdk.Parameter{
			{
				Name: "count", Kind: sdk.Count, Default: "3", Min: 2, Max: mostTiers,
				Meaning: "How many tiers there are, the top one among them.", Mark: sdk.FromMemory,
			},
			{
				Name: "ratio", Kind: sdk.Ratio, Default: "1.5", Min: 1, Max: 6, Meaning: "How many times as wide each tier is cut as the one above.",
				Mark: sdk.Published, Source: "NIMI, CITS Dress Making, trade theory, 2024, p. 250: each tier 1 1/2 to 2 times the one above",
			},
			{
				Name: "deeper", Kind: sdk.Length, Default: "1/2in", Min: -300, Max: 300, Meaning: "By how much each tier is deeper than the one above, where no height is given.",
				Mark: sdk.Published, Source: "NIMI, CITS Dress Making, trade theory, 2024, p. 250: tiers of 6 1/4, 6 3/4 and 7 1/4 in",
			},
			{Name: "length", Kind: sdk.Length, Min: 50, Max: 3000, Meaning: "How long all tiers are together.", DefaultNote: "as long as the skirt is at its first side seam"},
		}, heights()...),
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		deep, err := tierHeights(r)
		if err != nil {
			return nil, err
		}
		return alter.CutTiers(r.Pattern, alter.Tiers{Heights: deep, Ratio: r.Values.Or("ratio", 1)})
	},
}

func heights() []sdk.Parameter {
	var list []sdk.Parameter
	for k := range mostTiers {
		list = append(list, sdk.Parameter{
			Name: fmt.Sprintf("height-%d", k+1), Kind: sdk.Length, Min: 10, Max: 2000,
			Meaning: fmt.Sprintf("How deep tier %d is, from the waist down.", k+1), DefaultNote: "shared out by length and deeper",
		})
	}
	return list
}

// tierHeights shares the skirt's length out between the tiers that were given no
// height, each deeper than the one before.
func tierHeights(r *sdk.Request) ([]float64, error) {
	n := count(r, "count")
	deep := make([]float64, n)
	rest, open, steps := 0.0, 0, 0.0
	for k := range deep {
		if h, set := r.Values.Number(fmt.Sprintf("height-%d", k+1)); set {
			deep[k] = h
			rest -= h
			continue
		}
		steps += float64(open)
		open++
	}
	if open == 0 {
		return deep, nil
	}
	whole, set := r.Values.Number("length")
	if !set {
		for _, piece := range r.Pattern.ByRole(pattern.SkirtFront) {
			for _, e := range piece.EdgesByRole(pattern.Side) {
				whole = max(whole, e.Path.Length())
			}
		}
		if whole == 0 {
			return nil, sdk.Refuse("the skirt has no side seam to take its length from", "set length")
		}
	}
	deeper := r.Values.Or("deeper", 0)
	first := (whole + rest - steps*deeper) / float64(open)
	if least := belowOpening(r.Pattern); deep[0] == 0 && first < least && open > 1 {
		// The opening stays in the top tier, and the others share what is left.
		deep[0] = least
		open, rest, steps = open-1, rest-least, steps-float64(open-1)
		first = (whole + rest - steps*deeper) / float64(open)
	}
	given := 0
	for k := range deep {
		if deep[k] == 0 {
			deep[k] = first + float64(given)*deeper
			given++
		}
	}
	return deep, nil
}

// clearOfOpening is how far in mm a cut keeps below an opening, for its end to
// be sewn; from memory.
const clearOfOpening = 15

// belowOpening returns how deep a top tier must be to hold the skirt's opening.
func belowOpening(p *sdk.Pattern) float64 {
	longest := 0.0
	for _, piece := range p.Pieces {
		if piece.Role != pattern.SkirtFront && piece.Role != pattern.SkirtBack {
			continue
		}
		for _, e := range piece.Edges {
			if e.Finish == pattern.Open && e.Is() != pattern.Hem {
				longest = max(longest, e.Path.Length()+clearOfOpening)
			}
		}
	}
	return longest
}

var flounce = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "flounce",
		Purpose: "Sews a straight, circular or spiral flounce to the hem of the skirt or of one piece.",
		Makes:   []sdk.Need{{Piece: pattern.Flounce, Edge: pattern.Hem}},
		Parameters: []sdk.Parameter{
			{Name: "piece", Kind: sdk.Name, Meaning: "The one piece whose hem gets the flounce.", DefaultNote: "the whole skirt"},
			{
				Name: "kind", Kind: sdk.Choice, Default: "straight", Choices: []string{"straight", "circular", "spiral"},
				Meaning: "Whether it is a gathered strip, part of a ring, or a coil; the last two are flat at the seam.",
			},
			{
				Name: "depth", Kind: sdk.Length, Default: "15cm", Min: 10, Max: 1500,
				Meaning: "How deep the flounce is, finished.", Mark: sdk.FromMemory,
			},
			{
				Name: "ratio", Kind: sdk.Ratio, Default: "1.5", Min: 1, Max: 8, Meaning: "Cut length over drawn-up length of a straight flounce.",
				Mark: sdk.Published, Source: "Kinne and Cooley, Clothing and Health, 1916: a ruffle half as full again as the skirt",
			},
			{
				Name: "circles", Kind: sdk.Ratio, Default: "1", Min: 0.05, Max: 20,
				Meaning: "How many full circles of cloth a circular flounce has, round the whole garment.", Mark: sdk.FromMemory,
			},
			{
				Name: "radius", Kind: sdk.Length, Default: "6cm", Min: 20, Max: 2000,
				Meaning: "The radius of a spiral flounce's tightest curve at the seam: the tighter, the fuller it falls.", Mark: sdk.FromMemory,
			},
			{
				Name: "between", Kind: sdk.Length, Default: "3cm", Min: 0, Max: 200,
				Meaning: "What a spiral leaves from turn to turn for the allowances at seam and hem.", Mark: sdk.FromMemory,
			},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.AddFlounce(r.Pattern, alter.Flounce{
			Piece: r.Values.Text("piece"), Kind: alter.FlounceKind(r.Values.Text("kind")), Depth: r.Values.Or("depth", 0), Ratio: r.Values.Or("ratio", 1),
			Circles: r.Values.Or("circles", 1), Radius: r.Values.Or("radius", 0), Between: r.Values.Or("between", 0),
		})
	},
}
