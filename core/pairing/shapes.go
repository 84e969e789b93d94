package pairing

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/finding"
	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

const (
	// outlineChords in mm is how true the chords are as which outlines are looked
	// at, first and again where those find a crossing: the same as pattern.Validate
	// takes, so that both find the same.
	outlineChords, fineChords = 0.1, 0.002
	// spikeSides in mm is how much of an outline must lie between two places that
	// are near each other before they are a neck or a spike: nearer to a corner
	// than half of it, cloth is trimmed away in any case.
	spikeSides = 20.0
	// strandReach in mm is how far along its two strands a crossing is looked at
	// to tell whether they part on the other side: well beyond how true chords
	// are.
	strandReach = 0.5
	// markPlace in mm is how near to a point of the outline a mark must be to be
	// what the point is there for: what files round away, summed over an edge.
	markPlace = 1e-4
	// mostCrossings of one outline are told: a scribble has hundreds.
	mostCrossings = 3
)

// shape looks at a piece's outline: whether it is one that can be cut. The
// points are the outline's, within outlineChords mm.
func (c *checker) shape(p *pattern.Piece, outline []geom.Point) {
	for i := range p.Edges {
		c.doubled(p, &p.Edges[i])
		c.curve(c.edges[key{p.Name, p.Edges[i].Name}])
	}
	if len(p.Edges) == 0 {
		return
	}
	path := p.Boundary()
	crossings := path.SelfCrossings(outlineChords)
	if len(crossings) > 0 { // chords may cross where the curves do not
		crossings = path.SelfCrossings(fineChords)
	}
	if len(crossings) > 0 {
		c.meetings(p, path, crossings)
		return // neither its direction nor its width mean anything
	}
	area := path.Area()
	if math.Abs(area) < pattern.MinArea {
		c.add(BoundarySliver, finding.Fault, finding.Place{Piece: p.Name}, nil,
			fmt.Sprintf("the outline of %s encloses next to nothing: %.2g mm²", p.Name, math.Abs(area)))
		return
	}
	if area < 0 {
		c.add(BoundaryClockwise, "", finding.Place{Piece: p.Name}, nil, fmt.Sprintf("the edges of %s run clockwise", p.Name))
	}
	c.narrow(p, outline)
}

// meetings tells where an outline crosses or touches itself, once for each
// place.
func (c *checker) meetings(p *pattern.Piece, path geom.Path, list []geom.Crossing) {
	type meeting struct {
		geom.Crossing
		crosses, back bool
	}
	var places []meeting
	for _, x := range list {
		i := slices.IndexFunc(places, func(m meeting) bool { return m.At.Near(x.At, outlineChords) })
		if i < 0 {
			i = len(places)
			places = append(places, meeting{Crossing: x})
		}
		places[i].crosses = places[i].crosses || strandsCross(path, x)
		places[i].back = places[i].back || x.First == x.Second
	}
	for i, m := range places[:min(len(places), mostCrossings)] {
		code, does := BoundaryTouching, "touches itself"
		switch {
		case m.crosses:
			code, does = BoundaryCrossing, "crosses itself"
		case m.back:
			does = "goes there and back over the same line"
		}
		more := ""
		if rest := len(places) - mostCrossings; i == mostCrossings-1 && rest > 0 {
			more = fmt.Sprintf(", and in %d more places", rest)
		}
		c.add(code, "", finding.Place{Piece: p.Name, Edge: edgeAlong(p, m.Second), At: &m.At}, nil,
			fmt.Sprintf("the outline of %s %s at %.1f, %.1f%s", p.Name, does, m.At.X, m.At.Y, more))
	}
}

// strandsCross reports whether the two strands of an outline that meet change
// sides there, and do not merely touch or run along each other: around the
// place, one goes in and out between the ends of the other.
func strandsCross(path geom.Path, x geom.Crossing) bool {
	total := path.Length()
	reach := min(strandReach, (x.Second-x.First)/3, (total-x.Second+x.First)/3)
	if reach <= 0 {
		return false
	}
	at := func(along float64) float64 {
		q := path.At(math.Mod(along+total, total)).Sub(x.At)
		return math.Atan2(q.Y, q.X)
	}
	from := at(x.First - reach)
	turn := func(along float64) float64 { return math.Mod(at(along)-from+4*math.Pi, 2*math.Pi) }
	to, in, out := turn(x.First+reach), turn(x.Second-reach), turn(x.Second+reach)
	for _, a := range [...]float64{in, out} {
		if a < alongside || a > 2*math.Pi-alongside || math.Abs(a-to) < alongside {
			return false
		}
	}
	return (in < to) != (out < to)
}

// alongside in radians is how nearly two strands must agree in direction to lie
// on one another: a hundredth of a degree, ten times what six decimals leave over
// strandReach.
const alongside = 2e-4

// edgeAlong returns the name of the edge at that arc length of the boundary.
func edgeAlong(p *pattern.Piece, along float64) string {
	for i := range p.Edges {
		l := p.Edges[i].Path.Length()
		if along < l || i == len(p.Edges)-1 {
			return p.Edges[i].Name
		}
		along -= l
	}
	return ""
}

