package alter

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// An interlining is one with its outer: mounted on it all round, cut like it, and
// handled as one cloth with it. So an operation never sees it. It is dismounted
// when an edit begins; when the edit is finished every piece that came from an
// interlined one is mounted anew, cut as that is now, and what is as it was stays
// as it was.

// mount is an interlining that was dismounted.
type mount struct {
	pattern.Piece
	outer string
}

// mountedOn returns the piece that a piece is mounted on: all its edges but folds
// are basted onto that piece, and it has the same outline.
func mountedOn(p *pattern.Pattern, m *pattern.Piece) (outer string, ok bool) {
	if m.Role == OuterLayer { // a garment of its own, that only happens to be as wide
		return "", false
	}
	under := map[string]bool{}
	for i := range m.Edges {
		edge := &m.Edges[i]
		if edge.Finish == pattern.Fold {
			continue
		}
		seams := p.SeamsOf(m.Name, edge.Name)
		if len(seams) != 1 || seams[0].Kind != pattern.Basted || len(seams[0].A) != 1 || len(seams[0].B) != 1 || seams[0].B[0].Piece == m.Name {
			return "", false
		}
		under[seams[0].B[0].Piece] = true
	}
	for i := range p.Pieces { // in the pattern's order
		if o := &p.Pieces[i]; under[o.Name] && sameOutline(o, m) {
			return o.Name, true
		}
	}
	return "", false
}

// sameOutline reports whether two pieces have the same edges in the same place.
func sameOutline(a, b *pattern.Piece) bool {
	if len(a.Edges) != len(b.Edges) {
		return false
	}
	for i := range a.Edges {
		x, y := &a.Edges[i], &b.Edges[i]
		if x.Name != y.Name || len(x.Path) != len(y.Path) {
			return false
		}
		for k := range x.Path {
			s, t := x.Path[k], y.Path[k]
			if s.Curved != t.Curved || s.P0.Dist(t.P0) > cutSliver || s.P1.Dist(t.P1) > cutSliver ||
				s.Curved && (s.C1.Dist(t.C1) > cutSliver || s.C2.Dist(t.C2) > cutSliver) {
				return false
			}
		}
	}
	return true
}

// dismount returns the pattern without the interlinings that are mounted in it,
// and those.
func dismount(p *pattern.Pattern) (*pattern.Pattern, []mount) {
	var list []mount
	off := map[string]bool{}
	for i := range p.Pieces {
		m := &p.Pieces[i]
		// Layers are basted onto the lowest: what has something basted onto it is
		// itself an outer.
		if outer, ok := mountedOn(p, m); ok && !off[outer] {
			list = append(list, mount{m.Clone(), outer})
			off[m.Name] = true
		}
	}
	if len(list) == 0 {
		return p, nil
	}
	rest := p.Clone()
	rest.Pieces = slices.DeleteFunc(rest.Pieces, func(q pattern.Piece) bool { return off[q.Name] })
	rest.Seams = slices.DeleteFunc(rest.Seams, func(s pattern.Seam) bool { return s.Kind == pattern.Basted && off[s.A[0].Piece] })
	return rest, list
}

// remount puts the interlinings back under what has become of their outers. own
// is the lineage of the pieces that carry others on.
func (e *edit) remount(a *operation.Answer, own pattern.Lineage) {
	r := remounting{edit: e, out: a.Pattern, on: map[string]*mount{}, named: map[string]string{}}
	for i := range e.mounts {
		r.on[e.mounts[i].outer] = &e.mounts[i]
	}
	r.descent(own)
	of := map[string]pattern.Lineage{} // of the pieces without interlinings
	for _, s := range a.Lineage {
		of[s.New.Piece] = append(of[s.New.Piece], s)
	}
	for _, outer := range r.outers { // before any is put in: that moves the pieces
		if m := r.on[r.from[outer]]; !r.kept(outer, m) {
			r.holdLong(m, outer)
		}
	}
	for _, outer := range r.outers {
		m := r.on[r.from[outer]]
		name := r.named[outer]
		piece := m.Piece.Clone()
		if !r.kept(outer, m) {
			piece = r.cut(m, r.out.Piece(outer), name)
			e.changed("interlining, cut as its outer is, round its edge", name, m.Boundary().Length(), piece.Boundary().Length(), "mm")
		}
		r.putPiece(piece)
		r.baste(m, &piece, outer)
		for _, s := range of[outer] {
			s.New.Piece = name
			if from := r.on[s.Old.Piece]; !s.Added() && from != nil {
				s.Old.Piece = from.Name
			} else {
				s.Old = pattern.Stretch{}
			}
			a.Lineage = append(a.Lineage, s)
		}
	}
	a.Changes = e.changes
}

// remounting is one putting back of interlinings.
type remounting struct {
	*edit
	out    *pattern.Pattern
	on     map[string]*mount // by the outer of the input
	from   map[string]string // the interlined outer of the input that a piece came from
	outers []string          // pieces that are interlined, in the order of the output
	named  map[string]string // by the outer of the output
}

