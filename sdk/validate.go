package sdk

import (
	"errors"
	"fmt"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
	"bygone.example/core/wire"
)

// Validate reports everything that is wrong with what a plugin declares, as one
// error with a line for each fault; nil when nothing is. Main calls it before
// serving, sdktest.Plugin in a test.
//
//  1. Plugins, operations and parameters have names as operation.ValidName
//     allows them, and no name is taken twice.
//  2. Purposes and meanings are one sentence, a capital first and a full stop
//     last.
//  3. There is at least one operation, and each has an Apply.
//  4. A parameter's kind is known; Choices are there for a Choice, and for
//     nothing else, each a name and none twice.
//  5. Min is not more than Max, and only a number has them.
//  6. A Default parses, lies in its range or among its choices. Without one, a
//     DefaultNote says how the operation finds its own. An OtherPattern's is
//     empty or Only.
//  7. Where Default is a number, Mark says how sure it is; where that is
//     Published or Computed, Source says where from.
//  8. What it needs and makes names a piece role; measures are named.
//  9. What the contract bounds (counts, lengths of texts) is within bounds.
func Validate(p *Plugin) error {
	if p == nil {
		return errors.New("there is no plugin")
	}
	v := &validator{}
	v.name("plugin", p.Name)
	v.sentence("purpose of plugin "+p.Name, p.Purpose)
	if len(p.Operations) == 0 {
		v.fail("plugin %s has no operations", p.Name)
	}
	seen := map[string]bool{}
	for _, op := range p.Operations {
		if op == nil {
			v.fail("plugin %s lists an operation that is nil", p.Name)
			continue
		}
		if seen[op.Name] {
			v.fail("two operations are called %s", op.Name)
		}
		seen[op.Name] = true
		v.operation(op)
	}
	if len(v.faults) == 0 {
		v.wire(p)
	}
	return errors.Join(v.faults...)
}

type validator struct{ faults []error }

func (v *validator) fail(format string, args ...any) {
	v.faults = append(v.faults, fmt.Errorf(format, args...))
}

func (v *validator) name(what, name string) {
	if !operation.ValidName(name) {
		v.fail("%s %q is not a name: lower-case letters, digits and single hyphens, a letter first, at most %d",
			what, name, operation.MaxName)
	}
}

func (v *validator) sentence(what, s string) {
	if !operation.ValidSentence(s) {
		v.fail("the %s is %q, not one sentence of at most %d bytes with a capital first and a full stop last",
			what, s, operation.MaxSentence)
	}
}

func (v *validator) operation(op *Operation) {
	v.name("operation", op.Name)
	v.sentence("purpose of operation "+op.Name, op.Purpose)
	if op.Apply == nil {
		v.fail("operation %s has no Apply", op.Name)
	}
	seen := map[string]bool{}
	for i := range op.Parameters {
		p := &op.Parameters[i]
		if seen[p.Name] {
			v.fail("operation %s has two parameters called %s", op.Name, p.Name)
		}
		seen[p.Name] = true
		v.parameter(op.Name+"."+p.Name, p)
	}
	v.roles(op.Name, "needs", op.Needs)
	v.roles(op.Name, "makes", op.Makes)
	for _, m := range op.Measures {
		if !pattern.ValidDotted(string(m)) {
			v.fail("operation %s looks at measure %q: not a name", op.Name, m)
		}
	}
}

func (v *validator) roles(op, what string, list []Need) {
	for _, need := range list {
		if !pattern.ValidDotted(string(need.Piece)) || need.Edge != "" && !pattern.ValidDotted(need.Edge) {
			v.fail("operation %s %s piece %q, edge %q: not roles", op, what, need.Piece, need.Edge)
		}
	}
}

func (v *validator) parameter(path string, p *Parameter) {
	v.name("parameter "+path+":", p.Name)
	v.sentence("meaning of parameter "+path, p.Meaning)
	number := false
	switch p.Kind {
	case Length, Angle, Ratio, Count:
		number = true
	case Choice, Switch, Name, OtherPattern:
	default:
		v.fail("parameter %s is of kind %q, which there is not", path, p.Kind)
		return
	}
	if p.Kind == Choice && len(p.Choices) == 0 {
		v.fail("parameter %s is a choice without choices", path)
	}
	if p.Kind != Choice && len(p.Choices) > 0 {
		v.fail("parameter %s has choices, but is a %s", path, p.Kind)
	}
	seen := map[string]bool{}
	for _, c := range p.Choices {
		if !pattern.ValidDotted(c) {
			v.fail("parameter %s offers %q: not a name", path, c)
		}
		if seen[c] {
			v.fail("parameter %s offers %s twice", path, c)
		}
		seen[c] = true
	}
	if p.Min > p.Max {
		v.fail("parameter %s is at least %g and at most %g", path, p.Min, p.Max)
	}
	if !number && (p.Min != 0 || p.Max != 0) {
		v.fail("parameter %s has bounds, but is a %s", path, p.Kind)
	}
	if p.Default == "" {
		if p.DefaultNote == "" {
			v.fail("parameter %s has neither a default nor a note saying how the operation finds its own", path)
		}
	} else if _, err := operation.ParseValue(*p, p.Default); err != nil {
		v.fail("parameter %s: the default: %w", path, err)
	} else if p.Kind == OtherPattern && p.Default != Only {
		v.fail("parameter %s has the default %q, but which patterns a chain lists is not the plugin's to know: leave it empty, or write %s", path, p.Default, Only)
	}
	if number && p.Default != "" && p.Mark == "" {
		v.fail("parameter %s has a number for a default, but no mark that says how sure it is", path)
	}
	switch p.Mark {
	case "", CommonPractice, FromMemory:
	case Published, Computed:
		if p.Source == "" {
			v.fail("parameter %s is marked %s, but names no source", path, p.Mark)
		}
	default:
		v.fail("parameter %s is marked %q, which there is not", path, p.Mark)
	}
}

// wire sends the declaration to ourselves, as the host will receive it.
func (v *validator) wire(p *Plugin) {
	m, err := wire.EncodeDescription(p)
	if err == nil {
		_, err = wire.DecodeDescription(m)
	}
	if err != nil {
		v.fail("%w", err)
	}
}
