package pairing

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/finding"
	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// headEase looks at how the ease of a set-in sleeve's head is spread over its
// armscye, as far as pairs of notches tell: how much there is in all, that there
// is next to none under the arm, and that no stretch has more than can be worked
// into it. Heads that are gathered or pleated are not eased.
func (c *checker) headEase(s *seam) {
	if s.mirrored() || s.Kind == pattern.Basted || s.Meeting.Kind == pattern.Gathered || s.Meeting.Kind == pattern.Pleated {
		return
	}
	head, armscye := &s.b, &s.a
	if s.a.all(pattern.Cap) {
		head, armscye = &s.a, &s.b
	}
	if !head.all(pattern.Cap) || !armscye.all(pattern.Armscye) {
		return
	}
	ease := head.sewn - armscye.sewn
	if given := s.Meeting.Kind == pattern.Eased && s.Meeting.Ease.Given(); given && ease > c.MostEase+c.Length {
		// Without bounds, seam-ease asks the same.
		w, at := head.at(head.sewn / 2)
		c.add(CapEase, "", finding.Place{Seam: s.Name, Piece: w.piece.Name, Edge: w.Name, At: &at},
			&finding.Figures{A: ease, B: c.MostEase, Difference: ease - c.MostEase, Unit: "mm"},
			fmt.Sprintf("%s has %s of ease over an armscye of %s; %s can be worked in", head.side().Label, mm(ease), mm(armscye.sewn), mm(c.MostEase)))
	}
	c.oneSided(s, head, armscye, ease)
	type place struct{ head, armscye float64 }
	places := []place{{0, 0}}
	matched, _ := pairs(armscye.marks(), head.marks())
	slices.SortStableFunc(matched, func(x, y [2]mark) int {
		switch {
		case x[0].at < y[0].at:
			return -1
		case x[0].at > y[0].at:
			return 1
		}
		return 0
	})
	for _, m := range matched {
		if last := places[len(places)-1]; m[0].at-last.armscye > leastStretch && m[1].at > last.head && armscye.sewn-m[0].at > leastStretch && m[1].at < head.sewn {
			places = append(places, place{m[1].at, m[0].at})
		}
	}
	if len(places) < 3 {
		return // one notch or none: nothing tells where the ease lies
	}
	places = append(places, place{head.sewn, armscye.sewn})
	for i := 1; i < len(places); i++ {
		from, to := places[i-1], places[i]
		long := to.armscye - from.armscye
		in := to.head - from.head - long
		most, where := math.Max(long*c.HeadShare, c.UnderarmEase), "between two notches"
		if under := i == 1 || i == len(places)-1; under && long <= underarm {
			most, where = math.Min(most, c.UnderarmEase), "under the arm"
		}
		if in <= most+c.Notch {
			continue
		}
		w, at := head.at((from.head + to.head) / 2)
		c.add(CapEase, "", finding.Place{Seam: s.Name, Piece: w.piece.Name, Edge: w.Name, At: &at},
			&finding.Figures{A: in, B: most, Difference: in - most, Unit: "mm"},
			fmt.Sprintf("%s/%s has %s of ease %s, over %s of the armscye; %s can be worked in there", w.piece.Name, w.Name, mm(in), where, mm(long), mm(most)))
	}
}

// oneSided looks at how the ease is shared between front and back, where a pair of
// notches marks the top of the sleeve: half way along, more or less. Nothing but the
// arm itself takes it up, and that is as round in front as behind.
func (c *checker) oneSided(s *seam, head, armscye *run, ease float64) {
	if ease < leastShared {
		return
	}
	var top *[2]mark
	matched, _ := pairs(armscye.marks(), head.marks())
	for i := range matched {
		share := matched[i][0].at / armscye.sewn
		if math.Abs(share-0.5) <= aboutTop && (top == nil || math.Abs(share-0.5) < math.Abs(top[0].at/armscye.sewn-0.5)) {
			top = &matched[i]
		}
	}
	if top == nil {
		return
	}
	before := top[1].at - top[0].at
	less := min(before, ease-before)
	if less >= ease*leastSide-rounding || less < -c.Notch { // what is let out again notch-drift tells
		return
	}
	at := top[1].point()
	c.add(CapEase, "", finding.Place{Seam: s.Name, Piece: top[1].edge.piece.Name, Edge: top[1].edge.Name, At: &at},
		&finding.Figures{A: less, B: ease * leastSide, Difference: less - ease*leastSide, Unit: "mm"},
		fmt.Sprintf("of the %s of ease of %s, %s lies on one side of notch %s and only %s on the other", mm(ease), head.side().Label, mm(ease-less), top[0].Name, mm(max(0, less))))
}

const (
	// leastShared in mm: less ease than this may all lie on one side and not be seen.
	leastShared = 10.0
	// leastSide is the share of the ease that either side of the top must have. Of 8 in
	// that McGlauflin, Handicraft for Girls (1910), keeps the fullness to, 5 lie before
	// the shoulder and 3 behind, which is 0.38; little more than half of that is lopsided
	// (from memory).
	leastSide = 0.2
	// aboutTop as a share of the armscye: how far from its middle the top of the
	// sleeve may be marked.
	aboutTop = 0.12
	// leastStretch in mm: notches nearer to each other, or to an end, are one mark.
	leastStretch = 10.0
	// underarm in mm: from its lowest point up to a notch no further than this, an
	// armscye runs under the arm. Further up the notch marks less than where the
	// ease begins (from memory).
	underarm = 130.0
)

// all reports whether every edge of the run has the role.
func (r *run) all(role string) bool {
	return len(r.edges) > 0 && !slices.ContainsFunc(r.edges, func(w walked) bool { return w.Is() != role })
}

// at returns the edge and the point of it at a sewn place along the run.
func (r *run) at(sewn float64) (walked, geom.Point) {
	w := r.edges[0]
	for _, e := range r.edges[1:] {
		if e.before <= sewn {
			w = e
		}
	}
	return w, w.Path.At(w.flat(r, sewn/r.sewn))
}
