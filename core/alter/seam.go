package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// SeamMove says how far a seam goes into one of the two pieces that it joins.
type SeamMove struct {
	Seam string // its name
	// Into is the piece that the seam moves into and that loses the strip; empty
	// is the piece of side B. Negative distances move it the other way.
	Into string
	// AtStart and AtEnd are mm along the edges that the seam ends on, at the
	// start and the end of side A's walk.
	AtStart, AtEnd float64
	// Bow bends the seam line, mm at its middle, further into that piece.
	Bow float64
}

// MoveSeam moves a seam with one edge a side: the strip between the old line
// and the new one is cut off one piece and sewn to the other along the old seam.
//
// Kept: the edges that the seam ends on, both pieces' together, and what stands
// on them; the seam's two sides go together as before, equal ones to 1e-9 mm,
// eased ones with the same ease. Where the two sides are one line when laid
// together the strip goes across as it is and the area is kept too; straight
// sides of different length draw it in along the seam to fit. Curved sides that
// differ, as at a bust, each keep their character: the ends go across, both
// edges are drawn through their new ends, and the shorter one is rounded out.
// Facings of the edges that the seam ends on follow, if their own seam meets it.
//
// Changed: both seam edges and the edges beside them. Degenerate: a seam to its
// own mirror image, one of several edges a side, one with a dart or fullness in
// it, one that ends on different kinds of edges, and a strip wider than the edge
// it is taken from are refused.
func MoveSeam(p *pattern.Pattern, o SeamMove) (*operation.Answer, error) {
	e := begin(p)
	j, err := e.joint(o.Seam)
	if err != nil {
		return nil, err
	}
	a, b := j.a, j.b
	into := cmpOr(o.Into, b.w.Name)
	start, end, bow := o.AtStart, o.AtEnd, o.Bow
	switch into {
	case b.w.Name:
	case a.w.Name:
		start, end, bow = -start, -end, -bow
	default:
		return nil, refuse(fmt.Sprintf("seam %q does not join piece %q", o.Seam, into), fmt.Sprintf("name piece %q or %q", a.w.Name, b.w.Name))
	}
	if a.w == b.w {
		return nil, refuse(fmt.Sprintf("seam %q joins piece %q to itself", o.Seam, a.w.Name), "what one edge loses the other would have to gain: cut the piece in two first")
	}
	moved, err := e.moveJoint(j, start, end, bow)
	if err != nil {
		return nil, err
	}
	for k := range moved.sums {
		if err := e.turnWith(moved, k); err != nil {
			return nil, err
		}
	}
	facings := e.moveFacings(moved, bow)
	j.holdLong(e)
	e.changed(fmt.Sprintf("seam %s moved into %s at its start", o.Seam, into), "", 0, o.AtStart, "mm")
	e.changed(fmt.Sprintf("seam %s moved into %s at its end", o.Seam, into), "", 0, o.AtEnd, "mm")
	moved.tell(e)
	e.cautionJunctions(moved, facings)
	return e.finish()
}

// cmpOr returns s, or d where s is empty.
func cmpOr(s, d string) string {
	if s == "" {
		return d
	}
	return s
}

// side is one side of a seam: an edge of a piece. forward says that the seam
// walks it along its own direction.
type side struct {
	w       *work
	i       int
	forward bool
}

func (s side) name() string    { return s.w.Edges[s.i].Name }
func (s side) length() float64 { return s.w.lines[s.i].length() }
func (s side) path() geom.Path { return s.w.lines[s.i].path() }

// beside returns the edge that the side starts from, or with atEnd the one it
// ends on, in the seam's walk, and whether that one follows it around the piece.
func (s side) beside(atEnd bool) (i int, follows bool) {
	if atEnd == s.forward {
		return s.w.next(s.i), true
	}
	return s.w.prev(s.i), false
}

// seamJoint is a seam of one edge a side.
type seamJoint struct {
	seam *pattern.Seam
	a, b side
}

