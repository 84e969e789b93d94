package source

import (
	"fmt"
	"strings"
	"unicode"

	"golang.org/x/text/width"
)

const (
	// excerptWidth is how many columns of a line are shown: with the number in
	// front of it, it fits a terminal of 80.
	excerptWidth = 70
	// tabStop is how far apart tabs are shown.
	tabStop = 4
	// maxLineRunes is how much of one line is looked at on either side of the
	// place; the rest could not be shown anyway.
	maxLineRunes = 2 * excerptWidth
)

// Excerpt returns the line with a caret under the column, in two lines without
// a final line end:
//
//	12 |     edge: neckine
//	   |           ^
//
// Tabs are widened, a long line is cut to what lies around the caret, wide
// characters take two columns, and what a terminal would obey is shown as a
// harmless sign. A line that is not there gives the empty text.
func (f *File) Excerpt(line, col int) string {
	if line < 1 || line > len(f.starts) {
		return ""
	}
	cells, caret := layOut(f.Line(line), col)
	from, to := window(cells, caret)
	var text strings.Builder
	pad := 0
	if from > 0 {
		text.WriteString("…")
		pad++
	}
	for i := from; i < to; i++ {
		text.WriteString(cells[i].text)
		if i < caret {
			pad += cells[i].width
		}
	}
	if to < len(cells) {
		text.WriteString("…")
	}
	number := fmt.Sprintf("%5d", line)
	shown := strings.TrimRight(number+" | "+text.String(), " ")
	return shown + "\n" + strings.Repeat(" ", len(number)) + " | " + strings.Repeat(" ", pad) + "^"
}

// cell is one rune as it is shown.
type cell struct {
	text  string
	width int
}

// layOut turns the part of a line near the column into cells; caret is the
// index of the column's own, or one past the last.
func layOut(line string, col int) (cells []cell, caret int) {
	col = max(col, 1)
	skip := max(0, col-1-maxLineRunes)
	n, at := 0, 0
	for _, r := range line {
		n++
		if n <= skip {
			continue
		}
		if n > col+maxLineRunes {
			break
		}
		if n == col {
			caret = len(cells)
		}
		c := show(r, at)
		at += c.width
		cells = append(cells, c)
	}
	if n < col {
		caret = len(cells)
	}
	return cells, caret
}

// show returns a rune as it may be printed at a column.
func show(r rune, at int) cell {
	switch {
	case r == '\t':
		w := tabStop - at%tabStop
		return cell{strings.Repeat(" ", w), w}
	case r < 0x20:
		return cell{string(rune(0x2400 + r)), 1} // ␀ to ␟
	case r == 0x7F:
		return cell{"␡", 1}
	case unicode.Is(unicode.Mn, r) || unicode.Is(unicode.Me, r):
		return cell{string(r), 0}
	case r != ' ' && !unicode.IsPrint(r): // C1 controls, overrides of direction, no-break spaces
		return cell{"�", 1}
	}
	switch width.LookupRune(r).Kind() {
	case width.EastAsianWide, width.EastAsianFullwidth:
		return cell{string(r), 2}
	}
	return cell{string(r), 1}
}

// window returns the cells to show: all when they fit, else what lies around
// the caret.
func window(cells []cell, caret int) (from, to int) {
	total := 0
	for _, c := range cells {
		total += c.width
	}
	if total <= excerptWidth {
		return 0, len(cells)
	}
	// Two thirds of the room before the caret: what leads up to a mistake tells
	// more than what follows.
	from, room := caret, excerptWidth*2/3
	for from > 0 && room-cells[from-1].width >= 0 {
		from--
		room -= cells[from].width
	}
	to, room = from, excerptWidth
	for to < len(cells) && room-cells[to].width >= 0 {
		room -= cells[to].width
		to++
	}
	for from > 0 && room-cells[from-1].width >= 0 {
		from--
		room -= cells[from].width
	}
	return from, to
}

// Harmless returns a stranger's text fit to print on one line: cut to limit
// runes, and with nothing in it that a terminal would obey.
func Harmless(s string, limit int) string {
	var b strings.Builder
	n := 0
	for _, r := range s {
		if n++; n > limit {
			b.WriteString("…")
			break
		}
		if r == '\t' || r == '\n' {
			r = ' '
		}
		b.WriteString(show(r, 0).text)
	}
	return b.String()
}

// maxQuoted is how many runes of a stranger's word a message repeats.
const maxQuoted = 48

// Quote returns a stranger's text in quotes, harmless and not too long.
func Quote(s string) string { return `"` + Harmless(s, maxQuoted) + `"` }
