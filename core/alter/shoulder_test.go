package alter

import (
	"testing"

	"pgregory.net/rapid"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
	"bygone.example/internal/stock"
)

func shoulder(atNeck, atArm float64) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) {
		return MoveShoulder(p, ShoulderMove{AtNeck: atNeck, AtArm: atArm})
	}
}

// sumsKept is by how much in mm the totals of neckline and armscye may change
// when the shoulder seam moves.
const sumsKept = 0.05

func shoulderLaws(t failer, before, after *pattern.Pattern) {
	t.Helper()
	for _, role := range []string{pattern.Neckline, pattern.Armscye} {
		within(t, "front and back "+role, sum(after, role, "bodice-front", "bodice-back"), sum(before, role, "bodice-front", "bodice-back"), sumsKept)
	}
	within(t, "shoulder edges", length(after, "bodice-front", "shoulder"), length(after, "bodice-back", "shoulder"), exact)
	within(t, "facing shoulders", length(after, "facing-front", "shoulder"), length(after, "facing-back", "shoulder"), exact)
	within(t, "neckline of the facings", sum(after, pattern.Neckline, "facing-front", "facing-back"), sum(before, pattern.Neckline, "facing-front", "facing-back"), sumsKept)
	within(t, "area", area(after, "bodice-front", "bodice-back"), area(before, "bodice-front", "bodice-back"), clothTolerance)
	others(t, before, after, "bodice-front", "bodice-back", "facing-front", "facing-back")
}

// Moved by an inch, as the period's back wants it, the sums are kept.
func TestMoveShoulder25(t *testing.T) {
	p := dress(t)
	a := done(t, p, shoulder(25, 25))
	shoulderLaws(t, p, a.Pattern)
	within(t, "front neckline", length(a.Pattern, "bodice-front", "neckline"), length(p, "bodice-front", "neckline")+25, exact)
	within(t, "back armscye", length(a.Pattern, "bodice-back", "armscye"), length(p, "bodice-back", "armscye")-25, exact)
}

func TestMoveShoulderKeeps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		most := rapid.SampledFrom([]float64{0, 5, 60}).Draw(t, "most")
		sign := rapid.SampledFrom([]float64{1, -1}).Draw(t, "way")
		atNeck := sign * rapid.Float64Range(0, 0.7*most).Draw(t, "neck")
		atArm := sign * rapid.Float64Range(0, most).Draw(t, "arm")
		a, no := lawful(t, p, shoulder(atNeck, atArm))
		if no == nil {
			shoulderLaws(t, p, a.Pattern)
		}
	})
}

// thereAndBack in mm is how near an outline comes to what it was when a seam
// has been moved and moved back. A facing's outer end follows the garment's
// strip at a share of the shoulder's length, which the move has changed.
const (
	thereAndBack       = 1e-9
	facingThereAndBack = 0.15
)

func TestMoveShoulderThereAndBack(t *testing.T) {
	for _, b := range append(realBodies(t), stock.StockBody) {
		p := draftOf(t, b)
		a := done(t, done(t, p, shoulder(20, 25)).Pattern, shoulder(-20, -25))
		for piece, tol := range map[string]float64{
			"bodice-front": thereAndBack, "bodice-back": thereAndBack, "facing-front": facingThereAndBack, "facing-back": facingThereAndBack,
		} {
			within(t, piece, apart(p.Piece(piece), a.Pattern.Piece(piece)), 0, tol)
		}
	}
	p := dress(t)
	sameDrawing(t, "moved by nothing", done(t, p, shoulder(0, 0)).Pattern, p)
}

// C. Hecklinger, Handbook on Dress and Cloak Cutting, New York 1884, fig. 5:
// the back shoulder goes up 1/2 in at the armhole, and the front shoulder down
// 1/2 in; the seam's two sides stay equal. Within 1/8 in: he reads his drafts
// to the quarter.
func TestMoveShoulderHecklinger(t *testing.T) {
	const half, eighth = 12.7, 3.175
	p := dress(t)
	a := done(t, p, shoulder(0, -half))
	shoulderLaws(t, p, a.Pattern)
	end := func(p *pattern.Pattern, piece string) geom.Point { return p.Piece(piece).Landmark("shoulder-point").At }
	up := end(a.Pattern, "bodice-back").Y - end(p, "bodice-back").Y
	down := end(p, "bodice-front").Y - end(a.Pattern, "bodice-front").Y
	t.Logf("back up %.2f mm, front down %.2f mm", up, down)
	within(t, "back up at the armhole", up, half, eighth)
	within(t, "front down at the armhole", down, half, eighth)
	within(t, "back neck point", a.Pattern.Piece("bodice-back").Edge("shoulder").Path.End().Dist(p.Piece("bodice-back").Edge("shoulder").Path.End()), 0, exact)
}

