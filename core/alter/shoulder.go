package alter

import (
	"fmt"
	"math"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// ShoulderMove says how far the shoulder seam goes towards the back: mm along
// the back neckline at the neck, and along the back armscye at the arm.
// Negative values move it towards the front.
type ShoulderMove struct{ AtNeck, AtArm float64 }

// MoveShoulder moves the shoulder seam: a strip is cut off one side and sewn
// onto the other, along the old seam. The new seam is straight.
//
// Kept: the sum of front and back neckline, of front and back armscye, and the
// area, when the two shoulders are of one length; the new shoulder edges are
// then equal exactly. Where one shoulder is eased onto the other the strip is
// drawn in along the seam to fit, and the ease stays what it was in proportion.
// A facing whose shoulder lies under the garment's gets the same move, by what
// the strip measures that far from the neck.
//
// Degenerate: shoulders with a dart, that are not straight within a millimetre,
// or a strip wider than the neckline or armscye it is taken from are refused.
func MoveShoulder(p *pattern.Pattern, m ShoulderMove) (*operation.Answer, error) {
	e := begin(p)
	front, back, err := e.pair(pattern.BodiceFront, pattern.BodiceBack)
	if err != nil {
		return nil, err
	}
	fi, err := front.edgeOf(pattern.Shoulder)
	if err != nil {
		return nil, err
	}
	bi, err := back.edgeOf(pattern.Shoulder)
	if err != nil {
		return nil, err
	}
	seamLength := back.lines[bi].length()
	if err := e.moveStrip(front, fi, back, bi, m.AtNeck, m.AtArm); err != nil {
		return nil, err
	}
	for _, s := range e.seams {
		if j, err := e.joint(s.Name); err == nil && (j.a.w == front && j.a.i == fi || j.b.w == front && j.b.i == fi) {
			j.holdLong(e)
		}
	}
	e.changed("shoulder seam moved back at the arm", "", 0, m.AtArm, "mm")
	e.changed("shoulder seam moved back at the neck", "", 0, m.AtNeck, "mm")
	e.tellSums(front, back)

	// Facings lie under the shoulder from the neck outwards.
	if ff, fb := e.role(pattern.FacingFront), e.role(pattern.FacingBack); len(ff) == 1 && len(fb) == 1 {
		i, errI := ff[0].edgeOf(pattern.Shoulder)
		j, errJ := fb[0].edgeOf(pattern.Shoulder)
		if errI == nil && errJ == nil {
			out := m.AtNeck + (m.AtArm-m.AtNeck)*math.Min(1, fb[0].lines[j].length()/seamLength)
			if err := e.moveStrip(ff[0], i, fb[0], j, m.AtNeck, out); err != nil {
				return nil, err
			}
		}
	}
	return e.finish()
}

// pair returns the only pieces of two roles.
func (e *edit) pair(a, b pattern.Role) (*work, *work, error) {
	one := func(r pattern.Role) (*work, error) {
		switch found := e.role(r); len(found) {
		case 1:
			return found[0], nil
		case 0:
			return nil, refuse(fmt.Sprintf("the pattern has no piece with the role %s", r),
				fmt.Sprintf("give the piece that is meant the role %s", r))
		default:
			return nil, refuse(fmt.Sprintf("the pattern has %d pieces with the role %s", len(found), r),
				"keep the role on the one that is meant")
		}
	}
	wa, err := one(a)
	if err != nil {
		return nil, nil, err
	}
	wb, err := one(b)
	return wa, wb, err
}

// tellSums notes the totals a shoulder move must keep.
func (e *edit) tellSums(front, back *work) {
	for _, role := range []string{pattern.Neckline, pattern.Armscye} {
		var before, after float64
		for _, w := range []*work{front, back} {
			for i, edge := range w.Edges {
				if edge.Is() == role {
					before += e.in.Piece(w.Name).Edge(edge.Name).Path.Length()
					after += w.lines[i].length()
				}
			}
		}
		e.changed("front and back "+role+" together", "", before, after, "mm")
	}
	for _, w := range []*work{front, back} {
		for i, edge := range w.Edges {
			switch edge.Is() {
			case pattern.Neckline, pattern.Armscye, pattern.Shoulder:
				e.changed(edge.Name, w.Name, e.in.Piece(w.Name).Edge(edge.Name).Path.Length(), w.lines[i].length(), "mm")
			}
		}
	}
}

// straightShoulder is how far in mm a shoulder may bow and still have a strip
// sewn along it as if it were straight.
const straightShoulder = 1

// moveStrip moves the seam between edge fi of front and edge bi of back towards
// the back. Around front the neckline follows the shoulder or comes before it,
// and around back the other way: one is the other's mirror image.
func (e *edit) moveStrip(front *work, fi int, back *work, bi int, atNeck, atArm float64) error {
	for _, s := range []struct {
		w *work
		i int
	}{{front, fi}, {back, bi}} {
		name := s.w.Edges[s.i].Name
		if e.takesUp(s.w, name) {
			return refuse(fmt.Sprintf("the %s edge of piece %q has a dart or fullness in it", name, s.w.Name),
				"turn the dart elsewhere or let the fullness out first")
		}
		if !s.w.lines[s.i].path().Straight(straightShoulder) {
			return refuse(fmt.Sprintf("the %s edge of piece %q is curved by more than %d mm", name, s.w.Name, straightShoulder),
				"straighten it first")
		}
	}
	// The giver loses the strip, the taker gains it.
	giver, gi, taker, ti := back, bi, front, fi
	sign := 1.0
	if atNeck+atArm < 0 {
		giver, gi, taker, ti = front, fi, back, bi
		sign = -1
	}
	atNeck, atArm = sign*atNeck, sign*atArm
	if atNeck < 0 || atArm < 0 {
		return refuse("the shoulder seam cannot move back at one end and forward at the other", "move one end after the other")
	}
	if atNeck <= cutSliver && atArm <= cutSliver {
		return nil
	}
	neckAfter := giver.Edges[giver.next(gi)].Is() == pattern.Neckline
	before, after := giver.prev(gi), giver.next(gi)
	cutBefore, cutAfter := atArm, atNeck // mm off the edges before and after the shoulder
	if !neckAfter {
		cutBefore, cutAfter = atNeck, atArm
	}
	lb, la := giver.lines[before].length(), giver.lines[after].length()
	if cutBefore >= lb || cutAfter >= la {
		return refuse(fmt.Sprintf("a strip of %.1f mm is wider than the %s or %s of piece %q",
			math.Max(atNeck, atArm), giver.Edges[before].Name, giver.Edges[after].Name, giver.Name), "move the seam by less")
	}
	cut := seamStrip{giver: side{w: giver, i: gi}, taker: side{w: taker, i: ti}, before: cutBefore, after: cutAfter, straight: true}
	if err := cut.carry(); err != nil {
		return err
	}
	for _, w := range []*work{giver, taker} {
		w.moveShoulderPoint()
		w.heal()
		w.keepGrainInside()
	}
	return nil
}

// wholeOf returns the stretch of input a line stands for; a line that is not
// one stretch any more stands for none.
func wholeOf(l line) pattern.Stretch {
	s, _ := l.old()
	return s
}

// moveShoulderPoint puts the landmark of that name back on the end of the
// shoulder at the armscye.
func (w *work) moveShoulderPoint() {
	l := w.Landmark("shoulder-point")
	i, err := w.edgeOf(pattern.Shoulder)
	if l == nil || err != nil {
		return
	}
	if w.Edges[w.next(i)].Is() == pattern.Armscye {
		l.At = w.lines[i].end()
	} else {
		l.At = w.lines[i].start()
	}
}

// takesUp reports whether anything shortens the edge when it is sewn.
func (e *edit) takesUp(w *work, edge string) bool {
	p := e.in.Piece(w.Name)
	for _, d := range p.Darts {
		if d.Edge == edge {
			return true
		}
	}
	for _, f := range p.Pleats {
		if f.Edge == edge {
			return true
		}
	}
	for _, g := range p.Gathers {
		if g.Edge == edge {
			return true
		}
	}
	return false
}
