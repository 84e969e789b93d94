package cutline

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

// polygon makes a piece with one edge per side, named a, b, c…
func polygon(widths []float64, corners []pattern.Corner, pts ...geom.Point) *pattern.Piece {
	p := &pattern.Piece{Name: "test"}
	for i, q := range pts {
		e := pattern.Edge{Name: string(rune('a' + i)), Path: geom.Path{geom.Line(q, pts[(i+1)%len(pts)])}, Allowance: widths[i%len(widths)]}
		if corners != nil {
			e.Corner = corners[i%len(corners)]
		}
		p.Edges = append(p.Edges, e)
	}
	return p
}

// canon turns a loop to start at its lowest, then leftmost point.
func canon(pts []geom.Point) []geom.Point {
	if len(pts) == 0 {
		return nil
	}
	k := 0
	for i, p := range pts {
		if p.Y < pts[k].Y-1e-9 || math.Abs(p.Y-pts[k].Y) <= 1e-9 && p.X < pts[k].X-1e-9 {
			k = i
		}
	}
	return append(slices.Clone(pts[k:]), pts[:k]...)
}

func TestExactShapes(t *testing.T) {
	pt := geom.Pt
	square := []geom.Point{pt(0, 0), pt(100, 0), pt(100, 100), pt(0, 100)}
	h := 10 * math.Tan(math.Pi/8) // a right angle bevelled one width out
	ell := []geom.Point{pt(0, 0), pt(100, 0), pt(100, 50), pt(50, 50), pt(50, 100), pt(0, 100)}
	fold := polygon([]float64{10}, nil, square...)
	fold.Edges[3].Finish = pattern.Fold
	tests := []struct {
		name  string
		piece *pattern.Piece
		want  []geom.Point
		notes int
	}{
		{"no allowance is the seam line", polygon([]float64{0}, nil, square...), square, 0},
		{"meet", polygon([]float64{10}, nil, square...), []geom.Point{pt(-10, -10), pt(110, -10), pt(110, 110), pt(-10, 110)}, 0},
		{"two widths meet", polygon([]float64{50, 15}, nil, square...), []geom.Point{pt(-15, -50), pt(115, -50), pt(115, 150), pt(-15, 150)}, 0},
		{"fold has none", fold, []geom.Point{pt(0, -10), pt(110, -10), pt(110, 110), pt(0, 110)}, 0},
		{"bevel", polygon([]float64{10, 0, 0, 10}, []pattern.Corner{"", "", "", pattern.Bevel}, square...),
			[]geom.Point{pt(-h, -10), pt(100, -10), pt(100, 100), pt(-10, 100), pt(-10, -h)}, 0},
		{"square", polygon([]float64{10, 0, 0, 10}, []pattern.Corner{"", "", "", pattern.Square}, square...),
			[]geom.Point{pt(0, -10), pt(100, -10), pt(100, 100), pt(-10, 100), pt(-10, 0), pt(0, 0)}, 0},
		{"inner corner", polygon([]float64{10}, nil, ell...),
			[]geom.Point{pt(-10, -10), pt(110, -10), pt(110, 60), pt(60, 60), pt(60, 110), pt(-10, 110)}, 0},
		{"inner corner, two widths", polygon([]float64{10, 10, 5, 20, 10, 10}, nil, ell...),
			[]geom.Point{pt(-10, -10), pt(110, -10), pt(110, 55), pt(70, 55), pt(70, 110), pt(-10, 110)}, 0},
		{"nothing", &pattern.Piece{}, nil, 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := Of(tt.piece)
			if d := cmp.Diff(canon(tt.want), canon(got.Points), cmpopts.EquateApprox(0, 1e-9)); d != "" {
				t.Errorf("Of(%s) (-want +got):\n%s", tt.name, d)
			}
			if len(got.Notes) != tt.notes {
				t.Errorf("Of(%s) notes = %v, want %d", tt.name, got.Notes, tt.notes)
			}
		})
	}
}

// A wide hem meets a narrow side at an obtuse corner: the hem's cut line stops
// where the side's reaches it.
func TestWiderLineIsCutShort(t *testing.T) {
	p := polygon([]float64{50, 15, 0, 15}, nil, geom.Pt(0, 0), geom.Pt(300, 0), geom.Pt(400, 173.2050808), geom.Pt(0, 173.2050808))
	got := Of(p)
	want, _ := geom.LineMeet(geom.Pt(0, -50), geom.Pt(1, 0), geom.Pt(300, 0).Add(geom.Pt(100, 173.2050808).Unit().Right().Mul(15)), geom.Pt(100, 173.2050808))
	if !slices.ContainsFunc(got.Points, func(q geom.Point) bool { return q.Near(want, 1e-6) }) {
		t.Errorf("Of = %v, want a corner at %v", got.Points, want)
	}
}

