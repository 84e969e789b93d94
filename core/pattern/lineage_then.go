package pattern

import "math"

// Then returns the lineage of two operations done one after the other: l leads
// from the first pattern to the second, next from the second to the third.
func (l Lineage) Then(next Lineage) Lineage {
	const touch = 1e-9 // mm: shorter stretches are rounding
	type key struct{ piece, edge string }
	byNew := map[key][]Span{}
	for _, s := range l {
		k := key{s.New.Piece, s.New.Edge}
		byNew[k] = append(byNew[k], s)
	}
	var out Lineage
	for _, n := range next {
		if n.Added() || n.Old.Length() <= 0 {
			out = append(out, n)
			continue
		}
		onNew := func(mid float64) float64 {
			return n.New.From + (mid-n.Old.From)/n.Old.Length()*n.New.Length()
		}
		for _, s := range byNew[key{n.Old.Piece, n.Old.Edge}] {
			from, to := math.Max(s.New.From, n.Old.From), math.Min(s.New.To, n.Old.To)
			if to-from <= touch {
				continue
			}
			joined := Span{New: Stretch{n.New.Piece, n.New.Edge, onNew(from), onNew(to)}}
			if !s.Added() {
				onOld := func(mid float64) float64 {
					return s.Old.From + (mid-s.New.From)/s.New.Length()*s.Old.Length()
				}
				joined.Old = Stretch{s.Old.Piece, s.Old.Edge, onOld(from), onOld(to)}
			}
			out = append(out, joined)
		}
	}
	return out
}
