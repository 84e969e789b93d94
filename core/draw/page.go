package draw

import (
	"bufio"
	"fmt"
	"image"
	imagedraw "image/draw"
	"io"
	"math"
	"slices"

	"bygone.example/core/geom"
	"github.com/tdewolff/canvas"
	"github.com/tdewolff/canvas/renderers/rasterizer"
)

// page returns one page, counted from 1.
func (d Document) page(number int) (Page, error) {
	if number < 1 || number > len(d.Pages) {
		return Page{}, fmt.Errorf("there is no page %d of %d", number, len(d.Pages))
	}
	return d.Pages[number-1], d.Validate()
}

// SVG writes one page, counted from 1, as a picture file. Each layer is a
// group that tells its name in data-layer; those of hidden layers are not
// displayed. prefix begins every id, and must be a name (letters first).
func (d Document) SVG(w io.Writer, number int, prefix string) error {
	p, err := d.page(number)
	if err != nil {
		return fmt.Errorf("writing SVG: %w", err)
	}
	e := svgWriter{Writer: bufio.NewWriter(w), height: p.Height, prefix: prefix, exact: true}
	views := p.views()
	var all []item
	for _, v := range views {
		all = append(all, v.items...)
	}
	e.open(p.Width, d.Title, d.Text)
	e.defs(all)
	fmt.Fprint(e, `<g fill="none" stroke-linecap="round" stroke-linejoin="round">`+"\n")
	for i, v := range views {
		if area(v.clip) {
			fmt.Fprintf(e, `<clipPath id="%[1]sw%[2]d"><path d="`, prefix, i)
			e.data(boxPath(v.clip))
			fmt.Fprintf(e, `"/></clipPath>`+"\n"+`<g clip-path="url(#%[1]sw%[2]d)">`+"\n", prefix, i)
		}
		for rest := v.items; len(rest) > 0; {
			l := rest[0].layer
			n := slices.IndexFunc(rest, func(it item) bool { return it.layer != l })
			if n < 0 {
				n = len(rest)
			}
			if l != "" {
				fmt.Fprintf(e, `<g data-layer="%s"`, escape(d.nameOf(l)))
				if slices.Contains(d.Hidden, l) {
					fmt.Fprint(e, ` display="none"`)
				}
				fmt.Fprint(e, ">\n")
			}
			e.items(rest[:n])
			if l != "" {
				fmt.Fprint(e, "</g>\n")
			}
			rest = rest[n:]
		}
		if area(v.clip) {
			fmt.Fprint(e, "</g>\n")
		}
	}
	fmt.Fprint(e, "</g>\n</svg>\n")
	return e.Flush()
}

func boxPath(b geom.Box) geom.Path { return rectangle(b.Min.X, b.Min.Y, b.Width(), b.Height()) }

// PNG writes one page, counted from 1, as an image of the given width in
// pixels, on white and without hidden layers.
func (d Document) PNG(w io.Writer, number, width int) error {
	p, err := d.page(number)
	if err != nil {
		return fmt.Errorf("writing PNG: %w", err)
	}
	perMM, err := pixels(p.Width, p.Height, width)
	if err != nil {
		return err
	}
	resolution := canvas.DPMM(perMM)
	paper := rasterizer.New(p.Width, p.Height, resolution, canvas.LinearColorSpace{})
	sheet := Drawing{items: []item{{ink: ink{fill: white}, paths: []geom.Path{rectangle(-1, -1, p.Width+2, p.Height+2)}}}}
	sheet.render(paper)
	paper.Close()
	im := paper.Image.(*image.RGBA)
	for _, v := range p.views() {
		part := Drawing{items: v.items}.Without(d.Hidden...)
		if !area(v.clip) {
			r := rasterizer.FromImage(im, resolution, canvas.LinearColorSpace{})
			part.render(r)
			r.Close()
			continue
		}
		// What is seen through a window is drawn on a copy, and the window cut out
		// of that: at whole pixels, so that two windows side by side leave no seam.
		copied := image.NewRGBA(im.Rect)
		copy(copied.Pix, im.Pix)
		r := rasterizer.FromImage(copied, resolution, canvas.LinearColorSpace{})
		part.render(r)
		r.Close()
		at := func(q geom.Point) (x, y int) {
			return int(math.Round(q.X * perMM)), im.Rect.Max.Y - int(math.Round(q.Y*perMM))
		}
		x0, y1 := at(v.clip.Min)
		x1, y0 := at(v.clip.Max)
		window := image.Rect(x0, y0, x1, y1).Intersect(im.Rect)
		imagedraw.Draw(im, window, copied, window.Min, imagedraw.Src)
	}
	return encodePNG(w, im)
}
