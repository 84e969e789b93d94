package alter

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// edit is one operation's working copy of a pattern.
type edit struct {
	in       *pattern.Pattern // without what is mounted on its pieces
	full     *pattern.Pattern // as it came
	mounts   []mount
	pieces   []*work
	absorbed []*work          // pieces of the input that are part of another one now
	seams    []pattern.Seam   // refer to the input's edges, but for those in made
	made     []pattern.Seam   // drawn by the operation: refer to the new edges
	settled  []string         // seams of the input whose notches are in step already
	restep   []string         // seams of the input whose notches may be out of step though no edge was redrawn
	laid     map[edgeKey]bool // gathers, by piece and name, that were moved along their edge
	changes  []operation.Change
	cautions []string
}

// work is one piece under work. Its marks still name places on the input's
// edges and are carried over when the edit is finished; what the operation
// itself adds goes into fresh, with places on the new edges.
type work struct {
	pattern.Piece
	lines   []line // the edges' paths, parallel to Edges
	fresh   marks
	touched bool
	// copied is set on a piece traced from others, as a facing is: its lineage
	// tells so, but what is on those and sewn to them stays with them.
	copied bool
}

// marks are things on edges, named by piece.
type marks struct {
	darts   []pattern.Dart
	pleats  []pattern.Pleat
	gathers []pattern.Gather
	notches []pattern.Notch
}

// begin starts an edit of p. Interlinings that are mounted on their outers are
// dismounted: e.in is p without them, and what is asked of the input is asked of
// that.
func begin(p *pattern.Pattern) *edit {
	in, mounts := dismount(p)
	c := in.Clone()
	e := &edit{in: in, full: p, mounts: mounts, seams: c.Seams}
	for _, piece := range c.Pieces {
		w := &work{Piece: piece}
		for _, edge := range piece.Edges {
			w.lines = append(w.lines, traced(piece.Name, edge.Name, edge.Path))
		}
		e.pieces = append(e.pieces, w)
	}
	return e
}

// piece returns the piece of that name, or nil.
func (e *edit) piece(name string) *work {
	i := slices.IndexFunc(e.pieces, func(w *work) bool { return w.Name == name })
	if i < 0 {
		return nil
	}
	return e.pieces[i]
}

// role returns the pieces of that role.
func (e *edit) role(role pattern.Role) []*work {
	var found []*work
	for _, w := range e.pieces {
		if w.Role == role {
			found = append(found, w)
		}
	}
	return found
}

// edgeOf returns the position of the only edge of that role on the piece, or
// says what is in the way.
func (w *work) edgeOf(role string) (int, error) {
	found := -1
	for i, e := range w.Edges {
		if e.Is() != role {
			continue
		}
		if found >= 0 {
			return 0, refuse(fmt.Sprintf("piece %q has more than one %s edge", w.Name, role),
				"join them into one, or name the edge that is meant")
		}
		found = i
	}
	if found < 0 {
		return 0, refuse(fmt.Sprintf("piece %q has no %s edge", w.Name, role),
			fmt.Sprintf("give one of its edges the role %s; or, where an earlier step took that edge up, take this step before it", role))
	}
	return found, nil
}

// named returns the position of the edge of that name on the piece.
func (w *work) named(name string) (int, error) {
	if i := w.EdgeIndex(name); i >= 0 {
		return i, nil
	}
	return 0, refuse(fmt.Sprintf("piece %q has no edge %q", w.Name, name), "its edges are "+strings.Join(w.EdgeNames(), ", "))
}

// pieceNamed returns the piece of that name, or says which there are.
func (e *edit) pieceNamed(name string) (*work, error) {
	if w := e.piece(name); w != nil {
		return w, nil
	}
	for _, m := range e.mounts {
		if m.Name == name {
			return nil, refuse(fmt.Sprintf("piece %q is mounted on piece %q, and is cut as that is", name, m.outer), fmt.Sprintf("alter piece %q", m.outer))
		}
	}
	return nil, refuse(fmt.Sprintf("the pattern has no piece %q", name), "its pieces are "+strings.Join(e.in.PieceNames(), ", "))
}

// edgeNamed returns the piece of that name and the position of its edge of that
// name, or says which of them there is not.
func (e *edit) edgeNamed(piece, edge string) (*work, int, error) {
	w, err := e.pieceNamed(piece)
	if err != nil {
		return nil, 0, err
	}
	i, err := w.named(edge)
	return w, i, err
}

