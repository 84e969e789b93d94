package alter

import (
	"fmt"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// parting says where a piece is cut in two and what the cut becomes: a seam
// from a place on edge i to a place on edge j, another one. The part behind the
// cut, walked from i forward to j, goes to a new piece; the other keeps the
// old piece's name.
type parting struct {
	// Edge i ends at iEnds on the kept part and starts again at iStarts on the
	// taken one, mm along it; what lies between, as a dart's mouth, is taken out.
	i              int
	iEnds, iStarts float64
	// The other way round for j: it ends at jEnds on the taken part and starts
	// again at jStarts on the kept one.
	j              int
	jEnds, jStarts float64
	// The two sides of the seam from i to j, of equal length.
	kept, taken geom.Path
	seam        string        // the new edges' name, and the seam's
	role        string        // the new edges' role; empty is the name's own
	piece       pattern.Piece // name, title, role and cut of the new piece
	marks       []float64     // where pairs of notches go, mm along the seam from i
}

// part cuts the piece in two. Everything on the boundary and inside goes with
// the part it lies on; the seam between them is made, with its notches.
func (e *edit) part(w *work, c parting) *work {
	w.touched = true
	part := &work{touched: true, Piece: c.piece}
	rest := &work{}
	original := w.Edges
	walkInto := func(dst *work, i int, a float64, j int, b float64) {
		k := i
		for _, l := range w.walk(i, a, j, b) {
			if len(l) > 0 {
				dst.Edges = append(dst.Edges, original[k])
				dst.lines = append(dst.lines, l)
			}
			k = w.next(k)
		}
	}
	seamInto := func(dst *work, path geom.Path) {
		dst.Edges = append(dst.Edges, pattern.Edge{Name: c.seam, Role: c.role})
		dst.lines = append(dst.lines, drawn(path...))
	}
	walkInto(part, c.i, c.iStarts, c.j, c.jEnds)
	seamInto(part, c.taken.Reverse())
	walkInto(rest, c.j, c.jStarts, c.i, c.iEnds)
	seamInto(rest, c.kept)
	// Begin where the whole piece began, so that files change as little as can be.
	rest.startAt(original[0].Name)
	w.Edges, w.lines = rest.Edges, rest.lines
	w.heal()
	part.heal()

	outline := part.outline()
	w.Landmarks = slices.DeleteFunc(w.Landmarks, func(l pattern.Landmark) bool {
		if onPart(l.At, part.lines[:len(part.lines)-1], outline) { // all but the new seam
			part.Landmarks = append(part.Landmarks, l)
			return true
		}
		return false
	})
	part.Grain = grainThrough(outline, w.Grain)
	if w.Grain.Given() && geom.Contains(outline, w.Grain.From.Lerp(w.Grain.To, 0.5)) {
		w.Grain = grainThrough(w.outline(), w.Grain)
	}
	e.pieces = slices.Insert(e.pieces, slices.Index(e.pieces, w)+1, part)
	e.made = append(e.made, pattern.Seam{
		Name:    freshSeamName(e, c.seam),
		A:       pattern.Run{{Piece: w.Name, Edge: c.seam}},
		B:       pattern.Run{{Piece: part.Name, Edge: c.seam, Backwards: true}},
		Meeting: pattern.Meeting{Kind: pattern.Plain},
	})
	for k, at := range c.marks {
		n := pattern.Notch{Name: c.seam, Edge: c.seam, At: at, Count: 1}
		if k > 0 {
			n.Name = fmt.Sprintf("%s-%d", c.seam, k+1)
		}
		w.fresh.notches = append(w.fresh.notches, n)
		n.At = c.taken.Length() - at
		part.fresh.notches = append(part.fresh.notches, n)
	}
	return part
}

// startAt turns the list of edges so that it begins with the edge of that
// name, if the piece has it.
func (w *work) startAt(name string) {
	if i := w.EdgeIndex(name); i > 0 {
		w.Edges = append(w.Edges[i:len(w.Edges):len(w.Edges)], w.Edges[:i]...)
		w.lines = append(w.lines[i:len(w.lines):len(w.lines)], w.lines[:i]...)
	}
}
