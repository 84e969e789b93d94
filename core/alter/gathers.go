package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// notchesAt returns where the notches of an edge lie along it sewn, by name.
func notchesAt(p *pattern.Piece, edge string) map[string]float64 {
	found := map[string]float64{}
	for _, n := range p.Notches {
		if n.Edge == edge {
			found[n.Name] = p.SewnPosition(edge, n.At)
		}
	}
	return found
}

// keepNotches moves the notches of an edge whose fullness was put elsewhere, so
// that along the sewn edge they stay where they were. The edge's line and marks
// must be those of the input but for that.
func (w *work) keepNotches(edge string, was map[string]float64) {
	for k := range w.Notches {
		n := &w.Notches[k]
		if n.Edge == edge {
			n.At = w.FlatPosition(edge, was[n.Name])
		}
	}
}

// noGathersLeft gives the seam that takes an edge and met gathered, if it has no
// gathers left, another meeting: pleated if it has pleats, else plain.
func (e *edit) noGathersLeft(piece, edge string) {
	for i := range e.seams {
		s := &e.seams[i]
		if s.Meeting.Kind != pattern.Gathered || !s.A.Has(piece, edge) && !s.B.Has(piece, edge) {
			continue
		}
		gathers, pleats := false, false
		for _, ref := range slices.Concat(s.A, s.B) {
			w := e.piece(ref.Piece)
			if w == nil {
				continue
			}
			for _, g := range slices.Concat(w.Gathers, w.fresh.gathers) {
				gathers = gathers || g.Edge == ref.Edge && g.Kind.Shows()
			}
			for _, f := range slices.Concat(w.Pleats, w.fresh.pleats) {
				pleats = pleats || f.Edge == ref.Edge
			}
		}
		switch {
		case gathers:
		case pleats:
			s.Meeting = pattern.Meeting{Kind: pattern.Pleated}
		default:
			s.Meeting = pattern.Meeting{Kind: pattern.Plain}
		}
	}
}

// GatherMove says where gathers go.
type GatherMove struct {
	Piece, Edge string // where they are
	// ToPiece and ToEdge are where they go; empty is the same edge.
	ToPiece, ToEdge string
	// From and To bound them there, as shares of that edge's length.
	From, To float64
	// Share is how much of what they take up moves, 0 to 1.
	Share float64
	// Slashes is in how many slashes either piece is lapped and spread, where
	// they move to another one.
	Slashes int
	// Parallel laps and spreads the pieces to the edge opposite, as far as that
	// is loose; else the slashes are hinged there.
	Parallel bool
}

// MoveGathers moves gathers to another stretch of the same edge, or to another
// edge of the same seam. On the same edge only the gathers move. To another edge
// the width goes with them: the one piece is lapped by what its gathers no
// longer take up, the other spread by as much.
//
// Kept: the sewn length of either edge, and the total of their cut lengths, of
// what their gathers take up and of the edges opposite, exactly. Changed: where the gathers lie, and
// the width of both pieces. Degenerate: an edge without gathers, a stretch that
// has something else in it or is too short for what it must take up, and edges
// of different seams are refused.
func MoveGathers(p *pattern.Pattern, o GatherMove) (*operation.Answer, error) {
	e := begin(p)
	if o.ToPiece == "" && o.ToEdge == "" {
		o.ToPiece, o.ToEdge = o.Piece, o.Edge
	}
	w, i, had, err := e.gathered(o.Piece, o.Edge)
	if err != nil {
		return nil, err
	}
	if o.From < 0 || o.To > 1 || o.To <= o.From || o.Share <= 0 || o.Share > 1 {
		return nil, refuse("gathers need a stretch to lie on, and a share of them to move", "give shares between 0 and 1, from the smaller")
	}
	g := w.Gathers[had]
	take := (g.To - g.From - w.foldedIn(g) - g.Length) * o.Share
	if take < minTuck {
		return nil, refuse(fmt.Sprintf("the gathers on edge %q of piece %q take up %.1f mm: there is nothing to move", o.Edge, w.Name, take), "choose gathers that take up more")
	}
	if o.ToPiece == o.Piece && o.ToEdge == o.Edge {
		err = e.moveAlong(w, i, had, take, o)
	} else {
		err = e.moveAcross(w, i, had, take, o)
	}
	if err != nil {
		return nil, err
	}
	return e.finish()
}

// foldedIn returns what darts and pleats inside a gather take up before it is
// drawn up.
func (w *work) foldedIn(g pattern.Gather) (sum float64) {
	inside := func(edge string, from, to float64) bool {
		return edge == g.Edge && from >= g.From-pattern.PlaceTolerance && to <= g.To+pattern.PlaceTolerance
	}
	for _, d := range w.Darts {
		if inside(d.Edge, d.From, d.To) {
			sum += d.To - d.From
		}
	}
	for _, f := range w.Pleats {
		if inside(f.Edge, f.From, f.To) {
			sum += f.To - f.From
		}
	}
	return sum
}

