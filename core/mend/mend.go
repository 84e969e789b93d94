// Package mend proposes how a pattern that does not quite go together may be
// put right: a chain of small steps, none of which moves a line by more than it
// may, and of which none brings in a fault of its own. What that cannot mend it
// says.
package mend

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"bygone.example/core/alter"
	"bygone.example/core/chain"
	"bygone.example/core/finding"
	"bygone.example/core/operation"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
	"bygone.example/core/source"
	"bygone.example/core/unit"
)

// DefaultBound is how far in mm a line may move unless somebody says: three
// pencil lines, and half of what a narrow seam allowance has to give.
const DefaultBound = 3.0

// MostBound is the longest bound in mm that a step that mends takes.
const MostBound = 50.0

// boundSlack in mm is what a line may seem to have moved beyond the bound: what
// measuring along chords leaves.
const boundSlack = 0.01

// Options say how far a proposal may go.
type Options struct {
	// Bound is how far in mm any line may lie from where it lay in the pattern
	// as it arrived, all steps together; 0 moves none.
	Bound float64
	// Check is what the check is told beside the pattern.
	Check pairing.Options
	// Progress, if set, is told of each finding before a step is tried on it.
	Progress func(finding.Finding)
}

// Proposal is a chain that mends what can be mended.
type Proposal struct {
	Chain   chain.Chain
	Mends   []finding.Finding // what each of the chain's steps was chosen for
	Before  *pattern.Pattern
	After   *pattern.Pattern // what the chain makes of it
	Arrival []finding.Finding
	Left    []Left // faults and warnings that are left
	// Moved is how far in mm the line lies from where it lay that has moved
	// furthest, Piece and Edge which that is; empty where none has moved.
	Moved       float64
	Piece, Edge string
}

// Left is a finding that no step mends within the bound, and why.
type Left struct {
	finding.Finding
	Why string // no full stop
}

// Propose finds out by trying which steps mend the pattern, which is not
// changed. A step is taken if the finding it is for is gone after it, no fault
// or warning has come in, and no line lies further than the bound from where it
// lay at first. Refusals are reasons; any other error of the runner is returned.
// Equal patterns get equal proposals.
func Propose(ctx context.Context, p *pattern.Pattern, runner chain.Runner, offers []chain.Offer, o Options) (*Proposal, error) {
	m := &mender{
		ctx: ctx, runner: runner, offers: offers, options: o, current: p, why: map[key]string{},
		Proposal: &Proposal{Before: p, Arrival: pairing.CheckWith(p, o.Check), Chain: chain.Chain{
			Name: "mend", Title: "Mended, no line by more than " + unit.Length(o.Bound),
		}},
	}
	m.known = m.Arrival
	for {
		progress, err := m.next()
		if err != nil {
			return nil, err
		}
		if !progress {
			break
		}
	}
	m.After = m.current
	m.Piece, m.Edge, m.Moved = alter.MostMoved(p, m.current)
	for _, f := range m.known {
		if matters(f) {
			why := m.why[keyOf(f)]
			if why == "" {
				why = "only whoever knows what was meant can put that right"
			}
			m.Left = append(m.Left, Left{m.asArrived(f), why})
		}
	}
	return m.Proposal, nil
}

type mender struct {
	*Proposal
	ctx     context.Context
	runner  chain.Runner
	offers  []chain.Offer
	options Options
	current *pattern.Pattern
	known   []finding.Finding // in current
	why     map[key]string    // why a finding was left when it was tried on current
	first   hindrances
}

// key tells findings apart that stay from one pattern to the next.
type key struct {
	code              finding.Code
	seam, piece, edge string
	text              string
}

func keyOf(f finding.Finding) key {
	return key{f.Code, f.Place.Seam, f.Place.Piece, f.Place.Edge, f.Text}
}

// matters reports whether a finding is to be mended: a note is not.
func matters(f finding.Finding) bool { return f.Severity != finding.Note }

