package paper

import (
	"fmt"
	"image/color"
	"strings"

	"bygone.example/core/draw"
	"bygone.example/core/geom"
)

// The layers of a printed document beside those of the pieces.
const (
	layerSheet draw.Layer = "sheet"      // the first sheet's lists, rulers
	layerJoin  draw.Layer = "page marks" // what tells which edges meet
	layerGrid  draw.Layer = "grid"       // of a projector's page
)

func grey(v uint8) color.RGBA { return color.RGBA{v, v, v, 255} }

// Document makes the pages: the first sheet, then those with pieces on them, row
// by row.
func (s *Sheet) Document() draw.Document {
	d := draw.Document{
		Title:  titleOf(s.pattern),
		Text:   s.Text(),
		Listed: []draw.Layer{draw.LayerCut, draw.LayerSeam, draw.LayerMarks, draw.LayerLabels, draw.LayerCloth, layerJoin, layerSheet, layerGrid},
	}
	for _, size := range s.Sizes {
		d.Listed = append(d.Listed, layerOf(size.Name))
	}
	if s.Size.Roll() {
		page := draw.Page{Width: s.Size.Width, Height: s.Drawing.Height + 2*s.Margin}
		if s.Size.Projected() {
			page.Add(gridOf(page.Width, page.Height), draw.Placing{})
		}
		page.Add(&s.Drawing, draw.Placing{At: geom.Pt(s.Margin, s.Margin)})
		d.Pages = []draw.Page{page}
		return d
	}
	if s.coverPage() {
		for _, first := range s.firstSheets() {
			cover := draw.Page{Width: s.Size.Width, Height: s.Size.Height}
			cover.Add(first, draw.Placing{At: geom.Pt(s.Margin, s.Margin)})
			d.Pages = append(d.Pages, cover)
		}
	}
	for i, t := range s.Pages {
		d.Pages = append(d.Pages, s.page(t, i+1))
	}
	return d
}

// gridOf draws lines 10 cm apart all over a page, each fifth strong: where they
// measure 10 cm on the table, everywhere and both ways, so does the pattern.
func gridOf(width, height float64) *draw.Drawing {
	const step = 100.0
	d := &draw.Drawing{Width: width, Height: height}
	line := func(i int, a, b geom.Point) {
		k := draw.Ink{Stroke: grey(0xc4), Width: 0.7}
		if i%5 == 0 {
			k = draw.Ink{Stroke: grey(0x98), Width: 1.4}
		}
		d.Draw(layerGrid, k, geom.Polyline(a, b))
	}
	for i := 0; float64(i)*step <= width; i++ {
		x := float64(i) * step
		line(i, geom.Pt(x, 0), geom.Pt(x, height))
	}
	for i := 0; float64(i)*step <= height; i++ {
		y := height - float64(i)*step
		line(i, geom.Pt(0, y), geom.Pt(width, y))
	}
	return d
}

// Text tells in words what is printed.
func (s *Sheet) Text() string {
	pieces := count(len(s.Pieces), "piece", "pieces")
	if s.nested() {
		pieces += fmt.Sprintf(" in %d sizes", len(s.Sizes))
	}
	text := fmt.Sprintf("%s on %s: %s", pieces, s.Size, count(len(s.Pages), "page", "pages"))
	if s.coverPage() {
		text += " and the first sheet"
	}
	if s.Size.Roll() {
		text = fmt.Sprintf("%s on %s, %s long", pieces, s.Size, cm(s.Drawing.Height+2*s.Margin))
	}
	if s.trueSize() {
		return text + ", true size."
	}
	return text + fmt.Sprintf(", drawn at 1:%g.", 1/s.scale())
}

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// page draws one page: its window of the sheet, and around it what tells where
// the page goes.
func (s *Sheet) page(t Tile, number int) draw.Page {
	p := draw.Page{Width: s.Size.Width, Height: s.Size.Height, Trim: s.Window()}
	shown := s.Shown(t)
	window := s.Window()
	marks := &draw.Drawing{Width: p.Width, Height: p.Height}
	s.drawName(marks, t)
	s.drawGlue(marks, t)
	p.Add(marks, draw.Placing{})
	p.AddWindow(&s.Drawing, draw.Placing{At: window.Min.Sub(shown.Min)}, window.Grow(Bleed))
	over := &draw.Drawing{Width: p.Width, Height: p.Height}
	s.drawJoins(over, t)
	s.drawMargin(over, t, number)
	p.Add(over, draw.Placing{})
	return p
}

// joins reports whether pages are put together: on large paper each piece has
// its page, if it fits.
func (s *Sheet) joins(t Tile, rows, columns int) bool {
	other := t.step(rows, columns)
	if !s.has(other) {
		return false
	}
	// Pages that share no piece are not joined for its sake; they still are, as
	// neighbours, where desk paper makes one sheet to cut from.
	if s.coverPage() {
		return true
	}
	for _, l := range s.Pieces {
		if contains(l.pages, t) && contains(l.pages, other) {
			return true
		}
	}
	return false
}

func contains(list []Tile, t Tile) bool {
	for _, u := range list {
		if u == t {
			return true
		}
	}
	return false
}

// drawName writes the page's name large and pale, under everything: to be read
// from where one stands laying out the pages.
func (s *Sheet) drawName(d *draw.Drawing, t Tile) {
	w := s.Window()
	size := min(60, w.Width()/4)
	d.Write(layerJoin, draw.Text{
		Words: t.Name(), Face: draw.Bold, Size: size, Colour: grey(0xe6), Align: 0.5,
		At: w.Centre().Sub(geom.Pt(s.Overlap/2, size*draw.CapHeight/2-s.Overlap/2)),
	})
}

