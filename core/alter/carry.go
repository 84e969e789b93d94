package alter

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// finish turns the edit into an answer: paths are put back, lineage is read
// off the strands, and marks and seams are carried over by it. A piece that
// came out crossing itself is refused in the operation's own words.
func (e *edit) finish() (*operation.Answer, error) {
	out := &pattern.Pattern{Name: e.in.Name, Title: e.in.Title, Notes: e.in.Notes}
	var lineage, own pattern.Lineage
	for _, w := range e.pieces {
		if w.touched { // a landmark that was cut away with its cloth marks nothing
			w.Landmarks = slices.DeleteFunc(w.Landmarks, func(l pattern.Landmark) bool { return w.beyond(l.At) })
		}
		piece := w.Piece.Clone()
		piece.Darts, piece.Pleats, piece.Gathers, piece.Notches = nil, nil, nil, nil
		for i := range piece.Edges {
			piece.Edges[i].Path = w.lines[i].path()
			came := spans(piece.Name, piece.Edges[i].Name, w.lines[i])
			lineage = append(lineage, came...)
			if !w.copied {
				own = append(own, came...)
			}
		}
		out.Pieces = append(out.Pieces, piece)
	}
	carrier := newCarrier(own)
	for _, w := range slices.Concat(e.pieces, e.absorbed) {
		if err := e.carryMarks(out, carrier, w); err != nil {
			return nil, err
		}
	}
	for _, w := range e.pieces {
		p := out.Piece(w.Name)
		p.Darts = append(p.Darts, w.fresh.darts...)
		p.Pleats = append(p.Pleats, w.fresh.pleats...)
		p.Gathers = append(p.Gathers, w.fresh.gathers...)
		p.Notches = append(p.Notches, w.fresh.notches...)
	}
	e.dropLoneNotches(out, carrier)
	for _, s := range e.seams {
		s.A, s.B = carrier.run(s.A), carrier.run(s.B)
		if len(s.A) > 0 {
			out.Seams = append(out.Seams, s)
		}
	}
	out.Seams = append(out.Seams, e.made...)
	e.matchAllowances(out)
	if err := e.followEdges(out, lineage); err != nil {
		return nil, err
	}
	e.keepInStep(out, lineage)
	e.pairUp(out)
	e.holdGathers(out)
	e.holdLong(out)
	if err := e.sound(out); err != nil {
		return nil, err
	}
	a := &operation.Answer{Pattern: out, Lineage: lineage, Changes: e.changes, Cautions: e.cautions}
	if len(e.mounts) > 0 {
		e.remount(a, own)
	}
	return a, nil
}

// sound refuses what validation finds wrong with the pieces worked on: asked
// for more than the cloth allows, an operation must say so itself.
func (e *edit) sound(out *pattern.Pattern) error {
	probe := &pattern.Pattern{Name: out.Name, Title: out.Title}
	was := &pattern.Pattern{Name: out.Name, Title: out.Title}
	for _, w := range e.pieces {
		if w.touched {
			probe.Pieces = append(probe.Pieces, *out.Piece(w.Name))
			if old := e.in.Piece(w.Name); old != nil {
				was.Pieces = append(was.Pieces, *old)
			}
		}
	}
	if len(probe.Pieces) == 0 {
		return nil
	}
	if problems := probe.Validate(); len(problems) > 0 {
		already := was.Validate() // of a pattern that is to be mended, there may be more than one thing to mend
		for _, bad := range problems {
			if !slices.ContainsFunc(already, func(p pattern.Problem) bool { return p.Rule == bad.Rule && p.Piece == bad.Piece && p.Edge == bad.Edge }) {
				return unsound(bad)
			}
		}
	}
	for _, w := range e.pieces {
		for _, d := range out.Piece(w.Name).Darts {
			if w.touched && w.beyond(d.Point) && !e.beyondAlready(w.Name, d.Name) {
				return refuse(fmt.Sprintf("dart %q would point out of piece %q", d.Name, w.Name), "turn or let out that dart first")
			}
		}
	}
	return nil
}

// unsound is the refusal of an operation whose answer breaks a rule of patterns.
func unsound(p pattern.Problem) error {
	where := fmt.Sprintf("piece %q", p.Piece)
	if p.Edge != "" {
		where = fmt.Sprintf("the %s of piece %q", p.Edge, p.Piece)
	}
	switch p.Rule {
	case pattern.RuleOverlap:
		return refuse(fmt.Sprintf("%s of %s would lie over what takes up cloth there already: %s", p.Mark, where, p.Text), "place it clear of that, or let that out first")
	case pattern.RuleCrossing:
		return refuse(fmt.Sprintf("with these numbers the outline of piece %q would cross itself at its %s", p.Piece, p.Edge), "ask for less")
	}
	return refuse(fmt.Sprintf("with these numbers %s could not be cut: %s", where, p.Text), "ask for less")
}

