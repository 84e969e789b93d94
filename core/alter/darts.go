package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// legTolerance is by how much in mm the two legs of a dart may differ and
// still be taken for equal: half of what the pairing check lets pass.
const legTolerance = 0.05

// fromCorner is how far in mm a dart is kept from the ends of its edge: with
// less the corner is no longer a place where the seam can be trued.
const fromCorner = 5

// Rotation says where a dart goes.
type Rotation struct {
	Piece, Dart string
	// Into names a dart of the piece to open instead of a fresh one; the two
	// become one, under Into's name. If empty, Edge and At say where: mm along
	// the edge.
	Into string
	Edge string
	At   float64
	// Share of the dart's angle to move, over 0 up to 1.
	Share float64
}

// RotateDart closes a dart about its point and opens the same angle at another
// place on the boundary. Kept: the angle, every edge's sewn length, the area.
// Changed: the mouth, which is 2·L·sin(θ/2) for the new legs' length L. The
// half of the piece with its fold, or else with its grainline, stays where it
// is.
//
// Turned into another dart, the joint dart's point is the place nearest to the
// bust point (or, without that landmark, midway between the two points) from
// which both legs are equal. Darts that share a point already keep it.
//
// Degenerate: a dart with unequal legs, a place in a corner or inside the dart's
// own mouth, a way there that runs across another dart, and a share outside
// (0, 1] are refused.
func RotateDart(p *pattern.Pattern, r Rotation) (*operation.Answer, error) {
	e := begin(p)
	w, d, err := e.dart(r.Piece, r.Dart)
	if err != nil {
		return nil, err
	}
	if !(r.Share > 0 && r.Share <= 1) {
		return nil, refuse(fmt.Sprintf("a dart can be turned by a share over 0 up to 1, not %g", r.Share), "use 1 for the whole dart")
	}
	edge, at := r.Edge, r.At
	intoWas := 0.0 // mouth of the dart turned into, mm
	before := true // it is turned in before that dart, along the edge
	if r.Into != "" {
		if r.Into == r.Dart {
			return nil, refuse(fmt.Sprintf("dart %q cannot be turned into itself", r.Dart), "name another dart, or an edge")
		}
		into := w.Dart(r.Into)
		if into == nil {
			return nil, noDart(w, r.Into)
		}
		edge, at, intoWas = into.Edge, into.From, into.To-into.From
		// It opens beside the leg that it reaches without crossing the dart.
		if path := w.Edge(edge).Path; w.keepsDarts(d.Point, path.At(into.From), d.Name) != nil {
			at, before = into.To, false
		}
	}
	j, err := w.named(edge)
	if err != nil {
		return nil, err
	}
	if total := w.lines[j].length(); r.Into == "" && at >= 0 && at <= total && math.Min(at, total-at) < fromCorner {
		return nil, refuse(fmt.Sprintf("a dart at %.1f mm along edge %q of piece %q would open in its corner", at, edge, w.Name),
			fmt.Sprintf("keep it %d mm or more from the edge's ends", fromCorner))
	}
	turn, err := w.turnDart(d, j, at, r.Share)
	if err != nil {
		return nil, err
	}
	moved := pattern.Dart{
		Name: d.Name, Edge: edge, From: turn.from, To: turn.to, Point: turn.point, Pressed: d.Pressed,
	}
	mouth := d.To - d.From
	if r.Share < 1 {
		moved.Name = freshName(w, d.Name)
	} else {
		w.Darts = slices.DeleteFunc(w.Darts, func(o pattern.Dart) bool { return o.Name == r.Dart })
	}
	if r.Into != "" {
		other := w.Dart(r.Into) // turnDart may have carried its point along
		moved, err = w.mergeDarts(j, moved, *other, before)
		if err != nil {
			return nil, err
		}
		w.Darts = slices.DeleteFunc(w.Darts, func(o pattern.Dart) bool { return o.Name == r.Into })
	}
	w.fresh.darts = append(w.fresh.darts, moved)
	e.changed("angle turned to the "+edge, w.Name, 0, degrees(turn.angle), "degrees")
	e.changed(fmt.Sprintf("mouth of %s", r.Dart), w.Name, mouth, turn.left, "mm")
	e.changed(fmt.Sprintf("mouth of %s on the %s", moved.Name, edge), w.Name, intoWas, moved.To-moved.From, "mm")
	return e.finish()
}

// turned is a dart's new mouth on its edge, in mm along it, and what is left
// of the old one.
type turned struct {
	from, to float64
	point    geom.Point
	angle    float64 // radians turned
	left     float64 // mm of the old mouth that stay
}

