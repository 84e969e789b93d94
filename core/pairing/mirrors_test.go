package pairing_test

import (
	"math"
	"testing"

	"bygone.example/core/finding"
	"bygone.example/core/geom"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
)

// pairOfFronts is the sound garment with two more pieces: a left front and its
// mirror image, which lies elsewhere on the paper and turned.
func pairOfFronts() (p *pattern.Pattern, right *pattern.Piece) {
	p = garment()
	l := p.Piece("front").Clone()
	l.Name = "waistcoat-left"
	l.Edges[2].Name = "armscye.left"
	for i := range l.Edges {
		l.Edges[i].Finish = pattern.Bound
	}
	l.Darts, l.Notches = nil, nil
	m := geom.Rotation(geom.Pt(40, -70), 0.7).After(geom.Reflection(geom.Pt(500, 0), geom.Pt(0, 1)))
	r := l.Clone()
	r.Name = "right-waistcoat"
	r.Edges = nil
	for i := len(l.Edges) - 1; i >= 0; i-- {
		e := l.Edges[i]
		if e.Name == "armscye.left" {
			e.Name = "armscye.right"
		}
		e.Path = e.Path.Transform(m).Reverse()
		r.Edges = append(r.Edges, e)
	}
	r.Grain = pattern.Grain{From: m.Apply(l.Grain.From), To: m.Apply(l.Grain.To)}
	p.Pieces = append(p.Pieces, l, r)
	return p, &p.Pieces[len(p.Pieces)-1]
}

func TestMirrorShape(t *testing.T) {
	moved := geom.Pt(1.2, -1.6) // 2 mm
	for _, c := range []struct {
		name  string
		plant func(p *pattern.Pattern, right *pattern.Piece) (at *geom.Point)
		found bool
		off   float64 // mm; 0 is not compared
	}{
		{"mirror images", func(*pattern.Pattern, *pattern.Piece) *geom.Point { return nil }, false, 0},
		{"one corner moved by 2 mm", func(_ *pattern.Pattern, right *pattern.Piece) *geom.Point {
			before, e := &right.Edges[0], &right.Edges[1]
			at := e.Path[0].P0.Add(moved)
			e.Path[0].P0, before.Path[len(before.Path)-1].P1 = at, at
			return &at
		}, true, 2},
		{"one corner moved by 0.4 mm", func(_ *pattern.Pattern, right *pattern.Piece) *geom.Point {
			before, e := &right.Edges[0], &right.Edges[1]
			at := e.Path[0].P0.Add(moved.Mul(0.2))
			e.Path[0].P0, before.Path[len(before.Path)-1].P1 = at, at
			return nil
		}, false, 0},
		{"cut alike", func(p *pattern.Pattern, right *pattern.Piece) *geom.Point {
			right.Edges = p.Piece("waistcoat-left").Clone().Edges
			return nil
		}, true, 0},
		{"an edge more", func(_ *pattern.Pattern, right *pattern.Piece) *geom.Point {
			a, b := right.Edges[3].Path.Split(20)
			more := right.Edges[3]
			more.Name, more.Path = "more", b
			right.Edges[3].Path = a
			right.Edges = append(right.Edges[:4:4], append([]pattern.Edge{more}, right.Edges[4:]...)...)
			return nil
		}, true, 0},
		{"listed clockwise", func(p *pattern.Pattern, right *pattern.Piece) *geom.Point {
			drawnClockwise(p, right.Name)
			return nil
		}, false, 0},
		{"a line in two parts", func(_ *pattern.Pattern, right *pattern.Piece) *geom.Point {
			e := &right.Edges[4]
			a, b := e.Path.Split(e.Path.Length() / 3)
			e.Path = a.Join(b)
			return nil
		}, false, 0},
		{"named for both sides", func(_ *pattern.Pattern, right *pattern.Piece) *geom.Point {
			right.Name = "left-or-right-waistcoat"
			right.Edges[0].Path[0].P0.X += 30
			right.Edges[len(right.Edges)-1].Path[0].P1.X += 30
			return nil
		}, false, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, right := pairOfFronts()
			at := c.plant(p, right)
			if left := p.ValidateParts(); left != nil {
				t.Fatalf("ValidateParts() = %v", left)
			}
			var got []finding.Finding
			for _, f := range pairing.Check(p) {
				if f.Code == pairing.MirrorShape {
					got = append(got, f)
				}
			}
			switch {
			case !c.found && len(got) > 0:
				t.Errorf("Check() found %s", show(got[0]))
			case c.found && len(got) != 1:
				t.Fatalf("Check() found %d of them, want one", len(got))
			case c.found && got[0].Place.Piece != right.Name,
				at != nil && !got[0].Place.At.Near(*at, within),
				c.off > 0 && math.Abs(got[0].Figures.Difference-c.off) > within:
				t.Errorf("Check() found %s, want it at %v, %g mm", show(got[0]), at, c.off)
			}
		})
	}
}
