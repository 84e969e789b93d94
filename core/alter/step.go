package alter

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"bygone.example/core/pattern"
)

// Two notches of a pair count as in step when they are this near in mm along
// the sewn seam: half of what a notch's slit measures across a table.
const inStep = 0.5

// keepInStep moves notches that met their mates on the input and, because one
// side of the seam was redrawn, no longer do. The side that was redrawn follows
// the one that was not; where both were, B follows A. Ease lies between the
// notches as it did.
func (e *edit) keepInStep(out *pattern.Pattern, l pattern.Lineage) {
	redrawn := redrawnEdges(l)
	for i := range out.Seams {
		s := &out.Seams[i]
		old := e.in.Seam(s.Name)
		if old == nil || len(s.B) == 0 || slices.Contains(e.settled, s.Name) {
			continue
		}
		oldA, oldB := e.in.RunLength(old.A), e.in.RunLength(old.B)
		if !slices.Contains(e.restep, s.Name) && !redrawn.any(s.A) && !redrawn.any(s.B) &&
			math.Abs(out.RunLength(s.A)-oldA) < cutSliver && math.Abs(out.RunLength(s.B)-oldB) < cutSliver {
			continue // this seam is as it was
		}
		lead, follow, oldLead, oldFollow := s.A, s.B, old.A, old.B
		if redrawn.any(s.A) && !redrawn.any(s.B) {
			lead, follow, oldLead, oldFollow = s.B, s.A, old.B, old.A
		}
		was, mates := places(e.in, oldLead), places(out, lead)
		wasFollow := places(e.in, oldFollow)
		oldEase := e.in.RunLength(oldFollow) - e.in.RunLength(oldLead)
		ease := out.RunLength(follow) - out.RunLength(lead)
		moving := notchesAlong(out, follow)
		// A notch put onto another piece leaves a gap in its own piece's list.
		slices.SortFunc(moving, func(a, b along) int { return cmp.Compare(b.index, a.index) })
		for _, n := range moving {
			was, onLead := was[n.key()]
			wasFollow, onFollow := wasFollow[n.key()]
			wanted, here := mates[n.key()]
			if !onLead || !onFollow || !here {
				continue
			}
			// share is how much of the seam's ease lies before the notch.
			share := was / e.in.RunLength(oldLead)
			switch met := wasFollow - was; {
			case met < min(0, oldEase)-inStep || met > max(0, oldEase)+inStep:
				continue // it did not meet its mate before, ease allowed for
			case math.Abs(oldEase) > inStep:
				share = met / oldEase
			}
			wanted += share * ease
			if math.Abs(n.sewn-wanted) > inStep/10 {
				putNotch(out, follow, n, wanted)
			}
		}
	}
}

// places returns where the notches of a run stand along it sewn, by along.key.
func places(p *pattern.Pattern, run pattern.Run) map[string]float64 {
	found := map[string]float64{}
	for _, n := range notchesAlong(p, run) {
		found[n.key()] = n.sewn
	}
	return found
}

// edgeSet is a set of edges.
type edgeSet map[edgeKey]bool

// redrawnEdges returns the edges that are not, stretch for stretch, as long as
// what they came from.
func redrawnEdges(l pattern.Lineage) edgeSet {
	set := edgeSet{}
	for _, s := range l {
		if s.Added() || math.Abs(s.New.Length()-s.Old.Length()) > cutSliver {
			set[edgeKey{s.New.Piece, s.New.Edge}] = true
		}
	}
	return set
}

func (s edgeSet) any(r pattern.Run) bool {
	for _, ref := range r {
		if s[edgeKey{ref.Piece, ref.Edge}] {
			return true
		}
	}
	return false
}

// along is a notch on a run of edges, sewn mm from the run's start.
type along struct {
	name  string
	piece string
	index int // in the piece's notches
	sewn  float64
	nth   int // which of that name on the run: two edges of it may each have one
}

// key tells the notches of a run apart: the name, and a number from the second of
// that name on.
func (a along) key() string {
	if a.nth == 0 {
		return a.name
	}
	return fmt.Sprintf("%s %d", a.name, a.nth)
}

func notchesAlong(p *pattern.Pattern, run pattern.Run) []along {
	var found []along
	done := 0.0
	for _, ref := range run {
		piece := p.Piece(ref.Piece)
		if piece == nil {
			continue
		}
		long := piece.SewnLength(ref.Edge)
		for k, n := range piece.Notches {
			if n.Edge != ref.Edge {
				continue
			}
			at := piece.SewnPosition(ref.Edge, n.At)
			if ref.Backwards {
				at = long - at
			}
			found = append(found, along{name: n.Name, piece: piece.Name, index: k, sewn: done + at})
		}
		done += long
	}
	for i := range found {
		for k := range found {
			if found[k].name == found[i].name && (found[k].sewn < found[i].sewn || found[k].sewn == found[i].sewn && k < i) {
				found[i].nth++
			}
		}
	}
	return found
}

// putNotch moves a notch to sewn mm along a run; onto another edge of it, and
// another piece, if need be.
func putNotch(p *pattern.Pattern, run pattern.Run, n along, sewn float64) {
	done := 0.0
	for i, ref := range run {
		piece := p.Piece(ref.Piece)
		long := piece.SewnLength(ref.Edge)
		if sewn > done+long && i < len(run)-1 && !(ref.Piece == n.piece && p.Piece(n.piece).Notches[n.index].Edge == ref.Edge && hasNotch(p, run[i+1], n.name)) {
			done += long
			continue
		}
		at := math.Max(0, math.Min(long, sewn-done))
		if ref.Backwards {
			at = long - at
		}
		from := p.Piece(n.piece)
		mark := from.Notches[n.index]
		mark.Edge, mark.At = ref.Edge, piece.FlatPosition(ref.Edge, at)
		if from == piece {
			from.Notches[n.index] = mark
			return
		}
		from.Notches = append(from.Notches[:n.index:n.index], from.Notches[n.index+1:]...)
		piece.Notches = append(piece.Notches, mark)
		return
	}
}

// hasNotch reports whether an edge has a notch of that name: it cannot have two.
func hasNotch(p *pattern.Pattern, ref pattern.EdgeRef, name string) bool {
	piece := p.Piece(ref.Piece)
	return piece != nil && slices.ContainsFunc(piece.Notches, func(n pattern.Notch) bool { return n.Edge == ref.Edge && n.Name == name })
}
