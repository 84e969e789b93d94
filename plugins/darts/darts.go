// Package darts is the house plugin for darts: where they are, what shape
// they have, and what they become.
package darts

import (
	"context"
	"fmt"
	"strings"

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
			anyPiece,
			{Name: "dart", Kind: sdk.Name, Meaning: anyDart.Meaning, DefaultNote: "the next widest dart of the piece; if to-edge is set, the widest"},
			{Name: "into-dart", Kind: sdk.Name, Meaning: "The dart to open instead; the two become one.", DefaultNote: "the widest other dart of the piece, unless to-edge is set"},
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
		turn := alter.Rotation{Share: r.Values.Or("share", 1)}
		if r.Values.Text("to-edge") == "" {
			var err error
			if turn.Piece, turn.Dart, turn.Into, err = two(r, "dart", "into-dart"); err != nil {
				return nil, err
			}
			return alter.RotateDart(r.Pattern, turn)
		}
		piece, dart, err := widest(r, "dart")
		if err != nil {
			return nil, err
		}
		turn.Piece, turn.Dart, turn.Into = piece.Name, dart, r.Values.Text("into-dart")
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
		Parameters: []sdk.Parameter{anyPiece, anyDart, kindParameter, spreadParameter},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		if a, done, err := noneLeft(r); done {
			return a, err
		}
		piece, dart, err := widest(r, "dart")
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
			anyPiece, anyDart, kindParameter, spreadParameter,
			{Name: "to-edge", Kind: sdk.Name, Meaning: "The edge that takes the width up.", DefaultNote: "the neckline; the waist of a piece that has none"},
			{
				Name: "at", Kind: sdk.Ratio, Default: "0.5", Min: 0, Max: 1,
				Meaning: "Where on that edge, as a share of its length from where the piece's boundary comes to it.",
				Mark:    sdk.CommonPractice,
			},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		if a, done, err := noneLeft(r); done {
			return a, err
		}
		piece, dart, err := widest(r, "dart")
		if err != nil {
			return nil, err
		}
		edge, at, err := onEdge(r, piece, pattern.Neckline, pattern.Waist)
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

// noneLeft answers a step that does away with a dart, or makes one true, where
// there is none left on the piece that is named, or on any if none is: an
// earlier step took it up, or cut it away with the cloth it was in. Where other
// darts are left the one meant may only be named wrongly, and that is refused.
func noneLeft(r *sdk.Request) (a *sdk.Answer, done bool, err error) {
	name := r.Values.Text("piece")
	if name != "" && r.Pattern.Piece(name) == nil {
		return nil, false, nil
	}
	for i := range r.Pattern.Pieces {
		if p := &r.Pattern.Pieces[i]; (name == "" || p.Name == name) && len(p.Darts) > 0 {
			return nil, false, nil
		}
	}
	where := "The pattern"
	if name != "" {
		where = fmt.Sprintf("Piece %q", name)
	}
	a, err = alter.LeaveAsIs(r.Pattern, where+" has no dart left, so this step had nothing to do: look at the mock-up for the shape that the dart gave.")
	return a, true, err
}

// noDart says why no dart can be meant by a request.
func noDart(r *sdk.Request, dart string) error {
	piece := r.Values.Text("piece")
	switch {
	case piece != "" && r.Pattern.Piece(piece) == nil:
		return sdk.Refuse(fmt.Sprintf("the pattern has no piece %q", piece), "its pieces are "+strings.Join(r.Pattern.PieceNames(), ", "))
	case dart != "":
		return sdk.Refuse(fmt.Sprintf("no piece has a dart %q", dart), "leave this step out, or name a dart the pattern has")
	}
	return sdk.Refuse("there is no dart here", "leave this step out")
}

// onEdge returns the edge a request names and the place on it in mm; when it
// names none, the first that the piece has of the others.
func onEdge(r *sdk.Request, piece *pattern.Piece, others ...string) (string, float64, error) {
	name := r.Values.Text("to-edge")
	for _, o := range others {
		if name == "" && piece.Edge(o) != nil {
			name = o
		}
	}
	if name == "" {
		return "", 0, sdk.Refuse("it is not said where the dart goes", "set to-edge to an edge of the piece")
	}
	edge := piece.Edge(name)
	if edge == nil {
		return "", 0, sdk.Refuse(fmt.Sprintf("piece %q has no edge %q", piece.Name, name), "its edges are "+strings.Join(piece.EdgeNames(), ", "))
	}
	return name, edge.Path.Length() * r.Values.Or("at", 0.5), nil
}
