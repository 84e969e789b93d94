package yamlfile

import (
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v4"
	"go.yaml.in/yaml/v4/plugin/loaderlimits"

	"bygone.example/core/source"
)

// The bounds on a file, checked before it is parsed or while it is.
const (
	// MaxSize in bytes: a dress of thirty richly curved pieces takes 100 KB.
	MaxSize = 4 << 20
	// maxEntries bounds lines, list items and keys: two million of them, which
	// fit MaxSize, take 8 s to parse, this many 0.1 s and 58 MB (measured).
	maxEntries = 250_000
	// maxDepth is how deep lists and keys may nest: our forms nest 6 deep.
	maxDepth = 16
	// maxProblems is how many problems are kept of one file.
	maxProblems = 1000
)

// reader gathers what is wrong with one file.
type reader struct {
	file     *source.File
	problems source.Problems
}

// refuse notes what is wrong at a node.
func (r *reader) refuse(n *yaml.Node, remedy, format string, args ...any) {
	r.refuseAt(n.Line, n.Column, remedy, format, args...)
}

func (r *reader) refuseAt(line, col int, remedy, format string, args ...any) {
	if len(r.problems) < maxProblems {
		r.problems.Add(r.file.Problem(line, col, fmt.Sprintf(format, args...), remedy))
	}
}

// load parses the file and returns the mapping at its root; nil when there is
// none, and then why is among the problems.
func load(name string, data []byte) (*reader, *yaml.Node) {
	if len(data) > MaxSize {
		return &reader{problems: source.Problems{{
			File: name, Text: fmt.Sprintf("the file is larger than %d MiB", MaxSize>>20),
			Remedy: "a pattern takes some 100 KB: is this the right file?",
		}}}, nil
	}
	data = []byte(strings.TrimPrefix(string(data), "\ufeff"))
	r := &reader{file: source.NewFile(name, data)}
	if !r.readable(data) {
		return r, nil
	}
	deep := false
	limits := loaderlimits.New(loaderlimits.AliasNone(), loaderlimits.DepthFunc(func(depth int, _ *loaderlimits.DepthContext) error {
		if depth > maxDepth {
			deep = true
			return errors.New("nested too deep")
		}
		return nil
	}))
	var doc []yaml.Node
	if err := yaml.Load(data, &doc, yaml.WithAllDocuments(), yaml.WithPlugin(limits)); err != nil {
		r.syntax(err, deep)
		return r, nil
	}
	switch {
	case len(doc) == 0 || len(doc[0].Content) == 0 || len(doc) == 1 && empty(doc[0].Content[0]):
		r.refuseAt(0, 0, "is this the right file?", "the file is empty")
		return r, nil
	case len(doc) > 1:
		r.refuseAt(doc[1].Line, doc[1].Column, "put each into a file of its own", "a second document starts here")
		return r, nil
	}
	root := doc[0].Content[0]
	if !r.simple(root) {
		return r, nil
	}
	if root.Kind != yaml.MappingNode {
		r.refuse(root, "a file starts with a line such as: bygone: pattern/1", "this is %s, not a file of ours", kindOf(root))
		return r, nil
	}
	return r, root
}

// readable refuses what should not reach the parser: bytes that are no text,
// and floods of small things.
func (r *reader) readable(data []byte) bool {
	entries := 0
	for i := 0; i < len(data); {
		c, size := rune(data[i]), 1
		if c >= utf8.RuneSelf {
			c, size = utf8.DecodeRune(data[i:])
		}
		switch {
		case c == utf8.RuneError && size == 1:
			line, col := r.file.Place(i)
			r.refuseAt(line, col, "save the file as UTF-8 text, or give another file", "this is not UTF-8 text (byte 0x%02X)", data[i])
			return false
		case c < ' ' && c != '\t' && c != '\n' && c != '\r', c == 0x7F, c >= 0x80 && c < 0xA0, c == 0x2028, c == 0x2029, c == 0xFEFF, c == 0xFFFE, c == 0xFFFF:
			line, col := r.file.Place(i)
			r.refuseAt(line, col, "take it out", "there is a character here that no text should hold (U+%04X)", c)
			return false
		case c == ',' || c == '\n' || c == '[' || c == '{':
			entries++
		}
		if entries > maxEntries {
			line, col := r.file.Place(i)
			r.refuseAt(line, col, "is this the right file? A pattern has some hundreds", "the file has more than %d lines and entries", maxEntries)
			return false
		}
		i += size
	}
	return true
}

