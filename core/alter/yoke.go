package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Yoke says where a yoke seam runs.
type Yoke struct {
	Piece string
	// Darts are taken into the seam: it runs through their points.
	Darts []string
	// The seam runs from FromAt mm along edge From to ToAt mm along edge To.
	From   string
	FromAt float64
	To     string
	ToAt   float64
	Name   string // of the piece above the seam; empty: the piece's name and -yoke
}

// YokeSeam divides a piece by a seam through the points of one or more darts and
// closes them: each opens nothing, for it ends at the seam, which bends there
// instead and is drawn smooth.
//
// Kept: the sewn length of every edge; the two new edges are equal exactly, for
// bending keeps length. At a fold or centre the seam is square. Degenerate: a seam that
// leaves the piece or runs across another dart, and darts whose points do not
// lie one after another along it, are refused.
func YokeSeam(p *pattern.Pattern, o Yoke) (*operation.Answer, error) {
	e := begin(p)
	w, err := e.pieceNamed(o.Piece)
	if err != nil {
		return nil, err
	}
	i, err := w.named(o.From)
	if err != nil {
		return nil, err
	}
	j, err := w.named(o.To)
	if err != nil {
		return nil, err
	}
	if i == j {
		return nil, refuse(fmt.Sprintf("a yoke seam on piece %q would begin and end on the same edge %q", w.Name, o.From), "name two edges")
	}
	for _, end := range []struct {
		k  int
		at float64
	}{{i, o.FromAt}, {j, o.ToAt}} {
		if long := w.lines[end.k].length(); end.at < fromCorner || end.at > long-fromCorner || w.inMark(w.Edges[end.k].Name, end.at) {
			return nil, refuse(fmt.Sprintf("a yoke seam cannot end %.1f mm along edge %q of piece %q", end.at, w.Edges[end.k].Name, w.Name),
				fmt.Sprintf("choose a place between %d and %.1f mm, outside darts and pleats", fromCorner, long-fromCorner))
		}
	}
	a, b := w.lines[i].path().At(o.FromAt), w.lines[j].path().At(o.ToAt)
	points := []geom.Point{a}
	var darts []pattern.Dart
	for _, name := range o.Darts {
		d := w.Dart(name)
		if d == nil {
			return nil, noDart(w, name)
		}
		darts = append(darts, *d)
	}
	along := b.Sub(a).Unit()
	slices.SortStableFunc(darts, func(x, y pattern.Dart) int {
		if x.Point.Sub(a).Dot(along) < y.Point.Sub(a).Dot(along) {
			return -1
		}
		return 1
	})
	for _, d := range darts {
		if d.Point.Dist(points[len(points)-1]) < fromCorner || d.Point.Dist(b) < fromCorner {
			return nil, refuse(fmt.Sprintf("the yoke seam has no room for dart %q of piece %q", d.Name, w.Name), "move its point, or join the darts first")
		}
		points = append(points, d.Point)
	}
	points = append(points, b)
	var leave, arrive geom.Point
	centre := func(k int) bool {
		is := w.Edges[k].Is()
		return w.Edges[k].Finish == pattern.Fold || is == pattern.CentreFront || is == pattern.CentreBack
	}
	if centre(i) {
		leave = w.lines[i].path().Direction(o.FromAt).Left()
	}
	if centre(j) {
		arrive = w.lines[j].path().Direction(o.ToAt).Right()
	}
	seam := geom.Smooth(points, leave, arrive)
	region, flat := w.outline(), seam.Flatten(sideTolerance)
	for k := 1; k < len(flat); k++ {
		for _, d := range w.Darts {
			// A dart that is taken in ends on the seam; only its end may touch it.
			near := slices.ContainsFunc(darts, func(x pattern.Dart) bool {
				return x.Name == d.Name && (flat[k].Near(d.Point, sideTolerance) || flat[k-1].Near(d.Point, sideTolerance))
			})
			if !near && w.cutsDart(flat[k-1], flat[k], d) {
				return nil, refuse(fmt.Sprintf("the yoke seam would run across dart %q of piece %q", d.Name, w.Name), "take it into the seam, or turn it first")
			}
		}
		if k < len(flat)-1 && !geom.Contains(region, flat[k]) {
			return nil, refuse(fmt.Sprintf("the yoke seam leaves piece %q", w.Name), "choose places on opposite edges")
		}
	}
	name := o.Name
	if name == "" {
		name = w.Name + "-yoke"
	}
	if e.piece(name) != nil || w.EdgeIndex(yokeEdge) >= 0 {
		return nil, refuse(fmt.Sprintf("piece %q has a yoke already", w.Name), "leave this step out, or name another piece")
	}
	cut := parting{
		i: i, iEnds: o.FromAt, iStarts: o.FromAt, j: j, jEnds: o.ToAt, jStarts: o.ToAt, kept: seam, taken: seam, seam: yokeEdge,
		piece: pattern.Piece{Name: name, Title: "Yoke of " + w.Title, Cut: w.Cut}, marks: []float64{seam.Length() / 4, seam.Length() * 3 / 4},
	}
	up := geom.Pt(0, 1)
	if w.Grain.Given() {
		up = w.Grain.To.Sub(w.Grain.From)
	}
	// The yoke is what lies above the seam, as the grain runs.
	if seam.End().Sub(seam.Start()).Cross(up) > 0 {
		// Its left side is above: the part walked from i to j lies to the right.
		cut.i, cut.j = j, i
		cut.iEnds, cut.iStarts, cut.jEnds, cut.jStarts = o.ToAt, o.ToAt, o.FromAt, o.FromAt
		cut.kept, cut.taken = seam.Reverse(), seam.Reverse()
	}
	part := e.part(w, cut)
	w.keepGrainInside()
	part.keepGrainInside()
	e.changed("yoke seam", w.Name, 0, seam.Length(), "mm")
	e.changed("yoke seam", part.Name, 0, seam.Length(), "mm")
	answer, err := e.finish()
	if err != nil {
		return nil, err
	}
	for _, d := range darts {
		for _, piece := range []string{w.Name, name} {
			if answer.Pattern.Piece(piece).Dart(d.Name) != nil {
				if answer, err = then(answer, func(p *pattern.Pattern) (*operation.Answer, error) { return closeInto(p, piece, d.Name) }); err != nil {
					return nil, err
				}
				break
			}
		}
	}
	return answer, nil
}

