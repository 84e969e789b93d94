package planted

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/finding"
	"bygone.example/core/geom"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
)

// jointsMoved moves a point inside a line, where two curves of it meet, by 2 mm and
// leaves the control points: the line has another length, and where its handles are
// short a kink.
func jointsMoved(sound map[string]*pattern.Pattern) (list []Fault) {
	for _, from := range drawn {
		p := sound[from]
		for i := range p.Pieces {
			piece := &p.Pieces[i]
			for k := range piece.Edges {
				e := &piece.Edges[k]
				for j := 1; j < len(e.Path); j++ {
					if e.Finish == pattern.Fold || inMouth(piece, e, j) {
						continue
					}
					for name, v := range map[string]geom.Point{"left": geom.Pt(-2, 0), "up": geom.Pt(0, 2), "aslant": geom.Pt(1.4, -1.4)} {
						list = wanted(list, Fault{
							Kind: "point inside a line moved", From: from, Name: fmt.Sprintf("%s/%s, joint %d, %s", piece.Name, e.Name, j, name),
							Plant: func(p *pattern.Pattern) (wants []Want) {
								q := edgeOf(p, piece.Name, e.Name)
								at := q.Path[j].P0.Add(v)
								q.Path[j].P0, q.Path[j-1].P1 = at, at
								for s := range p.Seams {
									seam := &p.Seams[s]
									d := p.RunLength(seam.A) - p.RunLength(seam.B)
									if len(seam.B) == 0 || seam.Meeting.Kind == pattern.Eased || math.Abs(d) < least || !seam.A.Has(piece.Name, e.Name) && !seam.B.Has(piece.Name, e.Name) {
										continue
									}
									wants = append(wants, Want{Codes: codes(pairing.SeamLength, pairing.FullnessLength), Seam: seam.Name, Size: d,
										Spots: []Spot{on(piece.Name, e.Name)}, Near: sewnAlong(seam.A, seam.B)})
								}
								turn := math.Abs(geom.Turn(q.Path[j-1].Direction(1), q.Path[j].Direction(0))) * 180 / math.Pi
								if turn > 9 {
									wants = append(wants, Want{Codes: []finding.Code{pairing.CurveKink}, Spots: []Spot{spot(piece.Name, e.Name, at)}})
								}
								return wants
							},
							Follows: shapeCodes,
						}, p)
					}
				}
			}
		}
	}
	return list
}

// inMouth reports whether joint j of an edge is at the mouth of a dart or pleat, or
// beside one: moved there, it is the mouth that is another.
func inMouth(p *pattern.Piece, e *pattern.Edge, j int) bool {
	at := e.Path[:j].Length()
	in := func(edge string, from, to float64) bool { return edge == e.Name && at > from-5 && at < to+5 }
	return slices.ContainsFunc(p.Darts, func(d pattern.Dart) bool { return in(d.Edge, d.From, d.To) }) ||
		slices.ContainsFunc(p.Pleats, func(d pattern.Pleat) bool { return in(d.Edge, d.From, d.To) })
}
