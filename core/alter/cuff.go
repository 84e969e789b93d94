package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Cuff says what a sleeve ends in.
type Cuff struct {
	Kind CuffKind
	// Height is the finished height, mm.
	Height float64
	// Girth is the finished length round the wrist, mm; 0 is the hem's. A turned
	// back cuff has the hem's always.
	Girth float64
	// Placket is how far the seam under the arm is left open above a straight
	// cuff, mm; 0 leaves it closed. Lap is by how much the cuff's ends then lie
	// over each other for a button, mm.
	Placket, Lap float64
	// Flare is how much longer the free edge of a turned-back cuff is than the
	// hem, mm, so that it lies over the sleeve.
	Flare float64
}

// CuffKind is straight or turned back.
type CuffKind string

// The kinds of cuff.
const (
	StraightCuff   CuffKind = "straight"
	TurnedBackCuff CuffKind = "turned-back"
)

const (
	bandName    = "sleeve-band"
	cuffName    = "cuff"
	placketName = "placket" // and role, of the edges of an opening
)

// AddCuff ends the sleeve in a cuff, which becomes a new piece: a straight one
// of double height, folded along its middle, into which a hem that is longer is
// gathered; or one turned back over the sleeve, cut with a facing of its own
// shape.
//
// Kept: the sleeve's lines. Changed: the hem is sewn to the cuff; with a placket
// the lower ends of the two edges under the arm become edges of their own, named
// placket.front and placket.back, which no seam takes. Degenerate: a hem that is
// sewn or drawn up already, or shorter than the cuff, is refused.
func AddCuff(p *pattern.Pattern, o Cuff) (*operation.Answer, error) {
	e := begin(p)
	a, err := e.arm()
	if err != nil {
		return nil, err
	}
	hem := a.lines[a.hem].length()
	girth := o.Girth
	if girth == 0 || o.Kind == TurnedBackCuff {
		girth = hem
	}
	switch {
	case o.Kind != StraightCuff && o.Kind != TurnedBackCuff:
		return nil, refuse(fmt.Sprintf("there is no cuff of the kind %q", o.Kind), "ask for a straight or a turned-back one")
	case a.Edges[a.hem].Finish == pattern.Sewn || e.takesUp(a.work, a.Edges[a.hem].Name):
		return nil, refuse(fmt.Sprintf("the hem of piece %q is sewn or drawn up already", a.Name), "take the cuff off first")
	case !(o.Height >= 1 && girth >= minSlash && o.Lap >= 0 && o.Placket >= 0 && o.Flare >= 0):
		return nil, refuse("a cuff needs a height, and no length below 0", "give the lengths in mm")
	case girth > hem+cutSliver:
		return nil, refuse(fmt.Sprintf("the hem of piece %q measures %.0f mm, less than the cuff's %.0f", a.Name, hem, girth), "ask for a closer cuff, or spread the hem first")
	}
	a.touched = true
	if o.Kind == TurnedBackCuff {
		a.addTurnedBack(o)
		return a.finish()
	}
	s := cuffStrip{
		name: cuffName, title: "Cuff", role: pattern.SleeveCuff, girth: girth, height: o.Height,
		open: o.Placket > 0, lap: o.Lap, meeting: pattern.Plain,
	}
	if hem-girth > cutSliver {
		if err := a.drawUpHem(girth); err != nil {
			return nil, err
		}
		s.meeting = pattern.Gathered
		e.changed("hem, gathered to the cuff", a.Name, hem, girth, "mm")
	}
	a.addCuff(s)
	return a.orFinish(a.leavePlacket(o.Placket, girth))
}

// handGirth is the girth in mm below which a closed cuff hardly goes over a
// grown woman's hand; from memory.
const handGirth = 200

// cuffStrip is a straight band or cuff, twice as tall as finished.
type cuffStrip struct {
	name, title string
	role        pattern.Role
	girth       float64 // sewn to the hem, mm
	height      float64 // finished, mm
	open        bool    // its ends are not sewn to each other
	lap         float64 // of an open one, mm beyond the girth
	meeting     pattern.MeetingKind
}