// turnDart does the work of RotateDart on the lines: the boundary is cut at the
// dart and at the new place, and one half turned about the dart's point.
func (w *work) turnDart(d *pattern.Dart, j int, at, share float64) (turned, error) {
	i, err := w.named(d.Edge)
	if err != nil {
		return turned{}, err
	}
	pivot := d.Point
	path := w.lines[i].path()
	f, t := path.At(d.From), path.At(d.To)
	if math.Abs(f.Dist(pivot)-t.Dist(pivot)) > legTolerance {
		return turned{}, refuse(
			fmt.Sprintf("the legs of dart %q on piece %q measure %.1f and %.1f mm", d.Name, w.Name, f.Dist(pivot), t.Dist(pivot)),
			"true the dart's legs first")
	}
	if geom.Turn(f.Sub(pivot), t.Sub(pivot)) <= 0 {
		return turned{}, refuse(fmt.Sprintf("the mouth of dart %q on piece %q runs backwards: it takes nothing up", d.Name, w.Name),
			"leave the dart out, or draw its mouth the other way")
	}
	if total := w.lines[j].length(); at < 0 || at > total || j == i && at > d.From && at < d.To {
		return turned{}, refuse(fmt.Sprintf("a dart cannot open at %.1f mm along edge %q of piece %q", at, w.Edges[j].Name, w.Name),
			fmt.Sprintf("choose a place between 0 and %.1f mm, outside the dart's own mouth", total))
	}
	if err := w.keepsDarts(pivot, w.lines[j].path().At(at), d.Name); err != nil {
		return turned{}, err
	}
	w.touched = true
	angle := geom.Turn(f.Sub(pivot), t.Sub(pivot)) * share

	far := w.walk(i, d.To, j, at)    // from the dart forward to the new place
	near := w.walk(j, at, i, d.From) // and on round to the dart again
	if i == j && at < d.From {
		// The walk forward from the dart goes all the way round.
		far = w.walkRound(i, d.To, at)
	}
	if i == j && at >= d.To {
		near = w.walkRound(i, at, d.From)
	}
	turnFar := geom.Rotation(pivot, -angle)
	turnNear := geom.Identity
	if region := regionOf(far, pivot); w.holdsAnchor(far, region) {
		turnFar, turnNear = geom.Identity, geom.Rotation(pivot, angle)
		w.movePoints(near, regionOf(near, pivot), turnNear)
	} else {
		w.movePoints(far, region, turnFar)
	}
	far, near = transformAll(far, turnFar), transformAll(near, turnNear)

	oldMouth := pattern.Stretch{Piece: w.Name, Edge: d.Edge, From: d.From, To: d.To}
	closing := lastPoint(near)
	opening := firstPoint(far)
	var rest line // what stays of the old mouth
	if share < 1 {
		rest = redrawn(geom.Path{geom.Line(closing, opening)}, oldMouth)
	}
	mouth := drawn(geom.Line(lastPoint(far), firstPoint(near)))
	result := turned{to: mouth.length(), point: pivot, angle: math.Abs(angle)}
	if share < 1 {
		result.left = rest.length()
	}
	switch {
	case i != j:
		head, tail := near[len(near)-1], far[0]
		w.lines[i] = head.join(rest, tail)
		w.lines[j] = far[len(far)-1].join(mouth, near[0])
		result.from = far[len(far)-1].length()
		copyMiddle(w, i, j, far)
		copyMiddle(w, j, i, near)
	case at >= d.To:
		middle := far[0]
		head, tail := near[len(near)-1], near[0]
		w.lines[i] = head.join(rest, middle, mouth, tail)
		result.from = head.length() + rest.pathLength() + middle.length()
		copyMiddle(w, i, i, near)
	default:
		middle := near[0]
		head, tail := far[len(far)-1], far[0]
		w.lines[i] = head.join(mouth, middle, rest, tail)
		result.from = head.length()
		copyMiddle(w, i, i, far)
	}
	result.to += result.from
	w.heal()
	return result, nil
}

func (l line) pathLength() float64 {
	if len(l) == 0 {
		return 0
	}
	return l.length()
}

// walkRound is walk when both places are on one edge and the way leads all
// round the piece.
func (w *work) walkRound(i int, from, to float64) []line {
	_, first := w.lines[i].split(from)
	parts := []line{first}
	for k := w.next(i); k != i; k = w.next(k) {
		parts = append(parts, w.lines[k])
	}
	last, _ := w.lines[i].split(to)
	return append(parts, last)
}

// copyMiddle puts the whole edges strictly between i and j on a walk back into
// the boundary.
func copyMiddle(w *work, i, j int, walk []line) {
	for n, k := 1, w.next(i); k != j; n, k = n+1, w.next(k) {
		w.lines[k] = walk[n]
	}
}

// heal makes edges meet exactly where rounding has left them apart by less
// than a file keeps.
func (w *work) heal() {
	for i, l := range w.lines {
		next := w.lines[w.next(i)]
		if len(l) == 0 || len(next) == 0 {
			continue
		}
		for k := 1; k < len(l); k++ {
			l[k].seg.P0 = l[k-1].seg.P1
		}
		if l.end().Near(next.start(), cutSliver) {
			next[0].seg.P0 = l.end()
		}
	}
}

func transformAll(lines []line, m geom.Affine) []line {
	out := make([]line, len(lines))
	for i, l := range lines {
		out[i] = l.transform(m)
	}
	return out
}

