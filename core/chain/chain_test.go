package chain_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"bygone.example/core/chain"
	"bygone.example/core/finding"
	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
	"bygone.example/core/source"
	"bygone.example/core/wearer"
	"bygone.example/internal/stock"
)

// squares are two pieces that are sewn at the side, the back's side edge longer
// by so many mm.
func squares(longer float64) *pattern.Pattern {
	square := func(name string, height float64) pattern.Piece {
		a, b, c, d := geom.Pt(0, 0), geom.Pt(100, 0), geom.Pt(100, height), geom.Pt(0, height)
		return pattern.Piece{
			Name: name, Role: pattern.Role(name), Cut: pattern.Cut{Count: 1},
			Grain: pattern.Grain{From: geom.Pt(50, 10), To: geom.Pt(50, 90)},
			Edges: []pattern.Edge{
				{Name: "hem", Path: geom.Polyline(a, b), Finish: pattern.Hemmed},
				{Name: "side", Path: geom.Polyline(b, c)},
				{Name: "waist", Path: geom.Polyline(c, d), Finish: pattern.Open},
				{Name: "centre", Path: geom.Polyline(d, a), Finish: pattern.Open},
			},
		}
	}
	return &pattern.Pattern{
		Name:   "squares",
		Pieces: []pattern.Piece{square("front", 100), square("back", 100+longer)},
		Seams: []pattern.Seam{{
			Name: "side", A: pattern.Run{{Piece: "front", Edge: "side"}}, B: pattern.Run{{Piece: "back", Edge: "side"}},
			Meeting: pattern.Meeting{Kind: pattern.Plain},
		}},
	}
}

// grow returns the pattern with a piece made higher by so many mm.
func grow(p *pattern.Pattern, piece string, by float64) *operation.Answer {
	after := p.Clone()
	edges := after.Piece(piece).Edges
	up := geom.Pt(0, by)
	b, c, d, a := edges[1].Path.Start(), edges[1].Path.End().Add(up), edges[2].Path.End().Add(up), edges[3].Path.End()
	edges[1].Path, edges[2].Path, edges[3].Path = geom.Polyline(b, c), geom.Polyline(c, d), geom.Polyline(d, a)
	lineage := pattern.Same(p)
	for i, s := range pattern.Same(after) {
		lineage[i].New = s.New
	}
	return &operation.Answer{Pattern: after, Lineage: lineage, Changes: []operation.Change{{What: "height", Piece: piece, Before: 0, After: by, Unit: "mm"}}}
}

func same(p *pattern.Pattern) *operation.Answer {
	return &operation.Answer{Pattern: p.Clone(), Lineage: pattern.Same(p)}
}

var errMoon = errors.New("the moon is full")

// plugins are what the tests run: two that do as they should, and one that has
// every way to go wrong.
var plugins = chain.InProcess{
	{Name: "seam", Operations: []*operation.Operation{{
		Spec: operation.Spec{
			Name: "grow",
			Parameters: []operation.Parameter{
				{Name: "piece", Kind: operation.Name, Default: "front"},
				{Name: "by", Kind: operation.Length, Default: "5mm", Min: -50, Max: 50},
			},
			Needs: []operation.Need{{Piece: "front", Edge: "side"}},
		},
		Apply: func(_ context.Context, r *operation.Request) (*operation.Answer, error) {
			return grow(r.Pattern, r.Values["piece"].Text, r.Values["by"].Number), nil
		},
	}, {
		Spec:  operation.Spec{Name: "keep"},
		Apply: func(_ context.Context, r *operation.Request) (*operation.Answer, error) { return same(r.Pattern), nil },
	}, {
		Spec:  operation.Spec{Name: "line", Needs: []operation.Need{{Piece: "lining"}, {Piece: "front", Edge: "dart-edge"}}},
		Apply: func(_ context.Context, r *operation.Request) (*operation.Answer, error) { return same(r.Pattern), nil },
	}}},
	{Name: "bad", Operations: []*operation.Operation{
		bad("nothing", func(*pattern.Pattern) (*operation.Answer, error) { return nil, nil }),
		bad("no-pattern", func(*pattern.Pattern) (*operation.Answer, error) { return &operation.Answer{}, nil }),
		bad("refuse", func(*pattern.Pattern) (*operation.Answer, error) {
			return nil, &operation.Refusal{Why: "there is no sleeve", Instead: "add one"}
		}),
		bad("fail", func(*pattern.Pattern) (*operation.Answer, error) { return nil, errMoon }),
		bad("nan", func(p *pattern.Pattern) (*operation.Answer, error) {
			a := same(p)
			a.Pattern.Pieces[0].Edges[0].Path[0].P0.X = math.NaN()
			return a, nil
		}),
		bad("lost", func(p *pattern.Pattern) (*operation.Answer, error) {
			a := same(p)
			a.Lineage = a.Lineage[1:]
			return a, nil
		}),
		bad("many", func(p *pattern.Pattern) (*operation.Answer, error) {
			a := same(p)
			for i := range 9 {
				a.Pattern.Seams = append(a.Pattern.Seams, pattern.Seam{
					Name: fmt.Sprintf("s%d", i), Meeting: pattern.Meeting{Kind: pattern.Plain},
					A: pattern.Run{{Piece: "nowhere", Edge: "side"}}, B: pattern.Run{{Piece: "back", Edge: "waist"}},
				})
			}
			return a, nil
		}),
	}},
}

