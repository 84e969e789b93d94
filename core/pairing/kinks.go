package pairing

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"bygone.example/core/finding"
	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

const (
	// sweepReach in mm is how far to each side of a kink a cutter redraws the
	// line: some 2 cm, the width of a curve's end (common practice).
	sweepReach = 20.0
	// kinkSpan in mm is how near two kinks of an edge are told as one, and how
	// near the next corner of a digitised curve must be to show that it is one.
	kinkSpan = 30.0
	// takeUpReach in mm is how near to the mouth of a dart or pleat a corner
	// belongs to it.
	takeUpReach = 0.5
	// spike in degrees: a line that turns back on itself by more leaves a point of
	// less than 30 degrees, which cannot be turned or hemmed and so is no corner that
	// somebody drew (from memory).
	spike = 150.0
	// mostKinks of one edge are told, the sharpest: a scalloped or toothed edge
	// has hundreds.
	mostKinks = 5
)

// OffSmooth returns by how many mm a line has to move where it kinks by that many
// degrees, when it is redrawn as an arc over some 2 cm to each side.
func OffSmooth(kink float64) float64 { return sweepReach * math.Tan(math.Abs(kink)*math.Pi/180/4) }

// bend is a corner between two lines or curves of one edge.
type bend struct {
	at    geom.Point
	along float64 // mm from the start of the edge
	turn  float64 // degrees, positive to the left
	lines bool    // between two straight lines
}

// bends lists the corners inside an edge, whatever they measure.
func bends(path geom.Path) []bend {
	list := make([]bend, 0, len(path)-1)
	along := 0.0
	for i := 1; i < len(path); i++ {
		along += path[i-1].Length()
		before, after := path[i-1].Direction(1), path[i].Direction(0)
		if before == (geom.Point{}) || after == (geom.Point{}) || before.Dot(after) < smooth {
			before, after = arriving(path[:i]), leaving(path[i:])
		}
		list = append(list, bend{path[i].P0, along, degrees(geom.Turn(before, after)), !path[i-1].Curved && !path[i].Curved})
	}
	return list
}

// smooth is the cosine of 5 degrees, below any kink that is told: where the
// tangents agree so nearly, nothing further has to be looked at.
const smooth = 0.99619

// curve looks for kinks inside an edge. The corners of a curve that was
// digitised as short lines all turn alike: one of them is a kink by as much as it
// turns more than its neighbours.
func (c *checker) curve(e *edge) {
	if len(e.Path) < 2 || e.Finish == pattern.Fold {
		return // of a bent fold fold-bent tells
	}
	list := bends(e.Path)
	var kinks []int
	worst := -1 // of the kinks within kinkSpan of one another
	for i, b := range list {
		if !over(c.beyond(list, i), c.KinkWarning) || c.taken(e, b.along) {
			continue
		}
		if worst >= 0 && b.along-list[worst].along > kinkSpan {
			kinks = append(kinks, worst)
			worst = -1
		}
		if worst < 0 || math.Abs(b.turn) > math.Abs(list[worst].turn) {
			worst = i
		}
	}
	if worst >= 0 {
		kinks = append(kinks, worst)
	}
	more := len(kinks) - mostKinks
	if more > 0 { // the sharpest
		slices.SortStableFunc(kinks, func(i, j int) int { return cmp.Compare(math.Abs(list[j].turn), math.Abs(list[i].turn)) })
		kinks = kinks[:mostKinks]
	}
	for k, i := range kinks {
		if k < mostKinks-1 {
			c.kink(e, list, i, 0)
		} else {
			c.kink(e, list, i, more)
		}
	}
}

// beyond returns by how many degrees a corner turns more than a digitised curve
// does beside it.
func (c *checker) beyond(list []bend, i int) float64 {
	b, curve := list[i], 0.0
	for _, j := range [...]int{i - 1, i + 1} {
		if j < 0 || j >= len(list) || !b.lines || !list[j].lines || math.Abs(list[j].along-b.along) > kinkSpan || list[j].turn*b.turn < 0 {
			continue
		}
		curve = max(curve, math.Abs(list[j].turn))
	}
	return math.Abs(b.turn) - curve
}

// taken reports whether a place of an edge is in the mouth of a dart or pleat:
// folded shut, its line is another.
func (c *checker) taken(e *edge, at float64) bool {
	in := func(edge string, from, to float64) bool {
		return edge == e.Name && at >= from-takeUpReach && at <= to+takeUpReach
	}
	for _, d := range e.piece.Darts {
		if in(d.Edge, d.From, d.To) {
			return true
		}
	}
	for _, d := range e.piece.Pleats {
		if in(d.Edge, d.From, d.To) {
			return true
		}
	}
	return false
}

// kink tells one kink. A corner too sharp to be an untrue line, with no other
// beside it that turns back, is one that somebody drew, as of a square neck. More
// is how many kinks of the edge are not told for themselves.
func (c *checker) kink(e *edge, list []bend, i, more int) {
	b := list[i]
	severity := finding.Warning
	if turn := math.Abs(b.turn); turn > c.Point && turn < spike {
		severity = finding.Note
		for _, o := range list {
			if math.Abs(o.along-b.along) <= kinkSpan && o.turn*b.turn < 0 && math.Abs(o.turn) > c.KinkWarning {
				severity = finding.Warning
			}
		}
	}
	rest := ""
	if more > 0 {
		rest = fmt.Sprintf(", and in %d more places", more)
	}
	kink := -b.turn
	if e.clockwise {
		kink = b.turn
	}
	c.add(CurveKink, severity, finding.Place{Piece: e.piece.Name, Edge: e.Name, At: &b.at},
		&finding.Figures{A: 180 + kink, B: 180, Difference: kink, Unit: "degrees"},
		fmt.Sprintf("%s/%s has %s at %.1f, %.1f, %s along it%s", e.piece.Name, e.Name, kinked(kink), b.at.X, b.at.Y, mm(b.along), rest))
}

// kinked tells a kink in degrees and mm: "a dent of 12.0 degrees (2.1 mm off a
// smooth line)".
func kinked(kink float64) string {
	return fmt.Sprintf("%s of %.1f degrees (%s off a smooth line)", shape(kink), math.Abs(kink), mm(OffSmooth(kink)))
}

// askew looks at the grainline of a piece that is cut on the fold.
func (c *checker) askew(p *pattern.Piece, fold *edge) {
	u := fold.Path.End().Sub(fold.Path.Start()).Unit()
	v := p.Grain.To.Sub(p.Grain.From).Unit()
	angle := math.Mod(degrees(geom.Turn(u, v))+360, 180)
	if angle > 157.5 {
		angle -= 180
	}
	right := 45 * math.Round(angle/45)
	if off := angle - right; over(off, c.GrainAskew) {
		at := p.Grain.To
		c.add(GrainFold, "", finding.Place{Piece: p.Name, At: &at}, &finding.Figures{A: angle, B: right, Difference: off, Unit: "degrees"},
			fmt.Sprintf("the grainline of %s is %.1f degrees askew of fold %s", p.Name, math.Abs(off), fold.Name))
	}
}
