package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// takable refuses a way of taking up what edge i gains that it does not allow.
func (e *edit) takable(w *work, i int, take Taking) error {
	edge := w.Edges[i].Name
	seams := e.in.SeamsOf(w.Name, edge)
	mirrored := len(seams) == 1 && len(seams[0].B) == 0
	switch take {
	case AsFlare:
		if len(seams) > 0 && !mirrored {
			return refuse(fmt.Sprintf("edge %q of piece %q is sewn to another and cannot just grow", edge, w.Name),
				"gather, ease or pleat what it gains, or spread its mate too")
		}
	case MateToo:
		if len(seams) != 1 || mirrored {
			return refuse(fmt.Sprintf("edge %q of piece %q is sewn to no other piece that could be spread with it", edge, w.Name), "leave it as flare")
		}
	case AsGathers, AsEase, AsKnife, AsBox, AsInverted:
	default:
		return refuse(fmt.Sprintf("what an edge gains cannot become %q", take), "use flare, gathers, ease, knife, box, inverted or mate")
	}
	return nil
}

// take records what edge i has gained by the slashes on it.
func (e *edit) take(w *work, i int, take Taking, cuts []slash) error {
	edge := w.Edges[i].Name
	var at, open []float64
	all := 0.0
	for _, c := range cuts {
		switch i {
		case c.i:
			at, open = append(at, c.a), append(open, c.openA)
			all += c.openA
		case c.j:
			at, open = append(at, c.b), append(open, c.openB)
			all += c.openB
		}
	}
	if take != AsFlare && take != MateToo && all < 0 {
		return refuse(fmt.Sprintf("edge %q of piece %q gets shorter, which cannot be recorded as %s", edge, w.Name, take), "lap an edge that no seam takes, or its mate too")
	}
	switch take {
	case AsFlare:
		return nil
	case MateToo:
		return e.spreadMate(w, edge, at, open)
	case AsGathers:
		return e.gatherUp(w, i, slices.Min(at), slices.Max(at), pattern.Gathers)
	case AsEase:
		if all > mostEase {
			e.caution(fmt.Sprintf("%.0f mm of ease on edge %s of %s will show; gather or pleat it, or ask for less", all, edge, w.Name))
		}
		return e.gatherUp(w, i, slices.Min(at), slices.Max(at), pattern.Ease)
	default:
		return e.pleatUp(w, i, at, open, pattern.PleatKind(take))
	}
}

// gatherUp draws an edge that has grown up to what it measured, over the slashes
// and as much beside them as lies between two.
func (e *edit) gatherUp(w *work, i int, first, last float64, kind pattern.GatherKind) error {
	edge := w.Edges[i].Name
	total := e.in.Piece(w.Name).Edge(edge).Path.Length()
	beside := math.Max(gatherBeside, (last-first)/4)
	lo, hi := w.freeAround(edge, first, last, total)
	from, to := math.Max(lo, first-beside), math.Min(hi, last+beside)
	g := pattern.Gather{Name: freshName(w, gatherName(kind, edge)), Edge: edge, Kind: kind}
	had := slices.IndexFunc(w.Gathers, func(o pattern.Gather) bool { return o.Edge == edge && o.From < to && o.To > from })
	if had >= 0 {
		if o := w.Gathers[had]; o.Kind != kind || o.From > first || o.To < last {
			return refuse(fmt.Sprintf("the slashes run into %q on edge %q of piece %q", o.Name, edge, w.Name), "slash within it or beside it")
		}
		from, to = w.Gathers[had].From, w.Gathers[had].To
	}
	g.From, g.To = w.lines[i].spanOf(w.Name, edge, from, to)
	// Everything else on the edge measures what it comes to now; these gathers
	// make up the rest of what the edge measured sewn.
	rest := w.lines[i].length() - (g.To - g.From)
	for k, o := range w.Gathers {
		if o.Edge == edge && k != had {
			a, b := w.lines[i].spanOf(w.Name, edge, o.From, o.To)
			rest -= b - a - o.Length
		}
	}
	g.Length = e.sewnBefore(w.Name, edge) - rest
	if g.Length < minGathered {
		return refuse(fmt.Sprintf("there is too little of edge %q of piece %q to draw the width up onto", edge, w.Name), "slash a longer stretch")
	}
	if had >= 0 {
		w.Gathers[had].Length = g.Length
	} else {
		w.fresh.gathers = append(w.fresh.gathers, g)
	}
	e.gatherSeams(w.Name, edge, kind)
	e.changed(string(kind)+" on "+edge+": drawn up to", w.Name, g.To-g.From, g.Length, "mm")
	return nil
}

