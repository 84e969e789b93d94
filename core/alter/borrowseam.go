package alter

import (
	"fmt"
	"maps"
	"slices"

	"bygone.example/core/pattern"
)

// match finds, for every seam that the part has in its own pattern, the one it
// joins here.
func (b *borrowing) match() error {
	sockets := map[int]bool{} // seams here that what is replaced leaves open
	for i, s := range b.here.Seams {
		a, mixedA := allOf(s.A, b.removed)
		c, mixedC := allOf(s.B, b.removed)
		switch {
		case mixedA || mixedC:
			return refuse(fmt.Sprintf("seam %q has what would be replaced and what stays on one side", s.Name), "divide that seam first")
		case a != c && len(s.B) > 0:
			sockets[i] = true
		}
	}
	for _, s := range b.outer {
		j, err := b.joint(s, sockets)
		if err != nil {
			return err
		}
		if j.old >= 0 {
			delete(sockets, j.old)
		}
		b.joints = append(b.joints, j)
	}
	for i, s := range b.here.Seams { // in the pattern's order
		if sockets[i] {
			return refuse(fmt.Sprintf("what would be replaced is sewn to %s in seam %q, and what is borrowed has nothing for it", runText(b.rest(s)), s.Name),
				"take that seam apart first, or borrow a part that is sewn there too")
		}
	}
	for _, role := range []string{pattern.Waist, pattern.Neckline} {
		if err := b.leftOver(role); err != nil {
			return err
		}
	}
	return nil
}

// rest is the side of a seam here that stays.
func (b *borrowing) rest(s pattern.Seam) pattern.Run {
	if all, _ := allOf(s.A, b.removed); all {
		return s.B
	}
	return s.A
}

// sideOf returns one side of a seam.
func sideOf(s *pattern.Seam, isB bool) pattern.Run {
	if isB {
		return s.B
	}
	return s.A
}

// joint finds what a seam of the part joins here.
func (b *borrowing) joint(s pattern.Seam, sockets map[int]bool) (joint, error) {
	part := map[string]bool{}
	for _, piece := range b.group {
		part[piece.Name] = true
	}
	j := joint{old: -1, name: s.Name, meeting: s.Meeting}
	var was pattern.Run // what the part is sewn to in the lender
	if all, _ := allOf(s.B, part); all {
		j.group, was, j.groupIsB = slices.Clone(s.B), s.A, true
	} else {
		j.group, was = slices.Clone(s.A), s.B
	}
	if s.Kind == pattern.Basted {
		return j, refuse(fmt.Sprintf("the part is basted to another layer in seam %q of pattern %q", s.Name, b.Lender.Name), "borrow the layer with layer.over")
	}
	var groupHere pattern.Run
	for i, t := range b.here.Seams {
		own, other := t.B, t.A
		if all, _ := allOf(t.A, b.removed); all {
			own, other = t.A, t.B
		}
		if sockets[i] && !sameParts(b.Lender, j.group, b.here, own) && shareParts(b.Lender, j.group, b.here, own) {
			return j, refuse(fmt.Sprintf("%s is sewn on in seam %q in pattern %q, and here %s in seam %q: they do not match", runText(j.group), s.Name, b.Lender.Name, runText(own), t.Name),
				"borrow from a pattern that is put together alike")
		}
		if sockets[i] && sameParts(b.Lender, j.group, b.here, own) {
			if j.old >= 0 {
				return j, refuse(fmt.Sprintf("%s is sewn on in one seam in pattern %q, and in more than one here", runText(j.group), b.Lender.Name),
					"join those seams first")
			}
			j.old, j.rest, groupHere = i, slices.Clone(other), own
		}
	}
	if j.old < 0 {
		rest, err := b.free(was, j.group)
		if err != nil {
			return j, err
		}
		j.rest = rest
	} else {
		if isB := slices.Equal(b.here.Seams[j.old].B, groupHere); isB != j.groupIsB { // ease is counted from A to B
			j.groupIsB = isB
			j.meeting.Ease = pattern.Range{Min: -j.meeting.Ease.Max, Max: -j.meeting.Ease.Min}
			if j.meeting.Kind != pattern.Eased {
				j.meeting.Ease = pattern.Range{}
			}
		}
	}
	if otherWay(b.Lender, was, b.here, j.rest) {
		slices.Reverse(j.group)
		for i := range j.group {
			j.group[i].Backwards = !j.group[i].Backwards
		}
		was = backwards(was)
	}
	if was[0].Backwards != j.rest[0].Backwards {
		b.otherHand = true
	}
	return j, nil
}

// edgePart names an edge by what it is, wherever it is called otherwise.
type edgePart struct {
	piece pattern.Role
	edge  string
}

func partOf(p *pattern.Pattern, r pattern.EdgeRef) edgePart {
	piece := p.Piece(r.Piece)
	role := piece.Role
	if role == "" {
		role = pattern.Role(piece.Name)
	}
	return edgePart{role, piece.Edge(r.Edge).Is()}
}

// sameParts reports whether two runs are made of the same sorts of edges of the
// same sorts of pieces.
func sameParts(p *pattern.Pattern, a pattern.Run, q *pattern.Pattern, b pattern.Run) bool {
	return maps.Equal(partsOf(p, a), partsOf(q, b))
}

