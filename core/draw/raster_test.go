package draw

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"testing"

	"bygone.example/core/geom"
)

// dpi is what the pages are measured at, and perMM the pixels of a mm then.
const (
	dpi   = 600
	perMM = dpi / 25.4
)

// seenBy draws pages with programs that owe nothing to one another: page of a
// file at a resolution, in grey.
var seenBy = map[string]func(t testing.TB, file string, page, dpi int) *image.Gray{
	"poppler": func(t testing.TB, file string, page, dpi int) *image.Gray {
		out := filepath.Join(t.TempDir(), "page")
		says(t, "pdftoppm", "poppler-utils", "-gray", "-singlefile", "-r", fmt.Sprint(dpi), "-f", fmt.Sprint(page), file, out)
		return readPGM(t, out+".pgm")
	},
	"MuPDF": func(t testing.TB, file string, page, dpi int) *image.Gray {
		out := filepath.Join(t.TempDir(), "page.pgm")
		says(t, "mutool", "mupdf-tools", "draw", "-q", "-c", "gray", "-r", fmt.Sprint(dpi), "-o", out, file, fmt.Sprint(page))
		return readPGM(t, out)
	},
}

// readPGM reads a grey picture as the two programs write it.
func readPGM(t testing.TB, file string) *image.Gray {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var w, h, depth int
	if n, err := fmt.Fscanf(bytes.NewReader(data), "P5\n%d %d\n%d\n", &w, &h, &depth); n != 3 || depth != 255 || len(data) < w*h {
		t.Fatalf("%s is no grey picture: %v", file, err)
	}
	return &image.Gray{Pix: data[len(data)-w*h:], Stride: w, Rect: image.Rect(0, 0, w, h)}
}

// dark is the part of a pixel that is covered with black ink.
func dark(v uint8) float64 { return (255 - float64(v)) / (255 - 0x1c) }

// inkBox returns the box of the ink, in pixels from the lower left of the
// page, to a part of a pixel by how dark its border is.
func inkBox(im *image.Gray) geom.Box {
	var rows, columns = make([]float64, im.Rect.Dy()), make([]float64, im.Rect.Dx())
	for y := range rows {
		for x, v := range im.Pix[y*im.Stride : y*im.Stride+len(columns)] {
			d := dark(v)
			rows[y], columns[x] = max(rows[y], d), max(columns[x], d)
		}
	}
	ends := func(line []float64) (from, to float64) {
		i, j := 0, len(line)-1
		for i < j && line[i] < 0.02 {
			i++
		}
		for j > i && line[j] < 0.02 {
			j--
		}
		return float64(i+1) - min(1, line[i]), float64(j) + min(1, line[j])
	}
	x0, x1 := ends(columns)
	y0, y1 := ends(rows)
	return geom.BoxOf(geom.Pt(x0, float64(len(rows))-y1), geom.Pt(x1, float64(len(rows))-y0))
}

// one returns a document of one page with one drawing of its size.
func one(d *Drawing) Document {
	p := Page{Width: d.Width, Height: d.Height}
	p.Add(d, Placing{})
	return Document{Title: "one page", Pages: []Page{p}}
}

// The test square and a seam of known length measure on the page what they
// should.
func TestPageMeasures(t *testing.T) {
	const width = 0.3
	square := Drawing{Width: 140, Height: 270}
	square.Draw("", Pen(width), rectangle(31, 101, 50, 50))
	seam := Drawing{Width: 140, Height: 270}
	from, length, turned := geom.Pt(22, 40), 241.3, 1.1 // a slanting side seam
	seam.Draw(LayerSeam, Pen(width), geom.Polyline(from, from.Add(geom.Polar(length, turned))))
	for name, c := range map[string]struct {
		d    *Drawing
		want geom.Box // mm, of the middle of the line
	}{
		"test square": {&square, geom.BoxOf(geom.Pt(31, 101), geom.Pt(81, 151))},
		"seam":        {&seam, geom.BoxOf(from, from.Add(geom.Polar(length, turned)))},
	} {
		file := written(t, one(c.d))
		for by, see := range seenBy {
			t.Run(name+" by "+by, func(t *testing.T) {
				im := see(t, file, 1, dpi)
				got := inkBox(im)
				// Half the line and its round end lie outside.
				got = got.Grow(-width / 2 * perMM)
				worst := 0.0
				for i, pair := range [...][2]float64{
					{got.Min.X, c.want.Min.X}, {got.Min.Y, c.want.Min.Y}, {got.Max.X, c.want.Max.X}, {got.Max.Y, c.want.Max.Y},
				} {
					// Positions are measured from the lower edge; the picture is whole
					// pixels high and may hang over by a part of one.
					off := math.Abs(pair[0] - pair[1]*perMM)
					worst = max(worst, off)
					if off > 1 {
						t.Errorf("side %d of the ink is at %.2f px, want %.2f", i, pair[0], pair[1]*perMM)
					}
				}
				long := math.Hypot(got.Width(), got.Height()) / perMM
				want := math.Hypot(c.want.Width(), c.want.Height())
				t.Logf("sides within %.2f px; diagonal %.3f mm, want %.3f", worst, long, want)
				if math.Abs(long-want) > 1/perMM {
					t.Errorf("the diagonal is %.3f mm, want %.3f", long, want)
				}
			})
		}
	}
}

