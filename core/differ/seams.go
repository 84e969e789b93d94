package differ

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"bygone.example/core/pattern"
)

// allSeams compares the seams, by name or, of what is left, by the edges that
// they join.
func (c *comparer) allSeams() {
	var left []*pattern.Seam
	for i := range c.b.Seams {
		if c.a.Seam(c.b.Seams[i].Name) == nil {
			left = append(left, &c.b.Seams[i])
		}
	}
	for i := range c.a.Seams {
		s := &c.a.Seams[i]
		if t := c.b.Seam(s.Name); t != nil {
			c.seam(s, t)
			continue
		}
		k := slices.IndexFunc(left, func(t *pattern.Seam) bool { return c.sameSides(s, t) })
		if k < 0 {
			c.add(Difference{What: SeamGone, Seam: s.Name}, "{2} has no seam %s (%s)", s.Name, sides(s))
			continue
		}
		c.add(Difference{What: SeamRenamed, Seam: s.Name}, "seam %s is called %s in {2}", s.Name, left[k].Name)
		c.seam(s, left[k])
		left = slices.Delete(left, k, k+1)
	}
	for _, t := range left {
		c.add(Difference{What: SeamNew, Seam: t.Name}, "{2} has a seam %s besides (%s)", t.Name, sides(t))
	}
}

func sides(s *pattern.Seam) string {
	if len(s.B) == 0 {
		return runWords(s.A) + " to its own mirror image"
	}
	return runWords(s.A) + " to " + runWords(s.B)
}

func runWords(r pattern.Run) string {
	var list []string
	for _, e := range r {
		list = append(list, e.String())
	}
	return strings.Join(list, ", ")
}

// carried is a run of the first pattern as the second calls its edges.
func (c *comparer) carried(r pattern.Run) pattern.Run {
	out := slices.Clone(r)
	for i := range out {
		if p := c.PairOf(out[i].Piece); p != nil {
			out[i].Piece = p.B
			if e, ok := p.Edges[out[i].Edge]; ok {
				out[i].Edge = e
			}
		}
	}
	return out
}

// turnedRun is the same run walked from its other end.
func turnedRun(r pattern.Run) pattern.Run {
	out := slices.Clone(r)
	slices.Reverse(out)
	for i := range out {
		out[i].Backwards = !out[i].Backwards
	}
	return out
}

// sameSides reports whether two seams join the same edges, walked together
// either way. Side A is the fuller one's partner in an eased seam, so the sides
// are not to be swapped.
func (c *comparer) sameSides(s, t *pattern.Seam) bool {
	a, b := c.carried(s.A), c.carried(s.B)
	return slices.Equal(a, t.A) && slices.Equal(b, t.B) ||
		slices.Equal(turnedRun(a), t.A) && slices.Equal(turnedRun(b), t.B)
}

func (c *comparer) seam(s, t *pattern.Seam) {
	d := Difference{Seam: s.Name}
	if !c.sameSides(s, t) {
		d.What = SeamEdges
		c.add(d, "seam %s joins %s in {1}, %s in {2}", s.Name, sides(s), sides(t))
	}
	if was, is := meetingWords(s), meetingWords(t); was != is {
		d.What = SeamMeeting
		c.add(d, "seam %s is %s in {1}, %s in {2}", s.Name, was, is)
	}
	d.What = SeamLength
	for _, side := range [...]struct {
		what string
		a, b pattern.Run
	}{{"side A", s.A, t.A}, {"side B", s.B, t.B}} {
		was, is := c.a.RunLength(side.a), c.b.RunLength(side.b)
		if by := is - was; c.beyond(by) {
			d.MM = math.Abs(by)
			c.add(d, "%s of seam %s sews to %s in {1}, %s in {2}", side.what, s.Name, mm(was), mm(is))
		}
	}
}

// meetingWords says how the sides of a seam come to one length.
func meetingWords(s *pattern.Seam) string {
	text := string(s.Meeting.Kind)
	if text == "" {
		text = string(pattern.Plain)
	}
	if r := s.Meeting.Ease; r.Given() {
		text += fmt.Sprintf(" with %g to %g mm of ease", r.Min, r.Max)
	}
	if r := s.Meeting.Ratio; r.Given() {
		text += fmt.Sprintf(" %g to %g times", r.Min, r.Max)
	}
	if s.Kind == pattern.Basted {
		text += ", basted"
	}
	return text
}
