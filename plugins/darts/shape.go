package darts

import (
	"context"
	"fmt"

	"bygone.example/core/alter"
	"bygone.example/core/pattern"
	"bygone.example/sdk"
)

var (
	anyPiece = sdk.Parameter{Name: "piece", Kind: sdk.Name, Meaning: "The piece the dart is on.", DefaultNote: "the piece with the widest dart of that name"}
	anyDart  = sdk.Parameter{Name: "dart", Kind: sdk.Name, Meaning: "The dart, by its name in the pattern.", DefaultNote: "the widest dart of the piece"}
	pressed  = sdk.Parameter{
		Name: "pressed", Kind: sdk.Choice, Choices: []string{"auto", string(pattern.PressedToStart), string(pattern.PressedToEnd)}, Default: "auto",
		Meaning: "Which end of its edge the dart is pressed towards; auto keeps what the dart says, else waist darts go to the centre and others down.",
	}
)

var split = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "split",
		Purpose: "Divides a dart into several on its own edge, or gives a share of it to another edge.",
		Parameters: []sdk.Parameter{
			anyPiece, anyDart,
			{Name: "parts", Kind: sdk.Count, Default: "2", Min: 2, Max: 6, Meaning: "Into how many darts, if they stay on the edge.", Mark: sdk.CommonPractice},
			{
				Name: "apart", Kind: sdk.Length, Default: "19mm", Min: 2, Max: 200, Meaning: "How much cloth is left between two of them.",
				Mark: sdk.Published, Source: "C. Hecklinger, Handbook on Dress and Cloak Cutting, New York 1884: 3/4 in between darts",
			},
			{Name: "to-edge", Kind: sdk.Name, Meaning: "The edge that gets a share of the dart instead.", DefaultNote: "none: the parts stay on the dart's edge"},
			{Name: "at", Kind: sdk.Ratio, Default: "0.5", Min: 0, Max: 1, Meaning: "Where on that edge, as a share of its length.", Mark: sdk.CommonPractice},
			{Name: "share", Kind: sdk.Ratio, Default: "0.5", Min: 0.01, Max: 1, Meaning: "How much of the dart goes there.", Mark: sdk.CommonPractice},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		piece, dart, err := widest(r, "dart")
		if err != nil {
			return nil, err
		}
		o := alter.Splitting{Piece: piece.Name, Dart: dart, Into: int(r.Values.Or("parts", 2)), Apart: r.Values.Or("apart", 0)}
		if r.Values.Text("to-edge") != "" {
			edge, at, err := onEdge(r, piece)
			if err != nil {
				return nil, err
			}
			o.Places = []alter.Opening{{Edge: edge, At: at, Share: r.Values.Or("share", 0.5)}}
		}
		return alter.SplitDart(r.Pattern, o)
	},
}

var join = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "join",
		Purpose: "Joins two darts of a piece into one.",
		Parameters: []sdk.Parameter{
			anyPiece,
			{Name: "dart", Kind: sdk.Name, Meaning: "The dart that goes into the other.", DefaultNote: "the next widest dart of the piece"},
			{Name: "into-dart", Kind: sdk.Name, Meaning: "The dart that takes it up.", DefaultNote: "the widest other dart of the piece"},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		piece, dart, into, err := two(r, "dart", "into-dart")
		if err != nil {
			return nil, err
		}
		return alter.RotateDart(r.Pattern, alter.Rotation{Piece: piece, Dart: dart, Into: into, Share: 1})
	},
}

var point = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "point",
		Purpose: "Moves a dart's point: makes the dart longer or shorter, or points it aside.",
		Parameters: []sdk.Parameter{
			anyPiece, anyDart,
			{
				Name: "longer", Kind: sdk.Length, Default: "-20mm", Min: -500, Max: 500,
				Meaning: "By how much the dart gets longer; negative shortens it.", Mark: sdk.CommonPractice,
			},
			{
				Name: "aside", Kind: sdk.Length, Default: "0mm", Min: -200, Max: 200,
				Meaning: "How far the point goes towards the end of the dart's edge.", Mark: sdk.CommonPractice,
			},
			{
				Name: "bound", Kind: sdk.Length, Default: "15mm", Min: 0, Max: 100,
				Meaning: "How far the mouth may move to make the legs equal again.", Mark: sdk.FromMemory,
			},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		piece, dart, err := widest(r, "dart")
		if err != nil {
			return nil, err
		}
		return alter.MoveDartPoint(r.Pattern, alter.PointMove{
			Piece: piece.Name, Dart: dart, Longer: r.Values.Or("longer", 0), Aside: r.Values.Or("aside", 0), Bound: r.Values.Or("bound", 0),
		})
	},
}

