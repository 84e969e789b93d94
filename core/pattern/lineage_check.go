package pattern

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
)

// The rules of Lineage.Check, by their number in its doc comment.
const (
	RuleLineageNumber  = "lineage-number"  // 1
	RuleLineageNew     = "lineage-new"     // 2
	RuleLineageOld     = "lineage-old"     // 3
	RuleLineageCover   = "lineage-cover"   // 4
	RuleLineageClaimed = "lineage-claimed" // 5
)

// LineageTolerance in mm is how far stretches may leave a gap, overlap or run
// beyond their edge: what rounding adds up to when lengths are summed.
const LineageTolerance = 1e-6

// Check lists where the lineage does not add up, in the order of the pattern
// after and then of the spans; nil when it does.
//
//  1. Places are finite and From is not more than To.
//  2. A span's new stretch lies on an edge of the pattern after.
//  3. Its old stretch, if any, lies on an edge of the pattern before, and has a
//     length.
//  4. The spans cover every edge of the pattern after once from end to end,
//     without gap or overlap.
//  5. No two spans claim the same old stretch, unless their new stretches are
//     on different pieces: one piece may become two alike, as when a half piece
//     is drawn out whole or a facing is traced from a bodice. Within one piece
//     the twin is line drawn anew, and has no old stretch.
func (l Lineage) Check(before, after *Pattern) []Problem {
	c := lineageCheck{before: lengthsOf(before), after: lengthsOf(after)}
	covered := make(map[edgeOf][]Stretch, len(c.after))
	claimed := make(map[edgeOf][]Span, len(c.before))
	for _, s := range l {
		if !c.span(s) {
			continue
		}
		n := edgeOf{s.New.Piece, s.New.Edge}
		covered[n] = append(covered[n], s.New)
		if !s.Added() {
			o := edgeOf{s.Old.Piece, s.Old.Edge}
			claimed[o] = append(claimed[o], s)
		}
	}
	for _, piece := range after.Pieces {
		for _, e := range piece.Edges {
			k := edgeOf{piece.Name, e.Name}
			c.cover(k, c.after[k], covered[k])
		}
	}
	for _, piece := range before.Pieces {
		for _, e := range piece.Edges {
			k := edgeOf{piece.Name, e.Name}
			c.claims(k, claimed[k])
		}
	}
	return c.found
}

// edgeOf is an edge's address in a pattern.
type edgeOf struct{ piece, edge string }

func lengthsOf(p *Pattern) map[edgeOf]float64 {
	lengths := make(map[edgeOf]float64, 8*len(p.Pieces))
	for _, piece := range p.Pieces {
		for _, e := range piece.Edges {
			lengths[edgeOf{piece.Name, e.Name}] = e.Path.Length()
		}
	}
	return lengths
}

type lineageCheck struct {
	before, after map[edgeOf]float64
	found         []Problem
}

func (c *lineageCheck) add(rule string, piece, edge, text, remedy string) {
	c.found = append(c.found, Problem{Rule: rule, Piece: piece, Edge: edge, Text: text, Remedy: remedy})
}

func finiteStretch(s Stretch) bool { return geom.Pt(s.From, s.To).Finite() && s.From <= s.To }

// span judges one span alone and reports whether it can be counted.
func (c *lineageCheck) span(s Span) bool {
	const remedy = "Let the operation account for the edges it returns."
	if !finiteStretch(s.New) || !s.Added() && !finiteStretch(s.Old) {
		c.add(RuleLineageNumber, s.New.Piece, s.New.Edge,
			fmt.Sprintf("the lineage gives a stretch from %g to %g mm, taken from %g to %g mm", s.New.From, s.New.To, s.Old.From, s.Old.To), remedy)
		return false
	}
	length, ok := c.after[edgeOf{s.New.Piece, s.New.Edge}]
	switch {
	case !ok:
		c.add(RuleLineageNew, s.New.Piece, s.New.Edge, "the lineage names an edge that the pattern does not have", remedy)
		return false
	case s.New.From < -LineageTolerance || s.New.To > length+LineageTolerance:
		c.add(RuleLineageNew, s.New.Piece, s.New.Edge,
			fmt.Sprintf("the lineage names %.6g to %.6g mm of an edge of %.6g mm", s.New.From, s.New.To, length), remedy)
		return false
	}
	if s.Added() {
		return true
	}
	length, ok = c.before[edgeOf{s.Old.Piece, s.Old.Edge}]
	switch {
	case !ok:
		c.add(RuleLineageOld, s.New.Piece, s.New.Edge,
			fmt.Sprintf("it is said to come from %s/%s, which the pattern did not have", shorten(s.Old.Piece), shorten(s.Old.Edge)), remedy)
	case s.Old.From < -LineageTolerance || s.Old.To > length+LineageTolerance:
		c.add(RuleLineageOld, s.New.Piece, s.New.Edge,
			fmt.Sprintf("it is said to come from %.6g to %.6g mm of %s/%s, which was %.6g mm long", s.Old.From, s.Old.To, s.Old.Piece, s.Old.Edge, length), remedy)
	case s.Old.Length() <= 0:
		c.add(RuleLineageOld, s.New.Piece, s.New.Edge,
			fmt.Sprintf("it is said to come from a stretch of no length on %s/%s", s.Old.Piece, s.Old.Edge), "Line that comes from nothing has no old stretch.")
	}
	return true // it covers its edge all the same
}

// cover judges the new stretches of one edge together.
func (c *lineageCheck) cover(k edgeOf, length float64, list []Stretch) {
	const remedy = "Let the spans follow one another from the edge's start to its end."
	slices.SortStableFunc(list, func(a, b Stretch) int { return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(a.To, b.To)) })
	at := 0.0
	for _, s := range list {
		switch gap := s.From - at; {
		case gap > LineageTolerance:
			c.add(RuleLineageCover, k.piece, k.edge, fmt.Sprintf("%.6g to %.6g mm of it are not accounted for", at, s.From), remedy)
		case gap < -LineageTolerance:
			c.add(RuleLineageCover, k.piece, k.edge, fmt.Sprintf("%.6g to %.6g mm of it are accounted for twice", s.From, math.Min(at, s.To)), remedy)
		}
		at = math.Max(at, s.To)
	}
	if length-at > LineageTolerance {
		c.add(RuleLineageCover, k.piece, k.edge, fmt.Sprintf("%.6g to %.6g mm of it are not accounted for", at, length), remedy)
	}
}

// claims judges the spans that come from one old edge together.
func (c *lineageCheck) claims(k edgeOf, list []Span) {
	slices.SortStableFunc(list, func(a, b Span) int {
		return cmp.Or(cmp.Compare(a.New.Piece, b.New.Piece), cmp.Compare(a.Old.From, b.Old.From), cmp.Compare(a.Old.To, b.Old.To))
	})
	at, piece := 0.0, ""
	for i, s := range list {
		if i == 0 || s.New.Piece != piece {
			at, piece = math.Inf(-1), s.New.Piece
		}
		if s.Old.From < at-LineageTolerance {
			c.add(RuleLineageClaimed, s.New.Piece, s.New.Edge,
				fmt.Sprintf("%.6g to %.6g mm of %s/%s are claimed twice", s.Old.From, math.Min(at, s.Old.To), k.piece, k.edge),
				"A stretch of the old pattern can only be in one place of a piece.")
		}
		at = math.Max(at, s.Old.To)
	}
}
