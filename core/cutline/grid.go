package cutline

import (
	"math"

	"bygone.example/core/geom"
)

// places numbers points, those that lie within a distance of each other with one
// number. The zero value has none.
type places struct {
	squares map[[2]int64][]place
	n       int
}

type place struct {
	at     geom.Point
	number int
}

// find returns the number of a point within tol of q; where there is none, the
// next free number if it is to be added, else -1. One tol must be kept to.
func (p *places) find(q geom.Point, tol float64, add bool) int {
	size := 4 * tol
	x, y := int64(math.Floor(q.X/size)), int64(math.Floor(q.Y/size))
	best := -1
	for dx := int64(-1); dx <= 1; dx++ {
		for dy := int64(-1); dy <= 1; dy++ {
			for _, k := range p.squares[[2]int64{x + dx, y + dy}] {
				if k.at.Near(q, tol) && (best < 0 || k.number < best) {
					best = k.number
				}
			}
		}
	}
	if best >= 0 || !add {
		return best
	}
	if p.squares == nil {
		p.squares = map[[2]int64][]place{}
	}
	p.squares[[2]int64{x, y}] = append(p.squares[[2]int64{x, y}], place{q, p.n})
	p.n++
	return p.n - 1
}

// grid is a part of the plane in equal squares, row by row.
type grid struct {
	min    geom.Point
	size   float64
	nx, ny int
}

// mostSquares bounds what one outline may cost in memory.
const mostSquares = 1 << 20

func newGrid(box geom.Box, size float64) grid {
	size = max(size, math.Sqrt(box.Width()*box.Height()/mostSquares), max(box.Width(), box.Height())/mostSquares*4)
	if !(size > 0) {
		size = 1
	}
	return grid{box.Min, size, int(box.Width()/size) + 1, int(box.Height()/size) + 1}
}

func (g grid) column(x float64) int { return max(0, min(g.nx-1, int((x-g.min.X)/g.size))) }
func (g grid) row(y float64) int    { return max(0, min(g.ny-1, int((y-g.min.Y)/g.size))) }

func (g grid) square(q geom.Point) int { return g.row(q.Y)*g.nx + g.column(q.X) }

// through calls f with every square that the chord ab passes, or comes within
// slack of.
func (g grid) through(a, b geom.Point, slack float64, f func(square int)) {
	if a.Y > b.Y {
		a, b = b, a
	}
	for y := g.row(a.Y - slack); y <= g.row(b.Y+slack); y++ {
		lo, hi := min(a.X, b.X), max(a.X, b.X)
		if h := b.Y - a.Y; h > g.size {
			bottom := g.min.Y + float64(y)*g.size
			at := func(level float64) float64 {
				return a.X + (b.X-a.X)*max(0, min(1, (level-a.Y)/h))
			}
			x0, x1 := at(bottom-slack), at(bottom+g.size+slack)
			lo, hi = min(x0, x1), max(x0, x1)
		}
		for x := g.column(lo - slack); x <= g.column(hi+slack); x++ {
			f(y*g.nx + x)
		}
	}
}

// filed is a list of numbers for every square of a grid, or band.
type filed struct{ start, items []int32 }

func (f filed) in(k int) []int32 { return f.items[f.start[k]:f.start[k+1]] }

// fileBy files the numbers 0…n-1: each calls put with every place it belongs to.
func fileBy(n, places int, each func(i int, put func(place int))) filed {
	f := filed{start: make([]int32, places+2)}
	for i := range n {
		each(i, func(k int) { f.start[k+2]++ })
	}
	for k := 2; k < len(f.start); k++ {
		f.start[k] += f.start[k-1]
	}
	f.items = make([]int32, f.start[len(f.start)-1])
	for i := range n {
		each(i, func(k int) {
			f.items[f.start[k+1]] = int32(i)
			f.start[k+1]++
		})
	}
	return f
}

// pair is a crossing of two chords, i before j.
type pair struct {
	i, j int
	at   geom.Point
}

