package alter

import (
	"fmt"
	"slices"
	"strings"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Lining says what is lined. Lengths in mm.
type Lining struct {
	// Pieces are the outer pieces, by name; empty takes those of the bodice, the
	// skirt and the sleeves.
	Pieces []string
	// Inter makes an interlining: each piece is mounted on its outer at every
	// edge, and both are sewn as one. Nothing of what follows applies to it.
	Inter bool
	// Join are the roles of the edges at which a lining is sewn in with the outer;
	// the others are turned in and left loose.
	Join []string
	// BackEase is by how much the back of the lining is wider, in all, laid in a
	// pleat at the centre back. Only a back on the fold can have it.
	BackEase float64
	// HemShorter is by how much the lining ends above a hem.
	HemShorter float64
}

// Line makes linings or interlinings from outer pieces: a copy of each, with a
// role of its own, the outer's darts, fullness, notches and grain.
//
// Linings are sewn to each other where their outers are; where an outer is
// joined to a piece that is not lined, or finished, the lining is basted onto it
// if the edge is one of Join, so that what becomes of the outer becomes of both;
// else it is turned in and hangs loose. A lining's hem is turned up.
// Interlinings are basted onto their outers all round, but for folds, and are
// not sewn to each other.
//
// Kept: the outers, but for notches where a long edge had none. Changed: new
// pieces and seams. Degenerate: a piece that has a lining already, a piece named
// twice, ease at a centre back that is not on the fold, and a lining shorter by
// more than there is to cut off are refused.
func Line(p *pattern.Pattern, o Lining) (*operation.Answer, error) {
	if !(o.BackEase >= 0 && o.HemShorter >= 0) {
		return nil, refuse("a lining's ease, and what it is shorter by, cannot be less than nothing", "give 0 mm or more")
	}
	l := &liner{edit: begin(p), o: o, of: map[string]*work{}}
	outers, err := l.outers()
	if err != nil {
		return nil, err
	}
	for _, w := range outers {
		if err := l.copyOf(w); err != nil {
			return nil, err
		}
	}
	if !o.Inter {
		l.sewAmong()
	}
	for _, w := range outers {
		l.settleEdges(w)
	}
	eased := false
	for _, w := range outers {
		c := l.of[w.Name]
		l.markBasted(w, c)
		if o.Inter {
			continue
		}
		if err := l.shorten(w, c); err != nil {
			return nil, err
		}
		eased = l.easeBack(w, c) || eased
	}
	if o.BackEase > 0 && !o.Inter && !eased {
		return nil, refuse("none of the backs that are lined lies on the fold at the centre back, where the ease would be pleated", "ask for no ease at the centre back")
	}
	l.changedFirst(0, l.word()+" pieces", "", 0, float64(len(outers)), "")
	l.changed("edges basted onto the outer", "", 0, float64(l.basted), "")
	l.changed("edges turned in and left loose", "", 0, float64(l.loose), "")
	if !o.Inter && o.HemShorter > 0 {
		l.changed("lining, shorter at the hem", "", 0, o.HemShorter, "mm")
	}
	return l.finish()
}

// liner is an edit that lines.
type liner struct {
	*edit
	o             Lining
	of            map[string]*work // the copy of each outer
	basted, loose int
}

func (l *liner) word() string {
	if l.o.Inter {
		return "interlining"
	}
	return "lining"
}

func (l *liner) outers() ([]*work, error) {
	if len(l.o.Pieces) == 0 {
		found := l.roles(pattern.BodiceFront, pattern.BodiceBack, pattern.BodiceSideBack, pattern.BodiceSideFront, pattern.SkirtFront, pattern.SkirtBack, pattern.Sleeve)
		if len(found) == 0 {
			return nil, refuse("the pattern has no bodice, skirt or sleeve to line", "name the pieces that are meant")
		}
		return found, nil
	}
	var found []*work
	for _, name := range l.o.Pieces {
		w, err := l.pieceNamed(name)
		switch {
		case err != nil:
			return nil, err
		case slices.Contains(found, w):
			return nil, refuse(fmt.Sprintf("piece %q is named twice", name), "name it once")
		}
		found = append(found, w)
	}
	return found, nil
}

// copyOf makes the copy of one outer and puts it after the last piece.
func (l *liner) copyOf(w *work) error {
	name := l.word() + "-" + w.Name
	switch {
	case l.piece(name) != nil:
		return refuse(fmt.Sprintf("piece %q has its %s already: piece %q", w.Name, l.word(), name), "leave this step out, or name the pieces that have none")
	case l.o.Inter && slices.ContainsFunc(l.mounts, func(m mount) bool { return m.outer == w.Name }):
		return refuse(fmt.Sprintf("piece %q is mounted on an interlining already", w.Name), "leave this step out, or name the pieces that have none")
	case !pattern.ValidName(name):
		return refuse(fmt.Sprintf("the name of piece %q is too long to put %s before it", w.Name, l.word()), "shorten it")
	}
	c := w.copy()
	c.Name, c.touched, c.copied = name, true, true
	c.Title = strings.TrimSpace(w.Title + " " + l.word())
	c.Role = ""
	if role := l.word() + "-" + string(w.Role); w.Role != "" && pattern.ValidName(role) {
		c.Role = pattern.Role(role)
	}
	c.fresh = marks{darts: c.Darts, pleats: c.Pleats, gathers: c.Gathers, notches: c.Notches}
	c.Darts, c.Pleats, c.Gathers, c.Notches = nil, nil, nil, nil
	l.of[w.Name] = c
	l.pieces = append(l.pieces, c)
	return nil
}

// sewAmong sews the linings to each other where both sides of an outer seam are
// lined whole.
func (l *liner) sewAmong() {
	lined := func(run pattern.Run) (pattern.Run, bool) {
		var out pattern.Run
		for _, ref := range run {
			c := l.of[ref.Piece]
			if c == nil {
				return nil, false
			}
			ref.Piece = c.Name
			out = append(out, ref)
		}
		return out, true
	}
	for _, s := range l.seams {
		a, okA := lined(s.A)
		b, okB := lined(s.B)
		if s.Kind != pattern.Joined || !okA || !okB {
			continue
		}
		l.markSeam(s)
		l.dropLone(s)
		s.Name, s.A, s.B = freshSeamName(l.edit, seamName(l.word(), s.Name)), a, b
		l.made = append(l.made, s)
	}
}

// dropLone takes off the linings of a seam the notches that have no partner on the
// outers: a fault that a copy need not have.
func (l *liner) dropLone(s pattern.Seam) {
	if len(s.B) == 0 {
		return
	}
	for _, sides := range [2][2]pattern.Run{{s.A, s.B}, {s.B, s.A}} {
		mates := places(l.in, sides[1])
		for _, ref := range sides[0] {
			c := l.of[ref.Piece]
			c.fresh.notches = slices.DeleteFunc(c.fresh.notches, func(n pattern.Notch) bool {
				_, paired := mates[n.Name]
				return n.Edge == ref.Edge && !paired && l.had(ref.Piece, n)
			})
		}
	}
}

// seamName joins two names, within what a name may measure.
func seamName(a, b string) string { return shortened(a + "-" + b) }

// shortened returns a name cut off where a number would not fit behind it.
func shortened(name string) string {
	if len(name) > pattern.MaxName-3 {
		name = strings.TrimRight(name[:pattern.MaxName-3], "-.")
	}
	return name
}

// settleEdges says of every edge of an outer's copy what becomes of it.
func (l *liner) settleEdges(w *work) {
	c := l.of[w.Name]
	for i := range c.Edges {
		edge := &c.Edges[i]
		if edge.Finish == pattern.Fold {
			continue
		}
		if slices.ContainsFunc(l.made, func(s pattern.Seam) bool { return s.A.Has(c.Name, edge.Name) || s.B.Has(c.Name, edge.Name) }) {
			edge.Finish = pattern.Sewn
			continue
		}
		if !l.o.Inter && (edge.Finish == pattern.Hemmed || !slices.Contains(l.o.Join, edge.Is())) {
			edge.Finish = pattern.Hemmed
			l.loose++
			continue
		}
		l.basted++
		edge.Finish = pattern.Sewn
		l.made = append(l.made, pattern.Seam{
			Name: freshSeamName(l.edit, seamName(c.Name, edge.Name)), Kind: pattern.Basted,
			A: pattern.Run{{Piece: c.Name, Edge: edge.Name}}, B: pattern.Run{l.lowest(w, edge.Name)},
			Meeting: pattern.Meeting{Kind: pattern.Plain},
		})
		l.markLong(w, i)
	}
}

// lowest returns the edge that a layer on an outer's edge is basted onto: the
// layer under it where the outer is itself basted onto another, since all layers
// are basted onto the one that is joined.
func (l *liner) lowest(w *work, edge string) pattern.EdgeRef {
	return lowestUnder(l.seams, w.Name, edge)
}

func lowestUnder(seams []pattern.Seam, piece, edge string) pattern.EdgeRef {
	for _, s := range seams {
		if s.Kind == pattern.Basted && len(s.A) == 1 && len(s.B) == 1 && s.A.Has(piece, edge) {
			under := s.B[0]
			under.Backwards = under.Backwards != s.A[0].Backwards
			return under
		}
	}
	return pattern.EdgeRef{Piece: piece, Edge: edge}
}
