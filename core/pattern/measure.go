package pattern

import (
	"cmp"
	"slices"
)

// takeUp is a stretch of an edge that sews to a shorter length.
type takeUp struct {
	from, to, sewn float64
	folds          []takeUp // inside gathers, in order: folded before those are drawn up
}

// net returns how much of the stretch up to at is left once the folds inside it
// are folded.
func (t takeUp) net(at float64) float64 {
	left := at - t.from
	for _, f := range t.folds {
		left -= max(0, min(at, f.to)-max(f.from, t.from))
	}
	return left
}

// drawn returns how far into the sewn stretch the place at comes to lie.
func (t takeUp) drawn(at float64) float64 {
	if whole := t.net(t.to); whole > 0 {
		return t.net(at) / whole * t.sewn
	}
	return 0
}

// undrawn is the inverse of drawn; where a fold hides a stretch, its start.
func (t takeUp) undrawn(sewn float64) float64 {
	at := t.from + sewn/t.sewn*t.net(t.to)
	for _, f := range t.folds {
		if at > f.from {
			at += f.to - f.from
		}
	}
	return at
}

// takeUps returns what darts, pleats and gathers do to the edge, in order
// along it, gathers with what lies inside them folded in already.
func (p *Piece) takeUps(edge string) []takeUp {
	var folds, drawn []takeUp
	for _, d := range p.Darts {
		if d.Edge == edge {
			folds = append(folds, takeUp{from: d.From, to: d.To})
		}
	}
	for _, d := range p.Pleats {
		if d.Edge == edge {
			folds = append(folds, takeUp{from: d.From, to: d.To})
		}
	}
	for _, g := range p.Gathers {
		if g.Edge == edge {
			drawn = append(drawn, takeUp{from: g.From, to: g.To, sewn: g.Length})
		}
	}
	byPlace := func(a, b takeUp) int { return cmp.Compare(a.from, b.from) }
	slices.SortFunc(folds, byPlace)
	folds = slices.DeleteFunc(folds, func(f takeUp) bool {
		i := slices.IndexFunc(drawn, func(g takeUp) bool { return inside(f.from, f.to, g.from, g.to) })
		if i >= 0 {
			drawn[i].folds = append(drawn[i].folds, f)
		}
		return i >= 0
	})
	all := append(folds, drawn...)
	slices.SortFunc(all, byPlace)
	return all
}

// inside reports whether a fold lies wholly inside a gather, as Validate sees it.
func inside(from, to, gatherFrom, gatherTo float64) bool {
	return from >= gatherFrom-PlaceTolerance && to <= gatherTo+PlaceTolerance
}

// SewnLength returns the edge's length once darts and pleats are folded and
// gathers drawn up, in mm; of an edge that is not there, 0.
func (p *Piece) SewnLength(edge string) float64 {
	e := p.Edge(edge)
	if e == nil {
		return 0
	}
	return p.SewnPosition(edge, e.Path.Length())
}

// SewnPosition returns how far along the sewn edge the point at mm along the
// flat edge comes to lie. Inside a dart or pleat that is where it is folded
// away; inside gathers it is in proportion, net of the folds that lie inside them
// too.
func (p *Piece) SewnPosition(edge string, at float64) float64 {
	sewn := at
	for _, t := range p.takeUps(edge) {
		switch {
		case at >= t.to:
			sewn -= t.to - t.from - t.sewn
		case at > t.from:
			sewn -= at - t.from - t.drawn(at)
		}
	}
	return sewn
}

// FlatPosition is the inverse of SewnPosition: the place on the flat edge that
// comes to lie at sewn mm along the sewn one. Where a fold hides a stretch, its
// start is returned.
func (p *Piece) FlatPosition(edge string, sewn float64) float64 {
	at, done := 0.0, 0.0 // flat and sewn length dealt with so far
	for _, t := range p.takeUps(edge) {
		if plain := t.from - at; sewn <= done+plain {
			break
		}
		done += t.from - at
		if sewn <= done+t.sewn {
			return t.undrawn(sewn - done)
		}
		done += t.sewn
		at = t.to
	}
	return at + sewn - done
}

// RunLength returns the sewn length of a run of edges, in mm.
func (p *Pattern) RunLength(run Run) float64 {
	var sum float64
	for _, ref := range run {
		if piece := p.Piece(ref.Piece); piece != nil {
			sum += piece.SewnLength(ref.Edge)
		}
	}
	return sum
}

// Area returns the area that the piece's boundary encloses, in mm², below 0 when
// its edges run clockwise. Of a half piece it is the half's.
func (p *Piece) Area() float64 {
	var sum float64
	for i := range p.Edges {
		sum += p.Edges[i].Path.Area()
	}
	return sum
}
