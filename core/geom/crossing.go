package geom

import (
	"cmp"
	"math"
	"slices"
)

// Crossing is a place where two stretches of a path cut or touch each other:
// the arc lengths of both, in walking order, and the point.
type Crossing struct {
	First, Second float64
	At            Point
}

// touching is the distance in mm below which two stretches are taken to meet:
// ten times what rounding leaves at the largest coordinates a pattern may have
// (1e5 mm), and far below anything a pencil can draw.
const touching = 1e-6

// maxCrossings bounds the list, so that a hostile scribble costs no memory. One
// is enough to refuse a piece, and nobody reads the hundredth.
const maxCrossings = 100

// chord is one straight stretch of a flattened path.
type chord struct {
	a, b   Point
	lo, hi float64 // along the sweep's axis
	index  int     // in walking order
	along  float64 // chord length walked before a

	// Where on the path it lies: the segment, and the parameters of a and b.
	segment int
	t0, t1  float64
}

// SelfCrossings returns where a path cuts, touches or lies upon itself, in
// walking order, at most 100 places. A closed path's own joint is not a
// crossing, nor are neighbours that merely share an end. Curves are flattened
// within tol mm first: what crosses by less than tol may be missed, and
// stretches nearer than tol may be taken to cross. The walk is O(n log n) on
// shapes like pieces. The empty path has none.
func (p Path) SelfCrossings(tol float64) []Crossing {
	box := p.Bounds()
	tall := box.Height() > box.Width()
	var chords []chord
	walk := []Point{p.Start()} // the chords' ends, in walking order
	from, walked := p.Start(), 0.0
	for i, s := range p {
		steps, t0 := 1, 0.0
		if s.Curved {
			steps = s.chords(tol)
		}
		for k := 1; k <= steps; k++ {
			q, t1 := s.P1, float64(k)/float64(steps)
			if k < steps {
				q = s.At(t1)
			}
			l := from.Dist(q)
			if l <= touching { // rounding left by a cut: no direction to be trusted
				continue
			}
			c := chord{a: from, b: q, lo: from.X, hi: q.X, index: len(chords), along: walked, segment: i, t0: t0, t1: t1}
			if tall {
				c.lo, c.hi = from.Y, q.Y
			}
			if c.lo > c.hi {
				c.lo, c.hi = c.hi, c.lo
			}
			chords = append(chords, c)
			walk = append(walk, q)
			walked += l
			from, t0 = q, t1
		}
	}
	n := len(chords)
	closed := n > 0 && p.Start().Near(p.End(), touching)
	// The sweep goes along the longer side of the box, so that few chords stand
	// beside each other.
	slices.SortFunc(chords, func(c, d chord) int {
		return cmp.Or(cmp.Compare(c.lo, d.lo), cmp.Compare(c.index, d.index))
	})
	var found []Crossing
sweep:
	for i := range chords {
		reach := chords[i].hi + touching
		for j := i + 1; j < n && chords[j].lo <= reach; j++ {
			first, second := &chords[i], &chords[j]
			if !beside(first, second) {
				continue
			}
			if first.index > second.index {
				first, second = second, first
			}
			c, beyond, ok := first.meets(second, n, closed)
			if !ok || beyond && parting(walk, first, second, c, walked, closed, tol) {
				continue
			}
			c.First, c.Second = p.trueArc(first, c.First), p.trueArc(second, c.Second)
			if found = append(found, c); len(found) == maxCrossings {
				break sweep
			}
		}
	}
	slices.SortFunc(found, func(a, b Crossing) int {
		return cmp.Or(cmp.Compare(a.First, b.First), cmp.Compare(a.Second, b.Second))
	})
	return found
}

// trueArc returns the arc length on the path at along mm of chord length, which
// lies on chord c.
func (p Path) trueArc(c *chord, along float64) float64 {
	share := (along - c.along) / c.a.Dist(c.b)
	return p[:c.segment].Length() + p[c.segment].LengthTo(c.t0+(c.t1-c.t0)*share)
}

// partingLoop is how far, in mm of walk there and back, two curves that part at
// a tangent can stay within a chord's error of each other. From memory of
// facings and collars drawn with such points; their chords cross at random.
const partingLoop = 20

// parting reports whether a crossing is only what flattening makes of two
// curves that part at a tangent: it closes a short loop, on average narrower
// than the chords are true.
func parting(walk []Point, c, d *chord, at Crossing, total float64, closed bool, tol float64) bool {
	from, to, loop := c.index+1, d.index, at.Second-at.First
	if rest := total - loop; closed && rest < loop {
		from, to, loop = d.index+1, len(walk)+c.index-1, rest
	}
	if loop > partingLoop {
		return false
	}
	var twice float64
	last := at.At
	for i := from; i <= to; i++ {
		q := walk[i%(len(walk)-1)]
		twice += last.Sub(at.At).Cross(q.Sub(at.At))
		last = q
	}
	return math.Abs(twice)/2 <= tol*loop
}

// beside reports whether the chords' boxes are within touching of each other.
func beside(c, d *chord) bool {
	return min(c.a.X, c.b.X) <= max(d.a.X, d.b.X)+touching && min(d.a.X, d.b.X) <= max(c.a.X, c.b.X)+touching &&
		min(c.a.Y, c.b.Y) <= max(d.a.Y, d.b.Y)+touching && min(d.a.Y, d.b.Y) <= max(c.a.Y, c.b.Y)+touching
}

// meets returns where c and the later chord d meet, and whether they are more
// than neighbours. n is the number of chords and closed whether the last one
// joins the first.
func (c *chord) meets(d *chord, n int, closed bool) (at Crossing, beyond, ok bool) {
	switch {
	case d.index == c.index+1:
		return Crossing{d.along, d.along, d.a}, false, folded(c.a, c.b, d.a, d.b)
	case closed && c.index == 0 && d.index == n-1:
		return Crossing{c.along, d.along + d.a.Dist(d.b), c.a}, false, folded(d.a, d.b, c.a, c.b)
	}
	t, u, ok := meet(c.a, c.b, d.a, d.b)
	return Crossing{c.along + t, d.along + u, c.a.Add(c.b.Sub(c.a).Unit().Mul(t))}, true, ok
}

// folded reports whether cd, which sets out where ab ends, lies back on it.
func folded(a, b, c, d Point) bool {
	u, v := b.Sub(a).Unit(), d.Sub(c).Unit()
	return u.Dot(v) < 0 && math.Abs(u.Cross(v))*min(a.Dist(b), c.Dist(d)) <= touching
}

// meet returns how many mm along ab and along cd the two meet, ends included;
// of chords that lie upon each other, where that begins on ab.
func meet(a, b, c, d Point) (t, u float64, ok bool) {
	r, s := b.Sub(a), d.Sub(c)
	lr, ls := r.Len(), s.Len()
	r, s = r.Mul(1/lr), s.Mul(1/ls)
	ac := c.Sub(a)
	den := r.Cross(s)
	if math.Abs(den)*min(lr, ls) <= touching/10 { // parallel as far as rounding can tell
		if math.Abs(r.Cross(ac)) > touching {
			return 0, 0, false
		}
		from, to := r.Dot(ac), r.Dot(d.Sub(a))
		t = max(0, min(from, to))
		u = max(0, min(ls, s.Dot(a.Add(r.Mul(t)).Sub(c))))
		return t, u, min(lr, max(from, to))-t >= -touching
	}
	t, u = ac.Cross(s)/den, ac.Cross(r)/den
	return t, u, t >= -touching && t <= lr+touching && u >= -touching && u <= ls+touching
}
