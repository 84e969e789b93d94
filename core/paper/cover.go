package paper

import (
	"fmt"

	"bygone.example/core/draw"
	"bygone.example/core/geom"
)

// coverPage reports whether the first sheet is a page of its own: where the
// others are joined. On large paper it is a block beside the pieces.
func (s *Sheet) coverPage() bool { return s.Size.Tiled() && s.trueSize() }

// The block of lists on large paper, mm: the window of an A4 page.
const blockWidth, blockHeight = 190.0, 277.0

// coverBlock returns the lists as a block to pack with the pieces, or nil.
func (s *Sheet) coverBlock() *draw.Drawing {
	switch {
	case s.coverPage():
		return nil
	case s.Size.Projected():
		const width, height = 500, 120
		d := &draw.Drawing{Width: width, Height: height}
		for i, t := range [...]string{titleOf(s.pattern), "Set the projector until the grid measures 10 cm on the table,", "in the middle, at every edge and both ways; check again before cutting."} {
			size := []float64{30, 15, 15}[i]
			if w := draw.Bold.Width(t, size); w > width {
				size *= width / w
			}
			d.Write(layerSheet, draw.Text{Words: t, Face: draw.Bold, Size: size, At: geom.Pt(0, height-30-float64(i)*32)})
		}
		return d
	case !s.trueSize():
		const width, height = 95, 26
		d := &draw.Drawing{Width: width, Height: height}
		s.heading(d, width)
		return d
	}
	width := min(blockWidth, s.Size.Width-2*s.Margin)
	for height := blockHeight; ; height += 20 {
		if d, rest := s.lists(width, height); len(rest) == 0 {
			return d
		}
	}
}

// firstSheets are the pages before those with pieces: one, and more where the
// lists are long.
func (s *Sheet) firstSheets() []*draw.Drawing {
	w := s.Window()
	d, rest := s.lists(w.Width(), w.Height())
	out := []*draw.Drawing{d}
	for len(rest) > 0 {
		more := &draw.Drawing{Width: w.Width(), Height: w.Height()}
		left := rest
		rest = flow(left, halves(more, w.Height()))
		out = append(out, more)
		if len(rest) == len(left) && len(rest[0].items) == len(left[0].items) {
			break // an item longer than a page: no list of ours has one
		}
	}
	return out
}

// halves are two columns below y.
func halves(d *draw.Drawing, y float64) []column {
	const gap = 8
	half := (d.Width - gap) / 2
	return []column{{d: d, width: half, y: y}, {d: d, left: half + gap, width: half, y: y}}
}

// heading writes what this is and returns the height used.
func (s *Sheet) heading(d *draw.Drawing, width float64) float64 {
	c := column{d: d, width: width, y: d.Height}
	c.line(titleOf(s.pattern), draw.Bold, min(titleSize, width/11))
	c.y -= 0.6
	if s.trueSize() {
		c.line(fmt.Sprintf("%s · true size on %s", count(len(s.pattern.Pieces), "piece", "pieces"), s.Size), draw.Regular, bodySize)
	} else {
		c.line(fmt.Sprintf("%s · drawn at 1:%g, not to cut from", count(len(s.pattern.Pieces), "piece", "pieces"), 1/s.scale()), draw.Regular, bodySize)
		c.y -= 5
		length := 500.0
		for length*s.scale() > width*0.8 {
			length /= 2
		}
		smallRuler(d, geom.Pt(0, c.y), length*s.scale(), length*s.scale()/5, cm(length)+" of cloth")
		c.y -= 4
	}
	return d.Height - c.y
}

// lists draws the first sheet: squares to measure, the page map, how to join the
// pages, and what to look at before cutting, as far as there is room.
func (s *Sheet) lists(width, height float64) (d *draw.Drawing, rest []list) {
	d = &draw.Drawing{Width: width, Height: height}
	y := height - s.heading(d, width) - 3
	y -= s.styleKey(d, y, width)
	square, below := s.squares(d, geom.Pt(0, y))
	right := column{d: d, left: square + 6, width: width - square - 6, y: y}
	for _, t := range s.afterPrinting() {
		right.box(t)
	}
	right.y -= 1
	right.para("", cloth(s.pattern))
	y = min(y-below-3, right.y-2)
	if s.coverPage() {
		plan := column{d: d, width: width, y: y}
		plan.head(fmt.Sprintf("How the pages lie: %s in %s", count(len(s.Pages), "page", "pages"), count(s.Rows, "row", "rows")))
		y = plan.y - 1
		mapHeight := min(0.3*height, 110)
		joinWidth := 62.0
		s.pageMap(d, geom.BoxOf(geom.Pt(0, y-mapHeight), geom.Pt(width-joinWidth-6, y)))
		side := column{d: d, left: width - joinWidth, width: joinWidth, y: y}
		s.joinSketch(&side)
		for i, t := range s.joining() {
			side.para(fmt.Sprintf("%d", i+1), t)
		}
		y = min(y-mapHeight, side.y) - 2
	}
	return d, flow(s.notes(), halves(d, y))
}

// squares draws the squares to measure side by side, and returns how wide and
// how high they are together.
func (s *Sheet) squares(d *draw.Drawing, topLeft geom.Point) (width, height float64) {
	x := 0.0
	for _, q := range [...]struct {
		side float64
		text string
	}{{50, "5 cm"}, {2 * inch, "2 in"}} {
		at := topLeft.Add(geom.Pt(x, 0))
		b := geom.BoxOf(at.Sub(geom.Pt(0, q.side)), at.Add(geom.Pt(q.side, 0)))
		d.Draw(layerSheet, draw.Pen(0.3), rectangle(b))
		d.Write(layerSheet, draw.Text{Words: q.text, Face: draw.Bold, Size: 6.5, At: b.Centre().Sub(geom.Pt(0, 1)), Align: 0.5})
		d.Write(layerSheet, draw.Text{Words: "measure line to line", Face: draw.Regular, Size: 3, At: b.Centre().Sub(geom.Pt(0, 6)), Align: 0.5})
		x, height = x+q.side+5, max(height, q.side)
	}
	return x - 5, height
}
