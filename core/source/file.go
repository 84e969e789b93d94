// Package source holds the text of a file that was refused: its lines and
// columns, the excerpt with a caret under the place, and the list of what is
// wrong. Every refusal of a file, whatever its format, is shown by it.
package source

import (
	"strings"
	"unicode/utf8"
)

// File is a file's text, cut into lines. Lines end with \n, \r\n or a lone \r.
// Lines and columns count from 1; a column is one rune, whatever its width.
type File struct {
	// Name is what the user called it: a path as it was given.
	Name string

	text   string
	starts []int // byte offset of each line's first byte
}

// NewFile returns the file of that name and text.
func NewFile(name string, data []byte) *File {
	f := &File{Name: name, text: string(data), starts: []int{0}}
	for i := range len(f.text) {
		switch c := f.text[i]; {
		case c == '\n', c == '\r' && (i+1 == len(f.text) || f.text[i+1] != '\n'):
			f.starts = append(f.starts, i+1)
		}
	}
	return f
}

// Lines returns how many lines there are: at least one, the last of them
// empty when the text ends with a line end.
func (f *File) Lines() int { return len(f.starts) }

// Line returns the text of a line without its end; of a line that is not
// there, the empty text.
func (f *File) Line(line int) string {
	if line < 1 || line > len(f.starts) {
		return ""
	}
	from, to := f.starts[line-1], len(f.text)
	if line < len(f.starts) {
		to = f.starts[line]
	}
	return strings.TrimRight(f.text[from:to], "\r\n")
}

// Place returns the line and rune column of a byte offset, clamped to the
// text. An offset inside a rune is that rune's.
func (f *File) Place(offset int) (line, col int) {
	offset = max(0, min(offset, len(f.text)))
	lo, hi := 0, len(f.starts) // the last line that starts at or before offset
	for hi-lo > 1 {
		if m := (lo + hi) / 2; f.starts[m] <= offset {
			lo = m
		} else {
			hi = m
		}
	}
	for offset < len(f.text) && offset > f.starts[lo] && !utf8.RuneStart(f.text[offset]) {
		offset--
	}
	return lo + 1, utf8.RuneCountInString(f.text[f.starts[lo]:offset]) + 1
}

// Offset returns the byte offset of a line and rune column, clamped to the
// line.
func (f *File) Offset(line, col int) int {
	if line < 1 {
		return 0
	}
	if line > len(f.starts) {
		return len(f.text)
	}
	text := f.Line(line)
	n := 1
	for i := range text {
		if n >= col {
			return f.starts[line-1] + i
		}
		n++
	}
	return f.starts[line-1] + len(text)
}

// UTF16 returns the column in UTF-16 code units, as editors and code review
// tools count, of a rune column.
func (f *File) UTF16(line, col int) int {
	units, n := 1, 1
	for _, r := range f.Line(line) {
		if n >= col {
			break
		}
		n++
		units++
		if r > 0xFFFF {
			units++
		}
	}
	return units
}

// Rest returns the text from a byte offset on, clamped to the text.
func (f *File) Rest(offset int) string { return f.text[max(0, min(offset, len(f.text))):] }
