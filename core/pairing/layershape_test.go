package pairing_test

import (
	"testing"

	"bygone.example/core/geom"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
)

// facedAndLined is the sound garment with a neck facing, and a lining basted into
// its front.
func facedAndLined() *pattern.Pattern {
	p := garment()
	left, slope := pt(-1, 0), pt(110, -40).Unit()
	s := pt(70, 400).Add(slope.Mul(50))
	front := onFold("facing-front", pattern.FacingFront, pt(10, 280),
		pattern.Edge{Name: "outer", Path: sweep(pt(0, 270), pt(1, 0), s, slope.Left()), Finish: pattern.Open},
		pattern.Edge{Name: "shoulder", Path: line(s, pt(70, 400))},
		pattern.Edge{Name: "neckline", Path: edgeOf(p, "front", "neckline").Path.Clone()},
		pattern.Edge{Name: "centre-front", Path: line(pt(0, 320), pt(0, 270)), Finish: pattern.Fold},
	)
	front.Grain.To = front.Grain.From.Add(pt(0, 20))
	slope = pt(-110, -40).Unit()
	u := pt(-70, 410).Add(slope.Mul(50))
	back := onFold("facing-back", pattern.FacingBack, pt(-20, 350),
		pattern.Edge{Name: "centre-back", Path: line(pt(0, 340), pt(0, 390)), Finish: pattern.Open},
		pattern.Edge{Name: "neckline", Path: edgeOf(p, "back", "neckline").Path.Clone()},
		pattern.Edge{Name: "shoulder", Path: line(pt(-70, 410), u)},
		pattern.Edge{Name: "outer", Path: sweep(u, slope.Left(), pt(0, 340), left.Mul(-1)), Finish: pattern.Open},
	)
	back.Cut = pattern.Cut{Count: 2, Mirrored: true}
	back.Grain.To = back.Grain.From.Add(pt(0, 30))
	lining := p.Piece("front").Clone()
	lining.Name, lining.Role = "lining-front", "lining-bodice-front"
	p.Piece("front").Notches = append(p.Piece("front").Notches, pattern.Notch{Name: "neck", Edge: "neckline", At: 60, Count: 1})
	front.Notches = []pattern.Notch{{Name: "neck", Edge: "neckline", At: 60, Count: 1}}
	lining.Edge("neckline").Finish, lining.Edge("waist").Finish = pattern.Hemmed, pattern.Hemmed
	edgeOf(p, "front", "neckline").Finish, edgeOf(p, "back", "neckline").Finish = pattern.Sewn, pattern.Sewn
	p.Pieces = append(p.Pieces, front, back, lining)
	plain := pattern.Meeting{Kind: pattern.Plain}
	rev := func(piece, edge string) pattern.EdgeRef {
		return pattern.EdgeRef{Piece: piece, Edge: edge, Backwards: true}
	}
	p.Seams = append(p.Seams,
		pattern.Seam{Name: "facing-shoulder", A: pattern.Run{{Piece: "facing-front", Edge: "shoulder"}}, B: pattern.Run{rev("facing-back", "shoulder")}, Meeting: plain},
		pattern.Seam{
			Name: "facing-neckline", Meeting: plain,
			A: pattern.Run{rev("front", "neckline"), rev("back", "neckline")}, B: pattern.Run{rev("facing-front", "neckline"), rev("facing-back", "neckline")},
		})
	for _, edge := range []string{"side", "armscye", "shoulder"} {
		p.Seams = append(p.Seams, pattern.Seam{
			Name: "lining-" + edge, Kind: pattern.Basted, Meeting: plain,
			A: pattern.Run{{Piece: "lining-front", Edge: edge}}, B: pattern.Run{{Piece: "front", Edge: edge}},
		})
	}
	return p
}