// oneOf is what to do where a step wants one piece of a role and there are n.
func oneOf(n int) string {
	if n == 0 {
		return "give one piece that role"
	}
	return "take this step before the piece is divided or drawn out whole, or let one piece alone have that role"
}

// refuse returns the refusal an operation ends in when it cannot be done.
func refuse(why, instead string) error { return &operation.Refusal{Why: why, Instead: instead} }

// next and prev walk the boundary.
func (w *work) next(i int) int { return (i + 1) % len(w.lines) }
func (w *work) prev(i int) int { return (i + len(w.lines) - 1) % len(w.lines) }

// outline returns the boundary as points, for telling which side a thing is on.
func (w *work) outline() []geom.Point {
	var path geom.Path
	for _, l := range w.lines {
		path = append(path, l.path()...)
	}
	return path.Flatten(sideTolerance)
}

// sideTolerance is how closely in mm a boundary is followed to tell on which
// side of a cut a landmark lies: none is placed more finely by hand.
const sideTolerance = 0.5

// onPart reports whether a point belongs to the part of a piece that a walk along
// its boundary bounds; region is that part's outline. A landmark often stands on the boundary itself, a corner as a rule, and
// belongs to the part that has that stretch.
func onPart(p geom.Point, walk []line, region []geom.Point) bool {
	if geom.Contains(region, p) {
		return true
	}
	for _, l := range walk {
		for _, s := range l {
			box := s.seg.Bounds()
			if p.X < box.Min.X-sideTolerance || p.X > box.Max.X+sideTolerance || p.Y < box.Min.Y-sideTolerance || p.Y > box.Max.Y+sideTolerance {
				continue
			}
			if _, d := (geom.Path{s.seg}).Nearest(p); d <= sideTolerance {
				return true
			}
		}
	}
	return false
}

// movePoints maps the piece's dart points and landmarks that lie on the part.
// The grainline stays: the part that is left in place is the one whose grain
// counts, and it may only have to be put back inside the piece.
func (w *work) movePoints(walk []line, region []geom.Point, m geom.Affine) {
	move := func(p *geom.Point) {
		if onPart(*p, walk, region) {
			*p = m.Apply(*p)
		}
	}
	for i := range w.Darts {
		move(&w.Darts[i].Point)
	}
	for i := range w.Landmarks {
		move(&w.Landmarks[i].At)
	}
}

// keepsDarts refuses a straight cut that would run across a dart other than
// but: its mouth would go with one part and its point with the other. The piece
// must be as it arrived. A cut that only touches a dart, as at its point, parts
// nothing.
func (w *work) keepsDarts(a, b geom.Point, but string) error {
	for _, d := range w.Darts {
		i := w.EdgeIndex(d.Edge)
		if i < 0 || d.Name == but {
			continue
		}
		path := w.lines[i].path()
		for _, foot := range []geom.Point{path.At(d.From), path.At(d.To)} {
			if crosses(a, b, foot, d.Point) {
				return refuse(fmt.Sprintf("the cut would run across dart %q of piece %q", d.Name, w.Name),
					"turn or let out that dart first, or cut elsewhere")
			}
		}
	}
	return nil
}

// crosses reports whether the straight lines a–b and c–d cut each other, both
// sides of both.
func crosses(a, b, c, d geom.Point) bool {
	beside := func(p, q, r geom.Point) float64 { // mm of r to the left of p→q
		side := q.Sub(p).Unit().Cross(r.Sub(p))
		if math.Abs(side) < cutSliver {
			return 0
		}
		return side
	}
	return beside(a, b, c)*beside(a, b, d) < 0 && beside(c, d, a)*beside(c, d, b) < 0
}

// changed notes one measured difference.
func (e *edit) changed(what, piece string, before, after float64, unit string) {
	e.changes = append(e.changes, operation.Change{What: what, Piece: piece, Before: before, After: after, Unit: unit})
}

// changedFirst is changed for what a reader should be told first: it goes
// before all that was told since there were n.
func (e *edit) changedFirst(n int, what, piece string, before, after float64, unit string) {
	e.changes = slices.Insert(e.changes, n, operation.Change{What: what, Piece: piece, Before: before, After: after, Unit: unit})
}

// caution adds something to look out for, once.
func (e *edit) caution(text string) {
	if !slices.Contains(e.cautions, text) {
		e.cautions = append(e.cautions, text)
	}
}

// sewnBefore is the sewn length of an edge of the input.
func (e *edit) sewnBefore(piece, edge string) float64 {
	if p := e.in.Piece(piece); p != nil {
		return p.SewnLength(edge)
	}
	return 0
}
