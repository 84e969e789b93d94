package alter

import (
	"slices"

	"bygone.example/core/geom"
)

// ruler finds many places along one path: the lengths of its segments are
// measured once.
type ruler struct {
	path geom.Path
	ends []float64 // how far along the path each segment ends, mm
}

func rule(path geom.Path) ruler {
	r := ruler{path: path, ends: make([]float64, len(path))}
	at := 0.0
	for i, s := range path {
		at += s.Length()
		r.ends[i] = at
	}
	return r
}

// long is the path's length, mm.
func (r ruler) long() float64 { return r.ends[len(r.ends)-1] }

// at returns the point at d mm along the path and the unit tangent there; beyond
// the ends, those of the end.
func (r ruler) at(d float64) (p, dir geom.Point) {
	i, _ := slices.BinarySearch(r.ends, d)
	i = min(i, len(r.path)-1)
	from := 0.0
	if i > 0 {
		from = r.ends[i-1]
	}
	s := r.path[i]
	t := s.Parameter(max(0, min(r.ends[i], d)-from))
	return s.At(t), s.Direction(t)
}
