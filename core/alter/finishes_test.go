package alter

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
	"bygone.example/internal/stock"
)

func stand(o Stand) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return StandCollar(p, o) }
}

func flat(o Flat) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return FlatCollar(p, o) }
}

func facing(o Facing) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return AddFacing(p, o) }
}

func placket(o PlacketStrip) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return Placket(p, o) }
}

func waistband(o Band) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return Waistband(p, o) }
}

func bind(o BiasBinding) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return Bind(p, o) }
}

func lined(o Lining) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return Line(p, o) }
}

// onRoles are the edges at which the house's linings are sewn in.
var onRoles = []string{pattern.Neckline, pattern.Armscye, pattern.Waist, pattern.Cap}

// finishes are the operations at the house's numbers, those that a dress takes.
var finishes = []struct {
	name string
	do   alteration
}{
	{"stand collar", stand(Stand{Height: 29, Spring: 12})},
	{"stand collar over the facing", stand(Stand{Height: 60, Spring: 20, KeepFacing: true})},
	{"collar that stands away", stand(Stand{Height: 40, Spring: -15})},
	{"flat collar", flat(Flat{Width: 60, Overlap: 0.25, KeepFacing: true})},
	{"flat collar without roll", flat(Flat{Width: 45})},
	{"neck facing", facing(Facing{Edge: pattern.Neckline, Width: 40})},
	{"hem facing", facing(Facing{Edge: pattern.Hem, Width: 92})},
	{"placket", placket(PlacketStrip{Finished: inch, Seam: inch / 4, End: inch / 2})},
	{"waistband between", waistband(Band{Finished: 16, Layers: 1, Seam: inch / 4, End: inch / 2})},
	{"neck binding", bind(BiasBinding{Edge: pattern.Neckline, Finished: 6, Seam: 6, Cloth: 900})},
	{"hem binding", bind(BiasBinding{Edge: pattern.Hem, Finished: inch, Seam: inch / 4, Cloth: 900})},
	{"lining", lined(Lining{Join: onRoles, HemShorter: 20})},
	{"lining of the bodice", lined(Lining{Pieces: []string{"bodice-front", "bodice-back"}, Join: onRoles})},
	{"loose lining of the skirt", lined(Lining{Pieces: []string{"skirt-front", "skirt-back"}, HemShorter: 30})},
	{"interlining", lined(Lining{Inter: true})},
}

// Every finish on every body, straight and turned over, adds no fault and no
// warning, and its seams measure the same on both sides.
func TestFinishesBodies(t *testing.T) {
	cases := 0
	for _, p := range everyBody(t) {
		for _, f := range finishes {
			q := strictly(t, p, f.do).Pattern
			newSeamsMeet(t, f.name, p, q)
			outersKept(t, f.name, p, q)
			cases++
			if t.Failed() {
				t.Fatalf("with %s", f.name)
			}
		}
	}
	t.Logf("%d cases", cases)
}

// The finishes go onto the dress as the house's chain leaves it after any of
// its steps, too.
func TestFinishesInTheChain(t *testing.T) {
	p := dress(t)
	did := 0
	for _, step := range job {
		p = after(t, p, step.do)
		for _, f := range finishes {
			a, no := lawful(t, p, f.do)
			if no != nil {
				continue
			}
			did++
			noNewWarning(t, p, a)
			newSeamsMeet(t, f.name, p, a.Pattern)
			if t.Failed() {
				t.Fatalf("%s after %s", f.name, step.name)
			}
		}
	}
	if want := len(job) * len(finishes) * 9 / 10; did < want {
		t.Errorf("%d finishes could be put on, want %d or more", did, want)
	}
	t.Logf("%d of %d", did, len(job)*len(finishes))
}

// One finish after another: each finds what the one before left.
func TestFinishesTogether(t *testing.T) {
	p := dress(t)
	for _, f := range []alteration{
		lined(Lining{Join: onRoles, HemShorter: 20}),
		lined(Lining{Inter: true, Pieces: []string{"bodice-front", "bodice-back"}}),
		flat(Flat{Width: 60, Overlap: 0.25, KeepFacing: true}),
		placket(PlacketStrip{Finished: inch, Seam: inch / 4, End: inch / 2}),
		waistband(Band{Finished: 16, Layers: 1}),
		bind(BiasBinding{Edge: pattern.Hem, Finished: 6, Seam: 6, Cloth: 900}),
	} {
		a := strictly(t, p, f)
		newSeamsMeet(t, "", p, a.Pattern)
		p = a.Pattern
	}
}

