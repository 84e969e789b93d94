package alter

import (
	"maps"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Allowances are a house's widths in mm by what an edge is.
type Allowances struct {
	Seam  float64 // straight seams
	Curve float64 // necklines, armscyes, sleeve heads
	Hem   float64 // skirt hems
	Small float64 // hems of sleeves, and open edges
	// FlatHems makes a hem narrower that would not lie flat turned up.
	FlatHems bool
	// Corners shapes the corners of the cut line by the house's rules, see
	// shapeCorners; else they stay as they are.
	Corners bool
}

func (a Allowances) check() error {
	for _, w := range []float64{a.Seam, a.Curve, a.Hem, a.Small} {
		if !(w >= 0) {
			return refuse("an allowance cannot be less than nothing", "give widths of 0 mm or more")
		}
	}
	return nil
}

// SetAllowances gives every edge its allowance: none on folds, the curve's width
// on necklines, armscyes and sleeve heads and on what is sewn to them, the
// hem's on the hems of the skirt and of what is sewn to it, as tiers and godets,
// the small one on other hems, round ones as of a circular flounce, and open
// edges, and the seam's on the rest.
//
// Both sides of a seam get one width: the smaller that either side asks for.
// With FlatHems, a hem that would not lie flat turned up, since the piece flares or
// the hem curves, is made as narrow as it must be, and with it those that it is
// sewn to.
func SetAllowances(p *pattern.Pattern, a Allowances) (*operation.Answer, error) {
	if err := a.check(); err != nil {
		return nil, err
	}
	e := begin(p)
	had, narrower := e.setWidths(a)
	e.tellWidths(a, had, narrower)
	if a.Corners {
		e.tellCorners()
	}
	return e.finish()
}

// setWidths gives every edge its allowance; it returns how many edges of a sort
// had which width, and which narrower ones than asked for hems got.
func (e *edit) setWidths(a Allowances) (had map[edgeSort]map[float64]int, narrower map[edgeSort][]float64) {
	ofSkirt := e.sewnToSkirt()
	had = map[edgeSort]map[float64]int{}
	sorts := map[pattern.EdgeRef]edgeSort{}
	asked := map[edgeSort]float64{seamEdge: a.Seam, curvedEdge: a.Curve, skirtHem: a.Hem, smallEdge: a.Small}
	for _, w := range e.pieces {
		for i := range w.Edges {
			sort := sortOf(w, i, ofSkirt[w.Name])
			if had[sort] == nil {
				had[sort] = map[float64]int{}
			}
			had[sort][w.Edges[i].Allowance]++
			w.Edges[i].Allowance = asked[sort]
			sorts[pattern.EdgeRef{Piece: w.Name, Edge: w.Edges[i].Name}] = sort
		}
	}
	for _, s := range e.seams {
		least := a.Seam
		each := func(set bool) {
			for _, ref := range append(append(pattern.Run(nil), s.A...), s.B...) {
				w := e.piece(ref.Piece)
				if w == nil {
					continue
				}
				if edge := w.Edge(ref.Edge); edge != nil && edge.Finish == pattern.Sewn {
					least = min(least, edge.Allowance)
					if set {
						edge.Allowance = least
					}
				}
			}
		}
		each(false)
		each(true)
	}
	narrower = map[edgeSort][]float64{}
	if a.Corners { // a corner turned back lets a hem be deeper
		e.shapeCorners()
	}
	if a.FlatHems {
		narrower = e.flatHems(asked, sorts)
	}
	return had, narrower
}

// tellWidths tells what widths there were and are.
func (e *edit) tellWidths(a Allowances, had map[edgeSort]map[float64]int, narrower map[edgeSort][]float64) {
	now := 0.0
	for _, w := range e.pieces {
		now += withAllowance(&w.Piece)
	}
	before := 0.0
	for i := range e.in.Pieces {
		before += withAllowance(&e.in.Pieces[i])
	}
	e.changed("edges with an allowance", "", before, now, "")
	for _, told := range []struct {
		sort  edgeSort
		what  string
		width float64
	}{
		{seamEdge, "seam allowance", a.Seam}, {curvedEdge, "allowance on necklines, armscyes and sleeve heads", a.Curve},
		{skirtHem, "skirt hem", a.Hem}, {smallEdge, "other hems and open edges", a.Small},
	} {
		if len(had[told.sort]) > 0 {
			e.changed(told.what, "", mostFrequent(had[told.sort]), told.width, "mm")
		}
		for _, width := range narrower[told.sort] {
			e.changed(told.what+", narrower where it would not lie flat turned up", "", told.width, width, "mm")
		}
	}
}

// edgeSort is what an edge's allowance goes by.
type edgeSort int

const (
	bareEdge edgeSort = iota // a fold, or bound: the binding covers the raw edge
	seamEdge
	curvedEdge
	skirtHem
	smallEdge
)

// sortOf returns what the allowance of edge i goes by; ofSkirt says that the piece
// is of the skirt.
func sortOf(w *work, i int, ofSkirt bool) edgeSort {
	switch edge := w.Edges[i]; {
	case edge.Finish == pattern.Fold || edge.Finish == pattern.Bound && !slices.Contains(curvedRoles, edge.Is()):
		return bareEdge
	case slices.Contains(curvedRoles, edge.Is()):
		return curvedEdge
	case edge.Finish == pattern.Hemmed && ofSkirt && (isSkirt(w) || w.turns(i) < roundHem):
		return skirtHem
	case edge.Finish == pattern.Hemmed || edge.Finish == pattern.Faced:
		return smallEdge
	}
	return seamEdge
}

var curvedRoles = []string{pattern.Neckline, pattern.Armscye, pattern.Cap}

// roundHem is how far in radians a hem turns from which a deep one would not lie
// flat: about half a right angle, from memory.
const roundHem = 0.8

// turns is how far in radians edge i turns from its start to its end, to either
// side.
func (w *work) turns(i int) float64 { return math.Abs(w.turned(i)) }

// turned is how far in radians edge i turns from its start to its end, to the
// left.
func (w *work) turned(i int) float64 {
	path := w.lines[i].path()
	turn := 0.0
	for k, s := range path {
		turn += geom.Turn(s.Direction(0), s.Direction(1))
		if k > 0 {
			turn += geom.Turn(path[k-1].Direction(1), s.Direction(0))
		}
	}
	return turn
}

func isSkirt(w *work) bool { return w.Role == pattern.SkirtFront || w.Role == pattern.SkirtBack }

// sewnToSkirt returns the pieces of the skirt and those that hang on them, seam by
// seam: a bodice does not, nor what is only basted on.
func (e *edit) sewnToSkirt() map[string]bool {
	bodice := []pattern.Role{pattern.BodiceFront, pattern.BodiceBack, pattern.BodiceSideBack, pattern.BodiceSideFront}
	hang := map[string]bool{}
	for _, w := range e.pieces {
		hang[w.Name] = isSkirt(w)
	}
	for grown := true; grown; {
		grown = false
		for _, s := range e.seams {
			run := slices.Concat(s.A, s.B)
			if s.Kind == pattern.Basted || !slices.ContainsFunc(run, func(r pattern.EdgeRef) bool { return hang[r.Piece] }) {
				continue
			}
			for _, r := range run {
				if w := e.piece(r.Piece); !hang[r.Piece] && w != nil && !slices.Contains(bodice, w.Role) {
					hang[r.Piece], grown = true, true
				}
			}
		}
	}
	return hang
}

// mostFrequent returns the width that most edges had, of equally many the least.
func mostFrequent(had map[float64]int) float64 {
	best, most := 0.0, 0
	for _, width := range slices.Sorted(maps.Keys(had)) {
		if had[width] > most {
			best, most = width, had[width]
		}
	}
	return best
}

// matchAllowances gives an edge that a new piece is sewn to the allowance of the
// new piece's edge, since both raw edges are laid together. A piece that has no
// allowance anywhere is drawn to its seam lines, and stays so.
func (e *edit) matchAllowances(out *pattern.Pattern) {
	for _, s := range e.made {
		for _, sides := range [...][2]pattern.Run{{s.A, s.B}, {s.B, s.A}} {
			width, ok := e.newWidth(out, sides[0])
			if !ok {
				continue
			}
			for _, ref := range sides[1] {
				if was := e.in.Piece(ref.Piece); was == nil || !anyAllowance(was) {
					continue
				}
				if edge := out.Edge(ref); edge != nil && edge.Finish == pattern.Sewn {
					edge.Allowance = width
				}
			}
		}
	}
}

// newWidth returns the one allowance, more than nothing, that all edges of a run
// over new pieces have.
func (e *edit) newWidth(out *pattern.Pattern, run pattern.Run) (width float64, ok bool) {
	for _, ref := range run {
		edge := out.Edge(ref)
		if edge == nil || e.in.Piece(ref.Piece) != nil || edge.Allowance <= 0 || ok && edge.Allowance != width {
			return 0, false
		}
		width, ok = edge.Allowance, true
	}
	return width, ok
}

func anyAllowance(p *pattern.Piece) bool {
	return slices.ContainsFunc(p.Edges, func(e pattern.Edge) bool { return e.Allowance > 0 })
}

func withAllowance(p *pattern.Piece) float64 {
	n := 0.0
	for _, edge := range p.Edges {
		if edge.Allowance > 0 {
			n++
		}
	}
	return n
}
