package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
)

// bump moves the points of an edge by up to the given vector: by sin² of their
// share of its length, raised to the power skew; a negative one counts from the
// edge's other end. The ends keep their places and tangents, and what stands on
// the edge goes with it.
func (w *work) bump(i int, by geom.Point, skew float64) {
	if by == (geom.Point{}) {
		return
	}
	l := w.lines[i]
	path, total := l.path(), l.length()
	moved := func(p geom.Point, at float64, _ geom.Point) geom.Point {
		share := max(0, min(1, at/total)) // rounding: of a share below 0 there is no power
		if skew < 0 {
			share = 1 - share
		}
		f := math.Sin(math.Pi * math.Pow(share, math.Abs(skew)))
		return p.Add(by.Mul(f * f))
	}
	for k := range w.Landmarks {
		mark := &w.Landmarks[k].At
		if at, off := path.Nearest(*mark); off <= sideTolerance {
			*mark = moved(*mark, at, geom.Point{})
		}
	}
	w.lines[i] = l.reshaped(moved, path.StartDirection(), path.EndDirection()).snapEnds(l.start(), l.end())
}

// rebend draws an edge anew on which slashes were hinged: was is the edge before
// them and hinges are the places along it. Where the spread paper has a corner
// at each hinge, the edge turns by as much evenly on either side of it, as far
// as the middle of the shorter part beside it, and the ends keep the places and tangents that they
// have come to. Its length stays, nearly.
func (w *work) rebend(i int, was geom.Path, hinges []float64) error {
	now := w.lines[i].path()
	before, after := rule(was), rule(now)
	total := before.long()
	// The turn of every part between hinges, and where one passes into the next:
	// as far before the hinge as after it, so that the line's end stays near.
	bounds := append(append([]float64{0}, slices.Sorted(slices.Values(hinges))...), total)
	at, turned := []float64{}, []float64{}
	angle := 0.0
	for k := 1; k < len(bounds); k++ {
		mid := (bounds[k-1] + bounds[k]) / 2
		_, from := before.at(mid)
		_, onto := after.at(mid)
		turn := geom.Turn(from, onto)
		if k > 1 { // the sum may pass half a turn
			turn = angle + math.Remainder(turn-angle, 2*math.Pi)
			w := min(bounds[k-1]-bounds[k-2], bounds[k]-bounds[k-1]) / 2
			at, turned = append(at, bounds[k-1]-w, bounds[k-1]+w), append(turned, angle, turn)
		}
		angle = turn
	}
	turnAt := func(s float64) float64 {
		k, _ := slices.BinarySearch(at, s)
		switch {
		case k == 0:
			return turned[0]
		case k == len(at):
			return turned[k-1]
		case at[k] == at[k-1]:
			return turned[k]
		}
		return turned[k-1] + (turned[k]-turned[k-1])*(s-at[k-1])/(at[k]-at[k-1])
	}
	n := max(8, int(math.Ceil(total/rebendStep)))
	points, from := []geom.Point{now.Start()}, was.Start()
	for k := range n {
		to, _ := before.at(total * float64(k+1) / float64(n))
		turn := geom.Rotation(geom.Point{}, turnAt(total*(float64(k)+0.5)/float64(n)))
		points = append(points, points[k].Add(turn.Apply(to.Sub(from))))
		from = to
	}
	if points[n].Near(points[0], cutSliver) {
		return refuse(fmt.Sprintf("edge %q of piece %q would be bent round into itself", w.Edges[i].Name, w.Name), "ask for less")
	}
	// Turned evenly, the line ends a little off where the corners took it.
	home := geom.Onto(points[0], points[n], now.Start(), now.End())
	scale := now.Start().Dist(now.End()) / points[0].Dist(points[n])
	for k := range points {
		points[k] = now.Start().Lerp(home.Apply(points[k]), scale)
	}
	curve := geom.Smooth(points, now.StartDirection(), now.EndDirection())
	fresh, rest := make(line, 0, len(curve)), w.lines[i]
	step := rest.length() / float64(n)
	for k, seg := range curve {
		part := rest
		if k < len(curve)-1 {
			part, rest = rest.split(step)
		}
		st := strand{seg: seg}
		st.old, _ = part.old()
		fresh = append(fresh, st)
	}
	w.lines[i] = fresh.snapEnds(now.Start(), now.End())
	return nil
}

// rebendStep in mm is how closely a hinged edge is followed when it is drawn
// anew: as close as a cutter sets points for a curve.
const rebendStep = 15

// lengthTo rounds an edge out, or draws it flatter, until it has the length
// wanted. The move is greatest in the middle and leaves the ends' places and
// tangents.
func (w *work) lengthTo(i int, want float64) error {
	l := w.lines[i]
	total := l.length()
	if math.Abs(total-want) < equalTolerance {
		return nil
	}
	sampled := l.sampled()
	startDir, endDir := l.path().StartDirection(), l.path().EndDirection()
	bulge := func(k float64) func(geom.Point, float64, geom.Point) geom.Point {
		return func(p geom.Point, at float64, left geom.Point) geom.Point {
			f := math.Sin(math.Pi * at / total)
			return p.Add(left.Mul(k * f * f))
		}
	}
	missing := func(k float64) float64 { return sampled.drawn(bulge(k), startDir, endDir).Length() - want }
	off := missing(0)
	sign := 1.0 // the side to which the miss gets less
	if (missing(0.5)-missing(-0.5))*off > 0 {
		sign = -1
	}
	for reach := 0.25; reach <= roundLimit; reach *= 2 {
		far := sign * reach
		m := missing(far)
		if m*off > 0 {
			continue
		}
		lo, flo, hi, fhi := 0.0, off, far, m
		if flo > 0 {
			lo, flo, hi, fhi = hi, fhi, lo, flo
		}
		w.lines[i] = l.reshaped(bulge(zero(missing, lo, flo, hi, fhi)), startDir, endDir).snapEnds(l.start(), l.end())
		return nil
	}
	return refuse(fmt.Sprintf("edge %q of piece %q cannot be drawn %.1f mm long where it measures %.1f", w.Edges[i].Name, w.Name, want, total), "ask for less of what bends or lengthens it")
}
