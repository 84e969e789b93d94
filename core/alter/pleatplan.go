package alter

import "math"

// PleatPlan is the arithmetic of pleats at one level of a skirt: cloth of a
// given width laid in so many pleats to a finished width. Where the levels
// differ, as waist, hip and hem do, each has a plan of its own with the same
// number of pleats.
type PleatPlan struct {
	Cut, Finished float64 // mm
	Count         int
	// Panel is what the first pleat takes up where it is planned by itself, the
	// same at every level: that beside a flat panel. 0 is a pleat like the rest.
	Panel float64
}

// TakeUp returns what all pleats take up, mm; negative where the cloth is
// narrower than what it is to be laid to.
func (p PleatPlan) TakeUp() float64 { return p.Cut - p.Finished }

// Each returns what one pleat takes up, mm, the first aside where Panel is
// given. It is NaN where no pleat is left to take anything up.
func (p PleatPlan) Each() float64 {
	n, take := p.Count, p.TakeUp()
	if p.Panel > 0 {
		n, take = n-1, take-p.Panel
	}
	if n < 1 {
		return math.NaN()
	}
	return take / float64(n)
}

// Space returns how much of each pleat shows, mm.
func (p PleatPlan) Space() float64 { return p.Finished / float64(p.Count) }

// takes returns what pleat k takes up.
func (p PleatPlan) takes(k int) float64 {
	if k == 0 && p.Panel > 0 {
		return p.Panel
	}
	return p.Each()
}

// lay returns where the pleats begin and end on the cloth, mm from its start:
// half a space before the first and after the last. From the other end where
// turned is set, so that the panel's pleat is the last on the edge.
func (p PleatPlan) lay(turned bool) [][2]float64 {
	at := p.Space() / 2
	places := make([][2]float64, p.Count)
	for k := range places {
		t := p.takes(k)
		places[k] = [2]float64{at, at + t}
		if turned {
			places[k] = [2]float64{p.Cut - at - t, p.Cut - at}
		}
		at += t + p.Space()
	}
	return places
}
