package pairing_test

import (
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"

	"bygone.example/core/finding"
	"bygone.example/core/geom"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
)

// TestWalkAgainstQuadrature holds the walked length of every side against
// Gauss-Legendre quadrature of many points (gonum integrate/quad), less what
// darts and gathers take up, worked out here on their own.
func TestWalkAgainstQuadrature(t *testing.T) {
	p := garment()
	length := func(path geom.Path) (sum float64) {
		for _, s := range path {
			for i := range 16 {
				sum += quad.Fixed(func(u float64) float64 { return s.Velocity(u).Len() }, float64(i)/16, float64(i+1)/16, 40, nil, 0)
			}
		}
		return sum
	}
	side := func(run pattern.Run) (cut, sewn float64) {
		for _, ref := range run {
			l := length(p.Edge(ref).Path)
			cut += l
			for _, d := range p.Piece(ref.Piece).Darts {
				if d.Edge == ref.Edge {
					l -= d.To - d.From
				}
			}
			for _, g := range p.Piece(ref.Piece).Gathers {
				if g.Edge == ref.Edge {
					l += g.Length - (g.To - g.From)
				}
			}
			sewn += l
		}
		return cut, sewn
	}
	walks := pairing.Walk(p)
	if len(walks) != len(p.Seams) {
		t.Fatalf("Walk() gave %d seams, want %d", len(walks), len(p.Seams))
	}
	for i, w := range walks {
		for _, c := range []struct {
			side string
			got  pairing.Side
			run  pattern.Run
		}{{"A", w.A, p.Seams[i].A}, {"B", w.B, p.Seams[i].B}} {
			cut, sewn := side(c.run)
			if math.Abs(c.got.Cut-cut) > 1e-6*cut || math.Abs(c.got.Sewn-sewn) > 1e-6*sewn {
				t.Errorf("Walk() %s side %s = cut %.9f sewn %.9f, want %.9f and %.9f", w.Seam, c.side, c.got.Cut, c.got.Sewn, cut, sewn)
			}
		}
		if w.Difference != w.B.Sewn-w.A.Sewn {
			t.Errorf("Walk() %s difference = %g, want %g", w.Seam, w.Difference, w.B.Sewn-w.A.Sewn)
		}
	}
}

func TestWalkMirrored(t *testing.T) {
	p := garment()
	p.Seam("underarm").B = nil
	for _, w := range pairing.Walk(p) {
		if w.Seam == "underarm" && (!w.OK || w.A != w.B || w.Difference != 0) {
			t.Errorf("Walk() of a seam to its mirror image = %+v, want equal sides", w)
		}
	}
}

// TestWalkAgreesWithCheck: a seam is OK exactly when no finding is about its
// length, whatever is done to the pattern.
func TestWalkAgreesWithCheck(t *testing.T) {
	lengths := []finding.Code{pairing.SeamLength, pairing.SeamEase, pairing.FullnessLength, pairing.FullnessRatio, pairing.FullnessMissing}
	rapid.Check(t, func(t *rapid.T) {
		p := disturbed(t)
		found := pairing.Check(p)
		for _, w := range pairing.Walk(p) {
			reported := slices.ContainsFunc(found, func(f finding.Finding) bool {
				return f.Place.Seam == w.Seam && slices.Contains(lengths, f.Code)
			})
			if w.OK == reported {
				t.Errorf("Walk() %s OK = %v, but Check() reports its length: %v", w.Seam, w.OK, reported)
			}
		}
	})
}

// disturbed is the garment with some of its corners, marks and meetings moved.
func disturbed(t *rapid.T) *pattern.Pattern {
	p := garment()
	for range rapid.IntRange(0, 4).Draw(t, "changes") {
		piece := &p.Pieces[rapid.IntRange(0, len(p.Pieces)-1).Draw(t, "piece")]
		move := geom.Pt(rapid.Float64Range(-6, 6).Draw(t, "dx"), rapid.Float64Range(-6, 6).Draw(t, "dy"))
		i := rapid.IntRange(0, len(piece.Edges)-1).Draw(t, "corner")
		before := piece.Edges[(i+len(piece.Edges)-1)%len(piece.Edges)].Path
		start := &piece.Edges[i].Path[0]
		start.P0, start.C1 = start.P0.Add(move), start.C1.Add(move)
		end := &before[len(before)-1]
		end.P1, end.C2 = end.P1.Add(move), end.C2.Add(move)
		if n := len(piece.Notches); n > 0 {
			piece.Notches[rapid.IntRange(0, n-1).Draw(t, "notch")].At += rapid.Float64Range(-5, 5).Draw(t, "by")
		}
	}
	for i := range p.Pieces { // what rounding and moving left behind must stay on its edge
		piece := &p.Pieces[i]
		for j := range piece.Gathers {
			piece.Gathers[j].To = piece.Edge(piece.Gathers[j].Edge).Path.Length()
		}
	}
	return p
}

