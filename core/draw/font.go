package draw

import (
	"image/color"
	"math"
	"sync"

	"bygone.example/core/geom"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goitalic"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// word is one line of text on paper.
type word struct {
	text  string
	face  face
	size  float64    // of the em, mm
	at    geom.Point // left end of the baseline
	angle float64    // of the baseline
	fill  color.RGBA
}

// face is one cut of the Go fonts, which come with the x/image module under
// its own licence and have accents for the languages of Europe.
type face int

const (
	regular face = iota
	bold
	italic
	faces
)

// family is the name of the face's font.
func (f face) family() string { return "Go" + [faces]string{"Regular", "Bold", "Italic"}[f] }

// letter names a face in SVG ids.
func (f face) letter() string { return "rbi"[f : f+1] }

// glyph is one letter's outline in font units, y up, and its advance.
type glyph struct {
	id      sfnt.GlyphIndex
	ops     []glyphOp
	advance float64
}

type glyphOp struct {
	op  sfnt.SegmentOp
	arg [3]geom.Point
}

// outlines reads letters from a font, once each. Loading is put off to first
// use: a process that draws nothing pays nothing.
type outlines struct {
	once   sync.Once
	mu     sync.Mutex
	ttf    []byte
	font   *sfnt.Font
	buf    sfnt.Buffer
	glyphs map[rune]*glyph
}

var loaded = [faces]*outlines{{ttf: goregular.TTF}, {ttf: gobold.TTF}, {ttf: goitalic.TTF}}

// em is the size in which letters are read: font units of the Go fonts.
const em = 2048

// capHeight and descent, as parts of the em, bound the ink of a line of text
// in the Go fonts (measured on H, g and Å).
const (
	capHeight = 0.73
	descent   = 0.22
	xHeight   = 0.53
)

func (f face) glyph(r rune) *glyph {
	o := loaded[f]
	o.once.Do(func() {
		parsed, err := sfnt.Parse(o.ttf)
		if err != nil {
			panic("draw: the built-in font does not parse: " + err.Error()) // a broken build, not an input
		}
		o.font, o.glyphs = parsed, map[rune]*glyph{}
	})
	o.mu.Lock()
	defer o.mu.Unlock()
	if g, ok := o.glyphs[r]; ok {
		return g
	}
	g := o.load(r)
	o.glyphs[r] = g
	return g
}

// load reads one letter; one the font lacks gives its empty box.
func (o *outlines) load(r rune) *glyph {
	g := &glyph{}
	id, err := o.font.GlyphIndex(&o.buf, r)
	if err != nil {
		id = 0
	}
	g.id = id
	size := fixed.I(em)
	if a, err := o.font.GlyphAdvance(&o.buf, id, size, font.HintingNone); err == nil {
		g.advance = float64(a) / 64
	}
	segs, err := o.font.LoadGlyph(&o.buf, id, size, nil)
	if err != nil {
		return g
	}
	for _, s := range segs {
		op := glyphOp{op: s.Op}
		for i, a := range s.Args {
			op.arg[i] = geom.Pt(math.Round(float64(a.X)/64), -math.Round(float64(a.Y)/64))
		}
		g.ops = append(g.ops, op)
	}
	return g
}

// missingLetter stands on paper for one that the font lacks: an empty box.
const missingLetter = '\uffff'

// has reports whether the font has the letter.
func (f face) has(r rune) bool {
	return r == ' ' || f.glyph(r).id != 0
}

// width returns how long a line of text is, in mm, at an em of size mm.
func (f face) width(text string, size float64) float64 {
	var sum float64
	for _, r := range text {
		sum += f.glyph(r).advance
	}
	return sum * size / em
}

// transform maps font units of the word's letter that starts at advance along
// the line to paper.
func (w word) transform(advance float64) geom.Affine {
	s, c := math.Sincos(w.angle)
	k := w.size / em
	return geom.Affine{A: c * k, B: -s * k, C: w.at.X + c*k*advance, D: s * k, E: c * k, F: w.at.Y + s*k*advance}
}
