package pairing

import (
	"fmt"
	"math"

	"bygone.example/core/finding"
	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// piece looks at what can be told from one piece: what becomes of its edges,
// its folds, darts and grainline.
func (c *checker) piece(p *pattern.Piece) {
	var fold *edge
	for i := range p.Edges {
		e := c.edges[key{p.Name, p.Edges[i].Name}]
		c.fate(e)
		c.opening(e)
		if e.Finish != pattern.Fold {
			continue
		}
		c.fold(e, fold)
		if fold == nil {
			fold = e
		}
	}
	outline := p.Boundary().Flatten(outlineChords)
	c.shape(p, outline)
	for i := range p.Darts {
		c.mark = p.Darts[i].Name
		c.dart(p, &p.Darts[i], outline)
	}
	c.mark = ""
	c.grain(p, outline)
	c.allowances(p)
	c.clothWidth(p, outline)
	c.clothFullness(p)
	if fold != nil && p.Grain.Given() {
		c.askew(p, fold)
	}
}

// fate asks what becomes of an edge.
func (c *checker) fate(e *edge) {
	at := e.Path.At(e.cut / 2)
	place := finding.Place{Piece: e.piece.Name, Edge: e.Name, At: &at}
	switch {
	case e.Finish == pattern.Sewn && len(e.seams) == 0:
		c.add(EdgeLoose, "", place, nil, fmt.Sprintf("%s/%s is to be sewn, but no seam takes it", e.piece.Name, e.Name))
	case e.Finish != pattern.Sewn && len(e.seams) > 0:
		place.Seam = c.seams[e.seams[0].seam].Name
		c.add(EdgeTwoFates, "", place, nil, fmt.Sprintf("%s/%s is in seam %s and finished as %s as well", e.piece.Name, e.Name, place.Seam, e.Finish))
	case len(e.seams) > 1:
		first, second := c.seams[e.seams[0].seam].Name, c.seams[e.seams[1].seam].Name
		text := fmt.Sprintf("%s/%s is in seam %s and in seam %s as well", e.piece.Name, e.Name, first, second)
		if first == second {
			text = fmt.Sprintf("%s/%s is twice in seam %s", e.piece.Name, e.Name, first)
		}
		place.Seam = second
		c.add(EdgeTwoFates, "", place, nil, text)
	}
}

// fold looks at a fold, and at the first fold of the piece if that is another.
func (c *checker) fold(e, first *edge) {
	if at, off := furthest(e.Path, e.Path.Start(), e.Path.End()); over(off, c.Fold) {
		c.add(FoldBent, "", finding.Place{Piece: e.piece.Name, Edge: e.Name, At: &at},
			&finding.Figures{A: off, Difference: off, Unit: "mm"},
			fmt.Sprintf("the fold %s/%s leaves the straight line by %s", e.piece.Name, e.Name, mm(off)))
	} else if first != nil {
		if at, off := furthest(e.Path, first.Path.Start(), first.Path.End()); over(off, c.Fold) {
			c.add(FoldApart, "", finding.Place{Piece: e.piece.Name, Edge: e.Name, At: &at},
				&finding.Figures{A: off, Difference: off, Unit: "mm"},
				fmt.Sprintf("the fold %s/%s lies %s off the line of fold %s", e.piece.Name, e.Name, mm(off), first.Name))
		}
	}
	for _, atStart := range [...]bool{true, false} {
		if k, ok := c.cornerAt(e, atStart); ok {
			c.centre("", k)
		}
	}
}

// furthest returns the point of the path furthest from the line through a and b,
// and how far off it is.
func furthest(p geom.Path, a, b geom.Point) (at geom.Point, off float64) {
	u := b.Sub(a).Unit()
	try := func(q geom.Point) {
		if d := math.Abs(u.Cross(q.Sub(a))); longer(d, off) {
			at, off = q, d
		}
	}
	for i := range p {
		s := &p[i]
		try(s.P0)
		try(s.P1)
		if !s.Curved {
			continue
		}
		// Off the line it goes furthest where it runs along it: the distance is a
		// cubic, and its slope a quadratic of these three.
		x, y, z := u.Cross(s.C1.Sub(s.P0)), u.Cross(s.C2.Sub(s.C1)), u.Cross(s.P1.Sub(s.C2))
		k, l := x-2*y+z, y-x
		root := l*l - k*x
		if root < 0 {
			continue
		}
		q := -l - math.Copysign(math.Sqrt(root), l)
		for _, t := range [...]float64{q / k, x / q} {
			if t > 0 && t < 1 { // false where nothing was divided by
				try(s.At(t))
			}
		}
	}
	return at, off
}

// dart looks at a dart: legs of one length, a point inside the piece, and an
// edge that runs on when it is folded shut.
func (c *checker) dart(p *pattern.Piece, d *pattern.Dart, outline []geom.Point) {
	e := c.edges[key{p.Name, d.Edge}]
	if e == nil {
		return
	}
	point := d.Point
	place := finding.Place{Piece: p.Name, Edge: d.Edge, At: &point}
	if !within(outline, d.Point, c.Grain) {
		c.add(DartPoint, "", place, nil, fmt.Sprintf("dart %s of %s points out of the piece", d.Name, p.Name))
	}
	before, rest := e.Path.Split(d.From)
	from, to := e.Path.At(d.From), e.Path.At(d.To)
	a, b := from.Dist(d.Point), to.Dist(d.Point)
	if over(a-b, c.Legs) {
		c.add(DartLegs, "", place, &finding.Figures{A: a, B: b, Difference: a - b, Unit: "mm"},
			fmt.Sprintf("the legs of dart %s of %s measure %s and %s", d.Name, p.Name, mm(a), mm(b)))
	}
	_, after := rest.Split(d.To - d.From)
	if len(before) == 0 || len(after) == 0 {
		return // the mouth reaches a corner: the corner's own check sees it
	}
	// Folding the dart shut turns what lies beyond it about the point. The kink
	// is counted as at a seam, positive for a dent.
	shut := geom.Turn(to.Sub(d.Point), from.Sub(d.Point))
	kink := -degrees(geom.Turn(arriving(before), geom.Rotation(geom.Point{}, shut).Apply(leaving(after))))
	if e.clockwise {
		kink = -kink
	}
	if !over(kink, c.KinkWarning) {
		return
	}
	severity := finding.Warning
	if over(kink, c.KinkFault) {
		severity = finding.Fault
	}
	c.add(DartMouth, severity, finding.Place{Piece: p.Name, Edge: d.Edge, At: &from},
		&finding.Figures{A: 180 + kink, B: 180, Difference: kink, Unit: "degrees"},
		fmt.Sprintf("with dart %s folded shut, %s/%s has %s", d.Name, p.Name, d.Edge, kinked(kink)))
}

// grain looks at the grainline.
func (c *checker) grain(p *pattern.Piece, outline []geom.Point) {
	if !p.Grain.Given() {
		c.add(GrainMissing, "", finding.Place{Piece: p.Name}, nil, fmt.Sprintf("%s has no grainline", p.Name))
		return
	}
	for _, q := range [...]geom.Point{p.Grain.From, p.Grain.To} {
		if !within(outline, q, c.Grain) {
			c.add(GrainOutside, "", finding.Place{Piece: p.Name, At: &q}, nil, fmt.Sprintf("the grainline of %s leaves the piece", p.Name))
			return
		}
	}
}

// within reports whether q lies in the outline or within the tolerance, in mm, of it.
func within(outline []geom.Point, q geom.Point, tolerance float64) bool {
	if geom.Contains(outline, q) {
		return true
	}
	for i := 1; i < len(outline); i++ {
		if _, d := (geom.Path{geom.Line(outline[i-1], outline[i])}).Nearest(q); !over(d, tolerance) {
			return true
		}
	}
	return false
}
