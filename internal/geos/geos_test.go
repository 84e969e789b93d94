package geos

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"testing"

	"bygone.example/core/cutline"
	"bygone.example/core/geom"
	"bygone.example/core/pattern"
	"bygone.example/internal/matrix"
	"bygone.example/internal/stock"
	"bygone.example/internal/testtool"
)

// How near the oracles we must come: what a cut line is held to, and an area.
const (
	apart    = 0.05 // mm
	areaPart = 1e-4 // of the area
	// hitApart in mm is how near a line's crossing must lie; the polygon that
	// GEOS is given strays from the curve by sag.
	hitApart = 0.05
)

// generated is how many outlines are drawn, beside the pieces of the house.
const generated = 500

// sag in mm is how far the polygons that the oracles are given may stray from
// the curves: a twelfth of what they are compared within.
const sag = 4e-3

// sharpest is the least angle of a corner in radians: a tip there stays inside
// the mitre limit of four widths (2·asin(1/4) is 29 degrees).
const sharpest = 32 * math.Pi / 180

// slit is the least angle of an inner corner in radians: less, and what looks
// like an inner corner may be a spike whose sides have crossed.
const slit = 10 * math.Pi / 180

// outline is one shape as the oracles get it, and what they say.
type outline struct {
	name  string
	piece pattern.Piece
	path  geom.Path

	Seam  [][2]float64 `json:"seam"`
	Cut   [][2]float64 `json:"cut,omitempty"`
	Width float64      `json:"width,omitempty"`
	Line  [][2]float64 `json:"line,omitempty"`
}

type offset struct{ Apart, Area float64 }

type measured struct {
	Area          float64
	Valid         bool
	Why           string  // what makes it not so
	Loop          float64 // and how wide a loop it makes, in mm
	Hits          [][2]float64
	CutValid      bool
	CutArea       float64
	Clipper, Geos offset
}

// measure has all outlines measured by one process.
func measure(t *testing.T, list []outline) []measured {
	t.Helper()
	// Debian's own Python sees the libraries that its packages bring; another
	// one that comes first on PATH may not.
	python := testtool.Path(t, "/usr/bin/python3", "python3")
	if out, err := exec.Command(python, "-c", "import shapely, pyclipper").CombinedOutput(); err != nil {
		testtool.Skip(t, fmt.Sprintf("Python has no shapely or no pyclipper (Debian packages python3-shapely, python3-pyclipper): %s", out))
	}
	in, err := json.Marshal(list)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(python, "testdata/outlines.py")
	cmd.Stdin, cmd.Stderr = bytes.NewReader(in), os.Stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	var got []measured
	if err := json.Unmarshal(out, &got); err != nil {
		t.Fatal(err)
	}
	if len(got) != len(list) {
		t.Fatalf("%d outlines measured, want %d", len(got), len(list))
	}
	return got
}

func pairs(points []geom.Point) [][2]float64 {
	list := make([][2]float64, len(points))
	for i, p := range points {
		list[i] = [2]float64{p.X, p.Y}
	}
	return list
}

// polygon flattens a closed path. Beside the ends of every curve it takes points
// so near that a chord there lies along the tangent: a mitre's tip is as far
// off as the chord is turned.
func polygon(p geom.Path) []geom.Point {
	var points []geom.Point
	for _, s := range p {
		if !s.Curved {
			points = append(points, s.P0)
			continue
		}
		ts := []float64{0, 1e-5, 1e-4, 1e-3}
		n := len(geom.Path{s}.Flatten(sag)) - 1
		for k := 1; k < n; k++ {
			if t := float64(k) / float64(n); t > 2e-3 && t < 1-2e-3 {
				ts = append(ts, t)
			}
		}
		ts = append(ts, 1-1e-3, 1-1e-4, 1-1e-5)
		for _, t := range ts {
			points = append(points, s.At(t))
		}
	}
	return points
}

