package paper

import (
	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// turned returns the piece turned anticlockwise by so many quarters. Places along
// edges stay what they are.
func turned(p *pattern.Piece, quarters int) *pattern.Piece {
	quarters = (quarters%4 + 4) % 4
	if quarters == 0 {
		return p
	}
	m := quarterTurn(quarters)
	q := p.Clone()
	for i := range q.Edges {
		q.Edges[i].Path = q.Edges[i].Path.Transform(m)
	}
	if q.Grain.Given() {
		q.Grain = pattern.Grain{From: m.Apply(q.Grain.From), To: m.Apply(q.Grain.To)}
	}
	for i := range q.Landmarks {
		q.Landmarks[i].At = m.Apply(q.Landmarks[i].At)
	}
	for i := range q.Darts {
		q.Darts[i].Point = m.Apply(q.Darts[i].Point)
	}
	return &q
}

// quarterTurn turns about the origin, without rounding.
func quarterTurn(quarters int) geom.Affine {
	m := geom.Identity
	for range (quarters%4 + 4) % 4 {
		m = geom.Affine{B: -1, D: 1}.After(m)
	}
	return m
}
