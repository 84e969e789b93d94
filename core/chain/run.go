package chain

import (
	"context"
	"fmt"
	"strings"

	"bygone.example/core/finding"
	"bygone.example/core/operation"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
	"bygone.example/core/wearer"
)

// Runner runs operations: plugin processes, or plugins in this one.
type Runner interface {
	// Apply runs plugin's operation op. A *operation.Refusal is the maker's to
	// act on, any other error a fault of the plugin.
	Apply(ctx context.Context, plugin, op string, r *operation.Request) (*operation.Answer, error)
}

// Options say how a chain is run. The zero value stops at the first step that
// brings in a fault.
type Options struct {
	// GoOn runs the rest of the chain after a step that brought in faults.
	GoOn bool
	// Progress, if set, is told of each step before it runs, from 0.
	Progress func(n int, step Step)
	// Patterns are the others that the chain lists, by name. A step is given
	// those that its values name, and no more.
	Patterns map[string]*pattern.Pattern
}

// others returns the patterns that the values name.
func (o Options) others(values operation.Values) (map[string]*pattern.Pattern, error) {
	var others map[string]*pattern.Pattern
	for _, v := range values {
		if v.Kind != operation.OtherPattern {
			continue
		}
		p := o.Patterns[v.Text]
		if p == nil {
			return nil, fmt.Errorf("pattern %q was not read", v.Text) // whoever planned the step has not looked
		}
		if others == nil {
			others = map[string]*pattern.Pattern{}
		}
		others[v.Text] = p
	}
	return others, nil
}

// Run runs the planned steps over p, which is not changed. The result holds
// what was done up to the last good pattern, also beside an error. Errors are
// *StepError, or the context's.
func Run(ctx context.Context, c Chain, plan []Planned, p *pattern.Pattern, body wearer.Wearer, runner Runner, o Options) (*Result, error) {
	result := &Result{Chain: c, Wearer: body, Before: p, Arrival: pairing.Check(p)}
	known := result.Arrival
	current := p
	title := alteredTitle(p.Title, c)
	for n, step := range plan {
		if err := ctx.Err(); err != nil {
			return result, context.Cause(ctx)
		}
		if o.Progress != nil {
			o.Progress(n, step.Step)
		}
		fail := func(err error) (*Result, error) {
			return result, &StepError{Number: n + 1, Step: step.Step, Plugin: step.Plugin, Err: err}
		}
		for _, need := range step.Spec.Needs { // what a step was to make may not have been made
			if !need.In(p) && !need.In(current) {
				text, remedy := lacking(step.Step, need, current)
				return fail(&operation.Refusal{Why: text, Instead: remedy})
			}
		}
		others, err := o.others(step.Values)
		if err != nil {
			return fail(err)
		}
		answer, err := runner.Apply(ctx, step.Plugin, step.Spec.Name, &operation.Request{Pattern: current, Values: step.Values, Wearer: body, Others: others})
		if err != nil {
			if ctx.Err() != nil {
				return result, context.Cause(ctx)
			}
			return fail(err)
		}
		if err := Believe(current, answer); err != nil {
			return fail(err)
		}
		answer.Pattern.Title = title
		found := pairing.Compare(known, pairing.Check(answer.Pattern), answer.Lineage, step.Step.Name)
		done := Done{
			Step: step.Step, Spec: step.Spec, Plugin: step.Plugin, Values: step.Values,
			Pattern: answer.Pattern, Lineage: answer.Lineage,
			Changes: answer.Changes, Cautions: answer.Cautions, Findings: found,
		}
		if fresh := brought(found, step.Step.Name); len(fresh) > 0 && !o.GoOn {
			return fail(&Opened{Findings: fresh})
		}
		result.Steps = append(result.Steps, done)
		known, current = found, answer.Pattern
	}
	return result, nil
}

// altered stands in a title between what a pattern was and the chain that
// changed it.
const altered = ", altered: "

// alteredTitle returns the title of a pattern once the chain has run over it,
// so that the paper says what it is for.
func alteredTitle(was string, c Chain) string {
	now := c.Title
	if now == "" {
		now = c.Name
	}
	if c.Years != "" {
		now += ", " + c.Years
	}
	base, _, _ := strings.Cut(was, altered)
	if title := base + altered + now; len(title) <= maxTitle && base != "" {
		return title
	}
	return was
}

