package draw

import (
	"fmt"
	"math"

	"bygone.example/core/geom"
)

// layer is lines in one ink, in mm of cloth.
type layer struct {
	ink   ink
	paths []geom.Path
}

// magnify returns how many times its true size a difference of mm is shown in a
// loupe of radius r: a round number that makes it some half of the radius.
func magnify(mm, r float64) float64 {
	times := []float64{50, 20, 10, 5, 4, 3, 2, 1, 0.5, 0.2, 0.1, 0.05}
	for _, k := range times {
		if mm*k <= 0.62*r {
			return k
		}
	}
	return times[len(times)-1]
}

// loupe draws what lies around a place of the cloth, k times its true size,
// inside a circle of radius r about c.
func (d *Drawing) loupe(c geom.Point, r, k float64, about geom.Point, layers []layer) {
	d.stroke(ink{fill: white}, circle(c, r))
	m := geom.Translation(c).After(scaling(k)).After(geom.Translation(about.Mul(-1)))
	for _, l := range layers {
		var parts []geom.Path
		for _, p := range l.paths {
			if p.Bounds().Grow(r / k).Overlaps(geom.BoxOf(about)) {
				parts = append(parts, inCircle(p.Transform(m).Flatten(0.03), c, r)...)
			}
		}
		if len(parts) > 0 {
			d.stroke(l.ink, parts...)
		}
	}
	d.stroke(ink{stroke: grey, width: 0.35}, circle(c, r))
}

// inCircle returns the parts of a polyline that lie in the circle of radius r
// about c.
func inCircle(pts []geom.Point, c geom.Point, r float64) []geom.Path {
	var parts []geom.Path
	for i := 1; i < len(pts); i++ {
		a, v := pts[i-1].Sub(c), pts[i].Sub(pts[i-1])
		// |a + t·v| ≤ r between the roots of a quadratic.
		qa, qb, qc := v.Dot(v), a.Dot(v), a.Dot(a)-r*r
		disc := qb*qb - qa*qc
		if qa == 0 || disc <= 0 {
			continue
		}
		root := math.Sqrt(disc)
		t0, t1 := math.Max(0, (-qb-root)/qa), math.Min(1, (-qb+root)/qa)
		if t0 >= t1 {
			continue
		}
		s := geom.Line(pts[i-1].Lerp(pts[i], t0), pts[i-1].Lerp(pts[i], t1))
		if n := len(parts); n > 0 && parts[n-1].End().Near(s.P0, 1e-9) {
			parts[n-1] = append(parts[n-1], s)
			continue
		}
		parts = append(parts, geom.Path{s})
	}
	return parts
}

// times writes a magnification.
func times(k float64) string {
	switch {
	case k == 1:
		return "true size"
	case k < 1:
		return fmt.Sprintf("1:%g", 1/k)
	}
	return fmt.Sprintf("%g times true size", k)
}
