package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Join says which seam is cut away.
type Join struct {
	Seam string
	// Name and Title are the joined piece's; empty are those of the piece on side
	// A, which stays in place.
	Name, Title string
	// MaxGap is how far apart in mm the two seam edges may lie anywhere when the
	// pieces are laid together; more is refused. 0 asks for an exact fit.
	MaxGap float64
}

// JoinPieces makes one piece of two by laying them together along a seam and
// leaving it out. Side A's piece stays in place; the other is moved, not bent.
//
// Kept: where both seam edges are one line, every length and shape, the area,
// and what stands on the border or inside; SplitPiece is the inverse, and split
// and joined a piece is what it was to 1e-9 mm. Edges that run on across the seam
// and are sewn or finished as one become one edge. Changed: where the edges
// differ the pieces are laid middle to middle, the largest gap is told, the edges
// that run across are brought together halfway, and what they gain or lose is
// recorded as ease of their seams.
//
// Degenerate: a gap over MaxGap, a seam to a mirror image, of several edges a
// side or of a piece to itself, one with a dart or fullness in it, and pieces cut
// in different numbers are refused.
func JoinPieces(p *pattern.Pattern, o Join) (*operation.Answer, error) {
	e := begin(p)
	j, err := e.joint(o.Seam)
	if err != nil {
		return nil, err
	}
	a, b := j.a, j.b
	if a.w == b.w {
		return nil, refuse(fmt.Sprintf("seam %q joins piece %q to itself", o.Seam, a.w.Name), "that would make a tube, which cannot be laid flat")
	}
	if err := e.joinable(j, o); err != nil {
		return nil, err
	}
	onto, gap := congruent(a, b)
	if gap > math.Max(o.MaxGap, congruence) {
		return nil, refuse(fmt.Sprintf("laid together along seam %q, pieces %q and %q gape or overlap by up to %.1f mm", o.Seam, a.w.Name, b.w.Name, gap),
			"allow a wider gap if the shape may be lost, or keep the seam")
	}
	areas := areaOf(a.w.boundary()) + areaOf(b.w.boundary())
	seamLength, name := a.length(), a.w.Name
	e.seams = slices.DeleteFunc(e.seams, func(s pattern.Seam) bool { return s.Name == o.Seam })
	e.fuse(a, b, onto)
	w := a.w
	w.keepGrainInside()
	w.Title = cmpOr(o.Title, w.Title)
	e.changed("gap between the edges of seam "+o.Seam+", laid together", "", gap, 0, "mm")
	e.changed("seam "+o.Seam, "", seamLength, 0, "mm")
	e.changed("area of both pieces together, in square centimetres", "", areas, areaOf(w.boundary()), "")
	answer, err := e.finish()
	if err != nil {
		return nil, err
	}
	if fresh := cmpOr(o.Name, name); fresh != name {
		rename(answer, name, fresh)
	}
	recordEase(p, answer)
	return answer, nil
}

// joinable refuses what could not be sewn, or not cut, as one piece.
func (e *edit) joinable(j seamJoint, o Join) error {
	a, b := j.a, j.b
	if err := j.faceUp(); err != nil {
		return err
	}
	for _, s := range []side{a, b} {
		if err := e.plainSide(s); err != nil {
			return err
		}
	}
	switch {
	case a.w.Cut.Count*timesOnFold(a.w) != b.w.Cut.Count*timesOnFold(b.w):
		return refuse(fmt.Sprintf("of piece %q %d are wanted and of piece %q %d", a.w.Name, a.w.Cut.Count*timesOnFold(a.w), b.w.Name, b.w.Cut.Count*timesOnFold(b.w)),
			"join pieces that are cut in the same number")
	case o.Name != "" && o.Name != a.w.Name && o.Name != b.w.Name && e.piece(o.Name) != nil:
		return refuse(fmt.Sprintf("the pattern has a piece %q already", o.Name), "give the joined piece another name")
	case o.Name != "" && !pattern.ValidName(o.Name):
		return refuse(fmt.Sprintf("a piece cannot be called %q", o.Name), "use lower-case letters, digits and hyphens")
	}
	return nil
}

// timesOnFold is 2 for a piece on the fold, which makes two halves.
func timesOnFold(w *work) int {
	if w.OnFold() {
		return 2
	}
	return 1
}

// ringEdge is one edge of the joined piece on its way.
type ringEdge struct {
	pattern.Edge
	line       line
	head, tail pattern.EdgeRef // the edges of the input that it begins and ends with
}

// fuse lays b's piece to a's and takes both seam edges out.
func (e *edit) fuse(a, b side, onto geom.Affine) {
	w, q := a.w, b.w
	w.touched = true
	first := w.Edges[0].Name
	if w.OnFold() != q.OnFold() { // two halves cut in a pair join a piece on the fold
		w.Cut = pattern.Cut{Count: w.Cut.Count * timesOnFold(w) / 2}
	}
	var ring []ringEdge
	for k := w.next(a.i); k != a.i; k = w.next(k) {
		ref := pattern.EdgeRef{Piece: w.Name, Edge: w.Edges[k].Name}
		ring = append(ring, ringEdge{w.Edges[k], w.lines[k], ref, ref})
	}
	joint := len(ring) // the first of q's edges
	for k := q.next(b.i); k != b.i; k = q.next(k) {
		ref := pattern.EdgeRef{Piece: q.Name, Edge: q.Edges[k].Name}
		ring = append(ring, ringEdge{q.Edges[k], q.lines[k].transform(onto), ref, ref})
	}
	meet(&ring[joint-1], &ring[joint], true)
	meet(&ring[len(ring)-1], &ring[0], false)
	names := map[string]bool{}
	for k := range ring {
		name := ring[k].Name
		for n := 2; names[ring[k].Name]; n++ {
			ring[k].Name = fmt.Sprintf("%s.%d", name, n)
		}
		names[ring[k].Name] = true
	}
	// Lines that run on across the seam become one, under w's name.
	if x, y := ring[joint-1], ring[joint]; e.runOn(x, y) {
		x.line, x.tail, x.Corner = x.line.join(y.line), y.tail, y.Corner
		ring[joint-1] = x
		ring = slices.Delete(ring, joint, joint+1)
	}
	if last := len(ring) - 1; last > 0 && e.runOn(ring[last], ring[0]) {
		ring[0].line, ring[0].head = ring[last].line.join(ring[0].line), ring[last].head
		ring = ring[:last]
	}
	w.Edges, w.lines = nil, nil
	for _, r := range ring {
		w.Edges, w.lines = append(w.Edges, r.Edge), append(w.lines, r.line)
	}
	w.startAt(first)
	w.heal()
	e.absorb(w, q, onto)
}