func bad(name string, do func(*pattern.Pattern) (*operation.Answer, error)) *operation.Operation {
	return &operation.Operation{
		Spec:  operation.Spec{Name: name},
		Apply: func(_ context.Context, r *operation.Request) (*operation.Answer, error) { return do(r.Pattern) },
	}
}

// steps makes a chain of operations, each written "name=plugin.operation
// param=value …".
func steps(lines ...string) chain.Chain {
	c := chain.Chain{Name: "test"}
	for i, line := range lines {
		words := strings.Fields(line)
		name, op, _ := strings.Cut(words[0], "=")
		step := chain.Step{Name: name, Operation: op, Line: i + 1, Col: 1}
		for _, w := range words[1:] {
			p, v, _ := strings.Cut(w, "=")
			step.Settings = append(step.Settings, chain.Setting{Parameter: p, Value: v, Mark: operation.FromMemory, Line: i + 1, Col: strings.Index(line, w) + 1})
		}
		c.Steps = append(c.Steps, step)
	}
	return c
}

func plan(t *testing.T, c chain.Chain, p *pattern.Pattern, set ...string) []chain.Planned {
	t.Helper()
	planned, err := chain.Plan(c, nil, p, overrides(t, set...), plugins.Offers())
	if err != nil {
		t.Fatal(err)
	}
	return planned
}

func overrides(t *testing.T, set ...string) []chain.Override {
	t.Helper()
	var list []chain.Override
	for _, s := range set {
		o, err := chain.ParseOverride(s)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, o)
	}
	return list
}

