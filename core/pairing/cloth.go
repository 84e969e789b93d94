package pairing

import (
	"fmt"
	"math"

	"bygone.example/core/cutline"
	"bygone.example/core/finding"
	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// clothWidth asks whether the piece can be cut from cloth of the width given,
// laid with its grainline along the selvedge. A piece on a fold that runs along
// the grain is opened out: it takes twice the width from the fold.
//
// A piece without a grainline may be turned any way; grain-missing tells of it.
func (c *checker) clothWidth(p *pattern.Piece, outline []geom.Point) {
	width := c.options.Cloth.Width
	if width <= 0 || !p.Grain.Given() {
		return
	}
	across := p.Grain.To.Sub(p.Grain.From).Unit().Right()
	points := outline
	if c.allowed[p] {
		points = cutline.Of(p).Points
	}
	fold := -1
	for i := range p.Edges {
		if fold < 0 && p.Edges[i].Finish == pattern.Fold {
			fold = i
		}
	}
	var flip geom.Affine
	if fold >= 0 {
		flip = geom.Reflection(p.Edges[fold].Path.Start(), p.Edges[fold].Path.End())
	}
	least, most := math.Inf(1), math.Inf(-1)
	var first, last geom.Point // the points of the piece furthest to either side
	take := func(v float64, on geom.Point) {
		if v < least {
			least, first = v, on
		}
		if v > most {
			most, last = v, on
		}
	}
	for _, q := range points {
		take(q.Dot(across), q)
		if fold >= 0 {
			take(flip.Apply(q).Dot(across), q)
		}
	}
	over := most - least - width
	if !(over > c.Length) {
		return
	}
	at, middle := last, p.Grain.From.Dot(across)
	if middle-least > most-middle {
		at = first
	}
	opened := ""
	if fold >= 0 {
		opened = " opened out"
	}
	c.add(ClothWidth, "", finding.Place{Piece: p.Name, At: &at},
		&finding.Figures{A: most - least, B: width, Difference: over, Unit: "mm"},
		fmt.Sprintf("%s%s measures %s across the grain, and the cloth %s", p.Name, opened, mm(most-least), mm(width)))
}

// fullest is the most that cloth of a weight can be drawn up.
type fullest struct {
	upTo  float64 // grams a square metre
	ratio float64
	cloth string
}

// fullests, by weight. That heavy cloth takes 1½, medium 2 and light 2½ to 3
// times is common practice; the bound is a step beyond what is usual, so that
// what is full on purpose passes. Four times is what a strap of the 1930s in the
// University of New Hampshire's collection (UNH 259) has, 20.3 cm drawn up to
// 5.1. Where one weight ends and the next begins is from memory.
var fullests = []fullest{
	{80, 4, "sheer"},
	{130, 3, "light"},
	{250, 2.5, "medium"},
	{math.Inf(1), 2, "heavy"},
}

// clothFullness asks whether cloth of the weight given can be drawn up as far as
// the piece's gathers say. Ease is not asked: it has bounds of its own.
func (c *checker) clothFullness(p *pattern.Piece) {
	weight := c.options.Cloth.Weight
	if weight <= 0 {
		return
	}
	most := fullests[0]
	for _, f := range fullests {
		most = f
		if weight <= f.upTo {
			break
		}
	}
	for _, g := range p.Gathers {
		e := c.edges[key{p.Name, g.Edge}]
		if g.Kind == pattern.Ease || e == nil || g.Length <= 0 {
			continue
		}
		full := (g.To - g.From - folded(walked{edge: e}, g.From, g.To)) / g.Length
		if full <= most.ratio+c.Ratio {
			continue
		}
		at := e.Path.At((g.From + g.To) / 2)
		c.add(FullnessCloth, "", finding.Place{Piece: p.Name, Edge: g.Edge, At: &at},
			&finding.Figures{A: full, B: most.ratio, Difference: full - most.ratio, Unit: "ratio"},
			fmt.Sprintf("%s/%s is drawn up %.2f times; %s cloth of %.0f g/m² takes %.1f at most", p.Name, g.Edge, full, most.cloth, weight, most.ratio))
	}
}
