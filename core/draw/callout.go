package draw

import (
	"math"
	"strconv"
	"strings"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// callout points a number at a place of a piece.
type callout struct {
	number int
	at     geom.Point  // mm of cloth, in the piece's plane
	to     *geom.Point // where what was there has got to, if it has moved
}

const badgeRadius = 1.9 // units

// call draws the callouts of a piece, each number beside its place where there
// is room.
func (a *art) call(list []callout, m geom.Affine) {
	var taken []slab
	centre := a.room.box.Centre()
	for _, c := range list {
		at := m.Apply(c.at)
		tip := at
		if c.to != nil {
			tip = m.Apply(*c.to)
		}
		if l := at.Dist(tip); l > 1.2*a.u { // seen at this scale: an arrow shows it
			u := tip.Sub(at).Unit()
			a.stroke(fullInk.times(1.4*a.u), geom.Polyline(at, tip.Sub(u.Mul(math.Min(1.2*a.u, l/2)))))
			a.stroke(fullSolid, arrow(tip, u, math.Min(1.9*a.u, l*0.8)))
		} else {
			a.stroke(ink{stroke: madder, width: 0.35 * a.u}, circle(at, 0.9*a.u))
		}
		spot := a.badgeSpot(at, at.Sub(centre), &taken)
		u := spot.Sub(at).Unit()
		r := badgeRadius * a.u
		a.stroke(ink{stroke: madder, width: 0.2 * a.u}, geom.Polyline(at.Add(u.Mul(0.9*a.u)), spot.Sub(u.Mul(r))))
		a.items = append(a.items, badge(spot, c.number, a.u)...)
		a.cover(geom.BoxOf(spot).Grow(r + 0.3*a.u))
	}
}

// badgeSpot returns where the middle of a number is set: as near the place as
// there is room, sooner outside the piece than inside.
func (a *art) badgeSpot(at, out geom.Point, taken *[]slab) geom.Point {
	out = out.Unit()
	if out == (geom.Point{}) {
		out = geom.Pt(1, 0)
	}
	r := badgeRadius * a.u
	best, score := at.Add(out.Mul(4.4*a.u)), math.Inf(-1)
	for _, far := range [...]float64{4.4, 5.8, 7.6} {
		for i := range 16 {
			dir := geom.Rotation(geom.Point{}, float64(i)*math.Pi/8).Apply(out)
			p := at.Add(dir.Mul(far * a.u))
			clear := math.Abs(a.room.clearance(p))
			s := math.Min(clear-r, 1.2*a.u)*3 + dir.Dot(out) - far/6
			for _, t := range *taken {
				if t.touches(slab{p, geom.Pt(1, 0), r, r}) {
					s -= 50
				}
			}
			if s > score {
				best, score = p, s
			}
		}
	}
	*taken = append(*taken, slab{best, geom.Pt(1, 0), r, r})
	return best
}

// badge is a number in a ring.
func badge(c geom.Point, n int, u float64) []item {
	text := strconv.Itoa(n)
	size := 2.9 * u
	w := word{text, bold, size, c.Add(geom.Pt(-bold.width(text, size)/2, -size*capHeight/2)), 0, madder}
	return []item{
		{ink: ink{fill: white, stroke: madder, width: 0.3 * u}, paths: []geom.Path{circle(c, badgeRadius*u)}},
		{word: &w},
	}
}

// moved returns the piece with everything drawn on it moved by m, a rigid move
// without turning over.
func moved(p *pattern.Piece, m geom.Affine) *pattern.Piece {
	q := p.Clone()
	if m == geom.Identity {
		return &q
	}
	for i := range q.Edges {
		q.Edges[i].Path = q.Edges[i].Path.Transform(m)
	}
	for i := range q.Darts {
		q.Darts[i].Point = m.Apply(q.Darts[i].Point)
	}
	for i := range q.Landmarks {
		q.Landmarks[i].At = m.Apply(q.Landmarks[i].At)
	}
	if q.Grain.Given() {
		q.Grain.From, q.Grain.To = m.Apply(q.Grain.From), m.Apply(q.Grain.To)
	}
	return &q
}

// wrap breaks a text into lines no wider than width.
func wrap(text string, f face, size, width float64) []string {
	var lines []string
	line := ""
	for _, w := range strings.Fields(text) {
		switch {
		case line == "":
			line = w
		case f.width(line+" "+w, size) <= width:
			line += " " + w
		default:
			lines = append(lines, line)
			line = w
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}
