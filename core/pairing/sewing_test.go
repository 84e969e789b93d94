package pairing_test

import (
	"math"
	"slices"
	"testing"

	"bygone.example/core/finding"
	"bygone.example/core/geom"
	"bygone.example/core/pairing"
	"bygone.example/core/pairing/example"
	"bygone.example/core/pattern"
)

// dipCrosses is where the cut line w mm off a dip meets its own mirror image,
// walking down the dip's first half.
func dipCrosses(k, w float64) geom.Point {
	p := garment()
	dip(p, k)
	down := edgeOf(p, "back", "centre-back").Path[1]
	for i := range 100000 {
		t := float64(i) / 100000
		if q := down.At(t).Add(down.Direction(t).Right().Mul(w)); q.Y >= 200 {
			return q
		}
	}
	return geom.Point{}
}

// planted is a fault in a garment with allowances, and the options it takes to
// be seen.
type planted struct {
	name    string
	plant   func(*pattern.Pattern)
	options pairing.Options
	want    []want
}

func (c planted) run(t *testing.T, p *pattern.Pattern) {
	t.Helper()
	c.plant(p)
	mustBeValid(t, p)
	got := pairing.CheckWith(p, c.options)
	for _, w := range c.want {
		i := slices.IndexFunc(got, func(f finding.Finding) bool { return matches(f, w) })
		if i < 0 {
			t.Errorf("CheckWith() lacks %+v", w)
			continue
		}
		if e, ok := pairing.Explain(got[i].Code); !ok || e.Title == "" || e.Why == "" || got[i].Remedy != e.Remedy || e.Remedy == "" {
			t.Errorf("Explain(%s) = %+v", got[i].Code, e)
		}
		got = slices.Delete(got, i, i+1)
	}
	for _, f := range got {
		t.Errorf("CheckWith() also found %s", show(f))
	}
}

// middle is the middle of an edge of the sound garment.
func middle(piece, edge string) geom.Point {
	path := edgeOf(garment(), piece, edge).Path
	return path.At(path.Length() / 2)
}

// dip draws a dip into the back's opening, 25 mm deep. At its bottom it bends with
// a radius of 0.06 k², as a cubic whose last handle of k mm lies along a line that
// its first is 25 mm away from.
func dip(p *pattern.Pattern, k float64) {
	edgeOf(p, "back", "centre-back").Path = geom.Path{
		geom.Line(pt(0, 0), pt(0, 150)),
		geom.Cubic(pt(0, 150), pt(0, 175), pt(-25, 200-k), pt(-25, 200)),
		geom.Cubic(pt(-25, 200), pt(-25, 200+k), pt(0, 225), pt(0, 250)),
		geom.Line(pt(0, 250), pt(0, 390)),
	}
}

