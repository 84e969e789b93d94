package paper

import (
	"strings"

	"bygone.example/core/draw"
	"bygone.example/core/geom"
)

// The inks of what stands on the paper beside the pieces.
var (
	hairline = draw.Pen(0.15)
	rule     = draw.Pen(0.25)
	strong   = draw.Pen(0.6)
	solid    = draw.Ink{Fill: draw.Black}
	faint    = draw.Ink{Fill: grey(0xe4)}
	dotted   = draw.Pen(0.25).Dashed(0.5, 1.2)
)

// Sizes of letters on the first sheet, mm of the em: read from a chair.
const (
	bodySize  = 3.1
	headSize  = 4.2
	titleSize = 8.5
	leading   = 1.36
	indent    = 4.4 // of what stands behind a mark
)

// column sets words one under another on a drawing.
type column struct {
	d           *draw.Drawing
	left, width float64
	y           float64 // where the next line's top is
}

// line sets one line and moves down.
func (c *column) line(text string, face draw.Face, size float64) {
	if w := face.Width(text, size); w > c.width {
		size *= c.width / w
	}
	c.d.Write(layerSheet, draw.Text{Words: text, Face: face, Size: size, At: geom.Pt(c.left, c.y-size*draw.CapHeight)})
	c.y -= size * leading
}

// head sets a heading with a rule above it.
func (c *column) head(text string) {
	c.y -= 2
	c.d.Draw(layerSheet, rule, geom.Polyline(geom.Pt(c.left, c.y), geom.Pt(c.left+c.width, c.y)))
	c.y -= 1.8
	c.line(text, draw.Bold, headSize)
	c.y -= 0.4
}

// para sets words broken to the column's width, behind a mark if there is one.
func (c *column) para(mark, text string) {
	in := 0.0
	if mark != "" {
		in = indent
		c.d.Write(layerSheet, draw.Text{Words: mark, Face: draw.Regular, Size: bodySize, At: geom.Pt(c.left, c.y-bodySize*draw.CapHeight)})
	}
	inner := column{d: c.d, left: c.left + in, width: c.width - in, y: c.y}
	for _, l := range broken(text, draw.Regular, bodySize, inner.width) {
		inner.line(l, draw.Regular, bodySize)
	}
	c.y = inner.y - 0.7
}

// box sets words behind a small square to tick.
func (c *column) box(text string) {
	const side = 2.6
	c.d.Draw(layerSheet, rule, rectangle(geom.BoxOf(geom.Pt(c.left, c.y-side), geom.Pt(c.left+side, c.y))))
	c.para(" ", text)
}

// broken breaks a text where it gets wider than width mm. A word that is wider is
// left whole.
func broken(text string, face draw.Face, size, width float64) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		if line != "" && face.Width(line+" "+word, size) > width {
			lines, line = append(lines, line), word
			continue
		}
		line = strings.TrimPrefix(line+" "+word, " ")
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// rectangle returns a box as a path.
func rectangle(b geom.Box) geom.Path {
	p := boxPoints(b)
	return geom.Polyline(append(p, p[0])...)
}

// list is a heading with what stands under it.
type list struct {
	head  string
	items []string
	tick  bool // each has a square to tick
}

// needs is the room an item takes, mm.
func (c *column) needs(item string) float64 {
	return float64(len(broken(item, draw.Regular, bodySize, c.width-indent)))*bodySize*leading + 0.7
}

// headNeeds is the room a heading takes, mm.
const headNeeds = 4.2 + headSize*leading

// needsAll is the room a list takes, mm.
func (c *column) needsAll(l list) float64 {
	sum := headNeeds
	for _, t := range l.items {
		sum += c.needs(t)
	}
	return sum
}

// set puts items of a list into the column while there is room, and returns
// those there was none for. A heading is not left without an item.
func (c *column) set(l list, continued bool) (rest []string) {
	if len(l.items) == 0 {
		return nil
	}
	if c.y < headNeeds+c.needs(l.items[0]) {
		return l.items
	}
	if continued {
		c.head(l.head + ", continued")
	} else {
		c.head(l.head)
	}
	for i, t := range l.items {
		switch {
		case c.y < c.needs(t):
			return l.items[i:]
		case l.tick:
			c.box(t)
		default:
			c.para("", t)
		}
	}
	return nil
}

// flow sets lists into columns one after another, and returns what there was no
// room for.
func flow(lists []list, columns []column) (rest []list) {
	at := 0
	for i, l := range lists {
		all := len(l.items)
		// A list that the next column can hold whole is not broken.
		for at+1 < len(columns) && columns[at].y < columns[at].needsAll(l) && columns[at+1].y >= columns[at+1].needsAll(l) {
			at++
		}
		for at < len(columns) {
			if l.items = columns[at].set(l, len(l.items) < all); len(l.items) == 0 {
				break
			}
			at++
		}
		if len(l.items) > 0 {
			if len(l.items) < all {
				l.head += ", continued"
			}
			return append([]list{l}, lists[i+1:]...)
		}
	}
	return nil
}
