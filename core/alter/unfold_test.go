package alter

import (
	"testing"

	"pgregory.net/rapid"

	"bygone.example/core/finding"
	"bygone.example/core/operation"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
)

func unfoldFrom(piece string) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return Unfold(p, piece) }
}

// Drawn out whole, the garment has twice of everything, and every seam of the
// half is there for both sides.
func TestUnfold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		if rapid.Bool().Draw(t, "with a side back") {
			p = after(t, p, job[0].do, job[1].do)
		}
		a := done(t, p, unfoldFrom("bodice-front"))
		q := a.Pattern
		half, whole := 0.0, 0.0
		for _, piece := range p.Pieces {
			half += piece.Boundary().Area() * 2
		}
		for _, piece := range q.Pieces {
			whole += piece.Boundary().Area()
			if piece.Cut.Count != 1 || piece.OnFold() {
				t.Errorf("%s: cut %+v, on the fold: %v", piece.Name, piece.Cut, piece.OnFold())
			}
		}
		within(t, "area in mm²", whole, half, 1e-3)
		for _, s := range p.Seams {
			both := q.RunLength(q.Seam(s.Name).A)
			if twin := q.Seam(s.Name + ".left"); twin != nil {
				both += q.RunLength(twin.A)
			}
			want := 2 * p.RunLength(s.A)
			if len(s.B) == 0 {
				want /= 2 // it joined the piece to its own image, and joins the two now
			}
			within(t, "seam "+s.Name+", both sides of the garment", both, want, 1e-8)
		}
		if n := pairing.Count(pairing.Check(q)); n.Faults > 0 || n.Warnings > 2*pairing.Count(pairing.Check(p)).Warnings {
			t.Errorf("%+v", n)
		}
	})
}

// The two sides can be altered apart.
func TestUnfoldThenAlterOneSide(t *testing.T) {
	p := after(t, dress(t), job[0].do, unfoldFrom("bodice-front"))
	a := quietly(t, p, moveSeam(SeamMove{Seam: "side.left", AtStart: 10, AtEnd: 10}))
	within(t, "the right side", length(a.Pattern, "bodice-front", "side"), length(p, "bodice-front", "side"), 0)
	if length(a.Pattern, "bodice-front", "armscye.left") == length(p, "bodice-front", "armscye.left") {
		t.Error("the left armscye is as it was")
	}
}

func TestUnfoldRefusals(t *testing.T) {
	odd := dress(t)
	odd.Piece("sleeve").Cut = pattern.Cut{Count: 1}
	two := dress(t)
	two.Piece("facing-front").Edge("outer").Finish = pattern.Fold
	refusals{
		{"no piece", odd, unfoldFrom("cape"), `the pattern has no piece "cape"; its pieces are bodice-front, bodice-back, sleeve, skirt-front, skirt-back, facing-front, facing-back`},
		{"one sleeve", odd, unfoldFrom("bodice-front"), `piece "sleeve" is sewn to a half pattern, and is neither on the fold nor cut in pairs; cut it on the fold or in pairs, or unfold another piece`},
		{"two folds", two, unfoldFrom("bodice-front"), `piece "facing-front" has more than one fold edge; join them into one, or make one a seam`},
	}.try(t)
}

func TestMirrorPiece(t *testing.T) {
	p := dress(t)
	a := done(t, p, func(p *pattern.Pattern) (*operation.Answer, error) {
		return MirrorPiece(p, "bodice-back", "other-back", "Other back")
	})
	others(t, p, a.Pattern)
	c, w := a.Pattern.Piece("other-back"), p.Piece("bodice-back")
	within(t, "area in mm²", c.Boundary().Area(), w.Boundary().Area(), 1e-6)
	for _, e := range w.Edges {
		within(t, e.Name, c.Edge(e.Name).Path.Length(), e.Path.Length(), exact)
		within(t, e.Name+", sewn", c.SewnLength(e.Name), w.SewnLength(e.Name), exact)
	}
	if c.Boundary().Bounds().Overlaps(w.Boundary().Bounds()) {
		t.Error("the copy lies on its piece")
	}
	for _, f := range pairing.Check(a.Pattern) {
		if f.Severity == finding.Fault {
			t.Errorf("%+v", f)
		}
	}
	refusals{
		{"no piece", p, func(p *pattern.Pattern) (*operation.Answer, error) { return MirrorPiece(p, "cape", "", "") }, `the pattern has no piece "cape"; its pieces are bodice-front, bodice-back, sleeve, skirt-front, skirt-back, facing-front, facing-back`},
		{"name taken", p, func(p *pattern.Pattern) (*operation.Answer, error) {
			return MirrorPiece(p, "sleeve", "bodice-back", "")
		}, `the pattern has a piece "bodice-back" already; give the copy another name`},
	}.try(t)
}
