package slash

import (
	"math"
	"testing"

	"bygone.example/sdk"
	"bygone.example/sdk/sdktest"
)

// Both steps do their work on the stock dress with no parameters at all, and
// with some.
func TestSteps(t *testing.T) {
	grows := func(piece, edge string, by float64) func(*testing.T, *sdk.Pattern, *sdk.Answer) {
		return func(t *testing.T, before *sdk.Pattern, answer *sdk.Answer) {
			got := answer.Pattern.Piece(piece).Edge(edge).Path.Length() - before.Piece(piece).Edge(edge).Path.Length()
			if math.Abs(got-by) > 1e-6 {
				t.Errorf("edge %s of %s grew by %.6f mm, want %g", edge, piece, got, by)
			}
		}
	}
	for _, c := range []sdktest.Case{
		{Operation: "spread", Check: grows("skirt-front", "hem", 100)},
		{Operation: "line", Check: grows("skirt-front", "hem", 100)},
		{Operation: "line", Params: map[string]string{"bow": "30mm", "open-opposite": "20mm"}, Check: grows("skirt-front", "waist", 20)},
		{Operation: "spread", Params: map[string]string{"piece": "sleeve", "edge": "cap", "open": "6cm", "from": "0.3", "to": "0.7", "as": "knife"}, Check: grows("sleeve", "cap", 60)},
		{Operation: "spread", Params: map[string]string{"edge": "waist", "as": "flare"}, Refusal: `edge "waist" of piece "skirt-front" is sewn to another and cannot just grow; gather, ease or pleat what it gains, or spread its mate too`},
		{Operation: "spread", Params: map[string]string{"edge": "cuff"}, Refusal: `no piece has an edge "cuff"; name the piece and edge to slash`},
	} {
		c.Plugin = Plugin
		t.Run(c.Operation, c.Run)
	}
}