func TestFinishesKeep(t *testing.T) {
	did := 0
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		length := func(name string, from, to float64) float64 { return rapid.Float64Range(from, to).Draw(t, name) }
		var do alteration
		switch rapid.IntRange(0, 5).Draw(t, "finish") {
		case 0:
			do = stand(Stand{Height: length("height", 5, 90), Spring: length("spring", -40, 60), KeepFacing: rapid.Bool().Draw(t, "keep")})
		case 1:
			do = flat(Flat{Width: length("width", 5, 120), Overlap: length("overlap", 0, 0.6), KeepFacing: rapid.Bool().Draw(t, "keep")})
		case 2:
			do = facing(Facing{Edge: rapid.SampledFrom([]string{pattern.Neckline, pattern.Hem}).Draw(t, "edge"), Width: length("width", 5, 110)})
		case 3:
			do = waistband(Band{Finished: length("finished", 5, 80), Layers: 1})
		case 4:
			do = bind(BiasBinding{Edge: pattern.Hem, Finished: length("finished", 1, 40), Seam: 6, Cloth: length("cloth", 300, 1500)})
		case 5:
			do = lined(Lining{Join: onRoles, HemShorter: length("shorter", 0, 80), Inter: rapid.Bool().Draw(t, "inter")})
		}
		a, no := lawful(t, p, do)
		if no != nil {
			return
		}
		did++
		newSeamsMeet(t, "", p, a.Pattern)
		outersKept(t, "", p, a.Pattern)
	})
	if did < 60 {
		t.Errorf("only %d of the cases were done", did)
	}
}

// newSeamsMeet holds that both sides of every seam that p did not have measure
// the same, but for ease that the outer's seam has as well.
func newSeamsMeet(t failer, what string, p, q *pattern.Pattern) {
	t.Helper()
	for _, s := range q.Seams {
		if p.Seam(s.Name) == nil && len(s.B) > 0 && s.Meeting.Kind != pattern.Eased {
			within(t, what+": seam "+s.Name, q.RunLength(s.B), q.RunLength(s.A), exactSum)
		}
	}
}

// exactSum is exact for the whole round of a garment: a dozen lengths are
// summed on one side and drawn at once on the other.
const exactSum = 1e-8

// outersKept holds that what was there has the line and the marks it had; it
// may have more notches, and another finish.
func outersKept(t failer, what string, p, q *pattern.Pattern) {
	t.Helper()
	for _, piece := range p.Pieces {
		if strings.HasPrefix(string(piece.Role), "facing") {
			continue // taken off, or drawn anew under its old name
		}
		now := q.Piece(piece.Name)
		if now == nil || now.Role != piece.Role {
			t.Fatalf("%s: piece %s is gone", what, piece.Name)
		}
		if apart(&piece, now) > exact || len(now.Darts) != len(piece.Darts) || now.Grain != piece.Grain {
			t.Errorf("%s: piece %s was altered", what, piece.Name)
		}
		for _, n := range piece.Notches {
			if !slices.ContainsFunc(now.Notches, func(m pattern.Notch) bool {
				return m.Edge == n.Edge && math.Abs(m.At-n.At) < laidOff && m.Count == n.Count
			}) {
				t.Errorf("%s: notch %s of %s is gone", what, n.Name, piece.Name)
			}
		}
	}
}

func changeOf(t failer, a *operation.Answer, what string) operation.Change {
	t.Helper()
	for _, c := range a.Changes {
		if c.What == what {
			return c
		}
	}
	t.Fatalf("no change %q in %+v", what, a.Changes)
	return operation.Change{}
}

// A stand collar is as high as asked all along, square at the fold and at its
// end, and risen by the spring.
func TestStandCollarShape(t *testing.T) {
	for _, p := range everyBody(t) {
		for _, o := range []Stand{{Height: 29, Spring: 12}, {Height: 60, Spring: 30}, {Height: 40, Spring: -15}, {Height: 38}} {
			a := strictly(t, p, stand(o))
			c := a.Pattern.Piece("collar")
			neck, outer := c.Edge(pattern.Neckline).Path, c.Edge("outer").Path
			for k := range 21 {
				_, d := outer.Nearest(neck.At(neck.Length() * float64(k) / 20))
				within(t, "height", d, o.Height, 1e-6) // the arcs are drawn in cubics
			}
			// The back runs straight: the spring is how far the front end has left its line.
			within(t, "spring", neck.StartDirection().Cross(neck.End().Sub(neck.Start())), o.Spring, 1e-6)
			for i, e := range c.Edges {
				next := c.Edges[(i+1)%len(c.Edges)]
				within(t, "corner after "+e.Name, e.Path.EndDirection().Dot(next.Path.StartDirection()), 0, 1e-8)
			}
			if a.Pattern.Piece("facing-front") != nil {
				t.Error("the facing is still there")
			}
		}
	}
}

