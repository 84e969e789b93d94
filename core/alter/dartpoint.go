package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// PointMove says where a dart's point goes.
type PointMove struct {
	Piece, Dart string
	Longer      float64 // mm that the dart gets longer along its middle; negative shortens it
	Aside       float64 // mm that the point goes towards the end of the dart's edge
	// Bound is how far in mm a foot may move to make the legs equal again; only an
	// aside needs that.
	Bound float64
}

// MoveDartPoint moves the point of a dart: along its middle, to lengthen or
// shorten it, and aside. Moved aside, the shorter leg is brought to the length
// of the other, as TrueLegs does. A mouth that the new angle leaves kinked is
// trued.
//
// Kept: the edge's sewn length, exactly; moved along the middle only, the whole
// outline unless it must be trued. Changed: the angle, the legs. Degenerate: a
// dart shortened to less than 10 mm, or a point outside the piece, is refused.
func MoveDartPoint(p *pattern.Pattern, o PointMove) (*operation.Answer, error) {
	e := begin(p)
	w, d, i, err := e.dartOn(o.Piece, o.Dart)
	if err != nil {
		return nil, err
	}
	path := w.lines[i].path()
	f, t := path.At(d.From), path.At(d.To)
	axis := d.Point.Sub(f.Lerp(t, 0.5))
	if axis.Len()+o.Longer < shortestDart {
		return nil, refuse(fmt.Sprintf("dart %q of piece %q would be %.1f mm long", d.Name, w.Name, axis.Len()+o.Longer),
			fmt.Sprintf("leave it %d mm or more", shortestDart))
	}
	to := d.Point.Add(axis.Unit().Mul(o.Longer)).Add(t.Sub(f).Unit().Mul(o.Aside))
	return e.pointAt(w, d, to, o.Bound)
}

// pointAt moves a dart's point to a place and finishes the edit: the legs are
// trued by the mouth, within the bound, and the mouth if it needs it.
func (e *edit) pointAt(w *work, d *pattern.Dart, to geom.Point, bound float64) (*operation.Answer, error) {
	path := w.lines[w.EdgeIndex(d.Edge)].path()
	f, t := path.At(d.From), path.At(d.To)
	angle, long, name := legAngle(&w.Piece, d), d.Point.Dist(f.Lerp(t, 0.5)), d.Name
	w.touched = true
	d.Point = to
	e.changed("length of "+name, w.Name, long, to.Dist(f.Lerp(t, 0.5)), "mm")
	e.changed("angle of "+name, w.Name, degrees(angle), degrees(legAngle(&w.Piece, d)), "degrees")
	a, err := e.finish()
	if err != nil {
		return nil, err
	}
	if math.Abs(f.Dist(to)-t.Dist(to)) > cutSliver {
		return then(a, func(p *pattern.Pattern) (*operation.Answer, error) {
			return TrueLegs(p, Truing{Piece: w.Name, Dart: name, By: ByMouth, Bound: bound})
		})
	}
	return trued(a, w.Name, name)
}

// shortestDart is the least length of a dart in mm that can be sewn.
const shortestDart = 10

// TruingWay is what is moved to make a dart's legs equal.
type TruingWay string

// ByPoint moves the dart's point along the mouth; ByMouth lets out the shorter
// leg's foot.
const (
	ByPoint TruingWay = "point"
	ByMouth TruingWay = "mouth"
)

// Truing says how a dart's legs are made equal.
type Truing struct {
	Piece, Dart string
	By          TruingWay
	Bound       float64 // mm that the point or the foot may move at most
}

// TrueLegs makes the two legs of a dart equal. By the point: it slides parallel
// to the mouth until it lies over the mouth's middle. By the mouth: the foot of
// the shorter leg goes out to the length of the other, and the edge beside it is
// drawn after, no longer or shorter than it was.
//
// Kept: the edge's sewn length, exactly, on either side of the dart. Degenerate:
// legs that are equal already are left alone; a move beyond the bound is refused.
func TrueLegs(p *pattern.Pattern, o Truing) (*operation.Answer, error) {
	a, err := begin(p).trueLegs(o)
	if err != nil {
		return nil, err
	}
	return trued(a, o.Piece, o.Dart)
}

// trueLegs is TrueLegs that leaves the mouth as the new legs meet it.
func (e *edit) trueLegs(o Truing) (*operation.Answer, error) {
	w, d, i, err := e.dartOn(o.Piece, o.Dart)
	if err != nil {
		return nil, err
	}
	path := w.lines[i].path()
	f, t := path.At(d.From), path.At(d.To)
	first, second := f.Dist(d.Point), t.Dist(d.Point)
	moved := 0.0
	w.touched = true
	switch {
	case math.Abs(first-second) < equalTolerance:
	case o.By == ByPoint:
		along := t.Sub(f).Unit()
		slide := f.Lerp(t, 0.5).Sub(d.Point).Dot(along)
		d.Point = d.Point.Add(along.Mul(slide))
		moved = math.Abs(slide)
	case o.By == ByMouth:
		if moved, err = w.letOutFoot(i, *d, first < second); err != nil {
			return nil, err
		}
	default:
		return nil, refuse(fmt.Sprintf("legs are trued by the point or by the mouth, not %q", o.By), "say point or mouth")
	}
	if moved > o.Bound {
		return nil, refuse(fmt.Sprintf("to true the legs of dart %q on piece %q, %.1f mm and %.1f mm, its %s would move by %.1f mm",
			d.Name, w.Name, first, second, o.By, moved), "allow more, or draw the dart anew")
	}
	e.changed("difference of the legs of "+o.Dart, w.Name, math.Abs(first-second), 0, "mm")
	e.changed("moved to true the legs of "+o.Dart, w.Name, 0, moved, "mm")
	return e.finish()
}

