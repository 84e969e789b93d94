package label

import (
	"math"
	"testing"

	"bygone.example/core/geom"
	"pgregory.net/rapid"
)

func polygon(xy ...float64) []geom.Point {
	var out []geom.Point
	for i := 0; i < len(xy); i += 2 {
		out = append(out, geom.Pt(xy[i], xy[i+1]))
	}
	return out
}

// turned returns points turned about the origin.
func turned(pts []geom.Point, angle float64) []geom.Point {
	m := geom.Rotation(geom.Point{}, angle)
	out := make([]geom.Point, len(pts))
	for i, p := range pts {
		out[i] = m.Apply(p)
	}
	return out
}

// The place of a label in shapes whose largest rectangle is known from
// geometry: at most a fiftieth of its size is lost to the grid.
func TestBestIsNearlyTheLargest(t *testing.T) {
	for _, tt := range []struct {
		name    string
		outline []geom.Point
		taken   []Rect
		walls   [][2]geom.Point
		w, h    float64 // of the wanted block
		shrink  float64 // the best there is
	}{
		{"a square", polygon(0, 0, 100, 0, 100, 100, 0, 100), nil, nil, 200, 200, 0.5},
		// The widest rectangle of 2 to 1 under a triangle of base b and height h
		// has height bh/(2h+b).
		{"a triangle", polygon(0, 0, 300, 0, 150, 200), nil, nil, 400, 200, 300. * 200 / (2*200 + 300) / 200},
		{"an L", polygon(0, 0, 300, 0, 300, 50, 60, 50, 60, 300, 0, 300), nil, nil, 600, 100, 0.5},
		{"a square with a wall through it", polygon(0, 0, 100, 0, 100, 100, 0, 100), nil, [][2]geom.Point{{geom.Pt(40, -10), geom.Pt(40, 110)}}, 120, 100, 0.5},
		{"a square with its middle taken", polygon(0, 0, 100, 0, 100, 100, 0, 100), []Rect{{geom.Pt(50, 50), geom.Pt(1, 0), 10, 10}}, nil, 200, 80, 0.5},
		{"a slanting band", turned(polygon(0, 0, 400, 0, 400, 20, 0, 20), 0.6), nil, nil, 100, 40, 0.5},
		{"a standing band", polygon(0, 0, 20, 0, 20, 400, 0, 400), nil, nil, 100, 40, 0.5},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s := Space{tt.outline, tt.walls, tt.taken}
			c, ok := s.Rooms(Angles(tt.outline, geom.Point{})).Best([]Block{{tt.w, tt.h, 0.1}}, 0)
			if !ok {
				t.Fatal("no place found")
			}
			// The known answer is for upright or along the band; a slant may do better.
			if c.Shrink < tt.shrink*0.955 {
				t.Errorf("shrunk to %.3f, where %.3f would fit", c.Shrink, tt.shrink)
			}
			if math.Abs(c.At.W*2-tt.w*c.Shrink) > 1e-9 || math.Abs(c.At.H*2-tt.h*c.Shrink) > 1e-9 {
				t.Errorf("takes up %g × %g, which is not %g of %g × %g", c.At.W*2, c.At.H*2, c.Shrink, tt.w, tt.h)
			}
		})
	}
}

func TestBestPrefersWhatIsEasyToRead(t *testing.T) {
	room := polygon(0, 0, 300, 0, 300, 400, 0, 400)
	c, ok := Space{Outline: room}.Rooms(Angles(room, geom.Pt(0, 1))).Best([]Block{{100, 40, 0.8}, {40, 100, 0.8}}, 2)
	if !ok || c.Block != 0 || c.Shrink != 1 || c.At.Along != geom.Pt(1, 0) || c.At.Centre.Dist(geom.Pt(150, 200)) > 5 {
		t.Errorf("in an empty piece: %+v %v", c, ok)
	}
	if _, ok := (Space{Outline: polygon(0, 0, 30, 0, 30, 30, 0, 30)}).Rooms(Angles(room, geom.Point{})).Best([]Block{{100, 40, 0.8}}, 2); ok {
		t.Error("a label was put where it cannot be read")
	}
	for name, s := range map[string]Space{
		"nothing":     {},
		"a line":      {Outline: polygon(0, 0, 10, 0, 20, 0)},
		"not numbers": {Outline: polygon(0, 0, math.NaN(), 0, 20, 10)},
	} {
		if c, ok := s.Rooms(Angles(s.Outline, geom.Point{})).Best([]Block{{10, 4, 0.8}}, 2); ok {
			t.Errorf("in %s: %+v", name, c)
		}
	}
}

