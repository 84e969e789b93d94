package alter

import (
	"fmt"
	"math"

	"bygone.example/core/geom"
)

// seamStrip is what a seam that moves takes off one piece and sews to the other.
type seamStrip struct {
	giver, taker side
	// before and after are mm off the giver's edges before and after its seam
	// edge, around the piece; bow is mm further into it at the middle.
	before, after, bow float64
	straight           bool // draw the new seam straight
}

// carry cuts the strip off the giver and sews it to the taker. The new seam is
// one line on both; edges of different length draw the strip in along the seam.
func (s seamStrip) carry() error {
	g, t := s.giver, s.taker
	if s.before <= cutSliver && s.after <= cutSliver && math.Abs(s.bow) <= cutSliver {
		return nil
	}
	g.w.touched, t.w.touched = true, true
	before, after := g.w.prev(g.i), g.w.next(g.i)
	lb, la := g.w.lines[before].length(), g.w.lines[after].length()
	for _, c := range []struct {
		off, long float64
		edge      string
	}{{s.before, lb, g.w.Edges[before].Name}, {s.after, la, g.w.Edges[after].Name}} {
		if c.off >= c.long-minSlash && c.off > cutSliver {
			return refuse(fmt.Sprintf("a strip of %.1f mm is wider than the %s of piece %q, which measures %.1f mm", c.off, c.edge, g.w.Name, c.long),
				"move the seam by less")
		}
	}
	// The two ends of the old seam, on the giver and on the taker.
	ga, gb := g.w.lines[g.i].start(), g.w.lines[g.i].end()
	ta, tb := t.w.lines[t.i].start(), t.w.lines[t.i].end()
	onto := geom.Onto(ga, gb, tb, ta)
	if k := ta.Dist(tb) / ga.Dist(gb); math.Abs(k-1) > 1e-12 {
		onto = geom.ScaleAlong(tb, ta.Sub(tb), k).After(onto)
	}
	keepBefore, strip1 := g.w.lines[before].split(lb - s.before)
	strip2, keepAfter := g.w.lines[after].split(s.after)
	if err := g.w.noDartIn(strip1, strip2); err != nil {
		return err
	}
	whole := wholeOf(g.w.lines[g.i])
	g.w.lines[before], g.w.lines[after] = keepBefore, keepAfter
	var seam geom.Path
	if s.straight {
		seam = geom.Path{geom.Line(keepBefore.end(), keepAfter.start())}
	} else {
		if s.before > cutSliver || s.after > cutSliver {
			g.w.bendSeam(g.i)
		}
		seam = g.w.lines[g.i].path()
	}
	if math.Abs(s.bow) > cutSliver {
		seam = redrawn(seam, whole).hollowed(s.bow, 0.5).path()
	}
	g.w.lines[g.i] = redrawn(seam, whole)
	// On the taker, what comes after its seam gains the strip that came before
	// the giver's, and the other way round.
	tBefore, tAfter := t.w.prev(t.i), t.w.next(t.i)
	t.w.lines[tAfter] = strip1.transform(onto).join(t.w.lines[tAfter])
	t.w.lines[tBefore] = t.w.lines[tBefore].join(strip2.transform(onto))
	t.w.lines[t.i] = redrawn(seam.Transform(onto).Reverse(), wholeOf(t.w.lines[t.i]))
	return nil
}

// layAcross cuts move mm off the giver's edge ng beside its seam and sews it to
// the taker's edge nt, the two laid in one line where they meet.
func layAcross(giver side, ng int, follows bool, taker side, nt int, move float64) error {
	a, b := giver.w, taker.w
	long := a.lines[ng].length()
	if move >= long-minSlash {
		return refuse(fmt.Sprintf("the seam cannot move %.1f mm along the %s of piece %q, which measures %.1f mm", move, a.Edges[ng].Is(), a.Name, long),
			"move it by less")
	}
	if follows { // giver: seam, then neighbour; taker: neighbour, then seam
		off, keep := a.lines[ng].split(move)
		if err := a.noDartIn(off); err != nil {
			return err
		}
		corner, dir := off.start(), off.path().StartDirection()
		target, along := b.lines[nt].end(), b.lines[nt].path().EndDirection()
		m := geom.Onto(corner, corner.Add(dir), target, target.Add(along))
		a.lines[ng] = keep // first: in a sleeve it is the same edge
		b.lines[nt] = b.lines[nt].join(off.transform(m))
		return nil
	}
	keep, off := a.lines[ng].split(long - move)
	if err := a.noDartIn(off); err != nil {
		return err
	}
	corner, dir := off.end(), off.path().EndDirection()
	target, along := b.lines[nt].start(), b.lines[nt].path().StartDirection()
	m := geom.Onto(corner, corner.Add(dir), target, target.Add(along))
	a.lines[ng] = keep
	b.lines[nt] = off.transform(m).join(b.lines[nt])
	return nil
}

// noDartIn refuses to carry a stretch of edge to another piece with a dart, or a
// part of one, in it: its point would stay behind.
func (w *work) noDartIn(strips ...line) error {
	for _, l := range strips {
		for _, st := range l {
			for _, d := range w.Darts {
				if st.old.Piece == w.Name && st.old.Edge == d.Edge && d.From < st.old.To-cutSliver && d.To > st.old.From+cutSliver {
					return refuse(fmt.Sprintf("the strip would take dart %q of piece %q along", d.Name, w.Name), "move the seam by less, or turn the dart elsewhere first")
				}
			}
		}
	}
	return nil
}

// pin holds a landmark that stood on a corner of a seam to that corner.
type pin struct {
	side  side
	mark  string
	atEnd bool // of the edge, along its own direction
}

// pins returns the landmarks that stand on the ends of the side's edge.
func (s side) pins() []pin {
	var list []pin
	l := s.w.lines[s.i]
	for _, m := range s.w.Landmarks {
		switch {
		case m.At.Near(l.start(), sideTolerance):
			list = append(list, pin{s, m.Name, false})
		case m.At.Near(l.end(), sideTolerance):
			list = append(list, pin{s, m.Name, true})
		}
	}
	return list
}

func (p pin) put() {
	l := p.side.w.lines[p.side.i]
	at := l.start()
	if p.atEnd {
		at = l.end()
	}
	if m := p.side.w.Landmark(p.mark); m != nil {
		m.At = at
	}
}
