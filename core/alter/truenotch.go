package alter

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// NotchTruing says which seam's notches are made to agree.
type NotchTruing struct {
	Seam string // empty: every seam
	// LongerThan is the sewn length in mm from which a seam without notches gets
	// them, and Clear how far in mm a new one stays from ends and other marks.
	LongerThan, Clear float64
	// Bound is how far in mm a notch may be moved.
	Bound float64
}

// TrueNotches makes the notches of a seam agree. A notch without a partner gets
// one at the same sewn length of the other side; two of a pair that do not meet
// are moved, each by half; a pair cut a different number of times is cut as
// often as the fuller of the two; a long seam without any gets them as
// PlaceNotches sets them, and a sleeve one in front, two behind and one at the top.
//
// Kept: every line; notches that agree. Changed: notches. Units: mm.
//
// Degenerate: a pair further apart than the bound allows, and a notch whose
// partner would fall into a dart, is left as it is; a seam of which all is left
// so is refused. A seam that agrees already is left alone.
func TrueNotches(p *pattern.Pattern, o NotchTruing) (*operation.Answer, error) {
	if o.LongerThan <= 0 || o.Clear < 0 || o.Bound < 0 {
		return nil, refuse("notches need a seam length from which they are set", "give one of more than 0 mm")
	}
	if o.Seam != "" && p.Seam(o.Seam) == nil {
		return nil, refuse(fmt.Sprintf("the pattern has no seam %q", o.Seam), "")
	}
	e := begin(p)
	mended, left := 0, ""
	for i := range e.in.Seams {
		s := &e.in.Seams[i]
		if o.Seam != "" && s.Name != o.Seam || len(s.B) == 0 {
			continue
		}
		t := notchTruer{edit: e, seam: s, rule: o}
		mended += t.all()
		if left == "" {
			left = t.left
		}
	}
	if mended == 0 && left != "" {
		return nil, refuse(left, "mark the seam anew by hand")
	}
	return e.finish()
}

// notchTruer makes the notches of one seam agree.
type notchTruer struct {
	*edit
	seam *pattern.Seam
	rule NotchTruing
	left string // the first thing that could not be done
}

// met is a notch as met when walking one side.
type met struct {
	along
	nth   int // of that name on the side
	count int
}

func (t *notchTruer) side(r pattern.Run) []met {
	list := notchesAlong(t.in, r)
	slices.SortStableFunc(list, func(a, b along) int { return cmp.Or(cmp.Compare(a.sewn, b.sewn), cmp.Compare(a.name, b.name)) })
	out := make([]met, len(list))
	for i, n := range list {
		out[i] = met{along: n, count: t.in.Piece(n.piece).Notches[n.index].Count}
		for _, before := range list[:i] {
			if before.name == n.name {
				out[i].nth++
			}
		}
	}
	return out
}

// all returns how many notches it has set, moved or cut anew.
func (t *notchTruer) all() (n int) {
	s := t.seam
	as, bs := t.side(s.A), t.side(s.B)
	if len(as)+len(bs) == 0 {
		if math.Max(t.in.RunLength(s.A), t.in.RunLength(s.B)) <= t.rule.LongerThan {
			return 0
		}
		if n = t.markHead(); n > 0 {
			t.changed("notches of seam "+s.Name, "", 0, float64(n), "")
			return n
		}
		if n = t.placeAlong(s, NotchRule{LongerThan: math.Min(t.rule.LongerThan, t.in.RunLength(s.A)), Clear: t.rule.Clear}); n == 0 {
			t.keep(fmt.Sprintf("seam %q has no room for a pair of notches", s.Name))
		}
		t.changed("notches of seam "+s.Name, "", 0, float64(n), "")
		return n
	}
	var pairs [][2]met
	for _, a := range as {
		if i := slices.IndexFunc(bs, func(b met) bool { return b.name == a.name && b.nth == a.nth }); i >= 0 {
			pairs = append(pairs, [2]met{a, bs[i]})
		} else {
			n += t.partner(a, s.B, pairs, false)
		}
	}
	for _, b := range bs {
		if !slices.ContainsFunc(as, func(a met) bool { return b.name == a.name && b.nth == a.nth }) {
			n += t.partner(b, s.A, pairs, true)
		}
	}
	return n + t.together(pairs)
}

func (t *notchTruer) keep(why string) {
	if t.left == "" {
		t.left = why
	}
}

