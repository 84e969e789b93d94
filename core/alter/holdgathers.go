package alter

import (
	"math"
	"slices"
	"strings"

	"bygone.example/core/pattern"
)

// holdGathers gives the gathers that the operation laid, or laid elsewhere,
// notches where they begin and end, with their partners on what they are sewn to:
// between them the fullness is drawn up, and beside them the edge lies flat. The
// notches of gathers that are there no longer go.
func (e *edit) holdGathers(out *pattern.Pattern) {
	for _, piece := range e.in.Pieces {
		for _, g := range piece.Gathers {
			if now := gatherOf(out.Piece(piece.Name), g.Name); now == nil || e.relaid(piece.Name, g.Name) {
				e.dropEndNotches(out, piece.Name, g)
			}
		}
	}
	for i := range out.Seams {
		s := &out.Seams[i]
		for _, sides := range [2][2]pattern.Run{{s.A, s.B}, {s.B, s.A}} {
			done := 0.0
			for _, ref := range sides[0] {
				piece := out.Piece(ref.Piece)
				long := piece.SewnLength(ref.Edge)
				for _, g := range piece.Gathers {
					if g.Edge != ref.Edge || !g.Kind.Shows() || !e.relaid(piece.Name, g.Name) {
						continue
					}
					ends := []float64{piece.SewnPosition(g.Edge, g.From), piece.SewnPosition(g.Edge, g.To)}
					if ref.Backwards {
						ends[0], ends[1] = long-ends[1], long-ends[0]
					}
					for _, at := range ends {
						if at > endNotchClear && at < long-endNotchClear {
							holdEnd(out, s, sides[0], sides[1], endNotch(g), done+at)
						}
					}
				}
				done += long
			}
		}
	}
}

// endNotchClear in mm is how near an edge's end, or another notch, the end of
// gathers needs no notch of its own: that marks it well enough (from memory).
const endNotchClear = 5.0

// endNotch is what the notches at the ends of gathers are called; the second of
// them on a seam has a number after it.
func endNotch(g pattern.Gather) string { return shortened(g.Name + "-end") }

// gatherOf returns the gathers of that name on a piece, nil if there are none.
func gatherOf(p *pattern.Piece, name string) *pattern.Gather {
	if p == nil {
		return nil
	}
	if i := slices.IndexFunc(p.Gathers, func(g pattern.Gather) bool { return g.Name == name }); i >= 0 {
		return &p.Gathers[i]
	}
	return nil
}

// relaid reports whether the operation has laid these gathers, or moved them
// along their edge. Those that only came along have their notches, or none.
func (e *edit) relaid(piece, gathers string) bool {
	w := e.piece(piece)
	return e.laid[edgeKey{piece, gathers}] || w != nil && slices.ContainsFunc(w.fresh.gathers, func(g pattern.Gather) bool { return g.Name == gathers })
}

// holdEnd puts a pair of notches at sewn mm along one side of a seam and where
// that meets the other, unless there is one near.
func holdEnd(p *pattern.Pattern, s *pattern.Seam, own, other pattern.Run, name string, sewn float64) {
	taken := map[string]bool{}
	for _, n := range notchesAlong(p, own) {
		if math.Abs(n.sewn-sewn) < endNotchClear {
			return
		}
		taken[n.name] = true
	}
	mate := mateOf(p, own, other, sewn)
	for _, n := range notchesAlong(p, other) {
		if math.Abs(n.sewn-mate) < endNotchClear {
			return
		}
		taken[n.name] = true
	}
	n := pattern.Notch{Name: freshAmong(taken, name), Count: 1}
	seen := map[string]bool{s.Name: true}
	holdThrough(p, own, n, sewn, seen)
	if len(other) > 0 {
		holdThrough(p, other, n, mate, seen)
	}
}

// mateOf returns the place along a run that meets one on the other side of its
// seam, sewn mm from its start: between the notches there are, in proportion.
func mateOf(p *pattern.Pattern, own, other pattern.Run, sewn float64) float64 {
	if len(other) == 0 {
		return math.Inf(1)
	}
	mates := places(p, other)
	from, fromMate, to, toMate := 0.0, 0.0, p.RunLength(own), p.RunLength(other)
	for _, n := range notchesAlong(p, own) {
		mate, paired := mates[n.key()]
		switch {
		case !paired:
		case n.sewn <= sewn && n.sewn >= from:
			from, fromMate = n.sewn, mate
		case n.sewn > sewn && n.sewn <= to:
			to, toMate = n.sewn, mate
		}
	}
	if to-from < cutSliver {
		return fromMate
	}
	return fromMate + (sewn-from)/(to-from)*(toMate-fromMate)
}

// dropEndNotches takes away the notches that marked where gathers began and
// ended, and their partners.
func (e *edit) dropEndNotches(out *pattern.Pattern, piece string, g pattern.Gather) {
	name := endNotch(g)
	marks := func(n pattern.Notch, edge string) bool {
		return n.Edge == edge && (n.Name == name || strings.HasPrefix(n.Name, name+"-"))
	}
	drop := func(piece, edge string) {
		if p := out.Piece(piece); p != nil {
			p.Notches = slices.DeleteFunc(p.Notches, func(n pattern.Notch) bool { return marks(n, edge) })
		}
	}
	was := out.Piece(piece)
	if was == nil || !slices.ContainsFunc(was.Notches, func(n pattern.Notch) bool { return marks(n, g.Edge) }) {
		return
	}
	drop(piece, g.Edge)
	for _, s := range out.Seams {
		if s.A.Has(piece, g.Edge) || s.B.Has(piece, g.Edge) {
			for _, ref := range slices.Concat(s.A, s.B) {
				drop(ref.Piece, ref.Edge)
			}
		}
	}
}
