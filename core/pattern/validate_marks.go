package pattern

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// stretchOf is a dart, pleat or gather as the overlap rule sees it.
type stretchOf struct {
	name, edge string
	from, to   float64
	gather     bool
}

// marks judges landmarks, darts, pleats, gathers and notches.
func (v *validator) marks(p *Piece) {
	seen := map[string]bool{}
	for _, l := range p.Landmarks {
		at := Problem{Piece: p.Name, Mark: l.Name}
		v.name(at, "the landmark's name", l.Name, ValidDotted)
		v.unique(seen, l.Name, "landmarks", at)
		if !pointsInBounds(l.At) {
			v.number(at, "the landmark")
		}
	}
	var stretches []stretchOf
	clear(seen)
	stretch := func(what string, s stretchOf) (at Problem, placed bool) {
		at = Problem{Piece: p.Name, Edge: s.edge, Mark: s.name}
		v.name(at, "the "+what+"'s name", s.name, ValidDotted)
		v.unique(seen, s.name, "darts, pleats or gathers", at)
		placed = v.placed(p, at, what, s.from, s.to)
		if placed {
			stretches = append(stretches, s)
		}
		return at, placed
	}
	for _, d := range p.Darts {
		at, _ := stretch("dart", stretchOf{d.Name, d.Edge, d.From, d.To, false})
		word(v, at, "the way it is pressed,", d.Pressed, "", PressedToStart, PressedToEnd)
		if !pointsInBounds(d.Point) {
			v.number(at, "the dart's point")
		}
	}
	for _, d := range p.Pleats {
		at, _ := stretch("pleat", stretchOf{d.Name, d.Edge, d.From, d.To, false})
		word(v, at, "the way it is pressed,", d.Pressed, "", PressedToStart, PressedToEnd)
		word(v, at, "the kind of pleat", d.Kind, Knife, Box, Inverted, Tuck)
	}
	for _, g := range p.Gathers {
		at, placed := stretch("gather", stretchOf{g.Name, g.Edge, g.From, g.To, true})
		word(v, at, "the kind of gather", g.Kind, Gathers, Ease, Cartridge)
		v.stitched(at, g)
		switch {
		case !inBounds(g.Length):
			v.number(at, "the gather's length")
		case placed:
			v.drawnUp(p, at, g)
		}
	}
	v.overlaps(p, stretches)
	v.notches(p)
}

// stitched judges the stitches of cartridge pleats, which no other gathers have.
func (v *validator) stitched(at Problem, g Gather) {
	switch {
	case !inBounds(g.Stitch):
		v.number(at, "the gather's stitch")
	case g.Kind != Cartridge && (g.Stitch != 0 || g.Rows != 0):
		v.add(RuleGather, at, "stitch and rows are given, and the kind is not cartridge", "Give them with cartridge pleats only.")
	case g.Kind == Cartridge && (!(g.Stitch > 0) || g.Rows < 1 || g.Rows > MaxRows):
		v.add(RuleGather, at, fmt.Sprintf("cartridge pleats of %d rows of stitches %.6g mm long", g.Rows, g.Stitch),
			fmt.Sprintf("Give the length of a stitch, and 1 to %d rows.", MaxRows))
	}
}

// drawnUp judges what a gather comes down to.
func (v *validator) drawnUp(p *Piece, at Problem, g Gather) {
	most := g.To - g.From
	fold := func(edge string, from, to float64) {
		if edge == g.Edge && inside(from, to, g.From, g.To) {
			most -= to - from
		}
	}
	for _, d := range p.Darts {
		fold(d.Edge, d.From, d.To)
	}
	for _, d := range p.Pleats {
		fold(d.Edge, d.From, d.To)
	}
	if !(g.Length > 0) || g.Length > most+PlaceTolerance {
		v.add(RuleGather, at, fmt.Sprintf("%.6g mm are to be drawn up to %.6g mm", most, g.Length),
			"Draw a stretch up to less than it measures, and more than nothing.")
	}
}

