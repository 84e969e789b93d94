package yamlfile

import (
	"strings"
	"testing"

	"bygone.example/core/finding"
	"bygone.example/core/geom"
)

// What Read refuses for its shape alone is read to be checked; what leaves no
// pattern to look at is refused by both, in the same words.
func TestReadToCheck(t *testing.T) {
	dress := string(readFile(t, "testdata/dress.yaml"))
	for _, c := range []struct {
		name, old, new string
		leave          bool // to the check
	}{
		{"nothing wrong", "", "", true},
		{"crossing", "M 240 10 L 250 200", "M 240 10 L -50 100 L 250 200", true},
		{"clockwise", "        path: M 0 -900 L 400 -900\n", "        path: M 0 -900 L -400 -900\n", true},
		{"bent fold", "M 0 340 L 0 0\n", "M 0 340 L 5 100 L 0 0\n", true},
		{"gap", "M 240 10 L 250 200", "M 241 10 L 250 200", false},
		{"unknown word", "corner: bevel", "corner: bevels", false},
		{"dangling name", "a: [front/side]", "a: [front/sides]", false},
		{"dart beyond its edge", "to: 117.3", "to: 1117.3", false},
		{"cut off", "kind: box", "kind: [box", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			data := []byte(strings.ReplaceAll(dress, c.old, c.new))
			if c.name == "clockwise" { // the whole skirt is drawn to the other side
				data = []byte(strings.NewReplacer(c.old, c.new, "M 400 -900 L 400 -300", "M -400 -900 L -400 -300",
					"M 400 -300 L 400 0", "M -400 -300 L -400 0", "M 400 0 L 0 0", "M -400 0 L 0 0").Replace(dress))
			}
			if c.old != "" && string(data) == dress {
				t.Fatal("nothing was changed")
			}
			_, strict := Read("dress.yaml", data)
			got, err := ReadToCheck("dress.yaml", data)
			if wantStrict := !c.leave || c.old != ""; (strict != nil) != wantStrict {
				t.Errorf("Read() refuses with %v", strict)
			}
			switch {
			case c.leave && err != nil:
				t.Errorf("ReadToCheck() refuses with %v", err)
			case c.leave && (got.Pattern == nil || len(got.Pattern.Pieces) != 3):
				t.Errorf("ReadToCheck() = %+v", got.Pattern)
			case !c.leave && (err == nil || got != nil || err.Error() != strict.Error()):
				t.Errorf("ReadToCheck() refuses with\n%v\nwhere Read() does with\n%v", err, strict)
			}
		})
	}
}

// Every part of a pattern is found where its file has it.
func TestPlaces(t *testing.T) {
	data := readFile(t, "testdata/dress.yaml")
	l, err := ReadToCheck("dress.yaml", data)
	if err != nil {
		t.Fatal(err)
	}
	front := l.Pattern.Piece("front")
	notch, dart := front.Edge("side").Path.At(81.5), geom.Pt(95, 170)
	near := geom.Pt(95, 171)
	for _, c := range []struct {
		name string
		at   finding.Place
		want string // what stands there
	}{
		{"a seam's edge", finding.Place{Seam: "side", Piece: "back", Edge: "side"}, "-back/side]"},
		{"another edge at a seam", finding.Place{Seam: "side", Piece: "back", Edge: "waist"}, "waist\n        path: M 0 0 L 230 0"},
		{"a seam", finding.Place{Seam: "centre-back"}, "centre-back\n    a:"},
		{"a piece", finding.Place{Piece: "skirt"}, "skirt\n"},
		{"an edge", finding.Place{Piece: "skirt", Edge: "side.lower"}, "side.lower\n"},
		{"a notch", finding.Place{Seam: "side", Piece: "front", Edge: "side", At: &notch}, "{name: side, edge: side, at: 81.5"},
		{"a dart", finding.Place{Piece: "front", Edge: "waist", At: &dart}, "{name: waist-dart"},
		{"near a dart", finding.Place{Piece: "front", Edge: "waist", At: &near}, "waist\n        path: M 0 0 L 240 10"},
		{"nothing", finding.Place{}, "small-dress"},
		{"what is not there", finding.Place{Piece: "cape", Edge: "hem"}, "small-dress"},
	} {
		list := []finding.Finding{{Place: c.at}}
		l.Locate(list)
		p := list[0].Place
		if got := l.File.Rest(l.File.Offset(p.Line, p.Column)); p.File != "dress.yaml" || !strings.HasPrefix(got, c.want) {
			t.Errorf("%s: Locate() = %s:%d:%d, where it says %.20q, want %q", c.name, p.File, p.Line, p.Column, got, c.want)
		}
	}
}
