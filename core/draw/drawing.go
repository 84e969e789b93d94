// Package draw makes the pictures of a pattern: all its pieces laid out, what
// a step changed, and a sheet at true size.
//
// A Drawing is a list of lines and words in mm of paper, y up. It is written as
// SVG, PDF or PNG; equal drawings give equal bytes in each. In pictures words
// are drawn as outlines, so that they look the same wherever they are opened; in
// a PDF they are text, in letters that the file brings along. A Document is
// pages that drawings are placed on. This is the only package that imports the
// canvas renderer and the writer of PDF, and nothing is loaded until the first
// word is measured.
package draw

import (
	"image/color"
	"math"

	"bygone.example/core/geom"
)

// Drawing is one finished picture.
type Drawing struct {
	Width, Height float64 // mm of paper
	// Title and Text say what is to be seen, for those who cannot see it.
	Title, Text string

	items []item
	exact bool // at true size: keep a decimal more
}

// item is a path or a word.
type item struct {
	layer Layer
	ink   ink
	paths []geom.Path // stroked or filled; a fill is closed
	word  *word
}

// ink is how a path is drawn. Widths and dashes are mm of paper.
type ink struct {
	stroke, fill color.RGBA // no alpha is none
	width        float64
	dash         [4]float64 // up to the first zero
	evenOdd      bool
}

// dashes returns the dash lengths in use.
func (k ink) dashes() []float64 {
	for i, d := range k.dash {
		if d == 0 {
			return k.dash[:i:i]
		}
	}
	return k.dash[:]
}

// times returns the ink with its widths scaled.
func (k ink) times(u float64) ink {
	k.width *= u
	for i := range k.dash {
		k.dash[i] *= u
	}
	return k
}

func rgb(hex uint32) color.RGBA {
	return color.RGBA{uint8(hex >> 16), uint8(hex >> 8), uint8(hex), 255}
}

// The inks. One accent, madder, for what makes an edge shorter than it is cut
// (darts, pleats, gathers); it is dark enough to read as black where there is
// no colour, and its marks have shapes of their own.
var (
	black  = rgb(0x1c1a17)
	grey   = rgb(0x6f6a62)
	pale   = rgb(0x9b958b)
	madder = rgb(0x98302a)
	cloth  = rgb(0xf7f2e7)
	white  = rgb(0xffffff)

	seamInk = ink{stroke: black, width: 0.5}
	foldInk = ink{stroke: black, width: 0.5, dash: [4]float64{5, 1.1, 1, 1.1}}
	cutInk  = ink{stroke: grey, width: 0.22, dash: [4]float64{1.7, 1.1}}
	// On paper to cut from: what the scissors follow is the stronger line, and
	// both are fine, since a line is as wide as the maker's doubt (0.4 mm and
	// 0.28 mm at the size for a cutting table).
	paperCutInk  = ink{stroke: black, width: 0.2}
	paperSeamInk = ink{stroke: grey, width: 0.14, dash: [4]float64{2, 1.1}}
	markInk      = ink{stroke: black, width: 0.28}
	thinInk      = ink{stroke: grey, width: 0.16}
	fullInk      = ink{stroke: madder, width: 0.3}
	legInk       = ink{stroke: madder, width: 0.3, dash: [4]float64{1.5, 0.8}}
	beforeInk    = ink{stroke: pale, width: 0.34}
	oldLegInk    = ink{stroke: pale, width: 0.26, dash: [4]float64{1.5, 0.8}}
	clothInk     = ink{fill: cloth}
	solidInk     = ink{fill: black}
	fullSolid    = ink{fill: madder}
	ruleInk      = ink{stroke: black, width: 0.2}
)

// stroke adds paths in one ink.
func (d *Drawing) stroke(k ink, paths ...geom.Path) {
	d.items = append(d.items, item{ink: k, paths: paths})
}

// write adds a word at its place.
func (d *Drawing) write(w word) { d.items = append(d.items, item{word: &w}) }

// place adds what another drawing holds, moved by v.
func (d *Drawing) place(items []item, v geom.Point) {
	m := geom.Translation(v)
	for _, it := range items {
		if it.word != nil {
			w := *it.word
			w.at = w.at.Add(v)
			d.items = append(d.items, item{layer: it.layer, word: &w})
			continue
		}
		moved := make([]geom.Path, len(it.paths))
		for i, p := range it.paths {
			moved[i] = p.Transform(m)
		}
		d.items = append(d.items, item{layer: it.layer, ink: it.ink, paths: moved})
	}
}

// scaling maps a piece's plane to paper: k mm of paper to one of cloth.
func scaling(k float64) geom.Affine { return geom.Affine{A: k, E: k} }

// circle returns a closed path around c.
func circle(c geom.Point, r float64) geom.Path {
	const k = 4.0 / 3 * (math.Sqrt2 - 1)
	var p geom.Path
	for i := range 4 {
		a := geom.Polar(r, float64(i)*math.Pi/2)
		b := a.Left()
		p = append(p, geom.Cubic(c.Add(a), c.Add(a).Add(b.Mul(k)), c.Add(b).Add(a.Mul(k)), c.Add(b)))
	}
	return p
}

// arrow returns a filled arrow head with its tip at p, pointing along dir.
func arrow(p, dir geom.Point, size float64) geom.Path {
	u := dir.Unit()
	back := p.Sub(u.Mul(size))
	l, r := back.Add(u.Left().Mul(size*0.36)), back.Add(u.Right().Mul(size*0.36))
	return geom.Polyline(p, l, back.Add(u.Mul(size*0.22)), r, p)
}
