package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// HeadEase says how much ease a sleeve's head has over its armscye and where it
// lies.
type HeadEase struct {
	Ease float64 // mm
	// Front, Top and Back are the shares of the ease that lie in the front, the
	// middle and the back third of the eased stretch; they need not add up to 1.
	Front, Top, Back float64
	// From and To bound the eased stretch, as shares of the armscye from its
	// front end under the arm; both 0 is from the first pair of notches to the
	// last, or where there are none so far apart, 0.2 to 0.8.
	From, To float64
}

// RefitHead is RefitCap with the ease laid by thirds: the head is made to
// measure the armscye and the ease, and its notches are moved, and new pairs set
// at the thirds of the eased stretch, so that between them lies what each
// third is to take. Under the arm, before and after the stretch, there is none.
//
// Kept, changed and degenerate: as of RefitCap, but a head that is gathered is
// refused. The notches of the armscye stay.
func RefitHead(p *pattern.Pattern, o HeadEase) (*operation.Answer, error) {
	sum := o.Front + o.Top + o.Back
	switch {
	case !(o.Front >= 0 && o.Top >= 0 && o.Back >= 0 && sum > 0):
		return nil, refuse("the thirds of a head take shares of the ease that are not below 0", "give front, top and back, at least one more than 0")
	case (o.From != 0 || o.To != 0) && !(o.From >= 0 && o.To <= 1 && o.To-o.From >= 0.1):
		return nil, refuse("the ease needs a stretch of the head to lie on", "give shares between 0 and 1, the first the smaller")
	}
	answer, err := RefitCap(p, o.Ease)
	if err != nil {
		return nil, err
	}
	e := begin(answer.Pattern)
	a, err := e.arm()
	if err != nil {
		return nil, err
	}
	if a.gatheredHead() {
		return nil, refuse(fmt.Sprintf("the head of piece %q is gathered and has no ease to lay", a.Name), "refit it without thirds")
	}
	// No line changes from here on, so the answer's lineage stands.
	a.layEase(answer.Pattern, o)
	remark(answer.Pattern)
	a.tellEase(o.Ease)
	for _, part := range []struct {
		what  string
		share float64
	}{{"ease in the front third of the head", o.Front}, {"ease over the top of the head", o.Top}, {"ease in the back third of the head", o.Back}} {
		e.changed(part.what, a.Name, 0, part.share/sum*o.Ease, "mm")
	}
	answer.Changes = append(answer.Changes, e.changes...)
	answer.Cautions = append(answer.Cautions, e.cautions...)
	return answer, nil
}

// layEase moves the notches of the head, and sets new pairs, on the pattern
// itself.
func (a *arm) layEase(q *pattern.Pattern, o HeadEase) {
	seam := q.Seam(a.seam.Name)
	own, other := seam.A, seam.B
	if !own.Has(a.Name, a.Edges[a.cap].Name) {
		own, other = other, own
	}
	armscye := q.RunLength(other)
	shares := [3]float64{o.Front, o.Top, o.Back}
	names := [4]string{"ease-begins", "ease-front", "ease-back", "ease-ends"}
	from, to := o.From*armscye, o.To*armscye
	mine, mates := places(q, own), places(q, other)
	if a.frontFirst == own[0].Backwards { // the seam is walked from the back
		from, to = armscye-to, armscye-from
		slices.Reverse(shares[:])
		slices.Reverse(names[:])
	}
	if o.From == 0 && o.To == 0 {
		from, to = 0.2*armscye, 0.8*armscye
		first, last := armscye, 0.0
		for name, at := range mates {
			if _, paired := mine[name]; paired {
				first, last = math.Min(first, at), math.Max(last, at)
			}
		}
		if last-first > 0.3*armscye {
			from, to = first, last
		}
	}
	third, sum := (to-from)/3, o.Front+o.Top+o.Back
	ahead := func(at float64) float64 { // the ease that lies before a place of the armscye
		done := 0.0
		for k, share := range shares {
			done += share / sum * o.Ease * math.Max(0, math.Min(1, (at-from)/third-float64(k)))
		}
		return done
	}
	moving := notchesAlong(q, own)
	slices.SortFunc(moving, func(x, y along) int { return y.index - x.index })
	for _, n := range moving {
		if at, paired := mates[n.name]; paired {
			putNotch(q, own, n, at+ahead(at))
		}
	}
	for k, name := range names {
		at := from + third*float64(k)
		if !notchFree(q, other, at) || !notchFree(q, own, at+ahead(at)) {
			continue // a notch stands there already and tells the place
		}
		setNotch(q, other, name, at)
		setNotch(q, own, name, at+ahead(at))
	}
}

// notchApart is how near in mm two notches may stand before they are taken for
// one.
const notchApart = 3

// notchFree reports whether no notch stands at sewn mm along a run.
func notchFree(q *pattern.Pattern, run pattern.Run, sewn float64) bool {
	return !slices.ContainsFunc(notchesAlong(q, run), func(n along) bool { return math.Abs(n.sewn-sewn) < notchApart })
}

// setNotch puts a single notch at sewn mm along a run.
func setNotch(q *pattern.Pattern, run pattern.Run, name string, sewn float64) {
	first := q.Piece(run[0].Piece)
	first.Notches = append(first.Notches, pattern.Notch{Name: name, Edge: run[0].Edge, Count: 1})
	putNotch(q, run, along{name: name, piece: first.Name, index: len(first.Notches) - 1}, sewn)
}