// A seam that runs over the border between two pages goes on, on the second,
// where it left the first.
func TestJointIsContinuous(t *testing.T) {
	const width, wide, high, margin = 0.5, 148.0, 105.0, 7.3
	seam := geom.Path{geom.Cubic(geom.Pt(5, 10), geom.Pt(140, 15), geom.Pt(100, 80), geom.Pt(262, 82))}
	sheet := Drawing{Width: 267, Height: high - 2*margin}
	sheet.Draw(LayerSeam, Pen(width), seam)
	doc := Document{Title: "two pages"}
	border := wide - 2*margin // of the sheet
	for i := range 2 {
		window := geom.BoxOf(geom.Pt(margin, margin), geom.Pt(wide-margin, high-margin))
		p := Page{Width: wide, Height: high, Trim: window}
		p.AddWindow(&sheet, Placing{At: geom.Pt(margin-border*float64(i), margin)}, window)
		doc.Pages = append(doc.Pages, p)
	}
	file := written(t, doc)
	for by, see := range seenBy {
		t.Run(by, func(t *testing.T) {
			var at [2]float64 // height of the seam at the border on each page, mm
			for i := range at {
				im := see(t, file, i+1, dpi)
				edge := wide - margin
				step, first := -1, int(math.Floor(edge*perMM))-2
				if i == 1 {
					edge, step, first = margin, 1, int(math.Ceil(margin*perMM))+1
				}
				// Nothing beyond the window.
				for y := range im.Rect.Dy() {
					if x := first - 5*step; dark(im.GrayAt(x, y).Y) > 0.02 {
						t.Fatalf("page %d: ink at %d, %d, outside its window", i+1, x, y)
					}
				}
				for n := range 40 {
					x := first + n*step
					y, ok := middleOf(im, x)
					if !ok {
						t.Fatalf("page %d: no seam in column %d", i+1, x)
					}
					onSheet := (float64(x)+0.5)/perMM - margin + border*float64(i)
					along := seam.CutLine(geom.Pt(onSheet, 0), geom.Pt(0, 1))
					if len(along) != 1 {
						t.Fatalf("the seam is met %d times at %g", len(along), onSheet)
					}
					want := seam.At(along[0]).Y + margin
					if off := math.Abs(y/perMM - want); off > 1/perMM {
						t.Errorf("page %d, %.2f mm from the border: the seam is at %.3f mm, want %.3f", i+1, onSheet-border, y/perMM, want)
					}
					if n == 0 {
						at[i] = y / perMM
					}
				}
			}
			slope := seam.Direction(seam.CutLine(geom.Pt(border, 0), geom.Pt(0, 1))[0])
			jump := math.Abs(at[1]-at[0]) - slope.Y/slope.X*4/perMM // the columns are about four pixels apart
			t.Logf("%.3f and %.3f mm up at the border", at[0], at[1])
			if jump > 1/perMM {
				t.Errorf("the seam jumps by %.3f mm at the border", jump)
			}
		})
	}
}

// middleOf returns how far up the middle of the ink of a column is, px.
func middleOf(im *image.Gray, x int) (float64, bool) {
	sum, at := 0.0, 0.0
	for y := range im.Rect.Dy() {
		d := dark(im.GrayAt(x, y).Y)
		sum += d
		at += d * (float64(im.Rect.Dy()-y) - 0.5)
	}
	return at / sum, sum > 1
}

// A page longer than PDF has units for is as long as told all the same.
func TestLongPage(t *testing.T) {
	const long = 11000.0 // a roll of 11 m: three units of 1/72 in
	d := Drawing{Width: 900, Height: long}
	d.Draw("", Pen(40), geom.Polyline(geom.Pt(100, 1000), geom.Pt(800, 10000)))
	file := written(t, one(&d))
	const coarse = 10
	im := seenBy["MuPDF"](t, file, 1, coarse)
	if got, want := float64(im.Rect.Dy()), long/25.4*coarse; math.Abs(got-want) > 1 {
		t.Errorf("the page is %g px high, want %g", got, want)
	}
	got := inkBox(im)
	for _, pair := range [...][2]float64{{got.Min.Y, 980}, {got.Max.Y, 10020}, {got.Min.X, 80}, {got.Max.X, 820}} {
		if want := pair[1] / 25.4 * coarse; math.Abs(pair[0]-want) > 1 {
			t.Errorf("ink ends at %.1f px, want %.1f", pair[0], want)
		}
	}
	says(t, "qpdf", "qpdf", "--check", file)
}