func TestSharpCornerIsBevelledAndSaid(t *testing.T) {
	p := polygon([]float64{10}, nil, geom.Pt(0, 0), geom.Pt(300, 0), geom.Pt(0, 30))
	got := Of(p)
	if len(got.Notes) != 1 || got.Notes[0].Edge != "a" {
		t.Fatalf("notes = %+v, want one on edge a", got.Notes)
	}
	for _, q := range got.Points {
		if d := q.Dist(geom.Pt(300, 0)); q.X > 300 && d > 15 {
			t.Errorf("tip at %v runs %.1f mm out, want about one width of 10", q, d)
		}
	}
}

// slit is a piece with a narrow deep cut into it, narrower than its allowance.
func TestAllowancesThatCollide(t *testing.T) {
	p := polygon([]float64{10}, nil, geom.Pt(0, 0), geom.Pt(200, 0), geom.Pt(200, 200), geom.Pt(106, 200), geom.Pt(100, 50), geom.Pt(94, 200), geom.Pt(0, 200))
	got := Of(p)
	if len(got.Notes) == 0 {
		t.Error("no note where the allowances run into each other")
	}
	if a := areaOf(got.Points); a < 220*220-4 || a > 220*220+1e-6 {
		t.Errorf("area = %g, want the outer square's 48400", a)
	}
}

// A neckline curve tighter than its allowance: no loop is left in the line.
func TestTightInnerCurve(t *testing.T) {
	p := tight180(8, 15)
	got := Of(p)
	poly := geom.Polyline(append(got.Points, got.Points[0])...)
	if c := poly.SelfCrossings(1e-6); len(c) != 0 {
		t.Errorf("the cut line crosses itself at %v", c)
	}
	if len(got.Notes) == 0 {
		t.Error("no note for an inner curve tighter than the allowance")
	}
}

// tight180 is a block with a U of the given radius sunk into its top.
func tight180(r, w float64) *pattern.Piece {
	k := 4.0 / 3 * (math.Sqrt2 - 1) * r
	pt := geom.Pt
	u := geom.Path{
		geom.Line(pt(r, 100), pt(r, 50)),
		geom.Cubic(pt(r, 50), pt(r, 50-k), pt(k, 50-r), pt(0, 50-r)),
		geom.Cubic(pt(0, 50-r), pt(-k, 50-r), pt(-r, 50-k), pt(-r, 50)),
		geom.Line(pt(-r, 50), pt(-r, 100)),
	}
	return &pattern.Piece{Name: "u", Edges: []pattern.Edge{
		{Name: "bottom", Path: geom.Polyline(pt(-100, 0), pt(100, 0)), Allowance: w},
		{Name: "right", Path: geom.Polyline(pt(100, 0), pt(100, 100)), Allowance: w},
		{Name: "top.right", Path: geom.Polyline(pt(100, 100), pt(r, 100)), Allowance: w},
		{Name: "u", Path: u, Allowance: w},
		{Name: "top.left", Path: geom.Polyline(pt(-r, 100), pt(-100, 100)), Allowance: w},
		{Name: "left", Path: geom.Polyline(pt(-100, 100), pt(-100, 0)), Allowance: w},
	}}
}

// convex draws a convex polygon of n corners on an ellipse.
func convex(t *rapid.T) []geom.Point {
	n := rapid.IntRange(3, 9).Draw(t, "n")
	a, b := rapid.Float64Range(80, 400).Draw(t, "a"), rapid.Float64Range(80, 400).Draw(t, "b")
	turn := rapid.Float64Range(0, 2*math.Pi).Draw(t, "turn")
	var pts []geom.Point
	for i := range n {
		s, c := math.Sincos(turn + 2*math.Pi*(float64(i)+rapid.Float64Range(0, 0.6).Draw(t, "jitter"))/float64(n))
		pts = append(pts, geom.Pt(a*c, b*s))
	}
	return pts
}

