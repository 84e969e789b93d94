package draw

import (
	"bytes"
	"math"
	"testing"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
	"github.com/google/go-cmp/cmp"
)

// A drawing seen through windows side by side is the drawing, to the pixel; in
// PNG and, drawn by a stranger, in PDF.
func TestWindowsLeaveNoSeam(t *testing.T) {
	d := Pieces(frock())
	// Whole inches, so that the edges of the page are edges of pixels.
	d.Width, d.Height = math.Ceil(d.Width/25.4)*25.4, math.Ceil(d.Height/25.4)*25.4
	whole := one(&d)
	windows := Document{Title: "windows", Pages: []Page{{Width: d.Width, Height: d.Height}}}
	const across, up = 4, 3
	// At whole tenths of a mm, which are whole pixels of 254 to the inch.
	cut := func(size float64, i, n int) float64 {
		if i == n {
			return size
		}
		return math.Round(size*float64(i)/float64(n)*10) / 10
	}
	for i := range across {
		for j := range up {
			windows.Pages[0].AddWindow(&d, Placing{}, geom.BoxOf(
				geom.Pt(cut(d.Width, i, across), cut(d.Height, j, up)), geom.Pt(cut(d.Width, i+1, across), cut(d.Height, j+1, up))))
		}
	}
	var a, b bytes.Buffer
	for doc, w := range map[*Document]*bytes.Buffer{&whole: &a, &windows: &b} {
		if err := doc.PNG(w, 1, 1500); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("the PNG of the windows differs from that of the whole")
	}
	a.Reset()
	if err := d.PNG(&a, 1500); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("the PNG of the windows differs from that of the drawing")
	}
	// MuPDF sets thin lines on other pixels once they are clipped, so the other one.
	see := seenBy["poppler"]
	one, other := see(t, written(t, whole), 1, 254), see(t, written(t, windows), 1, 254)
	if len(one.Pix) != len(other.Pix) {
		t.Fatal("pages of two sizes")
	}
	border := make([]bool, one.Stride)
	for i := 1; i < across; i++ {
		x := int(math.Round(cut(d.Width, i, across) * 10))
		border[x-1], border[x] = true, true
	}
	rows := make([]bool, len(one.Pix)/one.Stride)
	for j := 1; j < up; j++ {
		y := len(rows) - int(math.Round(cut(d.Height, j, up)*10))
		rows[y-1], rows[y] = true, true
	}
	for i := range one.Pix {
		// A pixel that the border cuts is blended twice: a shade lighter, no gap.
		off, allowed := math.Abs(float64(one.Pix[i])-float64(other.Pix[i])), 0.0
		if border[i%one.Stride] || rows[i/one.Stride] {
			allowed = 64
		}
		if off > allowed {
			t.Fatalf("at %d, %d the whole is %d and the windows are %d", i%one.Stride, i/one.Stride, one.Pix[i], other.Pix[i])
		}
	}
}

// Ink is seen where it is, and not beside it.
func TestInked(t *testing.T) {
	at := func(x, y, w, h float64) geom.Box { return geom.BoxOf(geom.Pt(x, y), geom.Pt(x+w, y+h)) }
	var line, loop, fill, words Drawing
	line.Draw("", Pen(2), geom.Polyline(geom.Pt(0, 0), geom.Pt(100, 100)))
	loop.Draw("", Pen(2), circle(geom.Pt(50, 50), 40))
	fill.Draw("", Ink{Fill: Black}, circle(geom.Pt(50, 50), 40))
	words.Write("", Text{Words: "words", Size: 10, At: geom.Pt(50, 50), Align: 0.5})
	for _, c := range []struct {
		name string
		d    Drawing
		box  geom.Box
		want bool
	}{
		{"on the line", line, at(40, 40, 5, 5), true},
		{"by the line", line, at(40, 45.5, 1, 1), false},
		{"beyond its end", line, at(101.1, 95, 9, 9), false},
		{"at its end", line, at(100.5, 95, 9, 9), true},
		{"within the loop", loop, at(40, 40, 20, 20), false},
		{"on the loop", loop, at(85, 45, 20, 20), true},
		{"around the loop", loop, at(0, 0, 100, 100), true},
		{"within the fill", fill, at(40, 40, 20, 20), true},
		{"in the corner of the fill's box", fill, at(10, 10, 5, 5), false},
		{"on the words", words, at(45, 48, 3, 3), true},
		{"off the words", words, at(80, 48, 3, 3), false},
		{"nothing", Drawing{}, at(0, 0, 100, 100), false},
	} {
		if got := c.d.Inked(c.box); got != c.want {
			t.Errorf("%s: Inked = %v, want %v", c.name, got, c.want)
		}
	}
}

