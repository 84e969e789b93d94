package wire_test

import (
	"errors"
	"testing"

	"github.com/google/go-cmp/cmp"
	"google.golang.org/protobuf/proto"
	"pgregory.net/rapid"

	pluginv1 "bygone.example/proto/gen/bygone/plugin/v1"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
	"bygone.example/core/wearer"
	"bygone.example/core/wire"
)

var (
	coordinate = rapid.Float64Range(-wire.MaxCoordinate, wire.MaxCoordinate)
	along      = rapid.Float64Range(0, wire.MaxCoordinate-1)
	name       = rapid.StringMatching(`[a-z][a-z0-9]{0,8}(-[a-z0-9]{1,4})?(\.[a-z]{1,6})?`)
	word       = rapid.StringMatching(`[a-z][a-z0-9]{0,8}(-[a-z0-9]{1,4})?`)
	text       = rapid.StringMatching(`[A-Za-z0-9 ,;é—ß"]{0,40}`)
	sentence   = rapid.StringMatching(`[A-Z][a-z ]{0,40}\.`)
	point      = rapid.Custom(func(t *rapid.T) geom.Point { return geom.Pt(coordinate.Draw(t, "x"), coordinate.Draw(t, "y")) })
)

// list draws up to most values, nil for none, with different keys.
func list[V any](t *rapid.T, label string, most int, key func(V) string, of func(*rapid.T) V) []V {
	drawn := rapid.SliceOfNDistinct(rapid.Custom(of), 0, most, key).Draw(t, label)
	if len(drawn) == 0 {
		return nil
	}
	return drawn
}

func span(t *rapid.T) (from, to float64) {
	from = along.Draw(t, "from")
	return from, from + rapid.Float64Range(0.001, 1).Draw(t, "width")
}

func pressed(t *rapid.T) pattern.Pressed {
	return rapid.SampledFrom([]pattern.Pressed{"", pattern.PressedToStart, pattern.PressedToEnd}).Draw(t, "pressed")
}

func path(t *rapid.T) geom.Path {
	var p geom.Path
	at := point.Draw(t, "start")
	for range rapid.IntRange(1, 5).Draw(t, "segments") {
		if rapid.Bool().Draw(t, "curved") {
			p = append(p, geom.Cubic(at, point.Draw(t, "c1"), point.Draw(t, "c2"), point.Draw(t, "end")))
		} else {
			p = append(p, geom.Line(at, point.Draw(t, "end")))
		}
		at = p[len(p)-1].P1
	}
	return p
}

func edge(t *rapid.T) pattern.Edge {
	return pattern.Edge{
		Name: name.Draw(t, "edge"), Role: rapid.SampledFrom([]string{"", pattern.Waist}).Draw(t, "role"), Path: path(t),
		Finish: rapid.SampledFrom([]pattern.Finish{
			pattern.Sewn, pattern.Fold, pattern.Hemmed, pattern.Faced, pattern.Bound, pattern.Open,
		}).Draw(t, "finish"),
		Allowance: rapid.Float64Range(0, wire.MaxAllowance).Draw(t, "allowance"),
		Corner:    rapid.SampledFrom([]pattern.Corner{pattern.Meet, pattern.Bevel, pattern.Square, pattern.Turned, pattern.Matched}).Draw(t, "corner"),
	}
}

