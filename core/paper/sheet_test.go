package paper

import (
	"bytes"
	"fmt"
	"image"
	imagedraw "image/draw"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"bygone.example/core/draw"
	yamlfile "bygone.example/core/format/yaml"
	"bygone.example/core/geom"
	"bygone.example/core/pattern"
	"bygone.example/internal/testtool"
)

func stock(t testing.TB, name string) *pattern.Pattern {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("../../testdata/patterns", name))
	if err != nil {
		t.Fatal(err)
	}
	p, err := yamlfile.Read(name, data)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func lay(t testing.TB, p *pattern.Pattern, size string, scale float64) *Sheet {
	t.Helper()
	s, err := ParseSize(size)
	if err != nil {
		t.Fatal(err)
	}
	sheet, err := Lay(p, Options{Grid: Grid{s, DefaultMargin, DefaultOverlap}, Scale: scale})
	if err != nil {
		t.Fatal(err)
	}
	return sheet
}

// Every piece is there, whole, at its size, on no other piece, on paper of every
// kind.
func TestLay(t *testing.T) {
	p := stock(t, "stock-dress.yaml")
	for _, size := range []string{"a4", "letter", "a3", "tabloid", "a0", "arch-e", "roll:91cm", "50cmx70cm"} {
		s := lay(t, p, size, 0)
		if len(s.Pieces) != len(p.Pieces) {
			t.Errorf("%s: %d pieces of %d", size, len(s.Pieces), len(p.Pieces))
		}
		sheet := geom.BoxOf(geom.Pt(0, 0), geom.Pt(s.Drawing.Width, s.Drawing.Height)).Grow(Bleed)
		for i, l := range s.Pieces {
			area := geom.Polyline(append(slices.Clone(l.Outline), l.Outline[0])...).Area()
			own := outlineOf(l.Piece)
			if want := geom.Polyline(append(slices.Clone(own), own[0])...).Area(); area < want*0.999 || area > want*1.001 {
				t.Errorf("%s: %s covers %.0f mm², want %.0f", size, l.Piece.Name, area, want)
			}
			b := geom.BoxOf(l.Outline...)
			if b.Min.X < sheet.Min.X || b.Min.Y < sheet.Min.Y || b.Max.X > sheet.Max.X || b.Max.Y > sheet.Max.Y {
				t.Errorf("%s: %s lies at %v, off the sheet", size, l.Piece.Name, b)
			}
			for _, other := range s.Pieces[:i] {
				if overlap(l.Outline, other.Outline) {
					t.Errorf("%s: %s lies on %s", size, l.Piece.Name, other.Piece.Name)
				}
			}
			if !s.Size.Tiled() && l.Quarter%2 != 0 && b.Height() < s.Size.Width-2*s.Margin {
				t.Errorf("%s: %s lies across the grain without need", size, l.Piece.Name)
			}
		}
	}
}

