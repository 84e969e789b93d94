package alter

import (
	"math"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// peaked in radians is the corner beyond which a mouth is no part of a smooth
// line: the pairing check warns of it.
const peaked = 8 * math.Pi / 180

// withoutPeaks returns the piece with every peaked mouth of a dart smoothed, for
// darts that will not be sewn.
func withoutPeaks(p pattern.Piece) pattern.Piece {
	for i := range p.Darts {
		smoothMouth(&p, p.Darts[i])
	}
	return p
}

// smoothMouth redraws the mouth of a dart that will not be sewn in one sweep from
// the line before it to the line after, where it has been trued to be folded shut
// and comes to a peak.
func smoothMouth(p *pattern.Piece, d pattern.Dart) {
	e := p.Edge(d.Edge)
	if e == nil {
		return
	}
	before, rest := e.Path.Split(d.From)
	mouth, after := rest.Split(d.To - d.From)
	if widestTurn(before, mouth, after) <= peaked {
		return
	}
	from, to := e.Path.At(d.From), e.Path.At(d.To)
	u := to.Sub(from)
	v := u
	if len(before) > 0 {
		u = before.EndDirection().Mul(from.Dist(to))
	}
	if len(after) > 0 {
		v = after.StartDirection().Mul(from.Dist(to))
	}
	e.Path = before.Join(geom.Path{geom.Hermite(from, u, to, v)}).Join(after)
	// Later mouths of the edge are where they were, less what this one lost.
	lost := d.To - d.From - geom.Hermite(from, u, to, v).Length()
	for i := range p.Darts {
		if o := &p.Darts[i]; o.Edge == d.Edge && o.From >= d.To {
			o.From, o.To = o.From-lost, o.To-lost
		}
	}
}

// widestTurn returns the largest corner of a mouth, in radians, its two ends
// included.
func widestTurn(before, mouth, after geom.Path) (widest float64) {
	at := func(a, b geom.Point) { widest = max(widest, math.Abs(geom.Turn(a, b))) }
	if len(before) > 0 {
		at(before.EndDirection(), mouth.StartDirection())
	}
	for i := 1; i < len(mouth); i++ {
		at(mouth[i-1].Direction(1), mouth[i].Direction(0))
	}
	if len(after) > 0 {
		at(mouth.EndDirection(), after.StartDirection())
	}
	return widest
}
