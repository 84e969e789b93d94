package cutline

import (
	"math"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// shade marks squares that surely lie within the cut line: nearer to the seam
// line than its allowance is wide, or within a corner. No border runs there, so
// that crossings there need not be looked for. On a ragged outline, where every
// offset crosses a hundred others, that leaves few.
//
// A place is as near as that if the allowance of the seam line's nearest point is
// wider than the place is far: it then lies straight out from that point.
type shade struct {
	grid
	marked []bool
}

const (
	// leastShaded is how many corners a raw line must have for a shade to be worth
	// its cost: more than a piece of drawn curves ever has.
	leastShaded = 1500
	// shadeFine is how many squares a shade has across the widest allowance.
	shadeFine = 8
	// shadeSlack in mm is more than flattening and rounding can be off.
	shadeSlack = 0.02
)

// shadeFrom is leastShaded; a test looks at what comes without a shade.
var shadeFrom = leastShaded

// seamChord is a chord of the seam line and its allowance; one whose offset the
// corners change is not plain.
type seamChord struct {
	a, b  geom.Point
	width float64
	plain bool
}

// seamChords returns the seam line that a stretch is the offset of.
func (r *raw) seamChords(s *stretch, plain bool) []seamChord {
	var out []seamChord
	for i, v := range s.line[:len(s.line)-1] {
		next := s.line[i+1].at
		back := next.Sub(v.at).Unit().Left().Mul(s.width)
		switch {
		case v.curve != 0:
			c := r.curves[v.curve-1]
			out = append(out, seamChord{c.At(v.t0), c.At(v.t1), s.width, plain})
		case next != v.at:
			out = append(out, seamChord{v.at.Add(back), next.Add(back), s.width, plain})
		}
	}
	return out
}

// shadow works out the shade of the raw line: none where no allowance is wide
// enough.
func (r *raw) shadow(stretches []stretch, trims []trim, joins [][]vertex) {
	n := len(stretches)
	var seam []seamChord
	var wedges [][]geom.Point
	widest := 0.0
	shaped := func(i int) bool {
		k := stretches[i].corner
		return k != pattern.Meet && k != pattern.Bevel
	}
	for i := range stretches {
		s, next := &stretches[i], &stretches[(i+1)%n]
		plain := trims[i] == trim{} && !shaped(i) && !shaped((i+n-1)%n)
		seam = append(seam, r.seamChords(s, plain)...)
		widest = max(widest, s.width)
		if !shaped(i) && trims[i].end == nil && trims[(i+1)%n].start == nil && geom.Turn(s.end, next.start) > smooth {
			wedge := append([]geom.Point{s.to, s.final()}, points(joins[i])...)
			wedges = append(wedges, append(wedge, next.first()))
		}
	}
	if widest < 16*shadeSlack {
		return
	}
	box := geom.EmptyBox
	for _, v := range r.line {
		box = box.With(v.at)
	}
	g := newGrid(box.Grow(widest), widest/shadeFine)
	half := g.size / math.Sqrt2 // from a square's middle to its corner
	far := make([]float64, g.nx*g.ny)
	for i := range far {
		far[i] = math.Inf(1)
	}
	each := func(c seamChord, f func(k int, d float64)) {
		reach := widest + 2*half
		b := geom.BoxOf(c.a, c.b).Grow(reach)
		for y := g.row(b.Min.Y); y <= g.row(b.Max.Y); y++ {
			for x := g.column(b.Min.X); x <= g.column(b.Max.X); x++ {
				m := g.min.Add(geom.Pt((float64(x)+0.5)*g.size, (float64(y)+0.5)*g.size))
				f(y*g.nx+x, fromSegment(m, c.a, c.b))
			}
		}
	}
	for _, c := range seam {
		each(c, func(k int, d float64) { far[k] = min(far[k], d) })
	}
	s := &shade{g, make([]bool, g.nx*g.ny)}
	for k, d := range far {
		s.marked[k] = d+half+shadeSlack < widest
	}
	for _, c := range seam {
		each(c, func(k int, d float64) {
			if d <= far[k]+2*half && (!c.plain || c.width <= far[k]+half+shadeSlack) {
				s.marked[k] = false
			}
		})
	}
	for _, c := range wedges {
		s.fill(c)
	}
	r.shade = s
}

// fill marks the squares that lie within a convex polygon.
func (s *shade) fill(poly []geom.Point) {
	b := geom.BoxOf(poly...)
	for y := s.row(b.Min.Y); y <= s.row(b.Max.Y); y++ {
		for x := s.column(b.Min.X); x <= s.column(b.Max.X); x++ {
			m := s.min.Add(geom.Pt((float64(x)+0.5)*s.size, (float64(y)+0.5)*s.size))
			if within(poly, m, s.size/math.Sqrt2+shadeSlack) {
				s.marked[y*s.nx+x] = true
			}
		}
	}
}

// within reports whether a counter-clockwise convex polygon holds the disc.
func within(poly []geom.Point, m geom.Point, radius float64) bool {
	for i, a := range poly {
		if v := poly[(i+1)%len(poly)].Sub(a); v.Cross(m.Sub(a)) < radius*v.Len() {
			return false
		}
	}
	return true
}

func (s *shade) at(q geom.Point) bool { return s != nil && s.marked[s.square(q)] }

// covers reports whether a whole square of another grid lies in the shade.
func (s *shade) covers(g grid, k int) bool {
	if s == nil {
		return false
	}
	low := g.min.Add(geom.Pt(float64(k%g.nx)*g.size, float64(k/g.nx)*g.size))
	high := low.Add(geom.Pt(g.size, g.size))
	for y := s.row(low.Y); y <= s.row(high.Y); y++ {
		for x := s.column(low.X); x <= s.column(high.X); x++ {
			if !s.marked[y*s.nx+x] {
				return false
			}
		}
	}
	return true
}

func fromSegment(q, a, b geom.Point) float64 {
	v := b.Sub(a)
	if l2 := v.Dot(v); l2 > 0 {
		return q.Dist(a.Add(v.Mul(max(0, min(1, q.Sub(a).Dot(v)/l2)))))
	}
	return q.Dist(a)
}
