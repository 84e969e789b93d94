package pairing

import (
	"fmt"
	"slices"
	"strings"

	"bygone.example/core/finding"
	"bygone.example/core/pattern"
)

// SewingStep is one thing to sew, in the order in which a garment can be sewn.
type SewingStep struct {
	Kind  SewingKind
	Seam  string // of a seam or a layer basted on
	Piece string // of anything else
	Edge  string // of a finish, and of what lies on an edge
	Mark  string // the dart, pleat or gathers
	// Stuck says that no order lets the seam be sewn in one go: it waits for
	// seams that wait for it. Such seams come after all that can be sewn.
	Stuck bool
}

// SewingKind is what is done in a step of sewing.
type SewingKind string

// The kinds of step, in the order in which they come when nothing else decides.
const (
	SewDart   SewingKind = "dart"
	SewPleat  SewingKind = "pleat"
	SewGather SewingKind = "gather"
	SewBaste  SewingKind = "baste"
	SewSeam   SewingKind = "seam"
	SewFinish SewingKind = "finish" // hem, face or bind an edge
)

// Order lists what there is to sew, in an order in which it can be sewn: what is
// folded or drawn up first, piece by piece; then layers and seams; last the edges
// that are finished. A seam over several edges comes after the seams that bring
// these edges together, and where it can, after those that it runs across.
//
// Equal patterns give equal lists.
func Order(p *pattern.Pattern) []SewingStep {
	var list []SewingStep
	for i := range p.Pieces {
		piece := &p.Pieces[i]
		for _, d := range piece.Darts {
			list = append(list, SewingStep{Kind: SewDart, Piece: piece.Name, Edge: d.Edge, Mark: d.Name})
		}
		for _, d := range piece.Pleats {
			list = append(list, SewingStep{Kind: SewPleat, Piece: piece.Name, Edge: d.Edge, Mark: d.Name})
		}
		for _, g := range piece.Gathers {
			list = append(list, SewingStep{Kind: SewGather, Piece: piece.Name, Edge: g.Edge, Mark: g.Name})
		}
	}
	c := newChecker(p)
	c.turns()
	o := c.ordering()
	for i, k := range o.order {
		s := &c.seams[k]
		step := SewingStep{Kind: SewSeam, Seam: s.Name, Stuck: i >= o.sewn}
		if s.Kind == pattern.Basted {
			step.Kind = SewBaste
		}
		list = append(list, step)
	}
	for i := range p.Pieces {
		piece := &p.Pieces[i]
		for j := range piece.Edges {
			if e := &piece.Edges[j]; e.Finish == pattern.Hemmed || e.Finish == pattern.Faced || e.Finish == pattern.Bound {
				list = append(list, SewingStep{Kind: SewFinish, Piece: piece.Name, Edge: e.Name})
			}
		}
	}
	return list
}

// ordering is the seams in an order in which they can be sewn.
type ordering struct {
	order []int  // of the checker's seams
	sewn  int    // how many of them can; the others wait for each other
	done  joints // what is together once those are sewn
}

// ordering puts the seams in order, each time taking the first that can be sewn:
// whose edges have been brought together already. Sewing one never keeps another
// from being sewn, so whatever is left over at the end could be sewn in no order.
//
// Ends that no seam brings together at all are passed over: seam-run tells.
func (c *checker) ordering() ordering {
	o := ordering{done: joints{}}
	left := make([]int, len(c.seams))
	for i := range left {
		left[i] = i
	}
	// Layers lie on their piece before it is sewn to anything.
	slices.SortStableFunc(left, func(i, j int) int { return rankOf(&c.seams[i]) - rankOf(&c.seams[j]) })
	across := c.crossed()
	for len(left) > 0 {
		best := -1
		for k, i := range left {
			if _, waits := c.waits(i, &o); waits {
				continue
			}
			clear := !slices.ContainsFunc(left, func(j int) bool { return j != i && slices.Contains(across[i], j) })
			if clear {
				best = k
				break
			}
			if best < 0 {
				best = k
			}
		}
		if best < 0 {
			break
		}
		i := left[best]
		o.done.all(c.seams[i].joins)
		o.order = append(o.order, i)
		left = slices.Delete(left, best, best+1)
	}
	o.sewn = len(o.order)
	o.order = append(o.order, left...)
	return o
}

