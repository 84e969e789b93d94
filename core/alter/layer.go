package alter

import (
	"fmt"
	"slices"
	"strings"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Layering says what a layer is laid over and how full it is.
type Layering struct {
	// Roles are those of the pieces that lie under; Piece, if not empty, names one
	// in their place.
	Roles []pattern.Role
	Piece string
	// At are the roles or names of the edges at which the layer is basted to the
	// piece under it. None stands for the waist of a skirt, and of anything else
	// for every edge that is sewn, faced or bound.
	At []string
	// Ratio is the layer's cut width over what the piece under it sews to, along
	// the edge it is slashed from: the waist, or the hem of what has none.
	Ratio   float64
	Slashes int // in each piece
	// Lender and Outer name another pattern's piece that becomes the layer; with
	// no Lender it is a copy of the piece under it.
	Lender *pattern.Pattern
	Outer  string
}

// OuterLayer is the role of a piece that LayerOver makes: no step takes it for
// the piece it was copied from.
const OuterLayer = pattern.Role("outer-layer")

// LayerOver lays an outer layer of its own fullness over pieces of the garment,
// as gauze over satin. Each becomes a second piece, a copy without darts, pleats
// and gathers or a piece of another pattern, that is slashed along the grain,
// spread evenly, and gathered back to the piece under it at the edges named. There
// the two are basted together, and what the pattern does with the under edge it
// does with both. Of the layer's other edges, those whose mates are layered too
// are sewn to each other as the under ones are; what would be left of a seam hangs
// free and is hemmed; folds, hems and openings stay what they are.
//
// Kept: the pieces under the layer and all their seams. Changed: nothing but
// notches: where a basted edge is long and has none, it gets one, and its mate.
// Lengths are mm. The layer's lines are new to the pattern: no lineage.
//
// Degenerate: a layer that is as full as asked without slashes is only gathered;
// one that is narrower than what is under it, a layer on a layer, and a fullness
// that no slash can give without opening a seam of the layer's own, are refused.
func LayerOver(p *pattern.Pattern, o Layering) (*operation.Answer, error) {
	l := &layering{Layering: o, p: p.Clone(), outer: map[string]string{}}
	if err := l.choose(); err != nil {
		return nil, err
	}
	lineage := pattern.Same(p)
	for _, name := range l.under {
		outer, err := l.lay(name)
		if err != nil {
			return nil, err
		}
		for _, e := range outer.Edges {
			lineage = append(lineage, pattern.Span{New: pattern.Stretch{Piece: outer.Name, Edge: e.Name, To: e.Path.Length()}})
		}
	}
	l.sewLayers()
	a, err := l.fill()
	if err != nil {
		return nil, err
	}
	a.Lineage = lineage.Then(a.Lineage)
	for _, s := range l.basted {
		l.holdUnder(a.Pattern, s)
		faceNotches(a.Pattern, s, false)
	}
	for _, s := range l.own {
		l.copyNotches(a.Pattern, s)
	}
	a.Cautions = append(a.Cautions, "A loose outer layer stands away from the body and catches fire easily: keep it from naked flame, and ask for cloth that is treated against it.")
	return a, nil
}

// layering is one under way.
type layering struct {
	Layering
	p      *pattern.Pattern  // a copy, to which the layers are added
	under  []string          // names of the pieces under
	outer  map[string]string // the name of the layer over each
	basted []string          // the seams that baste them
	own    []string          // those among the layers
	free   []pattern.EdgeRef // edges of layers that hang free for want of a mate
}

// choose finds the pieces under the layer.
func (l *layering) choose() error {
	switch {
	case !(l.Ratio >= 1):
		return refuse(fmt.Sprintf("a layer %g times as wide as what is under it would be narrower", l.Ratio), "ask for 1 or more")
	case l.Slashes < 1:
		return refuse("a layer cannot be spread without a slash", "ask for at least one")
	case l.Piece != "" && l.p.Piece(l.Piece) == nil:
		return refuse(fmt.Sprintf("the pattern has no piece %q", l.Piece), "its pieces are "+strings.Join(l.p.PieceNames(), ", "))
	case l.Piece != "":
		l.under = []string{l.Piece}
	}
	for _, piece := range l.p.Pieces {
		if l.Piece == "" && slices.Contains(l.Roles, piece.Role) {
			l.under = append(l.under, piece.Name)
		}
	}
	switch {
	case len(l.under) == 0:
		return refuse(fmt.Sprintf("the pattern has no piece with the role %s", rolesText(l.Roles)), "name the piece that is meant; its pieces are "+strings.Join(l.p.PieceNames(), ", "))
	case l.Lender == nil && l.Outer != "":
		return refuse(fmt.Sprintf("it is not said which pattern has the piece %q", l.Outer), "name one of the patterns that the chain lists, or leave the piece out")
	case l.Lender != nil && len(l.under) > 1:
		return refuse(fmt.Sprintf("one piece of another pattern cannot lie over %d pieces", len(l.under)), "name the piece that it lies over")
	case l.Lender != nil && l.Lender.Piece(l.Outer) == nil:
		return refuse(fmt.Sprintf("pattern %q has no piece %q", l.Lender.Name, l.Outer), "its pieces are "+strings.Join(l.Lender.PieceNames(), ", "))
	}
	for _, at := range l.At {
		if !slices.ContainsFunc(l.under, func(name string) bool {
			return slices.ContainsFunc(l.p.Piece(name).Edges, func(e pattern.Edge) bool { return isEdge(e, at) })
		}) {
			return refuse(fmt.Sprintf("piece %q has no edge %q to baste a layer to", l.under[0], at), "name one by its role or name")
		}
	}
	return nil
}

func isEdge(e pattern.Edge, name string) bool { return e.Name == name || e.Is() == name }

// bastes reports whether the layer is basted at the edge of a piece under it.
func (l *layering) bastes(piece *pattern.Piece, e pattern.Edge) bool {
	if len(l.At) > 0 {
		return slices.ContainsFunc(l.At, func(at string) bool { return isEdge(e, at) })
	}
	if piece.Role == pattern.SkirtFront || piece.Role == pattern.SkirtBack {
		return e.Is() == pattern.Waist
	}
	return slices.Contains([]pattern.Finish{pattern.Sewn, pattern.Faced, pattern.Bound}, e.Finish)
}

// asOften says how a layer is cut so that there is as much of it as of the piece
// under it: a half without a fold lies over a folded piece twice, a folded one
// over a left and a right once.
func asOften(under, outer *pattern.Piece) pattern.Cut {
	switch cut := under.Cut; {
	case under.OnFold() == outer.OnFold():
		return cut
	case under.OnFold():
		return pattern.Cut{Count: 2 * cut.Count, Mirrored: true}
	default:
		return pattern.Cut{Count: max(1, cut.Count/2)}
	}
}

// lay adds the layer over one piece, not filled out yet, with the seams that
// baste it.
func (l *layering) lay(name string) (*pattern.Piece, error) {
	under := l.p.Piece(name)
	var outer pattern.Piece
	if l.Lender == nil {
		outer = withoutPeaks(under.Clone())
	} else {
		outer = withoutPeaks(l.Lender.Piece(l.Outer).Clone())
		if otherHand(under, &outer) {
			outer = mirrored(outer)
		}
	}
	outer.Darts, outer.Pleats, outer.Gathers, outer.Notches = nil, nil, nil, nil
	outer.Role, outer.Cut = OuterLayer, asOften(under, &outer)
	outer.Name = freeName(name+"-over", func(n string) bool { return l.p.Piece(n) != nil })
	if under.Title != "" {
		outer.Title = under.Title + ", outer layer"
	}
	l.outer[name] = outer.Name
	seams := len(l.basted)
	for _, e := range under.Edges {
		if !l.bastes(under, e) {
			continue
		}
		switch over := outer.Edge(matching(&outer, e)); {
		case e.Finish == pattern.Fold:
			return nil, refuse(fmt.Sprintf("edge %q of piece %q is on the fold", e.Name, name), "baste the layer at other edges")
		case over == nil:
			return nil, refuse(fmt.Sprintf("piece %q of pattern %q has no %s edge, or more than one, to lie on edge %q of piece %q", l.Outer, l.Lender.Name, e.Is(), e.Name, name),
				"give one of its edges that role, or baste the layer at other edges")
		case slices.ContainsFunc(l.p.SeamsOf(name, e.Name), func(s *pattern.Seam) bool { return s.Kind == pattern.Basted && s.A.Has(name, e.Name) }):
			return nil, refuse(fmt.Sprintf("piece %q is a layer itself", name), "lay this one over the piece under both")
		default:
			over.Finish = pattern.Sewn
			s := pattern.Seam{
				Name:    freeName(outer.Name+"-"+plainName(e.Name), func(n string) bool { return l.p.Seam(n) != nil }),
				A:       pattern.Run{{Piece: outer.Name, Edge: over.Name}},
				B:       pattern.Run{{Piece: name, Edge: e.Name}},
				Meeting: pattern.Meeting{Kind: pattern.Plain}, Kind: pattern.Basted,
			}
			l.p.Seams = append(l.p.Seams, s)
			l.basted = append(l.basted, s.Name)
		}
	}
	if len(l.basted) == seams {
		return nil, refuse(fmt.Sprintf("nothing tells where a layer would be basted to piece %q", name), "name the edges")
	}
	at := slices.IndexFunc(l.p.Pieces, func(q pattern.Piece) bool { return q.Name == name })
	l.p.Pieces = slices.Insert(l.p.Pieces, at+1, outer)
	return l.p.Piece(outer.Name), nil
}

// plainName is an edge's name up to its first dot.
func plainName(edge string) string { return pattern.Edge{Name: edge}.Is() }

// matching returns the name of the layer's edge that lies on e: the one of that
// name, or the only one of its role; empty when there is none.
func matching(outer *pattern.Piece, e pattern.Edge) string {
	if over := outer.Edge(e.Name); over != nil && over.Is() == e.Is() {
		return e.Name
	}
	if same := outer.EdgesByRole(e.Is()); len(same) == 1 {
		return same[0].Name
	}
	return ""
}

// otherHand reports whether a piece was drawn for the other side of the body
// than the one under it: its edges follow one another the other way round.
func otherHand(under, outer *pattern.Piece) bool {
	same, other := 0, 0
	n, m := len(under.Edges), len(outer.Edges)
	for i := range n {
		a, b := matching(outer, under.Edges[i]), matching(outer, under.Edges[(i+1)%n])
		if a == "" || b == "" || a == b {
			continue
		}
		switch ia, ib := outer.EdgeIndex(a), outer.EdgeIndex(b); {
		case (ia+1)%m == ib:
			same++
		case (ib+1)%m == ia:
			other++
		}
	}
	return other > same
}

// sewLayers sews the layers to each other where the pieces under them are, and
// hems what is left of their seams.
func (l *layering) sewLayers() {
	basted := map[pattern.EdgeRef]bool{}
	for _, name := range l.basted {
		r := l.p.Seam(name).A[0]
		basted[pattern.EdgeRef{Piece: r.Piece, Edge: r.Edge}] = true
	}
	over := func(run pattern.Run) (pattern.Run, bool) {
		var list pattern.Run
		for _, r := range run {
			name, ok := l.outer[r.Piece]
			if !ok || l.Lender != nil || basted[pattern.EdgeRef{Piece: name, Edge: r.Edge}] {
				return nil, false
			}
			list = append(list, pattern.EdgeRef{Piece: name, Edge: r.Edge, Backwards: r.Backwards})
		}
		return list, true
	}
	sewn := map[pattern.EdgeRef]bool{}
	for _, s := range slices.Clone(l.p.Seams) {
		a, okA := over(s.A)
		b, okB := over(s.B)
		if s.Kind != pattern.Joined || !okA || !okB {
			continue
		}
		name := freeName(s.Name+"-over", func(n string) bool { return l.p.Seam(n) != nil })
		l.p.Seams = append(l.p.Seams, pattern.Seam{Name: name, A: a, B: b, Meeting: s.Meeting})
		l.own = append(l.own, name)
		for _, r := range slices.Concat(a, b) {
			sewn[pattern.EdgeRef{Piece: r.Piece, Edge: r.Edge}] = true
		}
	}
	for _, under := range l.under {
		piece := l.p.Piece(l.outer[under])
		for i := range piece.Edges {
			e := &piece.Edges[i]
			ref := pattern.EdgeRef{Piece: piece.Name, Edge: e.Name}
			if basted[ref] || sewn[ref] {
				continue
			}
			switch e.Finish {
			case pattern.Sewn, pattern.Faced, pattern.Bound:
				e.Finish = pattern.Hemmed
				l.free = append(l.free, ref)
			}
		}
	}
}

// copyNotches gives the layers' own seam the notches of the seam under it, at the
// same places once sewn.
func (l *layering) copyNotches(p *pattern.Pattern, own string) {
	s := p.Seam(own)
	for _, r := range slices.Concat(s.A, s.B) {
		under, outer := p.Piece(l.underOf(r.Piece)), p.Piece(r.Piece)
		for _, n := range under.Notches {
			if n.Edge == r.Edge {
				n.At = outer.FlatPosition(r.Edge, under.SewnPosition(n.Edge, n.At))
				outer.Notches = append(outer.Notches, n)
			}
		}
	}
	if len(s.B) > 0 && len(notchesAlong(p, s.A)) == 0 { // a long seam wants one, if the one under it has it or not
		faceNotches(p, own, true)
	}
}

// holdUnder gives a long basted edge that has no notch one in its middle, and
// its mate in the seam that joins it.
func (l *layering) holdUnder(p *pattern.Pattern, basted string) {
	s := p.Seam(basted)
	under := s.B[0]
	if len(notchesAlong(p, s.B)) > 0 || p.RunLength(s.B) <= longSeam {
		return
	}
	for i := range p.Seams {
		t := &p.Seams[i]
		if t.Kind != pattern.Joined || !(t.A.Has(under.Piece, under.Edge) || t.B.Has(under.Piece, under.Edge)) {
			continue
		}
		own, other := t.A, t.B
		if !own.Has(under.Piece, under.Edge) {
			own, other = t.B, t.A
		}
		if len(other) == 0 {
			break // its mate is its own mirror image
		}
		at := 0.0
		for _, r := range own {
			long := p.Piece(r.Piece).SewnLength(r.Edge)
			if r.Piece == under.Piece && r.Edge == under.Edge {
				at += long / 2
				break
			}
			at += long
		}
		n := pattern.Notch{Name: basted, Count: 1}
		addNotch(p, own, n, at)
		addNotch(p, other, n, at+(p.RunLength(other)-p.RunLength(own))*at/p.RunLength(own))
		return
	}
	addNotch(p, s.B, pattern.Notch{Name: basted, Count: 1}, p.RunLength(s.B)/2)
}
