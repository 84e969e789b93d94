package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// waistRun returns the waists of pieces in sewing order from the centre front
// to the centre back.
func (e *edit) waistRun(pieces []*work) (pattern.Run, error) {
	var run pattern.Run
	// beside returns the edges between which the waist lies, in boundary order.
	waistOf := func(w *work) (i int, err error) { return w.edgeOf(pattern.Waist) }
	var at *work
	enter := -1 // the edge beside the waist on the side that the walk comes from
	for _, w := range pieces {
		i, err := waistOf(w)
		if err != nil {
			return nil, err
		}
		for _, n := range []int{w.prev(i), w.next(i)} {
			if w.Edges[n].Is() == pattern.CentreFront && at == nil {
				at, enter = w, n
			}
		}
	}
	if at == nil {
		return nil, refuse("none of the pieces has a centre front beside its waist", "give that edge the role centre-front")
	}
	for at != nil && len(run) < len(pieces) {
		i, err := waistOf(at)
		if err != nil {
			return nil, err
		}
		backwards := enter == at.next(i)
		run = append(run, pattern.EdgeRef{Piece: at.Name, Edge: at.Edges[i].Name, Backwards: backwards})
		out := at.next(i)
		if backwards {
			out = at.prev(i)
		}
		other, edge, ok := e.mate(at, at.Edges[out].Name)
		if !ok || !slices.Contains(pieces, other) {
			break
		}
		at, enter = other, other.EdgeIndex(edge)
	}
	if len(run) < len(pieces) {
		return nil, refuse(fmt.Sprintf("piece %q ends the row of pieces round the waist before all are in it", run[len(run)-1].Piece), "sew the pieces together first")
	}
	return run, nil
}

// runMark is a notch on a run of edges, sewn mm from its start.
type runMark struct {
	name  string
	count int
	at    float64
}

// marksAlong returns the notches of a run of the input's edges.
func (e *edit) marksAlong(run pattern.Run) []runMark {
	var list []runMark
	for _, n := range notchesAlong(e.in, run) {
		list = append(list, runMark{n.name, e.in.Piece(n.piece).Notches[n.index].Count, n.sewn})
	}
	return list
}

// meetingOf is how a run meets an edge of its own sewn length.
func (e *edit) meetingOf(run pattern.Run) pattern.Meeting {
	m := pattern.Meeting{Kind: pattern.Plain}
	for _, ref := range run {
		w := e.piece(ref.Piece)
		on := func(g pattern.Gather) bool { return g.Edge == ref.Edge && g.Kind.Shows() }
		switch {
		case slices.ContainsFunc(w.Gathers, on) || slices.ContainsFunc(w.fresh.gathers, on):
			return pattern.Meeting{Kind: pattern.Gathered}
		case slices.ContainsFunc(w.Pleats, func(f pattern.Pleat) bool { return f.Edge == ref.Edge }),
			slices.ContainsFunc(w.fresh.pleats, func(f pattern.Pleat) bool { return f.Edge == ref.Edge }):
			m.Kind = pattern.Pleated
		}
	}
	return m
}

// Overskirt says how a second skirt is made.
type Overskirt struct {
	// Share is the overskirt's length as a share of the skirt's.
	Share float64
}

