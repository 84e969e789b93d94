package pairing

import (
	"fmt"
	"math"

	"bygone.example/core/finding"
	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// corner is a corner of a piece at one end of a run: the edge that is sewn, and
// the edge that goes on from there.
type corner struct {
	sewn, next *edge
	at         geom.Point
	inside     float64 // the angle between both, inside the piece, degrees
	corner     pattern.Corner
}

// cornerOf returns the corner where the walk enters the run (start) or leaves
// it; ok is false where a piece has a single edge and so no corner.
func (c *checker) cornerOf(r *run, start bool) (k corner, ok bool) {
	if len(r.edges) == 0 {
		return corner{}, false
	}
	w := r.edges[len(r.edges)-1]
	if start {
		w = r.edges[0]
	}
	return c.cornerAt(w.edge, w.backwards != start)
}

// cornerAt returns the corner at the edge's end, or at its start.
func (c *checker) cornerAt(e *edge, atStart bool) (k corner, ok bool) {
	n := len(e.piece.Edges)
	if n < 2 {
		return corner{}, false
	}
	j := (e.index + 1) % n
	if atStart {
		j = (e.index + n - 1) % n
	}
	next := c.edges[key{e.piece.Name, e.piece.Edges[j].Name}]
	k = corner{sewn: e, next: next, at: e.Path.End(), corner: e.Corner}
	into, out := ends(e), starts(next)
	if atStart {
		k.at, k.corner = e.Path.Start(), next.Corner
		into, out = ends(next), starts(e)
	}
	turn := degrees(geom.Turn(into, out))
	if e.clockwise {
		turn = -turn // the piece lies on the right of its edges
	}
	k.inside = 180 - turn
	return k, true
}

// starts and ends are the directions of an edge at its ends. Cloth is folded along
// a straight line, wherever a bent fold may be drawn.
func starts(e *edge) geom.Point {
	if e.Finish == pattern.Fold {
		return e.Path.End().Sub(e.Path.Start()).Unit()
	}
	return leaving(e.Path)
}

func ends(e *edge) geom.Point {
	if e.Finish == pattern.Fold {
		return starts(e)
	}
	return arriving(e.Path)
}

func degrees(a float64) float64 { return a * 180 / math.Pi }

// leaving and arriving are the directions of a path at its ends, along the
// walk, as a cutter sees them: see CornerReach.
func leaving(p geom.Path) geom.Point {
	if len(p) > 1 && longer(CornerReach, p[0].P0.Dist(p[0].P1)) {
		return p.At(CornerReach).Sub(p.Start()).Unit()
	}
	return p.StartDirection()
}

func arriving(p geom.Path) geom.Point {
	return leaving(p[max(0, len(p)-reachSegments):].Reverse()).Mul(-1)
}

// reachSegments is how many lines and curves are looked at to get CornerReach
// away from a corner; of an outline digitised finer than that, all are.
const reachSegments = 64

// corners looks at both ends of a seam: the lines that go on from there must
// run on across the closed seam without a kink. Whether they do shows in the
// two angles inside the pieces, which add up to a straight line.
//
// Nothing runs on across a basted seam: there one layer lies on the other.
func (c *checker) corners(s *seam) {
	if s.Kind == pattern.Basted {
		return
	}
	for _, start := range [...]bool{true, false} {
		a, ok := c.cornerOf(&s.a, start)
		if !ok {
			continue
		}
		if s.mirrored() {
			c.centre(s.Name, a)
			continue
		}
		b, ok := c.cornerOf(&s.b, start)
		if !ok || !c.continued(a, b) || c.opens(a) && c.opens(b) {
			continue
		}
		sum := a.inside + b.inside
		kink := sum - 180
		if !over(kink, c.KinkWarning) {
			continue
		}
		severity := finding.Warning
		if over(kink, c.KinkFault) {
			severity = finding.Fault
		}
		c.add(CornerKink, severity, finding.Place{Seam: s.Name, Piece: a.next.piece.Name, Edge: a.next.Name, At: &a.at},
			&finding.Figures{A: sum, B: 180, Difference: kink, Unit: "degrees"},
			fmt.Sprintf("with seam %s closed, %s/%s runs on into %s/%s with %s%s", s.Name,
				a.next.piece.Name, a.next.Name, b.next.piece.Name, b.next.Name, kinked(kink), c.step(s)))
	}
}

// opens reports whether the seam ends in an opening there, which goes straight on
// from it: left open, faced or sewn to a placket, it runs along the seam and not
// across.
func (c *checker) opens(k corner) bool { return !over(k.inside-180, c.KinkWarning) }

// shape tells a corner that sticks out from one that cuts in.
func shape(kink float64) string {
	if kink < 0 {
		return "a peak"
	}
	return "a dent"
}

// step adds that the two lines do not even meet, where the sides differ.
func (c *checker) step(s *seam) string {
	if d := math.Abs(s.a.sewn - s.b.sewn); s.Meeting.Kind == pattern.Plain && over(d, c.Length) {
		return fmt.Sprintf(" and a step of up to %s", mm(d))
	}
	return ""
}

// continued reports whether one line runs on from corner a to corner b: the two
// edges are sewn in the same run of one seam (a neckline to its facing, a waist
// to its skirt), or no seam takes them and both are finished alike. Others only
// happen to begin at the same point, as the side seam and the sleeve's underarm
// do.
func (c *checker) continued(a, b corner) bool {
	switch {
	case len(a.next.seams) == 0 && len(b.next.seams) == 0:
		return a.next.Finish == b.next.Finish && a.next.Finish != pattern.Fold &&
			(a.next.Finish != pattern.Sewn || a.next.Is() == b.next.Is())
	}
	for _, x := range a.next.seams {
		for _, y := range b.next.seams {
			if x == y {
				return true
			}
		}
	}
	return false
}

// centre looks at a corner on the fold or on a seam to the mirror image: the
// line that goes on must be square to it.
func (c *checker) centre(seam string, k corner) {
	if k.next.Finish == pattern.Fold || c.mirrorSewn(k.next) {
		return // the corner of two centre lines: no line runs on
	}
	if c.opens(k) {
		return
	}
	sum := 2 * k.inside
	kink := sum - 180
	if !over(kink, c.KinkWarning) {
		return
	}
	code, severity := CornerCentre, finding.Warning
	switch {
	case over(kink, c.Point):
		code, severity = CornerPoint, finding.Note
	case over(kink, c.KinkFault):
		severity = finding.Fault
	}
	c.add(code, severity, finding.Place{Seam: seam, Piece: k.next.piece.Name, Edge: k.next.Name, At: &k.at},
		&finding.Figures{A: sum, B: 180, Difference: kink, Unit: "degrees"},
		fmt.Sprintf("opened out along %s, %s/%s has %s", k.sewn.Name, k.next.piece.Name, k.next.Name, kinked(kink)))
}

// opening looks at the corners of a centre front or back that stays open: closed
// by hooks or buttons, it is a centre line like a fold for the neckline and hem. A
// seam that only ends at the opening may come to it at any angle.
func (c *checker) opening(e *edge) {
	if e.Is() != pattern.CentreFront && e.Is() != pattern.CentreBack || e.Finish == pattern.Fold || len(e.seams) > 0 {
		return
	}
	for _, atStart := range [...]bool{true, false} {
		if k, ok := c.cornerAt(e, atStart); ok && (k.next.Is() == pattern.Neckline || k.next.Is() == pattern.Hem) {
			c.centre("", k)
		}
	}
}

// mirrorSewn reports whether a seam joins the edge to its own mirror image.
func (c *checker) mirrorSewn(e *edge) bool {
	for _, t := range e.seams {
		if c.seams[t.seam].mirrored() {
			return true
		}
	}
	return false
}