var trueLegs = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "true-legs",
		Purpose: "Makes the legs of a dart equal by moving its point or letting out its mouth.",
		Parameters: []sdk.Parameter{
			anyPiece, anyDart,
			{
				Name: "by", Kind: sdk.Choice, Choices: []string{string(alter.ByPoint), string(alter.ByMouth)}, Default: string(alter.ByPoint),
				Meaning: "Whether the point moves or the foot of the shorter leg.",
			},
			{Name: "bound", Kind: sdk.Length, Default: "15mm", Min: 0, Max: 100, Meaning: "How far it may move.", Mark: sdk.FromMemory},
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
		return alter.TrueLegs(r.Pattern, alter.Truing{Piece: piece.Name, Dart: dart, By: alter.TruingWay(r.Values.Text("by")), Bound: r.Values.Or("bound", 0)})
	},
}

var capMouth = &sdk.Operation{
	Spec: sdk.Spec{
		Name:       "cap",
		Purpose:    "Trues a dart's edge and shapes its mouth so that the fold is caught in the seam.",
		Parameters: []sdk.Parameter{anyPiece, anyDart, pressed},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		if a, done, err := noneLeft(r); done {
			return a, err
		}
		piece, dart, err := widest(r, "dart")
		if err != nil {
			return nil, err
		}
		o := alter.Capping{Piece: piece.Name, Dart: dart}
		if way := r.Values.Text("pressed"); way != "auto" {
			o.Press = pattern.Pressed(way)
		}
		return alter.CapDart(r.Pattern, o)
	},
}

var fold = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "fold",
		Purpose: "Lets a dart go into a pleat, or into a tuck that is released above a level.",
		Parameters: []sdk.Parameter{
			anyPiece, anyDart,
			{
				Name: "into", Kind: sdk.Choice, Choices: []string{string(pattern.Tuck), string(pattern.Knife), string(pattern.Box), string(pattern.Inverted)}, Default: string(pattern.Tuck),
				Meaning: "What the dart becomes.",
			},
			{
				Name: "level", Kind: sdk.Length, Default: "60mm", Min: 1, Max: 1000,
				Meaning: "How far from the edge a tuck is stitched.", Mark: sdk.FromMemory,
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
		return alter.FoldDart(r.Pattern, alter.Folding{Piece: piece.Name, Dart: dart, Kind: pattern.PleatKind(r.Values.Text("into")), Level: r.Values.Or("level", 0)})
	},
}

// widest returns the piece and dart that a request means: of those that could be
// meant, the one with the widest mouth.
func widest(r *sdk.Request, parameter string) (*pattern.Piece, string, error) {
	piece, dart := r.Values.Text("piece"), r.Values.Text(parameter)
	var found *pattern.Piece
	name, best := "", 0.0
	for i := range r.Pattern.Pieces {
		p := &r.Pattern.Pieces[i]
		if piece != "" && p.Name != piece {
			continue
		}
		for _, d := range p.Darts {
			if (dart == "" || d.Name == dart) && d.To-d.From > best {
				found, name, best = p, d.Name, d.To-d.From
			}
		}
	}
	if found == nil {
		return nil, "", noDart(r, dart)
	}
	return found, name, nil
}

// two returns a piece and two of its darts: those named, else its widest ones,
// the widest of them as the second.
func two(r *sdk.Request, first, second string) (piece, a, b string, err error) {
	a, b = r.Values.Text(first), r.Values.Text(second)
	for i := range r.Pattern.Pieces {
		p := &r.Pattern.Pieces[i]
		if name := r.Values.Text("piece"); name != "" && p.Name != name || len(p.Darts) < 2 {
			continue
		}
		if a != "" && p.Dart(a) == nil || b != "" && p.Dart(b) == nil {
			continue
		}
		pick := func(but string) string {
			name, best := "", 0.0
			for _, d := range p.Darts {
				if d.Name != but && d.To-d.From > best {
					name, best = d.Name, d.To-d.From
				}
			}
			return name
		}
		if b == "" {
			b = pick(a)
		}
		if a == "" {
			a = pick(b)
		}
		return p.Name, a, b, nil
	}
	return "", "", "", sdk.Refuse(fmt.Sprintf("no piece has two darts%s", named(a, b)), "name a piece that has, or split its dart first")
}

func named(names ...string) string {
	s := ""
	for _, n := range names {
		if n != "" {
			s += ", one of them " + n
		}
	}
	return s
}
