package alter

import (
	"fmt"
	"math"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// MadeUp is where the width that a new dart takes comes from.
type MadeUp string

// LetOut lets the piece out at the neighbouring edge; MateEased eases the edge
// sewn to it onto what is left; TakenIn makes the garment that much narrower.
const (
	LetOut    MadeUp = "let-out"
	MateEased MadeUp = "mate-eased"
	TakenIn   MadeUp = "taken-in"
)

// NewDart says what dart is added.
type NewDart struct {
	Piece, Edge string
	Name        string  // empty: named after the edge
	At          float64 // mm along the edge to the middle of the mouth
	Intake      float64 // mm the dart takes up at the edge
	Depth       float64 // mm from the edge to the point
	MadeUp      MadeUp
	// Neighbour names the edge to let out at; empty takes the one that is not a
	// fold or centre, with more room.
	Neighbour string
}

const (
	// letOutRoom is how many times the intake there must be of edge between the
	// dart and the corner it is let out at: with less the edge would bend visibly.
	letOutRoom = 2
	// minSwing is the least length in mm of the neighbouring edge that can swing out.
	minSwing = 30
	// easeSpan is over how many times its amount ease is spread: a tenth shrinks
	// into wool, from memory.
	easeSpan = 10
	// mostEase in mm shows when it is exceeded (CWU, costume-construction course
	// text, ch. 11: usually no more than 1½ to 2 in).
	mostEase = 2 * 25.4
)

// AddDart puts a dart of a given intake into an edge, square to it, its legs
// equal, its mouth trued and capped. The width it takes up is made up for:
// let out at the neighbouring edge, whose corner moves out while the edge
// itself stays as long as it was; or eased in on the edges sewn to it; or, where
// no seam takes the edge, taken in.
//
// Kept: let out, the sewn length of the edge and of its neighbour, and the angle
// of their corner, exactly; eased, every line of the other piece. Changed: taken
// in, the edge is shorter sewn by the intake.
//
// Degenerate: a dart over another mark, outside the piece, or without room
// beside it is refused; so is taking in an edge that is in a seam.
func AddDart(p *pattern.Pattern, o NewDart) (*operation.Answer, error) {
	e := begin(p)
	w, i, err := e.edgeNamed(o.Piece, o.Edge)
	if err != nil {
		return nil, err
	}
	if o.Intake <= 0 || o.Depth < shortestDart {
		return nil, refuse(fmt.Sprintf("a dart of %.1f mm intake and %.1f mm depth cannot be sewn", o.Intake, o.Depth),
			fmt.Sprintf("give it an intake, and a depth of %d mm or more", shortestDart))
	}
	from, to := o.At-o.Intake/2, o.At+o.Intake/2
	total := w.lines[i].length()
	if lo, hi := w.freeAround(o.Edge, from, to, total); w.covered(o.Edge, from, to) || from-lo < minTrue || hi-to < minTrue {
		return nil, refuse(fmt.Sprintf("there is no room for a dart of %.1f mm at %.1f mm along edge %q of piece %q", o.Intake, o.At, o.Edge, w.Name),
			"choose another place, clear of corners and other marks")
	}
	w.touched = true
	path := w.lines[i].path()
	f, t := path.At(from), path.At(to)
	middle := f.Lerp(t, 0.5)
	d := pattern.Dart{
		Name: o.Name, Edge: o.Edge, From: from, To: to, Point: middle.Add(t.Sub(f).Unit().Left().Mul(o.Depth)),
	}
	if d.Name == "" {
		d.Name = freshName(w, o.Edge+"-dart")
	}
	if w.beyond(d.Point) {
		return nil, refuse(fmt.Sprintf("a dart of %.1f mm depth would point out of piece %q", o.Depth, w.Name), "make it shorter")
	}
	sewn := e.sewnBefore(w.Name, o.Edge)
	after := sewn
	switch o.MadeUp {
	case LetOut:
		shift, err := e.letOutAt(w, i, d, o)
		if err != nil {
			return nil, err
		}
		d.From, d.To = d.From+shift, d.To+shift
	case MateEased:
		if err := e.easeMate(w, o); err != nil {
			return nil, err
		}
		after -= o.Intake
	case TakenIn:
		if len(e.in.SeamsOf(w.Name, o.Edge)) > 0 {
			return nil, refuse(fmt.Sprintf("edge %q of piece %q is sewn to another and cannot just be taken in", o.Edge, w.Name), "let the width out, or ease the mate")
		}
		after -= o.Intake
	default:
		return nil, refuse(fmt.Sprintf("the width of a dart cannot be made up by %q", o.MadeUp), "use let-out, mate-eased or taken-in")
	}
	w.fresh.darts = append(w.fresh.darts, d)
	e.changedFirst(0, "mouth of "+d.Name, w.Name, 0, o.Intake, "mm")
	e.changedFirst(1, o.Edge+", sewn", w.Name, sewn, after, "mm")
	a, err := e.finish()
	if err != nil {
		return nil, err
	}
	return then(a, func(p *pattern.Pattern) (*operation.Answer, error) {
		return CapDart(p, Capping{Piece: o.Piece, Dart: d.Name})
	})
}

// covered reports whether a mark of the input overlaps a stretch of an edge.
func (w *work) covered(edge string, from, to float64) bool {
	over := func(on string, a, b float64) bool { return on == edge && a < to && b > from }
	for _, d := range w.Darts {
		if over(d.Edge, d.From, d.To) {
			return true
		}
	}
	for _, f := range w.Pleats {
		if over(f.Edge, f.From, f.To) {
			return true
		}
	}
	for _, g := range w.Gathers {
		if over(g.Edge, g.From, g.To) {
			return true
		}
	}
	return false
}

// letOutAt moves the corner between edge i and its neighbour out until the edge
// has gained the intake and the neighbour measures what it did. It returns by
// how much places on edge i moved along it.
func (e *edit) letOutAt(w *work, i int, d pattern.Dart, o NewDart) (shift float64, err error) {
	atEnd, err := w.letOutEnd(i, d, o.Neighbour)
	if err != nil {
		return 0, err
	}
	l, total := w.lines[i], w.lines[i].length()
	n := w.next(i)
	if !atEnd {
		n = w.prev(i)
	}
	m, long := w.lines[n], w.lines[n].length()
	// What is free between the last mark and the corner, on either edge.
	edgeFrom, edgeTo := w.freeAround(o.Edge, total, total, total)
	nextFrom, nextTo := w.freeAround(w.Edges[n].Name, 0, 0, long)
	if !atEnd {
		edgeFrom, edgeTo = w.freeAround(o.Edge, 0, 0, total)
		nextFrom, nextTo = w.freeAround(w.Edges[n].Name, long, long, long)
		edgeTo = math.Min(edgeTo, d.From)
	} else {
		edgeFrom = math.Max(edgeFrom, d.To)
	}
	if edgeTo-edgeFrom < letOutRoom*o.Intake || nextTo-nextFrom < minSwing {
		return 0, refuse(fmt.Sprintf("there is no room to let piece %q out by %.1f mm between edges %q and %q", w.Name, o.Intake, o.Edge, w.Edges[n].Name),
			"put the dart further from the corner, make it smaller, or ease the mate")
	}
	headE, partE := l.split(edgeFrom)
	partE, tailE := partE.split(edgeTo - edgeFrom)
	headN, partN := m.split(nextFrom)
	partN, tailN := partN.split(nextTo - nextFrom)
	var out, along geom.Point
	move := func(v geom.Point) (line, line) { return partE.swept(v), partN.sweptStart(v) }
	if atEnd {
		out, along = l.path().EndDirection(), m.path().StartDirection()
	} else {
		out, along = l.path().StartDirection().Mul(-1), m.path().EndDirection().Mul(-1)
		move = func(v geom.Point) (line, line) { return partE.sweptStart(v), partN.swept(v) }
	}
	wantE := total + o.Intake - headE.pathLength() - tailE.pathLength()
	wantN := long - headN.pathLength() - tailN.pathLength()
	freshE, freshN, ok := settleCorner(move, out, along, o.Intake, wantE, wantN)
	if !ok {
		return 0, refuse(fmt.Sprintf("piece %q cannot be let out by %.1f mm at edge %q", w.Name, o.Intake, w.Edges[n].Name), "ask for less")
	}
	w.lines[i] = headE.join(freshE, tailE)
	w.lines[n] = headN.join(freshN, tailN)
	w.heal()
	w.keepGrainInside()
	e.changed("let out at the "+w.Edges[n].Name, w.Name, 0, o.Intake, "mm")
	e.changed(w.Edges[n].Name, w.Name, long, w.lines[n].length(), "mm")
	if atEnd {
		return 0, nil
	}
	return o.Intake, nil
}

// settleCorner finds how a corner has to move for its two edges to come to the
// lengths wanted: by Newton's method from a first move along one of them.
func settleCorner(move func(geom.Point) (line, line), out, along geom.Point, first, wantE, wantN float64) (a, b line, ok bool) {
	const tries, h = 40, 1e-4
	x, y := first, 0.0
	off := func(x, y float64) (float64, float64) {
		a, b = move(out.Mul(x).Add(along.Mul(y)))
		return a.length() - wantE, b.length() - wantN
	}
	for range tries {
		f, g := off(x, y)
		if math.Abs(f) < equalTolerance/10 && math.Abs(g) < equalTolerance/10 {
			return a, b, true
		}
		fx, gx := off(x+h, y)
		fy, gy := off(x, y+h)
		a11, a12, a21, a22 := (fx-f)/h, (fy-f)/h, (gx-g)/h, (gy-g)/h
		det := a11*a22 - a12*a21
		if math.Abs(det) < cutSliver {
			return nil, nil, false
		}
		x -= (f*a22 - g*a12) / det
		y -= (g*a11 - f*a21) / det
	}
	return nil, nil, false
}

// letOutEnd reports whether the edge is let out at its end rather than its start.
func (w *work) letOutEnd(i int, d pattern.Dart, neighbour string) (atEnd bool, err error) {
	switch {
	case neighbour == "":
	case w.Edges[w.next(i)].Name == neighbour:
		return true, nil
	case w.Edges[w.prev(i)].Name == neighbour:
		return false, nil
	default:
		return false, refuse(fmt.Sprintf("edge %q is no neighbour of %q on piece %q", neighbour, d.Edge, w.Name),
			fmt.Sprintf("name %q or %q", w.Edges[w.prev(i)].Name, w.Edges[w.next(i)].Name))
	}
	fixed := func(k int) bool {
		is := w.Edges[k].Is()
		return w.Edges[k].Finish == pattern.Fold || is == pattern.CentreFront || is == pattern.CentreBack
	}
	before, after := fixed(w.prev(i)), fixed(w.next(i))
	switch {
	case before && after:
		return false, refuse(fmt.Sprintf("edge %q of piece %q has a fold or centre at both ends", d.Edge, w.Name), "name the edge to let out at, or ease the mate")
	case before != after:
		return before, nil
	}
	return w.lines[i].length()-d.To > d.From, nil
}

// easeMate records on the edge sewn to a place that it is eased in by the intake
// there.
func (e *edit) easeMate(w *work, o NewDart) error {
	seams := e.in.SeamsOf(w.Name, o.Edge)
	if len(seams) != 1 || len(seams[0].B) == 0 {
		return refuse(fmt.Sprintf("edge %q of piece %q has no other piece's edge sewn to it that could be eased", o.Edge, w.Name), "let the width out instead")
	}
	s := seams[0]
	mine, other := s.A, s.B
	if s.B.Has(w.Name, o.Edge) {
		mine, other = s.B, s.A
	}
	at := e.in.RunLength(other) / e.in.RunLength(mine) * sewnAlong(e.in, mine, w.Name, o.Edge, o.At)
	ref, flat, ok := flatAlong(e.in, other, at)
	if !ok {
		return refuse(fmt.Sprintf("nothing is sewn to edge %q of piece %q at %.1f mm", o.Edge, w.Name, o.At), "choose another place")
	}
	mate := e.piece(ref.Piece)
	long := mate.lines[mate.EdgeIndex(ref.Edge)].length()
	lo, hi := mate.freeAround(ref.Edge, flat, flat, long)
	span := easeSpan * o.Intake
	from, to := math.Max(lo, flat-span/2), math.Min(hi, flat+span/2)
	if mate.covered(ref.Edge, from, to) || to-from < span/2 {
		return refuse(fmt.Sprintf("edge %q of piece %q has no room to ease in %.1f mm", ref.Edge, mate.Name, o.Intake), "make the dart smaller, or let the width out")
	}
	g := pattern.Gather{Name: freshName(mate, gatherName(pattern.Ease, ref.Edge)), Edge: ref.Edge, From: from, To: to, Length: to - from - o.Intake, Kind: pattern.Ease}
	mate.fresh.gathers = append(mate.fresh.gathers, g)
	e.changed("eased in on the "+ref.Edge, mate.Name, 0, o.Intake, "mm")
	if o.Intake > mostEase {
		e.caution(fmt.Sprintf("%.0f mm of ease on edge %s of %s will show; try it on scrap first", o.Intake, ref.Edge, mate.Name))
	}
	return nil
}

// sewnAlong is how far along a run, sewn, a place on one of its edges lies.
func sewnAlong(p *pattern.Pattern, run pattern.Run, piece, edge string, at float64) float64 {
	done := 0.0
	for _, ref := range run {
		q := p.Piece(ref.Piece)
		long := q.SewnLength(ref.Edge)
		if ref.Piece == piece && ref.Edge == edge {
			s := q.SewnPosition(edge, at)
			if ref.Backwards {
				s = long - s
			}
			return done + s
		}
		done += long
	}
	return done
}

// flatAlong returns the edge and the place on it, flat, at sewn mm along a run.
func flatAlong(p *pattern.Pattern, run pattern.Run, sewn float64) (ref pattern.EdgeRef, at float64, ok bool) {
	for k, r := range run {
		q := p.Piece(r.Piece)
		long := q.SewnLength(r.Edge)
		if sewn > long && k < len(run)-1 {
			sewn -= long
			continue
		}
		sewn = math.Min(sewn, long)
		if r.Backwards {
			sewn = long - sewn
		}
		return r, q.FlatPosition(r.Edge, sewn), true
	}
	return pattern.EdgeRef{}, 0, false
}
