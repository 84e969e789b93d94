package paper

import (
	"cmp"
	"math"
	"math/bits"
	"slices"

	"bygone.example/core/geom"
)

// shape is one way in which a piece may lie: polygons that hold all its ink, in
// mm of its own paper.
type shape struct {
	polygons [][]geom.Point
	lines    [][2]geom.Point // inside them
	turn     int             // quarters, anticlockwise
}

// parcel is a piece to be packed, and the ways in which it may lie.
type parcel struct{ ways []shape }

// spot is where a parcel went: the way it lies, and where the origin of its
// paper comes to be on the sheet, mm from the sheet's upper left corner, y up (so
// that y is not positive).
type spot struct {
	way int
	at  geom.Point
}

// field is what parcels are packed on.
type field struct {
	// tileX and tileY are the part of a page that only it shows, mm; tileY is 0
	// on a roll, where length counts and not pages.
	tileX, tileY float64
	columns      int // at most
	// whole keeps a parcel that fits a page on one page; else it is only tried.
	whole bool
}

// cellSide is about how many mm a cell of the raster is wide: fine enough to
// lay a neckline into an armscye's hollow, coarse enough to try some ten thousand
// places for every piece. It is also the least room between two pieces, so that
// scissors can pass.
const cellSide = 5.0

// rollBand is how far, in cells, the length of a roll is counted.
const rollBand = 1

// packed is a layout and what it costs.
type packed struct {
	spots []spot
	tiles int // pages with something on them; cells of length on a roll
	cells int // height and width used, for choosing between equals

	places int // tried
}

// better reports whether a layout is to be preferred.
func (p packed) better(o packed) bool {
	return p.tiles < o.tiles || p.tiles == o.tiles && p.cells < o.cells
}

// The search is bounded by places tried, not by the clock, so that equal parcels
// give equal layouts on every machine: about a quarter of a second of one core.
// batch are tried side by side; it is a part of the result, and no number of cores.
const (
	placesTried = 2e7
	batch       = 8
)

// pack lays parcels so that they take few pages. It tries several orders, the
// bulky first; then it goes on from the best by having two parcels change places
// in it, as long as that helps.
func pack(parcels []parcel, f field) packed {
	p := newPacker(parcels, f)
	best, from := packed{tiles: math.MaxInt}, plan{}
	places := 0
	try := func(plans []plan) (found bool) {
		got := make([]packed, len(plans))
		inParallel(len(plans), func(i int) { got[i] = p.lay(plans[i]) })
		for i, g := range got {
			places += g.places
			if g.better(best) {
				best, from, found = g, plans[i], true
			}
		}
		return found
	}
	var plans []plan
	for narrower := range min(f.columns-p.leastColumns()+1, narrowest) {
		for _, order := range p.orders() {
			for t := range ways {
				plans = append(plans, plan{order, t, f.columns - narrower, true})
				if !f.whole {
					plans = append(plans, plan{order, t, f.columns - narrower, false})
				}
			}
		}
	}
	for b := range slices.Chunk(plans, batch) {
		if try(b); places >= placesTried {
			break
		}
	}
	for found := true; found && places < placesTried; {
		found = false
		for b := range slices.Chunk(from.neighbours(), batch) {
			if places >= placesTried || found {
				break
			}
			found = try(b)
		}
	}
	return best
}

// plan is one way to lay all parcels.
type plan struct {
	order   []int
	towards towards
	columns int // of pages side by side
	whole   bool
}

// narrowest is how many widths of the sheet are tried, each a page narrower.
const narrowest = 4

// leastColumns is how many pages side by side hold every parcel, one way or other.
func (p *packer) leastColumns() int {
	n := 1
	for _, masks := range p.masks {
		least := math.MaxInt
		for _, m := range masks {
			least = min(least, m.w)
		}
		n = max(n, (least+p.nx-1)/p.nx)
	}
	return n
}

