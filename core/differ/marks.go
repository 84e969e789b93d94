package differ

import (
	"fmt"
	"math"
	"strings"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// mark is any mark of a piece as a list of places and words, so that all sorts
// are compared alike.
type mark struct {
	sort, name, edge string
	places           []place
	length           float64  // of a gather
	words            []string // what is said of it
}

// place is one point of a mark.
type place struct {
	what string
	at   geom.Point
}

// marksOf lists the marks of a piece, each at its places in the plane that m
// leads to.
func marksOf(p *pattern.Piece, m geom.Affine) []mark {
	on := func(edge string, at float64) geom.Point {
		if e := p.Edge(edge); e != nil {
			return m.Apply(e.Path.At(at))
		}
		return geom.Point{}
	}
	var list []mark
	for _, l := range p.Landmarks {
		list = append(list, mark{sort: "landmark", name: l.Name, places: []place{{"", m.Apply(l.At)}}})
	}
	for _, d := range p.Darts {
		list = append(list, mark{sort: "dart", name: d.Name, edge: d.Edge, words: []string{pressedWords(d.Pressed)},
			places: []place{{"start of the mouth", on(d.Edge, d.From)}, {"end of the mouth", on(d.Edge, d.To)}, {"point", m.Apply(d.Point)}}})
	}
	for _, d := range p.Pleats {
		kind := d.Kind
		if kind == "" {
			kind = pattern.Knife
		}
		list = append(list, mark{sort: "pleat", name: d.Name, edge: d.Edge, words: []string{string(kind), pressedWords(d.Pressed)},
			places: []place{{"start", on(d.Edge, d.From)}, {"end", on(d.Edge, d.To)}}})
	}
	for _, g := range p.Gathers {
		kind := g.Kind
		if kind == "" {
			kind = pattern.Gathers
		}
		words := []string{string(kind)}
		if kind == pattern.Cartridge {
			words = append(words, fmt.Sprintf("%d rows of stitches of %s", g.Rows, mm(g.Stitch)))
		}
		list = append(list, mark{sort: "gather", name: g.Name, edge: g.Edge, length: g.Length, words: words,
			places: []place{{"start", on(g.Edge, g.From)}, {"end", on(g.Edge, g.To)}}})
	}
	for _, n := range p.Notches {
		list = append(list, mark{sort: "notch", name: n.Name, edge: n.Edge, words: []string{countWords(n.Count)}, places: []place{{"", on(n.Edge, n.At)}}})
	}
	return list
}

func pressedWords(p pattern.Pressed) string {
	if p == "" {
		return "pressed either way"
	}
	return "pressed to the " + string(p) + " of its edge"
}

func countWords(n int) string {
	switch n {
	case 2:
		return "double"
	case 3:
		return "triple"
	}
	return "single"
}

// says is how a mark is named in a sentence.
func (m mark) says(piece string) string {
	switch {
	case m.sort == "notch":
		return fmt.Sprintf("notch %s of %s/%s", m.name, piece, m.edge)
	case m.edge != "":
		return fmt.Sprintf("%s %s on %s/%s", m.sort, m.name, piece, m.edge)
	}
	return fmt.Sprintf("%s %s of %s", m.sort, m.name, piece)
}

// marks compares what is marked on two pieces, and their grainlines.
func (c *comparer) marks(a, b *pattern.Piece, pair *Pair) {
	c.grain(a, b, pair)
	list := marksOf(b, pair.Lay)
	taken := make([]bool, len(list))
	for _, m := range marksOf(a, geom.Identity) {
		edge := m.edge
		if now, ok := pair.Edges[edge]; ok {
			edge = now
		}
		best := -1
		for i, n := range list {
			// A notch is known by its name on its edge, every other mark by its name
			// in the piece.
			if taken[i] || n.sort != m.sort || n.name != m.name || m.sort == "notch" && n.edge != edge && pair.Edges[m.edge] != "" {
				continue
			}
			if best < 0 || n.places[0].at.Dist(m.places[0].at) < list[best].places[0].at.Dist(m.places[0].at) {
				best = i
			}
		}
		if best < 0 {
			at := m.places[len(m.places)-1].at
			c.add(Difference{What: MarkGone, Piece: a.Name, Edge: m.edge, Mark: m.name, At: &at}, "{2} has no %s", m.says(a.Name))
			continue
		}
		taken[best] = true
		c.mark(a.Name, m, list[best], edge)
	}
	for i, n := range list {
		if !taken[i] {
			to := n.places[len(n.places)-1].at
			c.add(Difference{What: MarkNew, Piece: a.Name, Edge: n.edge, Mark: n.name, To: &to}, "{2} has a %s besides", n.says(b.Name))
		}
	}
}

// mark compares two marks that belong together; edge is what the second pattern
// calls the first's.
func (c *comparer) mark(piece string, m, n mark, edge string) {
	far, widest := 0.0, 0
	for i, p := range m.places {
		if d := p.at.Dist(n.places[i].at); d > far {
			far, widest = d, i
		}
	}
	d := Difference{Piece: piece, Edge: m.edge, Mark: m.name, At: &m.places[widest].at, To: &n.places[widest].at}
	says := m.says(piece)
	if c.beyond(far) {
		d.What, d.MM = MarkMoved, far
		if what := m.places[widest].what; what != "" {
			says = "the " + what + " of " + says
		}
		c.add(d, "%s lies %s elsewhere", says, mm(far))
	}
	if by := n.length - m.length; c.beyond(by) {
		d.What, d.MM = MarkMoved, math.Abs(by)
		c.add(d, "%s comes down to %s in {1}, %s in {2}", m.says(piece), mm(m.length), mm(n.length))
	}
	was, is := strings.Join(m.words, ", "), strings.Join(n.words, ", ")
	if n.edge != edge && m.sort != "landmark" {
		was, is = strings.TrimPrefix(was+", on "+m.edge, ", "), strings.TrimPrefix(is+", on "+n.edge, ", ")
	}
	if was != is {
		d.What, d.MM = MarkChanged, 0
		c.add(d, "%s is %s in {1}, %s in {2}", m.says(piece), was, is)
	}
}

// grain compares the grainlines. Only their direction matters to the garment;
// one that is merely drawn elsewhere is told as harmless.
func (c *comparer) grain(a, b *pattern.Piece, pair *Pair) {
	at, to := a.Grain.From, pair.Lay.Apply(b.Grain.From)
	d := Difference{What: GrainMoved, Piece: a.Name, At: &at, To: &to}
	switch {
	case a.Grain.Given() != b.Grain.Given():
		if b.Grain.Given() {
			d.At = nil
			c.add(d, "piece %s has a grainline in {2} only", name(a))
		} else {
			d.To = nil
			c.add(d, "piece %s has a grainline in {1} only", name(a))
		}
		return
	case !a.Grain.Given():
		return
	}
	end, now := a.Grain.To, pair.Lay.Apply(b.Grain.To)
	u, v := end.Sub(at).Unit(), now.Sub(to).Unit()
	angle := math.Abs(geom.Turn(u, v))
	angle = math.Min(angle, math.Pi-angle) // an arrow at either end is the same warp
	box := a.Boundary().Bounds()
	if off := math.Sin(angle) * math.Hypot(box.Width(), box.Height()); c.beyond(off) {
		d.At, d.To, d.MM = &end, &now, off
		c.add(d, "the grainline of piece %s is turned by %.2f degrees, which is %s over its length", name(a), angle*180/math.Pi, mm(off))
		return
	}
	if far := math.Max(at.Dist(to), end.Dist(now)); c.beyond(far) {
		d.Harmless = true
		c.add(d, "the grainline of piece %s is drawn %s away, in the same direction", name(a), mm(far))
	}
}