// maxTitle is the longest title in bytes that every reader of patterns takes.
const maxTitle = 200

// brought returns the faults that came in with a step.
func brought(found []finding.Finding, step string) []finding.Finding {
	var fresh []finding.Finding
	for _, f := range found {
		if f.Severity == finding.Fault && f.Since == step {
			fresh = append(fresh, f)
		}
	}
	return fresh
}

// Believe checks an answer as it would a file from a stranger; what comes back
// is an *Untrue. What was wrong with the pattern before the step is not laid to
// it: a pattern that is to be mended may have come with more than one thing that
// no other pattern may have.
func Believe(before *pattern.Pattern, a *operation.Answer) error {
	if a == nil || a.Pattern == nil {
		return &Untrue{Problems: []string{"it returned no pattern"}}
	}
	var problems []string
	if bad := a.Pattern.Validate(); len(bad) > 0 {
		type rule struct{ rule, piece, edge, seam, mark string }
		of := func(p pattern.Problem) rule { return rule{p.Rule, p.Piece, p.Edge, p.Seam, p.Mark} }
		was := map[rule]bool{}
		for _, p := range before.Validate() {
			was[of(p)] = true
		}
		for _, p := range bad {
			if !was[of(p)] {
				problems = append(problems, p.String())
			}
		}
	}
	if len(problems) == 0 { // a lineage of a broken pattern would only repeat its faults
		for _, p := range a.Lineage.Check(before, a.Pattern) {
			problems = append(problems, p.String())
		}
	}
	if len(problems) > 0 {
		return &Untrue{Problems: problems}
	}
	return nil
}

// StepError says at which step a chain stopped. What it wraps says why: an
// *operation.Refusal is the maker's to act on, an *Opened too; an *Untrue and
// everything else is the plugin's fault.
type StepError struct {
	Number int // from 1
	Step   Step
	Plugin string
	Err    error
}

// Error names the step and gives the reason.
func (e *StepError) Error() string {
	return fmt.Sprintf("step %d, %s (%s): %v", e.Number, e.Step.Name, e.Step.Operation, e.Err)
}

// Unwrap returns the reason.
func (e *StepError) Unwrap() error { return e.Err }

// Opened says that a step brought in faults: seams that no longer pair.
type Opened struct{ Findings []finding.Finding }

// Error gives the first fault, and how many more there are.
func (o *Opened) Error() string {
	s := "it opened a seam: " + o.Findings[0].Text
	if more := len(o.Findings) - 1; more > 0 {
		s += fmt.Sprintf(", and %d more", more)
	}
	return s
}

// maxUntrue is how many problems of a plugin's answer are told: the first ones
// show what went wrong, the rest follow from it.
const maxUntrue = 5

// Untrue says that what a plugin returned is not a pattern, or that its lineage
// does not add up.
type Untrue struct{ Problems []string }

// Error gives what is wrong with the answer.
func (u *Untrue) Error() string {
	list := u.Problems
	more := ""
	if len(list) > maxUntrue {
		more = fmt.Sprintf("; and %d more", len(list)-maxUntrue)
		list = list[:maxUntrue]
	}
	return "the plugin's answer is not sound: " + strings.Join(list, "; ") + more
}

// InProcess runs plugins that are part of this program, without a process or a
// wire between: for tests, and as the measure of what plugins cost.
type InProcess []*operation.Plugin

// Offers returns what the plugins offer.
func (list InProcess) Offers() []Offer {
	offers := make([]Offer, len(list))
	for i, p := range list {
		offers[i].Plugin = p.Name
		for _, op := range p.Operations {
			offers[i].Operations = append(offers[i].Operations, op.Spec)
		}
	}
	return offers
}

// Apply runs an operation.
func (list InProcess) Apply(ctx context.Context, plugin, op string, r *operation.Request) (*operation.Answer, error) {
	for _, p := range list {
		if p.Name != plugin {
			continue
		}
		for _, o := range p.Operations {
			if o.Name == op {
				return o.Apply(ctx, r)
			}
		}
	}
	return nil, fmt.Errorf("there is no operation %s.%s", plugin, op)
}