// simple refuses the parts of YAML that our files do without: aliases,
// anchors and tags.
func (r *reader) simple(n *yaml.Node) bool {
	before := len(r.problems)
	var walk func(n *yaml.Node)
	walk = func(n *yaml.Node) {
		switch {
		case n.Kind == yaml.AliasNode:
			r.refuse(n, "write the thing out again in full", "*%s stands for something written elsewhere", source.Harmless(n.Value, 40))
		case n.Anchor != "":
			r.refuse(n, "take the &"+source.Harmless(n.Anchor, 40)+" out", "&%s marks this to be repeated elsewhere, which our files do not do", source.Harmless(n.Anchor, 40))
		case n.Style&yaml.TaggedStyle != 0:
			r.refuse(n, "take it out", "%s is a tag, which our files do without", source.Harmless(n.Tag, 40))
		}
		for _, c := range n.Content {
			walk(c)
		}
	}
	walk(n)
	return len(r.problems) == before
}

// syntax turns the parser's error into a problem. What it says in words is put
// into ours where a maker would not understand it; the parser's own words are
// the fallback, so nothing depends on them.
func (r *reader) syntax(err error, deep bool) {
	e, ok := errors.AsType[*yaml.LoadError](err)
	if !ok {
		r.refuseAt(0, 0, "", "this is not YAML: %s", source.Harmless(err.Error(), 200))
		return
	}
	line, col := e.Mark.Line, e.Mark.Column
	end := line >= r.file.Lines() && strings.TrimSpace(string([]rune(r.file.Line(line))[min(len([]rune(r.file.Line(line))), max(col-1, 0)):])) == ""
	for end && line > 1 && strings.TrimSpace(r.file.Line(line)) == "" {
		line, col = line-1, len([]rune(r.file.Line(line-1)))+1 // the end of what is there
	}
	opened := e.ContextMark.Line
	const cut = "was the file cut off? Write the rest of it"
	switch msg := e.Message; {
	case deep:
		r.refuseAt(line, col, "a pattern nests six deep: is this the right file?", "lists and keys are nested more than %d deep", maxDepth)
	case strings.Contains(e.ContextMsg, "quoted scalar") && end:
		r.refuseAt(opened, e.ContextMark.Column, "close it, or write the rest of the file if it was cut off", "the file ends inside the quotation that starts here")
	case strings.Contains(e.ContextMsg, "flow") && end && opened > 0 && opened < line:
		r.refuseAt(line, col, cut, "the file ends before the bracket opened in line %d is closed", opened)
	case strings.Contains(e.ContextMsg, "flow") && end:
		r.refuseAt(line, col, cut, "the file ends before a bracket is closed")
	case strings.Contains(e.ContextMsg, "flow") && strings.Contains(msg, "expected") && opened > 0:
		r.refuseAt(line, col, `put a comma between items, and close the brackets after the last`, "the brackets opened in line %d are not closed before this", opened)
	case strings.Contains(msg, "expected ':'") && end:
		r.refuseAt(line, col, cut, "the file ends in the middle of a line")
	case strings.Contains(msg, "expected ':'"):
		r.refuseAt(opened, e.ContextMark.Column, `write it as "key: value"`, `this line has no ":" after its key`)
	case strings.Contains(msg, "mapping values are not allowed"):
		r.refuseAt(line, col, `put quotes around a text that holds ": ", and check the indentation`, `there is a ":" where none can be`)
	case strings.Contains(msg, "tab character"), strings.Contains(msg, "cannot start any token") && strings.Contains(r.file.Line(line), "\t"):
		r.refuseAt(line, col, "indent with spaces", "there is a tab where spaces should be")
	case strings.Contains(msg, "expected key"), strings.Contains(msg, "expected '-'"):
		r.refuseAt(line, col, "start it in the same column as the lines that it belongs with", "this line is not in step with the lines before it")
	default:
		r.refuseAt(line, col, "look at the quotes, brackets and indentation of this line and the one before", "this is not YAML: %s", source.Harmless(msg, 120))
	}
}

// header checks the first key, which says what the file is.
func (r *reader) header(f fields, kind string) bool {
	want := kind + "/1"
	noun := kind
	switch kind {
	case "rules":
		noun = "rules file"
	case "labels":
		noun = "language file"
	}
	n := f.values["bygone"]
	if n == nil {
		r.refuseAt(f.node.Line, f.node.Column, "start the file with: bygone: "+want, "the file does not say that it is a %s", noun)
		return false
	}
	got, version, _ := strings.Cut(n.Value, "/")
	switch {
	case n.Kind == yaml.ScalarNode && n.Value == want:
		return true
	case n.Kind == yaml.ScalarNode && got == kind && version != "":
		r.refuse(n, "this program reads "+want+": a later one may be needed", "the file is in form %s of a %s, which is not known", source.Quote(version), noun)
	case n.Kind == yaml.ScalarNode && (got == "pattern" || got == "chain" || got == "wearer" || got == "rules" || got == "labels") && got != kind:
		r.refuse(n, "give a file that starts with: bygone: "+want, "this is a %s file, where a %s is wanted", got, noun)
	default:
		r.refuse(n, "write: bygone: "+want, "the file does not say that it is a %s", noun)
	}
	return false
}