// drawGlue tints the edges that a neighbour is glued on.
func (s *Sheet) drawGlue(d *draw.Drawing, t Tile) {
	if s.Overlap == 0 {
		return
	}
	w := s.Window()
	if s.joins(t, 0, 1) {
		d.Draw(layerJoin, faint, rectangle(geom.BoxOf(geom.Pt(w.Max.X-s.Overlap, w.Min.Y), w.Max)))
	}
	if s.joins(t, 1, 0) {
		d.Draw(layerJoin, faint, rectangle(geom.BoxOf(w.Min, geom.Pt(w.Max.X, w.Min.Y+s.Overlap))))
	}
}

// joinMark is how far a mark reaches from the edge where two pages meet, mm.
const joinMark = 5.0

// drawJoins draws on each edge the half of a diamond that becomes whole when the
// right page lies there, with the name of that page.
func (s *Sheet) drawJoins(d *draw.Drawing, t Tile) {
	w := s.Window()
	right, bottom := w.Max.X-s.Overlap, w.Min.Y+s.Overlap
	midX, midY := (w.Min.X+right)/2, (bottom+w.Max.Y)/2
	for _, e := range [...]struct {
		rows, columns int
		at, in        geom.Point // middle of the edge, and the way into the page
		from, to      geom.Point // the edge
		cut           bool       // cut here; else this page goes under
	}{
		{0, -1, geom.Pt(w.Min.X, midY), geom.Pt(1, 0), w.Min, geom.Pt(w.Min.X, w.Max.Y), true},
		{-1, 0, geom.Pt(midX, w.Max.Y), geom.Pt(0, -1), geom.Pt(w.Min.X, w.Max.Y), w.Max, true},
		{0, 1, geom.Pt(right, midY), geom.Pt(-1, 0), geom.Pt(right, w.Min.Y), geom.Pt(right, w.Max.Y), false},
		{1, 0, geom.Pt(midX, bottom), geom.Pt(0, 1), geom.Pt(w.Min.X, bottom), geom.Pt(w.Max.X, bottom), false},
	} {
		if !s.joins(t, e.rows, e.columns) {
			continue
		}
		if e.cut {
			d.Draw(layerJoin, rule, geom.Polyline(e.from, e.to))
		} else {
			d.Draw(layerJoin, dotted, geom.Polyline(e.from, e.to))
		}
		side := e.in.Left().Mul(joinMark)
		tip := e.at.Add(e.in.Mul(joinMark))
		d.Draw(layerJoin, solid, geom.Polyline(e.at.Add(side), tip, e.at.Sub(side), e.at.Add(side)))
		const size = 4.4
		name := t.step(e.rows, e.columns).Name()
		place := tip.Add(e.in.Mul(1.6))
		text := draw.Text{Words: name, Face: draw.Bold, Size: size, At: place, Align: 0.5}
		switch {
		case e.in.X > 0:
			text.Align, text.At = 0, place.Sub(geom.Pt(0, size*draw.CapHeight/2))
		case e.in.X < 0:
			text.Align, text.At = 1, place.Sub(geom.Pt(0, size*draw.CapHeight/2))
		case e.in.Y < 0:
			text.At = place.Sub(geom.Pt(0, size*draw.CapHeight))
		}
		d.Write(layerJoin, text)
	}
}

// drawMargin writes in the margins what page this is, and a small ruler.
func (s *Sheet) drawMargin(d *draw.Drawing, t Tile, number int) {
	w := s.Window()
	if s.Margin < 6 {
		return // no room that a printer would reach
	}
	const size, gap = 3.0, 8.0
	base := w.Min.Y - 1.6 - size*draw.CapHeight
	d.Write(layerJoin, draw.Text{Words: t.Name(), Face: draw.Bold, Size: size * 1.5, At: geom.Pt(w.Min.X, base)})
	left := w.Min.X + 14
	right := w.Max.X
	for _, r := range [...]struct {
		length, step float64
		word         string
	}{{50, 10, "5 cm"}, {2 * inch, inch / 2, "2 in"}} {
		if right-r.length-gap < left+30 {
			break // a narrow page has one, or none
		}
		smallRuler(d, geom.Pt(right-r.length, w.Min.Y-1.4), r.length, r.step, r.word)
		right -= r.length + gap
	}
	words := fmt.Sprintf("%d of %d · %s", number, len(s.Pages), titleOf(s.pattern))
	for draw.Regular.Width(words, size) > right-left {
		r := []rune(words)
		words = strings.TrimRight(string(r[:len(r)-2]), " ,:·") + "…"
	}
	d.Write(layerJoin, draw.Text{Words: words, Face: draw.Regular, Size: size, At: geom.Pt(left, base)})
}

// smallRuler draws a ruler hanging from at, so many mm long.
func smallRuler(d *draw.Drawing, at geom.Point, length, step float64, word string) {
	paths := []geom.Path{geom.Polyline(at, at.Add(geom.Pt(length, 0)))}
	for i := 0; float64(i)*step <= length+1e-9; i++ {
		tick := 1.2
		if i == 0 || float64(i+1)*step > length+1e-9 {
			tick = 2.2
		}
		x := at.Add(geom.Pt(float64(i)*step, 0))
		paths = append(paths, geom.Polyline(x, x.Sub(geom.Pt(0, tick))))
	}
	d.Draw(layerSheet, hairline, paths...)
	const size = 2.3
	d.Write(layerSheet, draw.Text{Words: word, Face: draw.Regular, Size: size, At: at.Add(geom.Pt(length/2, -1.5-size*draw.CapHeight)), Align: 0.5})
}
