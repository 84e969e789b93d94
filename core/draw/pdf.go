package draw

import (
	"bytes"
	"fmt"
	"image/color"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"bygone.example/core/geom"
	"codeberg.org/go-pdf/fpdf"
)

// PDF writes the drawing as a one-page document of its size.
func (d Drawing) PDF(w io.Writer) error {
	page := Page{Width: d.Width, Height: d.Height}
	page.Add(&d, Placing{})
	return Document{Title: d.Title, Text: d.Text, Pages: []Page{page}}.PDF(w)
}

const (
	pointsPerMM = 72 / 25.4
	// largestUnits is how many units a side of a page may have in PDF: 14 400,
	// 200 in of 1/72 (ISO 32000-1, Annex C). A larger page has larger units.
	largestUnits = 14400
)

// PDF writes the document. Words are text in the Go fonts, of which the file
// carries the letters in use.
func (d Document) PDF(w io.Writer) error {
	if err := d.Validate(); err != nil {
		return fmt.Errorf("writing PDF: %w", err)
	}
	first := d.Pages[0]
	f := fpdf.NewCustom(&fpdf.InitType{UnitStr: "pt", Size: fpdf.SizeType{Wd: first.units(first.Width), Ht: first.units(first.Height)}})
	f.SetCatalogSort(true)
	// Any date: the writer insists on one, and mendPDF takes it out.
	f.SetCreationDate(time.Unix(0, 0).UTC())
	f.SetModificationDate(time.Unix(0, 0).UTC())
	f.SetTitle(plane(d.Title), true)
	f.SetSubject(plane(d.Text), true)
	f.SetProducer("Bygone", true)
	f.SetLang(d.language())
	f.SetAutoPageBreak(false, 0)
	p := pdfWriter{f: f, layers: map[Layer]int{}}
	for _, l := range d.Layers() {
		p.layers[l] = f.AddLayer(clip(plane(d.nameOf(l)), longestLayer), !slices.Contains(d.Hidden, l))
	}
	for _, page := range d.Pages {
		p.page(page)
	}
	var b bytes.Buffer
	if err := f.Output(&b); err != nil {
		return fmt.Errorf("writing PDF: %w", err)
	}
	out, err := mendPDF(b.Bytes(), d.Pages, p.fonts())
	if err != nil {
		return fmt.Errorf("writing PDF: %w", err)
	}
	_, err = w.Write(out)
	return err
}

// plane returns the text in letters of two bytes each: all that the writer can
// write, which panics at less.
func plane(s string) string {
	return strings.Map(func(r rune) rune {
		if r > 0xffff {
			return utf8.RuneError
		}
		return r
	}, strings.ToValidUTF8(s, string(utf8.RuneError)))
}

func (d Document) language() string {
	// Written as it is between brackets: only what a language tag is made of.
	for _, r := range d.Language {
		if !('a' <= r && r <= 'z' || 'A' <= r && r <= 'Z' || '0' <= r && r <= '9' || r == '-') {
			return "en"
		}
	}
	if d.Language == "" {
		return "en"
	}
	return d.Language
}

// longestLayer is how many letters of a layer's name are told; a reader was
// seen to refuse a page for one of thousands.
const longestLayer = 100

// unit is how many 1/72 in one unit of the page is: 1, or more for a page
// that would have too many of them.
func (p Page) unit() float64 {
	return math.Max(1, math.Ceil(math.Max(p.Width, p.Height)*pointsPerMM/largestUnits))
}

// units converts mm to units of the page.
func (p Page) units(mm float64) float64 { return mm * pointsPerMM / p.unit() }

// pdfWriter writes the content of pages: operators of PDF, in mm.
type pdfWriter struct {
	f      *fpdf.Fpdf
	layers map[Layer]int
	used   [faces]map[rune]bool // the letters; nil for a face without
	buf    []byte
	// what the page's state is, so as to tell only changes
	stroke, fill color.RGBA
	width        float64
	dash         [4]float64
	layer        Layer
}

func (w *pdfWriter) page(p Page) {
	wd, ht := p.units(p.Width), p.units(p.Height)
	// Told the size lying or standing, the writer keeps width and height as given.
	w.f.AddPageFormat("P", fpdf.SizeType{Wd: wd, Ht: ht})
	k := strconv.FormatFloat(p.units(1), 'f', 9, 64)
	w.op(k + " 0 0 " + k + " 0 0 cm 1 J 1 j")
	w.forget()
	for _, v := range p.views() {
		if area(v.clip) {
			w.buf = append(w.buf, "q "...)
			w.box(v.clip)
			w.op(" re W n")
		}
		for _, it := range v.items {
			w.item(it)
		}
		w.switchTo("")
		if area(v.clip) {
			w.op("Q")
			w.forget()
		}
	}
}

// forget makes the next item tell its ink whole.
func (w *pdfWriter) forget() {
	w.stroke, w.fill, w.width, w.dash = color.RGBA{}, color.RGBA{}, -1, [4]float64{-1}
}

