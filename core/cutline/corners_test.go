package cutline

import (
	"bytes"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the golden files anew")

var treatments = []pattern.Corner{pattern.Meet, pattern.Bevel, pattern.Square, pattern.Turned, pattern.Matched}

// twoEdges draws a piece with a hem at the bottom and a side that leans so that
// the angle inside the corner is as given, in degrees; bow bends the side.
func twoEdges(inside, hem, side, bow float64, corner pattern.Corner, hems bool) *pattern.Piece {
	a := inside * math.Pi / 180
	top := geom.Pt(60, 0).Add(geom.Polar(min(90/math.Sin(a), 110/max(0.1, math.Cos(a))), math.Pi-a))
	mid := geom.Pt(60, 0).Lerp(top, 0.5)
	out := top.Sub(geom.Pt(60, 0)).Right().Mul(bow)
	p := &pattern.Piece{Edges: []pattern.Edge{
		{Name: "hem", Path: geom.Polyline(geom.Pt(-60, 0), geom.Pt(60, 0)), Finish: pattern.Hemmed, Allowance: hem, Corner: corner},
		{Name: "side", Path: geom.Path{geom.Cubic(geom.Pt(60, 0), mid.Lerp(geom.Pt(60, 0), 0.3).Add(out), mid.Lerp(top, 0.3).Add(out), top)}, Allowance: side},
		{Name: "top", Path: geom.Polyline(top, geom.Pt(-60, top.Y))},
		{Name: "fold", Path: geom.Polyline(geom.Pt(-60, top.Y), geom.Pt(-60, 0)), Finish: pattern.Fold},
	}}
	if hems {
		p.Edges[1].Finish = pattern.Hemmed
	}
	return p
}

// TestCornerPictures draws every treatment at blunt, right and sharp corners,
// with a hem beside a narrower side. Look at the picture before you renew it.
func TestCornerPictures(t *testing.T) {
	var b bytes.Buffer
	cases := []struct {
		title             string
		inside, hem, side float64
		bow               float64
		hems              bool
	}{
		{"right angle, 30 and 15", 90, 30, 15, 0, false},
		{"flared, 70 degrees", 70, 30, 15, 0, false},
		{"tapered, 110 degrees", 110, 30, 15, 0, false},
		{"flared, bent side", 75, 40, 15, 0.12, false},
		{"tapered, hollow side", 105, 40, 15, -0.12, false},
		{"sharp, 25 degrees", 25, 20, 15, 0, false},
		{"two hems", 80, 25, 25, 0, true},
	}
	const cell = 220
	fmt.Fprintf(&b, "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 %d %d\" font-family=\"sans-serif\" font-size=\"11\">\n", cell*len(treatments), cell*len(cases))
	for row, c := range cases {
		for column, k := range treatments {
			p := twoEdges(c.inside, c.hem, c.side, c.bow, k, c.hems)
			line := Of(p)
			samePath(t, line)
			m := func(q geom.Point) string {
				return fmt.Sprintf("%.2f %.2f", float64(column*cell)+90+q.X, float64(row*cell)+150-q.Y)
			}
			name := string(k)
			if k == pattern.Meet {
				name = "meet"
			}
			fmt.Fprintf(&b, "<text x=\"%d\" y=\"%d\">%s: %s</text>\n", column*cell+8, row*cell+14, name, c.title)
			fmt.Fprintf(&b, "<path d=\"%s\" fill=\"none\" stroke=\"#888\"/>\n<path d=\"%s\" fill=\"none\" stroke=\"#000\" stroke-width=\"1.4\"/>\n", data(p.Boundary(), m), data(line.Path, m))
			for i, n := range line.Notes {
				fmt.Fprintf(&b, "<text x=\"%d\" y=\"%d\" font-size=\"6\">%s</text>\n", column*cell+8, row*cell+24+8*i, n.Text)
			}
		}
	}
	b.WriteString("</svg>\n")
	golden(t, "corners.svg", b.Bytes())
}

func data(p geom.Path, m func(geom.Point) string) string {
	var b strings.Builder
	b.WriteString("M" + m(p.Start()))
	for _, s := range p {
		if s.Curved {
			b.WriteString("C" + m(s.C1) + " " + m(s.C2) + " " + m(s.P1))
		} else {
			b.WriteString("L" + m(s.P1))
		}
	}
	return b.String() + "Z"
}

func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	file := filepath.Join("testdata", name)
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(string(want), string(got)); d != "" {
		t.Errorf("%s differs from what is drawn now; look at both, then run with -update (-golden +got):\n%s", file, d)
	}
}

// TestTurnedLiesFlat folds a hem up along its seam line: what is turned up comes
// to lie on the side's cut line, wherever that leads.
func TestTurnedLiesFlat(t *testing.T) {
	for _, inside := range []float64{60, 75, 90, 100, 120} {
		for _, bow := range []float64{-0.1, 0, 0.1} {
			p := twoEdges(inside, 30, 12, bow, pattern.Turned, false)
			line := Of(p)
			if len(line.Notes) > 0 {
				t.Errorf("%g degrees, bow %g: %v", inside, bow, line.Notes)
			}
			looked := 0
			for _, q := range line.Path.Flatten(0.01) {
				if q.Y > -1e-6 || q.Y < -30+1e-6 || q.X < 0 {
					continue
				}
				looked++
				if _, d := line.Path.Nearest(geom.Pt(q.X, -q.Y)); d > 0.05 {
					t.Errorf("%g degrees, bow %g: turned up, %v lies %.3f mm off the side's cut line", inside, bow, q, d)
				}
			}
			if looked == 0 && bow != 0 {
				t.Errorf("%g degrees, bow %g: nothing looked at", inside, bow)
			}
			if !hasPoint(line, -30) {
				t.Errorf("%g degrees, bow %g: the hem is not 30 mm deep", inside, bow)
			}
		}
	}
}

