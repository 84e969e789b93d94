package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/pattern"
)

// turnWith lets what is set into both pieces around one end of a moved seam, as a
// sleeve into an armscye, turn with it: its own seam, which meets the moved one,
// moves by as much there and stays where it is at its other end.
func (e *edit) turnWith(m movedSeam, k int) error {
	s, by := m.sums[k], m.by[k]
	if math.Abs(by) <= cutSliver {
		return nil
	}
	for _, x := range e.seams {
		for _, runs := range [][2]pattern.Run{{x.A, x.B}, {x.B, x.A}} {
			own, other := runs[0], runs[1]
			if len(own) < 2 || len(other) != 1 {
				continue
			}
			first, last := own[0], own[len(own)-1]
			aFirst := first.Piece == s.a.Name && first.Edge == s.a.Edges[s.ia].Name && last.Piece == s.b.Name && last.Edge == s.b.Edges[s.ib].Name
			bFirst := first.Piece == s.b.Name && first.Edge == s.b.Edges[s.ib].Name && last.Piece == s.a.Name && last.Edge == s.a.Edges[s.ia].Name
			if !aFirst && !bFirst || !m.joint.outer(k, own, aFirst) {
				continue
			}
			e.restep = append(e.restep, x.Name)
			w := e.piece(other[0].Piece)
			if w == nil {
				continue
			}
			head, err := w.named(other[0].Edge)
			if err != nil {
				return err
			}
			// gains is the edge beside the end of the head that meets a's piece.
			gains := w.prev(head)
			if aFirst == other[0].Backwards {
				gains = w.next(head)
			}
			if err := e.turnHead(w, head, gains, by); err != nil {
				return err
			}
		}
	}
	return nil
}

// outer reports whether a run that begins on one side's neighbour at end k of the
// seam and ends on the other's closes there, as an armscye does under the arm: at
// its other meeting of the two, as at the shoulder, it only runs across.
func (j seamJoint) outer(k int, run pattern.Run, aFirst bool) bool {
	i, _ := j.a.beside(k == 1)
	ref, first := run[0], aFirst
	if !aFirst {
		ref = run[len(run)-1]
	}
	// The run's outer end is where it enters its first edge, or leaves its last.
	if first != ref.Backwards {
		return j.a.w.prev(i) == j.a.i
	}
	return j.a.w.next(i) == j.a.i
}

// turnHead moves the seam that closes a sleeve by mm at its head, so that the
// edge gains gets wider.
func (e *edit) turnHead(w *work, head, gains int, by float64) error {
	for _, y := range e.in.SeamsOf(w.Name, w.Edges[gains].Name) {
		j, err := e.joint(y.Name)
		if err != nil || j.a.w != w || j.b.w != w {
			continue
		}
		if j.b.i == gains {
			by = -by
		}
		start, end := by, 0.0
		if i, _ := j.a.beside(true); i == head {
			start, end = 0, by
		}
		if _, err := e.moveJoint(j, start, end, 0); err != nil {
			return err
		}
		e.changed(fmt.Sprintf("seam %s moved with it at the %s", y.Name, w.Edges[head].Is()), w.Name, 0, math.Abs(by), "mm")
		return nil
	}
	e.caution(fmt.Sprintf("Piece %s is set in around the moved seam: its notches were moved, and it hangs a little turned. Try it in the mock-up.", w.Name))
	return nil
}

// holdLong marks both sides of a seam that is long and has no notch to be held by.
func (j seamJoint) holdLong(e *edit) {
	a, b := j.a, j.b
	for _, s := range []side{a, b} {
		if slices.ContainsFunc(s.w.Notches, func(n pattern.Notch) bool { return n.Edge == s.name() }) {
			return
		}
	}
	if a.length() <= longSeam {
		return
	}
	for _, s := range []side{a, b} {
		s.w.fresh.notches = append(s.w.fresh.notches, pattern.Notch{Name: j.seam.Name + "-1", Edge: s.name(), At: s.length() / 2, Count: 1})
	}
}

// cautionJunctions says which seams met the moved one across another seam, and
// no longer do: the skirt's side seam under the bodice's. Pieces that were moved
// with it are passed over.
func (e *edit) cautionJunctions(m movedSeam, with []string) {
	for n, s := range m.sums {
		if math.Abs(m.by[n]) <= inStep {
			continue
		}
		for i := range e.seams {
			x := &e.seams[i]
			for _, runs := range [][2]pattern.Run{{x.A, x.B}, {x.B, x.A}} {
				own, other := runs[0], runs[1]
				done := 0.0
				for k := 0; k+1 < len(own); k++ {
					done += e.in.RunLength(own[k : k+1])
					pair := own[k : k+2]
					if !pair.Has(s.a.Name, s.a.Edges[s.ia].Name) || !pair.Has(s.b.Name, s.b.Edges[s.ib].Name) {
						continue
					}
					far := 0.0
					for q := 0; q+1 < len(other); q++ {
						far += e.in.RunLength(other[q : q+1])
						if math.Abs(far-done) <= inStep && !slices.Contains(with, other[q].Piece) {
							e.caution(fmt.Sprintf("Seam %s no longer meets the one between %s and %s across seam %s: move that one too if they are to meet.",
								m.joint.seam.Name, other[q].Piece, other[q+1].Piece, x.Name))
						}
					}
				}
			}
		}
	}
}