// gatherBeside is how far in mm gathers go on beside a single slash; from memory.
const gatherBeside = 30

// pleatUp makes a pleat of every slash: what was opened is folded away.
func (e *edit) pleatUp(w *work, i int, at, open []float64, kind pattern.PleatKind) error {
	edge := w.Edges[i].Name
	c := newCarrier(spans(w.Name, edge, w.lines[i]))
	for k := range at {
		middle, ok := c.find(w.Name, edge, at[k], onward)
		if !ok || open[k] <= 0 {
			continue
		}
		f := pattern.Pleat{
			Name: numbered(w, edge+"-pleat"), Edge: edge, Kind: kind,
			From: middle.at - open[k]/2, To: middle.at + open[k]/2,
		}
		w.fresh.pleats = append(w.fresh.pleats, f)
		e.changed("depth of "+f.Name, w.Name, 0, open[k]/2, "mm")
	}
	for k := range e.seams {
		if s := &e.seams[k]; s.Meeting.Kind == pattern.Plain && (s.A.Has(w.Name, edge) || s.B.Has(w.Name, edge)) {
			s.Meeting = pattern.Meeting{Kind: pattern.Pleated}
		}
	}
	return nil
}

// numbered returns a name for one of several fresh pleats.
func numbered(w *work, name string) string {
	for n := 1; ; n++ {
		s := fmt.Sprintf("%s-%d", name, n)
		if freshName(w, s) == s && !slices.ContainsFunc(w.fresh.pleats, func(f pattern.Pleat) bool { return f.Name == s }) {
			return s
		}
	}
}

// spreadMate spreads the pieces sewn to an edge at the same places along the
// seam by the same amounts, hinged at whatever lies opposite.
func (e *edit) spreadMate(w *work, edge string, at, open []float64) error {
	s := e.in.SeamsOf(w.Name, edge)[0]
	mine, other := s.A, s.B
	if s.B.Has(w.Name, edge) {
		mine, other = s.B, s.A
	}
	scale := e.in.RunLength(other) / e.in.RunLength(mine)
	cuts := map[string][]slash{}
	var order []string
	for k := range at {
		ref, flat, ok := flatAlong(e.in, other, scale*sewnAlong(e.in, mine, w.Name, edge, at[k]))
		if !ok {
			continue
		}
		mate := e.piece(ref.Piece)
		if mate == w {
			return refuse(fmt.Sprintf("edge %q is sewn to another edge of piece %q itself", edge, w.Name), "gather, ease or pleat what it gains")
		}
		j := mate.EdgeIndex(ref.Edge)
		// Square to the seam if the piece allows it, else along its grain.
		far, b, err := mate.clearAcross(j, flat, mate.lines[j].path().Direction(flat).Left())
		if err != nil {
			if far, b, err = mate.clearAcross(j, flat, mate.grainDirection(j)); err != nil {
				return err
			}
		}
		if len(cuts[mate.Name]) == 0 {
			order = append(order, mate.Name)
		} else if cuts[mate.Name][0].i != j {
			return refuse(fmt.Sprintf("two edges of piece %q would have to be spread at once", mate.Name), "spread a shorter stretch")
		}
		cuts[mate.Name] = append(cuts[mate.Name], slash{i: j, a: flat, j: far, b: b, openA: open[k]})
	}
	for _, name := range order {
		mate := e.piece(name)
		j := cuts[name][0].i
		was := mate.lines[j].length()
		stiff, err := mate.spreadSmooth(cuts[name])
		if err != nil {
			return err
		}
		for _, edge := range stiff {
			e.caution(fmt.Sprintf("edge %s of %s bends where the slashes are hinged, beside a dart or pleat; true it by hand", edge, name))
		}
		mate.keepGrainInside()
		e.changed(mate.Edges[j].Name+", cut", name, was, mate.lines[j].length(), "mm")
	}
	return nil
}

// clearAcross is across, but refuses to run into or across a dart or pleat.
func (w *work) clearAcross(i int, at float64, dir geom.Point) (j int, b float64, err error) {
	if j, b, err = w.across(i, at, dir); err != nil {
		return 0, 0, err
	}
	if w.inMark(w.Edges[i].Name, at) || w.inMark(w.Edges[j].Name, b) {
		return 0, 0, refuse(fmt.Sprintf("a slash in piece %q would run into a dart or pleat", w.Name), "turn it elsewhere first")
	}
	return j, b, w.keepsDarts(w.lines[i].path().At(at), w.lines[j].path().At(b), "")
}
