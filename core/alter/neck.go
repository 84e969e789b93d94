package alter

import (
	"fmt"
	"math"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// NeckOpening says how a neckline is opened, in mm. Negative values close it.
type NeckOpening struct {
	// AtFront and AtBack are how far it goes down the centre front and the centre
	// back, AtShoulder how far out along both shoulder seams.
	AtFront, AtBack, AtShoulder float64
}

// LowerNeckline lowers the neckline at the centre front and back and widens it
// along the shoulder seam. Facings that lie under it are moved along, as wide as
// they were.
//
// Kept: the angles at which the neckline meets centre and shoulder, so that it
// stays square to a fold and runs on across the shoulder; both shoulder edges
// lose the same, and go together as before; the facing's neckline stays a copy of
// the garment's, and its shoulders and centres their length. Changed: the
// necklines, shoulders and centres.
//
// Degenerate: pieces without one neckline between one shoulder and one centre
// edge, a neckline or shoulder with a dart or fullness in it, a neckline sewn to
// something other than a facing (a collar), one that is not a copy of its
// facing's, and a shoulder or centre too short are refused.
func LowerNeckline(p *pattern.Pattern, o NeckOpening) (*operation.Answer, error) {
	e := begin(p)
	if !geom.Pt(o.AtFront, o.AtBack).Finite() || !geom.Pt(o.AtShoulder, 0).Finite() {
		return nil, refuse("a neckline cannot be lowered by a distance that is no number", "give it in mm")
	}
	front, back, err := e.pair(pattern.BodiceFront, pattern.BodiceBack)
	if err != nil {
		return nil, err
	}
	var necks []neck
	for k, w := range []*work{front, back} {
		down := o.AtFront
		if k == 1 {
			down = o.AtBack
		}
		n, err := e.neckOf(w, down, o.AtShoulder)
		if err != nil {
			return nil, err
		}
		necks = append(necks, n)
	}
	facings, err := e.neckFacings(necks)
	if err != nil {
		return nil, err
	}
	for _, n := range necks {
		if err := n.open(); err != nil {
			return nil, err
		}
	}
	for k, f := range facings {
		if f.w == nil {
			continue
		}
		if err := f.follow(necks[k]); err != nil {
			return nil, err
		}
		if off := f.w.lines[f.i].length() - necks[k].w.lines[necks[k].i].length(); math.Abs(off) > sewnAlike {
			return nil, refuse(fmt.Sprintf("the shoulder and centre of facing %q do not lie as those of piece %q do: their necklines would come out %.1f mm apart", f.w.Name, necks[k].w.Name, math.Abs(off)),
				"trace the facing from the piece again, with finish.facing")
		}
	}
	e.changed("neckline lowered at the centre front", "", 0, o.AtFront, "mm")
	e.changed("neckline lowered at the centre back", "", 0, o.AtBack, "mm")
	e.changed("neckline widened at each shoulder", "", 0, o.AtShoulder, "mm")
	for _, n := range necks {
		was := e.in.Piece(n.w.Name)
		for _, i := range []int{n.i, n.shoulder, n.centre} {
			e.changed(n.w.Edges[i].Name, n.w.Name, was.Edge(n.w.Edges[i].Name).Path.Length(), n.w.lines[i].length(), "mm")
		}
	}
	if o.AtShoulder > 0 || o.AtFront > 0 || o.AtBack > 0 {
		e.caution("A wide or low neckline stands on the edge: stay it with tape before anything else is sewn, and try in the mock-up whether it gapes or slips off the shoulder.")
	}
	return e.finish()
}

// neck is a neckline between a centre and a shoulder edge of its piece.
type neck struct {
	w                   *work
	i, centre, shoulder int
	shoulderAfter       bool // around the piece the shoulder follows the neckline
	down, out           float64
	was                 geom.Path
}

func (e *edit) neckOf(w *work, down, out float64) (neck, error) {
	n := neck{w: w, down: down, out: out}
	var err error
	if n.i, err = w.edgeOf(pattern.Neckline); err != nil {
		return n, err
	}
	n.was = w.lines[n.i].path()
	n.shoulder, n.centre, n.shoulderAfter = w.next(n.i), w.prev(n.i), true
	if w.Edges[n.shoulder].Is() != pattern.Shoulder {
		n.shoulder, n.centre, n.shoulderAfter = n.centre, n.shoulder, false
	}
	centre := w.Edges[n.centre].Is()
	if w.Edges[n.shoulder].Is() != pattern.Shoulder || centre != pattern.CentreFront && centre != pattern.CentreBack {
		return n, refuse(fmt.Sprintf("the neckline of piece %q does not run from a centre edge to a shoulder", w.Name),
			"give the edges beside it the roles shoulder, and centre-front or centre-back")
	}
	for _, i := range []int{n.i, n.shoulder} {
		if err := e.plainSide(side{w: w, i: i}); err != nil {
			return n, err
		}
	}
	return n, nil
}

// neckFacings returns the facing of each neckline, without a piece where there
// is none.
func (e *edit) neckFacings(necks []neck) ([]neck, error) {
	list := make([]neck, len(necks))
	for k, n := range necks {
		mate, seam, err := e.mateOf(side{w: n.w, i: n.i, forward: true})
		if err != nil {
			return nil, err
		}
		if mate == nil {
			if seam != nil {
				return nil, refuse(fmt.Sprintf("seam %q joins the neckline of piece %q to itself", seam.Name, n.w.Name), "divide that seam first")
			}
			continue
		}
		if mate.w.Role != pattern.FacingFront && mate.w.Role != pattern.FacingBack {
			return nil, refuse(fmt.Sprintf("the neckline of piece %q is sewn to piece %q, which is no facing", n.w.Name, mate.w.Name),
				"take that piece off first, and draw it again for the new neckline")
		}
		f, err := e.neckOf(mate.w, n.down, n.out)
		if err != nil {
			return nil, err
		}
		if f.shoulderAfter != n.shoulderAfter {
			return nil, refuse(fmt.Sprintf("facing %q is drawn face down to piece %q", mate.w.Name, n.w.Name), "turn it over first")
		}
		if _, off := sameLine(n.was, f.was); off > congruence {
			return nil, refuse(fmt.Sprintf("the neckline of facing %q lies up to %.1f mm off that of piece %q", f.w.Name, off, n.w.Name), "trace the facing from the piece again")
		}
		list[k] = f
	}
	return list, nil
}

// sameLine returns the map that lays path b on path a, both walked alike, and the
// largest distance between them then.
func sameLine(a, b geom.Path) (onto geom.Affine, off float64) {
	onto = geom.Onto(b.Start(), b.End(), a.Start(), a.End())
	la, lb := a.Length(), b.Length()
	for k := range congruencePlaces + 1 {
		share := float64(k) / congruencePlaces
		off = math.Max(off, a.At(la*share).Dist(onto.Apply(b.At(lb*share))))
	}
	return onto, off
}

// cutEnd takes by mm off the end of an edge that meets the neckline, or adds to
// it, and returns how much its direction there has turned.
func (n neck) cutEnd(i int, atStart bool, by float64) (turn float64, err error) {
	w := n.w
	l := w.lines[i]
	if by >= l.length()-minSlash {
		return 0, refuse(fmt.Sprintf("the %s of piece %q measures %.1f mm and cannot lose %.1f mm", w.Edges[i].Name, w.Name, l.length(), by), "open the neckline by less")
	}
	if atStart {
		w.lines[i] = extendStart(l, -by)
		return geom.Turn(l.path().StartDirection(), w.lines[i].path().StartDirection()), nil
	}
	w.lines[i] = extendEnd(l, -by)
	return geom.Turn(l.path().EndDirection(), w.lines[i].path().EndDirection()), nil
}

// open cuts the shoulder and the centre back and draws the neckline to them.
func (n neck) open() error {
	w := n.w
	w.touched = true
	marks := n.corners()
	atShoulder, err := n.cutEnd(n.shoulder, n.shoulderAfter, n.out)
	if err != nil {
		return err
	}
	atCentre, err := n.cutEnd(n.centre, !n.shoulderAfter, n.down)
	if err != nil {
		return err
	}
	first, last := atCentre, atShoulder
	if !n.shoulderAfter {
		first, last = last, first
	}
	w.redrawBetween(n.i, n.upright(), first, last)
	n.putCorners(marks)
	w.heal()
	w.keepGrainInside()
	return nil
}

// upright is the direction of the centre edge where the neckline meets it.
func (n neck) upright() geom.Point {
	if n.shoulderAfter {
		return n.w.lines[n.centre].path().EndDirection()
	}
	return n.w.lines[n.centre].path().StartDirection()
}

// redrawBetween brings an edge to where its neighbours end now, made longer and
// shorter along an axis and square to it, as a round neckline becomes a deeper or
// wider one; its end directions are turned as given.
func (w *work) redrawBetween(i int, axis geom.Point, turnStart, turnEnd float64) {
	l := w.lines[i]
	start, end := w.lines[w.prev(i)].end(), w.lines[w.next(i)].start()
	if start.Near(l.start(), cutSliver) && end.Near(l.end(), cutSliver) {
		return
	}
	from, to := l.end().Sub(l.start()), end.Sub(start)
	// Along the axis and square to it each, what the edge spans grows in proportion;
	// one that spans next to nothing there takes up what its ends move step by step.
	total := l.length()
	along := func(p geom.Point, dir geom.Point, at float64) float64 {
		was, is, here := from.Dot(dir), to.Dot(dir), p.Sub(l.start()).Dot(dir)
		if math.Abs(was) < leastSpan {
			return here + (is-was)*at/total
		}
		return here * is / was
	}
	side := axis.Left()
	turned := func(dir geom.Point, by float64) geom.Point { return geom.Rotation(geom.Point{}, by).Apply(dir) }
	w.lines[i] = l.reshaped(func(p geom.Point, at float64, _ geom.Point) geom.Point {
		return start.Add(axis.Mul(along(p, axis, at))).Add(side.Mul(along(p, side, at)))
	}, turned(l.path().StartDirection(), turnStart), turned(l.path().EndDirection(), turnEnd)).snapEnds(start, end)
}

// leastSpan in mm is how deep or wide an edge must be for its depth or width to be
// scaled.
const leastSpan = 5

// corners returns the names of the landmarks on the neckline's start and end.
func (n neck) corners() [2][]string {
	var names [2][]string
	l := n.w.lines[n.i]
	for _, m := range n.w.Landmarks {
		for k, at := range []geom.Point{l.start(), l.end()} {
			if m.At.Near(at, sideTolerance) {
				names[k] = append(names[k], m.Name)
			}
		}
	}
	return names
}

func (n neck) putCorners(names [2][]string) {
	l := n.w.lines[n.i]
	for k, at := range []geom.Point{l.start(), l.end()} {
		for _, name := range names[k] {
			n.w.Landmark(name).At = at
		}
	}
}

// follow moves a facing as its garment's neckline has moved: it loses at shoulder
// and centre what the garment does, gains the same at its outer edge, and its
// neckline is the garment's.
func (n neck) follow(garment neck) error {
	w := n.w
	w.touched = true
	outer := w.next(n.shoulder)
	if !n.shoulderAfter {
		outer = w.prev(n.shoulder)
	}
	if w.next(outer) != n.centre && w.prev(outer) != n.centre {
		return refuse(fmt.Sprintf("facing %q has more than one edge between shoulder and centre", w.Name), "join them into one first")
	}
	if wide, room := w.lines[n.shoulder].length(), garment.w.lines[garment.shoulder].length(); wide > room+cutSliver {
		return refuse(fmt.Sprintf("facing %q is %.1f mm wide at the shoulder, and only %.1f mm of shoulder would be left", w.Name, wide, room), "widen the neckline by less, or make the facing narrower first")
	}
	onto, _ := sameLine(n.was, garment.was) // from the garment to the facing
	for _, s := range []struct {
		i           int
		neckAtStart bool
		by          float64
	}{{n.shoulder, n.shoulderAfter, n.out}, {n.centre, !n.shoulderAfter, n.down}} {
		// The far end first: what is added there can be cut off at the neck. It is
		// the same edge, moved along, however far.
		was := wholeOf(w.lines[s.i])
		if s.neckAtStart {
			w.lines[s.i] = redrawn(extendStart(extendEnd(w.lines[s.i], s.by), -s.by).path(), was)
		} else {
			w.lines[s.i] = redrawn(extendEnd(extendStart(w.lines[s.i], s.by), -s.by).path(), was)
		}
	}
	neckline := garment.w.lines[garment.i].path().Transform(onto)
	w.lines[n.i] = redrawn(neckline, wholeOf(w.lines[n.i])).snapEnds(w.lines[w.prev(n.i)].end(), w.lines[w.next(n.i)].start())
	w.redrawBetween(outer, n.upright(), 0, 0)
	w.heal()
	w.Grain = grainThrough(w.outline(), w.Grain)
	return nil
}
