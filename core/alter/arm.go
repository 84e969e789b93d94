package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// arm is the pattern's sleeve under work, cut in one piece: a head, a hem, and
// between them one edge a side, which are sewn to each other under the arm.
type arm struct {
	*work
	e          *edit
	cap, hem   int
	up, down   int           // around the piece: from hem to head, and from head to hem
	seam       *pattern.Seam // sets the head into the armscye
	frontFirst bool          // around the piece, the head begins at its front
	armscye    float64       // sewn, mm
}

// arm finds the sleeve, or says what is in the way.
func (e *edit) arm() (*arm, error) {
	w, cap, hem, err := e.sleeve()
	if err != nil {
		return nil, err
	}
	a := &arm{work: w, e: e, cap: cap, hem: hem, up: w.next(hem), down: w.prev(hem)}
	if a.up != w.prev(cap) || a.down != w.next(cap) {
		return nil, refuse(fmt.Sprintf("between head and hem, piece %q has more than one edge a side", w.Name), slitBefore)
	}
	if a.seam, a.frontFirst, err = e.capSeam(w, cap); err != nil {
		return nil, err
	}
	a.armscye = e.in.RunLength(e.otherRun(a.seam, w.Name, w.Edges[cap].Name))
	return a, nil
}

// plain refuses a sleeve whose head or hem has fullness or a cuff: alterations
// of the whole sleeve start from the plain one.
func (a *arm) plain(doing string) error {
	if a.Edges[a.hem].Finish == pattern.Sewn || a.e.takesUp(a.work, a.Edges[a.hem].Name) || a.e.takesUp(a.work, a.Edges[a.cap].Name) {
		return refuse(fmt.Sprintf("the head or hem of piece %q has fullness or a cuff already", a.Name), doing+" the plain sleeve")
	}
	return nil
}

// copy returns the same arm on a copy of the piece, to try on.
func (a *arm) copy() *arm {
	c := *a
	c.work = a.work.copy()
	return &c
}

// take puts what was tried on in the place of what it was copied from.
func (a *arm) take(tried *arm) {
	*a.work = *tried.work
	a.touched = true
}

// width is the sleeve's width at the foot of its head, mm.
func (a *arm) width() float64 { return a.lines[a.cap].start().Dist(a.lines[a.cap].end()) }

// headAxis returns the middle of the head's foot and the direction up from it.
func (a *arm) headAxis() (middle, up geom.Point) {
	from, to := a.lines[a.cap].start(), a.lines[a.cap].end()
	return from.Lerp(to, 0.5), to.Sub(from).Unit().Right()
}

// height is how far the head stands above its foot, mm.
func (a *arm) height() float64 {
	middle, up := a.headAxis()
	high := 0.0
	for _, q := range a.lines[a.cap].path().Flatten(heightTolerance) {
		high = math.Max(high, q.Sub(middle).Dot(up))
	}
	return high
}

// heightTolerance in mm is how closely the head's curve is followed for its
// height: finer than is drawn.
const heightTolerance = 0.01

// elbowShare is how far down the seam under the arm the elbow lies, where no
// notch named elbow says so; common practice.
const elbowShare = 0.53

const elbowNotch = "elbow"

// elbow returns how far below the head the elbow lies on the two edges that are
// sewn under the arm, in mm: where they have notches of that name, else at the
// usual share.
func (a *arm) elbow() (onUp, onDown float64) {
	long, other := a.lines[a.up].length(), a.lines[a.down].length()
	onUp, onDown = elbowShare*long, elbowShare*other
	for _, n := range a.Notches {
		if n.Name != elbowNotch {
			continue
		}
		switch n.Edge {
		case a.Edges[a.up].Name:
			onUp = long - n.At
		case a.Edges[a.down].Name:
			onDown = n.At
		}
	}
	return onUp, onDown
}

// sides returns the two edges under the arm, the front one first.
func (a *arm) sides() (front, back int) {
	if a.frontFirst {
		return a.up, a.down
	}
	return a.down, a.up
}

// in is the piece as it arrived.
func (a *arm) in() *pattern.Piece { return a.e.in.Piece(a.Name) }

// gatheredHead reports whether the head has gathers.
func (a *arm) gatheredHead() bool {
	return slices.ContainsFunc(a.Gathers, func(g pattern.Gather) bool { return g.Edge == a.Edges[a.cap].Name })
}

