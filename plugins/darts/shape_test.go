package darts

import (
	"testing"

	"bygone.example/sdk"
	"bygone.example/sdk/sdktest"
)

// Every step that can find its own dart does its work on the stock dress with no
// parameters at all.
func TestStepsByDefault(t *testing.T) {
	for _, c := range []struct {
		operation string
		darts     int // more than before, or fewer
		pieces    int
	}{
		{"split", 1, 0}, {"join", -1, 0}, {"point", 0, 0}, {"true-legs", 0, 0}, {"cap", 0, 0}, {"fold", -1, 0},
		{"add", 1, 0}, {"princess", -2, 1}, {"yoke", 0, 1}, {"widen", 0, 0},
	} {
		run := sdktest.Case{Plugin: Plugin, Operation: c.operation, Check: func(t *testing.T, before *sdk.Pattern, answer *sdk.Answer) {
			if got, want := darts(answer.Pattern), darts(before)+c.darts; got != want {
				t.Errorf("%d darts, want %d", got, want)
			}
			if got, want := len(answer.Pattern.Pieces), len(before.Pieces)+c.pieces; got != want {
				t.Errorf("%d pieces, want %d", got, want)
			}
			if len(answer.Changes) == 0 {
				t.Error("nothing is told")
			}
		}}
		if c.operation == "widen" { // the waist has a dart in it on the stock dress
			run.Check, run.Params = nil, map[string]string{"edge": "neckline"}
		}
		t.Run(c.operation, run.Run)
	}
}

func darts(p *sdk.Pattern) int {
	n := 0
	for _, piece := range p.Pieces {
		n += len(piece.Darts)
	}
	return n
}
