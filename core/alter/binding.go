package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// BiasBinding says how an edge is bound. Lengths in mm.
type BiasBinding struct {
	// Edge is the role of the edges that are bound: neckline, armscye or hem.
	Edge string
	// Piece is a piece that has such an edge; empty finds it as AddFacing does.
	Piece string
	// Finished is how wide the binding shows, Seam its turning on both long edges.
	Finished, Seam float64
	// Cloth is how wide the cloth is that the strips are cut from.
	Cloth float64
}

// Bind puts a bias binding onto an edge: a strip whose grain runs at 45° to it,
// twice as wide as the binding shows, folded over the edge. It lies on the fold
// where the edge does or goes on as its mirror image, its ends are turned in at
// an opening, and are sewn to each other round an armscye. Cloth folded warp onto
// weft has its fold on the bias, so that a strip square to the fold is on the
// bias too. A facing that is there already is taken off.
//
// Kept: the edge; the binding measures exactly what it does sewn. Changed: a new
// piece, its seam and notches. Told besides: the cut width, and how many strips
// of the cloth, joined on the straight grain, the whole garment takes.
// Degenerate: an edge sewn to anything but a facing, a binding of no width, and
// cloth too narrow for a join are refused.
func Bind(p *pattern.Pattern, o BiasBinding) (*operation.Answer, error) {
	switch {
	case !slices.Contains([]string{pattern.Neckline, pattern.Armscye, pattern.Hem}, o.Edge):
		return nil, refuse(fmt.Sprintf("an edge of the role %q is not bound", o.Edge), "choose the neckline, the armscye or the hem")
	case !(o.Finished >= 1 && o.Seam >= 0):
		return nil, refuse("a binding needs a width, and turnings of 0 mm or more", "let it show 1 mm or more")
	}
	e := begin(p)
	rims, err := e.finishRims(o.Edge, o.Piece)
	if err != nil {
		return nil, err
	}
	for _, r := range rims {
		if err := e.bindRim(r, o); err != nil {
			return nil, err
		}
	}
	if o.Edge == pattern.Neckline {
		e.caution("Do not run a neck binding on into ties on a child's garment: cords at the neck catch, and the rules on children's clothing bar them (16 CFR 1120; EN 14682).")
	}
	return e.finish()
}

// bindRim puts the binding onto one line of edges.
func (e *edit) bindRim(r rim, o BiasBinding) error {
	if err := e.clear(r, false); err != nil {
		return err
	}
	told := len(e.changes)
	strip := e.biasStrip(r, o)
	long := strip.lines[0].length()
	pieces := strip.copies()
	ends := 0.0 // turned in, or sewn to each other
	for _, k := range []int{1, 3} {
		if strip.Edges[k].Finish != pattern.Fold {
			ends += pieces
			if strip.OnFold() {
				ends = 2
			}
		}
	}
	total := pieces*long + ends*o.Seam
	strips, err := BiasStrips(total, o.Cloth, o.Seam)
	if err != nil {
		return err
	}
	e.changedFirst(told, "edge and binding, round the garment", "", pieces*e.sewnRim(r), pieces*long, "mm")
	_, high := strip.cutSize()
	e.changed("strip, cut width", strip.Name, 0, high, "mm")
	e.changed("strip, cut length in all, without joins", strip.Name, 0, total, "mm")
	e.changed("strips across the cloth", strip.Name, 0, float64(strips), "")
	// A strip cannot turn within its own width (from memory).
	if radius := tightest(r); radius < 2*o.Finished {
		e.caution(fmt.Sprintf("The %s bends to a radius of %.0f mm, tight for a binding of this width: make it narrower, or steam the strip into shape first.", o.Edge, radius))
	}
	return nil
}

