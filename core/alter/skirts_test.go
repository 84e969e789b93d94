package alter

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

func gores(o Gores) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return DivideGores(p, o) }
}

func godet(o Godet) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return InsertGodet(p, o) }
}

func yoke(o HipYoke) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return CutHipYoke(p, o) }
}

func overskirt(o Overskirt) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return CopyOverskirt(p, o) }
}

func peplum(o Peplum) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return AddPeplum(p, o) }
}

func circle(o Circle) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return CircleSkirt(p, o) }
}

// Every step at ordinary numbers on every body of the sample: no new fault or
// warning of pairing.
func TestSkirtsBodies(t *testing.T) {
	list := []struct {
		name string
		do   alteration
	}{
		{"half circle", circle(Circle{Fraction: 0.5})},
		{"full circle", circle(Circle{Fraction: 1})},
		{"quarter circle", circle(Circle{Fraction: 0.25})},
		{"circle to a hem", circle(Circle{Hem: 2200, Length: 900})},
		{"two gores", gores(Gores{Piece: "skirt-front", Count: 2})},
		{"five gores", gores(Gores{Piece: "skirt-back", Count: 5})},
		{"narrow at the centre", gores(Gores{Piece: "skirt-front", Count: 3, HalfAtCentre: true, CentreHem: 60})},
		{"godet in a slit", godet(Godet{Piece: "skirt-back", Height: 250, Width: 300})},
		{"godet at the side", godet(Godet{Seam: "skirt-side", Height: 250, Width: 250})},
		{"godet in front", godet(Godet{Seam: "skirt-centre-front", Height: 200, Width: 250})},
		{"plain yoke", yoke(HipYoke{Depth: 6 * inch, Ratio: 1})},
		{"flared yoke", yoke(HipYoke{Depth: 120, Ratio: 1, HemGain: 60, Slashes: 4})},
		{"gathered yoke", yoke(HipYoke{Depth: 100, Ratio: 1.5, Slashes: 4})},
		{"yoke, flared and gathered", yoke(HipYoke{Depth: 120, Ratio: 1.5, HemGain: 40, Slashes: 4})},
		{"overskirt", overskirt(Overskirt{Share: 0.6})},
		{"overskirt as long", overskirt(Overskirt{Share: 1})},
		{"basque", peplum(Peplum{Depth: 120, Fraction: 0.5})},
		{"full basque", peplum(Peplum{Depth: 200, Fraction: 1})},
	}
	cases := 0
	for n, p := range everyBody(t) {
		for _, c := range list {
			cases++
			strictly(t, p, c.do)
			if t.Failed() {
				t.Fatalf("%s, body %d", c.name, n)
			}
		}
	}
	t.Logf("%d cases", cases)
}

// skirtOf is a skirt of one half piece on the fold, waist and length in mm of
// the whole, as a part of a circle.
func skirtOf(t failer, waist, long, fraction float64) *pattern.Pattern {
	t.Helper()
	p := notched(t)
	p = after(t, p, circle(Circle{Fraction: fraction, Length: long, Waist: waist}))
	return p
}

// The radii of circle skirts for a waist of 28 in, from waist ÷ (2π × fraction):
// 4.456 for a whole circle, 8.913 for a half, 17.825 for a quarter; and of one
// 28 in long the hem, 203.93 and 115.96 in, and the area, 3247.0 sq in.
// Identities; printed to three decimals in the circle skirt pages of school
// arithmetic.
func TestCircleSkirtRadii(t *testing.T) {
	for _, c := range []struct{ fraction, printed, hem, tol float64 }{
		{1, 4.456, 203.93, 0.005}, {0.5, 8.913, 115.96, 0.005}, {0.25, 17.825, 28 + math.Pi*14, 1e-6},
	} {
		a := strictly(t, notched(t), circle(Circle{Fraction: c.fraction, Length: 28 * inch, Waist: 28 * inch}))
		r := 0.0
		for _, ch := range a.Changes {
			if ch.What == "inner radius" {
				r = ch.After
			}
		}
		within(t, "radius", r, 28*inch/(2*math.Pi*c.fraction), exact)
		within(t, "radius as printed", r/inch, c.printed, 0.0006)
		within(t, "waist", 2*sum(a.Pattern, pattern.Waist, "front", "back"), 28*inch, 4*exact)
		within(t, "hem", hemOf(a.Pattern)/inch, c.hem, c.tol)
		if c.fraction == 1 {
			within(t, "area, sq in", 2*area(a.Pattern, "front", "back")/inch/inch, 3247.0, 0.05)
		}
	}
}

