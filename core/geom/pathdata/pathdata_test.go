package pathdata

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"bygone.example/core/geom"
	"pgregory.net/rapid"
)

func TestParse(t *testing.T) {
	tests := []struct{ name, d, want string }{
		{"lines", "M0 0L10 0 20,5", "M 0 0 L 10 0 L 20 5"},
		{"pairs after M", "M 1 2 3 4", "M 1 2 L 3 4"},
		{"relative", "m 1 2 3 4 h 5 v-6 l1-1", "M 1 2 L 4 6 L 9 6 L 9 0 L 10 -1"},
		{"absolute h v", "M 1 2 H 5 V 7", "M 1 2 L 5 2 L 5 7"},
		{"cubic", "M0,0 C1,2,3,4,5,6", "M 0 0 C 1 2 3 4 5 6"},
		{"relative cubic twice", "M1 1c1 2 3 4 5 6 1 0 2 0 3 0", "M 1 1 C 2 3 4 5 6 7 C 7 7 8 7 9 7"},
		{"smooth after cubic", "M0 0C1 2 3 4 5 6S9 9 10 10", "M 0 0 C 1 2 3 4 5 6 C 7 8 9 9 10 10"},
		{"smooth after line", "M0 0L5 6s1 1 2 2", "M 0 0 L 5 6 C 5 6 6 7 7 8"},
		{"quadratic", "M0 0Q3 3 6 0", "M 0 0 C 2 2 4 2 6 0"},
		{"quadratic on", "M0 0Q3 3 6 0t6 0", "M 0 0 C 2 2 4 2 6 0 C 8 -2 10 -2 12 0"},
		{"run together", "M.5.5L-1-.25 1e1 2E-1", "M 0.5 0.5 L -1 -0.25 L 10 0.2"},
		{"arc without size", "M0 0A5 5 0 0 1 0 0L1 0", "M 0 0 L 1 0"},
		{"arc without radius", "M0 0A0 5 0 0 1 4 0", "M 0 0 L 4 0"},
		{"newlines", "\nM 0 0\n  L 1 1\n", "M 0 0 L 1 1"},
	}
	for _, tt := range tests {
		p, err := Parse(tt.d)
		if got := Format(p); err != nil || got != tt.want {
			t.Errorf("%s: Parse(%q) = %q, %v, want %q", tt.name, tt.d, got, err, tt.want)
		}
	}
}

func TestParseRefusals(t *testing.T) {
	tests := []struct {
		d    string
		want string
	}{
		{"", "0: the path is empty"},
		{"  ", "0: the path is empty"},
		{"L 0 0", "0: the path starts with L"},
		{"M 0 0", "0: the path has a start but draws nothing"},
		{"M 0 0 L 1 1 M 2 2 L 3 3", "12: the path has a second M, so it is drawn in two parts"},
		{"M 0 0 L 1 1 Z", "12: Z closes the path, but an edge is open"},
		{"M 0 0 L 1 1 z", "12: z closes the path, but an edge is open"},
		{"M 0 0 L 1", "9: the path ends where number 2 of the 2 that L takes should be"},
		{"M 0 0 C 1 2 3 4 5 L 1 1", `18: "L" where number 6 of the 6 that C takes should be`},
		{"M 0 0 L NaN 1", `8: "NaN" where a number should be`},
		{"M 0 0 L 1e308 1", `8: "1e308" is beyond 100000 mm`},
		{"M 0 0 L 1e999 1", `8: "1e999" is beyond 100000 mm`},
		{"M 0 0 L inf 1", `8: "inf" where a number should be`},
		{"M 9e4 0 l 9e4 0", "8: the path runs beyond 100000 mm here"},
		{"M 0 0 X 1 1", `6: "X" where a command should be`},
		{"M 0 0 L 1 1 é", `12: "é" where a command should be`},
		{"M 0 0 L 1 1, L 2 2", `13: "L" where a number after the comma should be`},
		{"M 0 0 A 1 1 0 2 0 1 1", `14: "2" where 0 or 1 should be`},
		{"M 0 0 " + strings.Repeat("h1 ", MaxSegments+1), "30006: the path has more than 10000 lines and curves"},
	}
	for _, tt := range tests {
		_, err := Parse(tt.d)
		var e *Error
		if !errors.As(err, &e) {
			t.Errorf("Parse(%.40q) was not refused: %v", tt.d, err)
			continue
		}
		if got := fmt.Sprintf("%d: %s", e.Offset, e.Text); got != tt.want || e.Remedy == "" {
			t.Errorf("Parse(%.40q) refused with %q, remedy %q\nwant %q", tt.d, got, e.Remedy, tt.want)
		}
	}
}

