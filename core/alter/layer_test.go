package alter

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

var bodiceRoles = []pattern.Role{pattern.BodiceFront, pattern.BodiceBack, pattern.BodiceSideBack}

func layered(o Layering) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return LayerOver(p, o) }
}

// held holds what every layer promises: it is as wide as asked where it was
// slashed, sews to what it is basted to, and leaves what is under it alone but
// for notches.
func held(t failer, p *pattern.Pattern, o Layering, a *operation.Answer) {
	t.Helper()
	clean(t, p, a)
	basted := 0
	for _, s := range a.Pattern.Seams {
		if s.Kind != pattern.Basted {
			continue
		}
		basted++
		over, under := a.Pattern.RunLength(s.A), a.Pattern.RunLength(s.B)
		within(t, s.Name+", sewn", over, under, exact)
		e := a.Pattern.Edge(s.A[0])
		if e.Is() == pattern.Waist && e.Path.Length() > under+exact {
			want := max(o.Ratio*under, p.Edge(s.B[0]).Path.Length())
			tolerance := exact
			if u := s.B[0]; slices.ContainsFunc(p.Piece(u.Piece).Darts, func(d pattern.Dart) bool { return d.Edge == u.Edge }) {
				tolerance = 1 // the mouth of a dart that is left out is redrawn in a sweep where it has a peak
			}
			within(t, s.Name+", cut", e.Path.Length(), want, tolerance)
		}
	}
	if basted == 0 {
		t.Errorf("nothing is basted")
	}
	for _, was := range p.Pieces {
		is := a.Pattern.Piece(was.Name).Clone()
		was = was.Clone()
		if len(is.Notches) < len(was.Notches) {
			t.Errorf("piece %s lost notches", was.Name)
		}
		is.Notches, was.Notches = nil, nil
		if d := apart(&was, &is); d != 0 || len(is.Darts) != len(was.Darts) || len(is.Gathers) != len(was.Gathers) {
			t.Errorf("piece %s under the layer was changed", was.Name)
		}
	}
	for _, s := range a.Lineage {
		if was := p.Piece(s.New.Piece); (was == nil) != s.Added() {
			t.Fatalf("%+v", s)
		}
	}
}

func TestLayerLaws(t *testing.T) {
	laid := 0
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		o := Layering{
			Roles:   rapid.SampledFrom([][]pattern.Role{skirtRoles, bodiceRoles, sleeveRoles}).Draw(t, "over"),
			Ratio:   rapid.Float64Range(1, 2.5).Draw(t, "ratio"),
			Slashes: rapid.IntRange(1, 8).Draw(t, "slashes"),
		}
		if o.Roles[0] == pattern.BodiceFront {
			o.At = rapid.SampledFrom([][]string{nil, {pattern.Waist}, {pattern.Waist, pattern.Shoulder}}).Draw(t, "at")
		}
		a, _ := lawful(t, p, layered(o))
		if a == nil {
			return
		}
		laid++
		held(t, p, o, a)
	})
	if laid < 10 {
		t.Errorf("%d layers laid: the law is not being tried", laid)
	}
}

// Over a skirt a layer hangs from the waist, with side and centre seams of its
// own; over a bodice it is mounted, edge to edge.
func TestLayerEdges(t *testing.T) {
	p := dress(t)
	skirt := done(t, p, layered(Layering{Roles: skirtRoles, Ratio: 1.5, Slashes: 5})).Pattern
	for _, name := range []string{"skirt-side-over", "skirt-centre-front-over", "skirt-centre-back-over"} {
		if s := skirt.Seam(name); s == nil || s.Kind != pattern.Joined {
			t.Errorf("there is no seam %s among the layers", name)
		}
	}
	if e := skirt.Piece("skirt-front-over").Edge(pattern.Hem); e.Finish != pattern.Hemmed {
		t.Errorf("the layer's hem is %q", e.Finish)
	}
	within(t, "side", length(skirt, "skirt-front-over", pattern.Side), length(p, "skirt-front", pattern.Side), laidOff)

	mounted := done(t, p, layered(Layering{Piece: "bodice-front", Ratio: 1.4, Slashes: 4})).Pattern
	for _, edge := range []string{pattern.Waist, pattern.Side, pattern.Armscye, pattern.Shoulder, pattern.Neckline} {
		if s := mounted.Seam("bodice-front-over-" + edge); s == nil || s.Kind != pattern.Basted {
			t.Errorf("the %s is not basted", edge)
		}
	}

	half := done(t, p, layered(Layering{Piece: "bodice-front", Ratio: 1.4, Slashes: 4, At: []string{pattern.Waist, pattern.Shoulder}})).Pattern
	if e := half.Piece("bodice-front-over").Edge(pattern.Armscye); e.Finish != pattern.Hemmed {
		t.Errorf("the armscye that is basted to nothing is %q", e.Finish)
	}
}

