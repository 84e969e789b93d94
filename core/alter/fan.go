package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
)

// fan says how a sleeve is opened like a fan at its head or hem: by slashes
// that run to the seam under the arm on either side and are hinged there, so
// that the seam swings outward and nothing changes beyond it.
type fan struct {
	edge    int // the head or the hem
	slashes int // on either side
	// near and far are where the seam is hinged, as shares of the way along it
	// from the edge that opens: the outermost slash ends at near, the innermost at
	// far.
	near, far float64
	// lean opens the slashes at the back more than those in front: 0 alike, 1
	// only those at the back.
	lean float64
}

// fanSlashes returns where the fan's slashes run, each opening by its share of
// 1 mm, and where they hinge the edge up to the head and the one down from it.
// Every slash turns by the same angle, or those on either side of the middle,
// where the fan leans.
func (a *arm) fanSlashes(f fan) (cuts []slash, hinges [2][]float64) {
	long := a.lines[f.edge].length()
	opening := a.lines[f.edge].path()
	front, _ := a.sides()
	var sum float64
	for k := range f.slashes { // from the innermost to the outermost
		out := 0.0
		if f.slashes > 1 {
			out = float64(k) / float64(f.slashes-1)
		}
		away := (float64(k) + 0.5) / float64(f.slashes) // from the middle of the edge to its end
		for s, i := range [2]int{a.up, a.down} {
			c := slash{i: f.edge, j: i}
			total := a.lines[i].length()
			c.b = total * (f.far + (f.near-f.far)*out)
			c.a = long / 2 * (1 + away)
			if (i == a.up) == (f.edge == a.cap) { // the seam's edge runs up to the start of the one that opens
				c.b = total - c.b
				c.a = long / 2 * (1 - away)
			}
			c.openA = opening.At(c.a).Dist(a.lines[i].path().At(c.b))
			if i == front {
				c.openA *= 1 - f.lean
			} else {
				c.openA *= 1 + f.lean
			}
			sum += c.openA
			cuts = append(cuts, c)
			hinges[s] = append(hinges[s], c.b)
		}
	}
	for k := range cuts {
		cuts[k].openA /= sum
	}
	return cuts, hinges
}

// fanTo opens the fan, shapes what was opened, and repeats with another opening
// until the edge measures what it is to. The seam on which it is hinged keeps its
// length.
func (a *arm) fanTo(f fan, want float64, shape func(*arm)) error {
	was := a.lines[f.edge].length()
	seams := [2]geom.Path{a.lines[a.up].path(), a.lines[a.down].path()}
	unit, hinges := a.fanSlashes(f)
	try := func(growth float64) (*arm, error) {
		c := a.copy()
		cuts := slices.Clone(unit)
		for k := range cuts {
			cuts[k].openA *= growth
		}
		if err := c.spread(cuts); err != nil {
			return nil, err
		}
		c.inOneSweep(f.edge, 2*f.slashes)
		shape(c)
		return c, nil
	}
	growth, last, lastMiss := want-was, 0.0, 0.0
	for n := range swellTries {
		if !(growth > cutSliver) {
			break
		}
		c, err := try(growth)
		if err != nil {
			return err
		}
		miss := c.lines[f.edge].length() - want
		if math.Abs(miss) <= fanNear {
			if err := c.lengthTo(f.edge, want); err != nil {
				return err
			}
			for s, i := range [2]int{c.up, c.down} {
				if err := c.rebend(i, seams[s], hinges[s]); err != nil {
					return err
				}
				if err := c.lengthTo(i, seams[s].Length()); err != nil {
					return err
				}
			}
			a.take(c)
			return nil
		}
		next := growth - miss
		if n > 0 && miss != lastMiss {
			next = growth - miss*(growth-last)/(miss-lastMiss)
		}
		growth, last, lastMiss = next, growth, miss
	}
	return refuse(fmt.Sprintf("edge %q of piece %q measures %.0f mm and cannot be brought to %.0f like this", a.Edges[f.edge].Name, a.Name, was, want), "ask for more, or shape it less")
}

// fanNear is how near in mm a fan is opened to what its edge is to measure; the
// rest is rounded out, which moves the line by less.
const fanNear = 2

// inOneSweep draws an edge that was spread in one sweep through what the slashes
// left of it: each point becomes the mean of the line about it, as far either way
// as two slashes lie apart. The ends keep their places and tangents.
func (a *arm) inOneSweep(i, slashes int) {
	l := a.lines[i]
	path := rule(l.path())
	total := path.long()
	const n = sweepPoints
	var at [n + 1]geom.Point
	for k := range at {
		at[k], _ = path.at(total * float64(k) / n)
	}
	window := (n + slashes - 1) / slashes
	a.lines[i] = l.reshaped(func(_ geom.Point, d float64, _ geom.Point) geom.Point {
		k := max(0, min(n, int(math.Round(d/total*n))))
		half := min(window, k, n-k)
		var sum geom.Point
		for _, q := range at[k-half : k+half+1] {
			sum = sum.Add(q)
		}
		return sum.Mul(1 / float64(2*half+1))
	}, path.path.StartDirection(), path.path.EndDirection()).snapEnds(l.start(), l.end())
}

// sweepPoints is at how many places a spread edge is looked at to find the sweep
// through it: a multiple of those that it is drawn through.
const sweepPoints = 120
