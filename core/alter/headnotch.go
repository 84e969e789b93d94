package alter

import (
	"slices"

	"bygone.example/core/pattern"
)

const (
	// underShare is how far up from under the arm, as a share of the armscye, the
	// notches of a sleeve are set, and up to where there is no ease before them (common
	// practice; the figure is from memory).
	underShare = 0.2
	// flatShare is up to where a partner is set without ease, where no other pair of
	// notches lies below it.
	flatShare = 0.3
)

// headSeam tells which side of a seam is a sleeve's head and which the armscye that
// it is eased into; ok is false of any other seam.
func headSeam(p *pattern.Pattern, s *pattern.Seam) (head, armscye pattern.Run, ok bool) {
	all := func(r pattern.Run, role string) bool {
		return len(r) > 0 && !slices.ContainsFunc(r, func(ref pattern.EdgeRef) bool { return p.Edge(ref).Is() != role })
	}
	switch {
	case s.Meeting.Kind != pattern.Eased:
		return nil, nil, false
	case all(s.A, pattern.Cap) && all(s.B, pattern.Armscye):
		return s.A, s.B, true
	case all(s.B, pattern.Cap) && all(s.A, pattern.Armscye):
		return s.B, s.A, true
	}
	return nil, nil, false
}

// underArm returns the ease before a place under the arm, in mm at along side A, or
// side B where k is 1, of a sleeve's seam: none at its start and all of it towards
// its end. ok is false further up, and where a pair of notches lies below.
func (t *notchTruer) underArm(at float64, pairs [][2]met, k int) (ahead float64, ok bool) {
	if _, _, head := headSeam(t.in, t.seam); !head {
		return 0, false
	}
	a, b := t.in.RunLength(t.seam.A), t.in.RunLength(t.seam.B)
	long := [2]float64{a, b}[k]
	below := func(start bool) bool {
		return slices.ContainsFunc(pairs, func(p [2]met) bool { return (p[k].sewn < at) == start })
	}
	switch {
	case at <= flatShare*long && !below(true):
		return 0, true
	case long-at <= flatShare*long && !below(false):
		return b - a, true
	}
	return 0, false
}

// markHead sets the notches of a sleeve that has none: a single one in front, a
// double one behind, so that it cannot be set in back to front, and one where the
// shoulder seam comes, with the ease shared by halves. It returns how many it set; 0
// where the pieces do not tell front from back, or there is no room.
func (t *notchTruer) markHead() (n int) {
	head, armscye, ok := headSeam(t.in, t.seam)
	if !ok {
		return 0
	}
	role := func(ref pattern.EdgeRef) pattern.Role { return t.in.Piece(ref.Piece).Role }
	isFront := func(r pattern.Role) bool { return r == pattern.BodiceFront || r == pattern.BodiceSideFront }
	isBack := func(r pattern.Role) bool { return r == pattern.BodiceBack || r == pattern.BodiceSideBack }
	first, last := role(armscye[0]), role(armscye[len(armscye)-1])
	if !(isFront(first) && isBack(last) || isBack(first) && isFront(last)) {
		return 0
	}
	long, whole := t.in.RunLength(armscye), t.in.RunLength(head)
	start, end := "front", "back"
	if isBack(first) {
		start, end = end, start
	}
	top := 0.0
	for i, ref := range armscye {
		if i > 0 && isFront(role(ref)) != isFront(first) {
			break
		}
		top += t.in.Piece(ref.Piece).SewnLength(ref.Edge)
	}
	type mate struct {
		name     string
		scye, at float64 // along armscye and head
		clear    float64
	}
	under := underShare * long
	list := []mate{
		{start, under, under, t.rule.Clear},
		{end, long - under, whole - under, t.rule.Clear},
		{"shoulder", top, top + (whole-long)/2, 0}, // at the end of its edge, where the seam comes
	}
	for _, m := range list {
		a, okA := t.spot(armscye, m.scye, m.clear)
		b, okB := t.spot(head, m.at, m.clear)
		if !okA || !okB {
			continue
		}
		seen := map[string]bool{t.seam.Name: true}
		n += t.markThrough(a, m.name, seen) + t.markThrough(b, m.name, seen)
		if m.name == "back" {
			t.cutTimes(m.name, 2)
		}
	}
	return n
}

// cutTimes says how often the notches of a name that were set are cut.
func (t *notchTruer) cutTimes(name string, count int) {
	for _, w := range t.pieces {
		for k := range w.fresh.notches {
			if n := &w.fresh.notches[k]; n.Name == name {
				n.Count, w.touched = max(count, 1), true
			}
		}
	}
}
