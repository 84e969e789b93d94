package alter

import (
	"fmt"
	"math"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

const (
	// movedChord is how closely in mm curves are followed to measure how far they
	// have moved: a tenth of a pencil line.
	movedChord = 0.02
	// movedStep is how far apart in mm a line is looked at: between two such places
	// the distance to a smooth line changes by less than movedChord.
	movedStep = 4.0
	// boundSlack in mm is what a move may exceed its bound by: what measuring along
	// chords leaves.
	boundSlack = 0.01
)

// Moved returns how far in mm one line lies from another: the greatest distance
// of any place of either from the nearest place of the other (Hausdorff's), by
// chords, within a few hundredths of a millimetre. Of an empty path it is 0.
func Moved(before, after geom.Path) float64 {
	if len(before) == 0 || len(after) == 0 {
		return 0
	}
	a, b := before.Flatten(movedChord), after.Flatten(movedChord)
	return math.Max(furthestFrom(a, b), furthestFrom(b, a))
}

// furthestFrom returns how far the polyline a goes from b.
func furthestFrom(a, b []geom.Point) float64 {
	worst := 0.0
	near := 0 // where the last place was nearest: the next is as a rule near there
	for i := 1; i < len(a); i++ {
		n := int(math.Max(1, math.Ceil(a[i-1].Dist(a[i])/movedStep)))
		for k := range n + 1 {
			q := a[i-1].Lerp(a[i], float64(k)/float64(n))
			if d := chordDistance(b, near, q); d <= worst {
				continue // no need to know how near exactly
			}
			best := math.Inf(1)
			for j := 1; j < len(b); j++ {
				if d := chordDistance(b, j-1, q); d < best {
					best, near = d, j-1
				}
			}
			worst = math.Max(worst, best)
		}
	}
	return worst
}

// chordDistance is the distance of q from the chord of b that begins at i.
func chordDistance(b []geom.Point, i int, q geom.Point) float64 {
	p, u := b[i], b[i+1].Sub(b[i])
	t := 0.0
	if long := u.Dot(u); long > 0 {
		t = math.Max(0, math.Min(1, q.Sub(p).Dot(u)/long))
	}
	return q.Dist(p.Add(u.Mul(t)))
}

// MostMoved returns the edge that lies furthest from where it lay, and how far
// in mm. Edges are told by their names; one that either pattern has not is
// passed over.
func MostMoved(before, after *pattern.Pattern) (piece, edge string, by float64) {
	for i := range after.Pieces {
		now := &after.Pieces[i]
		was := before.Piece(now.Name)
		if was == nil {
			continue
		}
		for k := range now.Edges {
			old := was.Edge(now.Edges[k].Name)
			if old == nil || samePath(old.Path, now.Edges[k].Path) {
				continue
			}
			if d := Moved(old.Path, now.Edges[k].Path); d > by {
				piece, edge, by = now.Name, now.Edges[k].Name, d
			}
		}
	}
	return piece, edge, by
}

func samePath(a, b geom.Path) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

// bounded finishes an edit that must not move a line by more than bound mm.
func (e *edit) bounded(bound float64) (*operation.Answer, error) {
	a, err := e.finish()
	if err != nil {
		return nil, err
	}
	return keepBound(e.full, a, bound)
}

// keepBound refuses an answer in which a line moved further than it may.
func keepBound(before *pattern.Pattern, a *operation.Answer, bound float64) (*operation.Answer, error) {
	piece, edge, by := MostMoved(before, a.Pattern)
	if by > bound+boundSlack {
		return nil, refuse(fmt.Sprintf("edge %q of piece %q would have to move by %.1f mm, and no line may move%s", edge, piece, by, byMoreThan(bound)),
			"allow more, or draw it anew by hand")
	}
	if by > 0 {
		a.Changes = append(a.Changes, operation.Change{What: "furthest that a line moved, edge " + edge, Piece: piece, After: by, Unit: "mm"})
	}
	return a, nil
}

// byMoreThan tells a bound after "may move"; of 0 there is nothing to tell.
func byMoreThan(bound float64) string {
	if bound == 0 {
		return ""
	}
	return fmt.Sprintf(" by more than %.1f mm", bound)
}
