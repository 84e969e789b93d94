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
// through a along u, in walking order, each on the true curve. A place where
// the path only touches the line counts; of a stretch that lies along the line,
// so do its ends. A direction of no length meets nothing.
func (p Path) CutLine(a, u Point) []float64 {
	u = u.Unit()
	if u == (Point{}) {
		return nil
	}
	side := func(q Point) float64 {
		f := u.Cross(q.Sub(a))
		if math.Abs(f) < onLine {
			return 0
		}
		return f
	}
	var found []float64
	var walked float64
	meet := func(at float64) {
		if len(found) == 0 || at > found[len(found)-1]+touching {
			found = append(found, at)
		}
	}
	for _, s := range p {
		// Between the places where it stands still, the distance from the line
		// only grows or only shrinks: it is nothing at one place at most.
		breaks := []float64{0, 1}
		if s.Curved {
			breaks = slices.Insert(extrema(side(s.P0), side(s.C1), side(s.C2), side(s.P1)), 0, 0)
			breaks = append(breaks, 1)
		}
		for i, t1 := range breaks[1:] {
			t0 := breaks[i]
			f0, f1 := side(s.At(t0)), side(s.At(t1))
			if f0 == 0 {
				meet(walked + s.LengthTo(t0))
			}
			if f1 == 0 {
				meet(walked + s.LengthTo(t1))
			}
			if f0*f1 >= 0 {
				continue
			}
			for range 80 {
				m := (t0 + t1) / 2
				if f := side(s.At(m)); f*f0 > 0 {
					t0 = m
				} else {
					t1 = m
				}
			}
			meet(walked + s.LengthTo((t0+t1)/2))
		}
		walked += s.Length()
	}
	return found
}

// onLine is the distance in mm at which a point is taken to be on a line: what
// rounding leaves at the largest coordinates that a pattern may have (1e5 mm).
const onLine = 1e-9
