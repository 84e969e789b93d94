package pairing_test

import (
	"testing"

	"bygone.example/core/pairing"
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

func BenchmarkWalkAndCheck(b *testing.B) {
	p := garment()
	b.ReportAllocs()
	for b.Loop() {
		pairing.Walk(p)
		pairing.Check(p)
	}
}
