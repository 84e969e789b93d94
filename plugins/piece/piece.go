// Package piece is the house plugin that divides, joins, unfolds and mirrors
// pattern pieces.
package piece

import (
	"context"
	"fmt"
	"strings"

	"bygone.example/core/alter"
	"bygone.example/core/pattern"
	"bygone.example/sdk"
)

// Plugin makes two pieces of one, and one of two.
var Plugin = &sdk.Plugin{
	Name:       "piece",
	Purpose:    "Divides a piece along a style line, joins two along a seam, and draws half pieces out whole.",
	Operations: []*sdk.Operation{split, join, unfold, mirror},
}

var split = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "split",
		Purpose: "Cuts a piece in two along a style line, straight, bowed, or through a landmark or dart, and joins the parts by a seam.",
		Parameters: []sdk.Parameter{
			{Name: "piece", Kind: sdk.Name, Meaning: "The piece to divide.", DefaultNote: "the bodice back"},
			{Name: "from", Kind: sdk.Name, Default: pattern.Armscye, Meaning: "The edge that the line starts on."},
			{
				Name: "from-at", Kind: sdk.Length, Min: 0, Max: 5000,
				Meaning: "Where on that edge, measured along it around the piece against the clock.", DefaultNote: "its middle",
			},
			{Name: "to", Kind: sdk.Name, Meaning: "The edge that the line ends on.", DefaultNote: "where a line square to the grain comes out"},
			{
				Name: "to-at", Kind: sdk.Length, Min: 0, Max: 5000,
				Meaning: "Where on that edge, measured as from-at.", DefaultNote: "its middle, if to is set",
			},
			{
				Name: "bow", Kind: sdk.Length, Default: "0mm", Min: -300, Max: 300,
				Meaning: "How far the line is bent at its middle, to the left of the way; negative bends it to the right.", Mark: sdk.CommonPractice,
			},
			{Name: "through", Kind: sdk.Name, Meaning: "A landmark that the line passes through, or a dart on the first edge that goes into the seam.", DefaultNote: "none"},
			{Name: "name", Kind: sdk.Name, Meaning: "The name of the new piece, which lies to the right of the way.", DefaultNote: "the piece's name and -part"},
			{Name: "title", Kind: sdk.Name, Meaning: "What is printed on the new piece, words joined by hyphens.", DefaultNote: "its name in words"},
			{Name: "role", Kind: sdk.Name, Meaning: "Which part of a garment the new piece is, for later steps to find it.", DefaultNote: "none"},
			{Name: "seam", Kind: sdk.Name, Default: "style", Meaning: "The name of the new seam and of its two edges."},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		o := alter.Split{
			Piece: r.Values.Text("piece"), From: r.Values.Text("from"), To: r.Values.Text("to"), Through: r.Values.Text("through"),
			Bow: r.Values.Or("bow", 0), Name: r.Values.Text("name"), Title: title(r),
			Role: pattern.Role(r.Values.Text("role")), Seam: r.Values.Text("seam"),
		}
		if o.Piece == "" {
			back, err := only(r.Pattern, pattern.BodiceBack)
			if err != nil {
				return nil, err
			}
			o.Piece = back.Name
		}
		o.FromAt = r.Values.Or("from-at", middle(r.Pattern, o.Piece, o.From))
		o.ToAt = r.Values.Or("to-at", middle(r.Pattern, o.Piece, o.To))
		return alter.SplitPiece(r.Pattern, o)
	},
}

// title is what is printed on a piece: the parameter of that name, or else the
// piece's name, in words.
func title(r *sdk.Request) string {
	text := r.Values.Text("title")
	if text == "" {
		text = r.Values.Text("name")
	}
	if text == "" {
		return ""
	}
	return strings.ToUpper(text[:1]) + strings.ReplaceAll(text[1:], "-", " ")
}

// middle is half the length of an edge; of one that is not there 0, which the
// operation refuses in its own words.
func middle(p *pattern.Pattern, piece, edge string) float64 {
	if e := p.Edge(pattern.EdgeRef{Piece: piece, Edge: edge}); e != nil {
		return e.Path.Length() / 2
	}
	return 0
}

// only returns the only piece of a role.
func only(p *pattern.Pattern, role pattern.Role) (*pattern.Piece, error) {
	found := p.ByRole(role)
	if len(found) != 1 {
		return nil, sdk.Refuse(fmt.Sprintf("the pattern has %d pieces with the role %s", len(found), role), "name the piece")
	}
	return found[0], nil
}

var join = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "join",
		Purpose: "Lays two pieces together along a seam and makes one of them, without the seam.",
		Parameters: []sdk.Parameter{
			{Name: "seam", Kind: sdk.Name, Meaning: "The seam to leave out.", DefaultNote: "style, as piece.split names it, or the shoulder"},
			{Name: "name", Kind: sdk.Name, Meaning: "The name of the joined piece.", DefaultNote: "that of the piece on the seam's first side"},
			{Name: "title", Kind: sdk.Name, Meaning: "What is printed on it, words joined by hyphens.", DefaultNote: "its name in words, if that is set"},
			{
				Name: "max-gap", Kind: sdk.Length, Default: "3mm", Min: 0, Max: 50,
				Meaning: "How far apart the two edges may lie when the pieces are laid together; what is lost is told and eased in.", Mark: sdk.FromMemory,
			},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		seam := r.Values.Text("seam")
		for _, name := range []string{"style", pattern.Shoulder} {
			if seam == "" && r.Pattern.Seam(name) != nil {
				seam = name
			}
		}
		if seam == "" {
			return nil, sdk.Refuse("the pattern has no seam called style or shoulder", "say which seam to leave out")
		}
		return alter.JoinPieces(r.Pattern, alter.Join{
			Seam: seam, Name: r.Values.Text("name"), Title: title(r), MaxGap: r.Values.Or("max-gap", 0),
		})
	},
}

var unfold = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "unfold",
		Purpose: "Draws a half pattern out whole: pieces on the fold become one, pairs become a left and a right, seams get both sides.",
		Parameters: []sdk.Parameter{
			{Name: "piece", Kind: sdk.Name, Meaning: "A piece to begin with; all that seams join to it are drawn out with it.", DefaultNote: "the first one on the fold"},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		name := r.Values.Text("piece")
		for i := range r.Pattern.Pieces {
			if p := &r.Pattern.Pieces[i]; name == "" && p.OnFold() {
				name = p.Name
			}
		}
		if name == "" {
			return nil, sdk.Refuse("no piece of the pattern is on the fold", "name the piece to begin with")
		}
		return alter.Unfold(r.Pattern, name)
	},
}

var mirror = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "mirror",
		Purpose: "Adds a mirror image of a piece to the pattern, as a piece of its own.",
		Parameters: []sdk.Parameter{
			{Name: "piece", Kind: sdk.Name, Meaning: "The piece to mirror.", DefaultNote: "the bodice back"},
			{Name: "name", Kind: sdk.Name, Meaning: "The name of the copy.", DefaultNote: "the piece's name and -mirrored"},
			{Name: "title", Kind: sdk.Name, Meaning: "What is printed on the copy, words joined by hyphens.", DefaultNote: "its name in words, if that is set"},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		name := r.Values.Text("piece")
		if name == "" {
			back, err := only(r.Pattern, pattern.BodiceBack)
			if err != nil {
				return nil, err
			}
			name = back.Name
		}
		return alter.MirrorPiece(r.Pattern, name, r.Values.Text("name"), title(r))
	},
}
