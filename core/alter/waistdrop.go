package alter

import (
	"fmt"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// WaistDrop says where a lowered waist seam goes.
type WaistDrop struct {
	// BelowArmscye is the length in mm that the side seam of the bodice comes to
	// have under the armscye.
	BelowArmscye float64
	// AtLeast is how much longer than it is the side seam becomes in any case, mm:
	// on a long body BelowArmscye may be no lower than the waist is already.
	AtLeast float64
	// AtCentreFront and AtCentreBack are how much further down in mm the seam goes
	// there than at the side; negative is higher.
	AtCentreFront, AtCentreBack float64
	// CarryDarts has the waist darts of the bodice run on down to the new seam,
	// with the mouths they had; else they are left unsewn.
	CarryDarts bool
}

// LowerWaist moves the waist seam down. The skirt loses its top; the bodice
// grows downward to the skirt's new, wider edge: its centres straight on, its
// sides in one smooth line from the bust. Waist darts of the bodice are left
// unsewn, since a dropped waist hangs straight past the old one: where they were
// is marked by landmarks, named after the dart and ending in point, from and to.
// Or they are carried on down: the point stays, and the mouth lies on the new
// seam where the dart's middle line meets it, as wide as it was, its legs equal.
//
// Kept: all seams pair, the centre and side lengths from neck to hem, the hem.
// Changed: the waist's length; the bodice's side. Darts of the skirt that reach
// below the new seam stay, shorter and with narrower mouths; those that end
// above it go with the cloth they were in. Degenerate: a waist that would not be
// lower everywhere, one that is gathered or pleated, or one lower than an
// opening of the skirt reaches, a skirt with a layer basted onto its waist, and a
// dart to be carried that does not point at the new seam, are refused.
func LowerWaist(p *pattern.Pattern, o WaistDrop) (*operation.Answer, error) {
	e := begin(p)
	bodice := e.roles(pattern.BodiceFront, pattern.BodiceBack, pattern.BodiceSideBack, pattern.BodiceSideFront)
	if len(bodice) == 0 {
		return nil, refuse("the pattern has no bodice", "give its pieces the roles bodice-front and bodice-back")
	}
	skirt, err := e.skirtWith(pattern.Waist)
	if err != nil {
		return nil, err
	}
	if err := e.waistsSewn(slices.Concat(bodice, works(skirt))); err != nil {
		return nil, err
	}
	rise, long, err := e.sideRise(bodice, o.BelowArmscye)
	if err != nil {
		return nil, err
	}
	if o.AtLeast > 0 {
		rise = min(rise, -o.AtLeast)
	}
	below := long - rise
	r := rises{side: -rise, centreFront: o.AtCentreFront - rise, centreBack: o.AtCentreBack - rise}
	if min(r.side, r.centreFront, r.centreBack) < minSlash {
		return nil, refuse(fmt.Sprintf("the side seam measures %.1f mm under the armscye: the waist would not go down", long),
			fmt.Sprintf("ask for more than %.0f mm below the armscye", long+minSlash))
	}
	r.sideBack = e.shareFromSide(bodice)
	r.joints = e.waistJoints(bodice, works(skirt))
	e.changed("bodice side seam under the armscye", "", long, below, "mm")
	if below > o.BelowArmscye+toldTo {
		e.caution(fmt.Sprintf("The side seam measures %.0f mm under the armscye already, so the waist was lowered by %.0f mm instead of to %.0f: try on the mock-up how low it is to lie.", long, o.AtLeast, o.BelowArmscye))
	}
	wanted, had := map[pattern.Role]float64{}, map[pattern.Role]float64{}
	for _, w := range skirt {
		i, err := w.edgeOf(pattern.Waist)
		if err != nil {
			return nil, err
		}
		if err := w.plainWaist(i, "lower the waist before gathering it"); err != nil {
			return nil, err
		}
		if layer := e.bastedOn(w.work, w.Edges[i].Name); layer != "" {
			return nil, refuse(fmt.Sprintf("piece %q is basted onto the waist of piece %q", layer, w.Name), "lower the waist before laying that over it")
		}
		for _, n := range []int{w.prev(i), w.next(i)} {
			if by, ok := r.on(w.work, n); ok && by >= w.lines[n].length()-minSlash {
				return nil, refuse(fmt.Sprintf("edge %q of piece %q, %.0f mm long, ends above the new waist", w.Edges[n].Name, w.Name, w.lines[n].length()), "lower the waist by less")
			}
		}
		if err := w.raiseBodice(e, rises{side: r.side, centreFront: r.centreFront, centreBack: r.centreBack, joints: r.joints}); err != nil {
			return nil, err
		}
		sewn := w.sewnNow(i)
		wanted[w.side] += sewn
		e.changed("waist, sewn", w.Name, e.sewnBefore(w.Name, w.Edges[i].Name), sewn, "mm")
	}
	of := func(w *work) pattern.Role {
		if isFront(w) {
			return pattern.SkirtFront
		}
		return pattern.SkirtBack
	}
	for _, w := range bodice {
		i, err := w.edgeOf(pattern.Waist)
		if err != nil {
			return nil, err
		}
		if err := w.plainWaist(i, "lower the waist before gathering it"); err != nil {
			return nil, err
		}
		had[of(w)] += e.sewnBefore(w.Name, w.Edges[i].Name)
	}
	for _, w := range bodice {
		i, _ := w.edgeOf(pattern.Waist)
		name := w.Edges[i].Name
		sewn := e.sewnBefore(w.Name, name)
		d, err := e.dartsToDrop(w, i, o.CarryDarts)
		if err != nil {
			return nil, err
		}
		target := wanted[of(w)] * sewn / had[of(w)]
		if err := w.dropBodice(i, r, target, d); err != nil {
			return nil, err
		}
		for k, dart := range d.darts {
			was := w.lines[i]
			e.changed("dart "+dart.Name+" carried on down, its legs", w.Name, d.leg[k], d.legNow[k], "mm")
			e.changed("dart "+dart.Name+", mouth", w.Name, d.mouth[k], was.carried(w.Name, name, dart.From, dart.To), "mm")
		}
		e.changed("waist, sewn", w.Name, sewn, w.sewnNow(i), "mm")
	}
	return e.finish()
}

// plainWaist refuses a waist with gathers or pleats in it.
func (w *work) plainWaist(i int, instead string) error {
	name := w.Edges[i].Name
	if slices.ContainsFunc(w.Gathers, func(g pattern.Gather) bool { return g.Edge == name }) ||
		slices.ContainsFunc(w.Pleats, func(f pattern.Pleat) bool { return f.Edge == name }) {
		return refuse(fmt.Sprintf("the waist of piece %q is gathered or pleated", w.Name), instead)
	}
	return nil
}

// dropBodice grows one bodice piece down: each neighbour of its waist edge i by
// the drop there, and the waist to the length target, sewn, with the darts that
// are carried down to it.
func (w *work) dropBodice(i int, r rises, target float64, d *droppedDarts) error {
	for range mouthTries {
		c := w.copy()
		if err := c.dropOnce(i, r, target, d); err != nil {
			return err
		}
		if off := d.adjust(); off < equalTolerance {
			*w = *c
			return nil
		}
	}
	return refuse(fmt.Sprintf("the darts of piece %q cannot be carried down to the new waist", w.Name), "leave them unsewn")
}

// dropOnce is one try of dropBodice, with the darts at the angles they have now.
func (w *work) dropOnce(i int, r rises, target float64, d *droppedDarts) error {
	before, after := w.prev(i), w.next(i)
	down1, ok1 := r.on(w, before)
	down2, ok2 := r.on(w, after)
	if !ok1 || !ok2 {
		return refuse(fmt.Sprintf("the waist of piece %q lies between %q and %q", w.Name, w.Edges[before].Name, w.Edges[after].Name),
			notOnWaist)
	}
	w.touched = true
	ends := [2]growing{w.dropped(before, down1, true), w.dropped(after, down2, false)}
	first := 0
	if w.Edges[after].Finish == pattern.Fold ||
		w.Edges[before].Finish != pattern.Fold && w.Edges[after].Is() != pattern.Side && w.Edges[before].Is() == pattern.Side {
		first = 1
	}
	fixed, free := &ends[first], &ends[1-first]
	no := refuse(fmt.Sprintf("the waist of piece %q cannot be brought to %.1f mm at that depth", w.Name, target), "lower the waist by less, or to where the skirt is nearer to it in width")
	if w.Edges[[2]int{before, after}[first]].Finish != pattern.Fold {
		if err := fixed.reach(fixed.guess); err != nil {
			return no
		}
	}
	// The free end starts where the waist would be straight across.
	apart := free.guess.Sub(fixed.q)
	free.guess = fixed.q.Add(apart.Unit().Mul(max(target+d.take(), 1)))
	closed := d.closed()
	last := closed[len(d.darts)]
	waist := func() geom.Path { // with the darts closed: that is what it measures sewn
		a, b := ends[0].top(), ends[1].top()
		return squareAcross(a.End(), a.EndDirection().Left(), last.Apply(b.Start()), linear(last).Apply(b.StartDirection()).Right())
	}
	if !free.settle(waist, target) {
		return no
	}
	curve := waist()
	crossings, err := d.meet(w, curve, closed)
	if err != nil {
		return err
	}
	w.lines[i] = w.openWaist(i, curve, d.darts, closed, crossings)
	w.lines[before], w.lines[after] = ends[0].line(), ends[1].line()
	w.heal()
	w.keepGrainInside()
	return nil
}

// dropped is growth for a bodice: the edge is drawn anew from as far up as its
// darts, and its own upper end, allow.
func (w *work) dropped(i int, down float64, waistAtEnd bool) growing {
	l, name := w.lines[i], w.Edges[i].Name
	at := 0.0
	if waistAtEnd {
		at = l.length()
	}
	lo, hi := w.freeAround(name, at, at, l.length())
	reach := 0.85 * (hi - lo)
	if reach < minSlash { // a dart ends at the waist: straight on from there
		reach = min(minSlash, l.length()/2)
	}
	g := growing{want: reach + down, waistAtEnd: waistAtEnd}
	if waistAtEnd {
		keep, top := l.split(l.length() - reach)
		g.keep, g.old, g.hip, g.dir = keep, wholeOf(top), keep.end(), keep.path().EndDirection()
		g.guess = l.end().Add(l.end().Sub(g.hip).Unit().Mul(down))
	} else {
		top, keep := l.split(reach)
		g.keep, g.old, g.hip, g.dir = keep, wholeOf(top), keep.start(), keep.path().StartDirection().Mul(-1)
		g.guess = l.start().Add(l.start().Sub(g.hip).Unit().Mul(down))
	}
	if w.Edges[i].Finish == pattern.Fold {
		g.guess = g.hip.Add(g.dir.Mul(g.want))
	}
	g.q = g.guess
	return g
}

// bastedOn returns the first piece that is basted onto the edge as an outer
// layer; none is the empty name.
func (e *edit) bastedOn(w *work, edge string) string {
	for _, s := range e.seams {
		if s.Kind == pattern.Basted && s.B.Has(w.Name, edge) {
			return s.A[0].Piece
		}
	}
	return ""
}