// placed reports whether a stretch names an edge and lies on it.
func (v *validator) placed(p *Piece, at Problem, what string, from, to float64) bool {
	i := p.EdgeIndex(at.Edge)
	if i < 0 {
		v.add(RuleMarkEdge, at, fmt.Sprintf("the %s is on an edge that the piece does not have", what), "Name one of the piece's edges.")
		return false
	}
	if !inBounds(from, to) {
		v.number(at, "the "+what)
		return false
	}
	length := v.lengths[i]
	if math.IsNaN(length) {
		return false // the edge has no length to lie on, and that is reported
	}
	if from >= to || from < -PlaceTolerance || to > length+PlaceTolerance {
		v.add(RuleMarkPlace, at, fmt.Sprintf("the %s runs from %.6g to %.6g mm on an edge of %.6g mm", what, from, to, length),
			"Places are mm from the start of the edge, the smaller first.")
		return false
	}
	return true
}

// overlaps judges the take-ups of each edge against each other.
func (v *validator) overlaps(p *Piece, list []stretchOf) {
	if len(list) < 2 {
		return
	}
	slices.SortStableFunc(list, func(a, b stretchOf) int {
		return cmp.Or(cmp.Compare(a.edge, b.edge), cmp.Compare(a.from, b.from), cmp.Compare(b.to, a.to))
	})
	for i, s := range list {
		for j := i - 1; j >= 0 && list[j].edge == s.edge; j-- {
			o := list[j]
			if o.to <= s.from+PlaceTolerance {
				continue
			}
			held := o.gather && !s.gather && inside(s.from, s.to, o.from, o.to) ||
				s.gather && !o.gather && inside(o.from, o.to, s.from, s.to)
			if !held {
				v.add(RuleOverlap, Problem{Piece: p.Name, Edge: s.edge, Mark: s.name},
					fmt.Sprintf("it overlaps %s", o.name), "Let take-ups lie beside each other, or a dart or pleat wholly inside a gather.")
				break
			}
		}
	}
}

func (v *validator) notches(p *Piece) {
	type key struct{ edge, name string }
	seen := make(map[key]bool, len(p.Notches))
	for _, n := range p.Notches {
		at := Problem{Piece: p.Name, Edge: n.Edge, Mark: n.Name}
		v.name(at, "the notch's name", n.Name, ValidDotted)
		if k := (key{n.Edge, n.Name}); seen[k] {
			v.add(RuleUnique, at, fmt.Sprintf("two notches of the edge are called %s", shorten(n.Name)), "Give one of them another name.")
		} else {
			seen[k] = true
		}
		if n.Count < 1 || n.Count > 3 {
			v.add(RuleNotchCount, at, fmt.Sprintf("the notch is cut %d times", n.Count), "Make it single, double or triple: 1 to 3.")
		}
		i := p.EdgeIndex(n.Edge)
		switch {
		case i < 0:
			v.add(RuleMarkEdge, at, "the notch is on an edge that the piece does not have", "Name one of the piece's edges.")
		case !inBounds(n.At):
			v.number(at, "the notch")
		case math.IsNaN(v.lengths[i]): // reported already
		case n.At < -PlaceTolerance || n.At > v.lengths[i]+PlaceTolerance:
			v.add(RuleMarkPlace, at, fmt.Sprintf("the notch is at %.6g mm on an edge of %.6g mm", n.At, v.lengths[i]),
				"The place is mm from the start of the edge.")
		}
	}
}

