package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Circle says what ring of cloth a skirt is cut from.
type Circle struct {
	// Fraction of a full circle that all pieces together make: 1, 0.5, 0.25; may
	// be more than 1. 0 finds it from Hem.
	Fraction float64
	// Hem is the circumference in mm that the hem is to have, if Fraction is 0.
	Hem float64
	// Length in mm from waist to hem; 0 keeps the longest leg there is.
	Length float64
	// Waist in mm round the whole garment; 0 keeps what it measures sewn. Only a
	// skirt whose waist is in no seam can be given another.
	Waist float64
}

// CircleSkirt redraws the pieces of a skirt as parts of one ring of cloth:
// waist and hem are arcs about one centre, the edges between them straight
// lines from it. The inner radius is waist ÷ (2π × fraction), the outer that
// and the length.
//
// Kept: the sewn waist of every piece, to 1e-9 mm, unless another is asked for,
// and every seam; an opening keeps its length where the skirt allows. Changed:
// the rest; darts, pleats and gathers at the waist go, since the ring needs
// none. Degenerate: a piece that would go once round its centre, a hem sewn to
// something, and a hem not wider than the waist are refused.
func CircleSkirt(p *pattern.Pattern, o Circle) (*operation.Answer, error) {
	e := begin(p)
	pieces, err := e.skirt()
	if err != nil {
		return nil, err
	}
	hem := around(pieces, pattern.Hem)
	all := make([]legs, len(pieces))
	waist, longest := 0.0, 0.0
	for k, w := range pieces {
		if all[k], err = legsOf(w); err != nil {
			return nil, err
		}
		l := all[k]
		if name := w.Edges[l.hem].Name; e.sewn(w, name) {
			return nil, refuse(fmt.Sprintf("the hem %q of piece %q is sewn to something", name, w.Name), "take this step before the one that sews something to the hem, as a flounce, a facing or a binding")
		}
		if name := w.Edges[l.waist].Name; o.Waist > 0 && e.sewn(w, name) {
			return nil, refuse(fmt.Sprintf("the waist of piece %q is sewn to something, which gives its length", w.Name), "leave the waist as it is")
		}
		waist += w.copies() * e.sewnBefore(w.Name, w.Edges[l.waist].Name)
		longest = max(longest, l.long(l.up), l.long(l.down))
	}
	wide := 1.0 // what each waist is multiplied by
	if o.Waist > 0 {
		wide, waist = o.Waist/waist, o.Waist
	}
	long := o.Length
	if long == 0 {
		long = longest
	}
	f := o.Fraction
	if f == 0 {
		f = (o.Hem - waist) / (2 * math.Pi * long)
	}
	switch {
	case !(long >= minSlash):
		return nil, refuse("a skirt needs a length", "give one in mm, or 0 for the one it has")
	case !(f > 0):
		return nil, refuse(fmt.Sprintf("a hem of %.0f mm is no wider than the waist, %.0f mm", o.Hem, waist), "give the fraction of a circle, or a wider hem")
	}
	r := Ring{Seam: waist, Depth: long, Circles: f}.Radius()
	had := e.changes
	for k, w := range pieces {
		name := w.Edges[all[k].waist].Name
		if err := e.ringPiece(all[k], r, long, wide*e.sewnBefore(w.Name, name)); err != nil {
			return nil, err
		}
	}
	e.changes = append(had, slices.Concat([]operation.Change{
		{What: "hem circumference", Before: hem, After: around(pieces, pattern.Hem), Unit: "mm"},
		{What: "inner radius", After: r, Unit: "mm"},
		{What: "outer radius", After: r + long, Unit: "mm"},
		{What: "length", Before: longest, After: long, Unit: "mm"},
	}, e.changes[len(had):])...)
	e.caution("A circle's hem drops where it hangs on the bias: let the skirt hang a day before levelling the hem.")
	return e.finish()
}

