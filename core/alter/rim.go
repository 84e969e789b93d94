package alter

import (
	"fmt"
	"slices"

	"bygone.example/core/pattern"
)

// rim is a line that runs on over seams from piece to piece: a neckline from
// centre front to centre back, an armscye, a waist. It is walked edge by edge.
type rim struct {
	role  string
	edges []rimEdge
	round bool // the last edge runs on into the first, as an armscye does
	// whole is set where it runs over the right and the left of the garment, drawn
	// out both, as Unfold leaves them; else it is half of what is sewn.
	whole bool
}

// rimEdge is one edge of a rim; against is set where the walk takes it against
// its own direction.
type rimEdge struct {
	w       *work
	i       int
	against bool
}

func (r rimEdge) name() string { return r.w.Edges[r.i].Name }

func (r rimEdge) ref() pattern.EdgeRef {
	return pattern.EdgeRef{Piece: r.w.Name, Edge: r.name(), Backwards: r.against}
}

// beside returns the edge next to it where the walk leaves it, or enters it.
func (r rimEdge) beside(leaving bool) int {
	if leaving != r.against {
		return r.w.next(r.i)
	}
	return r.w.prev(r.i)
}

// run is the rim as one side of a seam.
func (r rim) run() pattern.Run {
	run := make(pattern.Run, len(r.edges))
	for k, s := range r.edges {
		run[k] = s.ref()
	}
	return run
}

// has reports whether the rim takes the edge.
func (r rim) has(piece, edge string) bool {
	return slices.ContainsFunc(r.edges, func(s rimEdge) bool { return s.w.Name == piece && s.name() == edge })
}

// reversed walks the rim the other way.
func (r rim) reversed() rim {
	r.edges = slices.Clone(r.edges)
	slices.Reverse(r.edges)
	for k := range r.edges {
		r.edges[k].against = !r.edges[k].against
	}
	return r
}

// sewnRim is the rim's sewn length in mm.
func (e *edit) sewnRim(r rim) float64 { return e.in.RunLength(r.run()) }

// rimEnd is how a rim ends.
type rimEnd int

const (
	atOpening rimEnd = iota // nothing is sewn there
	atFold                  // the piece goes on as its mirror image
	atMirror                // it is sewn to its mirror image
	atOther                 // it is sewn to something whose edge is another
)

// closed reports whether the garment goes on there as its mirror image.
func (k rimEnd) closed() bool { return k == atFold || k == atMirror }

// end tells how the rim ends where the walk leaves it, or enters it.
func (e *edit) end(r rim, leaving bool) rimEnd {
	s := r.edges[0]
	if leaving {
		s = r.edges[len(r.edges)-1]
	}
	edge := s.w.Edges[s.beside(leaving)]
	switch {
	case edge.Finish == pattern.Fold:
		return atFold
	case e.mirrored(s.w, edge.Name):
		return atMirror
	case edge.Finish != pattern.Sewn:
		return atOpening
	}
	return atOther
}

// across returns the edge on which the line goes on over the seam at the end of
// an edge, or at its start where the walk is against it.
func (e *edit) across(s rimEdge) (next rimEdge, ok bool) {
	name := s.w.Edges[s.beside(true)].Name
	for _, seam := range e.seams {
		if seam.Kind != pattern.Joined {
			continue
		}
		for _, sides := range [2][2]pattern.Run{{seam.A, seam.B}, {seam.B, seam.A}} {
			own, other := sides[0], sides[1]
			at := slices.IndexFunc(own, func(r pattern.EdgeRef) bool { return r.Piece == s.w.Name && r.Edge == name })
			if at < 0 || len(other) == 0 {
				continue
			}
			// The corner is at the start of the edge beside it if the walk goes
			// forward, and where the seam begins if that is walked the same way.
			begins := s.against == own[at].Backwards
			if begins && at > 0 || !begins && at < len(own)-1 {
				return rimEdge{}, false
			}
			mate := other[0]
			if !begins {
				mate = other[len(other)-1]
			}
			w := e.piece(mate.Piece)
			if w == nil {
				return rimEdge{}, false
			}
			m := w.EdgeIndex(mate.Edge)
			if begins != mate.Backwards { // the corner is at the mate's start
				return rimEdge{w, w.prev(m), true}, true
			}
			return rimEdge{w, w.next(m), false}, true
		}
	}
	return rimEdge{}, false
}

