package pairing

import (
	"fmt"

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

// runs reports edges that follow one another in a seam although no other seam
// brings their ends together.
func (c *checker) runs() {
	j := joints{}
	for i := range c.seams {
		s := &c.seams[i]
		if s.mirrored() || len(s.a.edges) == 0 || len(s.b.edges) == 0 {
			continue
		}
		j.join(s.a.edges[0].enters(), s.b.edges[0].enters())
		j.join(s.a.edges[len(s.a.edges)-1].leaves(), s.b.edges[len(s.b.edges)-1].leaves())
	}
	for i := range c.seams {
		s := &c.seams[i]
		c.follows(s, &s.a, j)
		if !s.mirrored() {
			c.follows(s, &s.b, j)
		}
	}
}

func (c *checker) follows(s *seam, r *run, j joints) {
	for i := 1; i < len(r.edges); i++ {
		from, to := r.edges[i-1], r.edges[i]
		if j.of(from.leaves()) == j.of(to.enters()) {
			continue
		}
		at := from.end()
		c.add(SeamRun, "", finding.Place{Seam: s.Name, Piece: from.piece.Name, Edge: from.Name, At: &at}, nil,
			fmt.Sprintf("in seam %s, %s/%s is followed by %s/%s, but nothing brings their ends together", s.Name,
				from.piece.Name, from.Name, to.piece.Name, to.Name))
	}
}