// neighbours are the plans in which two parcels have changed places.
func (p plan) neighbours() []plan {
	var out []plan
	for i := range p.order {
		for j := i + 1; j < len(p.order); j++ {
			order := slices.Clone(p.order)
			order[i], order[j] = order[j], order[i]
			for t := range ways {
				out = append(out, plan{order, t, p.columns, p.whole})
			}
		}
	}
	return out
}

type packer struct {
	field
	cellX, cellY float64
	nx, ny       int // cells of a tile
	masks        [][]*mask
	corners      [][]geom.Point // on the parcel's paper, of the mask's upper left
	touches      [][][]uint64   // by parcel and way: see touched
}

func newPacker(parcels []parcel, f field) *packer {
	p := &packer{field: f}
	p.nx = max(1, int(math.Round(f.tileX/cellSide)))
	p.cellX, p.cellY = f.tileX/float64(p.nx), cellSide
	p.ny = rollBand
	if f.tileY > 0 {
		p.ny = max(1, int(math.Round(f.tileY/cellSide)))
		p.cellY = f.tileY / float64(p.ny)
	}
	p.masks, p.corners, p.touches = make([][]*mask, len(parcels)), make([][]geom.Point, len(parcels)), make([][][]uint64, len(parcels))
	inParallel(len(parcels), func(i int) {
		for _, s := range parcels[i].ways {
			m, c := rasterise(s, p.cellX, p.cellY)
			p.masks[i], p.corners[i], p.touches[i] = append(p.masks[i], m), append(p.corners[i], c), append(p.touches[i], p.touched(m))
		}
	})
	return p
}

// orders returns the orders in which parcels are laid: the bulky first, by
// several readings of bulky.
func (p *packer) orders() [][]int {
	readings := []func(m *mask) int{
		func(m *mask) int { return m.w * m.h },
		func(m *mask) int { return m.count },
		func(m *mask) int { return max(m.w, m.h) },
		func(m *mask) int { return min(m.w, m.h) },
		func(m *mask) int { return m.w + m.h },
	}
	var out [][]int
	for _, r := range readings {
		order := make([]int, len(p.masks))
		for i := range order {
			order[i] = i
		}
		slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(r(p.masks[b][0]), r(p.masks[a][0])) })
		if !slices.ContainsFunc(out, func(o []int) bool { return slices.Equal(o, order) }) {
			out = append(out, order)
		}
	}
	return out
}

// lay puts one parcel after another where it opens the fewest new pages, as far
// up and left as that goes.
func (p *packer) lay(pl plan) packed {
	tall := 0
	for _, ways := range p.masks {
		h := 0
		for _, m := range ways {
			h = max(h, m.h)
		}
		tall += p.pages(h+1) * p.ny
	}
	width := pl.columns * p.nx
	l := &laying{packer: p, towards: pl.towards, columns: pl.columns, whole: pl.whole, floor: newFloor(width, tall), inked: make([]bool, pl.columns*(tall/p.ny)), blanks: make([][]uint64, tall/p.ny+1)}
	out := packed{spots: make([]spot, len(p.masks))}
	for _, i := range pl.order {
		if p.masks[i][0].count == 0 {
			continue
		}
		way, x, y := l.find(i)
		m := p.masks[i][way]
		l.floor.take(m, x, y)
		l.ink(m, x, y)
		l.used, l.wide = max(l.used, y+m.h), max(l.wide, x+m.w)
		c := p.corners[i][way]
		out.spots[i] = spot{way, geom.Pt(float64(x)*p.cellX-c.X, -float64(y)*p.cellY-c.Y)}
	}
	out.tiles = l.tiles
	if p.tileY == 0 {
		out.tiles = l.used
	}
	out.places = l.places
	out.cells = l.used * max(1, l.wide)
	return out
}

// pages is how many pages so many cells of height are on.
func (p *packer) pages(cells int) int { return (cells + p.ny - 1) / p.ny }

// laying is a sheet being filled.
type laying struct {
	*packer
	towards
	columns    int
	whole      bool
	floor      *floor
	inked      []bool     // by tile, row by row
	blanks     [][]uint64 // by row, until something is laid
	tiles      int
	places     int
	used, wide int // cells in use from the top, and from the left
}

