package alter

import (
	"fmt"
	"slices"

	"bygone.example/core/pattern"
)

// lowerEdge is an edge that a strip of cloth is to be sewn on below: the hem of a
// piece, and what its two ends are joined to.
type lowerEdge struct {
	w           *work
	hem         int
	ends        [2]hemEnd // where the hem starts, and where it ends
	name, title string    // what strips below are called after
}

// hemEnd is one end of a hem: the edge of the piece that comes down to it, and
// what that edge is sewn to there.
type hemEnd struct {
	edge   pattern.Edge
	seam   string // the seam it is in, if any
	joined bool   // to another hem of the same garment
	mate   int    // which of the hems
	end    int    // and which end of that
}

// lowers returns the hems of the skirt, or of the one piece named, with what
// their ends are joined to.
func (e *edit) lowers(piece string) ([]lowerEdge, error) {
	var pieces []*work
	if piece == "" {
		all, err := e.skirtWith(pattern.Hem)
		if err != nil {
			return nil, err
		}
		pieces = works(all)
	} else {
		w, err := e.pieceNamed(piece)
		if err != nil {
			return nil, err
		}
		pieces = []*work{w}
	}
	var list []lowerEdge
	for _, w := range pieces {
		i, err := w.edgeOf(pattern.Hem)
		if err != nil {
			return nil, err
		}
		switch {
		case w.Edges[i].Finish == pattern.Sewn || w.Edges[i].Finish == pattern.Fold:
			return nil, refuse(fmt.Sprintf("edge %q of piece %q is no loose hem to sew to", w.Edges[i].Name, w.Name), "take off what is sewn to it first")
		case e.takesUp(w, w.Edges[i].Name):
			return nil, refuse(fmt.Sprintf("edge %q of piece %q has fullness in it already", w.Edges[i].Name, w.Name), "let that out first")
		}
		list = append(list, lowerEdge{w: w, hem: i, name: w.Name, title: w.Title})
	}
	return list, e.joinEnds(list)
}

// joinEnds finds for every end of the hems what it is joined to.
func (e *edit) joinEnds(list []lowerEdge) error {
	for k := range list {
		h := &list[k]
		for end := range h.ends {
			n := h.w.prev(h.hem)
			if end == 1 {
				n = h.w.next(h.hem)
			}
			h.ends[end].edge = h.w.Edges[n]
			if h.w.Edges[n].Finish != pattern.Sewn {
				continue
			}
			if err := e.joinEnd(list, h, end); err != nil {
				return err
			}
		}
	}
	return nil
}

// corner is an end of an edge.
type corner struct {
	piece, edge string
	atEnd       bool
}

// runCorner returns the corner where a run starts, or ends.
func runCorner(r pattern.Run, last bool) corner {
	ref := r[0]
	if last {
		ref = r[len(r)-1]
	}
	return corner{ref.Piece, ref.Edge, last != ref.Backwards}
}

func (e *edit) joinEnd(list []lowerEdge, h *lowerEdge, end int) error {
	down := &h.ends[end]
	at := corner{h.w.Name, down.edge.Name, end == 0} // the edge before the hem comes down at its own end
	for _, s := range slices.Concat(e.seams, e.made) {
		for _, sides := range [][2]pattern.Run{{s.A, s.B}, {s.B, s.A}} {
			if !sides[0].Has(at.piece, at.edge) {
				continue
			}
			down.seam = s.Name
			if len(s.B) == 0 {
				return nil
			}
			for _, last := range []bool{false, true} {
				if runCorner(sides[0], last) != at {
					continue
				}
				mate := runCorner(sides[1], last)
				for k := range list {
					o := &list[k]
					before, after := o.w.Edges[o.w.prev(o.hem)].Name, o.w.Edges[o.w.next(o.hem)].Name
					switch mate {
					case corner{o.w.Name, before, true}:
						down.joined, down.mate, down.end = true, k, 0
						return nil
					case corner{o.w.Name, after, false}:
						down.joined, down.mate, down.end = true, k, 1
						return nil
					}
				}
			}
			return refuse(fmt.Sprintf("seam %q does not come down from hem to hem at piece %q", s.Name, h.w.Name),
				"give the lower edges on both sides of it the role hem")
		}
	}
	return refuse(fmt.Sprintf("no seam takes edge %q of piece %q", at.edge, at.piece), "sew it first, or give it a finish")
}

