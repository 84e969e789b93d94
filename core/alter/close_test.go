package alter

import (
	"testing"

	"pgregory.net/rapid"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

func closing(c Closing) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return CloseDart(p, c) }
}

// Closed, a dart is gone and every sewn length is what it was; the two steps in
// one are the two steps.
func TestCloseDartKeeps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		r := anyTurn(t, p)
		c := Closing{Piece: r.Piece, Dart: r.Dart, Edge: r.Edge, At: r.At, Kind: pattern.Ease, Spread: rapid.Float64Range(10, 80).Draw(t, "spread")}
		if rapid.Bool().Draw(t, "gathered") {
			c.Kind = pattern.Gathers
		}
		a, no := lawful(t, p, closing(c))
		if no != nil {
			return
		}
		old, now := p.Piece(c.Piece), a.Pattern.Piece(c.Piece)
		if now.Dart(c.Dart) != nil {
			t.Errorf("the dart is there still: %v", now.Darts)
		}
		for _, e := range old.Edges {
			within(t, "sewn "+e.Name, now.SewnLength(e.Name), old.SewnLength(e.Name), exact)
		}
		r.Share = 1
		two := after(t, p, rotate(r), release(Release{Piece: c.Piece, Dart: c.Dart, Kind: c.Kind, Spread: c.Spread}))
		sameDrawing(t, "in two steps", a.Pattern, two)
		others(t, p, a.Pattern, c.Piece)
	})
}

func TestCloseDartRefuses(t *testing.T) {
	p := dress(t)
	refusals{
		{"no such dart", p, closing(Closing{Piece: "bodice-back", Dart: "dart", Edge: "neckline"}), `piece "bodice-back" has no dart "dart"; its darts are waist-dart`},
		{"nowhere to spread", p, closing(Closing{Piece: "bodice-back", Dart: "waist-dart", Edge: "neckline", At: 40, Kind: pattern.Ease}), `there is no edge beside dart "waist-dart" on piece "bodice-back" to gather onto; spread the fullness wider`},
	}.try(t)
}
