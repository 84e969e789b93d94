package wire_test

import (
	"math"
	"strings"
	"testing"

	patternv1 "bygone.example/proto/gen/bygone/pattern/v1"
	pluginv1 "bygone.example/proto/gen/bygone/plugin/v1"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
	"bygone.example/core/wire"
)

// times repeats what make returns for each index.
func times[M any](n int, of func(i int) M) []M {
	list := make([]M, n)
	for i := range list {
		list[i] = of(i)
	}
	return list
}

// numbered is a different name for each i.
func numbered(i int) string {
	return "n" + strings.Repeat("x", i%7) + string(rune('a'+i%26)) + itoa(i)
}

func itoa(i int) string {
	if i < 10 {
		return string(rune('0' + i))
	}
	return itoa(i/10) + string(rune('0'+i%10))
}

func line(n int) *patternv1.Path {
	return &patternv1.Path{
		Segments: times(n, func(int) patternv1.SegmentKind { return patternv1.SegmentKind_SEGMENT_KIND_LINE }),
		Numbers:  times(2*n+2, func(i int) float64 { return float64(i) }),
	}
}

func goodEdge(name string) *patternv1.Edge {
	return &patternv1.Edge{Name: name, Path: line(2), Finish: patternv1.Finish_FINISH_SEWN, Corner: patternv1.Corner_CORNER_MEET}
}

func goodPiece(name string) *patternv1.Piece {
	return &patternv1.Piece{Name: name, CutCount: 1, Edges: []*patternv1.Edge{goodEdge("side")}}
}

func goodSeam(name string) *patternv1.Seam {
	ref := []*patternv1.EdgeRef{{Piece: "front", Edge: "side"}}
	return &patternv1.Seam{Name: name, A: ref, B: ref, Meeting: &patternv1.Meeting{Kind: patternv1.MeetingKind_MEETING_KIND_PLAIN}}
}

func goodSpan() *patternv1.Span {
	s := &patternv1.Stretch{Piece: "front", Edge: "side", To: 1}
	return &patternv1.Span{Now: s, Was: s}
}

// goodAnswer passes every bound; each test below breaks one.
func goodAnswer() *pluginv1.Altered {
	piece := goodPiece("front")
	at := &patternv1.Point{X: 1, Y: 2}
	piece.Grain = &patternv1.Grain{From: &patternv1.Point{}, To: at}
	piece.Landmarks = []*patternv1.Landmark{{Name: "bust-point", At: at}}
	piece.Darts = []*patternv1.Dart{{Name: "waist", Edge: "side", From: 1, To: 2, Point: at}}
	piece.Pleats = []*patternv1.Pleat{{Name: "first", Edge: "side", From: 1, To: 2, Kind: patternv1.PleatKind_PLEAT_KIND_KNIFE}}
	piece.Gathers = []*patternv1.Gather{{Name: "full", Edge: "side", From: 1, To: 2, Length: 1, Kind: patternv1.GatherKind_GATHER_KIND_EASE}}
	piece.Notches = []*patternv1.Notch{{Name: "one", Edge: "side", At: 1, Count: 1}}
	seam := goodSeam("side")
	seam.Meeting.Ease = &patternv1.Range{Min: 1, Max: 2}
	return &pluginv1.Altered{
		Pattern:  &patternv1.Pattern{Name: "dress", Title: "Dress", Pieces: []*patternv1.Piece{piece}, Seams: []*patternv1.Seam{seam}},
		Lineage:  &patternv1.Lineage{Spans: []*patternv1.Span{goodSpan()}},
		Changes:  []*pluginv1.Change{{What: "waist", Piece: "front", Before: 1, After: 2, Unit: pluginv1.Unit_UNIT_MM}},
		Cautions: []string{"Mind the straps."},
	}
}

func decode(a *pluginv1.Altered) error {
	_, err := wire.DecodeAnswer(&pluginv1.ApplyResponse{Outcome: &pluginv1.ApplyResponse_Altered{Altered: a}})
	return err
}

