package stock

import (
	"testing"

	"bygone.example/core/pairing"
)

func TestTwelve(t *testing.T) {
	p, err := Twelve()
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Pieces) != 12 {
		t.Errorf("%d pieces, want 12", len(p.Pieces))
	}
	for _, v := range p.Validate() {
		t.Errorf("not valid: %v", v)
	}
	for _, f := range pairing.Check(p) {
		t.Errorf("%s: %+v %s", f.Code, f.Place, f.Text)
	}
}
