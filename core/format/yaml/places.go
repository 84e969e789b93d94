package yamlfile

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"go.yaml.in/yaml/v4"

	"bygone.example/core/pattern"
)

// places remembers where in the file each part of the pattern stands, and
// which parts were refused while they were read.
type places struct {
	root          *yaml.Node
	pieces, seams map[string]*yaml.Node // names seen, for doubles
	known         map[string]*piecePlace
	edges         map[edgeKey]*yaml.Node
	marks         map[markKey]*yaml.Node
	seamAt        map[string]*yaml.Node
	refs          map[refKey]*yaml.Node
	refused       map[*yaml.Node]bool
}

type piecePlace struct {
	node    *yaml.Node
	broken  bool // its boundary could not be read
	unnamed bool // one of its edges has no name
	edges   map[string]*yaml.Node
}

type (
	edgeKey struct{ piece, edge string }
	markKey struct{ piece, edge, mark string }
	refKey  struct{ seam, piece, edge string }
)

func newPlaces(root *yaml.Node) *places {
	return &places{
		root: root, pieces: map[string]*yaml.Node{}, seams: map[string]*yaml.Node{}, known: map[string]*piecePlace{},
		edges: map[edgeKey]*yaml.Node{}, marks: map[markKey]*yaml.Node{}, seamAt: map[string]*yaml.Node{}, refs: map[refKey]*yaml.Node{}, refused: map[*yaml.Node]bool{},
	}
}

// piece returns the place of the piece of that name: the first one's.
func (p *places) piece(name string, n *yaml.Node) *piecePlace {
	if p.known[name] == nil {
		p.known[name] = &piecePlace{node: n}
	}
	return p.known[name]
}

func (p *places) mark(n *yaml.Node, refused bool) { p.refused[n] = p.refused[n] || refused }

func (p *places) edge(piece, edge string, n *yaml.Node, refused bool) {
	remember(p.edges, edgeKey{piece, edge}, n)
	p.mark(p.edges[edgeKey{piece, edge}], refused)
}

func (p *places) markOn(piece, edge, mark string, n *yaml.Node, refused bool) {
	remember(p.marks, markKey{piece, edge, mark}, n)
	p.mark(p.marks[markKey{piece, edge, mark}], refused)
}

func (p *places) seam(name string, n *yaml.Node, refused bool) {
	remember(p.seamAt, name, n)
	p.mark(p.seamAt[name], refused)
}

func remember[K comparable](m map[K]*yaml.Node, k K, n *yaml.Node) {
	if m[k] == nil {
		m[k] = n
	}
}

// of returns where a problem of Validate stands: the narrowest part it names.
func (p *places) of(v pattern.Problem) (n *yaml.Node, piece *piecePlace) {
	piece = p.known[v.Piece]
	candidates := []*yaml.Node{p.refs[refKey{v.Seam, v.Piece, v.Edge}], p.seamAt[v.Seam]}
	if v.Seam == "" {
		candidates = []*yaml.Node{p.marks[markKey{v.Piece, v.Edge, v.Mark}], p.edges[edgeKey{v.Piece, v.Edge}]}
		if v.Mark == "" {
			candidates = candidates[1:]
		}
		if piece != nil {
			candidates = append(candidates, piece.node)
		}
	}
	for _, c := range candidates {
		if c != nil {
			return c, piece
		}
	}
	return p.root, piece
}

// sayReader are the rules that reading has looked at already, with a better
// place than the part as a whole.
var sayReader = []string{pattern.RuleUnique, pattern.RuleMarkEdge, pattern.RuleSeamEdge, pattern.RuleOpen, pattern.RuleNoPieces, pattern.RuleNoEdges}

// ofShape are the rules that cannot be judged where an edge could not be read.
var ofShape = []string{
	pattern.RuleShortEdge, pattern.RuleGap, pattern.RuleCrossing, pattern.RuleDirection, pattern.RuleArea, pattern.RuleFold,
	pattern.RuleMarkPlace, pattern.RuleOverlap, pattern.RuleGather, pattern.RuleNumber,
}

// validate adds what pattern.Validate found, but for what follows from a part
// that was refused while it was read.
func (r *patternReader) validate(found []pattern.Problem) {
	refusedAny := len(r.problems) > 0
	for _, v := range found {
		n, piece := r.places.of(v)
		switch {
		case r.places.refused[n],
			refusedAny && slices.Contains(sayReader, v.Rule),
			piece != nil && piece.broken && slices.Contains(ofShape, v.Rule),
			v.Seam != "" && r.unnamed:
			continue
		}
		r.refuse(n, plainRemedy(v.Remedy), "%s", v.String())
	}
}

// plainRemedy brings a sentence into the form that all remedies have.
func plainRemedy(s string) string {
	s = strings.TrimSuffix(s, ".")
	c, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToLower(c)) + s[size:]
}
