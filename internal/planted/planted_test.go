package planted

import (
	"testing"

	"bygone.example/core/pairing"
)

func TestSoundPatterns(t *testing.T) {
	all, err := Sound()
	if err != nil {
		t.Fatal(err)
	}
	for name, p := range all {
		for _, problem := range p.Validate() {
			t.Errorf("%s: Validate(): %v", name, problem)
		}
		for _, f := range pairing.Check(p) {
			t.Errorf("%s: Check() finds %s %+v: %s", name, f.Code, f.Place, f.Text)
		}
	}
}
