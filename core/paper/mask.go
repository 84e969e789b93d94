package paper

import (
	"math"
	"math/bits"
	"slices"

	"bygone.example/core/geom"
)

// mask is a shape as cells of a raster: every cell that the shape touches. Row
// 0 is the top one.
type mask struct {
	w, h  int // cells
	words int // of a row
	rows  []uint64
	count int // cells set
	// sums[y*(w+1)+x] is how many cells of the shape's own line are above and left
	// of (x, y): a page within a piece, that no line is on, is not printed.
	sums []int32
	// tests is the order in which rows are looked at for a collision: the fullest
	// first, which are the likeliest to hit.
	tests []int
}

func newMask(w, h int) *mask {
	m := &mask{w: w, h: h, words: (w + 63) / 64}
	m.rows = make([]uint64, m.words*h)
	return m
}

func (m *mask) set(x, y int) {
	if x >= 0 && y >= 0 && x < m.w && y < m.h {
		m.rows[y*m.words+x/64] |= 1 << (x % 64)
	}
}

func (m *mask) has(x, y int) bool {
	return x >= 0 && y >= 0 && x < m.w && y < m.h && m.rows[y*m.words+x/64]&(1<<(x%64)) != 0
}

// finish counts what was set; line are the cells of the shape's own line.
func (m *mask) finish(line *mask) *mask {
	m.sums = make([]int32, (m.w+1)*(m.h+1))
	for y := range m.h {
		lines := int32(0)
		for x := range m.w {
			if line.has(x, y) {
				lines++
			}
			if m.has(x, y) {
				m.count++
			}
			m.sums[(y+1)*(m.w+1)+x+1] = m.sums[y*(m.w+1)+x+1] + lines
		}
		m.tests = append(m.tests, y)
	}
	// Far apart first: neighbours of a row that is free are likely free as well.
	slices.SortStableFunc(m.tests, func(a, b int) int { return bits.TrailingZeros(uint(b|256)) - bits.TrailingZeros(uint(a|256)) })
	return m
}

// within returns how many cells of the line are in a window of the mask's own cells,
// clipped to it.
func (m *mask) within(x0, y0, x1, y1 int) int32 {
	x0, y0, x1, y1 = max(x0, 0), max(y0, 0), min(x1, m.w), min(y1, m.h)
	if x0 >= x1 || y0 >= y1 {
		return 0
	}
	s, k := m.sums, m.w+1
	return s[y1*k+x1] - s[y0*k+x1] - s[y1*k+x0] + s[y0*k+x0]
}

// rasterise returns the cells that polygons touch, and the corner of the box
// around them that lies on cell (0, 0)'s upper left corner. A polygon is filled
// by the odd-even rule.
func rasterise(s shape, cellX, cellY float64) (m *mask, topLeft geom.Point) {
	polygons := s.polygons
	box := geom.EmptyBox
	for _, p := range polygons {
		box = box.Union(geom.BoxOf(p...))
	}
	if box.Empty() {
		return newMask(0, 0).finish(newMask(0, 0)), geom.Point{}
	}
	// A hair less than a whole cell does not ask for one more.
	cells := func(l, cell float64) int { return max(1, int(math.Ceil(l/cell-1e-6))) }
	m = newMask(cells(box.Width(), cellX), cells(box.Height(), cellY))
	line := newMask(m.w, m.h)
	topLeft = geom.Pt(box.Min.X, box.Max.Y)
	cell := func(q geom.Point) (int, int) {
		return min(m.w-1, int((q.X-topLeft.X)/cellX)), min(m.h-1, int((topLeft.Y-q.Y)/cellY))
	}
	// A line, in steps that leave out no more than the corner of a cell.
	trace := func(a, b geom.Point) {
		n := int(math.Ceil(a.Dist(b)/min(cellX, cellY)*4)) + 1
		for k := range n {
			x, y := cell(a.Lerp(b, float64(k)/float64(n)))
			m.set(x, y)
			line.set(x, y)
		}
	}
	for _, l := range s.lines {
		if box.Union(geom.BoxOf(l[0], l[1])) == box {
			trace(l[0], l[1])
		}
	}
	for _, p := range polygons {
		for i, a := range p {
			trace(a, p[(i+1)%len(p)])
		}
		// What it surrounds, along the middle of every row.
		for y := range m.h {
			at := topLeft.Y - (float64(y)+0.5)*cellY
			var xs []float64
			for i, a := range p {
				b := p[(i+1)%len(p)]
				if (a.Y > at) != (b.Y > at) {
					xs = append(xs, a.X+(at-a.Y)/(b.Y-a.Y)*(b.X-a.X))
				}
			}
			slices.Sort(xs)
			for k := 0; k+1 < len(xs); k += 2 {
				for x := int((xs[k] - topLeft.X) / cellX); x <= int((xs[k+1]-topLeft.X)/cellX); x++ {
					m.set(x, y)
				}
			}
		}
	}
	return m.finish(line), topLeft
}

// floor is a sheet as cells, taken or free.
type floor struct {
	w, h, words int
	rows        []uint64
}

func newFloor(w, h int) *floor {
	f := &floor{w: w, h: h, words: (w+63)/64 + 1} // one word to spare for what is shifted out
	f.rows = make([]uint64, f.words*h)
	return f
}

// free reports whether a mask laid at (x, y) touches nothing that is taken.
func (f *floor) free(m *mask, x, y int) bool {
	shift, first := uint(x%64), x/64
	for _, r := range m.tests {
		row := f.rows[(y+r)*f.words+first:]
		carry := uint64(0)
		for i, w := range m.rows[r*m.words : (r+1)*m.words] {
			if row[i]&(w<<shift|carry) != 0 {
				return false
			}
			carry = w >> (64 - shift) // nothing where shift is 0
		}
		if carry != 0 && row[m.words]&carry != 0 {
			return false
		}
	}
	return true
}

// take marks a mask laid at (x, y), and all cells next to it, as taken.
func (f *floor) take(m *mask, x, y int) {
	for r := range m.h {
		for c := range m.w {
			if !m.has(c, r) {
				continue
			}
			for dy := -1; dy <= 1; dy++ {
				for dx := -1; dx <= 1; dx++ {
					if X, Y := x+c+dx, y+r+dy; X >= 0 && Y >= 0 && X < f.w && Y < f.h {
						f.rows[Y*f.words+X/64] |= 1 << (X % 64)
					}
				}
			}
		}
	}
}
