package differ

import (
	"fmt"
	"math"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
	"bygone.example/core/unit"
)

// pieces compares two pieces that are held against one another.
func (c *comparer) pieces(a, b *pattern.Piece) {
	if a.Name != b.Name {
		c.add(Difference{What: PieceRenamed, Piece: a.Name}, "piece %s is called %s in {2}", name(a), b.Name)
	}
	pair := Pair{A: a.Name, B: b.Name, Edges: map[string]string{}}
	same := byName(a, b)
	alike := oneWayRound(same, a, b)
	pair.Lay = lay(alike, c.Tolerance)
	if off, _ := misfit(alike, pair.Lay, c.Tolerance); off > 0 {
		if m, ok := turned(a, b, c.Tolerance); ok {
			pair.Lay = m
			for _, e := range same {
				pair.Edges[e.a.Name] = e.b.Name
			}
			c.Pairs = append(c.Pairs, pair)
			c.add(Difference{What: PieceTurned, Piece: a.Name}, "piece %s is turned over: {2} has its mirror image", name(a))
			c.rest(a, b)
			return
		}
	}
	if pair.Lay != geom.Identity {
		c.elsewhere(a, pair.Lay)
	}
	for _, e := range same {
		pair.Edges[e.a.Name] = e.b.Name
		c.edge(a, e.a, e.b, e.b.Path.Transform(pair.Lay))
	}
	c.leftEdges(a, b, &pair)
	c.Pairs = append(c.Pairs, pair)
	c.marks(a, b, &pair)
	c.rest(a, b)
}

// elsewhere tells that the piece lies elsewhere on its sheet.
func (c *comparer) elsewhere(a *pattern.Piece, m geom.Affine) {
	back, ok := m.Inverse()
	if !ok {
		return
	}
	at := a.Boundary().Bounds().Centre()
	to := back.Apply(at)
	text := fmt.Sprintf("piece %s lies %s away", name(a), mm(at.Dist(to)))
	if angle := geom.Turn(geom.Pt(1, 0), geom.Pt(back.A, back.D)); math.Abs(angle) > turnSeen {
		text += ", turned by " + unit.Angle(math.Abs(angle))
	}
	c.add(Difference{What: PieceElsewhere, Piece: a.Name, Harmless: true}, "%s on its sheet, which is no difference once it is cut", text)
}

// turnSeen in radians: a smaller turn is not worth telling, a tenth of a degree.
const turnSeen = math.Pi / 1800

// rest compares what is said of a piece beside its shape and marks.
func (c *comparer) rest(a, b *pattern.Piece) {
	if a.Cut != b.Cut {
		c.add(Difference{What: PieceCut, Piece: a.Name}, "piece %s: %s in {1}, %s in {2}", name(a), cutWords(a.Cut), cutWords(b.Cut))
	}
	if a.Role != b.Role {
		c.add(Difference{What: PieceRole, Piece: a.Name}, "piece %s has the role %s in {1}, %s in {2}", name(a), orNone(string(a.Role)), orNone(string(b.Role)))
	}
	if a.Title != b.Title {
		c.add(Difference{What: Words, Piece: a.Name, Harmless: true}, "the paper of piece %s reads %q in {1}, %q in {2}", a.Name, a.Title, b.Title)
	}
}

func cutWords(k pattern.Cut) string {
	if k.Mirrored {
		return fmt.Sprintf("cut %d, half of them turned over", k.Count)
	}
	return fmt.Sprintf("cut %d", k.Count)
}

func orNone(s string) string {
	if s == "" {
		return "none"
	}
	return s
}

// edge compares two edges; path is b's, laid over a.
func (c *comparer) edge(piece *pattern.Piece, a, b *pattern.Edge, path geom.Path) {
	c.line(piece, a.Name, a.Path, path)
	c.said(piece, a, b)
}

