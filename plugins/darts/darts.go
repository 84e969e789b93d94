// Package darts is the house plugin for darts: where they are, what shape
// they have, and what they become.
package darts

import (
	"context"
	"fmt"

	"bygone.example/core/alter"
	"bygone.example/core/pattern"
	"bygone.example/sdk"
)

// Plugin turns, closes and lets out darts, and adds width to gather.
var Plugin = &sdk.Plugin{
	Name:       "darts",
	Purpose:    "Turns, splits, joins, moves, trues, adds and lets out darts, takes them into seams, and adds fullness.",
	Operations: []*sdk.Operation{rotate, split, join, point, trueLegs, capMouth, fold, release, closeDart, add, princess, yoke, widen},
}

var (
	pieceParameter = sdk.Parameter{
		Name: "piece", Kind: sdk.Name, Meaning: "The piece the dart is on.",
		DefaultNote: "the only piece with a dart of that name",
	}
	dartParameter = sdk.Parameter{
		Name: "dart", Kind: sdk.Name, Meaning: "The dart, by its name in the pattern.",
		DefaultNote: "the only dart of the piece",
	}
	kindParameter = sdk.Parameter{
		Name: "into", Kind: sdk.Choice, Choices: []string{string(pattern.Gathers), string(pattern.Ease)}, Default: string(pattern.Gathers),
		Meaning: "Whether the width shows as gathers or is worked in as ease.",
	}
	spreadParameter = sdk.Parameter{
		Name: "spread", Kind: sdk.Length, Default: "40mm", Min: 0, Max: 1000,
		Meaning: "How far on either side of the dart's mouth the fullness is spread.",
		Mark:    sdk.FromMemory,
	}
)

var rotate = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "rotate",
		Purpose: "Turns a dart about its point, into another dart or to a place on an edge.",
		Parameters: []sdk.Parameter{
			pieceParameter, dartParameter,
			{Name: "into-dart", Kind: sdk.Name, Meaning: "The dart to open instead; the two become one.", DefaultNote: "none: edge and at say where"},
			{Name: "to-edge", Kind: sdk.Name, Meaning: "The edge to open the dart on.", DefaultNote: "the edge that into-dart is on"},
			{
				Name: "at", Kind: sdk.Ratio, Default: "0.5", Min: 0, Max: 1,
				Meaning: "Where on that edge, as a share of its length from where the piece's boundary comes to it.",
				Mark:    sdk.CommonPractice,
			},
			{Name: "share", Kind: sdk.Ratio, Default: "1", Min: 0.01, Max: 1, Meaning: "How much of the dart's angle to turn.", Mark: sdk.CommonPractice},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		piece, dart, err := findDart(r)
		if err != nil {
			return nil, err
		}
		turn := alter.Rotation{Piece: piece.Name, Dart: dart, Into: r.Values.Text("into-dart"), Share: r.Values.Or("share", 1)}
		if turn.Into == "" {
			if turn.Edge, turn.At, err = onEdge(r, piece); err != nil {
				return nil, err
			}
		}
		return alter.RotateDart(r.Pattern, turn)
	},
}

var release = &sdk.Operation{
	Spec: sdk.Spec{
		Name:       "release",
		Purpose:    "Lets a dart out into gathers or ease over the edge around its mouth.",
		Parameters: []sdk.Parameter{pieceParameter, dartParameter, kindParameter, spreadParameter},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		piece, dart, err := findDart(r)
		if err != nil {
			return nil, err
		}
		return alter.ReleaseDart(r.Pattern, alter.Release{
			Piece: piece.Name, Dart: dart, Kind: pattern.GatherKind(r.Values.Text("into")), Spread: r.Values.Or("spread", 0),
		})
	},
}