// A circle's hem is the waist and 2π times fraction and length; every leg is as
// long as asked; the waist of each piece stays as it sewed.
func TestCircleSkirtKeeps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		o := Circle{Fraction: rapid.Float64Range(0.15, 1.8).Draw(t, "fraction"), Length: rapid.Float64Range(400, 1200).Draw(t, "length")}
		a, no := lawful(t, p, circle(o))
		if no != nil {
			t.Fatalf("refused: %v", no)
		}
		waist := 0.0
		for _, name := range []string{"skirt-front", "skirt-back"} {
			within(t, "waist of "+name, a.Pattern.Piece(name).SewnLength("waist"), p.Piece(name).SewnLength("waist"), exact)
			within(t, "side of "+name, length(a.Pattern, name, "side"), o.Length, exact)
			waist += 2 * p.Piece(name).SewnLength("waist")
		}
		within(t, "hem", hemOf(a.Pattern), waist+2*math.Pi*o.Fraction*o.Length, 1e-6)
		others(t, p, a.Pattern, "skirt-front", "skirt-back")
	})
}

// I. Rosenfeld, The Practical Designer, 1911, lesson 106: a child's one-piece
// skirt, waist 25½, hip 34 at a depth of 5 in. The half waist is 12¾ and the
// half hip 17; the circle that does both is (34 − 25½) ÷ (2π × 5) of a whole
// one. Lesson 73: waist 25, half waist 12½, no dart, then front 41, side 43,
// back 45. Tolerance 0.01 in.
func TestCircleSkirtRosenfeld(t *testing.T) {
	f := (34 - 25.5) / (2 * math.Pi * 5)
	child := strictly(t, notched(t), circle(Circle{Fraction: f, Length: 20 * inch, Waist: 25.5 * inch}))
	within(t, "half waist", sum(child.Pattern, pattern.Waist, "front", "back")/inch, 12.75, 0.01)
	hip := strictly(t, notched(t), circle(Circle{Fraction: f, Length: 5 * inch, Waist: 25.5 * inch}))
	within(t, "half hip at 5 in", sum(hip.Pattern, pattern.Hem, "front", "back")/inch, 17, 0.01)
	child = strictly(t, child.Pattern, level(HemLengths{20 * inch, 20.5 * inch, 21 * inch}))
	within(t, "child's back", legLength(child.Pattern, "back", pattern.CentreBack)/inch, 21, 1e-6)

	q := strictly(t, skirtOf(t, 25*inch, 43*inch, 0.5), level(HemLengths{41 * inch, 43 * inch, 45 * inch})).Pattern
	within(t, "half waist", sum(q, pattern.Waist, "front", "back")/inch, 12.5, 0.01)
	within(t, "sweep", (legLength(q, "back", pattern.CentreBack)-legLength(q, "front", pattern.CentreFront))/inch, 4, 1e-6)
	if n := len(q.Piece("front").Darts) + len(q.Piece("back").Darts); n != 0 {
		t.Errorf("%d darts are left", n)
	}
}

// L. I. Baldt, Clothing for Women, 1916, a circular foundation skirt: bottom
// line on the half = half the width asked for; for a width of 108 in, 54 in, and
// for hip 40 the hip line on the half 20. The ring of waist and hem has the hip
// where the girth grows to 40. Tolerance 0.01 in. The letters of the book's
// figure are not followed: the drawing was not seen.
func TestCircleSkirtBaldt(t *testing.T) {
	const waist, hip, bottom, long = 28.0, 40.0, 108.0, 40.0
	q := strictly(t, notched(t), circle(Circle{Hem: bottom * inch, Length: long * inch, Waist: waist * inch})).Pattern
	within(t, "bottom line", sum(q, pattern.Hem, "front", "back")/inch, 54, 0.01)
	at := (hip - waist) * long / (bottom - waist)
	q = strictly(t, notched(t), circle(Circle{Fraction: (bottom - waist) / (2 * math.Pi * long), Length: at * inch, Waist: waist * inch})).Pattern
	within(t, "hip line", sum(q, pattern.Hem, "front", "back")/inch, 20, 0.01)
}