// easeHead has the head's length over the armscye taken up as ease, and says so.
func (a *arm) easeHead() error {
	edge := a.Edges[a.cap].Name
	head := a.lines[a.cap].length()
	ease := head - a.armscye
	if ease < -equalTolerance {
		return refuse(fmt.Sprintf("the head would measure %.1f mm and the armscye %.1f", head, a.armscye), "make the head higher or the sleeve wider")
	}
	a.seam.Meeting = a.e.easedBy(a.seam, a.Name, edge, ease)
	a.tellEase(ease)
	a.e.changed("head, ease over the armscye", a.Name, a.e.sewnBefore(a.Name, edge)-a.armscye, ease, "mm")
	return nil
}

// gatherHead draws the head up to the armscye: gathered from share from to share
// to of it, counted from the front.
func (a *arm) gatherHead(from, to float64) error {
	edge := a.Edges[a.cap].Name
	was := a.e.sewnBefore(a.Name, edge)
	head := a.lines[a.cap].length()
	if !a.frontFirst {
		from, to = 1-to, 1-from
	}
	g := pattern.Gather{Name: freshName(a.work, "head-gathers"), Edge: edge, Kind: pattern.Gathers, From: from * head, To: to * head}
	g.Length = g.To - g.From - (head - a.armscye)
	if g.Length < minGathered || g.Length > g.To-g.From {
		return refuse(
			fmt.Sprintf("the head measures %.0f mm and the armscye %.0f: that cannot be gathered into %.0f mm of it", head, a.armscye, g.To-g.From),
			"widen the stretch that is gathered, or ask for less fullness")
	}
	a.fresh.gathers = append(a.fresh.gathers, g)
	a.seam.Meeting = pattern.Meeting{Kind: pattern.Gathered}
	a.e.changed("head, gathered", a.Name, was, a.armscye, "mm")
	return nil
}

// Eased fullness that should not show stays under 1½ to 2 in (Central Washington
// University, costume-construction course text, ch. 11); C. Hecklinger 1884,
// fig. 9, sets a head 2 in longer into an armscye of 16 in.
const (
	muchEase    = 1.5 * 25.4
	tooMuchEase = 2 * 25.4
)

func (a *arm) tellEase(ease float64) {
	switch {
	case ease > tooMuchEase+toldTo:
		a.e.caution(fmt.Sprintf("%.0f mm of ease in the head is more than the 2 in that can be worked in without showing: it will stand in small gathers", ease))
	case ease > muchEase+toldTo:
		a.e.caution(fmt.Sprintf("%.0f mm of ease in the head is near the 1½ to 2 in that can be worked in: try it in the cloth", ease))
	}
}

// toldTo in mm is finer than any length is told: a length that is searched for
// is found to this.
const toldTo = 1e-6

// finish ends an operation on the sleeve.
func (a *arm) finish() (*operation.Answer, error) {
	a.keepGrainInside()
	a.heal()
	if peak := a.peak(); math.Abs(peak) > mostPeak && math.Abs(peak) > math.Abs(a.peakWas())+1 {
		return nil, refuse(fmt.Sprintf("with the seam under the arm closed, the head of piece %q would meet itself there at %.0f degrees off straight", a.Name, math.Abs(peak)),
			"begin with a plain sleeve that reaches the wrist, or ask for less fullness")
	}
	return a.e.finish()
}

// mostPeak in degrees is how far off straight the head may run on across the seam
// under the arm: more than trimming makes smooth, as the pairing check has it.
const mostPeak = 25

// peak is by how many degrees the head is off straight where its two ends meet
// under the arm.
func (a *arm) peak() float64 {
	return headPeak(a.lines[a.up].path(), a.lines[a.cap].path(), a.lines[a.down].path())
}

func (a *arm) peakWas() float64 {
	in := a.in()
	path := func(i int) geom.Path {
		if edge := in.Edge(a.Edges[i].Name); edge != nil {
			return edge.Path
		}
		return a.lines[i].path()
	}
	return headPeak(path(a.up), path(a.cap), path(a.down))
}

func headPeak(up, head, down geom.Path) float64 {
	return degrees(math.Pi - geom.Turn(up.EndDirection(), head.StartDirection()) - geom.Turn(head.EndDirection(), down.StartDirection()))
}

// squareHem draws the hem square to both sides of it.
func (a *arm) squareHem() {
	before, after := a.lines[a.down], a.lines[a.up]
	cut := squareAcross(before.end(), before.path().EndDirection().Left(), after.start(), after.path().StartDirection().Right())
	a.lines[a.hem] = redrawn(cut, wholeOf(a.lines[a.hem]))
}

// evenSeams makes the two edges under the arm equal again, if they were.
func (a *arm) evenSeams(upWas, downWas float64) error {
	if math.Abs(upWas-downWas) > legTolerance {
		return nil
	}
	return equalise(a.work, a.up, a.work, a.down)
}