// star draws an outline round the origin with straight and curved edges, each
// bent out, in or both ways; loose ones may cross themselves.
func star(r *rand.Rand, loose bool) geom.Path {
	n := 4 + r.IntN(6)
	size := 60 + 340*r.Float64()
	points := make([]geom.Point, n)
	for i := range points {
		a := (float64(i) + 0.6*(r.Float64()-0.5)) * 2 * math.Pi / float64(n)
		points[i] = geom.Polar(size*(0.45+0.55*r.Float64()), a)
	}
	bend := 0.35
	if loose {
		bend = 1.1
	}
	var p geom.Path
	for i, a := range points {
		b := points[(i+1)%n]
		if r.IntN(4) == 0 {
			p = append(p, geom.Line(a, b))
			continue
		}
		out := b.Sub(a).Right()
		off := func() geom.Point { return out.Mul(bend * (2*r.Float64() - 1)) }
		p = append(p, geom.Cubic(a, a.Lerp(b, 0.2+0.25*r.Float64()).Add(off()), a.Lerp(b, 0.55+0.25*r.Float64()).Add(off()), b))
	}
	return p
}

// blunt reports whether no corner of a closed path is sharper than sharpest, and
// no inner one than slit.
func blunt(p geom.Path) bool {
	for i, s := range p {
		if turn := geom.Turn(s.Direction(1), p[(i+1)%len(p)].Direction(0)); turn > math.Pi-sharpest || turn < slit-math.Pi {
			return false
		}
	}
	return true
}

// pieceOf makes a piece of an outline, every edge with the same allowance, met
// at the corners.
func pieceOf(p geom.Path, width float64) pattern.Piece {
	piece := pattern.Piece{Name: "outline", Cut: pattern.Cut{Count: 1}}
	for i, s := range p {
		piece.Edges = append(piece.Edges, pattern.Edge{Name: fmt.Sprintf("e%d", i), Path: geom.Path{s}, Finish: pattern.Open, Allowance: width, Corner: pattern.Meet})
	}
	return piece
}

func newOutline(r *rand.Rand, name string, p geom.Path, width float64) outline {
	o := outline{name: name, path: p, piece: pieceOf(p, width), Width: width, Seam: pairs(polygon(p))}
	o.Cut = pairs(cutline.Of(&o.piece).Points)
	box := p.Bounds()
	a := geom.Pt(box.Min.X+box.Width()*r.Float64(), box.Min.Y+box.Height()*r.Float64())
	u := geom.Polar(2*(box.Width()+box.Height()), 2*math.Pi*r.Float64())
	o.Line = pairs([]geom.Point{a.Sub(u), a.Add(u)})
	return o
}

// seed makes every run look at the same outlines.
const seed = 1806

// outlines are the generated ones, and every piece that is new or changed after
// an operation of the house at its defaults.
func outlines(t *testing.T) []outline {
	t.Helper()
	r := rand.New(rand.NewPCG(seed, 1))
	var list []outline
	for len(list) < generated {
		p := star(r, false)
		if p.Area() <= 0 || !blunt(p) || len(p.SelfCrossings(crossWithin)) > 0 {
			continue
		}
		list = append(list, newOutline(r, fmt.Sprintf("outline %d", len(list)), p, 3+37*r.Float64()))
	}
	homes, _, err := matrix.Homes()
	if err != nil {
		t.Fatal(err)
	}
	dress, err := stock.Dress()
	if err != nil {
		t.Fatal(err)
	}
	lady, err := matrix.Stock()
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, op := range matrix.Operations() {
		p, err := matrix.Prepare(dress, homes[op], lady)
		if err != nil {
			t.Fatal(err)
		}
		a, err := matrix.Apply(p, matrix.Asked(op), lady)
		if err != nil {
			t.Fatal(err)
		}
		for _, piece := range a.Pattern.Pieces {
			path := piece.Boundary()
			key := fmt.Sprint(path)
			if seen[key] || !blunt(path) {
				continue
			}
			seen[key] = true
			list = append(list, newOutline(r, op+", "+piece.Name, path, 15))
		}
	}
	return list
}

