package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Fullness says how much width an edge gains, to be gathered up again.
type Fullness struct {
	Piece, Edge string
	Add         float64 // mm
	Slashes     int
}

// AddFullness slashes a piece from one edge along the grain to whatever lies
// opposite, hinged there, and spreads it; the edge is gathered back to what it
// measured. An edge that has gathers is slashed within them, else it is
// gathered over its middle half.
//
// Kept: the edge's sewn length, exactly; every other edge's length. Changed: the
// edge's cut length, by Add exactly; a straight edge opposite, as a shoulder, is
// bent a little where the slashes are hinged on it, in one smooth line.
func AddFullness(p *pattern.Pattern, o Fullness) (*operation.Answer, error) {
	e := begin(p)
	w, i, err := e.edgeNamed(o.Piece, o.Edge)
	if err != nil {
		return nil, err
	}
	if o.Add <= 0 || o.Slashes < 1 {
		return nil, refuse("fullness needs an amount and at least one slash", "give both")
	}
	total := w.lines[i].length()
	from, to := total/4, 3*total/4
	had := -1
	for k, g := range w.Gathers {
		if g.Edge == o.Edge {
			from, to, had = g.From, g.To, k
		}
	}
	sewn := e.sewnBefore(w.Name, o.Edge)
	up := w.grainDirection(i)
	var cuts []slash
	for _, a := range evenly(from, to, o.Slashes) {
		if had < 0 && w.inMark(o.Edge, a) {
			return nil, refuse(fmt.Sprintf("a slash would run into a dart on edge %q of piece %q", o.Edge, w.Name), "let the dart out into gathers first")
		}
		j, b, err := w.across(i, a, up)
		if err != nil {
			return nil, err
		}
		if w.inMark(w.Edges[j].Name, b) {
			return nil, refuse(fmt.Sprintf("a slash would run into a dart on edge %q of piece %q", w.Edges[j].Name, w.Name), "turn that dart elsewhere first")
		}
		cuts = append(cuts, slash{i: i, a: a, j: j, b: b, openA: o.Add / float64(o.Slashes)})
	}
	stiff, err := w.spreadSmooth(cuts)
	if err != nil {
		return nil, err
	}
	for _, name := range stiff {
		e.caution(fmt.Sprintf("edge %s of %s bends where the slashes are hinged, beside a dart or pleat; true it by hand", name, w.Name))
	}
	grown := w.lines[i].length() - total
	if had < 0 {
		g := pattern.Gather{Name: freshName(w, gatherName(pattern.Gathers, o.Edge)), Edge: o.Edge, Kind: pattern.Gathers}
		g.From, g.To = w.lines[i].spanOf(w.Name, o.Edge, from, to)
		g.Length = g.To - g.From - grown
		w.fresh.gathers = append(w.fresh.gathers, g)
	} else {
		// The old record is carried over by lineage; it must come out at the old
		// sewn length whatever fairing did outside it.
		g := &w.Gathers[had]
		a, b := w.lines[i].spanOf(w.Name, o.Edge, from, to)
		g.Length += (b - a) - (to - from) - grown
	}
	e.gatherSeams(w.Name, o.Edge, pattern.Gathers)
	e.changed(o.Edge+", cut", w.Name, total, w.lines[i].length(), "mm")
	e.changed(o.Edge+", sewn", w.Name, sewn, sewn, "mm")
	return e.finish()
}

// spanOf returns where a stretch of the input's edge lies on the line now.
func (l line) spanOf(piece, edge string, from, to float64) (a, b float64) {
	c := newCarrier(spans(piece, edge, l))
	start, _ := c.find(piece, edge, from, onward)
	end, _ := c.find(piece, edge, to, backward)
	return start.at, end.at
}

// grainDirection returns the direction along the grainline that leads from edge
// i into the piece; without a grainline, square to the edge.
func (w *work) grainDirection(i int) geom.Point {
	path := w.lines[i].path()
	in := path.Direction(path.Length() / 2).Left()
	if !w.Grain.Given() {
		return in
	}
	dir := w.Grain.To.Sub(w.Grain.From).Unit()
	if dir.Dot(in) < 0 {
		dir = dir.Mul(-1)
	}
	return dir
}

// MoveFlare says how much hem width moves from the front of a skirt to its
// back.
type MoveFlare struct {
	Amount  float64 // mm round the whole garment; negative moves it forward
	Slashes int     // per piece
}

// MoveFlareBack laps the front pieces of a skirt and spreads the back ones by
// the same, hinged at the waist.
//
// Kept: the hem circumference within a hundredth of a millimetre a piece; the
// waist and all lengths. Degenerate: more than the front has is refused.
func MoveFlareBack(p *pattern.Pattern, o MoveFlare) (*operation.Answer, error) {
	e := begin(p)
	if _, err := e.skirt(); err != nil {
		return nil, err
	}
	for _, role := range []pattern.Role{pattern.SkirtFront, pattern.SkirtBack} {
		if around(e.role(role), pattern.Hem) == 0 {
			return nil, refuse(fmt.Sprintf("the pattern has no piece with the role %s and a hem", role), "give the pieces their roles")
		}
	}
	return e.moveFlare(
		flared{string(pattern.SkirtFront), e.role(pattern.SkirtFront)},
		flared{string(pattern.SkirtBack), e.role(pattern.SkirtBack)}, o.Amount, o.Slashes)
}