// ahead is by how much in mm side B runs ahead of side A at a place along A (or
// along B): ease that lies between the pairs there are, in proportion; of a
// plain seam, and under the arm, nothing.
func (t *notchTruer) ahead(at float64, pairs [][2]met, alongB bool) float64 {
	if t.seam.Meeting.Kind == pattern.Plain {
		return 0
	}
	from, to := [2]float64{}, [2]float64{t.in.RunLength(t.seam.A), t.in.RunLength(t.seam.B)}
	k := 0
	if alongB {
		k = 1
	}
	if flat, ok := t.underArm(at, pairs, k); ok {
		return flat
	}
	for _, p := range pairs {
		at2 := [2]float64{p[0].sewn, p[1].sewn}
		if at2[k] <= at && at2[k] >= from[k] {
			from = at2
		}
		if at2[k] >= at && at2[k] <= to[k] {
			to = at2
		}
	}
	if to[k] <= from[k] {
		return from[1] - from[0]
	}
	share := (at - from[k]) / (to[k] - from[k])
	return (from[1] - from[0]) + share*((to[1]-to[0])-(from[1]-from[0]))
}

// partner gives a lone notch its mate on the other run.
func (t *notchTruer) partner(lone met, other pattern.Run, pairs [][2]met, onB bool) int {
	sewn := lone.sewn
	if ahead := t.ahead(lone.sewn, pairs, onB); onB {
		sewn -= ahead
	} else {
		sewn += ahead
	}
	p, ok := t.spot(other, sewn, 0)
	if !ok {
		t.keep(fmt.Sprintf("notch %q of seam %q finds no place for a partner", lone.name, t.seam.Name))
		return 0
	}
	t.markThrough(p, lone.name, map[string]bool{t.seam.Name: true})
	t.cutTimes(lone.name, lone.count)
	t.changed("partner of notch "+lone.name, p.piece, 0, 1, "")
	return 1
}

// together moves pairs that do not meet and evens out how often they are cut.
func (t *notchTruer) together(pairs [][2]met) (n int) {
	whole := t.in.RunLength(t.seam.B) - t.in.RunLength(t.seam.A)
	eased := t.seam.Meeting.Kind == pattern.Eased
	low, high := math.Min(0, whole), math.Max(0, whole)
	for _, p := range pairs {
		ahead := p[1].sewn - p[0].sewn
		off := 0.0
		switch {
		case !eased && math.Abs(whole) > legTolerance: // either end may be the one that is right
			if off = ahead; math.Abs(ahead-whole) < math.Abs(ahead) {
				off = ahead - whole
			}
		default:
			off = ahead - math.Max(low, math.Min(ahead, high))
		}
		if math.Abs(off) > inStep {
			if math.Abs(off)/2 > t.rule.Bound+boundSlack {
				t.keep(fmt.Sprintf("the notches %q of seam %q lie %.1f mm out of step, and none may move%s", p[0].name, t.seam.Name, math.Abs(off), byMoreThan(t.rule.Bound)))
				continue
			}
			t.put(t.seam.A, p[0], p[0].sewn+off/2)
			t.put(t.seam.B, p[1], p[1].sewn-off/2)
			t.changed("notch "+p[0].name+" of seam "+t.seam.Name+" out of step by", "", math.Abs(off), 0, "mm")
			n++
		} else if eased { // what is worked in cannot be let out again
			if whole >= 0 {
				low = math.Max(low, math.Min(ahead, high))
			} else {
				high = math.Min(high, math.Max(ahead, low))
			}
		}
		if p[0].count != p[1].count {
			most := max(p[0].count, p[1].count)
			for _, m := range p {
				t.piece(m.piece).Notches[m.index].Count = most
			}
			t.changed("cuts of notch "+p[0].name+" of seam "+t.seam.Name, "", float64(min(p[0].count, p[1].count)), float64(most), "")
			n++
		}
	}
	return n
}

// put moves a notch along its own edge, or to the end of that.
func (t *notchTruer) put(run pattern.Run, m met, sewn float64) {
	w := t.piece(m.piece)
	mark := &w.Notches[m.index]
	done := 0.0
	for _, ref := range run {
		piece := t.in.Piece(ref.Piece)
		long := piece.SewnLength(ref.Edge)
		if ref.Piece == m.piece && ref.Edge == mark.Edge {
			at := math.Max(0, math.Min(long, sewn-done))
			if ref.Backwards {
				at = long - at
			}
			mark.At = piece.FlatPosition(ref.Edge, at)
			return
		}
		done += long
	}
}