// meet brings the end of x and the start of y to one point: where they differ,
// halfway, else to where the edge that stays in place has it.
func meet(x, y *ringEdge, xStays bool) {
	a, b := x.line.end(), y.line.start()
	if a.Near(b, cutSliver) {
		at := b
		if xStays {
			at = a
		}
		x.line, y.line = x.line.snapEnds(x.line.start(), at), y.line.snapEnds(at, y.line.end())
		return
	}
	mid := a.Lerp(b, 0.5)
	one := &work{lines: []line{x.line, y.line}}
	one.moveEnd(0, false, mid)
	one.moveEnd(1, true, mid)
	x.line, y.line = one.lines[0], one.lines[1]
}

// runOn reports whether edge y carries on edge x: they are of one role and
// finish, and no seam takes them, or one that sews them one after the other.
func (e *edit) runOn(x, y ringEdge) bool {
	if x.Is() != y.Is() || x.Finish != y.Finish || x.Allowance != y.Allowance {
		return false
	}
	sewn := false
	for _, s := range e.seams {
		for _, run := range []pattern.Run{s.A, s.B} {
			sewn = sewn || run.Has(x.tail.Piece, x.tail.Edge) || run.Has(y.head.Piece, y.head.Edge)
			for k := 1; k < len(run); k++ {
				p, q := run[k-1], run[k]
				if p.Backwards {
					p, q = q, p
				}
				if p.Backwards == q.Backwards && p.Piece == x.tail.Piece && p.Edge == x.tail.Edge && q.Piece == y.head.Piece && q.Edge == y.head.Edge {
					return true
				}
			}
		}
	}
	return !sewn
}

// absorb gives w what stands on and in q, which is no piece of its own any more.
// Marks on edges are carried over with all others when the edit is finished.
func (e *edit) absorb(w, q *work, onto geom.Affine) {
	for i := range q.Darts {
		q.Darts[i].Name = freshName(w, q.Darts[i].Name)
		q.Darts[i].Point = onto.Apply(q.Darts[i].Point)
	}
	for i := range q.Pleats {
		q.Pleats[i].Name = freshName(w, q.Pleats[i].Name)
	}
	for i := range q.Gathers {
		q.Gathers[i].Name = freshName(w, q.Gathers[i].Name)
	}
	for _, m := range q.Landmarks {
		if w.Landmark(m.Name) == nil {
			w.Landmarks = append(w.Landmarks, pattern.Landmark{Name: m.Name, At: onto.Apply(m.At)})
		}
	}
	if !w.Grain.Given() && q.Grain.Given() {
		w.Grain = pattern.Grain{From: onto.Apply(q.Grain.From), To: onto.Apply(q.Grain.To)}
	}
	e.pieces = slices.DeleteFunc(e.pieces, func(x *work) bool { return x == q })
	e.absorbed = append(e.absorbed, q)
}

// rename gives a piece of an answer another name.
func rename(a *operation.Answer, old, name string) {
	if p := a.Pattern.Piece(old); p != nil {
		p.Name = name
	}
	for i := range a.Pattern.Seams {
		for _, run := range []pattern.Run{a.Pattern.Seams[i].A, a.Pattern.Seams[i].B} {
			for k := range run {
				if run[k].Piece == old {
					run[k].Piece = name
				}
			}
		}
	}
	for i := range a.Lineage {
		if a.Lineage[i].New.Piece == old {
			a.Lineage[i].New.Piece = name
		}
	}
	for i := range a.Changes {
		if a.Changes[i].Piece == old {
			a.Changes[i].Piece = name
		}
	}
}

// recordEase lets seams whose sides came to differ, because edges were brought
// together, say that they are eased by as much, and tells it.
func recordEase(before *pattern.Pattern, a *operation.Answer) {
	p := a.Pattern
	for i := range p.Seams {
		s := &p.Seams[i]
		old := before.Seam(s.Name)
		if old == nil || len(s.B) == 0 {
			continue
		}
		was := before.RunLength(old.B) - before.RunLength(old.A)
		now := p.RunLength(s.B) - p.RunLength(s.A)
		if math.Abs(now-was) <= cutSliver {
			continue
		}
		switch {
		case s.Meeting.Kind == pattern.Plain:
			s.Meeting = pattern.Meeting{Kind: pattern.Eased, Ease: pattern.Range{Min: min(0, now), Max: max(0, now)}}
		case s.Meeting.Kind == pattern.Eased && s.Meeting.Ease.Given():
			s.Meeting.Ease.Min, s.Meeting.Ease.Max = min(s.Meeting.Ease.Min, now), max(s.Meeting.Ease.Max, now)
		}
		a.Changes = append(a.Changes, operation.Change{What: "ease in seam " + s.Name, Before: was, After: now, Unit: "mm"})
	}
}
