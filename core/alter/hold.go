package alter

import (
	"math"
	"slices"

	"bygone.example/core/pattern"
)

// pairUp gives a notch that an edge already had its partner, where the operation
// has sewn that edge to something.
func (e *edit) pairUp(out *pattern.Pattern) {
	for i := range e.made {
		s := out.Seam(e.made[i].Name)
		if s == nil || len(s.B) == 0 {
			continue
		}
		for _, sides := range [2][2]pattern.Run{{s.A, s.B}, {s.B, s.A}} {
			own, other := sides[0], sides[1]
			mates := places(out, other)
			for _, n := range notchesAlong(out, own) {
				mark := out.Piece(n.piece).Notches[n.index]
				if _, paired := mates[n.name]; paired || !e.had(n.piece, mark) {
					continue
				}
				mark.Edge = ""
				addNotch(out, other, mark, n.sewn/out.RunLength(own)*out.RunLength(other))
			}
		}
	}
}

// had reports whether a piece of the input had a notch of that name on that edge.
func (e *edit) had(piece string, n pattern.Notch) bool {
	p := e.in.Piece(piece)
	return p != nil && slices.ContainsFunc(p.Notches, func(o pattern.Notch) bool { return o.Name == n.Name && o.Edge == n.Edge })
}

// holdLong gives a seam that the operation made, or made long, a pair of notches
// in its middle where it has none.
func (e *edit) holdLong(out *pattern.Pattern) {
	for i := range out.Seams {
		s := &out.Seams[i]
		if len(s.B) == 0 || !unheld(out, s) {
			continue
		}
		if old := e.in.Seam(s.Name); old != nil && len(old.B) > 0 && (unheld(e.in, old) || math.Abs(e.in.RunLength(old.A)-out.RunLength(s.A)) < cutSliver) {
			continue // it came so
		}
		taken := map[string]bool{}
		for _, n := range slices.Concat(notchesAlong(out, s.A), notchesAlong(out, s.B)) {
			taken[n.name] = true
		}
		n := pattern.Notch{Name: freshAmong(taken, shortened(s.Name)), Count: 1}
		seen := map[string]bool{s.Name: true}
		holdThrough(out, s.A, n, out.RunLength(s.A)/2, seen)
		holdThrough(out, s.B, n, out.RunLength(s.B)/2, seen)
	}
}

// unheld reports whether a seam is long and has no notch.
func unheld(p *pattern.Pattern, s *pattern.Seam) bool {
	return len(s.B) > 0 && math.Max(p.RunLength(s.A), p.RunLength(s.B)) > markedFrom &&
		len(notchesAlong(p, s.A)) == 0 && len(notchesAlong(p, s.B)) == 0
}

// holdThrough puts a notch at sewn mm along a run, and its partner on whatever
// that edge is sewn to in seams other than those seen.
func holdThrough(p *pattern.Pattern, run pattern.Run, n pattern.Notch, sewn float64, seen map[string]bool) {
	var on pattern.EdgeRef
	for i, r := range run {
		on = r
		long := p.Piece(r.Piece).SewnLength(r.Edge)
		if sewn <= long || i == len(run)-1 {
			break
		}
		sewn -= long
	}
	if hasNotch(p, on, n.Name) {
		return
	}
	addNotch(p, pattern.Run{on}, n, sewn)
	if on.Backwards {
		sewn = p.Piece(on.Piece).SewnLength(on.Edge) - sewn
	}
	for _, s := range p.Seams {
		for _, sides := range [2][2]pattern.Run{{s.A, s.B}, {s.B, s.A}} {
			own, other := sides[0], sides[1]
			if seen[s.Name] || len(other) == 0 || !own.Has(on.Piece, on.Edge) {
				continue
			}
			seen[s.Name] = true
			at := 0.0
			for _, r := range own {
				long := p.Piece(r.Piece).SewnLength(r.Edge)
				if r.Piece == on.Piece && r.Edge == on.Edge {
					if r.Backwards {
						at += long - sewn
					} else {
						at += sewn
					}
					break
				}
				at += long
			}
			holdThrough(p, other, n, mateOf(p, own, other, at), seen)
		}
	}
}
