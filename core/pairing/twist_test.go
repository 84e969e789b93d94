package pairing_test

import (
	"os"
	"slices"
	"testing"

	"bygone.example/core/finding"
	yamlfile "bygone.example/core/format/yaml"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
)

// stored reads one of the patterns of the test data.
func stored(t *testing.T, name string) *pattern.Pattern {
	t.Helper()
	path := "../../testdata/patterns/" + name + ".yaml"
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	p, err := yamlfile.Read(path, data)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// turnRun walks a run from its other end.
func turnRun(r pattern.Run) {
	slices.Reverse(r)
	for i := range r {
		r[i].Backwards = !r[i].Backwards
	}
}

// unmark takes the notches of both sides of a seam away.
func unmark(p *pattern.Pattern, s *pattern.Seam) {
	for _, ref := range slices.Concat(s.A, s.B) {
		piece := p.Piece(ref.Piece)
		piece.Notches = slices.DeleteFunc(piece.Notches, func(n pattern.Notch) bool { return n.Edge == ref.Edge })
	}
}

func twists(p *pattern.Pattern) (seams []string) {
	for _, f := range pairing.Check(p) {
		if f.Code == pairing.SeamTwist && f.Severity == finding.Fault {
			seams = append(seams, f.Place.Seam)
		}
	}
	return seams
}

// Every seam that is walked from opposite ends is told as a fault and under its own
// name, with its notches and without, whichever side was turned.
func TestTwistedSeams(t *testing.T) {
	for _, name := range []string{"stock-dress", "untested-blouse"} {
		sound := stored(t, name)
		if got := twists(sound); len(got) > 0 {
			t.Errorf("%s is said to be twisted in %v", name, got)
		}
		for i := range sound.Seams {
			if len(sound.Seams[i].B) == 0 {
				continue
			}
			seam := sound.Seams[i].Name
			for _, marked := range []bool{true, false} {
				for _, side := range []string{"a", "b"} {
					p := sound.Clone()
					s := p.Seam(seam)
					if !marked {
						unmark(p, s)
					}
					if got := twists(p); len(got) > 0 {
						t.Errorf("%s, seam %s, marked %t: said to be twisted in %v", name, seam, marked, got)
					}
					if side == "a" {
						turnRun(s.A)
					} else {
						turnRun(s.B)
					}
					if got := twists(p); !slices.Equal(got, []string{seam}) {
						t.Errorf("%s, side %s of seam %s turned, marked %t: said to be twisted in %v", name, side, seam, marked, got)
					}
				}
			}
		}
	}
}

// panels are two pieces of four straight edges, joined along one, whose names tell
// nothing: only how their other edges end up.
func panels(lowerA, upperA, lowerB, upperB pattern.Finish) *pattern.Pattern {
	p := &pattern.Pattern{Name: "panels", Pieces: []pattern.Piece{
		onFold("left", "", pt(50, 50),
			pattern.Edge{Name: "p", Path: line(pt(0, 0), pt(100, 0)), Finish: lowerA},
			pattern.Edge{Name: "join", Path: line(pt(100, 0), pt(100, 140))},
			pattern.Edge{Name: "q", Path: line(pt(100, 140), pt(0, 140)), Finish: upperA},
			pattern.Edge{Name: "r", Path: line(pt(0, 140), pt(0, 0)), Finish: pattern.Open}),
		onFold("right", "", pt(50, 30),
			pattern.Edge{Name: "s", Path: line(pt(0, 0), pt(100, 0)), Finish: lowerB},
			pattern.Edge{Name: "t", Path: line(pt(100, 0), pt(100, 140)), Finish: pattern.Open},
			pattern.Edge{Name: "u", Path: line(pt(100, 140), pt(0, 140)), Finish: upperB},
			pattern.Edge{Name: "join", Path: line(pt(0, 140), pt(0, 0))}),
	}}
	p.Seams = []pattern.Seam{{
		Name: "join", A: pattern.Run{{Piece: "left", Edge: "join"}}, B: pattern.Run{{Piece: "right", Edge: "join", Backwards: true}},
		Meeting: pattern.Meeting{Kind: pattern.Plain},
	}}
	return p
}

func TestTwistByFinish(t *testing.T) {
	const hem, bound, faced, fold, open = pattern.Hemmed, pattern.Bound, pattern.Faced, pattern.Fold, pattern.Open
	for _, c := range []struct {
		lowerA, upperA, lowerB, upperB pattern.Finish
		told                           bool // when one side is turned
	}{
		{hem, bound, hem, bound, true},
		{hem, faced, hem, faced, true},
		{hem, open, hem, bound, true}, // the hem has its like
		{hem, fold, hem, fold, true},
		{hem, hem, hem, hem, false}, // nothing tells
		{open, open, open, open, false},
		{hem, open, open, bound, false},
	} {
		p := panels(c.lowerA, c.upperA, c.lowerB, c.upperB)
		if got := twists(p); len(got) > 0 {
			t.Errorf("%+v, sound: told of %v", c, got)
		}
		turnRun(p.Seams[0].B)
		if got := twists(p); len(got) > 0 != c.told {
			t.Errorf("%+v, turned: told of %v", c, got)
		}
	}
}