// Area of a mitred offset of a convex polygon: A + P·w + Σ w²·tan(turn/2).
func TestAreaLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pts := convex(t)
		w := rapid.Float64Range(1, 30).Draw(t, "w")
		want := 0.0
		n := len(pts)
		for i, q := range pts {
			in, out := q.Sub(pts[(i+n-1)%n]), pts[(i+1)%n].Sub(q)
			turn := geom.Turn(in, out)
			if 1/math.Cos(turn/2) > MitreLimit*0.99 || math.Abs(turn) < 2*smooth {
				t.Skip("a corner beyond the mitre limit")
			}
			want += out.Len()*w + w*w*math.Tan(turn/2)
		}
		want += areaOf(pts)
		if got := areaOf(Of(polygon([]float64{w}, nil, pts...)).Points); math.Abs(got-want) > 1e-6*want {
			t.Fatalf("area = %.9g, want %.9g", got, want)
		}
	})
}

// wavy draws a star-shaped piece of smooth curves, some hollow, in edges of
// different widths.
func wavy(t *rapid.T) *pattern.Piece {
	n := rapid.IntRange(3, 7).Draw(t, "n")
	corners := make([]geom.Point, n)
	for i := range corners {
		corners[i] = geom.Polar(rapid.Float64Range(150, 400).Draw(t, "r"), 2*math.Pi*float64(i)/float64(n))
	}
	p := &pattern.Piece{Name: "wavy"}
	for i, a := range corners {
		b := corners[(i+1)%n]
		bow := rapid.Float64Range(-0.12, 0.12).Draw(t, "bow")
		side := b.Sub(a).Right().Mul(bow)
		e := pattern.Edge{
			Name: fmt.Sprint("e", i), Allowance: rapid.SampledFrom([]float64{0, 6, 10, 15, 15, 30}).Draw(t, "w"),
			Corner: rapid.SampledFrom([]pattern.Corner{pattern.Meet, pattern.Meet, pattern.Bevel, pattern.Square}).Draw(t, "corner"),
			Path:   geom.Path{geom.Cubic(a, a.Lerp(b, 0.3).Add(side), a.Lerp(b, 0.7).Add(side), b)},
		}
		p.Edges = append(p.Edges, e)
	}
	return p
}

// The cut line contains the piece, does not cross itself, is nowhere nearer to
// an edge than its width, and away from corners lies at exactly that distance.
func TestDistanceFromSeamLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := wavy(t)
		line := Of(p)
		closed := geom.Polyline(append(slices.Clone(line.Points), line.Points[0])...)
		if c := closed.SelfCrossings(1e-9); len(c) != 0 {
			t.Fatalf("crosses itself at %v", c)
		}
		if got, seam := areaOf(line.Points), p.Boundary().Area(); got < seam-FlattenTolerance*p.Boundary().Length() {
			t.Fatalf("area %g is less than the piece's %g", got, seam)
		}
		for i := range p.Edges {
			e := &p.Edges[i]
			l := e.Path.Length()
			for k := 1; k < 20; k++ {
				d := l * float64(k) / 20
				q := e.Path.At(d).Add(e.Path.Direction(d).Right().Mul(e.Allowance))
				if d < 4*wideOf(p) || l-d < 4*wideOf(p) {
					continue
				}
				if swallowed(p, i, q) {
					continue // inside the piece, or in another edge's allowance
				}
				_, off := closed.Nearest(q)
				if _, o := line.Path.Nearest(q); o > off {
					off = o
				}
				if off > PathTolerance {
					t.Fatalf("%s at %.1f of %.1f mm: cut line is %.4f mm from where the allowance of %g puts it", e.Name, d, l, off, e.Allowance)
				}
			}
			for _, q := range e.Path.Flatten(0.5) {
				if _, off := closed.Nearest(q); !geom.Contains(line.Points, q) && off > 0.02 {
					t.Fatalf("%s: seam line point %v lies %.3f mm outside the cut line", e.Name, q, off)
				}
			}
		}
	})
}

// swallowed reports whether a point of edge i's offset lies within the piece or
// within reach of another edge's allowance, where it is no border.
func swallowed(p *pattern.Piece, i int, q geom.Point) bool {
	if geom.Contains(p.Boundary().Flatten(0.01), q) {
		return true
	}
	for j := range p.Edges {
		if _, d := p.Edges[j].Path.Nearest(q); j != i && d < p.Edges[j].Allowance+0.02 {
			return true
		}
	}
	return false
}

func wideOf(p *pattern.Piece) float64 {
	w := 0.0
	for _, e := range p.Edges {
		w = math.Max(w, e.Allowance)
	}
	return w
}

func BenchmarkOf(b *testing.B) {
	p := tight180(30, 15)
	for b.Loop() {
		Of(p)
	}
}

func areaOf(pts []geom.Point) float64 {
	if len(pts) == 0 {
		return 0
	}
	return geom.Polyline(append(slices.Clone(pts), pts[0])...).Area()
}
