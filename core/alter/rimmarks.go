package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/pattern"
)

// A mark every so often: longer seams than this in mm get a pair of notches, as
// the pairing check asks.
const markedFrom = 150

// markAlong gives edge of the new piece t the notches of the rim that is sewn
// to it, and both a pair at every joint of the rim. The new edge is sewn along
// its own direction, or against it; length is what it measures sewn.
func (e *edit) markAlong(r rim, t *work, edge string, length float64, against bool) {
	used := map[string]bool{}
	for _, n := range t.fresh.notches {
		if n.Edge == edge {
			used[n.Name] = true
		}
	}
	var taken []float64
	put := func(name string, count int, at float64) {
		taken = append(taken, at)
		used[name] = true
		if against {
			at = length - at
		}
		t.fresh.notches = append(t.fresh.notches, pattern.Notch{Name: name, Edge: edge, At: max(0, min(length, at)), Count: count})
	}
	unused := func(name string) string {
		for n, base := 2, name; used[name]; n++ {
			name = fmt.Sprintf("%s-%d", base, n)
		}
		return name
	}
	done := 0.0
	for k, s := range r.edges {
		piece := e.in.Piece(s.w.Name)
		long := piece.SewnLength(s.name())
		for j := range s.w.Notches {
			n := &s.w.Notches[j]
			if n.Edge != s.name() {
				continue
			}
			at := piece.SewnPosition(n.Edge, n.At)
			if s.against {
				at = long - at
			}
			if used[n.Name] { // two edges of a rim may each have one of a name
				e.renameNotch(n, s.w, unused(n.Name))
			}
			put(n.Name, n.Count, done+at)
		}
		done += long
		if k == len(r.edges)-1 || slices.ContainsFunc(taken, func(at float64) bool { return math.Abs(at-done) < inStep }) {
			continue
		}
		joint := pattern.Notch{Name: unused(t.Name + "-joint"), Edge: s.name(), Count: 1}
		if !s.against {
			joint.At = s.w.lines[s.i].length()
		}
		e.markBoth(s.w, joint)
		put(joint.Name, joint.Count, done)
	}
	if len(taken) > 0 || done <= markedFrom {
		return
	}
	if at, ok := e.spot(r.run(), done/2, 0); ok {
		name := unused(t.Name + "-middle")
		e.markBoth(e.piece(at.piece), pattern.Notch{Name: name, Edge: at.edge, At: at.at, Count: 1})
		put(name, 1, done/2)
	}
}

// renameNotch gives a notch another name, and its partners on layers that are
// basted onto its edge.
func (e *edit) renameNotch(n *pattern.Notch, w *work, name string) {
	for _, s := range e.seams {
		if s.Kind != pattern.Basted || !s.B.Has(w.Name, n.Edge) {
			continue
		}
		meets := sewnAlong(e.in, s.B, w.Name, n.Edge, n.At)
		for _, ref := range s.A {
			layer := e.piece(ref.Piece)
			for k := range layer.Notches {
				if m := &layer.Notches[k]; m.Edge == ref.Edge && m.Name == n.Name &&
					math.Abs(sewnAlong(e.in, s.A, ref.Piece, ref.Edge, m.At)-meets) < markedFrom/2 {
					layer.touched, m.Name = true, name
					break
				}
			}
		}
	}
	n.Name = name
}

// markBoth puts a notch on a piece, and its partner on whatever the edge is sewn
// to besides: a layer basted onto it, or the other side of its seam.
func (e *edit) markBoth(w *work, n pattern.Notch) {
	w.touched = true
	w.fresh.notches = append(w.fresh.notches, n)
	for _, s := range e.seams {
		for _, sides := range [2][2]pattern.Run{{s.A, s.B}, {s.B, s.A}} {
			if !sides[0].Has(w.Name, n.Edge) || len(sides[1]) == 0 {
				continue
			}
			share := sewnAlong(e.in, sides[0], w.Name, n.Edge, n.At) / e.in.RunLength(sides[0])
			if at, ok := e.spot(sides[1], share*e.in.RunLength(sides[1]), 0); ok {
				o := e.piece(at.piece)
				o.touched = true
				o.fresh.notches = append(o.fresh.notches, pattern.Notch{Name: n.Name, Edge: at.edge, At: at.at, Count: n.Count})
			}
		}
	}
}
