package draw

import (
	"bygone.example/core/cutline"
	"bygone.example/core/geom"
	"bygone.example/core/label"
	"bygone.example/core/pattern"
)

// PieceArt is one piece drawn for laying on paper, each kind of line on its
// layer. Turn or move the piece, not the art, so that its words stay upright.
type PieceArt struct {
	Drawing // its ink begins at the lower left corner of the paper
	// Origin is where the piece's own origin lies on the drawing, mm of paper.
	Origin geom.Point
	// Outline is the line to cut along, or the seam line where the piece has no
	// allowance: a polygon without a repeated first point, mm of paper.
	Outline []geom.Point
	// Warnings tell of words that could not be printed as they are.
	Warnings []string
}

// PieceOptions say how a piece is drawn.
type PieceOptions struct {
	Scale float64 // mm of paper to one of cloth; 0 is 1
	// Unit is the size of marks and words, 1 for a page at reading distance;
	// 0 is 2: read from a standing height, table to eye.
	Unit  float64
	Plain bool // without names of edges and landmarks
	// Label is what is to stand on the piece beyond its name and cut instruction,
	// and in which language; nil leaves it at those two. Its Has is filled in.
	Label *label.About
}

// Piece draws one piece. One without an outline gives an empty drawing.
func Piece(p *pattern.Piece, o PieceOptions) PieceArt {
	if o.Scale == 0 {
		o.Scale = 1
	}
	if o.Unit == 0 {
		o.Unit = 2
	}
	if len(p.Boundary()) == 0 {
		return PieceArt{}
	}
	a := drawPiece(p, nil, detail{scale: o.Scale, unit: o.Unit, cut: true, paper: true, edges: !o.Plain, title: true, about: o.Label})
	art := PieceArt{Drawing: Drawing{items: a.items, Title: titleOf(p), Text: CutInstruction(p), exact: true}, Warnings: a.warnings}
	// Its ink, and not its lines alone: nothing may be cut off at a page's edge.
	b := art.Bounds()
	art.Width, art.Height, art.Origin = b.Width(), b.Height(), b.Min.Mul(-1)
	art.items = placed(art.items, Placing{At: art.Origin})
	outline := cutline.Of(p).Points
	if len(outline) < 3 {
		outline = p.Boundary().Flatten(outlineTolerance)
		outline = outline[:len(outline)-1]
	}
	m := scaling(o.Scale)
	for _, q := range outline {
		art.Outline = append(art.Outline, m.Apply(q).Add(art.Origin))
	}
	return art
}

// outlineTolerance, in mm, is how closely an outline follows a curve: closer
// than anybody cuts.
const outlineTolerance = 0.05