// A seam that is eased stays eased, in proportion.
func TestMoveShoulderEased(t *testing.T) {
	p := dress(t)
	// The back's shoulder is let out 6 mm past the neck, as for the blades.
	q := p.Piece("bodice-back")
	s, n := q.Edge("shoulder"), q.Edge("neckline")
	neck := s.Path.End().Add(s.Path.EndDirection().Mul(6))
	s.Path[0].P1, n.Path[0].P0 = neck, neck
	ease := s.Path.Length() / length(p, "bodice-front", "shoulder")
	a, err := MoveShoulder(p, ShoulderMove{AtNeck: 15, AtArm: 20})
	if err != nil {
		t.Fatal(err)
	}
	within(t, "ease in proportion", length(a.Pattern, "bodice-back", "shoulder")/length(a.Pattern, "bodice-front", "shoulder"), ease, easeKept)
}

// easeKept is how near the ratio of two eased shoulders comes to what it was:
// the strip is drawn in along the old seam, and the new one runs aslant to it.
const easeKept = 0.002

func TestMoveShoulderRefuses(t *testing.T) {
	p := dress(t)
	darted := done(t, p, rotate(Rotation{Piece: "bodice-front", Dart: "bust-dart", Edge: "shoulder", At: 60, Share: 1})).Pattern
	bowed := p.Clone()
	q := bowed.Piece("bodice-back").Edge("shoulder")
	mid := q.Path.At(60).Add(q.Path.Direction(60).Right().Mul(4))
	q.Path = geom.Smooth([]geom.Point{q.Path.Start(), mid, q.Path.End()}, geom.Point{}, geom.Point{})
	headless := p.Clone()
	headless.Pieces = headless.Pieces[1:]
	headless.Seams = nil
	twice := p.Clone()
	twice.Piece("facing-back").Role = pattern.BodiceBack
	refusals{
		{"no front", headless, shoulder(5, 5), `the pattern has no piece with the role bodice-front; give the piece that is meant the role bodice-front`},
		{"two backs", twice, shoulder(5, 5), `the pattern has 2 pieces with the role bodice-back; keep the role on the one that is meant`},
		{"dart in it", darted, shoulder(5, 5), `the shoulder edge of piece "bodice-front" has a dart or fullness in it; turn the dart elsewhere or let the fullness out first`},
		{"curved", bowed, shoulder(5, 5), `the shoulder edge of piece "bodice-back" is curved by more than 1 mm; straighten it first`},
		{"both ways", p, shoulder(-5, 20), `the shoulder seam cannot move back at one end and forward at the other; move one end after the other`},
		{"too wide", p, shoulder(90, 20), `a strip of 90.0 mm is wider than the armscye or neckline of piece "bodice-back"; move the seam by less`},
		{"whole front", wholeFront(t), shoulder(5, 5), `the pattern has no piece with the role bodice-back; give the piece that is meant the role bodice-back`},
	}.try(t)
}

// Of a stranger's blouse, whose shoulders do not fit each other, the misfit is
// kept in proportion and the back's strip arrives drawn in by it.
func TestMoveShoulderOfTheBlouse(t *testing.T) {
	p, err := stock.Blouse()
	if err != nil {
		t.Fatal(err)
	}
	a, err := MoveShoulder(p, ShoulderMove{AtNeck: 8, AtArm: 12})
	if err != nil {
		t.Fatal(err)
	}
	if bad := a.Pattern.Validate(); len(bad) > 0 {
		t.Error(bad)
	}
	misfit := func(p *pattern.Pattern) float64 {
		return length(p, "bodice-front", "shoulder") / length(p, "bodice-back", "shoulder")
	}
	within(t, "misfit in proportion", misfit(a.Pattern), misfit(p), easeKept)
	within(t, "armscye", sum(a.Pattern, pattern.Armscye, "bodice-front", "bodice-back"), sum(p, pattern.Armscye, "bodice-front", "bodice-back"), stock.BlouseShoulderLong)
}
