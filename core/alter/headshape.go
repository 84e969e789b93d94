package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// HeadShape says how high and how wide a sleeve's head is to be.
type HeadShape struct {
	// Height is from the foot of the head to its top, mm; 0 keeps it, or takes it
	// from By.
	Height float64
	// By takes the height from the armscye; empty does not.
	By HeadRule
	// Width is the sleeve's at the foot of the head, mm; 0 is what it has and Wider.
	Width, Wider float64
}

// HeadRule is a rule of the trade for the height of a sleeve's head.
type HeadRule string

// The rules of C. Hecklinger, Handbook on Dress and Cloak Cutting, 1884.
const (
	QuarterScye HeadRule = "quarter" // fig. 9: a quarter of the armhole
	ThirdScye   HeadRule = "third"   // fig. 10: a third of the armhole less ½ in
)

// Height returns what the rule makes of an armscye, both in mm.
func (r HeadRule) Height(armscye float64) float64 {
	if r == ThirdScye {
		return armscye/3 - 12.7
	}
	return armscye / 4
}

// ShapeHead sets the height and the width of the sleeve's head. The foot of the
// head stays at its level; what the sleeve gains or loses in width is shared by
// the two edges under the arm, less and less towards the hem.
//
// Kept: the hem; the two edges under the arm equal; the corners between them and
// the head where the width changes; the sewn length of a head that is gathered.
// Changed: the head, and with it the ease that the seam of the armscye asks for,
// which is recorded. Degenerate: a head that would be shorter than the armscye
// is refused.
func ShapeHead(p *pattern.Pattern, o HeadShape) (*operation.Answer, error) {
	e := begin(p)
	a, err := e.arm()
	if err != nil {
		return nil, err
	}
	height, width := a.height(), a.width()
	to, wide := o.Height, o.Width
	switch o.By {
	case "":
	case QuarterScye, ThirdScye:
		if to == 0 {
			to = o.By.Height(a.armscye)
		}
	default:
		return nil, refuse(fmt.Sprintf("there is no rule %q for the height of a head", o.By), "use quarter or third")
	}
	if to == 0 {
		to = height
	}
	if wide == 0 {
		wide = width + o.Wider
	}
	switch {
	case !(to >= minSlash && wide >= 10*minSlash):
		return nil, refuse("a head needs a height and a width", "give both in mm, or 0 to keep one")
	case to > 3*height || to < height/3 || wide > 2*width || wide < width/2:
		return nil, refuse(fmt.Sprintf("a head of %.0f by %.0f mm cannot be made %.0f by %.0f by stretching its curve", height, width, to, wide), "change it less, or puff the sleeve")
	}
	for _, i := range []int{a.up, a.down} {
		if e.takesUp(a.work, a.Edges[i].Name) || slices.ContainsFunc(a.Darts, func(d pattern.Dart) bool { return d.Edge == a.Edges[i].Name }) {
			return nil, refuse(fmt.Sprintf("the %s of piece %q has a dart or fullness in it", a.Edges[i].Name, a.Name), "shape the head before bending the sleeve at the elbow")
		}
	}
	a.touched = true
	upWas, downWas := a.lines[a.up].length(), a.lines[a.down].length()
	a.scaleHead(wide/width, to/height)
	if wide != width {
		a.swingSide(a.up)
		a.swingSide(a.down)
		if err := a.evenSeams(upWas, downWas); err != nil {
			return nil, err
		}
	}
	e.changed("head, height", a.Name, height, to, "mm")
	e.changed("head, width at its foot", a.Name, width, wide, "mm")
	e.changed("head, cut", a.Name, a.in().Edge(a.Edges[a.cap].Name).Path.Length(), a.lines[a.cap].length(), "mm")
	if a.gatheredHead() {
		return a.orFinish(a.regatherHead())
	}
	return a.orFinish(a.easeHead())
}

// scaleHead stretches the head by the given factors along its foot and up from
// it; with the foot, its corners turn as the edges under the arm do when they
// are bent to it.
func (a *arm) scaleHead(along, up float64) {
	middle, axis := a.headAxis()
	m := geom.ScaleAlong(middle, axis, up).After(geom.ScaleAlong(middle, axis.Left(), along))
	l := a.lines[a.cap]
	path := l.path()
	for i := range a.Landmarks { // those on the head go with it
		if mark := &a.Landmarks[i]; axis.Dot(mark.At.Sub(middle)) > -sideTolerance && !a.beyond(mark.At) {
			mark.At = m.Apply(mark.At)
		}
	}
	if along == 1 {
		a.lines[a.cap] = l.transform(m).snapEnds(l.start(), l.end())
		return
	}
	// The edges under the arm lean as swingSide will have them.
	move := axis.Left().Mul(-a.width() * (along - 1) / 2)
	lean := func(i int, dir, of geom.Point) geom.Point {
		return geom.Rotation(geom.Point{}, geom.Turn(of, of.Add(move.Mul(2/a.lines[i].length())))).Apply(dir)
	}
	a.lines[a.cap] = l.reshaped(func(p geom.Point, _ float64, _ geom.Point) geom.Point { return m.Apply(p) },
		lean(a.up, path.StartDirection(), a.lines[a.up].path().EndDirection()),
		lean(a.down, path.EndDirection(), a.lines[a.down].path().StartDirection()),
	).snapEnds(m.Apply(l.start()), m.Apply(l.end()))
}

