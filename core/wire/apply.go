package wire

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	pluginv1 "bygone.example/proto/gen/bygone/plugin/v1"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
	"bygone.example/core/wearer"
)

// EncodeRequest returns the message that asks for one run of an operation.
// Values and measures are sent in the order of their names.
func EncodeRequest(op string, q *operation.Request) (*pluginv1.ApplyRequest, error) {
	p, err := EncodePattern(q.Pattern)
	if err != nil {
		return nil, err
	}
	w := &writer{}
	w.count("values", len(q.Values), MaxParameters)
	m := &pluginv1.ApplyRequest{Operation: op, Pattern: p, Wearer: w.wearer(q.Wearer)}
	for _, name := range slices.Sorted(maps.Keys(q.Values)) {
		v := q.Values[name]
		w.place = "value " + name
		m.Values = append(m.Values, &pluginv1.Value{
			Name: name, Kind: sent(w, parameterKinds, v.Kind), Number: v.Number, Text: v.Text,
		})
	}
	w.place = ""
	w.count("other patterns", len(q.Others), MaxOthers)
	for _, name := range slices.Sorted(maps.Keys(q.Others)) {
		other, err := EncodePattern(q.Others[name])
		if err != nil {
			return nil, fmt.Errorf("pattern %s: %w", name, err)
		}
		m.Others = append(m.Others, &pluginv1.OtherPattern{Name: name, Pattern: other})
	}
	return m, w.err
}

// DecodeRequest returns what a stranger's message asks for, or a *Broken.
func DecodeRequest(m *pluginv1.ApplyRequest) (op string, q *operation.Request, err error) {
	r := &reader{}
	at := &place{nil, "request", -1}
	op = r.word(at.in("operation"), m.GetOperation())
	q = &operation.Request{
		Pattern: r.pattern(at.in("pattern"), m.GetPattern()),
		Wearer:  r.wearer(at.in("wearer"), m.GetWearer()),
	}
	if len(m.GetValues()) > 0 && r.count(at.in("values"), len(m.GetValues()), 0, MaxParameters) {
		seen := make(map[string]bool, len(m.GetValues()))
		q.Values = make(operation.Values, len(m.GetValues()))
		for i, v := range m.GetValues() {
			here := at.at("values", i)
			q.Values[r.word(here.in("name"), v.GetName())] = r.value(here, v)
			r.once(here.in("name"), seen, v.GetName())
		}
	}
	if len(m.GetOthers()) > 0 && r.count(at.in("others"), len(m.GetOthers()), 0, MaxOthers) {
		seen := make(map[string]bool, len(m.GetOthers()))
		q.Others = make(map[string]*pattern.Pattern, len(m.GetOthers()))
		for i, other := range m.GetOthers() {
			here := at.at("others", i)
			name := r.name(here.in("name"), other.GetName())
			r.segments = 0 // the bound is on one pattern; what all take, the message bounds
			q.Others[name] = r.pattern(here.in("pattern"), other.GetPattern())
			r.once(here.in("name"), seen, name)
		}
	}
	if err := r.err("request"); err != nil {
		return "", nil, err
	}
	return op, q, nil
}

func (r *reader) value(at *place, m *pluginv1.Value) operation.Value {
	v := operation.Value{
		Kind:   parameterKinds.decode(r, at.in("kind"), m.GetKind()),
		Number: r.number(at.in("number"), m.GetNumber(), -MaxFigure, MaxFigure),
		Text:   m.GetText(),
	}
	for i, part := range strings.SplitN(v.Text, "/", 3) { // a name, or piece/edge
		if i == 2 || v.Text != "" && !pattern.ValidDotted(part) {
			r.fail(at.in("text"), "%s is neither a name nor two with a stroke between", show(v.Text))
			break
		}
	}
	switch v.Kind {
	case operation.Choice, operation.Name, operation.OtherPattern:
		if v.Text == "" {
			r.fail(at.in("text"), "is empty")
		}
	case operation.Count:
		if v.Number != math.Trunc(v.Number) {
			r.fail(at.in("number"), "is %g, not a whole number", v.Number)
		}
	case operation.Switch:
		if v.Number != 0 && v.Number != 1 {
			r.fail(at.in("number"), "is %g, neither 0 nor 1", v.Number)
		}
	}
	return v
}

// wearer encodes a body; one of which nothing is known is left out.
func (w *writer) wearer(b wearer.Wearer) *pluginv1.Wearer {
	if b.Name == "" && b.Title == "" && len(b.Measures) == 0 {
		return nil
	}
	w.count("measures", len(b.Measures), MaxParameters)
	m := &pluginv1.Wearer{Name: b.Name, Title: b.Title}
	for _, name := range slices.Sorted(maps.Keys(b.Measures)) {
		m.Measures = append(m.Measures, &pluginv1.Measure{Name: string(name), Mm: b.Measures[name]})
	}
	return m
}

