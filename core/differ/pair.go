package differ

import (
	"math"
	"slices"
	"strings"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// pairPieces finds for each piece of a the one of b to hold it against: of the
// same name or, of what is left, of the same shape, else the only one of its
// role.
func (c *comparer) pairPieces() (pairs [][2]*pattern.Piece, gone, fresh []*pattern.Piece) {
	taken := map[string]bool{}
	partner := make([]*pattern.Piece, len(c.a.Pieces))
	for i := range c.a.Pieces {
		if p := c.b.Piece(c.a.Pieces[i].Name); p != nil {
			partner[i], taken[p.Name] = p, true
		}
	}
	var left []*pattern.Piece
	for i := range c.b.Pieces {
		if !taken[c.b.Pieces[i].Name] {
			left = append(left, &c.b.Pieces[i])
		}
	}
	for _, alike := range [...]func(a, b *pattern.Piece) bool{c.sameShape, func(a, b *pattern.Piece) bool {
		return a.Role != "" && a.Role == b.Role && len(c.a.ByRole(a.Role)) == 1 && len(c.b.ByRole(b.Role)) == 1
	}} {
		for i := range c.a.Pieces {
			if partner[i] != nil {
				continue
			}
			if k := slices.IndexFunc(left, func(b *pattern.Piece) bool { return alike(&c.a.Pieces[i], b) }); k >= 0 {
				partner[i] = left[k]
				left = slices.Delete(left, k, k+1)
			}
		}
	}
	for i := range c.a.Pieces {
		if partner[i] == nil {
			gone = append(gone, &c.a.Pieces[i])
		} else {
			pairs = append(pairs, [2]*pattern.Piece{&c.a.Pieces[i], partner[i]})
		}
	}
	return pairs, gone, left
}

// sameShape reports whether two pieces of different names are one: edge for edge
// of the same names and lying on one another.
func (c *comparer) sameShape(a, b *pattern.Piece) bool {
	if len(a.Edges) != len(b.Edges) {
		return false
	}
	var pairs []edgePair
	for i := range a.Edges {
		e := b.Edge(a.Edges[i].Name)
		if e == nil {
			return false
		}
		pairs = append(pairs, edgePair{&a.Edges[i], e})
	}
	off, _ := misfit(pairs, lay(pairs, c.Tolerance), c.Tolerance)
	return off == 0
}

// byName pairs the edges that have one name in both pieces.
func byName(a, b *pattern.Piece) (pairs []edgePair) {
	for i := range a.Edges {
		if e := b.Edge(a.Edges[i].Name); e != nil {
			pairs = append(pairs, edgePair{&a.Edges[i], e})
		}
	}
	return pairs
}

// oneWayRound returns the pairs with b's edges turned round where the two pieces
// are drawn in opposite directions.
func oneWayRound(pairs []edgePair, a, b *pattern.Piece) []edgePair {
	if a.Boundary().Area()*b.Boundary().Area() >= 0 {
		return pairs
	}
	turned := slices.Clone(pairs)
	for i, p := range turned {
		e := *p.b
		e.Path = e.Path.Reverse()
		turned[i].b = &e
	}
	return turned
}

// run is edges of one piece one after another, held against a single edge of the
// other or, when it is one edge, renamed.
type run struct {
	one   *pattern.Edge
	parts []*pattern.Edge
}

// path returns the parts' paths as one.
func (r run) path() (p geom.Path) {
	for _, e := range r.parts {
		p = p.Join(e.Path)
	}
	return p
}

// names lists the parts for a sentence.
func (r run) names() string {
	var list []string
	for _, e := range r.parts {
		list = append(list, e.Name)
	}
	return strings.Join(list, ", ")
}

// unpaired returns the edges of p that q has none of the name of.
func unpaired(p, q *pattern.Piece) []*pattern.Edge {
	var list []*pattern.Edge
	for i := range p.Edges {
		if q.Edge(p.Edges[i].Name) == nil {
			list = append(list, &p.Edges[i])
		}
	}
	return list
}

// renameReach in mm is how far apart the ends of an edge and of what has become
// of it may lie: a seam allowance. What moved further is another edge.
const renameReach = 15.0

// runsOf finds for each of the edges ones the run of parts that starts and ends
// where it does. Parts that are taken are left out of what is returned. at lays
// the parts' plane over that of ones.
func runsOf(ones, parts []*pattern.Edge, whole *pattern.Piece, at geom.Affine) (found []run, restOnes, restParts []*pattern.Edge) {
	restParts = slices.Clone(parts)
	free := func(e *pattern.Edge) bool { return slices.Contains(restParts, e) }
	for _, one := range ones {
		start, end := one.Path.Start(), one.Path.End()
		best, by := run{}, math.Inf(1)
		for i := range whole.Edges {
			first := &whole.Edges[i]
			if !free(first) {
				continue
			}
			off := at.Apply(first.Path.Start()).Dist(start)
			if off > renameReach {
				continue
			}
			r := run{one: one}
			for k := range len(whole.Edges) {
				e := &whole.Edges[(i+k)%len(whole.Edges)]
				if !free(e) {
					break
				}
				r.parts = append(r.parts, e)
				if sum := off + at.Apply(e.Path.End()).Dist(end); sum-off <= renameReach && sum < by {
					best, by = run{one, slices.Clone(r.parts)}, sum
				}
			}
		}
		if best.one == nil {
			restOnes = append(restOnes, one)
			continue
		}
		found = append(found, best)
		restParts = slices.DeleteFunc(restParts, func(e *pattern.Edge) bool { return slices.Contains(best.parts, e) })
	}
	return found, restOnes, restParts
}
