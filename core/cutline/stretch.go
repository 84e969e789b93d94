package cutline

import (
	"math"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// vertex is a corner of a flattened line, and the chord that leaves it.
type vertex struct {
	at      geom.Point
	stretch int     // that the chord belongs to
	curve   int     // that the chord lies along, 1 for the first; 0 for a straight chord
	t0, t1  float64 // where on the curve the chord begins and ends
}

// straight makes a vertex that a straight chord leaves.
func straight(at geom.Point) vertex { return vertex{at: at} }

// curve is the offset of a segment, width mm to its right.
type curve struct {
	geom.Segment
	width float64
}

func (c curve) at(t float64) geom.Point {
	return c.Segment.At(t).Add(c.Direction(t).Right().Mul(c.width))
}

// stretch is a smooth run of an edge, and its offset.
type stretch struct {
	edge       string
	index      int // of the edge
	width      float64
	finish     pattern.Finish
	crossing   bool       // its seam is sewn across others that are closed by then
	from, to   geom.Point // on the seam line
	start, end geom.Point // unit tangents there, exact
	line       []vertex
	corner     pattern.Corner // at the end
	last       bool           // it ends the edge
}

func (s *stretch) first() geom.Point { return s.line[0].at }
func (s *stretch) final() geom.Point { return s.line[len(s.line)-1].at }

// stretchesOf cuts an edge where it turns and offsets each part.
func (r *raw) stretchesOf(p *pattern.Piece, index int) []stretch {
	e := &p.Edges[index]
	w := Width(e)
	var out []stretch
	for _, s := range e.Path {
		d0, d1 := s.Direction(0), s.Direction(1)
		if d0 == (geom.Point{}) {
			continue
		}
		line := r.offset(s, w)
		if k := len(out) - 1; k >= 0 && out[k].end.Dot(d0) > 0 && math.Abs(out[k].end.Cross(d0)) < smooth {
			out[k].line = append(out[k].line, line...)
			out[k].to, out[k].end = s.P1, d1
			continue
		}
		out = append(out, stretch{
			edge: e.Name, index: index, width: w, finish: e.Finish, crossing: crosses(e),
			from: s.P0, to: s.P1, start: d0, end: d1, line: line,
		})
	}
	if k := len(out) - 1; k >= 0 {
		out[k].corner, out[k].last = e.Corner, true
	}
	return out
}

// crosses reports whether an edge's seam is sewn when those that end in it are
// closed already: the ways round the body after the ways along it (common
// practice).
func crosses(e *pattern.Edge) bool {
	switch e.Is() {
	case pattern.Neckline, pattern.Armscye, pattern.Waist, pattern.Cap, pattern.Hem:
		return true
	}
	return e.Finish == pattern.Hemmed || e.Finish == pattern.Faced || e.Finish == pattern.Bound
}

// offset returns the true offset of a segment, w to its right, flattened so that
// the chords stay within FlattenTolerance of it.
func (r *raw) offset(s geom.Segment, w float64) []vertex {
	c := curve{s, w}
	if !s.Curved {
		return []vertex{straight(c.at(0)), straight(c.at(1))}
	}
	r.curves = append(r.curves, c)
	id := len(r.curves)
	line := []vertex{{at: c.at(0), curve: id}}
	var walk func(t0, t1 float64, a, b geom.Point, depth int)
	walk = func(t0, t1 float64, a, b geom.Point, depth int) {
		far := 0.0
		for _, k := range [...]float64{0.25, 0.5, 0.75} {
			far = math.Max(far, fromSegment(c.at(t0+(t1-t0)*k), a, b))
		}
		tm := (t0 + t1) / 2
		// Where the offset turns back on itself, its point may stick out from a
		// chord that looks true.
		deepest := maxDepth
		if ahead := c.ahead(t0); ahead != c.ahead(tm) || ahead != c.ahead(t1) {
			far, deepest = math.Max(far, a.Dist(b)), cuspDepth
		}
		if depth < minDepth || far > FlattenTolerance && depth < deepest {
			m := c.at(tm)
			walk(t0, tm, a, m, depth+1)
			walk(tm, t1, m, b, depth+1)
			return
		}
		line[len(line)-1].t0, line[len(line)-1].t1 = t0, t1
		line = append(line, vertex{at: b, curve: id})
	}
	walk(0, 1, line[0].at, c.at(1), 0)
	line[len(line)-1].curve = 0
	return line
}

// ahead reports whether the offset runs the way of its curve at t: it does not
// where the curve bends towards it more tightly than it is wide.
func (c curve) ahead(t float64) bool {
	return c.speed(t) > 0
}

// speed is how fast the offset runs the way of its curve; negative is backwards.
func (c curve) speed(t float64) float64 {
	v := c.Velocity(t)
	if !c.Curved {
		return v.Len()
	}
	bend := c.P0.Sub(c.C1.Mul(2)).Add(c.C2).Lerp(c.C1.Sub(c.C2.Mul(2)).Add(c.P1), t).Mul(6)
	l := v.Len()
	if l == 0 {
		return 0
	}
	return l + c.width*v.Cross(bend)/(l*l)
}

func (c curve) velocity(t float64) geom.Point { return c.Direction(t).Mul(c.speed(t)) }

// Halvings of a curve: at least as many as show an S-bend for what it is, and
// no more than a hostile curve should cost; more where an offset turns back on
// itself, which it does in a few places only.
const minDepth, maxDepth, cuspDepth = 2, 11, 18

func fromChord(q, a, b geom.Point) float64 {
	v := b.Sub(a)
	l := v.Len()
	if l < 1e-12 {
		return q.Dist(a)
	}
	return math.Abs(v.Cross(q.Sub(a))) / l
}

// reversed returns the line walked the other way.
func reversed(line []vertex) []vertex {
	n := len(line)
	out := make([]vertex, n)
	for i := range line {
		out[i] = straight(line[n-1-i].at)
		if k := n - 2 - i; k >= 0 {
			out[i].curve, out[i].t0, out[i].t1 = line[k].curve, line[k].t1, line[k].t0
		}
	}
	return out
}

// mirrored returns the line reflected by m.
func (r *raw) mirrored(line []vertex, m geom.Affine) []vertex {
	out := make([]vertex, len(line))
	ids := map[int]int{0: 0}
	for i, v := range line {
		if _, ok := ids[v.curve]; !ok {
			c := r.curves[v.curve-1]
			r.curves = append(r.curves, curve{c.Transform(m), -c.width})
			ids[v.curve] = len(r.curves)
		}
		v.at, v.curve = m.Apply(v.at), ids[v.curve]
		out[i] = v
	}
	return out
}

// trim is what two corners take off the ends of an offset stretch.
type trim struct{ start, end *meet }

// meet is a place on a line: on the chord of that index, the fraction u along.
type meet struct {
	at    geom.Point
	chord int
	u     float64
}

func (m meet) after(k meet) bool { return m.chord > k.chord || m.chord == k.chord && m.u > k.u }

func (t trim) apply(line []vertex) []vertex {
	if t.start != nil && t.end != nil && !t.end.after(*t.start) {
		return line // both corners want the whole stretch: the trace sorts it out
	}
	if t.end != nil {
		line, _ = cut(line, *t.end)
	}
	if t.start != nil {
		_, line = cut(line, *t.start)
	}
	return line
}

// cut parts a line at a place on it.
func cut(line []vertex, m meet) (before, after []vertex) {
	v := line[m.chord]
	t := v.t0 + (v.t1-v.t0)*m.u
	before = append(before, line[:m.chord+1]...)
	before[m.chord].t1 = t
	before = append(before, straight(m.at))
	v.at, v.t0 = m.at, t
	after = append(append(after, v), line[m.chord+1:]...)
	return before, after
}

// hit returns where the ray from q along d, no longer than limit, first meets
// the line seen from its end (or its start).
func hit(line []vertex, q, d geom.Point, limit float64, fromEnd bool) (meet, bool) {
	n := len(line) - 1
	for k := range n {
		i := k
		if fromEnd {
			i = n - 1 - k
		}
		a, v := line[i].at, line[i+1].at.Sub(line[i].at)
		den := d.Cross(v)
		if den == 0 {
			continue
		}
		t, u := a.Sub(q).Cross(v)/den, a.Sub(q).Cross(d)/den
		if t >= 0 && t <= limit && u >= 0 && u <= 1 {
			return meet{a.Add(v.Mul(u)), i, u}, true
		}
	}
	return meet{}, false
}
