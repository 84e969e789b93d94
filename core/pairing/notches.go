package pairing

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"bygone.example/core/finding"
	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// mark is a notch as met when walking a run.
type mark struct {
	*pattern.Notch
	edge walked
	at   float64 // sewn mm along the run
	nth  int     // which of that name in the run: two edges may each have one
	b    bool    // of a lone notch: it is on side B
}

func (m mark) place(seam string) finding.Place {
	at := m.point()
	return finding.Place{Seam: seam, Piece: m.edge.piece.Name, Edge: m.edge.Name, At: &at}
}

func (m mark) point() geom.Point { return m.edge.Path.At(m.Notch.At) }

// dart returns the dart that takes up the notch's place, or nothing.
func (m mark) dart() string {
	for _, d := range m.edge.piece.Darts {
		if d.Edge == m.Edge && m.Notch.At > d.From+pattern.PlaceTolerance && m.Notch.At < d.To-pattern.PlaceTolerance {
			return d.Name
		}
	}
	return ""
}

// marks lists the notches of a run in walking order.
func (r *run) marks() []mark {
	var list []mark
	for _, e := range r.edges {
		for i := range e.piece.Notches {
			if n := &e.piece.Notches[i]; n.Edge == e.Name {
				list = append(list, mark{Notch: n, edge: e, at: e.position(n.At)})
			}
		}
	}
	slices.SortStableFunc(list, func(a, b mark) int { return cmp.Or(cmp.Compare(a.at, b.at), cmp.Compare(a.Name, b.Name)) })
	for i := range list {
		for _, before := range list[:i] {
			if before.Name == list[i].Name {
				list[i].nth++
			}
		}
	}
	return list
}

// notches matches the notches of the two sides by name and holds their places
// against each other.
func (c *checker) notches(s *seam) {
	if s.mirrored() {
		return // a mirror image carries its own notches
	}
	as, bs := s.a.marks(), s.b.marks()
	if len(as) == 0 && len(bs) == 0 {
		c.twist(s, nil, 0, 0)
		if long := math.Max(s.a.sewn, s.b.sewn); over(long, c.LongSeam) && len(s.a.edges) > 0 {
			e := s.a.edges[0]
			at := e.Path.At(e.cut / 2)
			c.add(NotchNone, "", finding.Place{Seam: s.Name, Piece: e.piece.Name, Edge: e.Name, At: &at},
				&finding.Figures{A: long, B: c.LongSeam, Difference: long - c.LongSeam, Unit: "mm"},
				fmt.Sprintf("%s of seam %s have no notch to be held by", mm(long), s.Name))
		}
		return
	}
	matched, lone := pairs(as, bs)
	for _, m := range lone {
		other := &s.b
		if m.b {
			other = &s.a
		}
		c.add(NotchMissing, "", m.place(s.Name), nil,
			fmt.Sprintf("notch %s of %s/%s has no partner on %s", m.Name, m.edge.piece.Name, m.edge.Name, other.side().Label))
	}
	c.drift(s, matched)
}

// pairs matches notches by name, in the order of side A, and lists those
// without a partner. Where the two sides have not the same number of one name,
// those that lie nearest to each other belong together.
func pairs(as, bs []mark) (matched [][2]mark, lone []mark) {
	partner := make([]int, len(as)) // in bs
	taken := make([]bool, len(bs))
	for i := range partner {
		partner[i] = -1
	}
	for _, m := range as {
		if m.nth > 0 {
			continue // done with the first of the name
		}
		mine, others := ofName(as, m.Name), ofName(bs, m.Name)
		for k, b := range nearest(as, mine, bs, others) {
			partner[mine[k]] = b
		}
	}
	for i, m := range as {
		if b := partner[i]; b >= 0 {
			matched, taken[b] = append(matched, [2]mark{m, bs[b]}), true
		} else {
			lone = append(lone, m)
		}
	}
	for i, m := range bs {
		if !taken[i] {
			m.b = true
			lone = append(lone, m)
		}
	}
	return matched, lone
}

// ofName returns which of the marks have the name.
func ofName(list []mark, name string) (indices []int) {
	for i := range list {
		if list[i].Name == name {
			indices = append(indices, i)
		}
	}
	return indices
}

