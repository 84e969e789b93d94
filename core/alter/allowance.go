package alter

import (
	"slices"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Allowances are a house's widths in mm by what an edge is.
type Allowances struct {
	Seam  float64 // straight seams
	Curve float64 // necklines, armscyes, sleeve heads
	Hem   float64 // skirt hems
	Small float64 // hems of sleeves, and open edges
}

// SetAllowances gives every edge its allowance: none on folds, the curve's width
// on necklines, armscyes and sleeve heads and on what is sewn to them, the
// hem's on skirt hems, the small one on other hems and open edges, and the
// seam's on the rest.
//
// Both sides of a seam get one width: the smaller that either side asks for.
func SetAllowances(p *pattern.Pattern, a Allowances) (*operation.Answer, error) {
	for _, w := range []float64{a.Seam, a.Curve, a.Hem, a.Small} {
		if w < 0 {
			return nil, refuse("an allowance cannot be less than nothing", "give widths of 0 mm or more")
		}
	}
	e := begin(p)
	width := func(w *work, edge pattern.Edge) float64 {
		switch {
		case edge.Finish == pattern.Fold:
			return 0
		case edge.Is() == pattern.Neckline || edge.Is() == pattern.Armscye || edge.Is() == pattern.Cap:
			return a.Curve
		case edge.Finish == pattern.Hemmed && (w.Role == pattern.SkirtFront || w.Role == pattern.SkirtBack):
			return a.Hem
		case edge.Finish == pattern.Hemmed || edge.Finish == pattern.Faced:
			return a.Small
		case edge.Finish == pattern.Bound:
			return 0 // the binding covers the raw edge
		}
		return a.Seam
	}
	counts := map[float64]int{}
	for _, w := range e.pieces {
		for i := range w.Edges {
			w.Edges[i].Allowance = width(w, w.Edges[i])
		}
	}
	for _, s := range e.seams {
		least := a.Seam
		each := func(set bool) {
			for _, ref := range append(append(pattern.Run(nil), s.A...), s.B...) {
				w := e.piece(ref.Piece)
				if w == nil {
					continue
				}
				if edge := w.Edge(ref.Edge); edge != nil && edge.Finish == pattern.Sewn {
					least = min(least, edge.Allowance)
					if set {
						edge.Allowance = least
					}
				}
			}
		}
		each(false)
		each(true)
	}
	for _, w := range e.pieces {
		for _, edge := range w.Edges {
			counts[edge.Allowance]++
		}
	}
	e.changed("edges with an allowance", "", withAllowance(p), float64(edgeCount(p)-counts[0]), "")
	e.changed("seam allowance", "", 0, a.Seam, "mm")
	e.changed("allowance on necklines, armscyes and sleeve heads", "", 0, a.Curve, "mm")
	e.changed("skirt hem", "", 0, a.Hem, "mm")
	return e.finish()
}

// matchAllowances gives an edge that a new piece is sewn to the allowance of the
// new piece's edge, since both raw edges are laid together. A piece that has no
// allowance anywhere is drawn to its seam lines, and stays so.
func (e *edit) matchAllowances(out *pattern.Pattern) {
	for _, s := range e.made {
		for _, sides := range [...][2]pattern.Run{{s.A, s.B}, {s.B, s.A}} {
			width, ok := e.newWidth(out, sides[0])
			if !ok {
				continue
			}
			for _, ref := range sides[1] {
				if was := e.in.Piece(ref.Piece); was == nil || !anyAllowance(was) {
					continue
				}
				if edge := out.Edge(ref); edge != nil && edge.Finish == pattern.Sewn {
					edge.Allowance = width
				}
			}
		}
	}
}

// newWidth returns the one allowance, more than nothing, that all edges of a run
// over new pieces have.
func (e *edit) newWidth(out *pattern.Pattern, run pattern.Run) (width float64, ok bool) {
	for _, ref := range run {
		edge := out.Edge(ref)
		if edge == nil || e.in.Piece(ref.Piece) != nil || edge.Allowance <= 0 || ok && edge.Allowance != width {
			return 0, false
		}
		width, ok = edge.Allowance, true
	}
	return width, ok
}

func anyAllowance(p *pattern.Piece) bool {
	return slices.ContainsFunc(p.Edges, func(e pattern.Edge) bool { return e.Allowance > 0 })
}

func withAllowance(p *pattern.Pattern) float64 {
	n := 0.0
	for _, piece := range p.Pieces {
		for _, edge := range piece.Edges {
			if edge.Allowance > 0 {
				n++
			}
		}
	}
	return n
}

func edgeCount(p *pattern.Pattern) int {
	n := 0
	for _, piece := range p.Pieces {
		n += len(piece.Edges)
	}
	return n
}
