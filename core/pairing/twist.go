package pairing

import (
	"fmt"
	"slices"
	"strings"

	"bygone.example/core/finding"
	"bygone.example/core/pattern"
)

// Why a seam is taken to be walked from opposite ends, for twisted.
const (
	turnedNotches = "the notches of seam %s agree when one side is walked the other way"
	turnedLines   = "the lines that run on at both ends of seam %s agree when one side is walked the other way"
	turnedFinish  = "with seam %s closed, %s comes to lie at %s; with one side walked the other way, %s meets %s"
	turnedFaces   = "seam %s joins front to back at both ends; with one side walked the other way, front meets front"
)

// twist tells of a seam whose sides are walked from opposite ends: by its pairs of
// notches, where all of them agree when one side is turned round, or by the lines
// that go on from its four corners.
func (c *checker) twist(s *seam, pairs [][2]mark, drifted int, least float64) {
	if drifted > 0 && least > c.turnSlack(s) && c.turned(s, pairs) {
		c.twisted(s, fmt.Sprintf(turnedNotches, s.Name))
		return
	}
	if text := c.crosswise(s, len(pairs) == 0); text != "" {
		c.twisted(s, text)
	}
}

func (c *checker) twisted(s *seam, text string) {
	e := s.b.edges[0]
	c.add(SeamTwist, "", finding.Place{Seam: s.Name, Piece: e.piece.Name, Edge: e.Name}, nil, text)
}

// turned reports whether every pair of notches meets when side B is walked from
// its other end.
func (c *checker) turned(s *seam, pairs [][2]mark) bool {
	slack := c.turnSlack(s)
	for _, pair := range pairs {
		if over(s.b.sewn-pair[1].at-pair[0].at, slack) {
			return false
		}
	}
	return true
}

// crosswise says why the lines at both ends of a seam belong together the other
// way round, as when a shoulder is sewn neck to arm; it is empty where they do
// not. Unmarked says that no notch speaks for the way the seam is walked.
func (c *checker) crosswise(s *seam, unmarked bool) string {
	a0, ok1 := c.cornerOf(&s.a, true)
	a1, ok2 := c.cornerOf(&s.a, false)
	b0, ok3 := c.cornerOf(&s.b, true)
	b1, ok4 := c.cornerOf(&s.b, false)
	if !ok1 || !ok2 || !ok3 || !ok4 {
		return ""
	}
	if !c.oneLine(a0, b0) && !c.oneLine(a1, b1) && c.oneLine(a0, b1) && c.oneLine(a1, b0) {
		return fmt.Sprintf(turnedLines, s.Name)
	}
	start, end := c.kin(a0, b0), c.kin(a1, b1)
	if start == alike || end == alike {
		return ""
	}
	switch x, y := c.kin(a0, b1), c.kin(a1, b0); {
	case x == alike && y == alike:
		return fmt.Sprintf(turnedLines, s.Name)
	// A hem sewn to something else tells alone, where it has its like at the other
	// end and nothing speaks against the rest.
	case x == alike && y != foreign && (start == foreign || end == foreign):
		return fmt.Sprintf(turnedFinish, s.Name, a0.told(), b0.told(), a0.told(), b1.told())
	case y == alike && x != foreign && (start == foreign || end == foreign):
		return fmt.Sprintf(turnedFinish, s.Name, a1.told(), b1.told(), a1.told(), b0.told())
	}
	if unmarked && (s.a.all(pattern.Armscye) && s.b.all(pattern.Cap) || s.a.all(pattern.Cap) && s.b.all(pattern.Armscye)) {
		if x, y := a0.face(), a1.face(); x != "" && y != "" && x != y && b0.face() == y && b1.face() == x {
			return fmt.Sprintf(turnedFaces, s.Name)
		}
	}
	return ""
}

// kinship is whether two lines that go on from the same end of a seam belong
// together.
type kinship int

// Most lines that meet at a seam's end are strangers: the side seam and the
// sleeve's underarm. Foreign are those that can be no one line, as a hem and a neck.
const (
	strangers kinship = iota
	alike
	foreign
)

// oneLine reports whether one line goes on from both corners, by its role or because
// it is sewn in one run.
func (c *checker) oneLine(a, b corner) bool {
	return a.next.Is() == b.next.Is() || len(a.next.seams) > 0 && c.continued(a, b)
}

func (c *checker) kin(a, b corner) kinship {
	x, y := a.next, b.next
	switch {
	case c.oneLine(a, b):
		return alike
	case rim(x) && rim(y) && x.Finish == y.Finish:
		return alike
	case rim(x) && (rim(y) || y.Finish == pattern.Fold || len(y.seams) > 0), rim(y) && (x.Finish == pattern.Fold || len(x.seams) > 0):
		return foreign
	}
	return strangers
}

// rim reports whether an edge is one of the garment's: finished for itself, and
// closed. One that is left open may be a placket, which ends anywhere.
func rim(e *edge) bool {
	return len(e.seams) == 0 && (e.Finish == pattern.Hemmed || e.Finish == pattern.Bound || e.Finish == pattern.Faced)
}

// told names the line that goes on from a corner.
func (k corner) told() string { return k.next.piece.Name + "/" + k.next.Name }

// face says whether a corner is at the front or the back of the garment, as far as
// names tell: that of the line that goes on (underarm.front), or the piece's role.
func (k corner) face() string {
	for _, name := range [...]string{k.next.Name, string(k.sewn.piece.Role)} {
		words := strings.FieldsFunc(name, func(r rune) bool { return r == '.' || r == '-' })
		front, back := slices.Contains(words, "front"), slices.Contains(words, "back")
		switch {
		case front && !back:
			return "front"
		case back && !front:
			return "back"
		}
	}
	return ""
}