func TestPlanReportsEverything(t *testing.T) {
	text := []string{
		"a=seam.grwo",
		"b=hats.trim",
		"c=seam.grow by=60mm pieces=front",
		"d=seam.keep by=5mm",
		"e=seam.line",
		"f=sea.grow",
		"g=seam.grow",
	}
	file := source.NewFile("chain.yaml", []byte(strings.Join(text, "\n")))
	_, err := chain.Plan(steps(text...), file, squares(0), overrides(t, "g.by=wide", "h.by=5mm", "g.height=5mm"), plugins.Offers())
	problems, ok := errors.AsType[source.Problems](err)
	if !ok {
		t.Fatalf("error is %v", err)
	}
	var got []string
	for _, p := range problems {
		got = append(got, p.Place()+": "+p.Text+" = "+p.Remedy)
	}
	want := []string{
		`--set g.by: by: "wide" is not a length = write for instance 64mm, 6.4cm or 2 1/2in`,
		`--set g.height: seam.grow has no parameter "height" = choose from "piece", "by"`,
		`--set h.by: the chain has no step "h" = choose from "a", "b", "c", "d", "e", "f", "g"`,
		`chain.yaml:1:1: there is no operation "seam.grwo" = did you mean "seam.grow"?`,
		`chain.yaml:2:1: there is no plugin "hats", which operation "hats.trim" would be of = bygone plugins lists those that were found, and why others were not taken`,
		`chain.yaml:3:1: seam.grow has no parameter "pieces" = did you mean "piece"?`,
		`chain.yaml:3:13: by is "60mm", more than 50mm = write a length from -50mm to 50mm`,
		`chain.yaml:4:1: seam.keep has no parameter "by" = it takes none: leave the line out`,
		`chain.yaml:5:1: seam.line needs a piece with the role lining, and pattern squares has none = give the piece that is meant that role, or leave the step out`,
		`chain.yaml:5:1: seam.line needs an edge with the role dart-edge on piece front = give the edge that is meant that role, or leave the step out`,
		`chain.yaml:6:1: there is no plugin "sea", which operation "sea.grow" would be of = did you mean "seam.grow"?`,
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

// A value comes from the flag, or else the chain, or else the default; the
// chain is not changed, and a number from a flag has lost its source.
func TestPlanValues(t *testing.T) {
	c := steps("x.y=seam.grow piece=back by=7mm", "z=seam.grow", "w=seam.grow by=-3mm")
	before := steps("x.y=seam.grow piece=back by=7mm", "z=seam.grow", "w=seam.grow by=-3mm")
	planned := plan(t, c, squares(0), "x.y.by=1cm", "z.piece=back", "x.y.by=1/2in")
	type used struct {
		Piece string
		By    float64
		Marks []operation.Mark
	}
	var got []used
	for _, p := range planned {
		u := used{p.Values["piece"].Text, p.Values["by"].Number, nil}
		for _, s := range p.Step.Settings {
			u.Marks = append(u.Marks, s.Mark)
		}
		got = append(got, u)
	}
	want := []used{
		{"back", 12.7, []operation.Mark{operation.FromMemory, ""}},
		{"back", 5, []operation.Mark{""}},
		{"front", -3, []operation.Mark{operation.FromMemory}},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff(before, c); diff != "" {
		t.Errorf("the chain was changed:\n%s", diff)
	}
}

func TestParseOverride(t *testing.T) {
	for text, want := range map[string]chain.Override{
		"a.b=c":      {Step: "a", Parameter: "b", Value: "c"},
		"a.b.c=d":    {Step: "a.b", Parameter: "c", Value: "d"},
		"a.b=c=d.e":  {Step: "a", Parameter: "b", Value: "c=d.e"},
		"a.b=2 1/2n": {Step: "a", Parameter: "b", Value: "2 1/2n"},
		"a":          {}, "a.b": {}, "a=b": {}, "a.=b": {}, ".a=b": {}, "a.b=": {}, "=": {}, "": {}, "a=b.c": {},
	} {
		got, err := chain.ParseOverride(text)
		if got != want || (err == nil) != (want != chain.Override{}) {
			t.Errorf("ParseOverride(%q) = %v, %v, want %v", text, got, err, want)
		}
		if _, ok := errors.AsType[*operation.Refusal](err); err != nil && !ok {
			t.Errorf("ParseOverride(%q): %v is no refusal", text, err)
		}
	}
}

func TestPlugins(t *testing.T) {
	c := steps("a=seam.keep", "b=bad.fail", "c=seam.grow", "d=nothing")
	if got, want := c.Plugins(), []string{"bad", "seam"}; !slices.Equal(got, want) {
		t.Errorf("Plugins = %v, want %v", got, want)
	}
}

// recorder notes what it is asked, and passes it on.
type recorder struct {
	chain.Runner
	asked []string
	from  []*pattern.Pattern
	body  []wearer.Wearer
}

func (r *recorder) Apply(ctx context.Context, plugin, op string, q *operation.Request) (*operation.Answer, error) {
	r.asked = append(r.asked, plugin+"."+op)
	r.from = append(r.from, q.Pattern)
	r.body = append(r.body, q.Wearer)
	return r.Runner.Apply(ctx, plugin, op, q)
}

// Each step gets what the one before it made; progress is told before each.
func TestRunInOrder(t *testing.T) {
	c := steps("up=seam.grow by=5mm", "same=seam.keep", "back-up=seam.grow piece=back by=5mm", "both=seam.keep")
	p := squares(0)
	r := &recorder{Runner: plugins}
	var progress []string
	body := wearer.Wearer{Name: "somebody"}
	result, err := chain.Run(t.Context(), c, plan(t, c, p), p, body, r, chain.Options{GoOn: true, Progress: func(n int, s chain.Step) {
		progress = append(progress, fmt.Sprintf("%d %s after %d", n, s.Name, len(r.asked)))
	}})
	if err != nil {
		t.Fatal(err)
	}
	if want := []string{"0 up after 0", "1 same after 1", "2 back-up after 2", "3 both after 3"}; !slices.Equal(progress, want) {
		t.Errorf("progress %q, want %q", progress, want)
	}
	if want := []string{"seam.grow", "seam.keep", "seam.grow", "seam.keep"}; !slices.Equal(r.asked, want) {
		t.Errorf("asked for %q, want %q", r.asked, want)
	}
	current := p
	for i, done := range result.Steps {
		if r.from[i] != current || r.body[i].Name != "somebody" {
			t.Errorf("step %d was given something else than the step before it made", i+1)
		}
		current = done.Pattern
	}
	if result.After() != current || result.Before != p || len(result.Steps) != 4 {
		t.Error("the result does not end with the last step")
	}
	if diff := cmp.Diff(squares(0), p); diff != "" {
		t.Errorf("the input was changed:\n%s", diff)
	}
	if got := result.Steps[0].Changes; len(got) != 1 || got[0].After != 5 {
		t.Errorf("changes are %v", got)
	}
	if f := faults(result.Steps[3].Findings); len(f) != 0 {
		t.Errorf("what one step opened and another closed is still told: %v", f)
	}
}

// faults lists the faults as code@step.
func faults(list []finding.Finding) []string {
	var s []string
	for _, f := range list {
		if f.Severity == finding.Fault {
			s = append(s, string(f.Code)+"@"+f.Since)
		}
	}
	return s
}

// What a pattern arrives with is told apart from what a step brings in, to the
// end of the chain.
func TestBaseline(t *testing.T) {
	arrived := string(pairing.SeamLength) + "@"
	brought := func(step string) string { return string(pairing.SeamLength) + "@" + step }
	for _, test := range []struct {
		name    string
		longer  float64
		steps   []string
		arrival []string
		after   [][]string
	}{
		{"sound", 0, []string{"a=seam.keep"}, nil, [][]string{nil}},
		{"arrived with a fault", 9, []string{"a=seam.keep", "b=seam.keep"}, []string{arrived}, [][]string{{arrived}, {arrived}}},
		{"opened", 0, []string{"a=seam.keep", "b=seam.grow by=4mm", "c=seam.keep"}, nil, [][]string{nil, {brought("b")}, {brought("b")}}},
		{"opened and closed", 0, []string{"a=seam.grow by=4mm", "b=seam.grow piece=back by=4mm"}, nil, [][]string{{brought("a")}, nil}},
		{"mended", 9, []string{"a=seam.grow by=9mm"}, []string{arrived}, [][]string{nil}},
		{"made better", 9, []string{"a=seam.grow by=4mm"}, []string{arrived}, [][]string{{arrived}}},
		{"made worse", 9, []string{"a=seam.grow piece=back by=4mm"}, []string{arrived}, [][]string{{brought("a")}}},
		{"mended and opened again", 9, []string{"a=seam.grow by=9mm", "b=seam.grow by=9mm"}, []string{arrived}, [][]string{nil, {brought("b")}}},
	} {
		t.Run(test.name, func(t *testing.T) {
			p, c := squares(test.longer), steps(test.steps...)
			result, err := chain.Run(t.Context(), c, plan(t, c, p), p, wearer.Wearer{}, plugins, chain.Options{GoOn: true})
			if err != nil {
				t.Fatal(err)
			}
			if got := faults(result.Arrival); !slices.Equal(got, test.arrival) {
				t.Errorf("arrived with %q, want %q", got, test.arrival)
			}
			for i, done := range result.Steps {
				if got := faults(done.Findings); !slices.Equal(got, test.after[i]) {
					t.Errorf("after step %d: %q, want %q", i+1, got, test.after[i])
				}
			}
		})
	}
}

// Without GoOn a step that opens a seam stops the chain before its pattern
// counts; a fault that arrived does not.
func TestOpened(t *testing.T) {
	p := squares(0)
	c := steps("keep=seam.keep", "open=seam.grow by=4mm", "after=seam.keep")
	result, err := chain.Run(t.Context(), c, plan(t, c, p), p, wearer.Wearer{}, plugins, chain.Options{})
	step, ok := errors.AsType[*chain.StepError](err)
	opened, isOpened := errors.AsType[*chain.Opened](err)
	if !ok || !isOpened || step.Number != 2 || step.Step.Name != "open" || step.Plugin != "seam" {
		t.Fatalf("error is %v", err)
	}
	if got := faults(opened.Findings); !slices.Equal(got, []string{string(pairing.SeamLength) + "@open"}) {
		t.Errorf("opened %q", got)
	}
	for _, part := range []string{"step 2, open (seam.grow)", "it opened a seam", "4.0 mm"} {
		if !strings.Contains(err.Error(), part) {
			t.Errorf("%q does not say %q", err, part)
		}
	}
	if len(result.Steps) != 1 || faults(pairing.Check(result.After())) != nil {
		t.Errorf("%d steps are in the result, and the last pattern has %v", len(result.Steps), faults(pairing.Check(result.After())))
	}
	if text := (&chain.Opened{Findings: make([]finding.Finding, 3)}).Error(); !strings.HasSuffix(text, "and 2 more") {
		t.Errorf("of three findings it tells %q", text)
	}

	p, c = squares(9), steps("keep=seam.keep")
	if _, err := chain.Run(t.Context(), c, plan(t, c, p), p, wearer.Wearer{}, plugins, chain.Options{}); err != nil {
		t.Errorf("a fault that was there stops the chain: %v", err)
	}
}

// What a plugin does wrong, and what it refuses, ends the chain at its step
// whether or not the chain goes on after faults; what was good is kept.
func TestStops(t *testing.T) {
	for _, test := range []struct {
		op      string
		says    string
		untrue  bool
		refusal bool
	}{
		{"nothing", "it returned no pattern", true, false},
		{"no-pattern", "it returned no pattern", true, false},
		{"refuse", "there is no sleeve", false, true},
		{"fail", "the moon is full", false, false},
		{"nan", "not sound", true, false},
		{"lost", "not sound", true, false},
		{"many", "and 12 more", true, false},
	} {
		for _, goOn := range []bool{false, true} {
			t.Run(fmt.Sprintf("%s, go on %v", test.op, goOn), func(t *testing.T) {
				p, c := squares(0), steps("keep=seam.keep", "bad=bad."+test.op, "after=seam.keep")
				r := &recorder{Runner: plugins}
				result, err := chain.Run(t.Context(), c, plan(t, c, p), p, wearer.Wearer{}, r, chain.Options{GoOn: goOn})
				step, ok := errors.AsType[*chain.StepError](err)
				if !ok || step.Number != 2 || step.Step.Name != "bad" || step.Plugin != "bad" || !strings.Contains(err.Error(), test.says) {
					t.Fatalf("error is %v, want one that says %q", err, test.says)
				}
				if _, ok := errors.AsType[*chain.Untrue](err); ok != test.untrue {
					t.Errorf("untrue: %v, want %v", ok, test.untrue)
				}
				if _, ok := errors.AsType[*operation.Refusal](err); ok != test.refusal {
					t.Errorf("a refusal: %v, want %v", ok, test.refusal)
				}
				if test.op == "fail" && !errors.Is(err, errMoon) {
					t.Error("the plugin's own error is lost")
				}
				if len(result.Steps) != 1 || len(r.asked) != 2 {
					t.Errorf("%d steps are in the result and %d were run", len(result.Steps), len(r.asked))
				}
				if diff := cmp.Diff(squares(0), result.After()); diff != "" {
					t.Errorf("the last good pattern is another:\n%s", diff)
				}
			})
		}
	}
}

// A run that is broken off is nobody's fault. A step that comes to its end
// nevertheless counts.
func TestBrokenOff(t *testing.T) {
	cause := errors.New("enough")
	for at := range 3 {
		for _, fails := range []bool{false, true} {
			ctx, cancel := context.WithCancelCause(t.Context())
			p, c := squares(0), steps("a=seam.keep", "b=seam.keep", "c=seam.keep")
			result, err := chain.Run(ctx, c, plan(t, c, p), p, wearer.Wearer{}, &breaker{at: at, fails: fails, cancel: func() { cancel(cause) }}, chain.Options{})
			want, wantErr := at+1, cause
			switch {
			case fails:
				want = at
			case at == 2: // the last step was done
				wantErr = nil
			}
			if err != wantErr || len(result.Steps) != want {
				t.Errorf("broken off in step %d, which fails: %v: %d steps, %v; want %d, %v", at+1, fails, len(result.Steps), err, want, wantErr)
			}
			cancel(nil)
		}
	}
}

// breaker cancels during call number at, from 0, which may fail for it.
type breaker struct {
	at, calls int
	fails     bool
	cancel    func()
}

// Apply runs the operation but where it is broken off.
func (b *breaker) Apply(ctx context.Context, plugin, op string, r *operation.Request) (*operation.Answer, error) {
	b.calls++
	if b.calls-1 == b.at {
		b.cancel()
		if b.fails {
			return nil, ctx.Err()
		}
	}
	return plugins.Apply(ctx, plugin, op, r)
}

func TestInProcessUnknown(t *testing.T) {
	for _, name := range [][2]string{{"seam", "sew"}, {"hats", "trim"}} {
		if _, err := plugins.Apply(t.Context(), name[0], name[1], &operation.Request{}); err == nil || !strings.Contains(err.Error(), name[0]+"."+name[1]) {
			t.Errorf("%v: %v", name, err)
		}
	}
	if offers := plugins.Offers(); len(offers) != 2 || offers[0].Plugin != "seam" || len(offers[0].Operations) != 3 || offers[1].Operations[0].Name != "nothing" {
		t.Errorf("offers are %v", offers)
	}
}

// made is a plugin whose second step needs a piece that only its first makes.
func made() *operation.Plugin {
	need := operation.Need{Piece: "frill", Edge: pattern.Hem}
	return &operation.Plugin{Name: "frill", Operations: []*operation.Operation{
		{
			Spec: operation.Spec{
				Name: "add", Makes: []operation.Need{need},
				Parameters: []operation.Parameter{{Name: "really", Kind: operation.Switch, Default: "yes"}},
			},
			Apply: func(_ context.Context, r *operation.Request) (*operation.Answer, error) {
				p := r.Pattern.Clone()
				if r.Values.Or("really", 0) > 0 {
					frill := p.Pieces[0].Clone()
					frill.Name, frill.Role, frill.Edges[0].Role = "frill", need.Piece, need.Edge
					for i := range frill.Edges {
						frill.Edges[i].Finish = pattern.Open
					}
					p.Pieces = append(p.Pieces, frill)
				}
				l := pattern.Same(p)
				for i := range l {
					if l[i].New.Piece == "frill" {
						l[i].Old = pattern.Stretch{}
					}
				}
				return &operation.Answer{Pattern: p, Lineage: l}, nil
			},
		},
		{
			Spec: operation.Spec{Name: "alter", Needs: []operation.Need{need}},
			Apply: func(_ context.Context, r *operation.Request) (*operation.Answer, error) {
				return &operation.Answer{Pattern: r.Pattern.Clone(), Lineage: pattern.Same(r.Pattern)}, nil
			},
		},
	}}
}

// What a step needs may be what an earlier one makes. Before anything runs it is
// refused where none does; when it is reached, where that one has not.
func TestNeedsMadeByAnEarlierStep(t *testing.T) {
	dress, err := stock.Dress()
	if err != nil {
		t.Fatal(err)
	}
	runner := chain.InProcess([]*operation.Plugin{made()})
	step := func(op string, settings ...chain.Setting) chain.Step {
		return chain.Step{Name: op, Operation: "frill." + op, Settings: settings}
	}
	for _, tt := range []struct {
		name       string
		steps      []chain.Step
		plan, went string // parts of the refusals, empty for none
	}{
		{"made before", []chain.Step{step("add"), step("alter")}, "", ""},
		{
			"made after", []chain.Step{step("alter"), step("add")},
			"frill.alter needs a piece with the role frill, and pattern stock-dress has none\n      = put a step that makes it before this one: frill.add", "",
		},
		{
			"not made after all", []chain.Step{step("add", chain.Setting{Parameter: "really", Value: "no"}), step("alter")},
			"", "step 2, alter (frill.alter): frill.alter needs a piece with the role frill, and pattern stock-dress has none",
		},
	} {
		c := chain.Chain{Name: "one", Steps: tt.steps}
		plan, err := chain.Plan(c, nil, dress, nil, runner.Offers())
		if said(err) != (tt.plan != "") || tt.plan != "" && !strings.Contains(err.Error(), tt.plan) {
			t.Errorf("%s: planned with %v", tt.name, err)
		}
		if err != nil {
			continue
		}
		_, err = chain.Run(t.Context(), c, plan, dress, wearer.Wearer{}, runner, chain.Options{})
		if said(err) != (tt.went != "") || tt.went != "" && !strings.Contains(err.Error(), tt.went) {
			t.Errorf("%s: went with %v", tt.name, err)
		}
	}
}

func said(err error) bool { return err != nil }
