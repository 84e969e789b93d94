package main

import (
	"testing"

	"bygone.example/core/pattern"
	"bygone.example/sdk"
	"bygone.example/sdk/sdktest"
)

func TestContract(t *testing.T) { sdktest.Plugin(t, plugin) }

func TestSet(t *testing.T) {
	sdktest.Case{
		Plugin: plugin, Operation: "set", Params: map[string]string{"depth": "6cm"},
		Check: func(t *testing.T, _ *sdk.Pattern, a *sdk.Answer) {
			if got := a.Pattern.Piece("skirt-front").Edge("hem").Allowance; got != 60 {
				t.Errorf("the skirt's hem is turned up by %g mm, want 60", got)
			}
		},
	}.Run(t)
}

func TestRefuses(t *testing.T) {
	bound := sdktest.StockDress(t)
	for i := range bound.Pieces {
		for j := range bound.Pieces[i].Edges {
			if e := &bound.Pieces[i].Edges[j]; e.Finish == pattern.Hemmed {
				e.Finish = pattern.Bound
			}
		}
	}
	sdktest.Case{
		Plugin: plugin, Operation: "set", On: bound,
		Refusal: "no edge of the pattern is hemmed; mark one with finish: hem",
	}.Run(t)
}
