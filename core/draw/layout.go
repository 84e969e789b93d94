package draw

import (
	"math"
	"slices"
	"sync"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// class sorts pieces into the rows a maker looks for them in.
type class int

const (
	bodiceClass class = iota
	sleeveClass
	otherClass
	skirtClass
)

func classOf(p *pattern.Piece) class {
	switch p.Role {
	case pattern.BodiceFront, pattern.BodiceBack, pattern.BodiceSideBack:
		return bodiceClass
	case pattern.Sleeve, pattern.SleeveTop, pattern.SleeveUnder, pattern.Undersleeve, pattern.SleeveCuff, pattern.SleeveBand:
		return sleeveClass
	case pattern.SkirtFront, pattern.SkirtBack, pattern.Flounce, pattern.Tier:
		return skirtClass
	}
	return otherClass
}

// rank orders pieces within a class: front before back, large before small.
func rank(p *pattern.Piece) int {
	return slices.Index([]pattern.Role{
		pattern.BodiceFront, pattern.BodiceSideBack, pattern.BodiceBack,
		pattern.Sleeve, pattern.SleeveTop, pattern.SleeveUnder, pattern.Undersleeve, pattern.SleeveCuff, pattern.SleeveBand,
		pattern.FacingFront, pattern.FacingBack, pattern.SkirtFront, pattern.SkirtBack,
		pattern.Tier, pattern.Flounce,
	}, p.Role)
}

// inOrder returns the pieces in reading order: bodice, sleeves, small pieces,
// skirt; front before back; else as the pattern has them. A piece without an
// outline is left out.
func inOrder(p *pattern.Pattern) []*pattern.Piece {
	var out []*pattern.Piece
	for i := range p.Pieces {
		if len(p.Pieces[i].Boundary()) > 0 {
			out = append(out, &p.Pieces[i])
		}
	}
	slices.SortStableFunc(out, func(a, b *pattern.Piece) int {
		if c := int(classOf(a)) - int(classOf(b)); c != 0 {
			return c
		}
		ra, rb := rank(a), rank(b)
		if ra < 0 {
			ra = math.MaxInt
		}
		if rb < 0 {
			rb = math.MaxInt
		}
		switch {
		case ra < rb:
			return -1
		case ra > rb:
			return 1
		}
		return 0
	})
	return out
}

// cell is the room one piece asks for on the page.
type cell struct {
	w, h  float64
	class class
	x, y  float64 // of its top left corner, y down from the top of the layout
}

// shelve sets the cells in rows no wider than width, small ones stacked in
// columns, and returns the height used and the width of the widest row.
func shelve(cells []cell, width, gap float64) (height, widest float64) {
	type column struct {
		cells []int
		w, h  float64
	}
	var row []column
	tall := 0.0
	flush := func() {
		if len(row) == 0 {
			return
		}
		used := -gap
		for _, c := range row {
			used += c.w + gap
		}
		widest = math.Max(widest, used)
		// Spare width goes between the columns, within reason.
		air := gap
		if len(row) > 1 {
			air += math.Min((width-used)/float64(len(row)-1), gap)
		}
		x := (width - used - (air-gap)*float64(len(row)-1)) / 2
		for _, c := range row {
			y := height
			if cells[c.cells[0]].class != skirtClass {
				y += (tall - c.h) / 2 // a skirt hangs from its waist, others sit in the middle
			}
			for _, i := range c.cells {
				cells[i].x, cells[i].y = x+(c.w-cells[i].w)/2, y
				y += cells[i].h + gap
			}
			x += c.w + air
		}
		height += tall + gap*1.3
		row, tall = nil, 0
	}
	used := 0.0
	for i, c := range cells {
		newBand := len(row) > 0 && (c.class == skirtClass) != (cells[row[0].cells[0]].class == skirtClass)
		if n := len(row); n > 0 && !newBand && c.class != bodiceClass {
			last := &row[n-1]
			lone := cells[last.cells[0]].class == c.class || math.Max(c.h, last.h) < 0.6*tall
			if lone && cells[last.cells[0]].class != bodiceClass && last.h+gap+c.h <= tall && c.w <= 2*last.w {
				grown := math.Max(last.w, c.w)
				if used-last.w+grown <= width {
					used += grown - last.w
					last.w, last.h = grown, last.h+gap+c.h
					last.cells = append(last.cells, i)
					continue
				}
			}
		}
		if len(row) > 0 && (newBand || used+gap+c.w > width) {
			flush()
			used = 0
		}
		if len(row) > 0 {
			used += gap
		}
		row = append(row, column{[]int{i}, c.w, c.h})
		used += c.w
		tall = math.Max(tall, c.h)
	}
	flush()
	return math.Max(0, height-gap*1.3), widest
}

// scales are those a picture may be drawn at: one to these.
var scales = []float64{1, 2, 2.5, 3, 4, 5, 6, 7, 8, 10, 12, 15, 20, 25, 30, 40, 50, 75, 100, 200, 500}

// fit returns the largest drawing scale at which boxes of true size fit the
// page: the denominator of 1:n.
func fit(cells []cell, width, height, gap, pad float64) float64 {
	for _, n := range scales {
		try := make([]cell, len(cells))
		for i, c := range cells {
			try[i] = cell{w: c.w/n + pad, h: c.h/n + pad, class: c.class}
		}
		if h, w := shelve(try, width, gap); h <= height && w <= width+1e-9 {
			return n
		}
	}
	return scales[len(scales)-1]
}

// inParallel runs f for 0 to n−1, two or more at a time. Each writes only its
// own result, so the order does not show.
func inParallel(n int, f func(i int)) {
	var wg sync.WaitGroup
	for i := range n {
		wg.Go(func() { f(i) })
	}
	wg.Wait()
}

// arrange lays drawn pieces out below top and adds them to the drawing;
// it returns the height used.
func (d *Drawing) arrange(arts []*art, left, top, width, gap float64) float64 {
	cells := make([]cell, len(arts))
	for i, a := range arts {
		cells[i] = cell{w: a.bounds.Width(), h: a.bounds.Height(), class: classOf(a.piece)}
	}
	h, _ := shelve(cells, width, gap)
	for i, a := range arts {
		d.place(a.items, geom.Pt(left+cells[i].x-a.bounds.Min.X, top-cells[i].y-a.bounds.Max.Y))
	}
	return h
}
