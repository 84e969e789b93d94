package alter

import (
	"fmt"
	"math"

	"bygone.example/core/cutline"
	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

const (
	// leastTreated in mm is the width from which a corner is worth a shape: less
	// is trimmed by eye. From memory.
	leastTreated = 4
	// nearlySquare in radians is how far a seam may end off the right angle and
	// its raw edges still be level: 1 mm on a 15 mm allowance.
	nearlySquare = 4 * math.Pi / 180
)

// shapeCorners gives the corners of the cut line the house's shape (common
// practice): a hem's allowance is turned back along its neighbour, two hems that
// meet are mitred, and where seams meet at a slant both sides of the one that is
// closed first end alike and square to it, so that their raw edges are level.
// Corners that cut in, at a fold or without allowance are plain.
func (e *edit) shapeCorners() {
	for _, w := range e.pieces {
		for i := range w.Edges {
			w.Edges[i].Corner = cornerRule(w, i)
		}
	}
}

// tellCorners tells how many corners have a shape that they had not.
func (e *edit) tellCorners() {
	for _, told := range []struct {
		corner pattern.Corner
		what   string
	}{
		{pattern.Turned, "corners turned back at a hem"}, {pattern.Matched, "corners ending square to a seam"},
	} {
		before, now := 0, 0
		for i := range e.in.Pieces {
			before += shapedSo(e.in.Pieces[i].Edges, told.corner)
		}
		for _, w := range e.pieces {
			now += shapedSo(w.Edges, told.corner)
		}
		if before != now {
			e.changed(told.what, "", float64(before), float64(now), "")
		}
	}
}

func shapedSo(edges []pattern.Edge, k pattern.Corner) (n int) {
	for _, edge := range edges {
		if edge.Corner == k {
			n++
		}
	}
	return n
}

// cornerRule is the house's shape of the corner after edge i.
func cornerRule(w *work, i int) pattern.Corner {
	n := len(w.Edges)
	a, b := &w.Edges[i], &w.Edges[(i+1)%n]
	if n < 2 || cutline.Width(a) < leastTreated || cutline.Width(b) < leastTreated {
		return pattern.Meet
	}
	turn := geom.Turn(w.lines[i].path().EndDirection(), w.lines[(i+1)%n].path().StartDirection())
	hems := 0
	for _, edge := range []*pattern.Edge{a, b} {
		if edge.Finish == pattern.Hemmed {
			hems++
		}
	}
	switch {
	case turn < nearlySquare: // it cuts in, or hardly turns
		return pattern.Meet
	case hems == 1, hems == 2 && a.Allowance == b.Allowance && a.Allowance > hemMitred:
		return pattern.Turned
	case hems == 0 && a.Finish == pattern.Sewn && b.Finish == pattern.Sewn && math.Abs(turn-math.Pi/2) > nearlySquare:
		return pattern.Matched
	}
	return pattern.Meet
}

// hemMitred in mm is the width of hem above which a corner of two is worth a
// mitre: twice the ¼ in that is left beyond the corner.
const hemMitred = 12.7

// CornerShape says how the cut line turns at one corner.
type CornerShape struct {
	Piece, Edge string // the edge that ends in the corner
	Shape       pattern.Corner
}

// SetCorner shapes one corner of a cut line. Where it is matched, and an edge of
// the corner is sewn, OfPattern of the cut lines gives the seam's other side the
// same end.
//
// Kept: every seam line and every width. Degenerate: a shape there is no room for
// is drawn as if the cut lines met, and the cut line's notes say so; a corner
// without an allowance is refused.
func SetCorner(p *pattern.Pattern, c CornerShape) (*operation.Answer, error) {
	e := begin(p)
	w, i, err := e.edgeNamed(c.Piece, c.Edge)
	if err != nil {
		return nil, err
	}
	next := &w.Edges[(i+1)%len(w.Edges)]
	if cutline.Width(&w.Edges[i]) == 0 && cutline.Width(next) == 0 {
		return nil, refuse(fmt.Sprintf("neither %s nor %s of piece %q has an allowance: the cut line is the seam line there", c.Edge, next.Name, c.Piece), "set the allowances first")
	}
	if w.Edges[i].Corner == c.Shape {
		return nil, refuse(fmt.Sprintf("the corner after %s of piece %q has that shape already", c.Edge, c.Piece), "leave the step out")
	}
	w.Edges[i].Corner = c.Shape
	e.changed("corners of the cut line shaped", w.Name, 0, 1, "")
	return e.finish()
}
