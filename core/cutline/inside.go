package cutline

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// Part is a stretch of a line drawn inside an outline, and the stretch of the
// outline's edge, in mm along it, that it lies inside of. A drawn one lies inside
// of none: it runs a line on into a hollow corner.
type Part struct {
	Segment  geom.Segment
	From, To float64
	Drawn    bool
}

// Inside returns, for each edge of a piece whose outline is its cut line, the seam
// line that lies its allowance inside: true offsets within PathTolerance, cut off
// or run on at the corners to where they meet, in order round the piece. widths
// are in mm, by edge; of an edge with 0 the line stays. The piece must be valid.
//
// Where two widths meet without a corner the seam line steps. Notes tell where a
// curve is tighter than its allowance, or two allowances run into each other. An
// edge of which nothing is left, or that comes apart, is an error that names it.
func Inside(p *pattern.Piece, widths []float64) ([][]Part, []Note, error) {
	var r raw
	var all []stretch
	var starts []float64 // of each curve, in mm along its edge
	for i := range p.Edges {
		walked := 0.0
		for _, s := range p.Edges[i].Path {
			d0, d1 := s.Direction(0), s.Direction(1)
			if d0 == (geom.Point{}) {
				continue
			}
			line := r.offset(s, -widths[i])
			if !s.Curved {
				r.curves = append(r.curves, curve{s, -widths[i]})
				line[0].curve, line[0].t1 = len(r.curves), 1
			}
			starts = append(starts, walked)
			walked += s.Length()
			all = append(all, stretch{index: i, edge: p.Edges[i].Name, width: widths[i], from: s.P0, to: s.P1, start: d0, end: d1, line: line})
		}
	}
	for i := range all {
		k := (i + 1) % len(all)
		r.edges = append(r.edges, all[i].edge)
		r.add(i, all[i].line...)
		r.add(k, insideCorner(&all[i], &all[k])...)
	}
	if len(all) == 0 || !r.trace() || r.loops() {
		return nil, r.notes, fmt.Errorf("nothing is left of it inside its allowances")
	}
	parts := make([][]Part, len(p.Edges))
	runs := r.runs()
	edgeOf := func(k int) int { return all[runs[(k+len(runs))%len(runs)].stretch].index }
	first := 0
	for first < len(runs)-1 && edgeOf(first) == edgeOf(first-1) {
		first++
	}
	for i := range runs {
		k := (first + i) % len(runs)
		edge := edgeOf(k)
		if len(parts[edge]) > 0 && edgeOf(k-1) != edge {
			return nil, r.notes, fmt.Errorf("%s comes apart inside its allowance", p.Edges[edge].Name)
		}
		parts[edge] = append(parts[edge], r.parts(runs[k], starts)...)
	}
	for i := range parts {
		if len(parts[i]) == 0 {
			return nil, r.notes, fmt.Errorf("nothing is left of %s inside the allowances beside it", p.Edges[i].Name)
		}
	}
	return parts, r.notes, nil
}

// loops reports whether the line could not be traced.
func (r *raw) loops() bool {
	return slices.ContainsFunc(r.notes, func(n Note) bool { return n.Trouble == Untraced }) || area(r.line) <= 0
}

// parts returns a run in curves, with the stretch of its edge that each lies
// inside of.
func (r *raw) parts(k run, starts []float64) []Part {
	if k.curve == 0 {
		return []Part{{Segment: geom.Line(k.a, k.b), Drawn: true}}
	}
	c := r.curves[k.curve-1]
	var parts []Part
	path := fit(c, k.t0, k.t1, k.a, k.b)
	at := func(i int) float64 {
		switch i {
		case 0:
			return starts[k.curve-1] + c.LengthTo(k.t0)
		case len(path):
			return starts[k.curve-1] + c.LengthTo(k.t1)
		}
		// Straight out from where the curve ends.
		t, _ := geom.Path{c.Segment}.Nearest(path[i].P0)
		return starts[k.curve-1] + t
	}
	for i, s := range path {
		parts = append(parts, Part{Segment: s, From: at(i), To: at(i + 1)})
	}
	return parts
}

// insideCorner leads from one line inside the outline to the next. At a corner
// that sticks out they cross, and the trace finds where; into a hollow one both
// run on until they meet.
func insideCorner(a, b *stretch) []vertex {
	pa, pb := a.final(), b.first()
	turn := geom.Turn(a.end, b.start)
	switch {
	case pa.Near(pb, 1e-9), math.Abs(turn) <= smooth:
		return nil
	case turn > 0:
		return []vertex{straight(a.to)}
	}
	m, ok := geom.LineMeet(pa, a.end, pb, b.start)
	if !ok || m.Dist(a.to) > MitreLimit*math.Max(a.width, b.width) {
		return nil
	}
	return []vertex{straight(m)}
}