// ringPiece redraws one piece as the part of a ring of inner radius r whose
// waist measures target.
func (e *edit) ringPiece(l legs, r, long, target float64) error {
	w := l.w
	angle := target / r
	if angle > 2*math.Pi-minRingGap {
		return refuse(fmt.Sprintf("piece %q would go round its circle %.2f times", w.Name, angle/(2*math.Pi)), "divide it into gores first, or ask for a smaller part of a circle")
	}
	// The cubics are a trifle shorter than the arc that they follow: the angle
	// takes that up, so that the seam is exact.
	angle *= target / arcAround(geom.Point{}, r, 0, angle).Length()
	w.touched = true
	e.clearWaist(w, w.Edges[l.waist].Name)
	wp := w.lines[l.waist].path()
	hp := w.lines[l.hem].path()
	middle := wp.At(wp.Length() / 2)
	down := hp.At(hp.Length() / 2).Sub(middle).Angle()
	from, to := down-angle/2, down+angle/2 // along the hem, counter-clockwise
	grainAt, off := down, 0.0
	if i := slices.IndexFunc(w.Edges, func(e pattern.Edge) bool { return e.Finish == pattern.Fold }); i >= 0 {
		along := w.lines[i].path().EndDirection()
		if slices.Contains(l.up, i) { // it runs up at the end of the hem
			to = along.Mul(-1).Angle()
			from = to - angle
			grainAt, off = to, -foldGrain
		} else {
			from = along.Angle()
			to = from + angle
			grainAt, off = from, foldGrain
		}
	}
	centre := middle.Sub(geom.Polar(r, (from+to)/2))
	whole := func(i int) pattern.Stretch { return wholeOf(w.lines[i]) }
	w.lines[l.hem] = redrawn(arcAround(centre, r+long, from, to), whole(l.hem))
	w.lines[l.waist] = redrawn(arcAround(centre, r, to, from), whole(l.waist))
	a := w.lines[l.hem]
	b := w.lines[l.waist]
	w.straightLeg(l.up, a.end(), b.start(), false)
	w.straightLeg(l.down, b.end(), a.start(), true)
	w.heal()
	dir := geom.Polar(1, grainAt)
	foot := centre.Add(dir.Left().Mul(off))
	w.Grain = pattern.Grain{From: foot.Add(dir.Mul(r + 0.8*long)), To: foot.Add(dir.Mul(r + 0.2*long))}
	return nil
}

const (
	// minRingGap in radians is left open at least between the two ends of one
	// piece of a ring: two seam allowances at a waist's radius.
	minRingGap = 0.2
	// foldGrain is how far in mm the grainline stands from the fold it follows.
	foldGrain = 25
	// minSeamBelow is the least in mm of a leg that is left to sew under an
	// opening.
	minSeamBelow = 20
)

// straightLeg draws the edges of a leg as one straight line. What is above the
// lowest edge, an opening, keeps its length where there is room.
func (w *work) straightLeg(edges []int, from, to geom.Point, hemLast bool) {
	lowest := edges[0]
	if hemLast {
		lowest = edges[len(edges)-1]
	}
	total, upper := from.Dist(to), 0.0
	for _, i := range edges {
		if i != lowest {
			upper += w.lines[i].length()
		}
	}
	keep := 1.0
	if upper > total-minSeamBelow {
		keep = max(total-minSeamBelow, total/2) / upper
	}
	at := 0.0
	for _, i := range edges {
		long := w.lines[i].length() * keep
		if i == lowest {
			long = total - upper*keep
		}
		a, b := from.Lerp(to, at/total), from.Lerp(to, (at+long)/total)
		w.lines[i] = redrawn(geom.Path{geom.Line(a, b)}, wholeOf(w.lines[i]))
		at += long
	}
}

// clearWaist takes darts, pleats and gathers off an edge whose new line needs
// none, and makes its seams plain. The edge must be drawn anew to the length it
// had sewn.
func (e *edit) clearWaist(w *work, edge string) {
	for _, d := range w.Darts {
		if d.Edge == edge {
			e.changed("dart "+d.Name+" is not needed", w.Name, d.To-d.From, 0, "mm")
		}
	}
	for _, f := range w.Pleats {
		if f.Edge == edge {
			e.changed("pleat "+f.Name+" is not needed", w.Name, f.To-f.From, 0, "mm")
		}
	}
	for _, g := range w.Gathers {
		if g.Edge == edge {
			e.changed("gathers "+g.Name+" are not needed", w.Name, g.To-g.From, g.Length, "mm")
		}
	}
	w.Darts = slices.DeleteFunc(w.Darts, func(d pattern.Dart) bool { return d.Edge == edge })
	w.Pleats = slices.DeleteFunc(w.Pleats, func(f pattern.Pleat) bool { return f.Edge == edge })
	w.Gathers = slices.DeleteFunc(w.Gathers, func(g pattern.Gather) bool { return g.Edge == edge })
	e.plainIfFlat()
}

// plainIfFlat makes plain the gathered and pleated seams on neither side of
// which anything is gathered or pleated any more.
func (e *edit) plainIfFlat() {
	full := func(r pattern.Run) bool {
		return slices.ContainsFunc(r, func(ref pattern.EdgeRef) bool {
			w := e.piece(ref.Piece)
			return w != nil && (slices.ContainsFunc(w.Gathers, func(g pattern.Gather) bool { return g.Edge == ref.Edge }) ||
				slices.ContainsFunc(w.fresh.gathers, func(g pattern.Gather) bool { return g.Edge == ref.Edge }) ||
				slices.ContainsFunc(w.Pleats, func(f pattern.Pleat) bool { return f.Edge == ref.Edge }))
		})
	}
	for i := range e.seams {
		s := &e.seams[i]
		if (s.Meeting.Kind == pattern.Gathered || s.Meeting.Kind == pattern.Pleated) && !full(s.A) && !full(s.B) {
			s.Meeting = pattern.Meeting{Kind: pattern.Plain}
		}
	}
}
