package source

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Problem is one thing wrong with a file: where, what, and what to do.
type Problem struct {
	File      string
	Line, Col int // 1-based, Col in runes; 0 when it is the whole file
	// UTF16 is Col in UTF-16 units, as editors count; 0 when Col is.
	UTF16 int
	// Text says what is wrong, Remedy what to do: lower case, no full stop.
	Text, Remedy string
	// Excerpt is the line with its caret, as File.Excerpt draws it; may be empty.
	Excerpt string
}

// Problem returns what is wrong at a line and rune column, excerpt included.
// Line 0 is the file as a whole, column 0 the line's first character that is
// not blank.
func (f *File) Problem(line, col int, text, remedy string) Problem {
	p := Problem{File: f.Name, Text: text, Remedy: remedy}
	if line < 1 {
		return p
	}
	if col < 1 {
		l := f.Line(line)
		col = len(l) - len(strings.TrimLeft(l, " \t")) + 1
	}
	p.Line, p.Col, p.UTF16, p.Excerpt = line, col, f.UTF16(line, col), f.Excerpt(line, col)
	return p
}

// Place returns file:line:col, or what of it there is.
func (p Problem) Place() string {
	name := Harmless(p.File, 4096)
	switch {
	case p.Line < 1:
		return name
	case p.Col < 1:
		return fmt.Sprintf("%s:%d", name, p.Line)
	}
	return fmt.Sprintf("%s:%d:%d", name, p.Line, p.Col)
}

// Error gives the problem as it is shown: the place and what is wrong on the
// first line, the excerpt under it, the remedy last.
func (p Problem) Error() string {
	var b strings.Builder
	b.WriteString(p.Place())
	if b.Len() > 0 {
		b.WriteString(": ")
	}
	b.WriteString(p.Text)
	if p.Excerpt != "" {
		b.WriteString("\n" + p.Excerpt)
	}
	if p.Remedy != "" {
		b.WriteString("\n      = " + p.Remedy)
	}
	return b.String()
}

// Problems is a list of what is wrong. Err makes an error of it.
type Problems []Problem

// Shown is how many problems Error writes out before it only counts.
const Shown = 20

// Add appends a problem.
func (ps *Problems) Add(p ...Problem) { *ps = append(*ps, p...) }

// Err returns the list as an error, sorted by place and without doubles; nil
// when nothing is wrong.
func (ps Problems) Err() error {
	if len(ps) == 0 {
		return nil
	}
	return ps.Sorted()
}

// Sorted returns the list by file and place, each problem once.
func (ps Problems) Sorted() Problems {
	sorted := slices.Clone(ps)
	slices.SortStableFunc(sorted, func(a, b Problem) int {
		return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Col, b.Col),
			cmp.Compare(a.Text, b.Text), cmp.Compare(a.Remedy, b.Remedy))
	})
	return slices.CompactFunc(sorted, func(a, b Problem) bool {
		return a.Place() == b.Place() && a.Text == b.Text && a.Remedy == b.Remedy
	})
}

// Error writes the first Shown problems, an empty line between them, and how
// many more there are.
func (ps Problems) Error() string {
	sorted := ps.Sorted()
	var b strings.Builder
	for i, p := range sorted {
		if i == Shown {
			fmt.Fprintf(&b, "\n\nand %d more", len(sorted)-i)
			break
		}
		if i > 0 {
			b.WriteString("\n\n")
		}
		b.WriteString(p.Error())
	}
	return b.String()
}

var (
	_ error = Problem{}
	_ error = Problems(nil)
)
