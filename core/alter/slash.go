package alter

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// slash is a cut across a piece from a place on one edge to a place on
// another, and by how much in mm it is spread at either end. A negative spread
// laps the paper instead. Equal spreads move one part parallel; no spread at
// one end hinges it there.
type slash struct {
	i     int     // edge cut from
	a     float64 // mm along it
	j     int     // edge cut to, another one
	b     float64
	openA float64
	openB float64
	// along is the line that is cut along, from the one place to the other; none
	// cuts straight. What lies inside goes with the side of it that it is on.
	along geom.Path
}

// inside is the line of the slash between its ends, as points, or turned round.
func (c *slash) inside(back bool) []geom.Point {
	if len(c.along) == 0 {
		return nil
	}
	path := c.along
	if back {
		path = path.Reverse()
	}
	points := path.Flatten(sideTolerance)
	return points[1 : len(points)-1]
}

// clear refuses a slash that would run across a dart.
func (w *work) clear(c *slash) error {
	points := append([]geom.Point{w.lines[c.i].path().At(c.a)}, c.inside(false)...)
	points = append(points, w.lines[c.j].path().At(c.b))
	for k := 1; k < len(points); k++ {
		if err := w.keepsDarts(points[k-1], points[k], ""); err != nil {
			return err
		}
	}
	return nil
}

// spread opens slashes that all run from edge i, and draws the edges they open
// at smoothly through the gaps. The part with the anchor stays in place.
// Positions are those on the piece as it is before the first slash.
//
// Kept: every edge but those slashed, to the last digit; an edge the slashes are
// hinged on keeps its length. Changed: a slashed edge by the sum of the spreads,
// nearly: fairing takes off the corners.
func (w *work) spread(slashes []slash) error {
	w.touched = true
	cuts := slices.Clone(slashes)
	slices.SortFunc(cuts, func(s, t slash) int { return cmp.Compare(t.a, s.a) }) // from the edge's end
	if len(cuts) == 0 {
		return nil
	}
	for _, c := range cuts {
		if err := w.clear(&c); err != nil {
			return err
		}
	}
	faired := map[int]*fairing{}
	for _, c := range cuts {
		if err := w.fairable(c.i); err != nil {
			return err
		}
		w.beginFairing(faired, c.i, c.a)
		if c.openB == 0 {
			continue
		}
		if err := w.fairable(c.j); err != nil {
			return err
		}
		w.beginFairing(faired, c.j, c.b)
	}
	for n := range cuts {
		c := cuts[n]
		for _, done := range cuts[:n] {
			if done.j == c.j && done.b < c.b+cutSliver {
				c.b += done.openB
			}
		}
		far, near, err := w.open(&c)
		if err != nil {
			return err
		}
		// The far part has the end of edge i and the start of edge j on it.
		if f := faired[c.i]; f != nil {
			f.startDir, f.endDir = near.Apply(f.startDir), far.Apply(f.endDir)
		}
		if f := faired[c.j]; f != nil {
			f.startDir, f.endDir = far.Apply(f.startDir), near.Apply(f.endDir)
		}
	}
	for _, i := range slices.Sorted(maps.Keys(faired)) {
		if err := w.fair(i, faired[i]); err != nil {
			return err
		}
	}
	w.heal()
	return nil
}

// fairing is what is kept of an edge while it is slashed, to draw it smoothly
// afterwards.
type fairing struct {
	original         line
	places           []float64 // where it is slashed, mm along the original
	startDir, endDir geom.Point
}

// beginFairing notes a slash at a place on edge i. From the first one on, the
// edge remembers its own positions rather than the input's, so that the gaps
// are found again.
func (w *work) beginFairing(faired map[int]*fairing, i int, at float64) {
	f := faired[i]
	if f == nil {
		path := w.lines[i].path()
		f = &fairing{original: w.lines[i], startDir: path.StartDirection(), endDir: path.EndDirection()}
		faired[i] = f
		w.lines[i] = traced(w.Name, slashedEdge, path)
	}
	f.places = append(f.places, at)
}

// fairable refuses to draw an edge anew that has darts or pleats in it: their
// legs would no longer be equal.
func (w *work) fairable(i int) error {
	edge := w.Edges[i].Name
	if slices.ContainsFunc(w.Darts, func(d pattern.Dart) bool { return d.Edge == edge }) ||
		slices.ContainsFunc(w.Pleats, func(f pattern.Pleat) bool { return f.Edge == edge }) {
		return refuse(fmt.Sprintf("edge %q of piece %q has a dart or pleat in it and cannot be spread", edge, w.Name),
			"turn it elsewhere or let it out first")
	}
	return nil
}

