package shelf_test

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bygone.example/core/chain"
	"bygone.example/core/finding"
	"bygone.example/core/shelf"
	"bygone.example/core/source"
)

// fake is a trial that reads what the chain names, and answers as it is told.
type fake struct {
	tried      int
	repeatable bool
	list       []finding.Finding
	err        error
}

func (f *fake) Try(ctx context.Context, c chain.Chain, _ *source.File, files chain.Files) ([]finding.Finding, error) {
	f.tried++
	for _, e := range c.Expect {
		if _, err := files.Pattern(ctx, e.Pattern); err != nil {
			return nil, err
		}
	}
	return append([]finding.Finding{}, f.list...), f.err
}

func (f *fake) Repeatable(chain.Chain) bool { return f.repeatable }

// A trial that went well is not repeated until a file that the chain names has
// changed; one that did not, or that may come out otherwise, is.
func TestTrialIsRemembered(t *testing.T) {
	t.Chdir(lay(t, map[string]string{
		"c/chain.yaml": "bygone: chain/1\nname: c\nexpect:\n  - {pattern: ../in.yaml, result: ../out.yaml}\nsteps:\n  - step: notch.place\n",
		"in.yaml":      demo(t, "stock-dress"), "out.yaml": demo(t, "stock-dress"),
	}))
	cache := filepath.Join(t.TempDir(), "cache")
	run := func(f *fake) *shelf.Checked {
		t.Helper()
		r := check(t, shelf.Options{Inspector: shelf.Inspector{Cache: shelf.NewCache(cache, nil), Trial: f}}, "c")
		return &r.Files[0]
	}
	change := func(path string) {
		t.Helper()
		data, err := os.ReadFile(path)
		if err = errors.Join(err, os.WriteFile(path, append(data, "# changed\n"...), 0o644)); err != nil {
			t.Fatal(err)
		}
	}
	differs := []finding.Finding{{Code: "expect-different", Severity: finding.Fault, Text: "x", Place: finding.Place{Line: 4, Column: 5}}}
	for _, c := range []struct {
		name  string
		trial fake
		tried int
		touch string
	}{
		{"another's plugin", fake{}, 1, ""},
		{"another's plugin again", fake{}, 1, ""},
		{"different", fake{repeatable: true, list: differs}, 1, ""},
		{"different again", fake{repeatable: true, list: differs}, 1, ""},
		{"well", fake{repeatable: true}, 1, ""},
		{"well again", fake{repeatable: true}, 0, ""},
		{"the pattern changed", fake{repeatable: true}, 1, "in.yaml"},
		{"and again", fake{repeatable: true}, 0, ""},
		{"the result changed", fake{repeatable: true}, 1, "out.yaml"},
		{"the chain changed", fake{repeatable: true}, 1, "c/chain.yaml"},
	} {
		if c.touch != "" {
			change(c.touch)
		}
		got := run(&c.trial)
		if c.trial.tried != c.tried || len(got.Findings) != len(c.trial.list) || len(got.Refused) > 0 || got.Name != "c" {
			t.Errorf("%s: tried %d times, want %d; %+v", c.name, c.trial.tried, c.tried, got)
		}
	}
	change("in.yaml")
	if got := run(&fake{err: source.Problems{{Line: 6, Col: 3, Text: "no such step"}}}); len(got.Refused) != 1 || got.Refused[0].Line != 6 {
		t.Errorf("refused: %+v", got)
	}
	// A fault of a plugin's ends the check: it is nobody's pattern's.
	broken := errors.New("the plugin did not start")
	found, err := shelf.Find(context.Background(), []string{"c"})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := shelf.Check(context.Background(), found, shelf.Options{Inspector: shelf.Inspector{Trial: &fake{err: broken}}}); !errors.Is(err, broken) {
		t.Errorf("Check = %v", err)
	}
}

// What a chain names outside of what is checked is not told of, whatever it
// holds.
func TestChainTellsNothingOfOthers(t *testing.T) {
	t.Chdir(lay(t, map[string]string{
		"repo/list.yaml":  "bygone: chain/1\nname: c\npatterns:\n  a: ../secret\nsteps:\n  - step: notch.place\n",
		"repo/tries.yaml": "bygone: chain/1\nname: c\nexpect:\n  - {pattern: ../secret, result: ../secret}\nsteps:\n  - step: notch.place\n",
		"secret":          "password of the workroom",
	}))
	r := check(t, shelf.Options{Inspector: shelf.Inspector{Trial: &fake{}}}, "repo")
	for _, c := range r.Files {
		if len(c.Refused) != 1 || !strings.Contains(c.Refused[0].Text, "this is not a pattern file") || strings.Contains(c.Problems().Error(), "password") {
			t.Errorf("%+v", c)
		}
	}
}
