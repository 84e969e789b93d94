package sdktest

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
	"bygone.example/core/wearer"
	"bygone.example/core/wire"
	"bygone.example/sdk"
)

// contract returns what a plugin breaks of the rules of Plugin.
func contract(t testing.TB, p *sdk.Plugin, patterns []*sdk.Pattern) []error {
	t.Helper()
	if err := sdk.Validate(p); err != nil {
		return []error{err} // nothing else would mean anything
	}
	var faults []error
	line := connect(t, p)
	got, err := line.Describe(t.Context())
	if err != nil {
		return []error{err}
	}
	want := wire.Description{Name: p.Name, Purpose: p.Purpose, Version: p.Version}
	for _, op := range p.Operations {
		want.Operations = append(want.Operations, op.Spec)
	}
	if diff := cmp.Diff(want, got, cmp.FilterValues(bothEmpty, cmp.Ignore())); diff != "" {
		faults = append(faults, fmt.Errorf("what it describes is not what it declares (-want +got):\n%s", diff))
	}
	if len(patterns) == 0 {
		patterns = []*sdk.Pattern{load(t, "")}
	}
	for _, before := range patterns {
		for _, who := range []wearer.Wearer{{}, body} {
			for _, op := range p.Operations {
				values, err := valuesOf(op, nil)
				if err != nil {
					faults = append(faults, err)
					continue
				}
				others, err := othersOf(values, map[string]*sdk.Pattern{"other": load(t, "")})
				if err != nil {
					faults = append(faults, err)
					continue
				}
				tr := &trial{line: line, op: op, before: before, others: others, values: values, wearer: who}
				_, err = tr.run(t.Context())
				if _, refused := errors.AsType[*operation.Refusal](err); err != nil && !refused {
					faults = append(faults, fmt.Errorf("operation %s on %s: %w", op.Name, before.Name, err))
				}
			}
			if err := survey(t.Context(), line, p, before, who); err != nil {
				faults = append(faults, fmt.Errorf("survey of %s: %w", before.Name, err))
			}
		}
	}
	return eachOnce(faults)
}

// eachOnce leaves out what an earlier fault says word for word.
func eachOnce(faults []error) []error {
	said := map[string]bool{}
	return slices.DeleteFunc(faults, func(err error) bool {
		again := said[err.Error()]
		said[err.Error()] = true
		return again
	})
}

// bothEmpty does not tell no list from an empty one.
func bothEmpty(a, b []string) bool { return len(a) == 0 && len(b) == 0 }

// valuesOf reads parameters as the host does: as given, or by default.
func valuesOf(op *sdk.Operation, params map[string]string) (sdk.Values, error) {
	values := sdk.Values{}
	known := map[string]bool{}
	for _, p := range op.Parameters {
		known[p.Name] = true
		written, given := params[p.Name]
		if !given {
			written = p.Default
		}
		if written == "" {
			continue
		}
		v, err := operation.ParseValue(p, written)
		if err != nil {
			return nil, fmt.Errorf("operation %s: %w", op.Name, err)
		}
		values[p.Name] = v
	}
	for _, name := range slices.Sorted(maps.Keys(params)) {
		if !known[name] {
			return nil, fmt.Errorf("operation %s has no parameter %s", op.Name, name)
		}
	}
	return values, nil
}

// othersOf returns the other patterns that the values name, as the host does:
// the only one that there is in the place of sdk.Only, which it replaces.
func othersOf(values sdk.Values, there map[string]*sdk.Pattern) (map[string]*sdk.Pattern, error) {
	var others map[string]*sdk.Pattern
	names := slices.Sorted(maps.Keys(there))
	for _, parameter := range slices.Sorted(maps.Keys(values)) {
		v := values[parameter]
		if v.Kind != sdk.OtherPattern {
			continue
		}
		if v.Text == sdk.Only && len(names) == 1 {
			v.Text = names[0]
			values[parameter] = v
		}
		if there[v.Text] == nil {
			return nil, fmt.Errorf("%s names pattern %q, and there are %q", parameter, v.Text, names)
		}
		if others == nil {
			others = map[string]*sdk.Pattern{}
		}
		others[v.Text] = there[v.Text]
	}
	return others, nil
}

