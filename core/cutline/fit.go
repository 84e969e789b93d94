package cutline

import (
	"math"

	"bygone.example/core/geom"
)

// fitTolerance is how far, in mm, a cubic may stray from the offset it is fitted
// to: what PathTolerance leaves when a corner was found on the chords.
const fitTolerance = PathTolerance - 2*FlattenTolerance

// path returns the traced loop in straight lines and as few cubics as hold it.
func (r *raw) path() geom.Path {
	var p geom.Path
	for _, k := range r.runs() {
		if k.curve == 0 {
			p = straightOn(p, k.a, k.b)
		} else {
			p = append(p, fit(r.curves[k.curve-1], k.t0, k.t1, k.a, k.b)...)
		}
	}
	// Where the loop began in the middle of a straight line.
	if m := len(p) - 1; m > 1 && !p[0].Curved && !p[m].Curved && fromChord(p[0].P0, p[m].P0, p[0].P1) < tight &&
		p[m].P1.Sub(p[m].P0).Dot(p[0].P1.Sub(p[0].P0)) > 0 {
		p[0].P0 = p[m].P0
		p = p[:m]
	}
	return p
}

// run is a part of the traced loop along one curve, or one straight chord.
type run struct {
	curve, stretch int
	t0, t1         float64
	a, b           geom.Point
}

// runs parts the traced loop into runs.
func (r *raw) runs() []run {
	n := len(r.line)
	first := 0 // a vertex at which no curve runs on
	for i := range n {
		if !r.runsOn(i) {
			first = (i + 1) % n
			break
		}
	}
	var runs []run
	for i := 0; i < n; {
		k := i // the last chord of the run
		for k+1 < n && r.runsOn((first+k)%n) {
			k++
		}
		v, last := r.line[(first+i)%n], (first+k)%n
		runs = append(runs, run{v.curve, v.stretch, v.t0, r.line[last].t1, v.at, r.next(last)})
		i = k + 1
	}
	for i := range runs {
		r.sharpen(&runs[i], &runs[(i+1)%len(runs)])
	}
	return runs
}

// sharpen moves the place where two curves cross from the crossing of their
// chords to their own.
func (r *raw) sharpen(k, next *run) {
	if k.curve == 0 || next.curve == 0 {
		return
	}
	a, b := r.curves[k.curve-1], r.curves[next.curve-1]
	t, u := k.t1, next.t0
	for range 20 {
		v, w, miss := a.velocity(t), b.velocity(u), b.at(u).Sub(a.at(t))
		den := v.Cross(w)
		if math.Abs(den) < 1e-9*v.Len()*w.Len() || den == 0 {
			return
		}
		dt, du := miss.Cross(w)/den, miss.Cross(v)/den
		t, u = t+dt, u+du
		if math.Abs(dt)+math.Abs(du) < 1e-13 {
			break
		}
	}
	at := a.at(t)
	onTheWay := (k.t1-k.t0)*(t-k.t0) > 0 && (next.t1-next.t0)*(next.t1-u) > 0 && t >= 0 && t <= 1 && u >= 0 && u <= 1
	if onTheWay && at.Near(b.at(u), tight) && at.Near(k.b, 4*FlattenTolerance) {
		k.t1, k.b, next.t0, next.a = t, at, u, at
	}
}

// runsOn reports whether the chord after that of vertex i runs on along the same
// curve.
func (r *raw) runsOn(i int) bool {
	a, b := r.line[i], r.line[(i+1)%len(r.line)]
	return a.curve != 0 && a.curve == b.curve && math.Abs(a.t1-b.t0) < 1e-9 && (a.t1-a.t0)*(b.t1-b.t0) > 0
}

// straightOn adds a straight line, lengthening one that it runs on from.
func straightOn(p geom.Path, a, b geom.Point) geom.Path {
	if a == b {
		return p
	}
	if m := len(p) - 1; m >= 0 && !p[m].Curved && fromChord(a, p[m].P0, b) < tight && p[m].P1.Sub(p[m].P0).Dot(b.Sub(a)) > 0 {
		p[m].P1 = b
		return p
	}
	return append(p, geom.Line(a, b))
}

// mostCubics bounds what one hostile curve may cost.
const mostCubics = 64

// fit returns the offset of a curve from t0 to t1, t1 < t0 where it is walked
// backwards, in as few cubics as stay within tolerance. It begins at a and ends
// at b, which lie within FlattenTolerance of it.
func fit(c curve, t0, t1 float64, a, b geom.Point) geom.Path {
	if !c.Curved {
		return geom.Path{geom.Line(a, b)}
	}
	if c.width == 0 {
		s := c.Part(min(t0, t1), max(t0, t1))
		if t1 < t0 {
			s = s.Reverse()
		}
		s.P0, s.P1 = a, b
		return geom.Path{s}
	}
	var p geom.Path
	from := t0
	for _, t := range append(c.cusps(t0, t1), t1) {
		to := b
		if t != t1 {
			to = c.at(t)
		}
		switch m := len(p) - 1; {
		case !a.Near(to, FlattenTolerance):
			p = append(p, smoothly(c, from, t, a, to)...)
			a = to
		case t != t1: // a hair: the next stretch begins where it began
		case m >= 0:
			p[m].C2, p[m].P1 = p[m].C2.Add(to.Sub(a)), to
		case to != a:
			p = append(p, geom.Line(a, to))
		}
		from = t
	}
	return p
}

// cuspLooks is at how many places a stretch is looked at for where its offset
// turns back on itself.
const cuspLooks = 64

