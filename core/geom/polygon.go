package geom

import (
	"math"
	"slices"
)

// Area returns the signed area in mm² that a closed path encloses, exact for
// cubics (Green's theorem): positive when walked counter-clockwise.
func (p Path) Area() float64 {
	var sum float64
	for _, s := range p {
		if !s.Curved {
			sum += s.P0.Cross(s.P1) / 2
			continue
		}
		// ½∮(x dy − y dx) of a cubic, in closed form.
		sum += (6*s.P0.Cross(s.C1) + 3*s.P0.Cross(s.C2) + s.P0.Cross(s.P1) +
			3*s.C1.Cross(s.C2) + 3*s.C1.Cross(s.P1) + 6*s.C2.Cross(s.P1)) / 20
	}
	return sum
}

// Contains reports whether q lies inside the polygon of the points (even-odd;
// on the border, either answer).
func Contains(polygon []Point, q Point) bool {
	inside := false
	for i, j := 0, len(polygon)-1; i < len(polygon); j, i = i, i+1 {
		a, b := polygon[i], polygon[j]
		if (a.Y > q.Y) != (b.Y > q.Y) && q.X < (b.X-a.X)*(q.Y-a.Y)/(b.Y-a.Y)+a.X {
			inside = !inside
		}
	}
	return inside
}

// Centroid returns the centre of area of the polygon; of one without area,
// the mean of its points.
func Centroid(polygon []Point) Point {
	var c, mean Point
	var twice float64
	for i, j := 0, len(polygon)-1; i < len(polygon); j, i = i, i+1 {
		k := polygon[j].Cross(polygon[i])
		twice += k
		c = c.Add(polygon[j].Add(polygon[i]).Mul(k))
		mean = mean.Add(polygon[i])
	}
	if math.Abs(twice) < 1e-9 {
		return mean.Mul(1 / math.Max(1, float64(len(polygon))))
	}
	return c.Mul(1 / (3 * twice))
}

// Crossing is a place where two stretches of a path cut each other: the arc
// lengths of both, in walking order, and the point.
type Crossing struct {
	First, Second float64
	At            Point
}

// SelfCrossings returns where a path cuts itself. A closed path's own joint is
// not a crossing, nor are neighbours that merely share an end. Curves are
// flattened within tol first; the walk is O(n log n) on shapes like pieces.
func (p Path) SelfCrossings(tol float64) []Crossing {
	type chord struct {
		a, b  Point
		index int
		along float64
	}
	points := p.Flatten(tol)
	chords := make([]chord, 0, len(points))
	var walked float64
	for i := 1; i < len(points); i++ {
		l := points[i-1].Dist(points[i])
		if l > 0 {
			chords = append(chords, chord{points[i-1], points[i], len(chords), walked})
		}
		walked += l
	}
	n := len(chords)
	closed := n > 0 && points[0].Near(points[len(points)-1], tol)
	sorted := slices.Clone(chords)
	slices.SortFunc(sorted, func(c, d chord) int {
		l, r := math.Min(c.a.X, c.b.X), math.Min(d.a.X, d.b.X)
		switch {
		case l < r:
			return -1
		case l > r:
			return 1
		}
		return c.index - d.index
	})
	var found []Crossing
	for i, c := range sorted {
		right := math.Max(c.a.X, c.b.X)
		for _, d := range sorted[i+1:] {
			if math.Min(d.a.X, d.b.X) > right {
				break
			}
			lo, hi := c, d
			if lo.index > hi.index {
				lo, hi = hi, lo
			}
			neighbours := hi.index == lo.index+1 || closed && lo.index == 0 && hi.index == n-1
			if neighbours {
				if folded(lo.a, lo.b, hi.a, hi.b) {
					found = append(found, Crossing{lo.along, hi.along, hi.a})
				}
				continue
			}
			if t, u, ok := cross(lo.a, lo.b, hi.a, hi.b); ok {
				found = append(found, Crossing{
					lo.along + t*lo.a.Dist(lo.b), hi.along + u*hi.a.Dist(hi.b), lo.a.Lerp(lo.b, t),
				})
			}
		}
	}
	slices.SortFunc(found, func(a, b Crossing) int {
		switch {
		case a.First < b.First:
			return -1
		case a.First > b.First:
			return 1
		}
		return 0
	})
	return found
}

// folded reports whether two chords that share an end lie on one another.
func folded(a, b, c, d Point) bool {
	u, v := b.Sub(a).Unit(), d.Sub(c).Unit()
	return math.Abs(u.Cross(v)) < 1e-9 && u.Dot(v) < 0
}

// cross returns the parameters at which ab and cd meet, ends included.
func cross(a, b, c, d Point) (t, u float64, ok bool) {
	r, s := b.Sub(a), d.Sub(c)
	den := r.Cross(s)
	if den == 0 {
		return 0, 0, false
	}
	t, u = c.Sub(a).Cross(s)/den, c.Sub(a).Cross(r)/den
	return t, u, t >= 0 && t <= 1 && u >= 0 && u <= 1
}

// LineMeet returns where the endless lines through a along u and through b
// along v meet; ok is false when they run parallel.
func LineMeet(a, u, b, v Point) (p Point, ok bool) {
	den := u.Unit().Cross(v.Unit())
	if math.Abs(den) < 1e-12 {
		return Point{}, false
	}
	return a.Add(u.Mul(b.Sub(a).Cross(v) / u.Cross(v))), true
}

// CutLine returns the arc lengths at which the path meets the endless line
// through a along u, in walking order, each refined on the true curve.
func (p Path) CutLine(a, u Point) []float64 {
	u = u.Unit()
	side := func(q Point) float64 { return u.Cross(q.Sub(a)) }
	var found []float64
	var walked float64
	for _, s := range p {
		const pieces = 32
		n := pieces
		if !s.Curved {
			n = 1
		}
		for i := range n {
			t0, t1 := float64(i)/float64(n), float64(i+1)/float64(n)
			f0, f1 := side(s.At(t0)), side(s.At(t1))
			if f0 == 0 && walked == 0 && i == 0 {
				found = append(found, 0)
			}
			if f1 == 0 {
				found = append(found, walked+s.LengthTo(t1))
				continue
			}
			if f0 == 0 || (f0 > 0) == (f1 > 0) {
				continue
			}
			for range 80 {
				m := (t0 + t1) / 2
				if f := side(s.At(m)); (f > 0) == (f0 > 0) {
					t0 = m
				} else {
					t1 = m
				}
			}
			found = append(found, walked+s.LengthTo((t0+t1)/2))
		}
		walked += s.Length()
	}
	return found
}
