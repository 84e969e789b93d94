package draw

import (
	"fmt"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"sync"

	"bygone.example/core/geom"
	"github.com/tdewolff/canvas"
	"github.com/tdewolff/canvas/renderers/rasterizer"
	"golang.org/x/image/font/sfnt"
)

// PNG writes the drawing as an image of the given width in pixels, on white.
func (d Drawing) PNG(w io.Writer, width int) error {
	perMM, err := pixels(d.Width, d.Height, width)
	if err != nil {
		return err
	}
	r := rasterizer.New(d.Width, d.Height, canvas.DPMM(perMM), canvas.LinearColorSpace{})
	sheet := ink{fill: white}
	(&Drawing{items: append([]item{{ink: sheet, paths: []geom.Path{rectangle(-1, -1, d.Width+2, d.Height+2)}}}, d.items...)}).render(r)
	r.Close()
	return encodePNG(w, r.Image.(*image.RGBA))
}

// pixels returns how many of them a mm has in an image so many wide.
func pixels(width, height float64, wide int) (perMM float64, err error) {
	perMM = float64(wide) / width
	if !(perMM > 0) || math.IsInf(perMM, 0) || float64(wide)*height*perMM > maxPixels {
		return 0, fmt.Errorf("writing PNG: %d px wide for %.0f × %.0f mm is no size for an image", wide, width, height)
	}
	return perMM, nil
}

func encodePNG(w io.Writer, im *image.RGBA) error {
	enc := png.Encoder{CompressionLevel: png.BestSpeed}
	if err := enc.Encode(w, fewColours(im)); err != nil {
		return fmt.Errorf("writing PNG: %w", err)
	}
	return nil
}

// inkwell holds every ink on every ground in the shades that soft edges make:
// 256 colours, all a picture needs. With them an image is written in a third
// of the time and half the space.
var inkwell = sync.OnceValue(func() color.Palette {
	const shades = 32
	var p color.Palette
	for _, ground := range [...]color.RGBA{white, cloth} {
		for _, k := range [...]color.RGBA{black, grey, pale, madder} {
			for i := range shades {
				mix := func(a, b uint8) uint8 {
					return uint8(math.Round(float64(a) + (float64(b)-float64(a))*float64(i)/(shades-1)))
				}
				p = append(p, color.RGBA{mix(ground.R, k.R), mix(ground.G, k.G), mix(ground.B, k.B), 255})
			}
		}
	}
	return p
})

// fewColours gives each pixel the nearest colour of the inkwell.
func fewColours(im *image.RGBA) *image.Paletted {
	out := image.NewPaletted(im.Rect, inkwell())
	nearest := map[[3]uint8]uint8{}
	last, index := [3]uint8{}, uint8(0)
	known := false
	for i := range out.Pix {
		px := im.Pix[4*i : 4*i+3 : 4*i+3]
		c := [3]uint8{px[0], px[1], px[2]}
		if !known || c != last {
			n, ok := nearest[c]
			if !ok {
				n = uint8(out.Palette.Index(color.RGBA{c[0], c[1], c[2], 255}))
				nearest[c] = n
			}
			last, index, known = c, n, true
		}
		out.Pix[i] = index
	}
	return out
}

// maxPixels bounds the memory an image may take: 400 MB.
const maxPixels = 100e6

func rectangle(x, y, w, h float64) geom.Path {
	a, b, c, d := geom.Pt(x, y), geom.Pt(x+w, y), geom.Pt(x+w, y+h), geom.Pt(x, y+h)
	return geom.Polyline(a, b, c, d, a)
}

// render draws the items with one of the canvas renderers.
func (d *Drawing) render(r canvas.Renderer) {
	for _, it := range d.items {
		p := &canvas.Path{}
		style := canvas.DefaultStyle
		if it.word != nil {
			addWord(p, *it.word)
			style.Fill = canvas.Paint{Color: it.word.fill}
		} else {
			for _, q := range it.paths {
				addPath(p, q)
			}
			style.Fill = canvas.Paint{Color: it.ink.fill}
			if it.ink.width > 0 && it.ink.stroke.A > 0 {
				style.Stroke = canvas.Paint{Color: it.ink.stroke}
				style.StrokeWidth = it.ink.width
				style.StrokeCapper, style.StrokeJoiner = canvas.RoundCap, canvas.RoundJoin
				for _, l := range it.ink.dashes() {
					// The renderer counts dashes in line widths.
					style.Dashes = append(style.Dashes, l/it.ink.width)
					style.StrokeCapper = canvas.ButtCap
				}
			}
			if it.ink.evenOdd {
				style.FillRule = canvas.EvenOdd
			}
		}
		if p.Empty() || !p.Sane() {
			continue
		}
		r.RenderPath(p, style, canvas.Identity)
	}
}

func addPath(p *canvas.Path, q geom.Path) {
	if len(q) == 0 {
		return
	}
	p.MoveTo(q.Start().X, q.Start().Y)
	closed := q.Start().Near(q.End(), 1e-6)
	for i, s := range q {
		switch {
		case s.Curved:
			p.CubeTo(s.C1.X, s.C1.Y, s.C2.X, s.C2.Y, s.P1.X, s.P1.Y)
		case closed && i == len(q)-1:
		default:
			p.LineTo(s.P1.X, s.P1.Y)
		}
	}
	if closed {
		p.Close()
	}
}

func addWord(p *canvas.Path, w word) {
	x := 0.0
	for _, r := range w.text {
		g := w.face.glyph(r)
		m := w.transform(x)
		x += g.advance
		for i, op := range g.ops {
			a, b, c := m.Apply(op.arg[0]), m.Apply(op.arg[1]), m.Apply(op.arg[2])
			switch op.op {
			case sfnt.SegmentOpMoveTo:
				if i > 0 {
					p.Close()
				}
				p.MoveTo(a.X, a.Y)
			case sfnt.SegmentOpLineTo:
				p.LineTo(a.X, a.Y)
			case sfnt.SegmentOpQuadTo:
				p.QuadTo(a.X, a.Y, b.X, b.Y)
			case sfnt.SegmentOpCubeTo:
				p.CubeTo(a.X, a.Y, b.X, b.Y, c.X, c.Y)
			}
		}
		if len(g.ops) > 0 {
			p.Close()
		}
	}
}
