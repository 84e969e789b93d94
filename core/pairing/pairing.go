// Package pairing proves that the pieces of a pattern go together: it walks
// both sides of every seam along their sewn length, matches notches, looks at
// the corners that run on across a seam, and asks of every edge what becomes
// of it.
//
// Lengths are millimetres. Angles are degrees here, and only here, because
// that is how a maker reads them. The pattern is taken to be valid in the
// sense of pattern.Validate; of one that is not, references that lead nowhere
// are passed over.
package pairing

import (
	"bygone.example/core/finding"
	"bygone.example/core/pattern"
)

// The tolerances of the check. Where no source is named the reason is common
// practice.
const (
	// LengthTolerance in mm: two sides that differ by less are of one length. It
	// is a fifth of a sharp pencil line, and ten times what files round away.
	LengthTolerance = 0.1
	// NotchTolerance in mm: a notch snipped with scissors is no truer than this.
	NotchTolerance = 0.5
	// LongSeam in mm: beyond this cloth creeps under the foot, and a seam wants
	// a mark to be held by.
	LongSeam = 150.0
	// MostEase in mm is what can be worked in along one seam where the seam
	// itself gives no bounds: 2 in, the upper end of what a costume-construction
	// text of Central Washington University (costxt, chapter 11) allows.
	MostEase = 50.8
	// KinkWarning in degrees: a smaller corner across a seam is rounded off with
	// the scissors while trimming.
	KinkWarning = 8.0
	// KinkFault in degrees: a corner that no trimming inside a seam allowance
	// makes smooth.
	KinkFault = 25.0
	// PointAngle in degrees: beyond this a corner at a fold or centre seam is a
	// point that somebody drew, as of a V-neck, and not an untrue line.
	PointAngle = 60.0
	// CornerReach in mm: the direction of an edge at its corner is its tangent,
	// unless the last line or curve is shorter than this. Then it is the chord
	// over this length, since a digitised stub points anywhere.
	CornerReach = 2.0
	// LegTolerance in mm: legs of a dart are sewn to each other like a seam.
	LegTolerance = LengthTolerance
	// FoldTolerance in mm: as pattern.Validate asks.
	FoldTolerance = pattern.FoldTolerance
	// GrainTolerance in mm: a grainline may lie on the fold or on an edge.
	GrainTolerance = 0.5
	// WorseLength in mm and WorseAngle in degrees: a finding that has grown by
	// less since the step before is the same finding.
	WorseLength = LengthTolerance
	WorseAngle  = 0.5
)

// Check says what keeps the pattern from going together, faults first. Equal
// patterns give equal lists; of a sound one the list is empty.
func Check(p *pattern.Pattern) []finding.Finding {
	c := newChecker(p)
	for i := range c.seams {
		s := &c.seams[i]
		c.length(s)
		c.notches(s)
		c.corners(s)
	}
	c.runs()
	for i := range p.Pieces {
		c.piece(&p.Pieces[i])
	}
	finding.Sort(c.found)
	return c.found
}

// Counts is how many findings there are of each severity.
type Counts struct{ Faults, Warnings, Notes int }

// Count counts findings.
func Count(list []finding.Finding) Counts {
	var n Counts
	for _, f := range list {
		switch f.Severity {
		case finding.Fault:
			n.Faults++
		case finding.Warning:
			n.Warnings++
		default:
			n.Notes++
		}
	}
	return n
}
