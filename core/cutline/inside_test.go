package cutline

import (
	"testing"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
	"pgregory.net/rapid"
)

// TestInsideUndoesTheOffset cuts a piece out along its cut line and brings that in
// again: the seam line that comes back is the one that was, to within what both
// ways are allowed to stray.
func TestInsideUndoesTheOffset(t *testing.T) {
	tried := 0
	rapid.Check(t, func(t *rapid.T) {
		p := wavy(t)
		for i := range p.Edges {
			p.Edges[i].Corner = pattern.Meet
			if p.Edges[i].Allowance == 0 {
				p.Edges[i].Allowance = 12
			}
		}
		line := Of(p)
		if len(line.Notes) > 0 {
			return
		}
		// The cut line in edges: from corner to corner.
		cut, widths, ok := asEdges(p, line)
		if !ok {
			return
		}
		tried++
		got, _, err := Inside(cut, widths)
		if err != nil {
			t.Fatal(err)
		}
		var whole geom.Path
		for _, edge := range got {
			for _, part := range edge {
				whole = append(whole, part.Segment)
			}
		}
		if gap := whole.Gap(); gap > 1e-6 {
			t.Fatalf("a gap of %g mm", gap)
		}
		if d := whole.End().Dist(whole.Start()); d > 1e-6 {
			t.Fatalf("the ends lie %g mm apart", d)
		}
		if q, d := furthest(p.Boundary().Flatten(0.5), whole.Flatten(0.001)); d > 2*PathTolerance {
			t.Fatalf("%v of the seam line lies %.4f mm off what came back", q, d)
		}
	})
	if tried < 20 {
		t.Errorf("only %d pieces tried", tried)
	}
}

// asEdges parts a cut line at its corners: every corner that is one of the piece's.
func asEdges(p *pattern.Piece, line Line) (*pattern.Piece, []float64, bool) {
	cut := &pattern.Piece{Name: p.Name}
	var widths []float64
	for i := range p.Edges {
		// The stretch of the line that lies the edge's allowance off it.
		e := &p.Edges[i]
		var path geom.Path
		for _, s := range line.Path {
			m := s.At(0.5)
			along, d := e.Path.Nearest(m)
			off := e.Path.At(along).Add(e.Path.Direction(along).Right().Mul(e.Allowance))
			if d > e.Allowance+0.02 || off.Dist(m) > 0.02 {
				continue
			}
			path = append(path, s)
		}
		if len(path) == 0 || path.Gap() > 1e-6 {
			return nil, nil, false
		}
		cut.Edges = append(cut.Edges, pattern.Edge{Name: e.Name, Path: path})
		widths = append(widths, e.Allowance)
	}
	for i := range cut.Edges {
		// Straight ends, where two curves run on to meet, belong to the edges beside.
		a, b := &cut.Edges[i], &cut.Edges[(i+1)%len(cut.Edges)]
		m, ok := geom.LineMeet(a.Path.End(), a.Path.EndDirection(), b.Path.Start(), b.Path.StartDirection())
		if !ok || m.Dist(a.Path.End()) > 200 {
			return nil, nil, false
		}
		if m.Dist(a.Path.End()) > 1e-9 {
			if m.Sub(a.Path.End()).Dot(a.Path.EndDirection()) < 0 || m.Sub(b.Path.Start()).Dot(b.Path.StartDirection()) > 0 {
				return nil, nil, false
			}
			a.Path = append(a.Path, geom.Line(a.Path.End(), m))
		}
		if m.Dist(b.Path.Start()) > 1e-9 {
			b.Path = append(geom.Path{geom.Line(m, b.Path.Start())}, b.Path...)
		}
	}
	return cut, widths, true
}
