package paper

import (
	"math"
	"strings"
	"testing"
)

func TestParseSize(t *testing.T) {
	tests := []struct {
		text          string
		width, height float64
	}{
		// ISO 216:2007, trimmed sizes.
		{"a4", 210, 297}, {"A3", 297, 420}, {"a2", 420, 594}, {"a1", 594, 841}, {"a0", 841, 1189},
		// ANSI/ASME Y14.1: A 8.5 × 11 in, B 11 × 17 in, Arch E 36 × 48 in.
		{"letter", 215.9, 279.4}, {"tabloid", 279.4, 431.8}, {"arch-e", 914.4, 1219.2},
		{"roll:91cm", 910, 0}, {"roll:36in", 914.4, 0},
		{"50cmx70cm", 500, 700}, {"50x70cm", 500, 700}, {"20in x 30in", 508, 762}, {"300mm×400mm", 300, 400},
	}
	for _, test := range tests {
		got, err := ParseSize(test.text)
		if err != nil || math.Abs(got.Width-test.width) > 1e-9 || math.Abs(got.Height-test.height) > 1e-9 {
			t.Errorf("ParseSize(%q) = %v × %v, %v, want %v × %v", test.text, got.Width, got.Height, err, test.width, test.height)
		}
	}
	for _, text := range []string{"", "a9", "quarto", "roll:", "roll:91", "roll:-5cm", "roll:1mm", "x", "50x70", "1cmx1cm", "90mx90m", "NaNxNaN", strings.Repeat("x", 1000)} {
		if got, err := ParseSize(text); err == nil {
			t.Errorf("ParseSize(%q) = %v, want a refusal", text, got)
		} else if !strings.Contains(err.Error(), "roll:WIDTH") {
			t.Errorf("ParseSize(%q): %v: no word about what to write", text, err)
		}
	}
}

func TestGridRefusals(t *testing.T) {
	a4 := Size{"a4", 210, 297}
	for _, test := range []struct {
		grid Grid
		want string
	}{
		{Grid{a4, 120, 10}, "wider than the page"},
		{Grid{a4, 105, 0}, "wider than the page"},
		{Grid{a4, 70, 30}, "leave"},
		{Grid{a4, -1, 10}, "less than nothing"},
		{Grid{a4, math.NaN(), 10}, "less than nothing"},
		{Grid{Size{"roll:91cm", 910, 0}, 500, 0}, "wider than the page"},
	} {
		if err := test.grid.Validate(); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%v: %v, want %q", test.grid, err, test.want)
		}
	}
	if err := (Grid{a4, DefaultMargin, DefaultOverlap}).Validate(); err != nil {
		t.Error(err)
	}
}

func TestTileName(t *testing.T) {
	for tile, want := range map[Tile]string{{0, 0}: "A1", {1, 2}: "B3", {25, 0}: "Z1", {26, 9}: "AA10", {27, 0}: "AB1"} {
		if got := tile.Name(); got != want {
			t.Errorf("%v is called %s, want %s", tile, got, want)
		}
	}
}
