package alter

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
	"bygone.example/internal/stock"
)

func lengthen(by float64) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return LengthenSkirt(p, by) }
}

func sweep(circumference float64, slashes int) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) {
		return SetHem(p, HemSweep{Circumference: circumference, Slashes: slashes})
	}
}

func gather(zone, ratio float64) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) {
		return GatherBack(p, BackFullness{Zone: zone, Ratio: ratio})
	}
}

func TestLengthenSkirtKeeps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		by := rapid.Float64Range(-300, 600).Draw(t, "by")
		a, no := lawful(t, p, lengthen(by))
		if no != nil {
			return
		}
		for _, piece := range []string{"skirt-front", "skirt-back"} {
			for _, e := range p.Piece(piece).Edges {
				switch e.Is() {
				case pattern.Hem:
				case pattern.Waist:
					within(t, piece+" waist", length(a.Pattern, piece, e.Name), e.Path.Length(), exact)
				case pattern.CentreBack: // the opening above it stays
					if e.Finish != pattern.Open {
						within(t, piece+" centre", length(a.Pattern, piece, e.Name), e.Path.Length()+by, laidOff)
					}
				default:
					within(t, piece+" "+e.Name, length(a.Pattern, piece, e.Name), e.Path.Length()+by, laidOff)
				}
			}
		}
		others(t, p, a.Pattern, "skirt-front", "skirt-back")
	})
}

// Longer and shorter by the same is what it was: the edges run down straight.
func TestLengthenSkirtThereAndBack(t *testing.T) {
	p := dress(t)
	q := done(t, done(t, p, lengthen(200)).Pattern, lengthen(-200)).Pattern
	for _, piece := range []string{"skirt-front", "skirt-back"} {
		within(t, piece, apart(p.Piece(piece), q.Piece(piece)), 0, hemRedrawn)
	}
	zero := done(t, p, lengthen(0)).Pattern
	within(t, "by nothing", apart(p.Piece("skirt-front"), zero.Piece("skirt-front")), 0, hemRedrawn)
}

// hemRedrawn in mm is how near a hem comes to itself when it is drawn again
// between the same ends at the same angles, by another curve than it was.
const hemRedrawn = 0.5

func TestSetHemReaches(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		was := hemOf(p)
		want := was * rapid.Float64Range(0.6, 2.5).Draw(t, "times")
		a, no := lawful(t, p, sweep(want, rapid.IntRange(1, 10).Draw(t, "slashes")))
		if no != nil {
			return
		}
		within(t, "hem circumference", hemOf(a.Pattern), want, 4*sweepTolerance) // four gores
		for _, piece := range []string{"skirt-front", "skirt-back"} {
			for _, e := range p.Piece(piece).Edges {
				if e.Name != pattern.Hem {
					within(t, piece+" "+e.Name, length(a.Pattern, piece, e.Name), e.Path.Length(), exact)
				}
			}
		}
		others(t, p, a.Pattern, "skirt-front", "skirt-back")
	})
}

// The house chain's hem: 82 in round, to a hundredth of a millimetre.
func TestSetHemOfTheHouse(t *testing.T) {
	const hem, hundredth = 2083, 0.01
	q := done(t, after(t, dress(t), lengthen(380)), sweep(hem, 5)).Pattern
	t.Logf("off by %.5f mm", hemOf(q)-hem)
	within(t, "hem circumference", hemOf(q), hem, hundredth)
}

// A darted skirt is slashed beside its darts and keeps them.
func TestSetHemOfADartedSkirt(t *testing.T) {
	p := straightSkirt()
	for _, slashes := range []int{1, 2, 3, 5, 8} {
		a := done(t, p, sweep(1400, slashes))
		within(t, "hem", hemOf(a.Pattern), 1400, 4*sweepTolerance)
		for _, piece := range []string{"front", "back"} {
			was, _, _ := dartAngle(p.Piece(piece), "dart")
			angle, first, second := dartAngle(a.Pattern.Piece(piece), "dart")
			within(t, "dart", angle, was, exact)
			within(t, "legs", first, second, exact)
			within(t, "waist", length(a.Pattern, piece, "waist"), length(p, piece, "waist"), exact)
		}
	}
}

