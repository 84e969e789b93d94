// Package pathdata reads and writes paths as SVG path data, the text form of
// curves in the W3C's Scalable Vector Graphics recommendation.
//
// All its commands are read but the one that closes a shape; M, L and C alone
// are written. Coordinates are taken as mm with y up, as everywhere in geom:
// whoever reads a drawing with y down turns it over afterwards.
package pathdata

import (
	"strings"

	"bygone.example/core/geom"
	"bygone.example/core/unit"
)

// MaxSegments is how many lines and curves one path may have. A curve traced
// at every millimetre of the longest edge of a dress (about 5 m) has half as
// many.
const MaxSegments = 10000

// Error is what is wrong with path data, and where: Offset is in bytes from
// its start.
type Error struct {
	Offset       int
	Text, Remedy string
}

// Error gives the text.
func (e *Error) Error() string { return e.Text }

// Format writes a path: "M 0 0 L 10 0 C 1 2 3 4 5 6", numbers as unit.Float
// writes them, single spaces. Where segments do not meet, the later one's
// start is lost; of the empty path it is the empty text.
func Format(p geom.Path) string {
	if len(p) == 0 {
		return ""
	}
	var b strings.Builder
	point := func(q geom.Point) {
		b.WriteByte(' ')
		b.WriteString(unit.Float(q.X))
		b.WriteByte(' ')
		b.WriteString(unit.Float(q.Y))
	}
	b.WriteByte('M')
	point(p[0].P0)
	for _, s := range p {
		if s.Curved {
			b.WriteString(" C")
			point(s.C1)
			point(s.C2)
		} else {
			b.WriteString(" L")
		}
		point(s.P1)
	}
	return b.String()
}

// Round returns the path with every coordinate as it survives being written,
// each segment starting exactly where the one before it ends.
func Round(p geom.Path) geom.Path {
	r := p.Clone()
	for i := range r {
		s := &r[i]
		s.P0, s.P1 = round(s.P0), round(s.P1)
		if s.Curved {
			s.C1, s.C2 = round(s.C1), round(s.C2)
		}
		if i > 0 {
			s.P0 = r[i-1].P1
		}
	}
	return r
}

func round(q geom.Point) geom.Point { return geom.Point{X: unit.Round(q.X), Y: unit.Round(q.Y)} }