// joint returns the seam of that name if it joins one edge to one other.
func (e *edit) joint(name string) (seamJoint, error) {
	i := slices.IndexFunc(e.seams, func(s pattern.Seam) bool { return s.Name == name })
	if i < 0 {
		names := ""
		for k, s := range e.seams {
			if k > 0 {
				names += ", "
			}
			names += s.Name
		}
		return seamJoint{}, refuse(fmt.Sprintf("the pattern has no seam %q", name), "its seams are "+names)
	}
	s := &e.seams[i]
	switch {
	case len(s.B) == 0:
		return seamJoint{}, refuse(fmt.Sprintf("seam %q joins %s to its own mirror image", name, s.A[0]), "there is no other piece to take anything up")
	case len(s.A) != 1 || len(s.B) != 1:
		return seamJoint{}, refuse(fmt.Sprintf("seam %q takes %d edges on one side and %d on the other", name, len(s.A), len(s.B)), "join the edges of each side into one first")
	}
	j := seamJoint{seam: s}
	for k, ref := range []pattern.EdgeRef{s.A[0], s.B[0]} {
		w := e.piece(ref.Piece)
		if w == nil {
			return seamJoint{}, refuse(fmt.Sprintf("seam %q takes piece %q, which is not there", name, ref.Piece), "name a seam of pieces that are")
		}
		n, err := w.named(ref.Edge)
		if err != nil {
			return seamJoint{}, err
		}
		*[]*side{&j.a, &j.b}[k] = side{w, n, !ref.Backwards}
	}
	return j, nil
}

// faceUp refuses a seam whose two pieces cannot be laid together both face up.
func (j seamJoint) faceUp() error {
	if j.a.forward != j.b.forward {
		return nil
	}
	return refuse(fmt.Sprintf("of pieces %q and %q, which seam %q joins, one is drawn face down", j.a.w.Name, j.b.w.Name, j.seam.Name),
		"turn one of them over first")
}

// plainSide refuses an edge with anything in it that shortens it.
func (e *edit) plainSide(s side) error {
	if e.takesUp(s.w, s.name()) {
		return refuse(fmt.Sprintf("the %s edge of piece %q has a dart or fullness in it", s.name(), s.w.Name),
			"turn the dart elsewhere or let the fullness out first")
	}
	return nil
}

// congruent returns the map that lays b's piece onto a's along the seam, and the
// largest distance between the two edges then, in mm. Edges of different length
// are laid middle to middle along their chords.
func congruent(a, b side) (onto geom.Affine, off float64) {
	pa, qb := a.path(), b.path().Reverse() // they run against each other when both pieces lie face up
	onto = geom.Onto(qb.Start(), qb.End(), pa.Start(), pa.End())
	slack := pa.Start().Dist(pa.End()) - qb.Start().Dist(qb.End())
	if slack != 0 {
		onto = geom.Translation(pa.End().Sub(pa.Start()).Unit().Mul(slack / 2)).After(onto)
	}
	la, lb := pa.Length(), qb.Length()
	for k := range congruencePlaces + 1 {
		share := float64(k) / congruencePlaces
		off = math.Max(off, pa.At(la*share).Dist(onto.Apply(qb.At(lb*share))))
	}
	return onto, off
}

const (
	// congruencePlaces is at how many places, beside the start, two edges laid
	// together are compared: every centimetre or so of a bodice's seam.
	congruencePlaces = 32
	// congruence is how far in mm two edges laid together may lie apart and count
	// as one line: what files round away.
	congruence = 1e-5
)

// movedSeam remembers what a moved seam keeps, to tell it.
type movedSeam struct {
	joint seamJoint
	sums  []keptSum  // at the start and at the end
	by    [2]float64 // how far each end moves
	seam  [2]float64
}

type keptSum struct {
	what   string
	a, b   *work
	ia, ib int
	before float64
}