// dented is 4 mm off the front neckline, into the piece.
func dented(p *pattern.Pattern) geom.Point {
	path := edgeOf(p, "front", "neckline").Path
	at := path.Length() / 3
	return path.At(at).Add(path.Direction(at).Left().Mul(4))
}

// swung is the path turned about the middle of its chord: as long, between the
// same ends, and another line.
func swung(p geom.Path) geom.Path {
	return p.Transform(geom.Affine{A: -1, C: p.Start().X + p.End().X, E: -1, F: p.Start().Y + p.End().Y}).Reverse()
}

func TestUnderlayers(t *testing.T) {
	for _, c := range []struct {
		name  string
		plant func(*pattern.Pattern)
		want  []want
	}{
		{"sound", func(*pattern.Pattern) {}, nil},
		{"a facing laid anyhow on the paper", func(p *pattern.Pattern) {
			move(p.Piece("facing-front"), geom.Rotation(pt(30, 40), 1.2))
		}, nil},
		{"a facing drawn face down", func(p *pattern.Pattern) {
			f := p.Piece("facing-back")
			flip := geom.Reflection(pt(0, 0), pt(0, 1))
			edges := f.Edges
			f.Edges = nil
			for i := range edges {
				e := edges[len(edges)-1-i]
				e.Path = e.Path.Transform(flip).Reverse()
				f.Edges = append(f.Edges, e)
			}
			f.Grain = pattern.Grain{From: flip.Apply(f.Grain.From), To: flip.Apply(f.Grain.To)}
			for i := range p.Seams {
				for _, run := range []pattern.Run{p.Seams[i].A, p.Seams[i].B} {
					for j := range run {
						if run[j].Piece == "facing-back" {
							run[j].Backwards = !run[j].Backwards
						}
					}
				}
			}
		}, nil},
		{"a facing with another curve", func(p *pattern.Pattern) {
			e := edgeOf(p, "facing-back", "neckline")
			e.Path[0].C1, e.Path[0].C2 = e.Path[0].C1.Add(pt(0, -6)), e.Path[0].C2.Add(pt(0, -6))
		}, []want{
			{pairing.FacingShape, "facing-neckline", "facing-back", "neckline", geom.Point{}, 0},
			{pairing.SeamLength, "facing-neckline", "facing-back", "neckline", pt(0, 390), -3.44},
			{pairing.CornerKink, "facing-neckline", "back", "centre-back", pt(0, 390), 0},
			{pairing.CornerCentre, "", "facing-back", "neckline", pt(0, 390), 0},
		}},
		{"a facing that is out by a point", func(p *pattern.Pattern) {
			e := edgeOf(p, "facing-front", "neckline") // a dent of 4 mm, a third of the way along
			l := e.Path.Length()
			before, after := e.Path.Between(0, l/3-8), e.Path.Between(l/3+8, l)
			e.Path = before.Join(geom.Polyline(before.End(), dented(p), after.Start())).Join(after)
		}, []want{
			{pairing.FacingShape, "facing-neckline", "facing-front", "neckline", dented(garment()), 0},
			{pairing.SeamLength, "facing-neckline", "facing-front", "neckline", geom.Point{}, 0},
			{pairing.CurveKink, "", "facing-front", "neckline", dented(garment()), 0},
		}},
		{"a lining with another armscye", func(p *pattern.Pattern) {
			e := edgeOf(p, "lining-front", "armscye")
			e.Path = swung(e.Path)
		}, []want{{pairing.LiningShape, "lining-armscye", "lining-front", "armscye", geom.Point{}, 0}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			planted{plant: c.plant, want: c.want}.run(t, facedAndLined())
		})
	}
}

// move lays a piece elsewhere.
func move(p *pattern.Piece, m geom.Affine) {
	for i := range p.Edges {
		p.Edges[i].Path = p.Edges[i].Path.Transform(m)
	}
	p.Grain = pattern.Grain{From: m.Apply(p.Grain.From), To: m.Apply(p.Grain.To)}
}