// pairs finds the crossings of the raw line that do not lie in the shade.
func (r *raw) pairs() []pair {
	n := len(r.line)
	box := geom.EmptyBox
	for _, v := range r.line {
		box = box.With(v.at)
	}
	g := newGrid(box, math.Sqrt(box.Width()*box.Height()/float64(4*n)))
	const slack = 4 * tight
	squares := fileBy(n, g.nx*g.ny, func(i int, put func(int)) { g.through(r.line[i].at, r.next(i), slack, put) })
	var found []pair
	for k := range g.nx * g.ny {
		in := squares.in(k)
		if len(in) < 2 || r.shade.covers(g, k) {
			continue
		}
		for m, i := range in {
			a, b := r.line[i].at, r.next(int(i))
			left, right, low, high := min(a.X, b.X)-slack, max(a.X, b.X)+slack, min(a.Y, b.Y)-slack, max(a.Y, b.Y)+slack
			for _, j := range in[m+1:] {
				if j == i+1 || i == 0 && int(j) == n-1 {
					continue
				}
				c, d := r.line[j].at, r.next(int(j))
				if c.X < left && d.X < left || c.X > right && d.X > right || c.Y < low && d.Y < low || c.Y > high && d.Y > high {
					continue
				}
				at, count := cross(a, b, c, d)
				for _, q := range at[:count] {
					if g.square(q) == k && !r.shade.at(q) {
						found = append(found, pair{int(i), int(j), q})
					}
				}
			}
		}
	}
	return found
}

// winder tells how often the raw line winds around a point. Its chords are filed
// by the levels they pass, upright and lying.
type winder struct {
	line   []vertex
	grid   grid
	levels [2]filed // by rows, by columns
}

func newWinder(r *raw) *winder {
	n := len(r.line)
	box := geom.EmptyBox
	for _, v := range r.line {
		box = box.With(v.at)
	}
	w := &winder{line: r.line}
	bands := max(1, min(n, 4096))
	w.grid = grid{min: box.Min, size: max(box.Width(), box.Height(), tight) / float64(bands), nx: bands + 1, ny: bands + 1}
	w.levels[0] = fileBy(n, bands+1, func(i int, put func(int)) {
		a, b := r.line[i].at.Y, r.next(i).Y
		for k := w.grid.row(min(a, b)); k <= w.grid.row(max(a, b)); k++ {
			put(k)
		}
	})
	w.levels[1] = fileBy(n, bands+1, func(i int, put func(int)) {
		a, b := r.line[i].at.X, r.next(i).X
		for k := w.grid.column(min(a, b)); k <= w.grid.column(max(a, b)); k++ {
			put(k)
		}
	})
	return w
}

// at returns how often the line goes counter-clockwise around q. Of the chords
// level with q and those upright of it, the fewer are looked at.
func (w *winder) at(q geom.Point) int {
	level, upright := w.levels[0].in(w.grid.row(q.Y)), w.levels[1].in(w.grid.column(q.X))
	flip := len(upright) < len(level)
	if flip {
		level = upright
		q.X, q.Y = q.Y, q.X
	}
	sum, n := 0, len(w.line)
	for _, i := range level {
		a, b := w.line[i].at, w.line[(int(i)+1)%n].at
		if flip {
			a.X, a.Y, b.X, b.Y = a.Y, a.X, b.Y, b.X
		}
		up, down := a.Y <= q.Y && b.Y > q.Y, b.Y <= q.Y && a.Y > q.Y
		if !up && !down {
			continue
		}
		side := b.Sub(a).Cross(q.Sub(a))
		if up && side > 0 {
			sum++
		}
		if down && side < 0 {
			sum--
		}
	}
	if flip {
		return -sum
	}
	return sum
}

// borders reports whether the arc has the wound-around region on its left and
// none of it on its right.
func (w *winder) borders(a arc) bool {
	// The middle of the longest chord is the place furthest from trouble.
	k, longest := 1, -1.0
	for i := 1; i < len(a.line); i++ {
		if l := a.line[i].at.Dist(a.line[i-1].at); l > longest {
			k, longest = i, l
		}
	}
	p, q := a.line[k-1].at, a.line[k].at
	side := q.Sub(p).Unit().Left().Mul(math.Min(1e-4, longest/8))
	m := q.Lerp(p, 0.5)
	return w.at(m.Add(side)) > 0 && w.at(m.Sub(side)) <= 0
}