func hasPoint(line Line, y float64) bool {
	for _, q := range line.Points {
		if math.Abs(q.Y-y) < 1e-9 {
			return true
		}
	}
	return false
}

// TestMitredHem holds the corner of two hems against the rule: cut across ¼ in
// beyond where the creases cross, equally far from the corner on both sides
// (I. McGlauflin, Handicraft for Girls, 1910).
func TestMitredHem(t *testing.T) {
	line := Of(twoEdges(90, 30, 30, 0, pattern.Turned, true))
	across := 6.35 * math.Sqrt2 // where a line 6.35 mm out crosses both seam lines
	// x − 60 − y = across on the cut: at y = −30, and at x = 90.
	for _, want := range []geom.Point{geom.Pt(60+across-30, -30), geom.Pt(90, 30-across)} {
		if _, d := line.Path.Nearest(want); d > 1e-6 {
			t.Errorf("the cut line misses %v by %.3f mm", want, d)
		}
	}
	for _, q := range line.Points {
		if out := q.X - 60 - q.Y; q.Y < 30 && q.X > 0 && out > across+1e-6 {
			t.Errorf("%v lies beyond the cut across the corner", q)
		}
	}
}

// outlines draws n random outlines of straight and bent edges that do not cross
// themselves.
func outlines(n int) []*pattern.Piece {
	r := rand.New(rand.NewPCG(1806, 5))
	var list []*pattern.Piece
	for len(list) < n {
		k := 3 + r.IntN(6)
		pts := make([]geom.Point, k)
		size := 60 + 300*r.Float64()
		for i := range pts {
			pts[i] = geom.Polar(size*(0.5+0.5*r.Float64()), (float64(i)+0.6*(r.Float64()-0.5))*2*math.Pi/float64(k))
		}
		p := &pattern.Piece{Name: fmt.Sprint("p", len(list))}
		for i, a := range pts {
			b := pts[(i+1)%k]
			e := pattern.Edge{Name: fmt.Sprint("e", i), Allowance: []float64{0, 6, 10, 15, 15, 40}[r.IntN(6)], Path: geom.Path{geom.Line(a, b)}}
			if r.IntN(3) > 0 {
				side := b.Sub(a).Right()
				e.Path = geom.Path{geom.Cubic(a, a.Lerp(b, 0.3).Add(side.Mul(0.3*(r.Float64()-0.5))), a.Lerp(b, 0.7).Add(side.Mul(0.3*(r.Float64()-0.5))), b)}
			}
			e.Finish = []pattern.Finish{pattern.Sewn, pattern.Sewn, pattern.Hemmed}[r.IntN(3)]
			p.Edges = append(p.Edges, e)
		}
		if b := p.Boundary(); b.Area() > 0 && len(b.SelfCrossings(0.01)) == 0 {
			list = append(list, p)
		}
	}
	return list
}

// TestEveryTreatment draws 500 outlines with every treatment of corners: no cut
// line crosses itself, the piece lies within it, its path follows its points, and
// every corner of the seam line has its cut line near.
func TestEveryTreatment(t *testing.T) {
	untreated, corners := map[pattern.Corner]int{}, 0
	for _, p := range outlines(500) {
		for _, k := range treatments {
			widest := 0.0
			for i := range p.Edges {
				p.Edges[i].Corner = k
				widest = max(widest, p.Edges[i].Allowance)
			}
			line := Of(p)
			where := fmt.Sprintf("%s, %q", p.Name, k)
			if len(line.Points) < 3 {
				t.Errorf("%s: no cut line", where)
				continue
			}
			closed := geom.Polyline(append(append([]geom.Point(nil), line.Points...), line.Points[0])...)
			if c := closed.SelfCrossings(1e-9); len(c) > 0 {
				t.Errorf("%s: the polygon crosses itself at %v", where, c[0].At)
			}
			if c := line.Path.SelfCrossings(0.001); len(c) > 0 {
				t.Errorf("%s: the path crosses itself at %v", where, c[0].At)
			}
			samePath(t, line)
			for _, q := range p.Boundary().Flatten(0.5) {
				if geom.Contains(line.Points, q) {
					continue
				}
				if _, d := closed.Nearest(q); d > PathTolerance {
					t.Errorf("%s: %v of the seam line lies %.3f mm outside the cut line", where, q, d)
				}
			}
			for _, n := range line.Notes {
				switch n.Trouble {
				case Untraced:
					t.Errorf("%s: %s", where, n.Text)
				case Untreated:
					untreated[k]++
				}
			}
			for i := range p.Edges {
				corners++
				if _, d := line.Path.Nearest(p.Edges[i].Path.End()); d > MitreLimit*widest+PathTolerance {
					t.Errorf("%s: the corner after %s has no cut line within %.1f mm", where, p.Edges[i].Name, d)
				}
			}
		}
	}
	t.Logf("%d corners; no room for %v", corners, untreated)
}
