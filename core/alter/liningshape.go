package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// markSeam gives the linings of a long seam a pair of notches where the outers
// have none.
func (l *liner) markSeam(s pattern.Seam) {
	long := l.in.RunLength(s.A)
	if long <= markedFrom {
		return
	}
	for _, ref := range slices.Concat(s.A, s.B) {
		if slices.ContainsFunc(l.of[ref.Piece].fresh.notches, func(n pattern.Notch) bool { return n.Edge == ref.Edge }) {
			return
		}
	}
	a, okA := l.spot(s.A, long/2, 0)
	b, okB := l.spot(s.B, l.in.RunLength(s.B)/2, 0)
	if !okA || !okB && len(s.B) > 0 {
		return
	}
	for _, at := range []place{a, b} {
		if c := l.of[at.piece]; c != nil {
			c.fresh.notches = append(c.fresh.notches, pattern.Notch{Name: l.word(), Edge: at.edge, At: at.at, Count: 1})
		}
	}
}

// markLong gives a long edge that a copy is basted onto a notch if it has none.
func (l *liner) markLong(w *work, i int) {
	edge := w.Edges[i].Name
	on := func(n pattern.Notch) bool { return n.Edge == edge }
	long := l.sewnBefore(w.Name, edge)
	if long <= markedFrom || slices.ContainsFunc(w.Notches, on) || slices.ContainsFunc(w.fresh.notches, on) {
		return
	}
	if at, ok := l.spot(pattern.Run{{Piece: w.Name, Edge: edge}}, long/2, 0); ok {
		l.markBoth(w, pattern.Notch{Name: seamName(l.of[w.Name].Name, edge), Edge: edge, At: at.at, Count: 1})
	}
}

// markBasted gives a copy the notches that its outer was given where the two are
// basted together.
func (l *liner) markBasted(w, c *work) {
	for _, n := range w.fresh.notches {
		if slices.ContainsFunc(l.made, func(s pattern.Seam) bool { return s.Kind == pattern.Basted && s.A.Has(c.Name, n.Edge) }) {
			c.fresh.notches = append(c.fresh.notches, n)
		}
	}
}

// shorten cuts the lining off above its hem, parallel to it.
func (l *liner) shorten(w, c *work) error {
	by := l.o.HemShorter
	if by < pattern.MinEdge {
		return nil
	}
	for i := range w.Edges {
		if w.Edges[i].Finish != pattern.Hemmed || w.Edges[i].Is() != pattern.Hem {
			continue
		}
		before, after := c.prev(i), c.next(i)
		for _, k := range []int{before, after} {
			long := c.lines[k].length()
			from, to := 0.0, by
			if k == before {
				from, to = long-by, long
			}
			if long < by+minSlash {
				return refuse(fmt.Sprintf("the %s of piece %q measures %.0f mm, too little to end the lining %.0f mm above the hem", c.Edges[k].Name, w.Name, long, by), "make it shorter by less")
			}
			if w.foldsIn(w.Edges[k].Name, from, to) {
				return refuse(fmt.Sprintf("the %s of piece %q has a dart or fullness where its lining would end", c.Edges[k].Name, w.Name), "make it shorter by less")
			}
		}
		hem, kept := c.lines[i], c.lines[before].length()-by
		head, cutEnd := c.lines[before].split(kept)
		cutStart, tail := c.lines[after].split(by)
		path := besideEdge(hem, by, cutEnd, cutStart).Reverse() // drawn from the edge after to the one before
		c.lines[before], c.lines[i], c.lines[after] = head, redrawn(path, wholeOf(hem)), tail
		c.fresh.keep(c.Edges[before].Name, 0, kept)
		c.fresh.keep(c.Edges[after].Name, by, math.Inf(1))
		c.fresh.move(c.Edges[after].Name, func(at *float64) { *at -= by })
		scale := path.Length() / hem.length()
		c.fresh.move(c.Edges[i].Name, func(at *float64) { *at *= scale })
		c.Landmarks = slices.DeleteFunc(c.Landmarks, func(m pattern.Landmark) bool { return c.beyond(m.At) })
		c.heal()
		c.keepGrainInside()
	}
	return nil
}

// keep drops the notches of an edge that do not lie between two places.
func (m *marks) keep(edge string, from, to float64) {
	m.notches = slices.DeleteFunc(m.notches, func(n pattern.Notch) bool { return n.Edge == edge && (n.At < from || n.At > to) })
}

// move moves every place of a mark on an edge.
func (m *marks) move(edge string, move func(at *float64)) {
	for k := range m.notches {
		if m.notches[k].Edge == edge {
			move(&m.notches[k].At)
		}
	}
	for k := range m.darts {
		if m.darts[k].Edge == edge {
			move(&m.darts[k].From)
			move(&m.darts[k].To)
		}
	}
	for k := range m.pleats {
		if m.pleats[k].Edge == edge {
			move(&m.pleats[k].From)
			move(&m.pleats[k].To)
		}
	}
	for k := range m.gathers {
		if m.gathers[k].Edge == edge {
			move(&m.gathers[k].From)
			move(&m.gathers[k].To)
		}
	}
}

// easeBack widens a back on the fold by half the ease, lays it in a pleat at
// either end of the fold that is sewn to something, and reports whether it did.
func (l *liner) easeBack(w, c *work) bool {
	half := l.o.BackEase / 2
	back := w.Role == pattern.BodiceBack || w.Role == pattern.SkirtBack
	i := slices.IndexFunc(w.Edges, func(e pattern.Edge) bool { return e.Finish == pattern.Fold && e.Is() == pattern.CentreBack })
	if half < pattern.MinEdge || !back || i < 0 {
		return false
	}
	fold := c.lines[i].path()
	out := fold.End().Sub(fold.Start()).Unit().Right().Mul(half)
	before, after := c.prev(i), c.next(i)
	// The edge before ends at the fold, and the one after starts there.
	was := c.lines[before].length()
	c.lines[before] = c.lines[before].join(drawn(geom.Line(fold.Start(), fold.Start().Add(out))))
	c.fresh.pleat(c, before, was, was+half)
	c.lines[after] = drawn(geom.Line(fold.End().Add(out), fold.End())).join(c.lines[after])
	c.fresh.move(c.Edges[after].Name, func(at *float64) { *at += half })
	c.fresh.pleat(c, after, 0, half)
	c.lines[i] = c.lines[i].transform(geom.Translation(out))
	c.heal()
	l.changed("ease, pleated at the centre back", c.Name, 0, l.o.BackEase, "mm")
	return true
}

// pleat lays a pleat on a sewn edge; one that hangs loose needs none.
func (m *marks) pleat(c *work, i int, from, to float64) {
	if c.Edges[i].Finish != pattern.Sewn {
		return
	}
	m.pleats = append(m.pleats, pattern.Pleat{
		Name: "ease-" + c.Edges[i].Name, Edge: c.Edges[i].Name, From: from, To: to, Kind: pattern.Inverted,
	})
}
