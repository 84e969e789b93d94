package alter

import (
	"fmt"
	"math"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Narrowing says how far the side-back seam moves towards the centre back: mm
// along the waist, and mm up the armscye. Negative values widen the centre
// back again.
type Narrowing struct{ AtWaist, AtArmscye float64 }

// NarrowBack moves the side-back seam: what the centre back loses at waist and
// armscye the side back gains.
//
// Kept: centre back and side back together at waist and armscye; the two new
// seam edges are equal to 1e-9 mm. Between its ends the seam keeps its
// character; the shorter side is rounded out by the little that the longer one
// is more. Degenerate: a back that is not divided, or a move wider than the
// panel, is refused.
func NarrowBack(p *pattern.Pattern, o Narrowing) (*operation.Answer, error) {
	e := begin(p)
	centre, side, err := e.pair(pattern.BodiceBack, pattern.BodiceSideBack)
	if err != nil {
		return nil, err
	}
	c, err := centre.edgeOf(pattern.SideBack)
	if err != nil {
		return nil, err
	}
	s, err := side.edgeOf(pattern.SideBack)
	if err != nil {
		return nil, err
	}
	centre.touched, side.touched = true, true
	sums := map[string]float64{
		pattern.Waist:   e.sumOf(pattern.Waist, centre, side),
		pattern.Armscye: e.sumOf(pattern.Armscye, centre, side),
	}
	atWaist := lineOf(centre, pattern.Waist)
	// By which end of the seam each neighbour lies.
	for _, end := range []struct {
		role string
		move float64
	}{{pattern.Waist, o.AtWaist}, {pattern.Armscye, o.AtArmscye}} {
		if err := carryStrip(centre, c, side, s, end.role, end.move); err != nil {
			return nil, err
		}
	}
	centre.bendSeam(c)
	side.bendSeam(s)
	if err := equalise(centre, c, side, s); err != nil {
		return nil, err
	}
	for _, w := range []*work{centre, side} {
		w.heal()
		w.keepGrainInside()
	}
	e.changed("waist", centre.Name, atWaist, lineOf(centre, pattern.Waist), "mm")
	for _, role := range []string{pattern.Waist, pattern.Armscye} {
		e.changed("centre back and side back together, "+role, "", sums[role], e.sumOf(role, centre, side), "mm")
	}
	before := e.in.Piece(centre.Name).Edge(centre.Edges[c].Name).Path.Length()
	e.changed("side-back seam", "", before, centre.lines[c].length(), "mm")
	return e.finish()
}

// sumOf adds up the edges of a role over pieces as they are now.
func (e *edit) sumOf(role string, pieces ...*work) float64 {
	var sum float64
	for _, w := range pieces {
		for i, edge := range w.Edges {
			if edge.Is() == role {
				sum += w.lines[i].length()
			}
		}
	}
	return sum
}

func lineOf(w *work, role string) float64 {
	if i, err := w.edgeOf(role); err == nil {
		return w.lines[i].length()
	}
	return 0
}

// carryStrip cuts move mm off the neighbour of that role beside a's seam edge
// and sews it onto the neighbour of that role beside b's; a negative move goes
// the other way.
func carryStrip(a *work, ia int, b *work, ib int, role string, move float64) error {
	if move < 0 {
		a, ia, b, ib, move = b, ib, a, ia, -move
	}
	if move <= cutSliver {
		return nil
	}
	na, follows, err := neighbour(a, ia, role)
	if err != nil {
		return err
	}
	nb, _, err := neighbour(b, ib, role)
	if err != nil {
		return err
	}
	return layAcross(side{w: a, i: ia}, na, follows, side{w: b, i: ib}, nb, move)
}

// neighbour returns the edge of that role beside edge i, and whether it comes
// after it.
func neighbour(w *work, i int, role string) (n int, follows bool, err error) {
	if n = w.next(i); w.Edges[n].Is() == role {
		return n, true, nil
	}
	if n = w.prev(i); w.Edges[n].Is() == role {
		return n, false, nil
	}
	return 0, false, refuse(fmt.Sprintf("edge %q of piece %q does not end at the %s", w.Edges[i].Name, w.Name, role), "choose a seam that does")
}

// bendSeam brings the seam edge to where its neighbours now end: each point
// moves by what its ends move, in proportion to how near they are.
func (w *work) bendSeam(i int) {
	l := w.lines[i]
	start, end := w.lines[w.prev(i)].end(), w.lines[w.next(i)].start()
	d0, d1 := start.Sub(l.start()), end.Sub(l.end())
	if d0.Len() < cutSliver && d1.Len() < cutSliver {
		return
	}
	total := l.length()
	// What the move does to a tangent: it moves on by as much more or less.
	shear := d1.Sub(d0).Mul(1 / total)
	l = l.reshaped(func(p geom.Point, at float64, _ geom.Point) geom.Point {
		return p.Add(d0.Lerp(d1, at/total))
	}, l.path().StartDirection().Add(shear), l.path().EndDirection().Add(shear))
	w.lines[i] = l.snapEnds(start, end)
}

// roundLimit is the most in mm that a seam edge may be rounded out to match
// its mate: more would show as a change of shape.
const roundLimit = 12

// equalise rounds out the shorter of two seam edges until both are equal. The
// bulge is highest in the middle and leaves the ends' places and tangents.
func equalise(a *work, ia int, b *work, ib int) error {
	w, i := a, ia
	want := b.lines[ib].length()
	if a.lines[ia].length() > want {
		w, i, want = b, ib, a.lines[ia].length()
	}
	l := w.lines[i]
	if want-l.length() < equalTolerance {
		return nil
	}
	// Only the path is drawn while the bulge is looked for; where everything came
	// from is worked out once at the end.
	sampled, total := l.sampled(), l.length()
	startDir, endDir := l.path().StartDirection(), l.path().EndDirection()
	bulge := func(k float64) func(geom.Point, float64, geom.Point) geom.Point {
		return func(p geom.Point, at float64, left geom.Point) geom.Point {
			f := math.Sin(math.Pi * at / total)
			return p.Add(left.Mul(k * f * f))
		}
	}
	missing := func(k float64) float64 {
		return sampled.drawn(bulge(k), startDir, endDir).Length() - want
	}
	// Bulge to the side to which the edge already bows, where it grows sooner.
	sign := 1.0
	if missing(0.5) < missing(-0.5) {
		sign = -1
	}
	lo, hi := 0.0, sign*roundLimit
	short, over := missing(lo), missing(hi)
	if short > 0 { // drawing the edge anew made it longer than its mate already
		lo, hi, over = -sign, 0, short
		short = missing(lo)
	}
	if short > 0 || over < 0 {
		return refuse(fmt.Sprintf("the two sides of the seam would differ by %.1f mm", want-total), "move the seam by less")
	}
	w.lines[i] = l.reshaped(bulge(zero(missing, lo, short, hi, over)), startDir, endDir).snapEnds(l.start(), l.end())
	return nil
}

// zero returns where f, which is at most 0 at lo and at least 0 at hi, is 0: by
// false position, halving the side that stays (the Illinois rule).
func zero(f func(float64) float64, lo, flo, hi, fhi float64) float64 {
	const tries = 60
	for range tries {
		if fhi == flo {
			break
		}
		mid := hi - fhi*(hi-lo)/(fhi-flo)
		m := f(mid)
		if math.Abs(m) < equalTolerance/100 {
			return mid
		}
		if m*fhi < 0 {
			lo, flo = hi, fhi
		} else {
			flo /= 2
		}
		hi, fhi = mid, m
	}
	return hi
}

// equalTolerance is the difference in mm that two edges made equal may keep.
const equalTolerance = 1e-9
