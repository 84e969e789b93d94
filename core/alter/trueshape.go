package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// TurnRound lists the edges of a piece that runs clockwise the other way round,
// as every other piece has them. Of all pieces where piece is empty.
//
// Kept: the shape, to the last digit; every dart, pleat, gather and notch stays
// on its spot, every seam joins what it joined. Changed: the order of the edges
// and the direction of each; with it the places along them, the way folds are
// pressed as told by the edge's ends, and the direction in which seams walk
// them. The lineage tells edge for edge, each from end to end: it cannot say
// that one runs the other way.
//
// Degenerate: a piece that runs counter-clockwise is left alone.
func TurnRound(p *pattern.Pattern, piece string) (*operation.Answer, error) {
	if piece != "" && p.Piece(piece) == nil {
		return nil, refuse(fmt.Sprintf("the pattern has no piece %q", piece), "")
	}
	out := p.Clone()
	a := &operation.Answer{Pattern: out}
	for i := range out.Pieces {
		w := &out.Pieces[i]
		if piece != "" && w.Name != piece || w.Boundary().Area() >= 0 {
			continue
		}
		a.Changes = append(a.Changes, operation.Change{What: "area as the walk round it tells", Piece: w.Name, Before: w.Boundary().Area() / 100, After: -w.Boundary().Area() / 100, Unit: "cm²"})
		turnRound(w)
		for k := range out.Seams {
			turnRefs(out.Seams[k].A, w.Name)
			turnRefs(out.Seams[k].B, w.Name)
		}
	}
	a.Lineage = pattern.Same(out)
	for i := range a.Lineage {
		s := &a.Lineage[i]
		s.Old.To = p.Piece(s.Old.Piece).Edge(s.Old.Edge).Path.Length()
	}
	return a, nil
}

func turnRefs(r pattern.Run, piece string) {
	for i := range r {
		if r[i].Piece == piece {
			r[i].Backwards = !r[i].Backwards
		}
	}
}

func turnRound(w *pattern.Piece) {
	long := make(map[string]float64, len(w.Edges))
	corners := make([]pattern.Corner, len(w.Edges)) // at the start of each edge
	for i, e := range w.Edges {
		long[e.Name] = e.Path.Length()
		corners[i] = w.Edges[(i+len(w.Edges)-1)%len(w.Edges)].Corner
	}
	for i := range w.Edges {
		w.Edges[i].Path = w.Edges[i].Path.Reverse()
		w.Edges[i].Corner = corners[i]
	}
	slices.Reverse(w.Edges[1:]) // the first stays the first
	turn := func(p pattern.Pressed) pattern.Pressed {
		switch p {
		case pattern.PressedToStart:
			return pattern.PressedToEnd
		case pattern.PressedToEnd:
			return pattern.PressedToStart
		}
		return p
	}
	for i := range w.Darts {
		d := &w.Darts[i]
		d.From, d.To, d.Pressed = long[d.Edge]-d.To, long[d.Edge]-d.From, turn(d.Pressed)
	}
	for i := range w.Pleats {
		d := &w.Pleats[i]
		d.From, d.To, d.Pressed = long[d.Edge]-d.To, long[d.Edge]-d.From, turn(d.Pressed)
	}
	for i := range w.Gathers {
		d := &w.Gathers[i]
		d.From, d.To = long[d.Edge]-d.To, long[d.Edge]-d.From
	}
	for i := range w.Notches {
		w.Notches[i].At = long[w.Notches[i].Edge] - w.Notches[i].At
	}
}

// FoldTruing says which fold is straightened.
type FoldTruing struct {
	Piece, Edge string // edge empty: every fold of the piece; piece empty: of every piece
	Bound       float64
}

