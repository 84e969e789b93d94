package pairing

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/cutline"
	"bygone.example/core/finding"
	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// widths looks at the allowances of the two sides of a seam: laid edge to edge,
// cloth that is cut with two widths is not sewn on both seam lines.
//
// A piece without any allowance is drawn to its seam lines, for the maker to add
// to; nothing is said of it.
func (c *checker) widths(s *seam) {
	for _, t := range s.abreast() {
		a, b := cutline.Width(t.a.Edge), cutline.Width(t.b.Edge)
		if math.Abs(a-b) <= c.Allowance || !c.allowed[t.a.piece] || !c.allowed[t.b.piece] {
			continue
		}
		narrow, r := t.a, &s.a
		if b < a {
			narrow, r = t.b, &s.b
		}
		at := narrow.Path.At(narrow.flat(r, (t.from+t.to)/2))
		c.add(AllowanceMismatch, "", finding.Place{Seam: s.Name, Piece: narrow.piece.Name, Edge: narrow.Name, At: &at},
			&finding.Figures{A: a, B: b, Difference: a - b, Unit: "mm"},
			fmt.Sprintf("in seam %s, %s/%s has an allowance of %s and %s/%s one of %s", s.Name,
				t.a.piece.Name, t.a.Name, mm(a), t.b.piece.Name, t.b.Name, mm(b)))
	}
}

// allowances looks at the cut line of a piece that has one.
func (c *checker) allowances(p *pattern.Piece) {
	if !c.allowed[p] {
		return
	}
	c.crossings(p)
	for i := range p.Edges {
		e := c.edges[key{p.Name, p.Edges[i].Name}]
		if e.Finish == pattern.Hemmed && cutline.Width(e.Edge) > 0 {
			c.hem(e)
		}
	}
}

// mostTraced is how many lines and curves a piece may have for its cut line to be
// traced: two hundred times what a drafted piece has, more than any digitised one.
// A second at most.
const mostTraced = 20_000

// crossings reports where allowances run into each other, once for each edge.
func (c *checker) crossings(p *pattern.Piece) {
	if n := len(p.Boundary()); n > mostTraced {
		c.add(AllowanceCrossing, finding.Note, finding.Place{Piece: p.Name}, nil,
			fmt.Sprintf("%s is drawn with %d lines and curves, too many to tell whether its allowances cross", p.Name, n))
		return
	}
	notes := slices.DeleteFunc(cutline.Of(p).Notes, func(n cutline.Note) bool {
		// A stretch too short to see, which point-doubled tells of, has an allowance
		// that turns any way.
		return slices.ContainsFunc(c.doubles, func(d finding.Place) bool {
			return d.Piece == p.Name && d.At.Near(n.At, 2*cutline.Width(c.edges[key{p.Name, d.Edge}].Edge))
		})
	})
	more := map[string]int{}
	for _, n := range notes {
		if crosses(n) {
			more[n.Edge]++
		}
	}
	for _, n := range notes {
		if !crosses(n) || more[n.Edge] == 0 {
			continue
		}
		text := fmt.Sprintf("of %s, %s", p.Name, n.Text)
		if others := more[n.Edge] - 1; others > 0 {
			text += fmt.Sprintf(", and in %d more places", others)
		}
		more[n.Edge] = 0
		c.add(AllowanceCrossing, "", finding.Place{Piece: p.Name, Edge: n.Edge, At: &n.At}, nil, text)
	}
}

func crosses(n cutline.Note) bool {
	return n.Trouble == cutline.Overlaps || n.Trouble == cutline.Tight || n.Trouble == cutline.Enclosed
}

// hem folds a hem's allowance back onto the piece: at both ends it must come to
// lie along the line that the piece has there, and in between it must not be
// much longer or shorter than what it lies on.
//
// The end of the allowance runs on from the neighbouring edge, or square to the
// hem where the corner is cut so. Folded over, it mirrors that: by how far both
// lie apart along the raw edge is what does not fit.
func (c *checker) hem(e *edge) {
	w := cutline.Width(e.Edge)
	for _, atStart := range [...]bool{true, false} {
		k, ok := c.cornerAt(e, atStart)
		if !ok || k.next.Finish == pattern.Fold || k.inside < leastHemCorner || k.inside > 180-leastHemCorner {
			continue // on the fold the corner's own check tells
		}
		lean := w / math.Tan(k.inside*math.Pi/180) // how far the piece has drawn in at the hem's depth
		run := lean
		switch {
		case k.corner == pattern.Square:
			run = 0
		case k.corner == pattern.Turned && k.next.Finish != pattern.Hemmed:
			continue // it mirrors the line that it comes to lie on
		}
		if math.Abs(run+lean) <= c.HemTurn {
			continue
		}
		how := "sticks out by"
		if run+lean < 0 {
			how = "falls short by"
		}
		c.add(HemTurn, "", finding.Place{Piece: e.piece.Name, Edge: e.Name, At: &k.at},
			&finding.Figures{A: run, B: -lean, Difference: run + lean, Unit: "mm"},
			fmt.Sprintf("folded up %s, the hem of %s/%s %s %s at %s", mm(w), e.piece.Name, e.Name, how, mm(math.Abs(run+lean)), k.next.Name))
	}
	if w <= narrowHem {
		return
	}
	// A curve's offsets are longer and shorter than it by the width times its turn.
	turn := turning(e.Path)
	outer, inner := e.cut+w*turn, e.cut-w*turn
	if inner <= 0 || outer <= 0 {
		return // tighter than its hem is deep: the cut line's own check tells
	}
	over := outer/inner - 1
	if over <= c.HemFullness && over >= -hemShort {
		return
	}
	how, at := "longer", e.Path.At(e.cut/2)
	if over < 0 {
		how = "shorter"
	}
	c.add(HemTurn, "", finding.Place{Piece: e.piece.Name, Edge: e.Name, At: &at},
		&finding.Figures{A: outer, B: inner, Difference: outer - inner, Unit: "mm"},
		fmt.Sprintf("folded up %s, the raw edge of %s/%s is %s %s than the cloth it lies on", mm(w), e.piece.Name, e.Name, mm(math.Abs(outer-inner)), how))
}

const (
	// leastHemCorner in degrees: where a hem meets its neighbour at a sharper
	// corner it runs out to nothing there, as a shirt tail does at the side.
	leastHemCorner = 30.0
	// narrowHem in mm: a turning no wider than an ordinary seam's, 5/8 in, is snipped
	// or drawn in on any curve (common practice).
	narrowHem = 16.0
	// hemShort as a share: what the raw edge of a hem can be let out at its ends,
	// half a 15 mm turning each over a wrist of 220 mm (from memory).
	hemShort = 0.07
	// turnChords in mm is how finely a hem's turn is taken.
	turnChords = 0.05
)

// turning returns by how much a path turns from its start to its end, in radians,
// to the left.
func turning(p geom.Path) float64 {
	var sum float64
	for i, s := range p {
		if i > 0 {
			sum += geom.Turn(p[i-1].Direction(1), s.Direction(0))
		}
		if !s.Curved {
			continue
		}
		points := geom.Path{s}.Flatten(turnChords)
		last := s.Direction(0)
		for k := 1; k < len(points); k++ {
			d := points[k].Sub(points[k-1])
			sum += geom.Turn(last, d)
			last = d
		}
		sum += geom.Turn(last, s.Direction(1))
	}
	return sum
}