func TestAnswerBounds(t *testing.T) {
	if err := decode(goodAnswer()); err != nil {
		t.Fatalf("the good answer is refused: %v", err)
	}
	type altered = pluginv1.Altered
	piece := func(a *altered) *patternv1.Piece { return a.Pattern.Pieces[0] }
	edge := func(a *altered) *patternv1.Edge { return piece(a).Edges[0] }
	seam := func(a *altered) *patternv1.Seam { return a.Pattern.Seams[0] }
	for _, test := range []struct {
		name  string
		spoil func(*altered)
		want  string
	}{
		{"no pattern", func(a *altered) { a.Pattern = nil }, "answer.pattern is missing"},
		{"no pieces", func(a *altered) { a.Pattern.Pieces = nil }, "pattern.pieces has 0 entries, fewer than 1"},
		{"pieces", func(a *altered) {
			a.Pattern.Pieces = times(wire.MaxPieces+1, func(i int) *patternv1.Piece { return goodPiece(numbered(i)) })
		}, "pattern.pieces has 501 entries, more than 500"},
		{"piece twice", func(a *altered) { a.Pattern.Pieces = append(a.Pattern.Pieces, goodPiece("front")) }, `pieces[1].name "front" is there twice`},
		{"seams", func(a *altered) {
			a.Pattern.Seams = times(wire.MaxSeams+1, func(i int) *patternv1.Seam { return goodSeam(numbered(i)) })
		}, "pattern.seams has 2001 entries"},
		{"seam twice", func(a *altered) { a.Pattern.Seams = append(a.Pattern.Seams, goodSeam("side")) }, `seams[1].name "side" is there twice`},
		{"no edges", func(a *altered) { piece(a).Edges = nil }, "edges has 0 entries"},
		{"edges", func(a *altered) {
			piece(a).Edges = times(wire.MaxEdges+1, func(i int) *patternv1.Edge { return goodEdge(numbered(i)) })
		}, "edges has 201 entries, more than 200"},
		{"edge twice", func(a *altered) { piece(a).Edges = append(piece(a).Edges, goodEdge("side")) }, `edges[1].name "side" is there twice`},
		{"no path", func(a *altered) { edge(a).Path = nil }, "path.segments has 0 entries"},
		{"segments", func(a *altered) { edge(a).Path = line(wire.MaxSegments + 1) }, "path.segments has 10001 entries"},
		{"segments in all", func(a *altered) {
			long := line(wire.MaxSegments)
			piece(a).Edges = times(wire.MaxTotalSegments/wire.MaxSegments+1, func(i int) *patternv1.Edge {
				e := goodEdge(numbered(i))
				e.Path = long
				return e
			})
		}, "brings the pattern to 510000 lines and curves, more than 500000"},
		{"segment kind", func(a *altered) { edge(a).Path.Segments[1] = 7 }, "path.segments[1] is 7, which has no meaning here"},
		{"too few numbers", func(a *altered) { edge(a).Path.Numbers = edge(a).Path.Numbers[1:] }, "path.numbers has 5 entries, but the segments ask for 6"},
		{"too many numbers", func(a *altered) { edge(a).Path.Numbers = append(edge(a).Path.Numbers, 1) }, "path.numbers has 7 entries, but the segments ask for 6"},
		{"NaN", func(a *altered) { edge(a).Path.Numbers[3] = math.NaN() }, "path.numbers[3] is NaN, not a finite number"},
		{"infinite", func(a *altered) { edge(a).Path.Numbers[3] = math.Inf(-1) }, "path.numbers[3] is -Inf, not a finite number"},
		{"far", func(a *altered) { edge(a).Path.Numbers[3] = 1e308 }, "path.numbers[3] is 1e+308, not between -100000 and 100000"},
		{"allowance", func(a *altered) { edge(a).Allowance = -1 }, "allowance is -1, not between 0 and 500"},
		{"finish", func(a *altered) { edge(a).Finish = 0 }, "finish is 0, which has no meaning here"},
		{"corner", func(a *altered) { edge(a).Corner = 99 }, "corner is 99"},
		{"edge role", func(a *altered) { edge(a).Role = "Waist!" }, `role "Waist!" is not a name`},
		{"cut none", func(a *altered) { piece(a).CutCount = 0 }, "cut_count is 0, not between 1 and 1000"},
		{"cut", func(a *altered) { piece(a).CutCount = math.MaxInt32 }, "cut_count is 2147483647"},
		{"piece role", func(a *altered) { piece(a).Role = "a b" }, `role "a b" is not a name`},
		{"grain", func(a *altered) { piece(a).Grain.From.X = math.Inf(1) }, "grain.from.x is +Inf"},
		{"half a grain", func(a *altered) { piece(a).Grain.To = nil }, "grain.to is missing"},
		{"no grain", func(a *altered) { piece(a).Grain.To = piece(a).Grain.From }, "grain starts where it ends"},
		{"landmarks", func(a *altered) {
			piece(a).Landmarks = times(wire.MaxMarks+1, func(i int) *patternv1.Landmark {
				return &patternv1.Landmark{Name: numbered(i), At: &patternv1.Point{}}
			})
		}, "landmarks has 501 entries"},
		{"landmark nowhere", func(a *altered) { piece(a).Landmarks[0].At = nil }, "landmarks[0].at is missing"},
		{"landmark twice", func(a *altered) { piece(a).Landmarks = append(piece(a).Landmarks, piece(a).Landmarks[0]) }, "landmarks[1].name"},
		{"darts", func(a *altered) {
			piece(a).Darts = times(wire.MaxMarks+1, func(int) *patternv1.Dart { return piece(a).Darts[0] })
		}, "darts has 501 entries"},
		{"dart backwards", func(a *altered) { piece(a).Darts[0].To = 1 }, "darts[0].to is 1, not more than from, 1"},
		{"dart before its edge", func(a *altered) { piece(a).Darts[0].From = -1 }, "darts[0].from is -1"},
		{"dart of no edge", func(a *altered) { piece(a).Darts[0].Edge = "" }, `darts[0].edge "" is not a name`},
		{"dart pressed", func(a *altered) { piece(a).Darts[0].Pressed = 9 }, "darts[0].pressed is 9"},
		{"pleats", func(a *altered) {
			piece(a).Pleats = times(wire.MaxMarks+1, func(int) *patternv1.Pleat { return piece(a).Pleats[0] })
		}, "pleats has 501 entries"},
		{"pleat kind", func(a *altered) { piece(a).Pleats[0].Kind = 0 }, "pleats[0].kind is 0"},
		{"gathers", func(a *altered) {
			piece(a).Gathers = times(wire.MaxMarks+1, func(int) *patternv1.Gather { return piece(a).Gathers[0] })
		}, "gathers has 501 entries"},
		{"gather length", func(a *altered) { piece(a).Gathers[0].Length = math.NaN() }, "gathers[0].length is NaN"},
		{"gather kind", func(a *altered) { piece(a).Gathers[0].Kind = -1 }, "gathers[0].kind is -1"},
		{"notches", func(a *altered) {
			piece(a).Notches = times(wire.MaxNotches+1, func(int) *patternv1.Notch { return piece(a).Notches[0] })
		}, "notches has 1001 entries"},
		{"notch count", func(a *altered) { piece(a).Notches[0].Count = 4 }, "notches[0].count is 4, not between 1 and 3"},
		{"seam side", func(a *altered) { seam(a).A = nil }, "seams[0].a has 0 entries"},
		{"seam run", func(a *altered) {
			seam(a).B = times(wire.MaxRun+1, func(int) *patternv1.EdgeRef { return seam(a).A[0] })
		}, "seams[0].b has 201 entries"},
		{"seam name", func(a *altered) { seam(a).A[0].Edge = "../etc" }, `seams[0].a[0].edge "../etc" is not a name`},
		{"seam kind", func(a *altered) { seam(a).Kind = 9 }, "seams[0].kind is 9, which has no meaning here"},
		{"meeting", func(a *altered) { seam(a).Meeting = nil }, "seams[0].meeting.kind is 0"},
		{"range", func(a *altered) { seam(a).Meeting.Ease.Max = 0 }, "seams[0].meeting.ease.max is 0, less than min, 1"},
		{"name empty", func(a *altered) { a.Pattern.Name = "" }, `pattern.name "" is not a name`},
		{"name long", func(a *altered) { a.Pattern.Name = strings.Repeat("a", pattern.MaxName+1) }, `is not a name`},
		{"name capital", func(a *altered) { piece(a).Name = "Front" }, `pieces[0].name "Front" is not a name`},
		{"name flood", func(a *altered) { piece(a).Name = strings.Repeat("\x1b", 1<<20) }, `\x1b"… is not a name`},
		{"title long", func(a *altered) { a.Pattern.Title = strings.Repeat("a", wire.MaxTitle+1) }, "pattern.title has 201 bytes, more than 200"},
		{"title with escape", func(a *altered) { piece(a).Title = "\x1b[2J" }, "title holds the control character U+001B"},
		{"title with line", func(a *altered) { piece(a).Title = "a\nb" }, "title holds the control character U+000A"},
		{"title turned", func(a *altered) { piece(a).Title = "a\u202eb" }, "title holds the control character U+202E"},
		{"title not UTF-8", func(a *altered) { piece(a).Title = "a\xff" }, "title is not UTF-8"},
		{"notes long", func(a *altered) { a.Pattern.Notes = strings.Repeat("a", wire.MaxNotes+1) }, "pattern.notes has 20001 bytes"},
		{"notes with bell", func(a *altered) { a.Pattern.Notes = "\a" }, "pattern.notes holds the control character U+0007"},
		{"no lineage", func(a *altered) { a.Lineage = nil }, "lineage.spans has 0 entries"},
		{"spans", func(a *altered) {
			a.Lineage.Spans = times(wire.MaxSpans+1, func(int) *patternv1.Span { return goodSpan() })
		}, "lineage.spans has 100001 entries"},
		{"span of nothing", func(a *altered) { a.Lineage.Spans[0].Now = nil }, `spans[0].now.piece "" is not a name`},
		{"span backwards", func(a *altered) { a.Lineage.Spans[0].Was.To = -1 }, "spans[0].was.to is -1"},
		{"span NaN", func(a *altered) { a.Lineage.Spans[0].Now.To = math.NaN() }, "spans[0].now.to is NaN"},
		{"changes", func(a *altered) {
			a.Changes = times(wire.MaxChanges+1, func(int) *pluginv1.Change { return a.Changes[0] })
		}, "changes has 1001 entries"},
		{"change of nothing", func(a *altered) { a.Changes[0].What = "" }, "changes[0].what is empty"},
		{"change NaN", func(a *altered) { a.Changes[0].After = math.NaN() }, "changes[0].after is NaN"},
		{"change far", func(a *altered) { a.Changes[0].After = 1e300 }, "changes[0].after is 1e+300"},
		{"change unit", func(a *altered) { a.Changes[0].Unit = 0 }, "changes[0].unit is 0"},
		{"cautions", func(a *altered) {
			a.Cautions = times(wire.MaxCautions+1, func(int) string { return "Mind." })
		}, "cautions has 101 entries"},
		{"caution long", func(a *altered) { a.Cautions[0] = strings.Repeat("a", wire.MaxParagraph+1) }, "cautions[0] has 1001 bytes"},
		{"caution empty", func(a *altered) { a.Cautions[0] = "" }, "cautions[0] is empty"},
	} {
		t.Run(test.name, func(t *testing.T) {
			a := goodAnswer()
			test.spoil(a)
			err := decode(a)
			if err == nil || !strings.Contains(err.Error(), test.want) {
				t.Fatalf("error is %v, want %s", err, test.want)
			}
			if len(err.Error()) > 4000 {
				t.Errorf("the error has %d bytes", len(err.Error()))
			}
		})
	}
}