// CopyOverskirt makes a second, shorter skirt over the first: copies of its
// pieces with everything on them, sewn to each other as they are.
//
// The skirt's waist is joined to the bodice already, so the overskirt's is basted
// onto it, edge to edge, and goes into that seam with it.
// Kept: every piece there was. Degenerate: a share that leaves little more than
// the hip, and a skirt without a centre front, are refused.
func CopyOverskirt(p *pattern.Pattern, o Overskirt) (*operation.Answer, error) {
	e := begin(p)
	pieces, err := e.skirt()
	if err != nil {
		return nil, err
	}
	if !(o.Share > 0 && o.Share <= 1) {
		return nil, refuse("an overskirt is as long as the skirt or shorter", "give a share of more than 0 and at most 1")
	}
	run, err := e.waistRun(pieces)
	if err != nil {
		return nil, err
	}
	name := map[string]string{}
	roles := map[pattern.Role]pattern.Role{pattern.SkirtFront: overFront, pattern.SkirtBack: overBack}
	var all []hemLeg
	if all, err = e.hemLegs(asParts(pieces)); err != nil {
		return nil, err
	}
	long := all[0].now
	for _, w := range pieces {
		c := w.copy()
		c.Name = freshPiece(e, "over"+w.Name)
		c.Title, c.Role, c.touched = "Overskirt, "+w.Title, roles[w.Role], true
		name[w.Name] = c.Name
		for k, l := range c.lines { // new cloth: none of it was in the pattern before
			c.lines[k] = drawn(l.path()...)
		}
		c.fresh = marks{c.Darts, c.Pleats, c.Gathers, c.Notches}
		c.Darts, c.Pleats, c.Gathers, c.Notches = nil, nil, nil, nil
		e.pieces = append(e.pieces, c)
		e.changed("overskirt, pieces", c.Name, 0, 1, "")
	}
	renamed := func(r pattern.Run) (pattern.Run, bool) {
		var out pattern.Run
		for _, ref := range r {
			if name[ref.Piece] == "" {
				return nil, false
			}
			ref.Piece = name[ref.Piece]
			out = append(out, ref)
		}
		return out, true
	}
	for _, s := range e.seams {
		a, ok1 := renamed(s.A)
		b, ok2 := renamed(s.B)
		if !ok1 || !ok2 {
			continue
		}
		s.Name, s.A, s.B = freshSeamName(e, "over"+s.Name), a, b
		e.made = append(e.made, s)
	}
	over, _ := renamed(run)
	for _, w := range pieces { // an opening that is bound or has a placket is turned in
		c := e.piece(name[w.Name])
		for k := range c.Edges {
			edge := &c.Edges[k]
			if edge.Finish == pattern.Sewn && !over.Has(c.Name, edge.Name) &&
				!slices.ContainsFunc(e.made, func(s pattern.Seam) bool { return s.A.Has(c.Name, edge.Name) || s.B.Has(c.Name, edge.Name) }) {
				edge.Finish = pattern.Hemmed
			}
		}
	}
	e.made = append(e.made, pattern.Seam{
		Name: freshSeamName(e, "overskirt-waist"), A: over, B: run, Kind: pattern.Basted, Meeting: e.meetingOf(over),
	})
	first, err := e.finish()
	if err != nil {
		return nil, err
	}
	by := -(1 - o.Share) * long
	if by == 0 {
		return first, nil
	}
	return then(first, func(p *pattern.Pattern) (*operation.Answer, error) {
		return setHemLine(p, HemLengths{Front: by, Side: by, Back: by}, false, overFront, overBack)
	})
}

// The roles of an overskirt's pieces: no step takes them for the skirt.
const (
	overFront pattern.Role = "overskirt-front"
	overBack  pattern.Role = "overskirt-back"
)

// Peplum says how a basque is made.
type Peplum struct {
	Depth    float64 // mm
	Fraction float64 // of a full circle that it is cut from, all round
}