// notched is the straight skirt with notches on its long seams.
func notched(t failer) *pattern.Pattern {
	t.Helper()
	return after(t, straightSkirt(), func(p *pattern.Pattern) (*operation.Answer, error) {
		return PlaceNotches(p, NotchRule{LongerThan: 150, Clear: 10})
	})
}

// A five-gore skirt of 1914: waist 25 in, so 5 a gore; the front gore's hem is
// twice its waist, 10, and the other four share the rest, 17½ each: 80 in.
// Tolerance 0.01 in.
func TestGoresOf1914(t *testing.T) {
	p := straightSkirt()
	p = after(t, p, circle(Circle{Hem: 80 * inch, Length: 39 * inch, Waist: 25 * inch}))
	// One half from fold to fold, as the book draws it: the front piece alone.
	half := p.Clone()
	half.Pieces = half.Pieces[:1]
	half.Seams = nil
	half.Pieces[0].Edge(pattern.Side).Finish = pattern.Open
	half = after(t, half, circle(Circle{Hem: 80 * inch, Length: 39 * inch, Waist: 25 * inch}))
	q := strictly(t, half, gores(Gores{Piece: "front", Count: 3, HalfAtCentre: true, CentreHem: 5 * inch})).Pattern
	for name, want := range map[string][2]float64{"front": {2.5, 5}, "front-2": {5, 17.5}, "front-3": {5, 17.5}} {
		within(t, name+" waist", sum(q, pattern.Waist, name)/inch, want[0], 0.01)
		within(t, name+" hem", sum(q, pattern.Hem, name)/inch, want[1], 0.01)
	}
	within(t, "hem", hemOf(q)/inch, 80, 0.01)
	if q.Piece("front").Cut.Count != 1 || q.Piece("front-2").Cut != (pattern.Cut{Count: 2, Mirrored: true}) {
		t.Errorf("cut %v and %v", q.Piece("front").Cut, q.Piece("front-2").Cut)
	}
}

// Divided, a piece keeps its area, its waist and its hem, and all gores are
// equal at both.
func TestGoresKeep(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		piece := rapid.SampledFrom([]string{"skirt-front", "skirt-back"}).Draw(t, "piece")
		n := rapid.IntRange(2, 7).Draw(t, "gores")
		a, no := lawful(t, p, gores(Gores{Piece: piece, Count: n}))
		if no != nil {
			t.Fatalf("refused: %v", no)
		}
		q, whole := a.Pattern, 0.0
		for k := range n {
			name := piece
			if k > 0 {
				name = fmt.Sprintf("%s-%d", piece, k+1)
			}
			whole += area(q, name)
			within(t, "waist of "+name, length(q, name, "waist"), length(p, piece, "waist")/float64(n), laidOff)
			within(t, "hem of "+name, length(q, name, "hem"), length(p, piece, "hem")/float64(n), laidOff)
		}
		within(t, "area", whole, area(p, piece), 1e-6*area(p, piece))
		for _, s := range q.Seams {
			if strings.HasPrefix(s.Name, "gore") {
				within(t, s.Name, q.RunLength(s.A), q.RunLength(s.B), exact)
			}
		}
		others(t, p, q, piece)
	})
}

