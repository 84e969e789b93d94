package alter

import (
	"fmt"
	"math"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// edgeStep is an edge that a cut crosses, one part of which moves, and the
// stretch of it around the cut that is drawn anew through the step.
type edgeStep struct {
	line      line
	from, to  float64 // the stretch drawn anew, mm along the edge
	movesLast bool    // the moving part is the edge's end, not its start
	free      bool    // nothing is sewn to it: it may come out as long as it will
	zone      line
	samples   samples
	straight  bool
}

// stepAt prepares edge i for a step at the place at.
func (w *work) stepAt(i int, at float64, movesLast bool, o LengthCut) (*edgeStep, error) {
	l, name := w.lines[i], w.Edges[i].Name
	lo, hi := w.freeAround(name, at, at, l.length())
	need := max(0, -o.By)*stepRoom + minSlash
	reach := min(max(o.Blend, need), at-lo, hi-at)
	if w.inMark(name, at) || reach < need {
		return nil, refuse(fmt.Sprintf("edge %q of piece %q has no room for that between its ends, darts and gathers", name, w.Name), "cut elsewhere, or ask for less")
	}
	s := &edgeStep{line: l, from: at - reach, to: at + reach, movesLast: movesLast, free: w.Edges[i].Finish == pattern.Fold}
	s.zone = l.between(s.from, s.to)
	s.samples = s.zone.sampled()
	s.straight = s.zone.path().Straight(cutSliver)
	return s, nil
}

// stepRoom is how much of an edge, in widths of a pleat folded out, there must
// be on either side of it: with less the line drawn through the step would
// double back.
const stepRoom = 0.8

// path draws the stretch anew with its moving end moved: every point goes by a
// share of the move that rises smoothly from none to all.
func (s *edgeStep) path(m geom.Affine) geom.Path {
	z := s.zone.path()
	d0, d1 := z.StartDirection(), z.EndDirection()
	total := z.Length()
	share := func(at float64) float64 {
		t := at / total
		if !s.movesLast {
			t = 1 - t
		}
		return smoothStep(t)
	}
	if s.movesLast {
		d1 = linear(m).Apply(d1)
	} else {
		d0 = linear(m).Apply(d0)
	}
	a, b := z.Start(), z.End()
	a, b = a.Lerp(m.Apply(a), share(0)), b.Lerp(m.Apply(b), share(total))
	if s.straight {
		if along := b.Sub(a).Unit(); math.Abs(along.Cross(d0)) < 1e-9 && math.Abs(along.Cross(d1)) < 1e-9 {
			return geom.Path{geom.Line(a, b)}
		}
		chord := a.Dist(b)
		return geom.Path{geom.Hermite(a, d0.Mul(chord), b, d1.Mul(chord))}
	}
	return s.samples.drawn(func(p geom.Point, at float64, _ geom.Point) geom.Point {
		return p.Lerp(m.Apply(p), share(at))
	}, d0, d1)
}

// drawn returns the whole edge with its moving part moved.
func (s *edgeStep) drawn(m geom.Affine) line {
	head, _ := s.line.split(s.from)
	_, tail := s.line.split(s.to)
	if s.movesLast {
		tail = tail.transform(m)
	} else {
		head = head.transform(m)
	}
	return head.join(redrawn(s.path(m), wholeOf(s.zone)), tail)
}

// grown is how much longer the edge becomes.
func (s *edgeStep) grown(m geom.Affine) float64 { return s.path(m).Length() - s.zone.length() }

// settleSteps finds the move down, and a small turn about the middle of the cut,
// with which both edges that are not free grow by exactly by.
func settleSteps(down, middle geom.Point, by float64, steps [2]*edgeStep) (geom.Affine, bool) {
	move := func(d, turn float64) geom.Affine {
		return geom.Translation(down.Mul(d)).After(geom.Rotation(middle, turn))
	}
	miss := func(v geom.Point) geom.Point { // v: mm down; mm that a radius of turnArm turns
		m := move(v.X, v.Y/turnArm)
		f := geom.Point{}
		switch {
		case steps[0].free && steps[1].free:
			return geom.Pt(v.X-by, v.Y)
		case steps[0].free:
			f = geom.Pt(steps[1].grown(m)-by, v.Y)
		case steps[1].free:
			f = geom.Pt(steps[0].grown(m)-by, v.Y)
		default:
			f = geom.Pt(steps[0].grown(m)-by, steps[1].grown(m)-by)
		}
		return f
	}
	v := geom.Pt(by, 0)
	for range growTries {
		f := miss(v)
		if f.Len() < growExact/10 {
			return move(v.X, v.Y/turnArm), true
		}
		dx := miss(v.Add(geom.Pt(growStep, 0))).Sub(f).Mul(1 / growStep)
		dy := miss(v.Add(geom.Pt(0, growStep))).Sub(f).Mul(1 / growStep)
		det := dx.Cross(dy)
		if math.Abs(det) < 1e-9 || !v.Finite() {
			return geom.Identity, false
		}
		v = v.Add(geom.Pt(-f.Cross(dy)/det, -dx.Cross(f)/det))
		if math.Abs(v.X-by) > math.Abs(by)/2+stepMost || math.Abs(v.Y) > turnArm/10 {
			return geom.Identity, false
		}
	}
	if miss(v).Len() < growExact {
		return move(v.X, v.Y/turnArm), true
	}
	return geom.Identity, false
}

const (
	// turnArm is the radius in mm at which turns are reckoned, to be of the size of
	// moves: half a panel.
	turnArm = 200
	// stepMost is by how much in mm a piece may be parted otherwise than asked: a
	// greater difference would show as one.
	stepMost = 10
)