// descent finds the pieces that came from interlined ones, and names their
// interlinings. A piece that kept its name is that piece; of another, what gave it
// the most line is.
func (r *remounting) descent(own pattern.Lineage) {
	r.from = map[string]string{}
	given := map[string]map[string]float64{}
	for _, s := range own {
		if !s.Added() {
			if given[s.New.Piece] == nil {
				given[s.New.Piece] = map[string]float64{}
			}
			given[s.New.Piece][s.Old.Piece] += s.New.Length()
		}
	}
	taken := map[string]bool{}
	for _, q := range r.out.Pieces {
		taken[q.Name] = true
		from := q.Name
		if r.in.Piece(from) == nil {
			from = ""
			for _, old := range r.in.Pieces {
				if given[q.Name][old.Name] > given[q.Name][from] {
					from = old.Name
				}
			}
		}
		if r.on[from] != nil {
			r.from[q.Name] = from
			r.outers = append(r.outers, q.Name)
		}
	}
	for _, kept := range [...]bool{true, false} { // what keeps its outer keeps its name
		for _, outer := range r.outers {
			from := r.from[outer]
			if (from == outer) != kept {
				continue
			}
			name := r.on[from].Name
			if !kept {
				name = strings.Replace(name, from, outer, 1)
			}
			r.named[outer] = freshAmong(taken, name)
			taken[r.named[outer]] = true
		}
	}
}

// freshAmong returns the name, or the name with a number, that is not taken yet.
func freshAmong(taken map[string]bool, name string) string {
	if !taken[name] && pattern.ValidName(name) {
		return name
	}
	for n := 2; ; n++ {
		if fresh := fmt.Sprintf("%s-%d", shortened(name), n); !taken[fresh] {
			return fresh
		}
	}
}

// kept reports whether the outer of an interlining is line for line and mark for
// mark what it was.
func (r *remounting) kept(outer string, m *mount) bool {
	was := r.in.Piece(outer)
	return outer == m.outer && was != nil && reflect.DeepEqual(*r.out.Piece(outer), *was)
}

// cut cuts an interlining anew, as its outer is now.
func (r *remounting) cut(m *mount, outer *pattern.Piece, name string) pattern.Piece {
	c := outer.Clone()
	c.Name, c.Title, c.Role = name, m.Title, m.Role
	if was := r.in.Piece(m.outer); outer.Name != m.outer {
		c.Title = strings.TrimSpace(outer.Title + " interlining")
		if role := strings.Replace(string(m.Role), string(was.Role), string(outer.Role), 1); pattern.ValidName(role) && was.Role != "" {
			c.Role = pattern.Role(role)
		}
	}
	c.Landmarks = slices.Clone(outer.Landmarks)
	for i := range c.Edges {
		if c.Edges[i].Finish != pattern.Fold {
			c.Edges[i].Finish = pattern.Sewn
		}
	}
	return c
}

// putPiece puts an interlining where it was: after the piece that it came after,
// or last.
func (r *remounting) putPiece(c pattern.Piece) {
	at := len(r.out.Pieces)
	if i := slices.IndexFunc(r.full.Pieces, func(q pattern.Piece) bool { return q.Name == c.Name }); i > 0 {
		before := r.full.Pieces[i-1].Name
		if k := slices.IndexFunc(r.out.Pieces, func(q pattern.Piece) bool { return q.Name == before }); k >= 0 {
			at = k + 1
		}
	}
	r.out.Pieces = slices.Insert(r.out.Pieces, at, c)
}

// baste sews an interlining to its outer all round, by the seams it had there.
func (r *remounting) baste(m *mount, c *pattern.Piece, outer string) {
	taken := map[string]bool{}
	for _, s := range r.out.Seams {
		taken[s.Name] = true
	}
	for _, edge := range c.Edges {
		if edge.Finish == pattern.Fold {
			continue
		}
		s := pattern.Seam{Kind: pattern.Basted, Meeting: pattern.Meeting{Kind: pattern.Plain}}
		at := len(r.out.Seams)
		if old := r.full.SeamsOf(c.Name, edge.Name); c.Name == m.Name && len(old) == 1 {
			s.Name, s.Meeting = old[0].Name, old[0].Meeting
			if i := slices.IndexFunc(r.full.Seams, func(t pattern.Seam) bool { return t.Name == s.Name }); i > 0 {
				before := r.full.Seams[i-1].Name
				if k := slices.IndexFunc(r.out.Seams, func(t pattern.Seam) bool { return t.Name == before }); k >= 0 {
					at = k + 1
				}
			}
		}
		if s.Name == "" || taken[s.Name] {
			s.Name = freshAmong(taken, seamName(c.Name, edge.Name))
		}
		taken[s.Name] = true
		s.A = pattern.Run{{Piece: c.Name, Edge: edge.Name}}
		s.B = pattern.Run{lowestUnder(r.out.Seams, outer, edge.Name)}
		r.out.Seams = slices.Insert(r.out.Seams, at, s)
	}
}

// holdLong gives the long edges of an interlined piece that have no notch one in
// their middle, and its mates to whatever they are sewn to: the interlining is cut
// with them.
func (r *remounting) holdLong(m *mount, outer string) {
	piece := r.out.Piece(outer)
	for i := range piece.Edges {
		edge := piece.Edges[i].Name
		long := piece.SewnLength(edge)
		if piece.Edges[i].Finish == pattern.Fold || long <= markedFrom ||
			slices.ContainsFunc(piece.Notches, func(n pattern.Notch) bool { return n.Edge == edge }) {
			continue
		}
		n := pattern.Notch{Name: seamName(r.named[outer], edge), Count: 1}
		holdThrough(r.out, pattern.Run{{Piece: outer, Edge: edge}}, n, long/2, map[string]bool{})
	}
}

// remark gives the interlinings of a pattern the marks of their outers, where an
// operation has moved marks of a finished answer.
func remark(p *pattern.Pattern) {
	for i := range p.Pieces {
		m := &p.Pieces[i]
		outer, ok := mountedOn(p, m)
		if !ok {
			continue
		}
		c := p.Piece(outer).Clone()
		m.Darts, m.Pleats, m.Gathers, m.Notches = c.Darts, c.Pleats, c.Gathers, c.Notches
	}
}
