package spelling

import (
	"testing"

	"pgregory.net/rapid"
)

func TestRemedy(t *testing.T) {
	edges := []string{"neckline", "armscye", "shoulder", "side", "waist"}
	tests := []struct {
		word    string
		choices []string
		want    string
	}{
		{"neckine", edges, `did you mean "neckline"?`},
		{"amrscye", edges, `did you mean "armscye"?`},
		{"SIDE", edges, `did you mean "side"?`},
		{"bust_girth", []string{"bust-girth"}, `did you mean "bust-girth"?`},
		{"zip", edges, `choose from "neckline", "armscye", "shoulder", "side", "waist"`},
		{"zip", []string{"hem"}, `there is only "hem"`},
		{"zip", nil, ""},
	}
	for _, tt := range tests {
		if got := Remedy(tt.word, tt.choices); got != tt.want {
			t.Errorf("Remedy(%q) = %q, want %q", tt.word, got, tt.want)
		}
	}
}

// The distance is symmetric, zero only for equal words, and never more than
// the longer word's length.
func TestDistanceLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := []rune(rapid.StringMatching(`[ab]{0,6}`).Draw(t, "a"))
		b := []rune(rapid.StringMatching(`[ab]{0,6}`).Draw(t, "b"))
		d := distance(a, b)
		if d != distance(b, a) || (d == 0) != (string(a) == string(b)) || d > max(len(a), len(b)) {
			t.Fatalf("distance(%q, %q) = %d", string(a), string(b), d)
		}
	})
}
