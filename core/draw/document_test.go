package draw

import (
	"bytes"
	"encoding/json"
	"fmt"
	"html"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"bygone.example/core/geom"
	"bygone.example/internal/testtool"
	"github.com/google/go-cmp/cmp"
	"golang.org/x/image/font/sfnt"
)

// tiled is a document of A4 pages that show parts of one sheet, as a maker
// prints it, and a page of another size before them.
func tiled(t testing.TB) (Document, *Drawing) {
	sheet := Sheet(stock(t, "stock-dress"))
	first := Drawing{Width: 215.9, Height: 279.4}
	first.Draw("", Pen(0.3), rectangle(20, 200, 50, 50))
	first.Write(LayerLabels, Text{Words: "Crème, œillet, Größe (38)", Face: Bold, Size: 6, At: geom.Pt(20, 180)})
	doc := Document{Title: "Stock dress", Text: "for a test", Hidden: []Layer{LayerCloth}, Listed: []Layer{LayerCut, LayerSeam}}
	cover := Page{Width: first.Width, Height: first.Height}
	cover.Add(&first, Placing{})
	doc.Pages = append(doc.Pages, cover)
	row := 'A'
	const wide, high, margin = 210.0, 297.0, 10.0
	for y := 0.0; y < sheet.Height; y += high - 2*margin {
		for x := 0.0; x < sheet.Width; x += wide - 2*margin {
			window := geom.BoxOf(geom.Pt(margin, margin), geom.Pt(wide-margin, high-margin))
			if !sheet.Inked(geom.BoxOf(geom.Pt(x, y), geom.Pt(x+wide-2*margin, y+high-2*margin))) {
				continue
			}
			p := Page{Name: fmt.Sprintf("%c%.0f", row, x/(wide-2*margin)+1), Width: wide, Height: high, Trim: window}
			p.AddWindow(&sheet, Placing{At: geom.Pt(margin-x, margin-y)}, window)
			doc.Pages = append(doc.Pages, p)
		}
		row++
	}
	return doc, &sheet
}

// written writes a document to a file.
func written(t testing.TB, d Document) string {
	t.Helper()
	var b bytes.Buffer
	if err := d.PDF(&b); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "document.pdf")
	if err := os.WriteFile(file, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	return file
}

// says runs a program and returns what it prints; one that fails or warns
// fails the test.
func says(t testing.TB, program, debian string, args ...string) string {
	t.Helper()
	var stderr bytes.Buffer
	cmd := exec.Command(testtool.Path(t, program, debian), args...)
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%s %s: %v\n%s%s", program, strings.Join(args, " "), err, out, stderr.Bytes())
	}
	return string(out)
}

// pageSizes reads the sizes of all pages as poppler's pdfinfo tells them, mm.
func pageSizes(t testing.TB, file string) [][2]float64 {
	t.Helper()
	var out [][2]float64
	for _, m := range regexp.MustCompile(`(?m)^Page +\d+ MediaBox: +0\.00 +0\.00 +([\d.]+) +([\d.]+)$`).FindAllStringSubmatch(says(t, "pdfinfo", "poppler-utils", "-box", "-l", "999", file), -1) {
		w, _ := strconv.ParseFloat(m[1], 64)
		h, _ := strconv.ParseFloat(m[2], 64)
		out = append(out, [2]float64{w / pointsPerMM, h / pointsPerMM})
	}
	return out
}

// Three programs that owe nothing to one another read the document back.
func TestDocumentReadBack(t *testing.T) {
	doc, _ := tiled(t)
	doc.Names = map[Layer]string{LayerMarks: "repères"}
	file := written(t, doc)

	if out := says(t, "qpdf", "qpdf", "--check", file); !strings.Contains(out, "No syntax or stream encoding errors found") {
		t.Errorf("qpdf --check: %s", out)
	}

	sizes := pageSizes(t, file)
	if len(sizes) != len(doc.Pages) {
		t.Fatalf("%d pages, want %d", len(sizes), len(doc.Pages))
	}
	for i, s := range sizes {
		const near = 0.01 // mm: the bar
		if p := doc.Pages[i]; math.Abs(s[0]-p.Width) > near || math.Abs(s[1]-p.Height) > near {
			t.Errorf("page %d is %.4f × %.4f mm, want %g × %g", i+1, s[0], s[1], p.Width, p.Height)
		}
	}

	fonts := strings.Split(strings.TrimSpace(says(t, "pdffonts", "poppler-utils", file)), "\n")[2:]
	if len(fonts) != 3 {
		t.Errorf("%d fonts, want the regular, bold and italic:\n%s", len(fonts), strings.Join(fonts, "\n"))
	}
	for _, f := range fonts {
		if !regexp.MustCompile(`^[A-Z]{6}\+Go(Regular|Bold|Italic) .* Identity-H +yes +yes +yes`).MatchString(f) {
			t.Errorf("not embedded by its name, or without its letters' meaning: %s", f)
		}
	}

	text := says(t, "pdftotext", "poppler-utils", "-l", "1", file, "-")
	if want := "Crème, œillet, Größe (38)"; !strings.Contains(text, want) {
		t.Errorf("page 1 reads %q, want %q in it", text, want)
	}

	shown := says(t, "mutool", "mupdf-tools", "show", file, "grep")
	var layers []string
	for _, m := range regexp.MustCompile(`/Name<FEFF([0-9A-F]+)>/Type/OCG|/Type/OCG/Name<FEFF([0-9A-F]+)>`).FindAllStringSubmatch(shown, -1) {
		layers = append(layers, utf16Hex(m[1]+m[2]))
	}
	want := []string{"cut line", "seam line", "labels", "cloth", "repères"}
	if d := cmp.Diff(want, layers); d != "" {
		t.Errorf("layers (-want +got):\n%s", d)
	}
}

