package skirt

import (
	"context"
	"slices"

	"bygone.example/core/alter"
	"bygone.example/core/pattern"
	"bygone.example/sdk"
)

// frontOf is the piece that a step works on unless another is named.
func frontOf(r *sdk.Request) string {
	if piece := r.Values.Text("piece"); piece != "" {
		return piece
	}
	return r.Pattern.ByRole(pattern.SkirtFront)[0].Name
}

var gores = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "gores",
		Purpose: "Divides a skirt piece into gores by seams from waist to hem.",
		Needs:   needs,
		Parameters: []sdk.Parameter{
			{Name: "piece", Kind: sdk.Name, DefaultNote: "the first front of the skirt", Meaning: "The piece to divide."},
			{Name: "count", Kind: sdk.Count, Default: "2", Min: 2, Max: 40, Meaning: "How many pieces come out of it.", Mark: sdk.CommonPractice},
			{
				Name: "half-at-centre", Kind: sdk.Switch, Default: "no",
				Meaning: "Whether the piece at the centre is half a gore, as on the fold.",
			},
			{
				Name: "centre-hem", Kind: sdk.Length, Min: 10, Max: 5000, DefaultNote: "the same share as at the waist",
				Meaning: "How much of the hem the piece at the centre gets; the others share the rest.",
			},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.DivideGores(r.Pattern, alter.Gores{
			Piece: frontOf(r), Count: int(r.Values.Or("count", 2)), HalfAtCentre: r.Values.On("half-at-centre"), CentreHem: r.Values.Or("centre-hem", 0),
		})
	},
}

var (
	godetHeight = sdk.Parameter{
		Name: "height", Kind: sdk.Length, Default: "250mm", Min: 40, Max: 1500,
		Meaning: "How far up from the hem the godet reaches.", Mark: sdk.FromMemory,
	}
	godetWidth = sdk.Parameter{
		Name: "width", Kind: sdk.Length, Default: "250mm", Min: 10, Max: 5000,
		Meaning: "How much the godet adds to the hem.", Mark: sdk.FromMemory,
	}
)

var godet = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "godet",
		Purpose: "Opens a seam from the hem, or slits a piece, and sets in a part of a circle.",
		Needs:   needs,
		Makes:   []sdk.Need{{Piece: "godet", Edge: pattern.Hem}},
		Parameters: []sdk.Parameter{
			{Name: "seam", Kind: sdk.Name, DefaultNote: "the side seam of the skirt, unless piece is set", Meaning: "The seam to open."},
			{Name: "piece", Kind: sdk.Name, DefaultNote: "none: a seam is opened", Meaning: "A piece to be slit by a seam from waist to hem, if no seam is named."},
			godetHeight, godetWidth,
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		o := alter.Godet{
			Seam: r.Values.Text("seam"), Piece: r.Values.Text("piece"),
			Height: r.Values.Or("height", 0), Width: r.Values.Or("width", 0),
		}
		if o.Seam == "" && o.Piece == "" {
			if o.Seam = sideSeam(r.Pattern); o.Seam == "" {
				return nil, sdk.Refuse("the skirt has no side seam to set a godet into", "set seam or piece")
			}
		}
		return alter.InsertGodet(r.Pattern, o)
	},
}

// sideSeam is the name of the seam that takes the side of the skirt's front.
func sideSeam(p *pattern.Pattern) string {
	for _, piece := range p.ByRole(pattern.SkirtFront) {
		for _, side := range piece.EdgesByRole(pattern.Side) {
			for _, s := range p.SeamsOf(piece.Name, side.Name) {
				return s.Name
			}
		}
	}
	return ""
}

// whichGodet is the godet named, or the pattern's first.
func whichGodet(r *sdk.Request) string {
	name := r.Values.Text("godet")
	if i := slices.IndexFunc(r.Pattern.Pieces, func(p pattern.Piece) bool { return p.Role == "godet" }); name == "" && i >= 0 {
		name = r.Pattern.Pieces[i].Name
	}
	return name
}

var godetName = sdk.Parameter{Name: "godet", Kind: sdk.Name, DefaultNote: "the first there is", Meaning: "The godet that is meant."}

var removeGodet = &sdk.Operation{
	Spec: sdk.Spec{
		Name:       "godet-remove",
		Purpose:    "Takes a godet out and closes the seam.",
		Needs:      []sdk.Need{{Piece: "godet", Edge: pattern.Hem}},
		Parameters: []sdk.Parameter{godetName},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.RemoveGodet(r.Pattern, whichGodet(r))
	},
}

var changeGodet = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "godet-change",
		Purpose: "Moves a godet to another seam, or makes it higher or wider.",
		Needs:   []sdk.Need{{Piece: "godet", Edge: pattern.Hem}},
		Parameters: []sdk.Parameter{
			godetName,
			{Name: "seam", Kind: sdk.Name, DefaultNote: "the one it is in", Meaning: "The seam to set it into."},
			{Name: "height", Kind: sdk.Length, Min: 40, Max: 1500, DefaultNote: "what it is", Meaning: godetHeight.Meaning},
			{Name: "width", Kind: sdk.Length, Min: 10, Max: 5000, DefaultNote: "what keeps its angle", Meaning: godetWidth.Meaning},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.ChangeGodet(r.Pattern, whichGodet(r), alter.Godet{
			Seam: r.Values.Text("seam"), Height: r.Values.Or("height", 0), Width: r.Values.Or("width", 0),
		})
	},
}
