// Package shelf checks the patterns and chains of a repository that several
// people share: it finds the files below the folders named, checks them side
// by side, and gives one list, the same for the same files whatever the number
// of workers or the order in which they finish.
//
// What lies in a shared repository is a stranger's: links are not followed,
// what is no ordinary file is not opened, and sizes are bounded. Nothing of it
// is written.
package shelf

import (
	"cmp"
	"slices"

	"bygone.example/core/finding"
	"bygone.example/core/source"
)

// Kind is what a file is.
type Kind string

// The kinds of file that a shelf holds.
const (
	Pattern Kind = "pattern"
	Chain   Kind = "chain"
	Wearer  Kind = "wearer"
	Rules   Kind = "rules"
)

// Result is what checking a shelf found.
type Result struct {
	Files  []Checked `json:"files"` // by path
	Passed Passed    `json:"passed"`
	// Base is the folder that relative paths are from, as seen from the top of
	// the repository, with forward slashes; empty for the top.
	Base string `json:"base,omitempty"`
	// Shard is which part of a shelf this is; nil when it is the whole.
	Shard *Shard `json:"shard,omitempty"`
	// Settings is a sum over all that decided what was looked for: results of
	// other settings are not parts of one whole.
	Settings string `json:"settings,omitempty"`
	// Of a shard, Of is a sum over the files of the whole shelf, and Program one
	// over the program and plugins that checked it: shards in which either
	// differs are not parts of one whole.
	Of      string `json:"of,omitempty"`
	Program string `json:"program,omitempty"`
}

func (r *Result) sort() {
	slices.SortStableFunc(r.Files, func(a, b Checked) int { return cmp.Compare(a.Path, b.Path) })
}

// Checked is one file, checked.
type Checked struct {
	Path   string `json:"path"` // with forward slashes, as it was reached
	Kind   Kind   `json:"kind"`
	Name   string `json:"name,omitempty"` // what the file calls itself
	Pieces int    `json:"pieces,omitempty"`
	Seams  int    `json:"seams,omitempty"`

	// Refused says why the file could not be used; then nothing was looked for.
	Refused []Refusal `json:"refused,omitempty"`
	// Findings in the order of finding.Sort, figures to a nanometre.
	Findings []finding.Finding `json:"findings,omitempty"`
	// More findings than were kept of this file: see MaxFindings.
	More int `json:"more,omitempty"`
	// Excepted are findings that the rules let pass, each for its reason.
	Excepted []Excepted `json:"excepted,omitempty"`
	// Lines are those of the file that a finding or refusal stands in.
	Lines []Line `json:"lines,omitempty"`
}

// Line is a line of a file's text.
type Line struct {
	Number int    `json:"number"` // from 1
	Text   string `json:"text"`   // without its end
	Cut    bool   `json:"cut,omitempty"`
}

// Refusal is one thing for which a file cannot be used.
type Refusal struct {
	Line    int    `json:"line,omitempty"`   // from 1; 0 for the file as a whole
	Column  int    `json:"column,omitempty"` // in runes, from 1
	Text    string `json:"text"`
	Remedy  string `json:"remedy,omitempty"`
	Excerpt string `json:"excerpt,omitempty"`
}

// Passed counts what was found below a folder and not looked into.
type Passed struct {
	Links  int `json:"links,omitempty"`  // symbolic links: never followed
	Odd    int `json:"odd,omitempty"`    // named like ours, but no ordinary files
	Empty  int `json:"empty,omitempty"`  // YAML files with nothing in them
	Others int `json:"others,omitempty"` // YAML files that do not say they are ours
}

// Counts is how many findings a result holds of each severity, and how much it
// was that was looked at.
type Counts struct {
	Patterns, Chains, Wearers  int // files that could be used
	Sound                      int // patterns and chains without fault or warning
	Refused                    int // files that could not be used
	Faults, Warnings, Notes    int
	More, Excepted             int
	Pieces, Seams, FilesFaulty int
}

// Add counts one file.
func (n *Counts) Add(c *Checked) {
	if len(c.Refused) > 0 {
		n.Refused++
		return
	}
	switch c.Kind {
	case Pattern:
		n.Patterns++
	case Chain:
		n.Chains++
	case Wearer:
		n.Wearers++
	}
	n.Pieces += c.Pieces
	n.Seams += c.Seams
	faults, warnings := 0, 0
	for _, f := range c.Findings {
		switch f.Severity {
		case finding.Fault:
			faults++
		case finding.Warning:
			warnings++
		default:
			n.Notes++
		}
	}
	n.Faults += faults
	n.Warnings += warnings
	n.More += c.More
	n.Excepted += len(c.Excepted)
	if faults+warnings+c.More > 0 {
		n.FilesFaulty++
	} else if c.Kind == Pattern || c.Kind == Chain {
		n.Sound++
	}
}

// Clean reports whether nothing was found that somebody has to look at, and
// everything could be used. Notes are no reason to stop.
func (n Counts) Clean() bool { return n.Faults+n.Warnings+n.More+n.Refused == 0 }

// Counts counts what is in the result.
func (r *Result) Counts() Counts {
	var n Counts
	for i := range r.Files {
		n.Add(&r.Files[i])
	}
	return n
}

// Problems are the refusals of every file, as other refusals are shown.
func (r *Result) Problems() source.Problems {
	var all source.Problems
	for i := range r.Files {
		all.Add(r.Files[i].Problems()...)
	}
	return all
}

// Problems are the refusals of one file, as other refusals are shown.
func (c *Checked) Problems() (all source.Problems) {
	for _, p := range c.Refused {
		all.Add(source.Problem{File: c.Path, Line: p.Line, Col: p.Column, Text: p.Text, Remedy: p.Remedy, Excerpt: p.Excerpt})
	}
	return all
}

// Line returns the text of a line that was kept; ok is false of another, and
// of one that was too long to be kept whole.
func (c *Checked) Line(number int) (text string, ok bool) {
	for _, l := range c.Lines {
		if l.Number == number && !l.Cut {
			return l.Text, true
		}
	}
	return "", false
}