// tell notes what was kept and what has changed.
func (m movedSeam) tell(e *edit) {
	for _, s := range m.sums {
		e.changed(s.what, "", s.before, s.a.lines[s.ia].length()+s.b.lines[s.ib].length(), "mm")
	}
	for k, s := range []side{m.joint.a, m.joint.b} {
		e.changed(s.name(), s.w.Name, m.seam[k], s.length(), "mm")
	}
	for _, s := range m.sums {
		for _, x := range []side{{w: s.a, i: s.ia}, {w: s.b, i: s.ib}} {
			if p := e.in.Piece(x.w.Name); p != nil && p.Edge(x.name()) != nil {
				e.changed(x.name(), x.w.Name, p.Edge(x.name()).Path.Length(), x.length(), "mm")
			}
		}
	}
}

// moveJoint moves a seam into its side B by start and end mm at the two ends of
// the walk, and bow mm more in the middle.
func (e *edit) moveJoint(j seamJoint, start, end, bow float64) (movedSeam, error) {
	m := movedSeam{joint: j, seam: [2]float64{j.a.length(), j.b.length()}, by: [2]float64{start, end}}
	if err := j.faceUp(); err != nil {
		return m, err
	}
	for _, s := range []side{j.a, j.b} {
		if err := e.plainSide(s); err != nil {
			return m, err
		}
	}
	if !geom.Pt(start, end).Finite() || !geom.Pt(bow, 0).Finite() {
		return m, refuse("a seam cannot be moved by a distance that is no number", "give it in mm")
	}
	for _, atEnd := range []bool{false, true} {
		ia, _ := j.a.beside(atEnd)
		ib, _ := j.b.beside(atEnd)
		ea, eb := j.a.w.Edges[ia], j.b.w.Edges[ib]
		by := start
		if atEnd {
			by = end
		}
		if ea.Is() != eb.Is() && math.Abs(by) > cutSliver {
			return m, refuse(fmt.Sprintf("seam %q ends on %q of piece %q and on %q of piece %q, which do not run on into each other",
				j.seam.Name, ea.Name, j.a.w.Name, eb.Name, j.b.w.Name), "leave that end where it is")
		}
		m.sums = append(m.sums, keptSum{
			what: fmt.Sprintf("%s of %s and %s together", ea.Is(), j.a.w.Name, j.b.w.Name),
			a:    j.a.w, ia: ia, b: j.b.w, ib: ib, before: j.a.w.lines[ia].length() + j.b.w.lines[ib].length(),
		})
	}
	pins := append(j.a.pins(), j.b.pins()...)
	_, off := congruent(j.a, j.b)
	straight := j.a.path().Straight(straightShoulder) && j.b.path().Straight(straightShoulder)
	var err error
	switch {
	case off <= congruence || straight && math.Abs(bow) <= cutSliver:
		err = e.moveWhole(j, start, end, bow, straight)
	default:
		err = e.moveEnds(j, start, end, bow)
	}
	if err != nil {
		return m, err
	}
	for _, p := range pins {
		p.put()
	}
	for _, w := range []*work{j.a.w, j.b.w} {
		w.heal()
		w.keepGrainInside()
	}
	return m, nil
}

// moveWhole carries the strip across as it is. Ends that move opposite ways do
// so one after the other.
func (e *edit) moveWhole(j seamJoint, start, end, bow float64, straight bool) error {
	giver, taker := j.b, j.a
	strips := [][3]float64{{start, end, bow}}
	if start*end < 0 {
		strips = [][3]float64{{start, 0, 0}, {0, end, bow}}
	}
	for _, s := range strips {
		g, t, sign := giver, taker, 1.0
		if s[0]+s[1] < 0 || s[0]+s[1] == 0 && s[2] < 0 {
			g, t, sign = taker, giver, -1
		}
		c := seamStrip{giver: g, taker: t, straight: straight, bow: sign * s[2]}
		c.before, c.after = sign*s[0], sign*s[1]
		if !g.forward {
			c.before, c.after = c.after, c.before
		}
		if err := c.carry(); err != nil {
			return err
		}
	}
	return nil
}