// trial is one operation on one pattern.
type trial struct {
	line   *wire.Client
	op     *sdk.Operation
	before *pattern.Pattern
	others map[string]*pattern.Pattern
	values sdk.Values
	wearer wearer.Wearer
}

func (tr *trial) request() *sdk.Request {
	r := &sdk.Request{Pattern: tr.before.Clone(), Values: maps.Clone(tr.values), Wearer: tr.wearer}
	for name, other := range tr.others {
		if r.Others == nil {
			r.Others = map[string]*pattern.Pattern{}
		}
		r.Others[name] = other.Clone()
	}
	return r
}

// run returns the answer over the line, the refusal as an error, or what the
// operation broke.
func (tr *trial) run(ctx context.Context) (*sdk.Answer, error) {
	answer, err := tr.line.Apply(ctx, tr.op.Name, tr.request())
	if _, refused := errors.AsType[*operation.Refusal](err); err != nil && !refused {
		return nil, err
	}
	again, errAgain := tr.line.Apply(ctx, tr.op.Name, tr.request())
	if fmt.Sprint(err) != fmt.Sprint(errAgain) {
		return nil, fmt.Errorf("it is not of one mind: first %v, then %v", err, errAgain)
	}
	if diff := cmp.Diff(answer, again); diff != "" {
		return nil, fmt.Errorf("it answers the same request differently (-first +second):\n%s", diff)
	}
	// In this process the request's pattern can be seen afterwards. A panic
	// would have shown above.
	direct := tr.request()
	tr.op.Apply(ctx, direct)
	if diff := cmp.Diff(tr.before.Clone(), direct.Pattern); diff != "" {
		return nil, fmt.Errorf("it changes the pattern it is given: alter a Clone (-before +after):\n%s", diff)
	}
	if diff := cmp.Diff(tr.request().Others, direct.Others); diff != "" {
		return nil, fmt.Errorf("it changes another pattern, which it may only look at (-before +after):\n%s", diff)
	}
	if err != nil {
		return nil, err
	}
	return answer, errors.Join(
		problems("the pattern it answers with is not sound", answer.Pattern.Validate()),
		problems("its lineage does not add up", answer.Lineage.Check(tr.before, answer.Pattern)),
	)
}

// maxProblems listed of one answer.
const maxProblems = 10

func problems(what string, list []pattern.Problem) error {
	var all []error
	for i, p := range list {
		if i == maxProblems {
			all = append(all, fmt.Errorf("%s: and %d more", what, len(list)-i))
			break
		}
		all = append(all, fmt.Errorf("%s: %v", what, p))
	}
	return errors.Join(all...)
}

// survey holds a plugin's survey to its rules.
func survey(ctx context.Context, line *wire.Client, p *sdk.Plugin, before *pattern.Pattern, who wearer.Wearer) error {
	request := func() *sdk.SurveyRequest {
		return &sdk.SurveyRequest{Pattern: before.Clone(), Look: sdk.Look{Name: "high-waist", FirstYear: 1800, LastYear: 1815}, Wearer: who}
	}
	tells, err := line.Survey(ctx, request())
	if err != nil {
		return err
	}
	again, err := line.Survey(ctx, request())
	if err != nil {
		return err
	}
	if diff := cmp.Diff(tells, again); diff != "" {
		return fmt.Errorf("it answers the same request differently (-first +second):\n%s", diff)
	}
	if p.Survey != nil {
		direct := request()
		p.Survey(ctx, direct)
		if diff := cmp.Diff(before.Clone(), direct.Pattern); diff != "" {
			return fmt.Errorf("it changes the pattern it is given (-before +after):\n%s", diff)
		}
	}
	for _, tell := range tells {
		if tell.Piece != "" && before.Piece(tell.Piece) == nil {
			return fmt.Errorf("tell %s is on piece %s, which is not there", tell.Code, tell.Piece)
		}
		if tell.Edge != "" && before.Piece(tell.Piece).Edge(tell.Edge) == nil {
			return fmt.Errorf("tell %s is on edge %s of piece %s, which is not there", tell.Code, tell.Edge, tell.Piece)
		}
	}
	return nil
}
