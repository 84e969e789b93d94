package geom

import "math"

// Point is a place in the plane, or the vector from the origin to it, in mm.
type Point struct {
	X float64 `json:"x"`
	Y float64 `json:"y"`
}

// Pt is shorthand for Point{x, y}.
func Pt(x, y float64) Point { return Point{x, y} }

// Polar returns the point at distance r from the origin in direction angle.
func Polar(r, angle float64) Point {
	s, c := math.Sincos(angle)
	return Point{r * c, r * s}
}

// Add returns p+q.
func (p Point) Add(q Point) Point { return Point{p.X + q.X, p.Y + q.Y} }

// Sub returns p-q: the vector from q to p.
func (p Point) Sub(q Point) Point { return Point{p.X - q.X, p.Y - q.Y} }

// Mul returns p scaled by k.
func (p Point) Mul(k float64) Point { return Point{p.X * k, p.Y * k} }

// Dot returns the scalar product.
func (p Point) Dot(q Point) float64 { return p.X*q.X + p.Y*q.Y }

// Cross returns the z of the vector product: positive when q lies
// counter-clockwise of p.
func (p Point) Cross(q Point) float64 { return p.X*q.Y - p.Y*q.X }

// Len returns the vector's length.
func (p Point) Len() float64 { return math.Hypot(p.X, p.Y) }

// Dist returns the distance between two points.
func (p Point) Dist(q Point) float64 { return p.Sub(q).Len() }

// Unit returns the vector of length 1 in p's direction; of the zero vector,
// the zero vector.
func (p Point) Unit() Point {
	l := p.Len()
	if l == 0 {
		return Point{}
	}
	return Point{p.X / l, p.Y / l}
}

// Left returns p turned a quarter counter-clockwise.
func (p Point) Left() Point { return Point{-p.Y, p.X} }

// Right returns p turned a quarter clockwise.
func (p Point) Right() Point { return Point{p.Y, -p.X} }

// Angle returns the direction of p in (-π, π].
func (p Point) Angle() float64 { return math.Atan2(p.Y, p.X) }

// Lerp returns the point a fraction t of the way from p to q.
func (p Point) Lerp(q Point, t float64) Point {
	return Point{p.X + (q.X-p.X)*t, p.Y + (q.Y-p.Y)*t}
}

// Near reports whether p and q are within tol of each other.
func (p Point) Near(q Point, tol float64) bool { return p.Dist(q) <= tol }

// Finite reports whether both coordinates are ordinary numbers.
func (p Point) Finite() bool {
	return !math.IsNaN(p.X) && !math.IsInf(p.X, 0) && !math.IsNaN(p.Y) && !math.IsInf(p.Y, 0)
}

// Turn returns the angle in (-π, π] by which direction from must be turned,
// counter-clockwise positive, to point along direction to.
func Turn(from, to Point) float64 { return math.Atan2(from.Cross(to), from.Dot(to)) }
