package wire

import (
	pluginv1 "bygone.example/proto/gen/bygone/plugin/v1"

	"bygone.example/core/operation"
)

// EncodeSurvey returns the message that asks for a survey.
func EncodeSurvey(q *operation.SurveyRequest) (*pluginv1.SurveyRequest, error) {
	p, err := EncodePattern(q.Pattern)
	if err != nil {
		return nil, err
	}
	w := &writer{}
	return &pluginv1.SurveyRequest{
		Pattern: p,
		Look: &pluginv1.Look{
			Name: q.Look.Name, Title: q.Look.Title,
			FirstYear: int32(min(q.Look.FirstYear, MaxYear+1)), LastYear: int32(min(q.Look.LastYear, MaxYear+1)),
		},
		Wearer: w.wearer(q.Wearer),
	}, w.err
}

// DecodeSurvey returns what a stranger's message asks for, or a *Broken.
func DecodeSurvey(m *pluginv1.SurveyRequest) (*operation.SurveyRequest, error) {
	r := &reader{}
	at := &place{nil, "survey", -1}
	look, here := m.GetLook(), at.in("look")
	q := &operation.SurveyRequest{
		Pattern: r.pattern(at.in("pattern"), m.GetPattern()),
		Look: operation.Look{
			Name:      r.name(here.in("name"), look.GetName()),
			Title:     r.text(here.in("title"), look.GetTitle(), MaxTitle),
			FirstYear: r.whole(here.in("first_year"), look.GetFirstYear(), 0, MaxYear),
			LastYear:  r.whole(here.in("last_year"), look.GetLastYear(), 0, MaxYear),
		},
		Wearer: r.wearer(at.in("wearer"), m.GetWearer()),
	}
	if q.Look.LastYear != 0 && q.Look.LastYear < q.Look.FirstYear {
		r.fail(here.in("last_year"), "is %d, before first_year, %d", q.Look.LastYear, q.Look.FirstYear)
	}
	if err := r.err("survey"); err != nil {
		return nil, err
	}
	return q, nil
}

// EncodeTells returns the message for what a survey found. It fails on a mark
// without a meaning.
func EncodeTells(tells []operation.Tell) (*pluginv1.SurveyResponse, error) {
	w := &writer{}
	m := &pluginv1.SurveyResponse{}
	for _, t := range tells {
		w.place = "tell " + t.Code
		tell := &pluginv1.Tell{
			Code: t.Code, Text: t.Text, Source: t.Source, Mark: sent(w, marks, t.Mark), Piece: t.Piece, Edge: t.Edge,
		}
		for _, d := range t.Mends {
			mend := &pluginv1.Mend{Plugin: d.Plugin, Operation: d.Operation}
			for _, s := range d.Settings {
				mend.Settings = append(mend.Settings, &pluginv1.Setting{Parameter: s.Parameter, Value: s.Value})
			}
			tell.Mends = append(tell.Mends, mend)
		}
		m.Tells = append(m.Tells, tell)
	}
	return m, w.err
}

// DecodeTells returns what a stranger's survey found, or a *Broken.
func DecodeTells(m *pluginv1.SurveyResponse) ([]operation.Tell, error) {
	r := &reader{}
	at := &place{nil, "survey", -1}
	var tells []operation.Tell
	if r.count(at.in("tells"), len(m.GetTells()), 0, MaxTells) {
		for i, t := range m.GetTells() {
			tells = append(tells, r.tell(at.at("tells", i), t))
		}
	}
	if err := r.err("survey"); err != nil {
		return nil, err
	}
	return tells, nil
}

func (r *reader) tell(at *place, m *pluginv1.Tell) operation.Tell {
	t := operation.Tell{
		Code:   r.name(at.in("code"), m.GetCode()),
		Text:   r.required(at.in("text"), m.GetText(), MaxParagraph/2),
		Source: r.text(at.in("source"), m.GetSource(), MaxSentence),
		Mark:   marks.decode(r, at.in("mark"), m.GetMark()),
		Piece:  r.optionalName(at.in("piece"), m.GetPiece()),
		Edge:   r.optionalName(at.in("edge"), m.GetEdge()),
	}
	if t.Mark == "" {
		r.fail(at.in("mark"), "is missing")
	}
	if t.Piece == "" && t.Edge != "" {
		r.fail(at.in("edge"), "is given without a piece")
	}
	if !r.count(at.in("mends"), len(m.GetMends()), 0, MaxMends) {
		return t
	}
	for i, d := range m.GetMends() {
		here := at.at("mends", i)
		mend := operation.Mend{
			Plugin: r.word(here.in("plugin"), d.GetPlugin()), Operation: r.word(here.in("operation"), d.GetOperation()),
		}
		if r.count(here.in("settings"), len(d.GetSettings()), 0, MaxParameters) {
			seen := make(map[string]bool, len(d.GetSettings()))
			for j, s := range d.GetSettings() {
				spot := here.at("settings", j)
				mend.Settings = append(mend.Settings, operation.Setting{
					Parameter: r.word(spot.in("parameter"), s.GetParameter()),
					Value:     r.required(spot.in("value"), s.GetValue(), MaxValue),
				})
				r.once(spot.in("parameter"), seen, s.GetParameter())
			}
		}
		t.Mends = append(t.Mends, mend)
	}
	return t
}
