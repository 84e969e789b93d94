package pairing

import (
	"cmp"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// stop is a place along a seam where both sides are known to belong together: one
// of its ends, a pair of notches, or a corner inside it that both sides have.
type stop struct {
	a, b float64 // how far along each run it lies, sewn mm
	pair [2]mark // of notches
	// i and j are of corners: before which edge of each run it lies, after the last
	// the number of edges there are. They are -1 of notches.
	i, j int
}

func (s *stop) corner() bool { return s.i >= 0 }

// stops lists the stops of a seam from its start to its end.
func (s *seam) stops() []stop {
	list := []stop{{}}
	slack := math.Abs(s.a.sewn-s.b.sewn) + sameCorner
	for i := 1; i < len(s.a.edges); i++ {
		at, best := s.a.edges[i].before, -1
		for j := 1; j < len(s.b.edges); j++ {
			off := math.Abs(s.b.edges[j].before - at)
			if off <= slack && (best < 0 || off < math.Abs(s.b.edges[best].before-at)) {
				best = j
			}
		}
		if best > 0 {
			list = append(list, stop{a: at, b: s.b.edges[best].before, i: i, j: best})
		}
	}
	matched, _ := pairs(s.a.marks(), s.b.marks())
	for _, m := range matched {
		list = append(list, stop{a: m[0].at, b: m[1].at, pair: m, i: -1, j: -1})
	}
	slices.SortStableFunc(list[1:], func(x, y stop) int { return cmp.Compare(x.a, y.a) })
	return append(list, stop{a: s.a.sewn, b: s.b.sewn, i: len(s.a.edges), j: len(s.b.edges)})
}

// stretch returns between which of the stops the whole difference of the two sides
// lies: two that follow one another, or where it is spread those between which
// there is any; ok is false where it is spread over all of the seam.
func (c *checker) stretch(stops []stop) (from, to int, ok bool) {
	end := stops[len(stops)-1]
	whole, last := end.b-end.a, 0.0
	// What is spread in small parts is not to be taken for the whole of it.
	near := min(c.Notch, math.Abs(whole)/4)
	for k := 1; k < len(stops); k++ {
		ahead := stops[k].b - stops[k].a
		if !over(ahead-last-whole, near) {
			return k - 1, k, true
		}
		last = ahead
	}
	to = len(stops) - 1
	for to > 1 && !over(stops[to-1].b-stops[to-1].a-whole, near) {
		to--
	}
	for from < to-1 && !over(stops[from+1].b-stops[from+1].a, near) {
		from++
	}
	return from, to, from > 0 || to < len(stops)-1
}

// hints are what all seams of a pattern together say about its corners: a corner
// that was moved puts out every seam that ends there, and bends every line that
// runs on from there. Corners are told apart as joints tells them.
type hints struct {
	joints joints
	// seams are those whose difference, be it ever so small, lies at the corner, and
	// how surely: sure where notches say so.
	seams map[place]map[int]float64
	kinks map[place]float64 // the sharpest kink there, degrees
}

const (
	// leastHint in mm: what differs by less differs by what files round away.
	leastHint = 0.02
	// trueKink and untrueKink in degrees: a corner that is as good as drawn straight,
	// and one that is not, though scissors would mend it.
	trueKink, untrueKink = 0.5, 1.5
	// How much is given on each kind of hint. A seam's own notches tell where it
	// differs, but they are measured from one end of an edge: where that end was
	// moved they have gone along, and put the difference at the other. So what notches
	// say of another seam that has the corner counts for more, and so does a line that
	// is bent at one end only.
	sureHint, kinkHint, ownHint, vagueHint = 2.0, 1.75, 1.5, 1.0
)

// hinted returns the hints of the pattern.
func (c *checker) hinted() *hints {
	if c.hints != nil {
		return c.hints
	}
	h := &hints{joints: joints{}, seams: map[place]map[int]float64{}, kinks: map[place]float64{}}
	c.hints = h
	for i := range c.seams {
		h.joints.all(c.seams[i].joined())
	}
	for i := range c.seams {
		s := &c.seams[i]
		c.kinksAt(h, s)
		if !s.compared() || math.Abs(s.b.sewn-s.a.sewn) < leastHint {
			continue
		}
		stops := s.stops()
		sure := vagueHint
		if from, to, ok := c.stretch(stops); ok {
			if stops[from].corner() != stops[to].corner() {
				sure = sureHint
			}
			stops = stops[from : to+1]
		}
		for k := range stops {
			if at, ok := h.corner(s, &stops[k]); ok {
				if h.seams[at] == nil {
					h.seams[at] = map[int]float64{}
				}
				h.seams[at][i] = sure
			}
		}
	}
	for i := range c.pattern.Pieces {
		p := &c.pattern.Pieces[i]
		for j := range p.Edges {
			if e := c.edges[key{p.Name, p.Edges[j].Name}]; e.Finish == pattern.Fold {
				for _, atStart := range [...]bool{true, false} {
					c.centreKink(h, e, atStart)
				}
			}
		}
	}
	return h
}

// compared reports whether the two sides of the seam are meant to be of one
// length.
func (s *seam) compared() bool {
	return !s.mirrored() && s.Meeting.Kind != pattern.Eased && len(s.a.edges) > 0 && len(s.b.edges) > 0
}

// corner returns which corner a stop of a seam is.
func (h *hints) corner(s *seam, at *stop) (place, bool) {
	switch {
	case !at.corner():
		return place{}, false
	case at.i < len(s.a.edges):
		return h.joints.of(s.a.edges[at.i].enters()), true
	}
	return h.joints.of(s.a.edges[at.i-1].leaves()), true
}

// kinksAt notes the kinks at both ends of a seam.
func (c *checker) kinksAt(h *hints, s *seam) {
	if s.Kind == pattern.Basted || len(s.a.edges) == 0 || len(s.b.edges) == 0 {
		return
	}
	for _, start := range [...]bool{true, false} {
		w := s.a.edges[len(s.a.edges)-1]
		at := w.leaves()
		if start {
			w = s.a.edges[0]
			at = w.enters()
		}
		if s.mirrored() {
			c.centreKink(h, w.edge, start != w.backwards)
			continue
		}
		a, okA := c.cornerOf(&s.a, start)
		b, okB := c.cornerOf(&s.b, start)
		if okA && okB && c.continued(a, b) && !(c.opens(a) && c.opens(b)) {
			h.kink(at, a.inside+b.inside-180)
		}
	}
}

// centreKink notes the kink at an end of a centre line.
func (c *checker) centreKink(h *hints, e *edge, atStart bool) {
	k, ok := c.cornerAt(e, atStart)
	if !ok || k.next.Finish == pattern.Fold || c.mirrorSewn(k.next) || c.opens(k) {
		return
	}
	at := place{e.piece.Name, e.index}
	if !atStart {
		at.corner = (e.index + 1) % len(e.piece.Edges)
	}
	h.kink(at, 2*k.inside-180)
}

func (h *hints) kink(at place, kink float64) {
	at = h.joints.of(at)
	h.kinks[at] = max(h.kinks[at], math.Abs(kink))
}

// where tells where along a seam its two sides differ, as far as anything tells:
// the edge and the place of its longer side, and how that is known, in words to
// go on with; empty where nothing tells, and then it is the end, where the longer
// side runs over when both are walked from the start.
func (c *checker) where(s *seam, long *run) (e walked, at geom.Point, how string) {
	e = long.edges[len(long.edges)-1]
	at = e.end()
	if !s.compared() || !over(s.b.sewn-s.a.sewn, c.Length) {
		return e, at, ""
	}
	stops := s.stops()
	from, to, ok := c.stretch(stops)
	if ok {
		how = lying(long, long == &s.b, stops, from, to)
		if !stops[from].corner() && !stops[to].corner() {
			if e, at, ok := c.joint(s, &stops[from], &stops[to]); ok {
				return e, at, how
			}
			m := stops[from].pair[0]
			if long == &s.b {
				m = stops[from].pair[1]
			}
			return m.edge, m.point(), how
		}
	}
	best, told := c.likeliest(s, stops, from, to, ok)
	if ok && !told {
		if e, at, ok := c.joint(s, &stops[from], &stops[to]); ok {
			return e, at, how
		}
	}
	if best < 0 {
		return e, at, how
	}
	if best != from && best != to {
		how = "; other lines are off at the same corner"
	}
	k := stops[best].i
	if long == &s.b {
		k = stops[best].j
	}
	if k == 0 || best == from && k < len(long.edges) {
		e = long.edges[k]
		return e, e.start(), how
	}
	e = long.edges[k-1]
	return e, e.end(), how
}

// joint returns the corner that either side has between two pairs of notches and at
// which another seam differs too.
func (c *checker) joint(s *seam, from, to *stop) (walked, geom.Point, bool) {
	h := c.hinted()
	for _, r := range [...]*run{&s.a, &s.b} {
		lo, hi := from.a, to.a
		if r == &s.b {
			lo, hi = from.b, to.b
		}
		for k := 1; k < len(r.edges); k++ {
			w := r.edges[k]
			if w.before <= lo || w.before >= hi {
				continue
			}
			for i := range h.seams[h.joints.of(w.enters())] {
				if &c.seams[i] != s {
					return w, w.start(), true
				}
			}
		}
	}
	return walked{}, geom.Point{}, false
}

// likeliest returns the corner among the stops of a seam at which its difference
// most likely lies, or -1 where none is likelier than another, and whether other
// seams told.
func (c *checker) likeliest(s *seam, stops []stop, from, to int, ok bool) (best int, told bool) {
	h := c.hinted()
	var bent []int // the corners with a kink
	straight := true
	score, bend := make([]float64, len(stops)), make([]float64, len(stops))
	for k := range stops {
		place, is := h.corner(s, &stops[k])
		if !is {
			continue
		}
		for i, sure := range h.seams[place] {
			if &c.seams[i] != s {
				score[k] += sure
				told = true
			}
		}
		bend[k] = h.kinks[place]
		switch kink := bend[k]; {
		case kink >= untrueKink:
			bent = append(bent, k)
		case kink > trueKink:
			straight = false
		}
	}
	if len(bent) == 1 && straight {
		score[bent[0]] += kinkHint
	}
	if ok {
		switch {
		case !stops[from].corner():
			score[to] += ownHint
		case !stops[to].corner():
			score[from] += ownHint
		default: // at one end of it or the other
			score[from] += vagueHint
			score[to] += vagueHint
		}
	}
	for k, v := range score {
		switch {
		case v > score[best]+scoreRounding:
			best = k
		case v < score[best]-scoreRounding || v == 0:
		case bend[k] > bend[best]+bendRounding || ok && best == from && k == to && bend[k] > bend[best]-bendRounding:
			best = k // of two that are as likely, the one that is bent more, or the end
		}
	}
	if score[best] == 0 {
		return -1, false
	}
	return best, told
}

// scoreRounding keeps sums of hints that are the same from being told apart by the
// order they were added up in; bendRounding in degrees does the same for kinks.
const scoreRounding, bendRounding = 1e-9, 0.1

// lying tells a stretch by the notches that bound it, or by the one edge of the
// longer side that it is.
func lying(long *run, b bool, stops []stop, from, to int) string {
	x, y := &stops[from], &stops[to]
	switch {
	case x.corner() && y.corner():
		i, j := x.i, y.i
		if b {
			i, j = x.j, y.j
		}
		if j != i+1 || len(long.edges) == 1 {
			return ""
		}
		return "; the difference lies in " + long.edges[i].piece.Name + "/" + long.edges[i].Name
	case x.corner():
		return "; the difference lies before notch " + y.pair[0].Name
	case y.corner():
		return "; the difference lies after notch " + x.pair[0].Name
	}
	return "; the difference lies between notches " + x.pair[0].Name + " and " + y.pair[0].Name
}
