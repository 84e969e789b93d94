package pairing_test

import (
	"testing"

	"bygone.example/core/pairing"
)

// A code that carries figures says by what they are judged, where the house has a
// tolerance for it.
func TestBounds(t *testing.T) {
	if got := pairing.Bounds(pairing.CornerKink); len(got) != 2 || got[0].Name != "kink-warning" || got[1].Name != "kink-fault" {
		t.Errorf("Bounds(corner-kink) = %v", got)
	}
	if got := pairing.Bounds(pairing.EdgeLoose); got != nil {
		t.Errorf("Bounds(edge-loose) = %v, want none", got)
	}
}