// order is in which order findings are mended, by the step for them: first what
// an outline is, then its length, then how it turns, and marks on it last.
var order = []string{"true.outline", "true.fold", "true.grain", "true.dart", "true.length", "true.gathers", "true.corner", "true.notches"}

// next tries the findings one after the other until a step is taken; it reports
// false when none is.
func (m *mender) next() (bool, error) {
	list := slices.Clone(m.known)
	slices.SortStableFunc(list, func(a, b finding.Finding) int { return cmp.Compare(rank(a), rank(b)) })
	clear(m.why)
	m.hinder()
	for _, f := range list {
		if f.Mend == nil || !matters(f) {
			continue
		}
		if why := m.beyond(f); why != "" {
			m.leave(f, why)
			continue
		}
		if err := context.Cause(m.ctx); err != nil {
			return false, err
		}
		if m.options.Progress != nil {
			m.options.Progress(f)
		}
		taken, err := m.mend(f)
		if taken || err != nil {
			return taken, err
		}
	}
	return false, nil
}

func rank(f finding.Finding) int {
	if f.Mend == nil {
		return len(order)
	}
	if i := slices.Index(order, f.Mend.Operation); i >= 0 {
		return i
	}
	return len(order)
}

// mend tries the step for a finding, in the ways that it may be done, and takes
// the first that does.
func (m *mender) mend(f finding.Finding) (bool, error) {
	for _, with := range m.ways(f) {
		step := chain.Step{Name: m.name(f), Operation: f.Mend.Operation, Why: f.Text, Settings: with}
		plan, err := chain.Plan(chain.Chain{Name: m.Chain.Name, Steps: []chain.Step{step}}, nil, m.current, nil, m.offers)
		if problems, ok := errors.AsType[source.Problems](err); ok {
			m.leave(f, problems[0].Text)
			continue
		}
		if err != nil {
			return false, err
		}
		answer, err := m.runner.Apply(m.ctx, plan[0].Plugin, plan[0].Spec.Name, &operation.Request{Pattern: m.current, Values: plan[0].Values})
		if refusal, ok := errors.AsType[*operation.Refusal](err); ok {
			m.leave(f, refusal.Why)
			continue
		}
		if err != nil {
			return false, fmt.Errorf("%s: %w", step.Operation, err)
		}
		found, why, err := m.judge(f, answer)
		if err != nil {
			return false, fmt.Errorf("%s: %w", step.Operation, err)
		}
		if why != "" {
			m.leave(f, why)
			continue
		}
		m.Chain.Steps = append(m.Chain.Steps, step)
		m.Mends = append(m.Mends, f)
		m.current, m.known = answer.Pattern, found
		return true, nil
	}
	return false, nil
}

// leave keeps the first reason why a finding is left: the usual way tells most.
func (m *mender) leave(f finding.Finding, why string) {
	if k := keyOf(f); m.why[k] == "" {
		m.why[k] = why
	}
}

// judge says why an answer is not taken, or what is found in it.
func (m *mender) judge(f finding.Finding, a *operation.Answer) (found []finding.Finding, why string, err error) {
	if err := chain.Believe(m.current, a); err != nil {
		return nil, "", err
	}
	if piece, edge, by := alter.MostMoved(m.Before, a.Pattern); by > m.options.Bound+boundSlack {
		return nil, fmt.Sprintf("%s/%s would come to lie %s from where it lay at first, and no line may by more than %s",
			piece, edge, unit.Length(by), unit.Length(m.options.Bound)), nil
	}
	const step = "this step"
	found = pairing.Compare(m.known, pairing.CheckWith(a.Pattern, m.options.Check), a.Lineage, step)
	for _, n := range found {
		if n.Since == step && matters(n) {
			return nil, "that would bring in another: " + n.Text, nil
		}
	}
	for _, n := range found {
		if same(f, n) {
			return nil, "the step for it changes nothing there", nil
		}
	}
	if count(found) >= count(m.known) {
		return nil, "the step for it leaves as much to be mended as there was", nil
	}
	return found, "", nil
}