// StraightenFold draws a fold as one straight line between its ends.
//
// Kept: both corners. Changed: the fold; notches on it keep their share of its
// length. Units: mm.
//
// Degenerate: a straight fold is left alone; an edge that is no fold, and a line
// that would move by more than the bound, is refused.
func StraightenFold(p *pattern.Pattern, o FoldTruing) (*operation.Answer, error) {
	e := begin(p)
	if o.Piece != "" && e.piece(o.Piece) == nil {
		return nil, refuse(fmt.Sprintf("the pattern has no piece %q", o.Piece), "")
	}
	for _, w := range e.pieces {
		if o.Piece != "" && w.Name != o.Piece {
			continue
		}
		if o.Edge != "" && w.Name == o.Piece {
			i, err := w.named(o.Edge)
			if err != nil {
				return nil, err
			}
			if w.Edges[i].Finish != pattern.Fold {
				return nil, refuse(fmt.Sprintf("edge %q of piece %q is no fold", o.Edge, w.Name), "")
			}
		}
		for i, l := range w.lines {
			if w.Edges[i].Finish != pattern.Fold || o.Edge != "" && w.Edges[i].Name != o.Edge || l.path().Straight(cutSliver) {
				continue
			}
			w.touched = true
			before := l.length()
			w.lines[i] = redrawn(geom.Path{geom.Line(l.start(), l.end())}, wholeOf(l))
			e.changed("length of the fold "+w.Edges[i].Name, w.Name, before, w.lines[i].length(), "mm")
		}
	}
	return e.bounded(o.Bound)
}

// Outlining says which outlines are put in order.
type Outlining struct {
	Piece string // empty: on every piece
	// Within is how near in mm two points must lie to be one.
	Within float64
	Bound  float64
}

// TrueOutline lists the edges of a clockwise piece the other way round, as
// TurnRound does, and drops points that lie on one another, as DropPoints does.
func TrueOutline(p *pattern.Pattern, o Outlining) (*operation.Answer, error) {
	a, err := TurnRound(p, o.Piece)
	if err != nil {
		return nil, err
	}
	return then(a, func(p *pattern.Pattern) (*operation.Answer, error) { return DropPoints(p, o) })
}

// DropPoints drops points of an outline that lie on the one before them, as a
// digitising table leaves where the hand rests, and pieces of line too short to
// be anything. What lies between two such points goes; the line or curve beside
// it takes its end.
//
// Kept: every corner between edges. Changed: what is left of the edge, by no
// more than the distance asked for. Units: mm.
//
// Degenerate: an edge that is one line is left alone. A line that would move by
// more than the bound is refused.
func DropPoints(p *pattern.Pattern, o Outlining) (*operation.Answer, error) {
	if o.Within <= 0 {
		return nil, refuse("points are one when they lie near one another, and how near was not said", "give a distance of more than 0 mm")
	}
	e := begin(p)
	if o.Piece != "" && e.piece(o.Piece) == nil {
		return nil, refuse(fmt.Sprintf("the pattern has no piece %q", o.Piece), "")
	}
	for _, w := range e.pieces {
		if o.Piece != "" && w.Name != o.Piece {
			continue
		}
		dropped := 0
		for i := range w.lines {
			fresh := w.lines[i].withoutCrumbs(o.Within)
			dropped += len(w.lines[i]) - len(fresh)
			if len(fresh) < len(w.lines[i]) {
				w.lines[i], w.touched = fresh, true
			}
		}
		if dropped > 0 {
			e.changed("needless points", w.Name, float64(dropped), 0, "")
		}
	}
	return e.bounded(o.Bound)
}

// withoutCrumbs drops strands shorter than within, the neighbour taking their
// place and their past. The ends of the line stay.
func (l line) withoutCrumbs(within float64) line {
	out := l.join()
	for i := 0; i < len(out) && len(out) > 1; {
		if out[i].seg.Length() > within {
			i++
			continue
		}
		crumb := out[i]
		if i > 0 {
			out[i-1].seg.P1 = crumb.seg.P1
			if crumb.old.Piece != "" && out[i-1].old.Piece != "" {
				out[i-1].old.To = crumb.old.To
			}
		} else {
			out[1].seg.P0 = crumb.seg.P0
			if crumb.old.Piece != "" && out[1].old.Piece != "" {
				out[1].old.From = crumb.old.From
			}
		}
		out = slices.Delete(out, i, i+1)
	}
	return out
}