func TestOutcomeBounds(t *testing.T) {
	refusal := func(why, instead string) *pluginv1.ApplyResponse {
		return wire.EncodeRefusal(&operation.Refusal{Why: why, Instead: instead})
	}
	for _, test := range []struct {
		m    *pluginv1.ApplyResponse
		want string
	}{
		{&pluginv1.ApplyResponse{}, "holds neither a pattern nor a refusal"},
		{refusal("", ""), "refusal.why is empty"},
		{refusal(strings.Repeat("a", wire.MaxParagraph+1), ""), "refusal.why has 1001 bytes"},
		{refusal("no", "\r"), "refusal.instead holds the control character U+000D"},
	} {
		if _, err := wire.DecodeAnswer(test.m); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("error is %v, want %s", err, test.want)
		}
	}
}

func TestDescriptionBounds(t *testing.T) {
	type described = pluginv1.DescribeResponse
	good := func() *described {
		return &described{Name: "waist", Purpose: "Lifts the waist.", Operations: []*pluginv1.Operation{{
			Name: "raise", Purpose: "Raises it.",
			Parameters: []*pluginv1.Parameter{{Name: "by", Kind: pluginv1.ParameterKind_PARAMETER_KIND_LENGTH, Meaning: "How far."}},
			Needs:      []*pluginv1.Need{{Piece: "sleeve"}}, Measures: []string{"height"},
		}}}
	}
	if _, err := wire.DecodeDescription(good()); err != nil {
		t.Fatal(err)
	}
	op := func(d *described) *pluginv1.Operation { return d.Operations[0] }
	parameter := func(d *described) *pluginv1.Parameter { return op(d).Parameters[0] }
	for _, test := range []struct {
		name  string
		spoil func(*described)
		want  string
	}{
		{"name", func(d *described) { d.Name = "Waist" }, `description.name "Waist" is not a name`},
		{"purpose", func(d *described) { d.Purpose = "lifts" }, "description.purpose is not one sentence"},
		{"version", func(d *described) { d.Version = strings.Repeat("1", wire.MaxVersion+1) }, "version has 41 bytes"},
		{"no operations", func(d *described) { d.Operations = nil }, "operations has 0 entries"},
		{"operations", func(d *described) {
			d.Operations = times(wire.MaxOperations+1, func(int) *pluginv1.Operation { return op(d) })
		}, "operations has 201 entries"},
		{"operation twice", func(d *described) { d.Operations = append(d.Operations, op(d)) }, `operations[1].name "raise" is there twice`},
		{"parameters", func(d *described) {
			op(d).Parameters = times(wire.MaxParameters+1, func(int) *pluginv1.Parameter { return parameter(d) })
		}, "parameters has 101 entries"},
		{"parameter twice", func(d *described) { op(d).Parameters = append(op(d).Parameters, parameter(d)) }, "parameters[1].name"},
		{"parameter kind", func(d *described) { parameter(d).Kind = 0 }, "parameters[0].kind is 0"},
		{"parameter meaning", func(d *described) { parameter(d).Meaning = "How\nfar." }, "meaning is not one sentence"},
		{"default", func(d *described) { parameter(d).DefaultValue = strings.Repeat("1", wire.MaxValue+1) }, "default_value has 101 bytes"},
		{"bounds", func(d *described) { parameter(d).Min = 1 }, "parameters[0].max is 0, less than min, 1"},
		{"bound NaN", func(d *described) { parameter(d).Max = math.NaN() }, "parameters[0].max is NaN"},
		{"mark", func(d *described) { parameter(d).Mark = 9 }, "parameters[0].mark is 9"},
		{"choices", func(d *described) { parameter(d).Choices = []string{"a"} }, "choices is only for a choice"},
		{"no choices", func(d *described) { parameter(d).Kind = pluginv1.ParameterKind_PARAMETER_KIND_CHOICE }, "choices has 0 entries"},
		{"many choices", func(d *described) {
			parameter(d).Choices = times(wire.MaxChoices+1, func(int) string { return "a" })
		}, "choices has 51 entries"},
		{"need", func(d *described) { op(d).Needs[0].Piece = "" }, `needs[0].piece "" is not a name`},
		{"needs", func(d *described) {
			op(d).Needs = times(wire.MaxParameters+1, func(int) *pluginv1.Need { return op(d).Needs[0] })
		}, "needs has 101 entries"},
		{"measures", func(d *described) {
			op(d).Measures = times(wire.MaxParameters+1, func(int) string { return "height" })
		}, "measures has 101 entries"},
	} {
		t.Run(test.name, func(t *testing.T) {
			d := good()
			test.spoil(d)
			if _, err := wire.DecodeDescription(d); err == nil || !strings.Contains(err.Error(), test.want) {
				t.Errorf("error is %v, want %s", err, test.want)
			}
		})
	}
}

