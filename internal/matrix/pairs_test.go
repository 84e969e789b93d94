package matrix

import (
	"slices"
	"testing"

	"bygone.example/core/operation"
	"bygone.example/internal/stock"
	"bygone.example/plugins/house"
)

// pairsSampled is one in how many pairs the ordinary run tries: so many that it
// takes a few seconds.
const pairsSampled = 11

// Every operation after every other, on the stock dress: whatever the first
// sewed, basted, bound or cut, the second must follow it or refuse, with a
// reason. No answer may be unsound, open a seam, or part a pair of notches.
func TestMatrixPairs(t *testing.T) {
	homes, _, err := Homes()
	if err != nil {
		t.Fatal(err)
	}
	pairs := SomePairs(pairsSampled)
	if *every == 1 {
		pairs = AllPairs()
	}
	cases, err := RunPairs(pairs, homes)
	if err != nil {
		t.Fatal(err)
	}
	var sum Tally
	firsts, seconds := map[string]bool{}, map[string]bool{}
	for i, c := range cases {
		firsts[pairs[i].First], seconds[pairs[i].Second] = true, true
		switch c.Outcome {
		case Done:
			sum.Done++
		case Refused:
			sum.Refused++
			sum.Refusals = append(sum.Refusals, c)
		case Failed:
			sum.Failed++
			t.Errorf("%v", c)
		}
		if len(c.Warnings) > 0 {
			sum.Warned++
			sum.Told = append(sum.Told, c)
		}
	}
	t.Logf("%d pairs: %d done, %d refused, %d failed; %d with warnings", len(cases), sum.Done, sum.Refused, sum.Failed, sum.Warned)
	for _, c := range sum.Refusals {
		t.Logf("refused: %v", c)
	}
	for _, c := range sum.Told {
		t.Logf("warned: %s: %q", c.Operation, c.Warnings)
	}
	if all := len(Operations()); len(firsts) != all || len(seconds) != all {
		t.Errorf("%d operations were tried first and %d second, want all %d", len(firsts), len(seconds), all)
	}
}

// The sample is part of the whole, and each pair is in it once.
func TestSomePairs(t *testing.T) {
	all := map[Pair]bool{}
	for _, p := range AllPairs() {
		all[p] = true
	}
	if n := len(Operations()); len(all) != n*n {
		t.Fatalf("%d pairs of %d operations", len(all), n)
	}
	seen := map[Pair]bool{}
	for _, p := range SomePairs(pairsSampled) {
		if !all[p] || seen[p] {
			t.Errorf("%v is in the sample twice, or not among all", p)
		}
		seen[p] = true
	}
}

// What an operation says it makes, it makes at its home, and what a step of the
// house needs that the stock dress lacks, some operation makes.
func TestMakes(t *testing.T) {
	homes, _, err := Homes()
	if err != nil {
		t.Fatal(err)
	}
	dress, err := stock.Dress()
	if err != nil {
		t.Fatal(err)
	}
	lady, err := Stock()
	if err != nil {
		t.Fatal(err)
	}
	var made []operation.Need
	for _, plugin := range house.Plugins {
		for _, op := range plugin.Operations {
			name := plugin.Name + "." + op.Name
			if len(op.Makes) == 0 {
				continue
			}
			p, err := Prepare(dress, homes[name], lady)
			if err != nil {
				t.Fatal(err)
			}
			a, err := Apply(p, Asked(name), lady)
			if err != nil {
				t.Errorf("%s: %v", name, err)
				continue
			}
			for _, n := range op.Makes {
				if n.In(p) || !n.In(a.Pattern) {
					t.Errorf("%s does not make %s of a pattern that has none", name, n)
				}
			}
			made = append(made, op.Makes...)
		}
	}
	for _, plugin := range house.Plugins {
		for _, op := range plugin.Operations {
			for _, n := range op.Needs {
				if !n.In(dress) && !slices.ContainsFunc(made, n.MetBy) {
					t.Errorf("%s.%s needs %s, which neither the stock dress has nor a step makes", plugin.Name, op.Name, n)
				}
			}
		}
	}
}