func firstPoint(lines []line) geom.Point {
	for _, l := range lines {
		if len(l) > 0 {
			return l.start()
		}
	}
	return geom.Point{}
}

func lastPoint(lines []line) geom.Point {
	for i := len(lines) - 1; i >= 0; i-- {
		if len(lines[i]) > 0 {
			return lines[i].end()
		}
	}
	return geom.Point{}
}

// regionOf returns the corner points of the part of a piece between a walk
// along its boundary and a point.
func regionOf(walk []line, apex ...geom.Point) []geom.Point {
	var path geom.Path
	for _, l := range walk {
		path = append(path, l.path()...)
	}
	return append(path.Flatten(sideTolerance), apex...)
}

// holdsAnchor reports whether the part of the piece that a walk bounds is the
// one to leave in place: the one with the fold; without a fold the one with
// the middle of the grainline; without either the one with more boundary.
func (w *work) holdsAnchor(walk []line, region []geom.Point) bool {
	for i, edge := range w.Edges {
		if edge.Finish != pattern.Fold {
			continue
		}
		middle := w.lines[i].path().At(w.lines[i].length() / 2)
		for _, l := range walk {
			if _, d := l.path().Nearest(middle); d < cutSliver {
				return true
			}
		}
		return false
	}
	if w.Grain.Given() {
		return geom.Contains(region, w.Grain.From.Lerp(w.Grain.To, 0.5))
	}
	var part, whole float64
	for _, l := range walk {
		part += l.pathLength()
	}
	for _, l := range w.lines {
		whole += l.length()
	}
	return part > whole/2
}

// mergeDarts makes one dart of a fresh one and other, whose mouth on edge j
// begins where the fresh one's ends, or, with before unset, ends where that
// begins.
func (w *work) mergeDarts(j int, fresh, other pattern.Dart, before bool) (pattern.Dart, error) {
	mouth := other.To - other.From
	from, to := fresh.From, fresh.To+mouth
	if !before {
		from, to = fresh.From-mouth, fresh.To
	}
	head, rest := w.lines[j].split(from)
	_, tail := rest.split(to - from)
	a, b := head.endOr(w.lines[j].start()), tail.startOr(w.lines[j].end())
	wanted := fresh.Point.Lerp(other.Point, 0.5)
	if bp := w.Landmark(pattern.BustPoint); bp != nil && !fresh.Point.Near(other.Point, cutSliver) {
		wanted = bp.At
	}
	across := b.Sub(a)
	middle := a.Lerp(b, 0.5)
	// Slid along the mouth's direction onto its middle, the point has equal legs.
	point := wanted.Sub(across.Unit().Mul(wanted.Sub(middle).Dot(across.Unit())))
	w.lines[j] = head.join(drawn(geom.Line(a, b)), tail)
	merged := other
	merged.From, merged.To, merged.Point = from, from+a.Dist(b), point
	return merged, nil
}

func (l line) endOr(p geom.Point) geom.Point {
	if len(l) == 0 {
		return p
	}
	return l.end()
}

func (l line) startOr(p geom.Point) geom.Point {
	if len(l) == 0 {
		return p
	}
	return l.start()
}

// dart returns a piece under work and its dart.
func (e *edit) dart(piece, dart string) (*work, *pattern.Dart, error) {
	w, err := e.pieceNamed(piece)
	if err != nil {
		return nil, nil, err
	}
	d := w.Dart(dart)
	if d == nil {
		return nil, nil, noDart(w, dart)
	}
	return w, d, nil
}

// dartOn returns a piece under work, its dart, and the position of the edge that
// the dart is on.
func (e *edit) dartOn(piece, dart string) (w *work, d *pattern.Dart, edge int, err error) {
	if w, d, err = e.dart(piece, dart); err == nil {
		edge, err = w.named(d.Edge)
	}
	return w, d, edge, err
}

func noDart(w *work, name string) error {
	if len(w.Darts) == 0 {
		return refuse(fmt.Sprintf("piece %q has no darts", w.Name), "leave this step out")
	}
	names := ""
	for i, d := range w.Darts {
		if i > 0 {
			names += ", "
		}
		names += d.Name
	}
	return refuse(fmt.Sprintf("piece %q has no dart %q", w.Name, name), "its darts are "+names)
}

// freshName returns name with a number after it that no mark of the piece has.
func freshName(w *work, name string) string {
	taken := func(n string) bool {
		return w.Dart(n) != nil ||
			slices.ContainsFunc(w.Gathers, func(g pattern.Gather) bool { return g.Name == n }) ||
			slices.ContainsFunc(w.fresh.gathers, func(g pattern.Gather) bool { return g.Name == n }) ||
			slices.ContainsFunc(w.Pleats, func(f pattern.Pleat) bool { return f.Name == n })
	}
	if !taken(name) {
		return name
	}
	for n := 2; ; n++ {
		if s := fmt.Sprintf("%s-%d", name, n); !taken(s) {
			return s
		}
	}
}

func degrees(radians float64) float64 { return radians * 180 / math.Pi }
