package finish_test

import (
	"context"
	"testing"

	"bygone.example/core/finding"
	"bygone.example/core/operation"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
	"bygone.example/internal/stock"
	"bygone.example/plugins/collar"
	"bygone.example/plugins/finish"
	"bygone.example/sdk"
)

// TestDefaults runs every step for collars and finishes on the stock dress and
// on the blouse with no parameter set: no fault or warning is new on the dress.
// The blouse has faults of its own, which its linings share; there the steps
// must only be done.
func TestDefaults(t *testing.T) {
	dress, err := stock.Dress()
	if err != nil {
		t.Fatal(err)
	}
	blouse, err := stock.Blouse()
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range []*sdk.Plugin{collar.Plugin, finish.Plugin} {
		for _, o := range p.Operations {
			t.Run(p.Name+"."+o.Name, func(t *testing.T) {
				a := run(t, o, dress)
				for _, f := range pairing.Compare(pairing.Check(dress), pairing.Check(a.Pattern), a.Lineage, "new") {
					if f.Since == "new" && f.Severity != finding.Note {
						t.Errorf("%s %s: %s", f.Severity, f.Code, f.Text)
					}
				}
				if len(a.Changes) == 0 {
					t.Error("nothing is told of what changed")
				}
				if len(o.Needs) == 0 || o.Needs[0].Piece == pattern.BodiceFront {
					run(t, o, blouse)
				}
			})
		}
	}
}

// run fills in the defaults and runs the operation.
func run(t *testing.T, o *sdk.Operation, p *pattern.Pattern) *sdk.Answer {
	t.Helper()
	values := operation.Values{}
	for _, param := range o.Parameters {
		if param.Default == "" {
			continue
		}
		v, err := operation.ParseValue(param, param.Default)
		if err != nil {
			t.Fatal(err)
		}
		values[param.Name] = v
	}
	a, err := o.Apply(context.Background(), &sdk.Request{Pattern: p, Values: values})
	if err != nil {
		t.Fatal(err)
	}
	return a
}
