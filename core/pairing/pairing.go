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
	"bygone.example/core/wearer"
)

// Options are what a check may be told beside the pattern. The zero value
// checks by the house's tolerances, for nobody in particular.
type Options struct {
	Tolerances *Tolerances    // nil: DefaultTolerances
	Wearer     *wearer.Wearer // whose head and hips have to pass the openings; nil: not known
	Cloth      Cloth
}

// Cloth is what the pattern is to be cut from; what is not known is 0.
type Cloth struct {
	Width  float64 // mm from selvedge to selvedge
	Weight float64 // grams a square metre
}

// Check says what keeps the pattern from going together, faults first. Equal
// patterns give equal lists; of a sound one the list is empty.
func Check(p *pattern.Pattern) []finding.Finding { return CheckWith(p, Options{}) }

// CheckWith is Check by tolerances of one's own, or for a wearer or a cloth.
func CheckWith(p *pattern.Pattern, o Options) []finding.Finding {
	c := newChecker(p)
	c.options = o
	if o.Tolerances != nil {
		c.Tolerances = *o.Tolerances
	}
	for i := range c.seams {
		s := &c.seams[i]
		c.length(s)
		c.notches(s)
		c.corners(s)
		c.widths(s)
		c.counts(s)
		c.headEase(s)
		c.topNotch(s)
		c.underlayers(s)
	}
	c.turns()
	c.runs()
	c.mirrors()
	c.order()
	c.openings()
	for i := range p.Pieces {
		c.piece(&p.Pieces[i])
	}
	locate(p, c.found)
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
