package alter

import (
	"strings"
	"testing"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// After a yoke, a flounce or tiers the skirt's waist and its hem are on other
// pieces than before: steps that work on either find them there.
func TestSkirtPartsAreFound(t *testing.T) {
	flounce := func(o Flounce) alteration {
		return func(p *pattern.Pattern) (*operation.Answer, error) { return AddFlounce(p, o) }
	}
	straight := flounce(Flounce{Kind: StraightFlounce, Depth: 180, Ratio: 1.5})
	preparations := []struct {
		name string
		do   alteration
		// waist and hem are whether the step moved that edge.
		waist, hem bool
	}{
		{"yoke", func(p *pattern.Pattern) (*operation.Answer, error) {
			return CutHipYoke(p, HipYoke{Depth: 110, Ratio: 1.6, Slashes: 4})
		}, true, false},
		{"flared yoke", func(p *pattern.Pattern) (*operation.Answer, error) {
			return CutHipYoke(p, HipYoke{Depth: 110, Ratio: 1, HemGain: 60, Slashes: 4})
		}, true, false},
		{"straight flounce", straight, false, true},
		{"circular flounce", flounce(Flounce{Kind: CircularFlounce, Depth: 150, Circles: 1.2}), false, true},
		{"tiers", func(p *pattern.Pattern) (*operation.Answer, error) {
			return CutTiers(p, Tiers{Heights: []float64{260, 240, 240}, Ratio: 1.5})
		}, false, true},
	}
	side := func(p *pattern.Pattern) float64 { return p.Piece("bodice-back").SewnLength("side") }
	for _, prep := range preparations {
		p := done(t, dress(t), prep.do).Pattern
		for _, step := range []struct {
			name  string
			waist bool // it works on the waist, else on the hem
			do    alteration
		}{
			{"longer", false, func(p *pattern.Pattern) (*operation.Answer, error) { return LengthenSkirt(p, 60) }},
			{"shorter", false, func(p *pattern.Pattern) (*operation.Answer, error) { return LengthenSkirt(p, -60) }},
			{"wider hem", false, func(p *pattern.Pattern) (*operation.Answer, error) {
				return SetHem(p, HemSweep{Circumference: 1.1 * hems(p), Slashes: 4})
			}},
			{"train", false, func(p *pattern.Pattern) (*operation.Answer, error) { return AddTrain(p, Train{Back: 200, Side: 40}) }},
			{"tucks", false, func(p *pattern.Pattern) (*operation.Answer, error) {
				return TuckSkirt(p, HemTucks{Count: 2, Width: 6, Space: 20, First: 40})
			}},
			{"flounce below", false, straight},
			{"hem facing", false, func(p *pattern.Pattern) (*operation.Answer, error) {
				return AddFacing(p, Facing{Edge: pattern.Hem, Width: 50})
			}},
			{"hem binding", false, func(p *pattern.Pattern) (*operation.Answer, error) {
				return Bind(p, BiasBinding{Edge: pattern.Hem, Finished: 8, Seam: 6, Cloth: 900})
			}},
			{"waist up", true, func(p *pattern.Pattern) (*operation.Answer, error) {
				return RaiseWaist(p, WaistRaise{BelowArmscye: side(p) - 60, KeepLength: true})
			}},
			{"waist down", true, func(p *pattern.Pattern) (*operation.Answer, error) {
				return LowerWaist(p, WaistDrop{BelowArmscye: side(p) + 40})
			}},
			{"waistband", true, func(p *pattern.Pattern) (*operation.Answer, error) {
				return Waistband(p, Band{Finished: 30, Layers: 1, Seam: 10, End: 10})
			}},
		} {
			t.Run(prep.name+", "+step.name, func(t *testing.T) {
				a, no := lawful(t, p, step.do)
				if no != nil {
					t.Fatalf("refused: %v", no)
				}
				noNews(t, p, a)
			})
		}
	}
}

// hems is how long the loose hems of a skirt and what hangs from it are, round the
// garment.
func hems(p *pattern.Pattern) float64 {
	var sum float64
	for i := range p.Pieces {
		w := &p.Pieces[i]
		skirt := strings.HasPrefix(string(w.Role), "skirt") || w.Role == pattern.Flounce || w.Role == pattern.Tier
		for _, e := range w.Edges {
			if skirt && e.Is() == pattern.Hem && e.Finish != pattern.Sewn {
				n := float64(w.Cut.Count)
				if w.OnFold() {
					n *= 2
				}
				sum += n * e.Path.Length()
			}
		}
	}
	return sum
}
