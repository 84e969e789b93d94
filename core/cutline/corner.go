package cutline

import (
	"fmt"
	"math"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// corner returns the line between the offset of a and that of b, and what must
// be trimmed off either for their cut lines to meet.
func (r *raw) corner(a, b *stretch, ta, tb *trim) []vertex {
	v := a.to
	pa, pb := a.final(), b.first()
	if pa.Near(pb, 1e-9) {
		return nil
	}
	turn := geom.Turn(a.end, b.start)
	switch {
	case turn < -smooth: // an inner corner: the lines cross, the trace finds where
		return []vertex{straight(v)}
	case turn <= smooth: // running on at another width: a step
		return nil
	}
	k := joint{a: a, b: b, ta: ta, tb: tb, v: v, turn: turn, wide: math.Max(a.width, b.width)}
	if a.last && r.asked[a.index].matched {
		a.corner = pattern.Matched
	}
	switch a.corner {
	case pattern.Square:
		return []vertex{straight(v)}
	case pattern.Bevel:
		return k.bevel()
	case pattern.Turned, pattern.Matched:
		join, ok := r.shaped(k)
		if ok {
			return join
		}
		r.note(Untreated, a.edge, v, fmt.Sprintf("the corner after %s cannot be %s: there is no room for it", a.edge, a.corner))
	}
	return r.meet(k)
}

// joint is an outer corner between two stretches.
type joint struct {
	a, b   *stretch
	ta, tb *trim
	v      geom.Point // on the seam line
	turn   float64
	wide   float64
}

// shaped draws a turned or matched corner; ok is false where there is no room.
func (r *raw) shaped(k joint) (join []vertex, ok bool) {
	if k.a.corner == pattern.Matched {
		seam := firstSewn(k.a.crossing, k.b.crossing)
		if ask, ok := r.asked[k.a.index]; ok {
			seam = ask.seam
		}
		return r.matched(k, seam == startsThere)
	}
	hem := k.turnedUp()
	if hem == nil {
		return k.mitredHem()
	}
	return r.turned(k, hem == k.a)
}

// turnedUp returns which allowance of a turned corner is turned up; of two hems
// of one width it is nil.
func (k joint) turnedUp() *stretch {
	a, b := k.a.finish == pattern.Hemmed, k.b.finish == pattern.Hemmed
	switch {
	case a && !b, a == b && k.a.width > k.b.width:
		return k.a
	case b && !a, a == b && k.b.width > k.a.width:
		return k.b
	case a:
		return nil
	}
	return k.a
}

// meet runs both lines on until they meet.
func (r *raw) meet(k joint) []vertex {
	a, b := k.a, k.b
	pa, pb := a.final(), b.first()
	sin, cos := math.Sincos(k.turn)
	if math.Abs(sin) >= 1e-9 {
		// Along a's line by t, back along b's by s, the two lines meet.
		t, s := (b.width-a.width*cos)/sin, (a.width-b.width*cos)/sin
		switch {
		case t >= 0 && s >= 0:
			if m := pa.Add(a.end.Mul(t)); m.Dist(k.v) <= MitreLimit*k.wide {
				return []vertex{straight(m)}
			}
		case t < 0 && s <= trimLimit*k.wide:
			// The wider line is cut short by the narrower one, run backwards.
			if m, ok := hit(a.line, pb, b.start.Mul(-1), trimLimit*k.wide, true); ok {
				k.ta.end = &m
			}
			return nil
		case s < 0 && t <= trimLimit*k.wide:
			if m, ok := hit(b.line, pa, a.end, trimLimit*k.wide, false); ok {
				k.tb.start = &m
			}
			return nil
		default:
			return nil // a shallow turn at two widths: a step
		}
	}
	where := "the corner after " + a.edge
	if !a.last {
		where = "a corner of " + a.edge
	}
	r.note(Bevelled, a.edge, k.v, where+" is too sharp for its cut lines to meet; it is bevelled")
	return k.bevel()
}

// bevel cuts the corner off square to its bisector, no nearer to the corner than
// the wider allowance, so that nowhere is less cloth left than was asked for.
func (k joint) bevel() []vertex {
	a, b := k.a, k.b
	pa, pb := a.final(), b.first()
	out := k.out()
	ka, kb := a.end.Dot(out), -b.start.Dot(out)
	if ka < 1e-9 || kb < 1e-9 {
		return nil
	}
	t, s := (k.wide-pa.Sub(k.v).Dot(out))/ka, (k.wide-pb.Sub(k.v).Dot(out))/kb
	if t > k.wide || s > k.wide {
		return nil // two widths at a shallow turn: the corner goes straight across
	}
	return []vertex{straight(pa.Add(a.end.Mul(math.Max(0, t)))), straight(pb.Sub(b.start.Mul(math.Max(0, s))))}
}

// out is the unit vector along the corner's bisector, away from the piece.
func (k joint) out() geom.Point {
	out := k.a.end.Right().Add(k.b.start.Right()).Unit()
	if out == (geom.Point{}) { // a turn right back
		out = k.a.end
	}
	return out
}

// hemMitre is how far beyond the corner, in mm, the cloth of two hems is cut off
// across: ¼ in beyond where their creases cross (I. McGlauflin,
// Handicraft for Girls, 1910).
const hemMitre = 6.35

// mitredHem cuts the corner of two hems of one width across, so that their folded
// edges meet on the bisector.
func (k joint) mitredHem() ([]vertex, bool) {
	out := k.out()
	c := k.v.Add(out.Mul(hemMitre))
	if k.a.width <= hemMitre || k.turn < smooth {
		return nil, false
	}
	limit := MitreLimit * k.wide
	ma, oka := hit(k.a.line, c, out.Left(), limit, true)
	if !oka {
		ma, oka = hit(k.a.line, c, out.Right(), limit, true)
	}
	mb, okb := hit(k.b.line, c, out.Right(), limit, false)
	if !okb {
		mb, okb = hit(k.b.line, c, out.Left(), limit, false)
	}
	if !oka || !okb {
		return nil, false
	}
	k.ta.end, k.tb.start = &ma, &mb
	return nil, true
}

// side is one of both stretches of a corner as seen from it: the line leads away
// from the corner.
type side struct {
	line  []vertex
	from  geom.Point // the line's first point
	dir   geom.Point // away from the corner
	width float64
	end   bool // it is the stretch that ends in the corner
}

func (k joint) sides() (a, b side) {
	return side{reversed(k.a.line), k.a.final(), k.a.end.Mul(-1), k.a.width, true},
		side{k.b.line, k.b.first(), k.b.start, k.b.width, false}
}

// trimTo takes off the side's line what lies before m.
func (k joint) trimTo(s side, m meet) {
	if s.end {
		n := len(s.line) - 2
		k.ta.end = &meet{m.at, n - m.chord, 1 - m.u}
		return
	}
	k.tb.start = &m
}

// reaches returns where a side's cut line meets the other's seam line, run on
// beyond the corner: how far from the corner, and the line from there on.
func (k joint) reaches(s, other side) (x float64, line []vertex, m *meet, ok bool) {
	on := other.dir.Mul(-1)
	limit := MitreLimit * k.wide
	if s.width == 0 {
		return 0, s.line, nil, true
	}
	sin, cos := math.Sincos(k.turn)
	if sin < 1e-6 {
		return 0, nil, nil, false
	}
	if x = s.width / sin; x > limit {
		return 0, nil, nil, false
	}
	if cos <= 1e-12 { // before the line begins
		at := k.v.Add(on.Mul(x))
		if cos > -1e-12 {
			return x, s.line, nil, true
		}
		return x, append([]vertex{straight(at)}, s.line...), nil, true
	}
	h, ok := hit(s.line, k.v, on, limit, false)
	if !ok {
		return 0, nil, nil, false
	}
	_, line = cut(s.line, h)
	return h.at.Dist(k.v), line, &h, true
}

// matched ends the allowance of the first seam square to it; swap says that this
// is b's.
func (r *raw) matched(k joint, swap bool) ([]vertex, bool) {
	seam, over := k.sides()
	if swap {
		seam, over = over, seam
	}
	x, line, m, ok := k.reaches(over, seam)
	if !ok {
		return nil, false
	}
	on := seam.dir.Mul(-1)
	r.reached[k.a.index] = x
	far := math.Max(x, r.asked[k.a.index].reach)
	if m != nil {
		k.trimTo(over, *m)
	}
	// From the seam's side to the other.
	join := []vertex{straight(seam.from.Add(on.Mul(far))), straight(k.v.Add(on.Mul(far)))}
	if far > x {
		join = append(join, straight(k.v.Add(on.Mul(x))))
	} else if m == nil && over.width > 0 {
		join[1].at = line[0].at
	}
	if swap {
		join = reversed(join)
	}
	return join, true
}

// turned mirrors the neighbour's cut line at the seam line of the allowance that
// is turned up: a's or b's.
func (r *raw) turned(k joint, hemIsA bool) ([]vertex, bool) {
	a, b := k.sides()
	hem, over := b, a
	if hemIsA {
		hem, over = a, b
	}
	if hem.width == 0 { // nothing is turned up
		return r.meet(k), true
	}
	_, line, m, ok := k.reaches(over, hem)
	if !ok {
		return nil, false
	}
	// The mirror image, and the way it leads straight on beyond its end.
	image := r.mirrored(line, geom.Reflection(k.v, k.v.Add(hem.dir)))
	if n := len(image); n > 1 {
		u := image[n-1].at.Sub(image[n-2].at).Unit()
		image = append(image, straight(image[n-1].at.Add(u.Mul(MitreLimit*k.wide))))
	}
	// It ends where it meets the hem's cut line, run on backwards.
	raw := append([]vertex{straight(hem.from.Sub(hem.dir.Mul(MitreLimit * k.wide)))}, hem.line...)
	im, hm, ok := firstMeeting(image, raw, MitreLimit*k.wide)
	if !ok {
		return nil, false
	}
	if m != nil {
		k.trimTo(over, *m)
	}
	join, _ := cut(image, im)
	if hm.chord > 0 { // beyond the hem's own start
		k.trimTo(hem, meet{hm.at, hm.chord - 1, hm.u})
	}
	if hemIsA {
		join = reversed(join)
	}
	return join, true
}

// firstMeeting returns where line a, no further than limit along it, first meets
// line b.
func firstMeeting(a, b []vertex, limit float64) (on, of meet, ok bool) {
	walked := 0.0
	for i := 0; i+1 < len(a) && walked <= limit; i++ {
		q, v := a[i].at, a[i+1].at.Sub(a[i].at)
		l := v.Len()
		if l == 0 {
			continue
		}
		if h, ok := hit(b, q, v.Mul(1/l), l, false); ok {
			return meet{h.at, i, h.at.Dist(q) / l}, h, true
		}
		walked += l
	}
	return meet{}, meet{}, false
}
