package differ

import (
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// edgePair is an edge of a and the one of b that is held against it, b's path in
// the plane of b.
type edgePair struct{ a, b *pattern.Edge }

// lay returns the rigid move that lays piece b over a so that as many edges as
// can be lie on one another: the paper is slid and turned, never turned over.
// Where staying in place is as good as any, b stays.
func lay(pairs []edgePair, tolerance float64) geom.Affine {
	best := geom.Identity
	off, sum := misfit(pairs, best, tolerance)
	if off == 0 {
		return best
	}
	for _, p := range pairs {
		a0, a1, b0, b1 := ends(p)
		if a0.Dist(a1) < minChord || math.Abs(a0.Dist(a1)-b0.Dist(b1)) > tolerance {
			continue
		}
		m := geom.Onto(b0, b1, a0, a1)
		o, s := misfit(pairs, m, tolerance)
		if o < off || o == off && off > 0 && s < sum*lessMisfit && o < len(pairs) {
			best, off, sum = m, o, s
		}
	}
	return best
}

const (
	// minChord in mm: a shorter edge points too uncertainly to lay a piece by.
	minChord = 5.0
	// lessMisfit is how much better another lay with as many edges in place must
	// be to be preferred: by a half, so that one edge which moved is not shared
	// out over the rest.
	lessMisfit = 0.5
)

// ends are two points to lay an edge by: its ends or, of one that closes on
// itself, its start and its middle.
func ends(p edgePair) (a0, a1, b0, b1 geom.Point) {
	a0, a1, b0, b1 = p.a.Path.Start(), p.a.Path.End(), p.b.Path.Start(), p.b.Path.End()
	if a0.Dist(a1) < minChord {
		a1, b1 = p.a.Path.At(p.a.Path.Length()/2), p.b.Path.At(p.b.Path.Length()/2)
	}
	return
}

// misfit returns how many edges do not lie on their counterpart and by how much
// in all, looked at in five places each.
func misfit(pairs []edgePair, m geom.Affine, tolerance float64) (edges int, sum float64) {
	for _, p := range pairs {
		la, lb := p.a.Path.Length(), p.b.Path.Length()
		worst := 0.0
		for i := range 5 {
			t := float64(i) / 4
			worst = math.Max(worst, p.a.Path.At(la*t).Dist(m.Apply(p.b.Path.At(lb*t))))
		}
		if worst > tolerance {
			edges++
		}
		sum += worst
	}
	return edges, sum
}

// turned reports whether b is the mirror image of a, edge by edge under the same
// names, and returns the move that lays it over a.
func turned(a, b *pattern.Piece, tolerance float64) (geom.Affine, bool) {
	flip := geom.Affine{A: -1, E: 1}
	var pairs []edgePair
	for i := range a.Edges {
		other := b.Edge(a.Edges[i].Name)
		if other == nil {
			return flip, false
		}
		e := *other
		e.Path = e.Path.Transform(flip).Reverse()
		pairs = append(pairs, edgePair{&a.Edges[i], &e})
	}
	m := lay(pairs, tolerance)
	if off, _ := misfit(pairs, m, tolerance); off > 0 || len(a.Edges) != len(b.Edges) {
		return flip, false
	}
	return m.After(flip), true
}

// apart returns the largest distance from a point of either path to the other
// path, or between their ends, and where it is: at on p, to on q.
func apart(p, q geom.Path) (far float64, at, to geom.Point) {
	if slices.Equal(p, q) || len(p) == 0 || len(q) == 0 {
		return 0, p.Start(), q.Start()
	}
	far, at, to = p.Start().Dist(q.Start()), p.Start(), q.Start()
	if d := p.End().Dist(q.End()); d > far {
		far, at, to = d, p.End(), q.End()
	}
	if d, x, y := furthest(p, q); d > far+sameDistance {
		far, at, to = d, x, y
	}
	if d, x, y := furthest(q, p); d > far+sameDistance {
		far, at, to = d, y, x
	}
	return far, at, to
}

// sameDistance in mm: distances nearer than this are one, and the first place
// looked at is named, the ends before what lies between.
const sameDistance = 1e-6

// How closely a path is looked at: so many places to a segment and, where there
// are very many segments, so many in all.
const (
	perSegment = 12
	inAll      = 4000
)

// furthest returns the point of p that lies furthest from q, and the point of q
// nearest to it.
func furthest(p, q geom.Path) (far float64, at, to geom.Point) {
	step := max(1, len(p)*perSegment/inAll)
	places := max(1, perSegment/step)
	skip := max(1, step/perSegment)
	off := func(s geom.Segment, t float64) float64 {
		_, d := q.Nearest(s.At(t))
		return d
	}
	far = -1
	var in geom.Segment
	var mid float64
	for i := 0; i < len(p); i += skip {
		for j := 0; j <= places; j++ {
			t := float64(j) / float64(places)
			if d := off(p[i], t); d > far {
				far, in, mid = d, p[i], t
			}
		}
	}
	// Between two places the distance has one peak: close in on it.
	lo, hi := math.Max(0, mid-1/float64(places)), math.Min(1, mid+1/float64(places))
	for range 40 {
		x, y := lo+(hi-lo)/3, hi-(hi-lo)/3
		if off(in, x) < off(in, y) {
			lo = x
		} else {
			hi = y
		}
	}
	if d := off(in, (lo+hi)/2); d > far {
		far, mid = d, (lo+hi)/2
	}
	at = in.At(mid)
	along, _ := q.Nearest(at)
	return far, at, q.At(along)
}
