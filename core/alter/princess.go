package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Princess says where a panel line runs.
type Princess struct {
	Piece string
	Dart  string // the dart it begins in
	// Other names the dart it ends in. Empty ends it at At on Edge, without a dart.
	Other string
	// Edge and At are where the line ends, mm along the edge. A dart named Other
	// that is not on that edge is turned there first; with Edge empty it is taken
	// where it is.
	Edge string
	At   float64
}

// PanelLine divides a piece along a line through the points of two darts, from
// the one's edge to the other's, so that the seam takes both of them up; or
// through one dart's point to a place on an edge. Outside the points the two
// sides are the darts' legs, drawn to run on without a corner, between the
// points one line. Points no more than a hand's breadth apart are first brought
// together, on the bust point if it is there, so that the seam runs through it.
//
// Kept: every edge's sewn length, everything on the edges. The two new edges are
// equal exactly: each leg is its fellow's mirror image. Balance marks are set
// where the darts ended. Degenerate: two darts on one edge, darts with unequal
// legs, and a line across a third dart are refused.
func PanelLine(p *pattern.Pattern, o Princess) (*operation.Answer, error) {
	e := begin(p)
	w, d, err := e.dart(o.Piece, o.Dart)
	if err != nil {
		return nil, err
	}
	var other *pattern.Dart
	if o.Other != "" {
		if other = w.Dart(o.Other); other == nil || o.Other == o.Dart {
			return nil, noDart(w, o.Other)
		}
		if o.Edge != "" && other.Edge != o.Edge {
			first, err := RotateDart(p, Rotation{Piece: o.Piece, Dart: o.Other, Edge: o.Edge, At: o.At, Share: 1})
			if err != nil {
				return nil, err
			}
			return then(first, func(p *pattern.Pattern) (*operation.Answer, error) {
				return PanelLine(p, Princess{Piece: o.Piece, Dart: o.Dart, Other: o.Other})
			})
		}
	}
	if other != nil {
		if first, ok := broughtTogether(p, w, *d, *other); ok {
			return then(first, func(p *pattern.Pattern) (*operation.Answer, error) { return PanelLine(p, o) })
		}
	}
	i, err := w.named(d.Edge)
	if err != nil {
		return nil, err
	}
	a, err := w.legs(i, *d)
	if err != nil {
		return nil, err
	}
	var b dartLegs
	var j int
	if other != nil {
		if j, err = w.named(other.Edge); err == nil {
			b, err = w.legs(j, *other)
		}
	} else if j, err = w.named(o.Edge); err == nil {
		long := w.lines[j].length()
		if o.At < fromCorner || o.At > long-fromCorner {
			return nil, refuse(fmt.Sprintf("a panel line cannot end %.1f mm along edge %q of piece %q", o.At, o.Edge, w.Name),
				fmt.Sprintf("choose a place between %d and %.1f mm", fromCorner, long-fromCorner))
		}
		path := w.lines[j].path()
		b = dartLegs{from: o.At, to: o.At, point: path.At(o.At), axis: path.Direction(o.At).Left()}
	}
	if err != nil {
		return nil, err
	}
	if i == j {
		return nil, refuse(fmt.Sprintf("a panel line on piece %q would begin and end on the same edge %q", w.Name, d.Edge), "turn one of the darts to another edge first")
	}
	names := []string{o.Dart, o.Other}
	reach := a.point.Dist(b.point)
	var middle geom.Path
	if reach > cutSliver {
		middle = geom.Path{geom.Hermite(a.point, a.axis.Mul(reach), b.point, b.axis.Mul(-reach))}
	}
	for k, points := 1, middle.Flatten(sideTolerance); k < len(points); k++ {
		for _, x := range w.Darts {
			if !slices.Contains(names, x.Name) && w.cutsDart(points[k-1], points[k], x) {
				return nil, refuse(fmt.Sprintf("the panel line would run across dart %q of piece %q", x.Name, w.Name), "turn or let out that dart first")
			}
		}
	}
	// From i to j: up one leg of the first dart, across, out along a leg of the
	// other. The kept part has the foot at the end of i's own stretch.
	kept := a.before.Join(middle).Join(b.after.Reverse())
	taken := a.after.Join(middle).Join(b.before.Reverse())
	if other != nil && len(middle) == 0 {
		var ok bool
		if kept, taken, ok = throughApex(a, b); !ok {
			return nil, refuse(fmt.Sprintf("darts %q and %q of piece %q meet at too sharp an angle for one seam", o.Dart, o.Other, w.Name), "turn one of them further round first")
		}
	}
	for _, end := range []struct {
		k     int
		at    float64
		after bool // which side of the place the edge is looked at
		away  geom.Point
	}{
		{i, a.from, false, kept.StartDirection()}, {i, a.to, true, taken.StartDirection()},
		{j, b.to, true, kept.EndDirection().Mul(-1)}, {j, b.from, false, taken.EndDirection().Mul(-1)},
	} {
		before, after := w.lines[end.k].path().Split(end.at)
		edge := before.EndDirection()
		if end.after {
			edge = after.StartDirection()
		}
		if turn := geom.Turn(edge, end.away); turn < leastCorner || turn > math.Pi-leastCorner {
			return nil, refuse(fmt.Sprintf("the panel line would run along edge %q of piece %q instead of across it", w.Edges[end.k].Name, w.Name), "end it elsewhere")
		}
	}
	var marks []float64
	for _, at := range []float64{a.before.Length(), a.before.Length() + middle.Length()} {
		if at > markClear && at < kept.Length()-markClear && (len(marks) == 0 || at-marks[0] > markClear) {
			marks = append(marks, at)
		}
	}
	if len(marks) == 0 {
		marks = []float64{kept.Length() / 2}
	}
	name, seam, role, piece := w.sidePiece()
	if e.piece(piece) != nil {
		piece = w.Name + "-side"
	}
	if e.piece(piece) != nil || w.EdgeIndex(seam) >= 0 {
		return nil, refuse(fmt.Sprintf("piece %q has been divided by a panel line already", w.Name), "leave this step out, or name another piece")
	}
	cut := parting{
		i: i, iEnds: a.from, iStarts: a.to, j: j, jEnds: b.from, jStarts: b.to, kept: kept, taken: taken,
		seam: seam, piece: pattern.Piece{Name: piece, Title: name, Role: role, Cut: pattern.Cut{Count: 2, Mirrored: true}}, marks: marks,
	}
	if walk := w.walk(i, a.to, j, b.from); w.holdsAnchor(walk, regionOf(walk, middle.Flatten(sideTolerance)...)) {
		// The part with the fold keeps the piece's name: cut the other way.
		cut.i, cut.iEnds, cut.iStarts, cut.j, cut.jEnds, cut.jStarts = j, b.from, b.to, i, a.from, a.to
		cut.kept, cut.taken = taken.Reverse(), kept.Reverse()
		for k, at := range marks {
			marks[k] = kept.Length() - at
		}
		slices.Reverse(marks)
	}
	if !w.OnFold() {
		cut.piece.Cut = w.Cut
	}
	sewn := map[string]float64{d.Edge: e.sewnBefore(w.Name, d.Edge), w.Edges[j].Name: e.sewnBefore(w.Name, w.Edges[j].Name)}
	ends := []string{d.Edge, w.Edges[j].Name}
	w.Darts = slices.DeleteFunc(w.Darts, func(x pattern.Dart) bool { return slices.Contains(names, x.Name) })
	part := e.part(w, cut)
	w.keepGrainInside()
	part.keepGrainInside()
	e.changed("panel line", w.Name, 0, kept.Length(), "mm")
	e.changed("panel line", part.Name, 0, taken.Length(), "mm")
	for _, edge := range ends {
		after := 0.0
		for _, q := range []*work{w, part} {
			if k := q.EdgeIndex(edge); k >= 0 {
				after += q.lines[k].length() - q.takenUp(edge)
			}
		}
		e.changed(edge+" of both parts, sewn", "", sewn[edge], after, "mm")
	}
	return e.finish()
}

