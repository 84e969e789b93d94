package pairing_test

import (
	"math"
	"slices"
	"testing"

	"bygone.example/core/finding"
	"bygone.example/core/geom"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
	"pgregory.net/rapid"
)

// However the seams are listed, what a seam needs comes before it, and every seam
// comes once.
func TestOrderLaw(t *testing.T) {
	before := [][2]string{
		{"shoulder", "armhole"}, {"side", "waist"}, {"skirt-side", "waist"}, {"shoulder", "facing-neckline"}, {"facing-shoulder", "facing-neckline"},
		{"lining-side", "side"}, {"lining-armscye", "armhole"}, {"lining-shoulder", "shoulder"},
	}
	rapid.Check(t, func(t *rapid.T) {
		p := facedAndLined()
		p.Seams = rapid.Permutation(p.Seams).Draw(t, "seams")
		var names []string
		for _, s := range pairing.Order(p) {
			if s.Stuck {
				t.Errorf("%s is stuck", s.Seam)
			}
			if s.Seam != "" {
				names = append(names, s.Seam)
			}
		}
		for _, pair := range before {
			if slices.Index(names, pair[0]) > slices.Index(names, pair[1]) {
				t.Errorf("%s comes after %s: %v", pair[0], pair[1], names)
			}
		}
		slices.Sort(names)
		if len(names) != len(p.Seams) || len(slices.Compact(names)) != len(p.Seams) {
			t.Errorf("%d seams are sewn in %d steps", len(p.Seams), len(names))
		}
	})
}

// How a piece lies on the paper does not change how much cloth it takes, nor
// whether a facing fits.
func TestLyingLaw(t *testing.T) {
	wide := func(p *pattern.Pattern) float64 {
		for _, f := range pairing.CheckWith(p, pairing.Options{Cloth: pairing.Cloth{Width: 100}}) {
			if f.Code == pairing.ClothWidth && f.Place.Piece == "facing-front" {
				return f.Figures.A
			}
		}
		return 0
	}
	want := wide(facedAndLined())
	if want == 0 {
		t.Fatal("the facing fits into 100 mm of cloth")
	}
	rapid.Check(t, func(t *rapid.T) {
		p := facedAndLined()
		x, y := rapid.Float64Range(-500, 500).Draw(t, "x"), rapid.Float64Range(-500, 500).Draw(t, "y")
		m := geom.Translation(pt(x, y)).After(geom.Rotation(pt(0, 0), rapid.Float64Range(-4, 4).Draw(t, "turn")))
		move(p.Piece("facing-front"), m)
		if got := wide(p); math.Abs(got-want) > 0.05 { // chords of half a grain tolerance
			t.Errorf("turned about, the facing takes %.3f mm of cloth, before %.3f", got, want)
		}
		for _, f := range pairing.Check(p) {
			t.Errorf("found %s", show(f))
		}
	})
}

// A facing that is bent out of line by more than the tolerance is found where it
// is bent, one bent by half as much is not.
func TestShapeLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := facedAndLined()
		bend := rapid.Float64Range(3, 8).Draw(t, "bend")
		share := rapid.Float64Range(0.3, 0.7).Draw(t, "share")
		little := rapid.Bool().Draw(t, "little")
		tolerances := pairing.DefaultTolerances()
		if little {
			tolerances.Shape = 2 * bend
		}
		e := edgeOf(p, "facing-front", "neckline")
		l := e.Path.Length()
		at := e.Path.At(share * l).Add(e.Path.Direction(share * l).Left().Mul(bend))
		before, after := e.Path.Between(0, share*l-10), e.Path.Between(share*l+10, l)
		e.Path = before.Join(geom.Polyline(before.End(), at, after.Start())).Join(after)
		found := pairing.CheckWith(p, pairing.Options{Tolerances: &tolerances})
		i := slices.IndexFunc(found, func(f finding.Finding) bool { return f.Code == pairing.FacingShape })
		switch {
		case little && i >= 0:
			t.Errorf("found %s", show(found[i]))
		case !little && i < 0:
			t.Errorf("a facing out by %.1f mm is not found", bend)
		case !little && !found[i].Place.At.Near(at, 0.5):
			t.Errorf("bent at %v, found at %v", at, *found[i].Place.At)
		}
	})
}
