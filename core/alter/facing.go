package alter

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Roles of facings other than those of the neck.
const (
	armscyeFacing pattern.Role = "armscye-facing"
	hemFacing     pattern.Role = "hem-facing"
)

// Facing says what is faced.
type Facing struct {
	// Edge is the role of the edges that are faced: neckline, armscye or hem.
	Edge string
	// Piece is a piece that has such an edge; what it runs on into is faced too.
	// Empty takes the bodice, for a hem the skirt or, without one, the bodice.
	Piece string
	// Width in mm of the finished facing.
	Width float64
}

// AddFacing cuts facings from the shape of an edge: every piece that the edge
// runs over gets a facing traced from it, as wide as asked, whose ends are traced
// from the piece's own shoulder, side or centre. Facings are sewn to each other
// where their pieces are, lie on the fold where those do, and are turned in
// beside an opening. A facing that is there already is taken off.
//
// Kept: the pieces; the edge and its facing are the same line. Changed: new
// pieces, their seams and notches; the edge is sewn and no longer finished
// otherwise. Degenerate: an edge with darts or fullness, one that is sewn to
// anything but a facing, and a piece whose shoulder or side is shorter than the
// facing is wide are refused.
func AddFacing(p *pattern.Pattern, o Facing) (*operation.Answer, error) {
	if !slices.Contains([]string{pattern.Neckline, pattern.Armscye, pattern.Hem}, o.Edge) {
		return nil, refuse(fmt.Sprintf("an edge of the role %q is not faced", o.Edge), "choose the neckline, the armscye or the hem")
	}
	if !(o.Width >= minSlash) {
		return nil, refuse(fmt.Sprintf("a facing %.1f mm wide does not stay inside", o.Width), fmt.Sprintf("make it %d mm or more", minSlash))
	}
	e := begin(p)
	rims, err := e.finishRims(o.Edge, o.Piece)
	if err != nil {
		return nil, err
	}
	for _, r := range rims {
		if err := e.faceRim(r, o); err != nil {
			return nil, err
		}
	}
	e.changed("facing, wide", "", 0, o.Width, "mm")
	return e.finish()
}

// faceRim cuts the facings of one line of edges.
func (e *edit) faceRim(r rim, o Facing) (err error) {
	if err := e.flat(r, "a facing"); err != nil {
		return err
	}
	if err := e.clear(r, false); err != nil {
		return err
	}
	told := len(e.changes)
	made := make([]*work, len(r.edges))
	for k, s := range r.edges {
		if made[k], err = e.traceFacing(s, o); err != nil {
			return err
		}
	}
	seam := pattern.Seam{Name: freshSeamName(e, "facing-"+o.Edge), A: r.run(), Meeting: pattern.Meeting{Kind: pattern.Plain}}
	for k, s := range r.edges {
		seam.B = append(seam.B, pattern.EdgeRef{Piece: made[k].Name, Edge: s.name(), Backwards: s.against})
	}
	e.made = append(e.made, seam)
	e.joinFacings(r, made)
	e.markFacings(r, made)
	e.changedFirst(told, "pieces of the facing", "", 0, float64(len(made)), "")
	for k, s := range r.edges {
		e.changed("edge and facing, sewn", made[k].Name, e.sewnBefore(s.w.Name, s.name()), made[k].lines[facedEdge].length(), "mm")
	}
	return nil
}

// finishRims returns the rims of a finish: of a bodice's neckline or armscye, of
// the skirt's hem or, without a skirt, the bodice's.
func (e *edit) finishRims(role, piece string) ([]rim, error) {
	roles := []pattern.Role{pattern.BodiceFront, pattern.BodiceBack, pattern.BodiceSideBack, pattern.BodiceSideFront}
	if role == pattern.Hem && len(e.roles(pattern.SkirtFront, pattern.SkirtBack)) > 0 {
		roles = []pattern.Role{pattern.SkirtFront, pattern.SkirtBack}
		if parts, err := e.skirtWith(role); err == nil && piece == "" && parts[0].Role != parts[0].side {
			piece = parts[0].Name // where flounces or tiers hang, it is theirs
		}
	}
	return e.rims(role, piece, roles...)
}

// The edges of a facing, in boundary order: the inner one, the piece's edge
// before, the faced edge, and the one after.
const (
	edgeBefore = 1
	facedEdge  = 2
	edgeAfter  = 3
)

// traceFacing cuts the facing of one piece.
func (e *edit) traceFacing(s rimEdge, o Facing) (*work, error) {
	w := s.w
	before, after := w.prev(s.i), w.next(s.i)
	for _, k := range []int{before, after} {
		long := w.lines[k].length()
		if long < o.Width+minSlash {
			return nil, refuse(fmt.Sprintf("the %s of piece %q measures %.0f mm, too little for a facing %.0f mm wide", w.Edges[k].Name, w.Name, long, o.Width),
				"make the facing narrower")
		}
		from, to := 0.0, o.Width
		if k == before {
			from, to = long-o.Width, long
		}
		if w.foldsIn(w.Edges[k].Name, from, to) {
			return nil, refuse(fmt.Sprintf("the %s of piece %q has a dart or fullness inside the facing's width", w.Edges[k].Name, w.Name), "make the facing narrower")
		}
	}
	_, first := w.lines[before].split(w.lines[before].length() - o.Width)
	last, _ := w.lines[after].split(o.Width)
	inner := besideEdge(w.lines[s.i], o.Width, first, last)
	f := &work{touched: true, copied: true}
	f.Piece = pattern.Piece{
		Name: freshPiece(e, facingName(w, o.Edge)), Title: strings.TrimSpace(w.Title + " " + facingWord(o.Edge)), Role: facingRole(w, o.Edge), Cut: w.Cut,
	}
	end := func(k int) pattern.Edge {
		edge := pattern.Edge{Name: w.Edges[k].Name, Role: w.Edges[k].Role, Allowance: w.Edges[k].Allowance, Corner: w.Edges[k].Corner}
		switch finish := w.Edges[k].Finish; finish {
		case pattern.Fold, pattern.Sewn:
			edge.Finish = finish
		default:
			edge.Finish = pattern.Hemmed // turned in beside the opening
		}
		return edge
	}
	if w.OnFold() && w.Edges[before].Finish != pattern.Fold && w.Edges[after].Finish != pattern.Fold {
		f.Cut = pattern.Cut{Count: 2 * w.Cut.Count, Mirrored: true} // one for each half of the piece
	}
	faced := w.Edges[s.i]
	faced.Finish = pattern.Sewn
	f.Edges = []pattern.Edge{{Name: "inner", Finish: pattern.Open}, end(before), faced, end(after)}
	f.lines = []line{drawn(inner...), first.join(), w.lines[s.i].join(), last.join()}
	f.heal()
	f.Grain = roomyGrain(f.outline(), w.Grain)
	e.pieces = append(e.pieces, f)
	return f, nil
}

