package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Band says how a waistband is cut. Lengths in mm.
type Band struct {
	// Finished is the band's height.
	Finished float64
	// Lap is by how much the band's ends lie over each other at the opening: half
	// of it stands beyond the opening on either side. A band between bodice and
	// skirt has none.
	Lap float64
	// Layers is 2 for a band folded over at its upper edge, 1 for a single one
	// that is faced or lined. A band between bodice and skirt is single.
	Layers int
	// Seam is the turning along both long edges, End the one at the ends.
	Seam, End float64
}

// Waistband puts a straight band onto the waist. Where the waist seam joins a
// bodice to a skirt, the band goes between them, sewn to both; else it finishes
// the skirt's waist. Cut, it measures the waist, the lap and two turnings by its
// height in all layers and two seams. The piece is half of it, on the fold, or all
// of it where the garment is drawn out whole.
//
// Kept: bodice and skirt, and what takes up fullness in either; the band
// measures exactly what the waist does sewn. Changed: new piece and seams, with
// the notches of the old one and a pair at every joint. A band between bodice
// and skirt makes the garment longer by its height. Degenerate: a waist without
// an opening, one that does not run on from piece to piece, bodice and skirt
// waists of different lengths, and a waist sewn to something else are refused.
func Waistband(p *pattern.Pattern, o Band) (*operation.Answer, error) {
	switch {
	case !(o.Finished >= minSlash/2):
		return nil, refuse(fmt.Sprintf("a band %.1f mm high cannot be sewn", o.Finished), fmt.Sprintf("make it %g mm or more", minSlash/2.0))
	case o.Layers != 1 && o.Layers != 2:
		return nil, refuse(fmt.Sprintf("a band is not cut of %d layers", o.Layers), "ask for 1 or 2")
	case !(o.Lap >= 0 && o.Seam >= 0 && o.End >= 0):
		return nil, refuse("a band's lap and turnings cannot be less than nothing", "give 0 mm or more")
	}
	e := begin(p)
	skirt, err := e.oneRim(pattern.Waist, "", pattern.SkirtFront, pattern.SkirtBack, yokeFront, yokeBack)
	if err != nil {
		return nil, err
	}
	front, back := !e.end(skirt, false).closed(), !e.end(skirt, true).closed()
	switch {
	case skirt.round || !front && !back && !skirt.whole:
		return nil, refuse("the waist has no opening, and nobody gets into a band that is closed", "leave an edge open at the waist first")
	case skirt.whole: // from one side of the opening round to the other
	case front && back:
		return nil, refuse("the waist opens at the front and at the back", "close one of them first")
	case front: // the band is drawn from its fold to the opening
		skirt = skirt.reversed()
	}
	e.caution("A waistband does not give: measure it against the wearer sitting and after a meal, with no less ease than is comfortable, and let it be undone quickly.")
	for i, s := range e.seams {
		if s.Kind == pattern.Joined && len(s.B) > 0 && (sameEdges(s.A, skirt) || sameEdges(s.B, skirt)) {
			return e.bandBetween(i, skirt, o)
		}
	}
	return e.bandOn(skirt, o)
}

// sameEdges reports whether a run takes just the edges of a rim.
func sameEdges(run pattern.Run, r rim) bool {
	return len(run) == len(r.edges) && !slices.ContainsFunc(run, func(ref pattern.EdgeRef) bool { return !r.has(ref.Piece, ref.Edge) })
}

// bandPiece is the piece that both kinds of band begin with.
func bandPiece(e *edit) pattern.Piece {
	return pattern.Piece{Name: freshPiece(e, "waistband"), Title: "Waistband", Role: "waistband", Cut: pattern.Cut{Count: 1}}
}