// Placed turned and scaled, a drawing's ink is where a map of it would be.
func TestPlacing(t *testing.T) {
	var d, on Drawing
	d.Draw(LayerSeam, Pen(2).Dashed(4, 2), geom.Polyline(geom.Pt(10, 20), geom.Pt(110, 20)))
	d.Write(LayerLabels, Text{Words: "up", Size: 10, At: geom.Pt(10, 20)})
	on.Place(d, Placing{At: geom.Pt(300, 400), Turn: math.Pi / 2, Scale: 0.2})
	want := geom.Polyline(geom.Pt(296, 402), geom.Pt(296, 422))
	if d := cmp.Diff(want, on.items[0].paths[0]); d != "" {
		t.Errorf("placed path (-want +got):\n%s", d)
	}
	if k := on.items[0].ink; math.Abs(k.width-0.4) > 1e-12 || math.Abs(k.dash[0]-0.8) > 1e-12 {
		t.Errorf("placed ink is %+v, want a fifth of it", k)
	}
	if w := on.items[1].word; !w.at.Near(geom.Pt(296, 402), 1e-9) || w.size != 2 || w.angle != math.Pi/2 {
		t.Errorf("placed word is %+v", *w)
	}
	if d := cmp.Diff([]Layer{LayerSeam, LayerLabels}, on.Layers()); d != "" {
		t.Errorf("layers (-want +got):\n%s", d)
	}
	if d := cmp.Diff([]Layer{LayerLabels}, on.Without(LayerSeam).Layers()); d != "" {
		t.Errorf("layers without the seam line (-want +got):\n%s", d)
	}
	if d := cmp.Diff([]Layer{"size 38"}, on.Relayered("size 38").Layers()); d != "" {
		t.Errorf("layers of a size (-want +got):\n%s", d)
	}
}

// A piece's art starts at the lower left corner of its paper, and its outline
// is where its cut line is drawn.
func TestPiece(t *testing.T) {
	for _, p := range []*pattern.Pattern{frock(), stock(t, "stock-dress"), stock(t, "untested-blouse")} {
		for i := range p.Pieces {
			for _, scale := range []float64{0, 0.2} {
				a := Piece(&p.Pieces[i], PieceOptions{Scale: scale})
				b := a.Bounds()
				if !b.Min.Near(geom.Pt(0, 0), 1e-9) || !b.Max.Near(geom.Pt(a.Width, a.Height), 1e-9) {
					t.Errorf("%s: ink within %v on paper of %g × %g", p.Pieces[i].Name, b, a.Width, a.Height)
				}
				k := scale
				if k == 0 {
					k = 1
				}
				o := geom.BoxOf(a.Outline...)
				want := cutBounds(&p.Pieces[i])
				if math.Abs(o.Width()-want.Width()*k) > 0.1 || math.Abs(o.Height()-want.Height()*k) > 0.1 {
					t.Errorf("%s: outline of %.2f × %.2f, want %.2f × %.2f", p.Pieces[i].Name, o.Width(), o.Height(), want.Width()*k, want.Height()*k)
				}
				if got := o.Min.Sub(a.Origin); !got.Near(want.Min.Mul(k), 0.1) {
					t.Errorf("%s: outline begins at %v, want %v", p.Pieces[i].Name, got, want.Min.Mul(k))
				}
			}
		}
	}
	if a := Piece(&pattern.Piece{Name: "nothing"}, PieceOptions{}); a.Width != 0 || len(a.Outline) > 0 {
		t.Errorf("a piece without outline gives %+v", a)
	}
}
