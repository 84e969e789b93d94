package pairing

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/finding"
	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// copies is how many times a garment has an edge of the piece: a piece on the
// fold has both its halves.
func copies(p *pattern.Piece) int {
	if p.OnFold() {
		return 2 * p.Cut.Count
	}
	return p.Cut.Count
}

// shell are the roles of pieces that a garment has one layer of. Others, as a
// collar and the collar under it, may be cut twice as often from one pattern.
var shell = []pattern.Role{
	pattern.BodiceFront, pattern.BodiceBack, pattern.BodiceSideBack, pattern.SkirtFront, pattern.SkirtBack, pattern.Sleeve,
	pattern.SleeveTop, pattern.SleeveUnder, pattern.Undersleeve, pattern.Flounce, pattern.Tier,
}

// counts asks whether both sides of a seam are cut as often as each other, and
// the right way round.
func (c *checker) counts(s *seam) {
	if s.mirrored() {
		return // seam-mirror tells
	}
	// One finding a seam: of what there is least, against what there is most.
	var few, many walked
	for _, r := range [...]*run{&s.a, &s.b} {
		for _, w := range r.edges {
			if few.edge == nil || copies(w.piece) < copies(few.piece) {
				few = w
			}
			if many.edge == nil || copies(w.piece) > copies(many.piece) {
				many = w
			}
		}
	}
	if few.edge == nil {
		return
	}
	if n, m := copies(few.piece), copies(many.piece); n != m && (m != 2*n || slices.Contains(shell, many.piece.Role)) {
		// Of the two, the one that fewer of all it is sewn to agree with is wrong.
		at, other := few, many
		if c.odd(many.piece) > c.odd(few.piece)+oddRounding {
			at, other = many, few
		}
		k, l := copies(at.piece), copies(other.piece)
		middle := at.Path.At(at.cut / 2)
		c.add(CutCount, "", finding.Place{Seam: s.Name, Piece: at.piece.Name, Edge: at.Name, At: &middle},
			&finding.Figures{A: float64(k), B: float64(l), Difference: float64(k - l), Unit: "pieces"},
			fmt.Sprintf("seam %s sews %s/%s, of which there %s, to %s/%s, of which there %s", s.Name,
				at.piece.Name, at.Name, are(k), other.piece.Name, other.Name, are(l)))
	}
	for _, r := range [...]*run{&s.a, &s.b} {
		other := &s.b
		if r == other {
			other = &s.a
		}
		if !slices.ContainsFunc(other.edges, func(w walked) bool { return w.piece.Cut.Mirrored || w.piece.OnFold() }) {
			continue
		}
		for _, w := range r.edges {
			p := w.piece
			if p.Cut.Mirrored || p.Cut.Count < 2 || p.OnFold() || c.even(p) {
				continue
			}
			at := w.Path.At(w.cut / 2)
			c.add(CutCount, "", finding.Place{Seam: s.Name, Piece: p.Name, Edge: w.Name, At: &at}, nil,
				fmt.Sprintf("%s is cut %d times the same way round, and seam %s wants a left and a right one", p.Name, p.Cut.Count, s.Name))
		}
	}
}

func are(n int) string {
	if n == 1 {
		return "is 1"
	}
	return fmt.Sprintf("are %d", n)
}

// oddRounding keeps shares that are the same from being told apart.
const oddRounding = 1e-9

// odd returns which share of the edges that a piece is sewn to are cut another
// number of times than it is.
func (c *checker) odd(p *pattern.Piece) float64 {
	met, others := 0, 0
	for i := range c.seams {
		s := &c.seams[i]
		if s.mirrored() {
			continue
		}
		for _, sides := range [...][2]*run{{&s.a, &s.b}, {&s.b, &s.a}} {
			for _, w := range sides[0].edges {
				if w.piece != p {
					continue
				}
				for _, o := range sides[1].edges {
					met++
					if copies(o.piece) != copies(p) {
						others++
					}
				}
			}
		}
	}
	if met == 0 {
		return 0
	}
	return float64(others) / float64(met)
}

// evenTolerance in mm is how far a shape may differ from its own mirror image
// and still be sewn either way round.
const evenTolerance = 1.0

// even reports whether the piece is its own mirror image in shape, as a band or a
// cuff is, so that it does not matter which way up it is cut.
func (c *checker) even(p *pattern.Piece) bool {
	if even, known := c.evens[p]; known {
		return even
	}
	if c.evens == nil {
		c.evens = map[*pattern.Piece]bool{}
	}
	c.evens[p] = mirrorsItself(p)
	return c.evens[p]
}

func mirrorsItself(p *pattern.Piece) bool {
	n := len(p.Edges)
	if n < 2 {
		return true // a single closed curve has no corner to hold it by
	}
	corner := func(i int) geom.Point { return p.Edges[(i%n+n)%n].Path.Start() }
	for k := range n {
		// Corner i goes to corner k-i. The pair furthest apart tells the axis; a
		// corner on the axis goes to itself.
		var a, b geom.Point
		for i := range n {
			if q, r := corner(i), corner(k-i); q.Dist(r) > a.Dist(b) {
				a, b = q, r
			}
		}
		if a.Dist(b) <= evenTolerance {
			continue
		}
		m := a.Lerp(b, 0.5)
		flip := geom.Reflection(m, m.Add(b.Sub(a).Left()))
		fits := true
		for i := 0; fits && i < n; i++ {
			e, o := p.Edges[i].Path, p.Edges[((k-i-1)%n+n)%n].Path
			l, r := e.Length(), o.Length()
			for _, share := range [...]float64{0, 0.25, 0.5, 0.75} {
				fits = fits && math.Abs(l-r) <= 2*evenTolerance && flip.Apply(e.At(share*l)).Near(o.At((1-share)*r), evenTolerance)
			}
		}
		if fits {
			return true
		}
	}
	return false
}