// Offsets, areas and crossings of a line agree with GEOS and with Clipper.
func TestAgainstGEOS(t *testing.T) {
	list := outlines(t)
	got := measure(t, list)
	var worstClipper, worstGeos, worstArea, worstCutArea, worstHit float64
	lineHits := 0
	for i, o := range list {
		m := got[i]
		if !m.Valid || !m.CutValid {
			t.Errorf("%s: GEOS finds the outline sound %v, the cut line %v", o.name, m.Valid, m.CutValid)
		}
		off := math.Abs(o.path.Area()-m.Area) / m.Area
		worstArea = max(worstArea, off)
		if off > areaPart {
			t.Errorf("%s: area %v, GEOS has %v", o.name, o.path.Area(), m.Area)
		}
		worstClipper, worstGeos = max(worstClipper, m.Clipper.Apart), max(worstGeos, m.Geos.Apart)
		for _, c := range []struct {
			who string
			offset
		}{{"Clipper", m.Clipper}, {"GEOS", m.Geos}} {
			if c.Apart > apart {
				t.Errorf("%s, %.2f mm out: %.4f mm from the line of %s", o.name, o.Width, c.Apart, c.who)
			}
			off := math.Abs(m.CutArea-c.Area) / c.Area
			worstCutArea = max(worstCutArea, off)
			if off > areaPart {
				t.Errorf("%s, %.2f mm out: area %v, %s has %v", o.name, o.Width, m.CutArea, c.who, c.Area)
			}
		}
		a := geom.Pt(o.Line[0][0], o.Line[0][1])
		along := o.path.CutLine(a, geom.Pt(o.Line[1][0], o.Line[1][1]).Sub(a))
		lineHits += len(along)
		if len(along) != len(m.Hits) {
			t.Errorf("%s: a line meets it %d times, GEOS says %d", o.name, len(along), len(m.Hits))
			continue
		}
		for _, h := range m.Hits {
			near := math.Inf(1)
			for _, d := range along {
				near = min(near, o.path.At(d).Dist(geom.Pt(h[0], h[1])))
			}
			worstHit = max(worstHit, near)
			if near > hitApart {
				t.Errorf("%s: a line meets it at %v for GEOS, %.4f mm from where we find it", o.name, h, near)
			}
		}
	}
	if lineHits < len(list) {
		t.Errorf("only %d crossings of a line on %d outlines", lineHits, len(list))
	}
	t.Logf("%d outlines, %d of them pieces of the house; worst: offset %.5f mm from Clipper, %.5f mm from GEOS, cut line's area %.2g, area %.2g, %d crossings of a line %.5f mm",
		len(list), len(list)-generated, worstClipper, worstGeos, worstCutArea, worstArea, lineHits, worstHit)
}

// crossWithin in mm is how true the chords are that we look for crossings with.
const crossWithin = 0.01

// An outline crosses itself for us when it is not valid for GEOS, but for loops
// that are narrower than the chords are true: those we are free to miss.
func TestSelfCrossingsAgainstGEOS(t *testing.T) {
	r := rand.New(rand.NewPCG(seed, 2))
	var list []outline
	for range generated {
		p := star(r, true)
		list = append(list, outline{path: p, Seam: pairs(polygon(p))})
	}
	crossing, hair := 0, 0
	for i, m := range measure(t, list) {
		found := list[i].path.SelfCrossings(crossWithin)
		if len(found) > 0 {
			crossing++
		}
		if m.Valid == (len(found) > 0) {
			if len(found) == 0 && m.Loop <= crossWithin {
				hair++
				continue
			}
			t.Errorf("outline %d: for GEOS %s, with a loop %.4f mm wide, and we find %d crossings", i, m.Why, m.Loop, len(found))
		}
	}
	if crossing < generated/10 || crossing > 9*generated/10 {
		t.Errorf("%d of %d outlines cross themselves: one side is hardly tried", crossing, generated)
	}
	if hair > generated/50 {
		t.Errorf("%d outlines have a loop that is a hair's: that should be rare", hair)
	}
	t.Logf("%d of %d outlines cross themselves; %d more by a hair", crossing, generated, hair)
}
