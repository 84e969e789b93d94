package alter

import (
	"fmt"
	"math"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// ElbowBend says how a sleeve is bent at the elbow.
type ElbowBend struct {
	// Angle is by how much the lower arm is turned forward, radians.
	Angle float64
	// Reach is how far the elbow dart goes across the sleeve, as a share of the
	// way from the back to the front.
	Reach float64
}

const elbowDart = "elbow-dart"

// BendSleeve bends a sleeve that is cut in one forward at the elbow: it is
// slashed there from the back edge under the arm to the front one, hinged at
// the front and opened at the back, and what opens becomes an elbow dart.
//
// Kept: both edges under the arm, sewn; head and hem. Changed: the front edge
// is hollowed, the back one has a dart in it. Degenerate: a sleeve with a dart
// in these edges already, an angle of 0 or more than half a radian, and a dart so
// short that the seam would be left with a corner, are refused.
func BendSleeve(p *pattern.Pattern, o ElbowBend) (*operation.Answer, error) {
	e := begin(p)
	a, err := e.arm()
	if err != nil {
		return nil, err
	}
	front, back := a.sides()
	switch {
	case !(o.Angle > 0 && o.Angle <= mostBend):
		return nil, refuse(fmt.Sprintf("an elbow is not bent by %.0f degrees", degrees(o.Angle)), fmt.Sprintf("ask for more than 0 and up to %.0f", degrees(mostBend)))
	case !(o.Reach >= 0.2 && o.Reach <= 0.9):
		return nil, refuse("an elbow dart goes some way across the sleeve", "give a reach between 0.2 and 0.9")
	case e.takesUp(a.work, a.Edges[front].Name) || e.takesUp(a.work, a.Edges[back].Name):
		return nil, refuse(fmt.Sprintf("the edges under the arm of piece %q have a dart or fullness already", a.Name), "take that out first")
	}
	// The dart turns more than the sleeve does, for it ends short of the hinge: by
	// that much the seam has a corner where the dart is sewn.
	half := math.Tan(o.Angle / 2)
	if corner := 2*math.Atan(half/o.Reach) - o.Angle; corner > mostCorner {
		return nil, refuse(fmt.Sprintf("an elbow dart that goes %.0f%% across would leave a corner of %.0f degrees in the seam", 100*o.Reach, degrees(corner)),
			"let it reach further, or bend the sleeve less")
	}
	a.touched = true
	was, long := a.lines[front].path(), a.lines[front].length()
	c := a.elbowSlash(front, back)
	c.openA = 2 * was.At(c.b).Dist(a.lines[back].path().At(c.a)) * math.Sin(o.Angle/2)
	if _, _, err := a.open(&c); err != nil {
		return nil, err
	}
	hinge := a.lines[front].path().At(c.b)
	if err := a.rebend(front, was, []float64{c.b}); err != nil {
		return nil, err
	}
	if err := a.lengthTo(front, long); err != nil {
		return nil, err
	}
	dart := pattern.Dart{Name: freshName(a.work, elbowDart), Edge: a.Edges[back].Name, From: c.a, To: c.a + c.openA, Pressed: pattern.PressedToStart}
	if back == a.down { // towards the hem
		dart.Pressed = pattern.PressedToEnd
	}
	dart.Point = a.lines[back].path().At(c.a+c.openA/2).Lerp(hinge, o.Reach)
	a.fresh.darts = append(a.fresh.darts, dart)
	e.changed("bent at the elbow", a.Name, 0, degrees(o.Angle), "degrees")
	e.changed("elbow dart, mouth", a.Name, 0, c.openA, "mm")
	return a.finish()
}

const (
	// mostBend is the most in radians that a sleeve is bent at the elbow; from
	// memory: more binds the hanging arm.
	mostBend = 0.5
	// mostCorner is the corner in radians that may be left in a seam where a dart
	// is sewn: 6 degrees, less than is warned of.
	mostCorner = 6 * math.Pi / 180
)

// elbowSlash is the cut across the sleeve at the elbow, from the back edge under
// the arm to the front one.
func (a *arm) elbowSlash(front, back int) slash {
	onUp, onDown := a.elbow()
	at := func(i int) float64 { // along the edge
		if i == a.up {
			return a.lines[i].length() - onUp
		}
		return onDown
	}
	return slash{i: back, a: at(back), j: front, b: at(front)}
}

// straighten takes the only dart, one at the elbow, out of the sleeve again: it
// is lapped at the back to nothing at the front edge, and both edges are drawn
// smoothly, as long as they were sewn. It returns by how much that turned the
// lower arm back, in radians; 0 of a sleeve without a dart.
func (a *arm) straighten() (angle float64, err error) {
	front, back := a.sides()
	if len(a.Darts) == 0 {
		return 0, nil
	}
	d := a.Darts[0]
	if len(a.Darts) > 1 || d.Edge != a.Edges[back].Name {
		return 0, refuse(fmt.Sprintf("piece %q has darts other than one at the elbow", a.Name), "turn or let them out first")
	}
	path := a.lines[back].path()
	mouth := path.At(d.From).Dist(path.At(d.To))
	if math.Abs(mouth-(d.To-d.From)) > legTolerance {
		return 0, refuse(fmt.Sprintf("the mouth of dart %q on piece %q is not straight", d.Name, a.Name), "true the dart first")
	}
	was, long := a.lines[front].path(), a.lines[front].length()
	sewn := a.lines[back].length() - (d.To - d.From)
	c := slash{i: back, a: (d.From + d.To) / 2, j: front, b: a.elbowOnFront(d, front), openA: -mouth}
	angle = 2 * math.Asin(min(1, mouth/2/path.At(c.a).Dist(was.At(c.b))))
	a.Darts = nil
	if _, _, err := a.open(&c); err != nil {
		return 0, err
	}
	if err := a.rebend(front, was, []float64{c.b}); err != nil {
		return 0, err
	}
	if err := a.lengthTo(front, long); err != nil {
		return 0, err
	}
	l := a.lines[back]
	a.lines[back] = l.reshaped(func(p geom.Point, _ float64, _ geom.Point) geom.Point { return p },
		l.path().StartDirection(), l.path().EndDirection()).snapEnds(l.start(), l.end())
	return angle, a.lengthTo(back, sewn)
}

// elbowOnFront returns how far along the front edge a dart's middle line meets
// it; where it misses, the nearest place to the dart's point.
func (a *arm) elbowOnFront(d pattern.Dart, front int) float64 {
	path := a.lines[front].path()
	_, back := a.sides()
	mouth := a.lines[back].path().At((d.From + d.To) / 2)
	if at := path.CutLine(d.Point, d.Point.Sub(mouth)); len(at) > 0 {
		return at[0]
	}
	at, _ := path.Nearest(d.Point)
	return at
}