// A godet is a part of a circle: radius the height, angle the hem it adds over
// the height. Taken out again, it leaves everything as it was.
func TestGodetInAndOut(t *testing.T) {
	for _, p := range everyBody(t) {
		for _, seam := range []string{"skirt-side", "skirt-centre-front", "skirt-centre-back"} {
			for _, h := range []float64{100, 200, 260} {
				a := strictly(t, p, godet(Godet{Seam: seam, Height: h, Width: 0.8 * h}))
				g := a.Pattern.Piece("godet")
				n := 1.0
				if g.OnFold() {
					n = 2
				}
				within(t, "godet's hem", n*length(a.Pattern, "godet", "hem"), 0.8*h, 1e-6)
				within(t, "godet's side", length(a.Pattern, "godet", "left"), h, laidOff)
				within(t, "sector", n*area(a.Pattern, "godet"), 0.5*h*h*0.8, 1e-3)
				asItWas(t, "out again", done(t, a.Pattern, func(p *pattern.Pattern) (*operation.Answer, error) { return RemoveGodet(p, "godet") }).Pattern, p)
				wider := strictly(t, a.Pattern, func(p *pattern.Pattern) (*operation.Answer, error) {
					return ChangeGodet(p, "godet", Godet{Width: 1.2 * h})
				})
				within(t, "wider", n*length(wider.Pattern, "godet", "hem"), 1.2*h, 1e-6)
				higher := strictly(t, a.Pattern, func(p *pattern.Pattern) (*operation.Answer, error) {
					return ChangeGodet(p, "godet", Godet{Height: 1.2 * h})
				})
				within(t, "higher, at the same angle", n*length(higher.Pattern, "godet", "hem"), 0.8*1.2*h, 1e-6)
			}
		}
		moved := strictly(t, after(t, p, godet(Godet{Seam: "skirt-side", Height: 200, Width: 200})), func(p *pattern.Pattern) (*operation.Answer, error) {
			return ChangeGodet(p, "godet", Godet{Seam: "skirt-centre-back"})
		})
		if moved.Pattern.Piece("skirt-front").Edge("side.godet") != nil || !moved.Pattern.Piece("godet").OnFold() {
			t.Error("the godet was not moved")
		}
	}
}

// I. D. Conover, A Complete Course in Dressmaking, vol. 5, 1922: held at the
// hip, some 6 in below the waist, a gored skirt is spread below it by any
// amount: waist and hip stay, the hem grows by what every piece is given.
func TestYokeHoldsTheHip(t *testing.T) {
	for _, p := range everyBody(t) {
		plain := strictly(t, p, yoke(HipYoke{Depth: 6 * inch, Ratio: 1})).Pattern
		within(t, "hem", hemOf(plain), hemOf(p), exact)
		for _, gain := range []float64{20, 60} {
			q := strictly(t, p, yoke(HipYoke{Depth: 6 * inch, Ratio: 1, HemGain: gain, Slashes: 5})).Pattern
			within(t, "hem", hemOf(q), hemOf(p)+4*gain, 4*sweepTolerance)
			for _, name := range []string{"skirt-front", "skirt-back"} {
				within(t, "waist of "+name, length(q, "yoke-"+name, "waist"), length(p, name, "waist"), exact)
				within(t, "hip of "+name, length(q, name, "yoke"), length(q, "yoke-"+name, "yoke"), exact)
				within(t, "side of "+name, length(q, name, "side")+length(q, "yoke-"+name, "side"), length(p, name, "side"), laidOff)
			}
		}
		within(t, "area", area(plain, "skirt-front", "yoke-skirt-front"), area(p, "skirt-front"), 1e-6*area(p, "skirt-front"))
	}
}

// Waist darts are closed in the yoke, whether they end above its line, on it or
// below: it has none, its waist is what the darted one sewed to, and its lower
// edge the line on the skirt.
func TestYokeTakesDartsIn(t *testing.T) {
	p := straightSkirt()
	for _, depth := range []float64{90, 120, 160} {
		for _, q := range []*pattern.Pattern{p, turnedOver(p), onPaper(p, 0.6)} {
			a := strictly(t, q, yoke(HipYoke{Depth: depth, Ratio: 1}))
			for _, name := range []string{"front", "back"} {
				y := a.Pattern.Piece("yoke-" + name)
				if len(y.Darts) > 0 || len(a.Pattern.Piece(name).Darts) > 0 {
					t.Errorf("darts are left at %g mm", depth)
				}
				within(t, "waist", y.SewnLength("waist"), q.Piece(name).SewnLength("waist"), exact)
				within(t, "line", y.SewnLength("yoke"), a.Pattern.Piece(name).SewnLength("yoke"), exact)
			}
		}
	}
}