// rimOf follows the line from one edge both ways, as long as it keeps its role.
func (e *edit) rimOf(w *work, i int) rim {
	r := rim{role: w.Edges[i].Is()}
	follow := func(s rimEdge) []rimEdge {
		list := []rimEdge{s}
		for {
			next, ok := e.across(list[len(list)-1])
			if !ok || next.w.Edges[next.i].Is() != r.role {
				return list
			}
			if slices.ContainsFunc(list, func(o rimEdge) bool { return o.w == next.w && o.i == next.i }) {
				r.round = true
				return list
			}
			list = append(list, next)
		}
	}
	r.edges = follow(rimEdge{w, i, false})
	if !r.round {
		back := rim{edges: follow(rimEdge{w, i, true})}.reversed()
		r.edges = append(back.edges[:len(back.edges)-1], r.edges...)
	}
	return r
}

// isFront reports whether a piece lies at the front of a garment.
func isFront(w *work) bool {
	return w.Role == pattern.BodiceFront || w.Role == pattern.BodiceSideFront || w.Role == pattern.SkirtFront || w.Role == yokeFront
}

// oneRim returns the line of a role round half the garment, walked from the
// front to the back, or round the whole of one that is drawn out whole. It begins
// on the piece of that name, or, if that is empty, on the first piece of the roles
// that has such an edge; then all pieces of the roles must be on it.
func (e *edit) oneRim(role, piece string, roles ...pattern.Role) (rim, error) {
	rims, err := e.rims(role, piece, roles...)
	if err != nil {
		return rim{}, err
	}
	if len(rims) > 1 {
		a, b := rims[0].edges, rims[1].edges
		return rim{}, notOneRim(role, a[len(a)-1].w, b[0].w)
	}
	return rims[0], nil
}

func notOneRim(role string, from, to *work) error {
	return refuse(fmt.Sprintf("the %s does not run on from piece %q to %q", role, from.Name, to.Name),
		"join them by a seam that ends there, or name the piece that is meant")
}

// rims returns the lines of a role as oneRim does. Of a garment that is drawn out
// whole there may be several, as it has two armscyes.
func (e *edit) rims(role, piece string, roles ...pattern.Role) ([]rim, error) {
	var pieces []*work
	if piece != "" {
		w, err := e.pieceNamed(piece)
		if err != nil {
			return nil, err
		}
		pieces = append(pieces, w)
	} else {
		pieces = e.roles(roles...)
	}
	var list []rim
	for _, w := range pieces {
		for i, edge := range w.Edges {
			if edge.Is() == role && !slices.ContainsFunc(list, func(r rim) bool { return r.has(w.Name, edge.Name) }) {
				list = append(list, e.rimOf(w, i))
			}
		}
	}
	if len(list) == 0 {
		where := "the pattern"
		if piece != "" {
			where = fmt.Sprintf("piece %q", piece)
		}
		return nil, refuse(fmt.Sprintf("%s has no %s edge to work on", where, role), fmt.Sprintf("give the edges that are meant the role %s", role))
	}
	half := func(s rimEdge) bool { return s.w.OnFold() || s.w.Cut.Mirrored }
	for k := range list {
		r := &list[k]
		r.whole = !slices.ContainsFunc(r.edges, half)
		if !r.whole {
			if k > 0 {
				a := list[k-1].edges
				return nil, notOneRim(role, a[len(a)-1].w, r.edges[0].w)
			}
			if i := slices.IndexFunc(r.edges, func(s rimEdge) bool { return !half(s) }); i >= 0 {
				return nil, refuse(fmt.Sprintf("piece %q is neither on the fold nor cut in pairs, and others are", r.edges[i].w.Name), "draft half the garment, or unfold all of it")
			}
		}
		if first, last := r.edges[0].w, r.edges[len(r.edges)-1].w; !isFront(first) && isFront(last) {
			*r = r.reversed()
		}
	}
	return list, nil
}