var closeDart = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "close",
		Purpose: "Closes a dart for good and gathers or eases its width on another edge.",
		Parameters: []sdk.Parameter{
			pieceParameter, dartParameter, kindParameter, spreadParameter,
			{Name: "to-edge", Kind: sdk.Name, Meaning: "The edge that takes the width up.", DefaultNote: "none: it must be named"},
			{
				Name: "at", Kind: sdk.Ratio, Default: "0.5", Min: 0, Max: 1,
				Meaning: "Where on that edge, as a share of its length from where the piece's boundary comes to it.",
				Mark:    sdk.CommonPractice,
			},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		piece, dart, err := findDart(r)
		if err != nil {
			return nil, err
		}
		edge, at, err := onEdge(r, piece)
		if err != nil {
			return nil, err
		}
		return alter.CloseDart(r.Pattern, alter.Closing{
			Piece: piece.Name, Dart: dart, Edge: edge, At: at,
			Kind: pattern.GatherKind(r.Values.Text("into")), Spread: r.Values.Or("spread", 0),
		})
	},
}

var widen = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "widen",
		Purpose: "Adds width to an edge by slashes along the grain, and gathers it back to what it measured.",
		Parameters: []sdk.Parameter{
			{Name: "piece", Kind: sdk.Name, Meaning: "The piece to widen.", DefaultNote: "the bodice front"},
			{Name: "edge", Kind: sdk.Name, Default: pattern.Waist, Meaning: "The edge that gains the width."},
			{
				Name: "add", Kind: sdk.Length, Default: "40mm", Min: 1, Max: 2000,
				Meaning: "How much width the piece gains on that edge.", Mark: sdk.FromMemory,
			},
			{Name: "slashes", Kind: sdk.Count, Default: "3", Min: 1, Max: 50, Meaning: "In how many slashes.", Mark: sdk.CommonPractice},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		piece := r.Values.Text("piece")
		if piece == "" {
			fronts := r.Pattern.ByRole(pattern.BodiceFront)
			if len(fronts) != 1 {
				return nil, sdk.Refuse(fmt.Sprintf("the pattern has %d pieces with the role %s", len(fronts), pattern.BodiceFront), "name the piece to widen")
			}
			piece = fronts[0].Name
		}
		return alter.AddFullness(r.Pattern, alter.Fullness{
			Piece: piece, Edge: r.Values.Text("edge"), Add: r.Values.Or("add", 0), Slashes: int(r.Values.Or("slashes", 1)),
		})
	},
}

// findDart returns the piece and the dart that a request means: what is not
// named must be the only one there is.
func findDart(r *sdk.Request) (*pattern.Piece, string, error) {
	piece, dart := r.Values.Text("piece"), r.Values.Text("dart")
	var found []*pattern.Piece
	var names []string
	for i := range r.Pattern.Pieces {
		p := &r.Pattern.Pieces[i]
		if piece != "" && p.Name != piece {
			continue
		}
		for _, d := range p.Darts {
			if dart == "" || d.Name == dart {
				found, names = append(found, p), append(names, d.Name)
			}
		}
	}
	switch {
	case len(found) == 1:
		return found[0], names[0], nil
	case piece != "" && r.Pattern.Piece(piece) == nil:
		return nil, "", sdk.Refuse(fmt.Sprintf("the pattern has no piece %q", piece), "")
	case len(found) == 0 && dart != "":
		return nil, "", sdk.Refuse(fmt.Sprintf("no piece has a dart %q", dart), "leave this step out, or name a dart the pattern has")
	case len(found) == 0:
		return nil, "", sdk.Refuse("there is no dart here", "leave this step out")
	}
	return nil, "", sdk.Refuse(fmt.Sprintf("%d darts could be meant", len(found)), "name the piece and the dart")
}

// onEdge returns the edge a request names and the place on it in mm.
func onEdge(r *sdk.Request, piece *pattern.Piece) (string, float64, error) {
	name := r.Values.Text("to-edge")
	if name == "" {
		return "", 0, sdk.Refuse("it is not said where the dart goes", "set to-edge to an edge of the piece")
	}
	edge := piece.Edge(name)
	if edge == nil {
		return "", 0, sdk.Refuse(fmt.Sprintf("piece %q has no edge %q", piece.Name, name), "")
	}
	return name, edge.Path.Length() * r.Values.Or("at", 0.5), nil
}