// Where the dress opens in front, the collar lies on the fold behind.
func TestStandCollarFold(t *testing.T) {
	blouse, err := stock.Blouse()
	if err != nil {
		t.Fatal(err)
	}
	a := done(t, blouse, stand(Stand{Height: 29, Spring: 12}))
	if f := a.Pattern.Piece("collar").Edge(pattern.CentreBack).Finish; f != pattern.Fold {
		t.Errorf("the centre back of the blouse's collar is finished as %q", f)
	}
	a = done(t, dress(t), stand(Stand{Height: 29, Spring: 12}))
	if f := a.Pattern.Piece("collar").Edge(pattern.CentreFront).Finish; f != pattern.Fold {
		t.Errorf("the centre front of the dress's collar is finished as %q", f)
	}
}

// The more the shoulders overlap, the shorter the outer edge becomes, and the
// more the collar rolls; the width stays.
func TestFlatCollarRolls(t *testing.T) {
	for _, p := range everyBody(t) {
		last := math.Inf(1)
		for _, overlap := range []float64{0, 0.125, 0.25, 0.4} {
			a := strictly(t, p, flat(Flat{Width: 60, Overlap: overlap, KeepFacing: true}))
			c := a.Pattern.Piece("collar")
			long := c.Edge("outer").Path.Length()
			if long >= last-1 {
				t.Errorf("overlapping by %g the outer edge measures %g, after %g with less", overlap, long, last)
			}
			last = long
			neck := c.Edge(pattern.Neckline).Path
			for k := range 9 {
				_, d := c.Edge("outer").Path.Nearest(neck.At(neck.Length() * float64(k+1) / 10))
				within(t, "width", d, 60, 1.5) // a curve drawn through points laid off
			}
		}
	}
}

// A facing kept with a collar is basted onto the neckline, which the collar
// is sewn to.
func TestCollarKeepsFacing(t *testing.T) {
	q := done(t, dress(t), flat(Flat{Width: 60, Overlap: 0.25, KeepFacing: true})).Pattern
	if s := q.Seam("facing-neckline"); s == nil || s.Kind != pattern.Basted || !s.A.Has("facing-front", pattern.Neckline) {
		t.Errorf("the facing's seam is %+v", s)
	}
	if s := q.Seam("collar"); s == nil || !s.A.Has("bodice-back", pattern.Neckline) {
		t.Errorf("the collar's seam is %+v", s)
	}
}

// The facing's inner edge runs the width from the edge, square to shoulder and
// centre.
func TestFacingShape(t *testing.T) {
	for _, p := range everyBody(t) {
		for _, o := range []Facing{{Edge: pattern.Neckline, Width: 40}, {Edge: pattern.Hem, Width: 92}} {
			q := strictly(t, p, facing(o)).Pattern
			for _, f := range q.Pieces {
				if f.Edge("inner") == nil {
					continue
				}
				edge, inner := f.Edge(o.Edge).Path, f.Edge("inner").Path
				for k := range 9 {
					_, d := edge.Nearest(inner.At(inner.Length() * float64(k+1) / 10))
					within(t, f.Name+" width", d, o.Width, 1.5)
				}
				for _, k := range []int{0, 1} { // into the inner edge, and out of it
					a, b := f.Edges[(3+k)%4].Path.EndDirection(), f.Edges[k].Path.StartDirection()
					within(t, f.Name+" corner", a.Dot(b), 0, 1e-8)
				}
			}
		}
	}
}

// Armscyes are faced and bound where no sleeve is set in, all round.
func TestArmscyeFinishes(t *testing.T) {
	for _, p := range everyBody(t) {
		p = sleeveless(p)
		a := strictly(t, p, facing(Facing{Edge: pattern.Armscye, Width: 40}))
		newSeamsMeet(t, "armscye", p, a.Pattern)
		if n := len(a.Pattern.Pieces) - len(p.Pieces); n != 2 {
			t.Errorf("%d facings", n)
		}
		b := strictly(t, p, bind(BiasBinding{Edge: pattern.Armscye, Finished: 6, Seam: 6, Cloth: 900}))
		newSeamsMeet(t, "armscye", p, b.Pattern)
		within(t, "binding", length(b.Pattern, "armscye-binding", "edge"), sum(p, pattern.Armscye, "bodice-front", "bodice-back"), exactSum)
		within(t, "both, with their ends", changeOf(t, b, "strip, cut length in all, without joins").After,
			2*sum(p, pattern.Armscye, "bodice-front", "bodice-back")+4*6, exactSum)
	}
}