// addCuff makes a band or cuff and sews it to the hem: a strip of twice its
// height, folded along the middle, whose ends are sewn together or left open.
func (a *arm) addCuff(s cuffStrip) {
	e, at := a.e, geom.Pt
	name := freshPieceName(e, s.name)
	tall := 2 * s.height
	finish := pattern.Sewn
	if s.open {
		finish = pattern.Faced
	} else {
		s.lap = 0
	}
	cuff := &work{touched: true, Piece: pattern.Piece{
		Name: name, Title: s.title, Role: s.role, Cut: a.Cut,
		Grain: pattern.Grain{From: at(s.girth*0.3, tall/2), To: at(s.girth*0.7, tall/2)},
	}}
	add := func(edge pattern.Edge, from, to geom.Point) {
		cuff.Edges = append(cuff.Edges, edge)
		cuff.lines = append(cuff.lines, drawn(geom.Line(from, to)))
	}
	add(pattern.Edge{Name: "inside", Finish: pattern.Faced}, at(0, 0), at(s.girth+s.lap, 0))
	add(pattern.Edge{Name: "end.back", Finish: finish}, at(s.girth+s.lap, 0), at(s.girth+s.lap, tall))
	if s.lap > 0 {
		add(pattern.Edge{Name: "lap", Finish: pattern.Faced}, at(s.girth+s.lap, tall), at(s.girth, tall))
	}
	add(pattern.Edge{Name: "top"}, at(s.girth, tall), at(0, tall))
	add(pattern.Edge{Name: "end.front", Finish: finish}, at(0, tall), at(0, 0))
	e.pieces = slices.Insert(e.pieces, slices.Index(e.pieces, a.work)+1, cuff)
	a.sewToHem(cuff, "top", s.meeting)
	if !s.open {
		e.joinCuffEnds(name)
	}
	what := cuffName
	if s.name == bandName {
		what = "band"
	}
	e.changed(what, name, 0, s.girth, "mm")
}

// joinCuffEnds sews the ends of a cuff to each other.
func (e *edit) joinCuffEnds(name string) {
	e.made = append(e.made, pattern.Seam{
		Name:    freshSeamName(e, name+"-ends"),
		A:       pattern.Run{{Piece: name, Edge: "end.back"}},
		B:       pattern.Run{{Piece: name, Edge: "end.front", Backwards: true}},
		Meeting: pattern.Meeting{Kind: pattern.Plain},
	})
}

// sewToHem sews an edge of a new piece to the hem and marks both by quarters.
func (a *arm) sewToHem(cuff *work, edge string, kind pattern.MeetingKind) {
	hem := &a.Edges[a.hem]
	hem.Finish = pattern.Sewn
	a.e.made = append(a.e.made, pattern.Seam{
		Name:    freshSeamName(a.e, cuff.Name),
		A:       pattern.Run{{Piece: cuff.Name, Edge: edge}},
		B:       pattern.Run{{Piece: a.Name, Edge: hem.Name, Backwards: true}},
		Meeting: pattern.Meeting{Kind: kind},
	})
	// Halves and quarters are marked on both edges and matched before the gathers
	// are drawn up (H. Kinne and A. M. Cooley, Clothing and Health, 1916).
	long, foot := cuff.lines[cuff.EdgeIndex(edge)].length(), a.lines[a.hem].length()
	stem := "band"
	if cuff.Role != pattern.SleeveBand {
		stem = cuffName
	}
	for k, share := range []float64{0.25, 0.5, 0.75} {
		mark := pattern.Notch{Name: fmt.Sprintf("%s-%d", stem, k+1), Count: 1}
		mark.Edge, mark.At = edge, share*long
		cuff.fresh.notches = append(cuff.fresh.notches, mark)
		mark.Edge, mark.At = hem.Name, (1-share)*foot
		a.fresh.notches = append(a.fresh.notches, mark)
	}
}

// addTurnedBack makes a cuff that is turned back over the sleeve: as long as
// the hem where they are sewn, longer by the flare at its free edge, its edges
// square to its ends.
func (a *arm) addTurnedBack(o Cuff) {
	e := a.e
	name := freshPieceName(e, cuffName)
	hem := a.lines[a.hem].length()
	ring := turnedBack(hem, hem+o.Flare, o.Height)
	cut := a.Cut
	cut.Count *= 2 // each with its facing
	cuff := &work{touched: true, Piece: pattern.Piece{Name: name, Title: "Turned-back cuff", Role: pattern.SleeveCuff, Cut: cut}}
	for k, edge := range []pattern.Edge{{Name: "join"}, {Name: "end.back"}, {Name: "free", Finish: pattern.Faced}, {Name: "end.front"}} {
		cuff.Edges = append(cuff.Edges, edge)
		cuff.lines = append(cuff.lines, drawn(ring[k]...))
	}
	cuff.Grain = grainThrough(cuff.outline(), pattern.Grain{From: geom.Pt(0, 0), To: geom.Pt(1, 0)})
	e.pieces = slices.Insert(e.pieces, slices.Index(e.pieces, a.work)+1, cuff)
	a.sewToHem(cuff, "join", pattern.Plain)
	e.joinCuffEnds(name)
	e.changed(cuffName, name, 0, hem, "mm")
	e.changed("cuff, free edge", name, 0, cuff.lines[2].length(), "mm")
}