// biasStrip makes the strip of a binding and sews it to the rim.
func (e *edit) biasStrip(r rim, o BiasBinding) *work {
	title := map[string]string{pattern.Neckline: "Neck binding", pattern.Armscye: "Armscye binding", pattern.Hem: "Hem binding"}[o.Edge]
	piece := pattern.Piece{Name: freshPiece(e, o.Edge+"-binding"), Title: title, Role: "binding", Cut: pattern.Cut{Count: 1}}
	front := pattern.Edge{Name: "end.front", Finish: pattern.Hemmed, Allowance: o.Seam}
	back := pattern.Edge{Name: "end.back", Finish: pattern.Hemmed, Allowance: o.Seam}
	fold := func(edge *pattern.Edge) { edge.Finish, edge.Allowance = pattern.Fold, 0 }
	mirror := false
	switch closedFront, closedBack := e.end(r, false).closed(), e.end(r, true).closed(); {
	case r.round:
		piece.Cut = r.edges[0].w.Cut
		if r.edges[0].w.OnFold() { // of both sides
			piece.Cut = pattern.Cut{Count: 2, Mirrored: true}
		}
		front.Finish, back.Finish = pattern.Sewn, pattern.Sewn
	case closedFront && closedBack: // on the fold in front, joined behind
		fold(&front)
		back.Finish, mirror = pattern.Sewn, true
	case closedFront:
		fold(&front)
	case closedBack:
		fold(&back)
	case r.whole: // all of it, from one end of the opening to the other
	default:
		piece.Cut = pattern.Cut{Count: 2, Mirrored: true}
	}
	strip := newStrip(piece, e.sewnRim(r), 2*o.Finished, math.Pi/4, [4]pattern.Edge{
		{Name: "edge", Allowance: o.Seam}, back, {Name: "inside", Finish: pattern.Faced, Allowance: o.Seam}, front,
	})
	e.pieces = slices.Insert(e.pieces, slices.Index(e.pieces, r.edges[len(r.edges)-1].w)+1, strip)
	e.made = append(e.made, pattern.Seam{
		Name: freshSeamName(e, strip.Name), A: r.run(), B: pattern.Run{{Piece: strip.Name, Edge: "edge"}}, Meeting: e.fullMeeting(r),
	})
	if r.round || mirror {
		ends := pattern.Seam{
			Name: freshSeamName(e, strip.Name+"-ends"), A: pattern.Run{{Piece: strip.Name, Edge: back.Name}},
			Meeting: pattern.Meeting{Kind: pattern.Plain},
		}
		if r.round {
			ends.B = pattern.Run{{Piece: strip.Name, Edge: front.Name, Backwards: true}}
		}
		e.made = append(e.made, ends)
	}
	e.markAlong(r, strip, "edge", strip.lines[0].length(), false)
	return strip
}

// BiasStrips returns how many strips at 45° across cloth of a width make a
// binding of total mm, its own end turnings counted in. Each measures √2 times
// the cloth's width; a join on the straight grain, of the given seam, takes 2√2
// seams off the sum. Cloth too narrow to gain by a join is refused.
func BiasStrips(total, cloth, seam float64) (int, error) {
	each, join := math.Sqrt2*cloth, 2*math.Sqrt2*seam
	if !(each > join+minSlash) {
		return 0, refuse(fmt.Sprintf("cloth %.0f mm wide is too narrow to join strips of", cloth), "give the width of the cloth in mm")
	}
	n := math.Ceil((total - join) / (each - join) * (1 - 1e-12))
	return max(1, int(n)), nil
}

// tightest returns the smallest radius in mm that a rim bends to over a stretch
// of 10 mm; +Inf where it is straight.
func tightest(r rim) float64 {
	const stretch = 10.0
	least := math.Inf(1)
	for _, s := range r.edges {
		path := s.w.lines[s.i].path()
		total := path.Length()
		for at := 0.0; at+stretch <= total; at += stretch / 2 {
			if turn := math.Abs(geom.Turn(path.Direction(at), path.Direction(at+stretch))); turn > 0 {
				least = math.Min(least, stretch/turn)
			}
		}
	}
	return least
}
