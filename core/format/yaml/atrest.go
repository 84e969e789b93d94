package yamlfile

import (
	"math"
	"strings"

	"bygone.example/core/geom"
	"bygone.example/core/geom/pathdata"
	"bygone.example/core/pattern"
	"bygone.example/core/unit"
)

// SnapTolerance is how far in mm one edge may start from the end of the one
// before it and still be joined to it, and how far a mark may lie beyond its
// edge and still be moved back onto it. It is what rounding by hand or by
// another program leaves, and far below a pencil line.
const SnapTolerance = 0.01

// AtRest returns the pattern as it comes back from a file: every number
// rounded to what files keep, edges joined where rounding parted them, marks
// moved back onto edges that rounding made shorter, one form where there are
// two for one meaning. Of a pattern that Validate accepts, Read(Write(p)) is
// AtRest(p); AtRest of that is itself. The pattern it is given stays as it is.
func AtRest(p *pattern.Pattern) *pattern.Pattern {
	r := p.Clone()
	for i := range r.Pieces {
		piece := &r.Pieces[i]
		for j := range piece.Edges {
			e := &piece.Edges[j]
			e.Path = pathdata.Round(e.Path)
			e.Allowance = unit.Round(e.Allowance)
			if e.Role == plainRole(e.Name) {
				e.Role = ""
			}
		}
		join(piece.Edges, nil)
		piece.Grain = pattern.Grain{From: roundPoint(piece.Grain.From), To: roundPoint(piece.Grain.To)}
		settle(piece)
	}
	for i := range r.Seams {
		m := &r.Seams[i].Meeting
		if m.Kind == "" {
			m.Kind = pattern.Plain
		}
		for _, v := range []*float64{&m.Ease.Min, &m.Ease.Max, &m.Ratio.Min, &m.Ratio.Max} {
			*v = unit.Round(*v)
		}
	}
	return r
}

// plainRole is the role that an edge has by its name alone.
func plainRole(name string) string {
	base, _, _ := strings.Cut(name, ".")
	return base
}

func roundPoint(q geom.Point) geom.Point { return geom.Pt(unit.Round(q.X), unit.Round(q.Y)) }

// join lets each edge start where the one before it ends, and the last end
// where the first starts. Gaps wider than SnapTolerance are left, and told to
// gap: the later edge's index, the gap in mm, whether it is the one that
// should close the boundary. Edges without a path are passed over.
func join(edges []pattern.Edge, gap func(i int, mm float64, closing bool)) {
	for i := range edges {
		path := edges[i].Path
		if len(path) == 0 {
			continue
		}
		if i > 0 && len(edges[i-1].Path) > 0 {
			end := edges[i-1].Path.End()
			if d := end.Dist(path.Start()); d <= SnapTolerance {
				path[0].P0 = end
			} else if gap != nil {
				gap(i, d, false)
			}
		}
		if i == len(edges)-1 && len(edges[0].Path) > 0 {
			start := edges[0].Path.Start()
			if d := path.End().Dist(start); d <= SnapTolerance {
				path[len(path)-1].P1 = start
			} else if gap != nil {
				gap(i, d, true)
			}
		}
	}
}

// settle rounds the places of marks and moves them back onto their edges,
// whose paths are rounded and joined.
func settle(p *pattern.Piece) {
	lengths := map[string]float64{}
	for i := range p.Edges {
		if e := &p.Edges[i]; lengths[e.Name] == 0 {
			lengths[e.Name] = e.Path.Length()
		}
	}
	for i := range p.Landmarks {
		p.Landmarks[i].At = roundPoint(p.Landmarks[i].At)
	}
	for i := range p.Darts {
		d := &p.Darts[i]
		d.From, d.To, d.Point = onto(d.From, lengths[d.Edge]), onto(d.To, lengths[d.Edge]), roundPoint(d.Point)
	}
	for i := range p.Pleats {
		d := &p.Pleats[i]
		d.From, d.To = onto(d.From, lengths[d.Edge]), onto(d.To, lengths[d.Edge])
	}
	for i := range p.Gathers {
		g := &p.Gathers[i]
		g.From, g.To = onto(g.From, lengths[g.Edge]), onto(g.To, lengths[g.Edge])
		g.Length = onto(g.Length, flatLength(p, *g))
		g.Stitch = unit.Round(g.Stitch)
	}
	for i := range p.Notches {
		n := &p.Notches[i]
		n.At = onto(n.At, lengths[n.Edge])
	}
}

// onto rounds a place, and moves it back onto its edge when it lies beyond the
// end by no more than SnapTolerance. It is rounded down there, so that it
// stays on the edge when it is written and read.
func onto(place, length float64) float64 {
	place = unit.Round(place)
	switch {
	case place < 0 && place >= -SnapTolerance:
		return 0
	case length > 0 && place > length && place <= length+SnapTolerance:
		scale := math.Pow10(unit.Decimals)
		return unit.Round(math.Floor(length*scale) / scale)
	}
	return place
}

// flatLength returns the most that a gather can be drawn up to: its stretch
// less the darts and pleats inside it.
func flatLength(p *pattern.Piece, g pattern.Gather) float64 {
	most := g.To - g.From
	for _, d := range p.Darts {
		if d.Edge == g.Edge && d.From >= g.From && d.To <= g.To {
			most -= d.To - d.From
		}
	}
	for _, d := range p.Pleats {
		if d.Edge == g.Edge && d.From >= g.From && d.To <= g.To {
			most -= d.To - d.From
		}
	}
	return most
}
