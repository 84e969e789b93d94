package paper

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"

	"bygone.example/core/draw"
	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// grown is a pattern k times as large, its pieces' corners where they were: no
// grading, but pieces that lie in each other.
func grown(p *pattern.Pattern, k float64) *pattern.Pattern {
	q := p.Clone()
	m := geom.Affine{A: k, E: k}
	for i := range q.Pieces {
		piece := &q.Pieces[i]
		for j := range piece.Edges {
			piece.Edges[j].Path = piece.Edges[j].Path.Transform(m)
		}
		piece.Grain = pattern.Grain{From: piece.Grain.From.Mul(k), To: piece.Grain.To.Mul(k)}
		for j := range piece.Landmarks {
			piece.Landmarks[j].At = piece.Landmarks[j].At.Mul(k)
		}
		for j := range piece.Darts {
			d := &piece.Darts[j]
			d.Point, d.From, d.To = d.Point.Mul(k), d.From*k, d.To*k
		}
		for j := range piece.Notches {
			piece.Notches[j].At *= k
		}
		for j := range piece.Gathers {
			g := &piece.Gathers[j]
			g.From, g.To, g.Length = g.From*k, g.To*k, g.Length*k
		}
		for j := range piece.Pleats {
			piece.Pleats[j].From *= k
			piece.Pleats[j].To *= k
		}
	}
	return q
}

func nestedOptions(p *pattern.Pattern, n int) Options {
	o := Options{Grid: Grid{Size{"a4", 210, 297}, DefaultMargin, DefaultOverlap}}
	for i := range n {
		o.Sizes = append(o.Sizes, Nested{fmt.Sprint(92 + 4*i), grown(p, 1+0.03*float64(i))})
	}
	return o
}

// Every size has a layer of its own; what is seen with the others switched off is
// its own lines and no more; pieces keep clear of each other in the largest size.
func TestNested(t *testing.T) {
	p := stock(t, "stock-dress.yaml")
	o := nestedOptions(p, 3)
	s, err := Lay(o.Sizes[0].Pattern, o)
	if err != nil {
		t.Fatal(err)
	}
	layers := s.Document().Layers()
	for _, size := range o.Sizes {
		if !slices.Contains(layers, layerOf(size.Name)) {
			t.Errorf("size %s has no layer among %q", size.Name, layers)
		}
	}
	if slices.Contains(layers, draw.LayerCut) || slices.Contains(layers, draw.LayerSeam) {
		t.Errorf("lines of no size are left on %q", layers)
	}
	for i, l := range s.Pieces {
		// What a size alone draws spans what the piece itself measures.
		for k, size := range o.Sizes {
			var others []draw.Layer
			for j, other := range o.Sizes {
				if j != k {
					others = append(others, layerOf(other.Name))
				}
			}
			only := l.inked.Without(append(others, draw.LayerLabels)...)
			got := only.Bounds()
			outline := outlineOf(turned(size.Pattern.Piece(l.Piece.Name), l.Quarter))
			want := geom.BoxOf(outline...)
			if d := got.Width() - want.Width(); d < 0 || d > 2*besideTolerance {
				t.Errorf("size %s of %s is drawn %.1f mm wide, and measures %.1f", size.Name, l.Piece.Name, got.Width(), want.Width())
			}
			if d := got.Height() - want.Height(); d < 0 || d > 2*besideTolerance {
				t.Errorf("size %s of %s is drawn %.1f mm high, and measures %.1f", size.Name, l.Piece.Name, got.Height(), want.Height())
			}
		}
		for _, other := range s.Pieces[:i] {
			if overlap(largest(l, o), largest(other, o)) {
				t.Errorf("%s lies on %s in the largest size", l.Piece.Name, other.Piece.Name)
			}
		}
	}
	var b bytes.Buffer
	if err := s.Document().PDF(&b); err != nil {
		t.Fatal(err)
	}
}

// largest is the outline of a piece in the last size, on the sheet.
func largest(l Laid, o Options) []geom.Point {
	at := l.at.Add(l.art.Origin)
	var out []geom.Point
	for _, q := range outlineOf(turned(o.Sizes[len(o.Sizes)-1].Pattern.Piece(l.Piece.Name), l.Quarter)) {
		out = append(out, q.Add(at))
	}
	return out
}

func TestNestedRefusals(t *testing.T) {
	p := stock(t, "stock-dress.yaml")
	twice := nestedOptions(p, 2)
	twice.Sizes[1].Name = twice.Sizes[0].Name
	strange := nestedOptions(p, 2)
	strange.Sizes[1].Pattern.Pieces[0].Name = "sail"
	for _, test := range []struct {
		o    Options
		want string
	}{
		{nestedOptions(p, len(styles)+1), "cannot be told apart"},
		{twice, "two sizes are called"},
		{strange, `has a piece "sail"`},
	} {
		if _, err := Lay(p, test.o); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%v, want %q", err, test.want)
		}
	}
}