func sleeveless(p *pattern.Pattern) *pattern.Pattern {
	p = p.Clone()
	p.Pieces = slices.DeleteFunc(p.Pieces, func(q pattern.Piece) bool { return q.Name == "sleeve" })
	p.Seams = slices.DeleteFunc(p.Seams, func(s pattern.Seam) bool { return s.Name == "armscye" || s.Name == "sleeve-underarm" })
	for _, name := range []string{"bodice-front", "bodice-back"} {
		p.Piece(name).Edge(pattern.Armscye).Finish = pattern.Hemmed
	}
	return p
}

// skirtOnly is the dress's skirt with a waist to be finished.
func skirtOnly(p *pattern.Pattern) *pattern.Pattern {
	p = p.Clone()
	p.Pieces = slices.DeleteFunc(p.Pieces, func(q pattern.Piece) bool { return !strings.HasPrefix(q.Name, "skirt") })
	p.Seams = slices.DeleteFunc(p.Seams, func(s pattern.Seam) bool { return !strings.HasPrefix(s.Name, "skirt") })
	for i := range p.Pieces {
		p.Pieces[i].Edge(pattern.Waist).Finish = pattern.Hemmed
	}
	return p
}

func TestWaistbandOnSkirt(t *testing.T) {
	for _, p := range everyBody(t) {
		for _, lap := range []float64{0, inch} {
			q := skirtOnly(p)
			a := strictly(t, q, waistband(Band{Finished: 38, Lap: lap, Layers: 2, Seam: inch / 4, End: inch / 2}))
			newSeamsMeet(t, "band", q, a.Pattern)
			b := a.Pattern.Piece("waistband")
			if (b.Edge("lap") != nil) != (lap > 0) {
				t.Error("the lap")
			}
			within(t, "band's area, half", b.Boundary().Area(), 76*(sum(q, pattern.Waist, "skirt-front", "skirt-back")+lap/2), 1e-5)
		}
	}
}

// The lining of a back on the fold has its ease in a pleat; it still sews to
// what its outer does.
func TestLiningEase(t *testing.T) {
	blouse, err := stock.Blouse()
	if err != nil {
		t.Fatal(err)
	}
	a := done(t, blouse, lined(Lining{Pieces: []string{"bodice-back"}, Join: onRoles, BackEase: 24, HemShorter: 20}))
	back := a.Pattern.Piece("lining-bodice-back")
	within(t, "neck, cut", length(a.Pattern, "lining-bodice-back", pattern.Neckline), length(blouse, "bodice-back", pattern.Neckline)+12, exact)
	within(t, "neck, sewn", back.SewnLength(pattern.Neckline), length(blouse, "bodice-back", pattern.Neckline), exact)
	within(t, "side", length(a.Pattern, "lining-bodice-back", pattern.Side), length(blouse, "bodice-back", pattern.Side)-20, exact)
	if n := len(back.Pleats); n != 1 { // the hem hangs loose
		t.Errorf("%d pleats", n)
	}
}

// Linings are sewn among themselves as their outers are.
func TestLiningSeams(t *testing.T) {
	p := dress(t)
	q := done(t, p, lined(Lining{Join: onRoles, HemShorter: 20})).Pattern
	for _, name := range []string{"shoulder", "side", "armscye", "waist", "skirt-side", "skirt-centre-front", "sleeve-underarm"} {
		s := q.Seam("lining-" + name)
		if s == nil {
			t.Errorf("no seam lining-%s", name)
			continue
		}
		if was := p.Seam(name); len(s.A) != len(was.A) || len(s.B) != len(was.B) || s.Meeting != was.Meeting {
			t.Errorf("seam %s: %+v", s.Name, s)
		}
	}
	if s := q.Seam("lining-bodice-front-neckline"); s == nil || s.Kind != pattern.Basted || !s.B.Has("bodice-front", pattern.Neckline) {
		t.Errorf("the lining's neckline: %+v", s)
	}
}
