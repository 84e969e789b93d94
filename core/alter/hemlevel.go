package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// HemLengths are lengths in mm of a skirt from waist to hem, along its seams.
// 0 leaves that place as it is.
type HemLengths struct{ Front, Side, Back float64 }

// LevelHem gives the skirt the lengths asked for at the centre front, the side
// and the centre back; seams between them get what lies between, in proportion
// to their place along the waist. With the wearer's own heights, less the
// distance from the floor, that hangs the hem level; correct lengths belong at
// the waist only where the figure, not the hem, makes the difference.
//
// Kept: the waist and all above the hem. Changed: every edge that runs to the
// hem is cut off or goes on straight, to the same length on both sides of each
// seam; the hem is drawn anew at the same angles to them. Degenerate: a length
// that leaves little more than the hip, and a hem or hem seam sewn to a piece
// that is no skirt, are refused.
func LevelHem(p *pattern.Pattern, o HemLengths) (*operation.Answer, error) {
	return setHemLine(p, o, true)
}

// CurveHem makes the skirt longer or shorter at the centre front, the side and
// the centre back by what the lengths say; else as LevelHem.
func CurveHem(p *pattern.Pattern, o HemLengths) (*operation.Answer, error) {
	return setHemLine(p, o, false)
}

// Train says how far a skirt trails.
type Train struct {
	// Back and Side are how much longer in mm the skirt becomes at the centre back
	// and at the side; the front stays.
	Back, Side float64
}

// AddTrain lengthens the back of the skirt into a train and curves it into the
// side. It is CurveHem with what there is to say about trains.
func AddTrain(p *pattern.Pattern, o Train) (*operation.Answer, error) {
	if o.Back <= 0 || o.Side < 0 || o.Side > o.Back {
		return nil, refuse("a train is longest at the centre back", "give a length there of more than 0, and less at the side")
	}
	a, err := CurveHem(p, HemLengths{Side: o.Side, Back: o.Back})
	if err != nil {
		return nil, err
	}
	a.Cautions = append(a.Cautions,
		"A train is trodden on and catches: loop it up on stairs, keep off escalators, and rehearse in it.",
		"Keep a train clear of open flame, heaters and machinery, and ask the venue about its rules.")
	// From memory: longer than wide, it does not spread.
	if wide := backHem(p); wide > 0 && o.Back > wide {
		a.Cautions = append(a.Cautions, fmt.Sprintf("The train is %.0f cm long and the back hem it hangs from %.0f cm wide: it lies as a narrow tongue. Give the back of the skirt more width first, or take a shorter train.", o.Back/10, wide/10))
	}
	return a, nil
}

// backHem is the width of the hem of the back of the skirt, left and right, in
// mm.
func backHem(p *pattern.Pattern) (wide float64) {
	for i := range p.Pieces {
		piece := &p.Pieces[i]
		if piece.Role != pattern.SkirtBack {
			continue
		}
		copies := piece.Cut.Count
		if piece.OnFold() {
			copies *= 2
		}
		for _, e := range piece.Edges {
			if e.Is() == pattern.Hem {
				wide += float64(copies) * e.Path.Length()
			}
		}
	}
	return wide
}

// hemLeg is a leg of a skirt piece with its place along the waist.
type hemLeg struct {
	legs
	up  bool
	now float64 // length, mm
	by  float64
}

// lowest is the edge that ends at the hem.
func (l hemLeg) lowest() int {
	a, b := l.legs.lowest()
	if l.up {
		return a
	}
	return b
}

