package pairing_test

import (
	"testing"

	"bygone.example/core/finding"
	"bygone.example/core/geom"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
)

func TestCompare(t *testing.T) {
	at := func(seam, piece, edge string) finding.Place {
		return finding.Place{Seam: seam, Piece: piece, Edge: edge, At: &geom.Point{X: 1}}
	}
	f := func(code finding.Code, p finding.Place, difference float64, since string) finding.Finding {
		return finding.Finding{Code: code, Place: p, Figures: &finding.Figures{Difference: difference, Unit: "mm"}, Since: since}
	}
	length := pairing.SeamLength
	divided := pattern.Lineage{
		{New: pattern.Stretch{Piece: "front", Edge: "side.upper", To: 5}, Old: pattern.Stretch{Piece: "front", Edge: "side", To: 5}},
		{New: pattern.Stretch{Piece: "skirt", Edge: "side.lower", To: 5}, Old: pattern.Stretch{Piece: "front", Edge: "side", From: 5, To: 10}},
	}
	for _, c := range []struct {
		name        string
		before, now []finding.Finding
		lineage     pattern.Lineage
		want        []string
	}{
		{"new", nil, []finding.Finding{f(length, at("side", "front", "side"), 9, "")}, nil, []string{"step"}},
		{"arrived with it", []finding.Finding{f(length, at("side", "front", "side"), 9, "")}, []finding.Finding{f(length, at("side", "front", "side"), 9.05, "")}, nil, []string{""}},
		{"an earlier step's", []finding.Finding{f(length, at("side", "front", "side"), 9, "waist")}, []finding.Finding{f(length, at("side", "front", "side"), -4, "")}, nil, []string{"waist"}},
		{"made worse", []finding.Finding{f(length, at("side", "front", "side"), 9, "")}, []finding.Finding{f(length, at("side", "front", "side"), 9.2, "")}, nil, []string{"step"}},
		{"other code", []finding.Finding{f(length, at("side", "front", "side"), 9, "")}, []finding.Finding{f(pairing.NotchDrift, at("side", "front", "side"), 9, "")}, nil, []string{"step"}},
		{"other side of the seam", []finding.Finding{f(length, at("side", "front", "side"), 9, "")}, []finding.Finding{f(length, at("side", "back", "side"), -9, "")}, nil, []string{""}},
		{"other end of the seam", []finding.Finding{f(pairing.CornerKink, at("side", "front", "armscye"), 9, "")}, []finding.Finding{f(pairing.CornerKink, at("side", "front", "waist"), 9, "")}, nil, []string{"step"}},
		{"one more of a kind", []finding.Finding{f(pairing.NotchDrift, at("side", "front", "side"), 9, "")},
			[]finding.Finding{f(pairing.NotchDrift, at("side", "front", "side"), 3, ""), f(pairing.NotchDrift, at("side", "front", "side"), 9, "")}, nil, []string{"step", ""}},
		{"divided edge", []finding.Finding{f(pairing.NotchDrift, at("side", "front", "side"), 9, "")},
			[]finding.Finding{f(pairing.NotchDrift, at("side.upper", "front", "side.upper"), 9, ""), f(pairing.NotchDrift, at("side.lower", "skirt", "side.lower"), 9, "")}, divided, []string{"", ""}},
		{"divided without lineage", []finding.Finding{f(pairing.NotchDrift, at("side", "front", "side"), 9, "")},
			[]finding.Finding{f(pairing.NotchDrift, at("side.upper", "front", "side.upper"), 9, "")}, nil, []string{"step"}},
		{"piece of a new name", []finding.Finding{{Code: pairing.GrainMissing, Place: finding.Place{Piece: "front"}}},
			[]finding.Finding{{Code: pairing.GrainMissing, Place: finding.Place{Piece: "skirt"}}}, divided, []string{""}},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := pairing.Compare(c.before, c.now, c.lineage, "step")
			for i, want := range c.want {
				if got[i].Since != want {
					t.Errorf("Compare()[%d].Since = %q, want %q", i, got[i].Since, want)
				}
				if c.now[i].Since != "" {
					t.Errorf("Compare() changed its argument")
				}
			}
		})
	}
}

func TestCount(t *testing.T) {
	got := pairing.Count([]finding.Finding{{Severity: finding.Fault}, {Severity: finding.Note}, {Severity: finding.Fault}, {Severity: finding.Warning}})
	if want := (pairing.Counts{Faults: 2, Warnings: 1, Notes: 1}); got != want {
		t.Errorf("Count() = %+v, want %+v", got, want)
	}
}

func TestCodes(t *testing.T) {
	for _, e := range pairing.Codes() {
		if e.Code == "" || e.Title == "" || e.Why == "" || e.Remedy == "" || e.Severity == "" {
			t.Errorf("Codes() holds an incomplete entry: %+v", e)
		}
	}
	if _, ok := pairing.Explain("nonsense"); ok {
		t.Errorf("Explain(nonsense) is known, want not")
	}
}
