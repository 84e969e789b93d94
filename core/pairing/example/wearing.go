package example

import (
	"bygone.example/core/finding"
	"bygone.example/core/geom"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
)

var ofWearing = map[finding.Code]shown{
	"cap-ease": {look: Closed, plant: func(p *pattern.Pattern) { p.Piece("sleeve").Notches[0].At = 94 }}, // 14 mm of ease under the arm
	"facing-shape": {sound: Faced, look: Closed, entails: []finding.Code{pairing.SeamLength}, plant: func(p *pattern.Pattern) {
		e := edge(p, "facing-front", "neckline") // a dent of 6 mm, half way along
		l := e.Path.Length()
		before, after := e.Path.Between(0, l/2-12), e.Path.Between(l/2+12, l)
		dent := e.Path.At(l / 2).Add(e.Path.Direction(l / 2).Left().Mul(6))
		e.Path = before.Join(sweep(before.End(), before.EndDirection(), dent, after.StartDirection())).Join(sweep(dent, after.StartDirection(), after.Start(), after.StartDirection())).Join(after)
	}},
	"lining-shape": {sound: Lined, plant: func(p *pattern.Pattern) { // as long, between the same ends, and another line
		e := edge(p, "lining-front", "armscye")
		a, b := e.Path.Start(), e.Path.End()
		e.Path = e.Path.Transform(geom.Affine{A: -1, C: a.X + b.X, E: -1, F: a.Y + b.Y}).Reverse()
	}},
	"opening-missing": {plant: func(p *pattern.Pattern) { // no fastening behind
		back := p.Piece("back")
		back.Cut = pattern.Cut{Count: 1}
		back.Edge("centre-back").Finish = pattern.Fold
	}},
}

// Faced is the sound garment with a neck facing.
func Faced() *pattern.Pattern {
	p := Garment()
	left, slope := pt(-1, 0), pt(110, -40).Unit()
	s := pt(70, 400).Add(slope.Mul(50))
	front := onFold("facing-front", pattern.FacingFront, pt(10, 280),
		pattern.Edge{Name: "outer", Path: sweep(pt(0, 270), pt(1, 0), s, slope.Left()), Finish: pattern.Open},
		pattern.Edge{Name: "shoulder", Path: line(s, pt(70, 400))},
		pattern.Edge{Name: "neckline", Path: edge(p, "front", "neckline").Path.Clone()},
		pattern.Edge{Name: "centre-front", Path: line(pt(0, 320), pt(0, 270)), Finish: pattern.Fold},
	)
	front.Grain.To = front.Grain.From.Add(pt(0, 20))
	slope = pt(-110, -40).Unit()
	u := pt(-70, 410).Add(slope.Mul(50))
	back := onFold("facing-back", pattern.FacingBack, pt(-20, 350),
		pattern.Edge{Name: "centre-back", Path: line(pt(0, 340), pt(0, 390)), Finish: pattern.Open},
		pattern.Edge{Name: "neckline", Path: edge(p, "back", "neckline").Path.Clone()},
		pattern.Edge{Name: "shoulder", Path: line(pt(-70, 410), u)},
		pattern.Edge{Name: "outer", Path: sweep(u, slope.Left(), pt(0, 340), left.Mul(-1)), Finish: pattern.Open},
	)
	back.Cut = pattern.Cut{Count: 2, Mirrored: true}
	back.Grain.To = back.Grain.From.Add(pt(0, 30))
	edge(p, "front", "neckline").Finish, edge(p, "back", "neckline").Finish = pattern.Sewn, pattern.Sewn
	for _, name := range []string{"front", "back"} { // the neckline is a long seam now
		piece := p.Piece(name)
		at := piece.SewnLength("neckline") / 2
		n := pattern.Notch{Name: "neck-" + name, Edge: "neckline", At: at, Count: 1}
		piece.Notches = append(piece.Notches, n)
		if name == "front" {
			front.Notches = append(front.Notches, n)
		} else {
			back.Notches = append(back.Notches, n)
		}
	}
	p.Pieces = append(p.Pieces, front, back)
	p.Seams = append(p.Seams,
		pattern.Seam{Name: "facing-shoulder", A: pattern.Run{{Piece: "facing-front", Edge: "shoulder"}}, B: pattern.Run{backwards("facing-back", "shoulder")}, Meeting: plain},
		pattern.Seam{
			Name: "facing-neckline", Meeting: plain,
			A: pattern.Run{backwards("front", "neckline"), backwards("back", "neckline")},
			B: pattern.Run{backwards("facing-front", "neckline"), backwards("facing-back", "neckline")},
		})
	return p
}

// Lined is the sound garment with a lining basted into its front.
func Lined() *pattern.Pattern {
	p := Garment()
	lining := p.Piece("front").Clone()
	lining.Name, lining.Title, lining.Role = "lining-front", "Front lining", "lining-bodice-front"
	lining.Edge("neckline").Finish, lining.Edge("waist").Finish = pattern.Hemmed, pattern.Hemmed
	p.Pieces = append(p.Pieces, lining)
	for _, name := range []string{"side", "armscye", "shoulder"} {
		p.Seams = append(p.Seams, pattern.Seam{
			Name: "lining-" + name, Kind: pattern.Basted, Meeting: plain,
			A: pattern.Run{{Piece: "lining-front", Edge: name}}, B: pattern.Run{{Piece: "front", Edge: name}},
		})
	}
	return p
}

var plain = pattern.Meeting{Kind: pattern.Plain}

func backwards(piece, edge string) pattern.EdgeRef {
	return pattern.EdgeRef{Piece: piece, Edge: edge, Backwards: true}
}
