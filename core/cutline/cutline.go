// Package cutline turns a piece's seam line and the allowances of its edges
// into the line to cut along.
//
// The cut line is the true offset of each edge to the outside of the piece,
// joined at the corners as the edges ask. Edges on the fold, and edges without
// allowance, are cut on the seam line itself. Where offsets run into each
// other (a curve tighter than its allowance, a narrow slit) only the outermost
// trace is kept, and a note says where.
package cutline

import (
	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

const (
	// FlattenTolerance is how far, in mm, the polygon may stray from the true
	// offset curve: a quarter of the 0.02 mm that a cut line is held to.
	FlattenTolerance = 0.005

	// PathTolerance is how far, in mm, the curves of a cut line may stray from
	// the true offset, all told.
	PathTolerance = 0.02

	// MitreLimit is how far a corner may run out from the seam corner, in
	// multiples of the wider allowance, before it is bevelled: beyond about four
	// widths the tip is longer than any workroom would leave it (common practice).
	MitreLimit = 4

	// trimLimit is how far, in multiples of the wider allowance, a narrow cut
	// line may run on into a wide one at a shallow corner. Further than that the
	// wide edge would lose allowance along a whole stretch: there the line steps.
	trimLimit = 1.5

	// smooth is the sine of the turn below which two stretches run on without a
	// corner: a twentieth of a degree, 0.01 mm on a 15 mm allowance.
	smooth = 1e-3
)

// Line is the cut line of one piece.
type Line struct {
	// Points are the corners of a closed polygon, counter-clockwise, in mm in
	// the piece's own plane; the first is not repeated. A piece without area
	// has none.
	Points []geom.Point
	// Path is the same line in straight lines and cubics, closed, within
	// PathTolerance of the true offset; of a piece without area it is empty.
	Path geom.Path
	// Notes tell where the line is not what the allowances alone ask for.
	Notes []Note
}

// Note is one place where something could not be done as asked.
type Note struct {
	Trouble Trouble
	Edge    string
	At      geom.Point
	Text    string // one plain sentence
}

// Trouble is what kind of thing a Note tells.
type Trouble string

// The troubles of a cut line.
const (
	Overlaps  Trouble = "overlaps"  // two edges' allowances run into each other
	Tight     Trouble = "tight"     // a curve is tighter than its allowance is wide
	Bevelled  Trouble = "bevelled"  // a corner too sharp for its cut lines to meet
	Enclosed  Trouble = "enclosed"  // allowances close around a gap
	Untraced  Trouble = "untraced"  // the line is the plain offset, loops and all
	Untreated Trouble = "untreated" // a corner that cannot be turned or matched as asked; it meets
)

// Of returns the cut line of a piece by itself. The piece must be valid: closed,
// counter-clockwise, not crossing itself; of one that is not, the answer is
// some polygon and a note.
func Of(p *pattern.Piece) Line { return of(p, nil).outline() }

// of walks round the piece; asked tells what seams ask of its corners, by the
// index of the edge that each ends.
func of(p *pattern.Piece, asked map[int]asked) *raw {
	r := &raw{asked: asked, reached: map[int]float64{}}
	var stretches []stretch
	for i := range p.Edges {
		stretches = append(stretches, r.stretchesOf(p, i)...)
	}
	if len(stretches) == 0 {
		return r
	}
	n := len(stretches)
	r.edges = make([]string, n)
	for i, s := range stretches {
		r.edges[i] = s.edge
	}
	trims := make([]trim, n) // how much the corners take off each end
	joins := make([][]vertex, n)
	for i := range stretches {
		a, b := &stretches[i], &stretches[(i+1)%n]
		joins[i] = r.corner(a, b, &trims[i], &trims[(i+1)%n])
	}
	for i := range stretches {
		r.add(i, trims[i].apply(stretches[i].line)...)
		r.add((i+1)%n, joins[i]...) // what leaves a corner is the next stretch's
	}
	if len(r.line) >= shadeFrom {
		r.shadow(stretches, trims, joins)
	}
	return r
}

// Width returns the allowance in mm that an edge is cut with: none on the fold.
func Width(e *pattern.Edge) float64 {
	if e.Finish == pattern.Fold || !(e.Allowance > 0) {
		return 0
	}
	return e.Allowance
}
