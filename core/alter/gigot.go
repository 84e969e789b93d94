package alter

import (
	"fmt"
	"math"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Gigot says how a leg-of-mutton sleeve is cut.
type Gigot struct {
	// HeadRatio is the cut length of the head over the armscye.
	HeadRatio float64
	// Raise is how much higher in mm the top of the head is drawn.
	Raise float64
	// Elbow is how far down the seam under the arm the sleeve is close from, as a
	// share of it; 0 is where the elbow is.
	Elbow float64
	// Wrist is the finished girth of the hem, mm; 0 leaves it.
	Wrist float64
	// From and To bound the gathers at the head, as shares of it from the front.
	From, To float64
	Slashes  int // on either side
}

// MakeGigot makes a leg-of-mutton sleeve of the plain one: wide at the head and
// close from below the elbow to the wrist. The sleeve is slashed like a fan from
// the head to the seam under the arm above the elbow, spread and hinged there,
// and the head drawn higher; it is gathered into the armscye.
//
// Kept: the length of the two edges under the arm, but for the taking in to the
// wrist, which leaves them equal; what lies below the elbow; the corners at the
// head. The head's sewn length becomes exactly the armscye's. Changed: the head;
// the upper half of the seam, which swings outward. Degenerate: a head that is
// as wide as asked already, or a wrist wider than the hem, is refused.
func MakeGigot(p *pattern.Pattern, o Gigot) (*operation.Answer, error) {
	e := begin(p)
	a, err := e.arm()
	if err != nil {
		return nil, err
	}
	if err := a.plain("cut"); err != nil {
		return nil, err
	}
	head, hem, width := a.lines[a.cap].length(), a.lines[a.hem].length(), a.width()
	switch {
	case !(o.HeadRatio*a.armscye > head):
		return nil, refuse(fmt.Sprintf("a head of %g times the armscye is no wider than the %.0f mm it has", o.HeadRatio, head), "ask for more")
	case !gatherable(o.From, o.To):
		return nil, refuse(noStretch, noStretchInstead)
	case o.Slashes < 2:
		return nil, refuse("a fan needs at least two slashes a side", "ask for more")
	case !(o.Raise >= 0 && o.Wrist >= 0 && o.Elbow >= 0 && o.Elbow < 1):
		return nil, refuse("a gigot sleeve's lengths are not below 0, and the elbow is a share of the seam under the arm", "give the elbow as less than 1")
	case o.Wrist > hem:
		return nil, refuse(fmt.Sprintf("the hem of piece %q measures %.0f mm, less than the wrist's %.0f", a.Name, hem, o.Wrist), "ask for a closer wrist")
	}
	a.touched = true
	far := o.Elbow
	if far == 0 {
		onUp, _ := a.elbow()
		far = onUp / a.lines[a.up].length()
	}
	if o.Wrist > 0 && hem-o.Wrist > cutSliver {
		if err := a.takeInWrist(o.Wrist); err != nil {
			return nil, err
		}
	}
	middle, up := a.headAxis()
	f := fan{edge: a.cap, slashes: o.Slashes, near: nearestHinge * far, far: far}
	if err := a.fanTo(f, o.HeadRatio*a.armscye, func(c *arm) { c.bump(c.cap, up.Mul(o.Raise), 1) }); err != nil {
		return nil, err
	}
	widest := 0.0
	for _, i := range []int{a.up, a.down, a.cap} {
		for _, q := range a.lines[i].path().Flatten(sideTolerance) {
			widest = math.Max(widest, 2*math.Abs(q.Sub(middle).Cross(up)))
		}
	}
	e.changed("head, cut", a.Name, head, a.lines[a.cap].length(), "mm")
	e.changed("widest", a.Name, width, widest, "mm")
	if err := a.gatherHead(o.From, o.To); err != nil {
		return nil, err
	}
	if now := a.lines[a.hem].length(); o.Wrist > 0 && now < hem {
		e.changed("wrist", a.Name, hem, now, "mm")
		if now < handGirth {
			e.caution(fmt.Sprintf("a wrist of %.0f mm does not go over most hands: leave the seam open for a placket there", now))
		}
	}
	e.caution("a wide sleeve catches on door handles and stage furniture, and goes near candles and stoves: try it where it will be worn")
	return a.finish()
}

// nearestHinge is how near to the edge that opens like a fan the outermost slash
// is hinged, as a share of the way to the innermost.
const nearestHinge = 0.12

// takeInWrist brings the hem to the given length by taking in both edges under
// the arm, most at the hem and nothing at the head.
func (a *arm) takeInWrist(want float64) error {
	up, down := a.lines[a.up].length(), a.lines[a.down].length()
	by := (a.lines[a.hem].length() - want) / 2
	for range swellTries {
		c := a.copy()
		across := c.lines[c.hem].end().Sub(c.lines[c.hem].start()).Unit()
		c.shearSide(c.down, across.Mul(by))
		c.shearSide(c.up, across.Mul(-by))
		if err := c.evenSeams(up, down); err != nil {
			return err
		}
		c.squareHem()
		miss := c.lines[c.hem].length() - want
		if math.Abs(miss) <= toldTo {
			a.take(c)
			return nil
		}
		by += miss / 2
	}
	return refuse(fmt.Sprintf("the hem of piece %q cannot be taken in to %.0f mm", a.Name, want), "ask for a wider wrist")
}

// shearSide moves an edge under the arm by d at the hem, in proportion less
// towards the head, where it stays.
func (a *arm) shearSide(i int, d geom.Point) {
	l := a.lines[i]
	total := l.length()
	share := func(at float64) float64 {
		if i == a.up {
			return 1 - at/total
		}
		return at / total
	}
	start, end := l.start().Add(d.Mul(share(0))), l.end().Add(d.Mul(share(total)))
	shear := d.Mul((share(total) - share(0)) / total)
	path := l.path()
	a.lines[i] = l.reshaped(func(p geom.Point, at float64, _ geom.Point) geom.Point { return p.Add(d.Mul(share(at))) },
		path.StartDirection().Add(shear), path.EndDirection().Add(shear)).snapEnds(start, end)
}