func piece(t *rapid.T) pattern.Piece {
	p := pattern.Piece{
		Name: name.Draw(t, "piece"), Title: text.Draw(t, "title"),
		Role: rapid.SampledFrom([]pattern.Role{"", pattern.BodiceFront}).Draw(t, "role"),
		Cut:  pattern.Cut{Count: rapid.IntRange(1, wire.MaxCut).Draw(t, "cut"), Mirrored: rapid.Bool().Draw(t, "mirrored")},
		Edges: rapid.SliceOfNDistinct(rapid.Custom(edge), 1, 4, func(e pattern.Edge) string {
			return e.Name
		}).Draw(t, "edges"),
		Landmarks: list(t, "landmarks", 3, func(l pattern.Landmark) string { return l.Name }, func(t *rapid.T) pattern.Landmark {
			return pattern.Landmark{Name: name.Draw(t, "landmark"), At: point.Draw(t, "at")}
		}),
		Darts: list(t, "darts", 3, func(d pattern.Dart) string { return d.Name }, func(t *rapid.T) pattern.Dart {
			from, to := span(t)
			return pattern.Dart{Name: name.Draw(t, "dart"), Edge: name.Draw(t, "edge"), From: from, To: to, Point: point.Draw(t, "point"), Pressed: pressed(t)}
		}),
		Pleats: list(t, "pleats", 3, func(d pattern.Pleat) string { return d.Name }, func(t *rapid.T) pattern.Pleat {
			from, to := span(t)
			kind := rapid.SampledFrom([]pattern.PleatKind{pattern.Knife, pattern.Box, pattern.Inverted, pattern.Tuck}).Draw(t, "kind")
			return pattern.Pleat{Name: name.Draw(t, "pleat"), Edge: name.Draw(t, "edge"), From: from, To: to, Kind: kind, Pressed: pressed(t)}
		}),
		Gathers: list(t, "gathers", 3, func(g pattern.Gather) string { return g.Name }, func(t *rapid.T) pattern.Gather {
			from, to := span(t)
			kind := rapid.SampledFrom([]pattern.GatherKind{pattern.Gathers, pattern.Ease, pattern.Cartridge}).Draw(t, "kind")
			return pattern.Gather{Name: name.Draw(t, "gather"), Edge: name.Draw(t, "edge"), From: from, To: to, Length: along.Draw(t, "length"), Kind: kind, Stitch: along.Draw(t, "stitch"), Rows: rapid.IntRange(0, pattern.MaxRows).Draw(t, "rows")}
		}),
		Notches: list(t, "notches", 3, func(n pattern.Notch) string { return n.Name }, func(t *rapid.T) pattern.Notch {
			return pattern.Notch{Name: name.Draw(t, "notch"), Edge: name.Draw(t, "edge"), At: along.Draw(t, "at"), Count: rapid.IntRange(1, 3).Draw(t, "count")}
		}),
	}
	if rapid.Bool().Draw(t, "grain") {
		from := point.Draw(t, "from")
		p.Grain = pattern.Grain{From: from, To: geom.Pt(from.X, -from.Y/2+1)}
	}
	return p
}

func run(t *rapid.T, least int) pattern.Run {
	var run pattern.Run
	for range rapid.IntRange(least, 3).Draw(t, "run") {
		run = append(run, pattern.EdgeRef{Piece: name.Draw(t, "piece"), Edge: name.Draw(t, "edge"), Backwards: rapid.Bool().Draw(t, "backwards")})
	}
	return run
}

func interval(t *rapid.T) pattern.Range {
	if rapid.Bool().Draw(t, "none") {
		return pattern.Range{}
	}
	low := along.Draw(t, "min")
	return pattern.Range{Min: low, Max: low + 1}
}

func seam(t *rapid.T) pattern.Seam {
	return pattern.Seam{
		Name: name.Draw(t, "seam"), A: run(t, 1), B: run(t, 0),
		Meeting: pattern.Meeting{
			Kind: rapid.SampledFrom([]pattern.MeetingKind{pattern.Plain, pattern.Eased, pattern.Gathered, pattern.Pleated}).Draw(t, "meeting"),
			Ease: interval(t), Ratio: interval(t),
		},
		Kind: rapid.SampledFrom([]pattern.SeamKind{pattern.Joined, pattern.Basted}).Draw(t, "seam kind"),
	}
}

func aPattern(t *rapid.T) *pattern.Pattern {
	return &pattern.Pattern{
		Name: name.Draw(t, "name"), Title: text.Draw(t, "title"), Notes: text.Draw(t, "a") + "\n\t" + text.Draw(t, "b"),
		Pieces: rapid.SliceOfNDistinct(rapid.Custom(piece), 1, 3, func(p pattern.Piece) string { return p.Name }).Draw(t, "pieces"),
		Seams:  list(t, "seams", 3, func(s pattern.Seam) string { return s.Name }, seam),
	}
}