func rankOf(s *seam) int {
	if s.Kind == pattern.Basted {
		return 0
	}
	return 1
}

// waits returns the edge after which the seam cannot go on yet.
func (c *checker) waits(seam int, o *ordering) (at walked, waits bool) {
	for _, t := range c.seams[seam].needs {
		if o.done.of(t.from.leaves()) != o.done.of(t.to.enters()) {
			return t.from, true
		}
	}
	return walked{}, false
}

// crossed says which seams each seam runs across: those that end at one of its
// own ends, where it would go on over them. A seam to the mirror image ends at
// the corner of its own piece.
func (c *checker) crossed() [][]int {
	type ending struct {
		at   place
		seam int
	}
	var ends []ending
	for i := range c.seams {
		s := &c.seams[i]
		for _, r := range [...]*run{&s.a, &s.b} {
			if n := len(r.edges); n > 0 {
				ends = append(ends, ending{r.edges[0].enters(), i}, ending{r.edges[n-1].leaves(), i})
			}
		}
	}
	at := map[place][]int{}
	for _, e := range ends {
		at[e.at] = append(at[e.at], e.seam)
	}
	list := make([][]int, len(c.seams))
	for i := range c.seams {
		s := &c.seams[i]
		if s.mirrored() {
			continue
		}
		for _, r := range [...]*run{&s.a, &s.b} {
			if len(s.a.edges) < 2 && len(s.b.edges) < 2 || len(r.edges) == 0 {
				continue // a seam over one edge a side is sewn before what runs across it
			}
			for _, q := range [...]place{r.edges[0].enters(), r.edges[len(r.edges)-1].leaves()} {
				for _, k := range at[q] {
					if k != i {
						list[i] = append(list[i], k)
					}
				}
			}
		}
	}
	return list
}

// order reports seams that wait for each other.
func (c *checker) order() {
	o := c.ordering()
	stuck := o.order[o.sewn:]
	told := map[int]bool{}
	for _, i := range stuck {
		circle := c.circle(i, stuck, &o)
		if slices.ContainsFunc(circle, func(k int) bool { return told[k] }) {
			continue
		}
		var names []string
		for _, k := range circle {
			told[k] = true
			names = append(names, c.seams[k].Name)
		}
		i = circle[0]
		w, _ := c.waits(i, &o)
		at := w.end()
		text := fmt.Sprintf("seam %s can only be sewn after %s", names[0], strings.Join(append(names[1:], names[0]), ", and that after "))
		c.add(SewingOrder, "", finding.Place{Seam: names[0], Piece: w.piece.Name, Edge: w.Name, At: &at}, nil, text)
	}
}

// circle follows what a stuck seam waits for until it comes round, and returns
// that circle, from the seam in it that comes first in the pattern. What cannot
// be followed is a circle of one.
func (c *checker) circle(i int, stuck []int, o *ordering) []int {
	var walk []int
	for {
		if k := slices.Index(walk, i); k >= 0 {
			walk = walk[k:]
			least := slices.Index(walk, slices.Min(walk))
			return append(slices.Clone(walk[least:]), walk[:least]...)
		}
		walk = append(walk, i)
		w, _ := c.waits(i, o)
		next := slices.IndexFunc(stuck, func(k int) bool { return k != i && c.helps(k, w, o) })
		if next < 0 {
			return []int{i}
		}
		i = stuck[next]
	}
}

// helps reports whether sewing seam k joins the corner at which a seam waits
// to anything.
func (c *checker) helps(k int, w walked, o *ordering) bool {
	corner := o.done.of(w.leaves())
	for _, p := range c.seams[k].joins {
		if o.done.of(p[0]) == corner || o.done.of(p[1]) == corner {
			return true
		}
	}
	return false
}