// beyondAlready reports whether a dart of the input pointed out of its piece.
func (e *edit) beyondAlready(piece, dart string) bool {
	p := e.in.Piece(piece)
	if p == nil || p.Dart(dart) == nil {
		return false
	}
	return !geom.Contains(p.Boundary().Flatten(sideTolerance), p.Dart(dart).Point)
}

// spans reads the lineage of one edge off its strands, joining neighbours that
// run on from each other at the same scale.
func spans(piece, edge string, l line) pattern.Lineage {
	const same = 1e-9 // relative; strands cut apart and put back together again
	var list pattern.Lineage
	at := 0.0
	for _, s := range l {
		length := s.seg.Length()
		span := pattern.Span{New: pattern.Stretch{Piece: piece, Edge: edge, From: at, To: at + length}, Old: s.old}
		at += length
		if n := len(list); n > 0 {
			last := &list[n-1]
			drawnOn := last.Added() && span.Added()
			runsOn := !last.Added() && last.Old.Piece == span.Old.Piece && last.Old.Edge == span.Old.Edge &&
				math.Abs(last.Old.To-span.Old.From) < cutSliver &&
				math.Abs(last.Old.Length()*span.New.Length()-span.Old.Length()*last.New.Length()) <=
					same*span.New.Length()*last.New.Length()
			if drawnOn || runsOn {
				last.New.To, last.Old.To = span.New.To, span.Old.To
				continue
			}
		}
		list = append(list, span)
	}
	return list
}

// edgeKey names an edge of a pattern.
type edgeKey struct{ piece, edge string }

// carrier finds where things on old edges have come to.
type carrier struct {
	byOld map[edgeKey][]pattern.Span // in order along the old edge
	heirs map[edgeKey][]edgeKey      // new edges that carry an old one on, in order along it
}

func newCarrier(l pattern.Lineage) *carrier {
	c := &carrier{byOld: map[edgeKey][]pattern.Span{}, heirs: map[edgeKey][]edgeKey{}}
	type share struct {
		old    edgeKey
		length float64
	}
	shares := map[edgeKey][]share{}
	var order []edgeKey
	for _, s := range l {
		fresh := edgeKey{s.New.Piece, s.New.Edge}
		if _, seen := shares[fresh]; !seen {
			order = append(order, fresh)
			shares[fresh] = nil
		}
		if s.Added() {
			continue
		}
		old := edgeKey{s.Old.Piece, s.Old.Edge}
		c.byOld[old] = append(c.byOld[old], s)
		shares[fresh] = append(shares[fresh], share{old, s.New.Length()})
	}
	for old, list := range c.byOld {
		slices.SortFunc(list, func(a, b pattern.Span) int { return cmp.Compare(a.Old.From, b.Old.From) })
		c.byOld[old] = list
	}
	// An edge carries on the old edge of its own name if any of that is in it,
	// else the one that gave it the most line: a strip sewn on does not make a
	// neckline part of another seam.
	owner := map[edgeKey]edgeKey{}
	for _, fresh := range order {
		sums := map[edgeKey]float64{}
		var best edgeKey
		for _, s := range shares[fresh] {
			sums[s.old] += s.length
			if s.old == fresh {
				sums[s.old] = math.Inf(1)
			}
			if sums[s.old] > sums[best] {
				best = s.old
			}
		}
		if best != (edgeKey{}) {
			owner[fresh] = best
		}
	}
	for old, list := range c.byOld {
		for _, s := range list {
			fresh := edgeKey{s.New.Piece, s.New.Edge}
			if owner[fresh] == old && !slices.Contains(c.heirs[old], fresh) {
				c.heirs[old] = append(c.heirs[old], fresh)
			}
		}
	}
	return c
}

// place is a point on a new edge.
type place struct {
	edgeKey
	at float64
}

// bias says on which side of a cut a thing that stood exactly there belongs.
type bias int

const (
	onward   bias = iota // to what follows: the start of a stretch
	backward             // to what came before: the end of a stretch
)

// find returns where the old place has come to; ok is false when it was cut
// away.
func (c *carrier) find(piece, edge string, at float64, b bias) (p place, ok bool) {
	const touch = 1e-6 // mm
	for _, s := range c.byOld[edgeKey{piece, edge}] {
		if at < s.Old.From-touch || at > s.Old.To+touch {
			continue
		}
		on := at - s.Old.From
		if s.New.Length() != s.Old.Length() { // else nothing is rounded: what was not altered stays as it was
			on = math.Max(0, math.Min(s.Old.Length(), on)) * s.New.Length() / s.Old.Length()
		}
		p = place{edgeKey{s.New.Piece, s.New.Edge}, s.New.From + on}
		ok = true
		if b == backward || at < s.Old.To-touch {
			return p, true
		}
	}
	return p, ok
}

