package mend

import (
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"bygone.example/core/finding"
	yamlfile "bygone.example/core/format/yaml"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
)

// edited reads a pattern of the test data with pieces of its text replaced, each of
// which must be there once.
func edited(t *testing.T, name string, replace ...string) *pattern.Pattern {
	t.Helper()
	path := "../../testdata/patterns/" + name
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	for i := 0; i < len(replace); i += 2 {
		if n := strings.Count(text, replace[i]); n != 1 {
			t.Fatalf("%q is in %s %d times", replace[i], name, n)
		}
		text = strings.Replace(text, replace[i], replace[i+1], 1)
	}
	located, err := yamlfile.ReadToCheck(path, []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return located.Pattern
}

// What hides a fault without mending it is left, with the reason.
func TestLeft(t *testing.T) {
	for _, c := range []struct {
		name    string
		replace []string
		code    finding.Code
		why     string
		steps   int
	}{
		{"a sleeve's head that sets out the wrong way", []string{"C 143.532492 450.913973", "C 163.532492 480.913973"},
			pairing.CornerKink, "the line lies 7.29 mm off a smooth one, and no line may move by more than 3 mm: that is no untrue corner but another line", 0},
		{"the ease of that head", []string{"C 143.532492 450.913973", "C 163.532492 480.913973"},
			pairing.SeamEase, "the kink of sleeve/cap must be put right first", 0},
		{"a hem sewn to one that crosses itself", []string{
			"hem\n        path: M -182 -604.8 C -61.655541 -620.259268 61.655541 -620.259268 182 -604.8\n        finish: hem\n      - name: side",
			"hem\n        path: M -182 -604.8 C 400 -620.259268 -400 -500.259268 182 -604.8\n        finish: hem\n      - name: side",
		}, pairing.CornerKink, "the outline of skirt-back must be put right first", 0},
		{"a grainline with one end mistyped", []string{"grain: [[34, 60], [34, 330]]", "grain: [[34, 60], [300, 330]]"},
			pairing.GrainOutside, "the grainline lies aslant, so one of its ends may be wrong, and only whoever knows how the piece is to hang can say which", 0},
		{"a side seam upside down that has no notches", []string{
			"b: [-bodice-back/side]", "b: [bodice-back/side]",
			"      - {name: side, edge: side, at: 167.305907}\n", "", "      - {name: side, edge: side, at: 70}\n", "",
		}, pairing.NotchNone, "seam side is walked from opposite ends, and that must be put right first", 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := edited(t, "stock-dress.yaml", c.replace...)
			got := propose(t, p, DefaultBound)
			lawful(t, p, got, DefaultBound)
			if len(got.Chain.Steps) != c.steps {
				t.Errorf("steps: %+v", got.Chain.Steps)
			}
			i := slices.IndexFunc(got.Left, func(l Left) bool { return l.Code == c.code })
			if i < 0 || got.Left[i].Why != c.why {
				t.Errorf("left: %+v, want %s because %s", got.Left, c.code, c.why)
			}
		})
	}
}

// A difference that is known to lie in the back is not mended at centre front.
func TestWhereItLies(t *testing.T) {
	p := edited(t, "stock-dress.yaml",
		"path: M 78 431 C 74.033148 420.101163 43.0794 410 0 410\n      - name: centre-back.opening\n        path: M 0 410 L 0 252.5",
		"path: M 78 431 C 74.033148 420.101163 43.0794 400 0 410\n      - name: centre-back.opening\n        path: M 0 410 L 0 252.5")
	got := propose(t, p, DefaultBound)
	lawful(t, p, got, DefaultBound)
	for _, s := range got.Chain.Steps {
		for _, set := range s.Settings {
			if set.Parameter == "way" && set.Value != "end" {
				t.Errorf("step %+v mends at the other end", s)
			}
		}
	}
	for _, piece := range []string{"bodice-front", "facing-front"} {
		was, is := p.Piece(piece).Edge("centre-front"), got.After.Piece(piece).Edge("centre-front")
		if !slices.Equal(was.Path, is.Path) {
			t.Errorf("centre front of %s was moved", piece)
		}
	}
}

// A sleeve's notches come single in front and double behind, without ease under the
// arm, and with its ease shared by the shoulder seam.
func TestSleeveNotches(t *testing.T) {
	p := read(t, "untested-blouse.yaml")
	got := propose(t, p, DefaultBound).After
	places := func(piece, edge string) map[string]pattern.Notch {
		m := map[string]pattern.Notch{}
		for _, n := range got.Piece(piece).Notches {
			if n.Edge == edge {
				m[n.Name] = n
			}
		}
		return m
	}
	front, back, cap := places("bodice-front", "armscye"), places("bodice-back", "armscye"), places("sleeve", "cap")
	if len(front) != 2 || len(back) != 1 || len(cap) != 3 || front["front"].Count != 1 || back["back"].Count != 2 || cap["front"].Count != 1 || cap["back"].Count != 2 {
		t.Fatalf("front %v, back %v, cap %v", front, back, cap)
	}
	fromSide := got.Piece("bodice-front").Edge("armscye").Path.Length() - front["front"].At
	if math.Abs(fromSide-cap["front"].At) > 0.01 {
		t.Errorf("the front notch has %.2f mm of ease under the arm", cap["front"].At-fromSide)
	}
	if under := got.Piece("sleeve").Edge("cap").Path.Length() - cap["back"].At; math.Abs(under-back["back"].At) > 0.01 {
		t.Errorf("the back notch has %.2f mm of ease under the arm", under-back["back"].At)
	}
	if front["shoulder"].At != 0 {
		t.Errorf("the shoulder notch lies %.2f mm from the shoulder seam", front["shoulder"].At)
	}
	// A front notch that was lost comes back to where it was.
	q := edited(t, "stock-dress.yaml", "      - {name: front, edge: cap, at: 78}\n", "")
	got = propose(t, q, DefaultBound).After
	if n := places("sleeve", "cap")["front"]; math.Abs(n.At-78) > 0.1 {
		t.Errorf("the front notch was put at %.2f mm, not at 78", n.At)
	}
}

// What is left names no notch that only a step has set.
func TestLeftAsArrived(t *testing.T) {
	p := read(t, "untested-blouse.yaml")
	for _, l := range propose(t, p, DefaultBound).Left {
		if strings.Contains(l.Text, "notch side-") {
			t.Errorf("left: %s", l.Text)
		}
	}
}
