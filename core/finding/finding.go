// Package finding holds what a check has to say about a pattern: a code, a
// place, two measured figures, and a sentence a maker can act on.
package finding

import (
	"cmp"
	"slices"

	"bygone.example/core/geom"
)

// Severity is how much a finding matters.
type Severity string

// A Fault will not sew; a Warning may be meant; a Note is worth knowing.
const (
	Fault   Severity = "fault"
	Warning Severity = "warning"
	Note    Severity = "note"
)

// Code names one kind of finding for good: it never changes meaning.
type Code string

// Finding is one thing found.
type Finding struct {
	Code     Code     `json:"code"`
	Severity Severity `json:"severity"`
	Place    Place    `json:"place"`
	Figures  *Figures `json:"figures,omitempty"`

	// Text says what is wrong in one plain sentence; Remedy what to do.
	Text   string `json:"text"`
	Remedy string `json:"remedy,omitempty"`

	// Mend is the step that would mend it, where one can.
	Mend *Mend `json:"mend,omitempty"`

	// Since is the step that brought the finding in; empty means that the
	// pattern arrived with it.
	Since string `json:"since,omitempty"`
}

// Mend is a step that mends a finding: an operation and what to set of it.
type Mend struct {
	Operation string            `json:"operation"`      // plugin.operation
	With      map[string]string `json:"with,omitempty"` // parameter to value as a chain writes it
}

// Place is where in the pattern; what does not apply is empty.
type Place struct {
	Seam  string      `json:"seam,omitempty"`
	Piece string      `json:"piece,omitempty"`
	Edge  string      `json:"edge,omitempty"`
	At    *geom.Point `json:"at,omitempty"` // mm, in the piece's own plane
	// Where says the same in words, after the edge: "where it meets hem".
	Where string `json:"where,omitempty"`

	// Where in a file the narrowest of these stands, as whoever read the file
	// knows it: with forward slashes, lines and columns (in runes) from 1.
	File   string `json:"file,omitempty"`
	Line   int    `json:"line,omitempty"`
	Column int    `json:"column,omitempty"`
}

// Figures are what was measured: both sides and by how much A is more than B.
type Figures struct {
	A          float64 `json:"a"`
	B          float64 `json:"b"`
	Difference float64 `json:"difference"`
	Unit       string  `json:"unit"` // mm, degrees or ratio
}

// Sort puts findings in the order a reader wants: faults first, then by place
// and code. It does not depend on the order they were found in.
func Sort(list []Finding) {
	rank := map[Severity]int{Fault: 0, Warning: 1, Note: 2}
	slices.SortStableFunc(list, func(a, b Finding) int {
		return cmp.Or(
			cmp.Compare(rank[a.Severity], rank[b.Severity]),
			cmp.Compare(a.Place.Piece, b.Place.Piece),
			cmp.Compare(a.Place.Seam, b.Place.Seam),
			cmp.Compare(a.Place.Edge, b.Place.Edge),
			cmp.Compare(a.Code, b.Code),
			cmp.Compare(a.Text, b.Text),
		)
	})
}
