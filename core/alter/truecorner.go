package alter

import (
	"fmt"
	"math"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Cornering says which line is trued where it runs on across a seam or a fold.
type Cornering struct {
	// Seam is the seam that the line runs on across; empty where it is a fold.
	Seam string
	// Piece and Edge are the line, on either of the pieces that meet there. All
	// three empty: the corner that is furthest from true.
	Piece, Edge string
	Gives       Giving // which of two lines is drawn anew; empty is GivesAuto
	// Bound is how far in mm a line may move.
	Bound float64
}

// Giving is which of two lines that meet at a corner gives way.
type Giving string

// Both give way by half, or the first of them by all of it (that on the seam's
// side A), or the second. Auto takes the first of these that can be done.
const (
	GivesAuto   Giving = "auto"
	GivesBoth   Giving = "both"
	GivesFirst  Giving = "first"
	GivesSecond Giving = "second"
)

// turnTip is one line at a corner, and the seam or fold it should run on across.
type turnTip struct {
	w      *work
	edge   int // the line that runs on
	sewn   int // the edge that is sewn, or the fold
	start  bool
	inside float64 // the angle between both inside the piece, radians
}

// TrueCorner draws a line anew where it runs on across a closed seam, so that it
// does so without a kink: each of the two pieces gives way by half, or one of
// them by all of it where the other has no room. At a fold, or at a seam to the
// mirror image, the line comes out square to it.
//
// Kept: the corner itself, and the seam; a line that is sewn keeps its length:
// a curve exactly, being bent again as much as the turn has lengthened it, a
// straight one within 0.05 mm, as a line cannot turn at its end and stay as
// short. Changed: up to 60 mm of the line on either side. Units: mm.
//
// Degenerate: a line that is true already is left alone. One that would move by
// more than the bound, or has no room beside the corner, is refused.
func TrueCorner(p *pattern.Pattern, o Cornering) (*operation.Answer, error) {
	tips, err := begin(p).meeting(o)
	if err != nil {
		return nil, err
	}
	if len(tips) == 0 {
		return begin(p).finish()
	}
	shares := []float64{1}
	if len(tips) == 2 {
		switch o.Gives {
		case GivesAuto, "":
			shares = []float64{0.5, 1, 0}
		case GivesBoth:
			shares = []float64{0.5}
		case GivesFirst:
		case GivesSecond:
			shares = []float64{0}
		default:
			return nil, refuse(fmt.Sprintf("both lines give way, or the first or the second, not %q", o.Gives), "say auto, both, first or second")
		}
	}
	var first error
	for _, share := range shares {
		for _, reach := range [...]float64{tipReach, tipReach / 2, tipReach / 4} {
			a, err := trueCornerBy(p, o, share, reach)
			if err == nil {
				return a, nil
			}
			if first == nil {
				first = err
			}
		}
	}
	return nil, first
}

// trueCornerBy trues a corner with a share of the kink taken from the first line
// and the rest from the second.
func trueCornerBy(p *pattern.Pattern, o Cornering, share, reach float64) (*operation.Answer, error) {
	e := begin(p)
	tips, err := e.meeting(o)
	if err != nil {
		return nil, err
	}
	kink := kinkOf(tips)
	for k, t := range tips {
		part := kink
		if len(tips) == 2 {
			part = kink * [...]float64{share, 1 - share}[k]
		}
		if part == 0 {
			continue
		}
		if err := e.turnTip(t, t.inside-part, reach, o.Bound); err != nil {
			return nil, err
		}
		t.w.heal()
	}
	t := tips[0]
	e.changed("kink of the "+t.w.Edges[t.edge].Name+" across the "+t.w.Edges[t.sewn].Name, t.w.Name, math.Abs(degrees(kink)), 0, "degrees")
	return e.bounded(o.Bound)
}

// kinkOf is by how much in radians the angles inside the pieces are more than a
// straight line: of one line, together with its mirror image.
func kinkOf(tips []turnTip) float64 {
	if len(tips) == 1 {
		return tips[0].inside - math.Pi/2
	}
	return tips[0].inside + tips[1].inside - math.Pi
}

// turnTip draws a line anew so that it meets the sewn edge at the angle given.
func (e *edit) turnTip(t turnTip, inside, reach, bound float64) error {
	w := t.w
	// The line's corner is at its start where the sewn edge comes before it.
	tip, ok := w.tipOf(t.edge, t.start, reach)
	if !ok {
		return refuse(fmt.Sprintf("edge %q of piece %q has no room beside the corner to be drawn anew", w.Edges[t.edge].Name, w.Name), "draw it anew by hand")
	}
	// By how much the line must turn: inside is measured between the directions a
	// cutter sees, which at a digitised stub are not the tangents.
	want := w.directionFor(t, inside)
	turn := geom.Turn(tip.outward().Mul(-1), want)
	if math.Abs(turn) > math.Pi/3 {
		return refuse(fmt.Sprintf("edge %q of piece %q would have to turn by %.0f degrees at the corner", w.Edges[t.edge].Name, w.Name, degrees(math.Abs(turn))), "draw it anew by hand")
	}
	long := w.lines[t.edge].length()
	w.touched = true
	w.lines[t.edge] = tip.drawn(geom.Point{}, turn)
	if !e.holds(w, t.edge) {
		return nil
	}
	if grown := w.lines[t.edge].length() - long; math.Abs(grown) < equalTolerance {
		return nil
	}
	if !w.lines[t.edge].path().Straight(straightWithin) && tip.whole == nil {
		if err := w.bendClear(t.edge, long, bound); err == nil {
			return nil
		}
	}
	if grown := math.Abs(w.lines[t.edge].length() - long); grown > legTolerance {
		return refuse(fmt.Sprintf("edge %q of piece %q would become %.2f mm longer, and is sewn", w.Edges[t.edge].Name, w.Name, grown), "true it by less, or by hand")
	}
	return nil
}

// bendClear is roundTo for an edge that carries no dart, pleat or gathers.
func (w *work) bendClear(i int, want, limit float64) error {
	if lo, hi := w.freeAround(w.Edges[i].Name, 0, 0, math.Inf(1)); lo > 0 || !math.IsInf(hi, 1) {
		return refuse(fmt.Sprintf("edge %q of piece %q carries a dart, pleat or gathers", w.Edges[i].Name, w.Name), "")
	}
	return w.roundTo(i, want, limit)
}

// directionFor returns the direction that a line must have, going out from the
// corner, to meet its sewn edge at the angle given.
func (w *work) directionFor(t turnTip, inside float64) geom.Point {
	s := w.seenFrom(t.sewn, !t.start) // going out from the corner along the sewn edge
	// Counter-clockwise round the piece its inside is on the left. A line that
	// starts at the corner leaves it at inside to the right of the sewn edge...
	if t.start {
		return geom.Rotation(geom.Point{}, -inside).Apply(s)
	}
	return geom.Rotation(geom.Point{}, inside).Apply(s)
}

// seenReach in mm: the direction of an edge at its corner is its tangent, unless
// its last line or curve is shorter than this; then it is the chord over this
// length. So the check looks at corners too.
const seenReach = 2.0

// seenFrom returns the direction in which edge i leaves its start, or its end, into
// the edge, as a cutter sees it.
func (w *work) seenFrom(i int, atStart bool) geom.Point {
	path := w.lines[i].path()
	if !atStart {
		path = path.Reverse()
	}
	if len(path) > 1 && path[0].P0.Dist(path[0].P1) < seenReach {
		return path.At(seenReach).Sub(path.Start()).Unit()
	}
	return path.StartDirection()
}

// tipAt is the line that runs on from edge sewn at its start or end.
func (w *work) tipAt(sewn int, atStart bool) (t turnTip, ok bool) {
	if len(w.lines) < 2 {
		return turnTip{}, false
	}
	t = turnTip{w: w, sewn: sewn, start: !atStart, edge: w.next(sewn)}
	if atStart {
		t.edge = w.prev(sewn)
	}
	a, b := w.seenFrom(sewn, atStart), w.seenFrom(t.edge, t.start)
	// The inside lies to the left of the walk: from the edge that leaves the
	// corner counter-clockwise to the one that arrives there.
	if atStart {
		t.inside = turnUp(a, b)
	} else {
		t.inside = turnUp(b, a)
	}
	return t, true
}

// turnUp is the angle from a counter-clockwise to b, from 0 to a full turn.
func turnUp(a, b geom.Point) float64 {
	turn := geom.Turn(a, b)
	if turn < 0 {
		turn += 2 * math.Pi
	}
	return turn
}

// meeting returns the one or two lines that meet at the corner meant; none where
// nothing is out of true.
func (e *edit) meeting(o Cornering) ([]turnTip, error) {
	if o.Piece != "" || o.Edge != "" {
		if _, _, err := e.edgeNamed(o.Piece, o.Edge); err != nil {
			return nil, err
		}
	}
	if o.Seam != "" && e.in.Seam(o.Seam) == nil {
		return nil, refuse(fmt.Sprintf("the pattern has no seam %q", o.Seam), "")
	}
	var best []turnTip
	worst := 0.0
	try := func(tips []turnTip) {
		meant := o.Piece == "" && o.Edge == ""
		for _, t := range tips {
			meant = meant || t.w.Name == o.Piece && t.w.Edges[t.edge].Name == o.Edge
		}
		kink := math.Abs(kinkOf(tips))
		if o.Edge == "" && len(tips) == 1 && (kink > pointed || e.centred(tips[0])) {
			return // a point that somebody drew, or no line that runs on
		}
		if meant && kink > worst {
			best, worst = tips, kink
		}
	}
	for i := range e.in.Seams {
		s := &e.in.Seams[i]
		if o.Seam != "" && s.Name != o.Seam || o.Seam == "" && o.Edge != "" || s.Kind == pattern.Basted {
			continue
		}
		for _, start := range [...]bool{true, false} {
			a, okA := e.runTip(s.A, start)
			if !okA {
				continue
			}
			if len(s.B) == 0 {
				try([]turnTip{a})
				continue
			}
			b, okB := e.runTip(s.B, start)
			if okB && (o.Seam != "" || e.runsOn(a, b)) {
				try([]turnTip{a, b})
			}
		}
	}
	if o.Seam == "" {
		for _, w := range e.pieces {
			if o.Piece != "" && w.Name != o.Piece {
				continue
			}
			for i := range w.Edges {
				if w.Edges[i].Finish != pattern.Fold {
					continue
				}
				for _, atStart := range [...]bool{true, false} {
					if t, ok := w.tipAt(i, atStart); ok {
						try([]turnTip{t})
					}
				}
			}
		}
	}
	if best == nil && o.Edge != "" {
		return nil, refuse(fmt.Sprintf("edge %q of piece %q does not run on across anything there", o.Edge, o.Piece), "name the seam it crosses, or an edge that meets a fold")
	}
	if worst < trueWithin {
		return nil, nil
	}
	return best, nil
}

// pointed in radians: beyond this half of a corner at a fold or centre seam is a
// point that somebody drew, as of a V-neck.
const pointed = 30 * math.Pi / 180

// centred reports whether what goes on from a fold or centre seam is another
// one, or an opening that goes straight on from it.
func (e *edit) centred(t turnTip) bool {
	if t.w.Edges[t.edge].Finish == pattern.Fold || math.Abs(t.inside-math.Pi) < 2*trueFrom {
		return true
	}
	for _, s := range e.in.SeamsOf(t.w.Name, t.w.Edges[t.edge].Name) {
		if len(s.B) == 0 {
			return true
		}
	}
	return false
}

// runTip is the line that runs on from the start or the end of a run.
func (e *edit) runTip(r pattern.Run, start bool) (turnTip, bool) {
	ref := r[len(r)-1]
	if start {
		ref = r[0]
	}
	w, i, err := e.edgeNamed(ref.Piece, ref.Edge)
	if err != nil {
		return turnTip{}, false
	}
	return w.tipAt(i, start != ref.Backwards)
}

// runsOn reports whether two lines at a seam's end are one line once it is sewn:
// finished alike, or sewn in one run of another seam.
func (e *edit) runsOn(a, b turnTip) bool {
	if straightOn := func(t turnTip) bool { return math.Abs(t.inside-math.Pi) < trueFrom*2 }; straightOn(a) && straightOn(b) {
		return false // the seam ends in an opening
	}
	x, y := a.w.Edges[a.edge], b.w.Edges[b.edge]
	if x.Finish != pattern.Sewn || y.Finish != pattern.Sewn {
		return x.Finish == y.Finish && x.Finish != pattern.Fold
	}
	for i := range e.in.Seams {
		s := &e.in.Seams[i]
		for _, r := range [...]pattern.Run{s.A, s.B} {
			if r.Has(a.w.Name, x.Name) && r.Has(b.w.Name, y.Name) {
				return true
			}
		}
	}
	return false
}
