// Package seam is the house plugin that moves and bends seam lines.
package seam

import (
	"context"
	"fmt"

	"bygone.example/core/alter"
	"bygone.example/core/pattern"
	"bygone.example/sdk"
)

// Plugin moves seam lines, with what they are sewn to kept in step.
var Plugin = &sdk.Plugin{
	Name:       "seam",
	Purpose:    "Moves and bends seams, panels, armscye and neckline; what they are sewn to follows.",
	Operations: []*sdk.Operation{move, panel, curve, armscye, crossBack, neckline},
}

var move = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "move",
		Purpose: "Moves a seam by a distance at either end, or bows it: the strip goes from one piece to the other.",
		Parameters: []sdk.Parameter{
			{Name: "seam", Kind: sdk.Name, Meaning: "The seam to move.", DefaultNote: "the first one that joins two side edges without darts"},
			{Name: "into", Kind: sdk.Name, Meaning: "The piece that it moves into, and that loses the strip.", DefaultNote: "the piece on the seam's second side"},
			{
				Name: "at-start", Kind: sdk.Length, Default: "10mm", Min: -500, Max: 500,
				Meaning: "How far it moves at the start of the seam's walk; negative moves it the other way.", Mark: sdk.FromMemory,
			},
			{
				Name: "at-end", Kind: sdk.Length, Default: "10mm", Min: -500, Max: 500,
				Meaning: "How far it moves at the end of the seam's walk.", Mark: sdk.FromMemory,
			},
			{
				Name: "bow", Kind: sdk.Length, Default: "0mm", Min: -200, Max: 200,
				Meaning: "How much further it moves in the middle.", Mark: sdk.CommonPractice,
			},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		name := r.Values.Text("seam")
		if name == "" {
			if name = sideSeam(r.Pattern); name == "" {
				return nil, sdk.Refuse("no seam joins two side edges without darts or fullness", "say which seam to move")
			}
		}
		return alter.MoveSeam(r.Pattern, alter.SeamMove{
			Seam: name, Into: r.Values.Text("into"),
			AtStart: r.Values.Or("at-start", 0), AtEnd: r.Values.Or("at-end", 0), Bow: r.Values.Or("bow", 0),
		})
	},
}

// sideSeam returns the first seam of one plain side edge to another.
func sideSeam(p *pattern.Pattern) string {
	for _, s := range p.Seams {
		if len(s.A) != 1 || len(s.B) != 1 {
			continue
		}
		a, b := p.Edge(s.A[0]), p.Edge(s.B[0])
		if a != nil && b != nil && a.Is() == pattern.Side && b.Is() == pattern.Side && plain(p, s.A[0]) && plain(p, s.B[0]) {
			return s.Name
		}
	}
	return ""
}

// plain reports whether the edge has nothing in it that shortens it.
func plain(p *pattern.Pattern, r pattern.EdgeRef) bool {
	piece := p.Piece(r.Piece)
	for _, d := range piece.Darts {
		if d.Edge == r.Edge {
			return false
		}
	}
	for _, d := range piece.Pleats {
		if d.Edge == r.Edge {
			return false
		}
	}
	for _, d := range piece.Gathers {
		if d.Edge == r.Edge {
			return false
		}
	}
	return true
}

var panel = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "panel",
		Purpose: "Widens or narrows a panel at a seam, the neighbour taking up the rest: a side-back seam, a diamond back.",
		Parameters: []sdk.Parameter{
			{Name: "piece", Kind: sdk.Name, Meaning: "The panel.", DefaultNote: "the bodice back"},
			{Name: "seam", Kind: sdk.Name, Meaning: "Its seam that moves.", DefaultNote: "the one to the side back"},
			{
				Name: "lower", Kind: sdk.Length, Default: "-15mm", Min: -400, Max: 400,
				Meaning: "How much wider it gets at the waist or hem; negative narrows it.", Mark: sdk.FromMemory,
			},
			{
				Name: "upper", Kind: sdk.Length, Default: "-10mm", Min: -400, Max: 400,
				Meaning: "How much wider it gets at the seam's upper end.", Mark: sdk.FromMemory,
			},
			{
				Name: "middle", Kind: sdk.Length, Default: "0mm", Min: -200, Max: 200,
				Meaning: "How much wider again in the middle.", Mark: sdk.CommonPractice,
			},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		name, err := pieceOr(r, pattern.BodiceBack)
		if err != nil {
			return nil, err
		}
		return alter.WidenPanel(r.Pattern, alter.PanelWidth{
			Piece: name, Seam: r.Values.Text("seam"),
			Lower: r.Values.Or("lower", 0), Upper: r.Values.Or("upper", 0), Middle: r.Values.Or("middle", 0),
		})
	},
}

// pieceOr returns the parameter piece, or the only piece of a role.
func pieceOr(r *sdk.Request, role pattern.Role) (string, error) {
	if name := r.Values.Text("piece"); name != "" {
		return name, nil
	}
	found := r.Pattern.ByRole(role)
	if len(found) != 1 {
		return "", sdk.Refuse(fmt.Sprintf("the pattern has %d pieces with the role %s", len(found), role), "name the piece")
	}
	return found[0].Name, nil
}

var curve = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "curve",
		Purpose: "Rounds, hollows or straightens an edge and its mate across the seam together.",
		Parameters: []sdk.Parameter{
			{Name: "piece", Kind: sdk.Name, Meaning: "The piece.", DefaultNote: "the skirt front"},
			{Name: "edge", Kind: sdk.Name, Default: pattern.Side, Meaning: "Its edge."},
			{
				Name: "out", Kind: sdk.Length, Default: "6mm", Min: -200, Max: 200,
				Meaning: "How far the edge goes out of the piece; negative hollows it.", Mark: sdk.FromMemory,
			},
			{
				Name: "at", Kind: sdk.Ratio, Default: "0.5", Min: 0.1, Max: 0.9,
				Meaning: "Where it goes furthest, as a share of the edge's length.", Mark: sdk.CommonPractice,
			},
			{Name: "straight", Kind: sdk.Switch, Default: "no", Meaning: "Whether the edge is drawn straight first."},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		name, err := pieceOr(r, pattern.SkirtFront)
		if err != nil {
			return nil, err
		}
		return alter.CurveEdge(r.Pattern, alter.Curving{
			Piece: name, Edge: r.Values.Text("edge"), Out: r.Values.Or("out", 0), At: r.Values.Or("at", 0), Straight: r.Values.On("straight"),
		})
	},
}