func TestRequestBounds(t *testing.T) {
	type asked = pluginv1.ApplyRequest
	good := func() *asked {
		return &asked{
			Operation: "raise", Pattern: goodAnswer().Pattern,
			Values: []*pluginv1.Value{{Name: "by", Kind: pluginv1.ParameterKind_PARAMETER_KIND_LENGTH, Number: 10}},
			Wearer: &pluginv1.Wearer{Measures: []*pluginv1.Measure{{Name: "height", Mm: 1700}}},
		}
	}
	if _, _, err := wire.DecodeRequest(good()); err != nil {
		t.Fatal(err)
	}
	value := func(q *asked) *pluginv1.Value { return q.Values[0] }
	for _, test := range []struct {
		name  string
		spoil func(*asked)
		want  string
	}{
		{"operation", func(q *asked) { q.Operation = "" }, `request.operation "" is not a name`},
		{"values", func(q *asked) {
			q.Values = times(wire.MaxParameters+1, func(int) *pluginv1.Value { return value(q) })
		}, "values has 101 entries"},
		{"value twice", func(q *asked) { q.Values = append(q.Values, value(q)) }, "values[1].name"},
		{"value NaN", func(q *asked) { value(q).Number = math.NaN() }, "values[0].number is NaN"},
		{"value kind", func(q *asked) { value(q).Kind = 0 }, "values[0].kind is 0"},
		{"half a count", func(q *asked) {
			value(q).Kind, value(q).Number = pluginv1.ParameterKind_PARAMETER_KIND_COUNT, 1.5
		}, "values[0].number is 1.5, not a whole number"},
		{"half a switch", func(q *asked) {
			value(q).Kind, value(q).Number = pluginv1.ParameterKind_PARAMETER_KIND_SWITCH, 2
		}, "values[0].number is 2, neither 0 nor 1"},
		{"no text", func(q *asked) { value(q).Kind = pluginv1.ParameterKind_PARAMETER_KIND_NAME }, "values[0].text is empty"},
		{"text", func(q *asked) { value(q).Text = "a/b/c" }, `values[0].text "a/b/c" is neither a name`},
		{"measures", func(q *asked) {
			q.Wearer.Measures = times(wire.MaxParameters+1, func(int) *pluginv1.Measure { return q.Wearer.Measures[0] })
		}, "measures has 101 entries"},
		{"no pattern named", func(q *asked) { value(q).Kind = pluginv1.ParameterKind_PARAMETER_KIND_PATTERN }, "values[0].text is empty"},
		{"others", func(q *asked) {
			q.Others = times(wire.MaxOthers+1, func(i int) *pluginv1.OtherPattern {
				return &pluginv1.OtherPattern{Name: numbered(i), Pattern: q.Pattern}
			})
		}, "request.others has 21 entries, more than 20"},
		{"other twice", func(q *asked) {
			q.Others = times(2, func(int) *pluginv1.OtherPattern {
				return &pluginv1.OtherPattern{Name: "spencer", Pattern: q.Pattern}
			})
		}, `others[1].name "spencer" is there twice`},
		{"other of no name", func(q *asked) { q.Others = []*pluginv1.OtherPattern{{Pattern: q.Pattern}} }, `others[0].name "" is not a name`},
		{"other missing", func(q *asked) { q.Others = []*pluginv1.OtherPattern{{Name: "spencer"}} }, "others[0].pattern is missing"},
		{"other unsound", func(q *asked) {
			q.Others = []*pluginv1.OtherPattern{{Name: "spencer", Pattern: goodAnswer().Pattern}}
			q.Others[0].Pattern.Pieces[0].CutCount = 0
		}, "others[0].pattern.pieces[0].cut_count is 0"},
		{"measure none", func(q *asked) { q.Wearer.Measures[0].Mm = 0 }, "measures[0].mm is 0"},
		{"measure far", func(q *asked) { q.Wearer.Measures[0].Mm = 3001 }, "measures[0].mm is 3001"},
	} {
		t.Run(test.name, func(t *testing.T) {
			q := good()
			test.spoil(q)
			if _, _, err := wire.DecodeRequest(q); err == nil || !strings.Contains(err.Error(), test.want) {
				t.Errorf("error is %v, want %s", err, test.want)
			}
		})
	}
}

