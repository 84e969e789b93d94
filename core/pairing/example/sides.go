package example

import (
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// sided is two fronts of a waistcoat, bound all round, a left one and its mirror
// image.
func sided() *pattern.Pattern {
	left := Garment().Piece("front").Clone()
	left.Name, left.Title, left.Role = "waistcoat-left", "Waistcoat, left", ""
	left.Darts, left.Notches = nil, nil
	for i := range left.Edges {
		left.Edges[i].Finish = pattern.Bound
	}
	flip := geom.Reflection(pt(-20, 0), pt(-20, 1))
	right := left.Clone()
	right.Name, right.Title = "waistcoat-right", "Waistcoat, right"
	slices.Reverse(right.Edges)
	for i := range right.Edges {
		right.Edges[i].Path = right.Edges[i].Path.Transform(flip).Reverse()
	}
	right.Grain = pattern.Grain{From: flip.Apply(left.Grain.From), To: flip.Apply(left.Grain.To)}
	return &pattern.Pattern{Name: "waistcoat", Pieces: []pattern.Piece{left, right}}
}

// unlike lets the right front's side lean out by 12 mm at the waist.
func unlike(p *pattern.Pattern) {
	right := p.Piece("waistcoat-right")
	side, waist := right.Edge("side"), right.Edge("waist")
	corner := side.Path.Start()
	if waist.Path.End() != corner {
		corner = side.Path.End()
	}
	to := corner.Add(pt(-12, 0))
	for _, e := range []*pattern.Edge{side, waist} {
		for i := range e.Path {
			if e.Path[i].P0 == corner {
				e.Path[i].P0 = to
			}
			if e.Path[i].P1 == corner {
				e.Path[i].P1 = to
			}
		}
	}
}