// stretch returns where an old stretch has come to, when both its ends are on
// one new edge still.
func (c *carrier) stretch(piece, edge string, from, to float64) (a, b place, ok bool) {
	a, okA := c.find(piece, edge, from, onward)
	b, okB := c.find(piece, edge, to, backward)
	return a, b, okA && okB && a.edgeKey == b.edgeKey && a.at < b.at
}

// run carries a run of edges over.
func (c *carrier) run(r pattern.Run) pattern.Run {
	var out pattern.Run
	for _, ref := range r {
		heirs := slices.Clone(c.heirs[edgeKey{ref.Piece, ref.Edge}])
		if ref.Backwards {
			slices.Reverse(heirs)
		}
		for _, h := range heirs {
			out = append(out, pattern.EdgeRef{Piece: h.piece, Edge: h.edge, Backwards: ref.Backwards})
		}
	}
	return out
}

// carryMarks puts what is left of a piece's old marks onto the new edges.
func (e *edit) carryMarks(out *pattern.Pattern, c *carrier, w *work) error {
	for _, d := range w.Darts {
		a, b, ok := c.stretch(w.Name, d.Edge, d.From, d.To)
		if !ok {
			return refuse(fmt.Sprintf("this would cut through the mouth of dart %q on piece %q", d.Name, w.Name),
				"close, move or let out the dart first")
		}
		d.Edge, d.From, d.To = a.edge, a.at, b.at
		p := out.Piece(a.piece)
		p.Darts = append(p.Darts, d)
	}
	for _, f := range w.Pleats {
		a, b, ok := c.stretch(w.Name, f.Edge, f.From, f.To)
		if !ok {
			return refuse(fmt.Sprintf("this would cut through pleat %q on piece %q", f.Name, w.Name), "take this step before the one that lays the pleat, or lead the line beside it")
		}
		f.Edge, f.From, f.To = a.edge, a.at, b.at
		p := out.Piece(a.piece)
		p.Pleats = append(p.Pleats, f)
	}
	for _, g := range w.Gathers {
		a, b, ok := c.stretch(w.Name, g.Edge, g.From, g.To)
		if !ok {
			return refuse(fmt.Sprintf("this would cut through the gathers %q on piece %q", g.Name, w.Name),
				"move the gathers first, or make this alteration before gathering")
		}
		g.Edge, g.From, g.To = a.edge, a.at, b.at
		p := out.Piece(a.piece)
		p.Gathers = append(p.Gathers, g)
	}
	for _, n := range w.Notches {
		a, ok := c.find(w.Name, n.Edge, n.At, onward)
		if !ok {
			continue // cut away with its stretch of edge; its mate is dropped by dropLoneNotches
		}
		n.Edge, n.At = a.edge, a.at
		p := out.Piece(a.piece)
		p.Notches = append(p.Notches, n)
	}
	return nil
}

// dropLoneNotches takes out notches whose mate across the seam was cut away
// with its stretch of edge: one alone would mislead.
func (e *edit) dropLoneNotches(out *pattern.Pattern, c *carrier) {
	onRun := func(r pattern.Run) map[string]pattern.EdgeRef { // notches of the input along a run
		found := map[string]pattern.EdgeRef{}
		for _, ref := range r {
			if w := e.piece(ref.Piece); w != nil {
				for _, n := range w.Notches {
					if n.Edge == ref.Edge {
						found[n.Name] = ref
					}
				}
			}
		}
		return found
	}
	kept := func(ref pattern.EdgeRef, name string) bool {
		for _, n := range e.piece(ref.Piece).Notches {
			if n.Name == name && n.Edge == ref.Edge {
				_, ok := c.find(ref.Piece, n.Edge, n.At, onward)
				return ok
			}
		}
		return false
	}
	for _, s := range e.seams {
		a, b := onRun(s.A), onRun(s.B)
		for _, name := range slices.Sorted(maps.Keys(a)) {
			mate, paired := b[name]
			if !paired || kept(a[name], name) == kept(mate, name) {
				continue
			}
			survivor := a[name]
			if kept(mate, name) {
				survivor = mate
			}
			for i := range out.Pieces {
				out.Pieces[i].Notches = slices.DeleteFunc(out.Pieces[i].Notches, func(n pattern.Notch) bool {
					return n.Name == name && slices.Contains(c.heirs[edgeKey{survivor.Piece, survivor.Edge}], edgeKey{out.Pieces[i].Name, n.Edge})
				})
			}
			e.changed("notch "+name+": its mate was cut away", survivor.Piece, 1, 0, "")
		}
	}
}

// walk returns the boundary from a on edge i forward to b on edge j, edge by
// edge.
func (w *work) walk(i int, a float64, j int, b float64) []line {
	if i == j && a <= b {
		return []line{w.lines[i].between(a, b)}
	}
	_, first := w.lines[i].split(a)
	parts := []line{first}
	for k := w.next(i); k != j; k = w.next(k) {
		parts = append(parts, w.lines[k])
	}
	last, _ := w.lines[j].split(b)
	return append(parts, last)
}
