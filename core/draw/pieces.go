package draw

import (
	"fmt"
	"math"

	"bygone.example/core/cutline"
	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// Margins and gaps of a page, in units.
const (
	pageMargin = 9.0
	pieceGap   = 7.0
)

// cutBounds returns the box of a piece's cut line, in mm of cloth.
func cutBounds(p *pattern.Piece) geom.Box {
	return geom.BoxOf(cutline.Of(p).Points...).Union(p.Boundary().Bounds())
}

func cellsOf(pieces []*pattern.Piece) []cell {
	cells := make([]cell, len(pieces))
	inParallel(len(pieces), func(i int) {
		b := cutBounds(pieces[i])
		cells[i] = cell{w: b.Width(), h: b.Height(), class: classOf(pieces[i])}
	})
	return cells
}

func drawAll(pieces []*pattern.Piece, d detail) []*art {
	arts := make([]*art, len(pieces))
	inParallel(len(pieces), func(i int) { arts[i] = drawPiece(pieces[i], nil, d) })
	return arts
}

func nameOf(p *pattern.Pattern) string {
	title := p.Title
	if title == "" {
		title = plain(p.Name)
	}
	return clip(title, 3*longestTitle)
}

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// Pieces draws all pieces of a pattern on one page, with everything a maker
// needs to know about them. The page is 300 mm wide; the scale is a whole
// number that suits the pieces, and is told. A pattern without pieces gives a
// page with its title.
func Pieces(p *pattern.Pattern) Drawing {
	const width = 300.0
	pieces := inOrder(p)
	n := fit(cellsOf(pieces), width-2*pageMargin, 1.05*width, pieceGap, 1)
	arts := drawAll(pieces, detail{scale: 1 / n, unit: 1, cut: true, edges: true, title: true})
	d := Drawing{Width: width, Title: nameOf(p), Text: pictureText(p, pieces)}
	d.page(p, pieces, arts, 1/n, fmt.Sprintf("%s, drawn at 1:%g", count(len(pieces), "piece", "pieces"), n), 1)
	return d
}

func pictureText(p *pattern.Pattern, pieces []*pattern.Piece) string {
	text := "The pieces of the pattern:"
	for i, q := range pieces {
		if i > 0 {
			text += ";"
		}
		text += " " + titleOf(q) + ", " + CutInstruction(q)
	}
	return text + "."
}

// page lays out heading, pieces, key and scale bar, and sets the height.
func (d *Drawing) page(p *pattern.Pattern, pieces []*pattern.Piece, arts []*art, k float64, sub string, u float64) {
	margin := pageMargin * u
	w := d.Width - 2*margin
	// Everything is set downwards from 0 and moved up once the height is known.
	y := -margin
	y -= d.heading(nameOf(p), sub, margin, y, w, u)
	y -= 6 * u
	y -= d.arrange(arts, margin, y, w, pieceGap*u)
	y -= 6 * u
	bar := math.Min(60*u, w/3)
	keyWidth := w - bar - 10*u
	barAt := geom.Pt(margin+w-bar, y-4.5*u)
	d.scaleBar(barAt, k, bar-6*u, u)
	h := d.key(keyOf(pieces, true), margin, y, keyWidth, u)
	y -= math.Max(h, 9.5*u) + margin*0.5
	d.finish(-y)
}

// finish moves everything up to stand on the page's lower edge.
func (d *Drawing) finish(height float64) {
	items := d.items
	d.items, d.Height = nil, height
	d.place(items, geom.Pt(0, height))
}

// Overview draws two states of a pattern small, in one scale, for looking at
// side by side: outlines, marks and names only.
func Overview(before, after *pattern.Pattern) (Drawing, Drawing) {
	const width, u = 190.0, 1.2
	a, b := inOrder(before), inOrder(after)
	n := math.Max(
		fit(cellsOf(a), width-2*pageMargin, 1.25*width, pieceGap*u, 2),
		fit(cellsOf(b), width-2*pageMargin, 1.25*width, pieceGap*u, 2),
	)
	draw := func(p *pattern.Pattern, pieces []*pattern.Piece) Drawing {
		arts := drawAll(pieces, detail{scale: 1 / n, unit: u, title: true, brief: true})
		d := Drawing{Width: width, Title: nameOf(p), Text: pictureText(p, pieces)}
		h := d.arrange(arts, pageMargin, -4, width-2*pageMargin, pieceGap*0.8*u)
		d.scaleBar(geom.Pt(pageMargin, -h-14), 1/n, 60, u)
		d.finish(h + 22)
		return d
	}
	return draw(before, a), draw(after, b)
}

// Sheet draws all pieces at true size, 1 mm of paper to 1 mm of cloth, on one
// large sheet, with a test square of 5 cm and a scale of 10 cm to check a
// print by.
func Sheet(p *pattern.Pattern) Drawing {
	const u = 3.4
	pieces := inOrder(p)
	cells := cellsOf(pieces)
	// As wide as a common cloth, or as the widest piece.
	width := 1400.0
	for _, c := range cells {
		width = math.Max(width, c.w+2*pageMargin*u)
	}
	arts := drawAll(pieces, detail{scale: 1, unit: u, cut: true, edges: true, title: true})
	d := Drawing{Width: width, Title: nameOf(p), Text: "True size. " + pictureText(p, pieces), exact: true}
	margin := pageMargin * u
	w := width - 2*margin
	y := -margin
	y -= d.heading(nameOf(p), "true size: print at 100 %, then measure the square", margin, y, w, u)
	y -= 6 * u
	d.testSquare(margin, y)
	bar := d.scaleBar(geom.Pt(margin+75, y-40), 1, 100, u)
	d.key(keyOf(pieces, true), margin+75+bar+12*u, y-10, w-75-bar-12*u, u)
	y -= 50 + 8*u
	y -= d.arrange(arts, margin, y, w, pieceGap*u)
	d.finish(-y + margin)
	return d
}

// testSquare draws a square of exactly 5 cm with its top left corner at (x, y).
func (d *Drawing) testSquare(x, y float64) {
	const side = 50
	d.stroke(ink{stroke: black, width: 0.3}, rectangle(x, y-side, side, side))
	b := block{{"5 cm", bold, 8, false}, {"test square", regular, 6, true}}
	for _, w := range b.set(b.slab(geom.Pt(x+side/2, y-side/2), geom.Pt(1, 0))) {
		d.write(w)
	}
}
