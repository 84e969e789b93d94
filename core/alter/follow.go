package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// What is sewn onto an edge has to go with it. An operation alters the pieces it
// is about; anything else that is basted, bound, faced, banded or placketed onto
// one of their edges follows here, when the edit is finished, or the operation is
// refused here: in one place, whatever the operation.
//
// A straight strip follows: it is cut longer or shorter, whatever stands beyond
// the sewn stretch staying as it is. So does an interlining, in mount.go. A shaped
// piece cannot be guessed: what was drafted from the edge as it was has to be
// drafted after it has changed.

// followEdges lets what is sewn to an altered edge follow it, and refuses where
// it cannot. It comes before notches are brought into step.
func (e *edit) followEdges(out *pattern.Pattern, l pattern.Lineage) error {
	altered := map[string]bool{}
	for _, w := range slices.Concat(e.pieces, e.absorbed) {
		altered[w.Name] = w.touched
	}
	for _, old := range e.in.Seams {
		s := out.Seam(old.Name)
		if s == nil {
			continue // the operation took it apart itself
		}
		if len(old.B) > 0 && (len(s.A) == 0 || len(s.B) == 0) {
			lost, kept := old.A, s.B
			if len(s.B) == 0 {
				lost, kept = old.B, s.A
			}
			return refuse(fmt.Sprintf("%s is sewn to %s, which would be part of another edge", sideName(kept), sideName(lost)),
				"make this alteration before "+namesOf(kept)+" is put on")
		}
		if len(s.B) == 0 || slices.Contains(e.settled, s.Name) || !meets(e.in, &old) || meets(out, s) {
			continue
		}
		for _, sides := range [2][2]pattern.Run{{s.B, s.A}, {s.A, s.B}} {
			still, moved := sides[0], sides[1]
			if slices.ContainsFunc(still, func(r pattern.EdgeRef) bool { return altered[r.Piece] }) {
				continue
			}
			if e.stretchStrip(out, l, still, out.RunLength(moved)) {
				break
			}
			return e.cannotFollow(out, still, moved)
		}
	}
	return nil
}

// cannotFollow is the refusal of an operation that would part two edges, of which
// it has altered one.
func (e *edit) cannotFollow(out *pattern.Pattern, still, moved pattern.Run) error {
	by := out.RunLength(moved) - out.RunLength(still)
	how := "longer"
	if by < 0 {
		how = "shorter"
	}
	return refuse(fmt.Sprintf("%s is sewn to %s, which would become %.1f mm %s", sideName(still), sideName(moved), math.Abs(by), how),
		"make this alteration before "+namesOf(still)+" is put on")
}

// meets reports whether a seam's sides come to one length as it says.
func meets(p *pattern.Pattern, s *pattern.Seam) bool {
	if len(s.B) == 0 {
		return true
	}
	over := p.RunLength(s.B) - p.RunLength(s.A)
	if s.Meeting.Kind != pattern.Eased {
		return math.Abs(over) <= sewnAlike
	}
	bounds := s.Meeting.Ease
	return !bounds.Given() || bounds.Holds(over, sewnAlike)
}

// sewnAlike is by how much in mm two sides of a seam may differ: what the pairing
// check lets pass.
const sewnAlike = 0.1

// sideName names the edges of one side of a seam for a refusal.
func sideName(r pattern.Run) string {
	if len(r) == 0 {
		return "nothing"
	}
	text := fmt.Sprintf("the %s of piece %q", r[0].Edge, r[0].Piece)
	if len(r) > 1 {
		text += " with what follows it"
	}
	return text
}

// namesOf names the pieces of one side of a seam, each once.
func namesOf(r pattern.Run) string {
	text := ""
	var seen []string
	for _, ref := range r {
		if slices.Contains(seen, ref.Piece) {
			continue
		}
		seen = append(seen, ref.Piece)
		if text != "" {
			text += " and "
		}
		text += fmt.Sprintf("%q", ref.Piece)
	}
	return text
}

// stretchStrip cuts a straight strip longer or shorter so that its edge measures
// long mm, and reports whether it is one. What lies beyond the ends of the edge,
// as a lap does, keeps its length.
func (e *edit) stretchStrip(out *pattern.Pattern, l pattern.Lineage, run pattern.Run, long float64) bool {
	if len(run) != 1 {
		return false
	}
	p := out.Piece(run[0].Piece)
	edge := p.Edge(run[0].Edge)
	u := edge.Path.End().Sub(edge.Path.Start()).Unit()
	if !squareStrip(p, u) || len(p.Darts)+len(p.Pleats)+len(p.Gathers) > 0 || long < minSlash {
		return false
	}
	from, was := edge.Path.Start().Dot(u), edge.Path.Length()
	move := func(q geom.Point) geom.Point {
		on := q.Dot(u) - from
		switch {
		case on <= cutSliver:
			return q
		case on >= was-cutSliver:
			return q.Add(u.Mul(long - was))
		}
		return q.Add(u.Mul(on/was*long - on))
	}
	e.changed(fmt.Sprintf("%s, cut to the edge it is sewn to", edge.Name), p.Name, was, long, "mm")
	places := make([]geom.Point, len(p.Notches))
	for i, n := range p.Notches {
		places[i] = move(p.Edge(n.Edge).Path.At(n.At))
	}
	for i := range p.Edges {
		path := slices.Clone(p.Edges[i].Path)
		for k := range path {
			path[k].P0, path[k].P1 = move(path[k].P0), move(path[k].P1)
		}
		p.Edges[i].Path = path
	}
	for i, n := range p.Notches {
		p.Notches[i].At = p.Edge(n.Edge).Path.Start().Dist(places[i]) // the edge is straight
	}
	for i := range p.Landmarks {
		p.Landmarks[i].At = move(p.Landmarks[i].At)
	}
	p.Grain.From, p.Grain.To = move(p.Grain.From), move(p.Grain.To)
	for i := range l { // it was as it arrived: one span an edge
		if s := &l[i]; s.New.Piece == p.Name {
			s.New.To = p.Edge(s.New.Edge).Path.Length()
		}
	}
	return true
}

// squareStrip reports whether all edges of a piece are straight lines along u
// or across it.
func squareStrip(p *pattern.Piece, u geom.Point) bool {
	for _, edge := range p.Edges {
		dir := edge.Path.End().Sub(edge.Path.Start()).Unit()
		if !edge.Path.Straight(cutSliver) || math.Min(math.Abs(dir.Dot(u)), math.Abs(dir.Cross(u))) > cutSliver {
			return false
		}
	}
	return true
}
