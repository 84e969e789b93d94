// Package sleeve is the house plugin that shortens, puffs and refits sleeves.
package sleeve

import (
	"context"
	"fmt"
	"math"

	"bygone.example/core/alter"
	"bygone.example/core/pattern"
	"bygone.example/sdk"
)

// Plugin makes other sleeves of a plain set-in one.
var Plugin = &sdk.Plugin{
	Name:       "sleeve",
	Purpose:    "Shortens, puffs, bends and divides a sleeve, cuts it as gigot, bishop or pagoda, and fits its head to the armscye.",
	Operations: []*sdk.Operation{shorten, puff, refit, ease, head, gigot, bishop, pagoda, bend, divide, undersleeve, cuff},
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

// hem is the length of the sleeve's hem on the paper, mm; 0 of a pattern that
// has not one sleeve with one hem.
func hem(r *sdk.Request) float64 {
	sleeves := r.Pattern.ByRole(pattern.Sleeve)
	if len(sleeves) != 1 {
		return 0
	}
	hems := sleeves[0].EdgesByRole(pattern.Hem)
	if len(hems) != 1 {
		return 0
	}
	return hems[0].Path.Length()
}

// girth is the length asked for, or the wearer's measure and its ease, or, where
// neither is known, otherwise.
func girth(r *sdk.Request, name string, m sdk.Measure, otherwise float64) float64 {
	if set, ok := r.Values.Number(name); ok {
		return set
	}
	if arm, taken := r.Wearer.Of(m); taken {
		return arm + r.Values.Or(name+"-ease", 0)
	}
	return otherwise
}

// tellGirth adds to an answer what was found for a length round the arm from the
// wearer's measure; nothing where it was set, or not found like that.
func tellGirth(r *sdk.Request, a *sdk.Answer, err error, name string, m sdk.Measure, measured string, before, used float64) (*sdk.Answer, error) {
	arm, taken := r.Wearer.Of(m)
	if _, set := r.Values.Number(name); err != nil || set || !taken {
		return a, err
	}
	ease := r.Values.Or(name+"-ease", 0)
	if math.Abs(arm+ease-used) > tellWithin {
		return a, nil
	}
	a.Changes = append(a.Changes, sdk.Change{
		What: fmt.Sprintf("%s, from the wearer's %s of %.1f cm and %.1f cm", name, measured, arm/10, ease/10), Before: before, After: used, Unit: "mm",
	})
	return a, nil
}

// tellWithin in mm is what rounding leaves between two ways to one length.
const tellWithin = 1e-6

// gathered are the parameters for the stretch of the head that gathers lie on.
func gathered(from, to string) []sdk.Parameter {
	return []sdk.Parameter{
		{
			Name: "from", Kind: sdk.Ratio, Default: from, Min: 0, Max: 0.95,
			Meaning: "Where the gathers begin on the head, as a share of it from the front.", Mark: sdk.FromMemory,
		},
		{
			Name: "to", Kind: sdk.Ratio, Default: to, Min: 0.05, Max: 1,
			Meaning: "Where the gathers end on the head.", Mark: sdk.FromMemory,
		},
	}
}
