package alter

import (
	"math"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// strand is one segment of an edge and the stretch of the input that it came
// from; positions in between correspond in proportion. A strand with no piece
// in old was drawn by the operation.
type strand struct {
	seg geom.Segment
	old pattern.Stretch
}

// line is an edge under work: strands one after another.
type line []strand

// traced returns the line of an edge of the input, as it arrived.
func traced(piece, edge string, path geom.Path) line {
	l := make(line, len(path))
	at := 0.0
	for i, s := range path {
		to := at + s.Length()
		l[i] = strand{s, pattern.Stretch{Piece: piece, Edge: edge, From: at, To: to}}
		at = to
	}
	return l
}

// drawn returns a line that the input did not have.
func drawn(path ...geom.Segment) line {
	l := make(line, len(path))
	for i, s := range path {
		l[i] = strand{seg: s}
	}
	return l
}

// redrawn returns path in the place of old: what lay on the old stretch lies
// on the path in proportion.
func redrawn(path geom.Path, old pattern.Stretch) line {
	l := make(line, len(path))
	total, done := path.Length(), 0.0
	for i, s := range path {
		part := old
		part.From = old.From + old.Length()*done/total
		done += s.Length()
		part.To = old.From + old.Length()*done/total
		l[i] = strand{s, part}
	}
	return l
}

// path returns the geometry alone.
func (l line) path() geom.Path {
	p := make(geom.Path, len(l))
	for i, s := range l {
		p[i] = s.seg
	}
	return p
}

func (l line) length() float64   { return l.path().Length() }
func (l line) start() geom.Point { return l[0].seg.P0 }
func (l line) end() geom.Point   { return l[len(l)-1].seg.P1 }

// old returns the stretch of input that the line covers from its first traced
// strand to its last; ok is false when all of it was drawn, or it came from
// more than one edge.
func (l line) old() (s pattern.Stretch, ok bool) {
	for _, st := range l {
		switch {
		case st.old.Piece == "":
		case !ok:
			s, ok = st.old, true
		case st.old.Piece != s.Piece || st.old.Edge != s.Edge:
			return pattern.Stretch{}, false
		default:
			s.To = st.old.To
		}
	}
	return s, ok
}

// cutSliver is the length in mm below which a cut falls on the nearest joint
// instead of leaving a crumb of line: as fine as files keep coordinates.
const cutSliver = 1e-6

// split cuts the line at arc length at.
func (l line) split(at float64) (before, after line) {
	for i, s := range l {
		length := s.seg.Length()
		if at <= cutSliver {
			return l[:i:i].join(), l[i:].join()
		}
		if at < length-cutSliver {
			a, b := s.seg.Split(s.seg.Parameter(at))
			first, second := s.old, s.old
			if s.old.Piece != "" {
				first.To = s.old.From + s.old.Length()*at/length
				second.From = first.To
			}
			return l[:i:i].join(line{{a, first}}), line{{b, second}}.join(l[i+1:])
		}
		at -= length
	}
	return l.join(), nil
}

// between returns the stretch from arc length from to arc length to.
func (l line) between(from, to float64) line {
	head, _ := l.split(to)
	_, part := head.split(from)
	return part
}

// join returns a fresh line of l followed by the others.
func (l line) join(others ...line) line {
	joined := append(line(nil), l...)
	for _, o := range others {
		joined = append(joined, o...)
	}
	return joined
}

// transform maps the line; where it came from stays the same.
func (l line) transform(m geom.Affine) line {
	t := make(line, len(l))
	for i, s := range l {
		t[i] = strand{s.seg.Transform(m), s.old}
	}
	return t
}

// finely returns the same line with no strand longer than most mm.
func (l line) finely(most float64) line {
	var fine line
	for _, s := range l {
		n := int(math.Ceil(s.seg.Length() / most))
		rest, step := line{s}, s.seg.Length()/float64(max(n, 1))
		for range n - 1 {
			var part line
			part, rest = rest.split(step)
			fine = append(fine, part...)
		}
		fine = append(fine, rest...)
	}
	return fine
}

// mapped returns the line bent by a smooth map, which takes a point to place and
// a small step v from it to direction(p, v). Every strand stays one, with the ends
// and the tangents there mapped exactly; short ones (see finely) follow closely.
// Joints without a corner stay without one.
func (l line) mapped(place func(p geom.Point) geom.Point, direction func(p, v geom.Point) geom.Point) line {
	m := make(line, len(l))
	for i, s := range l {
		from, to := direction(s.seg.P0, s.seg.Velocity(0)), direction(s.seg.P1, s.seg.Velocity(1))
		m[i] = strand{geom.Hermite(place(s.seg.P0), from, place(s.seg.P1), to), s.old}
	}
	return m
}

// samples are points along a line, evenly spaced, to draw it anew through.
type samples struct {
	points, left []geom.Point // left: the unit normal to the left of the walk
	at           []float64    // mm along the line
}

// sampled returns 5 to 25 points of the line, its ends among them: one every
// 20 mm is as close as a cutter sets them for a curve.
func (l line) sampled() samples {
	path := rule(l.path())
	total := path.long()
	n := int(math.Max(4, math.Min(24, math.Ceil(total/20))))
	var s samples
	for i := range n + 1 {
		at := total * float64(i) / float64(n)
		p, dir := path.at(at)
		s.at = append(s.at, at)
		s.points = append(s.points, p)
		s.left = append(s.left, dir.Left())
	}
	return s
}

// drawn returns the smooth path through the places that the points are moved to.
// place maps a point, its arc length and the normal to its left. startDir and
// endDir fix the tangents at the ends; zero leaves them free.
func (s samples) drawn(place func(p geom.Point, at float64, left geom.Point) geom.Point, startDir, endDir geom.Point) geom.Path {
	moved := make([]geom.Point, len(s.points))
	for i := range moved {
		moved[i] = place(s.points[i], s.at[i], s.left[i])
	}
	return geom.Smooth(moved, startDir, endDir)
}

// reshaped returns the line with its path replaced by the one through the images
// of its samples, keeping what lay where.
func (l line) reshaped(place func(p geom.Point, at float64, left geom.Point) geom.Point, startDir, endDir geom.Point) line {
	s := l.sampled()
	curve := s.drawn(place, startDir, endDir)
	fresh := make(line, 0, len(curve))
	rest := l
	for i, seg := range curve {
		part := rest
		if i < len(curve)-1 {
			part, rest = rest.split(s.at[i+1] - s.at[i])
		}
		st := strand{seg: seg}
		if old, ok := part.old(); ok {
			st.old = old
		}
		fresh = append(fresh, st)
	}
	return fresh
}

// snapEnds returns the line with its ends moved exactly onto a and b; they lie
// there already but for rounding.
func (l line) snapEnds(a, b geom.Point) line {
	s := l.join()
	s[0].seg.P0 = a
	s[len(s)-1].seg.P1 = b
	return s
}
