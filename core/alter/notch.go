package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// NotchRule says which seams get notches.
type NotchRule struct {
	// LongerThan is the sewn length in mm from which a seam gets a notch at its
	// middle; from twice that it gets them at the quarters too.
	LongerThan float64
	// Clear is how far in mm a new notch stays from edge ends, darts and other
	// notches.
	Clear float64
}

// PlaceNotches puts pairs of notches at the middle, and on long seams at the
// quarters, of every seam that has none near there already: on both sides at
// the same share of the sewn length, so that they meet when walked; of a plain
// seam whose sides differ at the same length from its start. Of a seam
// sewn to its own mirror image one side is marked; the other is its copy.
//
// Kept: every line, and the notches there are.
func PlaceNotches(p *pattern.Pattern, r NotchRule) (*operation.Answer, error) {
	if r.LongerThan <= 0 || r.Clear < 0 {
		return nil, refuse("notches need a seam length from which they are set", "give one of more than 0 mm")
	}
	e := begin(p)
	p = e.in
	before, placed := notchCount(p), 0
	for i := range p.Seams {
		placed += e.placeAlong(&p.Seams[i], r)
	}
	e.changed("notches", "", before, before+float64(placed), "")
	return e.finish()
}

// placeAlong puts pairs of notches along one seam and returns how many notches
// it put.
func (e *edit) placeAlong(s *pattern.Seam, r NotchRule) (placed int) {
	long := e.in.RunLength(s.A)
	var shares []float64
	if long >= r.LongerThan {
		shares = []float64{0.5}
	}
	if long >= 2*r.LongerThan {
		shares = []float64{0.25, 0.5, 0.75}
	}
	for k, share := range shares {
		name := e.freshMark(*s, k+1)
		a, okA := e.spot(s.A, share*long, r.Clear)
		if !okA {
			continue
		}
		if len(s.B) == 0 {
			placed += e.markThrough(a, name, map[string]bool{s.Name: true})
			continue
		}
		b, okB := e.spot(s.B, e.mateAt(*s, share*long), r.Clear)
		if !okB {
			continue
		}
		seen := map[string]bool{s.Name: true}
		placed += e.markThrough(a, name, seen) + e.markThrough(b, name, seen)
	}
	return placed
}

func notchCount(p *pattern.Pattern) float64 {
	n := 0
	for _, piece := range p.Pieces {
		n += len(piece.Notches)
	}
	return float64(n)
}

// spot returns the place at sewn mm along a run, and whether a notch can stand
// there with room around it.
func (e *edit) spot(run pattern.Run, sewn, clear float64) (p place, ok bool) {
	for _, ref := range run {
		piece := e.in.Piece(ref.Piece)
		length := piece.SewnLength(ref.Edge)
		if sewn > length {
			sewn -= length
			continue
		}
		if ref.Backwards {
			sewn = length - sewn
		}
		at := piece.FlatPosition(ref.Edge, sewn)
		flat := piece.Edge(ref.Edge).Path.Length()
		if at < clear || at > flat-clear {
			return place{}, false
		}
		near := func(edge string, from, to float64) bool { return edge == ref.Edge && at > from-clear && at < to+clear }
		w := e.piece(ref.Piece)
		taken := slices.ContainsFunc(w.Darts, func(d pattern.Dart) bool { return near(d.Edge, d.From, d.To) }) ||
			slices.ContainsFunc(w.Pleats, func(f pattern.Pleat) bool { return near(f.Edge, f.From, f.To) }) ||
			slices.ContainsFunc(w.Notches, func(n pattern.Notch) bool { return near(n.Edge, n.At, n.At) }) ||
			slices.ContainsFunc(w.fresh.notches, func(n pattern.Notch) bool { return near(n.Edge, n.At, n.At) })
		return place{edgeKey{ref.Piece, ref.Edge}, at}, !taken && !math.IsNaN(at)
	}
	return place{}, false
}

// mateAt returns the place on side B of a seam, sewn mm from its start, that meets
// a place on side A: between the notches there are, in proportion, so that ease lies
// where it did. By what the sides of a plain seam differ, which is not meant, is
// left where it shows, at the next notch or the end.
func (e *edit) mateAt(s pattern.Seam, at float64) float64 {
	mates := places(e.in, s.B)
	fromA, fromB, toA, toB := 0.0, 0.0, e.in.RunLength(s.A), e.in.RunLength(s.B)
	for key, a := range places(e.in, s.A) {
		b, paired := mates[key]
		switch {
		case !paired:
		case a <= at && a >= fromA:
			fromA, fromB = a, b
		case a > at && a <= toA:
			toA, toB = a, b
		}
	}
	if s.Meeting.Kind == pattern.Plain {
		return fromB + at - fromA
	}
	if toA-fromA < cutSliver {
		return fromB
	}
	return fromB + (at-fromA)/(toA-fromA)*(toB-fromB)
}

// freshMark returns the seam's name and a number from n on that no notch on
// either of its sides has.
func (e *edit) freshMark(s pattern.Seam, n int) string {
	for ; ; n++ {
		name := fmt.Sprintf("%s-%d", s.Name, n)
		if !slices.ContainsFunc(slices.Concat(s.A, s.B), func(r pattern.EdgeRef) bool {
			w := e.piece(r.Piece)
			called := func(m pattern.Notch) bool { return m.Edge == r.Edge && m.Name == name }
			return slices.ContainsFunc(w.Notches, called) || slices.ContainsFunc(w.fresh.notches, called)
		}) {
			return name
		}
	}
}

// markThrough puts a single notch on a spot, and its partner on whatever that edge
// is sewn to in seams other than those seen: a layer basted onto it, or the seam
// that takes it besides. It returns how many it put.
func (e *edit) markThrough(p place, name string, seen map[string]bool) int {
	put := e.mark(p, name)
	for _, s := range e.in.Seams {
		for _, sides := range [2][2]pattern.Run{{s.A, s.B}, {s.B, s.A}} {
			if seen[s.Name] || !sides[0].Has(p.piece, p.edge) || len(sides[1]) == 0 {
				continue
			}
			seen[s.Name] = true
			share := sewnAlong(e.in, sides[0], p.piece, p.edge, p.at) / e.in.RunLength(sides[0])
			if at, ok := e.spot(sides[1], share*e.in.RunLength(sides[1]), 0); ok {
				put += e.markThrough(at, name, seen)
			}
		}
	}
	return put
}

// mark puts a single notch on a spot, and returns how many it put.
func (e *edit) mark(p place, name string) int {
	w := e.piece(p.piece)
	w.fresh.notches = append(w.fresh.notches, pattern.Notch{Name: name, Edge: p.edge, At: p.at, Count: 1})
	return 1
}
