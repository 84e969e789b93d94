package pairing

import "math"

// abreast is a stretch of a seam along which one edge of side A lies against one
// of side B.
type abreast struct {
	a, b walked
	// from and to bound the stretch as shares of the sewn seam, from its start.
	from, to float64
}

// leastAbreast in mm: edges that share less of a seam only touch at a corner
// that rounding has moved.
const leastAbreast = 1.0

// abreast lists the stretches of a seam in walking order. Where the sides differ
// in length each is taken in proportion, as ease and gathers spread. Of a seam to
// the mirror image there are none.
func (s *seam) abreast() []abreast {
	if s.mirrored() || s.a.sewn <= 0 || s.b.sewn <= 0 {
		return nil
	}
	end := func(r *run, i int) float64 {
		if i == len(r.edges)-1 {
			return 1
		}
		return r.edges[i+1].before / r.sewn
	}
	var list []abreast
	at := 0.0
	for i, j := 0, 0; i < len(s.a.edges) && j < len(s.b.edges); {
		endA, endB := end(&s.a, i), end(&s.b, j)
		to := math.Min(endA, endB)
		if (to-at)*math.Max(s.a.sewn, s.b.sewn) >= leastAbreast {
			list = append(list, abreast{s.a.edges[i], s.b.edges[j], at, to})
			at = to
		}
		if endA <= to {
			i++
		}
		if endB <= to {
			j++
		}
	}
	return list
}

// flat returns the place in mm along the flat edge that comes to lie at a share
// of the sewn run.
func (w walked) flat(r *run, share float64) float64 {
	sewn := share*r.sewn - w.before
	if w.backwards {
		sewn = w.sewn - sewn
	}
	return w.piece.FlatPosition(w.Name, math.Max(0, math.Min(sewn, w.sewn)))
}
