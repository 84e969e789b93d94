package shelf

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"
	"slices"
	"unicode/utf8"

	"bygone.example/core/finding"
	yamlfile "bygone.example/core/format/yaml"
	"bygone.example/core/geom"
	"bygone.example/core/pairing"
	"bygone.example/core/source"
	"bygone.example/core/unit"
)

// MaxFindings is how many findings of one file are kept, faults first. Nobody
// mends a pattern by a longer list.
const MaxFindings = 500

// maxLineRunes is how much of a line of the file is kept to be shown.
const maxLineRunes = 400

// Inspector checks one file. The zero value does so by the house's tolerances.
type Inspector struct {
	Pairing pairing.Options
	Cache   *Cache // nil: nothing is remembered
	Trial   Trial  // nil: chains are read, but not run

	texts Texts // of what chains name
}

// Inspect reads and checks one file. Where the file is not ours it returns no
// result, and what it was passed over as. An error is one of the trial's that
// is no fault of the file.
func (n *Inspector) Inspect(ctx context.Context, f File) (*Checked, Passed, error) {
	c := &Checked{Path: f.slash(), Kind: Pattern}
	data, err := f.read()
	if err != nil {
		c.refuse(err)
		return c, Passed{}, nil
	}
	kind, ours := Sniff(data)
	switch {
	case f.Named || ours:
	case blank(data):
		return nil, Passed{Empty: 1}, nil
	default:
		return nil, Passed{Others: 1}, nil
	}
	if kind != "" {
		c.Kind = kind
	}
	if n.Cache == nil || c.Kind != Pattern { // of a chain the result depends on more files; the others are quickly read
		err := n.inspect(ctx, c, data)
		return c, Passed{}, err
	}
	key := n.Cache.key(n.settings(nil), c.Kind, data)
	if kept, ok := n.Cache.get(key); ok {
		return dressed(kept, c.Path), Passed{}, nil
	}
	err = n.inspect(ctx, c, data)
	if err == nil {
		n.Cache.put(key, *c)
	}
	return c, Passed{}, err
}

func (n *Inspector) inspect(ctx context.Context, c *Checked, data []byte) error {
	switch c.Kind {
	case Pattern:
		n.pattern(c, data)
	case Chain:
		if err := n.chain(ctx, c, data); err != nil {
			return err
		}
	case Wearer:
		w, err := yamlfile.ReadWearer(c.Path, data)
		c.Name = w.Name
		c.refuse(err)
	case Rules:
		_, err := yamlfile.ReadRules(c.Path, data)
		c.refuse(err)
	}
	c.keepLines(data)
	return nil
}

func (n *Inspector) pattern(c *Checked, data []byte) {
	read, err := yamlfile.ReadToCheck(c.Path, data)
	if err != nil {
		c.refuse(err)
		return
	}
	p := read.Pattern
	list := pairing.CheckWith(p, n.Pairing)
	if pairing.Count(list).Faults == 0 && len(p.Validate()) > 0 {
		// The check may have no word for what makes a pattern unfit for steps. What
		// the strict reader refuses is never called sound.
		if _, err := yamlfile.Read(c.Path, data); err != nil {
			c.refuse(err)
			return
		}
	}
	read.Locate(list)
	c.Name, c.Pieces, c.Seams, c.Findings = p.Name, len(p.Pieces), len(p.Seams), list
	c.settle()
}

// settle bounds, rounds and sorts the findings of a file.
func (c *Checked) settle() {
	finding.Sort(c.Findings)
	if len(c.Findings) > MaxFindings {
		c.More = len(c.Findings) - MaxFindings
		c.Findings = slices.Clone(c.Findings[:MaxFindings])
	}
	for i := range c.Findings {
		f := &c.Findings[i]
		f.Place.File = c.Path
		if g := f.Figures; g != nil {
			f.Figures = &finding.Figures{A: unit.Round(g.A), B: unit.Round(g.B), Difference: unit.Round(g.Difference), Unit: g.Unit}
			if !finite(g.A, g.B, g.Difference) {
				f.Figures = nil
			}
		}
		if at := f.Place.At; at != nil {
			f.Place.At = &geom.Point{X: unit.Round(at.X), Y: unit.Round(at.Y)}
			if !finite(at.X, at.Y) {
				f.Place.At = nil
			}
		}
	}
}

// finite reports whether all are ordinary numbers: others have no form in JSON.
func finite(numbers ...float64) bool {
	return !slices.ContainsFunc(numbers, func(v float64) bool { return math.IsNaN(v) || math.IsInf(v, 0) })
}

// refuse notes an error of reading the file; nil is none.
func (c *Checked) refuse(err error) {
	if err == nil {
		return
	}
	problems, ok := asProblems(err)
	if !ok {
		problems = source.Problems{unreadable(err)}
	}
	for _, p := range problems.Sorted() {
		c.Refused = append(c.Refused, Refusal{Line: p.Line, Column: p.Col, Text: p.Text, Remedy: p.Remedy, Excerpt: p.Excerpt})
	}
}

func asProblems(err error) (source.Problems, bool) { return errors.AsType[source.Problems](err) }

// keepLines keeps those lines of the text that findings and refusals stand in.
func (c *Checked) keepLines(data []byte) {
	var wanted []int
	for _, f := range c.Findings {
		wanted = append(wanted, f.Place.Line)
	}
	for _, r := range c.Refused {
		wanted = append(wanted, r.Line)
	}
	slices.Sort(wanted)
	wanted = slices.DeleteFunc(slices.Compact(wanted), func(n int) bool { return n < 1 })
	if len(wanted) == 0 || !utf8.Valid(data) {
		return
	}
	file := source.NewFile(c.Path, bytes.TrimPrefix(data, []byte("\ufeff"))) // as the readers count
	for _, number := range wanted {
		l := Line{Number: number, Text: file.Line(number)}
		if runes := []rune(l.Text); len(runes) > maxLineRunes {
			l.Text, l.Cut = string(runes[:maxLineRunes]), true
		}
		c.Lines = append(c.Lines, l)
	}
}

// read returns the file's text, a byte more than a reader of ours takes at
// most: the reader then refuses it.
func (f File) read() ([]byte, error) { return f.upTo(yamlfile.MaxSize + 1) }

// head returns as much of the file's text as Sniff looks at.
func (f File) head() ([]byte, error) { return f.upTo(headSize) }

func (f File) upTo(most int64) ([]byte, error) {
	if f.fault != nil || f.Data != nil {
		return f.Data, f.fault
	}
	if f.text != nil {
		return f.text(most)
	}
	// It may be another file by now than the one that was listed.
	stat := os.Lstat
	if f.Named {
		stat = os.Stat
	}
	info, err := stat(f.Path)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, source.Problems{{File: f.Path, Text: notOrdinary, Remedy: "name a file, or - for standard input"}}
	}
	file, err := os.Open(f.Path)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return io.ReadAll(io.LimitReader(file, most))
}

const notOrdinary = "this is not an ordinary file"

// unreadable is what is said of a file that cannot be read.
func unreadable(err error) source.Problem {
	if problems, ok := errors.AsType[source.Problems](err); ok {
		return problems[0]
	}
	if errors.Is(err, fs.ErrNotExist) {
		return source.Problem{Text: "there is no such file", Remedy: "check the name, and the folder you are in"}
	}
	reason := err
	if e, ok := errors.AsType[*fs.PathError](err); ok {
		reason = e.Err
	}
	return source.Problem{Text: fmt.Sprintf("cannot be read: %v", reason), Remedy: "check the name and who may read it"}
}