// narrow looks for necks and spikes, and for stretches that all but touch. A
// neck at the fold is twice as wide once it is opened out.
func (c *checker) narrow(p *pattern.Piece, outline []geom.Point) {
	for _, n := range geom.Narrows(outline, max(c.Sliver, c.Doubled), spikeSides) {
		width := n.Width
		if onFold(p, n.A) || onFold(p, n.B) {
			width *= 2
		}
		at := n.A.Lerp(n.B, 0.5)
		place := finding.Place{Piece: p.Name, At: &at}
		switch {
		case n.Inside && width < c.Sliver:
			place.Edge = nearestEdge(p, n.A)
			c.add(BoundarySliver, "", place, &finding.Figures{A: width, B: c.Sliver, Difference: width - c.Sliver, Unit: "mm"},
				fmt.Sprintf("%s is only %s wide at %.1f, %.1f", p.Name, mm(width), at.X, at.Y))
			return
		case !n.Inside && width < c.Doubled:
			place.Edge = nearestEdge(p, n.A)
			c.add(BoundaryTouching, "", place, &finding.Figures{A: width, B: c.Doubled, Difference: width - c.Doubled, Unit: "mm"},
				fmt.Sprintf("the outline of %s comes within %s of itself at %.1f, %.1f", p.Name, mm(width), at.X, at.Y))
			return
		}
	}
}

// onFold reports whether a point lies on a fold of the piece, within chords; a
// fold is a straight line.
func onFold(p *pattern.Piece, q geom.Point) bool {
	return slices.ContainsFunc(p.Edges, func(e pattern.Edge) bool {
		if e.Finish != pattern.Fold {
			return false
		}
		_, d := geom.Path{geom.Line(e.Path.Start(), e.Path.End())}.Nearest(q)
		return d <= outlineChords
	})
}

// nearestEdge returns the name of the edge nearest to a point.
func nearestEdge(p *pattern.Piece, q geom.Point) (name string) {
	best := math.Inf(1)
	for i := range p.Edges {
		if _, d := p.Edges[i].Path.Nearest(q); d < best {
			best, name = d, p.Edges[i].Name
		}
	}
	return name
}

// doubled looks for two points of an edge that are all but one, and tells the
// first of them. A short stretch that is part of a curve, or that ends where
// something is marked, is there for a reason as long as it lies in the sweep of
// the line: steps cut curves anywhere. So is what is left between two pleats.
func (c *checker) doubled(p *pattern.Piece, e *pattern.Edge) {
	n, at, short, along := 0, geom.Point{}, 0.0, 0.0
	for i, s := range e.Path {
		from := along
		along += s.Length()
		// A curve may come back to where it started, and is no doubled point.
		if !s.P0.Near(s.P1, c.Doubled) || s.Curved && along-from > 2*c.Doubled {
			continue
		}
		if s.P0.Dist(s.P1) > pattern.JoinTolerance {
			begins, ends := c.marked(p, e.Name, from), c.marked(p, e.Name, along)
			if begins && ends || (begins || ends || s.Curved) && c.inSweep(e.Path, i) {
				continue
			}
		}
		if n == 0 {
			at, short = s.P0, s.P0.Dist(s.P1)
		}
		n++
	}
	if n == 0 {
		return
	}
	more := ""
	if n > 1 {
		more = fmt.Sprintf(", and so in %d more places", n-1)
	}
	place := finding.Place{Piece: p.Name, Edge: e.Name, At: &at}
	c.doubles = append(c.doubles, place)
	c.add(PointDoubled, "", place,
		&finding.Figures{A: short, B: c.Doubled, Difference: short - c.Doubled, Unit: "mm"},
		fmt.Sprintf("%s/%s has two points at %.1f, %.1f, %s apart%s", p.Name, e.Name, at.X, at.Y, mm(short), more))
}

// inSweep reports whether a line or curve of a path runs on from the one before
// it and into the next without a kink.
func (c *checker) inSweep(path geom.Path, i int) bool {
	smooth := func(a, b geom.Segment) bool {
		return math.Abs(degrees(geom.Turn(a.Direction(1), b.Direction(0)))) <= c.KinkWarning
	}
	return (i == 0 || smooth(path[i-1], path[i])) && (i == len(path)-1 || smooth(path[i], path[i+1]))
}

// marked reports whether a mark of the edge begins, ends or lies at a place along
// it.
func (c *checker) marked(p *pattern.Piece, edge string, place float64) bool {
	at := func(name string, places ...float64) bool {
		return name == edge && slices.ContainsFunc(places, func(x float64) bool {
			return math.Abs(x-place) <= markPlace
		})
	}
	return slices.ContainsFunc(p.Darts, func(d pattern.Dart) bool { return at(d.Edge, d.From, d.To) }) ||
		slices.ContainsFunc(p.Pleats, func(d pattern.Pleat) bool { return at(d.Edge, d.From, d.To) }) ||
		slices.ContainsFunc(p.Gathers, func(g pattern.Gather) bool { return at(g.Edge, g.From, g.To) }) ||
		slices.ContainsFunc(p.Notches, func(n pattern.Notch) bool { return at(n.Edge, n.At) })
}
