package label

import (
	"math"
	"slices"

	"bygone.example/core/geom"
)

// grid is a space laid out in cells along one direction. A cell is free when
// it lies inside the outline and nothing passes through it.
type grid struct {
	along  geom.Point
	min    geom.Point // in the turned frame
	dx, dy float64    // of a cell
	taken  [gridSide][gridSide]bool
}

// local turns a point into the grid's frame, world back.
func (g *grid) local(p geom.Point) geom.Point {
	return geom.Pt(p.Dot(g.along), p.Dot(g.along.Left()))
}
func (g *grid) world(p geom.Point) geom.Point {
	return g.along.Mul(p.X).Add(g.along.Left().Mul(p.Y))
}

// corner returns the lower left corner of a cell.
func (g *grid) corner(x, y int) geom.Point {
	return g.min.Add(geom.Pt(float64(x)*g.dx, float64(y)*g.dy))
}

// grid lays the space out along a direction; nil when it has no area.
func (s Space) grid(along geom.Point) *grid {
	g := &grid{along: along}
	turned := make([]geom.Point, len(s.Outline))
	for i, p := range s.Outline {
		turned[i] = g.local(p)
	}
	box := geom.BoxOf(turned...)
	g.min, g.dx, g.dy = box.Min, box.Width()/gridSide, box.Height()/gridSide
	if !(g.dx > 0 && g.dy > 0) {
		return nil
	}
	g.outside(turned)
	for i, a := range turned {
		g.block(a, turned[(i+1)%len(turned)])
	}
	for _, w := range s.Walls {
		g.block(g.local(w[0]), g.local(w[1]))
	}
	for _, r := range s.Taken {
		c := r.corners()
		for i := range c {
			c[i] = g.local(c[i])
		}
		g.block(c[:]...)
	}
	return g
}

// outside takes the cells whose middle is outside the polygon.
func (g *grid) outside(polygon []geom.Point) {
	for y := range gridSide {
		level := g.min.Y + (float64(y)+0.5)*g.dy
		var at []float64
		for i, a := range polygon {
			b := polygon[(i+1)%len(polygon)]
			if (a.Y > level) != (b.Y > level) {
				at = append(at, a.X+(b.X-a.X)*(level-a.Y)/(b.Y-a.Y))
			}
		}
		slices.Sort(at)
		in := 0
		for x := range gridSide {
			mid := g.min.X + (float64(x)+0.5)*g.dx
			for in < len(at) && at[in] <= mid {
				in++
			}
			g.taken[y][x] = in%2 == 0
		}
	}
}

// sliver is how much of a cell a line may miss it by and still take it, so
// that rounding never lets one through.
const sliver = 1e-6

// block takes every cell that a segment, or a filled convex polygon, touches.
func (g *grid) block(corners ...geom.Point) {
	q := make([]geom.Point, len(corners))
	lo, hi := math.Inf(1), math.Inf(-1)
	for i, p := range corners {
		q[i] = geom.Pt((p.X-g.min.X)/g.dx, (p.Y-g.min.Y)/g.dy)
		lo, hi = math.Min(lo, q[i].Y), math.Max(hi, q[i].Y)
	}
	if !(hi >= -sliver && lo <= gridSide+sliver) { // off the grid, or not a number
		return
	}
	first := max(0, int(math.Floor(math.Max(lo-sliver, 0))))
	last := min(gridSide-1, int(math.Floor(math.Min(hi+sliver, gridSide))))
	for y := first; y <= last; y++ {
		// How far the shape reaches along this row.
		from, to := math.Inf(1), math.Inf(-1)
		below, above := float64(y)-sliver, float64(y+1)+sliver
		for i, a := range q {
			b := q[(i+1)%len(q)]
			if a.Y > b.Y {
				a, b = b, a
			}
			if b.Y < below || a.Y > above {
				continue
			}
			x0, x1 := a.X, b.X
			if d := b.Y - a.Y; d > 0 {
				x0 = a.X + (b.X-a.X)*math.Max(0, (below-a.Y)/d)
				x1 = a.X + (b.X-a.X)*math.Min(1, (above-a.Y)/d)
			}
			from, to = math.Min(from, math.Min(x0, x1)), math.Max(to, math.Max(x0, x1))
		}
		if to < -sliver || from > gridSide+sliver {
			continue
		}
		for x := int(math.Floor(math.Max(from-sliver, 0))); x <= min(gridSide-1, int(math.Floor(math.Min(to+sliver, gridSide)))); x++ {
			g.taken[y][x] = true
		}
	}
}

// rectangles calls f with every rectangle of free cells that cannot be made
// larger upwards, or to either side: cells x0 to x1, y0 to y1, the ends not
// included.
func (g *grid) rectangles(f func(x0, y0, x1, y1 int)) {
	var height [gridSide + 1]int
	type start struct{ x, h int }
	stack := make([]start, 0, gridSide+1)
	for y := range gridSide {
		for x := range gridSide {
			if g.taken[y][x] {
				height[x] = 0
			} else {
				height[x]++
			}
		}
		stack = stack[:0]
		for x := range gridSide + 1 { // the column beyond the last has no height
			h, from := height[x], x
			for len(stack) > 0 && stack[len(stack)-1].h >= h {
				top := stack[len(stack)-1]
				stack = stack[:len(stack)-1]
				from = top.x
				if top.h > h && (y+1 == gridSide || g.shutAbove(y+1, top.x, x)) {
					f(top.x, y+1-top.h, x, y+1)
				}
			}
			if h > 0 {
				stack = append(stack, start{from, h})
			}
		}
	}
}

// shutAbove reports whether a row has a taken cell between two columns.
func (g *grid) shutAbove(y, from, to int) bool {
	return slices.Contains(g.taken[y][from:to], true)
}
