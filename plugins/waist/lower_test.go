package waist

import (
	"math"
	"strings"
	"testing"

	"bygone.example/internal/stock"
	"bygone.example/sdk"
	"bygone.example/sdk/sdktest"
)

// On a body whose side is as long already as the low waist's, the waist still
// goes down unless a length is asked for.
func TestLowerByDefault(t *testing.T) {
	long := stock.StockBody
	long.BackLength, long.FrontLength = long.BackLength+110, long.FrontLength+110
	dress, err := stock.Draft(long)
	if err != nil {
		t.Fatal(err)
	}
	side := func(p *sdk.Pattern) float64 { return p.Piece("bodice-back").SewnLength("side") }
	if had := side(dress); had < lowWaist {
		t.Fatalf("the side measures %.0f mm only", had)
	}
	becomes := func(want float64, told int) func(*testing.T, *sdk.Pattern, *sdk.Answer) {
		return func(t *testing.T, before *sdk.Pattern, answer *sdk.Answer) {
			if got := side(answer.Pattern); math.Abs(got-want) > 1e-6 {
				t.Errorf("the side came to %.3f mm, want %.3f", got, want)
			}
			n := 0
			for _, c := range answer.Cautions {
				if strings.Contains(c, "measures") {
					n++
				}
			}
			if n != told {
				t.Errorf("cautions: %q", answer.Cautions)
			}
		}
	}
	t.Run("stock figure", sdktest.Case{Plugin: Plugin, Operation: "lower", Check: becomes(lowWaist, 0)}.Run)
	t.Run("long body", sdktest.Case{Plugin: Plugin, Operation: "lower", On: dress, Check: becomes(side(dress)+lowerAtLeast, 1)}.Run)
	t.Run("long body, asked", sdktest.Case{
		Plugin: Plugin, Operation: "lower", On: dress, Params: map[string]string{"below-armscye": "300mm"}, Refusal: "the side seam measures 310.6 mm under the armscye: the waist would not go down; ask for more than 316 mm below the armscye",
	}.Run)
}
