package pathdata

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"bygone.example/core/geom"
	"bygone.example/core/unit"
)

// Parse reads path data that draws one open path. Quadratic curves become
// cubics exactly, arcs within ArcTolerance. An error is an *Error. Refused
// are: a second M, since a path is one stretch; Z, since whoever holds the
// paths of a shape closes it by letting the last end where the first starts;
// path data that draws nothing; coordinates beyond unit.MaxLength; and more
// than MaxSegments.
func Parse(d string) (geom.Path, error) {
	p := &parser{text: d}
	if err := p.run(); err != nil {
		return nil, err
	}
	return p.path, nil
}

type parser struct {
	text string
	at   int // byte offset of what is read next

	path geom.Path
	pen  geom.Point
	// handle is the control point that S or T mirrors, after an S, C or T, Q;
	// last is the command, upper case, that drew it.
	handle geom.Point
	last   byte
}

// needs is how many numbers each command takes.
var needs = map[byte]int{'M': 2, 'L': 2, 'H': 1, 'V': 1, 'C': 6, 'S': 4, 'Q': 4, 'T': 2, 'A': 7}

func (p *parser) run() error {
	p.space()
	if p.at == len(p.text) {
		return p.refuse(0, "the path is empty", "start it with M and the first point, for instance M 0 0 L 0 100")
	}
	for p.at < len(p.text) {
		start, c := p.at, p.text[p.at]
		upper := c &^ 0x20
		switch {
		case needs[upper] == 0 && upper != 'Z' || c < 'A':
			return p.unexpected("a command", "a path is made of M, L, H, V, C, S, Q, T and A, each followed by its numbers")
		case start == p.firstByte() && upper != 'M':
			return p.refuse(start, fmt.Sprintf("the path starts with %c", c), "start it with M and the first point")
		case upper == 'M' && start != p.firstByte():
			return p.refuse(start, "the path has a second M, so it is drawn in two parts", "an edge is one stretch without gaps: leave the second M out, or make two edges of it")
		case upper == 'Z':
			return p.refuse(start, fmt.Sprintf("%c closes the path, but an edge is open", c),
				"leave it out: a piece closes where its last edge ends on the start of the first")
		}
		p.at++
		if err := p.command(start, upper, c != upper); err != nil {
			return err
		}
	}
	if len(p.path) == 0 {
		return p.refuse(0, "the path has a start but draws nothing", "add where it goes, for instance L 0 100")
	}
	return nil
}

// firstByte is the offset of the first byte that is not a space.
func (p *parser) firstByte() int {
	return len(p.text) - len(strings.TrimLeft(p.text, spaces))
}

// command draws one command as often as there are numbers for it.
func (p *parser) command(start int, c byte, relative bool) error {
	first := true
	for {
		p.space()
		if !first {
			comma := p.at < len(p.text) && p.text[p.at] == ','
			if comma {
				p.at++
				p.space()
			}
			if !p.numberAhead() {
				if comma {
					return p.unexpected("a number after the comma", "take the comma out, or write the missing numbers")
				}
				return nil
			}
		}
		var v [7]float64
		n := needs[c]
		for i := range n {
			if err := p.argument(&v[i], start, i, n, c == 'A' && (i == 3 || i == 4)); err != nil {
				return err
			}
		}
		if err := p.draw(start, c, v, relative); err != nil {
			return err
		}
		if c == 'M' {
			c = 'L' // further pairs after M are lines
		}
		first = false
	}
}

func (p *parser) draw(start int, c byte, v [7]float64, relative bool) error {
	from := p.pen
	base := geom.Point{}
	if relative {
		base = from
	}
	pt := func(i int) geom.Point { return geom.Pt(v[i], v[i+1]).Add(base) }
	mirrored := func(by string) geom.Point {
		if strings.IndexByte(by, p.last) >= 0 {
			return from.Mul(2).Sub(p.handle)
		}
		return from
	}
	to, handle := from, from
	var drawn geom.Path
	switch c {
	case 'M':
		to = pt(0)
		handle = to
	case 'L':
		to = pt(0)
		drawn = geom.Path{geom.Line(from, to)}
	case 'H':
		to.X = v[0] + base.X
		drawn = geom.Path{geom.Line(from, to)}
	case 'V':
		to.Y = v[0] + base.Y
		drawn = geom.Path{geom.Line(from, to)}
	case 'C':
		handle, to = pt(2), pt(4)
		drawn = geom.Path{geom.Cubic(from, pt(0), handle, to)}
	case 'S':
		handle, to = pt(0), pt(2)
		drawn = geom.Path{geom.Cubic(from, mirrored("CS"), handle, to)}
	case 'Q':
		handle, to = pt(0), pt(2)
		drawn = geom.Path{geom.Quadratic(from, handle, to)}
	case 'T':
		handle, to = mirrored("QT"), pt(0)
		drawn = geom.Path{geom.Quadratic(from, handle, to)}
	case 'A':
		to = pt(5)
		drawn = arc(from, math.Abs(v[0]), math.Abs(v[1]), v[2]*math.Pi/180, v[3] != 0, v[4] != 0, to)
	}
	if !within(to) || !withinAll(drawn) {
		return p.refuse(start, fmt.Sprintf("the path runs beyond %s mm here", unit.Float(unit.MaxLength)), "coordinates are mm: check the unit and the numbers")
	}
	if len(p.path)+len(drawn) > MaxSegments {
		return p.refuse(start, fmt.Sprintf("the path has more than %d lines and curves", MaxSegments), "redraw it with fewer, longer curves")
	}
	p.path = append(p.path, drawn...)
	p.pen, p.handle, p.last = to, handle, c
	return nil
}