// moveAlong moves take of a gather along its own edge.
func (e *edit) moveAlong(w *work, i, had int, take float64, o GatherMove) error {
	was := notchesAt(e.in.Piece(w.Name), o.Edge)
	long := w.lines[i].length()
	old := w.Gathers[had]
	fresh := pattern.Gather{Name: old.Name, Edge: o.Edge, From: o.From * long, To: o.To * long, Kind: old.Kind, Stitch: old.Stitch, Rows: old.Rows}
	if o.Share == 1 {
		w.Gathers = slices.Delete(w.Gathers, had, had+1)
	} else {
		w.Gathers[had].Length += take
		fresh.Name = freshName(w, gatherName(old.Kind, o.Edge))
	}
	fresh.Length = fresh.To - fresh.From - w.foldedIn(fresh) - take
	if err := w.roomFor(fresh); err != nil {
		return err
	}
	w.touched = true
	w.Gathers = append(w.Gathers, fresh)
	e.laid = map[edgeKey]bool{{w.Name, fresh.Name}: true}
	w.keepNotches(o.Edge, was)
	e.changed("gathers begin along "+o.Edge, w.Name, old.From, fresh.From, "mm")
	e.changed("gathers end along "+o.Edge, w.Name, old.To, fresh.To, "mm")
	e.changed("moved gathers, cut", w.Name, (old.To-old.From)*o.Share, fresh.To-fresh.From, "mm")
	e.changed("moved gathers, drawn up", w.Name, old.Length*o.Share, fresh.Length, "mm")
	e.changed(o.Edge+", sewn", w.Name, e.sewnBefore(w.Name, o.Edge), w.SewnLength(o.Edge), "mm")
	return nil
}

// roomFor refuses a gather that lies over other marks or would be drawn up to
// nothing.
func (w *work) roomFor(g pattern.Gather) error {
	over := func(edge string, from, to float64, mayHold bool) bool {
		held := mayHold && from >= g.From && to <= g.To
		return edge == g.Edge && from < g.To-pattern.PlaceTolerance && to > g.From+pattern.PlaceTolerance && !held
	}
	what := ""
	for _, d := range w.Darts {
		if over(d.Edge, d.From, d.To, true) {
			what = d.Name
		}
	}
	for _, f := range w.Pleats {
		if over(f.Edge, f.From, f.To, true) {
			what = f.Name
		}
	}
	for _, o := range w.Gathers {
		if over(o.Edge, o.From, o.To, false) {
			what = o.Name
		}
	}
	switch {
	case what != "":
		return refuse(fmt.Sprintf("the gathers would lie over %q on edge %q of piece %q", what, g.Edge, w.Name), "move all of them, or to a stretch beside it")
	case g.Length < minGathered:
		return refuse(fmt.Sprintf("%.0f mm of edge %q of piece %q are too short to take up so much", g.To-g.From, g.Edge, w.Name), "give the gathers a longer stretch, or move fewer of them")
	}
	return nil
}