// setHemLine sets the hem of the skirt, or of the pieces of the given roles.
func setHemLine(p *pattern.Pattern, o HemLengths, absolute bool, roles ...pattern.Role) (*operation.Answer, error) {
	e := begin(p)
	parts := asParts(e.roles(roles...))
	if len(roles) == 0 {
		var err error
		if parts, err = e.skirtWith(pattern.Hem); err != nil {
			return nil, err
		}
	}
	pieces := works(parts)
	hem := around(pieces, pattern.Hem)
	found, err := e.hemLegs(parts)
	if err != nil {
		return nil, err
	}
	places, err := e.placesFromFront(found)
	if err != nil {
		return nil, err
	}
	for k := range found {
		l := &found[k]
		at := places[k]
		at3 := func(front, side, back float64) float64 { // at: 0 front, 1 side, 2 back
			if at <= 1 {
				return front + (side-front)*at
			}
			return side + (back-side)*(at-1)
		}
		l.by = at3(o.Front, o.Side, o.Back)
		if absolute {
			mean := e.meanLengths(found, places)
			want := o
			for i, v := range []*float64{&want.Front, &want.Side, &want.Back} {
				if *v == 0 {
					*v = mean[i]
				}
			}
			l.by = at3(want.Front, want.Side, want.Back) - l.now
		}
		if l.by < 0 && (l.now+l.by < hipDepth || -l.by > l.w.lines[l.lowest()].length()-minSlash) {
			return nil, refuse(fmt.Sprintf("piece %q cannot be made %.0f mm shorter at %q: little more than its hip would be left, or less than its opening", l.w.Name, -l.by, l.w.Edges[l.lowest()].Name),
				"shorten it by less")
		}
	}
	e.evenLegs(found)
	for k := 0; k < len(found); k += 2 { // both legs of one piece
		e.hemPiece(found[k], found[k+1])
	}
	e.changed("hem circumference", "", hem, around(pieces, pattern.Hem), "mm")
	return e.finish()
}

// hemLegs returns both legs of every piece, up and down by turns.
func (e *edit) hemLegs(parts []skirtPart) ([]hemLeg, error) {
	var found []hemLeg
	pieces := works(parts)
	for k, w := range pieces {
		l, err := legsFrom(w, w.upperEdge)
		if err != nil {
			return nil, err
		}
		if name := w.Edges[l.hem].Name; e.sewn(w, name) {
			return nil, refuse(fmt.Sprintf("the hem %q of piece %q is sewn to something", name, w.Name), "take this step before the one that sews something to the hem, as a flounce, a facing or a binding")
		}
		up := hemLeg{legs: l, up: true, now: parts[k].above + l.long(l.up)}
		down := hemLeg{legs: l, now: parts[k].above + l.long(l.down)}
		for _, leg := range []hemLeg{up, down} {
			edge := w.Edges[leg.lowest()].Name
			if other, _, ok := e.mate(w, edge); ok && !slices.Contains(pieces, other) && !e.meetsAny(w, edge, pieces) {
				return nil, refuse(fmt.Sprintf("at the hem, %q of piece %q is sewn to piece %q", edge, w.Name, other.Name), "take that piece out first")
			}
		}
		found = append(found, up, down)
	}
	return found, nil
}

// meetsAny reports whether a seam that takes the edge has one of the pieces on its
// other side, as that of a skirt below a yoke has, which runs on up the yokes.
func (e *edit) meetsAny(w *work, edge string, pieces []*work) bool {
	for _, s := range e.seams {
		for _, sides := range [2][2]pattern.Run{{s.A, s.B}, {s.B, s.A}} {
			if s.Kind == pattern.Joined && sides[0].Has(w.Name, edge) &&
				slices.ContainsFunc(sides[1], func(r pattern.EdgeRef) bool { return slices.Contains(pieces, e.piece(r.Piece)) }) {
				return true
			}
		}
	}
	return false
}