// What a print dialogue is asked for, and what it calls the pages.
func TestPrintDialogue(t *testing.T) {
	doc, _ := tiled(t)
	file := written(t, doc)
	var read struct {
		PageLabels []struct {
			Index int
			Label map[string]any
		}
	}
	if err := json.Unmarshal([]byte(says(t, "qpdf", "qpdf", "--json=1", "--json-key=pagelabels", file)), &read); err != nil {
		t.Fatal(err)
	}
	if len(read.PageLabels) != len(doc.Pages) {
		t.Fatalf("%d pages have a name, want %d", len(read.PageLabels), len(doc.Pages))
	}
	for i, l := range read.PageLabels {
		want := doc.Pages[i].Name
		if i == 0 {
			want = "1"
		}
		if got := l.Label["/P"]; l.Index != i || got != want {
			t.Errorf("page %d is called %q, want %q", l.Index+1, got, want)
		}
	}
	root := says(t, "mutool", "mupdf-tools", "show", file, "trailer/Root/ViewerPreferences")
	for _, want := range []string{"/PrintScaling /None", "/Duplex /Simplex", "/PickTrayByPDFSize true"} {
		if !strings.Contains(root, want) {
			t.Errorf("the reader is not asked for %s: %s", want, root)
		}
	}
}

// The fonts that a PDF carries say whose they are and under which licence.
func TestFontsTellTheirLicence(t *testing.T) {
	doc, _ := tiled(t)
	file := written(t, doc)
	found := 0
	for _, m := range regexp.MustCompile(`(?m)^\S*?:?(\d+) 0 obj.*?/FontFile2 (\d+) 0 R`).FindAllStringSubmatch(says(t, "mutool", "mupdf-tools", "show", file, "grep"), -1) {
		f, err := sfnt.Parse([]byte(says(t, "mutool", "mupdf-tools", "show", "-b", file, m[2])))
		if err != nil {
			t.Fatalf("the font of object %s does not parse: %v", m[2], err)
		}
		found++
		licence, err := f.Name(nil, sfnt.NameIDLicense)
		if err != nil || !strings.Contains(licence, "Redistribution and use") {
			t.Errorf("the font of object %s tells its licence as %q, %v", m[2], licence, err)
		}
	}
	if found != 3 {
		t.Errorf("%d fonts found, want 3", found)
	}
}

func utf16Hex(s string) string {
	var b strings.Builder
	for i := 0; i+4 <= len(s); i += 4 {
		r, _ := strconv.ParseUint(s[i:i+4], 16, 16)
		b.WriteRune(rune(r))
	}
	return b.String()
}

// BenchmarkDocumentPDF writes a pattern onto A4 pages.
func BenchmarkDocumentPDF(b *testing.B) {
	doc, _ := tiled(b)
	for b.Loop() {
		var out bytes.Buffer
		if err := doc.PDF(&out); err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(len(doc.Pages)), "pages")
		b.ReportMetric(float64(out.Len())/1000, "kB")
	}
}

