package pattern

import (
	"slices"

	"bygone.example/core/geom"
)

// Piece returns the piece of that name, or nil.
func (p *Pattern) Piece(name string) *Piece {
	for i := range p.Pieces {
		if p.Pieces[i].Name == name {
			return &p.Pieces[i]
		}
	}
	return nil
}

// ByRole returns the pieces of that role, in the pattern's order.
func (p *Pattern) ByRole(role Role) []*Piece {
	var found []*Piece
	for i := range p.Pieces {
		if p.Pieces[i].Role == role {
			found = append(found, &p.Pieces[i])
		}
	}
	return found
}

// Edge returns the edge a reference names, or nil.
func (p *Pattern) Edge(ref EdgeRef) *Edge {
	piece := p.Piece(ref.Piece)
	if piece == nil {
		return nil
	}
	return piece.Edge(ref.Edge)
}

// Seam returns the seam of that name, or nil.
func (p *Pattern) Seam(name string) *Seam {
	for i := range p.Seams {
		if p.Seams[i].Name == name {
			return &p.Seams[i]
		}
	}
	return nil
}

// SeamsOf returns the seams that take the edge.
func (p *Pattern) SeamsOf(piece, edge string) []*Seam {
	var found []*Seam
	for i := range p.Seams {
		s := &p.Seams[i]
		if s.A.Has(piece, edge) || s.B.Has(piece, edge) {
			found = append(found, s)
		}
	}
	return found
}

// Has reports whether the run takes the edge, in either direction.
func (r Run) Has(piece, edge string) bool {
	return slices.ContainsFunc(r, func(e EdgeRef) bool { return e.Piece == piece && e.Edge == edge })
}

// Edge returns the edge of that name, or nil.
func (p *Piece) Edge(name string) *Edge {
	if i := p.EdgeIndex(name); i >= 0 {
		return &p.Edges[i]
	}
	return nil
}

// EdgeIndex returns the position of the edge in the boundary, or -1.
func (p *Piece) EdgeIndex(name string) int {
	return slices.IndexFunc(p.Edges, func(e Edge) bool { return e.Name == name })
}

// EdgesByRole returns the edges of that role in boundary order.
func (p *Piece) EdgesByRole(role string) []*Edge {
	var found []*Edge
	for i := range p.Edges {
		if p.Edges[i].Is() == role {
			found = append(found, &p.Edges[i])
		}
	}
	return found
}

// Landmark returns the landmark of that name, or nil.
func (p *Piece) Landmark(name string) *Landmark {
	for i := range p.Landmarks {
		if p.Landmarks[i].Name == name {
			return &p.Landmarks[i]
		}
	}
	return nil
}

// Dart returns the dart of that name, or nil.
func (p *Piece) Dart(name string) *Dart {
	for i := range p.Darts {
		if p.Darts[i].Name == name {
			return &p.Darts[i]
		}
	}
	return nil
}

// Boundary returns the whole seam line as one closed path.
func (p *Piece) Boundary() geom.Path {
	var path geom.Path
	for _, e := range p.Edges {
		path = append(path, e.Path...)
	}
	return path
}

// OnFold reports whether the piece is a half piece cut on the fold.
func (p *Piece) OnFold() bool {
	return slices.ContainsFunc(p.Edges, func(e Edge) bool { return e.Finish == Fold })
}

// Clone returns a copy that shares nothing with p.
func (p *Pattern) Clone() *Pattern {
	c := *p
	c.Pieces = make([]Piece, len(p.Pieces))
	for i, piece := range p.Pieces {
		c.Pieces[i] = piece.Clone()
	}
	c.Seams = make([]Seam, len(p.Seams))
	for i, s := range p.Seams {
		s.A, s.B = slices.Clone(s.A), slices.Clone(s.B)
		c.Seams[i] = s
	}
	return &c
}

// Clone returns a copy that shares nothing with p.
func (p Piece) Clone() Piece {
	p.Edges = slices.Clone(p.Edges)
	for i := range p.Edges {
		p.Edges[i].Path = p.Edges[i].Path.Clone()
	}
	p.Landmarks = slices.Clone(p.Landmarks)
	p.Darts = slices.Clone(p.Darts)
	p.Pleats = slices.Clone(p.Pleats)
	p.Gathers = slices.Clone(p.Gathers)
	p.Notches = slices.Clone(p.Notches)
	return p
}

// PieceNames returns the names of the pieces, in the pattern's order.
func (p *Pattern) PieceNames() []string {
	names := make([]string, len(p.Pieces))
	for i := range p.Pieces {
		names[i] = p.Pieces[i].Name
	}
	return names
}

// SeamNames returns the names of the seams, in the pattern's order.
func (p *Pattern) SeamNames() []string {
	names := make([]string, len(p.Seams))
	for i := range p.Seams {
		names[i] = p.Seams[i].Name
	}
	return names
}

// EdgeNames returns the names of the edges, in boundary order.
func (p *Piece) EdgeNames() []string {
	names := make([]string, len(p.Edges))
	for i := range p.Edges {
		names[i] = p.Edges[i].Name
	}
	return names
}
