package pairing_test

import (
	"strings"
	"testing"

	"bygone.example/core/finding"
	"bygone.example/core/geom"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
)

// Slips of the pen in the stock dress, each told under its code, at its severity,
// on the piece that has it, and in words that say what it is.
func TestSlips(t *testing.T) {
	type pat = pattern.Pattern
	notch := func(p *pat, piece, edge, name string) *pattern.Notch {
		for k := range p.Piece(piece).Notches {
			if n := &p.Piece(piece).Notches[k]; n.Edge == edge && n.Name == name {
				return n
			}
		}
		return nil
	}
	for _, c := range []struct {
		name        string
		plant       func(*pat)
		code        finding.Code
		severity    finding.Severity
		piece, edge string
		words       string
	}{
		{"a front on the fold cut twice", func(p *pat) { p.Piece("bodice-front").Cut.Count = 2 },
			pairing.CutCount, finding.Fault, "bodice-front", "side", "of which there are 4"},
		{"four sleeves", func(p *pat) { p.Piece("sleeve").Cut.Count = 4 },
			pairing.CutCount, finding.Fault, "sleeve", "cap", "of which there are 4"},
		{"one sleeve", func(p *pat) { p.Piece("sleeve").Cut = pattern.Cut{Count: 1} },
			pairing.CutCount, finding.Fault, "sleeve", "cap", "of which there is 1,"},
		{"a notch inside a dart", func(p *pat) { notch(p, "bodice-front", "waist", "waist-front").At = 130 },
			pairing.NotchDrift, finding.Warning, "bodice-front", "waist", "bodice-front/waist has it inside dart waist-dart"},
		{"a notch below the ease", func(p *pat) { notch(p, "sleeve", "cap", "front").At = 76 },
			pairing.NotchDrift, finding.Warning, "sleeve", "cap", "2.0 mm out of step with no ease before it"},
		{"a notch beyond the ease", func(p *pat) {
			notch(p, "bodice-back", "armscye", "back").At += 3
			notch(p, "sleeve", "cap", "back").At += 3
		}, pairing.NotchDrift, finding.Warning, "sleeve", "cap", "of ease before it"},
		{"ease under the arm in front", func(p *pat) { notch(p, "sleeve", "cap", "front").At = 85 },
			pairing.CapEase, finding.Warning, "sleeve", "cap", "7.0 mm of ease under the arm"},
		{"ease under the arm behind", func(p *pat) { notch(p, "sleeve", "cap", "back").At = 368.093114 },
			pairing.CapEase, finding.Warning, "sleeve", "cap", "6.0 mm of ease under the arm"},
		{"ease nearly all in front", func(p *pat) { notch(p, "sleeve", "cap", "shoulder").At = 241.151468 },
			pairing.CapEase, finding.Warning, "sleeve", "cap", "only 5.0 mm on the other"},
		{"a shoulder notch off its seam", func(p *pat) { notch(p, "bodice-front", "armscye", "shoulder").At = 12 },
			pairing.NotchDrift, finding.Note, "bodice-front", "armscye", "lies 12.0 mm from the shoulder seam"},
		{"a spike", func(p *pat) {
			e := p.Edge(pattern.EdgeRef{Piece: "facing-back", Edge: "outer"})
			tail := e.Path[1:]
			e.Path = append(geom.Polyline(e.Path.Start(), pt(12, 409.4), tail.Start()), tail...)
		}, pairing.CurveKink, finding.Warning, "facing-back", "outer", "a dent of 155"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := stored(t, "stock-dress")
			c.plant(p)
			found := pairing.Check(p)
			for _, f := range found {
				if f.Code == c.code && f.Severity == c.severity && f.Place.Piece == c.piece && f.Place.Edge == c.edge && strings.Contains(f.Text, c.words) {
					return
				}
			}
			for _, f := range found {
				t.Log(show(f))
			}
			t.Errorf("lacks %s %s at %s/%s: %q", c.severity, c.code, c.piece, c.edge, c.words)
		})
	}
}