func within(q geom.Point) bool {
	return math.Abs(q.X) <= unit.MaxLength && math.Abs(q.Y) <= unit.MaxLength // false of NaN
}

func withinAll(path geom.Path) bool {
	for _, s := range path {
		if !within(s.P1) || s.Curved && !(within(s.C1) && within(s.C2)) {
			return false
		}
	}
	return true
}

// argument reads the i-th of n numbers of the command that starts at start.
func (p *parser) argument(v *float64, start, i, n int, flag bool) error {
	p.space()
	if i > 0 && p.at < len(p.text) && p.text[p.at] == ',' {
		p.at++
		p.space()
	}
	if flag {
		if p.at < len(p.text) && (p.text[p.at] == '0' || p.text[p.at] == '1') {
			*v = float64(p.text[p.at] - '0')
			p.at++
			return nil
		}
		return p.unexpected("0 or 1", "the fourth and fifth number of an arc are 0 or 1: which of the four arcs it is")
	}
	if !p.numberAhead() {
		what := "a number"
		if p.at == len(p.text) || isCommand(p.text[p.at]) {
			what = fmt.Sprintf("number %d of the %d that %c takes", i+1, n, p.text[start])
		}
		return p.unexpected(what, "")
	}
	from := p.at
	p.at += numberLength(p.text[from:])
	written := p.text[from:p.at]
	x, err := strconv.ParseFloat(written, 64)
	if err != nil || math.Abs(x) > unit.MaxLength {
		return p.refuse(from, fmt.Sprintf("%s is beyond %s mm", shorten(written), unit.Float(unit.MaxLength)), "coordinates are mm: check the unit and the number")
	}
	*v = x
	return nil
}

// spaces are the characters that path data may have between its parts.
const spaces = " \t\n\r\f"

func (p *parser) space() {
	for p.at < len(p.text) && strings.IndexByte(spaces, p.text[p.at]) >= 0 {
		p.at++
	}
}

func isCommand(c byte) bool { u := c &^ 0x20; return c >= 'A' && (needs[u] > 0 || u == 'Z') }

func (p *parser) numberAhead() bool { return numberLength(p.text[p.at:]) > 0 }

// numberLength returns how many bytes of s are a number, 0 for none: sign,
// digits, point, digits, exponent.
func numberLength(s string) int {
	i, digits := 0, 0
	if i < len(s) && (s[i] == '+' || s[i] == '-') {
		i++
	}
	run := func() (n int) {
		for i < len(s) && s[i] >= '0' && s[i] <= '9' {
			i++
			n++
		}
		return n
	}
	digits = run()
	if i < len(s) && s[i] == '.' {
		i++
		digits += run()
	}
	if digits == 0 {
		return 0
	}
	end := i
	if i < len(s) && (s[i] == 'e' || s[i] == 'E') {
		i++
		if i < len(s) && (s[i] == '+' || s[i] == '-') {
			i++
		}
		if run() > 0 {
			return i
		}
	}
	return end
}

func (p *parser) refuse(offset int, text, remedy string) error {
	return &Error{Offset: offset, Text: text, Remedy: remedy}
}

// unexpected refuses what stands at p.at, where want should be.
func (p *parser) unexpected(want, remedy string) error {
	if p.at == len(p.text) {
		if remedy == "" {
			remedy = "write the rest of the path; was the file cut off?"
		}
		return p.refuse(p.at, fmt.Sprintf("the path ends where %s should be", want), remedy)
	}
	if remedy == "" {
		remedy = "coordinates are plain numbers in mm, x and y by turns"
	}
	return p.refuse(p.at, fmt.Sprintf("%s where %s should be", shorten(word(p.text[p.at:])), want), remedy)
}

// word returns the first rune of s, or the letters and digits it begins with.
func word(s string) string {
	n := strings.IndexFunc(s, func(r rune) bool {
		return (r < '0' || r > '9') && (r < 'A' || r > 'Z') && (r < 'a' || r > 'z')
	})
	switch {
	case n > 0:
		return s[:n]
	case n < 0:
		return s
	}
	_, size := utf8.DecodeRuneInString(s)
	return s[:size]
}

// shorten quotes a stranger's text, cut to what a line can hold.
func shorten(s string) string {
	if len(s) > 24 {
		s = s[:24] + "…"
	}
	return strconv.Quote(s)
}