// foldsIn reports whether anything on the edge takes cloth up between two
// places.
func (w *work) foldsIn(edge string, from, to float64) bool {
	in := func(on string, a, b float64) bool { return on == edge && b > from && a < to }
	return slices.ContainsFunc(w.Darts, func(d pattern.Dart) bool { return in(d.Edge, d.From, d.To) }) ||
		slices.ContainsFunc(w.Pleats, func(f pattern.Pleat) bool { return in(f.Edge, f.From, f.To) }) ||
		slices.ContainsFunc(w.Gathers, func(g pattern.Gather) bool { return in(g.Edge, g.From, g.To) })
}

// besideEdge draws the line d mm inside an edge, from the end of the edge after
// it to the start of the edge before it, and square to both.
func besideEdge(l line, d float64, before, after line) geom.Path {
	points := []geom.Point{after.end()}
	s := l.sampled()
	total := l.length()
	for k := len(s.points) - 2; k >= 1; k-- {
		// Near the ends the line already is where the pieces' own edges lead it.
		if clear := math.Min(d, total/3); s.at[k] > clear && total-s.at[k] > clear {
			points = append(points, s.points[k].Add(s.left[k].Mul(d)))
		}
	}
	points = append(points, before.start())
	return geom.Smooth(points, after.path().EndDirection().Left(), before.path().StartDirection().Right())
}

func facingName(w *work, edge string) string {
	name := strings.TrimPrefix(strings.TrimPrefix(w.Name, "bodice-"), "skirt-")
	if edge == pattern.Neckline {
		return "facing-" + name
	}
	return edge + "-facing-" + name
}

func facingWord(edge string) string {
	switch edge {
	case pattern.Neckline:
		return "neck facing"
	case pattern.Armscye:
		return "armscye facing"
	}
	return "hem facing"
}

func facingRole(w *work, edge string) pattern.Role {
	switch {
	case edge == pattern.Armscye:
		return armscyeFacing
	case edge == pattern.Hem:
		return hemFacing
	case isFront(w):
		return pattern.FacingFront
	}
	return pattern.FacingBack
}

// joinFacings sews facings to each other, or to their mirror image, as the
// pieces are that they were cut from.
func (e *edit) joinFacings(r rim, made []*work) {
	facingsOf := func(run pattern.Run) (list pattern.Run) {
		for _, ref := range run {
			for k, s := range r.edges {
				if s.w.Name == ref.Piece && (s.w.Edges[s.beside(true)].Name == ref.Edge || s.w.Edges[s.beside(false)].Name == ref.Edge) {
					list = append(list, pattern.EdgeRef{Piece: made[k].Name, Edge: ref.Edge, Backwards: ref.Backwards})
					break
				}
			}
		}
		return list
	}
	joined := edgeSet{}
	for _, s := range e.seams {
		a, b := facingsOf(s.A), facingsOf(s.B)
		if s.Kind != pattern.Joined || len(a) != 1 || len(b) != 1 && len(s.B) > 0 {
			continue
		}
		for _, ref := range slices.Concat(a, b) {
			joined[edgeKey{ref.Piece, ref.Edge}] = true
		}
		name := "facing-" + s.Name
		if r.role != pattern.Neckline {
			name = r.role + "-" + name
		}
		e.made = append(e.made, pattern.Seam{Name: freshSeamName(e, name), A: a, B: b, Meeting: pattern.Meeting{Kind: pattern.Plain}})
	}
	for _, f := range made { // what is sewn to something that is not faced is turned in
		for _, k := range []int{edgeBefore, edgeAfter} {
			if edge := &f.Edges[k]; edge.Finish == pattern.Sewn && !joined[edgeKey{f.Name, edge.Name}] {
				edge.Finish = pattern.Hemmed
			}
		}
	}
}

// markFacings gives the facings the notches of the edges they were cut from,
// and both a pair where there would be none.
func (e *edit) markFacings(r rim, made []*work) {
	marked := false
	for k, s := range r.edges {
		for _, n := range s.w.Notches {
			if n.Edge == s.name() {
				made[k].fresh.notches = append(made[k].fresh.notches, n)
				marked = true
			}
		}
	}
	if marked || e.sewnRim(r) <= markedFrom {
		return
	}
	for k, s := range r.edges {
		n := pattern.Notch{Name: fmt.Sprintf("facing-%d", k+1), Edge: s.name(), At: s.w.lines[s.i].length() / 2, Count: min(k+1, 3)}
		e.markBoth(s.w, n)
		made[k].fresh.notches = append(made[k].fresh.notches, n)
	}
}
