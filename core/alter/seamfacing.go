package alter

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"bygone.example/core/pattern"
)

// moveFacings moves the seams of facings that lie under a moved seam: where the
// edges that the seam ends on are faced, as the neckline under a shoulder seam,
// and the facing's own seam meets the moved one there, it moves by as much, and
// at its other end by what the strip measures that far along. It returns the
// facings moved. One that cannot follow is left, with the caution that any other
// seam gets that no longer meets the moved one.
func (e *edit) moveFacings(m movedSeam, bow float64) (moved []string) {
	var done []string
	for k := range m.sums {
		for _, f := range e.facingsUnder(m, k) {
			if slices.Contains(done, f.joint.seam.Name) {
				continue
			}
			done = append(done, f.joint.seam.Name)
			share := math.Min(1, f.joint.a.length()/m.seam[0])
			// So much of the bow lies at the facing's end, and so much more than half
			// of that in its middle.
			atEnd := bow * waveHeight(share)
			near, far := m.by[k], m.by[k]+(m.by[1-k]-m.by[k])*share+atEnd
			rest := bow*waveHeight(share/2) - atEnd/2
			if f.turned {
				near, far, rest = -near, -far, -rest
			}
			start, end := near, far
			if f.atEnd {
				start, end = far, near
			}
			a, b := f.joint.a.w, f.joint.b.w
			wasA, wasB := *a.copy(), *b.copy()
			if _, err := e.moveJoint(f.joint, start, end, rest); err != nil {
				*a, *b = wasA, wasB
				continue
			}
			moved = append(moved, a.Name, b.Name)
			e.changed(fmt.Sprintf("seam %s of the facing moved with it", f.joint.seam.Name), "", 0, math.Abs(near), "mm")
		}
	}
	return moved
}

// facingSeam is the seam between two facings that meets a moved one. turned says
// that its side A is under the moved seam's side B; atEnd that it ends there.
type facingSeam struct {
	joint         seamJoint
	turned, atEnd bool
}

// facingsUnder returns the seams of facings that meet the moved seam at its end k.
func (e *edit) facingsUnder(m movedSeam, k int) (found []facingSeam) {
	s := m.sums[k]
	for _, x := range e.seams {
		for _, runs := range [][2]pattern.Run{{x.A, x.B}, {x.B, x.A}} {
			own, other := runs[0], runs[1]
			for n := range max(0, len(own)-1) {
				pair := own[n : n+2]
				if !pair.Has(s.a.Name, s.a.Edges[s.ia].Name) || !pair.Has(s.b.Name, s.b.Edges[s.ib].Name) {
					continue
				}
				place := e.in.RunLength(own[:n+1])
				for q := range max(0, len(other)-1) {
					if math.Abs(e.in.RunLength(other[:q+1])-place) > inStep {
						continue
					}
					underA, underB := other[q], other[q+1]
					if pair[0].Piece != s.a.Name || pair[0].Edge != s.a.Edges[s.ia].Name {
						underA, underB = underB, underA
					}
					if f, ok := e.facingSeam(underA, underB); ok {
						found = append(found, f)
					}
				}
			}
		}
	}
	return found
}

// facingSeam returns the seam that joins two facings beside the edges given.
func (e *edit) facingSeam(underA, underB pattern.EdgeRef) (f facingSeam, ok bool) {
	a, b := e.piece(underA.Piece), e.piece(underB.Piece)
	if a == nil || b == nil || a == b || !isFacing(a.Role) || !isFacing(b.Role) {
		return f, false
	}
	for _, y := range e.seams {
		j, err := e.joint(y.Name)
		if err != nil {
			continue
		}
		f.joint, f.turned = j, j.a.w == b
		sideA, sideB := j.a, j.b
		if f.turned {
			sideA, sideB = j.b, j.a
		}
		if sideA.w != a || sideB.w != b {
			continue
		}
		for _, atEnd := range []bool{false, true} {
			ia, _ := sideA.beside(atEnd)
			ib, _ := sideB.beside(atEnd)
			if a.Edges[ia].Name == underA.Edge && b.Edges[ib].Name == underB.Edge {
				f.atEnd = atEnd
				return f, true
			}
		}
	}
	return f, false
}

// isFacing reports whether a role is that of a facing of any edge.
func isFacing(r pattern.Role) bool {
	return strings.HasPrefix(string(r), "facing-") || strings.HasSuffix(string(r), "-facing")
}

// waveHeight is how high a wave with its top in the middle stands at a share of
// the line, of its full height: see waveAt.
func waveHeight(share float64) float64 {
	f := math.Sin(math.Pi * share)
	return f * f
}
