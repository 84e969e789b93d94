package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Capping says which dart is capped.
type Capping struct {
	Piece, Dart string
	// Press is the way the dart will be folded. Empty keeps what the dart says; if
	// that is nothing either, it goes towards the centre, else downwards.
	Press pattern.Pressed
}

const (
	// trueReach is how far in mm on either side of a dart its edge is drawn anew
	// to true it, where there is room: a hand's breadth between both, as a cutter
	// redraws it. Common practice.
	trueReach = 60
	// trueWithin is the kink in radians below which a folded edge is true: half a
	// degree is less than a pencil line shows.
	trueWithin = 0.5 * math.Pi / 180
	// trueFrom is the kink in radians from which an operation that changes a dart's
	// angle trues its mouth unasked: half of what the pairing check lets pass.
	trueFrom = 4 * math.Pi / 180
	// minTrue is the least edge in mm beside a dart that can be trued.
	minTrue = 4
	// trueTravel is the most in mm that the feet of a dart may move along its legs.
	trueTravel = 25
)

// CapDart trues a dart's mouth and gives it the shape the cloth must have to be
// caught in the seam when the dart is folded: the edge is redrawn on both sides
// so that it runs on in one sweep over the closed dart, and the mouth's path
// becomes the folded edge laid open again.
//
// Kept: the dart's angle and point, equal legs, the edge's sewn length, exactly.
// Changed: both legs by the same amount, where the edge was not true; the
// mouth's path. Units: mm. Where the edge ends before the fold of a wide dart
// does, the mouth runs straight on past the corner.
//
// Degenerate: a dart with unequal legs, or too near a corner or another dart for
// its edge to be redrawn, is refused.
func CapDart(p *pattern.Pattern, c Capping) (*operation.Answer, error) {
	e := begin(p)
	w, d, err := e.dart(c.Piece, c.Dart)
	if err != nil {
		return nil, err
	}
	press := c.Press
	if press == "" {
		press = d.Pressed
	}
	if press == "" {
		press = w.pressing(d)
	}
	if press != pattern.PressedToStart && press != pattern.PressedToEnd {
		return nil, refuse(fmt.Sprintf("a dart is pressed to the start or the end of its edge, not %q", press), "say start or end")
	}
	if err := e.redrawMouth(w, d, press); err != nil {
		return nil, err
	}
	return e.finish()
}

// trued is what an operation ends with that has changed a dart's angle: the
// mouth is trued where it now kinks by more than trueFrom.
func trued(a *operation.Answer, piece, dart string) (*operation.Answer, error) {
	return then(a, func(p *pattern.Pattern) (*operation.Answer, error) {
		e := begin(p)
		w, d, i, err := e.dartOn(piece, dart)
		if err != nil {
			return nil, err
		}
		if kink, ok := w.lines[i].kinkAt(d); ok && math.Abs(kink) > trueFrom {
			if err := e.redrawMouth(w, d, ""); err != nil {
				return nil, err
			}
		}
		return e.finish()
	})
}

// pressing is the way a dart is pressed if nobody says: a waist dart towards the
// centre, any other downwards along the grain. Common practice.
func (w *work) pressing(d *pattern.Dart) pattern.Pressed {
	i := w.EdgeIndex(d.Edge)
	centre := func(k int) bool {
		is := w.Edges[k].Is()
		return is == pattern.CentreFront || is == pattern.CentreBack || w.Edges[k].Finish == pattern.Fold
	}
	switch {
	case centre(w.prev(i)):
		return pattern.PressedToStart
	case centre(w.next(i)):
		return pattern.PressedToEnd
	}
	up := geom.Pt(0, 1)
	if w.Grain.Given() {
		up = w.Grain.To.Sub(w.Grain.From)
	}
	if w.lines[i].end().Sub(w.lines[i].start()).Dot(up) > 0 {
		return pattern.PressedToStart
	}
	return pattern.PressedToEnd
}

