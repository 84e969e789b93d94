package operation

import (
	"bygone.example/core/pattern"
	"bygone.example/core/wearer"
)

// Look names a period-specific set of alterations.
type Look struct {
	Name  string
	Title string
	// FirstYear and LastYear bound the years it is meant for; 0 leaves an end
	// open.
	FirstYear, LastYear int
}

// SurveyRequest asks what in a pattern gives another period away than a look's.
type SurveyRequest struct {
	Pattern *pattern.Pattern
	Look    Look
	Wearer  wearer.Wearer
}

// Tell is a sign in the cut that gives away another period.
type Tell struct {
	Code   string // names this kind of tell for good
	Text   string // one sentence: what gives it away, and why
	Source string // where the claim comes from; may be empty
	Mark   Mark   // how sure the claim is
	Piece  string // where, if one piece
	Edge   string // where on that piece, if one edge
	Mends  []Mend // steps that would mend it, in the order to run them
}

// Mend is a step that would mend a tell.
type Mend struct {
	Plugin, Operation string
	Settings          []Setting
}

// Setting is a parameter's value as a chain file would write it.
type Setting struct{ Parameter, Value string }
