package wire

import (
	pluginv1 "bygone.example/proto/gen/bygone/plugin/v1"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
	"bygone.example/core/wearer"
)

// Description is what a plugin says it offers.
type Description struct {
	Name, Purpose, Version string
	Operations             []operation.Spec
}

// EncodeDescription returns the message for what a plugin offers. It fails on a
// kind or mark without a meaning.
func EncodeDescription(p *operation.Plugin) (*pluginv1.DescribeResponse, error) {
	w := &writer{place: "plugin " + p.Name}
	m := &pluginv1.DescribeResponse{Name: p.Name, Purpose: p.Purpose, Version: p.Version}
	for _, op := range p.Operations {
		w.place = "operation " + op.Name
		o := &pluginv1.Operation{Name: op.Name, Purpose: op.Purpose}
		for _, p := range op.Parameters {
			o.Parameters = append(o.Parameters, &pluginv1.Parameter{
				Name: p.Name, Kind: sent(w, parameterKinds, p.Kind), Meaning: p.Meaning,
				DefaultValue: p.Default, DefaultNote: p.DefaultNote, Min: p.Min, Max: p.Max,
				Choices: p.Choices, Mark: sent(w, marks, p.Mark), Source: p.Source,
			})
		}
		for _, n := range op.Needs {
			o.Needs = append(o.Needs, &pluginv1.Need{Piece: string(n.Piece), Edge: n.Edge})
		}
		for _, n := range op.Makes {
			o.Makes = append(o.Makes, &pluginv1.Need{Piece: string(n.Piece), Edge: n.Edge})
		}
		for _, measure := range op.Measures {
			o.Measures = append(o.Measures, string(measure))
		}
		m.Operations = append(m.Operations, o)
	}
	return m, w.err
}

// DecodeDescription returns what a stranger's plugin offers, or a *Broken.
// Whether a default parses and lies in its range is for others to check.
func DecodeDescription(m *pluginv1.DescribeResponse) (Description, error) {
	r := &reader{}
	at := &place{nil, "description", -1}
	d := Description{
		Name:    r.word(at.in("name"), m.GetName()),
		Purpose: r.sentence(at.in("purpose"), m.GetPurpose()),
		Version: r.text(at.in("version"), m.GetVersion(), MaxVersion),
	}
	if r.count(at.in("operations"), len(m.GetOperations()), 1, MaxOperations) {
		seen := make(map[string]bool, len(m.GetOperations()))
		for i, o := range m.GetOperations() {
			here := at.at("operations", i)
			d.Operations = append(d.Operations, r.spec(here, o))
			r.once(here.in("name"), seen, o.GetName())
		}
	}
	if err := r.err("description"); err != nil {
		return Description{}, err
	}
	return d, nil
}

func (r *reader) sentence(at *place, s string) string {
	if !operation.ValidSentence(s) {
		r.fail(at, "is not one sentence of at most %d bytes, a capital first and a full stop last", MaxSentence)
	}
	return r.text(at, s, MaxSentence)
}

func (r *reader) spec(at *place, m *pluginv1.Operation) operation.Spec {
	s := operation.Spec{
		Name:    r.word(at.in("name"), m.GetName()),
		Purpose: r.sentence(at.in("purpose"), m.GetPurpose()),
	}
	if r.count(at.in("parameters"), len(m.GetParameters()), 0, MaxParameters) {
		seen := make(map[string]bool, len(m.GetParameters()))
		for i, p := range m.GetParameters() {
			here := at.at("parameters", i)
			s.Parameters = append(s.Parameters, r.parameter(here, p))
			r.once(here.in("name"), seen, p.GetName())
		}
	}
	s.Needs = r.needs(at, "needs", m.GetNeeds())
	s.Makes = r.needs(at, "makes", m.GetMakes())
	if r.count(at.in("measures"), len(m.GetMeasures()), 0, MaxParameters) {
		for i, measure := range m.GetMeasures() {
			s.Measures = append(s.Measures, wearer.Measure(r.name(at.at("measures", i), measure)))
		}
	}
	return s
}

func (r *reader) needs(at *place, field string, list []*pluginv1.Need) []operation.Need {
	if !r.count(at.in(field), len(list), 0, MaxParameters) {
		return nil
	}
	var needs []operation.Need
	for i, n := range list {
		here := at.at(field, i)
		needs = append(needs, operation.Need{
			Piece: pattern.Role(r.name(here.in("piece"), n.GetPiece())),
			Edge:  r.optionalName(here.in("edge"), n.GetEdge()),
		})
	}
	return needs
}

func (r *reader) parameter(at *place, m *pluginv1.Parameter) operation.Parameter {
	p := operation.Parameter{
		Name:        r.word(at.in("name"), m.GetName()),
		Kind:        parameterKinds.decode(r, at.in("kind"), m.GetKind()),
		Meaning:     r.sentence(at.in("meaning"), m.GetMeaning()),
		Default:     r.text(at.in("default_value"), m.GetDefaultValue(), MaxValue),
		DefaultNote: r.text(at.in("default_note"), m.GetDefaultNote(), MaxSentence),
		Min:         r.number(at.in("min"), m.GetMin(), -MaxFigure, MaxFigure),
		Max:         r.number(at.in("max"), m.GetMax(), -MaxFigure, MaxFigure),
		Mark:        marks.decode(r, at.in("mark"), m.GetMark()),
		Source:      r.text(at.in("source"), m.GetSource(), MaxSentence),
	}
	if p.Min > p.Max {
		r.fail(at.in("max"), "is %g, less than min, %g", p.Max, p.Min)
	}
	least := 0
	if p.Kind == operation.Choice {
		least = 1
	}
	if r.count(at.in("choices"), len(m.GetChoices()), least, MaxChoices) {
		for i, c := range m.GetChoices() {
			p.Choices = append(p.Choices, r.name(at.at("choices", i), c))
		}
	}
	if p.Kind != operation.Choice && len(p.Choices) > 0 {
		r.fail(at.in("choices"), "is only for a choice")
	}
	return p
}