// seams judges the seams against the pieces.
func (v *validator) seams() {
	names := make(map[string]bool, len(v.pattern.Seams))
	taken := make(map[edgeOf]int, 4*len(v.pattern.Seams)) // by a joined seam, or as the outer layer
	under := map[edgeOf]int{}                             // the last basted seam that the edge lies under in
	for i := range v.pattern.Seams {
		s := &v.pattern.Seams[i]
		at := Problem{Seam: s.Name}
		v.name(at, "the seam's name", s.Name, ValidDotted)
		v.unique(names, s.Name, "seams", at)
		if len(s.A) == 0 {
			v.add(RuleSeamEmpty, at, "side A of the seam is empty", "Name the edges it joins.")
		}
		if v.tooMany("edges in the seam", len(s.A)+len(s.B), at) {
			continue
		}
		word(v, at, "the kind of seam", s.Kind, Joined, Basted)
		for side, run := range [...]Run{s.A, s.B} {
			for _, ref := range run {
				at := Problem{Seam: s.Name, Piece: ref.Piece, Edge: ref.Edge}
				if v.pattern.Edge(ref) == nil {
					v.add(RuleSeamEdge, at, fmt.Sprintf("the seam takes %s/%s, which is not there", shorten(ref.Piece), shorten(ref.Edge)), "Name a piece of the pattern and one of its edges.")
					continue
				}
				k := edgeOf{ref.Piece, ref.Edge}
				if s.Kind == Basted && side == 1 {
					if other, ok := under[k]; ok && other == i {
						v.add(RuleSeamTwice, at, "the edge is in the seam twice", "Leave it out once.")
					}
					under[k] = i
					continue
				}
				if other, ok := taken[k]; ok && (other != i || s.Kind == Basted) {
					v.add(RuleSeamTwice, at, fmt.Sprintf("the edge is in seam %s already", shorten(v.pattern.Seams[other].Name)), "Divide the edge, or leave it out of one seam.")
					continue
				}
				taken[k] = i
			}
		}
		v.meeting(at, s.Meeting)
	}
	v.layers(under)
}

// layers judges the basted seams; under holds the edges that lie under another
// layer, with one of the seams that lay it on.
func (v *validator) layers(under map[edgeOf]int) {
	for i := range v.pattern.Seams {
		s := &v.pattern.Seams[i]
		if s.Kind != Basted {
			continue
		}
		if len(s.A) > 0 && len(s.B) == 0 {
			v.add(RuleBasted, Problem{Seam: s.Name}, "side B of the basted seam is empty", "Name the edges that the outer layer is laid onto.")
		}
		for _, ref := range s.A {
			at := Problem{Seam: s.Name, Piece: ref.Piece, Edge: ref.Edge}
			if other, ok := under[edgeOf{ref.Piece, ref.Edge}]; ok {
				v.add(RuleSeamTwice, at, fmt.Sprintf("the edge is basted onto another, and lies under the layer of seam %s as well", shorten(v.pattern.Seams[other].Name)),
					"Baste every layer onto the lowest one, which is joined.")
			} else if slices.ContainsFunc(s.B, func(b EdgeRef) bool { return b.Piece == ref.Piece }) {
				v.add(RuleBasted, at, "the piece is basted onto itself", "A layer lies on another piece: name that on side B.")
			}
		}
	}
}

func (v *validator) meeting(at Problem, m Meeting) {
	word(v, at, "the kind of meeting", m.Kind, Plain, Eased, Gathered, Pleated)
	if !inBounds(m.Ease.Min, m.Ease.Max, m.Ratio.Min, m.Ratio.Max) {
		v.number(at, "the meeting")
		return
	}
	full := m.Kind == Gathered || m.Kind == Pleated
	known := full || m.Kind == Plain || m.Kind == Eased
	switch {
	case m.Ease.Min > m.Ease.Max || m.Ratio.Min > m.Ratio.Max:
		v.add(RuleMeeting, at, "the range is the wrong way round", "Give the smaller bound first.")
	case known && m.Ease.Given() && m.Kind != Eased:
		v.add(RuleMeeting, at, "bounds on ease are given, but the seam is "+string(m.Kind), "Make the seam eased, or leave the bounds out.")
	case known && m.Ratio.Given() && !full:
		v.add(RuleMeeting, at, "a ratio is given, but the seam is "+string(m.Kind), "Make the seam gathered or pleated, or leave the ratio out.")
	case m.Ratio.Given() && m.Ratio.Min < 1:
		v.add(RuleMeeting, at, fmt.Sprintf("the ratio may be %g, less than 1", m.Ratio.Min), "A ratio is cut length over drawn-up length: at least 1.")
	}
}