// Every point of every cubic of an arc lies within 0.01 mm of the ellipse, the
// radii reaching 2 m and beyond, and the arc is the one that its flags say.
func TestArcTolerance(t *testing.T) {
	worst := 0.0
	for _, r := range []float64{0.5, 10, 50, 300, 2000, 50000} {
		for _, large := range []int{0, 1} {
			for _, sweep := range []int{0, 1} {
				d := fmt.Sprintf("M %g 0 A %g %g 0 %d %d 0 %g", r, r, r, large, sweep, r)
				p, err := Parse(d)
				if err != nil {
					t.Fatal(err)
				}
				// Of the two circles through both ends, the quarter that turns
				// counter-clockwise lies on the one about the origin.
				centre := geom.Pt(0, 0)
				if large == sweep {
					centre = geom.Pt(r, r)
				}
				for _, s := range p {
					for i := range 201 {
						off := math.Abs(s.At(float64(i)/200).Dist(centre) - r)
						if r <= 2000 {
							worst = math.Max(worst, off)
						}
						if off > 2*ArcTolerance {
							t.Fatalf("%s: %g mm off", d, off)
						}
					}
				}
				want := math.Pi / 2 * r
				if large == 1 {
					want *= 3
				}
				if l := p.Length(); math.Abs(l-want) > 0.01 {
					t.Errorf("%s: length %v, want %v", d, l, want)
				}
			}
		}
	}
	t.Logf("worst error for radii up to 2 m: %.6f mm", worst)
	if worst > 0.01 {
		t.Errorf("worst error %v mm", worst)
	}
}

// A turned ellipse: all points satisfy its equation.
func TestArcEllipse(t *testing.T) {
	p, err := Parse("M 100 0 A 300 120 30 1 0 -150 40")
	if err != nil {
		t.Fatal(err)
	}
	if p.Start() != geom.Pt(100, 0) || p.End() != geom.Pt(-150, 40) {
		t.Fatalf("ends %v %v", p.Start(), p.End())
	}
	// Five points on a conic with known axes fix the centre: take it as the mean
	// of two opposite tangent extremes along the ellipse's own axes.
	back := geom.Rotation(geom.Point{}, -30*math.Pi/180)
	b := p.Transform(back).Transform(geom.Affine{A: 1 / 300.0, E: 1 / 120.0})
	// In these axes it is a circle of radius 1: find its centre from three points.
	a, m, z := b.Start(), b.At(b.Length()/2), b.End()
	u, v := m.Sub(a), z.Sub(a)
	k := 2 * u.Cross(v)
	c := a.Add(geom.Pt(v.Y*u.Dot(u)-u.Y*v.Dot(v), u.X*v.Dot(v)-v.X*u.Dot(u)).Mul(1 / k))
	for _, q := range b.Flatten(1e-6) {
		if off := math.Abs(q.Dist(c) - 1); off > 1e-5 {
			t.Fatalf("%v is off the circle by %v", q, off)
		}
	}
}

