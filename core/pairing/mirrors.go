package pairing

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"bygone.example/core/finding"
	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

const (
	// mirrorSamples is how many points of each edge are held against the mirror
	// image: enough to see a curve's middle and quarters.
	mirrorSamples = 8
	// mirrorFits is how often the mirror image is laid on anew, each time heeding
	// less what lies far off, so that one point that was moved does not pull the
	// rest along.
	mirrorFits = 30
	// mirrorPull in mm is the distance below which a point is heeded in full.
	mirrorPull = 0.01
)

// leftAndRight are the words by which names tell the two sides of a body.
var leftAndRight = [2]string{"left", "right"}

// bodySide returns a name without the word that says which side of the body it is
// for, and which that is: 0 left, 1 right, -1 when it does not say, or says both.
func bodySide(name string) (base string, side int) {
	words := strings.FieldsFunc(name, func(c rune) bool { return c == '-' || c == '.' })
	side = -1
	for k, word := range leftAndRight {
		if !slices.Contains(words, word) {
			continue
		}
		if side >= 0 {
			return name, -1
		}
		side = k
	}
	if side < 0 {
		return name, -1
	}
	words = slices.DeleteFunc(words, func(w string) bool { return w == leftAndRight[side] })
	return strings.Join(words, "-"), side
}

// mirrors holds the right piece against the left one wherever two pieces are
// named as a pair.
func (c *checker) mirrors() {
	left := map[string]*pattern.Piece{}
	for i := range c.pattern.Pieces {
		p := &c.pattern.Pieces[i]
		if base, side := bodySide(p.Name); side == 0 && left[base] == nil {
			left[base] = p
		}
	}
	for i := range c.pattern.Pieces {
		p := &c.pattern.Pieces[i]
		if base, side := bodySide(p.Name); side == 1 && left[base] != nil {
			c.mirror(left[base], p)
		}
	}
}

// facing is a point of the right piece and the one it should lie on of the left
// piece's mirror image.
type facing struct {
	edge     *pattern.Edge
	at, onto geom.Point
}

// mirror holds a right piece against a left one.
func (c *checker) mirror(left, right *pattern.Piece) {
	if len(left.Edges) != len(right.Edges) {
		c.add(MirrorShape, "", finding.Place{Piece: right.Name}, nil,
			fmt.Sprintf("%s has %d edges and %s has %d: they are not mirror images", left.Name, len(left.Edges), right.Name, len(right.Edges)))
		return
	}
	flip := geom.Reflection(geom.Pt(0, 0), geom.Pt(0, 1))
	// A mirror image runs the other way round; so does a piece listed clockwise.
	sameWay := (left.Area() < 0) == (right.Area() < 0)
	walked := func(path geom.Path, turned bool) geom.Path {
		if turned {
			return path.Reverse()
		}
		return path
	}
	pairs, ok := facings(left, right, func(path geom.Path) geom.Path { return walked(path.Transform(flip), sameWay) })
	if !ok {
		return // edges of other names: nothing tells which belong together
	}
	worst, off := laidOn(pairs)
	if !over(off, c.Mirror) {
		return
	}
	how := "differ"
	if alike, ok := facings(left, right, func(path geom.Path) geom.Path { return walked(path, !sameWay) }); ok {
		if _, same := laidOn(alike); !over(same, c.Mirror) {
			how = "are cut alike, not as mirror images: they differ"
		}
	}
	c.add(MirrorShape, "", finding.Place{Piece: right.Name, Edge: worst.edge.Name, At: &worst.at},
		&finding.Figures{A: off, B: 0, Difference: off, Unit: "mm"},
		fmt.Sprintf("%s and the mirror image of %s %s by %s at %.1f, %.1f", right.Name, left.Name, how, mm(off), worst.at.X, worst.at.Y))
}

// facings pairs points of the right piece's edges with those of the left piece's
// edges of the same names, turned as they are to lie on each other.
func facings(left, right *pattern.Piece, turned func(geom.Path) geom.Path) (pairs []facing, ok bool) {
	byName := map[string]*pattern.Edge{}
	for i := range left.Edges {
		base, _ := bodySide(left.Edges[i].Name)
		if byName[base] != nil {
			return nil, false
		}
		byName[base] = &left.Edges[i]
	}
	for i := range right.Edges {
		e := &right.Edges[i]
		base, _ := bodySide(e.Name)
		mate := byName[base]
		if mate == nil || len(e.Path) == 0 || len(mate.Path) == 0 {
			return nil, false
		}
		delete(byName, base)
		pairs = append(pairs, opposite(e, turned(mate.Path))...)
	}
	return pairs, true
}

// opposite pairs points of an edge with those of a path: joint with joint where
// both are drawn of as many lines and curves, else at equal shares of the length.
func opposite(e *pattern.Edge, path geom.Path) []facing {
	var pairs []facing
	if len(e.Path) == len(path) {
		for i, s := range e.Path {
			steps := 1
			if s.Curved || path[i].Curved {
				steps = 4
			}
			for k := range steps {
				t := float64(k) / float64(steps)
				pairs = append(pairs, facing{e, s.At(t), path[i].At(t)})
			}
		}
		return pairs
	}
	for k := range mirrorSamples {
		share := float64(k) / mirrorSamples
		pairs = append(pairs, facing{e, e.Path.At(share * e.Path.Length()), path.At(share * path.Length())})
	}
	return pairs
}

// laidOn turns and shifts the points until they lie on one another as well as
// they can, and returns the pair that is furthest apart, and how far.
func laidOn(pairs []facing) (worst facing, off float64) {
	weight := make([]float64, len(pairs))
	for i := range weight {
		weight[i] = 1
	}
	apart := make([]float64, len(pairs))
	for range mirrorFits {
		var sum float64
		var a, b geom.Point // the centres
		for i, p := range pairs {
			sum += weight[i]
			a, b = a.Add(p.at.Mul(weight[i])), b.Add(p.onto.Mul(weight[i]))
		}
		a, b = a.Mul(1/sum), b.Mul(1/sum)
		var along, across float64
		for i, p := range pairs {
			u, v := p.onto.Sub(b), p.at.Sub(a)
			along += weight[i] * u.Dot(v)
			across += weight[i] * u.Cross(v)
		}
		turn := geom.Rotation(geom.Point{}, math.Atan2(across, along))
		for i, p := range pairs {
			apart[i] = turn.Apply(p.onto.Sub(b)).Add(a).Dist(p.at)
			weight[i] = 1 / max(apart[i], mirrorPull)
		}
	}
	order := make([]int, len(pairs))
	for i := range order {
		order[i] = i
	}
	first := slices.MaxFunc(order, func(i, j int) int { return cmp.Or(cmp.Compare(apart[i], apart[j]), cmp.Compare(j, i)) })
	return pairs[first], apart[first]
}