// kinkAt returns by how much in radians the line turns, beyond running on,
// where the dart in it is folded shut; ok is false where the mouth reaches an
// end of the line.
func (l line) kinkAt(d *pattern.Dart) (kink float64, ok bool) {
	from, to := l.joint(d.From), l.joint(d.To)
	before, rest := l.path().Split(from)
	_, after := rest.Split(to - from)
	if len(before) == 0 || len(after) == 0 || before.Length() < cutSliver || after.Length() < cutSliver {
		return 0, false
	}
	shut := geom.Turn(after.Start().Sub(d.Point), before.End().Sub(d.Point))
	return geom.Turn(before.EndDirection(), geom.Rotation(geom.Point{}, shut).Apply(after.StartDirection())), true
}

// trueReaches are the lengths in mm of edge beside a dart that are tried, one
// after the other, to true it.
var trueReaches = []float64{trueReach, trueReach / 2, 2 * trueReach, trueReach / 4}

// joint returns the place itself, or the joint of two segments that it was meant to
// lie on: a place and coordinates that a file has rounded part by a hair, and the
// stub between them points anywhere.
func (l line) joint(at float64) float64 {
	done := 0.0
	for _, s := range l {
		done += s.seg.Length()
		if math.Abs(done-at) <= fileHair {
			return done
		}
	}
	return at
}

// fileHair is by how much in mm a place along an edge may have moved against the
// edge's own joints in a file of six decimals: the rounding of some hundred
// coordinates.
const fileHair = 1e-4

// redrawMouth trues a dart's edge and, if press says a way, caps its mouth. The
// piece must be as it arrived.
func (e *edit) redrawMouth(w *work, found *pattern.Dart, press pattern.Pressed) error {
	return e.redrawMouthOver(w, found, press, trueReaches)
}

// redrawMouthOver is redrawMouth that draws no more of the edge anew than one of
// the reaches.
func (e *edit) redrawMouthOver(w *work, found *pattern.Dart, press pattern.Pressed, reaches []float64) error {
	d, was := *found, found.To-found.From
	i, err := w.named(d.Edge)
	if err != nil {
		return err
	}
	l := w.lines[i]
	path := l.path()
	d.From, d.To = l.joint(d.From), l.joint(d.To)
	f, t := path.At(d.From), path.At(d.To)
	if a, b := f.Dist(d.Point), t.Dist(d.Point); math.Abs(a-b) > legTolerance {
		return refuse(fmt.Sprintf("the legs of dart %q on piece %q measure %.1f and %.1f mm", d.Name, w.Name, a, b), "true the dart's legs first")
	}
	if geom.Turn(f.Sub(d.Point), t.Sub(d.Point)) <= 0 {
		return refuse(fmt.Sprintf("the legs of dart %q on piece %q lie the wrong way round: it lets width in instead of taking it up", d.Name, w.Name),
			"let the dart out, or draw it anew")
	}
	w.touched = true
	leg := f.Dist(d.Point)
	head, rest := l.split(d.From)
	mouth, tail := rest.split(d.To - d.From)
	kink, ok := l.kinkAt(&d)
	if ok && math.Abs(kink) > trueWithin {
		lo, hi := w.freeAround(d.Edge, d.From, d.To, l.length())
		if head, tail, ok = trueAcross(head, tail, d.Point, d.From-lo, hi-d.To, l.length()-(d.To-d.From), reaches); !ok {
			return refuse(fmt.Sprintf("edge %q of piece %q cannot be trued across dart %q", d.Edge, w.Name, d.Name),
				"move the dart away from the corner or the next dart, or turn it elsewhere")
		}
	}
	a, b := head.endOr(f), tail.startOr(t)
	fresh := geom.Path{geom.Line(a, b)}
	if press != "" {
		d.Pressed = press
		var fits bool
		if fresh, fits = foldedMouth(head, tail, a, b, d.Point, press); !fits {
			return refuse(fmt.Sprintf("dart %q of piece %q is too wide to be folded under its edge", d.Name, w.Name), "split it first")
		}
	} else if ok && math.Abs(kink) <= trueWithin {
		return nil
	}
	var cap line
	if old, known := mouth.old(); known {
		cap = redrawn(fresh, old)
	} else {
		cap = drawn(fresh...)
	}
	d.From = head.pathLength()
	d.To = d.From + fresh.Length()
	w.lines[i] = head.join(cap, tail)
	w.Darts = slices.DeleteFunc(w.Darts, func(o pattern.Dart) bool { return o.Name == d.Name })
	w.fresh.darts = append(w.fresh.darts, d)
	w.heal()
	e.changed("kink of the "+d.Edge+" over closed "+d.Name, w.Name, math.Abs(degrees(kink)), 0, "degrees")
	e.changed("legs of "+d.Name, w.Name, leg, a.Dist(d.Point), "mm")
	e.changed("path of the mouth of "+d.Name, w.Name, was, d.To-d.From, "mm")
	return nil
}