// bandOn finishes the waist of a skirt.
func (e *edit) bandOn(r rim, o Band) (*operation.Answer, error) {
	if err := e.clear(r, false); err != nil {
		return nil, err
	}
	waist := e.sewnRim(r)
	high := float64(o.Layers) * o.Finished
	edges := [4]pattern.Edge{
		{Name: pattern.Waist, Allowance: o.Seam}, {Name: "end", Finish: pattern.Faced, Allowance: o.End},
		{Name: "upper", Finish: pattern.Faced, Allowance: o.Seam}, {Name: "fold", Finish: pattern.Fold},
	}
	if o.Lap/2 < pattern.MinEdge {
		o.Lap = 0
	}
	sides := 1.0 // how many ends the piece has, of the garment's two
	if r.whole {
		edges[3], sides = edges[1], 2
		edges[3].Name = "end." + leftHalf
	}
	band := newStrip(bandPiece(e), waist+sides*o.Lap/2, high, 0, edges)
	cutLong, cutHigh := band.cutSize()
	if o.Lap > 0 { // the lap stands beyond what is sewn
		lap := pattern.Edge{Name: "lap", Finish: pattern.Faced, Allowance: o.Seam}
		if r.whole {
			start, sewn := band.lines[0].split(o.Lap / 2)
			band.lines[0] = sewn
			band.Edges, band.lines = append(band.Edges, lap), append(band.lines, start)
			band.Edges[4].Name += "." + leftHalf
		}
		sewn, end := band.lines[0].split(waist)
		band.Edges = slices.Insert(band.Edges, 1, lap)
		band.lines = slices.Insert(band.lines, 1, end)
		band.lines[0] = sewn
	}
	last := r.edges[len(r.edges)-1].w
	e.pieces = slices.Insert(e.pieces, slices.Index(e.pieces, last)+1, band)
	e.made = append(e.made, pattern.Seam{
		Name: freshSeamName(e, band.Name), A: r.run(), B: pattern.Run{{Piece: band.Name, Edge: pattern.Waist}},
		Meeting: e.fullMeeting(r),
	})
	e.markAlong(r, band, pattern.Waist, band.lines[0].length(), false)
	e.changedFirst(0, "waist, round the garment", "", 2/sides*waist, 2/sides*band.lines[0].length(), "mm")
	e.changed("band, cut length", band.Name, 0, cutLong, "mm")
	e.changed("band, cut width", band.Name, 0, cutHigh, "mm")
	e.changed("band, finished height", band.Name, 0, o.Finished, "mm")
	return e.finish()
}

// bandBetween puts the band into seam i, whose one side is the skirt's waist.
func (e *edit) bandBetween(i int, skirt rim, o Band) (*operation.Answer, error) {
	s := e.seams[i]
	mate := s.B
	if sameEdges(s.B, skirt) {
		mate = s.A
	}
	first := e.piece(mate[0].Piece)
	bodice := e.rimOf(first, first.EdgeIndex(mate[0].Edge))
	if !sameEdges(mate, bodice) {
		return nil, refuse("the waist of the bodice does not run on from piece to piece as its seam says", "join the pieces at the side down to the waist")
	}
	own := s.A
	if sameEdges(s.B, skirt) {
		own = s.B
	}
	// Both are walked from the same end of the seam.
	if (own[0].Piece == skirt.edges[0].w.Name && own[0].Edge == skirt.edges[0].name()) != (mate[0].Piece == bodice.edges[0].w.Name && mate[0].Edge == bodice.edges[0].name()) {
		bodice = bodice.reversed()
	}
	long, other := e.sewnRim(skirt), e.sewnRim(bodice)
	if math.Abs(long-other) > exactWaist {
		return nil, refuse(fmt.Sprintf("the waist of the skirt measures %.1f mm and that of the bodice %.1f mm", long, other), "bring them to one length first: a straight band has only one")
	}
	// The opening's edges go on along the band's end.
	edges := [4]pattern.Edge{
		{Name: "lower", Allowance: o.Seam}, {Name: "end", Finish: pattern.Open, Allowance: o.End},
		{Name: "upper", Allowance: o.Seam}, {Name: "fold", Finish: pattern.Fold},
	}
	round := 2.0 // how often the band is in the garment
	if skirt.whole {
		edges[3], round = edges[1], 1
		edges[3].Name = "end." + leftHalf
	}
	band := newStrip(bandPiece(e), long, o.Finished, 0, edges)
	last := skirt.edges[len(skirt.edges)-1].w
	e.pieces = slices.Insert(e.pieces, slices.Index(e.pieces, last)+1, band)
	e.seams = slices.Delete(e.seams, i, i+1)
	for _, side := range []struct {
		r       rim
		edge    string
		against bool
	}{{bodice, "upper", true}, {skirt, "lower", false}} {
		for _, s := range side.r.edges {
			s.w.touched = true
		}
		e.made = append(e.made, pattern.Seam{
			Name: freshSeamName(e, band.Name+"-"+side.edge), A: side.r.run(),
			B:       pattern.Run{{Piece: band.Name, Edge: side.edge, Backwards: side.against}},
			Meeting: e.fullMeeting(side.r),
		})
		e.markAlong(side.r, band, side.edge, long, side.against)
	}
	cutLong, cutHigh := band.cutSize()
	e.changedFirst(0, "garment, longer between bodice and skirt", "", 0, o.Finished, "mm")
	e.changed("waist, round the garment", "", round*other, round*long, "mm")
	e.changed("band, cut length", band.Name, 0, cutLong, "mm")
	e.changed("band, cut width", band.Name, 0, cutHigh, "mm")
	e.caution("The band lowers the skirt by its height: shorten the bodice by as much if the waist is to stay where it was.")
	return e.finish()
}

// exactWaist in mm: a straight band sewn to two waists that differ by more
// would have to be eased to one of them. It is what the pairing check lets pass.
const exactWaist = 0.1
