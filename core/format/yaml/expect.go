package yamlfile

import (
	"errors"
	"strings"

	"go.yaml.in/yaml/v4"

	"bygone.example/core/chain"
	"bygone.example/core/source"
	"bygone.example/core/unit"
)

// fileFits refuses what cannot be the name of a file that a chain file names; what is
// it is the file of is said in messages.
func (r *reader) fileFits(n *yaml.Node, what, file, example string) bool {
	switch {
	case strings.TrimSpace(file) == "":
		r.refuse(n, "write its file after it, for instance "+example, "%s has no file", what)
	case file == "-":
		r.refuse(n, "name a file", "%s cannot come from standard input", what)
	case strings.Contains(file, `\`):
		r.refuse(n, "write / between folders, which every system reads", "the file of %s has a backslash in it", what)
	case strings.HasPrefix(file, "/") || len(file) > 1 && file[1] == ':':
		r.refuse(n, "write it as seen from the folder of the chain file, so that the chain runs elsewhere too", "the file of %s is named from the root of this machine", what)
	default:
		return true
	}
	return false
}

// The bounds in mm on the tolerance of an expectation: what files round away,
// and more than is seen on any garment.
const (
	minExpectTolerance = 0.00001
	maxExpectTolerance = 100
)

// expectations reads what a chain is tried on. Whether the files are there is
// for the program to say.
func (r *reader) expectations(f fields) (list []chain.Expectation) {
	for _, n := range r.list(f, "expect") {
		before := len(r.problems)
		e, ok := r.form(n, expectForm)
		if !ok {
			continue
		}
		x := chain.Expectation{Line: n.Line, Col: n.Column}
		if r.need(e, "pattern") {
			at := e.values["pattern"]
			x.Line, x.Col = at.Line, at.Column
			x.Pattern = r.fileOf(e, "pattern", "pattern: ../patterns/stock-dress.yaml")
		}
		if r.need(e, "result") {
			x.Result = r.fileOf(e, "result", "result: expected/stock-dress.yaml")
		}
		if e.has("wearer") {
			x.Wearer = r.fileOf(e, "wearer", "wearer: ../wearers/lead.yaml")
		}
		x.Tolerance = r.tolerance(e)
		if len(r.problems) == before {
			list = append(list, x)
		}
	}
	return list
}

// fileOf reads the name of a file.
func (r *reader) fileOf(f fields, key, example string) string {
	before := len(r.problems)
	file := r.word(f, key)
	if len(r.problems) == before {
		r.fileFits(f.values[key], "the "+key, file, example)
	}
	return file
}

// tolerance reads how many mm are no difference; 0 when the file does not say.
func (r *reader) tolerance(e fields) float64 {
	const remedy = "write a length from 0.00001mm to 100mm, for instance tolerance: 0.1mm"
	e.takes("tolerance", lengthKind)
	n, ok := r.scalar(e, "tolerance")
	if !ok {
		return 0
	}
	mm, err := unit.ParseLength(n.Value)
	if bad, isUnit := errors.AsType[*unit.Error](err); isUnit {
		r.refuse(n, bad.Remedy, "tolerance: %s", bad.Text)
		return 0
	}
	if mm = unit.Round(mm); !(mm >= minExpectTolerance && mm <= maxExpectTolerance) {
		r.refuse(n, remedy, "tolerance is %s, which is no use", source.Quote(n.Value))
		return 0
	}
	return mm
}

// expectations writes what a chain is tried on.
func (w *writer) expectations(list []chain.Expectation) {
	if len(list) > 0 {
		w.line(0, "expect:")
	}
	for _, e := range list {
		w.line(2, "- pattern: %s", fileName(e.Pattern))
		w.line(4, "result: %s", fileName(e.Result))
		if e.Tolerance > 0 {
			w.line(4, "tolerance: %smm", unit.Float(e.Tolerance))
		}
		if e.Wearer != "" {
			w.line(4, "wearer: %s", fileName(e.Wearer))
		}
	}
}

// fileName writes a file's name, without quotes where it only leads up or down
// the folders.
func fileName(s string) string {
	rest := s
	for strings.HasPrefix(rest, "../") || strings.HasPrefix(rest, "./") {
		_, rest, _ = strings.Cut(rest, "/")
	}
	if len(rest) < len(s) && rest != "" && scalar(rest, inBlock) == rest {
		return s
	}
	return scalar(s, inBlock)
}
