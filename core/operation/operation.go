// Package operation says what a plugin offers and what one run of it takes and
// gives: the vocabulary that the host, the SDK and the plugins share. It starts
// no process and knows no wire format.
package operation

import (
	"context"
	"slices"

	"bygone.example/core/pattern"
	"bygone.example/core/wearer"
)

// Plugin is a named set of operations.
type Plugin struct {
	// Name is Required: lower case letters, digits and hyphens.
	Name string
	// Purpose is Required: one sentence, a capital first and a full stop last.
	Purpose string
	// Version is Optional: the author's own, for people to read.
	Version string
	// Operations is Required: at least one, names unique.
	Operations []*Operation
	// Survey is Optional: it looks for signs of another period than the look's
	// and names the steps that would mend each. It must not change the
	// request's pattern. A plugin without it knows no tells.
	Survey func(context.Context, *SurveyRequest) ([]Tell, error)
}

// Operation is one alteration that a step of a chain can ask for.
type Operation struct {
	Spec
	// Apply is Required. It must not change the request's pattern, and for equal
	// requests must give equal answers. An error made by Refuse is the maker's
	// to act on; any other is a fault of the plugin.
	Apply func(context.Context, *Request) (*Answer, error)
}

// Spec describes an operation to people and to the host.
type Spec struct {
	// Name is Required, and unique in the plugin; a chain asks for plugin.name.
	Name string
	// Purpose is Required: one sentence, a capital first and a full stop last.
	Purpose string
	// Parameters is Optional; names are unique.
	Parameters []Parameter
	// Needs is Optional: the pieces and edges that it cannot work without. The
	// host checks them before the first step of a chain runs: the pattern must
	// bring them along, or an earlier step make them. What was to be made is
	// checked again when the step is reached.
	Needs []Need
	// Makes is Optional: pieces, and edges on them, that it gives a pattern which
	// may have had none, for later steps to work on.
	Makes []Need
	// Measures is Optional: the wearer's measures that it looks at when given.
	Measures []wearer.Measure
}

// Need is a piece role, and an edge role on it if Edge is not empty.
type Need struct {
	Piece pattern.Role
	Edge  string
}

// String tells it in words: "godet with a hem edge".
func (n Need) String() string {
	if n.Edge == "" {
		return string(n.Piece)
	}
	return string(n.Piece) + " with a " + n.Edge + " edge"
}

// In reports whether a pattern has what is needed.
func (n Need) In(p *pattern.Pattern) bool {
	for _, piece := range p.ByRole(n.Piece) {
		if n.Edge == "" || len(piece.EdgesByRole(n.Edge)) > 0 {
			return true
		}
	}
	return false
}

// MetBy reports whether something made is what is needed. An edge that is not
// named may be there or not: a later look tells.
func (n Need) MetBy(made Need) bool {
	return n.Piece == made.Piece && (n.Edge == "" || made.Edge == "" || n.Edge == made.Edge)
}

// Parameter is one thing a step can set.
type Parameter struct {
	// Name is Required: lower case letters, digits and hyphens.
	Name string
	// Kind is Required.
	Kind Kind
	// Meaning is Required: one sentence, a capital first and a full stop last.
	Meaning string
	// Default is used when the chain says nothing: a value as a chain file would
	// write it. Empty means that the operation finds its own, as DefaultNote says.
	Default     string
	DefaultNote string
	// Min and Max bound a number, in the kind's own unit (mm, degrees, or bare);
	// both zero means unbounded.
	Min, Max float64
	// Choices is Required for a Choice, and only for it.
	Choices []string
	// Mark and Source say where the default comes from: Published with a source,
	// Computed from published figures, CommonPractice, or FromMemory. They are
	// Required where Default is a number.
	Mark   Mark
	Source string
}

// Kind is the type of a parameter's value.
type Kind string

// The kinds. A Length is written with its unit (3cm, 15mm, 5/8in), an Angle in
// degrees (12deg), a Ratio or Number bare, a Count whole, a Switch yes or no.
const (
	Length Kind = "length"
	Angle  Kind = "angle"
	Ratio  Kind = "ratio"
	Count  Kind = "count"
	Choice Kind = "choice"
	Switch Kind = "switch"
	Name   Kind = "name" // of a piece, edge, dart or seam
	// OtherPattern is one of the other patterns that the chain lists, by the
	// name it has there. Its Default is empty, or Only.
	OtherPattern Kind = "pattern"
)

// Only, as the default of an OtherPattern, stands for the one other pattern
// that a chain lists. A chain that lists none, or several, must then say which.
const Only = "only"

// Mark says how sure a number is.
type Mark string

// The marks, weakest last.
const (
	Published      Mark = "published"
	Computed       Mark = "computed"
	CommonPractice Mark = "common practice"
	FromMemory     Mark = "from memory"
)

// Request is one call of an operation.
type Request struct {
	Pattern *pattern.Pattern
	Values  Values
	Wearer  wearer.Wearer
	// Others are the other patterns that the values of the kind OtherPattern
	// name, as their files have them, by that name; nil when there are none.
	// They must not be changed either.
	Others map[string]*pattern.Pattern
}

// Other returns the pattern that a parameter of the kind OtherPattern names,
// nil when it was not set.
func (r *Request) Other(parameter string) *pattern.Pattern { return r.Others[r.Values.Text(parameter)] }

// Answer is what an operation did.
type Answer struct {
	Pattern *pattern.Pattern
	Lineage pattern.Lineage
	// Changes tell in numbers what was changed, in the order a person would
	// tell it; Cautions what could hurt somebody or will want a second look.
	Changes  []Change
	Cautions []string
}

// Then returns the answer of two operations done one after the other: next is
// what was answered for a's pattern. Its lineage leads from the pattern before
// the first to the one after the second; the changes and cautions of both are
// told, the first's first. Neither answer is changed.
func (a *Answer) Then(next *Answer) *Answer {
	return &Answer{
		Pattern:  next.Pattern,
		Lineage:  a.Lineage.Then(next.Lineage),
		Changes:  slices.Concat(a.Changes, next.Changes),
		Cautions: slices.Concat(a.Cautions, next.Cautions),
	}
}

// Change is one measured difference.
type Change struct {
	What   string // "front armscye", "hem circumference": no full stop
	Piece  string // where, if one piece
	Before float64
	After  float64
	Unit   string // mm, degrees, or empty for a bare number
}

// Refusal is the maker's to act on: what the operation was asked cannot be
// done with this pattern, and why.
type Refusal struct {
	// Why says what is wrong and where; Instead what would be possible.
	Why, Instead string
}

// Error gives both sentences.
func (r *Refusal) Error() string {
	if r.Instead == "" {
		return r.Why
	}
	return r.Why + "; " + r.Instead
}