// cusps returns where between t0 and t1 the offset turns back on itself, in
// walking order.
func (c curve) cusps(t0, t1 float64) []float64 {
	var found []float64
	last, ahead := t0, c.ahead(t0)
	for k := 1; k <= cuspLooks; k++ {
		t := t0 + (t1-t0)*float64(k)/cuspLooks
		if now := c.ahead(t); now != ahead {
			lo, hi := last, t
			for range 40 {
				if m := (lo + hi) / 2; c.ahead(m) == ahead {
					lo = m
				} else {
					hi = m
				}
			}
			if hi != t0 && hi != t1 {
				found = append(found, hi)
			}
			ahead = now
		}
		last = t
	}
	return found
}

// smoothly fits a stretch without a cusp.
func smoothly(c curve, t0, t1 float64, a, b geom.Point) geom.Path {
	var p geom.Path
	for n := 1; n <= mostCubics; n += max(1, n/4) {
		p = p[:0]
		from, worst := a, 0.0
		for k := range n {
			u0, u1 := t0+(t1-t0)*float64(k)/float64(n), t0+(t1-t0)*float64(k+1)/float64(n)
			to := b
			if k < n-1 {
				to = c.at(u1)
			}
			s, off := fitOne(c, u0, u1, from, to)
			p, from, worst = append(p, s), to, max(worst, off)
			if worst > fitTolerance {
				break
			}
		}
		if worst <= fitTolerance {
			return p
		}
	}
	return chords(c, t0, t1, a, b)
}

// chords draws the offset in straight lines: of a curve that no few cubics hold.
func chords(c curve, t0, t1 float64, a, b geom.Point) geom.Path {
	const n = 1024
	line := []geom.Point{a}
	for k := 1; k < n; k++ {
		line = append(line, c.at(t0+(t1-t0)*float64(k)/n))
	}
	return geom.Polyline(append(line, b)...)
}

// samples is at how many places a cubic is held against its offset.
const samples = 16

// fitOne returns the cubic with the offset's ends and tangents there that comes
// nearest to it (least squares over the two handles), and how far it strays.
func fitOne(c curve, t0, t1 float64, a, b geom.Point) (geom.Segment, float64) {
	// The offset, moved so that it ends in a and b.
	var q [samples + 1]geom.Point
	da, db := a.Sub(c.at(t0)), b.Sub(c.at(t1))
	for k := range q {
		u := float64(k) / samples
		q[k] = c.at(t0 + (t1-t0)*u).Add(da.Lerp(db, u))
	}
	step := (t1 - t0) * 1e-4
	d0 := c.along(t0, step)
	d1 := c.along(t1, -step) // backwards from the end
	// First places by the lengths of the chords.
	var u [samples + 1]float64
	for k := 1; k <= samples; k++ {
		u[k] = u[k-1] + q[k].Dist(q[k-1])
	}
	total := u[samples]
	if total == 0 {
		return geom.Line(a, b), 0
	}
	for k := range u {
		u[k] /= total
	}
	best, least := geom.Line(a, b), math.Inf(1)
	l0, l1 := total/3, total/3
	for range fitSteps {
		s := geom.Cubic(a, a.Add(d0.Mul(l0)), b.Add(d1.Mul(l1)), b)
		off := 0.0
		var c00, c01, c11, x0, x1 float64
		for k := 1; k < samples; k++ {
			u[k] = closest(s, q[k], u[k])
			miss := q[k].Sub(s.At(u[k]))
			off = max(off, miss.Len())
			// How far square to the cubic either handle moves it there.
			t, m := u[k], 1-u[k]
			n := s.Direction(t).Right()
			j0, j1 := 3*m*m*t*d0.Dot(n), 3*m*t*t*d1.Dot(n)
			c00, c01, c11 = c00+j0*j0, c01+j0*j1, c11+j1*j1
			x0, x1 = x0+j0*miss.Dot(n), x1+j1*miss.Dot(n)
		}
		if off < least {
			best, least = s, off
		}
		det := c00*c11 - c01*c01
		if off < fitTolerance/8 || det <= 1e-9*c00*c11 {
			break
		}
		l0, l1 = l0+(x0*c11-x1*c01)/det, l1+(c00*x1-c01*x0)/det
		l0, l1 = max(total*1e-3, min(l0, total*2)), max(total*1e-3, min(l1, total*2))
	}
	return best, least
}

// fitSteps is how often the handles are bettered: each step about doubles the
// digits that are right.
const fitSteps = 6

// along returns the unit direction in which the offset leaves t when t grows by
// step: against the curve's where that is tighter than the offset is wide.
func (c curve) along(t, step float64) geom.Point {
	d := c.Direction(t)
	if c.at(t+step).Sub(c.at(t)).Dot(d) < 0 {
		return d.Mul(-1)
	}
	return d
}

// closest returns the parameter near u at which a cubic is nearest to q: one or
// two of Newton's steps.
func closest(s geom.Segment, q geom.Point, u float64) float64 {
	for range 2 {
		v := s.Velocity(u)
		off := s.At(u).Sub(q)
		const h = 1e-4
		turn := s.Velocity(min(1, u+h)).Sub(s.Velocity(max(0, u-h))).Mul(1 / (min(1, u+h) - max(0, u-h)))
		den := v.Dot(v) + off.Dot(turn)
		if den <= 0 {
			return u
		}
		u = max(0, min(1, u-off.Dot(v)/den))
	}
	return u
}
