// Package cutline turns a piece's seam line and the allowances of its edges
// into the line to cut along.
//
// The cut line is the true offset of each edge to the outside of the piece,
// joined at the corners as the edges ask. Edges on the fold, and edges without
// allowance, are cut on the seam line itself. Where offsets run into each
// other (a curve tighter than its allowance, a narrow slit) only the outermost
// trace is kept, and a note says where.
package cutline

import (
	"fmt"
	"math"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

const (
	// FlattenTolerance is how far, in mm, the polygon may stray from the true
	// offset curve: a quarter of the 0.02 mm that a cut line is held to.
	FlattenTolerance = 0.005

	// MitreLimit is how far a corner may run out from the seam corner, in
	// multiples of the wider allowance, before it is bevelled: beyond about four
	// widths the tip is longer than any workroom would leave it (common practice).
	MitreLimit = 4

	// trimLimit is how far, in multiples of the wider allowance, a narrow cut
	// line may run on into a wide one at a shallow corner. Further than that the
	// wide edge would lose allowance along a whole stretch: there the line steps.
	trimLimit = 1.5

	// smooth is the sine of the turn below which two stretches run on without a
	// corner: a twentieth of a degree, 0.01 mm on a 15 mm allowance.
	smooth = 1e-3
)

// Line is the cut line of one piece.
type Line struct {
	// Points are the corners of a closed polygon, counter-clockwise, in mm in
	// the piece's own plane; the first is not repeated. A piece without area
	// has none.
	Points []geom.Point
	// Notes tell where the line is not what the allowances alone ask for.
	Notes []Note
}

// Note is one place where something could not be done as asked.
type Note struct {
	Trouble Trouble
	Edge    string
	At      geom.Point
	Text    string // one plain sentence
}

// Trouble is what kind of thing a Note tells.
type Trouble string

// The troubles of a cut line.
const (
	Overlaps Trouble = "overlaps" // two edges' allowances run into each other
	Tight    Trouble = "tight"    // a curve is tighter than its allowance is wide
	Bevelled Trouble = "bevelled" // a corner too sharp for its cut lines to meet
	Enclosed Trouble = "enclosed" // allowances close around a gap
	Untraced Trouble = "untraced" // the line is the plain offset, loops and all
)

// Of returns the cut line of a piece. The piece must be valid: closed,
// counter-clockwise, not crossing itself; of one that is not, the answer is
// some polygon and a note.
func Of(p *pattern.Piece) Line {
	var stretches []stretch
	for i := range p.Edges {
		stretches = append(stretches, stretchesOf(&p.Edges[i])...)
	}
	if len(stretches) == 0 {
		return Line{}
	}
	n := len(stretches)
	r := raw{edges: make([]string, n)}
	for i, s := range stretches {
		r.edges[i] = s.edge
	}
	trims := make([]trim, n) // how much the corners take off each end
	joins := make([][]geom.Point, n)
	for i := range stretches {
		a, b := &stretches[i], &stretches[(i+1)%n]
		joins[i] = corner(a, b, &trims[i], &trims[(i+1)%n], &r)
	}
	for i := range stretches {
		pts := trims[i].apply(stretches[i].points)
		r.add(i, pts...)
		r.add((i+1)%n, joins[i]...) // what leaves a corner is the next stretch's
	}
	return r.outline(1)
}

// Width returns the allowance in mm that an edge is cut with: none on the fold.
func Width(e *pattern.Edge) float64 {
	if e.Finish == pattern.Fold || !(e.Allowance > 0) {
		return 0
	}
	return e.Allowance
}

// stretch is a smooth run of an edge, and its offset.
type stretch struct {
	edge       string
	width      float64
	from, to   geom.Point // on the seam line
	start, end geom.Point // unit tangents there, exact
	points     []geom.Point
	corner     pattern.Corner // at the end
}

// stretchesOf cuts an edge where it turns and offsets each part.
func stretchesOf(e *pattern.Edge) []stretch {
	w := Width(e)
	var out []stretch
	for _, s := range e.Path {
		d0, d1 := s.Direction(0), s.Direction(1)
		if d0 == (geom.Point{}) {
			continue
		}
		pts := offset(s, w)
		if k := len(out) - 1; k >= 0 && out[k].end.Dot(d0) > 0 && math.Abs(out[k].end.Cross(d0)) < smooth {
			out[k].points = append(out[k].points, pts...)
			out[k].to, out[k].end = s.P1, d1
			continue
		}
		out = append(out, stretch{edge: e.Name, width: w, from: s.P0, to: s.P1, start: d0, end: d1, points: pts})
	}
	if len(out) > 0 {
		out[len(out)-1].corner = e.Corner
	}
	return out
}

// offset returns points on the true offset of a segment, w to its right, whose
// chords stay within FlattenTolerance of it.
func offset(s geom.Segment, w float64) []geom.Point {
	at := func(t float64) geom.Point { return s.At(t).Add(s.Direction(t).Right().Mul(w)) }
	pts := []geom.Point{at(0)}
	if !s.Curved {
		return append(pts, at(1))
	}
	var walk func(t0, t1 float64, a, b geom.Point, depth int)
	walk = func(t0, t1 float64, a, b geom.Point, depth int) {
		far := 0.0
		for _, k := range [...]float64{0.25, 0.5, 0.75} {
			far = math.Max(far, fromChord(at(t0+(t1-t0)*k), a, b))
		}
		if depth < minDepth || far > FlattenTolerance && depth < maxDepth {
			tm := (t0 + t1) / 2
			m := at(tm)
			walk(t0, tm, a, m, depth+1)
			walk(tm, t1, m, b, depth+1)
			return
		}
		pts = append(pts, b)
	}
	walk(0, 1, pts[0], at(1), 0)
	return pts
}

// Halvings of a curve: at least as many as show an S-bend for what it is, and
// no more than a hostile curve should cost.
const minDepth, maxDepth = 2, 11

func fromChord(q, a, b geom.Point) float64 {
	v := b.Sub(a)
	l := v.Len()
	if l < 1e-12 {
		return q.Dist(a)
	}
	return math.Abs(v.Cross(q.Sub(a))) / l
}

// corner returns the points between the offset of a and that of b, and what
// must be trimmed off either for their cut lines to meet.
func corner(a, b *stretch, ta, tb *trim, r *raw) []geom.Point {
	v := a.to
	pa, pb := a.points[len(a.points)-1], b.points[0]
	if pa.Near(pb, 1e-9) {
		return nil
	}
	turn := geom.Turn(a.end, b.start)
	sin := math.Sin(turn)
	if turn < -smooth { // an inner corner: the lines cross, the trace finds where
		return []geom.Point{v}
	}
	if math.Abs(turn) <= smooth { // running on at another width: a step
		return nil
	}
	if a.corner == pattern.Square {
		return []geom.Point{v}
	}
	wide := math.Max(a.width, b.width)
	if a.corner == pattern.Meet {
		// Along a's line by t, back along b's by s, the two lines meet.
		cos := math.Cos(turn)
		t := (b.width - a.width*cos) / sin
		s := (a.width - b.width*cos) / sin
		limit := MitreLimit * wide
		switch {
		case math.Abs(sin) < 1e-9:
		case t >= 0 && s >= 0:
			if m := pa.Add(a.end.Mul(t)); m.Dist(v) <= limit {
				return []geom.Point{m}
			}
		case t < 0 && s <= trimLimit*wide:
			// The wider line is cut short by the narrower one, run backwards.
			if m, i, ok := hit(a.points, pb, b.start.Mul(-1), trimLimit*wide, true); ok {
				ta.keepTo, ta.endAt, ta.end = i, m, true
				return nil
			}
			return nil
		case s < 0 && t <= trimLimit*wide:
			if m, i, ok := hit(b.points, pa, a.end, trimLimit*wide, false); ok {
				tb.keepFrom, tb.startAt, tb.start = i, m, true
				return nil
			}
			return nil
		default:
			return nil // a shallow turn at two widths: a step
		}
		r.note(Bevelled, a.edge, v, fmt.Sprintf("the corner after %s is too sharp for its cut lines to meet; it is bevelled", a.edge))
	}
	// Bevel: square to the bisector, no nearer to the corner than the wider
	// allowance, so that nowhere is less cloth left than was asked for.
	out := a.end.Right().Add(b.start.Right()).Unit()
	if out == (geom.Point{}) { // a turn right back
		out = a.end
	}
	ka, kb := a.end.Dot(out), -b.start.Dot(out)
	if ka < 1e-9 || kb < 1e-9 {
		return nil
	}
	t, s := (wide-pa.Sub(v).Dot(out))/ka, (wide-pb.Sub(v).Dot(out))/kb
	if t > wide || s > wide {
		return nil // two widths at a shallow turn: the corner goes straight across
	}
	return []geom.Point{pa.Add(a.end.Mul(math.Max(0, t))), pb.Sub(b.start.Mul(math.Max(0, s)))}
}

// trim is what two corners take off the ends of an offset stretch.
type trim struct {
	start, end       bool
	keepFrom, keepTo int
	startAt, endAt   geom.Point
}

func (t trim) apply(pts []geom.Point) []geom.Point {
	from, to := 0, len(pts)-1
	if t.start {
		from = t.keepFrom
	}
	if t.end {
		to = t.keepTo
	}
	if from > to {
		return pts // both corners want the whole stretch: the trace sorts it out
	}
	var out []geom.Point
	if t.start {
		out = append(out, t.startAt)
	}
	out = append(out, pts[from:to+1]...)
	if t.end {
		out = append(out, t.endAt)
	}
	return out
}

// hit returns where the ray from q along d, no longer than limit, first meets
// the polyline seen from its end (or its start): the point, and the index of
// the last (first) polyline point to keep.
func hit(pts []geom.Point, q, d geom.Point, limit float64, fromEnd bool) (m geom.Point, index int, ok bool) {
	n := len(pts) - 1
	for k := range n {
		i := k
		if fromEnd {
			i = n - 1 - k
		}
		a, v := pts[i], pts[i+1].Sub(pts[i])
		den := d.Cross(v)
		if den == 0 {
			continue
		}
		t, u := a.Sub(q).Cross(v)/den, a.Sub(q).Cross(d)/den
		if t >= 0 && t <= limit && u >= 0 && u <= 1 {
			if fromEnd {
				return a.Add(v.Mul(u)), i, true
			}
			return a.Add(v.Mul(u)), i + 1, true
		}
	}
	return geom.Point{}, 0, false
}