// letOutFoot moves one foot of a dart out along its leg until the legs are
// equal, and returns how far. Round the point it goes as far as it takes for
// the edge beside it to keep its length.
func (w *work) letOutFoot(i int, d pattern.Dart, atFrom bool) (float64, error) {
	l := w.lines[i]
	path := l.path()
	f, t := path.At(d.From), path.At(d.To)
	lo, hi := w.freeAround(d.Edge, d.From, d.To, l.length())
	cannot := refuse(fmt.Sprintf("edge %q of piece %q cannot follow the foot of dart %q", d.Edge, w.Name, d.Name), "true the legs by the point")
	head, rest := l.split(d.From)
	mouth, tail := rest.split(d.To - d.From)
	foot, leg := f, t.Dist(d.Point)
	if !atFrom {
		foot, leg = t, f.Dist(d.Point)
	}
	at := func(x float64) geom.Point { // x mm round the point
		return d.Point.Add(geom.Rotation(geom.Point{}, x/leg).Apply(foot.Sub(d.Point).Unit()).Mul(leg))
	}
	var fit func(x float64) line
	var side line
	want := 0.0 // what the side must measure for its part of the edge to be as long as it was
	if atFrom {
		if d.From-lo < minTrue {
			return 0, cannot
		}
		kept, last := head.split(lo + (d.From-lo)*0.1)
		head, side = kept, last
		want = d.From - kept.pathLength()
		fit = func(x float64) line { return side.swept(at(x).Sub(foot)) }
	} else {
		if hi-d.To < minTrue {
			return 0, cannot
		}
		first, kept := tail.split((hi - d.To) * 0.9)
		tail, side = kept, first
		want = l.length() - d.To - kept.pathLength()
		fit = func(x float64) line { return side.sweptStart(at(x).Sub(foot)) }
	}
	x, ok := rootNear(func(x float64) float64 { return fit(x).length() - want }, math.Min(leg/2, side.length()/2))
	if !ok {
		return 0, cannot
	}
	fresh := fit(x)
	if atFrom {
		head, f = head.join(fresh), at(x)
	} else {
		tail, t = fresh.join(tail), at(x)
	}
	chord := geom.Path{geom.Line(f, t)}
	cap := drawn(chord...)
	if old, known := mouth.old(); known {
		cap = redrawn(chord, old)
	}
	w.lines[i] = head.join(cap, tail)
	w.Darts = slices.DeleteFunc(w.Darts, func(o pattern.Dart) bool { return o.Name == d.Name })
	d.From = head.length()
	d.To = d.From + f.Dist(t)
	w.fresh.darts = append(w.fresh.darts, d)
	w.heal()
	return at(x).Dist(foot), nil
}

// Folding says how a dart becomes a pleat or a tuck.
type Folding struct {
	Piece, Dart string
	Kind        pattern.PleatKind
	// Level is how far from the edge in mm a tuck is stitched; beyond that the
	// cloth springs free. Other pleats are caught in the seam only.
	Level float64
}

// FoldDart lets a dart go into a pleat caught in its seam, or into a tuck that
// is stitched from the edge up to a level and released from there. What the
// dart took up at its mouth the fold takes up whole.
//
// Kept: every line, every sewn length: cut = sewn + 2 × the fold's depth.
// Changed: the dart is gone; the level of a tuck becomes a landmark named after
// it. Degenerate: a tuck released beyond the dart's point is refused.
func FoldDart(p *pattern.Pattern, o Folding) (*operation.Answer, error) {
	e := begin(p)
	w, found, i, err := e.dartOn(o.Piece, o.Dart)
	if err != nil {
		return nil, err
	}
	d := *found
	w.touched = true
	path := w.lines[i].path()
	middle := path.At(d.From).Lerp(path.At(d.To), 0.5)
	name := freshName(w, d.Edge+"-pleat")
	switch o.Kind {
	case pattern.Tuck:
		name = freshName(w, d.Edge+"-tuck")
		if long := d.Point.Dist(middle); o.Level <= 0 || o.Level >= long {
			return nil, refuse(fmt.Sprintf("a tuck in dart %q of piece %q cannot be released %.1f mm from the edge", d.Name, w.Name, o.Level),
				fmt.Sprintf("choose a level between 0 and %.1f mm, where the dart ends", long))
		}
		w.Landmarks = append(w.Landmarks, pattern.Landmark{Name: name + "-release", At: middle.Add(d.Point.Sub(middle).Unit().Mul(o.Level))})
		e.changed("stitched from the edge before it is released, "+name, w.Name, 0, o.Level, "mm")
	case pattern.Knife, pattern.Box, pattern.Inverted:
		for k := range e.seams {
			if s := &e.seams[k]; s.Meeting.Kind == pattern.Plain && (s.A.Has(w.Name, d.Edge) || s.B.Has(w.Name, d.Edge)) {
				s.Meeting = pattern.Meeting{Kind: pattern.Pleated}
			}
		}
	default:
		return nil, refuse(fmt.Sprintf("there is no fold of the kind %q", o.Kind), "use knife, box, inverted or tuck")
	}
	w.Pleats = append(w.Pleats, pattern.Pleat{Name: name, Edge: d.Edge, From: d.From, To: d.To, Kind: o.Kind, Pressed: d.Pressed})
	w.Darts = slices.DeleteFunc(w.Darts, func(x pattern.Dart) bool { return x.Name == d.Name })
	e.changed("depth of "+name, w.Name, 0, (d.To-d.From)/2, "mm")
	e.changed("taken up by dart "+d.Name, w.Name, d.To-d.From, 0, "mm")
	return e.finish()
}
