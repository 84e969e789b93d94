package paper

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"sync"

	"bygone.example/core/draw"
	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Options say on what a pattern is printed and how.
type Options struct {
	Grid
	// Scale is mm of paper to one of cloth; 0 is 1.
	Scale float64
	// Sizes are the pattern in several sizes, itself the first, to be drawn in each
	// other. Fewer than two are none.
	Sizes []Nested
}

func (o Options) scale() float64 {
	if o.Scale == 0 {
		return 1
	}
	return o.Scale
}

// trueSize reports whether the paper can be cut from.
func (o Options) trueSize() bool { return o.scale() == 1 }

// Sheet is a pattern laid on paper.
type Sheet struct {
	Options
	// Drawing is the whole sheet, before it is cut into pages; the upper left
	// page's window has its upper left corner at the drawing's.
	Drawing draw.Drawing
	// Pages are those that something is on, row by row.
	Pages   []Tile
	Columns int // pages side by side, and one below the other
	Rows    int
	Pieces  []Laid

	pattern *pattern.Pattern
	cover   geom.Box // where the first sheet's lists lie on the sheet, if they do
}

// Bleed, mm, is how far beyond its window a page shows the sheet: a line along the
// window's edge keeps its whole width, and a cut a hair off leaves no gap. Ink
// that reaches no further into a page does not make it one to print.
const Bleed = 0.8

// Laid is a piece on the sheet.
type Laid struct {
	Piece   *pattern.Piece
	Quarter int          // turned anticlockwise by so many quarters
	Outline []geom.Point // mm of the sheet, first point not repeated
	art     draw.PieceArt
	inked   draw.Drawing // what is printed of it, where the art lies
	at      geom.Point   // of the art's lower left corner
	pages   []Tile
}

// Lay lays all pieces of a pattern on paper. A piece without an outline is left
// out; one that the paper cannot hold is refused.
func Lay(p *pattern.Pattern, o Options) (*Sheet, error) {
	if err := o.Validate(); err != nil {
		return nil, err
	}
	if !(o.scale() > 0) || math.IsInf(o.scale(), 0) {
		return nil, &operation.Refusal{Why: fmt.Sprintf("a pattern cannot be drawn at %g times its size", o.Scale), Instead: "write for instance --scale 1:5"}
	}
	if err := o.checkSizes(p); err != nil {
		return nil, err
	}
	s := &Sheet{Options: o, pattern: p}
	arts := newArts(p, o)
	if len(arts.pieces) == 0 {
		return nil, &operation.Refusal{Why: "the pattern has no piece to print", Instead: "bygone check tells what is wrong with it"}
	}
	if err := s.fits(arts); err != nil {
		return nil, err
	}
	block := s.coverBlock()
	var got packed
	for {
		parcels := arts.parcels()
		if block != nil {
			corner := geom.Pt(block.Width, block.Height)
			parcels = append(parcels, parcel{[]shape{{polygons: [][]geom.Point{boxPoints(geom.BoxOf(geom.Pt(0, 0), corner))}}}})
		}
		got = pack(parcels, s.field(arts))
		if arts.draw(got.spots) {
			break // what is written beside the pieces was known to the packing
		}
	}
	s.put(arts, got, block)
	return s, nil
}

// fits refuses a piece that is wider than the roll whichever way it may lie.
func (s *Sheet) fits(arts *arts) error {
	if !s.Size.Roll() {
		return nil
	}
	room := s.Size.Width - 2*s.Margin
	for i, p := range arts.pieces {
		least := math.Inf(1)
		for _, w := range arts.ways[i] {
			least = min(least, w.box().Width())
		}
		if least > room {
			return &operation.Refusal{
				Why:     fmt.Sprintf("piece %q is %s wide; a roll of %s has room for %s", p.Name, cm(least), cm(s.Size.Width), cm(room)),
				Instead: "choose a wider roll, or paper in pages to join, as --paper a0 or a4",
			}
		}
	}
	return nil
}

// sheetWidth, mm, is about how wide the joined sheet may get: as wide as most
// cloth, and as a table is deep.
const sheetWidth = 1400

// field returns what to pack on.
func (s *Sheet) field(arts *arts) field {
	if s.Size.Roll() {
		return field{tileX: s.Size.Width - 2*s.Margin, columns: 1}
	}
	x, y := s.pitch()
	widest := 0.0
	for i := range arts.pieces {
		for _, w := range arts.ways[i] {
			widest = max(widest, w.width())
		}
	}
	n := max(int(math.Ceil(widest/x+0.01)), int(sheetWidth/x), 1)
	return field{tileX: x, tileY: y, columns: n, whole: !s.Size.Tiled() || !s.trueSize()}
}

