package chain_test

import (
	"context"
	"errors"
	"slices"
	"strings"
	"testing"

	"bygone.example/core/chain"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
	"bygone.example/core/source"
	"bygone.example/core/wearer"
	"bygone.example/internal/stock"
)

// looker is a plugin that looks at other patterns and notes which it was given.
func looker(given *[]string) *operation.Plugin {
	return &operation.Plugin{Name: "look", Operations: []*operation.Operation{{
		Spec: operation.Spec{Name: "at", Parameters: []operation.Parameter{
			{Name: "from", Kind: operation.OtherPattern, Default: operation.Only},
			{Name: "also", Kind: operation.OtherPattern, DefaultNote: "none"},
		}},
		Apply: func(_ context.Context, r *operation.Request) (*operation.Answer, error) {
			for name, p := range r.Others {
				*given = append(*given, name+"="+p.Name)
			}
			slices.Sort(*given)
			if r.Other("from") == nil || r.Other("also") != nil && r.Values.Text("also") == "" {
				return nil, errors.New("from is not there")
			}
			return &operation.Answer{Pattern: r.Pattern.Clone(), Lineage: pattern.Same(r.Pattern)}, nil
		},
	}}}
}

// A step is given the patterns that its values name and no others; what it
// names and the chain does not list is told at its place before anything runs.
func TestOthers(t *testing.T) {
	dress, err := stock.Dress()
	if err != nil {
		t.Fatal(err)
	}
	blouse, err := stock.Blouse()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name, patterns, from, also string
		given, wrong               string
	}{
		{"the only one", "blouse", "", "", "blouse=untested-blouse", ""},
		{"the only one, asked for", "blouse", "only", "", "blouse=untested-blouse", ""},
		{"one of two", "blouse dress", "dress", "", "dress=stock-dress", ""},
		{"two", "blouse dress", "dress", "blouse", "blouse=untested-blouse dress=stock-dress", ""},
		{"one twice", "blouse dress", "dress", "dress", "dress=stock-dress", ""},
		{"none listed", "", "", "", "", `c.yaml:2:7: look.at looks at another pattern, and the chain lists none; name its file at the top of the chain file, for instance patterns: {spencer: spencer.yaml}`},
		{"which", "blouse dress", "", "", "", `c.yaml:2:7: it is not said which pattern look.at looks at, and the chain lists 2; set from: choose from "blouse", "dress"`},
		{"a slip", "blouse dress", "bluose", "", "", `c.yaml:4:9: the chain lists no pattern "bluose"; did you mean "blouse"?`},
	} {
		t.Run(c.name, func(t *testing.T) {
			file := source.NewFile("c.yaml", []byte("steps:\n  - step: look.at\n    with:\n      from: x\n"))
			ch := chain.Chain{Name: "c", Steps: []chain.Step{{Name: "look.at", Operation: "look.at", Line: 2, Col: 7}}}
			for _, name := range strings.Fields(c.patterns) {
				ch.Patterns = append(ch.Patterns, chain.Other{Name: name, File: name + ".yaml"})
			}
			step := &ch.Steps[0]
			if c.from != "" {
				step.Settings = append(step.Settings, chain.Setting{Parameter: "from", Value: c.from, Line: 4, Col: 9})
			}
			if c.also != "" {
				step.Settings = append(step.Settings, chain.Setting{Parameter: "also", Value: c.also})
			}
			var given []string
			plugins := chain.InProcess{looker(&given)}
			plan, err := chain.Plan(ch, file, dress, nil, plugins.Offers())
			if c.wrong != "" {
				problems, ok := errors.AsType[source.Problems](err)
				if !ok || len(problems) != 1 {
					t.Fatalf("got %v, want one problem", err)
				}
				p := problems[0]
				if got := strings.SplitN(problems.Error(), "\n", 2)[0] + "; " + p.Remedy; got != c.wrong {
					t.Errorf("got  %s\nwant %s", got, c.wrong)
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			_, err = chain.Run(t.Context(), ch, plan, dress, wearer.Wearer{}, plugins, chain.Options{
				Patterns: map[string]*pattern.Pattern{"blouse": blouse, "dress": dress},
			})
			if err != nil {
				t.Fatal(err)
			}
			if got := strings.Join(given, " "); got != c.given {
				t.Errorf("was given %q, want %q", got, c.given)
			}
		})
	}
}

// A caller that plans without having read the patterns is told so, not sent on
// with none.
func TestOthersNotRead(t *testing.T) {
	dress, err := stock.Dress()
	if err != nil {
		t.Fatal(err)
	}
	var given []string
	plugins := chain.InProcess{looker(&given)}
	ch := chain.Chain{Name: "c", Patterns: []chain.Other{{Name: "blouse"}}, Steps: []chain.Step{{Name: "look.at", Operation: "look.at"}}}
	plan, err := chain.Plan(ch, nil, dress, nil, plugins.Offers())
	if err != nil {
		t.Fatal(err)
	}
	if _, err = chain.Run(t.Context(), ch, plan, dress, wearer.Wearer{}, plugins, chain.Options{}); err == nil || !strings.Contains(err.Error(), `pattern "blouse" was not read`) {
		t.Errorf("got %v", err)
	}
}
