package paper

import (
	"cmp"
	"math"
	"slices"

	"bygone.example/core/geom"
)

// shape is one way in which a piece may lie: polygons that hold all its ink, in
// mm of its own paper.
type shape struct {
	polygons [][]geom.Point
	turn     int // quarters, anticlockwise
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
	// whole keeps a parcel that fits a page on one page.
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
}

// pack lays parcels so that they take few pages. It tries several orders and
// keeps the best; equal parcels give equal layouts.
func pack(parcels []parcel, f field) packed {
	p := newPacker(parcels, f)
	best := packed{tiles: math.MaxInt}
	for _, order := range p.orders() {
		if got := p.lay(order); got.tiles < best.tiles || got.tiles == best.tiles && got.cells < best.cells {
			best = got
		}
	}
	return best
}

type packer struct {
	field
	cellX, cellY float64
	nx, ny       int // cells of a tile
	masks        [][]*mask
	corners      [][]geom.Point // on the parcel's paper, of the mask's upper left
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
	for _, q := range parcels {
		var masks []*mask
		var corners []geom.Point
		for _, s := range q.ways {
			m, c := rasterise(s.polygons, p.cellX, p.cellY)
			masks, corners = append(masks, m), append(corners, c)
		}
		p.masks, p.corners = append(p.masks, masks), append(p.corners, corners)
	}
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
func (p *packer) lay(order []int) packed {
	tall := 0
	for _, ways := range p.masks {
		h := 0
		for _, m := range ways {
			h = max(h, m.h)
		}
		tall += p.pages(h+1) * p.ny
	}
	width := p.columns * p.nx
	l := &laying{packer: p, floor: newFloor(width, tall), inked: make([]bool, p.columns*(tall/p.ny))}
	out := packed{spots: make([]spot, len(p.masks))}
	for _, i := range order {
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
	out.cells = l.used * max(1, l.wide)
	return out
}

// pages is how many pages so many cells of height are on.
func (p *packer) pages(cells int) int { return (cells + p.ny - 1) / p.ny }

// laying is a sheet being filled.
type laying struct {
	*packer
	floor      *floor
	inked      []bool // by tile, row by row
	tiles      int
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
			for x := 0; x+m.w <= l.floor.w; x++ {
				if whole && x%l.nx+m.w > l.nx {
					continue
				}
				if cost := l.cost(m, x, y, best); cost < best && l.floor.free(m, x, y) {
					best, way, atX, atY = cost, w, x, y
				}
			}
		}
	}
	return way, atX, atY
}

// pageCost outweighs any number of cells, in what a place costs.
const pageCost = 1 << 24

// cost counts the pages that a mask would open, then how far down and right it
// lies. It stops counting at enough.
func (l *laying) cost(m *mask, x, y, enough int) int {
	if l.tileY == 0 {
		return max(0, y+m.h-l.used)*pageCost + y*1024 + x
	}
	cost := y*1024 + x
	for row := y / l.ny; row*l.ny < y+m.h; row++ {
		for col := x / l.nx; col*l.nx < x+m.w; col++ {
			if !l.inked[row*l.columns+col] && m.within(col*l.nx-x, row*l.ny-y, (col+1)*l.nx-x, (row+1)*l.ny-y) > 0 {
				if cost += pageCost; cost >= enough {
					return cost
				}
			}
		}
	}
	return cost
}

func (l *laying) ink(m *mask, x, y int) {
	if l.tileY == 0 {
		return
	}
	for row := y / l.ny; row*l.ny < y+m.h; row++ {
		for col := x / l.nx; col*l.nx < x+m.w; col++ {
			if t := row*l.columns + col; !l.inked[t] && m.within(col*l.nx-x, row*l.ny-y, (col+1)*l.nx-x, (row+1)*l.ny-y) > 0 {
				l.inked[t] = true
				l.tiles++
			}
		}
	}
}
