package alter

import (
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// How deep a hem may be and still lie flat when it is turned up.
const (
	// hemEnds in mm is by how much the end of a turned hem may miss the line it is
	// sewn into: a narrow turning, 1/4 in (common practice).
	hemEnds = 6.0
	// hemFull and hemScant as shares are how much longer or shorter than the cloth
	// below it the raw edge of a turned hem may be: what is drawn in, or let out at
	// the ends (from memory).
	hemFull, hemScant = 0.12, 0.07
	// hemAnyway in mm is the depth from which a curve asks for less: a narrower
	// turning, 5/8 in, is snipped or drawn in on any curve (common practice).
	hemAnyway = 16.0
	// hemLeast in mm is the narrowest turning there is, 1/4 in: a corner that asks
	// for less wants another hem, or a facing.
	hemLeast = 6.0
	// hemRunsOut in radians: at a sharper corner a hem runs out to nothing.
	hemRunsOut = math.Pi / 6
	// hemReach in mm is the chord over which a line's direction at a corner is
	// taken where its last stretch is shorter.
	hemReach = 2.0
	// hemStep in mm is to what a hem that must be narrower is rounded down, for a
	// width that is read off a ruler; below two of them, to whole mm.
	hemStep = 5.0
)

// flatHem returns how deep in mm the hem along edge i may be to lie flat turned
// up, at most asked.
func (w *work) flatHem(i int, asked float64) float64 {
	n := len(w.lines)
	deepest := asked
	path := w.lines[i].path()
	for _, atStart := range [...]bool{true, false} {
		j := (i + 1) % n
		if atStart {
			j = (i + n - 1) % n
		}
		if j == i || w.Edges[j].Finish == pattern.Fold {
			continue
		}
		before, after, corner := path, w.lines[j].path(), w.Edges[i].Corner
		if atStart {
			before, after, corner = after, path, w.Edges[j].Corner
		}
		if corner == pattern.Turned && w.Edges[j].Finish != pattern.Hemmed {
			continue // its end mirrors the line that it comes to lie on
		}
		inside := math.Pi - geom.Turn(lastWay(before), firstWay(after))
		if inside < hemRunsOut || inside > math.Pi-hemRunsOut {
			continue
		}
		lean := 1 / math.Abs(math.Tan(inside)) // of every mm of depth
		if corner != pattern.Square {
			lean *= 2 // the allowance widens, or narrows, as the piece does the other way
		}
		if lean*deepest > hemEnds {
			deepest = hemEnds / lean
		}
	}
	// The raw edge is longer than the hem by its turn times the depth, and what it
	// lies on shorter by as much.
	if turn := w.turned(i); turn != 0 {
		share := hemFull / (2 + hemFull)
		if turn < 0 {
			share = hemScant / (2 - hemScant)
		}
		deepest = min(deepest, max(hemAnyway, path.Length()*share/math.Abs(turn)))
	}
	if deepest >= asked {
		return asked
	}
	step := hemStep
	if deepest < 2*hemStep {
		step = 1
	}
	return min(asked, max(hemLeast, math.Floor(deepest/step)*step))
}

// firstWay and lastWay are the directions of a path at its ends as a cutter sees
// them: over hemReach, where the last stretch is shorter.
func firstWay(p geom.Path) geom.Point {
	if len(p) > 1 && p[0].P0.Dist(p[0].P1) < hemReach && p.Length() > hemReach {
		return p.At(hemReach).Sub(p.Start()).Unit()
	}
	return p.StartDirection()
}

func lastWay(p geom.Path) geom.Point { return firstWay(p.Reverse()).Mul(-1) }

// flatHems makes the hems that asked for sort's allowance no deeper than lies
// flat, those that are sewn together end to end to one depth, and returns the
// depths that differ from what was asked, narrowest first.
func (e *edit) flatHems(asked map[edgeSort]float64, sorts map[pattern.EdgeRef]edgeSort) map[edgeSort][]float64 {
	depth := map[pattern.EdgeRef]float64{}
	var refs []pattern.EdgeRef
	for _, w := range e.pieces {
		for i, edge := range w.Edges {
			ref := pattern.EdgeRef{Piece: w.Name, Edge: edge.Name}
			if sort := sorts[ref]; edge.Finish == pattern.Hemmed && (sort == skirtHem || sort == smallEdge) {
				depth[ref] = w.flatHem(i, asked[sort])
				refs = append(refs, ref)
			}
		}
	}
	for settled := false; !settled; {
		settled = true
		for _, s := range e.seams {
			least, along := math.Inf(1), []pattern.EdgeRef(nil)
			for _, ref := range refs {
				if e.endsAt(ref, s) {
					along = append(along, ref)
					least = min(least, depth[ref])
				}
			}
			for _, ref := range along {
				if sorts[ref] == sorts[along[0]] && depth[ref] > least {
					depth[ref], settled = least, false
				}
			}
		}
	}
	narrower := map[edgeSort][]float64{}
	for _, ref := range refs {
		e.piece(ref.Piece).Edge(ref.Edge).Allowance = depth[ref]
		if sort := sorts[ref]; depth[ref] < asked[sort] && !slices.Contains(narrower[sort], depth[ref]) {
			narrower[sort] = append(narrower[sort], depth[ref])
			slices.Sort(narrower[sort])
		}
	}
	return narrower
}

// endsAt reports whether a hem ends at a seam that is sewn: an edge beside it is
// one of the seam's.
func (e *edit) endsAt(hem pattern.EdgeRef, s pattern.Seam) bool {
	w := e.piece(hem.Piece)
	if w == nil || s.Kind == pattern.Basted {
		return false
	}
	n := len(w.Edges)
	i := slices.IndexFunc(w.Edges, func(edge pattern.Edge) bool { return edge.Name == hem.Edge })
	for _, j := range [...]int{(i + n - 1) % n, (i + 1) % n} {
		if name := w.Edges[j].Name; s.A.Has(w.Name, name) || s.B.Has(w.Name, name) {
			return true
		}
	}
	return false
}
