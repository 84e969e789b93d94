package draw

import (
	"math"

	"bygone.example/core/geom"
)

// slab is an upright or turned rectangle that words take up.
type slab struct {
	centre geom.Point
	along  geom.Point // unit
	w, h   float64    // half lengths along and across
}

func (s slab) corners() [4]geom.Point {
	a, b := s.along.Mul(s.w), s.along.Left().Mul(s.h)
	c := s.centre
	return [4]geom.Point{c.Sub(a).Sub(b), c.Add(a).Sub(b), c.Add(a).Add(b), c.Sub(a).Add(b)}
}

func (s slab) grow(d float64) slab { s.w += d; s.h += d; return s }

func (s slab) bounds() geom.Box {
	c := s.corners()
	return geom.BoxOf(c[:]...)
}

// touches reports whether two slabs share a point (separating axes).
func (s slab) touches(o slab) bool {
	v := o.centre.Sub(s.centre)
	for _, axis := range [...]geom.Point{s.along, s.along.Left(), o.along, o.along.Left()} {
		reach := func(q slab) float64 {
			return q.w*math.Abs(q.along.Dot(axis)) + q.h*math.Abs(q.along.Left().Dot(axis))
		}
		if math.Abs(v.Dot(axis)) > reach(s)+reach(o) {
			return false
		}
	}
	return true
}

// crossed reports whether any part of the segment ab lies in the slab
// (clipped in the slab's own frame).
func (s slab) crossed(a, b geom.Point) bool {
	local := func(p geom.Point) geom.Point {
		v := p.Sub(s.centre)
		return geom.Pt(v.Dot(s.along), v.Dot(s.along.Left()))
	}
	p, q := local(a), local(b)
	lo, hi := 0.0, 1.0
	d := q.Sub(p)
	for _, axis := range [...][3]float64{{p.X, d.X, s.w}, {p.Y, d.Y, s.h}} {
		from, step, half := axis[0], axis[1], axis[2]
		if step == 0 {
			if math.Abs(from) > half {
				return false
			}
			continue
		}
		t0, t1 := (-half-from)/step, (half-from)/step
		lo, hi = math.Max(lo, math.Min(t0, t1)), math.Min(hi, math.Max(t0, t1))
	}
	return lo <= hi
}

// room knows what of a piece's inside is taken already.
type room struct {
	outline []geom.Point // of the seam line, closed polygon
	lines   [][2]geom.Point
	words   []slab
	box     geom.Box
}

// wall adds what words must keep clear of.
func (r *room) wall(p geom.Path) {
	pts := p.Flatten(0.06)
	for i := 1; i < len(pts); i++ {
		r.lines = append(r.lines, [2]geom.Point{pts[i-1], pts[i]})
	}
}

// free reports whether the slab, with gap around it, lies inside the piece and
// clear of everything there.
func (r *room) free(s slab, gap float64) bool {
	g := s.grow(gap)
	b := g.bounds()
	if b.Min.X < r.box.Min.X || b.Min.Y < r.box.Min.Y || b.Max.X > r.box.Max.X || b.Max.Y > r.box.Max.Y {
		return false
	}
	for _, w := range r.words {
		if g.touches(w) {
			return false
		}
	}
	for _, l := range r.lines {
		if b.Min.X <= math.Max(l[0].X, l[1].X) && math.Min(l[0].X, l[1].X) <= b.Max.X &&
			b.Min.Y <= math.Max(l[0].Y, l[1].Y) && math.Min(l[0].Y, l[1].Y) <= b.Max.Y && g.crossed(l[0], l[1]) {
			return false
		}
	}
	return geom.Contains(r.outline, s.centre)
}

// clearance returns how far p is from the nearest line; negative outside.
func (r *room) clearance(p geom.Point) float64 {
	// Squared lengths: this is asked of a thousand points a piece.
	near := math.Inf(1)
	for _, l := range r.lines {
		v, q := l[1].Sub(l[0]), p.Sub(l[0])
		if t := q.Dot(v); t > 0 {
			if l2 := v.Dot(v); t < l2 {
				q = q.Sub(v.Mul(t / l2))
			} else {
				q = p.Sub(l[1])
			}
		}
		if d2 := q.X*q.X + q.Y*q.Y; d2 < near {
			near = d2
		}
	}
	d := math.Sqrt(near)
	for _, w := range r.words {
		v := p.Sub(w.centre)
		x := math.Max(0, math.Abs(v.Dot(w.along))-w.w)
		y := math.Max(0, math.Abs(v.Dot(w.along.Left()))-w.h)
		d = math.Min(d, math.Hypot(x, y))
	}
	if !geom.Contains(r.outline, p) {
		return -d
	}
	return d
}

// readable turns a direction so that words along it do not stand on their
// heads: left to right, or bottom to top.
func readable(dir geom.Point) geom.Point {
	if dir.X < -1e-6 || math.Abs(dir.X) <= 1e-6 && dir.Y < 0 {
		return dir.Mul(-1)
	}
	return dir
}

// line is one line of a block of words.
type line struct {
	text string
	face face
	size float64
	soft bool // in the quiet ink
}

// block is lines set one under another, centred.
type block []line

const leading = 1.28

// under returns how far below the baseline of a line that of the next one is.
// One under letters half as large again keeps clear of their tails.
func (l line) under(above line) float64 {
	if above.size > 1.5*l.size {
		return above.size*descent + l.size*(leading-descent)
	}
	return l.size * leading
}

// size returns the block's width and height in mm.
func (b block) size() (w, h float64) {
	for i, l := range b {
		w = math.Max(w, l.face.width(l.text, l.size))
		if i == 0 {
			h += l.size * capHeight
		} else {
			h += l.under(b[i-1])
		}
	}
	if len(b) > 0 {
		h += b[len(b)-1].size * descent
	}
	return w, h
}

func (b block) times(k float64) block {
	out := make(block, len(b))
	for i, l := range b {
		l.size *= k
		out[i] = l
	}
	return out
}

// slab returns the space the block takes when centred on c along dir.
func (b block) slab(c, dir geom.Point) slab {
	w, h := b.size()
	return slab{c, dir.Unit(), w / 2, h / 2}
}

// set returns the block's words in the slab.
func (b block) set(s slab) []word {
	var out []word
	y := s.h
	up := s.along.Left()
	for i, l := range b {
		if i == 0 {
			y -= l.size * capHeight
		} else {
			y -= l.under(b[i-1])
		}
		x := -l.face.width(l.text, l.size) / 2
		fill := black
		if l.soft {
			fill = grey
		}
		out = append(out, word{l.text, l.face, l.size, s.centre.Add(s.along.Mul(x)).Add(up.Mul(y)), s.along.Angle(), fill})
	}
	return out
}
