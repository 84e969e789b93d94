package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// LeftHalf is what the name of an edge, a mark or a piece's other half ends in
// when the half pattern is drawn out whole.
const leftHalf = "left"

// Unfold draws a half pattern out whole, starting from a piece: a piece cut on the
// fold becomes one whole piece, a piece cut in pairs becomes two, itself and its
// mirror image, and so do the pieces that they are sewn to, as far as seams
// reach. After that the two sides of the garment can be altered apart.
//
// Kept: what is there, stays where it is; all that is new mirrors it exactly.
// Changed: an edge that ran up to the fold becomes one edge with its mirror
// image, and its seam takes both halves of the garment; any other edge and seam
// gets a twin whose name ends in .left; a seam that joined a piece to its own
// mirror image joins the two. The new half is line drawn anew: it has no lineage.
//
// Degenerate: a piece with more than one fold edge, a mark that would be
// doubled on the fold, and a piece that is neither on the fold nor cut in an even
// number though it is sewn to such a one are refused.
func Unfold(p *pattern.Pattern, piece string) (*operation.Answer, error) {
	e := begin(p)
	first, err := e.pieceNamed(piece)
	if err != nil {
		return nil, err
	}
	u := &unfolding{e: e, twins: map[string]string{}, merged: map[edgeKey]bool{}}
	group := e.sewnTo(first)
	for _, w := range group { // names first: seams need them all
		if err := w.trueDarts(); err != nil {
			return nil, err
		}
		switch {
		case w.OnFold():
			u.twins[w.Name] = w.Name
		case w.Cut.Count%2 == 0:
			u.twins[w.Name] = e.freshPiece(w.Name + "-" + leftHalf)
		default:
			return nil, refuse(fmt.Sprintf("piece %q is sewn to a half pattern, and is neither on the fold nor cut in pairs", w.Name),
				"cut it on the fold or in pairs, or unfold another piece")
		}
	}
	for _, w := range group {
		area, count := areaOf(w.boundary()), float64(w.Cut.Count)
		if u.twins[w.Name] != w.Name {
			u.mirrorCopy(w)
			e.changed("to cut", w.Name, count, float64(w.Cut.Count), "")
			continue
		}
		if err := u.whole(w); err != nil {
			return nil, err
		}
		e.changed("area, in square centimetres", w.Name, area, areaOf(w.boundary()), "")
	}
	if err := u.seams(); err != nil {
		return nil, err
	}
	return e.finish()
}

// MirrorPiece adds a mirror image of a piece to the pattern, under a name of its
// own, to be cut as often: for a garment whose two sides are to differ, or a piece
// drawn face down.
//
// Kept: everything there is. The copy's edges are left open, since no seam takes
// them yet; its lineage is none. Degenerate: a name that is taken is refused.
func MirrorPiece(p *pattern.Pattern, piece, name, title string) (*operation.Answer, error) {
	e := begin(p)
	w, err := e.pieceNamed(piece)
	if err != nil {
		return nil, err
	}
	if err := w.trueDarts(); err != nil {
		return nil, err
	}
	if name == "" {
		name = e.freshPiece(piece + "-mirrored")
	}
	if e.piece(name) != nil {
		return nil, refuse(fmt.Sprintf("the pattern has a piece %q already", name), "give the copy another name")
	}
	c := w.mirrored(name, w.mirror())
	c.Title = cmpOr(title, w.Title+", mirrored")
	for i := range c.Edges {
		if c.Edges[i].Finish == pattern.Sewn {
			c.Edges[i].Finish = pattern.Open
		}
	}
	e.pieces = slices.Insert(e.pieces, slices.Index(e.pieces, w)+1, c)
	e.changed("pieces", "", float64(len(p.Pieces)), float64(len(e.pieces)), "")
	e.caution(fmt.Sprintf("No seam takes piece %s yet: its edges are left open.", name))
	return e.finish()
}

// trueDarts refuses a piece with a dart of unequal legs: a mirror image would have
// the fault twice.
func (w *work) trueDarts() error {
	for _, d := range w.Darts {
		if i := w.EdgeIndex(d.Edge); i >= 0 {
			path := w.lines[i].path()
			if a, b := path.At(d.From).Dist(d.Point), path.At(d.To).Dist(d.Point); math.Abs(a-b) > legTolerance {
				return refuse(fmt.Sprintf("the legs of dart %q on piece %q measure %.1f and %.1f mm", d.Name, w.Name, a, b), "true the dart's legs first")
			}
		}
	}
	return nil
}

