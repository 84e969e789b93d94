package alter

import (
	"fmt"
	"math"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// ScyeDepth says how an armscye is deepened, in mm.
type ScyeDepth struct {
	// Down is how far it goes down the side seam; negative raises it.
	Down float64
	// ScoopFront and ScoopBack hollow it further into the front and into the
	// piece on the other side of the side seam, a third of the way up.
	ScoopFront, ScoopBack float64
}

// LowerArmscye deepens or raises the armscye at the underarm, and scoops it
// towards the front or the back. The sleeve's head is refitted to it.
//
// Kept: the shoulder end of the armscye; the angle at which it meets the side
// seam; the two side edges lose the same length, and go together as before; the
// head's ease, or its gathers drawn up to the armscye. Changed: the lower
// two thirds of the armscye on both sides of the side seam, and the head's height.
//
// Degenerate: an armscye that no side seam ends on, one sewn to something other
// than a sleeve, a dart in the way and a side seam too short are refused.
func LowerArmscye(p *pattern.Pattern, o ScyeDepth) (*operation.Answer, error) {
	e := begin(p)
	if !geom.Pt(o.Down, 0).Finite() || !geom.Pt(o.ScoopFront, o.ScoopBack).Finite() {
		return nil, refuse("an armscye cannot be deepened by a distance that is no number", "give it in mm")
	}
	front, back, err := e.underarm()
	if err != nil {
		return nil, err
	}
	before := e.sumOf(pattern.Armscye, e.bodies()...)
	for _, s := range []scye{front, back} {
		scoop := o.ScoopBack
		if s == front {
			scoop = o.ScoopFront
		}
		if err := s.lower(o.Down); err != nil {
			return nil, err
		}
		if math.Abs(scoop) > cutSliver {
			s.scoop(scoop)
		}
		s.w.pinUnderarm(s)
		s.w.heal()
		s.w.keepGrainInside()
	}
	e.changed("underarm lowered", "", 0, o.Down, "mm")
	e.changed("armscye", "", before, e.sumOf(pattern.Armscye, e.bodies()...), "mm")
	for _, s := range []scye{front, back} {
		e.changed(s.w.Edges[s.arm].Name, s.w.Name, s.wasArm, s.w.lines[s.arm].length(), "mm")
		e.changed(s.w.Edges[s.side].Name, s.w.Name, s.wasSide, s.w.lines[s.side].length(), "mm")
	}
	if o.Down > 0 {
		e.caution("A deeper armscye lifts the bodice when the arm is raised: try reaching up and forward in the mock-up.")
	} else if o.Down < 0 {
		e.caution("A higher armscye can cut under the arm: try it in the mock-up before cutting cloth.")
	}
	return e.finishWithSleeve()
}

// CrossBack says how far the back is narrowed at the armscye.
type CrossBack struct {
	// By is mm off each half of the back at its narrowest; negative widens it.
	By float64
	// At is where, as a share of the back armscye from the shoulder; 0 is 0.45,
	// where a back is measured across.
	At float64
}

// NarrowCrossBack hollows the back's armscye at the level of the cross-back, and
// refits the sleeve's head.
//
// Kept: the shoulder and side ends of the armscye and its directions there; the
// head's ease. Changed: the back's armscye and the head's height. Degenerate: a
// back without one armscye edge, or an armscye sewn to something other than a
// sleeve, is refused.
func NarrowCrossBack(p *pattern.Pattern, o CrossBack) (*operation.Answer, error) {
	e := begin(p)
	share := o.At
	if share == 0 {
		share = crossBackAt
	}
	if !(share >= 0.1 && share <= 0.9) || !geom.Pt(o.By, 0).Finite() {
		return nil, refuse(fmt.Sprintf("the cross-back cannot lie at %g of the armscye", o.At), "choose a share from 0.1 to 0.9")
	}
	backs := e.role(pattern.BodiceBack)
	if len(backs) != 1 {
		return nil, refuse(fmt.Sprintf("the pattern has %d pieces with the role %s", len(backs), pattern.BodiceBack), oneOf(len(backs)))
	}
	w := backs[0]
	i, err := w.edgeOf(pattern.Armscye)
	if err != nil {
		return nil, err
	}
	if err := e.plainSide(side{w: w, i: i}); err != nil {
		return nil, err
	}
	if w.Edges[w.next(i)].Is() == pattern.Shoulder {
		share = 1 - share
	} else if w.Edges[w.prev(i)].Is() != pattern.Shoulder {
		return nil, refuse(fmt.Sprintf("the armscye of piece %q does not begin or end at a shoulder", w.Name), "narrow the back before a yoke or style line is cut off it")
	}
	w.touched = true
	was := w.lines[i].length()
	w.lines[i] = w.lines[i].hollowed(o.By, share)
	w.heal()
	w.keepGrainInside()
	e.changed("back narrowed at the armscye, each half", w.Name, 0, o.By, "mm")
	e.changed(w.Edges[i].Name, w.Name, was, w.lines[i].length(), "mm")
	e.caution("A narrow back keeps the arms from reaching forward: try driving, lifting and hugging in the mock-up.")
	return e.finishWithSleeve()
}

// crossBackAt is where a back is measured across, as a share of its armscye from
// the shoulder; common practice puts it about halfway between shoulder and underarm.
const crossBackAt = 0.45

// scye is the lower end of an armscye on one side of the side seam.
type scye struct {
	w               *work
	arm, side       int
	armStarts       bool // the armscye edge begins at the underarm
	wasArm, wasSide float64
}

// underarm returns the two sides of the seam that the armscye ends on under the
// arm: the front's first.
func (e *edit) underarm() (front, back scye, err error) {
	fronts := e.role(pattern.BodiceFront)
	if len(fronts) == 1 && len(fronts[0].Piece.EdgesByRole(pattern.Armscye)) == 0 { // a panel line has taken it
		fronts = e.role(pattern.BodiceSideFront)
	}
	if len(fronts) != 1 {
		return front, back, refuse(fmt.Sprintf("the pattern has %d pieces with the role %s", len(fronts), pattern.BodiceFront), oneOf(len(fronts)))
	}
	w := fronts[0]
	arm, err := w.edgeOf(pattern.Armscye)
	if err != nil {
		return front, back, err
	}
	front = scye{w: w, arm: arm, side: w.prev(arm), armStarts: true}
	if w.Edges[front.side].Is() == pattern.Shoulder {
		front.side, front.armStarts = w.next(arm), false
	}
	own := side{w: w, i: front.side}
	seams := e.in.SeamsOf(w.Name, own.name())
	if len(seams) != 1 {
		return front, back, refuse(fmt.Sprintf("no seam takes the %s edge of piece %q under the arm", own.name(), w.Name), "add that seam to the pattern")
	}
	j, err := e.joint(seams[0].Name)
	if err != nil {
		return front, back, err
	}
	if err := j.faceUp(); err != nil {
		return front, back, err
	}
	own, mate := j.a, j.b
	if own.w != w || own.i != front.side {
		own, mate = mate, own
	}
	back = scye{w: mate.w, side: mate.i, armStarts: !front.armStarts}
	back.arm = mate.w.next(mate.i)
	if !back.armStarts {
		back.arm = mate.w.prev(mate.i)
	}
	if mate.w.Edges[back.arm].Is() != pattern.Armscye {
		return front, back, refuse(fmt.Sprintf("edge %q of piece %q does not end on an armscye", mate.name(), mate.w.Name), "give the edge beside it the role "+pattern.Armscye)
	}
	for _, s := range []*scye{&front, &back} {
		if err := e.plainSide(side{w: s.w, i: s.arm}); err != nil {
			return front, back, err
		}
		s.wasArm, s.wasSide = s.w.lines[s.arm].length(), s.w.lines[s.side].length()
	}
	return front, back, nil
}

const (
	// scyeReach is how much of an armscye edge moves when its underarm does: the
	// rest, towards the shoulder, is the fit of the chest and the back.
	scyeReach = 0.67
	// scoopAt is where a scoop is deepest, as a share from the underarm.
	scoopAt = 0.33
)

// lower takes down mm off the side edge at the underarm, or adds to it, and draws
// the lower part of the armscye to the new corner.
func (s scye) lower(down float64) error {
	w := s.w
	if math.Abs(down) <= cutSliver {
		return nil
	}
	if long := w.lines[s.side].length(); down >= long-minSlash {
		return refuse(fmt.Sprintf("the side seam of piece %q measures %.1f mm and cannot be lowered by %.1f mm", w.Name, long, down), "lower the armscye by less")
	}
	w.touched = true
	sideWas := w.lines[s.side].path()
	var corner geom.Point
	var turn float64
	if s.armStarts { // the side edge ends at the underarm
		w.lines[s.side] = extendEnd(w.lines[s.side], -down)
		corner = w.lines[s.side].end()
		turn = geom.Turn(sideWas.EndDirection(), w.lines[s.side].path().EndDirection())
	} else {
		w.lines[s.side] = extendStart(w.lines[s.side], -down)
		corner = w.lines[s.side].start()
		turn = geom.Turn(sideWas.StartDirection(), w.lines[s.side].path().StartDirection())
	}
	l := w.lines[s.arm]
	total, start, end := l.length(), l.path().StartDirection(), l.path().EndDirection()
	from := l.end()
	if s.armStarts {
		from = l.start()
		start = geom.Rotation(geom.Point{}, turn).Apply(start)
	} else {
		end = geom.Rotation(geom.Point{}, turn).Apply(end)
	}
	move := corner.Sub(from)
	l = l.reshaped(func(p geom.Point, at float64, _ geom.Point) geom.Point {
		u := at / total // share from the underarm
		if !s.armStarts {
			u = 1 - u
		}
		if u >= scyeReach {
			return p
		}
		return p.Add(move.Mul((1 + math.Cos(math.Pi*u/scyeReach)) / 2))
	}, start, end)
	if s.armStarts {
		l = l.snapEnds(corner, l.end())
	} else {
		l = l.snapEnds(l.start(), corner)
	}
	w.lines[s.arm] = l
	return nil
}

// scoop hollows the armscye above the underarm.
func (s scye) scoop(by float64) {
	share := scoopAt
	if !s.armStarts {
		share = 1 - share
	}
	s.w.touched = true
	s.w.lines[s.arm] = s.w.lines[s.arm].hollowed(by, share)
}

// pinUnderarm puts the landmark of that name back on the corner under the arm.
func (w *work) pinUnderarm(s scye) {
	m := w.Landmark("underarm")
	if m == nil {
		return
	}
	m.At = w.lines[s.arm].end()
	if s.armStarts {
		m.At = w.lines[s.arm].start()
	}
}

// bodies returns the pieces that have an armscye.
func (e *edit) bodies() []*work {
	var found []*work
	for _, w := range e.pieces {
		if len(w.Piece.EdgesByRole(pattern.Armscye)) > 0 {
			found = append(found, w)
		}
	}
	return found
}

// finishWithSleeve finishes an edit that changed the armscye, and refits the
// sleeve's head to it with the ease that it had.
func (e *edit) finishWithSleeve() (*operation.Answer, error) {
	var seam *pattern.Seam
	for _, w := range e.bodies() {
		for _, edge := range w.Piece.EdgesByRole(pattern.Armscye) {
			for _, s := range e.in.SeamsOf(w.Name, edge.Name) {
				if seam != nil && seam.Name != s.Name {
					return nil, refuse(fmt.Sprintf("the armscye is taken by two seams, %q and %q", seam.Name, s.Name), "make this alteration before a lining is cut or the armscye is divided")
				}
				seam = s
			}
		}
	}
	if seam != nil {
		e.settled = []string{seam.Name} // once the sleeve has followed
	}
	first, err := e.finish()
	if err != nil || seam == nil {
		return first, err
	}
	sleeves := e.role(pattern.Sleeve)
	head := func(r pattern.Run) bool {
		return len(r) == 1 && len(sleeves) == 1 && r[0].Piece == sleeves[0].Name && sleeves[0].Edge(r[0].Edge) != nil && sleeves[0].Edge(r[0].Edge).Is() == pattern.Cap
	}
	scye, cap := seam.A, seam.B
	if head(scye) {
		scye, cap = cap, scye
	}
	if !head(cap) {
		return nil, refuse(fmt.Sprintf("seam %q sews the armscye to something other than the head of one sleeve", seam.Name), "take this step before the one that sews that on")
	}
	ease := e.in.RunLength(cap) - e.in.RunLength(scye)
	if math.Abs(ease) < cutSliver {
		ease = 0
	}
	second, err := RefitCap(first.Pattern, ease)
	if err != nil {
		return nil, err
	}
	second.Lineage = first.Lineage.Then(second.Lineage)
	e.settled = nil
	e.keepInStep(second.Pattern, second.Lineage)
	remark(second.Pattern)
	second.Changes = append(first.Changes, second.Changes...)
	second.Cautions = append(first.Cautions, second.Cautions...)
	return second, nil
}
