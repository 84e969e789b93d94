package darts

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"bygone.example/internal/stock"
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

// A step that does away with a dart, or makes one true, has nothing to do where an
// earlier one has taken up all there were, and says so. A dart named wrongly where
// there are others is refused, and so is a step that needs one.
func TestNoDartLeft(t *testing.T) {
	dress, err := stock.Dress()
	if err != nil {
		t.Fatal(err)
	}
	bare := dress.Clone()
	bare.Piece("bodice-front").Darts = nil
	none := bare.Clone()
	for i := range none.Pieces {
		none.Pieces[i].Darts = nil
	}
	named := map[string]string{"piece": "bodice-front", "dart": "waist-dart"}
	for _, operation := range []string{"release", "close", "fold", "cap", "true-legs"} {
		passes := func(t *testing.T, before *sdk.Pattern, answer *sdk.Answer) {
			if diff := cmp.Diff(before, answer.Pattern, cmpopts.EquateEmpty()); diff != "" {
				t.Errorf("the pattern was changed:\n%s", diff)
			}
			if len(answer.Cautions) != 1 || !strings.Contains(answer.Cautions[0], "has no dart left") || len(answer.Changes) != 0 {
				t.Errorf("told: %q %v", answer.Cautions, answer.Changes)
			}
		}
		t.Run(operation+", cut away", sdktest.Case{Plugin: Plugin, Operation: operation, On: bare, Params: named, Check: passes}.Run)
		t.Run(operation+", none at all", sdktest.Case{Plugin: Plugin, Operation: operation, On: none, Check: passes}.Run)
		t.Run(operation+", named wrongly", sdktest.Case{
			Plugin: Plugin, Operation: operation, On: dress, Params: map[string]string{"piece": "bodice-front", "dart": "waste-dart"},
			Refusal: `no piece has a dart "waste-dart"; leave this step out, or name a dart the pattern has`,
		}.Run)
	}
	for _, operation := range []string{"rotate", "split", "point"} {
		params := named
		if operation == "rotate" {
			params = map[string]string{"piece": "bodice-front", "dart": "waist-dart", "to-edge": "shoulder"}
		}
		t.Run(operation+" needs one", sdktest.Case{
			Plugin: Plugin, Operation: operation, On: bare, Params: params,
			Refusal: `no piece has a dart "waist-dart"; leave this step out, or name a dart the pattern has`,
		}.Run)
	}
}

func darts(p *sdk.Pattern) int {
	n := 0
	for _, piece := range p.Pieces {
		n += len(piece.Darts)
	}
	return n
}
