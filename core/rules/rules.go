// Package rules holds what a shared repository sets for the check of its own
// patterns: the tolerances, and the exceptions that somebody has given a reason
// for.
package rules

import (
	"fmt"

	"bygone.example/core/finding"
	"bygone.example/core/pairing"
)

// FileName is what a repository calls its file of rules.
const FileName = "bygone.yaml"

// Rules are those of one repository. Start from Default.
type Rules struct {
	Tolerances pairing.Tolerances
	Exceptions []Exception
}

// Default are the rules of a repository that sets none.
func Default() Rules { return Rules{Tolerances: pairing.DefaultTolerances()} }

// Exception lets a finding pass for a reason.
type Exception struct {
	Code finding.Code
	File string // from the folder of the rules file, with forward slashes
	// Where in the pattern; empty is anywhere in it.
	Seam, Piece, Edge string
	Reason            string

	Line, Col int // of the exception in the rules file, 1-based; 0 when there is none
}

// Covers reports whether the exception is for this finding of that file.
func (e Exception) Covers(file string, f finding.Finding) bool {
	is := func(want, got string) bool { return want == "" || want == got }
	return e.Code == f.Code && e.File == file && is(e.Seam, f.Place.Seam) && is(e.Piece, f.Place.Piece) && is(e.Edge, f.Place.Edge)
}

// String names what the exception is for.
func (e Exception) String() string {
	s := fmt.Sprintf("%s in %s", e.Code, e.File)
	switch {
	case e.Piece != "" && e.Edge != "":
		s += ", " + e.Piece + "/" + e.Edge
	case e.Piece != "":
		s += ", " + e.Piece
	}
	if e.Seam != "" {
		s += ", seam " + e.Seam
	}
	return s
}

// Expired is the code of an exception that nothing is found for any more.
const Expired finding.Code = "exception-expired"

// ExplainExpired tells what Expired means, as pairing.Explain does of the codes
// of the check.
func ExplainExpired() pairing.Explanation {
	return pairing.Explanation{
		Code: Expired, Severity: finding.Warning, Title: "An exception is for something that is no longer found",
		Why:    "It would let the next fault of that kind pass in the same place, for a reason that nobody has given for it.",
		Remedy: "Take the exception out of the rules file.",
	}
}

// Expire is the finding that an exception of the file of rules has expired.
func (e Exception) Expire(file string) finding.Finding {
	x := ExplainExpired()
	return finding.Finding{
		Code: Expired, Severity: x.Severity, Text: fmt.Sprintf("the exception for %s is no longer needed: nothing like it is found", e), Remedy: x.Remedy,
		Place: finding.Place{File: file, Line: e.Line, Column: e.Col},
	}
}
