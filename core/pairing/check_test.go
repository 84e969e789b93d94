package pairing_test

import (
	"testing"

	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
)

func TestSound(t *testing.T) {
	p := garment()
	mustBeValid(t, p)
	for _, f := range pairing.Check(p) {
		t.Errorf("Check() of a sound garment: %s %s %+v: %s", f.Severity, f.Code, f.Place, f.Text)
	}
	for _, w := range pairing.Walk(p) {
		t.Logf("%s: %v", w.Seam, w.Text)
		if !w.OK {
			t.Errorf("Walk() of a sound garment: %+v", w)
		}
	}
}

// BenchmarkWalkAndCheck takes three garments as one pattern: 15 pieces, 18 seams.
func BenchmarkWalkAndCheck(b *testing.B) {
	p := garment()
	for _, suffix := range []string{"-b", "-c"} {
		q := garment()
		for i := range q.Pieces {
			q.Pieces[i].Name += suffix
		}
		for i := range q.Seams {
			s := &q.Seams[i]
			s.Name += suffix
			for _, run := range []pattern.Run{s.A, s.B} {
				for j := range run {
					run[j].Piece += suffix
				}
			}
		}
		p.Pieces, p.Seams = append(p.Pieces, q.Pieces...), append(p.Seams, q.Seams...)
	}
	mustBeValid(b, p)
	if found := pairing.Check(p); len(found) > 0 {
		b.Fatal(found)
	}
	b.ReportAllocs()
	for b.Loop() {
		pairing.Walk(p)
		pairing.Check(p)
	}
}
