// Package truing is the house plugin that mends: small faults of a pattern are
// put right by moving lines by no more than a few millimetres.
package truing

import (
	"context"
	"fmt"

	"bygone.example/core/alter"
	"bygone.example/core/pattern"
	"bygone.example/sdk"
)

// Plugin trues what does not quite go together.
var Plugin = &sdk.Plugin{
	Name:       "true",
	Purpose:    "Mends small faults of a pattern, and never moves a line by more than it is allowed.",
	Operations: []*sdk.Operation{length, corner, dart, notches, gathers, fold, outline, grain},
}

// bound is how far a line may move.
var bound = sdk.Parameter{
	Name: "bound", Kind: sdk.Length, Default: "3mm", Min: 0, Max: 50,
	Meaning: "How far a line may move at most; what would take more is refused.", Mark: sdk.CommonPractice,
}

var length = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "length",
		Purpose: "Shares out what the two sides of a seam differ by, so that they are sewn to each other without a step.",
		Parameters: []sdk.Parameter{
			{Name: "seam", Kind: sdk.Name, Meaning: "The seam, by its name in the pattern.", DefaultNote: "the seam whose sides are furthest from agreeing"},
			{
				Name: "way", Kind: sdk.Choice, Default: string(alter.ShareAuto),
				Choices: []string{string(alter.ShareAuto), string(alter.ShareEnd), string(alter.ShareStart), string(alter.ShareBend)},
				Meaning: "Whether the corners at the seam's end or start move, or curves are bent; auto takes the first that can be done.",
			},
			{
				Name: "share", Kind: sdk.Ratio, Default: "0.5", Min: 0, Max: 1,
				Meaning: "How much of the difference the seam's first side takes up; the other takes the rest.", Mark: sdk.CommonPractice,
			},
			bound,
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.ShareLength(r.Pattern, alter.Sharing{
			Seam: r.Values.Text("seam"), Way: alter.ShareWay(r.Values.Text("way")), A: r.Values.Or("share", 0.5), Bound: r.Values.Or("bound", 0),
		})
	},
}

var corner = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "corner",
		Purpose: "Trues a line that kinks where it runs on across a seam or a fold.",
		Parameters: []sdk.Parameter{
			{Name: "seam", Kind: sdk.Name, Meaning: "The seam that the line runs on across.", DefaultNote: "none: it is a fold, or the corner that is furthest from true"},
			{Name: "piece", Kind: sdk.Name, Meaning: "A piece of the line's.", DefaultNote: "that of the corner that is furthest from true"},
			{Name: "edge", Kind: sdk.Name, Meaning: "The line on that piece.", DefaultNote: "the line that is furthest from true"},
			{
				Name: "gives", Kind: sdk.Choice, Default: string(alter.GivesAuto),
				Choices: []string{string(alter.GivesAuto), string(alter.GivesBoth), string(alter.GivesFirst), string(alter.GivesSecond)},
				Meaning: "Whether the lines on both pieces give way by half, or that on the seam's first side by all, or that on its second; auto takes the first of these that can be done.",
			},
			bound,
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.TrueCorner(r.Pattern, alter.Cornering{
			Seam: r.Values.Text("seam"), Piece: r.Values.Text("piece"), Edge: r.Values.Text("edge"),
			Gives: alter.Giving(r.Values.Text("gives")), Bound: r.Values.Or("bound", 0),
		})
	},
}

var dart = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "dart",
		Purpose: "Makes the legs of a dart equal, and lets its edge run on in one sweep when it is folded shut.",
		Parameters: []sdk.Parameter{
			{Name: "piece", Kind: sdk.Name, Meaning: "The piece the dart is on.", DefaultNote: "the piece whose dart has the most unequal legs"},
			{Name: "dart", Kind: sdk.Name, Meaning: "The dart, by its name in the pattern.", DefaultNote: "the dart with the most unequal legs"},
			bound,
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		piece, dart := r.Values.Text("piece"), r.Values.Text("dart")
		worst := -1.0
		for i := range r.Pattern.Pieces {
			p := &r.Pattern.Pieces[i]
			for _, d := range p.Darts {
				if r.Values.Text("piece") != "" && p.Name != r.Values.Text("piece") || r.Values.Text("dart") != "" && d.Name != r.Values.Text("dart") {
					continue
				}
				if off := unequal(p, d); off > worst {
					piece, dart, worst = p.Name, d.Name, off
				}
			}
		}
		if worst < 0 {
			return nil, sdk.Refuse(fmt.Sprintf("the pattern has no such dart%s", of(piece, dart)), "name a dart there is")
		}
		return alter.TrueDart(r.Pattern, alter.DartTruing{Piece: piece, Dart: dart, Bound: r.Values.Or("bound", 0)})
	},
}

