package length_test

import (
	"context"
	"testing"

	"bygone.example/core/finding"
	"bygone.example/core/operation"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
	"bygone.example/internal/stock"
	"bygone.example/plugins/length"
	"bygone.example/plugins/skirt"
	"bygone.example/plugins/waist"
	"bygone.example/sdk"
)

// TestDefaults runs the steps for lengths, waists and skirts on the stock dress
// with no parameter set: they do something, and no fault or warning is new.
func TestDefaults(t *testing.T) {
	dress, err := stock.Dress()
	if err != nil {
		t.Fatal(err)
	}
	needsMore := map[string]bool{
		"raise":    true, // the bust dart is in the way of it
		"lengthen": true, // a wearer or a length
	}
	for _, p := range []*sdk.Plugin{length.Plugin, waist.Plugin, skirt.Plugin} {
		for _, o := range p.Operations {
			if needsMore[o.Name] {
				continue
			}
			t.Run(p.Name+"."+o.Name, func(t *testing.T) {
				from := dress
				if o.Needs != nil && o.Needs[0].Piece == "godet" {
					from = run(t, operationNamed(p, "godet"), dress).Pattern
				}
				a := run(t, o, from)
				for _, f := range pairing.Compare(pairing.Check(from), pairing.Check(a.Pattern), a.Lineage, "new") {
					if f.Since == "new" && f.Severity != finding.Note {
						t.Errorf("%s %s: %s", f.Severity, f.Code, f.Text)
					}
				}
				if len(a.Changes) == 0 {
					t.Error("nothing is told of what changed")
				}
			})
		}
	}
}

func operationNamed(p *sdk.Plugin, name string) *sdk.Operation {
	for _, o := range p.Operations {
		if o.Name == name {
			return o
		}
	}
	return nil
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
