package cutline

import (
	"bygone.example/core/pattern"
)

// asked is what a pattern's seams ask of a corner.
type asked struct {
	matched bool
	seam    end
	reach   float64 // how far it must run out at least, in mm
}

// end says which edge of a corner is meant.
type end int

const (
	endsThere   end = iota // the edge that ends in the corner
	startsThere            // the one that starts from it
)

// firstSewn returns which of both seams at a corner is closed before the other is
// sewn across it.
func firstSewn(a, b bool) end {
	if a && !b {
		return startsThere
	}
	return endsThere
}

// corner is a corner of a piece: that at the end of an edge.
type corner struct{ piece, edge int }

// OfPattern returns the cut lines of all pieces, in the pattern's order. It
// differs from Of where a corner is matched: both sides of the seam are cut with
// the same end there, as far out as the further of the two asks, whichever side
// says that its corner is matched.
func OfPattern(p *pattern.Pattern) []Line {
	asks := make([]map[int]asked, len(p.Pieces))
	walked := make([]*raw, len(p.Pieces))
	pairs := matchedCorners(p)
	for _, m := range pairs {
		for _, c := range m.corners {
			if asks[c.piece] == nil {
				asks[c.piece] = map[int]asked{}
			}
			asks[c.piece][c.edge] = asked{matched: true, seam: m.seams[c]}
		}
	}
	for i := range p.Pieces {
		walked[i] = of(&p.Pieces[i], asks[i])
	}
	again := make([]bool, len(p.Pieces))
	for _, m := range pairs {
		furthest := 0.0
		for _, c := range m.corners {
			furthest = max(furthest, walked[c.piece].reached[c.edge])
		}
		for _, c := range m.corners {
			if a := asks[c.piece][c.edge]; furthest > max(a.reach, walked[c.piece].reached[c.edge]) {
				a.reach = furthest
				asks[c.piece][c.edge], again[c.piece] = a, true
			}
		}
	}
	lines := make([]Line, len(p.Pieces))
	for i := range p.Pieces {
		if again[i] {
			walked[i] = of(&p.Pieces[i], asks[i])
		}
		lines[i] = walked[i].outline()
	}
	return lines
}

// match is the corners that come together at one end of a seam.
type match struct {
	corners []corner
	seams   map[corner]end // which of its edges is the seam's
}

// matchedCorners returns the seam ends at which a side's corner is matched, and
// the seam is the one closed first there.
func matchedCorners(p *pattern.Pattern) []match {
	index := map[string]int{}
	for i := range p.Pieces {
		index[p.Pieces[i].Name] = i
	}
	var found []match
	for i := range p.Seams {
		s := &p.Seams[i]
		for _, start := range [...]bool{true, false} {
			m := match{seams: map[corner]end{}}
			asks := false
			for _, run := range [...]pattern.Run{s.A, s.B} {
				c, seam, ok := cornerOf(p, index, run, start)
				if !ok {
					continue
				}
				edges := p.Pieces[c.piece].Edges
				a, b := &edges[c.edge], &edges[(c.edge+1)%len(edges)]
				if a.Corner == pattern.Matched && firstSewn(crosses(a), crosses(b)) == seam {
					asks = true
				}
				if _, twice := m.seams[c]; !twice {
					m.corners = append(m.corners, c)
				}
				m.seams[c] = seam
			}
			if asks {
				found = append(found, m)
			}
		}
	}
	return found
}

// cornerOf returns the corner at which a run is taken up, or left, and which of
// its edges the run's is.
func cornerOf(p *pattern.Pattern, index map[string]int, run pattern.Run, start bool) (c corner, seam end, ok bool) {
	if len(run) == 0 {
		return c, 0, false
	}
	ref := run[len(run)-1]
	if start {
		ref = run[0]
	}
	i, ok := index[ref.Piece]
	if !ok {
		return c, 0, false
	}
	e := p.Pieces[i].EdgeIndex(ref.Edge)
	n := len(p.Pieces[i].Edges)
	if e < 0 || n < 2 {
		return c, 0, false
	}
	if start != ref.Backwards { // at the edge's own start
		return corner{i, (e + n - 1) % n}, startsThere, true
	}
	return corner{i, e}, endsThere, true
}