// AddPeplum sews a basque to the bodice's waist: a part of a ring whose inner
// edge is the waist and whose depth is that asked for, a front and a back with
// seams at the sides. Where a skirt is joined to the bodice, the peplum is basted
// onto the skirt's waist and goes into that seam with it.
//
// Kept: every piece there was; the peplum's waist is the bodice's to 1e-9 mm.
// Degenerate: a bodice without front and back, and a depth that cannot be sewn,
// are refused.
func AddPeplum(p *pattern.Pattern, o Peplum) (*operation.Answer, error) {
	e := begin(p)
	bodice := e.roles(pattern.BodiceFront, pattern.BodiceBack, pattern.BodiceSideBack, pattern.BodiceSideFront)
	if len(e.role(pattern.BodiceFront)) == 0 || len(e.role(pattern.BodiceBack)) == 0 {
		return nil, refuse("the pattern has no bodice front and back", "give its pieces the roles bodice-front and bodice-back")
	}
	if !(o.Depth >= minYoke && o.Fraction > 0) {
		return nil, refuse(fmt.Sprintf("a basque of %.0f mm depth and %g of a circle cannot be cut", o.Depth, o.Fraction), fmt.Sprintf("ask for %d mm or more, and some part of a circle", minYoke))
	}
	run, err := e.waistRun(bodice)
	if err != nil {
		return nil, err
	}
	var front, back float64
	for _, ref := range run {
		sewn := e.sewnBefore(ref.Piece, ref.Edge)
		if isFront(e.piece(ref.Piece)) {
			front += sewn
		} else {
			back += sewn
		}
	}
	seam := pattern.Seam{Name: freshSeamName(e, "peplum"), A: run}
	under, err := e.joinedTo(run)
	switch {
	case err != nil:
		return nil, err
	case len(under) > 0:
		seam.B, seam.Kind = under, pattern.Basted
	default:
		for _, ref := range run {
			w := e.piece(ref.Piece)
			w.Edges[w.EdgeIndex(ref.Edge)].Finish = pattern.Sewn
		}
	}
	ring := Ring{Seam: 2 * (front + back), Depth: o.Depth, Circles: o.Fraction}
	r := ring.Radius()
	if max(front, back)/r > 2*math.Pi-minRingGap {
		return nil, refuse("a piece of the basque would go more than once round its circle", "ask for a smaller part of a circle")
	}
	f, b := e.peplumPieces(run, r, o.Depth, front, back)
	marks := e.marksAlong(run)
	if seam.Kind == pattern.Basted {
		marks = e.marksAlong(seam.B)
	}
	for _, m := range marks {
		n := pattern.Notch{Name: m.name, Edge: pattern.Waist, At: m.at, Count: m.count}
		if m.at > front {
			n.At -= front
			b.fresh.notches = append(b.fresh.notches, n)
		} else {
			f.fresh.notches = append(f.fresh.notches, n)
		}
	}
	own := pattern.Run{{Piece: f.Name, Edge: pattern.Waist}, {Piece: b.Name, Edge: pattern.Waist}}
	if seam.Kind == pattern.Basted {
		seam.A, seam.Meeting = own, e.meetingOf(seam.B)
	} else {
		seam.B, seam.Meeting = own, e.meetingOf(run)
	}
	e.made = append(e.made, seam, pattern.Seam{
		Name: freshSeamName(e, "peplum-side"), Meeting: pattern.Meeting{Kind: pattern.Plain},
		A: pattern.Run{{Piece: f.Name, Edge: pattern.Side}}, B: pattern.Run{{Piece: b.Name, Edge: pattern.Side, Backwards: true}},
	})
	if o.Depth > longSeam {
		f.fresh.notches = append(f.fresh.notches, pattern.Notch{Name: "peplum-side", Edge: pattern.Side, At: o.Depth / 2, Count: 1})
		b.fresh.notches = append(b.fresh.notches, pattern.Notch{Name: "peplum-side", Edge: pattern.Side, At: o.Depth / 2, Count: 1})
	}
	e.changed("peplum, inner radius", "", 0, r, "mm")
	e.changed("peplum, depth", "", 0, o.Depth, "mm")
	e.changed("peplum, round its hem", "", 0, ring.Hem(), "mm")
	return e.finish()
}

// joinedTo returns the waists that a bodice's waist is joined to, centre front
// to centre back; none where it is in no seam.
func (e *edit) joinedTo(run pattern.Run) (pattern.Run, error) {
	i := slices.IndexFunc(e.seams, func(s pattern.Seam) bool {
		return s.Kind == pattern.Joined && (s.A.Has(run[0].Piece, run[0].Edge) || s.B.Has(run[0].Piece, run[0].Edge))
	})
	if i < 0 {
		return nil, nil
	}
	var pieces []*work
	for _, ref := range e.otherRun(&e.seams[i], run[0].Piece, run[0].Edge) {
		pieces = append(pieces, e.piece(ref.Piece))
	}
	return e.waistRun(pieces)
}

