package draw

import (
	"bufio"
	"encoding/xml"
	"fmt"
	"image/color"
	"io"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"bygone.example/core/geom"
	"golang.org/x/image/font/sfnt"
)

// SVG writes the drawing as a picture file. Letters are outlines, each drawn
// once and used wherever it occurs. prefix begins every id, so that several
// pictures can stand in one page; it must be a name (letters first).
func (d Drawing) SVG(w io.Writer, prefix string) error {
	e := svgWriter{Writer: bufio.NewWriter(w), height: d.Height, prefix: prefix, exact: d.exact}
	e.open(d.Width, d.Title, d.Text)
	e.defs(d.items)
	fmt.Fprintf(e, `<g fill="none" stroke-linecap="round" stroke-linejoin="round">`+"\n")
	e.items(d.items)
	fmt.Fprint(e, "</g>\n</svg>\n")
	return e.Flush()
}

// open writes the head of the file.
func (e svgWriter) open(width float64, title, text string) {
	fmt.Fprintf(e, `<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="0 0 %s %s" role="img" aria-label="%s">`+"\n",
		num(width), num(e.height), num(width), num(e.height), escape(strings.TrimSpace(title+". "+text)))
}

// items writes items in their order.
func (e svgWriter) items(items []item) {
	for i := 0; i < len(items); {
		it := items[i]
		if it.word != nil {
			e.word(*it.word)
			i++
			continue
		}
		// Neighbours in one ink share one path element; fills are kept apart, so
		// that shapes which overlap do not cut holes into each other.
		paths := slices.Clone(it.paths)
		for i++; i < len(items) && it.ink.fill.A == 0 && items[i].word == nil && items[i].ink == it.ink; i++ {
			paths = append(paths, items[i].paths...)
		}
		e.path(it.ink, paths)
	}
}

type svgWriter struct {
	*bufio.Writer
	height float64
	prefix string
	exact  bool
}

func (e svgWriter) defs(items []item) {
	used := map[string]*glyph{}
	for _, it := range items {
		if it.word == nil {
			continue
		}
		for _, r := range it.word.text {
			if g := it.word.face.glyph(r); len(g.ops) > 0 {
				used[e.id(it.word.face, g)] = g
			}
		}
	}
	if len(used) == 0 {
		return
	}
	fmt.Fprint(e, "<defs>\n")
	for _, id := range slices.Sorted(maps.Keys(used)) {
		fmt.Fprintf(e, `<path id="%s" d="`, id)
		for _, op := range used[id].ops {
			switch op.op {
			case sfnt.SegmentOpMoveTo:
				e.pair('M', op.arg[:1])
			case sfnt.SegmentOpLineTo:
				e.pair('L', op.arg[:1])
			case sfnt.SegmentOpQuadTo:
				e.pair('Q', op.arg[:2])
			case sfnt.SegmentOpCubeTo:
				e.pair('C', op.arg[:3])
			}
		}
		fmt.Fprint(e, "Z\"/>\n")
	}
	fmt.Fprint(e, "</defs>\n")
}

// pair writes font units, y down as SVG has it.
func (e svgWriter) pair(op byte, pts []geom.Point) {
	e.WriteByte(op)
	for i, p := range pts {
		if i > 0 {
			e.WriteByte(' ')
		}
		fmt.Fprintf(e, "%d %d", int(p.X), -int(p.Y))
	}
}

func (e svgWriter) id(f face, g *glyph) string {
	return e.prefix + f.letter() + strconv.Itoa(int(g.id))
}

func (e svgWriter) word(w word) {
	k := w.size / em
	fmt.Fprintf(e, `<g fill="%s" transform="translate(%s %s)`, hex(w.fill), num(w.at.X), num(e.height-w.at.Y))
	if w.angle != 0 {
		fmt.Fprintf(e, " rotate(%s)", num(-w.angle*180/math.Pi))
	}
	fmt.Fprintf(e, ` scale(%s)">`, strconv.FormatFloat(k, 'g', 4, 64))
	x := 0.0
	for _, r := range w.text {
		g := w.face.glyph(r)
		if len(g.ops) > 0 {
			fmt.Fprintf(e, `<use href="#%s"`, e.id(w.face, g))
			if x != 0 {
				fmt.Fprintf(e, ` x="%d"`, int(math.Round(x)))
			}
			fmt.Fprint(e, "/>")
		}
		x += g.advance
	}
	fmt.Fprint(e, "</g>\n")
}

func (e svgWriter) path(k ink, paths []geom.Path) {
	fmt.Fprint(e, `<path`)
	if k.fill.A > 0 {
		fmt.Fprintf(e, ` fill="%s"`, hex(k.fill))
	}
	if k.evenOdd {
		fmt.Fprint(e, ` fill-rule="evenodd"`)
	}
	if k.stroke.A > 0 && k.width > 0 {
		fmt.Fprintf(e, ` stroke="%s" stroke-width="%s"`, hex(k.stroke), num(k.width))
		if dash := k.dashes(); len(dash) > 0 {
			text := make([]string, len(dash))
			for i, d := range dash {
				text[i] = num(d)
			}
			fmt.Fprintf(e, ` stroke-dasharray="%s" stroke-linecap="butt"`, strings.Join(text, " "))
		}
	}
	fmt.Fprint(e, ` d="`)
	for _, p := range paths {
		e.data(p)
	}
	fmt.Fprint(e, "\"/>\n")
}

// data writes one path, each point rounded by itself so that errors do not add
// up along it.
func (e svgWriter) data(p geom.Path) {
	if len(p) == 0 {
		return
	}
	pt := func(q geom.Point) string { return e.num(q.X) + " " + e.num(e.height-q.Y) }
	fmt.Fprintf(e, "M%s", pt(p.Start()))
	closed := p.Start().Near(p.End(), 1e-6)
	for i, s := range p {
		switch {
		case s.Curved:
			fmt.Fprintf(e, "C%s %s %s", pt(s.C1), pt(s.C2), pt(s.P1))
		case closed && i == len(p)-1: // the Z draws it
		default:
			fmt.Fprintf(e, "L%s", pt(s.P1))
		}
	}
	if closed {
		fmt.Fprint(e, "Z")
	}
}

// num prints a coordinate: to a hundredth of a mm on a picture, far below the
// width of its lines, and to a thousandth on a sheet to cut by.
func (e svgWriter) num(v float64) string {
	if e.exact {
		return num(v)
	}
	return num(math.Round(v*100) / 100)
}

// num prints mm of paper to a thousandth.
func num(v float64) string {
	s := strconv.FormatFloat(v, 'f', 3, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" || s == "" {
		return "0"
	}
	return s
}

func hex(c color.RGBA) string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

func escape(s string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(s)) // a Builder never fails
	return b.String()
}