func TestSetHemRefuses(t *testing.T) {
	p := dress(t)
	blouse, err := stock.Blouse()
	if err != nil {
		t.Fatal(err)
	}
	bare := p.Clone()
	for _, piece := range []string{"skirt-front", "skirt-back"} {
		bare.Piece(piece).Edge("hem").Role = "edge"
	}
	refusals{
		{"no skirt", blouse, sweep(2000, 5), `the pattern has no skirt; give its pieces the roles skirt-front and skirt-back`},
		{"no hem", bare, sweep(2000, 5), `no skirt piece has a hem edge; give the lower edges the role hem`},
		{"no slash", p, sweep(2000, 0), `a skirt cannot be spread without a slash; ask for at least one a piece`},
		{"past a quarter circle", p, sweep(9000, 1), `spreading a slash of 607 mm on piece "skirt-front" by 1885 mm turns the paper too far; use more slashes, or ask for less`},
		{"nothing left", p, sweep(20, 3), `lapping a slash on piece "skirt-front" by 120 mm leaves nothing of the edge beside it; ask for less`},
		{"too short", p, lengthen(-500), `piece "skirt-front" cannot be shortened by 500 mm: little more than its hip would be left; shorten it by less`},
		{"none to lengthen", blouse, lengthen(50), `the pattern has no skirt; give its pieces the roles skirt-front and skirt-back`},
		{"none to gather", blouse, gather(150, 2), `the pattern has no piece with the role skirt-back; give the back of the skirt that role`},
		{"zone too wide", p, gather(500, 2), `a zone of 500 mm does not fit on a back waist of 189 mm a side; ask for a zone between 10 and 378 mm`},
		{"less than the zone", p, gather(150, 0.5), `a fullness ratio of 0.5 would stretch the cloth; ask for 1 or more`},
		{"gathered already", after(t, p, gather(150, 2)), gather(150, 2), `the waist of piece "skirt-back" has darts or fullness in it already; let them out or move them first`},
		{"darted", straightSkirt(), gather(150, 2), `the waist of piece "back" has darts or fullness in it already; let them out or move them first`},
	}.try(t)
}

func TestGatherBackKeeps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		zone := rapid.Float64Range(20, 300).Draw(t, "zone")
		ratio := rapid.Float64Range(1, 4).Draw(t, "ratio")
		a, no := lawful(t, p, gather(zone, ratio))
		if no != nil {
			return
		}
		old, now := p.Piece("skirt-back"), a.Pattern.Piece("skirt-back")
		add := zone / 2 * (ratio - 1)
		for _, e := range old.Edges {
			switch e.Name {
			case pattern.Hem:
				within(t, "hem", now.Edge(e.Name).Path.Length(), e.Path.Length()+add, laidOff)
			case pattern.Waist:
				within(t, "waist, cut", now.Edge(e.Name).Path.Length(), e.Path.Length()+add, exact)
				within(t, "waist, sewn", now.SewnLength(e.Name), e.Path.Length(), exact)
			default:
				within(t, e.Name, now.Edge(e.Name).Path.Length(), e.Path.Length(), exact)
			}
		}
		g := now.Gathers[0]
		within(t, "ratio", (g.To-g.From)/g.Length, ratio, exact)
		others(t, p, a.Pattern, "skirt-back")
	})
}

// The hem that GatherBack draws bulges nowhere: no point of it lies above the
// straight between its ends or more than its old depth and a half below.
func TestGatherBackHemIsPlain(t *testing.T) {
	p := after(t, dress(t), lengthen(380))
	depth := func(path geom.Path) (deep, high float64) {
		u := path.End().Sub(path.Start()).Unit()
		for k := range 65 {
			d := u.Cross(path.At(path.Length() * float64(k) / 64).Sub(path.Start()))
			deep, high = math.Max(deep, -d), math.Max(high, d)
		}
		return deep, high
	}
	was, _ := depth(p.Piece("skirt-back").Edge("hem").Path)
	q := done(t, p, gather(152, 2.5)).Pattern
	deep, high := depth(q.Piece("skirt-back").Edge("hem").Path)
	t.Logf("the hem is %.1f mm deep, was %.1f", deep, was)
	if high > 0.5 || deep > 2*was {
		t.Errorf("the hem rises %.1f and sinks %.1f mm, was %.1f deep", high, deep, was)
	}
	for _, f := range pairing.Check(q) {
		if f.Code == pairing.CornerKink || f.Code == pairing.CornerCentre {
			t.Errorf("%+v: %s", f.Place, f.Text)
		}
	}
}
