package pairing_test

import (
	"math"
	"slices"
	"testing"

	"bygone.example/core/finding"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
	"bygone.example/core/wearer"
)

// closed sews the garment shut behind, but for an opening from the neck down.
func closed(opening float64) func(*pattern.Pattern) {
	return func(p *pattern.Pattern) {
		b := p.Piece("back")
		if opening == 0 {
			b.Edges[0].Finish, b.Cut = pattern.Fold, pattern.Cut{Count: 1}
			return
		}
		top := b.Edges[0]
		b.Edges[0].Path, b.Edges[0].Finish = line(pt(0, 0), pt(0, 390-opening)), pattern.Sewn
		top.Name, top.Path = "centre-back.opening", line(pt(0, 390-opening), pt(0, 390))
		b.Edges = slices.Insert(b.Edges, 1, top)
		p.Seams = append(p.Seams, pattern.Seam{Name: "centre-back", A: pattern.Run{{Piece: "back", Edge: "centre-back"}}, Meeting: pattern.Meeting{Kind: pattern.Plain}})
	}
}

// Nobody gets into a garment whose neck does not pass the head or whose waist does
// not pass the bust; an opening counts twice, for both its sides.
func TestOpenings(t *testing.T) {
	neck := 2 * (edgeLength(garment(), "front", "neckline") + edgeLength(garment(), "back", "neckline"))
	body := func(m wearer.Measure, mm float64) pairing.Options {
		return pairing.Options{Wearer: &wearer.Wearer{Measures: map[wearer.Measure]float64{m: mm}}}
	}
	for _, c := range []planted{
		{"closed", closed(0), pairing.Options{}, []want{{pairing.OpeningMissing, "", "front", "neckline", middle("front", "neckline"), neck - pairing.LeastHead}}},
		{"closed, for a doll", closed(0), body(wearer.HeadGirth, 375), nil},
		{"opening too short", closed(70), pairing.Options{}, []want{{pairing.OpeningMissing, "", "front", "neckline", middle("front", "neckline"), neck + 140 - pairing.LeastHead}}},
		{"opening just long enough", closed(90), pairing.Options{}, nil},
		{"a larger head", closed(90), body(wearer.HeadGirth, 570), []want{{pairing.OpeningMissing, "", "front", "neckline", middle("front", "neckline"), neck + 180 - 570}}},
		{"a bust that the waist does not pass", closed(200), body(wearer.BustGirth, 920), []want{{pairing.OpeningMissing, "", "front", "waist", pt(110, 0), 840 - 920}}},
		{"open to the waist only", func(*pattern.Pattern) {}, body(wearer.BustGirth, 920), []want{{pairing.OpeningMissing, "", "gore-front", "waist", middle("gore-front", "waist"), 840 - 920}}},
		{"hips that are narrower do not help where the neck is closed to them", closed(200), pairing.Options{Wearer: &wearer.Wearer{Measures: map[wearer.Measure]float64{
			wearer.BustGirth: 920, wearer.HipGirth: 830,
		}}}, []want{{pairing.OpeningMissing, "", "front", "waist", pt(110, 0), 840 - 920}}},
		{"stepped into", closed(240), pairing.Options{Wearer: &wearer.Wearer{Measures: map[wearer.Measure]float64{
			wearer.BustGirth: 920, wearer.HipGirth: 830,
		}}}, nil},
	} {
		t.Run(c.name, func(t *testing.T) { c.run(t, garment()) })
	}
	p := garment()
	closed(0)(p)
	for _, o := range []struct {
		options pairing.Options
		want    finding.Severity
	}{{pairing.Options{}, finding.Warning}, {body(wearer.HeadGirth, 560), finding.Fault}} {
		if got := pairing.CheckWith(p, o.options); len(got) != 1 || got[0].Severity != o.want {
			t.Errorf("a closed garment, for %v: %v, want one %s", o.options.Wearer, got, o.want)
		}
	}
}

// Ease lies over the top of a head, and not too much of it anywhere.
func TestHeadEase(t *testing.T) {
	at := func(sewn float64) (w want) {
		return want{pairing.CapEase, "armhole", "sleeve", "cap", edgeOf(garment(), "sleeve", "cap").Path.At(sewn), 0}
	}
	sized := func(w want, size float64) []want {
		w.size = size
		return []want{w}
	}
	little := pairing.DefaultTolerances()
	little.MostEase = 15
	whole := edgeLength(garment(), "sleeve", "cap")
	top := func(cap float64) func(*pattern.Pattern) {
		return func(p *pattern.Pattern) {
			p.Piece("front").Notches = append(p.Piece("front").Notches, pattern.Notch{Name: "top", Edge: "armscye", At: 120, Count: 1})
			p.Piece("sleeve").Notches = append(p.Piece("sleeve").Notches, pattern.Notch{Name: "top", Edge: "cap", At: cap, Count: 1})
		}
	}
	front := func(cap float64) func(*pattern.Pattern) {
		return func(p *pattern.Pattern) { p.Piece("sleeve").Notches[0].At = cap }
	}
	for _, c := range []planted{
		{"more than can be worked in, though the seam allows it", func(*pattern.Pattern) {}, pairing.Options{Tolerances: &little}, sized(at(whole/2), 5)},
		{"under the arm", front(90), pairing.Options{}, sized(at(45), 5)},
		{"a little under the arm", front(84), pairing.Options{}, nil},
		{"on a short stretch", top(134), pairing.Options{}, sized(at((80+134)/2), 2)},
		{"on a short stretch, less of it", top(131), pairing.Options{}, nil},
	} {
		t.Run(c.name, func(t *testing.T) { c.run(t, garment()) })
	}
}

// A notch called after the shoulder lies at the shoulder seam, or far off one that
// was moved.
func TestTopNotch(t *testing.T) {
	for _, c := range []struct {
		by   float64
		told bool
	}{{0, false}, {0.4, false}, {2, true}, {9, true}} {
		p := stored(t, "stock-dress")
		for _, piece := range []string{"bodice-front", "sleeve"} { // the pair, so that its two stay in step
			for k := range p.Piece(piece).Notches {
				n := &p.Piece(piece).Notches[k]
				switch {
				case n.Name != "shoulder":
				case piece == "sleeve":
					n.At -= c.by
				default:
					n.At += c.by
				}
			}
		}
		got := pairing.Check(p)
		if told := len(got) == 1 && got[0].Code == pairing.NotchDrift && got[0].Place.Edge == "armscye" && math.Abs(math.Abs(got[0].Figures.Difference)-c.by) < within; told != c.told || !told && len(got) > 0 {
			t.Errorf("%g mm off: %+v", c.by, got)
		}
	}
}