// link is a hem in a chain of them, walked with or against its own direction.
type link struct {
	k         int
	backwards bool
}

// chainsOf returns the hems in the order in which a strip sewn round them meets
// them. A chain ends where the garment is open, folded or mirrored.
func chainsOf(list []lowerEdge) [][]link {
	var chains [][]link
	seen := make([]bool, len(list))
	walk := func(k, from int) {
		var chain []link
		for !seen[k] {
			seen[k] = true
			chain = append(chain, link{k, from == 1})
			out := list[k].ends[1-from]
			if !out.joined {
				break
			}
			k, from = out.mate, out.end
		}
		chains = append(chains, chain)
	}
	for k := range list {
		for end := range list[k].ends {
			if !seen[k] && !list[k].ends[end].joined {
				walk(k, end)
			}
		}
	}
	for k := range list {
		if !seen[k] {
			walk(k, 0) // it goes all the way round
		}
	}
	return chains
}

// band is a strip and the piece it becomes.
type band struct {
	strip
	piece pattern.Piece // name, title, role and cut
	// gathered to the hem it is sewn to; else it fits that.
	gathered bool
	// ends are what its start and its end become; their name is the edge's.
	ends [2]hemEnd
}

// newBand draws a band as a piece; long is the length in mm that its top is
// sewn to, hem the edge whose finish its own hem takes over.
func (e *edit) newBand(b band, long float64, hem pattern.Edge, after *work) *work {
	w := &work{touched: true, Piece: b.piece}
	w.Grain = b.grain
	side := func(end int) pattern.Edge {
		edge := b.ends[end].edge
		edge.Path = nil
		return edge
	}
	w.Edges = []pattern.Edge{
		{Name: pattern.Hem, Finish: hem.Finish, Allowance: hem.Allowance, Corner: hem.Corner}, side(1),
		{Name: "top", Allowance: b.ends[0].edge.Allowance}, side(0),
	}
	w.lines = []line{drawn(b.hem...), drawn(b.end...), drawn(b.top...), drawn(b.start...)}
	if b.gathered {
		w.fresh.gathers = append(w.fresh.gathers, pattern.Gather{
			Name: "top-gathers", Edge: "top", From: 0, To: w.lines[2].length(), Length: long, Kind: pattern.Gathers,
		})
	}
	e.pieces = slices.Insert(e.pieces, slices.Index(e.pieces, after)+1, w)
	return w
}

// sewTo turns a hem into a seam: its finish has gone to the strip below, and
// marks that were on it have nothing to meet there.
func (e *edit) sewTo(h lowerEdge) {
	h.w.touched = true
	edge := &h.w.Edges[h.hem]
	edge.Finish, edge.Role, edge.Allowance, edge.Corner = pattern.Sewn, StripSeam, h.ends[0].edge.Allowance, pattern.Meet
	h.w.Notches = slices.DeleteFunc(h.w.Notches, func(n pattern.Notch) bool {
		if n.Edge == edge.Name {
			e.changed("notch "+n.Name+": the hem it was on is sewn now", h.w.Name, 1, 0, "")
		}
		return n.Edge == edge.Name
	})
}

// StripSeam is the role of an edge that was a hem until a flounce or a tier was
// sewn to it.
const StripSeam = "strip-seam"

// endSeam joins the ends of strips as the edges above them are joined: side a
// to side b of it, or to its own mirror image where b is nil. An end's edge runs
// down at the strip's start and up at its end; both are sewn from the top.
func (e *edit) endSeam(like, word string, long float64, ends ...stripEnd) {
	s := pattern.Seam{Name: freshSeamName(e, like+"-"+word), Meeting: pattern.Meeting{Kind: pattern.Plain}}
	for k, x := range ends {
		run := pattern.Run{{Piece: x.w.Name, Edge: x.w.Edges[x.index()].Name, Backwards: x.end == 1}}
		if k == 0 {
			s.A = run
		} else {
			s.B = run
		}
		if long > longSeam && len(ends) > 1 {
			at := long / 2
			x.w.fresh.notches = append(x.w.fresh.notches, pattern.Notch{Name: s.Name, Edge: run[0].Edge, At: at, Count: 1})
		}
	}
	e.made = append(e.made, s)
}

// longSeam is the length in mm past which a seam wants a notch to be held by;
// common practice.
const longSeam = 150

