package alter

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

const (
	// hipDepth is how far the hip lies below the waist, in mm: 7 in by the walking
	// skirt of Every Woman's Encyclopaedia vol. 1 (c. 1910-11), to the nearest
	// centimetre.
	hipDepth = 180
	// growReach is how far below the old waist, in mm, an edge is redrawn when the
	// waist goes up: twice the hip's depth or so, that the line may pass from the
	// old flare to the new waist without a hollow at the old one.
	growReach = 350
)

// raiseSkirt makes the skirt grow up to the raised bodice.
func (e *edit) raiseSkirt(bodice []*work, r rises) error {
	if len(e.roles(pattern.SkirtFront, pattern.SkirtBack)) == 0 {
		return nil
	}
	skirt, err := e.skirtWith(pattern.Waist)
	if err != nil {
		return err
	}
	wanted := map[pattern.Role]float64{} // sewn waist the bodice now brings, per skirt role
	for _, w := range bodice {
		i, err := w.edgeOf(pattern.Waist)
		if err != nil {
			return err
		}
		role := pattern.SkirtBack
		if isFront(w) {
			role = pattern.SkirtFront
		}
		wanted[role] += w.sewnNow(i)
	}
	had := map[pattern.Role]float64{}
	for _, w := range skirt {
		i, err := w.edgeOf(pattern.Waist)
		if err != nil {
			return err
		}
		had[w.side] += e.sewnBefore(w.Name, w.Edges[i].Name)
	}
	for _, w := range skirt {
		i, err := w.edgeOf(pattern.Waist)
		if err != nil {
			return err
		}
		name := w.Edges[i].Name
		sewn := e.sewnBefore(w.Name, name)
		if slices.ContainsFunc(w.Pleats, func(f pattern.Pleat) bool { return f.Edge == name }) {
			return refuse(fmt.Sprintf("the waist of piece %q is laid in pleats, which would not fit the waist above", w.Name), "raise the waist before laying the pleats")
		}
		e.dropDarts(w.work, name)
		takenUp := 0.0
		for _, g := range w.Gathers {
			if g.Edge == name {
				takenUp += g.To - g.From - g.Length
			}
		}
		target := wanted[w.side]*sewn/had[w.side] + takenUp
		if err := w.raiseGore(i, r, target); err != nil {
			return err
		}
		e.changed("waist, sewn", w.Name, sewn, w.lines[i].length()-takenUp, "mm")
	}
	return nil
}

// dropDarts takes the darts out of a skirt's waist: they shaped it to a waist that
// is no longer there, and what they took up goes towards the wider one above.
func (e *edit) dropDarts(w *work, edge string) {
	w.Darts = slices.DeleteFunc(w.Darts, func(d pattern.Dart) bool {
		if d.Edge == edge {
			e.changed("dart "+d.Name+", not wanted at the new waist", w.Name, d.To-d.From, 0, "mm")
		}
		return d.Edge == edge
	})
}

// raiseGore grows one skirt piece: each neighbour of its waist edge i by the
// rise there, and the waist to the length target. A fold goes straight on and
// the other end finds its own place; where both ends are seams they share what
// the waist gains or loses.
func (w *work) raiseGore(i int, r rises, target float64) error {
	before, after := w.prev(i), w.next(i)
	up1, ok1 := r.on(w, before)
	up2, ok2 := r.on(w, after)
	if !ok1 || !ok2 {
		return refuse(fmt.Sprintf("the waist of piece %q lies between %q and %q", w.Name, w.Edges[before].Name, w.Edges[after].Name),
			notOnWaist)
	}
	w.touched = true
	old := wholeOf(w.lines[i])
	ends := [2]growing{w.growth(before, up1, true), w.growth(after, up2, false)}
	// The first is settled beforehand: the fold, or the centre before the side.
	first := 0
	if w.Edges[after].Finish == pattern.Fold ||
		w.Edges[before].Finish != pattern.Fold && w.Edges[after].Is() != pattern.Side && w.Edges[before].Is() == pattern.Side {
		first = 1
	}
	fixed, free := &ends[first], &ends[1-first]
	if w.Edges[[2]int{before, after}[first]].Finish != pattern.Fold {
		apart := fixed.guess.Sub(free.guess)
		if err := fixed.reach(fixed.guess.Add(apart.Unit().Mul((target - apart.Len()) / 2))); err != nil {
			return refuse(fmt.Sprintf("the waist of piece %q cannot be brought to %.1f mm at that height", w.Name, target), "raise the waist by less")
		}
	}
	waist := func() geom.Path {
		a, b := ends[0].top(), ends[1].top()
		return squareAcross(a.End(), a.EndDirection().Left(), b.Start(), b.StartDirection().Right())
	}
	if !free.settle(waist, target) {
		return refuse(fmt.Sprintf("the waist of piece %q cannot be brought to %.1f mm at that height", w.Name, target),
			"raise the waist by less, or widen the skirt first")
	}
	// Gathers are spread with the waist, and take up what they did.
	for k := range w.Gathers {
		if g := &w.Gathers[k]; g.Edge == w.Edges[i].Name {
			g.Length += (g.To - g.From) * (waist().Length()/w.lines[i].length() - 1)
		}
	}
	w.lines[before], w.lines[i], w.lines[after] = ends[0].line(), redrawn(waist(), old), ends[1].line()
	w.heal()
	return nil
}

