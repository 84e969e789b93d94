package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// gatheredFrom is the fullness from which a layer is drawn up in gathers; below
// it the length is worked in as ease (common practice).
const gatheredFrom = 1.1

// fill slashes and spreads the layers and draws them up at their basted edges.
func (l *layering) fill() (*operation.Answer, error) {
	e := begin(l.p)
	for _, name := range l.under {
		w := e.piece(l.outer[name])
		i, err := l.slashedFrom(w)
		if err != nil {
			return nil, err
		}
		was := w.lines[i].length()
		sewn := was
		if u := l.lyingUnder(w.Name, w.Edges[i].Name); u != nil {
			sewn = e.sewnBefore(u.Piece, u.Edge)
		}
		w.touched = true
		if target := l.Ratio * sewn; target-was > cutSliver {
			full, err := l.spreadLayer(w, i, target)
			if err != nil {
				return nil, err
			}
			e.replace(w, full)
			w = full
			w.keepGrainInside()
		}
		e.changed("layer, cut width along "+w.Edges[i].Name, w.Name, sewn, w.lines[i].length(), "mm")
	}
	for _, name := range l.basted {
		s := &e.seams[slices.IndexFunc(e.seams, func(s pattern.Seam) bool { return s.Name == name })]
		meeting, err := e.drawUp(s.A[0], s.B[0])
		if err != nil {
			return nil, err
		}
		s.Meeting.Kind = meeting
	}
	for _, name := range l.own { // what was folded away there is drawn up too
		s := &e.seams[slices.IndexFunc(e.seams, func(s pattern.Seam) bool { return s.Name == name })]
		for _, r := range slices.Concat(s.A, s.B) {
			meeting, err := e.drawUp(r, pattern.EdgeRef{Piece: l.underOf(r.Piece), Edge: r.Edge})
			if err != nil {
				return nil, err
			}
			if meeting == pattern.Gathered && s.Meeting.Kind == pattern.Plain {
				s.Meeting.Kind = meeting
			}
		}
	}
	for _, r := range l.free {
		w := e.piece(r.Piece)
		e.changed(r.Edge+", hangs free and is hemmed", r.Piece, 0, w.lines[w.EdgeIndex(r.Edge)].length(), "mm")
	}
	return e.finish()
}

// drawUp draws a layer's edge up to the edge under it, and returns how the two
// meet.
func (e *edit) drawUp(r, under pattern.EdgeRef) (pattern.MeetingKind, error) {
	w := e.piece(r.Piece)
	flat, sewn := w.lines[w.EdgeIndex(r.Edge)].length(), e.sewnBefore(under.Piece, under.Edge)
	switch over := flat - sewn; {
	case math.Abs(over) < fits:
		return pattern.Plain, nil
	case over < 0:
		return "", refuse(fmt.Sprintf("edge %q of the layer measures %.1f mm, and edge %q of piece %q under it %.1f", r.Edge, flat, under.Edge, under.Piece, sewn),
			"ask for more fullness, or baste the layer at other edges")
	}
	kind, meeting := pattern.Ease, pattern.Plain
	if flat/sewn >= gatheredFrom {
		kind, meeting = pattern.Gathers, pattern.Gathered
	}
	w.fresh.gathers = append(w.fresh.gathers, pattern.Gather{
		Name: freshName(w, gatherName(kind, r.Edge)), Edge: r.Edge, Kind: kind, To: flat, Length: sewn,
	})
	e.changed(fmt.Sprintf("layer, drawn up along %s", r.Edge), w.Name, flat, sewn, "mm")
	return meeting, nil
}

// underOf returns the piece that a layer lies over.
func (l *layering) underOf(outer string) string {
	for _, under := range l.under {
		if l.outer[under] == outer {
			return under
		}
	}
	return ""
}

// slashedFrom returns the edge of a layer that it is slashed from.
func (l *layering) slashedFrom(w *work) (int, error) {
	for _, role := range []string{pattern.Waist, pattern.Hem} {
		if slices.ContainsFunc(w.Edges, func(e pattern.Edge) bool { return e.Is() == role }) {
			return w.edgeOf(role)
		}
	}
	return 0, refuse(fmt.Sprintf("piece %q has neither a waist nor a hem to slash the layer from", w.Name), "give one of the edges of the piece under it that role")
}

// lyingUnder returns the edge under an edge of a layer, nil where it is not
// basted.
func (l *layering) lyingUnder(piece, edge string) *pattern.EdgeRef {
	for _, name := range l.basted {
		if s := l.p.Seam(name); s.A.Has(piece, edge) {
			return &s.B[0]
		}
	}
	return nil
}

// spreadLayer returns the layer spread until its edge i measures target mm.
func (l *layering) spreadLayer(w *work, i int, target float64) (*work, error) {
	cuts, err := l.slashes(w, i)
	if err != nil {
		return nil, err
	}
	full, ok, err := w.spreadTo(i, target, equalTolerance/10, func(growth float64) []slash {
		open := slices.Clone(cuts)
		for k := range open {
			open[k].openA = growth / float64(len(open))
			open[k].openB = open[k].openA
		}
		return open
	})
	if err == nil && !ok {
		err = refuse(fmt.Sprintf("edge %q of the layer over piece %q cannot be spread to %.1f mm", w.Edges[i].Name, l.underOf(w.Name), target), "ask for less fullness")
	}
	return full, err
}

const (
	// leastPlaces and placesEach are how many places along an edge are looked at
	// for slashes: so many, or so many for each slash. mostPlaces is all: four for
	// each of the 50 that a step may ask for.
	leastPlaces, placesEach, mostPlaces = 40, 4, 200
	// slashClear is how far in mm a slash of a layer keeps from corners.
	slashClear = 8.0
)

// slashes places the slashes of a layer, closed: from edge i along the grain,
// evenly over that part of the edge from which they lead neither into a seam of
// the layer's own, which would open, nor out at the side or the armscye.
func (l *layering) slashes(w *work, i int) ([]slash, error) {
	long, dir := w.lines[i].length(), w.grainDirection(i)
	grid := min(max(leastPlaces, placesEach*l.Slashes), mostPlaces)
	var places []slash
	for k := range grid {
		a := long * (float64(k) + 0.5) / float64(grid)
		if a < slashClear || a > long-slashClear {
			continue
		}
		j, b, err := w.across(i, a, dir)
		if err != nil || b < slashClear || b > w.lines[j].length()-slashClear {
			continue
		}
		e := w.Edges[j]
		sewn := e.Finish == pattern.Fold || e.Finish == pattern.Sewn && l.lyingUnder(w.Name, e.Name) == nil
		if !sewn && e.Is() != pattern.Side && e.Is() != pattern.Armscye {
			places = append(places, slash{i: i, a: a, j: j, b: b})
		}
	}
	if len(places) < l.Slashes {
		return nil, refuse(fmt.Sprintf("there is no room for %d slashes along the grain from edge %q of piece %q", l.Slashes, w.Edges[i].Name, w.Name),
			"ask for fewer, or for a fullness of 1 and add it elsewhere")
	}
	var cuts []slash
	for k := range l.Slashes {
		cuts = append(cuts, places[len(places)*(2*k+1)/(2*l.Slashes)])
	}
	slices.Reverse(cuts) // from the far end: what is cut already does not move what is not
	return cuts, nil
}