// find returns the best place for parcel i. There always is one below all others:
// a parcel is no wider than the sheet.
func (l *laying) find(i int) (way, atX, atY int) {
	best := math.MaxInt
	for w, m := range l.masks[i] {
		if m.w > l.floor.w {
			continue
		}
		// Below what is used, and the row of cells next to it, a parcel may begin with
		// a page, no further down.
		last := l.pages(l.used+1) * l.ny
		whole := l.whole && l.tileY > 0 && m.w <= l.nx && m.h <= l.ny
		for y := 0; y <= last && y+m.h <= l.floor.h; y++ {
			if whole && y%l.ny+m.h > l.ny {
				continue
			}
			var touches []uint64
			var fresh []uint64 // of the windows of pages that begin in this row, the blank ones
			if l.tileY > 0 {
				touches = l.touches[i][w][y%l.ny*l.nx:]
				fresh = l.blank(y / l.ny)
			}
			for x := 0; x+m.w <= l.floor.w; x++ {
				l.places++
				if whole && x%l.nx+m.w > l.nx {
					x += l.nx - x%l.nx - 1
					continue
				}
				cost := l.towards.cost(x, y, m)
				if l.tileY > 0 {
					cost += bits.OnesCount64(touches[x%l.nx]&fresh[x/l.nx]) * pageCost
				} else {
					cost += max(0, y+m.h-l.used) * pageCost
				}
				if cost < best && l.floor.free(m, x, y) {
					best, way, atX, atY = cost, w, x, y
				}
			}
		}
	}
	return way, atX, atY
}

// towards is where parcels are pushed among places that open as many pages.
type towards int

const (
	upThenLeft towards = iota
	leftThenUp
	upThenRight
	corner
	ways
)

func (t towards) cost(x, y int, m *mask) int {
	switch t {
	case leftThenUp:
		return x*2048 + y
	case upThenRight:
		return y*2048 + 2047 - x
	case corner:
		return (x+m.w)*(x+m.w) + (y+m.h)*(y+m.h)
	}
	return y*2048 + x
}

// pageCost outweighs any number of cells, in what a place costs.
const pageCost = 1 << 32

// A window is span by span pages, a bit each: what a parcel can touch. Of a larger
// one the rest does not count.
const span = 8

// blank returns, for each column of pages, the window that begins there in the
// row: a bit for every page that nothing is on.
func (l *laying) blank(row int) []uint64 {
	if l.blanks[row] == nil {
		windows := make([]uint64, l.columns)
		for col := range windows {
			for r := range span {
				for c := range span {
					if at := (row+r)*l.columns + col + c; col+c < l.columns && (at >= len(l.inked) || !l.inked[at]) {
						windows[col] |= 1 << (r*span + c)
					}
				}
			}
		}
		l.blanks[row] = windows
	}
	return l.blanks[row]
}

// touched returns, for every place of a mask's corner on a page, the window of
// pages that its line touches.
func (p *packer) touched(m *mask) []uint64 {
	if p.tileY == 0 {
		return nil
	}
	out := make([]uint64, p.nx*p.ny)
	for y := range p.ny {
		for x := range p.nx {
			for r := 0; r < span && r*p.ny < y+m.h; r++ {
				for c := 0; c < span && c*p.nx < x+m.w; c++ {
					if m.within(c*p.nx-x, r*p.ny-y, (c+1)*p.nx-x, (r+1)*p.ny-y) > 0 {
						out[y*p.nx+x] |= 1 << (r*span + c)
					}
				}
			}
		}
	}
	return out
}

func (l *laying) ink(m *mask, x, y int) {
	if l.tileY == 0 {
		return
	}
	clear(l.blanks)
	for row := y / l.ny; row*l.ny < y+m.h; row++ {
		for col := x / l.nx; col*l.nx < x+m.w; col++ {
			if t := row*l.columns + col; !l.inked[t] && m.within(col*l.nx-x, row*l.ny-y, (col+1)*l.nx-x, (row+1)*l.ny-y) > 0 {
				l.inked[t] = true
				l.tiles++
			}
		}
	}
}
