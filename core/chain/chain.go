// Package chain runs an ordered list of steps over a pattern, walking the
// seams before the first step and after every one.
package chain

import (
	"bygone.example/core/finding"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
	"bygone.example/core/wearer"
)

// Chain is an ordered list of steps: a house standard, or a look.
type Chain struct {
	Name  string
	Title string
	Years string // of a look: "c. 1800–1815"
	Notes string
	// Patterns are others that the steps look at, beside the one they alter.
	Patterns []Other
	Steps    []Step
	// Expect is what the chain is tried on.
	Expect []Expectation
}

// Other is another pattern that a chain lists.
type Other struct {
	Name      string // a pattern.ValidName, unique in the chain
	File      string // from the folder of the chain file, with forward slashes
	Line, Col int    // of the file's name in the chain file, 1-based; 0 when there is none
}

// Step is one configured operation as a chain file writes it.
type Step struct {
	Name      string // unique in the chain; defaults to the operation's name
	Operation string // plugin.operation
	Why       string // for the report: what the period or the house wants with it
	Settings  []Setting
	Line, Col int // of the operation in the chain file, 1-based; 0 when there is none
}

// Setting is one parameter given a value, and where that value is known from.
type Setting struct {
	Parameter string
	Value     string // as written: 64mm, 12deg, 1.45, yes
	Mark      operation.Mark
	Source    string
	Line, Col int // in the chain file, 1-based; 0 when set by flag
}

// Result is what came of running a chain: all that a report needs.
type Result struct {
	Chain   Chain
	Wearer  wearer.Wearer
	Before  *pattern.Pattern
	Arrival []finding.Finding // what the pattern came with
	Steps   []Done
}

// After returns the last good pattern.
func (r *Result) After() *pattern.Pattern {
	if len(r.Steps) == 0 {
		return r.Before
	}
	return r.Steps[len(r.Steps)-1].Pattern
}

// Done is one step that ran.
type Done struct {
	Step     Step
	Spec     operation.Spec
	Plugin   string
	Values   operation.Values // as used, defaults filled in
	Pattern  *pattern.Pattern // after the step
	Lineage  pattern.Lineage
	Changes  []operation.Change
	Cautions []string
	Findings []finding.Finding // after the step, each with the step it came in with
}