// flat refuses a rim with anything on it that takes cloth up.
func (e *edit) flat(r rim, what string) error {
	for _, s := range r.edges {
		if e.takesUp(s.w, s.name()) {
			return refuse(fmt.Sprintf("the %s of piece %q has darts, pleats or gathers in it, and %s follows its plain shape", r.role, s.w.Name, what),
				"turn or let them out first")
		}
	}
	return nil
}

// faced reports whether a piece is a facing.
func faced(w *work) bool {
	return w.Role == pattern.FacingFront || w.Role == pattern.FacingBack || w.Role == armscyeFacing || w.Role == hemFacing
}

// clear makes a rim ready to be sewn to something else. A facing that has it is
// taken off, or, where keep is set, basted onto it, so that both are sewn as one
// edge. Anything else that is sewn there is refused.
func (e *edit) clear(r rim, keep bool) error {
	var seams []string
	for _, s := range r.edges {
		for _, seam := range e.seams {
			inA, inB := seam.A.Has(s.w.Name, s.name()), seam.B.Has(s.w.Name, s.name())
			if !inA && !inB || seam.Kind == pattern.Basted && inB {
				continue
			}
			own, other := seam.A, seam.B
			if inB {
				own, other = other, own
			}
			facing := seam.Kind == pattern.Joined && len(other) > 0
			for _, ref := range other {
				w := e.piece(ref.Piece)
				facing = facing && w != nil && faced(w)
			}
			if !facing {
				to := "its mirror image"
				if len(other) > 0 {
					to = fmt.Sprintf("piece %q", other[0].Piece)
				}
				return refuse(fmt.Sprintf("the %s of piece %q is sewn to %s", r.role, s.w.Name, to), "take this step before the one that sews that on, or choose an edge that is free")
			}
			for _, ref := range own {
				if !r.has(ref.Piece, ref.Edge) {
					return refuse(fmt.Sprintf("the facing of the %s goes on along %s/%s", r.role, ref.Piece, ref.Edge), "part the facing there first")
				}
			}
			if !slices.Contains(seams, seam.Name) {
				seams = append(seams, seam.Name)
			}
		}
		s.w.touched = true
		s.w.Edges[s.i].Finish = pattern.Sewn
	}
	for _, name := range seams {
		k := slices.IndexFunc(e.seams, func(s pattern.Seam) bool { return s.Name == name })
		s := &e.seams[k]
		if r.has(s.A[0].Piece, s.A[0].Edge) { // the facing is the layer, and goes first
			s.A, s.B = s.B, s.A
			if s.Meeting.Ease.Given() {
				s.Meeting.Ease = pattern.Range{Min: -s.Meeting.Ease.Max, Max: -s.Meeting.Ease.Min}
			}
		}
		if keep {
			s.Kind = pattern.Basted
			e.changed("facing basted onto the "+r.role, s.A[0].Piece, 0, e.in.RunLength(s.A), "mm")
			continue
		}
		facings := s.A
		e.seams = slices.Delete(e.seams, k, k+1)
		for _, ref := range facings {
			if err := e.takeOff(ref.Piece); err != nil {
				return err
			}
		}
	}
	// Seams that only pieces taken off had.
	e.seams = slices.DeleteFunc(e.seams, func(s pattern.Seam) bool {
		return slices.ContainsFunc(slices.Concat(s.A, s.B), func(r pattern.EdgeRef) bool { return e.piece(r.Piece) == nil })
	})
	return nil
}

// takeOff removes a facing. It must be sewn to nothing but facings any more.
func (e *edit) takeOff(name string) error {
	w := e.piece(name)
	if w == nil {
		return nil // it had two edges on the rim
	}
	for _, s := range e.seams {
		for _, sides := range [2][2]pattern.Run{{s.A, s.B}, {s.B, s.A}} {
			if !slices.ContainsFunc(sides[0], func(r pattern.EdgeRef) bool { return r.Piece == name }) {
				continue
			}
			for _, ref := range sides[1] {
				if o := e.piece(ref.Piece); o != nil && !faced(o) {
					return refuse(fmt.Sprintf("the facing %q is sewn to piece %q as well", name, ref.Piece), "keep the facing, or take it off there first")
				}
			}
		}
	}
	e.changed("pieces of the facing, taken off", name, w.copies(), 0, "")
	e.pieces = slices.DeleteFunc(e.pieces, func(o *work) bool { return o == w })
	return nil
}
