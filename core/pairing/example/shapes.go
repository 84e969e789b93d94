package example

import (
	"slices"

	"bygone.example/core/finding"
	"bygone.example/core/geom"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
)

// kinked are the codes that most faults of an outline bring along.
var kinked = []finding.Code{"curve-kink", "notch-drift", pairing.SeamLength, pairing.SeamEase, pairing.CornerKink}

var ofShapes = map[finding.Code]shown{
	"boundary-crossing":  {entails: kinked, plant: through("sleeve", "hem", pt(180, 0), pt(150, 40), pt(120, -20))},
	"boundary-touching":  {entails: kinked, plant: through("sleeve", "hem", pt(100, 0), pt(100, 60), pt(100, 0))},
	"boundary-clockwise": {plant: func(p *pattern.Pattern) { clockwise(p, "sleeve") }},
	"boundary-sliver":    {entails: kinked, plant: through("sleeve", "underarm.front", pt(300, 199.9), pt(340, 200), pt(300, 200.1))},
	"point-doubled":      {plant: through("front", "side", pt(220, 90), pt(220.04, 90))},
	"curve-kink":         {entails: kinked, plant: through("front", "side", pt(230, 100))},
	"grain-fold":         {plant: func(p *pattern.Pattern) { p.Piece("front").Grain.To.X += 8 }},
	"mirror-shape":       {sound: sided, plant: unlike},
}

// through draws an edge in straight lines through more points.
func through(piece, name string, points ...geom.Point) func(*pattern.Pattern) {
	return func(p *pattern.Pattern) {
		e := edge(p, piece, name)
		all := slices.Concat([]geom.Point{e.Path.Start()}, points, []geom.Point{e.Path.End()})
		e.Path = nil
		for i := 1; i < len(all); i++ { // doubled points are kept
			e.Path = append(e.Path, geom.Line(all[i-1], all[i]))
		}
	}
}

// clockwise turns the order and direction of a piece's edges round, with what is
// marked on them and the runs that take them.
func clockwise(p *pattern.Pattern, name string) {
	piece := p.Piece(name)
	lengths := map[string]float64{}
	for i := range piece.Edges {
		lengths[piece.Edges[i].Name] = piece.Edges[i].Path.Length()
		piece.Edges[i].Path = piece.Edges[i].Path.Reverse()
	}
	slices.Reverse(piece.Edges)
	for i := range piece.Notches {
		n := &piece.Notches[i]
		n.At = lengths[n.Edge] - n.At
	}
	for _, s := range p.Seams {
		for _, run := range []pattern.Run{s.A, s.B} {
			for i := range run {
				if run[i].Piece == name {
					run[i].Backwards = !run[i].Backwards
				}
			}
		}
	}
}
