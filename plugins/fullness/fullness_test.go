package fullness

import (
	"context"
	"math"
	"testing"

	"bygone.example/core/alter"
	"bygone.example/core/finding"
	"bygone.example/core/operation"
	"bygone.example/core/pairing"
	"bygone.example/internal/stock"
	"bygone.example/sdk"
)

// Every step runs without any parameter on a dress that has what it works on:
// the stock dress, with the back of its skirt gathered.
func TestDefaultsRun(t *testing.T) {
	p, err := stock.Dress()
	if err != nil {
		t.Fatal(err)
	}
	gathered, err := alter.GatherBack(p, alter.BackFullness{Zone: 152, Ratio: 2.5})
	if err != nil {
		t.Fatal(err)
	}
	for _, op := range Plugin.Operations {
		t.Run(op.Name, func(t *testing.T) {
			before := gathered.Pattern
			switch op.Name {
			case "pleat", "tuck-skirt", "tiers", "flounce": // the plain skirt
				before = p
			}
			values := sdk.Values{}
			for _, q := range op.Parameters {
				if q.Default == "" {
					continue
				}
				v, err := operation.ParseValue(q, q.Default)
				if err != nil {
					t.Fatal(err)
				}
				values[q.Name] = v
			}
			a, err := op.Apply(context.Background(), &sdk.Request{Pattern: before, Values: values})
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range pairing.Compare(pairing.Check(before), pairing.Check(a.Pattern), a.Lineage, "new") {
				if f.Since == "new" && f.Severity != finding.Note {
					t.Errorf("%s %s: %s", f.Severity, f.Code, f.Text)
				}
			}
			if len(a.Changes) == 0 {
				t.Error("nothing is told of what was done")
			}
			for _, c := range a.Changes {
				t.Logf("%-50s %-22s %9.2f -> %9.2f %s", c.What, c.Piece, c.Before, c.After, c.Unit)
			}
		})
	}
}

// Tiers of given heights and of shared ones.
func TestTierHeights(t *testing.T) {
	p, err := stock.Dress()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name   string
		values map[string]float64
		want   []float64
	}{
		{"shared", map[string]float64{"count": 3, "length": 900, "deeper": 10}, []float64{290, 300, 310}},
		{"the opening in the top tier", map[string]float64{"count": 3, "length": 600, "deeper": 10}, []float64{215, 187.5, 197.5}},
		{"one given", map[string]float64{"count": 3, "length": 600, "deeper": 10, "height-1": 250}, []float64{250, 170, 180}},
		{"all given", map[string]float64{"count": 2, "length": 600, "deeper": 10, "height-1": 250, "height-2": 300}, []float64{250, 300}},
	} {
		values := sdk.Values{}
		for name, n := range c.values {
			values[name] = sdk.Value{Number: n}
		}
		got, err := tierHeights(&sdk.Request{Pattern: p, Values: values})
		if err != nil {
			t.Fatal(err)
		}
		for k := range c.want {
			if len(got) != len(c.want) || math.Abs(got[k]-c.want[k]) > 1e-6 {
				t.Errorf("%s: %v, want %v", c.name, got, c.want)
				break
			}
		}
	}
}