func body(t *rapid.T) wearer.Wearer {
	b := wearer.Wearer{Name: name.Draw(t, "wearer"), Title: text.Draw(t, "title")}
	for _, m := range list(t, "measures", 4, func(s string) string { return s }, func(t *rapid.T) string { return name.Draw(t, "measure") }) {
		if b.Measures == nil {
			b.Measures = map[wearer.Measure]float64{}
		}
		b.Measures[wearer.Measure(m)] = rapid.Float64Range(1, wire.MaxMeasure).Draw(t, "mm")
	}
	return b
}

// through sends a message as bytes and back.
func through[M proto.Message](t *rapid.T, m, empty M) M {
	b, err := proto.MarshalOptions{Deterministic: true}.Marshal(m)
	if err != nil {
		t.Fatal(err)
	}
	if err := proto.Unmarshal(b, empty); err != nil {
		t.Fatal(err)
	}
	return empty
}

func same(t *rapid.T, want, got any) {
	if diff := cmp.Diff(want, got); diff != "" {
		t.Fatalf("did not come back the same (-sent +received):\n%s", diff)
	}
}

func TestRequestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := &operation.Request{Pattern: aPattern(t), Wearer: body(t)}
		for _, v := range list(t, "values", 4, func(s string) string { return s }, func(t *rapid.T) string { return word.Draw(t, "value") }) {
			if want.Values == nil {
				want.Values = operation.Values{}
			}
			want.Values[v] = rapid.SampledFrom([]operation.Value{
				{Kind: operation.Length, Number: 12.5}, {Kind: operation.Angle, Number: -0.1}, {Kind: operation.Ratio, Number: 1.45},
				{Kind: operation.Count, Number: 3}, {Kind: operation.Switch, Number: 1}, {Kind: operation.Choice, Text: "puff"},
				{Kind: operation.Name, Text: "front/side.upper"}, {Kind: operation.OtherPattern, Text: "spencer"},
			}).Draw(t, "v")
		}
		for _, other := range list(t, "others", 2, func(s string) string { return s }, func(t *rapid.T) string { return word.Draw(t, "other") }) {
			if want.Others == nil {
				want.Others = map[string]*pattern.Pattern{}
			}
			want.Others[other] = aPattern(t)
		}
		m, err := wire.EncodeRequest("raise-waist", want)
		if err != nil {
			t.Fatal(err)
		}
		op, got, err := wire.DecodeRequest(through(t, m, &pluginv1.ApplyRequest{}))
		if err != nil {
			t.Fatal(err)
		}
		same(t, "raise-waist", op)
		same(t, want, got)
	})
}

func TestAnswerRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := &operation.Answer{Pattern: aPattern(t)}
		for range rapid.IntRange(1, 5).Draw(t, "spans") {
			from, to := span(t)
			s := pattern.Span{New: pattern.Stretch{Piece: name.Draw(t, "piece"), Edge: name.Draw(t, "edge"), From: from, To: to}}
			if rapid.Bool().Draw(t, "kept") {
				s.Old = s.New
			}
			want.Lineage = append(want.Lineage, s)
		}
		for range rapid.IntRange(0, 3).Draw(t, "changes") {
			want.Changes = append(want.Changes, operation.Change{
				What: "hem " + text.Draw(t, "what"), Piece: "front", Before: coordinate.Draw(t, "before"), After: coordinate.Draw(t, "after"),
				Unit: rapid.SampledFrom([]string{"mm", "degrees", ""}).Draw(t, "unit"),
			})
			want.Cautions = append(want.Cautions, "Mind "+text.Draw(t, "caution"))
		}
		m, err := wire.EncodeAnswer(want)
		if err != nil {
			t.Fatal(err)
		}
		got, err := wire.DecodeAnswer(through(t, m, &pluginv1.ApplyResponse{}))
		if err != nil {
			t.Fatal(err)
		}
		same(t, want, got)
	})
}

func TestDescriptionRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := &operation.Plugin{Name: word.Draw(t, "name"), Purpose: sentence.Draw(t, "purpose"), Version: "v1.2.3"}
		want := wire.Description{Name: p.Name, Purpose: p.Purpose, Version: p.Version}
		for _, n := range rapid.SliceOfNDistinct(word, 1, 3, rapid.ID).Draw(t, "operations") {
			spec := operation.Spec{
				Name: n, Purpose: sentence.Draw(t, "purpose"),
				Needs:    []operation.Need{{Piece: pattern.BodiceFront}, {Piece: pattern.Sleeve, Edge: pattern.Cap}},
				Makes:    []operation.Need{{Piece: "frill", Edge: pattern.Hem}, {Piece: pattern.Collar}},
				Measures: []wearer.Measure{wearer.BustGirth},
				Parameters: list(t, "parameters", 3, func(p operation.Parameter) string { return p.Name }, func(t *rapid.T) operation.Parameter {
					return operation.Parameter{
						Name: word.Draw(t, "parameter"), Meaning: sentence.Draw(t, "meaning"), Default: text.Draw(t, "default"),
						Kind: rapid.SampledFrom([]operation.Kind{operation.Length, operation.Angle, operation.Ratio, operation.Count, operation.Switch, operation.Name, operation.OtherPattern}).Draw(t, "kind"),
						Mark: rapid.SampledFrom([]operation.Mark{"", operation.Published, operation.Computed, operation.CommonPractice, operation.FromMemory}).Draw(t, "mark"),
						Min:  -1, Max: along.Draw(t, "max"), Source: text.Draw(t, "source"), DefaultNote: text.Draw(t, "note"),
					}
				}),
			}
			spec.Parameters = append(spec.Parameters, operation.Parameter{
				Name: "zz-choice", Kind: operation.Choice, Meaning: "Which.", Choices: []string{"puff", "plain"},
			})
			want.Operations = append(want.Operations, spec)
			p.Operations = append(p.Operations, &operation.Operation{Spec: spec})
		}
		m, err := wire.EncodeDescription(p)
		if err != nil {
			t.Fatal(err)
		}
		got, err := wire.DecodeDescription(through(t, m, &pluginv1.DescribeResponse{}))
		if err != nil {
			t.Fatal(err)
		}
		same(t, want, got)
	})
}

func TestSurveyRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := &operation.SurveyRequest{Pattern: aPattern(t), Wearer: body(t), Look: operation.Look{Name: "high-waist", Title: "High waist", FirstYear: 1800, LastYear: 1815}}
		m, err := wire.EncodeSurvey(want)
		if err != nil {
			t.Fatal(err)
		}
		got, err := wire.DecodeSurvey(through(t, m, &pluginv1.SurveyRequest{}))
		if err != nil {
			t.Fatal(err)
		}
		same(t, want, got)

		tells := list(t, "tells", 3, func(t operation.Tell) string { return t.Code }, func(t *rapid.T) operation.Tell {
			return operation.Tell{
				Code: name.Draw(t, "code"), Text: sentence.Draw(t, "text"), Source: text.Draw(t, "source"), Mark: operation.FromMemory,
				Piece: "front", Edge: "shoulder",
				Mends: []operation.Mend{{Plugin: "shoulder", Operation: "move", Settings: []operation.Setting{{Parameter: "by", Value: "25mm"}}}},
			}
		})
		found, err := wire.EncodeTells(tells)
		if err != nil {
			t.Fatal(err)
		}
		back, err := wire.DecodeTells(through(t, found, &pluginv1.SurveyResponse{}))
		if err != nil {
			t.Fatal(err)
		}
		same(t, tells, back)
	})
}

func TestRefusalRoundTrip(t *testing.T) {
	want := &operation.Refusal{Why: "piece front has no waist", Instead: "name another piece"}
	_, err := wire.DecodeAnswer(wire.EncodeRefusal(want))
	got, ok := errors.AsType[*operation.Refusal](err)
	if !ok || *got != *want {
		t.Errorf("got %v, want %v", err, want)
	}
}
