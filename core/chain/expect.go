package chain

import (
	"context"
	"errors"
	"fmt"

	"bygone.example/core/differ"
	"bygone.example/core/finding"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
	"bygone.example/core/source"
	"bygone.example/core/wearer"
)

// Expectation says what a chain is expected to make of a pattern, so that a
// shared repository sees when it no longer does.
type Expectation struct {
	Pattern   string  // the file that goes in, from the folder of the chain file
	Result    string  // the file that is expected to come out, likewise
	Wearer    string  // the file of the wearer, likewise; empty for none
	Tolerance float64 // mm; 0 stands for differ.DefaultTolerance
	Line, Col int     // of the pattern in the chain file, 1-based; 0 when there is none
}

// Files reads what a chain file names, as it names it: from its own folder, with
// forward slashes. An error that is a source.Problems is the maker's to act on.
type Files interface {
	Pattern(ctx context.Context, file string) (*pattern.Pattern, error)
	Wearer(ctx context.Context, file string) (wearer.Wearer, error)
}

// Outcome is what came of an expectation.
type Outcome struct {
	Expectation
	Want *pattern.Pattern // as expected; nil when it could not be read
	Run  *Result          // what the chain did, up to the last good pattern; nil when it could not start
	// Comparison is what comes out laid over what is expected; nil where the chain
	// did not run to its end.
	Comparison *differ.Comparison
	// Err is why it did not: a source.Problems, or a *StepError.
	Err error
}

// Met reports whether what comes out is what is expected.
func (o *Outcome) Met() bool { return o.Err == nil && o.Comparison != nil && !o.Comparison.Different() }

// resultNames are what the sentences of a comparison call its two patterns.
var resultNames = differ.Names{First: "what is expected", Second: "what comes out"}

// Expect runs a chain over every pattern that it has an expectation of, and lays
// what comes out over what is expected. file is the chain's text, as for Plan.
// The error is the context's, or one in reading that is nobody's to act on.
func Expect(ctx context.Context, c Chain, file *source.File, files Files, offers []Offer, runner Runner) ([]Outcome, error) {
	var outcomes []Outcome
	if len(c.Expect) == 0 {
		return nil, nil
	}
	others := map[string]*pattern.Pattern{}
	var missing source.Problems
	for _, o := range c.Patterns {
		p, err := files.Pattern(ctx, o.File)
		if err := tell(&missing, err); err != nil {
			return nil, err
		}
		others[o.Name] = p
	}
	for _, e := range c.Expect {
		if ctx.Err() != nil {
			return outcomes, context.Cause(ctx)
		}
		o := Outcome{Expectation: e}
		if err := missing.Err(); err != nil {
			o.Err = err
		} else if err := o.run(ctx, c, file, files, others, offers, runner); err != nil {
			return outcomes, err
		}
		outcomes = append(outcomes, o)
	}
	return outcomes, nil
}

// tell gathers problems; what is none of those is returned.
func tell(problems *source.Problems, err error) error {
	if bad, ok := errors.AsType[source.Problems](err); ok {
		problems.Add(bad...)
		return nil
	}
	return err
}

// run fills in the outcome of one expectation.
func (o *Outcome) run(ctx context.Context, c Chain, file *source.File, files Files, others map[string]*pattern.Pattern, offers []Offer, runner Runner) error {
	var problems source.Problems
	before, err := files.Pattern(ctx, o.Pattern)
	if err := tell(&problems, err); err != nil {
		return err
	}
	o.Want, err = files.Pattern(ctx, o.Result)
	if err := tell(&problems, err); err != nil {
		return err
	}
	var body wearer.Wearer
	if o.Wearer != "" {
		body, err = files.Wearer(ctx, o.Wearer)
		if err := tell(&problems, err); err != nil {
			return err
		}
	}
	if o.Err = problems.Err(); o.Err != nil {
		return nil
	}
	plan, err := Plan(c, file, before, nil, offers)
	if err := tell(&problems, err); err != nil {
		return err
	}
	if o.Err = problems.Err(); o.Err != nil {
		return nil
	}
	o.Run, err = Run(ctx, c, plan, before, body, runner, Options{Patterns: others})
	if _, ok := errors.AsType[*StepError](err); ok {
		o.Err = err
		return nil
	}
	if err != nil {
		return err
	}
	o.Comparison = differ.CompareAs(resultNames, o.Want, o.Run.After(), o.Tolerance)
	return nil
}

// Finding says what is wrong with an outcome, at its place in the chain file;
// ok is false of one that is met.
func (o *Outcome) Finding(file *source.File) (f finding.Finding, ok bool) {
	if o.Met() {
		return f, false
	}
	f = finding.Finding{Severity: finding.Fault, Place: finding.Place{Line: o.Line, Column: o.Col}}
	if file != nil {
		f.Place.File = file.Name
	}
	if o.Err != nil {
		f.Code = pairing.ExpectBroken
		f.Text = fmt.Sprintf("what the chain makes of %s cannot be told: %s", o.Pattern, reason(o.Err))
	} else {
		f.Code = pairing.ExpectDifferent
		f.Text = fmt.Sprintf("the chain makes of %s what is not %s: %s", o.Pattern, o.Result, o.Comparison.Summary())
		if d, ok := o.Comparison.Largest(); ok {
			f.Text += ": " + d.Text
			f.Place.Piece, f.Place.Edge, f.Place.Seam, f.Place.At = d.Piece, d.Edge, d.Seam, d.At
			f.Figures = &finding.Figures{A: d.MM, B: o.Comparison.Tolerance, Difference: d.MM - o.Comparison.Tolerance, Unit: "mm"}
		} else if d, ok := o.first(); ok {
			f.Text += ", the first: " + d.Text
			f.Place.Piece, f.Place.Edge, f.Place.Seam = d.Piece, d.Edge, d.Seam
		}
	}
	if e, ok := pairing.Explain(f.Code); ok {
		f.Remedy = e.Remedy
	}
	return f, true
}

// first is the first difference that matters.
func (o *Outcome) first() (differ.Difference, bool) {
	for _, d := range o.Comparison.Differences {
		if !d.Harmless {
			return d, true
		}
	}
	return differ.Difference{}, false
}

// reason is an error on one line: the first of several problems.
func reason(err error) string {
	if bad, ok := errors.AsType[source.Problems](err); ok && len(bad) > 0 {
		text := bad[0].Text
		if bad[0].File != "" {
			text = fmt.Sprintf("%s: %s", bad[0].File, text)
		}
		if more := len(bad) - 1; more > 0 {
			text += fmt.Sprintf(", and %d more", more)
		}
		return text
	}
	return err.Error()
}