func (r *reader) wearer(at *place, m *pluginv1.Wearer) wearer.Wearer {
	b := wearer.Wearer{
		Name:  r.optionalName(at.in("name"), m.GetName()),
		Title: r.text(at.in("title"), m.GetTitle(), MaxTitle),
	}
	if len(m.GetMeasures()) == 0 || !r.count(at.in("measures"), len(m.GetMeasures()), 0, MaxParameters) {
		return b
	}
	seen := make(map[string]bool, len(m.GetMeasures()))
	b.Measures = make(map[wearer.Measure]float64, len(m.GetMeasures()))
	for i, measure := range m.GetMeasures() {
		here := at.at("measures", i)
		name := r.name(here.in("name"), measure.GetName())
		b.Measures[wearer.Measure(name)] = r.number(here.in("mm"), measure.GetMm(), math.SmallestNonzeroFloat64, MaxMeasure)
		r.once(here.in("name"), seen, name)
	}
	return b
}

// EncodeAnswer returns the message for what an operation did.
func EncodeAnswer(a *operation.Answer) (*pluginv1.ApplyResponse, error) {
	if a == nil {
		return nil, errors.New("the operation returned neither an answer nor an error")
	}
	p, err := EncodePattern(a.Pattern)
	if err != nil {
		return nil, err
	}
	w := &writer{}
	m := &pluginv1.Altered{Pattern: p, Lineage: EncodeLineage(a.Lineage), Cautions: a.Cautions}
	for i, c := range a.Changes {
		w.place = fmt.Sprintf("change %d (%s)", i+1, show(c.What))
		m.Changes = append(m.Changes, &pluginv1.Change{
			What: c.What, Piece: c.Piece, Before: c.Before, After: c.After, Unit: sent(w, units, unit(c.Unit)),
		})
	}
	return &pluginv1.ApplyResponse{Outcome: &pluginv1.ApplyResponse_Altered{Altered: m}}, w.err
}

// EncodeRefusal returns the message for a refusal.
func EncodeRefusal(f *operation.Refusal) *pluginv1.ApplyResponse {
	return &pluginv1.ApplyResponse{Outcome: &pluginv1.ApplyResponse_Refusal{
		Refusal: &pluginv1.Refusal{Why: f.Why, Instead: f.Instead},
	}}
}

// DecodeAnswer returns what a stranger says an operation did. A refusal comes
// back as a *operation.Refusal, a message that does not keep to the contract as
// a *Broken.
func DecodeAnswer(m *pluginv1.ApplyResponse) (*operation.Answer, error) {
	r := &reader{}
	at := &place{nil, "answer", -1}
	if refusal := m.GetRefusal(); refusal != nil {
		here := at.in("refusal")
		f := &operation.Refusal{
			Why:     r.required(here.in("why"), refusal.GetWhy(), MaxParagraph),
			Instead: r.text(here.in("instead"), refusal.GetInstead(), MaxParagraph),
		}
		if err := r.err("answer"); err != nil {
			return nil, err
		}
		return nil, f
	}
	altered := m.GetAltered()
	if altered == nil {
		r.fail(at, "holds neither a pattern nor a refusal")
		return nil, r.err("answer")
	}
	a := &operation.Answer{
		Pattern: r.pattern(at.in("pattern"), altered.GetPattern()),
		Lineage: r.lineage(at.in("lineage"), altered.GetLineage()),
	}
	if r.count(at.in("changes"), len(altered.GetChanges()), 0, MaxChanges) {
		for i, c := range altered.GetChanges() {
			here := at.at("changes", i)
			a.Changes = append(a.Changes, operation.Change{
				What:   r.required(here.in("what"), c.GetWhat(), MaxTitle),
				Piece:  r.optionalName(here.in("piece"), c.GetPiece()),
				Before: r.number(here.in("before"), c.GetBefore(), -MaxFigure, MaxFigure),
				After:  r.number(here.in("after"), c.GetAfter(), -MaxFigure, MaxFigure),
				Unit:   string(units.decode(r, here.in("unit"), c.GetUnit())),
			})
		}
	}
	if r.count(at.in("cautions"), len(altered.GetCautions()), 0, MaxCautions) {
		for i, c := range altered.GetCautions() {
			a.Cautions = append(a.Cautions, r.required(at.at("cautions", i), c, MaxParagraph))
		}
	}
	if err := r.err("answer"); err != nil {
		return nil, err
	}
	return a, nil
}