// raiseHead makes a head higher or lower until its line measures long mm: its
// ends stay, and so do its directions there, or come to be true. Landmarks on
// it go with it. It reports whether half to twice the height will do.
func (w *work) raiseHead(e *edit, cap int, long float64) bool {
	l := w.lines[cap]
	if startDir, endDir, turned := w.truedUnderarm(e, cap); turned {
		same := func(q geom.Point, _ float64, _ geom.Point) geom.Point { return q }
		l = l.reshaped(same, startDir, endDir).snapEnds(l.start(), l.end())
	} else if math.Abs(l.length()-long) < equalTolerance {
		return true
	}
	r := headRaise{foot: l.start(), up: l.end().Sub(l.start()).Unit().Right()}
	for _, q := range l.path().Flatten(heightTolerance) {
		r.height = math.Max(r.height, r.above(q))
	}
	knots := l.finely(headKnots)
	raised := func(by float64) line {
		r.by = by
		return knots.mapped(r.place, r.direction)
	}
	miss := func(by float64) float64 { return raised(by).length() - long }
	const lo, hi = -0.5, 1
	short, over := miss(lo), miss(hi)
	if short > 0 || over < 0 || r.height < minSlash {
		return false
	}
	w.touched = true
	w.lines[cap] = raised(zero(miss, lo, short, hi, over)).snapEnds(l.start(), l.end())
	path := w.lines[cap].path()
	for n := range w.Landmarks {
		mark := &w.Landmarks[n]
		if _, off := l.path().Nearest(mark.At); off <= sideTolerance {
			at, _ := path.Nearest(r.place(mark.At))
			mark.At = path.At(at)
		}
	}
	return true
}

// headKnots is how closely in mm a head is followed to be raised: as closely as
// a cutter sets points for a curve.
const headKnots = 20

// headRaise maps a head to a higher or lower one. What lies on the foot stays,
// and goes on in the direction it had; from there up, it is stretched more and
// more, so that the head curves as it did and bends where it did.
type headRaise struct {
	foot, up geom.Point
	height   float64 // mm
	by       float64 // what the height grows by, as a share of it
}

func (r headRaise) above(p geom.Point) float64 { return p.Sub(r.foot).Dot(r.up) }

func (r headRaise) place(p geom.Point) geom.Point {
	y := r.above(p)
	return p.Add(r.up.Mul(r.by * y * y / r.height))
}

// direction is where a step v from p leads.
func (r headRaise) direction(p, v geom.Point) geom.Point {
	return v.Add(r.up.Mul(2 * r.by * r.above(p) / r.height * v.Dot(r.up)))
}

// truedUnderarm returns the directions in which a head is to leave its ends:
// its own, or where the two edges beside it are sewn together and its line
// kinks there by more than trueFrom, both turned alike until it runs on.
func (w *work) truedUnderarm(e *edit, cap int) (startDir, endDir geom.Point, turned bool) {
	path, up, down := w.lines[cap].path(), w.prev(cap), w.next(cap)
	startDir, endDir = path.StartDirection(), path.EndDirection()
	for _, s := range e.seams {
		if !(s.A.Has(w.Name, w.Edges[up].Name) && s.B.Has(w.Name, w.Edges[down].Name) || s.B.Has(w.Name, w.Edges[up].Name) && s.A.Has(w.Name, w.Edges[down].Name)) {
			continue
		}
		// What the corners inside the piece add up to beyond a straight line.
		kink := math.Pi - geom.Turn(w.lines[up].path().EndDirection(), startDir) - geom.Turn(endDir, w.lines[down].path().StartDirection())
		if math.Abs(kink) > trueFrom {
			half := geom.Rotation(geom.Point{}, kink/2)
			back, _ := half.Inverse() // rigid: always there
			return half.Apply(startDir), back.Apply(endDir), true
		}
	}
	return startDir, endDir, false
}

// swingSide brings an edge under the arm to the foot of the head that was moved:
// by the square of the way up from the hem, which leaves its direction there.
func (a *arm) swingSide(i int) {
	l := a.lines[i]
	total, path := l.length(), l.path()
	start, end := l.start(), a.lines[a.cap].start()
	d, startDir, endDir := end.Sub(l.end()), path.StartDirection(), path.EndDirection()
	if i == a.down {
		start, end = a.lines[a.cap].end(), l.end()
		d = start.Sub(l.start())
		startDir = startDir.Add(d.Mul(-2 / total))
	} else {
		endDir = endDir.Add(d.Mul(2 / total))
	}
	a.lines[i] = l.reshaped(func(p geom.Point, at float64, _ geom.Point) geom.Point {
		up := at / total
		if i == a.down {
			up = 1 - up
		}
		return p.Add(d.Mul(up * up))
	}, startDir, endDir).snapEnds(start, end)
}

// regatherHead lets the gathers of a head that was drawn anew take up what it
// gained, so that it sews to what it did before.
func (a *arm) regatherHead() error {
	edge := a.Edges[a.cap].Name
	grown := a.lines[a.cap].length() - a.in().Edge(edge).Path.Length()
	for i := range a.Gathers {
		g := &a.Gathers[i]
		if g.Edge != edge {
			continue
		}
		from, to := a.lines[a.cap].spanOf(a.Name, edge, g.From, g.To)
		outside := grown - ((to - from) - (g.To - g.From))
		if g.Length -= outside; g.Length < minGathered || g.Length > to-from {
			return refuse(fmt.Sprintf("the gathers of the head would have to measure %.0f mm, and lie on %.0f", g.Length, to-from), "puff the sleeve more, or less")
		}
		return nil
	}
	return nil
}
