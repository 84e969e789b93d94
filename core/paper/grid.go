package paper

import (
	"fmt"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
)

// Margins that are left blank, and the edge to glue, mm. Desk printers leave 3
// to 6 mm unprinted on most sides, a few of them up to 10 (common practice); a
// strip of a finger's width is enough to glue.
const (
	DefaultMargin  = 10
	DefaultOverlap = 10
)

// leastWindow is the least of a page, mm, that must be left to draw on.
const leastWindow = 60

// Grid is how a sheet is cut into pages: each shows a window of it, and the
// windows of neighbours share a strip, the edge to glue. Rows are lettered from
// the top, columns numbered from the left.
type Grid struct {
	Size            Size
	Margin, Overlap float64
}

// Validate refuses margins that leave nothing of the page.
func (g Grid) Validate() error {
	refuse := func(why, instead string) error { return &operation.Refusal{Why: why, Instead: instead} }
	if !(g.Margin >= 0) || !(g.Overlap >= 0) {
		return refuse("a margin or an edge to glue cannot be less than nothing", fmt.Sprintf("write for instance --margin %dmm --overlap %dmm", DefaultMargin, DefaultOverlap))
	}
	w, h := g.Size.Width-2*g.Margin, g.Size.Height-2*g.Margin
	if g.Size.Roll() {
		h = w
	}
	switch {
	case min(w, h) <= 0:
		return refuse(fmt.Sprintf("margins of %s are wider than the page, which is %s", cm(g.Margin), g.measured()),
			"make --margin smaller, or choose larger paper")
	case min(w, h)-g.Overlap < leastWindow:
		return refuse(fmt.Sprintf("margins of %s and an edge to glue of %s leave %s of a page that is %s", cm(g.Margin), cm(g.Overlap), cm(max(0, min(w, h)-g.Overlap)), g.measured()),
			"make --margin or --overlap smaller, or choose larger paper")
	}
	return nil
}

func (g Grid) measured() string {
	if g.Size.Roll() {
		return cm(g.Size.Width) + " wide"
	}
	return cm(g.Size.Width) + " × " + cm(g.Size.Height)
}

// Window is what a page can show, margins left off, at its place on the page.
func (g Grid) Window() geom.Box {
	return geom.BoxOf(geom.Pt(g.Margin, g.Margin), geom.Pt(g.Size.Width-g.Margin, g.Size.Height-g.Margin))
}

// pitch is how far from page to page it is on the sheet.
func (g Grid) pitch() (x, y float64) {
	w := g.Window()
	return w.Width() - g.Overlap, w.Height() - g.Overlap
}

// Tile is one page's place on the sheet.
type Tile struct{ Row, Column int }

// Name is a letter for the row and a number for the column: A1, B3, AA2.
func (t Tile) Name() string { return rowName(t.Row) + fmt.Sprint(t.Column+1) }

func rowName(row int) string {
	name := ""
	for n := row + 1; n > 0; n = (n - 1) / 26 {
		name = string(rune('A'+(n-1)%26)) + name
	}
	return name
}

// step returns the tile so many rows down and columns to the right.
func (t Tile) step(rows, columns int) Tile { return Tile{t.Row + rows, t.Column + columns} }