// nearest pairs as many of the marks mine as there are others, in order and with
// the least distance in all, and returns for each of mine its other or -1.
func nearest(as []mark, mine []int, bs []mark, others []int) []int {
	if len(mine) > len(others) {
		back := nearest(bs, others, as, mine)
		result := make([]int, len(mine))
		for k := range result {
			result[k] = -1
			if l := slices.Index(back, mine[k]); l >= 0 {
				result[k] = others[l]
			}
		}
		return result
	}
	// cost[k][l] is the least for the first k of mine among the first l others.
	n, m := len(mine), len(others)
	cost := make([][]float64, n+1)
	for k := range cost {
		cost[k] = make([]float64, m+1)
		for l := range cost[k] {
			switch {
			case k > l:
				cost[k][l] = math.Inf(1)
			case k > 0:
				cost[k][l] = min(cost[k][l-1], cost[k-1][l-1]+math.Abs(as[mine[k-1]].at-bs[others[l-1]].at))
			}
		}
	}
	result := make([]int, n)
	for k, l := n, m; k > 0; l-- {
		if l == k || cost[k][l] < cost[k][l-1] {
			result[k-1] = others[l-1]
			k--
		}
	}
	return result
}

// drift reports pairs of notches that do not meet when the seam is sewn.
//
// By how much side B runs ahead of side A at a notch is the ease worked in
// before it. Where both sides are of one length that must be nothing. Where
// they are not, the ease may lie anywhere (a sleeve's lies in its head), but
// never against the whole: at each notch it must lie between what it was at the
// notch before and the whole difference.
func (c *checker) drift(s *seam, pairs [][2]mark) {
	whole := s.b.sewn - s.a.sewn
	low, high := math.Min(0, whole), math.Max(0, whole)
	if s.Meeting.Kind != pattern.Eased {
		// A length that is not meant lies at one end; a notch is in step when it
		// is from either.
		if !over(whole, c.Length) {
			low, high = 0, 0
		}
	}
	drifted, least := 0, math.Inf(1) // by how much, of those that do
	for _, pair := range pairs {
		ahead := pair[1].at - pair[0].at
		off := 0.0
		switch {
		case s.Meeting.Kind != pattern.Eased && low != high:
			if off = ahead; longer(math.Abs(ahead), math.Abs(ahead-whole)) {
				off = ahead - whole
			}
		case ahead < low:
			off = ahead - low
		case ahead > high:
			off = ahead - high
		}
		if !over(off, c.Notch) {
			if s.Meeting.Kind == pattern.Eased { // what is worked in cannot be let out again
				if whole >= 0 {
					low = math.Max(low, math.Min(ahead, high))
				} else {
					high = math.Min(high, math.Max(ahead, low))
				}
			}
			if pair[0].Count != pair[1].Count {
				c.add(NotchCount, "", pair[1].place(s.Name), nil, fmt.Sprintf("notch %s is cut %s on %s/%s and %s on %s/%s", pair[0].Name,
					times(pair[0].Count), pair[0].edge.piece.Name, pair[0].edge.Name, times(pair[1].Count), pair[1].edge.piece.Name, pair[1].edge.Name))
			}
			continue
		}
		drifted++
		least = min(least, math.Abs(off))
		m := pair[1]
		why := ""
		if s.Meeting.Kind == pattern.Eased {
			why = " with no ease before it"
			if worked := math.Abs(ahead - off); worked > rounding {
				why = fmt.Sprintf(" with %s of ease before it", mm(worked))
			}
		}
		for _, n := range pair {
			if d := n.dart(); d != "" { // it is the one that is wrong
				m, why = n, fmt.Sprintf("%s: %s/%s has it inside dart %s", why, n.edge.piece.Name, n.edge.Name, d)
				break
			}
		}
		c.add(NotchDrift, "", m.place(s.Name), &finding.Figures{A: pair[0].at, B: pair[1].at, Difference: -off, Unit: "mm"},
			fmt.Sprintf("notch %s lies %s along %s/%s and %s along %s/%s, %s out of step%s", m.Name,
				mm(pair[0].at), pair[0].edge.piece.Name, pair[0].edge.Name, mm(pair[1].at), pair[1].edge.piece.Name, pair[1].edge.Name, mm(math.Abs(off)), why))
	}
	c.twist(s, pairs, drifted, least)
}

// turnSlack in mm is by how much notches may miss each other on a seam that was
// turned round: its ease may lie anywhere.
func (c *checker) turnSlack(s *seam) float64 { return math.Abs(s.b.sewn-s.a.sewn) + c.Notch }

func times(n int) string {
	switch n {
	case 1:
		return "once"
	case 2:
		return "twice"
	case 3:
		return "three times"
	}
	return fmt.Sprintf("%d times", n)
}
