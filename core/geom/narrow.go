package geom

import (
	"cmp"
	"math"
	"slices"
)

// Narrow is a place where two stretches of a closed outline come near each
// other: the two points, how far they are apart, and how much of the outline
// lies between them, the shorter way round. Inside says that what lies between
// the points is the inside of the outline (a neck or a spike), and not a slit.
type Narrow struct {
	A, B   Point
	Width  float64 // mm
	Apart  float64 // mm
	Inside bool
}

// Narrows returns where the closed outline through the points comes within
// width mm of itself although more than apart mm of it lie between: at most 100
// places, the narrowest of them first. A corner counts as narrow only when it is so
// sharp that its sides are still within width at half of apart from its point.
// Points are taken as joined by straight lines; of fewer than three there is
// nothing to tell. The walk is O(n log n) on shapes like pieces.
func Narrows(outline []Point, width, apart float64) []Narrow {
	walk := cutAtCorners(outline, apart*0.525) // a little beyond half, so that both sides of a corner come to more than apart
	n := len(walk)
	box := BoxOf(walk...)
	tall := box.Height() > box.Width()
	type stretch struct {
		a, b   Point
		lo, hi float64 // along the sweep's axis
		along  float64
		length float64
	}
	list := make([]stretch, n)
	total := 0.0
	for i, a := range walk {
		b := walk[(i+1)%n]
		s := stretch{a: a, b: b, lo: min(a.X, b.X), hi: max(a.X, b.X), along: total, length: a.Dist(b)}
		if tall {
			s.lo, s.hi = min(a.Y, b.Y), max(a.Y, b.Y)
		}
		total += s.length
		list[i] = s
	}
	slices.SortFunc(list, func(c, d stretch) int { return cmp.Or(cmp.Compare(c.lo, d.lo), cmp.Compare(c.along, d.along)) })
	var found []Narrow
	// try holds an end of one stretch against the whole of another.
	try := func(q Point, at float64, s *stretch) {
		t, d := Line(s.a, s.b).nearest(q)
		if d >= width {
			return
		}
		gap := math.Abs(s.along + t*s.length - at)
		if gap = min(gap, total-gap); gap <= apart {
			return
		}
		p := s.a.Lerp(s.b, t)
		found = append(found, Narrow{A: q, B: p, Width: d, Apart: gap, Inside: Contains(outline, q.Lerp(p, 0.5))})
	}
sweep:
	for i := range list {
		c := &list[i]
		for j := i + 1; j < n && list[j].lo < c.hi+width; j++ {
			d := &list[j]
			if math.Abs(c.along-d.along)+c.length+d.length <= apart {
				continue // neighbours
			}
			if min(c.a.X, c.b.X) > max(d.a.X, d.b.X)+width || min(d.a.X, d.b.X) > max(c.a.X, c.b.X)+width ||
				min(c.a.Y, c.b.Y) > max(d.a.Y, d.b.Y)+width || min(d.a.Y, d.b.Y) > max(c.a.Y, c.b.Y)+width {
				continue
			}
			try(c.a, c.along, d)
			try(c.b, c.along+c.length, d)
			try(d.a, d.along, c)
			try(d.b, d.along+d.length, c)
			if len(found) >= maxCrossings {
				break sweep
			}
		}
	}
	slices.SortStableFunc(found, func(a, b Narrow) int { return cmp.Compare(a.Width, b.Width) })
	return found[:min(len(found), maxCrossings)]
}

// cutAtCorners returns the outline without doubled points, and with a point put
// in at reach mm from both ends of every line that is longer; nil of fewer than
// three points.
func cutAtCorners(outline []Point, reach float64) []Point {
	var walk []Point
	for _, q := range outline {
		if len(walk) == 0 || q.Dist(walk[len(walk)-1]) > touching {
			walk = append(walk, q)
		}
	}
	for len(walk) > 1 && walk[0].Dist(walk[len(walk)-1]) <= touching {
		walk = walk[:len(walk)-1]
	}
	n := len(walk)
	if n < 3 {
		return nil
	}
	cut := make([]Point, 0, 2*n)
	for i, a := range walk {
		b := walk[(i+1)%n]
		l := a.Dist(b)
		cut = append(cut, a)
		if l > reach {
			cut = append(cut, a.Lerp(b, reach/l))
		}
		if l > 2*reach {
			cut = append(cut, a.Lerp(b, 1-reach/l))
		}
	}
	return cut
}
