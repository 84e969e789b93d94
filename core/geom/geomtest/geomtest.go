// Package geomtest helps tests of shapes: paths written as SVG path data,
// comparison within a tolerance, and rapid generators. Only tests import it.
package geomtest

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"bygone.example/core/geom"
	"bygone.example/core/geom/pathdata"
)

// Path returns the path that the SVG path data draws, in mm with y up, and ends
// the test where there is none. No text draws the empty path; a Z at the end
// draws the straight line back to the start, unless that is where the pen is.
func Path(t testing.TB, d string) geom.Path {
	t.Helper()
	if d == "" {
		return nil
	}
	open, closed := strings.CutSuffix(d, "Z")
	p, err := pathdata.Parse(open)
	if err != nil {
		t.Fatalf("path data %q: %v", d, err)
	}
	if closed && p.End() != p.Start() {
		p = append(p, geom.Line(p.End(), p.Start()))
	}
	return p
}

// Approx compares every float64 within tol, absolute.
func Approx(tol float64) cmp.Option {
	return cmp.Comparer(func(a, b float64) bool { return a == b || math.Abs(a-b) <= tol })
}

// Reach is how far from the origin generated points lie at most, in mm: two
// metres, longer than any piece of a garment.
const Reach = 2000

// Point draws a point within Reach of the origin along each axis.
func Point() *rapid.Generator[geom.Point] {
	return rapid.Custom(func(t *rapid.T) geom.Point {
		return geom.Pt(rapid.Float64Range(-Reach, Reach).Draw(t, "x"), rapid.Float64Range(-Reach, Reach).Draw(t, "y"))
	})
}

// Cubic draws a cubic with any four control points: loops and near-cusps are
// among them.
func Cubic() *rapid.Generator[geom.Segment] {
	return rapid.Custom(func(t *rapid.T) geom.Segment {
		p := rapid.SliceOfN(Point(), 4, 4).Draw(t, "points")
		return geom.Cubic(p[0], p[1], p[2], p[3])
	})
}

// NearCusp draws a cubic that all but stops and turns round on its way: the
// hardest to measure. The control points cross so that the velocity nearly
// vanishes in the middle; by how much it misses is drawn down to nothing.
func NearCusp() *rapid.Generator[geom.Segment] {
	return rapid.Custom(func(t *rapid.T) geom.Segment {
		p0, p1 := Point().Draw(t, "start"), Point().Draw(t, "end")
		miss := math.Pow(10, rapid.Float64Range(-12, 0).Draw(t, "miss"))
		lift := p1.Sub(p0).Left()
		// Control points beyond the opposite ends, as (1,1), (0,1) over (0,0), (1,0).
		return geom.Cubic(p0, p1.Add(lift).Lerp(p0, miss), p0.Add(lift), p1)
	})
}

// Segment draws a line or a cubic.
func Segment() *rapid.Generator[geom.Segment] {
	return rapid.OneOf(Cubic(), rapid.Custom(func(t *rapid.T) geom.Segment {
		return geom.Line(Point().Draw(t, "from"), Point().Draw(t, "to"))
	}))
}

// Chain draws an unbroken path of one to six segments.
func Chain() *rapid.Generator[geom.Path] {
	return rapid.Custom(func(t *rapid.T) geom.Path {
		path := geom.Path(rapid.SliceOfN(Segment(), 1, 6).Draw(t, "segments"))
		for i := 1; i < len(path); i++ {
			path[i].P0 = path[i-1].P1
		}
		return path
	})
}

// Rigid draws a move that keeps every distance: a turn and a shift, and with
// half of them a mirror image.
func Rigid() *rapid.Generator[geom.Affine] {
	return rapid.Custom(func(t *rapid.T) geom.Affine {
		m := geom.Translation(Point().Draw(t, "shift")).
			After(geom.Rotation(Point().Draw(t, "centre"), rapid.Float64Range(-7, 7).Draw(t, "turn")))
		if rapid.Bool().Draw(t, "mirror") {
			m = m.After(geom.Reflection(geom.Pt(0, 0), geom.Pt(1, 0)))
		}
		return m
	})
}
