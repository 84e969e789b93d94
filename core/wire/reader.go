// Package wire turns patterns, requests and answers into the messages of the
// contracts and back. Encoding trusts what it is given, but for counts;
// decoding trusts nothing: every count, number, name and text is held to a
// bound of bounds.go. That a pattern is sound, that names refer to something
// and that lineage adds up is for others to check.
//
// It also holds what both ends of the line must agree on: the handshake, the
// protocol version and the message limit.
package wire

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Broken says that a message does not keep to the contract. It is a fault of
// whoever sent it.
type Broken struct {
	Message string   // which one: "altered pattern"
	Faults  []string // each with its field; at most maxFaults
	More    int      // how many were not listed
}

// maxFaults is how many faults of one message are listed.
const maxFaults = 10

// Error gives all faults on one line.
func (b *Broken) Error() string {
	s := b.Message + ": " + strings.Join(b.Faults, "; ")
	if b.More > 0 {
		s += fmt.Sprintf("; and %d more", b.More)
	}
	return s
}

// place is a field of a message. It is a chain to the root, so that nothing is
// formatted unless something is wrong.
type place struct {
	up    *place
	field string
	index int // -1 where the field is no list
}

func (p *place) in(field string) *place { return &place{p, field, -1} }

func (p *place) at(field string, index int) *place { return &place{p, field, index} }

func (p *place) String() string {
	if p == nil {
		return ""
	}
	s := p.field
	if p.index >= 0 {
		s += "[" + strconv.Itoa(p.index) + "]"
	}
	if p.up != nil {
		return p.up.String() + "." + s
	}
	return s
}

// reader gathers what is wrong with one message.
type reader struct {
	faults   []string
	more     int
	segments int // of the whole pattern so far
}

func (r *reader) fail(at *place, format string, args ...any) {
	if len(r.faults) == maxFaults {
		r.more++
		return
	}
	r.faults = append(r.faults, at.String()+" "+fmt.Sprintf(format, args...))
}

// err returns what was gathered as a *Broken, or nil.
func (r *reader) err(message string) error {
	if len(r.faults) == 0 {
		return nil
	}
	return &Broken{message, r.faults, r.more}
}

// count reports whether a list is worth going into.
func (r *reader) count(at *place, n, least, most int) bool {
	if n < least {
		r.fail(at, "has %d entries, fewer than %d", n, least)
	} else if n > most {
		r.fail(at, "has %d entries, more than %d", n, most)
	}
	return n <= most
}

// name is for everything a pattern names.
func (r *reader) name(at *place, s string) string {
	if !pattern.ValidDotted(s) {
		r.fail(at, "%s is not a name", show(s))
	}
	return s
}

func (r *reader) optionalName(at *place, s string) string {
	if s == "" {
		return s
	}
	return r.name(at, s)
}

// word is for names of plugins, operations and parameters.
func (r *reader) word(at *place, s string) string {
	if !operation.ValidName(s) {
		r.fail(at, "%s is not a name of a plugin, operation or parameter", show(s))
	}
	return s
}

// once reports a name that was there before.
func (r *reader) once(at *place, seen map[string]bool, s string) {
	if seen[s] {
		r.fail(at, "%s is there twice", show(s))
	}
	seen[s] = true
}

// text is for what people read, on one line.
func (r *reader) text(at *place, s string, most int) string {
	return r.prose(at, s, most, func(c rune) bool { return unicode.IsControl(c) || turnsDirection(c) })
}

// notes may have lines.
func (r *reader) notes(at *place, s string, most int) string {
	return r.prose(at, s, most, func(c rune) bool {
		return c != '\n' && c != '\t' && unicode.IsControl(c) || turnsDirection(c)
	})
}

func (r *reader) required(at *place, s string, most int) string {
	if s == "" {
		r.fail(at, "is empty")
	}
	return r.text(at, s, most)
}

func (r *reader) prose(at *place, s string, most int, bad func(rune) bool) string {
	switch {
	case len(s) > most:
		r.fail(at, "has %d bytes, more than %d", len(s), most)
	case !utf8.ValidString(s):
		r.fail(at, "is not UTF-8")
	default:
		if i := strings.IndexFunc(s, bad); i >= 0 {
			c, _ := utf8.DecodeRuneInString(s[i:])
			r.fail(at, "holds the control character %U", c)
		}
	}
	return s
}

// turnsDirection tells the characters that make a text display as another one:
// the explicit embeddings, overrides and isolates of Unicode Standard Annex 9.
func turnsDirection(c rune) bool {
	return c >= 0x202A && c <= 0x202E || c >= 0x2066 && c <= 0x2069
}

// number holds x to a range, ends included.
func (r *reader) number(at *place, x, least, most float64) float64 {
	switch {
	case math.IsNaN(x) || math.IsInf(x, 0):
		r.fail(at, "is %v, not a finite number", x)
	case x < least || x > most:
		r.fail(at, "is %g, not between %g and %g", x, least, most)
	}
	return x
}

func (r *reader) whole(at *place, x int32, least, most int) int {
	if int(x) < least || int(x) > most {
		r.fail(at, "is %d, not between %d and %d", x, least, most)
	}
	return int(x)
}

// show quotes a stranger's text, shortened.
func show(s string) string {
	if len(s) > pattern.MaxName {
		return strconv.QuoteToASCII(strings.ToValidUTF8(s[:pattern.MaxName], "")) + "…"
	}
	return strconv.QuoteToASCII(s)
}
