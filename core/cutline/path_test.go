package cutline

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
	"pgregory.net/rapid"
)

// ragged draws a round piece of straight lines whose corners lie in and out at
// random, in four edges.
func ragged(n int, jag float64) *pattern.Piece {
	r := rand.New(rand.NewPCG(7, uint64(n)))
	pts := make([]geom.Point, n+1)
	for i := range n {
		pts[i] = geom.Polar(250+jag*(r.Float64()-0.5), 2*math.Pi*float64(i)/float64(n))
	}
	pts[n] = pts[0]
	p := &pattern.Piece{Name: "ragged"}
	for i := range 4 {
		p.Edges = append(p.Edges, pattern.Edge{Name: fmt.Sprint("e", i), Path: geom.Polyline(pts[i*n/4 : (i+1)*n/4+1]...), Allowance: 15})
	}
	return p
}

func BenchmarkRagged(b *testing.B) {
	for _, n := range []int{1000, 4000, 20000} {
		for _, jag := range []float64{0.02, 3} {
			p := ragged(n, jag)
			b.Run(fmt.Sprintf("%d-points-%gmm", n, jag), func(b *testing.B) {
				for b.Loop() {
					Of(p)
				}
			})
		}
	}
}

// The curves of a cut line stay within tolerance of the polygon that was traced,
// both ways, and join up.
func TestPathFollowsPoints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		line := Of(wavy(t))
		samePath(t, line)
	})
}

// samePath fails where path and points of a line are not the same line.
func samePath(t interface{ Fatalf(string, ...any) }, line Line) {
	if line.Path.Gap() > 1e-6 || line.Path.End().Dist(line.Path.Start()) > 1e-6 {
		t.Fatalf("the path has a gap of %g mm, its ends lie %g apart", line.Path.Gap(), line.Path.End().Dist(line.Path.Start()))
	}
	fine := line.Path.Flatten(0.001)
	if q, d := furthest(fine, append(slices.Clone(line.Points), line.Points[0])); d > PathTolerance {
		t.Fatalf("path point %v lies %.4f mm from the polygon", q, d)
	}
	if q, d := furthest(line.Points, fine); d > PathTolerance {
		t.Fatalf("polygon point %v lies %.4f mm from the path", q, d)
	}
}

// furthest returns which of the points lies furthest from a polyline that runs
// the same way round: near the place where it was left last time, or anywhere.
func furthest(pts, line []geom.Point) (worst geom.Point, far float64) {
	last := 0
	for _, q := range pts {
		best, base := math.Inf(1), last
		for k := range len(line) - 1 {
			i := (base + k) % (len(line) - 1)
			if d := fromSegment(q, line[i], line[i+1]); d < best {
				best = d
				last = i
			}
			if best < PathTolerance/10 || k > 40 && best < PathTolerance {
				break
			}
		}
		if best > far {
			worst, far = q, best
		}
	}
	return worst, far
}

// What the shade hides is no part of the cut line: with it and without, the line
// is the same.
func TestShadeHidesNothing(t *testing.T) {
	defer func(n int) { shadeFrom = n }(shadeFrom)
	for _, jag := range []float64{0, 0.3, 2, 8} {
		for k, corner := range []pattern.Corner{pattern.Meet, pattern.Bevel, pattern.Square, pattern.Turned, pattern.Matched} {
			p := ragged(600, jag)
			for i, w := range []float64{15, 6, 40, 0} {
				p.Edges[i].Allowance, p.Edges[i].Corner = w, corner
			}
			shadeFrom = 0
			got := Of(p)
			shadeFrom = math.MaxInt
			want := Of(p)
			if off := math.Abs(got.Path.Area() - want.Path.Area()); off > 1e-6*want.Path.Area() || len(got.Points) != len(want.Points) {
				t.Errorf("jag %g, corner %d: area differs by %g mm², %d points and %d without", jag, k, off, len(got.Points), len(want.Points))
			}
		}
	}
}

// A cut line has no needless points: an arc comes back as the curves it was drawn
// with, a straight side as one line.
func TestPathIsSparse(t *testing.T) {
	quarter := func(r float64) geom.Segment {
		k := 4.0 / 3 * (math.Sqrt2 - 1) * r
		return geom.Cubic(geom.Pt(r, 0), geom.Pt(r, k), geom.Pt(k, r), geom.Pt(0, r))
	}
	p := &pattern.Piece{Edges: []pattern.Edge{
		{Name: "hem", Path: geom.Path{quarter(300)}, Allowance: 30},
		{Name: "fold", Path: geom.Path{geom.Line(geom.Pt(0, 300), geom.Pt(0, 100))}, Finish: pattern.Fold},
		{Name: "waist", Path: geom.Path{quarter(100).Reverse()}, Allowance: 10},
		{Name: "side", Path: geom.Path{geom.Line(geom.Pt(100, 0), geom.Pt(180, 0)), geom.Line(geom.Pt(180, 0), geom.Pt(300, 0))}, Allowance: 15},
	}}
	line := Of(p)
	curves, lines := 0, 0
	for _, s := range line.Path {
		if s.Curved {
			curves++
		} else {
			lines++
		}
	}
	// One curve a quarter; the fold and the side, and what meets from the curves
	// to the corners.
	if curves != 2 || lines > 6 {
		t.Errorf("%d curves and %d lines, want 2 and at most 6: %v", curves, lines, line.Path)
	}
	samePath(t, line)
}