// trueAcross redraws the ends of an edge's two parts that meet at a closed dart
// with its point at p, so that one runs on into the other. Both feet move along
// their legs by the same amount, such that both parts together come to
// long mm. room is how much of either may be redrawn.
func trueAcross(head, tail line, p geom.Point, roomBefore, roomAfter, long float64, reaches []float64) (line, line, bool) {
	f, t := head.end(), tail.start()
	shut := geom.Turn(t.Sub(p), f.Sub(p))
	closing, opening := geom.Rotation(p, shut), geom.Rotation(p, -shut)
	leg := f.Sub(p)
	if roomBefore < minTrue || roomAfter < minTrue {
		return nil, nil, false
	}
	for _, reach := range reaches {
		before, after := math.Min(reach, roomBefore*0.8), math.Min(reach, roomAfter*0.8)
		keep, first := head.split(head.length() - before)
		second, kept := tail.split(after)
		if len(first) == 0 || len(second) == 0 {
			continue
		}
		folded := second.path().Transform(closing)
		want := long - keep.pathLength() - kept.pathLength()
		sweep := func(by float64) geom.Path {
			foot := p.Add(leg.Mul(1 + by/leg.Len()))
			return geom.Smooth([]geom.Point{first.start(), foot, folded.End()}, first.path().StartDirection(), folded.EndDirection())
		}
		by, ok := rootNear(func(by float64) float64 { return sweep(by).Length() - want }, math.Min(trueTravel, leg.Len()/3))
		if !ok {
			continue
		}
		curve := sweep(by)
		oldFirst, okFirst := first.old()
		oldSecond, okSecond := second.old()
		if !okFirst || !okSecond || len(curve) != 2 {
			continue
		}
		opened := curve[1:].Transform(opening)
		return keep.join(redrawn(curve[:1], oldFirst)), redrawn(opened, oldSecond).snapEnds(opened.Start(), second.end()).join(kept), true
	}
	return nil, nil, false
}

// foldedMouth returns the path from a to b that the mouth of a dart must have to
// lie along the edge when it is pressed that way: the edge under which it comes
// to lie, up to the fold, turned over about the leg, and once more turned onto
// the other leg.
func foldedMouth(head, tail line, a, b, point geom.Point, press pattern.Pressed) (geom.Path, bool) {
	if press == pattern.PressedToEnd {
		if len(tail) == 0 {
			return geom.Path{geom.Line(a, b)}, true
		}
		path, ok := underlay(tail.path(), a, point)
		return path.Reverse(), ok
	}
	if len(head) == 0 {
		return geom.Path{geom.Line(a, b)}, true
	}
	return underlay(head.path().Reverse(), b, point)
}

// underlay is the mouth's path from the start of side, where the dart's one foot
// is, to the other foot; side leads away from the mouth.
func underlay(side geom.Path, other, point geom.Point) (geom.Path, bool) {
	foot := side.Start()
	turn := geom.Turn(other.Sub(point), foot.Sub(point))
	covered, ok := pathTo(side, point, turn/2)
	if !ok {
		return nil, false
	}
	over := covered.Transform(geom.Reflection(point, foot))
	back := covered.Transform(geom.Rotation(point, -turn)).Reverse()
	over[len(over)-1].P1 = back.Start()
	back[len(back)-1].P1 = other
	return over.Join(back), true
}
