package pairing

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/finding"
	"bygone.example/core/pattern"
	"bygone.example/core/wearer"
)

// What a garment has to pass where nobody says who wears it: the smallest of the
// figures of ASTM D5585-11e1 (size 00), so that nothing is said of a garment that
// fits anybody full-grown.
const (
	LeastHead = 21.25 * 25.4  // mm, head girth
	LeastBust = 31.125 * 25.4 // mm, bust girth
)

// end is one end of an edge on one half of the garment. A half pattern has two
// halves that meet along folds and seams to the mirror image.
type end struct {
	*edge
	start, other bool // the edge's start; the mirrored half
}

// beside returns the end of the neighbouring edge at the same corner.
func (c *checker) beside(e end) end {
	n := len(e.piece.Edges)
	k := (e.index + 1) % n
	if e.start {
		k = (e.index + n - 1) % n
	}
	return end{c.edges[key{e.piece.Name, e.piece.Edges[k].Name}], !e.start, e.other}
}

// garmentLayer are the pieces that make up the garment itself, without facings,
// linings and what is basted onto other pieces.
func (c *checker) garmentLayer() map[*pattern.Piece]bool {
	in := map[*pattern.Piece]bool{}
	for i := range c.pattern.Pieces {
		p := &c.pattern.Pieces[i]
		in[p] = !isFacing(p) && !isLining(p)
	}
	for i := range c.seams {
		if c.seams[i].Kind == pattern.Basted {
			for _, w := range c.seams[i].a.edges {
				in[w.piece] = false
			}
		}
	}
	return in
}

// held returns the seam that joins the edge to others of the garment, its run
// there and its place in the run; nil of an edge that is free.
func (c *checker) held(e *edge, in map[*pattern.Piece]bool) (s *seam, r *run, index int) {
	for _, t := range e.seams {
		s, r = &c.seams[t.seam], &c.seams[t.seam].a
		others := s.b.edges
		if t.b {
			r, others = &s.b, s.a.edges
		}
		if s.Kind == pattern.Basted || slices.ContainsFunc(others, func(w walked) bool { return !in[w.piece] }) {
			continue
		}
		return s, r, slices.IndexFunc(r.edges, func(w walked) bool { return w.edge == e })
	}
	return nil, nil, 0
}

// across returns the end that lies on this one when everything is sewn; ok is
// false where it comes to lie in the middle of another edge.
func (c *checker) across(e end, in map[*pattern.Piece]bool) (to end, ok bool) {
	if e.Finish == pattern.Fold {
		return end{e.edge, e.start, !e.other}, true
	}
	s, r, i := c.held(e.edge, in)
	if s == nil {
		return end{}, false
	}
	if s.mirrored() {
		return end{e.edge, e.start, !e.other}, true
	}
	other := &s.b
	if r == other {
		other = &s.a
	}
	entering := e.start != r.edges[i].backwards
	k := len(other.edges) - 1
	switch {
	case entering && i == 0:
		k = 0
	case !entering && i == len(r.edges)-1:
	default:
		place := func(w walked) float64 {
			if entering {
				return w.before
			}
			return w.before + w.sewn
		}
		at, slack := place(r.edges[i]), math.Abs(s.a.sewn-s.b.sewn)+sameCorner
		k = slices.IndexFunc(other.edges, func(w walked) bool { return math.Abs(place(w)-at) <= slack })
		if k < 0 {
			return end{}, false
		}
	}
	w := other.edges[k]
	return end{w.edge, entering != w.backwards, e.other}, true
}

