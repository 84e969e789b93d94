package stock

import (
	"slices"
	"strings"

	"bygone.example/core/pattern"
)

// Twelve drafts a sound pattern of twelve pieces, to measure with: the stock
// dress, and an under-dress of the same shape that is bound where the dress is
// faced.
func Twelve() (*pattern.Pattern, error) {
	p, err := Dress()
	if err != nil {
		return nil, err
	}
	under := p.Clone()
	p.Name, p.Title = "dress-and-under-dress", "Dress and under-dress"
	facing := func(r pattern.EdgeRef) bool { return strings.HasPrefix(r.Piece, "facing-") }
	bound := map[pattern.EdgeRef]bool{}
	for _, s := range under.Seams {
		if both := slices.Concat(s.A, s.B); slices.ContainsFunc(both, facing) {
			for _, r := range both {
				bound[pattern.EdgeRef{Piece: r.Piece, Edge: r.Edge}] = true
			}
			continue
		}
		s.Name = "under-" + s.Name
		for _, side := range []pattern.Run{s.A, s.B} {
			for i := range side {
				side[i].Piece = "under-" + side[i].Piece
			}
		}
		p.Seams = append(p.Seams, s)
	}
	for _, piece := range under.Pieces {
		if facing(pattern.EdgeRef{Piece: piece.Name}) {
			continue
		}
		for i := range piece.Edges {
			if e := &piece.Edges[i]; bound[pattern.EdgeRef{Piece: piece.Name, Edge: e.Name}] {
				e.Finish = pattern.Bound
			}
		}
		piece.Name, piece.Title, piece.Role = "under-"+piece.Name, "Under "+piece.Title, ""
		p.Pieces = append(p.Pieces, piece)
	}
	return p, nil
}