// fair draws a slashed edge smoothly through the middle of every gap and of
// every part between gaps, with the tangents its ends have come to have.
func (w *work) fair(i int, f *fairing) error {
	knots := w.fairKnots(i, f)
	now := w.lines[i].path()
	points := make([]geom.Point, len(knots))
	for k, kn := range knots {
		points[k] = now.At(kn.now)
	}
	points[0], points[len(points)-1] = now.Start(), now.End()
	curve := geom.Smooth(points, f.startDir, f.endDir)
	if len(curve) != len(knots)-1 {
		return refuse(fmt.Sprintf("edge %q of piece %q cannot be drawn smoothly through so many slashes", w.Edges[i].Name, w.Name), "use fewer")
	}
	fresh := make(line, len(curve))
	for k, s := range curve {
		fresh[k].seg = s
		fresh[k].old, _ = f.original.between(knots[k].old, knots[k+1].old).old()
	}
	w.lines[i] = fresh
	return nil
}

// slashedEdge stands for the edge being slashed in the strands of that edge; no
// edge of a pattern can have the name.
const slashedEdge = "(slashed)"

// knot is a point that a faired edge is drawn through: mm along it before the
// slashes and after.
type knot struct{ old, now float64 }

// fairKnots returns the edge's ends, the middle of every gap and the middle of
// every uncut part, in order along it.
func (w *work) fairKnots(i int, f *fairing) []knot {
	places := slices.Sorted(slices.Values(f.places))
	total := f.original.length()
	knots := []knot{{0, 0}}
	last := 0.0
	part := func(to float64) {
		if to-last > minFairPart {
			mid := (last + to) / 2
			before, _ := w.lines[i].whereSlashed(mid)
			knots = append(knots, knot{mid, before})
		}
		last = to
	}
	for _, at := range places {
		part(at)
		before, after := w.lines[i].whereSlashed(at)
		knots = append(knots, knot{at, (before + after) / 2})
	}
	part(total)
	return append(knots, knot{total, w.lines[i].length()})
}

// whereSlashed returns how far along an edge under slashing its own old
// position lies now: as the end of what came before it and as the start of
// what comes after, which differ where a slash was opened there.
func (l line) whereSlashed(old float64) (before, after float64) {
	at, after := 0.0, -1.0
	for _, s := range l {
		length := s.seg.Length()
		if s.old.Edge == slashedEdge {
			t := (old - s.old.From) / s.old.Length()
			if s.old.From < old-cutSliver {
				before = at + math.Min(1, t)*length
			}
			if after < 0 && s.old.To > old+cutSliver {
				after = at + math.Max(0, t)*length
			}
		}
		at += length
	}
	if after < 0 {
		after = before
	}
	return before, after
}

// minFairPart is the length in mm of an uncut part of an edge from which its
// middle is kept as a point of the faired line.
const minFairPart = 8

