package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// TwoPiece says how a sleeve is divided into an upper and an under sleeve.
type TwoPiece struct {
	// Front and Back are how much of the sleeve's width goes to the under sleeve
	// at the front and at the back.
	Front, Back float64
	// Bend is by how much the upper sleeve is bent forward at the elbow, radians.
	// A sleeve with an elbow dart has its own bend, and keeps it.
	Bend float64
	// Ease is how much longer the upper sleeve is than the under sleeve at the
	// elbow of the hind-arm seam, mm.
	Ease float64
}

// The seams of a sleeve in two pieces, and their edges.
const (
	forearmSeam = "forearm"
	hindarmSeam = "hindarm"
)

// DivideSleeve makes a sleeve in two pieces of one: an upper sleeve, which keeps
// the old piece's name, and an under sleeve, made of a strip of the front and
// one of the back joined where the seam under the arm was. The seam at the
// front runs along the forearm, the other along the hind arm; both pieces are
// bent forward at the elbow, hinged at the forearm seam and opened at the
// hind-arm seam. An elbow dart goes into that seam.
//
// Kept: the head, stretch for stretch, with its notches and its ease; the
// forearm edges equal; the hind-arm edges equal but for the ease, which lies
// between a notch above the elbow and one below it. Changed: the hem of the
// under sleeve is one line across the joined strips; the hollows of the two edges
// under the arm, filled in there, are taken off at the outer edges, so that the
// two pieces are together as wide as the sleeve was. Degenerate: an under sleeve that is wider than the upper, a sleeve
// whose head or hem has a cuff or fullness, and more ease than the bend gives,
// are refused; a sleeve that is not bent has no ease.
func DivideSleeve(p *pattern.Pattern, o TwoPiece) (*operation.Answer, error) {
	e := begin(p)
	a, err := e.arm()
	if err != nil {
		return nil, err
	}
	front, back := a.sides()
	switch {
	case !(o.Front >= 0.05 && o.Back >= 0.05 && o.Front+o.Back <= 0.5):
		return nil, refuse("an under sleeve takes a twentieth of the sleeve or more at front and back, and half of it at most in all", "give such shares")
	case !(o.Bend >= 0 && o.Bend <= mostBend):
		return nil, refuse(fmt.Sprintf("a sleeve is not bent by %.0f degrees", degrees(o.Bend)), fmt.Sprintf("ask for 0 to %.0f", degrees(mostBend)))
	case !(o.Ease >= 0):
		return nil, refuse("an upper sleeve is not shorter than the under sleeve", "ask for an ease of 0 mm or more")
	case e.takesUp(a.work, a.Edges[front].Name):
		return nil, refuse(fmt.Sprintf("the front edge under the arm of piece %q has a dart or fullness in it", a.Name), "take that out first")
	}
	if err := a.plain("divide"); err != nil {
		return nil, err
	}
	a.touched = true
	onUp, onDown := a.elbow()
	if i := slices.IndexFunc(a.Darts, func(d pattern.Dart) bool { return d.Edge == a.Edges[back].Name }); i >= 0 { // it tells where the elbow is
		d := a.Darts[i]
		at := a.elbowOnFront(d, front)
		if back == a.down {
			onUp, onDown = a.lines[a.up].length()-at, d.From
		} else {
			onUp, onDown = a.lines[a.up].length()-d.To, at
		}
	}
	width, allowance := a.width(), a.Edges[front].Allowance
	bend, err := a.straighten()
	if err != nil {
		return nil, err
	}
	if bend == 0 {
		bend = o.Bend
	}
	d, err := a.strip(o, onUp, onDown)
	if err != nil {
		return nil, err
	}
	under := d.join(bend > 0)
	ease := o.Ease
	if bend == 0 {
		ease = 0
	} else if err := bendBoth(a.work, under, d.elbow, bend, ease); err != nil {
		return nil, err
	}
	a.Role, a.Title = pattern.SleeveTop, "Upper sleeve"
	for _, w := range []*work{a.work, under} {
		for i := range w.Edges {
			if n := w.Edges[i].Name; n == forearmSeam || n == hindarmSeam {
				w.Edges[i].Allowance = allowance
			}
		}
		w.keepGrainInside()
		w.heal()
	}
	e.seamTwoPiece(a.work, under, d.elbow, ease)
	e.changed("width at the foot of the head", a.Name, width, width*(1-o.Front-o.Back), "mm")
	e.changed("width at the foot of the head", under.Name, 0, width*(o.Front+o.Back), "mm")
	e.changed("bent at the elbow", a.Name, 0, degrees(bend), "degrees")
	e.changed("hollows of the seam under the arm, taken off at the outer edges", under.Name, 0, d.filled, "mm")
	e.changed("eased onto the under sleeve at the elbow", a.Name, 0, ease, "mm")
	return e.finish()
}

// bendBoth bends the upper sleeve at the elbow by the angle, and the under sleeve
// by as much as makes its hind-arm edge shorter by the ease. elbow is as in
// stripped.
func bendBoth(upper, under *work, elbow [2]float64, angle, ease float64) error {
	fore := upper.lines[upper.EdgeIndex(forearmSeam)].length()
	if err := upper.bendAt(elbow, 2*upper.elbowWidth(elbow)*math.Sin(angle/2), fore); err != nil {
		return err
	}
	want := upper.lines[upper.EdgeIndex(hindarmSeam)].length() - ease
	hind := under.EdgeIndex(hindarmSeam)
	open := want - under.lines[hind].length()
	for range swellTries {
		if open < 0 {
			return refuse(fmt.Sprintf("an ease of %.1f mm at the elbow is more than the bend of the sleeve gives", ease), "bend it more, or ask for less ease")
		}
		c := under.copy()
		if err := c.bendAt(elbow, open, fore); err != nil {
			return err
		}
		miss := c.lines[hind].length() - want
		if math.Abs(miss) > toldTo {
			open -= miss
			continue
		}
		if err := c.lengthTo(hind, want); err != nil {
			return err
		}
		*under = *c
		return nil
	}
	return refuse("the under sleeve cannot be bent to fit the upper one", "bend the sleeve less")
}