func TestQuarterError(t *testing.T) {
	k := 4.0 / 3 * math.Tan(math.Pi/8)
	s := geom.Cubic(geom.Pt(1, 0), geom.Pt(1, k), geom.Pt(k, 1), geom.Pt(0, 1))
	worst := 0.0
	for i := range 10001 {
		worst = math.Max(worst, math.Abs(s.At(float64(i)/10000).Len()-1))
	}
	if worst > quarterError || worst < quarterError*0.95 {
		t.Errorf("the quarter's error is %v, the constant %v", worst, quarterError)
	}
}

// What Format writes, Parse reads back as Round says, and writing that again
// gives the same text.
func TestFormatParseLaw(t *testing.T) {
	coordinate := rapid.Float64Range(-2000, 2000)
	point := rapid.Custom(func(t *rapid.T) geom.Point {
		return geom.Pt(coordinate.Draw(t, "x"), coordinate.Draw(t, "y"))
	})
	rapid.Check(t, func(t *rapid.T) {
		at := point.Draw(t, "start")
		var path geom.Path
		for range rapid.IntRange(1, 6).Draw(t, "n") {
			to := point.Draw(t, "to")
			if rapid.Bool().Draw(t, "curved") {
				path = append(path, geom.Cubic(at, point.Draw(t, "c1"), point.Draw(t, "c2"), to))
			} else {
				path = append(path, geom.Line(at, to))
			}
			at = to
		}
		text := Format(path)
		back, err := Parse(text)
		if err != nil {
			t.Fatalf("Parse(%q): %v", text, err)
		}
		if want := Round(path); fmt.Sprint(back) != fmt.Sprint(want) {
			t.Fatalf("read back %v, want %v", back, want)
		}
		if again := Format(back); again != text {
			t.Fatalf("wrote %q, then %q", text, again)
		}
	})
}

// Relative and absolute forms draw the same.
func TestRelativeLaw(t *testing.T) {
	whole := rapid.IntRange(-500, 500)
	rapid.Check(t, func(t *rapid.T) {
		x, y := 0, 0
		var abs, rel strings.Builder
		abs.WriteString("M 0 0")
		rel.WriteString("m 0 0")
		for range rapid.IntRange(1, 8).Draw(t, "n") {
			c := rapid.SampledFrom([]string{"L", "C", "S", "Q", "T"}).Draw(t, "c")
			abs.WriteString(c)
			rel.WriteString(strings.ToLower(c))
			nx, ny := x, y
			for range needs[c[0]] / 2 {
				dx, dy := whole.Draw(t, "dx"), whole.Draw(t, "dy")
				fmt.Fprintf(&abs, " %d %d", x+dx, y+dy)
				fmt.Fprintf(&rel, " %d %d", dx, dy)
				nx, ny = x+dx, y+dy
			}
			x, y = nx, ny
		}
		a, errA := Parse(abs.String())
		r, errR := Parse(rel.String())
		if errA != nil || errR != nil {
			if (errA == nil) != (errR == nil) {
				t.Fatalf("%v, %v", errA, errR)
			}
			return
		}
		if Format(a) != Format(r) {
			t.Fatalf("%s\n%s\ndraw\n%s\n%s", &abs, &rel, Format(a), Format(r))
		}
	})
}

// FuzzParse starts from testdata/fuzz/FuzzParse.
func FuzzParse(f *testing.F) {
	f.Fuzz(func(t *testing.T, d string) {
		p, err := Parse(d)
		if err != nil {
			var e *Error
			if !errors.As(err, &e) || e.Offset < 0 || e.Offset > len(d) || e.Text == "" || e.Remedy == "" {
				t.Fatalf("Parse(%q): %#v", d, err)
			}
			return
		}
		if len(p) == 0 || len(p) > MaxSegments || !p.Finite() || p.Gap() != 0 {
			t.Fatalf("Parse(%q) gave %d segments, gap %v", d, len(p), p.Gap())
		}
		text := Format(p)
		back, err := Parse(text)
		if err != nil || Format(back) != text {
			t.Fatalf("Parse(%q) wrote %q, read %v, %v", d, text, back, err)
		}
	})
}