// op ends a line of operators.
func (w *pdfWriter) op(s string) {
	w.buf = append(w.buf, s...)
	w.f.RawWriteStr(string(w.buf))
	w.buf = w.buf[:0]
}

// num appends a number to so many decimals, without needless noughts.
func (w *pdfWriter) num(v float64, decimals int) {
	from := len(w.buf)
	w.buf = strconv.AppendFloat(w.buf, v, 'f', decimals, 64)
	for w.buf[len(w.buf)-1] == '0' {
		w.buf = w.buf[:len(w.buf)-1]
	}
	if w.buf[len(w.buf)-1] == '.' {
		w.buf = w.buf[:len(w.buf)-1]
	}
	if s := string(w.buf[from:]); s == "" || s == "-" || s == "-0" {
		w.buf = append(w.buf[:from], '0')
	}
	w.buf = append(w.buf, ' ')
}

// at appends a point to a thousandth of a mm.
func (w *pdfWriter) at(p geom.Point) { w.num(p.X, 3); w.num(p.Y, 3) }

func (w *pdfWriter) box(b geom.Box) {
	w.at(b.Min)
	w.num(b.Width(), 3)
	w.num(b.Height(), 3)
}

func (w *pdfWriter) colour(c color.RGBA, op string) {
	for _, v := range [...]uint8{c.R, c.G, c.B} {
		w.num(float64(v)/255, 3)
	}
	w.op(op)
}

func (w *pdfWriter) switchTo(l Layer) {
	if l == w.layer {
		return
	}
	w.f.EndLayer()
	if l != "" {
		w.f.BeginLayer(w.layers[l])
	}
	w.layer = l
}

func (w *pdfWriter) item(it item) {
	if it.word != nil {
		w.switchTo(it.layer)
		w.word(*it.word)
		return
	}
	k := it.ink
	stroked, filled := k.stroke.A > 0 && k.width > 0, k.fill.A > 0
	if !stroked && !filled || !slices.ContainsFunc(it.paths, func(p geom.Path) bool { return len(p) > 0 }) {
		return
	}
	w.switchTo(it.layer)
	if filled && w.fill != k.fill {
		w.fill = k.fill
		w.colour(k.fill, "rg")
	}
	if stroked {
		if w.stroke != k.stroke {
			w.stroke = k.stroke
			w.colour(k.stroke, "RG")
		}
		if w.width != k.width {
			w.width = k.width
			w.num(k.width, 3)
			w.op("w")
		}
		if w.dash != k.dash {
			w.dash = k.dash
			w.dashes(k)
		}
	}
	for _, p := range it.paths {
		w.path(p)
	}
	op := "S"
	switch {
	case filled && stroked:
		op = "B"
	case filled:
		op = "f"
	}
	if filled && k.evenOdd {
		op += "*"
	}
	w.op(op)
}

// dashes sets the dashes with the ends that suit: square for dashes, so that
// they are as long as told, round for unbroken lines.
func (w *pdfWriter) dashes(k ink) {
	dash := k.dashes()
	w.buf = append(w.buf, '[')
	for _, l := range dash {
		w.num(l, 3)
	}
	if len(dash) > 0 {
		w.op("] 0 d 0 J")
	} else {
		w.op("] 0 d 1 J")
	}
}

func (w *pdfWriter) path(p geom.Path) {
	if len(p) == 0 {
		return
	}
	w.at(p.Start())
	w.op("m")
	closed := p.Start().Near(p.End(), 1e-6)
	for i, s := range p {
		switch {
		case s.Curved:
			w.at(s.C1)
			w.at(s.C2)
			w.at(s.P1)
			w.op("c")
		case closed && i == len(p)-1: // closing draws it
		default:
			w.at(s.P1)
			w.op("l")
		}
	}
	if closed {
		w.op("h")
	}
}

// fonts returns those that were written in.
func (w *pdfWriter) fonts() []pdfFont {
	var out []pdfFont
	for f, used := range w.used {
		if used != nil {
			out = append(out, pdfFont{face(f), used})
		}
	}
	return out
}

// fontSize is the size every font is set in; the matrix does the rest.
const fontSize = 10.0

func (w *pdfWriter) word(t word) {
	family := t.face.family()
	if w.used[t.face] == nil {
		w.used[t.face] = map[rune]bool{}
		w.f.AddUTF8FontFromBytes(family, "", slices.Clone(loaded[t.face].ttf)) // it may write into what it gets
	}
	text := []rune(t.text)
	for i, r := range text {
		if r > 0xffff || !t.face.has(r) {
			text[i] = missingLetter
		}
		w.used[t.face][text[i]] = true
	}
	sin, cos := math.Sincos(t.angle)
	k := t.size / fontSize
	w.buf = append(w.buf, "q "...)
	for _, v := range [...]float64{k * cos, k * sin, -k * sin, k * cos} {
		w.num(v, 5)
	}
	w.at(t.at)
	w.op("cm")
	w.colour(t.fill, "rg")
	w.f.SetFont(family, "", fontSize)
	_, height := w.f.GetPageSize()
	w.f.Text(0, height, string(text)) // its origin is the upper left corner: this is 0, 0
	w.op("Q")
}
