package draw

import (
	"image/color"
	"math"

	"bygone.example/core/geom"
)

// Ink is how a path is drawn. The zero value draws nothing.
type Ink struct {
	Stroke, Fill color.RGBA // no alpha is none
	Width        float64    // mm of paper; a stroke without width is not drawn
	Dash         [4]float64 // mm of paper, up to the first zero: line, gap, line, gap
	EvenOdd      bool       // a fill leaves out what an even number of paths surround
}

// The colours of the house.
var (
	Black = black
	Grey  = grey
	White = white
)

// Pen returns a black unbroken ink of a width in mm.
func Pen(width float64) Ink { return Ink{Stroke: black, Width: width} }

// Dashed returns the ink broken into lines and gaps of the given lengths in
// mm, at most four; further ones are left out.
func (k Ink) Dashed(lengths ...float64) Ink {
	k.Dash = [4]float64{}
	copy(k.Dash[:], lengths)
	return k
}

// Face is one cut of the letters.
type Face int

// The faces there are.
const (
	Regular = Face(regular)
	Bold    = Face(bold)
	Italic  = Face(italic)
)

// Width returns how long a line of text is, in mm, in letters of the given
// size.
func (f Face) Width(text string, size float64) float64 { return face(f).width(text, size) }

// Heights of letters as parts of their size: a capital, a small x, and how far
// a g hangs below the line.
const (
	CapHeight = capHeight
	XHeight   = xHeight
	Descent   = descent
)

// Text is one line of words on paper.
type Text struct {
	Words  string
	Face   Face
	Size   float64    // of the em, mm; capitals are CapHeight of it high
	At     geom.Point // on the baseline, mm
	Angle  float64    // of the baseline, anticlockwise
	Align  float64    // which part of the line At is: 0 its left end, 0.5 its middle, 1 its right end
	Colour color.RGBA // no alpha is black
}

// Draw adds paths in one ink, on a layer. Each fill is of a closed path.
func (d *Drawing) Draw(l Layer, k Ink, paths ...geom.Path) {
	d.items = append(d.items, item{layer: l, ink: ink{k.Stroke, k.Fill, k.Width, k.Dash, k.EvenOdd}, paths: paths})
}

// Write adds a line of text, on a layer.
func (d *Drawing) Write(l Layer, t Text) {
	w := word{t.Words, face(t.Face), t.Size, t.At, t.Angle, t.Colour}
	if w.fill.A == 0 {
		w.fill = black
	}
	if t.Align != 0 {
		w.at = w.at.Sub(geom.Polar(t.Align*w.face.width(w.text, w.size), w.angle))
	}
	d.items = append(d.items, item{layer: l, word: &w})
}

// Placing says where a drawing goes on another, or on a page. The zero value
// puts lower left corner on lower left corner, at its size.
type Placing struct {
	At    geom.Point // where the drawing's origin comes to lie, mm
	Turn  float64    // about its origin, anticlockwise
	Scale float64    // 0 is 1; widths of lines and letters scale too
}

func (p Placing) scale() float64 {
	if p.Scale == 0 {
		return 1
	}
	return p.Scale
}

// affine maps the drawing's paper to where it is placed.
func (p Placing) affine() geom.Affine {
	s, c := math.Sincos(p.Turn)
	if quarter := p.Turn / (math.Pi / 2); math.Abs(quarter-math.Round(quarter)) < 1e-12 {
		s, c = math.Round(s), math.Round(c) // a quarter turn moves nothing off its row
	}
	k := p.scale()
	return geom.Affine{A: k * c, B: -k * s, C: p.At.X, D: k * s, E: k * c, F: p.At.Y}
}

// Place adds what another drawing holds.
func (d *Drawing) Place(o Drawing, p Placing) { d.items = append(d.items, placed(o.items, p)...) }

// placed returns the items where they are placed.
func placed(items []item, p Placing) []item {
	m, k := p.affine(), p.scale()
	out := make([]item, len(items))
	for i, it := range items {
		out[i] = it.moved(m, p.Turn, k)
	}
	return out
}