// put draws what was packed and finds the pages in use.
func (s *Sheet) put(arts *arts, got packed, block *draw.Drawing) {
	low, wide := 0.0, 0.0
	place := func(b geom.Box) { low, wide = min(low, b.Min.Y), max(wide, b.Max.X) }
	for i := range arts.pieces {
		at, w := got.spots[i].at, arts.ways[i][got.spots[i].way]
		for _, b := range append(w.beside[:len(w.beside):len(w.beside)], w.box()) {
			place(geom.BoxOf(at.Add(b.Min), at.Add(b.Max)))
		}
	}
	if block != nil {
		at := got.spots[len(arts.pieces)].at
		s.cover = geom.BoxOf(at, at.Add(geom.Pt(block.Width, block.Height)))
		place(s.cover)
	}
	s.Columns, s.Rows = 1, 1
	width, height := s.Size.Width-2*s.Margin, -low
	if !s.Size.Roll() {
		x, y := s.pitch()
		s.Columns, s.Rows = max(1, int(math.Ceil(wide/x-1e-6))), max(1, int(math.Ceil(-low/y-1e-6)))
		width, height = float64(s.Columns)*x+s.Overlap, float64(s.Rows)*y+s.Overlap
	}
	up := geom.Pt(0, height)
	s.Drawing = draw.Drawing{Width: width, Height: height, Title: titleOf(s.pattern)}
	for i, p := range arts.pieces {
		spot := got.spots[i]
		w := arts.ways[i][spot.way]
		l := Laid{Piece: p, Quarter: w.quarter, art: *w.art, at: spot.at.Add(up).Sub(w.shift)}
		for _, q := range w.art.Outline {
			l.Outline = append(l.Outline, q.Add(l.at))
		}
		// No tint on paper to cut from: it hides the marks and drinks ink.
		inked := w.art.Drawing
		switch {
		case s.nested():
			inked = s.nest(w.art, w, arts.draws)
		case s.trueSize():
			inked = inked.Without(draw.LayerCloth)
		}
		l.inked = inked
		s.Drawing.Place(inked, draw.Placing{At: l.at})
		s.Pieces = append(s.Pieces, l)
	}
	if block != nil {
		s.cover = geom.BoxOf(s.cover.Min.Add(up), s.cover.Max.Add(up))
		s.Drawing.Place(*block, draw.Placing{At: s.cover.Min})
	}
	if s.Size.Roll() {
		s.Pages = []Tile{{}}
		return
	}
	for row := range s.Rows {
		for column := range s.Columns {
			t := Tile{row, column}
			if s.Drawing.Inked(s.own(t).Grow(-Bleed)) {
				s.Pages = append(s.Pages, t)
			}
		}
	}
	for i := range s.Pieces {
		l := &s.Pieces[i]
		for _, t := range s.Pages {
			own := s.own(t).Grow(-Bleed)
			if l.inked.Inked(geom.BoxOf(own.Min.Sub(l.at), own.Max.Sub(l.at))) {
				l.pages = append(l.pages, t)
			}
		}
	}
}

// own is the part of the sheet that a page shows and that its neighbours to the
// right and below do not lie on: mm of the sheet.
func (s *Sheet) own(t Tile) geom.Box {
	x, y := s.pitch()
	top := s.Drawing.Height - float64(t.Row)*y
	left := float64(t.Column) * x
	return geom.BoxOf(geom.Pt(left, top-y), geom.Pt(left+x, top))
}

// Shown is all that a page shows of the sheet, its edges to glue with it.
func (s *Sheet) Shown(t Tile) geom.Box {
	b := s.own(t)
	return geom.BoxOf(b.Min.Sub(geom.Pt(0, s.Overlap)), b.Max.Add(geom.Pt(s.Overlap, 0)))
}

// has reports whether a page is printed.
func (s *Sheet) has(t Tile) bool { return slices.Contains(s.Pages, t) }

func boxPoints(b geom.Box) []geom.Point {
	return []geom.Point{b.Min, geom.Pt(b.Max.X, b.Min.Y), b.Max, geom.Pt(b.Min.X, b.Max.Y)}
}

func titleOf(p *pattern.Pattern) string { return cmp.Or(p.Title, p.Name) }

// inParallel runs f for 0 to n−1. Each writes only its own result, so the order
// does not show.
func inParallel(n int, f func(i int)) {
	var wg sync.WaitGroup
	for i := range n {
		wg.Go(func() { f(i) })
	}
	wg.Wait()
}
