package draw

import (
	"bytes"
	"encoding/xml"
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"bygone.example/core/differ"
	"bygone.example/core/finding"
	yamlfile "bygone.example/core/format/yaml"
	"bygone.example/core/geom"
	"bygone.example/core/pairing"
	"bygone.example/core/pairing/example"
	"bygone.example/core/pattern"
	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write golden files anew")

func svgOf(t *testing.T, d Drawing) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := d.SVG(&b, "g"); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func compared(a, b *pattern.Pattern) Drawing { return Compared(a, b, differ.Compare(a, b, 0)) }

func explained(t *testing.T, code finding.Code) Drawing {
	t.Helper()
	e, ok := example.Of(code)
	if !ok {
		t.Fatalf("no example of %s", code)
	}
	for _, f := range pairing.CheckWith(e.Before, e.Options) {
		if f.Code == code {
			return Explained(e, f)
		}
	}
	t.Fatalf("%s is not found in its example", code)
	return Drawing{}
}

// Every example can be drawn, and says what it shows.
func TestEveryExampleIsDrawn(t *testing.T) {
	for _, code := range example.Codes() {
		d := explained(t, code)
		if len(d.items) < 10 || d.Text == "" || d.Width <= 0 || !(d.Height > 40 && d.Height < 400) {
			t.Errorf("%s: %d items, %v × %v mm, %q", code, len(d.items), d.Width, d.Height, d.Text)
		}
	}
}

// Laid against the other side of its seam, a sound shoulder's neckline runs on.
func TestClosed(t *testing.T) {
	p := example.Garment()
	at := p.Piece("front").Edge("shoulder").Path.End()
	other, m, ok := closed(p, finding.Place{Seam: "shoulder", Piece: "front", Edge: "neckline", At: &at})
	if !ok || other.Name != "back" {
		t.Fatalf("closed() = %v, %v", other, ok)
	}
	back := other.Edge("neckline").Path.Transform(m)
	if !back.End().Near(at, 1e-6) {
		t.Errorf("the back's neckline ends at %v, not at the front's %v", back.End(), at)
	}
	if turn := geom.Turn(back.EndDirection(), p.Piece("front").Edge("neckline").Path.StartDirection()); math.Abs(turn) > 1e-6 {
		t.Errorf("the neckline turns by %v across the closed shoulder", turn)
	}
}

// slightlyAltered is the frock with what only a glass shows: a shoulder 2 mm
// off, a notch 1.5 mm along, a piece laid elsewhere on its sheet.
func slightlyAltered() *pattern.Pattern {
	p := frock()
	f := p.Piece("bodice-front")
	f.Edges[3].Path[0].P1.Y -= 2
	f.Edges[4].Path[0].P0.Y -= 2
	f.Notches[0].At += 1.5
	*p.Piece("sleeve") = *moved(p.Piece("sleeve"), geom.Translation(geom.Pt(40, 7)))
	return p
}

func TestGoldenPictures(t *testing.T) {
	over, under := Overview(frock(), altered())
	for name, d := range map[string]Drawing{
		"pieces": Pieces(frock()), "step": Step(frock(), altered()), "sheet": Sheet(frock()),
		"overview-before": over, "overview-after": under, "stock-dress": Pieces(stock(t, "stock-dress")), "blouse": Pieces(stock(t, "untested-blouse")), "nothing": Step(frock(), frock()),
		"label": Piece(frock().Piece("bodice-front"), PieceOptions{Label: wholeLabel(t, "fr")}).Drawing, "label-small": Piece(frock().Piece("sleeve-band"), PieceOptions{Label: wholeLabel(t, "en")}).Drawing,
		"compared": compared(frock(), slightlyAltered()), "compared-much": compared(frock(), altered()), "compared-same": compared(frock(), frock()),
		"explained-closed": explained(t, pairing.CornerKink), "explained-folded": explained(t, pairing.DartLegs), "explained-words": explained(t, pairing.EdgeLoose),
	} {
		t.Run(name, func(t *testing.T) {
			got := svgOf(t, d)
			file := filepath.Join("testdata", "golden", name+".svg")
			if *update {
				if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
					t.Fatal(err)
				}
				if err := os.WriteFile(file, got, 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			want, err := os.ReadFile(file)
			if err != nil {
				t.Fatalf("%v (run with -update)", err)
			}
			if !bytes.Equal(got, want) {
				t.Errorf("%s differs from the golden picture; look at both, then run with -update", name)
			}
		})
	}
}

// stock reads one of the house patterns.
func stock(t testing.TB, name string) *pattern.Pattern {
	t.Helper()
	file := filepath.Join("..", "..", "testdata", "patterns", name+".yaml")
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	p, err := yamlfile.Read(name+".yaml", data)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Words never overlap one another, nor leave their piece; what is told below a
// piece stays clear of it.
func TestWordsKeepTheirPlace(t *testing.T) {
	patterns := []*pattern.Pattern{frock(), altered(), stock(t, "stock-dress"), stock(t, "untested-blouse")}
	for _, p := range patterns {
		for i := range p.Pieces {
			for _, n := range []float64{1, 3, 5, 8, 12, 25} {
				a := drawPiece(&p.Pieces[i], nil, detail{scale: 1 / n, unit: 1, cut: true, edges: true, title: true})
				for j, s := range a.room.words {
					for _, o := range a.room.words[:j] {
						if s.touches(o) {
							t.Errorf("%s %s at 1:%g: words %d overlap others", p.Name, p.Pieces[i].Name, n, j)
						}
					}
					out, in := 0, 0
					for _, c := range s.corners() {
						if geom.Contains(a.room.outline, c) {
							in++
						} else {
							out++
						}
					}
					if in > 0 && out > 0 {
						t.Errorf("%s %s at 1:%g: words %d leave the piece", p.Name, p.Pieces[i].Name, n, j)
					}
					for _, l := range a.room.lines {
						if s.crossed(l[0], l[1]) {
							t.Errorf("%s %s at 1:%g: words %d lie on a line", p.Name, p.Pieces[i].Name, n, j)
							break
						}
					}
				}
			}
		}
	}
}

// Pieces of a page do not overlap, nor leave it.
func TestPiecesKeepApart(t *testing.T) {
	for _, p := range []*pattern.Pattern{frock(), altered(), stock(t, "stock-dress")} {
		arts := drawAll(inOrder(p), detail{scale: 0.2, unit: 1, cut: true, title: true})
		cells := make([]cell, len(arts))
		for i, a := range arts {
			cells[i] = cell{w: a.bounds.Width(), h: a.bounds.Height(), class: classOf(a.piece)}
		}
		const width = 282
		height, _ := shelve(cells, width, 7)
		for i, a := range cells {
			if a.x < -1e-9 || a.y < -1e-9 || a.x+a.w > width+1e-9 || a.y+a.h > height+1e-9 {
				t.Errorf("%s: cell %d leaves the page: %+v in %g × %g", p.Name, i, a, float64(width), height)
			}
			for j, b := range cells[:i] {
				if a.x < b.x+b.w && b.x < a.x+a.w && a.y < b.y+b.h && b.y < a.y+a.h {
					t.Errorf("%s: cells %d and %d overlap", p.Name, i, j)
				}
			}
		}
	}
}

func TestChanged(t *testing.T) {
	got := Changed(frock(), altered())
	want := []string{"bodice-front", "sash", "sleeve-band"}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("Changed (-want +got):\n%s", d)
	}
	if got := Changed(frock(), frock()); len(got) != 0 {
		t.Errorf("Changed of a pattern and itself = %v", got)
	}
}

// Equal drawings give equal bytes, in every format and however goroutines run.
func TestSameBytes(t *testing.T) {
	for name, write := range map[string]func(Drawing, io.Writer) error{
		"svg": func(d Drawing, w io.Writer) error { return d.SVG(w, "g") },
		"pdf": Drawing.PDF,
		"png": func(d Drawing, w io.Writer) error { return d.PNG(w, 600) },
	} {
		t.Run(name, func(t *testing.T) {
			var a, b bytes.Buffer
			if err := write(Pieces(frock()), &a); err != nil {
				t.Fatal(err)
			}
			if name == "pdf" {
				time.Sleep(1100 * time.Millisecond) // the clock that must not show has seconds
			}
			if err := write(Pieces(frock()), &b); err != nil {
				t.Fatal(err)
			}
			if !bytes.Equal(a.Bytes(), b.Bytes()) {
				t.Error("two equal drawings differ")
			}
		})
	}
}

// The PDF's table of offsets is right after the dates were taken out.
func TestPDFOffsets(t *testing.T) {
	var b bytes.Buffer
	d := Sheet(frock())
	if err := d.PDF(&b); err != nil {
		t.Fatal(err)
	}
	file := b.Bytes()
	if bytes.Contains(file, []byte("CreationDate")) || bytes.Contains(file, []byte("ModDate")) {
		t.Error("a date is in the file")
	}
	m := regexp.MustCompile(`startxref\n(\d+)\n`).FindSubmatch(file)
	if m == nil {
		t.Fatal("no startxref")
	}
	at, _ := strconv.Atoi(string(m[1]))
	if !bytes.HasPrefix(file[at:], []byte("xref\n")) {
		t.Fatalf("startxref points at %q", file[at:at+10])
	}
	entries := regexp.MustCompile(`(\d{10}) 00000 n`).FindAllSubmatch(file[at:], -1)
	if len(entries) < 4 {
		t.Fatalf("%d objects listed", len(entries))
	}
	for i, e := range entries {
		off, _ := strconv.Atoi(string(e[1]))
		if want := fmt.Sprintf("%d 0 obj", i+1); !bytes.HasPrefix(file[off:], []byte(want)) {
			t.Errorf("object %d: offset %d points at %q", i+1, off, file[off:off+10])
		}
	}
	want := fmt.Sprintf("%.2f", d.Width*72/25.4)
	if !regexp.MustCompile(`MediaBox\s*\[\s*0 0 ` + regexp.QuoteMeta(want[:6])).Match(file) {
		t.Errorf("the page is not %s pt wide: %s", want, regexp.MustCompile(`MediaBox[^\]]*`).Find(file))
	}
}

func TestPNGRefusesSillySizes(t *testing.T) {
	for _, w := range []int{0, -5, 1 << 30} {
		if err := Pieces(frock()).PNG(io.Discard, w); err == nil {
			t.Errorf("PNG(%d) gave no error", w)
		}
	}
}

func TestCutInstruction(t *testing.T) {
	folded := pattern.Piece{Edges: []pattern.Edge{{Finish: pattern.Fold}}, Cut: pattern.Cut{Count: 1}}
	for _, tt := range []struct {
		piece pattern.Piece
		want  string
	}{
		{folded, "cut 1 on the fold"},
		{pattern.Piece{Cut: pattern.Cut{Count: 2, Mirrored: true}}, "cut 2, a mirrored pair"},
		{pattern.Piece{Cut: pattern.Cut{Count: 4, Mirrored: true}}, "cut 4, 2 mirrored pairs"},
		{pattern.Piece{Cut: pattern.Cut{Count: 2}}, "cut 2"},
		{pattern.Piece{}, "cut 1"},
	} {
		if got := CutInstruction(&tt.piece); got != tt.want {
			t.Errorf("CutInstruction = %q, want %q", got, tt.want)
		}
	}
}

// Every letter a European maker is likely to write is in the font.
func TestAccents(t *testing.T) {
	missing := regular.glyph('\uffff').id
	for _, r := range "äöüßéèêëçñøåœæłžšőűăΩЖ–—·’“”½×°" {
		if regular.glyph(r).id == missing || len(regular.glyph(r).ops) == 0 {
			t.Errorf("no letter %q in the font", r)
		}
	}
}

func BenchmarkAll(b *testing.B) {
	p, q := stock(b, "stock-dress"), altered()
	for b.Loop() {
		if err := Pieces(p).PNG(io.Discard, 2000); err != nil {
			b.Fatal(err)
		}
		for range 12 {
			if err := Step(frock(), q).SVG(io.Discard, "s"); err != nil {
				b.Fatal(err)
			}
		}
		if err := Sheet(p).PDF(io.Discard); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPieces(b *testing.B) {
	p := stock(b, "stock-dress")
	for b.Loop() {
		Pieces(p)
	}
}
func BenchmarkPNG(b *testing.B) {
	d := Pieces(stock(b, "stock-dress"))
	for b.Loop() {
		_ = d.PNG(io.Discard, 2000)
	}
}
func BenchmarkSheetPDF(b *testing.B) {
	d := Sheet(stock(b, "stock-dress"))
	for b.Loop() {
		_ = d.PDF(io.Discard)
	}
}
func BenchmarkStep(b *testing.B) {
	f, q := frock(), altered()
	for b.Loop() {
		Step(f, q)
	}
}

// Whatever a pattern holds, a picture comes of it.
func TestOddPatterns(t *testing.T) {
	square := func(size float64) pattern.Piece {
		pts := []geom.Point{geom.Pt(0, 0), geom.Pt(size, 0), geom.Pt(size, size), geom.Pt(0, size)}
		p := pattern.Piece{Name: "p"}
		for i, q := range pts {
			p.Edges = append(p.Edges, pattern.Edge{Name: string(rune('a' + i)), Path: geom.Path{geom.Line(q, pts[(i+1)%4])}, Allowance: 15})
		}
		return p
	}
	marked := square(300)
	marked.Darts = []pattern.Dart{{Edge: "nowhere", From: 1, To: 2}, {Edge: "a", From: -5, To: 900}}
	marked.Gathers = []pattern.Gather{{Edge: "nowhere"}, {Edge: "a", From: 50, To: 50}, {Edge: "b", From: 40, To: 10}, {Edge: "c", From: 10, To: 10.001}}
	marked.Pleats = []pattern.Pleat{{Edge: "nowhere"}, {Edge: "d", From: 3, To: 3}}
	marked.Notches = []pattern.Notch{{Edge: "nowhere", At: 3}, {Edge: "a", At: 1e9, Count: 3}}
	named := square(100)
	named.Title = strings.Repeat("a very long name ", 40)
	for name, p := range map[string]*pattern.Pattern{
		"nothing":  {},
		"no edges": {Pieces: []pattern.Piece{{Name: "p"}}},
		"speck":    {Pieces: []pattern.Piece{square(1e-6)}},
		"sail":     {Pieces: []pattern.Piece{square(1e5)}},
		"marks":    {Pieces: []pattern.Piece{marked}},
		"names":    {Title: strings.Repeat("title ", 100), Pieces: []pattern.Piece{named}},
	} {
		t.Run(name, func(t *testing.T) {
			before, after := Overview(p, frock())
			for _, d := range []Drawing{Pieces(p), Sheet(p), Step(p, frock()), Step(frock(), p), before, after} {
				if !(d.Width > 0 && d.Height > 0) || math.IsInf(d.Height, 0) {
					t.Fatalf("a page of %g × %g mm", d.Width, d.Height)
				}
				svg := svgOf(t, d)
				if err := xml.Unmarshal(svg, new(struct{ XMLName xml.Name })); err != nil {
					t.Errorf("the SVG does not parse: %v", err)
				}
				if i := bytes.Index(svg, []byte("NaN")); i >= 0 {
					t.Errorf("the SVG has a NaN: %s", svg[max(0, i-80):i+3])
				}
				if d.Width < 2000 {
					if err := d.PDF(io.Discard); err != nil {
						t.Error(err)
					}
					if err := d.PNG(io.Discard, 300); err != nil {
						t.Error(err)
					}
				}
			}
		})
	}
}

// On the sheet one mm of paper is one mm of cloth: the test square, the scale
// and the seam lines measure what they say.
func TestSheetIsTrueSize(t *testing.T) {
	p := stock(t, "stock-dress")
	d := Sheet(p)
	squares, scale := 0, false
	lengths := map[string]bool{}
	for _, it := range d.items {
		for _, path := range it.paths {
			b := path.Bounds()
			if len(path) == 4 && math.Abs(b.Width()-50) < 1e-9 && math.Abs(b.Height()-50) < 1e-9 {
				squares++
			}
			scale = scale || len(path) == 4 && math.Abs(b.Width()-100) < 1e-9 && b.Height() < 5
			lengths[fmt.Sprintf("%.6f", path.Length())] = true
		}
	}
	if squares != 1 || !scale {
		t.Errorf("%d test squares of 50 mm, want 1; a scale of 100 mm: %v", squares, scale)
	}
	for _, piece := range p.Pieces {
		for _, e := range piece.Edges {
			if l := fmt.Sprintf("%.6f", e.Path.Length()); !lengths[l] {
				t.Errorf("no line as long as %s/%s, %s mm", piece.Name, e.Name, l)
			}
		}
	}
}
