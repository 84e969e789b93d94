package yamlfile

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"go.yaml.in/yaml/v4"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
	"bygone.example/core/source"
	"bygone.example/core/spelling"
	"bygone.example/core/unit"
)

// fields are the keys of one mapping.
type fields struct {
	node   *yaml.Node
	what   string // "the edge", for messages
	keys   map[string]*yaml.Node
	values map[string]*yaml.Node
	order  []string // of the keys that are known
	// unknown keys were refused; what one of them was meant to be is not missed.
	unknown []string
	form    *form // nil where any key will do
}

// lookUp returns the value of a mapping's key, nil when it has none.
func lookUp(n *yaml.Node, key string) *yaml.Node {
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			return n.Content[i+1]
		}
	}
	return nil
}

// has reports whether the key is there with anything after it.
func (f fields) has(key string) bool { return f.values[key] != nil && !empty(f.values[key]) }

// empty reports whether a node is what YAML makes of nothing: no value, ~, null.
func empty(n *yaml.Node) bool {
	return n.Kind == yaml.ScalarNode && n.Style&(yaml.SingleQuotedStyle|yaml.DoubleQuotedStyle|yaml.LiteralStyle|yaml.FoldedStyle) == 0 && n.ShortTag() == "!!null"
}

// kindOf names a node's type in words.
func kindOf(n *yaml.Node) string {
	switch {
	case n.Kind == yaml.SequenceNode:
		return "a list"
	case n.Kind == yaml.MappingNode:
		return "a set of keys"
	case empty(n):
		return "nothing"
	}
	return source.Quote(n.Value)
}

// fields reads a mapping. Known lists the keys it may have; none, and any will
// do. Keys that are wrong are refused and left out.
func (r *reader) fields(n *yaml.Node, what string, known ...string) (fields, bool) {
	f := fields{node: n, what: what, keys: map[string]*yaml.Node{}, values: map[string]*yaml.Node{}}
	if n.Kind != yaml.MappingNode {
		remedy := ""
		if len(known) > 0 {
			remedy = `write it with its keys, for instance {` + known[0] + `: …}`
		}
		r.refuse(n, remedy, "%s should have keys, but is %s", what, kindOf(n))
		return f, false
	}
	if name := lookUp(n, "name"); name != nil && name.Kind == yaml.ScalarNode && name.Value != "" && slices.Contains(known, "name") {
		f.what += " " + source.Quote(name.Value)
	}
	for i := 0; i+1 < len(n.Content) && len(r.problems) < maxProblems; i += 2 {
		k, v := n.Content[i], n.Content[i+1]
		if k.Kind != yaml.ScalarNode {
			r.refuse(k, "write a word", "%s cannot be a key", kindOf(k))
			continue
		}
		if first, ok := f.keys[k.Value]; ok {
			r.refuse(k, fmt.Sprintf("keep one of them; the first is in line %d", first.Line), "%s has the key %s twice", f.what, source.Quote(k.Value))
			continue
		}
		f.keys[k.Value], f.values[k.Value] = k, v
		if len(known) > 0 && !slices.Contains(known, k.Value) {
			r.refuse(k, spelling.Remedy(k.Value, known), "%s has no key %s", f.what, source.Quote(k.Value))
			f.unknown = append(f.unknown, k.Value)
			continue
		}
		f.order = append(f.order, k.Value)
	}
	return f, true
}

// require refuses a key that is missing, or has nothing or an empty list after
// it.
func (r *reader) require(f fields, key, remedy string) bool {
	if n := f.values[key]; f.has(key) && !(n.Kind == yaml.SequenceNode && len(n.Content) == 0) {
		return true
	}
	meant := slices.ContainsFunc(f.unknown, func(u string) bool {
		near, ok := spelling.Nearest(u, []string{key})
		return ok && near == key
	})
	switch k := f.keys[key]; {
	case k != nil:
		r.refuse(k, remedy, "%s has nothing after %s", f.what, key)
	case !meant:
		r.refuse(f.node, remedy, "%s has no %s", f.what, key)
	}
	return false
}

// list returns the items of a list; none when the key is absent, or wrong and
// refused.
func (r *reader) list(f fields, key string) []*yaml.Node {
	f.takes(key, listKind, refsKind, sideKind)
	if !f.has(key) {
		return nil
	}
	n := f.values[key]
	if n.Kind != yaml.SequenceNode {
		r.refuse(n, `write a list: each item on a line of its own after "- "`, "%s should be a list, but is %s", key, kindOf(n))
		return nil
	}
	if len(n.Content) > pattern.MaxCount {
		r.refuse(n, "is this the right file?", "there are %d %s, more than %d", len(n.Content), key, pattern.MaxCount)
		return nil
	}
	return n.Content
}

// scalar returns a key's single value; ok is false when the key is absent, or
// wrong and refused.
func (r *reader) scalar(f fields, key string) (n *yaml.Node, ok bool) {
	if !f.has(key) {
		return nil, false
	}
	n = f.values[key]
	if n.Kind != yaml.ScalarNode {
		r.refuse(n, "write it as one value after the colon", "%s should be one value, but is %s", key, kindOf(n))
		return n, false
	}
	return n, true
}

// maxLine is the longest text in bytes that is printed on one line: more than
// any title or source needs, and little enough for a message.
const maxLine = 500

// word returns a key's text, one line; empty when absent.
func (r *reader) word(f fields, key string) string {
	f.takes(key, lineKind, nameKind, dottedKind, opKind, fileKind, withinKind, codeKind, pathKind, valueKind)
	return r.textOf(f, key, false)
}