// squareAcross draws a line between two places, leaving one and reaching the
// other in the given directions.
func squareAcross(from, leave, to, arrive geom.Point) geom.Path {
	chord := from.Dist(to)
	return geom.Path{geom.Hermite(from, leave.Mul(chord), to, arrive.Mul(chord))}
}

// growing is an edge of a skirt whose top is redrawn, from below the hip to q.
type growing struct {
	keep       line            // what stays, up to the hip
	old        pattern.Stretch // the stretch of input that is redrawn
	hip        geom.Point
	dir        geom.Point // tangent at the hip, towards the waist
	want       float64    // length of the redrawn top
	guess      geom.Point // where the old line would run on to
	q          geom.Point
	waistAtEnd bool // the waist is at the end of the edge
}

func (w *work) growth(i int, up float64, waistAtEnd bool) growing {
	l := w.lines[i]
	reach := math.Min(growReach, 0.9*l.length())
	g := growing{want: reach + up, waistAtEnd: waistAtEnd}
	if waistAtEnd {
		keep, top := l.split(l.length() - reach)
		g.keep, g.old, g.hip, g.dir = keep, wholeOf(top), keep.end(), keep.path().EndDirection()
		g.guess = l.end().Add(l.path().EndDirection().Mul(up))
	} else {
		top, keep := l.split(reach)
		g.keep, g.old, g.hip, g.dir = keep, wholeOf(top), keep.start(), keep.path().StartDirection().Mul(-1)
		g.guess = l.start().Sub(l.path().StartDirection().Mul(up))
	}
	if w.Edges[i].Finish == pattern.Fold {
		g.guess = g.hip.Add(g.dir.Mul(g.want))
	}
	g.q = g.guess
	return g
}

// top returns the redrawn top in the direction of the boundary.
func (g *growing) top() geom.Path {
	p := geom.Smooth([]geom.Point{g.hip, g.q}, g.dir, geom.Point{})
	if g.waistAtEnd {
		return p
	}
	return p.Reverse()
}

// line returns the whole edge.
func (g *growing) line() line {
	if g.waistAtEnd {
		return g.keep.join(redrawn(g.top(), g.old))
	}
	return redrawn(g.top(), g.old).join(g.keep)
}

// Newton's method on a skirt's top: the step of the differences, the miss that
// counts as none, the longest move, all mm, and when to give up.
const (
	growStep  = 1e-4
	growExact = 1e-9
	growMove  = 40
	growTries = 60
)

// errNoFit stays inside this file: the callers say it in the piece's words.
var errNoFit = errors.New("no length fits")

// reach puts the top's end at q, slid along the line from the hip until the top
// has the length it must have.
func (g *growing) reach(q geom.Point) error {
	along := q.Sub(g.hip).Unit()
	miss := func(far float64) float64 {
		g.q = g.hip.Add(along.Mul(far))
		return g.top().Length() - g.want
	}
	far := g.want
	for range growTries {
		m := miss(far)
		if math.Abs(m) < growExact {
			return nil
		}
		slope := (miss(far+growStep) - m) / growStep
		if slope < 0.1 || math.IsNaN(slope) {
			break
		}
		far -= m / slope
	}
	return errNoFit
}

// settle finds the end for which both the top and the waist have the lengths
// they must have: two lengths, two coordinates.
func (g *growing) settle(waist func() geom.Path, target float64) bool {
	miss := func(q geom.Point) geom.Point {
		g.q = q
		return geom.Pt(g.top().Length()-g.want, waist().Length()-target)
	}
	q := g.guess
	for range growTries {
		m := miss(q)
		if m.Len() < growExact {
			return true
		}
		dx := miss(q.Add(geom.Pt(growStep, 0))).Sub(m).Mul(1 / growStep)
		dy := miss(q.Add(geom.Pt(0, growStep))).Sub(m).Mul(1 / growStep)
		det := dx.Cross(dy)
		if math.Abs(det) < 1e-6 || !q.Finite() {
			return false
		}
		move := geom.Pt(-m.Cross(dy)/det, -dx.Cross(m)/det)
		if l := move.Len(); l > growMove { // far steps leave the region where the lines behave
			move = move.Mul(growMove / l)
		}
		q = q.Add(move)
	}
	return false
}
