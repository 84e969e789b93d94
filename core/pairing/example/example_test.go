package example_test

import (
	"slices"
	"testing"

	"bygone.example/core/finding"
	"bygone.example/core/pairing"
	"bygone.example/core/pairing/example"
)

// Every code has an example, or a reason why it can have none.
func TestEveryCodeIsShown(t *testing.T) {
	known := map[finding.Code]bool{}
	var lacking []finding.Code
	for _, e := range pairing.Codes() {
		known[e.Code] = true
		_, shown := example.Of(e.Code)
		why, unshown := example.Unshown[e.Code]
		switch {
		case shown && unshown:
			t.Errorf("%s has an example, and a reason for none: %s", e.Code, why)
		case !shown && !unshown:
			lacking = append(lacking, e.Code)
		}
	}
	if len(lacking) > 0 {
		t.Errorf("no example of %v: add a pattern with the fault and the same mended", lacking)
	}
	for code := range example.Unshown {
		if _, shown := example.Of(code); shown && !known[code] {
			t.Errorf("a reason for no example of %s, and an example", code)
		}
	}
	for _, code := range example.Codes() {
		if !known[code] {
			t.Errorf("an example of %s, which is no code", code)
		}
	}
}

// Each example has its fault and no other but what that entails; mended, it has
// none.
func TestExamples(t *testing.T) {
	if list := pairing.Check(example.Garment()); len(list) > 0 {
		t.Fatalf("the sound garment has findings: %+v", list)
	}
	for _, code := range example.Codes() {
		t.Run(string(code), func(t *testing.T) {
			e, ok := example.Of(code)
			if !ok {
				t.Fatal("there is no example")
			}
			found := false
			for _, f := range pairing.CheckWith(e.Before, e.Options) {
				found = found || f.Code == code
				if f.Code != code && !slices.Contains(e.Entails, f.Code) {
					t.Errorf("before: also %s: %s", f.Code, f.Text)
				}
			}
			if !found {
				t.Errorf("before: %s is not found", code)
			}
			for _, f := range pairing.CheckWith(e.After, e.Options) {
				t.Errorf("after: %s: %s", f.Code, f.Text)
			}
		})
	}
}
