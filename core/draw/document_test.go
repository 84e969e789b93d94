package draw

import (
	"bytes"
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
	const wide, high, margin = 210.0, 297.0, 10.0
	for y := 0.0; y < sheet.Height; y += high - 2*margin {
		for x := 0.0; x < sheet.Width; x += wide - 2*margin {
			window := geom.BoxOf(geom.Pt(margin, margin), geom.Pt(wide-margin, high-margin))
			if !sheet.Inked(geom.BoxOf(geom.Pt(x, y), geom.Pt(x+wide-2*margin, y+high-2*margin))) {
				continue
			}
			p := Page{Width: wide, Height: high, Trim: window}
			p.AddWindow(&sheet, Placing{At: geom.Pt(margin-x, margin-y)}, window)
			doc.Pages = append(doc.Pages, p)
		}
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
		if !regexp.MustCompile(`Identity-H +yes \S+ +yes`).MatchString(f) {
			t.Errorf("not embedded, or without its letters' meaning: %s", f)
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
	want := []string{"cut line", "seam line", "labels", "cloth", "marks"}
	if d := cmp.Diff(want, layers); d != "" {
		t.Errorf("layers (-want +got):\n%s", d)
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
