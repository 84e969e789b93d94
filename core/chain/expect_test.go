package chain_test

import (
	"context"
	"math"
	"strings"
	"testing"

	"bygone.example/core/chain"
	"bygone.example/core/finding"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
	"bygone.example/core/source"
	"bygone.example/core/wearer"
)

// shelf is files in memory.
type shelf map[string]*pattern.Pattern

func (s shelf) Pattern(_ context.Context, file string) (*pattern.Pattern, error) {
	if p := s[file]; p != nil {
		return p, nil
	}
	return nil, source.Problems{{File: file, Text: "there is no such file", Remedy: "check the name"}}
}

func (s shelf) Wearer(_ context.Context, file string) (wearer.Wearer, error) {
	return wearer.Wearer{}, source.Problems{{File: file, Text: "there is no such wearer", Remedy: "check the name"}}
}

// What a chain makes is held against what is expected, in mm; what keeps it from
// making anything is told.
func TestExpect(t *testing.T) {
	// The chain makes the front as high as the back, which is 5 mm higher.
	files := shelf{"a.yaml": squares(5), "same.yaml": grow(squares(5), "front", 5).Pattern, "off.yaml": grow(squares(5), "front", 6.5).Pattern}
	for i := range files["same.yaml"].Pieces {
		files["same.yaml"].Pieces[i].Title = "read otherwise"
	}
	grown := chain.Expectation{Pattern: "a.yaml", Result: "same.yaml", Line: 9, Col: 3}
	with := func(change func(*chain.Expectation)) chain.Expectation {
		e := grown
		change(&e)
		return e
	}
	for _, c := range []struct {
		name   string
		expect chain.Expectation
		code   finding.Code
		text   string
		mm     float64
	}{
		{"met", grown, "", "", 0},
		{"not met", with(func(e *chain.Expectation) { e.Result = "off.yaml" }), pairing.ExpectDifferent, "the largest 1.5 mm: front/", 1.5},
		{"within its tolerance", with(func(e *chain.Expectation) { e.Result, e.Tolerance = "off.yaml", 1.6 }), "", "", 0},
		{"no such pattern", with(func(e *chain.Expectation) { e.Pattern = "b.yaml" }), pairing.ExpectBroken, "b.yaml: there is no such file", 0},
		{"no such result", with(func(e *chain.Expectation) { e.Result = "b.yaml" }), pairing.ExpectBroken, "b.yaml: there is no such file", 0},
		{"no such wearer", with(func(e *chain.Expectation) { e.Wearer = "w.yaml" }), pairing.ExpectBroken, "no such wearer", 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			ch := steps("raise=seam.grow piece=front by=5mm")
			ch.Expect = []chain.Expectation{c.expect, grown}
			file := source.NewFile("c.yaml", []byte("bygone: chain/1\n"))
			got, err := chain.Expect(context.Background(), ch, file, files, plugins.Offers(), plugins)
			if err != nil || len(got) != 2 || !got[1].Met() {
				t.Fatalf("Expect() = %+v, %v", got, err)
			}
			f, bad := got[0].Finding(file)
			if bad != (c.code != "") || f.Code != c.code || !strings.Contains(f.Text, c.text) {
				t.Errorf("Finding() = %+v, %v, want %s with %q", f, bad, c.code, c.text)
			}
			if bad && (f.Place.File != "c.yaml" || f.Place.Line != 9 || f.Place.Column != 3 || f.Remedy == "") {
				t.Errorf("place %+v, remedy %q", f.Place, f.Remedy)
			}
			if c.mm != 0 && (f.Figures == nil || math.Abs(f.Figures.A-c.mm) > 0.01) {
				t.Errorf("figures %+v, want %v mm", f.Figures, c.mm)
			}
		})
	}
}

// A step that opens a seam is no outcome to compare.
func TestExpectStops(t *testing.T) {
	ch := steps("raise=seam.grow piece=front by=5mm")
	ch.Expect = []chain.Expectation{{Pattern: "a.yaml", Result: "a.yaml"}}
	got, err := chain.Expect(context.Background(), ch, nil, shelf{"a.yaml": squares(0)}, plugins.Offers(), plugins)
	if err != nil || len(got) != 1 || got[0].Met() || got[0].Comparison != nil {
		t.Fatalf("Expect() = %+v, %v", got, err)
	}
	if f, bad := got[0].Finding(nil); !bad || f.Code != pairing.ExpectBroken || !strings.Contains(f.Text, "opened a seam") {
		t.Errorf("Finding() = %+v, %v", f, bad)
	}
	// Broken off, it says so and nothing else.
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := chain.Expect(ctx, ch, nil, shelf{"a.yaml": squares(0)}, plugins.Offers(), plugins); err == nil {
		t.Error("Expect() of a broken-off run gives no error")
	}
}
