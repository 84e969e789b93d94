package alter

import (
	"testing"

	"pgregory.net/rapid"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

func release(r Release) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return ReleaseDart(p, r) }
}

func TestReleaseDartKeeps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		r := Release{Piece: "bodice-front", Dart: "bust-dart", Kind: pattern.Gathers, Spread: rapid.Float64Range(0, 200).Draw(t, "spread")}
		if rapid.Bool().Draw(t, "at the waist") {
			r.Dart = "waist-dart"
		}
		if rapid.Bool().Draw(t, "ease") {
			r.Kind = pattern.Ease
		}
		a, no := lawful(t, p, release(r))
		if no != nil {
			if r.Spread > minGathered {
				t.Errorf("refused: %v", no)
			}
			return
		}
		old, now := p.Piece(r.Piece), a.Pattern.Piece(r.Piece)
		edge := old.Dart(r.Dart).Edge
		for _, e := range old.Edges {
			within(t, "sewn "+e.Name, now.SewnLength(e.Name), old.SewnLength(e.Name), exact)
			if e.Name != edge {
				within(t, "cut "+e.Name, now.Edge(e.Name).Path.Length(), e.Path.Length(), exact)
			}
		}
		if now.Dart(r.Dart) != nil || len(now.Gathers) != 1 || now.Gathers[0].Kind != r.Kind {
			t.Errorf("darts %v, gathers %v", now.Darts, now.Gathers)
		}
		for _, s := range a.Pattern.SeamsOf(r.Piece, edge) {
			want := pattern.Gathered
			if r.Kind == pattern.Ease {
				want = pattern.Plain
			}
			if s.Meeting.Kind != want {
				t.Errorf("seam %s meets %s, want %s", s.Name, s.Meeting.Kind, want)
			}
		}
		others(t, p, a.Pattern, r.Piece)
	})
}

func TestReleaseDartRefuses(t *testing.T) {
	p := dress(t)
	refusals{
		{"no such dart", p, release(Release{Piece: "bodice-back", Dart: "dart", Spread: 40}), `piece "bodice-back" has no dart "dart"; its darts are waist-dart`},
		{"no spread", p, release(Release{Piece: "bodice-back", Dart: "waist-dart"}), `there is no edge beside dart "waist-dart" on piece "bodice-back" to gather onto; spread the fullness wider`},
		{"less than none", p, release(Release{Piece: "bodice-back", Dart: "waist-dart", Spread: -5}), `there is no edge beside dart "waist-dart" on piece "bodice-back" to gather onto; spread the fullness wider`},
	}.try(t)
}