// moved returns the item mapped by m, which turns and scales as told.
func (it item) moved(m geom.Affine, turn, k float64) item {
	if it.word != nil {
		w := *it.word
		w.at, w.angle, w.size = m.Apply(w.at), w.angle+turn, w.size*k
		return item{layer: it.layer, word: &w}
	}
	paths := make([]geom.Path, len(it.paths))
	for i, q := range it.paths {
		paths[i] = q.Transform(m)
	}
	return item{layer: it.layer, ink: it.ink.times(k), paths: paths}
}

// bounds returns a box that holds the item's ink.
func (it item) bounds() geom.Box {
	if it.word != nil {
		return it.word.bounds()
	}
	b := geom.EmptyBox
	for _, p := range it.paths {
		if len(p) > 0 {
			b = b.Union(p.Bounds())
		}
	}
	if b.Empty() {
		return b
	}
	return b.Grow(it.ink.reach())
}

// reach is how far the ink goes beyond its path.
func (k ink) reach() float64 {
	if k.stroke.A == 0 {
		return 0
	}
	return k.width / 2
}

// bounds returns a box that holds the word's ink, with room for accents on
// capitals and for letters that lean out.
func (w word) bounds() geom.Box {
	const above, below, side = 1.1, 0.3, 0.2 // parts of the em
	l := w.face.width(w.text, w.size)
	u := geom.Polar(1, w.angle)
	up := u.Left()
	corner := func(x, y float64) geom.Point { return w.at.Add(u.Mul(x)).Add(up.Mul(y)) }
	return geom.BoxOf(
		corner(-side*w.size, -below*w.size), corner(l+side*w.size, -below*w.size),
		corner(-side*w.size, above*w.size), corner(l+side*w.size, above*w.size))
}

// Bounds returns a box that holds all ink of the drawing, mm.
func (d Drawing) Bounds() geom.Box {
	b := geom.EmptyBox
	for _, it := range d.items {
		b = b.Union(it.bounds())
	}
	return b
}

// Inked reports whether anything of the drawing shows within the box: a page
// that nothing shows on need not be printed. A fill counts where its edge is,
// and where it covers the middle of the box.
func (d Drawing) Inked(box geom.Box) bool {
	for _, it := range d.items {
		if it.inked(box) {
			return true
		}
	}
	return false
}

// inkedTolerance, in mm, is how near the box a curve is followed: a tenth of
// the thinnest line.
const inkedTolerance = 0.02

func (it item) inked(box geom.Box) bool {
	if !it.bounds().Overlaps(box) {
		return false
	}
	if it.word != nil {
		return true
	}
	near := box.Grow(it.ink.reach())
	for _, p := range it.paths {
		if len(p) == 0 || !p.Bounds().Grow(inkedTolerance).Overlaps(near) {
			continue
		}
		pts := p.Flatten(inkedTolerance)
		for i := 1; i < len(pts); i++ {
			if crossesBox(pts[i-1], pts[i], near) {
				return true
			}
		}
		if it.ink.fill.A > 0 && geom.Contains(pts, box.Centre()) {
			return true
		}
	}
	return false
}

// crossesBox reports whether the segment from a to b has a point in the box
// (clipped side by side).
func crossesBox(a, b geom.Point, box geom.Box) bool {
	from, to := 0.0, 1.0
	v := b.Sub(a)
	for _, side := range [...]struct{ speed, room float64 }{
		{-v.X, a.X - box.Min.X}, {v.X, box.Max.X - a.X}, {-v.Y, a.Y - box.Min.Y}, {v.Y, box.Max.Y - a.Y},
	} {
		switch {
		case side.speed == 0:
			if side.room < 0 {
				return false
			}
		case side.speed < 0:
			from = max(from, side.room/side.speed)
		default:
			to = min(to, side.room/side.speed)
		}
	}
	return from <= to
}