func TestSurveyBounds(t *testing.T) {
	good := func() *pluginv1.Tell {
		return &pluginv1.Tell{
			Code: "shoulder-on-top", Text: "It lies on top.", Mark: pluginv1.Mark_MARK_FROM_MEMORY,
			Mends: []*pluginv1.Mend{{Plugin: "shoulder", Operation: "move", Settings: []*pluginv1.Setting{{Parameter: "by", Value: "25mm"}}}},
		}
	}
	decode := func(tells ...*pluginv1.Tell) error {
		_, err := wire.DecodeTells(&pluginv1.SurveyResponse{Tells: tells})
		return err
	}
	if err := decode(good()); err != nil {
		t.Fatal(err)
	}
	for _, test := range []struct {
		name  string
		spoil func(*pluginv1.Tell)
		want  string
	}{
		{"code", func(m *pluginv1.Tell) { m.Code = "" }, "tells[0].code"},
		{"text", func(m *pluginv1.Tell) { m.Text = "" }, "tells[0].text is empty"},
		{"mark", func(m *pluginv1.Tell) { m.Mark = 0 }, "tells[0].mark is missing"},
		{"edge", func(m *pluginv1.Tell) { m.Edge = "side" }, "tells[0].edge is given without a piece"},
		{"mends", func(m *pluginv1.Tell) {
			m.Mends = times(wire.MaxMends+1, func(int) *pluginv1.Mend { return m.Mends[0] })
		}, "mends has 51 entries"},
		{"setting twice", func(m *pluginv1.Tell) {
			m.Mends[0].Settings = append(m.Mends[0].Settings, m.Mends[0].Settings[0])
		}, "settings[1].parameter"},
		{"settings", func(m *pluginv1.Tell) {
			m.Mends[0].Settings = times(wire.MaxParameters+1, func(int) *pluginv1.Setting { return m.Mends[0].Settings[0] })
		}, "settings has 101 entries"},
		{"value", func(m *pluginv1.Tell) { m.Mends[0].Settings[0].Value = "" }, "settings[0].value is empty"},
	} {
		t.Run(test.name, func(t *testing.T) {
			m := good()
			test.spoil(m)
			if err := decode(m); err == nil || !strings.Contains(err.Error(), test.want) {
				t.Errorf("error is %v, want %s", err, test.want)
			}
		})
	}
	if err := decode(times(wire.MaxTells+1, func(int) *pluginv1.Tell { return good() })...); err == nil || !strings.Contains(err.Error(), "tells has 501 entries") {
		t.Errorf("error is %v", err)
	}
	_, err := wire.DecodeSurvey(&pluginv1.SurveyRequest{Pattern: goodAnswer().Pattern, Look: &pluginv1.Look{Name: "a", FirstYear: 1815, LastYear: 1800}})
	if err == nil || !strings.Contains(err.Error(), "last_year is 1800, before first_year, 1815") {
		t.Errorf("error is %v", err)
	}
}

