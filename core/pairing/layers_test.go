package pairing_test

import (
	"slices"
	"testing"

	"bygone.example/core/finding"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
)

// veiled is the sound garment with a layer over its front, twice as wide at the
// waist and gathered back, its other edges basted flat or left open.
func veiled() *pattern.Pattern {
	p := garment()
	veil := p.Piece("front").Clone()
	veil.Name, veil.Role, veil.Darts, veil.Gathers = "veil", "", nil, nil
	waist := veil.Edge("waist")
	veil.Notches = slices.DeleteFunc(veil.Notches, func(n pattern.Notch) bool { return n.Edge == "waist" })
	veil.Gathers = []pattern.Gather{{
		Name: "fullness", Edge: "waist", From: 0, To: waist.Path.Length(), Length: p.Piece("front").SewnLength("waist"), Kind: pattern.Gathers,
	}}
	p.Pieces = append(p.Pieces, veil)
	for _, edge := range []string{"waist", "side", "armscye", "shoulder", "neckline"} {
		m := pattern.Meeting{Kind: pattern.Plain}
		if edge == "waist" {
			m.Kind = pattern.Gathered
		}
		veil.Edge(edge).Finish = pattern.Sewn
		p.Seams = append(p.Seams, pattern.Seam{
			Name: "veil-" + edge, Kind: pattern.Basted, Meeting: m,
			A: pattern.Run{{Piece: "veil", Edge: edge}}, B: pattern.Run{{Piece: "front", Edge: edge}},
		})
	}
	return p
}

// A basted layer is walked like any seam, says what becomes of its own edges,
// and says nothing about those under it.
func TestLayers(t *testing.T) {
	for _, c := range []struct {
		name  string
		plant func(*pattern.Pattern)
		want  []finding.Code // beside long seams without a notch
	}{
		{"sound", func(*pattern.Pattern) {}, nil},
		{"not drawn up", func(p *pattern.Pattern) { p.Piece("veil").Gathers[0].Length++ }, []finding.Code{pairing.FullnessLength}},
		{"outer edge left out", func(p *pattern.Pattern) {
			p.Seams = slices.DeleteFunc(p.Seams, func(s pattern.Seam) bool { return s.Name == "veil-side" })
		}, []finding.Code{pairing.EdgeLoose}},
		{"outer edge hemmed too", func(p *pattern.Pattern) { p.Piece("veil").Edge("side").Finish = pattern.Hemmed }, []finding.Code{pairing.EdgeTwoFates}},
		{"under edge not joined", func(p *pattern.Pattern) {
			p.Seams = slices.DeleteFunc(p.Seams, func(s pattern.Seam) bool { return s.Name == "shoulder" })
		}, []finding.Code{pairing.EdgeLoose, pairing.EdgeLoose}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := veiled()
			c.plant(p)
			if bad := p.Validate(); len(bad) > 0 {
				t.Fatal(bad)
			}
			var got []finding.Code
			for _, f := range pairing.Check(p) {
				if f.Severity == finding.Fault || f.Code == pairing.EdgeTwoFates || f.Code == pairing.FullnessLength {
					got = append(got, f.Code)
				}
			}
			if !slices.Equal(got, c.want) {
				t.Errorf("found %v, want %v", got, c.want)
			}
		})
	}
}