func TestOverskirtAndPeplum(t *testing.T) {
	p := dress(t)
	q := strictly(t, p, overskirt(Overskirt{Share: 0.5})).Pattern
	others(t, p, q)
	within(t, "overskirt's side", length(q, "overskirt-front", "side"), length(p, "skirt-front", "side")/2, 1)
	s := q.Seam("overskirt-waist")
	if s == nil || s.Kind != pattern.Basted {
		t.Fatal("the overskirt is not basted to the skirt")
	}
	within(t, "overskirt's waist", q.RunLength(s.A), q.RunLength(s.B), exact)
	strictly(t, q, circle(Circle{Fraction: 0.5})) // the under skirt is altered on its own

	q = strictly(t, p, peplum(Peplum{Depth: 120, Fraction: 0.5})).Pattern
	others(t, p, q)
	s = q.Seam("peplum")
	within(t, "basque's waist", q.RunLength(s.A), q.RunLength(s.B), exact)
	within(t, "basque round its hem", 2*sum(q, pattern.Hem, "peplum-front", "peplum-back"), 2*q.RunLength(s.B)+math.Pi*120, 1e-6)

	// Without a skirt the basque is joined to the bodice itself.
	bodice := p.Clone()
	bodice.Pieces = slices.DeleteFunc(bodice.Pieces, func(q pattern.Piece) bool { return q.Role == pattern.SkirtFront || q.Role == pattern.SkirtBack })
	bodice.Seams = slices.DeleteFunc(bodice.Seams, func(s pattern.Seam) bool { return strings.HasPrefix(s.Name, "skirt") || s.Name == "waist" })
	for _, name := range []string{"bodice-front", "bodice-back"} {
		bodice.Piece(name).Edge("waist").Finish = pattern.Faced
	}
	q = strictly(t, bodice, peplum(Peplum{Depth: 160, Fraction: 0.75})).Pattern
	if s = q.Seam("peplum"); s.Kind != pattern.Joined {
		t.Error("the basque is not joined to the bodice")
	}
	within(t, "basque's waist", q.RunLength(s.A), q.RunLength(s.B), exact)
	strictly(t, after(t, p, divide(Panel{AtArmscye: 110})), peplum(Peplum{Depth: 120, Fraction: 0.5}))
}

func TestSkirtsRefuse(t *testing.T) {
	p := dress(t)
	gathered := after(t, p, func(p *pattern.Pattern) (*operation.Answer, error) {
		return GatherBack(p, BackFullness{Zone: 100, Ratio: 2})
	})
	refusals{
		{"a circle with a waist of its own", p, circle(Circle{Fraction: 1, Waist: 700}), `the waist of piece "skirt-front" is sewn to something, which gives its length; leave the waist as it is`},
		{"a hem narrower than the waist", p, circle(Circle{Hem: 500}), `a hem of 500 mm is no wider than the waist, 765 mm; give the fraction of a circle, or a wider hem`},
		{"round and round", p, circle(Circle{Fraction: 6}), `piece "skirt-front" would go round its circle 1.52 times; divide it into gores first, or ask for a smaller part of a circle`},
		{"one gore", p, gores(Gores{Piece: "skirt-front", Count: 1}), `a piece is not divided into 1; ask for 2 to 40`},
		{"no such piece", p, gores(Gores{Piece: "cape", Count: 2}), `the pattern has no piece "cape"; its pieces are bodice-front, bodice-back, sleeve, skirt-front, skirt-back, facing-front, facing-back`},
		{"too wide at the centre", p, gores(Gores{Piece: "skirt-front", Count: 2, CentreHem: 400}), `a hem of 365 mm and a waist of 193 mm cannot be divided so; ask for fewer gores, or a narrower one at the centre`},
		{"gores through gathers", gathered, gores(Gores{Piece: "skirt-back", Count: 8}), `this would cut through the gathers "waist-gathers" on piece "skirt-back"; move the gathers first, or make this alteration before gathering`},
		{"no such seam", p, godet(Godet{Seam: "gusset", Height: 200, Width: 200}), `the pattern has no seam "gusset"; its seams are shoulder, side, sleeve-underarm, armscye, skirt-centre-front, skirt-side, skirt-centre-back, waist, facing-shoulder, facing-neckline`},
		{"not at the hem", p, godet(Godet{Seam: "shoulder", Height: 60, Width: 60}), `on one side the seam "shoulder" does not run to a hem; choose a seam that does`},
		{"higher than the seam", p, godet(Godet{Seam: "skirt-side", Height: 700, Width: 60}), `edge "side" of piece "skirt-front", 612 mm long, has no room for a godet of 700 mm; ask for a lower one`},
		{"blunt on the fold", p, godet(Godet{Seam: "skirt-centre-back", Height: 100, Width: 300}), `on the fold a godet of 100 mm height cannot be 300 mm wide: its point would be blunt; ask for 200 mm or less, or set it into another seam`},
		{"no godet", p, func(p *pattern.Pattern) (*operation.Answer, error) { return RemoveGodet(p, "godet") }, `the pattern has no godet "godet"; name a piece with the role godet`},
		{"a shallow yoke", p, yoke(HipYoke{Depth: 10, Ratio: 1}), `a yoke of 10 mm cannot be sewn; ask for 40 mm or more`},
		{"a yoke deeper than the skirt", p, yoke(HipYoke{Depth: 700, Ratio: 1}), `a yoke of 700 mm ends at a corner of piece "skirt-front", or below it; ask for another depth`},
		{"a narrower skirt below", p, yoke(HipYoke{Depth: 100, Ratio: 0.5}), `what hangs from a yoke is as wide as it, or wider; ask for a ratio of 1 or more and a gain of 0 or more`},
		{"a gathered waist", gathered, yoke(HipYoke{Depth: 100, Ratio: 1}), `the waist of piece "skirt-back" is gathered or pleated; cut the yoke before gathering it`},
		{"a longer overskirt", p, overskirt(Overskirt{Share: 1.5}), `an overskirt is as long as the skirt or shorter; give a share of more than 0 and at most 1`},
		{"an overskirt of nothing", p, overskirt(Overskirt{Share: 0.1}), `piece "overskirt-front" cannot be made 550 mm shorter at "centre-front": little more than its hip would be left, or less than its opening; shorten it by less`},
		{"a shallow basque", p, peplum(Peplum{Depth: 5, Fraction: 1}), `a basque of 5 mm depth and 1 of a circle cannot be cut; ask for 40 mm or more, and some part of a circle`},
	}.try(t)
}