// crosses reports whether a segment comes into a rectangle, worked out by
// clipping in the rectangle's own frame: nothing of the grid is used.
func crosses(r Rect, a, b geom.Point) bool {
	lo, hi := 0.0, 1.0
	for _, axis := range []struct {
		u    geom.Point
		half float64
	}{{r.Along, r.W}, {r.Along.Left(), r.H}} {
		p, q := a.Sub(r.Centre).Dot(axis.u), b.Sub(r.Centre).Dot(axis.u)
		if p == q {
			if math.Abs(p) >= axis.half {
				return false
			}
			continue
		}
		t0, t1 := (-axis.half-p)/(q-p), (axis.half-p)/(q-p)
		lo, hi = math.Max(lo, math.Min(t0, t1)), math.Min(hi, math.Max(t0, t1))
	}
	return lo < hi
}

// Wherever a label is put, it lies inside the outline and touches nothing,
// with the gap asked for around it.
func TestBestTouchesNothing(t *testing.T) {
	placed := 0
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 40).Draw(t, "corners")
		var outline []geom.Point
		for i := range n {
			outline = append(outline, geom.Polar(rapid.Float64Range(20, 300).Draw(t, "r"), 2*math.Pi*float64(i)/float64(n)))
		}
		at := func() geom.Point {
			return geom.Pt(rapid.Float64Range(-300, 300).Draw(t, "x"), rapid.Float64Range(-300, 300).Draw(t, "y"))
		}
		s := Space{Outline: outline}
		for range rapid.IntRange(0, 8).Draw(t, "walls") {
			s.Walls = append(s.Walls, [2]geom.Point{at(), at()})
		}
		for range rapid.IntRange(0, 4).Draw(t, "words") {
			s.Taken = append(s.Taken, Rect{at(), geom.Polar(1, rapid.Float64Range(-3, 3).Draw(t, "angle")), rapid.Float64Range(1, 60).Draw(t, "w"), rapid.Float64Range(1, 20).Draw(t, "h")})
		}
		gap := rapid.Float64Range(0, 5).Draw(t, "gap")
		blocks := []Block{{rapid.Float64Range(5, 200).Draw(t, "bw"), rapid.Float64Range(5, 60).Draw(t, "bh"), 0.6}, {40, 40, 0.3}}
		c, ok := s.Rooms(Angles(outline, at())).Best(blocks, gap)
		if !ok {
			return
		}
		placed++
		r := c.At
		r.W, r.H = r.W+gap-1e-9, r.H+gap-1e-9
		if !geom.Contains(outline, r.Centre) {
			t.Fatalf("%+v lies outside", c)
		}
		for i, a := range outline {
			if crosses(r, a, outline[(i+1)%n]) {
				t.Fatalf("%+v crosses the outline", c)
			}
		}
		for _, w := range s.Walls {
			if crosses(r, w[0], w[1]) {
				t.Fatalf("%+v crosses a wall", c)
			}
		}
		for _, o := range s.Taken {
			q := o.corners()
			for i := range q {
				if crosses(r, q[i], q[(i+1)%4]) {
					t.Fatalf("%+v touches what is taken", c)
				}
			}
			in := o.Centre.Sub(r.Centre)
			if math.Abs(in.Dot(r.Along)) < r.W && math.Abs(in.Dot(r.Along.Left())) < r.H {
				t.Fatalf("%+v lies over what is taken", c)
			}
			in = r.Centre.Sub(o.Centre)
			if math.Abs(in.Dot(o.Along)) < o.W && math.Abs(in.Dot(o.Along.Left())) < o.H {
				t.Fatalf("%+v lies within what is taken", c)
			}
		}
		if c.Shrink < blocks[c.Block].Least || c.Shrink > 1 {
			t.Fatalf("%+v is too small or too large", c)
		}
	})
	if placed == 0 {
		t.Error("no label was placed at all: the property was not tried")
	}
}

func BenchmarkBest(b *testing.B) {
	var outline []geom.Point
	for i := range 200 {
		outline = append(outline, geom.Polar(300+80*math.Sin(5*math.Pi*float64(i)/100), 2*math.Pi*float64(i)/200))
	}
	s := Space{Outline: outline, Walls: [][2]geom.Point{{geom.Pt(0, -200), geom.Pt(0, 200)}}}
	angles := Angles(outline, geom.Pt(0.3, 1))
	for b.Loop() {
		s.Rooms(angles).Best([]Block{{200, 60, 0.8}, {100, 90, 0.8}, {60, 120, 0.8}}, 4)
	}
}
