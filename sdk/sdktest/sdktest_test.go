package sdktest

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
	"bygone.example/sdk"
)

// plugin returns one whose operation does what apply does.
func plugin(apply func(*sdk.Request) (*sdk.Answer, error)) *sdk.Plugin {
	return &sdk.Plugin{
		Name: "trial", Purpose: "Is tried.",
		Operations: []*sdk.Operation{{
			Spec: sdk.Spec{
				Name: "run", Purpose: "Runs.",
				Parameters: []sdk.Parameter{{Name: "by", Kind: sdk.Length, Meaning: "How far.", Default: "10mm", Min: 1, Max: 50, Mark: sdk.FromMemory}},
			},
			Apply: func(_ context.Context, q *sdk.Request) (*sdk.Answer, error) { return apply(q) },
		}},
	}
}

func kept(p *sdk.Pattern) *sdk.Answer {
	c := p.Clone()
	return &sdk.Answer{Pattern: c, Lineage: pattern.Same(c)}
}

// shift moves every piece up by the parameter.
func shift(q *sdk.Request) (*sdk.Answer, error) {
	a := kept(q.Pattern)
	by := geom.Translation(geom.Pt(0, q.Values.Or("by", 0)))
	for i := range a.Pattern.Pieces {
		for j := range a.Pattern.Pieces[i].Edges {
			e := &a.Pattern.Pieces[i].Edges[j]
			e.Path = e.Path.Transform(by)
		}
	}
	a.Changes = []sdk.Change{{What: "height", Before: 0, After: q.Values.Or("by", 0), Unit: "mm"}}
	return a, nil
}

func TestPluginPasses(t *testing.T) {
	Plugin(t, plugin(shift))
	Plugin(t, plugin(func(*sdk.Request) (*sdk.Answer, error) { return nil, sdk.Refuse("there is nothing to do", "") }))
}

// Each rule is broken by one plugin, and found.
func TestPluginFinds(t *testing.T) {
	calls := 0.0
	survey := plugin(shift)
	survey.Survey = func(context.Context, *sdk.SurveyRequest) ([]sdk.Tell, error) {
		return []sdk.Tell{{Code: "odd", Text: "It is odd.", Mark: sdk.FromMemory, Piece: "nowhere"}}, nil
	}
	unnamed := plugin(shift)
	unnamed.Name = ""
	for _, test := range []struct {
		name   string
		plugin *sdk.Plugin
		want   string
	}{
		{"declaration", unnamed, `plugin "" is not a name`},
		{"panic", plugin(func(*sdk.Request) (*sdk.Answer, error) { panic("oh") }), "panic: oh"},
		{"no answer", plugin(func(*sdk.Request) (*sdk.Answer, error) { return nil, nil }), "neither an answer nor an error"},
		{"of two minds", plugin(func(q *sdk.Request) (*sdk.Answer, error) {
			calls++
			a := kept(q.Pattern)
			a.Changes = []sdk.Change{{What: "calls", After: calls}}
			return a, nil
		}), "it answers the same request differently"},
		{"changes its input", plugin(func(q *sdk.Request) (*sdk.Answer, error) {
			q.Pattern.Pieces[0].Title = "mine"
			return kept(q.Pattern), nil
		}), "it changes the pattern it is given"},
		{"no number", plugin(func(q *sdk.Request) (*sdk.Answer, error) {
			a := kept(q.Pattern)
			a.Pattern.Pieces[0].Edges[0].Path[0].P0.X = math.NaN()
			return a, nil
		}), "is NaN, not a finite number"},
		{"unsound", plugin(func(q *sdk.Request) (*sdk.Answer, error) {
			a := kept(q.Pattern)
			a.Pattern.Seams = append(a.Pattern.Seams, sdk.Seam{Name: "none", A: sdk.Run{{Piece: "nowhere", Edge: "side"}}, Meeting: sdk.Meeting{Kind: pattern.Plain}})
			return a, nil
		}), "the pattern it answers with is not sound"},
		{"lineage", plugin(func(q *sdk.Request) (*sdk.Answer, error) {
			a := kept(q.Pattern)
			a.Lineage = a.Lineage[1:]
			return a, nil
		}), "its lineage does not add up"},
		{"survey", survey, "tell odd is on piece nowhere, which is not there"},
	} {
		t.Run(test.name, func(t *testing.T) {
			var all strings.Builder
			for _, err := range contract(t, test.plugin, nil) {
				all.WriteString(err.Error() + "\n")
			}
			if !strings.Contains(all.String(), test.want) {
				t.Errorf("found %q, want %q", all.String(), test.want)
			}
		})
	}
}

// A fault that shows at every trial is told once.
func TestPluginFindsOnce(t *testing.T) {
	faults := contract(t, plugin(func(*sdk.Request) (*sdk.Answer, error) { return nil, nil }), nil)
	if len(faults) != 1 {
		t.Errorf("told %d times: %v", len(faults), faults)
	}
}

func TestCase(t *testing.T) {
	golden := filepath.Join(t.TempDir(), "shifted.yaml")
	*update = true
	Case{Plugin: plugin(shift), Operation: "run", Golden: golden}.Run(t)
	*update = false
	if data, err := os.ReadFile(golden); err != nil || len(data) < 100 {
		t.Fatalf("the golden file holds %q, %v", data, err)
	}
	Case{
		Plugin: plugin(shift), Operation: "run", Golden: golden,
		Check: func(t *testing.T, before *sdk.Pattern, a *sdk.Answer) {
			if a.Changes[0].After != 10 {
				t.Errorf("moved by %g, want the default of 10", a.Changes[0].After)
			}
		},
	}.Run(t)
	Case{
		Plugin: plugin(shift), Operation: "run", Params: map[string]string{"by": "2cm"},
		Check: func(t *testing.T, before *sdk.Pattern, a *sdk.Answer) {
			if got := a.Pattern.Pieces[0].Edges[0].Path.Start().Sub(before.Pieces[0].Edges[0].Path.Start()); got.Y < 19.999 || got.Y > 20.001 {
				t.Errorf("moved by %v, want 20 up", got)
			}
		},
	}.Run(t)
	Case{
		Plugin:    plugin(func(*sdk.Request) (*sdk.Answer, error) { return nil, sdk.Refuse("no sleeve", "add one") }),
		Operation: "run", Refusal: "no sleeve; add one",
	}.Run(t)
}

func TestValues(t *testing.T) {
	op := plugin(shift).Operations[0]
	for _, test := range []struct {
		params map[string]string
		want   string
	}{
		{map[string]string{"by": "10"}, "operation run: by"},
		{map[string]string{"by": "90mm"}, "more than 50mm"},
		{map[string]string{"buy": "10mm"}, "operation run has no parameter buy"},
	} {
		if _, err := valuesOf(op, test.params); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("error is %v, want %s", err, test.want)
		}
	}
}
