package alter

import (
	"fmt"
	"slices"
	"strings"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// PlacketStrip says how an opening is bound. Lengths in mm.
type PlacketStrip struct {
	// Piece and Edge are the opening; empty takes the first edge left open, of a
	// skirt before other pieces.
	Piece, Edge string
	// Finished is how wide the placket is.
	Finished float64
	// Seam is the turning along both long edges, End the one at both ends.
	Seam, End float64
	// Slash, if more than 0, cuts the opening into the piece first: so many mm deep,
	// square to the edge, at the share At of it from its start.
	Slash, At float64
}

// Placket makes the strip of a continuous placket: one strip down one side of an
// opening and up the other, folded lengthwise. Cut, it measures twice the
// opening and two end turnings by twice the finished width and two seams. The
// piece is half of it, on the fold at the foot of the opening.
//
// A placket can be slashed into the cloth instead, as in a sleeve above its cuff
// or a skirt below its waist: the slash is a line inside the piece, not an edge
// of it, told by a landmark at either end, and the strip is drawn whole, since the slash has both its sides in one piece.
//
// Kept: the opening's line. Changed: the opening's edge is sewn to the strip, and
// both have a pair of notches. Degenerate: a pattern without an edge left open, a
// piece that is not cut in pairs, a strip of no width, and a slash that leaves the
// piece, ends too near its edge, or starts in a dart or pleat, are refused.
func Placket(p *pattern.Pattern, o PlacketStrip) (*operation.Answer, error) {
	if !(o.Finished >= minSlash/2 && o.Seam >= 0 && o.End >= 0) {
		return nil, refuse("a placket needs a width, and turnings of 0 mm or more", fmt.Sprintf("make it %g mm wide or more", minSlash/2.0))
	}
	e := begin(p)
	if o.Slash > 0 {
		return e.slashPlacket(o)
	}
	w, i, err := e.leftOpen(o.Piece, o.Edge)
	if err != nil {
		return nil, err
	}
	edge := &w.Edges[i]
	if !w.Cut.Mirrored {
		return nil, refuse(fmt.Sprintf("piece %q is not cut in pairs, so its edge %q has no other side", w.Name, edge.Name), "choose an opening between a piece and its mirror image")
	}
	if e.takesUp(w, edge.Name) {
		return nil, refuse(fmt.Sprintf("the opening %q of piece %q has darts or fullness in it", edge.Name, w.Name), "let them out first")
	}
	long := w.lines[i].length()
	if long < 2*o.Finished {
		e.caution("The opening is short for the width of its placket: try it in a scrap of the cloth first.")
	}
	w.touched = true
	edge.Finish, edge.Allowance = pattern.Sewn, o.Seam
	strip := newStrip(pattern.Piece{
		Name: freshPiece(e, "placket"), Title: strings.TrimSpace(w.Title + " placket"), Role: "placket", Cut: pattern.Cut{Count: 1},
	}, long, 2*o.Finished, 0, [4]pattern.Edge{
		{Name: "opening", Allowance: o.Seam}, {Name: "end", Finish: pattern.Hemmed, Allowance: o.End},
		{Name: "inside", Finish: pattern.Faced, Allowance: o.Seam}, {Name: "foot", Finish: pattern.Fold},
	})
	// The foot of the strip is the end of the opening that a seam goes on from.
	footFirst := w.Edges[w.prev(i)].Is() == edge.Is()
	e.pieces = slices.Insert(e.pieces, slices.Index(e.pieces, w)+1, strip)
	e.made = append(e.made, pattern.Seam{
		Name: freshSeamName(e, strip.Name), A: pattern.Run{{Piece: w.Name, Edge: edge.Name}},
		B:       pattern.Run{{Piece: strip.Name, Edge: "opening", Backwards: !footFirst}},
		Meeting: pattern.Meeting{Kind: pattern.Plain},
	})
	e.markAlong(rim{role: edge.Is(), edges: []rimEdge{{w, i, false}}}, strip, "opening", long, !footFirst)
	cutLong, cutHigh := strip.cutSize()
	e.changed("opening", w.Name, long, long, "mm")
	e.changed("strip, cut length", strip.Name, 0, cutLong, "mm")
	e.changed("strip, cut width", strip.Name, 0, cutHigh, "mm")
	e.changed("placket, finished width", strip.Name, 0, o.Finished, "mm")
	return e.finish()
}

// leftOpen returns the edge that is left open.
func (e *edit) leftOpen(piece, edge string) (*work, int, error) {
	pieces := append(e.roles(pattern.SkirtFront, pattern.SkirtBack), e.pieces...)
	if piece != "" {
		w, err := e.pieceNamed(piece)
		if err != nil {
			return nil, 0, err
		}
		pieces = []*work{w}
		if edge != "" {
			if _, err := w.named(edge); err != nil {
				return nil, 0, err
			}
		}
	}
	for _, w := range pieces {
		for i, o := range w.Edges {
			if o.Finish == pattern.Open && (edge == "" || o.Name == edge) && !faced(w) {
				return w, i, nil
			}
		}
	}
	return nil, 0, refuse("no edge is left open for a placket", "finish the edge of the opening as open")
}