// ring walks a rim of the garment from one of its edges, past seams and folds,
// round to where it began, and returns how long it is in mm. The rim is made up
// of edges of the role, and of free edges where an opening parts them. ok is
// false of what does not come round.
func (c *checker) ring(from *edge, role string, in map[*pattern.Piece]bool, done map[*edge]bool) (long float64, ok bool) {
	rim := func(e *edge) bool {
		if e.Finish == pattern.Fold {
			return false
		}
		s, _, _ := c.held(e, in)
		return s == nil || e.Is() == role
	}
	first := end{edge: from, start: true}
	at := first // an end, about to be walked away from
	for range 4 * len(c.edges) {
		if at.Is() == role {
			done[at.edge] = true
		}
		long += c.open(at.edge, in)
		next := c.beside(end{at.edge, !at.start, at.other})
		for turns := 0; !rim(next.edge); turns++ {
			over, crosses := c.across(next, in)
			if !crosses || turns > 2*len(c.edges) {
				return 0, false
			}
			next = c.beside(over)
		}
		if at = next; at == first {
			return long, true
		}
	}
	return 0, false
}

// open returns how long an edge is when a body goes through it: gathers on a free
// edge are drawn up by something that can be let out, those in a seam are not.
func (c *checker) open(e *edge, in map[*pattern.Piece]bool) float64 {
	if s, _, _ := c.held(e, in); s == nil && slices.ContainsFunc(e.piece.Gathers, func(g pattern.Gather) bool { return g.Edge == e.Name }) {
		return e.cut
	}
	return e.sewn
}

// openings asks whether anybody can get into the garment: the neck must pass the
// head, the waist what is wider above or below it, each with the openings that
// lead up to it.
func (c *checker) openings() {
	in := c.garmentLayer()
	neck := c.tightest(pattern.Neckline, in)
	if neck.edge != nil {
		c.passes(neck, "neck", "head", wearer.HeadGirth, LeastHead)
	}
	waist := c.tightest(pattern.Waist, in)
	if waist.edge == nil {
		return
	}
	bust, _ := c.girth(wearer.BustGirth, LeastBust)
	if hip, known := c.girth(wearer.HipGirth, 0); known && hip < bust && (neck.edge == nil || neck.long >= hip) {
		c.passes(waist, "waist", "hips", wearer.HipGirth, 0)
		return
	}
	c.passes(waist, "waist", "bust and shoulders", wearer.BustGirth, LeastBust)
}

// tight is a ring and one of its edges.
type tight struct {
	edge *edge
	long float64
}

// tightest returns the shortest ring of edges of a role; its edge is nil where
// none comes round.
func (c *checker) tightest(role string, in map[*pattern.Piece]bool) (least tight) {
	done := map[*edge]bool{}
	for i := range c.pattern.Pieces {
		p := &c.pattern.Pieces[i]
		if !in[p] {
			continue
		}
		for j := range p.Edges {
			e := c.edges[key{p.Name, p.Edges[j].Name}]
			if e.Is() != role || done[e] || e.Finish == pattern.Fold {
				continue
			}
			done[e] = true
			if long, ok := c.ring(e, role, in, done); ok && (least.edge == nil || long < least.long) {
				least = tight{e, long}
			}
		}
	}
	return least
}

// girth returns what has to pass: the wearer's, or the least.
func (c *checker) girth(m wearer.Measure, least float64) (mm float64, known bool) {
	if w := c.options.Wearer; w != nil {
		if mm, ok := w.Of(m); ok {
			return mm, true
		}
	}
	return least, false
}

func (c *checker) passes(r tight, ring, body string, m wearer.Measure, least float64) {
	need, known := c.girth(m, least)
	if r.long >= need-c.Length {
		return
	}
	severity, whose := finding.Fault, "the wearer's "+body+" must pass"
	if !known {
		severity, whose = finding.Warning, "the smallest "+body+" of a grown woman must pass"
	}
	at := r.edge.Path.At(r.edge.cut / 2)
	c.add(OpeningMissing, severity, finding.Place{Piece: r.edge.piece.Name, Edge: r.edge.Name, At: &at},
		&finding.Figures{A: r.long, B: need, Difference: r.long - need, Unit: "mm"},
		fmt.Sprintf("the %s opens to %s, and %s: %s", ring, mm(r.long), whose, mm(need)))
}