// fromHead returns the place on a forearm or hind-arm edge that is so far below
// the head, as mm along the edge.
func (w *work) fromHead(i int, below float64) float64 {
	if w.Edges[w.next(i)].Is() == pattern.Cap { // it runs up to the head
		return w.lines[i].length() - below
	}
	return below
}

// elbowWidth is how far it is across at the elbow, mm.
func (w *work) elbowWidth(elbow [2]float64) float64 {
	f, h := w.EdgeIndex(forearmSeam), w.EdgeIndex(hindarmSeam)
	return w.lines[f].path().At(w.fromHead(f, elbow[0])).Dist(w.lines[h].path().At(w.fromHead(h, elbow[1])))
}

// bendAt opens a piece at the elbow of its hind-arm edge by open mm, hinged at
// the elbow of its forearm edge, whose length becomes fore. Both edges are drawn
// anew in one sweep from head to hem through the elbow.
func (w *work) bendAt(elbow [2]float64, open, fore float64) error {
	f, h := w.EdgeIndex(forearmSeam), w.EdgeIndex(hindarmSeam)
	c := slash{i: h, a: w.fromHead(h, elbow[1]), j: f, b: w.fromHead(f, elbow[0]), openA: open}
	across := w.elbowWidth(elbow)
	if _, _, err := w.open(&c); err != nil {
		return err
	}
	hinge := w.lines[f].path().At(c.b)
	gap := w.lines[h].path()
	over := gap.At(c.a).Lerp(gap.At(c.a+open), 0.5).Sub(hinge)
	w.touched = true
	// The forearm keeps its length: the elbow moves in or out by a little, and the
	// width across stays.
	inward := w.lines[f].path().Direction(c.b).Left()
	at := func(x float64) geom.Path { return w.throughElbow(f, hinge.Add(inward.Mul(x))) }
	x, ok := rootNear(func(x float64) float64 { return at(x).Length() - fore }, elbowGives)
	if !ok {
		return refuse(fmt.Sprintf("the forearm of piece %q cannot be drawn smoothly at its length", w.Name), "bend the sleeve less")
	}
	hindarm := w.throughElbow(h, hinge.Add(inward.Mul(x)).Add(over.Unit().Mul(across)))
	w.lines[f], w.lines[h] = drawn(at(x)...), drawn(hindarm...)
	w.heal()
	return w.lengthTo(f, fore)
}

// elbowGives is by how much in mm the elbow of a forearm seam may move for the
// seam to keep its length when the corner of the hinge is drawn as a curve.
const elbowGives = 12

// throughElbow draws an edge through a point between its ends, in the directions
// that it leaves these.
func (w *work) throughElbow(i int, elbow geom.Point) geom.Path {
	path := w.lines[i].path()
	return geom.Smooth([]geom.Point{path.Start(), elbow, path.End()}, path.StartDirection(), path.EndDirection())
}

// hindMark is how far above and below the elbow the ease of the hind-arm seam is
// held between notches, mm; from memory.
const hindMark = 70

// seamTwoPiece sews the two pieces together and marks them.
func (e *edit) seamTwoPiece(upper, under *work, elbow [2]float64, ease float64) {
	for _, name := range []string{forearmSeam, hindarmSeam} {
		// Both are walked from the head down; side B is the eased one.
		runsUp := upper.Edges[upper.next(upper.EdgeIndex(name))].Is() == pattern.Cap
		s := pattern.Seam{
			Name:    freshSeamName(e, name),
			A:       pattern.Run{{Piece: under.Name, Edge: name, Backwards: !runsUp}},
			B:       pattern.Run{{Piece: upper.Name, Edge: name, Backwards: runsUp}},
			Meeting: pattern.Meeting{Kind: pattern.Plain},
		}
		if name == hindarmSeam && ease > 0 {
			s.Meeting = pattern.Meeting{Kind: pattern.Eased, Ease: pattern.Range{Min: ease, Max: ease}}
		}
		e.made = append(e.made, s)
	}
	mark := func(w *work, edge, name string, below float64, count int) {
		i := w.EdgeIndex(edge)
		w.fresh.notches = append(w.fresh.notches, pattern.Notch{Name: name, Edge: edge, At: w.fromHead(i, below), Count: count})
	}
	rest := under.lines[under.EdgeIndex(hindarmSeam)].length() - elbow[1] // below the elbow
	for _, w := range []*work{upper, under} {
		mark(w, forearmSeam, forearmSeam, elbow[0], 1)
		long := w.lines[w.EdgeIndex(hindarmSeam)].length()
		mark(w, hindarmSeam, hindarmSeam+"-1", elbow[1]-math.Min(hindMark, 0.6*elbow[1]), 2)
		// Below the elbow it counts from the hem, where both end together.
		mark(w, hindarmSeam, hindarmSeam+"-2", long-rest+math.Min(hindMark, 0.6*rest), 2)
	}
}
