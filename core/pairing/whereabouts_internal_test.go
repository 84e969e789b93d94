package pairing

import "testing"

// A length half way between two marks of the tape is told alike, whichever way
// its last digit fell where the piece lies.
func TestAmountOnAHalf(t *testing.T) {
	for _, mm := range []float64{202.5, 202.5 - 1e-9, 202.5 + 1e-9} {
		if got := amount(mm); got != "20.3 cm" {
			t.Errorf("amount(%.12g) = %q, want 20.3 cm", mm, got)
		}
	}
}
