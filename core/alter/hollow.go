package alter

import (
	"fmt"
	"math"

	"bygone.example/core/geom"
)

// wave is a line that can be bent to either side: sampled once, drawn for any
// depth. It runs out to nothing at both ends, where places and tangents stay.
type wave struct {
	line             line
	points, left     []geom.Point
	rise             []float64 // how much of the depth each point moves by
	startDir, endDir geom.Point
}

// waveAt returns the wave that is highest at a share of the line's length, more
// than 0 and less than 1.
func (l line) waveAt(share float64) wave {
	path := l.path()
	w := wave{line: l, startDir: path.StartDirection(), endDir: path.EndDirection()}
	total := path.Length()
	power := math.Log(0.5) / math.Log(share) // brings the share to the middle of the wave
	n := int(math.Max(8, math.Min(24, math.Ceil(total/20))))
	for k := range n + 1 {
		at := float64(k) / float64(n)
		f := math.Sin(math.Pi * math.Pow(at, power))
		w.points = append(w.points, path.At(total*at))
		w.left = append(w.left, path.Direction(total*at).Left())
		w.rise = append(w.rise, f*f)
	}
	return w
}

// path draws the wave by mm deep, to the left of the walk.
func (w wave) path(by float64) geom.Path {
	moved := make([]geom.Point, len(w.points))
	for k, p := range w.points {
		moved[k] = p.Add(w.left[k].Mul(by * w.rise[k]))
	}
	moved[0], moved[len(moved)-1] = w.points[0], w.points[len(w.points)-1]
	return geom.Smooth(moved, w.startDir, w.endDir)
}

// drawn returns the line with the wave in it; what lay where, lies there still.
func (w wave) drawn(by float64) line {
	curve := w.path(by)
	if len(curve) != len(w.points)-1 { // two samples fell on one point
		return redrawn(curve, wholeOf(w.line))
	}
	total := w.line.length()
	fresh := make(line, len(curve))
	rest := w.line
	for k, seg := range curve {
		part := rest
		if k < len(curve)-1 {
			part, rest = rest.split(total / float64(len(curve)))
		}
		fresh[k].seg = seg
		fresh[k].old, _ = part.old()
	}
	return fresh
}

// hollowed returns the line bent by mm to the left of the walk, most at a share
// of its length.
func (l line) hollowed(by, share float64) line { return l.waveAt(share).drawn(by) }

// roundTo bends an edge by no more than limit mm until it measures want mm.
func (w *work) roundTo(i int, want, limit float64) error {
	l := w.lines[i]
	if math.Abs(l.length()-want) < equalTolerance {
		return nil
	}
	wave := l.waveAt(0.5)
	miss := func(k float64) float64 { return wave.path(k).Length() - want }
	best, found := 0.0, false
	for _, sign := range []float64{1, -1} { // whichever way takes less
		if k, ok := zeroOf(miss, sign*limit); ok && (!found || math.Abs(k) < math.Abs(best)) {
			best, found = k, true
		}
	}
	if !found {
		return refuse(fmt.Sprintf("the %s edge of piece %q would have to be bent by more than %.0f mm to measure %.1f mm", w.Edges[i].Name, w.Name, limit, want),
			"ask for less")
	}
	w.lines[i] = wave.drawn(best)
	return nil
}

// zeroOf returns where f crosses 0 between 0 and limit, nearest to 0 as far as
// eight steps tell; ok is false where it does not.
func zeroOf(f func(float64) float64, limit float64) (k float64, ok bool) {
	const steps = 8
	lo, flo := 0.0, f(0)
	for n := 1; n <= steps; n++ {
		hi := limit * float64(n) / steps
		fhi := f(hi)
		if flo == 0 {
			return lo, true
		}
		if flo*fhi <= 0 {
			return zero(f, lo, flo, hi, fhi), true
		}
		lo, flo = hi, fhi
	}
	return 0, false
}