// line compares where two edges run.
func (c *comparer) line(piece *pattern.Piece, edge string, p, q geom.Path) {
	d, at, to := apart(p, q)
	if !c.beyond(d) {
		return
	}
	if back, _, _ := apart(p, q.Reverse()); !c.beyond(back) {
		c.add(Difference{What: EdgeTurned, Piece: piece.Name, Edge: edge}, "%s/%s is drawn from its other end in {2}", piece.Name, edge)
		return
	}
	text := fmt.Sprintf("%s/%s lies up to %s elsewhere", piece.Name, edge, mm(d))
	along, off := p.Nearest(at)
	if off < sameDistance*10 { // a place on the first's line: say which way it went
		switch across := p.Direction(along).Right().Dot(to.Sub(at)) / d; {
		case across > mostlyAcross:
			text = fmt.Sprintf("%s/%s lies up to %s further out", piece.Name, edge, mm(d))
		case across < -mostlyAcross:
			text = fmt.Sprintf("%s/%s lies up to %s further in", piece.Name, edge, mm(d))
		}
	}
	if la, lb := p.Length(), q.Length(); c.beyond(la - lb) {
		text += fmt.Sprintf("; it is %s long, and was %s", mm(lb), mm(la))
	}
	c.add(Difference{What: EdgeMoved, Piece: piece.Name, Edge: edge, At: &at, To: &to, MM: d}, "%s", text)
}

// mostlyAcross is the cosine beyond which a move is called out or in: within 45°
// of square to the line.
const mostlyAcross = 0.7

// said compares what is said of two edges beside where they run.
func (c *comparer) said(piece *pattern.Piece, a, b *pattern.Edge) {
	d := Difference{What: EdgeFinish, Piece: piece.Name, Edge: a.Name}
	where := piece.Name + "/" + a.Name
	if a.Finish != b.Finish {
		c.add(d, "%s is %s in {1}, %s in {2}", where, finishWords(a.Finish), finishWords(b.Finish))
	}
	if a.Is() != b.Is() {
		c.add(d, "%s has the role %s in {1}, %s in {2}", where, a.Is(), b.Is())
	}
	if a.Corner != b.Corner {
		c.add(d, "the cut corner at the end of %s is %s in {1}, %s in {2}", where, cornerWords(a.Corner), cornerWords(b.Corner))
	}
	if by := b.Allowance - a.Allowance; c.beyond(by) {
		c.add(Difference{What: EdgeAllowance, Piece: piece.Name, Edge: a.Name, MM: math.Abs(by)}, "%s has an allowance of %s in {1}, %s in {2}", where, mm(a.Allowance), mm(b.Allowance))
	}
}

func finishWords(f pattern.Finish) string {
	switch f {
	case pattern.Sewn:
		return "sewn"
	case pattern.Fold:
		return "on the fold"
	case pattern.Hemmed:
		return "hemmed"
	case pattern.Open:
		return "left open"
	}
	return string(f)
}

func cornerWords(k pattern.Corner) string {
	if k == pattern.Meet {
		return "meet"
	}
	return string(k)
}

// leftEdges finds what has become of the edges that have no namesake.
func (c *comparer) leftEdges(a, b *pattern.Piece, pair *Pair) {
	gone, fresh := unpaired(a, b), unpaired(b, a)
	divided, gone, fresh := runsOf(gone, fresh, b, pair.Lay)
	for _, r := range divided {
		if len(r.parts) == 1 {
			c.add(Difference{What: EdgeRenamed, Piece: a.Name, Edge: r.one.Name}, "%s/%s is called %s in {2}", a.Name, r.one.Name, r.parts[0].Name)
			pair.Edges[r.one.Name] = r.parts[0].Name
			c.edge(a, r.one, r.parts[0], r.parts[0].Path.Transform(pair.Lay))
			continue
		}
		c.add(Difference{What: EdgeDivided, Piece: a.Name, Edge: r.one.Name}, "%s/%s is divided in {2}: %s", a.Name, r.one.Name, r.names())
		c.line(a, r.one.Name, r.one.Path, r.path().Transform(pair.Lay))
	}
	if back, ok := pair.Lay.Inverse(); ok {
		var joined []run
		joined, fresh, gone = runsOf(fresh, gone, a, back)
		for _, r := range joined {
			c.add(Difference{What: EdgeDivided, Piece: a.Name, Edge: r.parts[0].Name}, "%s are one edge in {2}: %s/%s", r.names(), b.Name, r.one.Name)
			c.line(a, r.parts[0].Name, r.path(), r.one.Path.Transform(pair.Lay))
		}
	}
	for _, e := range gone {
		at := e.Path.At(e.Path.Length() / 2)
		c.add(Difference{What: EdgeGone, Piece: a.Name, Edge: e.Name, At: &at}, "piece %s has no edge %s in {2}", name(a), e.Name)
	}
	for _, e := range fresh {
		to := pair.Lay.Apply(e.Path.At(e.Path.Length() / 2))
		c.add(Difference{What: EdgeNew, Piece: a.Name, Edge: e.Name, To: &to}, "piece %s has an edge %s besides in {2}", name(a), e.Name)
	}
}
