package differ_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"bygone.example/core/differ"
	yamlfile "bygone.example/core/format/yaml"
	"bygone.example/core/geom"
	"bygone.example/core/pattern"
	"bygone.example/testdata"
)

// dress reads the stock dress, which the cases then change.
func dress(t testing.TB) *pattern.Pattern {
	t.Helper()
	data, err := testdata.Demo.ReadFile("patterns/stock-dress.yaml")
	if err != nil {
		t.Fatal(err)
	}
	p, err := yamlfile.Read("stock-dress.yaml", data)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func edge(p *pattern.Pattern, piece, edge string) *pattern.Edge {
	return p.Edge(pattern.EdgeRef{Piece: piece, Edge: edge})
}

// want is a difference that must be there; a zero MM is not compared, nor a zero
// At.
type want struct {
	what              differ.What
	piece, edge, mark string
	mm                float64
	at                geom.Point
}

func TestCompare(t *testing.T) {
	const within = 0.01 // mm
	sound := dress(t)
	hemDeep := edge(sound, "skirt-front", "hem").Path.Start()
	for _, c := range []struct {
		name   string
		change func(*pattern.Pattern)
		want   []want // all that changes the garment
	}{
		{"nothing", func(*pattern.Pattern) {}, nil},
		{"within the tolerance", func(p *pattern.Pattern) { p.Piece("bodice-front").Notches[0].At += 0.09 }, nil},
		{"divided otherwise, in another order", func(p *pattern.Pattern) {
			for i := range p.Pieces {
				for j := range p.Pieces[i].Edges {
					path := p.Pieces[i].Edges[j].Path
					a, b := path.Split(path.Length() * 0.37)
					p.Pieces[i].Edges[j].Path = append(a, b...)
				}
				edges := p.Pieces[i].Edges
				p.Pieces[i].Edges = append(edges[2:len(edges):len(edges)], edges[:2]...)
			}
			slices.Reverse(p.Pieces)
			slices.Reverse(p.Seams)
		}, nil},
		{"slid and turned on its sheet", func(p *pattern.Pattern) {
			move(p.Piece("sleeve"), geom.Rotation(geom.Pt(10, 20), 0.7).After(geom.Translation(geom.Pt(300, -40))))
		}, nil},
		{"a notch 2 mm along", func(p *pattern.Pattern) { p.Piece("bodice-front").Notches[0].At += 2 }, []want{
			{what: differ.MarkMoved, piece: "bodice-front", edge: sound.Piece("bodice-front").Notches[0].Edge, mark: sound.Piece("bodice-front").Notches[0].Name, mm: 2},
		}},
		{"a notch dropped", func(p *pattern.Pattern) {
			q := p.Piece("bodice-front")
			q.Notches = q.Notches[1:]
		}, []want{{what: differ.MarkGone, piece: "bodice-front", edge: sound.Piece("bodice-front").Notches[0].Edge, mark: sound.Piece("bodice-front").Notches[0].Name}}},
		{"a hem 3 mm longer", func(p *pattern.Pattern) {
			q := p.Piece("skirt-front")
			hem := q.Edge("hem")
			i := q.EdgeIndex("hem")
			before, after := &q.Edges[(i+len(q.Edges)-1)%len(q.Edges)], &q.Edges[(i+1)%len(q.Edges)]
			hem.Path = hem.Path.Transform(geom.Translation(geom.Pt(0, -3)))
			before.Path[len(before.Path)-1].P1 = hem.Path.Start()
			after.Path[0].P0 = hem.Path.End()
		}, []want{
			{what: differ.EdgeMoved, piece: "skirt-front", edge: "hem", mm: 3, at: hemDeep},
			{what: differ.EdgeMoved, piece: "skirt-front", edge: "side", mm: 3},
			{what: differ.EdgeMoved, piece: "skirt-front", edge: "centre-front", mm: 3},
			{what: differ.MarkMoved, piece: "skirt-front", edge: "centre-front", mark: "skirt-front"}, // its place is counted from the hem
			{what: differ.SeamLength}, {what: differ.SeamLength},
		}},
		{"a dart's point 5 mm lower", func(p *pattern.Pattern) { p.Piece("bodice-front").Darts[0].Point.Y -= 5 }, []want{
			{what: differ.MarkMoved, piece: "bodice-front", edge: sound.Piece("bodice-front").Darts[0].Edge, mark: sound.Piece("bodice-front").Darts[0].Name, mm: 5, at: sound.Piece("bodice-front").Darts[0].Point},
		}},
		{"a piece renamed, and moved", func(p *pattern.Pattern) {
			rename(p, "sleeve", "arm")
			move(p.Piece("arm"), geom.Translation(geom.Pt(-70, 5)))
		}, []want{{what: differ.PieceRenamed, piece: "sleeve"}}},
		{"a piece taken away", func(p *pattern.Pattern) {
			p.Pieces = slices.DeleteFunc(p.Pieces, func(q pattern.Piece) bool { return q.Name == "sleeve" })
			p.Seams = slices.DeleteFunc(p.Seams, func(s pattern.Seam) bool { return s.Name == "armscye" || s.Name == "sleeve-underarm" })
		}, []want{
			{what: differ.PieceGone, piece: "sleeve"}, {what: differ.SeamGone}, {what: differ.SeamGone},
		}},
		{"a piece turned over", func(p *pattern.Pattern) { turnOver(p.Piece("bodice-back")) }, []want{{what: differ.PieceTurned, piece: "bodice-back"}}},
		{"cut once", func(p *pattern.Pattern) { p.Piece("sleeve").Cut = pattern.Cut{Count: 1} }, []want{{what: differ.PieceCut, piece: "sleeve"}}},
		{"grain askew", func(p *pattern.Pattern) {
			g := &p.Piece("sleeve").Grain
			g.To = geom.Rotation(g.From, math.Pi/180).Apply(g.To)
		}, []want{{what: differ.GrainMoved, piece: "sleeve"}}},
		{"grain drawn elsewhere", func(p *pattern.Pattern) {
			g := &p.Piece("sleeve").Grain
			g.From, g.To = g.To.Add(geom.Pt(3, 0)), g.From.Add(geom.Pt(3, 0))
		}, nil},
		{"an edge drawn the other way", func(p *pattern.Pattern) {
			e := edge(p, "skirt-front", "hem")
			e.Path = e.Path.Reverse()
		}, []want{{what: differ.EdgeTurned, piece: "skirt-front", edge: "hem"}}},
		{"a piece listed clockwise", func(p *pattern.Pattern) {
			q := p.Piece("facing-front")
			slices.Reverse(q.Edges)
			for i := range q.Edges {
				q.Edges[i].Path = q.Edges[i].Path.Reverse()
			}
			for i := range q.Notches {
				q.Notches[i].At = q.Edge(q.Notches[i].Edge).Path.Length() - q.Notches[i].At
			}
		}, []want{
			{what: differ.EdgeTurned, piece: "facing-front", edge: "outer"}, {what: differ.EdgeTurned, piece: "facing-front", edge: "neckline"},
			{what: differ.EdgeTurned, piece: "facing-front", edge: "shoulder"}, {what: differ.EdgeTurned, piece: "facing-front", edge: "centre-front"},
		}},
		{"an edge divided", func(p *pattern.Pattern) { divide(p, "skirt-front", "hem") }, []want{{what: differ.EdgeDivided, piece: "skirt-front", edge: "hem"}}},
		{"an edge renamed", func(p *pattern.Pattern) { edge(p, "skirt-front", "hem").Name = "foot" }, []want{
			{what: differ.EdgeRenamed, piece: "skirt-front", edge: "hem"}, {what: differ.EdgeFinish, piece: "skirt-front", edge: "hem"},
		}},
		{"an allowance", func(p *pattern.Pattern) { edge(p, "skirt-front", "hem").Allowance += 7 }, []want{{what: differ.EdgeAllowance, piece: "skirt-front", edge: "hem", mm: 7}}},
		{"a finish", func(p *pattern.Pattern) { edge(p, "skirt-front", "hem").Finish = pattern.Bound }, []want{{what: differ.EdgeFinish, piece: "skirt-front", edge: "hem"}}},
		{"a seam taken out", func(p *pattern.Pattern) { p.Seams = p.Seams[1:] }, []want{{what: differ.SeamGone}}},
		{"a seam renamed and walked from the other end", func(p *pattern.Pattern) {
			s := p.Seam("skirt-side")
			s.Name = "flank"
			for _, run := range []pattern.Run{s.A, s.B} {
				slices.Reverse(run)
				for i := range run {
					run[i].Backwards = !run[i].Backwards
				}
			}
		}, []want{{what: differ.SeamRenamed}}},
		{"a seam eased", func(p *pattern.Pattern) {
			p.Seams[0].Meeting = pattern.Meeting{Kind: pattern.Eased, Ease: pattern.Range{Min: 1, Max: 2}}
		}, []want{{what: differ.SeamMeeting}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := dress(t)
			c.change(p)
			got := differ.Compare(sound, p, 0)
			var list []differ.Difference
			for _, d := range got.Differences {
				if !d.Harmless {
					list = append(list, d)
				}
			}
			if got.Different() != (len(c.want) > 0) || len(list) != len(c.want) {
				t.Fatalf("Compare() = %s, want %d differences", texts(got), len(c.want))
			}
			for _, w := range c.want {
				i := slices.IndexFunc(list, func(d differ.Difference) bool {
					return d.What == w.what && d.Piece == w.piece && d.Edge == w.edge && d.Mark == w.mark // seams are told by what alone
				})
				if i < 0 {
					t.Fatalf("Compare() = %s, want %+v", texts(got), w)
				}
				d := list[i]
				list = slices.Delete(list, i, i+1)
				if w.mm != 0 && math.Abs(d.MM-w.mm) > within {
					t.Errorf("%s: %.3f mm, want %.3f", d.Text, d.MM, w.mm)
				}
				if w.at != (geom.Point{}) && (d.At == nil || !d.At.Near(w.at, within)) {
					t.Errorf("%s: at %v, want %v", d.Text, d.At, w.at)
				}
			}
		})
	}
}

func texts(c *differ.Comparison) string {
	var b strings.Builder
	for _, d := range c.Differences {
		b.WriteString("\n\t" + string(d.What) + ": " + d.Text)
	}
	return b.String()
}

func move(p *pattern.Piece, m geom.Affine) {
	for i := range p.Edges {
		p.Edges[i].Path = p.Edges[i].Path.Transform(m)
	}
	for i := range p.Darts {
		p.Darts[i].Point = m.Apply(p.Darts[i].Point)
	}
	for i := range p.Landmarks {
		p.Landmarks[i].At = m.Apply(p.Landmarks[i].At)
	}
	p.Grain.From, p.Grain.To = m.Apply(p.Grain.From), m.Apply(p.Grain.To)
}

// turnOver makes a piece its mirror image, its edges still counter-clockwise.
func turnOver(p *pattern.Piece) {
	lengths := map[string]float64{}
	for _, e := range p.Edges {
		lengths[e.Name] = e.Path.Length()
	}
	move(p, geom.Affine{A: -1, E: 1})
	slices.Reverse(p.Edges)
	for i := range p.Edges {
		p.Edges[i].Path = p.Edges[i].Path.Reverse()
	}
	for i := range p.Notches {
		p.Notches[i].At = lengths[p.Notches[i].Edge] - p.Notches[i].At
	}
	for i := range p.Darts {
		d := &p.Darts[i]
		d.From, d.To = lengths[d.Edge]-d.To, lengths[d.Edge]-d.From
	}
}

func rename(p *pattern.Pattern, was, is string) {
	p.Piece(was).Name = is
	for i := range p.Seams {
		for _, run := range []pattern.Run{p.Seams[i].A, p.Seams[i].B} {
			for j := range run {
				if run[j].Piece == was {
					run[j].Piece = is
				}
			}
		}
	}
}

func divide(p *pattern.Pattern, piece, name string) {
	q := p.Piece(piece)
	i := q.EdgeIndex(name)
	upper, lower := q.Edges[i], q.Edges[i]
	upper.Path, lower.Path = q.Edges[i].Path.Split(q.Edges[i].Path.Length() / 3)
	upper.Name, lower.Name = name+".first", name+".second"
	q.Edges = slices.Insert(slices.Delete(q.Edges, i, i+1), i, upper, lower)
}

// TestCurveMoved holds the distance between two curves against a fine search
// that knows nothing of the way it is found.
func TestCurveMoved(t *testing.T) {
	sound, p := dress(t), dress(t)
	e := edge(p, "bodice-front", "neckline")
	for i := range e.Path {
		if e.Path[i].Curved {
			e.Path[i].C1 = e.Path[i].C1.Add(geom.Pt(4, -9))
		}
	}
	was := edge(sound, "bodice-front", "neckline").Path
	var far float64
	for _, pair := range [][2]geom.Path{{was, e.Path}, {e.Path, was}} {
		for i := range 2001 {
			_, d := pair[1].Nearest(pair[0].At(pair[0].Length() * float64(i) / 2000))
			far = math.Max(far, d)
		}
	}
	c := differ.Compare(sound, p, 0)
	d, ok := c.Largest()
	if !ok || d.Edge != "neckline" || math.Abs(d.MM-far) > 0.001 || far < 1 {
		t.Errorf("Largest() = %+v, want neckline moved by %.4f mm", d, far)
	}
	if d.At.Dist(*d.To) < d.MM-1e-6 {
		t.Errorf("at %v, to %v are not %.4f mm apart", d.At, d.To, d.MM)
	}
}
