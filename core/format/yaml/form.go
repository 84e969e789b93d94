package yamlfile

import (
	"fmt"
	"slices"

	"go.yaml.in/yaml/v4"
)

// form is a set of keys: what the reader takes, and what a JSON Schema says. The
// reader asks it which keys there are, which must be there and of what kind each
// is, so that the two cannot drift apart.
type form struct {
	what   string // "the edge", for messages and as the schema's description
	fields []field
}

// field is one key of a form.
type field struct {
	key  string
	kind kind
	help string // what it says, for a schema's reader
	must string // the remedy when it is missing; empty where it may be
	// Of some kinds only:
	words    []string // of a choice
	of       *form    // of a group, or of the items of a list
	keys     []string // of a table: the keys it may have; none, and any name will do
	min, max float64  // of numbers, both included, where they are not both 0
	with     string   // a key that must be there when this one is
	then     []string // of a choice: a word, and the key that must be there with it
}

// kind is the sort of a value.
type kind string

const (
	headerKind  kind = "header"  // pattern/1
	nameKind    kind = "name"    // pattern.ValidName
	dottedKind  kind = "dotted"  // pattern.ValidDotted
	opKind      kind = "op"      // plugin.operation
	lineKind    kind = "line"    // one line of text
	textKind    kind = "text"    // any number of lines
	fileKind    kind = "file"    // a file's name, from the folder of this one
	withinKind  kind = "within"  // a file's name, in the folder of this one or below
	codeKind    kind = "code"    // of a finding
	pathKind    kind = "path"    // SVG path data
	choiceKind  kind = "choice"  // one of words
	numberKind  kind = "number"  // a plain number
	countKind   kind = "count"   // a whole number
	yesKind     kind = "yes"     // true or false
	lengthKind  kind = "length"  // a length with its unit
	valueKind   kind = "value"   // what a step is set to
	pointKind   kind = "point"   // [x, y]
	rangeKind   kind = "range"   // [least, most]
	stretchKind kind = "stretch" // [[x, y], [x, y]]
	refsKind    kind = "refs"    // [piece/edge, …]
	sideKind    kind = "side"    // refs, or mirror
	meetingKind kind = "meeting" // a choice of words, or a group
	groupKind   kind = "group"   // keys of another form
	listKind    kind = "list"    // items of another form
	filesKind   kind = "files"   // names and a file each
	settingKind kind = "setting" // names and a value each, or a group
	measureKind kind = "measure" // keys, and a length each
	boundsKind  kind = "bounds"  // keys, and a number each
	phraseKind  kind = "phrases" // keys, and a phrase with its blanks each
	callsKind   kind = "calls"   // names, and what they are called
)

// keys lists the form's keys in order.
func (m *form) keys() []string {
	list := make([]string, len(m.fields))
	for i, f := range m.fields {
		list[i] = f.key
	}
	return list
}

// field returns the field of that key, or nil.
func (m *form) field(key string) *field {
	if i := slices.IndexFunc(m.fields, func(f field) bool { return f.key == key }); i >= 0 {
		return &m.fields[i]
	}
	return nil
}

// form reads a mapping of that form.
func (r *reader) form(n *yaml.Node, m *form) (fields, bool) {
	f, ok := r.fields(n, m.what, m.keys()...)
	f.form = m
	return f, ok
}

// need refuses a key that its form says must be there, and is not.
func (r *reader) need(f fields, key string) bool {
	return r.require(f, key, f.takes(key).must)
}

// takes returns the field of a key, which is of one of the kinds. That the
// reader reads a key otherwise than its form says is a fault of ours that any
// file shows, and no file can cause.
func (f fields) takes(key string, kinds ...kind) *field {
	if f.form == nil {
		return nil // keys that any file may choose
	}
	d := f.form.field(key)
	if d == nil || len(kinds) > 0 && !slices.Contains(kinds, d.kind) {
		panic(fmt.Sprintf("yamlfile: %s of %s is read as %v, which its form does not say", key, f.form.what, kinds))
	}
	return d
}