// shareParts reports whether they have any of them in common.
func shareParts(p *pattern.Pattern, a pattern.Run, q *pattern.Pattern, b pattern.Run) bool {
	y := partsOf(q, b)
	for k := range partsOf(p, a) {
		if y[k] {
			return true
		}
	}
	return false
}

func partsOf(p *pattern.Pattern, r pattern.Run) map[edgePart]bool {
	m := map[edgePart]bool{}
	for _, ref := range r {
		m[partOf(p, ref)] = true
	}
	return m
}

func backwards(r pattern.Run) pattern.Run {
	r = slices.Clone(r)
	slices.Reverse(r)
	for i := range r {
		r[i].Backwards = !r[i].Backwards
	}
	return r
}

// otherWay reports whether run b begins where run a ends, by what lies beside
// their ends: the edge that goes on from there, and whose it is. Runs that do
// not tell count as running the same way.
func otherWay(p *pattern.Pattern, a pattern.Run, q *pattern.Pattern, b pattern.Run) bool {
	startA, endA := besideStart(p, a), besideStart(p, backwards(a))
	startB, endB := besideStart(q, b), besideStart(q, backwards(b))
	score := func(x, y [2]edgePart) int {
		n := 0
		for i := range x {
			if x[i] == y[i] {
				n++
			}
		}
		return n
	}
	return score(startA, endB)+score(endA, startB) > score(startA, startB)+score(endA, endB)
}

// besideStart names the first edge of a run and the edge beside its start.
func besideStart(p *pattern.Pattern, r pattern.Run) [2]edgePart {
	piece := p.Piece(r[0].Piece)
	i, n := piece.EdgeIndex(r[0].Edge), len(piece.Edges)
	k := (i + n - 1) % n
	if r[0].Backwards {
		k = (i + 1) % n
	}
	return [2]edgePart{partOf(p, r[0]), partOf(p, pattern.EdgeRef{Piece: piece.Name, Edge: piece.Edges[k].Name})}
}

// free finds the edges here that answer to those that the part is sewn to in
// its own pattern, and that no seam takes yet.
func (b *borrowing) free(was, group pattern.Run) (pattern.Run, error) {
	var rest pattern.Run
	for _, ref := range was {
		k := partOf(b.Lender, ref)
		wanted := fmt.Sprintf("in pattern %q, %s is sewn to the %s of %s", b.Lender.Name, runText(group), k.edge, k.piece)
		var found []pattern.EdgeRef
		for _, piece := range b.here.Pieces {
			for _, edge := range piece.Edges {
				r := pattern.EdgeRef{Piece: piece.Name, Edge: edge.Name, Backwards: ref.Backwards}
				if !b.removed[piece.Name] && partOf(b.here, r) == k {
					found = append(found, r)
				}
			}
		}
		if len(found) == 0 {
			return nil, refuse(wanted+", and there is no such edge here", "give the piece and the edge that are meant these roles")
		}
		if len(found) > 1 {
			return nil, refuse(fmt.Sprintf("%s, and there are %d of them here", wanted, len(found)), "join them with piece.join first, or before they are divided")
		}
		at := found[0]
		for _, s := range b.here.SeamsOf(at.Piece, at.Edge) {
			if s.Kind == pattern.Joined || s.A.Has(at.Piece, at.Edge) {
				return nil, refuse(fmt.Sprintf("%s, and here that is sewn in seam %q already", wanted, s.Name), "take what is sewn there off first")
			}
		}
		if finish := b.here.Edge(at).Finish; finish == pattern.Fold {
			return nil, refuse(wanted+", and here that is on the fold", "cut the piece whole first")
		} else if finish != pattern.Sewn {
			b.e.caution(fmt.Sprintf("The %s of %s was %s: it is sewn now, so leave that finish off.", at.Edge, at.Piece, finishText(finish)))
		}
		rest = append(rest, at)
	}
	return rest, nil
}

func finishText(f pattern.Finish) string {
	switch f {
	case pattern.Hemmed:
		return "hemmed"
	case pattern.Open:
		return "left open"
	}
	return string(f)
}

// leftOver refuses to sew a part to some of a bodice's edges of a role and leave
// others, as when the back is divided here and is not there.
func (b *borrowing) leftOver(role string) error {
	joined := map[pattern.EdgeRef]bool{}
	any := false
	for _, j := range b.joints {
		for _, r := range j.rest {
			joined[pattern.EdgeRef{Piece: r.Piece, Edge: r.Edge}] = true
			any = any || j.old < 0 && b.here.Edge(r).Is() == role
		}
	}
	if !any {
		return nil
	}
	for _, piece := range b.here.Pieces {
		if !slices.Contains([]pattern.Role{pattern.BodiceFront, pattern.BodiceBack, pattern.BodiceSideBack, pattern.BodiceSideFront}, piece.Role) {
			continue
		}
		for _, edge := range piece.EdgesByRole(role) {
			if !joined[pattern.EdgeRef{Piece: piece.Name, Edge: edge.Name}] && len(b.here.SeamsOf(piece.Name, edge.Name)) == 0 {
				return refuse(fmt.Sprintf("the %s of piece %q would be left over: pattern %q has no such piece", edge.Name, piece.Name, b.Lender.Name),
					"borrow before the bodice is divided")
			}
		}
	}
	return nil
}

// runText names the edges of a run.
func runText(r pattern.Run) string {
	s := ""
	for i, ref := range r {
		if i > 0 {
			s += " + "
		}
		s += ref.Piece + "/" + ref.Edge
	}
	return s
}