// sewnTo returns the piece and all those that seams join to it, one way or
// another, in the pattern's order.
func (e *edit) sewnTo(first *work) []*work {
	in := map[string]bool{first.Name: true}
	for grown := true; grown; {
		grown = false
		for _, s := range e.seams {
			run := slices.Concat(s.A, s.B)
			if !slices.ContainsFunc(run, func(r pattern.EdgeRef) bool { return in[r.Piece] }) {
				continue
			}
			for _, r := range run {
				grown = grown || !in[r.Piece]
				in[r.Piece] = true
			}
		}
	}
	var list []*work
	for _, w := range e.pieces {
		if in[w.Name] {
			list = append(list, w)
		}
	}
	return list
}

func (e *edit) freshPiece(name string) string {
	fresh := name
	for n := 2; e.piece(fresh) != nil; n++ {
		fresh = fmt.Sprintf("%s-%d", name, n)
	}
	return fresh
}

// mirror returns the reflection that lays the piece's mirror image beside it: in
// its fold, or upright and clear of its right edge.
func (w *work) mirror() geom.Affine {
	for i, e := range w.Edges {
		if e.Finish == pattern.Fold {
			return geom.Reflection(w.lines[i].start(), w.lines[i].end())
		}
	}
	x := w.boundary().Bounds().Max.X + mirrorGap/2
	return geom.Reflection(geom.Pt(x, 0), geom.Pt(x, 1))
}

// mirrorGap is how far in mm a mirror image is laid from its piece.
const mirrorGap = 40

// mirrored returns the piece's mirror image under another name, its edges in
// order the other way round, with all its marks on them.
func (w *work) mirrored(name string, m geom.Affine) *work {
	c := &work{touched: true, Piece: w.Piece.Clone()}
	c.Name = name
	c.Edges, c.Darts, c.Pleats, c.Gathers, c.Notches = nil, nil, nil, nil, nil
	for k := len(w.Edges) - 1; k >= 0; k-- {
		edge := w.Edges[k]
		edge.Path = nil
		// The corner treatment belongs to an edge's end: what was its start's now.
		edge.Corner = w.Edges[w.prev(k)].Corner
		c.Edges = append(c.Edges, edge)
		c.lines = append(c.lines, drawn(w.lines[k].path().Transform(m).Reverse()...))
	}
	for i := range c.Landmarks {
		c.Landmarks[i].At = m.Apply(c.Landmarks[i].At)
	}
	c.Grain = pattern.Grain{From: m.Apply(w.Grain.From), To: m.Apply(w.Grain.To)}
	c.fresh = w.mirroredMarks(m, func(edge string, at float64) (string, float64) {
		return edge, max(0, w.lines[w.EdgeIndex(edge)].length()-at)
	})
	return c
}

// mirroredMarks returns the mirror image of what is on the piece's edges; place
// says where a place on an edge has its image.
func (w *work) mirroredMarks(m geom.Affine, place func(edge string, at float64) (string, float64)) marks {
	other := map[pattern.Pressed]pattern.Pressed{pattern.PressedToStart: pattern.PressedToEnd, pattern.PressedToEnd: pattern.PressedToStart}
	var f marks
	for _, d := range w.Darts {
		edge, from, to := d.Edge, d.From, d.To
		d.Edge, d.From = place(edge, to)
		_, d.To = place(edge, from)
		d.Point, d.Pressed = m.Apply(d.Point), other[d.Pressed]
		f.darts = append(f.darts, d)
	}
	for _, x := range w.Pleats {
		edge, from, to := x.Edge, x.From, x.To
		x.Edge, x.From = place(edge, to)
		_, x.To = place(edge, from)
		x.Pressed = other[x.Pressed]
		f.pleats = append(f.pleats, x)
	}
	for _, g := range w.Gathers {
		edge, from, to := g.Edge, g.From, g.To
		g.Edge, g.From = place(edge, to)
		_, g.To = place(edge, from)
		f.gathers = append(f.gathers, g)
	}
	for _, n := range w.Notches {
		n.Edge, n.At = place(n.Edge, n.At)
		f.notches = append(f.notches, n)
	}
	return f
}

