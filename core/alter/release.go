package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Release says how a dart is let out.
type Release struct {
	Piece, Dart string
	Kind        pattern.GatherKind
	// Spread is how far beyond the mouth, in mm on either side, the fullness is
	// spread; it stops at the edge's ends and at other darts, pleats and gathers.
	Spread float64
}

// ReleaseDart lets a dart out into gathers or ease: the dart goes, and the
// stretch of edge around its mouth is drawn up by as much as the dart took.
// Kept: the edge's sewn length, exactly. Changed: the edge is drawn smoothly
// across the mouth, and its seam, if it was plain, becomes a gathered one.
func ReleaseDart(p *pattern.Pattern, r Release) (*operation.Answer, error) {
	e := begin(p)
	w, found, i, err := e.dartOn(r.Piece, r.Dart)
	if err != nil {
		return nil, err
	}
	d := *found
	w.touched = true
	total := w.lines[i].length()
	lo, hi := w.freeAround(d.Edge, d.From, d.To, total)
	from, to := math.Max(lo, d.From-r.Spread), math.Min(hi, d.To+r.Spread)
	taken := d.To - d.From
	if to-from-taken < minGathered {
		return nil, refuse(
			fmt.Sprintf("there is no edge beside dart %q on piece %q to gather onto", d.Name, w.Name),
			"spread the fullness wider")
	}
	head, rest := w.lines[i].split(from)
	middle, tail := rest.split(to - from)
	path := middle.path()
	chord := path.Start().Dist(path.End())
	curve := geom.Path{geom.Hermite(
		path.Start(), path.StartDirection().Mul(chord), path.End(), path.EndDirection().Mul(chord))}
	fair := redrawn(curve, pattern.Stretch{Piece: w.Name, Edge: d.Edge, From: from, To: to})
	w.lines[i] = head.join(fair, tail)
	g := pattern.Gather{
		Name: freshName(w, gatherName(r.Kind, d.Edge)), Edge: d.Edge,
		From: head.pathLength(), Kind: r.Kind,
	}
	g.To = g.From + curve.Length()
	// What the edge measures sewn is kept to the last digit, so it is counted from
	// the parts as they were cut.
	g.Length = total - taken - head.pathLength() - tail.pathLength()
	w.fresh.gathers = append(w.fresh.gathers, g)
	w.Darts = slices.DeleteFunc(w.Darts, func(o pattern.Dart) bool { return o.Name == r.Dart })
	e.gatherSeams(w.Name, d.Edge, r.Kind)
	e.changed("let out of dart "+d.Name, w.Name, taken, 0, "mm")
	e.changed(string(r.Kind)+" on "+d.Edge+": cut length", w.Name, 0, g.To-g.From, "mm")
	e.changed(string(r.Kind)+" on "+d.Edge+": drawn up to", w.Name, 0, g.Length, "mm")
	return e.finish()
}

// minGathered is the least length in mm that fullness can be drawn up to: less
// than a needle's width is a lump, not a gathered edge.
const minGathered = 5

func gatherName(kind pattern.GatherKind, edge string) string {
	if kind == pattern.Ease {
		return edge + "-ease"
	}
	return edge + "-gathers"
}

// freeAround returns the stretch of the edge around from–to that no other mark
// takes up.
func (w *work) freeAround(edge string, from, to, total float64) (lo, hi float64) {
	lo, hi = 0, total
	limit := func(on string, a, b float64) {
		if on != edge {
			return
		}
		if b <= from {
			lo = math.Max(lo, b)
		}
		if a >= to {
			hi = math.Min(hi, a)
		}
	}
	for _, d := range w.Darts {
		limit(d.Edge, d.From, d.To)
	}
	for _, f := range w.Pleats {
		limit(f.Edge, f.From, f.To)
	}
	for _, g := range w.Gathers {
		limit(g.Edge, g.From, g.To)
	}
	return lo, hi
}

// gatherSeams marks the plain seams that take an edge as gathered (or, for
// ease, leaves them plain: worked in, the lengths are equal).
func (e *edit) gatherSeams(piece, edge string, kind pattern.GatherKind) {
	if kind == pattern.Ease {
		return
	}
	for i := range e.seams {
		s := &e.seams[i]
		if s.Meeting.Kind == pattern.Plain && (s.A.Has(piece, edge) || s.B.Has(piece, edge)) {
			s.Meeting = pattern.Meeting{Kind: pattern.Gathered}
		}
	}
}
