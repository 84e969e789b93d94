package alter

import (
	"math"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// tip is the end of an edge at a corner, to be drawn anew when the corner moves
// or the line is turned there. What is further from the corner than its zone,
// and every dart, pleat and gather, stays where it is.
type tip struct {
	kept     line // the rest of the edge
	zone     line // what is drawn anew
	whole    line // the edge, if it is straight and nothing on it takes it up; else nil
	atStart  bool // the corner is the edge's start
	samples  samples
	zonePath geom.Path
}

const (
	// tipReach is how far in mm from a corner a line is drawn anew where there is
	// room: as far as a cutter blends it, see trueReach.
	tipReach = trueReach
	// minTip is the least length in mm of line at a corner that can be drawn anew.
	minTip = minTrue
)

// tipOf prepares the end of edge i, or its start; ok is false where there is no
// room between the corner and what is on the edge.
func (w *work) tipOf(i int, atStart bool, reach float64) (t tip, ok bool) {
	l := w.lines[i]
	total := l.length()
	lo, hi := 0.0, total
	free := true
	limit := func(on string, from, to float64) {
		if on == w.Edges[i].Name {
			free, lo, hi = false, math.Max(lo, to), math.Min(hi, from)
		}
	}
	for _, d := range w.Darts {
		limit(d.Edge, d.From, d.To)
	}
	for _, f := range w.Pleats {
		limit(f.Edge, f.From, f.To)
	}
	for _, g := range w.Gathers {
		limit(g.Edge, g.From, g.To)
	}
	room := total - lo
	if atStart {
		room = hi
	}
	if !free {
		room *= 0.9 // a mark stays clear of what is drawn anew
	}
	if room < minTip {
		return tip{}, false
	}
	t = tip{atStart: atStart}
	at := math.Min(reach, room)
	if atStart {
		t.zone, t.kept = l.split(at)
	} else {
		t.kept, t.zone = l.split(total - at)
	}
	if len(t.zone) == 0 {
		return tip{}, false
	}
	if free && l.path().Straight(cutSliver) {
		t.whole = l
	}
	t.zonePath = t.zone.path()
	t.samples = t.zone.sampled()
	return t, true
}

// corner is where the tip ends, and outward the direction in which the line
// arrives there.
func (t tip) corner() geom.Point {
	if t.atStart {
		return t.zone.start()
	}
	return t.zone.end()
}

func (t tip) outward() geom.Point {
	if t.atStart {
		return t.zonePath.StartDirection().Mul(-1)
	}
	return t.zonePath.EndDirection()
}

// path draws the zone anew with the corner moved by v and the line turned there
// by turn (counter-clockwise, in radians). The move runs out smoothly along the
// zone, and so does the turn: a line turned by a at its corner leaves its place
// by no more than 4/27 of tan a times the zone.
func (t tip) path(v geom.Point, turn float64) geom.Path {
	total := t.zonePath.Length()
	straight := t.zonePath.Straight(cutSliver)
	if straight && turn == 0 && math.Abs(v.Cross(t.outward())) < cutSliver/10 {
		a, b := t.zone.start(), t.zone.end()
		if t.atStart {
			return geom.Path{geom.Line(a.Add(v), b)}
		}
		return geom.Path{geom.Line(a, b.Add(v))}
	}
	slope := math.Tan(turn)
	side := 1.0 // to the left going out from the corner along the edge
	if !t.atStart {
		side = -1
	}
	from, to := t.zonePath.StartDirection(), t.zonePath.EndDirection()
	rotate := geom.Rotation(geom.Point{}, turn)
	if t.atStart {
		from = rotate.Apply(from)
	} else {
		to = rotate.Apply(to)
	}
	path := t.samples.drawn(func(p geom.Point, at float64, left geom.Point) geom.Point {
		out := at // mm from the corner
		if !t.atStart {
			out = total - at
		}
		rest := 1 - out/total
		return p.Add(v.Mul(smoothStep(rest))).Add(left.Mul(side * slope * out * rest * rest))
	}, from, to)
	if len(path) == 0 {
		return t.zonePath
	}
	if t.atStart {
		path[len(path)-1].P1 = t.zone.end()
	} else {
		path[0].P0 = t.zone.start()
	}
	return path
}

// drawn returns the whole edge with its tip drawn anew. A straight edge that is
// only moved stays straight.
func (t tip) drawn(v geom.Point, turn float64) line {
	if t.whole != nil && turn == 0 && math.Abs(v.Cross(t.outward())) >= cutSliver/10 {
		a, b := t.whole.start(), t.whole.end()
		if t.atStart {
			a = a.Add(v)
		} else {
			b = b.Add(v)
		}
		return redrawn(geom.Path{geom.Line(a, b)}, wholeOf(t.whole))
	}
	path := t.path(v, turn)
	var fresh line
	if old, ok := t.zone.old(); ok {
		fresh = redrawn(path, old)
	} else {
		fresh = drawn(path...)
	}
	if t.atStart {
		return fresh.join(t.kept)
	}
	return t.kept.join(fresh)
}

// long is the length of the edge so drawn.
func (t tip) long(v geom.Point, turn float64) float64 { return t.drawn(v, turn).length() }

// moveCorner moves the corner between edge i and the one before it (atStart) or
// after it such that edge i gets by mm longer. What is sewn to the other edge
// goes on fitting: its length stays, and the corner gives way sideways. On a
// fold the corner stays on the fold; where the other edge is only finished, it
// goes straight on along edge i. A landmark on the corner goes with it.
func (e *edit) moveCorner(w *work, i int, atStart bool, by float64) bool {
	j := w.next(i)
	if atStart {
		j = w.prev(i)
	}
	if j == i {
		return false
	}
	mine, okMine := w.tipOf(i, atStart, tipReach)
	other, okOther := w.tipOf(j, !atStart, tipReach)
	if !okMine || !okOther {
		return false
	}
	want, keep := w.lines[i].length()+by, w.lines[j].length()
	var v geom.Point
	switch {
	case w.Edges[j].Finish == pattern.Fold:
		along := other.outward()
		x, ok := rootNear(func(x float64) float64 { return mine.long(along.Mul(x), 0) - want }, 3*math.Abs(by))
		if !ok {
			return false
		}
		v = along.Mul(x)
	case e.holds(w, j):
		var ok bool
		if v, ok = solveCorner(mine.outward().Mul(by), func(v geom.Point) geom.Point {
			return geom.Pt(mine.long(v, 0)-want, other.long(v, 0)-keep)
		}); !ok {
			return false
		}
	default:
		along := mine.outward()
		x, ok := rootNear(func(x float64) float64 { return mine.long(along.Mul(x), 0) - want }, 3*math.Abs(by))
		if !ok {
			return false
		}
		v = along.Mul(x)
	}
	at := mine.corner()
	w.lines[i], w.lines[j] = mine.drawn(v, 0), other.drawn(v, 0)
	first, second := w.lines[i], w.lines[j]
	if atStart {
		first, second = second, first
	}
	second[0].seg.P0 = first.end()
	for k := range w.Landmarks {
		if w.Landmarks[k].At.Near(at, sideTolerance) {
			w.Landmarks[k].At = w.Landmarks[k].At.Add(v)
		}
	}
	w.touched = true
	return true
}

// holds reports whether a seam to another edge takes the edge, so that its
// length is not its own.
func (e *edit) holds(w *work, i int) bool {
	for _, s := range e.in.SeamsOf(w.Name, w.Edges[i].Name) {
		if len(s.B) > 0 {
			return true
		}
	}
	return false
}

// solveCorner finds the move at which both misses are nothing, near a guess, by
// Newton's method.
func solveCorner(guess geom.Point, miss func(geom.Point) geom.Point) (geom.Point, bool) {
	const (
		tries = 30
		step  = 1e-3 // mm, to take differences over
	)
	v := guess
	for range tries {
		f := miss(v)
		if math.Max(math.Abs(f.X), math.Abs(f.Y)) < equalTolerance/2 {
			return v, true
		}
		dx := miss(v.Add(geom.Pt(step, 0))).Sub(f).Mul(1 / step)
		dy := miss(v.Add(geom.Pt(0, step))).Sub(f).Mul(1 / step)
		det := dx.Cross(dy)
		if math.Abs(det) < 0.05 { // the two edges run nearly in one line: no move gives both
			return v, false
		}
		v = v.Add(geom.Pt(-f.Cross(dy)/det, -dx.Cross(f)/det))
		if !v.Finite() || v.Sub(guess).Len() > 4*guess.Len()+1 {
			return v, false
		}
	}
	return v, false
}