// unfolding is a half pattern on its way to be whole.
type unfolding struct {
	e      *edit
	twins  map[string]string // the piece that has the left half of a piece
	merged map[edgeKey]bool  // edges that are one with their mirror image now
}

// mirrorCopy makes two pieces of one cut in pairs.
func (u *unfolding) mirrorCopy(w *work) {
	c := w.mirrored(u.twins[w.Name], w.mirror())
	for i := range c.fresh.notches {
		c.fresh.notches[i].Name = u.leftNotch(w, w.Notches[i])
	}
	c.Title = w.Title + ", left"
	w.Title += ", right"
	w.Cut = pattern.Cut{Count: w.Cut.Count / 2}
	c.Cut = w.Cut
	w.touched = true
	u.e.pieces = slices.Insert(u.e.pieces, slices.Index(u.e.pieces, w)+1, c)
}

// leftNotch names the image of a notch: apart from the notch, so that both can
// stand in one seam, but for a seam to the mirror image, where the two meet.
func (u *unfolding) leftNotch(w *work, n pattern.Notch) string {
	for _, s := range u.e.in.SeamsOf(w.Name, n.Edge) {
		if len(s.B) == 0 {
			return n.Name
		}
	}
	return n.Name + "." + leftHalf
}

// whole unfolds a piece cut on the fold.
func (u *unfolding) whole(w *work) error {
	fold := -1
	for i, e := range w.Edges {
		switch {
		case e.Finish != pattern.Fold:
		case fold >= 0:
			return refuse(fmt.Sprintf("piece %q has more than one fold edge", w.Name), "join them into one, or make one a seam")
		default:
			fold = i
		}
	}
	for _, s := range u.e.seams {
		if s.A.Has(w.Name, w.Edges[fold].Name) || s.B.Has(w.Name, w.Edges[fold].Name) {
			return refuse(fmt.Sprintf("the fold of piece %q is sewn in seam %q", w.Name, s.Name), "it can be one or the other")
		}
	}
	w.touched = true
	m := w.mirror()
	after, before := w.next(fold), w.prev(fold)
	if after == before {
		return refuse(fmt.Sprintf("piece %q has one edge beside its fold", w.Name), "divide it at a corner first")
	}
	image := func(k int) line { return drawn(w.lines[k].path().Transform(m).Reverse()...) }
	twin := func(k int) pattern.Edge {
		edge := w.Edges[k]
		edge.Name, edge.Path = edge.Name+"."+leftHalf, nil
		edge.Corner = w.Edges[w.prev(k)].Corner
		return edge
	}
	// From the fold on: the edge after it with its image before it; the others up
	// to the edge before the fold, with its image behind it; the images of the
	// others on the way back.
	var edges []pattern.Edge
	var lines []line
	shift := w.lines[after].length() // the image of the first edge comes before it
	for k := after; k != fold; k = w.next(k) {
		l := w.lines[k]
		edge := w.Edges[k]
		switch k {
		case after:
			l = image(k).join(l)
			u.merged[edgeKey{w.Name, edge.Name}] = true
		case before:
			l = l.join(image(k))
			edge.Corner = w.Edges[w.prev(k)].Corner
			u.merged[edgeKey{w.Name, edge.Name}] = true
		}
		edges, lines = append(edges, edge), append(lines, l)
	}
	for k := w.prev(before); k != after; k = w.prev(k) {
		edges, lines = append(edges, twin(k)), append(lines, image(k))
	}
	first := w.Edges[0].Name
	long := map[string]float64{}
	for k := range w.Edges {
		long[w.Edges[k].Name] = w.lines[k].length()
	}
	nameAfter, nameBefore := w.Edges[after].Name, w.Edges[before].Name
	place := func(edge string, at float64) (string, float64) {
		switch edge {
		case nameAfter: // its image is walked first
			return edge, shift - at
		case nameBefore:
			return edge, 2*long[edge] - at
		}
		return edge + "." + leftHalf, max(0, long[edge]-at)
	}
	fresh := w.mirroredMarks(m, place)
	for i := range fresh.darts {
		fresh.darts[i].Name += "." + leftHalf
	}
	for i := range fresh.pleats {
		fresh.pleats[i].Name += "." + leftHalf
	}
	for i := range fresh.gathers {
		fresh.gathers[i].Name += "." + leftHalf
	}
	for i := range fresh.notches {
		fresh.notches[i].Name = u.leftNotch(w, w.Notches[i])
	}
	var images []pattern.Landmark
	for _, l := range w.Landmarks {
		if at := m.Apply(l.At); !at.Near(l.At, sideTolerance) { // one on the fold is its own image
			images = append(images, pattern.Landmark{Name: l.Name + "." + leftHalf, At: at})
		}
	}
	w.Landmarks = append(w.Landmarks, images...)
	w.fresh = fresh
	w.Edges, w.lines = edges, lines
	w.startAt(first)
	w.heal()
	return nil
}