// All faults of a message are listed, but not without end.
func TestFaultsAreGathered(t *testing.T) {
	a := goodAnswer()
	a.Pattern.Pieces = times(20, func(int) *patternv1.Piece { return goodPiece("No Name") })
	broken, ok := decode(a).(*wire.Broken)
	if !ok || len(broken.Faults) != 10 || broken.More != 29 {
		t.Errorf("got %+v, want 10 faults listed and 29 more", broken)
	}
}

func TestEncodeRefuses(t *testing.T) {
	a, b, c := geom.Pt(0, 0), geom.Pt(1, 0), geom.Pt(2, 0)
	good := func() *pattern.Pattern {
		return &pattern.Pattern{Name: "p", Pieces: []pattern.Piece{{Name: "front", Edges: []pattern.Edge{{Name: "side", Path: geom.Polyline(a, b, c)}}}}}
	}
	for _, test := range []struct {
		spoil func(*pattern.Pattern)
		want  string
	}{
		{func(p *pattern.Pattern) { p.Pieces[0].Edges[0].Path[1].P0.Y = 0.5 }, "piece front, edge side: line or curve 2 starts 0.5 mm from where the one before it ends"},
		{func(p *pattern.Pattern) { p.Pieces[0].Edges[0].Finish = "glued" }, `piece front, edge side: "glued" is none of "", "fold", "hem"`},
		{func(p *pattern.Pattern) { p.Pieces = make([]pattern.Piece, 501) }, "501 pieces, more than the 500 a plugin is sent"},
	} {
		p := good()
		test.spoil(p)
		if _, err := wire.EncodePattern(p); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("error is %v, want %s", err, test.want)
		}
	}
	if _, err := wire.EncodePattern(nil); err == nil {
		t.Error("no pattern is sent")
	}
}