// asItWas holds that the pieces have the lines, marks and seams that they had;
// a line may have joints more.
func asItWas(t failer, what string, got, want *pattern.Pattern) {
	t.Helper()
	within(t, what+": pieces", float64(len(got.Pieces)), float64(len(want.Pieces)), 0)
	within(t, what+": seams", float64(len(got.Seams)), float64(len(want.Seams)), 0)
	for _, piece := range want.Pieces {
		q := got.Piece(piece.Name)
		if q == nil || len(q.Edges) != len(piece.Edges) || len(q.Notches) != len(piece.Notches) {
			t.Errorf("%s: piece %s is not as it was", what, piece.Name)
			continue
		}
		within(t, what+": "+piece.Name, apart(&piece, q), 0, exact)
		for k, n := range piece.Notches {
			within(t, what+": notch "+n.Name+" of "+piece.Name, q.Notches[k].At, n.At, laidOff)
		}
	}
	for _, s := range want.Seams {
		if diff := cmp.Diff(&s, got.Seam(s.Name)); diff != "" {
			t.Errorf("%s: %s", what, diff)
		}
	}
}

// BenchmarkLengthsAndSkirts runs the operations on lengths and skirts on the
// stock dress.
func BenchmarkLengthsAndSkirts(b *testing.B) {
	p := dress(b)
	for _, c := range []struct {
		name string
		do   alteration
	}{
		{"across", lengthenAt(LengthCut{Piece: "skirt-front", Down: 0.667, By: 50, Blend: 150})},
		{"sleeve", lengthenSleeve(SleeveLength{By: 50, Blend: 150})},
		{"lower", lower(WaistDrop{BelowArmscye: 300})},
		{"pouch", pouch(Pouch{Piece: "bodice-front", Extra: 80, Zone: 0.6, Kind: pattern.Gathers})},
		{"train", train(Train{Back: 300})},
		{"circle", circle(Circle{Fraction: 0.5})},
		{"gores", gores(Gores{Piece: "skirt-back", Count: 3})},
		{"godet", godet(Godet{Seam: "skirt-side", Height: 250, Width: 250})},
		{"yoke", yoke(HipYoke{Depth: 150, Ratio: 1, HemGain: 60, Slashes: 5})},
		{"overskirt", overskirt(Overskirt{Share: 0.667})},
		{"peplum", peplum(Peplum{Depth: 120, Fraction: 0.5})},
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