// The boxes of a page: all of it is seen, what lies within the margins is used.
func TestPageBoxes(t *testing.T) {
	doc, _ := tiled(t)
	out := says(t, "pdfinfo", "poppler-utils", "-box", "-f", "1", "-l", "2", written(t, doc))
	for _, want := range []string{
		`Page +1 MediaBox: +0\.00 +0\.00 +612\.00 +792\.00\n`, `Page +1 CropBox: +0\.00 +0\.00 +612\.00 +792\.00\n`, `Page +1 TrimBox: +0\.00 +0\.00 +612\.00 +792\.00\n`,
		`Page +2 MediaBox: +0\.00 +0\.00 +595\.28 +841\.89\n`, `Page +2 CropBox: +0\.00 +0\.00 +595\.28 +841\.89\n`, `Page +2 TrimBox: +28\.35 +28\.35 +566\.93 +813\.54\n`,
	} {
		if !regexp.MustCompile(want).MatchString(out) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
}

// Words in a PDF are as wide as they were measured, and are found again, for
// every letter of Latin that the font has, in each face; others are boxes.
func TestWordsAreText(t *testing.T) {
	var lines []string
	var line []rune
	for r := rune('!'); r < 0x250; r++ {
		if r >= 0x7f && r < 0xa1 || r == 0xad || !regular.has(r) { // controls, and hyphens that are not seen
			continue
		}
		if line = append(line, r); len(line) == 20 {
			lines, line = append(lines, string(line)), nil
		}
	}
	if len(lines) < 15 {
		t.Fatalf("the font has %d lines of Latin", len(lines))
	}
	for f := range faces {
		d := Drawing{Width: 210, Height: 400}
		for i, l := range lines {
			d.Write("", Text{Words: l, Face: Face(f), Size: 8, At: geom.Pt(10, 380-15*float64(i))})
		}
		out := says(t, "pdftotext", "poppler-utils", "-bbox", written(t, one(&d)), "-")
		words := regexp.MustCompile(`<word xMin="([\d.]+)" [^>]*xMax="([\d.]+)"[^>]*>(.*)</word>`).FindAllStringSubmatch(out, -1)
		if len(words) != len(lines) {
			t.Fatalf("%s: %d words read, want %d:\n%s", f.letter(), len(words), len(lines), out)
		}
		for i, m := range words {
			if got := html.UnescapeString(m[3]); got != lines[i] {
				t.Errorf("%s: read %q, want %q", f.letter(), got, lines[i])
			}
			from, _ := strconv.ParseFloat(m[1], 64)
			to, _ := strconv.ParseFloat(m[2], 64)
			if got, want := (to-from)/pointsPerMM, f.width(lines[i], 8); math.Abs(got-want) > 0.1 {
				t.Errorf("%s: %q is %.2f mm wide in the PDF, was measured %.2f", f.letter(), lines[i], got, want)
			}
		}
	}
}

// Letters that the font lacks, and any that could end a string of PDF, do no
// harm.
func TestOddWords(t *testing.T) {
	d := Drawing{Width: 210, Height: 100}
	for i, s := range []string{"日本 \U0001f9f5 \uffff", "(()", `\`, "a\rb\nc\x00d", "\xff\xfe", "Ċ਍", strings.Repeat("x", 5000)} {
		d.Write(Layer(s), Text{Words: s, Size: 4, At: geom.Pt(10, 10*float64(i)+10)})
	}
	doc := one(&d)
	doc.Title, doc.Text, doc.Language = "(\\)\r\U0001f9f5", ")) endobj", "en)/X"
	file := written(t, doc)
	says(t, "qpdf", "qpdf", "--check", file)
	if got := pageSizes(t, file); len(got) != 1 {
		t.Errorf("%d pages, want 1", len(got))
	}
	says(t, "mutool", "mupdf-tools", "draw", "-q", "-o", filepath.Join(t.TempDir(), "a.png"), file)
}

// Equal documents give equal bytes, whenever and however often they are written.
func TestDocumentSameBytes(t *testing.T) {
	var first [3]bytes.Buffer
	for n := range 4 {
		doc, _ := tiled(t)
		var b [3]bytes.Buffer
		for i, err := range []error{doc.PDF(&b[0]), doc.SVG(&b[1], 2, "p"), doc.PNG(&b[2], 2, 300)} {
			if err != nil {
				t.Fatal(err)
			}
			if n == 0 {
				first = b
			} else if !bytes.Equal(first[i].Bytes(), b[i].Bytes()) {
				t.Errorf("form %d differs the %d. time", i, n+1)
			}
		}
	}
}

func TestDocumentRefusals(t *testing.T) {
	d := &Drawing{Width: 10, Height: 10}
	ok := Page{Width: 10, Height: 10}
	for name, c := range map[string]struct {
		doc  Document
		want string
	}{
		"no pages":     {Document{}, "a document without pages"},
		"no size":      {Document{Pages: []Page{ok, {Width: 10}}}, "page 2: 10 × 0 mm is no size for a page"},
		"not a number": {Document{Pages: []Page{{Width: math.NaN(), Height: 10}}}, "page 1: NaN × 10 mm is no size for a page"},
		"no drawing":   {Document{Pages: []Page{{Width: 10, Height: 10, Put: []Put{{Drawing: d}, {}}}}}, "page 1: drawing 2 is missing"},
		"nowhere":      {Document{Pages: []Page{{Width: 10, Height: 10, Put: []Put{{Drawing: d, Placing: Placing{Scale: math.Inf(1)}}}}}}, "page 1: drawing 1 is placed nowhere"},
	} {
		var b bytes.Buffer
		err := c.doc.PDF(&b)
		if err == nil || err.Error() != "writing PDF: "+c.want {
			t.Errorf("%s: PDF gives %v, want %q", name, err, c.want)
		}
		if b.Len() > 0 {
			t.Errorf("%s: %d bytes were written all the same", name, b.Len())
		}
	}
	for _, n := range []int{-1, 0, 2} {
		doc := one(d)
		if err := doc.SVG(io.Discard, n, "p"); err == nil {
			t.Errorf("SVG of page %d of 1 gives no error", n)
		}
		if err := doc.PNG(io.Discard, n, 100); err == nil {
			t.Errorf("PNG of page %d of 1 gives no error", n)
		}
	}
}