// GrainInside puts a grainline that leaves its piece back inside: parallel to
// where it was, through the middle, over six tenths of the piece. Of every piece
// where piece is empty.
//
// Kept: every line, and the grain's direction. Degenerate: a grainline that lies
// inside, and a piece without one, is left alone.
func GrainInside(p *pattern.Pattern, piece string) (*operation.Answer, error) {
	e := begin(p)
	if piece != "" && e.piece(piece) == nil {
		return nil, refuse(fmt.Sprintf("the pattern has no piece %q", piece), "")
	}
	for _, w := range e.pieces {
		if piece != "" && w.Name != piece {
			continue
		}
		was := w.Grain
		w.keepGrainInside()
		if w.Grain != was {
			e.changed("length of the grainline", w.Name, was.From.Dist(was.To), w.Grain.From.Dist(w.Grain.To), "mm")
		}
	}
	return e.finish()
}

// DrawUp sets what the gathers of a seam come down to such that its sides agree:
// each of the gathers on the fuller side by the same ratio.
//
// Kept: every line, and what is not gathered. Changed: the gathers' lengths. Of
// the gathered seam furthest from agreeing where seam is empty. Degenerate: a
// seam that agrees is left alone; one without gathers, with gathers on both
// sides, or whose gathers would have to be let out longer than they are flat, is
// refused.
func DrawUp(p *pattern.Pattern, seam string) (*operation.Answer, error) {
	e := begin(p)
	var found *pattern.Seam
	worst := equalTolerance
	p = e.in
	for i := range p.Seams {
		s := &p.Seams[i]
		if seam != "" && s.Name != seam || len(s.B) == 0 || s.Meeting.Kind != pattern.Gathered {
			continue
		}
		if off := math.Abs(p.RunLength(s.A) - p.RunLength(s.B)); off > worst {
			found, worst = s, off
		}
	}
	if seam != "" && p.Seam(seam) == nil {
		return nil, refuse(fmt.Sprintf("the pattern has no seam %q", seam), "")
	}
	if found == nil {
		return e.finish()
	}
	a, b := e.gathersOn(found.A), e.gathersOn(found.B)
	want := p.RunLength(found.B) - p.RunLength(found.A)
	switch {
	case len(a) > 0 && len(b) > 0:
		return nil, refuse(fmt.Sprintf("both sides of seam %q are gathered", found.Name), "say by hand which is to give way")
	case len(a)+len(b) == 0:
		return nil, refuse(fmt.Sprintf("neither side of seam %q is gathered", found.Name), "put gathers on the fuller side first")
	case len(a) == 0:
		a, want = b, -want
	}
	drawn := 0.0
	for _, g := range a {
		drawn += g.Length
	}
	if drawn+want <= 0 {
		return nil, refuse(fmt.Sprintf("the gathers of seam %q would have to come down to nothing", found.Name), "narrow the fuller side")
	}
	for _, g := range a {
		was := g.Length
		g.Length *= (drawn + want) / drawn
		e.changed("gathers "+g.Name+" drawn up to", "", was, g.Length, "mm")
	}
	for _, w := range e.pieces { // validated: gathers longer than their stretch are none
		w.touched = w.touched || len(w.Gathers) > 0
	}
	return e.finish()
}

// gathersOn returns the gathers on a run's edges.
func (e *edit) gathersOn(r pattern.Run) []*pattern.Gather {
	var found []*pattern.Gather
	for _, ref := range r {
		w := e.piece(ref.Piece)
		for i := range w.Gathers {
			if w.Gathers[i].Edge == ref.Edge {
				found = append(found, &w.Gathers[i])
			}
		}
	}
	return found
}
