package geom

import "math"

// Box is an upright rectangle. The zero value is the single point at the
// origin; EmptyBox holds nothing.
type Box struct{ Min, Max Point }

// EmptyBox contains no point; With and Union grow from it.
var EmptyBox = Box{Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}}

// BoxOf returns the smallest box around the points; of none, EmptyBox.
func BoxOf(points ...Point) Box {
	b := EmptyBox
	for _, p := range points {
		b = b.With(p)
	}
	return b
}

// With returns the box grown to hold p.
func (b Box) With(p Point) Box {
	return Box{
		Point{math.Min(b.Min.X, p.X), math.Min(b.Min.Y, p.Y)},
		Point{math.Max(b.Max.X, p.X), math.Max(b.Max.Y, p.Y)},
	}
}

// Union returns the smallest box around both.
func (b Box) Union(o Box) Box {
	if o.Empty() {
		return b
	}
	return b.With(o.Min).With(o.Max)
}

// Grow returns the box with every side moved out by d.
func (b Box) Grow(d float64) Box {
	return Box{b.Min.Sub(Point{d, d}), b.Max.Add(Point{d, d})}
}

// Empty reports whether the box holds nothing.
func (b Box) Empty() bool { return b.Max.X < b.Min.X || b.Max.Y < b.Min.Y }

// Width and Height are the sides in mm.
func (b Box) Width() float64  { return b.Max.X - b.Min.X }
func (b Box) Height() float64 { return b.Max.Y - b.Min.Y }

// Centre returns the middle of the box.
func (b Box) Centre() Point { return b.Min.Lerp(b.Max, 0.5) }

// distance returns how far q lies outside the box, 0 inside it.
func (b Box) distance(q Point) float64 {
	return math.Hypot(math.Max(0, math.Max(b.Min.X-q.X, q.X-b.Max.X)), math.Max(0, math.Max(b.Min.Y-q.Y, q.Y-b.Max.Y)))
}

// Overlaps reports whether the boxes share a point.
func (b Box) Overlaps(o Box) bool {
	return b.Min.X <= o.Max.X && o.Min.X <= b.Max.X && b.Min.Y <= o.Max.Y && o.Min.Y <= b.Max.Y
}
