package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Pouch says how a front is made to overhang the waist.
type Pouch struct {
	// Piece is the front that pouches.
	Piece string
	// Extra is how much longer in mm its centre front becomes.
	Extra float64
	// Zone is the share of the waist, from the centre front, that the fullness is
	// drawn up in: more than 0, at most 1.
	Zone float64
	// Kind is how it is drawn up.
	Kind pattern.GatherKind
}

// PouchFront makes a bodice front longer at the centre front, and curves its
// waist from there to nothing at the other end. Waist darts are let out. What
// the waist gains, and what the darts took, is drawn up towards the centre
// front, so that it sews to what it did.
//
// Kept: the sewn waist, exactly; every edge but the centre front and the waist.
// Changed: the centre front by Extra. Degenerate: a piece without one centre
// front and one waist side by side, one whose centre front is sewn to another
// piece, and a waist that is gathered already are refused.
func PouchFront(p *pattern.Pattern, o Pouch) (*operation.Answer, error) {
	e := begin(p)
	w, err := e.pieceNamed(o.Piece)
	switch {
	case err != nil:
		return nil, err
	case !(o.Extra >= minSlash):
		return nil, refuse(fmt.Sprintf("%.1f mm do not make a front overhang", o.Extra), fmt.Sprintf("ask for %d mm or more", minSlash))
	case !(o.Zone > 0 && o.Zone <= 1):
		return nil, refuse(fmt.Sprintf("a share %g of the waist is no stretch to draw up", o.Zone), "give more than 0 and at most 1")
	}
	i, err := w.edgeOf(pattern.Waist)
	if err != nil {
		return nil, err
	}
	centre := w.next(i)
	follows := w.Edges[centre].Is() == pattern.CentreFront
	if !follows {
		if centre = w.prev(i); w.Edges[centre].Is() != pattern.CentreFront {
			return nil, refuse(fmt.Sprintf("the waist of piece %q does not end at its centre front", w.Name), "give that edge the role centre-front")
		}
	}
	name := w.Edges[i].Name
	if err := w.plainWaist(i, "pouch the front before gathering it"); err != nil {
		return nil, err
	}
	if other, _, ok := e.mate(w, w.Edges[centre].Name); ok {
		return nil, refuse(fmt.Sprintf("the centre front of piece %q is sewn to piece %q", w.Name, other.Name), "take that piece off first")
	}
	sewn, flat, long := e.sewnBefore(w.Name, name), w.lines[i].length(), w.lines[centre].length()
	for _, d := range w.Darts {
		if d.Edge == name {
			e.changed("dart "+d.Name+" is let out", w.Name, d.To-d.From, 0, "mm")
		}
	}
	w.Darts = slices.DeleteFunc(w.Darts, func(d pattern.Dart) bool { return d.Edge == name })
	w.touched = true
	whole := pattern.Stretch{Piece: w.Name, Edge: name, From: 0, To: flat}
	path := w.lines[i].path()
	if follows {
		w.lines[centre] = extendStart(w.lines[centre], o.Extra)
	} else {
		w.lines[centre] = extendEnd(w.lines[centre], o.Extra)
	}
	a, b := path.Start(), path.End()
	d0, d1 := path.StartDirection(), path.EndDirection()
	if follows {
		b = w.lines[centre].start()
		d1 = w.lines[centre].path().StartDirection().Right()
	} else {
		a = w.lines[centre].end()
		d0 = w.lines[centre].path().EndDirection().Left()
	}
	chord := a.Dist(b)
	w.lines[i] = redrawn(geom.Path{geom.Hermite(a, d0.Mul(chord), b, d1.Mul(chord))}, whole)
	w.heal()
	cut := w.lines[i].length()
	g := pattern.Gather{Name: freshName(w, gatherName(o.Kind, name)), Edge: name, Kind: o.Kind, From: 0, To: o.Zone * cut}
	if follows {
		g.From, g.To = (1-o.Zone)*cut, cut
	}
	g.Length = g.To - g.From - (cut - sewn)
	if g.Length < minGathered {
		return nil, refuse(fmt.Sprintf("%.0f mm of fullness cannot be drawn up in %.0f mm of the waist", cut-sewn, g.To-g.From), "draw it up over more of the waist, or ask for less")
	}
	w.fresh.gathers = append(w.fresh.gathers, g)
	e.gatherSeams(w.Name, name, o.Kind)
	e.changedFirst(0, "centre front", w.Name, long, w.lines[centre].length(), "mm")
	e.changed("waist, cut", w.Name, flat, cut, "mm")
	e.changed("waist, sewn", w.Name, sewn, cut-(g.To-g.From)+g.Length, "mm")
	e.changed("drawn up over", w.Name, g.To-g.From, g.Length, "mm")
	if math.Abs(g.To-g.From) > mostFull*g.Length {
		e.caution("The pouch is drawn up to less than a third of its width: it will be bulky at the waist seam.")
	}
	return e.finish()
}

// mostFull is the fullness from which gathers in a waist seam are called bulky:
// heavier than light cloth takes (common practice, 2.5–3 for sheer cloth).
const mostFull = 3
