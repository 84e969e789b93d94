package pairing

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"bygone.example/core/finding"
	"bygone.example/core/pattern"
)

// movedShoulder in mm, half an inch: a shoulder seam further off its notch was moved on
// purpose, as to the back in the fashion of 1806, and the notch stays where the arm
// has its top.
const movedShoulder = 12.7

// topNotch looks at the notch of an armscye that is called after the shoulder: it
// marks where the sleeve's top meets the shoulder seam, and so lies at that.
func (c *checker) topNotch(s *seam) {
	if s.mirrored() || s.Kind == pattern.Basted {
		return
	}
	armscye, head := &s.a, &s.b
	if s.a.all(pattern.Cap) {
		armscye, head = head, armscye
	}
	if !armscye.all(pattern.Armscye) || !head.all(pattern.Cap) {
		return
	}
	seam, ok := c.shoulderAlong(armscye)
	if !ok {
		return
	}
	matched, _ := pairs(armscye.marks(), head.marks())
	for _, pair := range matched {
		m := pair[0]
		words := strings.FieldsFunc(m.Name, func(r rune) bool { return r == '.' || r == '-' })
		off := m.at - seam
		if !slices.Contains(words, pattern.Shoulder) || !over(off, c.Notch) || over(off, movedShoulder) {
			continue
		}
		// A note: a seam moved forward on purpose leaves the mark at the top of the arm.
		c.add(NotchDrift, finding.Note, m.place(s.Name), &finding.Figures{A: m.at, B: seam, Difference: off, Unit: "mm"},
			fmt.Sprintf("notch %s of %s/%s lies %s from the shoulder seam, which it marks on the sleeve", m.Name, m.edge.piece.Name, m.edge.Name, mm(math.Abs(off))))
	}
}

// shoulderAlong returns how far along an armscye the shoulder seam comes; ok is false
// of one that has none, or several.
func (c *checker) shoulderAlong(armscye *run) (at float64, ok bool) {
	for i := 1; i < len(armscye.edges); i++ {
		from, to := armscye.edges[i-1], armscye.edges[i]
		a, okA := c.cornerAt(from.edge, from.backwards)
		b, okB := c.cornerAt(to.edge, !to.backwards)
		if !okA || !okB || a.next.Is() != pattern.Shoulder || b.next.Is() != pattern.Shoulder {
			continue
		}
		if ok {
			return 0, false
		}
		at, ok = to.before, true
	}
	return at, ok
}