func count(list []finding.Finding) (n int) {
	for _, f := range list {
		if matters(f) {
			n++
		}
	}
	return n
}

// sameSpot is how near in mm two findings of one code on one edge must lie to be
// one: a step moves what it does not mend by no more than a little.
const sameSpot = 20

func same(a, b finding.Finding) bool {
	if a.Code != b.Code || a.Place.Seam != b.Place.Seam || a.Place.Piece != b.Place.Piece || a.Place.Edge != b.Place.Edge {
		return false
	}
	return a.Place.At == nil || b.Place.At == nil || a.Place.At.Near(*b.Place.At, sameSpot)
}

// ways are the settings with which a finding's step is tried, in order: as the
// check proposes it; then the other ways in which lengths may be shared, or less
// of the line drawn anew, as some of the bound may be used up already.
func (m *mender) ways(f finding.Finding) [][]chain.Setting {
	var base []chain.Setting
	for _, name := range slices.Sorted(maps.Keys(f.Mend.With)) {
		base = append(base, chain.Setting{Parameter: name, Value: f.Mend.With[name]})
	}
	within := func(share float64) []chain.Setting {
		return append(slices.Clip(base), chain.Setting{Parameter: "bound", Value: unit.Float(unit.Round(m.options.Bound*share)) + "mm"})
	}
	switch {
	case !m.takes(f.Mend.Operation, "bound"):
		return [][]chain.Setting{base}
	case f.Mend.Operation == "true.dart":
		return [][]chain.Setting{within(1), within(0.5), within(0.25), within(0.125)}
	case f.Mend.Operation == "true.corner":
		ways := [][]chain.Setting{within(1)}
		for _, share := range []float64{1, 0.5, 0.25} {
			for _, gives := range []string{"both", "first", "second"} {
				ways = append(ways, append(within(share), chain.Setting{Parameter: "gives", Value: gives}))
			}
		}
		return ways
	case f.Mend.Operation != "true.length":
		return [][]chain.Setting{within(1)}
	}
	if f.Mend.With["way"] != "" { // the difference is known to lie there: nothing else may give way
		ways := [][]chain.Setting{within(1)}
		for _, share := range []string{"1", "0"} {
			ways = append(ways, append(within(1), chain.Setting{Parameter: "share", Value: share}))
		}
		return ways
	}
	ways := [][]chain.Setting{within(1)}
	for _, share := range []string{"0.5", "1", "0"} {
		for _, way := range []string{"end", "start", "bend"} {
			with := append(within(1), chain.Setting{Parameter: "way", Value: way})
			if share != "0.5" {
				with = append(with, chain.Setting{Parameter: "share", Value: share})
			}
			ways = append(ways, with)
		}
	}
	return ways
}

// takes reports whether an operation has a parameter of that name.
func (m *mender) takes(op, parameter string) bool {
	for _, offer := range m.offers {
		for _, spec := range offer.Operations {
			if offer.Plugin+"."+spec.Name == op {
				return slices.ContainsFunc(spec.Parameters, func(p operation.Parameter) bool { return p.Name == parameter })
			}
		}
	}
	return false
}

// name is what the step for a finding is called: after what it does and where,
// with a number where the chain has that already.
func (m *mender) name(f finding.Finding) string {
	_, op, _ := strings.Cut(f.Mend.Operation, ".")
	parts := []string{op}
	for _, key := range []string{"seam", "piece", "dart", "edge"} {
		if v := f.Mend.With[key]; v != "" {
			parts = append(parts, v)
			break
		}
	}
	base := strings.Join(parts, "-")
	name := base
	for n := 2; slices.ContainsFunc(m.Chain.Steps, func(s chain.Step) bool { return s.Name == name }); n++ {
		name = fmt.Sprintf("%s-%d", base, n)
	}
	return name
}