// moveEnds moves the two ends of the seam across and draws both edges through
// them; between, each bends as the ends did, and bow mm more at its middle.
func (e *edit) moveEnds(j seamJoint, start, end, bow float64) error {
	a, b := j.a, j.b
	more := b.length() - a.length()
	a.w.touched, b.w.touched = true, true
	for _, atEnd := range []bool{false, true} {
		move := start
		if atEnd {
			move = end
		}
		giver, taker := b, a
		if move < 0 {
			giver, taker, move = a, b, -move
		}
		if move <= cutSliver {
			continue
		}
		ng, follows := giver.beside(atEnd)
		nt, _ := taker.beside(atEnd)
		if err := layAcross(giver, ng, follows, taker, nt, move); err != nil {
			return err
		}
	}
	a.w.bendSeam(a.i)
	b.w.bendSeam(b.i)
	if math.Abs(bow) > cutSliver { // into b: out of a, whose inside is on the left
		a.w.bow(a.i, -bow)
		b.w.bow(b.i, bow)
	}
	return matchLengths(a, b, more)
}

// matchLengths trues the side that comes out short until b measures more mm more
// than a: by a bend too slight to see; else at an end that no seam takes, as a
// hem; else by a bend that can be seen.
func matchLengths(a, b side, more float64) error {
	short, want := a, b.length()-more
	if a.length()+more > b.length() {
		short, want = b, a.length()+more
	}
	if short.w.roundTo(short.i, want, slightBend) == nil {
		return nil
	}
	if done, err := short.trueAtOpenEnd(want); done || err != nil {
		return err
	}
	if short.w.roundTo(short.i, want, roundLimit) != nil {
		return refuse(fmt.Sprintf("the two sides of the seam would differ by %.1f mm", want-short.length()), "move or bend it by less")
	}
	return nil
}

// slightBend is how far in mm an edge may be bent to match its mate without
// anybody seeing it: the width of two pencil lines.
const slightBend = 1

// trueAtOpenEnd makes a seam edge measure want mm by lengthening it at an end
// where it runs into an edge that no seam takes, as a hem: the corner goes down
// and that edge is drawn to it, its directions kept.
func (s side) trueAtOpenEnd(want float64) (done bool, err error) {
	for _, atEnd := range []bool{true, false} {
		n, follows := s.beside(atEnd)
		if s.w.Edges[n].Finish == pattern.Sewn || s.w.Edges[n].Finish == pattern.Fold {
			continue
		}
		path := s.path()
		corner, out := path.End(), path.EndDirection()
		if !follows {
			corner, out = path.Start(), path.StartDirection().Mul(-1)
		}
		s.w.moveEnd(n, follows, corner.Add(out.Mul(want-path.Length())))
		s.w.bendSeam(s.i)
		return true, s.w.roundTo(s.i, want, roundLimit)
	}
	return false, nil
}

// moveEnd brings one end of an edge to a point: its start, or its end. The other
// end stays, and so do the directions at both.
func (w *work) moveEnd(i int, start bool, to geom.Point) {
	l := w.lines[i]
	total := l.length()
	if start {
		d := to.Sub(l.start())
		w.lines[i] = l.reshaped(func(p geom.Point, at float64, _ geom.Point) geom.Point { return p.Add(d.Mul(1 - at/total)) },
			l.path().StartDirection(), l.path().EndDirection()).snapEnds(to, l.end())
		return
	}
	d := to.Sub(l.end())
	w.lines[i] = l.reshaped(func(p geom.Point, at float64, _ geom.Point) geom.Point { return p.Add(d.Mul(at / total)) },
		l.path().StartDirection(), l.path().EndDirection()).snapEnds(l.start(), to)
}

// bow bends an edge by mm at its middle to the left of its walk, into the piece;
// its ends and the tangents there stay, so that corners do.
func (w *work) bow(i int, by float64) {
	l := w.lines[i]
	w.lines[i] = l.hollowed(by, 0.5)
}