// placesFromFront returns where along the waist each leg stands: 0 at the
// centre front, 1 at the side, 2 at the centre back.
func (e *edit) placesFromFront(found []hemLeg) ([]float64, error) {
	places := make([]float64, len(found))
	known := map[string]float64{pattern.CentreFront: 0, pattern.Side: 1, pattern.CentreBack: 2}
	lacking := false
	for k, l := range found {
		at, ok := known[l.role(l.lowest())]
		if !ok {
			at, lacking = -1, true
		}
		places[k] = at
	}
	if !lacking {
		return places, nil
	}
	// Walk round the waist from the centre front.
	sewn := make([]float64, len(found))
	reached := make([]bool, len(found))
	at := slices.Index(places, 0)
	if at < 0 {
		return nil, refuse("no piece of the skirt has a centre-front edge to reckon from", "give it the role centre-front")
	}
	total, side := 0.0, -1.0
	for at >= 0 {
		in, out := at, at^1
		sewn[in], reached[in] = total, true
		w := found[in].w
		total += e.sewnBefore(w.Name, w.Edges[found[in].waist].Name)
		sewn[out], reached[out] = total, true
		if places[out] == 1 {
			side = total
		}
		at = -1
		if other, edge, ok := e.mate(w, w.Edges[found[out].lowest()].Name); ok {
			at = slices.IndexFunc(found, func(l hemLeg) bool { return l.w == other && l.w.Edges[l.lowest()].Name == edge })
			if at >= 0 && reached[at] {
				break
			}
		}
	}
	if side < 0 {
		side = total / 2
	}
	for k := range found {
		if places[k] >= 0 {
			continue
		}
		if !reached[k] {
			return nil, refuse(fmt.Sprintf("no seam leads from the centre front to %q of piece %q", found[k].w.Edges[found[k].lowest()].Name, found[k].w.Name), "give it the role side, or sew the skirt together")
		}
		if places[k] = sewn[k] / side; sewn[k] > side {
			places[k] = 1 + (sewn[k]-side)/(total-side)
		}
	}
	return places, nil
}

// meanLengths returns how long the skirt is at the front, side and back; where
// no leg stands there, as long as the leg nearest to it.
func (e *edit) meanLengths(found []hemLeg, places []float64) [3]float64 {
	var mean [3]float64
	for i := range mean {
		best := 9.0
		for k, l := range found {
			if d := max(places[k]-float64(i), float64(i)-places[k]); d < best {
				best, mean[i] = d, l.now
			}
		}
	}
	return mean
}

// hemPiece gives the legs of a piece their new lengths and draws its hem anew.
func (e *edit) hemPiece(up, down hemLeg) {
	w := up.w
	i := up.hem
	before, after := down.lowest(), up.lowest()
	l := w.lines[i].path()
	leave := geom.Turn(w.lines[before].path().EndDirection(), l.StartDirection())
	arrive := geom.Turn(l.EndDirection(), w.lines[after].path().StartDirection())
	if down.by == 0 && up.by == 0 {
		return
	}
	w.touched = true
	whole := wholeOf(w.lines[i])
	w.lines[before] = extendEnd(w.lines[before], down.by)
	w.lines[after] = extendStart(w.lines[after], up.by)
	a, b := w.lines[before].end(), w.lines[after].start()
	chord := a.Dist(b)
	v0 := geom.Rotation(geom.Point{}, leave).Apply(w.lines[before].path().EndDirection()).Mul(chord)
	v1 := geom.Rotation(geom.Point{}, -arrive).Apply(w.lines[after].path().StartDirection()).Mul(chord)
	w.lines[i] = redrawn(geom.Path{geom.Hermite(a, v0, b, v1)}, whole)
	w.keepGrainInside()
	e.changed(w.Edges[before].Name+", to the waist", w.Name, down.now, down.now+down.by, "mm")
	e.changed(w.Edges[after].Name+", to the waist", w.Name, up.now, up.now+up.by, "mm")
}

// evenLegs lets two legs that are sewn to each other grow by the same: what is
// above them may differ, where fullness is gathered to it.
func (e *edit) evenLegs(legs []hemLeg) {
	for k := range legs {
		for m := range legs[:k] {
			a, b := &legs[k], &legs[m]
			other, edge, ok := e.mate(a.w, a.w.Edges[a.lowest()].Name)
			if ok && other == b.w && edge == b.w.Edges[b.lowest()].Name && math.Abs(a.by-b.by) > cutSliver {
				mean := (a.by + b.by) / 2
				a.by, b.by = mean, mean
			}
		}
	}
}