// turnedBack draws a strip whose lower edge is exactly inner mm long and whose
// upper one outer, nearly, square to its ends, which are height mm: the part of
// a ring that these lengths fix, or a rectangle.
func turnedBack(inner, outer, height float64) [4]geom.Path {
	angle := math.Min((outer-inner)/height, 1.5*math.Pi)
	if angle < 1e-6 {
		c := []geom.Point{geom.Pt(0, 0), geom.Pt(inner, 0), geom.Pt(inner, height), geom.Pt(0, height)}
		var ring [4]geom.Path
		for k := range ring {
			ring[k] = geom.Path{geom.Line(c[k], c[(k+1)%4])}
		}
		return ring
	}
	arc := func(r float64) geom.Path { // from left to right over the ring's centre
		n := max(2, int(math.Ceil(angle/0.4)))
		var path geom.Path
		for k := range n {
			from, to := math.Pi/2+angle/2-angle*float64(k)/float64(n), math.Pi/2+angle/2-angle*float64(k+1)/float64(n)
			// The tangents that make a cubic keep to the circle.
			reach := 4 * math.Tan((from-to)/4) * r
			p0, p1 := geom.Polar(r, from), geom.Polar(r, to)
			path = append(path, geom.Hermite(p0, p0.Unit().Right().Mul(reach), p1, p1.Unit().Right().Mul(reach)))
		}
		return path
	}
	r := inner / angle
	r *= inner / arc(r).Length() // what the cubics are off a circle
	in, out := arc(r), arc(r+height)
	return [4]geom.Path{in, {geom.Line(in.End(), out.End())}, out.Reverse(), {geom.Line(out.Start(), in.Start())}}
}

// leavePlacket leaves the lower end of the seam under the arm open by so many
// mm, for a cuff of the given girth to be put on over the hand.
func (a *arm) leavePlacket(long, girth float64) error {
	if long == 0 {
		if girth < handGirth {
			a.e.caution(fmt.Sprintf("a closed cuff of %.0f mm does not go over most hands: leave a placket", girth))
		}
		return nil
	}
	front, _ := a.sides()
	edges := map[int]pattern.Edge{}
	for _, i := range []int{a.up, a.down} {
		if l := a.lines[i].length(); long > l-minSlash {
			return refuse(fmt.Sprintf("an opening of %.0f mm is as long as the seam under the arm of piece %q, %.0f mm", long, a.Name, l), "ask for a shorter one")
		}
		name := placketName + ".back"
		if i == front {
			name = placketName + ".front"
		}
		if a.EdgeIndex(name) >= 0 {
			return refuse(fmt.Sprintf("piece %q has an edge %q already", a.Name, name), "leave the opening that is there")
		}
		edges[i] = pattern.Edge{Name: name, Role: placketName, Finish: pattern.Open, Allowance: a.Edges[i].Allowance}
	}
	// The opening is an edge of its own that no seam takes: it does not carry the
	// seam's edge on.
	head, rest := a.lines[a.up].split(long)
	down, tail := a.lines[a.down].split(a.lines[a.down].length() - long)
	a.lines[a.up], a.lines[a.down] = rest, down
	insert := func(i int, edge pattern.Edge, l line) {
		a.Edges = slices.Insert(a.Edges, i, edge)
		a.lines = slices.Insert(a.lines, i, drawn(l.path()...))
	}
	if a.down+1 > a.up {
		insert(a.down+1, edges[a.down], tail)
		insert(a.up, edges[a.up], head)
	} else {
		insert(a.up, edges[a.up], head)
		insert(a.down+1, edges[a.down], tail)
	}
	a.e.changed("seam under the arm left open for a placket", a.Name, 0, long, "mm")
	return nil
}
