package draw

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
)

// Document is pages of paper, written as one PDF, or one page at a time as SVG
// or PNG. Equal documents give equal bytes.
type Document struct {
	// Title and Text say what the document is, for its readers' window and for
	// those who cannot see it. Language is of both and of the words on the pages,
	// as BCP 47 has it; empty is English.
	Title, Text, Language string
	Pages                 []Page
	// Hidden layers are there to be switched on; they are not shown, nor printed,
	// before that.
	Hidden []Layer
	// Names gives layers other names to be listed under.
	Names map[Layer]string
	// Listed layers stand first in the reader's list, in this order; the others
	// follow as they are first drawn on.
	Listed []Layer
}

// Page is one piece of paper.
type Page struct {
	// Name is what readers call the page, B3 say, in print dialogues too; one
	// without a name is called by its number.
	Name          string
	Width, Height float64 // mm
	// Trim is the part of the paper that is used in the end, once the margins
	// are cut off or glued under. One without area is the whole page.
	Trim geom.Box
	Put  []Put
}

// Put is a drawing put on a page.
type Put struct {
	Drawing *Drawing
	Placing
	// Clip is the window through which the drawing is seen, mm of the page. One
	// without area shows all of it.
	Clip geom.Box
}

// Add puts a drawing on the page.
func (p *Page) Add(d *Drawing, at Placing) { p.Put = append(p.Put, Put{Drawing: d, Placing: at}) }

// AddWindow puts on the page what is seen of a drawing through a window of the
// page.
func (p *Page) AddWindow(d *Drawing, at Placing, clip geom.Box) {
	p.Put = append(p.Put, Put{d, at, clip})
}

// LargestPage is how many mm wide or high a page can be: what readers of PDF
// were seen to take, a hundred metres.
const LargestPage = 100e3

// Validate returns what is wrong with the document: a page without size or
// too large, a drawing that is missing, a placing that is no number.
func (d Document) Validate() error {
	if len(d.Pages) == 0 {
		return fmt.Errorf("a document without pages")
	}
	for i, p := range d.Pages {
		if !(p.Width > 0 && p.Height > 0 && p.Width <= LargestPage && p.Height <= LargestPage) {
			return fmt.Errorf("page %d: %g × %g mm is no size for a page", i+1, p.Width, p.Height)
		}
		for j, q := range p.Put {
			if q.Drawing == nil {
				return fmt.Errorf("page %d: drawing %d is missing", i+1, j+1)
			}
			m := q.affine()
			if sum := m.A + m.B + m.C + m.D + m.E + m.F; math.IsNaN(sum) || math.IsInf(sum, 0) || q.Scale < 0 {
				return fmt.Errorf("page %d: drawing %d is placed nowhere", i+1, j+1)
			}
		}
	}
	return nil
}

// Layers returns the layers in use, in the order in which they are listed.
func (d Document) Layers() []Layer {
	var used []Layer
	for _, p := range d.Pages {
		for _, q := range p.Put {
			for _, l := range q.Drawing.Layers() {
				if !slices.Contains(used, l) {
					used = append(used, l)
				}
			}
		}
	}
	var out []Layer
	for _, l := range append(slices.Clone(d.Listed), used...) {
		if slices.Contains(used, l) && !slices.Contains(out, l) {
			out = append(out, l)
		}
	}
	return out
}

// nameOf returns what a layer is listed as.
func (d Document) nameOf(l Layer) string {
	if n := d.Names[l]; n != "" {
		return n
	}
	return string(l)
}

// area reports whether a box has any.
func area(b geom.Box) bool { return b.Max.X > b.Min.X && b.Max.Y > b.Min.Y }

// view is what one put shows on its page: items in mm of the page, within the
// clip if that has area.
type view struct {
	clip  geom.Box
	items []item
}

// whole returns the page as a box.
func (p Page) whole() geom.Box { return geom.BoxOf(geom.Pt(0, 0), geom.Pt(p.Width, p.Height)) }

// views returns what is to be drawn on a page, without what falls outside it
// or its window altogether.
func (p Page) views() []view {
	var out []view
	for _, q := range p.Put {
		window := p.whole()
		if area(q.Clip) {
			window = q.Clip
		}
		m, k := q.affine(), q.scale()
		inv, ok := m.Inverse()
		if !ok {
			continue
		}
		// The window on the drawing's own paper, so that what is not seen need
		// not be placed.
		seen := geom.BoxOf(inv.Apply(window.Min), inv.Apply(window.Max),
			inv.Apply(geom.Pt(window.Min.X, window.Max.Y)), inv.Apply(geom.Pt(window.Max.X, window.Min.Y)))
		v := view{clip: q.Clip}
		for _, it := range q.Drawing.items {
			if it, ok := it.seen(seen); ok {
				v.items = append(v.items, it.moved(m, q.Turn, k))
			}
		}
		if len(v.items) > 0 {
			out = append(out, v)
		}
	}
	return out
}

// seen returns the item without strokes that lie outside the box, and whether
// anything is left. The parts of a fill stay together.
func (it item) seen(box geom.Box) (item, bool) {
	if it.word != nil || it.ink.fill.A > 0 {
		return it, it.bounds().Overlaps(box)
	}
	box = box.Grow(it.ink.reach())
	out := func(p geom.Path) bool { return len(p) == 0 || !p.Bounds().Overlaps(box) }
	if slices.ContainsFunc(it.paths, out) {
		it.paths = slices.DeleteFunc(slices.Clone(it.paths), out)
	}
	return it, len(it.paths) > 0
}
