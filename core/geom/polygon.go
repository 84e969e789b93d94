package geom

import "math"

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