// moveAcross moves take of a gather to another edge of the same seam, and the
// width with it.
func (e *edit) moveAcross(w *work, i, had int, take float64, o GatherMove) error {
	to, err := e.pieceNamed(o.ToPiece)
	if err != nil {
		return err
	}
	j, err := to.named(o.ToEdge)
	if err != nil {
		return err
	}
	if !slices.ContainsFunc(e.seams, func(s pattern.Seam) bool {
		return s.A.Has(w.Name, o.Edge) && s.A.Has(to.Name, o.ToEdge) || s.B.Has(w.Name, o.Edge) && s.B.Has(to.Name, o.ToEdge)
	}) {
		return refuse(fmt.Sprintf("no seam has edge %q of piece %q and edge %q of piece %q on one side", o.Edge, w.Name, o.ToEdge, to.Name),
			"move gathers along one side of one seam")
	}
	if w == to {
		return refuse(fmt.Sprintf("both edges are on piece %q", w.Name), "move the gathers along one edge, or to another piece")
	}
	// As often as either comes round the garment, so much of the total it has.
	gain := take * w.copies() / to.copies()
	name := w.Edges[i].Name
	long, far := w.lines[i].length(), to.lines[j].length()
	hems := around(e.pieces, pattern.Hem)

	// The old gathers hold the slashes that take their width out.
	g := &w.Gathers[had]
	old := *g
	slim, err := w.widened(i, -take, g.From, g.To, o.Slashes, o.Parallel)
	if err != nil {
		return err
	}
	a, b := slim.lines[i].spanOf(w.Name, name, old.From, old.To)
	slim.Gathers[had].Length = old.Length + (b - a) - (old.To - old.From) + take
	if o.Share == 1 {
		slim.Gathers = slices.Delete(slim.Gathers, had, had+1)
	}
	e.replace(w, slim)

	there := slices.IndexFunc(to.Gathers, func(h pattern.Gather) bool { return h.Edge == o.ToEdge && h.Kind.Shows() })
	from, upTo := o.From*far, o.To*far
	if there >= 0 {
		from, upTo = to.Gathers[there].From, to.Gathers[there].To
	}
	full, err := to.widened(j, gain, from, upTo, o.Slashes, o.Parallel)
	if err != nil {
		return err
	}
	a, b = full.lines[j].spanOf(to.Name, o.ToEdge, from, upTo)
	if there >= 0 {
		full.Gathers[there].Length += (b - a) - (upTo - from) - gain
	} else {
		h := pattern.Gather{Name: freshName(full, gatherName(pattern.Gathers, o.ToEdge)), Edge: o.ToEdge, From: a, To: b, Length: b - a - gain, Kind: pattern.Gathers}
		if h.Length < minGathered {
			return refuse(fmt.Sprintf("%.0f mm of edge %q of piece %q are too short to take up so much", b-a, o.ToEdge, to.Name), "give the gathers a longer stretch, or move fewer of them")
		}
		full.fresh.gathers = append(full.fresh.gathers, h)
	}
	e.replace(to, full)
	e.gatherSeams(to.Name, o.ToEdge, pattern.Gathers)
	e.changed("taken up by gathers", w.Name, take/o.Share, take/o.Share-take, "mm")
	e.changed("taken up by gathers", to.Name, 0, gain, "mm")
	e.changed(name+", cut", w.Name, long, slim.lines[i].length(), "mm")
	e.changed(o.ToEdge+", cut", to.Name, far, full.lines[j].length(), "mm")
	if now := around(e.pieces, pattern.Hem); hems > 0 {
		e.changed("all hems together", "", hems, now, "mm")
	}
	return nil
}

// widened returns the piece with edge i longer by exactly by mm, or shorter,
// slashed between two places on it along the grain to whatever lies opposite;
// parallel slashes give the edge opposite exactly as much. Fairing takes off a
// little of what slashes give, so both are spread by what is still missing until
// nothing is.
func (w *work) widened(i int, by, from, to float64, slashes int, parallel bool) (*work, error) {
	name := w.Edges[i].Name
	if slashes < 1 {
		return nil, refuse("a piece cannot be spread without a slash", "ask for at least one")
	}
	up := w.grainDirection(i)
	var cuts []slash
	for _, a := range evenly(from, to, slashes) {
		j, b, err := w.across(i, a, up)
		if err != nil {
			return nil, err
		}
		if w.inMark(name, a) || w.inMark(w.Edges[j].Name, b) {
			return nil, refuse(fmt.Sprintf("a slash from edge %q would run into a dart or pleat on piece %q", name, w.Name), "let that out or move it first")
		}
		switch {
		case !parallel:
		case w.Edges[j].Finish == pattern.Sewn:
			return nil, refuse(fmt.Sprintf("parallel slashes would change edge %q of piece %q, which is sewn", w.Edges[j].Name, w.Name), "hinge the slashes there instead")
		case len(cuts) > 0 && cuts[0].j != j:
			return nil, refuse(fmt.Sprintf("parallel slashes from edge %q of piece %q meet more than one edge opposite", name, w.Name), "hinge the slashes there instead")
		}
		cuts = append(cuts, slash{i: i, a: a, j: j, b: b})
	}
	j := cuts[0].j
	long, opposite := w.lines[i].length(), w.lines[j].length()
	n := float64(len(cuts))
	openA, openB := by/n, 0.0
	if parallel {
		openB = openA
	}
	for range spreadTries {
		for k := range cuts {
			cuts[k].openA, cuts[k].openB = openA, openB
		}
		c := w.copy()
		if err := c.spread(cuts); err != nil {
			return nil, err
		}
		missA, missB := c.lines[i].length()-long-by, 0.0
		if parallel {
			missB = c.lines[j].length() - opposite - by
		}
		if math.Abs(missA) < spreadExact && math.Abs(missB) < spreadExact {
			c.keepGrainInside()
			return c, nil
		}
		openA, openB = openA-missA/n, openB-missB/n
	}
	return nil, refuse(fmt.Sprintf("edge %q of piece %q cannot be brought to %.0f mm", name, w.Name, long+by), "ask for less, or use more slashes")
}

const (
	// spreadExact is the miss in mm that counts as none when slashes are spread
	// to a length: what rounding leaves.
	spreadExact = 1e-9
	// spreadTries is when to give up; ten are usual.
	spreadTries = 40
)
