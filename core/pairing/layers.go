package pairing

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"bygone.example/core/finding"
	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// isFacing and isLining tell such pieces by their role, or where they have none by
// their name: facing-front, lining-bodice-back.
func isFacing(p *pattern.Piece) bool { return hasWord(p, "facing") }
func isLining(p *pattern.Piece) bool { return hasWord(p, "lining", "interlining") }

func hasWord(p *pattern.Piece, words ...string) bool {
	name := p.Name
	if p.Role != "" {
		name = string(p.Role)
	}
	return slices.ContainsFunc(strings.FieldsFunc(name, func(r rune) bool { return r == '-' || r == '.' }), func(part string) bool {
		return slices.Contains(words, part)
	})
}

// underlayers holds facings and linings against their outers: along the edges
// that are sewn together both must be one line.
//
// Edges with darts or fullness on one side only are passed over: there the
// lining has room of its own, and the lengths alone tell.
func (c *checker) underlayers(s *seam) {
	if s.mirrored() || s.Meeting.Kind != pattern.Plain {
		return
	}
	for _, t := range s.abreast() {
		for _, under := range [...]struct {
			is   func(*pattern.Piece) bool
			code finding.Code
			word string
		}{{isFacing, FacingShape, "facing"}, {isLining, LiningShape, "lining"}} {
			inner, outer, ri, ro := t.b, t.a, &s.b, &s.a
			if under.is(t.a.piece) {
				inner, outer, ri, ro = t.a, t.b, &s.a, &s.b
			}
			if !under.is(inner.piece) || isFacing(outer.piece) || isLining(outer.piece) {
				continue
			}
			full := func(w walked) bool { return w.cut-w.sewn > c.Length }
			if full(inner) != full(outer) || full(inner) && math.Abs(inner.cut-outer.cut) > 1 {
				continue
			}
			a := between(outer, ro, t)
			b := between(inner, ri, t)
			at, off := apart(a, b)
			if off <= c.Shape {
				continue
			}
			c.add(under.code, "", finding.Place{Seam: s.Name, Piece: inner.piece.Name, Edge: inner.Name, At: &at},
				&finding.Figures{A: off, Difference: off, Unit: "mm"},
				fmt.Sprintf("laid on %s/%s, the %s %s/%s leaves its line by %s", outer.piece.Name, outer.Name, under.word, inner.piece.Name, inner.Name, mm(off)))
		}
	}
}

// between returns the flat stretch of an edge along part of a seam, in walking
// order.
func between(w walked, r *run, t abreast) geom.Path {
	from, to := w.flat(r, t.from), w.flat(r, t.to)
	if w.backwards {
		return w.Path.Between(to, from).Reverse()
	}
	return w.Path.Between(from, to)
}

// shapeSamples is how many places along two lines are laid on one another: one
// every 5 to 10 mm of a neckline.
const shapeSamples = 32

// apart lays path b onto path a as well as it goes, face up or face down, and
// returns the point of b furthest from its place on a, and how far that is in mm.
func apart(a, b geom.Path) (at geom.Point, off float64) {
	la, lb := a.Length(), b.Length()
	if la <= 0 || lb <= 0 {
		return b.Start(), 0
	}
	var p, q [shapeSamples + 1]geom.Point
	for i := range p {
		share := float64(i) / shapeSamples
		p[i], q[i] = a.At(share*la), b.At(share*lb)
	}
	best, off := laid(p[:], q[:], false)
	if m, o := laid(p[:], q[:], true); o < off {
		best, off = m, o
	}
	far := 0
	for i := range p {
		if best.Apply(q[i]).Dist(p[i]) > best.Apply(q[far]).Dist(p[far]) {
			far = i
		}
	}
	at = q[far]
	if off < 0.1 {
		return at, off
	}
	// Between the samples it may be further off still.
	step := 1.0 / shapeSamples
	for share := math.Max(0, (float64(far)-1)*step); share <= math.Min(1, (float64(far)+1)*step); share += step / shapeSamples {
		if d := best.Apply(b.At(share * lb)).Dist(a.At(share * la)); d > off {
			at, off = b.At(share*lb), d
		}
	}
	return at, off
}

// laid returns the motion, with or without turning over, that brings the points q
// nearest to p in the sense of least squares, and by how much they then differ at
// most.
func laid(p, q []geom.Point, over bool) (m geom.Affine, off float64) {
	var cp, cq geom.Point
	n := float64(len(p))
	for i := range p {
		cp, cq = cp.Add(p[i].Mul(1/n)), cq.Add(q[i].Mul(1/n))
	}
	flip := geom.Translation(geom.Point{})
	if over {
		flip = geom.Reflection(cq, cq.Add(geom.Pt(0, 1)))
	}
	var dot, cross float64
	for i := range p {
		u, v := flip.Apply(q[i]).Sub(cq), p[i].Sub(cp)
		dot, cross = dot+u.Dot(v), cross+u.Cross(v)
	}
	m = geom.Translation(cp.Sub(cq)).After(geom.Rotation(cq, math.Atan2(cross, dot))).After(flip)
	for i := range p {
		off = math.Max(off, m.Apply(q[i]).Dist(p[i]))
	}
	return m, off
}