// Another pattern's piece becomes the layer, whichever way up it was drawn; a
// second layer goes over the same piece.
func TestLayerFromAnother(t *testing.T) {
	p := dress(t)
	for name, lender := range map[string]*pattern.Pattern{"larger": larger(t, 80), "turned over": turnedOver(larger(t, 80))} {
		t.Run(name, func(t *testing.T) {
			o := Layering{Piece: "bodice-front", Lender: lender, Outer: "bodice-front", Ratio: 1.3, Slashes: 4, At: []string{pattern.Waist, pattern.Neckline}}
			a := done(t, p, layered(o))
			held(t, p, o, a)
			second := done(t, a.Pattern, layered(Layering{Piece: "bodice-front", Ratio: 1, Slashes: 1}))
			if second.Pattern.Piece("bodice-front-over-2") == nil {
				t.Errorf("pieces %s", strings.Join(second.Pattern.PieceNames(), ", "))
			}
			if again := second.Pattern.SeamsOf("bodice-front", pattern.Waist); len(again) != 3 {
				t.Errorf("the waist under two layers is in %d seams", len(again))
			}
		})
	}
}

func TestLayerRefusals(t *testing.T) {
	p := dress(t)
	veiled := done(t, p, layered(Layering{Roles: skirtRoles, Ratio: 1.5, Slashes: 5})).Pattern
	refusals{
		{"narrower", p, layered(Layering{Roles: skirtRoles, Ratio: 0.8, Slashes: 5}), `a layer 0.8 times as wide as what is under it would be narrower; ask for 1 or more`},
		{"no slash", p, layered(Layering{Roles: skirtRoles, Ratio: 1.5}), `a layer cannot be spread without a slash; ask for at least one`},
		{"no piece", p, layered(Layering{Piece: "cape", Ratio: 1.5, Slashes: 5}), `the pattern has no piece "cape"; its pieces are bodice-front, bodice-back, sleeve, skirt-front, skirt-back, facing-front, facing-back`},
		{"no edge", p, layered(Layering{Piece: "skirt-front", Ratio: 1.5, Slashes: 5, At: []string{"cuff"}}), `piece "skirt-front" has no edge "cuff" to baste a layer to; name one by its role or name`},
		{"on the fold", p, layered(Layering{Piece: "bodice-front", Ratio: 1.5, Slashes: 5, At: []string{pattern.CentreFront}}), `edge "centre-front" of piece "bodice-front" is on the fold; baste the layer at other edges`},
		{"layer on layer", veiled, layered(Layering{Piece: "skirt-front-over", Ratio: 1.5, Slashes: 5, At: []string{pattern.Waist}}), `piece "skirt-front-over" is a layer itself; lay this one over the piece under both`},
		{"too many slashes", p, layered(Layering{Roles: skirtRoles, Ratio: 1.5, Slashes: 500}), `there is no room for 500 slashes along the grain from edge "waist" of piece "skirt-front-over"; ask for fewer, or for a fullness of 1 and add it elsewhere`},
		{"one for two", p, layered(Layering{Roles: skirtRoles, Lender: p, Outer: "skirt-front", Ratio: 1.5, Slashes: 5}), `one piece of another pattern cannot lie over 2 pieces; name the piece that it lies over`},
		{"outer of nothing", p, layered(Layering{Piece: "skirt-front", Outer: "skirt-front", Ratio: 1.5, Slashes: 5}), `it is not said which pattern has the piece "skirt-front"; name one of the patterns that the chain lists, or leave the piece out`},
		{"no such outer", p, layered(Layering{Piece: "skirt-front", Lender: p, Outer: "veil", Ratio: 1.5, Slashes: 5}), `pattern "stock-dress" has no piece "veil"; its pieces are bodice-front, bodice-back, sleeve, skirt-front, skirt-back, facing-front, facing-back`},
		{"another shape", p, layered(Layering{Piece: "bodice-front", Lender: p, Outer: "sleeve", Ratio: 1.5, Slashes: 5, At: []string{pattern.Shoulder}}), `piece "sleeve" of pattern "stock-dress" has no shoulder edge, or more than one, to lie on edge "shoulder" of piece "bodice-front"; give one of its edges that role, or baste the layer at other edges`},
		{"too small", p, layered(Layering{Piece: "bodice-front", Lender: larger(t, -90), Outer: "bodice-front", Ratio: 1, Slashes: 1, At: []string{pattern.Shoulder, pattern.Armscye}}), `edge "armscye" of the layer measures 186.6 mm, and edge "armscye" of piece "bodice-front" under it 220.2; ask for more fullness, or baste the layer at other edges`},
	}.try(t)
}

// The input's order of seams does not decide what is basted.
func TestLayerAnyOrder(t *testing.T) {
	p := dress(t)
	q := dress(t)
	slices.Reverse(q.Seams)
	o := Layering{Roles: skirtRoles, Ratio: 1.5, Slashes: 5}
	a, b := done(t, p, layered(o)).Pattern, done(t, q, layered(o)).Pattern
	for _, name := range []string{"skirt-front-over", "skirt-back-over"} {
		if d := apart(a.Piece(name), b.Piece(name)); d != 0 {
			t.Errorf("%s differs by %g mm", name, d)
		}
	}
}

// What borrowing and layering cost on the stock dress.
func BenchmarkBorrow(b *testing.B) {
	p, lender := dress(b), larger(b, 60)
	for _, c := range []struct {
		name string
		do   alteration
	}{
		{"sleeve", borrowed(Borrowing{Lender: lender, Roles: sleeveRoles, Ease: -1})},
		{"skirt", borrowed(Borrowing{Lender: lender, Roles: skirtRoles, MostAtSide: 30})},
		{"layer", layered(Layering{Roles: skirtRoles, Ratio: 1.5, Slashes: 5})},
		{"mount", layered(Layering{Roles: bodiceRoles, Ratio: 1.5, Slashes: 5})},
	} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				if _, err := c.do(p); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