// stripEnd is the start (0) or the end (1) of a strip's piece.
type stripEnd struct {
	w   *work
	end int
}

func (x stripEnd) index() int { return 3 - 2*x.end }

// quarters marks both edges of a seam at its halves and quarters, to be matched
// before the fullness is drawn up (Kinne and Cooley, Clothing and Health, 1916):
// hem is walked one way and the strip's top the other. from and to are where
// the hem begins and ends on the top, walked like the hem, in mm of the top.
func quarters(h lowerEdge, strip *work, word string, backwards bool, from, to float64) {
	long, top := h.w.lines[h.hem].length(), strip.lines[2].length()
	for k, share := range []float64{0.25, 0.5, 0.75} {
		n := pattern.Notch{Name: fmt.Sprintf("%s-%d", word, k+1), Edge: h.w.Edges[h.hem].Name, At: share * long, Count: 1}
		if backwards {
			n.At = long - n.At
		}
		h.w.fresh.notches = append(h.w.fresh.notches, n)
		n.Edge, n.At = "top", top-(from+share*(to-from))
		if slices.ContainsFunc(strip.fresh.notches, func(o pattern.Notch) bool { return o.Name == n.Name }) {
			n.Name += "-" + h.w.Name
			h.w.fresh.notches[len(h.w.fresh.notches)-1].Name = n.Name
		}
		strip.fresh.notches = append(strip.fresh.notches, n)
	}
}

// sewBelow sews one strip below every hem of the list, joined to each other as
// the pieces above are, and returns the strips' own hems. draw gives the strip
// for hem k; word names pieces and seams.
func (e *edit) sewBelow(list []lowerEdge, word, title string, role pattern.Role, gathered bool, draw func(k int) (strip, error)) ([]lowerEdge, error) {
	below := make([]lowerEdge, len(list))
	for k, h := range list {
		s, err := draw(k)
		if err != nil {
			return nil, err
		}
		b := band{strip: s, gathered: gathered, ends: h.ends}
		b.piece = pattern.Piece{
			Name: freshPieceName(e, h.name+"-"+word), Title: h.title + ", " + title, Role: role, Cut: h.w.Cut,
		}
		w := e.newBand(b, h.w.lines[h.hem].length(), h.w.Edges[h.hem], h.w)
		e.sewTo(h)
		quarters(h, w, word, false, 0, w.lines[2].length())
		below[k] = lowerEdge{w: w, name: h.name, title: h.title}
	}
	for _, chain := range chainsOf(list) {
		s := pattern.Seam{Name: freshSeamName(e, word), Meeting: pattern.Meeting{Kind: pattern.Plain}}
		if gathered {
			s.Meeting.Kind = pattern.Gathered
		}
		for _, l := range chain {
			h := list[l.k]
			s.A = append(s.A, pattern.EdgeRef{Piece: h.w.Name, Edge: h.w.Edges[h.hem].Name, Backwards: l.backwards})
			s.B = append(s.B, pattern.EdgeRef{Piece: below[l.k].w.Name, Edge: "top", Backwards: !l.backwards})
		}
		e.made = append(e.made, s)
	}
	for k, h := range list {
		for end, x := range h.ends {
			deep := below[k].w.lines[3].length()
			switch {
			case x.seam == "":
			case !x.joined:
				e.endSeam(x.seam, word, deep, stripEnd{below[k].w, end})
			case x.mate > k || x.mate == k && x.end > end:
				e.endSeam(x.seam, word, deep, stripEnd{below[k].w, end}, stripEnd{below[x.mate].w, x.end})
			}
		}
	}
	return below, e.joinEnds(below)
}

// freshPieceName returns name, numbered if a piece has it already.
func freshPieceName(e *edit, name string) string {
	fresh := name
	for n := 2; e.piece(fresh) != nil; n++ {
		fresh = fmt.Sprintf("%s-%d", name, n)
	}
	return fresh
}

// hemRound adds up the hems of a list round the garment: round both, where the
// garment has a left and a right of one kind, counts once.
func hemRound(list []lowerEdge) float64 {
	var sum float64
	for k, h := range list {
		n := h.w.copies()
		if h.ends[0].joined && h.ends[0].mate == k && h.w.Cut.Mirrored {
			n /= 2 // joined to itself, as a sleeve
		}
		sum += n * h.w.lines[h.hem].length()
	}
	return sum
}
