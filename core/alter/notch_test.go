package alter

import (
	"testing"

	"pgregory.net/rapid"

	"bygone.example/core/operation"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
)

func notches(longer, clear float64) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) {
		return PlaceNotches(p, NotchRule{LongerThan: longer, Clear: clear})
	}
}

func TestPlaceNotchesPairs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		clear := rapid.Float64Range(0, 40).Draw(t, "clear")
		a, no := lawful(t, p, notches(rapid.Float64Range(60, 400).Draw(t, "longer"), clear))
		if no != nil {
			t.Fatalf("refused: %v", no)
		}
		q := a.Pattern
		for i, piece := range q.Pieces {
			old := p.Pieces[i]
			if len(piece.Notches) < len(old.Notches) {
				t.Errorf("%s lost notches", piece.Name)
			}
			for _, e := range piece.Edges {
				within(t, "length of "+e.Name, e.Path.Length(), old.Edge(e.Name).Path.Length(), 0)
			}
			for _, n := range piece.Notches[len(old.Notches):] {
				long := piece.Edge(n.Edge).Path.Length()
				if n.At < clear-laidOff || n.At > long-clear+laidOff {
					t.Errorf("%s: notch %s stands %.1f mm along an edge of %.1f", piece.Name, n.Name, n.At, long)
				}
			}
		}
		for _, s := range q.Seams {
			was, now := places(p, s.A), places(q, s.A)
			for name, at := range now {
				if _, old := was[name]; old || len(s.B) == 0 {
					continue
				}
				other, ok := places(q, s.B)[name]
				if !ok {
					t.Errorf("seam %s: notch %s has no mate", s.Name, name)
				}
				if paired := pairedNotches(p, s); paired == 0 { // else between the pairs that there are
					within(t, "share along "+s.Name, at/q.RunLength(s.A), other/q.RunLength(s.B), exact)
				}
			}
		}
		for _, f := range pairing.Compare(pairing.Check(p), pairing.Check(q), a.Lineage, "this") {
			if f.Since == "this" && (f.Code == pairing.NotchDrift || f.Code == pairing.NotchMissing) {
				t.Errorf("%+v: %s", f.Place, f.Text)
			}
		}
	})
}

func TestPlaceNotchesOnLongSeams(t *testing.T) {
	q := done(t, dress(t), notches(pairing.LongSeam, 20)).Pattern
	for _, f := range pairing.Check(q) {
		if f.Code == pairing.NotchNone {
			t.Errorf("%+v: %s", f.Place, f.Text)
		}
	}
	again := done(t, q, notches(pairing.LongSeam, 20))
	sameDrawing(t, "placed twice", again.Pattern, q)
}

func TestPlaceNotchesRefuses(t *testing.T) {
	refusals{
		{"every seam", dress(t), notches(0, 20), `notches need a seam length from which they are set; give one of more than 0 mm`},
		{"less than no room", dress(t), notches(100, -1), `notches need a seam length from which they are set; give one of more than 0 mm`},
	}.try(t)
}

// pairedNotches counts the notches that both sides of a seam have.
func pairedNotches(p *pattern.Pattern, s pattern.Seam) int {
	n, mates := 0, places(p, s.B)
	for key := range places(p, s.A) {
		if _, ok := mates[key]; ok {
			n++
		}
	}
	return n
}
