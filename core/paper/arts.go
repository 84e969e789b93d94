package paper

import (
	"bygone.example/core/cutline"
	"bygone.example/core/draw"
	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// arts are the pieces of a pattern in the ways they may lie, drawn once they are
// found to lie that way.
type arts struct {
	pieces []*pattern.Piece
	ways   [][]*way
	draws  draw.PieceOptions
}

// way is a piece turned.
type way struct {
	quarter int
	piece   *pattern.Piece
	// outline is what is cut out, mm of paper, the lower left corner of its box
	// at the origin.
	outline []geom.Point
	others  [][]geom.Point  // the outlines of other sizes
	inside  [][2]geom.Point // its longest line within: the grain
	beside  []geom.Box      // what is written outside the outline
	art     *draw.PieceArt  // once drawn
	shift   geom.Point      // where the outline's origin lies on the drawing
}

func (w *way) width() float64 { return w.box().Width() }

// box is around the outlines of all sizes.
func (w *way) box() geom.Box {
	b := geom.BoxOf(w.outline...)
	for _, o := range w.others {
		b = b.Union(geom.BoxOf(o...))
	}
	return b
}

// projectorUnit is how large marks and lines are for a projector: a seam line of
// 2 mm is some pixels wide on a table (common practice).
const projectorUnit = 4

// besideTolerance, mm, is how far ink may reach beyond a piece's outline, by the
// width of its lines and the length of a notch, without asking for room.
const besideTolerance = 2.5

// outlineTolerance, mm, is how closely a line is followed for packing.
const outlineTolerance = 0.5

func newArts(p *pattern.Pattern, o Options) *arts {
	a := &arts{draws: draw.PieceOptions{Scale: o.scale()}}
	switch {
	case o.Size.Projected():
		a.draws.Unit = projectorUnit
	case !o.trueSize():
		a.draws.Unit, a.draws.Plain = 1, true
	}
	quarters := []int{0, 1, 2, 3}
	if !o.Size.Tiled() && o.trueSize() {
		// On a wide sheet the pieces lie with their grain along it, as on cloth.
		quarters = []int{0, 2}
	}
	for i := range p.Pieces {
		piece := &p.Pieces[i]
		if len(piece.Boundary()) == 0 {
			continue
		}
		a.pieces = append(a.pieces, piece)
		a.ways = append(a.ways, nil)
	}
	inParallel(len(a.pieces), func(i int) {
		piece := a.pieces[i]
		outline := outlineOf(piece)
		room := o.Size.Width - 2*o.Margin
		others := o.outlines(piece.Name)
		for _, q := range quarters {
			a.ways[i] = append(a.ways[i], wayOf(piece, outline, others, q, o.scale()))
		}
		if len(quarters) == 2 && (a.ways[i][0].width() > room || !piece.Grain.Given()) {
			for _, q := range [...]int{1, 3} {
				a.ways[i] = append(a.ways[i], wayOf(piece, outline, others, q, o.scale()))
			}
		}
	})
	return a
}

func wayOf(p *pattern.Piece, outline []geom.Point, others [][]geom.Point, quarter int, scale float64) *way {
	w := &way{quarter: quarter, piece: p}
	m := quarterTurn(quarter)
	box := geom.EmptyBox
	for _, q := range outline {
		q = m.Apply(q).Mul(scale)
		w.outline = append(w.outline, q)
		box = box.With(q)
	}
	for i := range w.outline {
		w.outline[i] = w.outline[i].Sub(box.Min)
	}
	for _, o := range others {
		var moved []geom.Point
		for _, q := range o {
			moved = append(moved, m.Apply(q).Mul(scale).Sub(box.Min))
		}
		w.others = append(w.others, moved)
	}
	if p.Grain.Given() {
		w.inside = [][2]geom.Point{{m.Apply(p.Grain.From).Mul(scale).Sub(box.Min), m.Apply(p.Grain.To).Mul(scale).Sub(box.Min)}}
	}
	return w
}

// parcels returns the pieces as the packing takes them.
func (a *arts) parcels() []parcel {
	out := make([]parcel, len(a.pieces))
	for i, ways := range a.ways {
		for _, w := range ways {
			s := shape{polygons: [][]geom.Point{w.outline}, lines: w.inside, turn: w.quarter}
			s.polygons = append(s.polygons, w.others...)
			for _, b := range w.beside {
				s.polygons = append(s.polygons, boxPoints(b))
			}
			out[i].ways = append(out[i].ways, s)
		}
	}
	return out
}

// draw draws each piece the way it was packed, and reports whether all lie as
// the packing had them: where words turn out to stand outside a piece, it has to
// be done again, with room for them.
func (a *arts) draw(spots []spot) bool {
	fine := make([]bool, len(a.pieces))
	inParallel(len(a.pieces), func(i int) {
		w := a.ways[i][spots[i].way]
		if fine[i] = w.art != nil; fine[i] {
			return
		}
		art := draw.Piece(turned(w.piece, w.quarter), a.draws)
		w.art = &art
		// The drawing may begin left of the outline or below it.
		box := geom.BoxOf(art.Outline...)
		w.shift = box.Min
		fine[i] = true
		for _, b := range [...]geom.Box{
			geom.BoxOf(geom.Pt(0, 0), geom.Pt(art.Width, box.Min.Y)),
			geom.BoxOf(geom.Pt(0, box.Max.Y), geom.Pt(art.Width, art.Height)),
			geom.BoxOf(geom.Pt(0, 0), geom.Pt(box.Min.X, art.Height)),
			geom.BoxOf(geom.Pt(box.Max.X, 0), geom.Pt(art.Width, art.Height)),
		} {
			if min(b.Width(), b.Height()) > besideTolerance {
				w.beside = append(w.beside, geom.BoxOf(b.Min.Sub(w.shift), b.Max.Sub(w.shift)))
				fine[i] = false
			}
		}
	})
	for i := range fine {
		if !fine[i] {
			return false
		}
	}
	return true
}

// outlineOf is what is cut out of a piece, in its own plane.
func outlineOf(p *pattern.Piece) []geom.Point {
	outline := cutline.Of(p).Points
	if len(outline) < 3 {
		outline = p.Boundary().Flatten(outlineTolerance)
	}
	return outline
}
