package sdktest_test

import (
	"context"
	"testing"

	"bygone.example/core/pattern"
	"bygone.example/sdk"
	"bygone.example/sdk/sdktest"
)

var plugin = &sdk.Plugin{
	Name: "keep", Purpose: "Keeps the pattern.",
	Operations: []*sdk.Operation{{
		Spec: sdk.Spec{Name: "all", Purpose: "Keeps all of it."},
		Apply: func(_ context.Context, q *sdk.Request) (*sdk.Answer, error) {
			return &sdk.Answer{Pattern: q.Pattern.Clone(), Lineage: pattern.Same(q.Pattern)}, nil
		},
	}},
}

// A plugin's whole contract is one line of its test.
func ExamplePlugin() {
	_ = func(t *testing.T) { sdktest.Plugin(t, plugin) }
}

// A result is a case.
func ExampleCase() {
	_ = func(t *testing.T) {
		sdktest.Case{Plugin: plugin, Operation: "all", Golden: "testdata/kept.yaml"}.Run(t)
	}
}