// yokeEdge names the edges of a yoke seam.
const yokeEdge = "yoke"

// closeInto closes a dart whose point lies on the piece's yoke seam. The seam
// edge bends there; it is drawn smooth around the place and keeps its length.
func closeInto(p *pattern.Pattern, piece, dart string) (*operation.Answer, error) {
	e := begin(p)
	w, found, err := e.dart(piece, dart)
	if err != nil {
		return nil, err
	}
	d := *found
	i, j := w.EdgeIndex(d.Edge), w.EdgeIndex(yokeEdge)
	path := w.lines[i].path()
	f, t := path.At(d.From), path.At(d.To)
	if math.Abs(f.Dist(d.Point)-t.Dist(d.Point)) > legTolerance {
		return nil, refuse(fmt.Sprintf("the legs of dart %q on piece %q differ", d.Name, w.Name), "true the dart's legs first")
	}
	w.touched = true
	at, off := w.lines[j].path().Nearest(d.Point)
	if off > cutSliver || i == j {
		return nil, refuse(fmt.Sprintf("dart %q of piece %q does not end on the yoke seam", d.Name, w.Name), "move its point there first")
	}
	long := w.lines[j].length()
	pivot := w.lines[j].path().At(at)
	angle := geom.Turn(f.Sub(pivot), t.Sub(pivot))
	far, near := w.walk(i, d.To, j, at), w.walk(j, at, i, d.From)
	w.Darts = slices.DeleteFunc(w.Darts, func(x pattern.Dart) bool { return x.Name == dart })
	if region := regionOf(far, pivot); w.holdsAnchor(far, region) {
		m := geom.Rotation(pivot, angle)
		w.movePoints(near, regionOf(near, pivot), m)
		near = transformAll(near, m)
	} else {
		m := geom.Rotation(pivot, -angle)
		w.movePoints(far, region, m)
		far = transformAll(far, m)
	}
	last, first := far[len(far)-1], near[0]
	w.lines[i] = near[len(near)-1].join(far[0])
	w.lines[j] = last.join(first)
	copyMiddle(w, i, j, far)
	copyMiddle(w, j, i, near)
	w.heal()
	// Only a stretch on either side of the bend is drawn anew.
	before, after := math.Min(yokeReach, last.length()*0.8), math.Min(yokeReach, first.length()*0.8)
	keep, x := last.split(last.length() - before)
	y, rest := first.split(after)
	bend := x.join(y)
	fresh, ok := unbent(bend, long-keep.pathLength()-rest.pathLength())
	if !ok {
		return nil, refuse(fmt.Sprintf("dart %q of piece %q bends the yoke seam too much to draw it smooth", dart, w.Name), "split the dart, or leave a part of it")
	}
	w.lines[j] = keep.join(fresh, rest)
	w.heal()
	w.keepGrainInside()
	e.changed(d.Edge+", cut", w.Name, e.in.Piece(piece).Edge(d.Edge).Path.Length(), w.lines[i].length(), "mm")
	e.changed("angle of "+dart+" taken into the yoke seam", w.Name, degrees(math.Abs(angle)), 0, "degrees")
	e.changed("yoke seam", w.Name, long, w.lines[j].length(), "mm")
	return e.finish()
}

// yokeReach is how far in mm beside a dart's point a yoke seam is drawn smooth.
const yokeReach = 60

// unbent draws a line with one corner in it as one curve with the same ends,
// tangents there and length: the fuller the tangents, the longer it is.
func unbent(l line, want float64) (line, bool) {
	path := l.path()
	chord := path.Start().Dist(path.End())
	u, v := path.StartDirection(), path.EndDirection()
	curve := func(k float64) geom.Path {
		return geom.Path{geom.Hermite(path.Start(), u.Mul(chord*(1+k)), path.End(), v.Mul(chord*(1+k)))}
	}
	k, ok := rootNear(func(k float64) float64 { return curve(k).Length() - want }, 2.5)
	if !ok || k < -0.9 {
		return nil, false
	}
	old, known := l.old()
	if !known {
		return nil, false
	}
	return redrawn(curve(k), old), true
}
