package draw

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"regexp"
	"strconv"
	"sync"

	"bygone.example/core/geom"
	"github.com/tdewolff/canvas"
	"github.com/tdewolff/canvas/renderers/pdf"
	"github.com/tdewolff/canvas/renderers/rasterizer"
	"golang.org/x/image/font/sfnt"
)

// PDF writes the drawing as a one-page document of its size.
func (d Drawing) PDF(w io.Writer) error {
	var b bytes.Buffer
	opts := pdf.DefaultOptions
	r := pdf.New(&b, d.Width, d.Height, &opts)
	r.SetInfo(d.Title, d.Text, "", "", "")
	d.render(r)
	if err := r.Close(); err != nil {
		return fmt.Errorf("writing PDF: %w", err)
	}
	out, err := withoutClock(b.Bytes())
	if err != nil {
		return fmt.Errorf("writing PDF: %w", err)
	}
	_, err = w.Write(out)
	return err
}

// PNG writes the drawing as an image of the given width in pixels, on white.
func (d Drawing) PNG(w io.Writer, width int) error {
	perMM := float64(width) / d.Width
	if !(perMM > 0) || math.IsInf(perMM, 0) || float64(width)*d.Height*perMM > maxPixels {
		return fmt.Errorf("writing PNG: %d px wide for %.0f × %.0f mm is no size for an image", width, d.Width, d.Height)
	}
	r := rasterizer.New(d.Width, d.Height, canvas.DPMM(perMM), canvas.LinearColorSpace{})
	sheet := ink{fill: white}
	(&Drawing{items: append([]item{{ink: sheet, paths: []geom.Path{rectangle(-1, -1, d.Width+2, d.Height+2)}}}, d.items...)}).render(r)
	r.Close()
	enc := png.Encoder{CompressionLevel: png.BestSpeed}
	if err := enc.Encode(w, fewColours(r.Image.(*image.RGBA))); err != nil {
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

var creationDate = regexp.MustCompile(`\s*/CreationDate\s*\([^)]*\)`)

// withoutClock takes the creation date out of a PDF, so that equal drawings
// give equal files, and mends the offsets of what stands behind it.
func withoutClock(file []byte) ([]byte, error) {
	tail := bytes.LastIndex(file, []byte("\n2 0 obj\n"))
	at := []int(nil)
	if tail >= 0 {
		at = creationDate.FindIndex(file[tail:])
	}
	if at == nil {
		return nil, fmt.Errorf("the document has no creation date where one was expected")
	}
	from, to := tail+at[0], tail+at[1]
	out := append(append([]byte(nil), file[:from]...), file[to:]...)
	cut := to - from

	xref := bytes.LastIndex(out, []byte("\nxref\n"))
	start := bytes.LastIndex(out, []byte("startxref\n"))
	if xref < 0 || start < 0 {
		return nil, fmt.Errorf("the document has no table of offsets")
	}
	// Entries are 20 bytes each: ten digits of offset, generation, kind.
	first := xref + 1 + bytes.Index(out[xref+1:], []byte("0000000000 65535"))
	for e := first; e+20 <= len(out) && out[e+10] == ' '; e += 20 {
		if off, err := strconv.Atoi(string(out[e : e+10])); err == nil && off > from {
			copy(out[e:e+10], fmt.Sprintf("%010d", off-cut))
		}
	}
	return append(out[:start:start], fmt.Sprintf("startxref\n%d\n%%%%EOF\n", xref+1)...), nil
}
