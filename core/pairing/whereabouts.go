package pairing

import (
	"fmt"
	"math"

	"bygone.example/core/finding"
	"bygone.example/core/pattern"
)

// atCorner in mm: a place nearer than this to the end of its edge is at the
// corner, as a maker would say.
const atCorner = 2.0

// whereabouts says where on a piece a place is, for a maker who does not think
// in coordinates: "where it meets hem", "12.5 cm from shoulder", "towards hem".
// It is empty of a place without a point, and of a piece that is not there.
func whereabouts(p *pattern.Pattern, place finding.Place) string {
	piece := p.Piece(place.Piece)
	if piece == nil || place.At == nil || len(piece.Edges) < 2 {
		return ""
	}
	for i := range piece.Edges {
		e := &piece.Edges[i]
		if e.Name != place.Edge {
			continue
		}
		n := len(piece.Edges)
		before, after := piece.Edges[(i+n-1)%n].Name, piece.Edges[(i+1)%n].Name
		length := e.Path.Length()
		along, off := e.Path.Nearest(*place.At)
		switch {
		case over(off, atCorner): // a dart's point, say
			return "inside the piece, " + amount(off) + " from the edge"
		case !over(along, atCorner):
			return "where it meets " + before
		case !over(length-along, atCorner):
			return "where it meets " + after
		case !over(along-length/2, atCorner):
			return "half way from " + before + " to " + after
		case along < length/2:
			return amount(along) + " from " + before
		}
		return amount(length-along) + " from " + after
	}
	if place.Edge != "" {
		return ""
	}
	nearest, least := "", math.Inf(1)
	for i := range piece.Edges {
		if _, off := piece.Edges[i].Path.Nearest(*place.At); longer(least, off) {
			nearest, least = piece.Edges[i].Name, off
		}
	}
	if !over(least, atCorner) {
		return "at " + nearest
	}
	return amount(least) + " from " + nearest
}

// amount writes a length in centimetres, as on a tape. Half a millimetre is the
// next one, wherever the piece lies: see rounding.
func amount(mm float64) string { return fmt.Sprintf("%.1f cm", (mm+rounding)/10) }

// locate tells of each finding where it is in words.
func locate(p *pattern.Pattern, list []finding.Finding) {
	for i := range list {
		list[i].Place.Where = whereabouts(p, list[i].Place)
	}
}