// peplumPieces draws front and back of a peplum: centre front and side straight
// lines from the ring's centre, and the centre edges finished as the bodice's.
func (e *edit) peplumPieces(run pattern.Run, r, depth, front, back float64) (f, b *work) {
	cut := func(name, title string, role pattern.Role, seam float64, right, left pattern.Edge) *work {
		angle := seam / r
		angle *= seam / arcAround(geom.Point{}, r, 0, angle).Length()
		centre := geom.Pt(0, r)
		const down = -math.Pi / 2
		from, to, grain := down-angle/2, down+angle/2, centre
		switch pattern.Fold { // upright, with the grain along it
		case right.Finish:
			from, to, grain = down-angle, down, centre.Sub(geom.Pt(foldGrain, 0))
		case left.Finish:
			from, to, grain = down, down+angle, centre.Add(geom.Pt(foldGrain, 0))
		}
		hem, waist := arcAround(centre, r+depth, from, to), arcAround(centre, r, to, from)
		w := &work{touched: true, Piece: pattern.Piece{
			Name: freshPiece(e, name), Title: title, Role: role, Cut: pattern.Cut{Count: 2, Mirrored: true},
			Edges: []pattern.Edge{{Name: pattern.Hem, Finish: pattern.Hemmed}, right, {Name: pattern.Waist}, left},
			Grain: pattern.Grain{From: grain.Add(geom.Polar(r+0.85*depth, down)), To: grain.Add(geom.Polar(r+0.15*depth, down))},
		}}
		w.lines = []line{drawn(hem...), drawn(geom.Line(hem.End(), waist.Start())), drawn(waist...), drawn(geom.Line(waist.End(), hem.Start()))}
		if w.OnFold() {
			w.Cut = pattern.Cut{Count: 1}
		}
		e.pieces = append(e.pieces, w)
		return w
	}
	// Walked from the centre front, the waist runs from right to left.
	f = cut("peplum-front", "Peplum front", "peplum-front", front, e.centreLike(run[0], pattern.CentreFront), pattern.Edge{Name: pattern.Side})
	b = cut("peplum-back", "Peplum back", "peplum-back", back, pattern.Edge{Name: pattern.Side}, e.centreLike(run[len(run)-1], pattern.CentreBack))
	for _, w := range []*work{f, b} {
		for _, edge := range w.Edges {
			if edge.Is() != pattern.Side && edge.Finish == pattern.Sewn && edge.Is() != pattern.Waist {
				e.made = append(e.made, pattern.Seam{
					Name: freshSeamName(e, w.Name), A: pattern.Run{{Piece: w.Name, Edge: edge.Name}}, Meeting: pattern.Meeting{Kind: pattern.Plain},
				})
			}
		}
	}
	return f, b
}

// centreLike returns the centre edge for a peplum, finished as the one beside
// the bodice's waist is: on the fold, sewn to its mirror image, or open.
func (e *edit) centreLike(ref pattern.EdgeRef, role string) pattern.Edge {
	w := e.piece(ref.Piece)
	i := w.EdgeIndex(ref.Edge)
	for _, n := range []int{w.prev(i), w.next(i)} {
		if edge := w.Edges[n]; edge.Is() == role {
			switch {
			case edge.Finish == pattern.Fold || e.mirrored(w, edge.Name):
				return pattern.Edge{Name: role, Finish: edge.Finish}
			case edge.Finish == pattern.Sewn: // to a facing: the peplum's wants one too
				return pattern.Edge{Name: role + ".opening", Finish: pattern.Faced}
			}
			return pattern.Edge{Name: role + ".opening", Finish: edge.Finish}
		}
	}
	return pattern.Edge{Name: role + ".opening", Finish: pattern.Open}
}