// A hidden layer does not show, in any form; the others do.
func TestHiddenLayer(t *testing.T) {
	d := Drawing{Width: 60, Height: 20}
	d.Draw("shown", Ink{Fill: Black}, rectangle(5, 5, 10, 10))
	d.Draw("hidden", Ink{Fill: Black}, rectangle(25, 5, 10, 10))
	d.Draw("", Ink{Fill: Black}, rectangle(45, 5, 10, 10))
	doc := one(&d)
	doc.Hidden = []Layer{"hidden"}
	file := written(t, doc)
	pictures := map[string]image.Image{}
	for by, see := range seenBy {
		pictures["PDF by "+by] = see(t, file, 1, 254)
	}
	var b bytes.Buffer
	if err := doc.PNG(&b, 1, 600); err != nil {
		t.Fatal(err)
	}
	im, err := png.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	pictures["PNG"] = im
	b.Reset()
	if err := doc.SVG(&b, 1, "p"); err != nil {
		t.Fatal(err)
	}
	pictures["SVG"] = svgSeen(t, b.Bytes(), 600)
	for name, im := range pictures {
		for i, want := range []bool{true, false, true} {
			g := color.GrayModel.Convert(im.At(100+200*i, 100)).(color.Gray)
			if got := g.Y < 128; got != want {
				t.Errorf("%s: field %d dark = %v, want %v", name, i+1, got, want)
			}
		}
	}
}

// svgSeen draws an SVG with librsvg, on white.
func svgSeen(t testing.TB, svg []byte, width int) image.Image {
	t.Helper()
	folder := t.TempDir()
	in, out := filepath.Join(folder, "a.svg"), filepath.Join(folder, "a.png")
	if err := os.WriteFile(in, svg, 0o644); err != nil {
		t.Fatal(err)
	}
	says(t, "rsvg-convert", "librsvg2-bin", "-b", "white", "-w", fmt.Sprint(width), "-o", out, in)
	f, err := os.Open(out)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	im, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	return im
}

// A page looks the same in all three forms: through its window, turned, with
// what lies beside the window left out.
func TestFormsAgree(t *testing.T) {
	d := Pieces(frock())
	window := geom.BoxOf(geom.Pt(20, 30), geom.Pt(90, 80))
	p := Page{Width: 101.6, Height: 101.6}
	p.AddWindow(&d, Placing{At: geom.Pt(160, -40), Turn: math.Pi / 2, Scale: 0.8}, window)
	doc := Document{Title: "window", Pages: []Page{p}, Hidden: []Layer{LayerCloth}}
	pdf := seenBy["poppler"](t, written(t, doc), 1, 254)
	var b bytes.Buffer
	if err := doc.PNG(&b, 1, pdf.Rect.Dx()); err != nil {
		t.Fatal(err)
	}
	im, err := png.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	b.Reset()
	if err := doc.SVG(&b, 1, "p"); err != nil {
		t.Fatal(err)
	}
	pictures := map[string]image.Image{"PDF": pdf, "PNG": im, "SVG": svgSeen(t, b.Bytes(), pdf.Rect.Dx())}
	const field = 4 // px: coarser than the ways of softening an edge
	coarse := map[string][]float64{}
	n := pdf.Rect.Dx() / field
	for name, im := range pictures {
		if im.Bounds() != pdf.Rect {
			t.Fatalf("the %s is %v, want %v", name, im.Bounds(), pdf.Rect)
		}
		coarse[name] = make([]float64, n*n)
		inside := 0.0
		for y := range n * field {
			for x := range n * field {
				v := dark(color.GrayModel.Convert(im.At(x, y)).(color.Gray).Y)
				coarse[name][y/field*n+x/field] += v / (field * field)
				at := geom.Pt((float64(x)+0.5)/10, (float64(pdf.Rect.Dy()-y)-0.5)/10)
				if geom.BoxOf(at).Overlaps(window) {
					inside += v
				} else if v > 0.02 && !geom.BoxOf(at).Overlaps(window.Grow(0.1)) {
					t.Fatalf("the %s has ink at %v, outside the window", name, at)
				}
			}
		}
		if inside < 1000 {
			t.Errorf("the %s shows nearly nothing: %.0f px of ink", name, inside)
		}
	}
	for _, name := range []string{"PNG", "SVG"} {
		worst := 0.0
		for i, v := range coarse["PDF"] {
			worst = max(worst, math.Abs(v-coarse[name][i]))
		}
		t.Logf("%s: fields differ from the PDF's by %.3f at most", name, worst)
		// Poppler moves thin upright lines onto whole pixels: one row of a field.
		if worst > 1.2/field {
			t.Errorf("a field of the %s differs from the PDF's by %.2f of full black", name, worst)
		}
	}
}
