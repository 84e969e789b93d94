package alter

import (
	"fmt"
	"math"

	"bygone.example/core/cutline"
	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// onOutline in mm is how near the outline a landmark lies that is on it.
const onOutline = 0.05

// BringIn takes a pattern whose outlines are its cut lines and brings them in to
// the seam lines, by the widths of a. Marks on the edges come along straight in,
// dart mouths along their legs, and landmarks on the outline with it; the cut line
// stays where the outline was.
//
// Kept: what is inside the pieces, the order and names of edges, the seams; the
// cut line, to within what it is held to, but that it runs straight into corners
// where the outline was bent (2 or 3 mm at a tight neckline). Changed: every length. Degenerate: a
// pattern with an allowance somewhere, or whose seams go together along the outlines
// and would not inside them, is drawn to its seam lines and is refused; so is a piece that has no room for its allowances, by name.
func BringIn(p *pattern.Pattern, a Allowances) (*operation.Answer, error) {
	if err := a.check(); err != nil {
		return nil, err
	}
	for i := range p.Pieces {
		if anyAllowance(&p.Pieces[i]) {
			return nil, refuse(fmt.Sprintf("piece %q has allowances outside its outline: it is drawn to the seam line already", p.Pieces[i].Name), "leave the step out")
		}
	}
	e := begin(p)
	had, narrower := e.setWidths(a)
	e.tellWidths(a, had, narrower)
	for _, w := range e.pieces {
		if err := e.bringIn(w); err != nil {
			return nil, err
		}
	}
	if a.Corners {
		e.tellCorners()
	}
	e.settled = p.SeamNames() // the paper's notches are where they are
	answer, err := e.finish()
	if err != nil {
		return nil, err
	}
	for i := range p.Seams {
		s := &p.Seams[i]
		if now := answer.Pattern.Seam(s.Name); now != nil && meets(p, s) && !meets(answer.Pattern, now) {
			return nil, refuse(fmt.Sprintf("the sides of seam %s are alike along the outlines, and would not be %.0f mm inside them", s.Name, a.Seam),
				"leave the step out if the outlines are the seam lines, or give the widths that are in the paper")
		}
	}
	return answer, nil
}

func (e *edit) bringIn(w *work) error {
	widths := make([]float64, len(w.Edges))
	for i := range w.Edges {
		widths[i] = cutline.Width(&w.Edges[i])
	}
	parts, notes, err := cutline.Inside(&w.Piece, widths)
	if err != nil {
		return refuse(fmt.Sprintf("piece %q has no room for its allowances: %v", w.Name, err), "give narrower ones")
	}
	for _, n := range notes {
		e.caution(fmt.Sprintf("on piece %s, %s", w.Name, n.Text))
	}
	was := w.Piece
	for i := range parts {
		var l line
		for _, part := range parts[i] {
			s := strand{seg: part.Segment}
			if !part.Drawn {
				s.old = pattern.Stretch{Piece: w.Name, Edge: w.Edges[i].Name, From: part.From, To: part.To}
			}
			l = append(l, s)
		}
		w.lines[i] = l
	}
	w.marksIn(&was, widths)
	w.touched = true
	for k := range w.Landmarks {
		w.Landmarks[k].At = broughtIn(&was, widths, w.lines, w.Landmarks[k].At)
	}
	return nil
}

// marksIn puts the marks on the edges that were brought in: straight in from where
// they were, dart mouths along their legs. What lies straight in from the ends of a
// capped mouth may be cut away, and in proportion along a curve is not straight in.
func (w *work) marksIn(was *pattern.Piece, widths []float64) {
	straightIn := func(edge string, at float64) float64 {
		i := was.EdgeIndex(edge)
		if i < 0 {
			return at
		}
		path := was.Edges[i].Path
		along, _ := w.lines[i].path().Nearest(path.At(at).Add(path.Direction(at).Left().Mul(widths[i])))
		return along
	}
	for _, d := range w.Darts {
		w.fresh.darts = append(w.fresh.darts, alongLegs(was, w.lines, d))
	}
	for _, f := range w.Pleats {
		f.From, f.To = straightIn(f.Edge, f.From), straightIn(f.Edge, f.To)
		w.fresh.pleats = append(w.fresh.pleats, f)
	}
	for _, g := range w.Gathers {
		g.From, g.To = straightIn(g.Edge, g.From), straightIn(g.Edge, g.To)
		w.fresh.gathers = append(w.fresh.gathers, g)
	}
	for _, k := range w.Notches {
		k.At = straightIn(k.Edge, k.At)
		w.fresh.notches = append(w.fresh.notches, k)
	}
	w.Darts, w.Pleats, w.Gathers, w.Notches = nil, nil, nil, nil
}

// broughtIn returns where a point on the outline comes to lie: a corner in the
// corner, another straight in. A point inside stays.
func broughtIn(p *pattern.Piece, widths []float64, lines []line, q geom.Point) geom.Point {
	for i := range p.Edges {
		if p.Edges[i].Path.End().Near(q, onOutline) {
			return lines[i].end()
		}
	}
	for i := range p.Edges {
		path := p.Edges[i].Path
		if at, d := path.Nearest(q); d <= onOutline {
			return path.At(at).Add(path.Direction(at).Left().Mul(widths[i]))
		}
	}
	return q
}

// alongLegs returns the dart with its mouth where its legs meet the edge now.
func alongLegs(p *pattern.Piece, lines []line, d pattern.Dart) pattern.Dart {
	i := p.EdgeIndex(d.Edge)
	if i < 0 {
		return d
	}
	now := lines[i].path()
	meet := func(was float64) float64 {
		end := p.Edges[i].Path.At(was)
		best, least := was, math.Inf(1)
		for _, at := range now.CutLine(d.Point, end.Sub(d.Point)) {
			if off := now.At(at).Dist(end); off < least {
				best, least = at, off
			}
		}
		return best
	}
	d.From, d.To = meet(d.From), meet(d.To)
	return d
}