// text returns a key's text, of any number of lines; empty when absent.
func (r *reader) text(f fields, key string) string {
	f.takes(key, textKind)
	return r.textOf(f, key, true)
}

func (r *reader) textOf(f fields, key string, lines bool) string {
	n, ok := r.scalar(f, key)
	if !ok {
		return ""
	}
	if !lines && len(n.Value) > maxLine {
		r.refuse(n, "shorten it; what is longer goes into notes", "%s is longer than %d characters", key, maxLine)
		return ""
	}
	for _, c := range n.Value {
		if c == '\n' && !lines {
			r.refuse(n, "write it on one line", "%s should be one line of text", key)
			return ""
		}
		if c != '\n' && !(c == '\t' && lines) && unfit(c) {
			r.refuse(n, "take it out", "%s holds a character that no text should (U+%04X)", key, c)
			return ""
		}
	}
	return n.Value
}

// unfit reports whether a rune has no place in text that will be shown:
// controls, line separators, overrides of writing direction.
func unfit(c rune) bool {
	return unicode.Is(unicode.Cc, c) || c == 0x2028 || c == 0x2029 || c == 0xFEFF || c == unicode.ReplacementChar ||
		c >= 0x202A && c <= 0x202E || c >= 0x2066 && c <= 0x2069
}

// choice returns one of the words that have a meaning; absent, or wrong and
// refused, fallback.
func choice[T ~string](r *reader, f fields, key string, fallback T, words map[string]T) T {
	f.takes(key, choiceKind, meetingKind)
	n, ok := r.scalar(f, key)
	if !ok {
		return fallback
	}
	v, ok := words[n.Value]
	if !ok {
		r.refuse(n, spelling.Remedy(n.Value, sortedKeys(words)), "%s cannot be %s", key, source.Quote(n.Value))
		return fallback
	}
	return v
}

func sortedKeys[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

// number returns a key's number in mm, rounded to what files keep; absent, or
// wrong and refused, 0.
func (r *reader) number(f fields, key string) float64 {
	f.takes(key, numberKind)
	n, ok := r.scalar(f, key)
	if !ok {
		return 0
	}
	v, _ := r.numeral(n, key)
	return v
}

// count returns a key's whole number.
func (r *reader) count(f fields, key string, fallback int) int {
	f.takes(key, countKind)
	n, ok := r.scalar(f, key)
	if !ok {
		return fallback
	}
	v, ok := r.numeral(n, key)
	if ok && v != math.Trunc(v) {
		r.refuse(n, "write a whole number", "%s is %s, which is not a whole number", key, source.Quote(n.Value))
		return fallback
	}
	if !ok {
		return fallback
	}
	return int(v)
}

func (r *reader) yes(f fields, key string) bool {
	f.takes(key, yesKind)
	n, ok := r.scalar(f, key)
	if !ok {
		return false
	}
	switch n.Value {
	case "true", "yes":
		return true
	case "false", "no":
		return false
	}
	r.refuse(n, "write true or false", "%s is %s, neither true nor false", key, source.Quote(n.Value))
	return false
}

// numeral reads a plain number. What names it in messages.
func (r *reader) numeral(n *yaml.Node, what string) (float64, bool) {
	if n.Kind != yaml.ScalarNode || empty(n) {
		r.refuse(n, "write a number in mm", "%s should be a number, but is %s", what, kindOf(n))
		return 0, false
	}
	s := n.Value
	if n.Style&(yaml.SingleQuotedStyle|yaml.DoubleQuotedStyle|yaml.LiteralStyle|yaml.FoldedStyle) != 0 {
		r.refuse(n, "write the number without quotes", "%s should be a number, but is text", what)
		return 0, false
	}
	if strings.Trim(s, "+-.0123456789eE") == "" && strings.ContainsAny(s, "0123456789") {
		v, err := strconv.ParseFloat(s, 64)
		switch {
		case math.Abs(v) > unit.MaxLength:
			r.refuse(n, "numbers are mm: check the unit and the number", "%s is %s, beyond %s mm", what, source.Harmless(s, 40), unit.Float(unit.MaxLength))
			return 0, false
		case err == nil:
			return unit.Round(v), true
		}
	}
	remedy := "write a plain number in mm, for instance 12.5"
	if mm, err := unit.ParseLength(s); err == nil {
		remedy = "lengths in a pattern file are plain mm: write " + unit.Float(mm)
	}
	switch strings.ToLower(strings.TrimLeft(s, "+-.")) {
	case "nan", "inf", "infinity":
		r.refuse(n, remedy, "%s is %s, which is not an ordinary number", what, source.Harmless(s, 40))
	default:
		r.refuse(n, remedy, "%s should be a number, but is %s", what, source.Quote(s))
	}
	return 0, false
}

// pair reads [a, b].
func (r *reader) pair(n *yaml.Node, what, example string) (a, b float64, ok bool) {
	if n.Kind != yaml.SequenceNode || len(n.Content) != 2 {
		got := kindOf(n)
		if n.Kind == yaml.SequenceNode {
			got = fmt.Sprintf("a list of %d", len(n.Content))
		}
		r.refuse(n, "write two numbers in brackets, for instance "+example, "%s should be two numbers, but is %s", what, got)
		return 0, 0, false
	}
	a, okA := r.numeral(n.Content[0], what)
	b, okB := r.numeral(n.Content[1], what)
	return a, b, okA && okB
}

// point reads a key's [x, y].
func (r *reader) point(f fields, key string) geom.Point {
	f.takes(key, pointKind)
	if !f.has(key) {
		return geom.Point{}
	}
	x, y, _ := r.pair(f.values[key], key, "[95, 180]")
	return geom.Pt(x, y)
}