func TestSame(t *testing.T) {
	p := stock(t, "untested-blouse.yaml")
	var first, second bytes.Buffer
	for _, b := range []*bytes.Buffer{&first, &second} {
		if err := lay(t, p, "a4", 0).Document().PDF(b); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(first.Bytes(), second.Bytes()) {
		t.Error("two prints of one pattern differ")
	}
}

// perMM makes a pixel of a fifth of a mm: margins, windows and steps of a page
// are whole numbers of them, so that pages lie on the sheet pixel on pixel.
const perMM = 5

// The pages, put together by nothing but the marks that a maker sees on them,
// give back the large sheet pixel for pixel. Names and marks are read from the
// file by another program, as are the pixels.
func TestReassemble(t *testing.T) {
	raster, reader := testtool.Path(t, "pdftoppm", "poppler-utils"), testtool.Path(t, "pdftotext", "poppler-utils")
	s := lay(t, stock(t, "untested-blouse.yaml"), "a4", 0)
	dir := t.TempDir()
	write := func(name string, d draw.Document) string {
		var b bytes.Buffer
		if err := d.PDF(&b); err != nil {
			t.Fatal(err)
		}
		file := filepath.Join(dir, name)
		if err := os.WriteFile(file, b.Bytes(), 0o600); err != nil {
			t.Fatal(err)
		}
		return file
	}
	run := func(program string, args ...string) []byte {
		out, err := exec.Command(program, args...).Output()
		if err != nil {
			t.Fatalf("%s %v: %v", program, args, err)
		}
		return out
	}
	picture := func(file string, page int) *image.Gray {
		out := run(raster, "-r", fmt.Sprint(perMM*25.4), "-gray", "-png", "-f", fmt.Sprint(page), "-l", fmt.Sprint(page), file)
		im, err := png.Decode(bytes.NewReader(out))
		if err != nil {
			t.Fatal(err)
		}
		grey := image.NewGray(im.Bounds())
		imagedraw.Draw(grey, grey.Rect, im, image.Point{}, imagedraw.Src)
		return grey
	}
	whole := draw.Page{Width: s.Drawing.Width, Height: s.Drawing.Height}
	whole.Add(&s.Drawing, draw.Placing{})
	large := picture(write("large.pdf", draw.Document{Pages: []draw.Page{whole}}), 1)

	doc := s.Document()
	doc.Pages = doc.Pages[len(doc.Pages)-len(s.Pages):]
	marked := write("marked.pdf", doc)
	doc.Hidden = []draw.Layer{layerJoin, layerSheet}
	bare := write("bare.pdf", doc)

	// Where the pages lie, by their marks.
	pages := map[string]seen{}
	for i := range doc.Pages {
		p := look(t, string(run(reader, "-bbox", "-f", fmt.Sprint(i+1), "-l", fmt.Sprint(i+1), marked, "-")), s.Size)
		p.number = i + 1
		pages[p.name] = p
	}
	x, y := s.pitch()
	at := map[string][2]int{"A1": {0, 0}}
	for queue := []string{"A1"}; len(queue) > 0; queue = queue[1:] {
		here := at[queue[0]]
		for _, n := range []struct {
			name, back string
			dx, dy     int
		}{
			{pages[queue[0]].right, pages[pages[queue[0]].right].left, 1, 0}, {pages[queue[0]].left, pages[pages[queue[0]].left].right, -1, 0},
			{pages[queue[0]].below, pages[pages[queue[0]].below].above, 0, 1}, {pages[queue[0]].above, pages[pages[queue[0]].above].below, 0, -1},
		} {
			if n.name == "" {
				continue
			}
			if n.back != queue[0] {
				t.Errorf("page %s wants %s beside it, which wants %s", queue[0], n.name, n.back)
			}
			if _, done := at[n.name]; !done {
				at[n.name] = [2]int{here[0] + n.dx, here[1] + n.dy}
				queue = append(queue, n.name)
			}
		}
	}
	if len(at) != len(s.Pages) {
		t.Fatalf("the marks join %d pages of %d: %v", len(at), len(s.Pages), at)
	}

	luma := func(im *image.Gray, x, y int) int { return int(im.Pix[y*im.Stride+x]) }
	covered := image.NewGray(large.Bounds())
	for name, place := range at {
		im := picture(bare, pages[name].number)
		left, top := int(float64(place[0])*x*perMM), int(float64(place[1])*y*perMM)
		wide, high := int((s.Size.Width-2*s.Margin)*perMM), int((s.Size.Height-2*s.Margin)*perMM)
		off := 0
		for py := range high {
			for px := range wide {
				got := luma(im, px+DefaultMargin*perMM, py+DefaultMargin*perMM)
				if d := got - luma(large, left+px, top+py); d > shade || d < -shade {
					off++
				}
				covered.Pix[covered.PixOffset(left+px, top+py)] = 1
			}
		}
		if off > 0 {
			t.Errorf("page %s differs from the large sheet in %d pixels", name, off)
		}
	}
	lost := 0
	for py := range large.Bounds().Dy() {
		for px := range large.Bounds().Dx() {
			if covered.Pix[covered.PixOffset(px, py)] == 0 && luma(large, px, py) < 250 {
				lost++
			}
		}
	}
	if lost > 0 {
		t.Errorf("%d pixels of the large sheet are on no page", lost)
	}
}

// shade is how much lighter or darker, of 255, a pixel on the edge of a line may
// be: coordinates are written to a thousandth of a mm, once from the sheet's
// corner and once from the page's, and the reader takes 4 × 4 samples of a pixel,
// of which a row may fall to the other side of a line.
const shade = 80

// seen is what a maker reads on a page.
type seen struct {
	number                          int
	name, left, right, above, below string
}

var pageWord = regexp.MustCompile(`<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">([A-Z]+\d+)</word>`)

// look finds the page's own name below the window and its neighbours' names
// beside the middles of its edges.
func look(t *testing.T, text string, size Size) (p seen) {
	t.Helper()
	for _, m := range pageWord.FindAllStringSubmatch(text, -1) {
		var v [4]float64
		for i := range v {
			v[i], _ = strconv.ParseFloat(m[i+1], 64)
			v[i] *= inch / 72
		}
		x, y, word := (v[0]+v[2])/2, (v[1]+v[3])/2, m[5]
		if v[3]-v[1] > 20 {
			continue // the large name under everything
		}
		switch {
		case y > size.Height-DefaultMargin:
			p.name = word
		case x < DefaultMargin+15 && y > size.Height*0.4 && y < size.Height*0.6:
			p.left = word
		case x > size.Width-DefaultMargin-35 && y > size.Height*0.4 && y < size.Height*0.6:
			p.right = word
		case y < DefaultMargin+15 && x > size.Width*0.4 && x < size.Width*0.6:
			p.above = word
		case y > size.Height-DefaultMargin-30 && x > size.Width*0.4 && x < size.Width*0.6:
			p.below = word
		}
	}
	if p.name == "" {
		t.Errorf("a page without a name: %s", strings.TrimSpace(text))
	}
	return p
}
