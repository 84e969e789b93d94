package pattern

// Stretch is part of one edge, from From to To mm along it.
type Stretch struct {
	Piece, Edge string
	From, To    float64
}

// Length returns To − From.
func (s Stretch) Length() float64 { return s.To - s.From }

// Span says which new stretch came from which old one. Positions in between
// correspond in proportion. A span with no Old piece is new line, drawn by the
// operation.
type Span struct {
	New Stretch
	Old Stretch
}

// Added reports whether the span is line that the old pattern did not have.
func (s Span) Added() bool { return s.Old.Piece == "" }

// Lineage accounts for every edge of a pattern that an operation returned:
// its spans cover each edge of each piece once, without gap or overlap. Old
// stretches that no span names were cut away.
type Lineage []Span

// Same is the lineage of a pattern that kept all its edges.
func Same(p *Pattern) Lineage {
	var l Lineage
	for _, piece := range p.Pieces {
		for _, e := range piece.Edges {
			s := Stretch{piece.Name, e.Name, 0, e.Path.Length()}
			l = append(l, Span{New: s, Old: s})
		}
	}
	return l
}