func TestSewingFaults(t *testing.T) {
	type pat = pattern.Pattern
	cloth := func(width, weight float64) pairing.Options {
		return pairing.Options{Cloth: pairing.Cloth{Width: width, Weight: weight}}
	}
	none := pairing.Options{}
	for _, c := range []planted{
		{"sound", func(*pat) {}, none, nil},
		{"narrow on one side", func(p *pat) { edgeOf(p, "back", "side").Allowance = 10 }, none,
			[]want{{pairing.AllowanceMismatch, "side", "back", "side", pt(-220, 100), 5}}},
		{"none on one side", func(p *pat) { edgeOf(p, "front", "shoulder").Allowance = 0 }, none,
			[]want{{pairing.AllowanceMismatch, "shoulder", "front", "shoulder", pt(125, 380), -15}}},
		{"narrow along part of a run", func(p *pat) { edgeOf(p, "back", "armscye").Allowance = 14 }, none,
			[]want{{pairing.AllowanceMismatch, "armhole", "back", "armscye", middle("back", "armscye"), -1}}},
		{"less than a pencil line narrower", func(p *pat) { edgeOf(p, "back", "side").Allowance = 14.6 }, none, nil},
		{"a piece drawn to its seam lines", func(p *pat) {
			for i := range p.Piece("back").Edges {
				p.Piece("back").Edges[i].Allowance = 0
			}
		}, none, nil},
		{"a hem deeper than its curve allows", func(p *pat) {
			edgeOf(p, "gore-front", "hem").Allowance = 250
			edgeOf(p, "gore-back", "hem").Allowance = 250
		}, none, []want{
			{pairing.HemTurn, "", "gore-front", "hem", middle("gore-front", "hem"), 500 * math.Atan(100.0/885)},
			{pairing.HemTurn, "", "gore-back", "hem", middle("gore-back", "hem"), 500 * math.Atan(100.0/885)},
		}},
		{"a deep hem on the same curve", func(p *pat) {
			edgeOf(p, "gore-front", "hem").Allowance = 200
			edgeOf(p, "gore-back", "hem").Allowance = 200
		}, none, nil},
		{"a hem that sticks out at the side", func(p *pat) {
			p.Piece("sleeve").Edges[0].Path = line(pt(20, 0), pt(280, 0)) // both sides slope in to the wrist
			edgeOf(p, "sleeve", "underarm.front").Path = line(pt(280, 0), pt(300, 400))
			edgeOf(p, "sleeve", "underarm.back").Path = line(pt(0, 400), pt(20, 0))
			edgeOf(p, "sleeve", "hem").Allowance = 80
		}, none, []want{
			{pairing.HemTurn, "", "sleeve", "hem", pt(20, 0), -8},
			{pairing.HemTurn, "", "sleeve", "hem", pt(280, 0), -8},
		}},
		{"the same with a hem that fits", func(p *pat) {
			p.Piece("sleeve").Edges[0].Path = line(pt(20, 0), pt(280, 0))
			edgeOf(p, "sleeve", "underarm.front").Path = line(pt(280, 0), pt(300, 400))
			edgeOf(p, "sleeve", "underarm.back").Path = line(pt(0, 400), pt(20, 0))
			edgeOf(p, "sleeve", "hem").Allowance = 50
		}, none, nil},
		{"a curve tighter than its allowance", func(p *pat) { dip(p, 7) }, none, []want{{pairing.AllowanceCrossing, "", "back", "centre-back", dipCrosses(7, 15), 0}}},
		{"a curve as wide as its allowance", func(p *pat) { dip(p, 16) }, none, nil},
		{"one sleeve for two armscyes", func(p *pat) { p.Piece("sleeve").Cut = pattern.Cut{Count: 1} }, none,
			[]want{{pairing.CutCount, "armhole", "sleeve", "cap", middle("sleeve", "cap"), -1}}},
		{"four sleeves", func(p *pat) { p.Piece("sleeve").Cut.Count = 4 }, none,
			[]want{{pairing.CutCount, "armhole", "sleeve", "cap", middle("sleeve", "cap"), 2}}},
		{"two sleeves for the same arm", func(p *pat) {
			p.Piece("sleeve").Cut.Mirrored = false
			edgeOf(p, "sleeve", "hem").Path = line(pt(0, 0), pt(280, 0))
			edgeOf(p, "sleeve", "underarm.front").Path = line(pt(280, 0), pt(300, 400))
		}, none, []want{
			{pairing.CutCount, "armhole", "sleeve", "cap", middle("sleeve", "cap"), 0},
			{pairing.SeamLength, "underarm", "sleeve", "underarm.front", pt(300, 400), 0.5}, // the elbow's notch is as far from the hem as it was
		}},
		{"two sleeves that are their own mirror image", func(p *pat) { p.Piece("sleeve").Cut.Mirrored = false }, none, nil},
		{"side seam through a waist that needs it", func(p *pat) {
			p.Seams = slices.DeleteFunc(p.Seams, func(s pattern.Seam) bool { return s.Name == "skirt-side" })
			s := p.Seam("side")
			s.A = append(pattern.Run{{Piece: "gore-front", Edge: "side", Backwards: false}}, s.A...)
			s.B = append(pattern.Run{{Piece: "gore-back", Edge: "side", Backwards: true}}, s.B...)
		}, none, []want{
			{pairing.SewingOrder, "side", "gore-front", "side", pt(300, -5), 0},
		}},
		{"cloth wide enough", func(*pat) {}, cloth(900, 0), nil},
		{"gores wider than the cloth", func(*pat) {}, cloth(800, 0), []want{
			{pairing.ClothWidth, "", "gore-front", "", pt(0, 0), 0},
			{pairing.ClothWidth, "", "gore-back", "", pt(0, 0), 0},
		}},
		{"thin cloth", func(*pat) {}, cloth(0, 100), nil},
		{"gathered in heavy cloth", func(p *pat) {
			for _, name := range []string{"gore-front", "gore-back"} {
				p.Piece(name).Gathers[0].Length /= 2
			}
			for _, name := range []string{"front", "back"} {
				g := p.Piece(name)
				length := g.SewnLength("waist")
				g.Darts = nil
				full := edgeLength(p, name, "waist")
				g.Gathers = []pattern.Gather{{Name: "waist", Edge: "waist", To: full, Length: length / 2, Kind: pattern.Gathers}}
			}
			p.Seam("waist").Meeting.Ratio.Max = 4
		}, cloth(0, 400), []want{
			{pairing.FullnessCloth, "", "gore-front", "waist", pt(0, 0), 2*edgeLength(garment(), "gore-front", "waist")/200 - 2},
			{pairing.FullnessCloth, "", "gore-back", "waist", pt(0, 0), 2*edgeLength(garment(), "gore-back", "waist")/220 - 2},
			{pairing.FullnessCloth, "", "front", "waist", pt(110, 0), 0.2},
			{pairing.OpeningMissing, "", "gore-front", "waist", middle("gore-front", "waist"), 420 - pairing.LeastBust},
		}},
	} {
		t.Run(c.name, func(t *testing.T) { c.run(t, example.Allowed()) })
	}
}

// The order takes what a seam needs before the seam, and all there is to sew once.
func TestOrder(t *testing.T) {
	p := garment()
	var got []string
	for _, s := range pairing.Order(p) {
		if s.Stuck {
			t.Errorf("%+v is stuck in a sound garment", s)
		}
		if s.Kind == pairing.SewSeam {
			got = append(got, s.Seam)
		}
	}
	want := []string{"shoulder", "side", "underarm", "armhole", "skirt-side", "waist"}
	if !slices.Equal(got, want) {
		t.Errorf("Order() sews %v, want %v", got, want)
	}
	steps := pairing.Order(veiled())
	at := func(seam string) int {
		return slices.IndexFunc(steps, func(s pairing.SewingStep) bool { return s.Seam == seam })
	}
	if steps[at("veil-side")].Kind != pairing.SewBaste || at("veil-side") > at("side") {
		t.Errorf("the layer is not basted on before its piece is sewn: %v", steps)
	}
	slices.Reverse(p.Seams)
	steps = pairing.Order(p)
	if at("waist") < at("skirt-side") || at("waist") < at("side") || at("armhole") < at("shoulder") {
		t.Errorf("with the seams listed backwards, the order is %v", steps)
	}
}