// TestCheckIgnoresWhereAPieceLies: turning and moving pieces on the table, or
// walking every seam from its other end, changes no figure.
func TestCheckIgnoresWhereAPieceLies(t *testing.T) {
	figures := func(p *pattern.Pattern, back func(piece string, at geom.Point) geom.Point) []finding.Finding {
		list := pairing.Check(p)
		for i := range list {
			list[i].Text = ""
			if at := list[i].Place.At; at != nil {
				q := back(list[i].Place.Piece, *at)
				list[i].Place.At = &q
			}
		}
		finding.Sort(list)
		return list
	}
	near := cmp.Comparer(func(a, b float64) bool { return math.Abs(a-b) < 1e-6 })
	rapid.Check(t, func(t *rapid.T) {
		p := disturbed(t)
		want := figures(p, func(_ string, at geom.Point) geom.Point { return at })
		q := p.Clone()
		moves := map[string]geom.Affine{}
		for i := range q.Pieces {
			m := geom.Translation(geom.Pt(rapid.Float64Range(-1000, 1000).Draw(t, "x"), rapid.Float64Range(-1000, 1000).Draw(t, "y"))).
				After(geom.Rotation(geom.Pt(0, 0), rapid.Float64Range(-4, 4).Draw(t, "turn")))
			piece := &q.Pieces[i]
			moves[piece.Name], _ = m.Inverse()
			moved(piece, m)
		}
		got := figures(q, func(piece string, at geom.Point) geom.Point { return moves[piece].Apply(at) })
		if diff := cmp.Diff(want, got, near); diff != "" {
			t.Errorf("Check() after moving the pieces differs (-want +got):\n%s", diff)
		}
		if again := pairing.Check(q); !cmp.Equal(again, pairing.Check(q.Clone())) {
			t.Errorf("Check() of equal patterns differs")
		}
	})
}

// TestCheckOnATolerance: what lies exactly on a tolerance is within it, wherever
// the pieces lie on the table and however their coordinates come out there.
func TestCheckOnATolerance(t *testing.T) {
	tolerances := pairing.DefaultTolerances()
	for _, c := range []struct {
		name string
		off  func(p *pattern.Pattern)
	}{
		{"notch", func(p *pattern.Pattern) {
			for i := range p.Pieces {
				if len(p.Pieces[i].Notches) > 0 {
					p.Pieces[i].Notches[0].At += tolerances.Notch
					return
				}
			}
			t.Fatal("the garment has no notch")
		}},
		{"side seam", func(p *pattern.Pattern) { // its lower end goes down
			front := p.Piece("front")
			corner := front.Edge("side").Path[0].P0.Add(geom.Pt(0, -tolerances.Length))
			waist, side := front.Edge("waist").Path, front.Edge("side").Path
			waist[len(waist)-1] = geom.Line(waist[len(waist)-1].P0, corner)
			side[0] = geom.Line(corner, side[0].P1)
		}},
		{"dart leg", func(p *pattern.Pattern) {
			d := &p.Piece("front").Darts[0] // 90 to 110 mm along a straight waist from the origin
			const aside = 0.85
			for y, step := 0.0, 100.0; step > 1e-13; step /= 2 { // the further in the point, the less its legs differ
				if q := geom.Pt(100+aside, y+step); q.Dist(geom.Pt(d.From, 0))-q.Dist(geom.Pt(d.To, 0)) >= tolerances.Legs {
					y += step
				}
				d.Point = geom.Pt(100+aside, y)
			}
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := garment()
			c.off(p)
			mustBeValid(t, p)
			for k := range 200 {
				q := p.Clone()
				for i := range q.Pieces {
					turn, x, y := float64(k*(i+3))*0.37, float64((k*(i+1)*97)%1500), float64((k*(i+2)*61)%1300)
					m := geom.Translation(geom.Pt(x/7, -y/3)).After(geom.Rotation(geom.Pt(0, 0), turn))
					moved(&q.Pieces[i], m)
				}
				for _, f := range pairing.Check(q) {
					t.Fatalf("placed the %dth way: %s %+v: %s", k, f.Code, f.Place, f.Text)
				}
			}
		})
	}
}

// moved lays a piece elsewhere on the table.
func moved(piece *pattern.Piece, m geom.Affine) {
	for j := range piece.Edges {
		piece.Edges[j].Path = piece.Edges[j].Path.Transform(m)
	}
	for j := range piece.Darts {
		piece.Darts[j].Point = m.Apply(piece.Darts[j].Point)
	}
	piece.Grain.From, piece.Grain.To = m.Apply(piece.Grain.From), m.Apply(piece.Grain.To)
}
