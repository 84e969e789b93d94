package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// legs are the edges of a skirt piece that run between its waist and its hem,
// in boundary order: up from the hem to the waist, and down again.
type legs struct {
	w          *work
	waist, hem int
	up, down   []int
}

// legsOf returns a skirt piece's waist, hem and legs.
func legsOf(w *work) (l legs, err error) {
	return legsFrom(w, func() (int, error) { return w.edgeOf(pattern.Waist) })
}

// legsFrom is legsOf for a part of a skirt that hangs from another edge.
func legsFrom(w *work, upper func() (int, error)) (l legs, err error) {
	l.w = w
	if l.waist, err = upper(); err != nil {
		return l, err
	}
	if l.hem, err = w.edgeOf(pattern.Hem); err != nil {
		return l, err
	}
	for i := w.next(l.hem); i != l.waist; i = w.next(i) {
		l.up = append(l.up, i)
	}
	for i := w.next(l.waist); i != l.hem; i = w.next(i) {
		l.down = append(l.down, i)
	}
	if len(l.up) == 0 || len(l.down) == 0 {
		return l, refuse(fmt.Sprintf("waist and hem of piece %q meet", w.Name), "a skirt piece has an edge between them on either side")
	}
	return l, nil
}

// long adds up edges as they are now.
func (l legs) long(edges []int) float64 {
	var sum float64
	for _, i := range edges {
		sum += l.w.lines[i].length()
	}
	return sum
}

// lowest returns the edges of both legs that end at the hem.
func (l legs) lowest() (up, down int) { return l.up[0], l.down[len(l.down)-1] }

// role returns what a leg is: the role that its edges have from the hem up.
func (l legs) role(edge int) string { return l.w.Edges[edge].Is() }

// mate returns the place across the seam of a piece's edge: the seam, and the
// piece and edge of the first edge on its other side. ok is false of an edge
// that no seam takes, and of one that is sewn to its own mirror image.
func (e *edit) mate(w *work, edge string) (other *work, name string, ok bool) {
	for _, s := range e.seams {
		if s.Kind == pattern.Basted {
			continue // a layer over it, or the one under it
		}
		for _, sides := range [][2]pattern.Run{{s.A, s.B}, {s.B, s.A}} {
			if sides[0].Has(w.Name, edge) && len(sides[1]) > 0 {
				return e.piece(sides[1][0].Piece), sides[1][0].Edge, true
			}
		}
	}
	return nil, "", false
}

// sewn reports whether a seam takes the edge.
func (e *edit) sewn(w *work, edge string) bool {
	return slices.ContainsFunc(e.seams, func(s pattern.Seam) bool { return s.A.Has(w.Name, edge) || s.B.Has(w.Name, edge) })
}

// mirrored reports whether the edge is sewn to its own mirror image.
func (e *edit) mirrored(w *work, edge string) bool {
	return slices.ContainsFunc(e.seams, func(s pattern.Seam) bool { return len(s.B) == 0 && s.A.Has(w.Name, edge) })
}

// squareTo draws a curve between two places, leaving one and reaching the other
// in the given directions, that measures length to equalTolerance. ok is false
// where the places are further apart than that, or so near that the curve would
// have to loop.
func squareTo(from, leave, to, arrive geom.Point, length float64) (geom.Path, bool) {
	chord := from.Dist(to)
	draw := func(k float64) geom.Path {
		return geom.Path{geom.Hermite(from, leave.Mul(k*chord), to, arrive.Mul(k*chord))}
	}
	const most = 2.5 // of the chord: beyond it a cubic bulges out behind its ends
	lo, hi := 0.02, most
	miss := func(k float64) float64 { return draw(k).Length() - length }
	short, over := miss(lo), miss(hi)
	if short > 0 && short < lengthSlack { // a straight line, all but exactly
		return draw(lo), short < equalTolerance
	}
	if short > 0 || over < 0 {
		return nil, false
	}
	return draw(zero(miss, lo, short, hi, over)), true
}

// lengthSlack in mm: a curve longer by less than what its ends are apart cannot
// be told from a straight line.
const lengthSlack = 1e-6

// arcAround draws the arc about a centre from one angle to another, either way
// round, in cubics of no more than an eighth of a right angle and a half: their
// radius is true to 1e-10.
func arcAround(centre geom.Point, r, from, to float64) geom.Path {
	n := max(1, int(math.Ceil(math.Abs(to-from)/arcPart)))
	step := (to - from) / float64(n)
	handle := 4 * r * math.Tan(step/4)
	path := make(geom.Path, n)
	for k := range path {
		a, b := from+step*float64(k), from+step*float64(k+1)
		path[k] = geom.Hermite(centre.Add(geom.Polar(r, a)), geom.Polar(handle, a).Left(),
			centre.Add(geom.Polar(r, b)), geom.Polar(handle, b).Left())
	}
	return path
}

// arcPart is the most in radians that one cubic of an arc turns.
const arcPart = math.Pi / 24

// freshPiece returns name, numbered if the pattern has a piece of that name.
func freshPiece(e *edit, name string) string {
	if e.piece(name) == nil {
		return name
	}
	for n := 2; ; n++ {
		if s := fmt.Sprintf("%s-%d", name, n); e.piece(s) == nil {
			return s
		}
	}
}
