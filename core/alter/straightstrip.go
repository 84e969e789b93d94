package alter

import (
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// newStrip draws a straight strip, as a band or a binding is: long mm from left
// to right, high mm. Its edges are the lower one, the right end, the upper one
// and the left end, as given. The grain makes angle with the strip's length.
func newStrip(piece pattern.Piece, long, high, angle float64, edges [4]pattern.Edge) *work {
	w := &work{touched: true, Piece: piece}
	corners := []geom.Point{geom.Pt(0, 0), geom.Pt(long, 0), geom.Pt(long, high), geom.Pt(0, high)}
	for k, edge := range edges {
		w.Edges = append(w.Edges, edge)
		w.lines = append(w.lines, drawn(geom.Line(corners[k], corners[(k+1)%4])))
	}
	w.Grain = grainThrough(w.outline(), pattern.Grain{To: geom.Polar(1, angle)})
	return w
}

// cutSize is what a strip measures cut out: with the allowances of its edges,
// twice its length if it lies on the fold.
func (w *work) cutSize() (long, high float64) {
	long = w.lines[0].length() + w.Edges[1].Allowance + w.Edges[3].Allowance
	if w.Edges[1].Finish == pattern.Fold || w.Edges[3].Finish == pattern.Fold {
		long *= 2
	}
	return long, w.lines[1].length() + w.Edges[0].Allowance + w.Edges[2].Allowance
}

// roomyGrain returns a grainline parallel to like where the outline has room for
// it: of those nearly as long as the longest, the one nearest the middle. In a
// piece that bends round, as a facing does, the middle itself lies outside.
func roomyGrain(outline []geom.Point, like pattern.Grain) pattern.Grain {
	dir := geom.Pt(0, 1)
	if like.Given() {
		dir = like.To.Sub(like.From).Unit()
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range outline {
		side := dir.Cross(p)
		lo, hi = math.Min(lo, side), math.Max(hi, side)
	}
	type chord struct{ side, from, to float64 }
	var chords []chord
	longest := 0.0
	const lines = 41 // how many are tried, the middle among them
	for k := range lines {
		side := lo + (hi-lo)*(float64(k)+0.5)/lines
		var cuts []float64
		for i, j := 0, len(outline)-1; i < len(outline); j, i = i, i+1 {
			a, b := dir.Cross(outline[j])-side, dir.Cross(outline[i])-side
			if (a > 0) != (b > 0) {
				cuts = append(cuts, outline[j].Lerp(outline[i], a/(a-b)).Dot(dir))
			}
		}
		slices.Sort(cuts)
		for i := 0; i+1 < len(cuts); i += 2 {
			chords = append(chords, chord{side, cuts[i], cuts[i+1]})
			longest = math.Max(longest, cuts[i+1]-cuts[i])
		}
	}
	const nearly, margin = 0.85, 0.1 // as shares: of the longest, and left at either end
	best, off := pattern.Grain{}, math.Inf(1)
	for _, c := range chords {
		long, away := c.to-c.from, math.Abs(c.side-(lo+hi)/2)
		if long < nearly*longest || away > off-sideTolerance/1000 { // of equal ones the first, whatever rounding says
			continue
		}
		off = away
		foot := dir.Left().Mul(c.side)
		best = pattern.Grain{From: foot.Add(dir.Mul(c.from + margin*long)), To: foot.Add(dir.Mul(c.to - margin*long))}
	}
	return best
}

// fullMeeting is how a rim, as it was, meets something of its sewn length.
func (e *edit) fullMeeting(r rim) pattern.Meeting {
	for _, s := range r.edges {
		if slices.ContainsFunc(s.w.Gathers, func(g pattern.Gather) bool { return g.Edge == s.name() && g.Kind.Shows() }) {
			return pattern.Meeting{Kind: pattern.Gathered}
		}
	}
	for _, s := range r.edges {
		if slices.ContainsFunc(s.w.Pleats, func(f pattern.Pleat) bool { return f.Edge == s.name() }) {
			return pattern.Meeting{Kind: pattern.Pleated}
		}
	}
	return pattern.Meeting{Kind: pattern.Plain}
}