// PieceFlare says how much hem width moves from one piece to another.
type PieceFlare struct {
	From, To string  // pieces with a waist and a hem
	Amount   float64 // mm round the whole garment; negative moves it the other way
	Slashes  int     // per piece
}

// MovePieceFlare laps one piece of a skirt and spreads another, hinged at the
// waist: round the whole garment, what the one hem loses the other gains.
//
// Kept: the hem circumference within a hundredth of a millimetre a piece; the
// waist and all lengths. Degenerate: a piece to itself, or more than the piece
// has, is refused.
func MovePieceFlare(p *pattern.Pattern, o PieceFlare) (*operation.Answer, error) {
	e := begin(p)
	var both []flared
	for _, name := range []string{o.From, o.To} {
		w, err := e.pieceNamed(name)
		if err != nil {
			return nil, err
		}
		both = append(both, flared{fmt.Sprintf("%q", name), []*work{w}})
	}
	if o.From == o.To {
		return nil, refuse(fmt.Sprintf("the flare of piece %q would move to itself", o.From), "name another piece")
	}
	return e.moveFlare(both[0], both[1], o.Amount, o.Slashes)
}

// flared is pieces that share a change of hem in proportion.
type flared struct {
	name   string
	pieces []*work
}

func (e *edit) moveFlare(from, to flared, amount float64, slashes int) (*operation.Answer, error) {
	if slashes < 1 {
		return nil, refuse("a skirt cannot be spread without a slash", "ask for at least one a piece")
	}
	before := around(e.pieces, pattern.Hem) - around(e.others(from, to), pattern.Hem)
	for _, side := range []struct {
		flared
		by float64
	}{{from, -amount}, {to, amount}} {
		hem := around(side.pieces, pattern.Hem)
		if hem+side.by < hem/3 {
			return nil, refuse(fmt.Sprintf("the hem of %s measures %.0f mm: moving %.0f of it leaves too little", side.name, hem, math.Abs(side.by)), "move less")
		}
		for _, w := range side.pieces {
			i, err := w.edgeOf(pattern.Hem)
			if err != nil {
				return nil, err
			}
			now := w.lines[i].length()
			fresh, err := w.flareTo(i, now*(hem+side.by)/hem, slashes)
			if err != nil {
				return nil, err
			}
			e.replace(w, fresh)
			e.changed("hem", fresh.Name, now, fresh.lines[i].length(), "mm")
		}
	}
	e.changed("hem circumference", "", before, around(e.pieces, pattern.Hem)-around(e.others(from, to), pattern.Hem), "mm")
	return e.finish()
}

// others returns the pieces that are in neither group, by name.
func (e *edit) others(groups ...flared) []*work {
	return slices.DeleteFunc(slices.Clone(e.pieces), func(w *work) bool {
		return slices.ContainsFunc(groups, func(g flared) bool {
			return slices.ContainsFunc(g.pieces, func(o *work) bool { return o.Name == w.Name })
		})
	})
}

// EdgeFlare says how long a loose edge becomes.
type EdgeFlare struct {
	Piece, Edge string
	Length      float64 // mm
	Slashes     int
}

// FlareEdge slashes a piece from a loose edge along the grain to whatever lies
// opposite, hinged there, and spreads it, or laps it, until the edge measures
// what is asked: a bell for a sleeve, a spring for a peplum.
//
// Kept: every other edge, in length. Changed: the edge, to Length exactly.
// Degenerate: a sewn edge, one with darts or fullness in it, and a length that
// would turn the piece too far are refused.
func FlareEdge(p *pattern.Pattern, o EdgeFlare) (*operation.Answer, error) {
	e := begin(p)
	w, i, err := e.edgeNamed(o.Piece, o.Edge)
	if err != nil {
		return nil, err
	}
	switch {
	case w.Edges[i].Finish == pattern.Sewn || w.Edges[i].Finish == pattern.Fold:
		return nil, refuse(fmt.Sprintf("edge %q of piece %q is not loose: flaring it would part it from its mate", o.Edge, w.Name), "name a hem, or add fullness there and gather it")
	case e.takesUp(w, o.Edge):
		return nil, refuse(fmt.Sprintf("edge %q of piece %q has fullness in it", o.Edge, w.Name), "let that out first")
	case o.Length < minSlash:
		return nil, refuse(fmt.Sprintf("an edge of %.1f mm is no edge", o.Length), "ask for more")
	}
	long := w.lines[i].length()
	if math.Abs(o.Length-long) > spreadExact {
		fresh, err := w.widened(i, o.Length-long, 0, long, o.Slashes, false)
		if err != nil {
			return nil, err
		}
		e.replace(w, fresh)
	}
	e.changed(o.Edge, w.Name, long, o.Length, "mm")
	return e.finish()
}