// leastCorner is the least angle in radians at which a panel line may meet an
// edge: a narrower corner cannot be sewn. From memory.
const leastCorner = 20 * math.Pi / 180

// markClear is how far in mm balance marks stand from one another and the seam's
// ends; from memory.
const markClear = 20

// takenUp is what the input's remaining darts, pleats and gathers take up of an
// edge.
func (w *work) takenUp(edge string) float64 {
	q := w.Piece.Clone()
	k := q.EdgeIndex(edge)
	q.Edges[k].Path = w.lines[k].path()
	return w.lines[k].length() - q.SewnLength(edge)
}

// sidePiece names what a panel line takes off: title, edges, role and name.
func (w *work) sidePiece() (title, seam string, role pattern.Role, name string) {
	switch w.Role {
	case pattern.BodiceFront:
		return "Side front", "panel", pattern.BodiceSideFront, "side-front"
	case pattern.BodiceBack:
		return "Side back", pattern.SideBack, pattern.BodiceSideBack, "side-back"
	}
	return "Side of " + w.Title, "panel", "", w.Name + "-side"
}

// dartLegs is a dart as a seam takes it up.
type dartLegs struct {
	from, to      float64   // mm along its edge
	before, after geom.Path // from either foot to the point
	point, axis   geom.Point
}

