package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// ShareWay is where a seam gives way when its sides are made to agree.
type ShareWay string

// ShareEnd and ShareStart move the corners at that end of the seam, as it is
// sewn; ShareBend leaves all corners and bends a curved edge of each side.
// ShareAuto takes the first of these that can be done within the bound, an end
// where no other seam is touched before any other.
const (
	ShareAuto  ShareWay = "auto"
	ShareEnd   ShareWay = "end"
	ShareStart ShareWay = "start"
	ShareBend  ShareWay = "bend"
)

// Sharing says how the two sides of a seam are made to agree in length.
type Sharing struct {
	Seam string // empty: the one whose sides are furthest from agreeing
	Way  ShareWay
	// A is the share of the difference that side A takes up, 0 to 1; side B takes
	// the rest.
	A float64
	// Bound is how far in mm a line may move.
	Bound float64
}

// ShareLength makes the two sides of a seam agree: of a plain seam their sewn
// lengths become equal, of an eased one the ease comes to the nearest of its
// bounds. The long side is shortened and the short one lengthened, each by its
// share. At an end of the seam that moves a corner: along the seam where the
// other line there is only finished, and where that is sewn too, such that it
// keeps its length. Bent, a curve is made fuller or flatter between its ends.
//
// Kept: every other seam, exactly; darts, pleats and gathers; straight edges
// stay straight. Changed: the two sides, the lines that meet them at the moved
// corner, notches on them, which stay in step. Units: mm.
//
// Degenerate: sides that agree already are left alone. A seam to its own mirror
// image, a gathered or pleated one, an edge with no room at its end, and a line
// that would move by more than the bound are refused.
func ShareLength(p *pattern.Pattern, o Sharing) (*operation.Answer, error) {
	if o.A < 0 || o.A > 1 {
		return nil, refuse(fmt.Sprintf("side a cannot take %g of a difference", o.A), "give it between 0 and 1")
	}
	e := begin(p)
	s, by, err := disagreeing(e.in, o.Seam)
	if err != nil {
		return nil, err
	}
	if s == nil {
		return e.finish()
	}
	if o.Way == ShareAuto {
		ways := []ShareWay{ShareEnd, ShareStart, ShareBend}
		if e.endHolds(s, false) && !e.endHolds(s, true) {
			ways = []ShareWay{ShareStart, ShareEnd, ShareBend}
		}
		var first error
		for _, o.Way = range ways {
			o.Seam = s.Name
			a, err := ShareLength(p, o)
			if err == nil {
				return a, nil
			}
			if first == nil {
				first = err
			}
		}
		return nil, first
	}
	for _, side := range [...]struct {
		name string
		run  pattern.Run
		by   float64
	}{{"a", s.A, by * o.A}, {"b", s.B, -by * (1 - o.A)}} {
		if math.Abs(side.by) < equalTolerance {
			continue
		}
		before := e.in.RunLength(side.run)
		switch o.Way {
		case ShareEnd, ShareStart:
			err = e.shiftEnd(s.Name, side.run, o.Way == ShareStart, side.by)
		case ShareBend:
			err = e.bendRun(s.Name, side.run, side.by, o.Bound)
		default:
			err = refuse(fmt.Sprintf("a seam gives way at its start, at its end or by bending, not at %q", o.Way), "say start, end or bend")
		}
		if err != nil {
			return nil, err
		}
		e.changed("side "+side.name+" of seam "+s.Name, "", before, before+side.by, "mm")
	}
	for _, w := range e.pieces {
		if w.touched {
			w.heal()
		}
	}
	return e.bounded(o.Bound)
}

// disagreeing returns the seam of that name, or the one furthest from agreeing,
// and by how many mm side B is too long against A; nil where all is well.
func disagreeing(p *pattern.Pattern, name string) (found *pattern.Seam, by float64, err error) {
	if name != "" && p.Seam(name) == nil {
		return nil, 0, refuse(fmt.Sprintf("the pattern has no seam %q", name), "")
	}
	for i := range p.Seams {
		s := &p.Seams[i]
		if name != "" && s.Name != name {
			continue
		}
		off := p.RunLength(s.B) - p.RunLength(s.A)
		switch {
		case len(s.B) == 0 || s.Meeting.Kind == pattern.Gathered || s.Meeting.Kind == pattern.Pleated:
			if name != "" {
				return nil, 0, refuse(fmt.Sprintf("the sides of seam %q do not have to be of one length", name), "share out that of a plain or an eased seam")
			}
			continue
		case s.Meeting.Kind == pattern.Eased:
			if !s.Meeting.Ease.Given() {
				continue
			}
			off -= math.Max(s.Meeting.Ease.Min, math.Min(off, s.Meeting.Ease.Max))
		}
		if math.Abs(off) > math.Abs(by) {
			found, by = s, off
		}
	}
	if math.Abs(by) < equalTolerance {
		return nil, 0, nil
	}
	return found, by, nil
}

// endHolds reports whether at that end of a seam a line that goes on from it is
// sewn to something else.
func (e *edit) endHolds(s *pattern.Seam, start bool) bool {
	for _, run := range [...]pattern.Run{s.A, s.B} {
		if t, ok := e.runTip(run, start); !ok || t.w.Edges[t.edge].Finish == pattern.Fold || e.holds(t.w, t.edge) {
			return true
		}
	}
	return false
}

// shiftEnd makes a run longer by moving the corner at one of its ends.
func (e *edit) shiftEnd(seam string, run pattern.Run, start bool, by float64) error {
	ref := run[len(run)-1]
	if start {
		ref = run[0]
	}
	w, i, err := e.edgeNamed(ref.Piece, ref.Edge)
	if err != nil {
		return err
	}
	if !e.moveCorner(w, i, start != ref.Backwards, by) {
		which := "end"
		if start {
			which = "start"
		}
		return refuse(fmt.Sprintf("the corner of piece %q at the %s of seam %q cannot move by %.1f mm without taking something else along", w.Name, which, seam, math.Abs(by)),
			"let the seam give way elsewhere")
	}
	return nil
}

// bendRun makes a run longer by bending its longest edge that is a curve and
// carries nothing.
func (e *edit) bendRun(seam string, run pattern.Run, by, bound float64) error {
	var best *work
	at, long := 0, 0.0
	for _, ref := range run {
		w, i, err := e.edgeNamed(ref.Piece, ref.Edge)
		if err != nil {
			return err
		}
		on := func(edge string) bool { return edge == ref.Edge }
		if w.lines[i].path().Straight(straightWithin) || w.Edges[i].Finish == pattern.Fold ||
			slices.ContainsFunc(w.Darts, func(d pattern.Dart) bool { return on(d.Edge) }) ||
			slices.ContainsFunc(w.Pleats, func(d pattern.Pleat) bool { return on(d.Edge) }) ||
			slices.ContainsFunc(w.Gathers, func(d pattern.Gather) bool { return on(d.Edge) }) {
			continue
		}
		if l := w.lines[i].length(); l > long {
			best, at, long = w, i, l
		}
	}
	if best == nil {
		return refuse(fmt.Sprintf("no edge on that side of seam %q is a curve without darts or gathers", seam), "let it give way at an end")
	}
	best.touched = true
	return best.roundTo(at, long+by, bound)
}

// straightWithin is how far in mm a line may leave its chord and still be meant
// straight: bent, it would look like a mistake.
const straightWithin = 1.0