// seams gives every seam of the unfolded pieces its other side of the garment.
func (u *unfolding) seams() error {
	e := u.e
	var twins []pattern.Seam
	for i := range e.seams {
		s := &e.seams[i]
		if u.twins[s.A[0].Piece] == "" {
			continue
		}
		if len(s.B) == 0 { // to its own mirror image: to its twin now
			s.B = nil
			mate := u.twin(s.A)
			e.made = append(e.made, pattern.Seam{Name: s.Name, A: s.A, B: mate, Meeting: pattern.Meeting{Kind: pattern.Plain}})
			s.A = nil
			continue
		}
		atStart, atEnd := u.ends(s.A)
		bStart, bEnd := u.ends(s.B)
		atStart, atEnd = atStart || bStart, atEnd || bEnd
		switch {
		case atStart && atEnd:
			return refuse(fmt.Sprintf("seam %q runs from fold to fold", s.Name), "divide it in two seams first")
		case !atStart && !atEnd:
			twins = append(twins, pattern.Seam{Name: freshSeamName(e, s.Name+"."+leftHalf), A: u.twin(s.A), B: u.twin(s.B), Meeting: s.Meeting, Kind: s.Kind})
			continue
		}
		// Through the middle: the left half is walked up to the fold, then the
		// right half, or the other way round; what was merged comes once.
		whole := func(r pattern.Run) pattern.Run {
			left := u.twin(r)
			slices.Reverse(left)
			for k := range left {
				left[k].Backwards = !left[k].Backwards
			}
			if atStart {
				if u.merged[edgeKey{r[0].Piece, r[0].Edge}] {
					left = left[:len(left)-1]
				}
				return slices.Concat(left, r)
			}
			if last := r[len(r)-1]; u.merged[edgeKey{last.Piece, last.Edge}] {
				left = left[1:]
			}
			return slices.Concat(r, left)
		}
		meeting := s.Meeting
		meeting.Ease.Min, meeting.Ease.Max = 2*meeting.Ease.Min, 2*meeting.Ease.Max
		e.made = append(e.made, pattern.Seam{Name: s.Name, A: whole(s.A), B: whole(s.B), Meeting: meeting, Kind: s.Kind})
		e.settled = append(e.settled, s.Name)
		s.A, s.B = nil, nil
	}
	e.seams = slices.DeleteFunc(e.seams, func(s pattern.Seam) bool { return len(s.A) == 0 })
	e.made = append(e.made, twins...)
	return nil
}

// ends reports whether the run starts or ends on a fold that is none any more.
func (u *unfolding) ends(r pattern.Run) (atStart, atEnd bool) {
	for k, ref := range r {
		if !u.merged[edgeKey{ref.Piece, ref.Edge}] {
			continue
		}
		// With one edge in the run, the fold is at the end where the fold was.
		old := u.e.in.Piece(ref.Piece)
		i := old.EdgeIndex(ref.Edge)
		foldBefore := old.Edges[(i+len(old.Edges)-1)%len(old.Edges)].Finish == pattern.Fold
		if foldBefore != ref.Backwards {
			atStart = atStart || k == 0
		} else {
			atEnd = atEnd || k == len(r)-1
		}
	}
	return atStart, atEnd
}

// twin returns the run on the other half of the garment, walked from the same
// end.
func (u *unfolding) twin(r pattern.Run) pattern.Run {
	t := make(pattern.Run, len(r))
	for k, ref := range r {
		name := ref.Edge
		if u.twins[ref.Piece] == ref.Piece && !u.merged[edgeKey{ref.Piece, ref.Edge}] {
			name += "." + leftHalf
		}
		t[k] = pattern.EdgeRef{Piece: u.twins[ref.Piece], Edge: name, Backwards: !ref.Backwards}
	}
	return t
}
