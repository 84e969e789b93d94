package stock

import (
	"math"

	"bygone.example/core/cutline"
	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// CutOut returns a pattern as it comes when its outlines are its cut lines: every
// piece drawn to the line that it is cut along, without an allowance outside it.
// Notches and gathers lie straight out from where they were, dart mouths on their
// legs. Corners of the cut line are taken to meet.
func CutOut(p *pattern.Pattern) *pattern.Pattern {
	out := p.Clone()
	for i := range out.Pieces {
		cutOut(&out.Pieces[i])
	}
	return out
}

func cutOut(p *pattern.Piece) {
	was := p.Clone()
	for i := range was.Edges {
		was.Edges[i].Corner = pattern.Meet
	}
	path := cutline.Of(&was).Path
	n := len(was.Edges)
	ends := make([]float64, n) // of each edge, along the cut line
	for i := range was.Edges {
		ends[i], _ = path.Nearest(cutCorner(&was.Edges[i], &was.Edges[(i+1)%n]))
	}
	for i := range p.Edges {
		from, to := ends[(i+n-1)%n], ends[i]
		if from < to {
			p.Edges[i].Path = path.Between(from, to)
		} else {
			_, tail := path.Split(from)
			head, _ := path.Split(to)
			p.Edges[i].Path = append(tail, head...)
		}
		p.Edges[i].Allowance, p.Edges[i].Corner = 0, pattern.Meet
	}
	straightOut := func(edge string, at float64) float64 {
		e := was.Edge(edge)
		q := e.Path.At(at).Add(e.Path.Direction(at).Right().Mul(cutline.Width(e)))
		along, _ := p.Edge(edge).Path.Nearest(q)
		return along
	}
	for i := range p.Notches {
		p.Notches[i].At = straightOut(p.Notches[i].Edge, p.Notches[i].At)
	}
	for i := range p.Gathers {
		g := &p.Gathers[i]
		g.From, g.To = straightOut(g.Edge, g.From), straightOut(g.Edge, g.To)
	}
	for i := range p.Pleats {
		f := &p.Pleats[i]
		f.From, f.To = straightOut(f.Edge, f.From), straightOut(f.Edge, f.To)
	}
	for i := range p.Darts {
		d := &p.Darts[i]
		onLeg := func(at float64) float64 {
			end := was.Edge(d.Edge).Path.At(at)
			best, least := at, math.Inf(1)
			now := p.Edge(d.Edge).Path
			for _, k := range now.CutLine(d.Point, end.Sub(d.Point)) {
				if off := now.At(k).Dist(end); off < least {
					best, least = k, off
				}
			}
			return best
		}
		d.From, d.To = onLeg(d.From), onLeg(d.To)
	}
	for i := range p.Landmarks {
		for k := range was.Edges {
			if p.Landmarks[i].At.Near(was.Edges[k].Path.End(), 0.01) {
				p.Landmarks[i].At = p.Edges[k].Path.End()
			}
		}
	}
}

// cutCorner returns where the cut lines of two edges meet, run on straight.
func cutCorner(a, b *pattern.Edge) geom.Point {
	u, v := a.Path.EndDirection(), b.Path.StartDirection()
	pa := a.Path.End().Add(u.Right().Mul(cutline.Width(a)))
	if math.Abs(u.Cross(v)) < 1e-3 {
		return pa
	}
	m, _ := geom.LineMeet(pa, u, b.Path.Start().Add(v.Right().Mul(cutline.Width(b))), v)
	return m
}
