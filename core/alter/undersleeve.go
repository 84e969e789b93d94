package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Undersleeve says how a sleeve to go under another is made.
type Undersleeve struct {
	// Attach is where it hangs: from a level inside the sleeve, or from the
	// armscye.
	Attach UndersleeveTop
	// Level is how far below the head it begins, as a share of the way down to the
	// elbow, where it hangs from a level.
	Level float64
	// Shorter is by how much it ends above the sleeve's hem, mm.
	Shorter float64
}

// UndersleeveTop is where an undersleeve hangs.
type UndersleeveTop string

// Where an undersleeve hangs.
const (
	FromLevel   UndersleeveTop = "level"
	FromArmscye UndersleeveTop = "armscye"
)

// AddUndersleeve makes a piece to wear under a wide sleeve: a copy of the plain
// one, of which it is best made before that is widened. It hangs from a level
// above the elbow, where its upper edge is bound and tacked to the sleeve's
// lining; or from the armscye, where it has the sleeve's own head, with its
// notches and its ease, basted to the armscye before the sleeve is set in.
//
// Kept: everything. Changed: one piece and its seams are new. Degenerate: one
// that nothing would be left of is refused.
func AddUndersleeve(p *pattern.Pattern, o Undersleeve) (*operation.Answer, error) {
	e := begin(p)
	a, err := e.arm()
	if err != nil {
		return nil, err
	}
	onUp, onDown := a.elbow()
	up, down := a.lines[a.up].path(), a.lines[a.down].path()
	top := a.lines[a.cap].path()
	switch {
	case e.takesUp(a.work, a.Edges[a.up].Name) || e.takesUp(a.work, a.Edges[a.down].Name):
		return nil, refuse(fmt.Sprintf("the edges under the arm of piece %q have a dart or fullness", a.Name), "make the undersleeve before bending the sleeve")
	case o.Attach != FromLevel && o.Attach != FromArmscye:
		return nil, refuse(fmt.Sprintf("an undersleeve does not hang from %q", o.Attach), "hang it from a level or the armscye")
	case o.Attach == FromArmscye && e.takesUp(a.work, a.Edges[a.cap].Name):
		return nil, refuse(fmt.Sprintf("the head of piece %q has fullness in it", a.Name), "make the undersleeve before puffing the sleeve")
	case !(o.Shorter >= 0) || o.Attach == FromLevel && !(o.Level > 0 && o.Level <= 1):
		return nil, refuse("an undersleeve begins between head and elbow and ends no lower than the sleeve", "give a level between 0 and 1 and a length from 0 mm")
	}
	from, fromDown := 0.0, 0.0
	if o.Attach == FromLevel {
		from, fromDown = o.Level*onUp, o.Level*onDown
	}
	if min(up.Length()-from, down.Length()-fromDown)-o.Shorter < leastUndersleeve {
		return nil, refuse(fmt.Sprintf("nothing to speak of would be left of an undersleeve %.0f mm shorter than the sleeve", o.Shorter), "leave it longer, or begin it higher")
	}
	up, down = up.Between(o.Shorter, up.Length()-from), down.Between(fromDown, down.Length()-o.Shorter)
	hem := a.lines[a.hem].path()
	if o.Shorter > 0 {
		hem = squareAcross(down.End(), down.EndDirection().Left(), up.Start(), up.StartDirection().Right())
	}
	topEdge := pattern.Edge{Name: a.Edges[a.cap].Name, Role: a.Edges[a.cap].Role}
	if o.Attach == FromLevel {
		top = squareAcross(up.End(), up.EndDirection().Left(), down.Start(), down.StartDirection().Right())
		topEdge = pattern.Edge{Name: "top", Finish: pattern.Bound}
	}
	name := freshPieceName(e, "undersleeve")
	u := &work{touched: true, Piece: pattern.Piece{Name: name, Title: "Undersleeve", Role: pattern.Undersleeve, Cut: a.Cut}}
	hemEdge := a.Edges[a.hem]
	hemEdge.Finish = pattern.Hemmed
	u.Edges = []pattern.Edge{hemEdge, a.Edges[a.up], topEdge, a.Edges[a.down]}
	for k, path := range []geom.Path{hem, up, top, down} { // drawn anew: the sleeve's seams are the sleeve's
		u.Edges[k].Path = nil
		u.lines = append(u.lines, drawn(path...))
	}
	u.heal()
	u.Grain = grainThrough(u.outline(), a.Grain)
	half := math.Min(up.Length(), down.Length()) / 2
	u.fresh.notches = append(u.fresh.notches,
		pattern.Notch{Name: elbowNotch, Edge: a.Edges[a.up].Name, At: up.Length() - half, Count: 1},
		pattern.Notch{Name: elbowNotch, Edge: a.Edges[a.down].Name, At: half, Count: 1})
	e.pieces = slices.Insert(e.pieces, slices.Index(e.pieces, a.work)+1, u)
	e.made = append(e.made, pattern.Seam{
		Name: freshSeamName(e, name+"-underarm"),
		A:    pattern.Run{{Piece: name, Edge: a.Edges[a.up].Name}}, B: pattern.Run{{Piece: name, Edge: a.Edges[a.down].Name, Backwards: true}},
		Meeting: meetingOf(down.Length() - up.Length()),
	})
	if o.Attach == FromArmscye {
		a.basteHead(u)
	}
	e.changed("seam under the arm", name, 0, up.Length(), "mm")
	e.changed("hem", name, 0, hem.Length(), "mm")
	return e.finish()
}

// leastUndersleeve is the shortest undersleeve in mm, under the arm.
const leastUndersleeve = 50

// meetingOf returns how two edges meet of which the second is longer by ease mm.
func meetingOf(ease float64) pattern.Meeting {
	if math.Abs(ease) <= legTolerance {
		return pattern.Meeting{Kind: pattern.Plain}
	}
	return pattern.Meeting{Kind: pattern.Eased, Ease: pattern.Range{Min: ease, Max: ease}}
}

// basteHead bastes the head of the undersleeve to the armscye as the sleeve's
// own is sewn to it, with the same notches.
func (a *arm) basteHead(u *work) {
	head := a.Edges[a.cap].Name
	for _, n := range a.Notches {
		if n.Edge == head {
			u.fresh.notches = append(u.fresh.notches, n)
		}
	}
	own := a.seam.A
	if !own.Has(a.Name, head) {
		own = a.seam.B
	}
	a.e.made = append(a.e.made, pattern.Seam{
		Name: freshSeamName(a.e, u.Name), Kind: pattern.Basted,
		A: pattern.Run{{Piece: u.Name, Edge: head, Backwards: own[0].Backwards}}, B: slices.Clone(a.e.otherRun(a.seam, a.Name, head)),
		Meeting: meetingOf(a.armscye - a.lines[a.cap].length()),
	})
}
