package alter

import (
	"testing"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// unfolded is the dress drawn out whole, left and right, opening behind or, turned
// about, in front.
func unfolded(t *testing.T, p *pattern.Pattern) *pattern.Pattern {
	t.Helper()
	return done(t, p, func(p *pattern.Pattern) (*operation.Answer, error) { return Unfold(p, "bodice-front") }).Pattern
}

// Finishes and collars go onto a pattern that is drawn out whole as they go onto
// half of it: their pieces are whole too, of twice the length, and lie on no fold.
func TestFinishesOnAWholePattern(t *testing.T) {
	half := dress(t)
	whole := unfolded(t, half)
	for _, c := range []struct {
		name   string
		do     alteration
		pieces []string // that have a fold in half a pattern, and their long edge
		edge   string
	}{
		{"stand collar", stand(Stand{Height: 35, Spring: 12}), []string{"collar"}, "neckline"},
		{"stand collar with laps", stand(Stand{Height: 35, Spring: 12, Lap: 18}), []string{"collar"}, "neckline"},
		{"flat collar", flat(Flat{Width: 65, Overlap: 0.25, KeepFacing: true}), []string{"collar"}, "neckline"},
		{"flat collar, facing off", flat(Flat{Width: 65, Overlap: 0.25}), []string{"collar"}, "neckline"},
		{"neck facing", facing(Facing{Edge: pattern.Neckline, Width: 60}), nil, ""},
		{"hem facing", facing(Facing{Edge: pattern.Hem, Width: 50}), nil, ""},
		{"neck binding", bind(BiasBinding{Edge: pattern.Neckline, Finished: 6, Seam: 6, Cloth: 900}), []string{"neckline-binding"}, "edge"},
		{"hem binding", bind(BiasBinding{Edge: pattern.Hem, Finished: 6, Seam: 6, Cloth: 900}), []string{"hem-binding"}, "edge"},
		{"waistband", waistband(Band{Finished: 30, Layers: 1, Seam: 10, End: 10}), []string{"waistband"}, "lower"},
		{"lining", lined(Lining{Join: onRoles, HemShorter: 20}), nil, ""},
		{"interlining", lined(Lining{Inter: true}), nil, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := done(t, half, c.do).Pattern
			answer, no := lawful(t, whole, c.do)
			if no != nil {
				t.Fatalf("refused: %v", no)
			}
			noNewWarning(t, whole, answer)
			b := answer.Pattern
			newSeamsMeet(t, c.name, whole, b)
			for _, name := range c.pieces {
				one, two := a.Piece(name), b.Piece(name)
				if two == nil {
					t.Fatalf("no piece %s: %v", name, b.Pieces[len(b.Pieces)-1].Name)
				}
				n := 1.0
				if one.OnFold() {
					n = 2
				}
				within(t, name+", long edge", two.Edge(c.edge).Path.Length(), n*one.Edge(c.edge).Path.Length(), 0.01)
				within(t, name+", area", areaOfPiece(two), n*areaOfPiece(one), 0.1*areaOfPiece(one)/100)
				if two.OnFold() {
					t.Errorf("%s lies on a fold", name)
				}
			}
		})
	}
}

// Drawn out whole a garment has two armscyes: both are faced, and both bound.
func TestArmscyesOfAWholePattern(t *testing.T) {
	half := sleeveless(dress(t))
	whole := unfolded(t, half)
	for name, c := range map[string]struct {
		do     alteration
		pieces int // besides those of half a pattern
	}{
		"facing":  {facing(Facing{Edge: pattern.Armscye, Width: 40}), 2},
		"binding": {bind(BiasBinding{Edge: pattern.Armscye, Finished: 6, Seam: 6, Cloth: 900}), 1},
	} {
		one := done(t, half, c.do).Pattern
		a, no := lawful(t, whole, c.do)
		if no != nil {
			t.Fatalf("%s refused: %v", name, no)
		}
		noNewWarning(t, whole, a)
		newSeamsMeet(t, name, whole, a.Pattern)
		added, was := len(a.Pattern.Pieces)-len(whole.Pieces), len(one.Pieces)-len(half.Pieces)
		if added != was+c.pieces {
			t.Errorf("%s: %d pieces, where half a pattern has %d", name, added, was)
		}
	}
}

// A waistband on a skirt drawn out whole is as long as the waist and its lap.
func TestWaistbandOfAWholeSkirt(t *testing.T) {
	half := skirtOnly(dress(t))
	whole := done(t, half, func(p *pattern.Pattern) (*operation.Answer, error) { return Unfold(p, "skirt-front") }).Pattern
	band := waistband(Band{Finished: 30, Lap: 30, Layers: 2, Seam: 6, End: 6})
	one, two := strictly(t, half, band).Pattern.Piece("waistband"), strictly(t, whole, band).Pattern.Piece("waistband")
	within(t, "sewn", two.Edge("waist").Path.Length(), 2*one.Edge("waist").Path.Length(), exactSum)
	within(t, "upper edge", two.Edge("upper").Path.Length(), 2*one.Edge("upper").Path.Length(), exactSum)
	if two.OnFold() {
		t.Error("the band lies on a fold")
	}
}

func areaOfPiece(p *pattern.Piece) float64 { return p.Boundary().Area() }

// A lap goes on beyond the opening: at both ends of half a collar's two halves, at
// one end alone where the collar is drawn whole. What is sewn stays as it is.
func TestStandCollarLap(t *testing.T) {
	half := dress(t)
	whole := unfolded(t, half)
	plain := Stand{Height: 35, Spring: 12}
	for _, c := range []struct {
		name string
		p    *pattern.Pattern
		one  bool
		laps int
	}{{"half", half, false, 1}, {"whole, both ends", whole, false, 2}, {"whole, one end", whole, true, 1}} {
		without := done(t, c.p, stand(plain)).Pattern.Piece("collar")
		o := plain
		o.Lap, o.LapOne = 18, c.one
		a := strictly(t, c.p, stand(o))
		with := a.Pattern.Piece("collar")
		within(t, c.name+", neck edge", with.Edge("neckline").Path.Length(), without.Edge("neckline").Path.Length(), exact)
		within(t, c.name+", outer edge", with.Edge("outer").Path.Length(), without.Edge("outer").Path.Length()+18*float64(c.laps), exact)
		within(t, c.name+", area", areaOfPiece(with), areaOfPiece(without)+18*35*float64(c.laps), 0.01)
		found := 0
		for _, e := range with.Edges {
			if e.Is() == "lap" {
				found++
				within(t, c.name+", lap", e.Path.Length(), 18, exact)
			}
		}
		if found != c.laps {
			t.Errorf("%s: %d laps, want %d", c.name, found, c.laps)
		}
	}
	refusals{
		{"one end of half", half, stand(Stand{Height: 35, Spring: 12, Lap: 18, LapOne: true}), `the two halves of this collar are cut alike, and so are their laps; unfold the pattern first, or ask for a lap at both ends`},
		{"less than nothing", half, stand(Stand{Height: 35, Lap: -1}), `a collar's lap is not less than nothing; ask for 0 mm or more`},
	}.try(t)
}
