// Package paper lays the pieces of a pattern on the paper that people have:
// tiles from a home printer, plotter sheets, a roll. It packs the pieces so as
// to use few pages, cuts what was laid into pages with an edge to glue, and
// marks every page so that it finds its place.
//
// Lengths are mm of paper, y up. Nothing here reads a file or prints; equal
// input gives equal pages.
package paper

import (
	"fmt"
	"strings"

	"bygone.example/core/operation"
	"bygone.example/core/unit"
)

// Size is a size of paper, standing: Height is not the shorter side, but for a
// size that was given as such. A roll has no height.
type Size struct {
	Name          string // as it is written after --paper
	Width, Height float64
}

const inch = 25.4

// sizes are those with a name. A sizes are of ISO 216; letter (A), tabloid (B)
// of ANSI/ASME Y14.1, Arch E of the same standard's architectural series.
var sizes = []Size{
	{"a4", 210, 297},
	{"a3", 297, 420},
	{"a2", 420, 594},
	{"a1", 594, 841},
	{"a0", 841, 1189},
	{"letter", 8.5 * inch, 11 * inch},
	{"tabloid", 11 * inch, 17 * inch},
	{"arch-e", 36 * inch, 48 * inch},
	{projector, sheetWidth, 0},
}

// projector is no paper: one long page to throw on a cutting table, as wide as
// most cloth.
const projector = "projector"

// Projected reports whether the page is to be thrown on a table, not printed.
func (s Size) Projected() bool { return s.Name == projector }

// The least and the most a side of paper may measure, mm: below a postcard no
// piece can be put together; ten metres are longer than any plotter's sheet.
const (
	smallestSide = 80
	largestSide  = 10000
)

const sizeRemedy = "write a4, a3, a2, a1, a0, letter, tabloid, arch-e, roll:WIDTH as in roll:91cm, WIDTHxHEIGHT as in 50cmx70cm, or projector"

// ParseSize reads the name of a paper, a roll's width as roll:91cm, or a width
// and a height as 50cmx70cm or 50x70cm. Other text is refused with a remedy.
func ParseSize(text string) (Size, error) {
	name := strings.ToLower(strings.TrimSpace(text))
	for _, s := range sizes {
		if s.Name == name {
			return s, nil
		}
	}
	refuse := func(format string, args ...any) (Size, error) {
		return Size{}, &operation.Refusal{Why: fmt.Sprintf(format, args...), Instead: sizeRemedy}
	}
	side := func(of string) (float64, error) {
		mm, err := unit.ParseLength(of)
		switch {
		case err != nil:
			return 0, err
		case mm < smallestSide:
			return 0, fmt.Errorf("%.0f mm is narrower than any paper to put a pattern on", mm)
		case mm > largestSide:
			return 0, fmt.Errorf("%.0f m is longer than any paper", mm/1000)
		}
		return mm, nil
	}
	if width, ok := strings.CutPrefix(name, "roll:"); ok {
		w, err := side(width)
		if err != nil {
			return refuse("the roll %q is no paper: %v", text, err)
		}
		return Size{Name: name, Width: w}, nil
	}
	width, height, ok := strings.Cut(strings.ReplaceAll(name, "×", "x"), "x")
	if !ok || width == "" || height == "" {
		return refuse("there is no paper called %q", text)
	}
	h, err := side(height)
	if err != nil {
		return refuse("%q is no size of paper: %v", text, err)
	}
	w, err := side(width)
	if err != nil {
		// 50x70cm: the unit stands once, after both.
		if w, err = side(width + strings.TrimLeft(height, "0123456789./ ")); err != nil {
			return refuse("%q is no size of paper: %v", text, err)
		}
	}
	return Size{Name: name, Width: w, Height: h}, nil
}

// Roll reports whether the paper comes without an end.
func (s Size) Roll() bool { return s.Height == 0 }

// tiledBelow is the longer side, mm, up to which paper is what a desk printer
// takes, to be put together from pages: A3 and tabloid are the largest.
const tiledBelow = 450

// Tiled reports whether sheets of this size are meant to be joined.
func (s Size) Tiled() bool { return !s.Roll() && max(s.Width, s.Height) <= tiledBelow }

// String tells the size to people.
func (s Size) String() string {
	switch {
	case s.Projected():
		return "a projector's page"
	case s.Roll():
		return fmt.Sprintf("a roll %s wide", cm(s.Width))
	case strings.HasPrefix(s.Name, "a"):
		return strings.ToUpper(s.Name[:1]) + strings.ReplaceAll(s.Name[1:], "-e", " E")
	case s.Name == "letter" || s.Name == "tabloid":
		return strings.ToUpper(s.Name[:1]) + s.Name[1:]
	}
	return fmt.Sprintf("%s × %s", cm(s.Width), cm(s.Height))
}

// cm prints a length for people.
func cm(mm float64) string { return strings.TrimSuffix(fmt.Sprintf("%.1f", mm/10), ".0") + " cm" }
