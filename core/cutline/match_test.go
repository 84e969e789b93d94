package cutline

import (
	"math"
	"testing"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
	"pgregory.net/rapid"
)

// panel draws a piece with a seam of 200 mm, from the origin upwards, and an
// armscye that leaves its upper end so that the angle inside is as given.
func panel(name string, inside, seam, over float64, corner pattern.Corner) pattern.Piece {
	top := geom.Pt(0, 200)
	far := top.Add(geom.Polar(150, math.Pi/2+math.Pi-inside))
	far.X = -math.Abs(far.X)
	return pattern.Piece{Name: name, Cut: pattern.Cut{Count: 1}, Edges: []pattern.Edge{
		{Name: "seam", Path: geom.Polyline(geom.Pt(0, 0), top), Allowance: seam, Corner: corner},
		{Name: pattern.Armscye, Path: geom.Polyline(top, far), Allowance: over},
		{Name: "edge", Path: geom.Polyline(far, geom.Pt(far.X, -20)), Allowance: 10},
		{Name: "foot", Path: geom.Polyline(geom.Pt(far.X, -20), geom.Pt(0, 0)), Allowance: 10},
	}}
}

// TestMatchedCornersAreLevel lays both sides of a seam edge to edge: their
// allowances end at one level, whatever the angles and widths of what goes on from
// there, and though only one side asks for it. With corners that merely meet they
// do not.
func TestMatchedCornersAreLevel(t *testing.T) {
	worst, unlike := 0.0, 0
	rapid.Check(t, func(t *rapid.T) {
		angle := func(name string) float64 { return rapid.Float64Range(50, 150).Draw(t, name) * math.Pi / 180 }
		widths := []float64{6, 10, 15, 25}
		seam := rapid.SampledFrom(widths).Draw(t, "seam")
		a1, a2 := angle("a"), angle("b")
		if rapid.Bool().Draw(t, "runs on") {
			a2 = math.Pi - a1
		}
		p := pattern.Pattern{Pieces: []pattern.Piece{
			panel("a", a1, seam, rapid.SampledFrom(widths).Draw(t, "over a"), pattern.Matched),
			panel("b", a2, seam, rapid.SampledFrom(widths).Draw(t, "over b"), rapid.SampledFrom([]pattern.Corner{pattern.Meet, pattern.Matched}).Draw(t, "corner b")),
		}}
		p.Seams = []pattern.Seam{{Name: "s", A: pattern.Run{{Piece: "a", Edge: "seam"}}, B: pattern.Run{{Piece: "b", Edge: "seam"}}}}
		lines := OfPattern(&p)
		for _, x := range []float64{0.1, 0.5, 0.9} {
			a, b := levelAt(lines[0], x*seam), levelAt(lines[1], x*seam)
			worst = max(worst, math.Abs(a-b))
			if math.Abs(a-b) > 0.05 {
				t.Fatalf("at %g of the allowance one side ends at %.3f, the other at %.3f", x, a, b)
			}
		}
		for i := range p.Pieces {
			p.Pieces[i].Edges[0].Corner = pattern.Meet
		}
		if lines = OfPattern(&p); math.Abs(levelAt(lines[0], 0.9*seam)-levelAt(lines[1], 0.9*seam)) > 0.05 {
			unlike++
		}
	})
	if unlike == 0 {
		t.Error("corners that meet were level everywhere: this test cannot fail")
	}
	t.Logf("worst %.6f mm", worst)
}

// levelAt returns the highest point of the cut line x mm out from the seam.
func levelAt(line Line, x float64) float64 {
	top := math.Inf(-1)
	for _, d := range line.Path.CutLine(geom.Pt(x, 0), geom.Pt(0, 1)) {
		top = max(top, line.Path.At(d).Y)
	}
	return top
}
