package alter

import (
	"math"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// then does another operation on what the first one answered, and tells of both
// as one.
func then(first *operation.Answer, do func(*pattern.Pattern) (*operation.Answer, error)) (*operation.Answer, error) {
	second, err := do(first.Pattern)
	if err != nil {
		return nil, err
	}
	return first.Then(second), nil
}

// smoothStep rises from 0 at 0 to 1 at 1 and is level at both: moved by it, a
// line keeps its tangents at the ends.
func smoothStep(t float64) float64 { return t * t * (3 - 2*t) }

// swept returns the line with its end moved by v and its start where it was;
// the tangents at both ends stay.
func (l line) swept(v geom.Point) line {
	total := l.length()
	path := l.path()
	return l.reshaped(func(p geom.Point, at float64, _ geom.Point) geom.Point {
		return p.Add(v.Mul(smoothStep(at / total)))
	}, path.StartDirection(), path.EndDirection()).snapEnds(l.start(), l.end().Add(v))
}

// sweptStart is swept for a line whose start moves and whose end stays.
func (l line) sweptStart(v geom.Point) line {
	total := l.length()
	path := l.path()
	return l.reshaped(func(p geom.Point, at float64, _ geom.Point) geom.Point {
		return p.Add(v.Mul(smoothStep(1 - at/total)))
	}, path.StartDirection(), path.EndDirection()).snapEnds(l.start().Add(v), l.end())
}

// rootNear returns the root of f nearest to 0, no further off than limit.
func rootNear(f func(float64) float64, limit float64) (float64, bool) {
	at0 := f(0)
	if math.Abs(at0) < equalTolerance/10 {
		return 0, true
	}
	lastUp, lastDown := at0, at0
	was := 0.0
	// Steps grow: what is looked for is small as a rule.
	for k := 1; k <= 24; k++ {
		x := limit * float64(k*k) / (24 * 24)
		up, down := f(x), f(-x)
		switch {
		case (up > 0) != (lastUp > 0):
			return between(f, was, lastUp, x, up), true
		case (down > 0) != (lastDown > 0):
			return between(f, -was, lastDown, -x, down), true
		}
		lastUp, lastDown, was = up, down, x
	}
	return 0, false
}

// between is zero for two places whichever of them f is positive at.
func between(f func(float64) float64, a, fa, b, fb float64) float64 {
	if fa > 0 {
		a, fa, b, fb = b, fb, a, fa
	}
	return zero(f, a, fa, b, fb)
}

// pathTo returns the path from its start to where it crosses the ray from
// centre that lies turned by angle from its start, running straight on if it
// ends before; ok is false if it never comes there.
func pathTo(p geom.Path, centre geom.Point, angle float64) (_ geom.Path, ok bool) {
	from := p.Start().Sub(centre)
	ray := geom.Rotation(geom.Point{}, angle).Apply(from)
	side := func(q geom.Point) float64 { // positive until the ray is reached
		v := ray.Cross(q.Sub(centre))
		if angle > 0 {
			v = -v
		}
		return v
	}
	const steps = 200
	total := p.Length()
	last := 0.0
	for k := 1; k <= steps; k++ {
		at := total * float64(k) / steps
		if side(p.At(at)) > 0 {
			last = at
			continue
		}
		hi := at
		for range 60 {
			if mid := (last + hi) / 2; side(p.At(mid)) > 0 {
				last = mid
			} else {
				hi = mid
			}
		}
		return p.Between(0, hi), true
	}
	q, ok := geom.LineMeet(p.End(), p.EndDirection(), centre, ray)
	if !ok || q.Sub(p.End()).Dot(p.EndDirection()) <= 0 || q.Sub(centre).Dot(ray) <= 0 {
		return nil, false
	}
	return p.Join(geom.Path{geom.Line(p.End(), q)}), true
}
