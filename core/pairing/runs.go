package pairing

import (
	"fmt"
	"math"

	"bygone.example/core/finding"
)

// place names a corner of a piece: the start of its edge of that index.
type place struct {
	piece  string
	corner int
}

// joints says which corners of which pieces come to lie on one another when
// everything is sewn: a forest in which each corner points to another of its
// kind.
type joints map[place]place

func (j joints) of(p place) place {
	for {
		q, ok := j[p]
		if !ok {
			return p
		}
		if r, ok := j[q]; ok {
			j[p], q = r, r // the next who asks has half the way
		}
		p = q
	}
}

func (j joints) join(p, q place) {
	if p, q = j.of(p), j.of(q); p != q {
		j[p] = q
	}
}

// enters and leaves are the corners between which a walk takes an edge.
func (w walked) enters() place {
	if w.backwards {
		return place{w.piece.Name, (w.index + 1) % len(w.piece.Edges)}
	}
	return place{w.piece.Name, w.index}
}

func (w walked) leaves() place {
	w.backwards = !w.backwards
	return w.enters()
}

// sameCorner in mm is how far apart along a seam two corners may be, beside the
// ease between its sides, and still be laid together by whoever sews it.
const sameCorner = 3.0

// joined lists the corners that the seam brings together: those at its ends, and
// those along it where both sides have one at the same place.
func (s *seam) joined() [][2]place {
	n, m := len(s.a.edges), len(s.b.edges)
	if s.mirrored() || n == 0 || m == 0 {
		return nil
	}
	list := [][2]place{
		{s.a.edges[0].enters(), s.b.edges[0].enters()},
		{s.a.edges[n-1].leaves(), s.b.edges[m-1].leaves()},
	}
	slack := math.Abs(s.a.sewn-s.b.sewn) + sameCorner
	k := 1
	for i := 1; i < n; i++ {
		at := s.a.edges[i].before
		for k < m && s.b.edges[k].before < at-slack {
			k++
		}
		for l := k; l < m && s.b.edges[l].before <= at+slack; l++ {
			list = append(list, [2]place{s.a.edges[i].enters(), s.b.edges[l].enters()}, [2]place{s.a.edges[i-1].leaves(), s.b.edges[l-1].leaves()})
		}
	}
	return list
}

// turn is a place in a run where one edge follows another.
type turn struct {
	from, to walked
}

// turns sorts the places where edges follow one another in a seam: those that
// other seams bring together, which have to be sewn before, and those that none
// does. Within a piece neighbours are together from the start.
func (c *checker) turns() {
	for i := range c.seams {
		c.seams[i].joins = c.seams[i].joined()
	}
	for i := range c.seams {
		s := &c.seams[i]
		var others joints
		for _, r := range [...]*run{&s.a, &s.b} {
			if r == &s.b && s.mirrored() {
				break
			}
			for k := 1; k < len(r.edges); k++ {
				t := turn{r.edges[k-1], r.edges[k]}
				if t.from.leaves() == t.to.enters() {
					continue
				}
				if others == nil {
					others = joints{}
					for j := range c.seams {
						if j != i {
							others.all(c.seams[j].joins)
						}
					}
				}
				if others.of(t.from.leaves()) == others.of(t.to.enters()) {
					s.needs = append(s.needs, t)
				} else {
					s.gaps = append(s.gaps, t)
				}
			}
		}
	}
}

func (j joints) all(pairs [][2]place) {
	for _, p := range pairs {
		j.join(p[0], p[1])
	}
}

// runs reports edges that follow one another in a seam although no other seam
// brings their ends together.
func (c *checker) runs() {
	for i := range c.seams {
		s := &c.seams[i]
		for _, t := range s.gaps {
			at := t.from.end()
			c.add(SeamRun, "", finding.Place{Seam: s.Name, Piece: t.from.piece.Name, Edge: t.from.Name, At: &at}, nil,
				fmt.Sprintf("in seam %s, %s/%s is followed by %s/%s, but nothing brings their ends together", s.Name,
					t.from.piece.Name, t.from.Name, t.to.piece.Name, t.to.Name))
		}
	}
}