// unequal is by how much in mm the legs of a dart differ.
func unequal(p *pattern.Piece, d pattern.Dart) float64 {
	e := p.Edge(d.Edge)
	if e == nil {
		return 0
	}
	a, b := e.Path.At(d.From).Dist(d.Point), e.Path.At(d.To).Dist(d.Point)
	return max(a-b, b-a)
}

func of(piece, dart string) string {
	s := ""
	if dart != "" {
		s += " as " + dart
	}
	if piece != "" {
		s += " on piece " + piece
	}
	return s
}

var notches = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "notches",
		Purpose: "Makes the notches of a seam agree: gives a lone one its partner, and moves two that do not meet.",
		Parameters: []sdk.Parameter{
			{Name: "seam", Kind: sdk.Name, Meaning: "The seam, by its name in the pattern.", DefaultNote: "every seam"},
			{
				Name: "longer-than", Kind: sdk.Length, Default: "150mm", Min: 20, Max: 5000,
				Meaning: "How long a seam without notches must be to get some.", Mark: sdk.CommonPractice,
			},
			{
				Name: "clear", Kind: sdk.Length, Default: "20mm", Min: 0, Max: 200,
				Meaning: "How far a new pair of notches stays from ends and from other marks.", Mark: sdk.CommonPractice,
			},
			bound,
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.TrueNotches(r.Pattern, alter.NotchTruing{
			Seam: r.Values.Text("seam"), LongerThan: r.Values.Or("longer-than", 0), Clear: r.Values.Or("clear", 0), Bound: r.Values.Or("bound", 0),
		})
	},
}

var gathers = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "gathers",
		Purpose: "Sets what gathers come down to such that they fit the flat side of their seam.",
		Parameters: []sdk.Parameter{
			{Name: "seam", Kind: sdk.Name, Meaning: "The seam, by its name in the pattern.", DefaultNote: "the gathered seam whose sides are furthest from agreeing"},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.DrawUp(r.Pattern, r.Values.Text("seam"))
	},
}

var anyPiece = sdk.Parameter{Name: "piece", Kind: sdk.Name, Meaning: "The piece.", DefaultNote: "every piece"}

var fold = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "fold",
		Purpose: "Draws a bent fold as one straight line.",
		Parameters: []sdk.Parameter{
			anyPiece,
			{Name: "edge", Kind: sdk.Name, Meaning: "The fold, by its name.", DefaultNote: "every fold"},
			bound,
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.StraightenFold(r.Pattern, alter.FoldTruing{Piece: r.Values.Text("piece"), Edge: r.Values.Text("edge"), Bound: r.Values.Or("bound", 0)})
	},
}

var outline = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "outline",
		Purpose: "Puts an outline in order: lists the edges of a clockwise piece the other way round, and drops points that lie on one another.",
		Parameters: []sdk.Parameter{
			anyPiece,
			{
				Name: "within", Kind: sdk.Length, Default: "0.05mm", Min: 0.001, Max: 2,
				Meaning: "How near two points must lie to be one.", Mark: sdk.CommonPractice,
			},
			bound,
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.TrueOutline(r.Pattern, alter.Outlining{Piece: r.Values.Text("piece"), Within: r.Values.Or("within", 0), Bound: r.Values.Or("bound", 0)})
	},
}

var grain = &sdk.Operation{
	Spec: sdk.Spec{
		Name:       "grain",
		Purpose:    "Puts a grainline that leaves its piece back inside, parallel to where it was.",
		Parameters: []sdk.Parameter{anyPiece},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.GrainInside(r.Pattern, r.Values.Text("piece"))
	},
}
