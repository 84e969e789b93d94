package matrix

import (
	"math"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// faulty are the preparations that operations which mend have something to do
// on: small faults, as a pattern that was copied by hand may have.
var faulty = []Preparation{
	{Name: "small-faults", Reason: "a hem that turns up at its end, darts 2 mm off their middle, a notch without a partner and a grainline that runs out of its piece are to be mended", Edit: smallFaults},
	{
		Name: "low-corner", Reason: "a skirt front whose hem is 3 mm low at the side has a side seam to be shared out",
		Edit: func(p *pattern.Pattern) {
			for _, piece := range p.ByRole(pattern.SkirtFront) {
				lowerCorner(piece, pattern.Side, pattern.Hem, 3)
			}
		},
	},
	{
		Name: "loose-gathers", Reason: "gathers that come down to 4 mm more than what they are sewn to are to be drawn up",
		Steps: Preparations[2].Steps,
		Edit: func(p *pattern.Pattern) {
			for i := range p.Pieces {
				for k := range p.Pieces[i].Gathers {
					p.Pieces[i].Gathers[k].Length += 4
				}
			}
		},
	},
	{Name: "bent-fold", Reason: "a fold that leaves its line by 1 mm is to be straightened", Edit: bentFold},
	{Name: "turned-over", Reason: "a piece traced from the wrong side runs clockwise, and is to be listed the other way round", Edit: turnedOver},
}

func smallFaults(p *pattern.Pattern) {
	for i := range p.Pieces {
		piece := &p.Pieces[i]
		for k := range piece.Darts {
			dart := &piece.Darts[k]
			path := piece.Edge(dart.Edge).Path
			dart.Point = dart.Point.Add(path.At(dart.To).Sub(path.At(dart.From)).Unit().Mul(2))
		}
		if piece.Role == pattern.Sleeve && len(piece.Notches) > 0 {
			piece.Notches = piece.Notches[1:]
		}
		if piece.Role == pattern.SkirtFront {
			piece.Grain.From = piece.Grain.From.Sub(piece.Grain.To.Sub(piece.Grain.From).Unit().Mul(2000))
		}
		if piece.Role == pattern.SkirtBack {
			peak(piece, pattern.Hem, 10)
		}
	}
}

// lowerCorner moves the corner where two edges meet by mm along the first.
func lowerCorner(p *pattern.Piece, sewn, next string, by float64) {
	for i := range p.Edges {
		a, b := &p.Edges[i], &p.Edges[(i+1)%len(p.Edges)]
		last, first := &a.Path[len(a.Path)-1], &b.Path[0]
		var v geom.Point
		switch {
		case a.Is() == sewn && b.Is() == next:
			v = a.Path.EndDirection().Mul(by)
		case a.Is() == next && b.Is() == sewn:
			v = b.Path.StartDirection().Mul(-by)
		default:
			continue
		}
		last.P1, last.C2 = last.P1.Add(v), last.C2.Add(v)
		first.P0, first.C1 = first.P0.Add(v), first.C1.Add(v)
	}
}

// peak turns the first curve of an edge about its start by so many degrees into
// the piece.
func peak(p *pattern.Piece, role string, by float64) {
	for _, e := range p.EdgesByRole(role) {
		s := e.Path[0]
		if !s.Curved {
			s = geom.Cubic(s.P0, s.P0.Lerp(s.P1, 1./3), s.P0.Lerp(s.P1, 2./3), s.P1)
		}
		s.C1 = geom.Rotation(s.P0, by*math.Pi/180).Apply(s.C1)
		e.Path[0] = s
	}
}

func bentFold(p *pattern.Pattern) {
	for i := range p.Pieces {
		for k := range p.Pieces[i].Edges {
			e := &p.Pieces[i].Edges[k]
			if e.Finish == pattern.Fold {
				a, b := e.Path.Start(), e.Path.End()
				e.Path = geom.Polyline(a, a.Lerp(b, 0.5).Add(b.Sub(a).Unit().Left().Mul(1)), b)
				return
			}
		}
	}
}

func turnedOver(p *pattern.Pattern) {
	piece := &p.Pieces[0]
	m := geom.Reflection(geom.Pt(0, 0), geom.Pt(0, 1))
	for k := range piece.Edges {
		piece.Edges[k].Path = piece.Edges[k].Path.Transform(m)
	}
	for k := range piece.Darts {
		piece.Darts[k].Point = m.Apply(piece.Darts[k].Point)
	}
	for k := range piece.Landmarks {
		piece.Landmarks[k].At = m.Apply(piece.Landmarks[k].At)
	}
	piece.Grain = pattern.Grain{From: m.Apply(piece.Grain.From), To: m.Apply(piece.Grain.To)}
}