// open makes one slash, and returns how directions turned in the part that
// follows the slash along edge i and in the one before it.
func (w *work) open(c *slash) (farTurn, nearTurn geom.Affine, err error) {
	farTurn, nearTurn = geom.Identity, geom.Identity
	if c.i == c.j {
		return farTurn, nearTurn, refuse(fmt.Sprintf("a slash on piece %q would begin and end on the same edge %q", w.Name, w.Edges[c.i].Name), "choose another place for it")
	}
	la, lb := w.lines[c.i].length(), w.lines[c.j].length()
	a, b := w.lines[c.i].path().At(c.a), w.lines[c.j].path().At(c.b)
	long := a.Dist(b)
	if c.a < 0 || c.a > la || c.b < 0 || c.b > lb || long < minSlash {
		return farTurn, nearTurn, refuse(fmt.Sprintf("a slash across piece %q would miss it", w.Name), "choose another place for it")
	}
	half := (c.openA - c.openB) / (2 * long)
	if math.Abs(half) > math.Sin(maxSlashTurn/2) {
		return farTurn, nearTurn, refuse(
			fmt.Sprintf("spreading a slash of %.0f mm on piece %q by %.0f mm turns the paper too far", long, w.Name, c.openA),
			"use more slashes, or ask for less")
	}
	turn := 2 * math.Asin(half)
	far, near := w.walk(c.i, c.a, c.j, c.b), w.walk(c.j, c.b, c.i, c.a)
	region := regionOf(far, c.inside(true)...)
	u := b.Sub(a).Unit()
	if w.holdsAnchor(far, region) {
		away := geom.Rotation(geom.Point{}, -turn/2).Apply(u.Left())
		m := geom.Onto(a, b, a.Add(away.Mul(c.openA)), b.Add(away.Mul(c.openB)))
		w.movePoints(near, regionOf(near, c.inside(false)...), m)
		near = transformAll(near, m)
		nearTurn = linear(m)
	} else {
		away := geom.Rotation(geom.Point{}, turn/2).Apply(u.Right())
		m := geom.Onto(a, b, a.Add(away.Mul(c.openA)), b.Add(away.Mul(c.openB)))
		w.movePoints(far, region, m)
		far = transformAll(far, m)
		farTurn = linear(m)
	}
	// Lapped, each part gives up half of what lies over the other.
	headA, tailA, okA := lap(near[len(near)-1], far[0], c.openA)
	headB, tailB, okB := lap(far[len(far)-1], near[0], c.openB)
	if !okA || !okB {
		return farTurn, nearTurn, refuse(fmt.Sprintf("lapping a slash on piece %q by %.0f mm leaves nothing of the edge beside it", w.Name, -min(c.openA, c.openB)), "ask for less")
	}
	w.lines[c.i] = headA.join(bridge(headA, tailA), tailA)
	w.lines[c.j] = headB.join(bridge(headB, tailB), tailB)
	copyMiddle(w, c.i, c.j, far)
	copyMiddle(w, c.j, c.i, near)
	w.heal()
	return farTurn, nearTurn, nil
}

// lap takes half of a negative opening off both sides of it.
func lap(head, tail line, open float64) (h, t line, ok bool) {
	if open >= 0 {
		return head, tail, true
	}
	give := -open / 2
	keep := head.pathLength() - give
	if keep < cutSliver || tail.pathLength()-give < cutSliver {
		return nil, nil, false
	}
	h, _ = head.split(keep)
	_, t = tail.split(give)
	return h, t, true
}

// bridge returns the line from the end of one part of an edge to the start of
// the next; none where they meet.
func bridge(head, tail line) line {
	if len(head) == 0 || len(tail) == 0 || head.end().Near(tail.start(), cutSliver) {
		return nil
	}
	return drawn(geom.Line(head.end(), tail.start()))
}

const (
	// minSlash is the shortest slash in mm that scissors can make.
	minSlash = 5
	// maxSlashTurn is the most one slash may turn the paper: past a quarter turn
	// the parts no longer make one piece of cloth.
	maxSlashTurn = math.Pi / 2
)

// linear is the part of an affine map that acts on directions.
func linear(m geom.Affine) geom.Affine { m.C, m.F = 0, 0; return m }

// evenly returns n places that divide the stretch from–to into n+1 equal parts.
func evenly(from, to float64, n int) []float64 {
	places := make([]float64, n)
	for k := range places {
		places[k] = from + (to-from)*float64(k+1)/float64(n+1)
	}
	return places
}

// across returns where a line from the place at on edge i, along dir, leaves
// the piece: the nearest other edge it meets.
func (w *work) across(i int, at float64, dir geom.Point) (j int, b float64, err error) {
	from := w.lines[i].path().At(at)
	best := math.Inf(1)
	for k, l := range w.lines {
		if k == i {
			continue
		}
		path := l.path()
		for _, s := range path.CutLine(from, dir) {
			if d := path.At(s).Sub(from).Dot(dir.Unit()); d > minSlash && d < best {
				best, j, b = d, k, s
			}
		}
	}
	if math.IsInf(best, 1) {
		return 0, 0, refuse(fmt.Sprintf("a slash from edge %q of piece %q meets no other edge", w.Edges[i].Name, w.Name), "slash from another edge")
	}
	return j, b, nil
}

// inMark reports whether the place on an edge of the input lies strictly
// inside a dart or pleat there.
func (w *work) inMark(edge string, at float64) bool {
	inside := func(on string, from, to float64) bool { return on == edge && at > from && at < to }
	return slices.ContainsFunc(w.Darts, func(d pattern.Dart) bool { return inside(d.Edge, d.From, d.To) }) ||
		slices.ContainsFunc(w.Pleats, func(f pattern.Pleat) bool { return inside(f.Edge, f.From, f.To) })
}
