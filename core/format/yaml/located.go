package yamlfile

import (
	"go.yaml.in/yaml/v4"

	"bygone.example/core/finding"
	"bygone.example/core/pattern"
	"bygone.example/core/source"
)

// Located is a pattern that remembers where in its file each part stands.
type Located struct {
	Pattern *pattern.Pattern
	File    *source.File

	places *places
}

// ReadToCheck reads a pattern file for the pairing check. It is more lenient
// than Read: it refuses only what leaves no pattern to look at (that is, what
// pattern.ValidateParts finds, and whatever is no file of ours), so that shapes
// that Read refuses can be told as findings, with their places and remedies. A
// pattern that comes from here is for the check and for drawing; no step may be
// given it unless Validate accepts it. An error is a source.Problems.
func ReadToCheck(name string, data []byte) (*Located, error) {
	r, err := read(name, data, (*pattern.Pattern).ValidateParts)
	if err != nil {
		return nil, err
	}
	return &Located{r.pattern, r.file, r.places}, nil
}

// markReach in mm is how near a place must be to a mark of its edge to mean
// that mark: what rounding leaves of a place on a curve.
const markReach = 1e-6

// Place returns where in the file the narrowest part stands that the place
// names, as a line and a column in runes, both from 1: the mark that lies at the
// place on its edge, the edge as the seam names it, the edge, the seam, the
// piece, else the pattern's name.
func (l *Located) Place(at finding.Place) (line, col int) {
	n := l.node(at)
	return n.Line, n.Column
}

// Locate fills in where in the file each of the findings stands.
func (l *Located) Locate(list []finding.Finding) {
	for i := range list {
		at := &list[i].Place
		at.File = l.File.Name
		at.Line, at.Column = l.Place(*at)
	}
}

func (l *Located) node(at finding.Place) *yaml.Node {
	if n := l.places.marks[l.markAt(at)]; n != nil {
		return n
	}
	if n := l.places.refs[refKey{at.Seam, at.Piece, at.Edge}]; n != nil {
		return n
	}
	if n := l.places.edges[edgeKey{at.Piece, at.Edge}]; n != nil {
		return n
	}
	if n := l.places.seamAt[at.Seam]; n != nil {
		return n
	}
	if piece := l.places.known[at.Piece]; piece != nil {
		return piece.node
	}
	return l.places.root
}

// markAt returns the notch that lies at the place, or the dart that points to it
// or begins there; the zero key when none does.
func (l *Located) markAt(at finding.Place) markKey {
	piece := l.Pattern.Piece(at.Piece)
	if piece == nil || at.At == nil {
		return markKey{}
	}
	e := piece.Edge(at.Edge)
	if e == nil {
		return markKey{}
	}
	for _, n := range piece.Notches {
		if n.Edge == at.Edge && e.Path.At(n.At).Near(*at.At, markReach) {
			return markKey{at.Piece, at.Edge, n.Name}
		}
	}
	for _, d := range piece.Darts {
		if d.Edge == at.Edge && (d.Point.Near(*at.At, markReach) || e.Path.At(d.From).Near(*at.At, markReach)) {
			return markKey{at.Piece, at.Edge, d.Name}
		}
	}
	return markKey{}
}