// legs draws a dart's legs as a seam's sides: from the feet along the legs and
// into the dart's middle line, one the mirror image of the other.
func (w *work) legs(i int, d pattern.Dart) (dartLegs, error) {
	path := w.lines[i].path()
	f, t := path.At(d.From), path.At(d.To)
	if math.Abs(f.Dist(d.Point)-t.Dist(d.Point)) > legTolerance {
		return dartLegs{}, refuse(fmt.Sprintf("the legs of dart %q on piece %q differ", d.Name, w.Name), "true the dart's legs first")
	}
	axis := d.Point.Sub(f.Lerp(t, 0.5)).Unit()
	leg := func(foot geom.Point) geom.Path {
		return geom.Path{geom.Hermite(foot, d.Point.Sub(foot), d.Point, axis.Mul(d.Point.Dist(foot)))}
	}
	return dartLegs{d.From, d.To, leg(f), leg(t), d.Point, axis}, nil
}

// cutsDart reports whether a straight cut runs across a dart.
func (w *work) cutsDart(a, b geom.Point, d pattern.Dart) bool {
	path := w.lines[w.EdgeIndex(d.Edge)].path()
	return crosses(a, b, path.At(d.From), d.Point) || crosses(a, b, path.At(d.To), d.Point)
}

const (
	// apexReach is how far in mm two darts' points may lie apart and still be
	// brought together: darts stop short of the bust point on either side of it.
	apexReach = 75
	// apexBend is by how much in radians a seam may turn at the place where two
	// darts meet; with more it goes round it from point to point.
	apexBend = 50 * math.Pi / 180
	// apexBound is how far in mm a mouth may move when they are.
	apexBound = 25
)

// broughtTogether moves the points of two darts to one place, the bust point if
// it is near both; ok is false where they are there, lie too far apart, or cannot
// go.
func broughtTogether(p *pattern.Pattern, w *work, d, other pattern.Dart) (_ *operation.Answer, ok bool) {
	if apart := d.Point.Dist(other.Point); apart <= cutSliver || apart > apexReach {
		return nil, false
	}
	middle := func(x pattern.Dart) geom.Point {
		path := w.Edge(x.Edge).Path
		return path.At(x.From).Lerp(path.At(x.To), 0.5)
	}
	if math.Abs(geom.Turn(d.Point.Sub(middle(d)), middle(other).Sub(other.Point))) > apexBend {
		return nil, false
	}
	apex := d.Point.Lerp(other.Point, 0.5)
	if bp := w.Landmark(pattern.BustPoint); bp != nil && bp.At.Dist(d.Point) < apexReach && bp.At.Dist(other.Point) < apexReach {
		apex = bp.At
	}
	move := func(name string) func(*pattern.Pattern) (*operation.Answer, error) {
		return func(p *pattern.Pattern) (*operation.Answer, error) {
			e := begin(p)
			q, x, err := e.dart(w.Name, name)
			if err != nil {
				return nil, err
			}
			return e.pointAt(q, x, apex, apexBound)
		}
	}
	first, err := move(d.Name)(p)
	if err != nil {
		return nil, false
	}
	both, err := then(first, move(other.Name))
	return both, err == nil
}

// throughApex draws the two sides of a panel line through the point that two
// darts share, smooth there, and of one length: the shorter side bends the more.
// ok is false if that cannot be.
func throughApex(a, b dartLegs) (kept, taken geom.Path, ok bool) {
	over := a.axis.Sub(b.axis).Unit()
	side := func(foot, out geom.Point, turn float64) geom.Path {
		in, on := a.point.Sub(foot), out.Sub(a.point)
		along := geom.Rotation(geom.Point{}, turn).Apply(over)
		return geom.Path{
			geom.Hermite(foot, in, a.point, along.Mul(in.Len())),
			geom.Hermite(a.point, along.Mul(on.Len()), out, on),
		}
	}
	keptSide := func(turn float64) geom.Path { return side(a.before.Start(), b.after.Start(), turn) }
	takenSide := func(turn float64) geom.Path { return side(a.after.Start(), b.before.Start(), turn) }
	const mostTurn = 0.5 // radians away from the middle of both darts
	want := takenSide(0).Length()
	if turn, ok := rootNear(func(turn float64) float64 { return keptSide(turn).Length() - want }, mostTurn); ok {
		return keptSide(turn), takenSide(0), true
	}
	want = keptSide(0).Length()
	if turn, ok := rootNear(func(turn float64) float64 { return takenSide(turn).Length() - want }, mostTurn); ok {
		return keptSide(0), takenSide(turn), true
	}
	return nil, nil, false
}
