package yamlfile

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
	"bygone.example/core/source"
)

// starPiece draws a piece whose corners lie around the origin at growing
// angles, with straight and curved edges and marks anywhere on them, numbers
// as an operation would leave them: not rounded.
func starPiece(t *rapid.T, name string) pattern.Piece {
	n := rapid.IntRange(3, 7).Draw(t, "corners")
	corner := make([]geom.Point, n)
	for i := range corner {
		turn := (float64(i) + rapid.Float64Range(0, 0.6).Draw(t, "turn")) / float64(n) * 2 * math.Pi
		corner[i] = geom.Polar(rapid.Float64Range(80, 700).Draw(t, "radius"), turn)
	}
	p := pattern.Piece{Name: name, Cut: pattern.Cut{Count: 1}}
	for i, a := range corner {
		b := corner[(i+1)%n]
		e := pattern.Edge{Name: fmt.Sprintf("e%d", i), Path: geom.Path{geom.Line(a, b)}, Finish: pattern.Open, Allowance: rapid.Float64Range(0, 40).Draw(t, "allowance")}
		if rapid.Bool().Draw(t, "curved") {
			out := b.Sub(a).Right().Mul(rapid.Float64Range(0, 0.1).Draw(t, "bulge"))
			e.Path = geom.Path{geom.Cubic(a, a.Lerp(b, 0.3).Add(out), a.Lerp(b, 0.7).Add(out), b)}
			if rapid.Bool().Draw(t, "divided") {
				first, second := e.Path[0].Split(rapid.Float64Range(0.1, 0.9).Draw(t, "at"))
				e.Path = geom.Path{first, second}
			}
		}
		p.Edges = append(p.Edges, e)
		l := e.Path.Length()
		from := rapid.Float64Range(0, 0.4).Draw(t, "from") * l
		to := rapid.SampledFrom([]float64{l, l * 0.77, from + 1}).Draw(t, "to")
		switch rapid.IntRange(0, 4).Draw(t, "mark") {
		case 0:
			p.Darts = append(p.Darts, pattern.Dart{Name: "d" + e.Name, Edge: e.Name, From: from, To: to})
		case 1:
			p.Pleats = append(p.Pleats, pattern.Pleat{Name: "p" + e.Name, Edge: e.Name, From: from, To: to, Kind: pattern.Tuck})
		case 2:
			down := rapid.SampledFrom([]float64{1, 0.5}).Draw(t, "down")
			p.Gathers = append(p.Gathers, pattern.Gather{Name: "g" + e.Name, Edge: e.Name, From: from, To: to, Length: (to - from) * down, Kind: pattern.Ease})
			if rapid.Bool().Draw(t, "cartridge") {
				g := &p.Gathers[len(p.Gathers)-1]
				g.Kind, g.Rows = pattern.Cartridge, rapid.IntRange(1, pattern.MaxRows).Draw(t, "rows")
				g.Stitch = rapid.Float64Range(0.5, 20).Draw(t, "stitch")
			}
		case 3:
			p.Notches = append(p.Notches, pattern.Notch{Name: "n", Edge: e.Name, At: to, Count: 1})
		}
	}
	return p
}

// What Validate accepts in memory is accepted from a file, is as near to what
// was written as rounding goes, and stays as it is from then on.
func TestWriteReadLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := &pattern.Pattern{Name: "star", Pieces: []pattern.Piece{starPiece(t, "one"), starPiece(t, "two")}}
		p.Seams = []pattern.Seam{{Name: "s", A: pattern.Run{{Piece: "one", Edge: "e0"}}, B: pattern.Run{{Piece: "two", Edge: "e1", Backwards: true}}, Meeting: pattern.Meeting{Kind: pattern.Plain},
			Kind: rapid.SampledFrom([]pattern.SeamKind{pattern.Joined, pattern.Basted}).Draw(t, "kind")}}
		if len(p.Validate()) > 0 {
			t.Skip("not a pattern")
		}
		out := Write(p)
		q, err := Read("star.yaml", out)
		if err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
		rest := AtRest(p)
		if diff := cmp.Diff(rest, q, cmpopts.EquateEmpty()); diff != "" {
			t.Fatalf("AtRest is not what is read:\n%s", diff)
		}
		if diff := cmp.Diff(rest, AtRest(rest)); diff != "" {
			t.Fatalf("AtRest changes what is at rest:\n%s", diff)
		}
		for i := range p.Pieces {
			for j := range p.Pieces[i].Edges {
				for k, was := range p.Pieces[i].Edges[j].Path {
					is := q.Pieces[i].Edges[j].Path[k]
					if d := max(was.P0.Dist(is.P0), was.C1.Dist(is.C1), was.C2.Dist(is.C2), was.P1.Dist(is.P1)); d > 1e-6 {
						t.Fatalf("%v came back as %v", was, is)
					}
				}
			}
		}
		second := Write(q)
		r, err := Read("star.yaml", second)
		if err != nil || !cmp.Equal(q, r) || !bytes.Equal(second, Write(r)) {
			t.Fatalf("not stable: %v\n%s", err, cmp.Diff(q, r))
		}
		if !bytes.Equal(out, second) {
			t.Fatalf("written otherwise the second time:\n%s", cmp.Diff(string(out), string(second)))
		}
	})
}

// A file cut off anywhere is either whole still or refused with a place, and
// never with a flood: what is missing is said once.
func TestCutOffAnywhere(t *testing.T) {
	dress := readFile(t, "testdata/dress.yaml")
	most, where, whole := 0, 0, 0
	for i := range dress {
		_, err := Read("cut.yaml", dress[:i])
		if err == nil {
			whole++
			continue
		}
		problems := err.(source.Problems)
		if len(problems) > most {
			most, where = len(problems), i
		}
		for _, p := range problems {
			if p.Remedy == "" || p.Text == "" || p.Line == 0 && i > len("bygone: pattern/1") || strings.Contains(p.Text, "not YAML") {
				t.Errorf("cut at %d: %s", i, p.Error())
			}
		}
	}
	t.Logf("%d of %d prefixes are whole patterns; the worst cut (at %d) gives %d refusals", whole, len(dress), where, most)
	if most > 4 {
		_, err := Read("cut.yaml", dress[:where])
		t.Errorf("cut at %d:\n%v", where, err)
	}
}

// A line dropped, doubled or moved never makes reading panic, and what is
// accepted is stable.
func TestMangledLines(t *testing.T) {
	lines := strings.SplitAfter(string(readFile(t, "testdata/dress.yaml")), "\n")
	try := func(what string, lines []string) {
		p, err := Read("mangled.yaml", []byte(strings.Join(lines, "")))
		if err != nil {
			return
		}
		if q, err := Read("mangled.yaml", Write(p)); err != nil || !cmp.Equal(p, q) {
			t.Errorf("%s: %v\n%s", what, err, cmp.Diff(p, q))
		}
	}
	for i := range lines {
		try(fmt.Sprintf("line %d dropped", i+1), slices.Delete(slices.Clone(lines), i, i+1))
		try(fmt.Sprintf("line %d doubled", i+1), slices.Insert(slices.Clone(lines), i, lines[i]))
		for _, in := range []string{"  ", "    "} {
			moved := slices.Clone(lines)
			moved[i] = in + moved[i]
			try(fmt.Sprintf("line %d moved in", i+1), moved)
			moved[i] = strings.TrimPrefix(lines[i], in)
			try(fmt.Sprintf("line %d moved out", i+1), moved)
		}
	}
}

// The largest honest pattern, and the largest that its bounds let through, are
// read in a time that a person waits for.
func TestLargePatterns(t *testing.T) {
	ring := func(name string, n int, straight bool) pattern.Piece {
		p := pattern.Piece{Name: name, Cut: pattern.Cut{Count: 1}}
		var path geom.Path
		for i := range n {
			a, b := 2*math.Pi*float64(i)/float64(n), 2*math.Pi*float64(i+1)/float64(n)
			if straight {
				path = append(path, geom.Line(geom.Polar(500, a), geom.Polar(500, b)))
			} else {
				path = append(path, geom.Hermite(geom.Polar(500, a), geom.Polar(500*(b-a), a+math.Pi/2), geom.Polar(500, b), geom.Polar(500*(b-a), b+math.Pi/2)))
			}
		}
		half := n / 2
		p.Edges = []pattern.Edge{{Name: "a", Path: path[:half], Finish: pattern.Open}, {Name: "b", Path: path[half:], Finish: pattern.Open}}
		return p
	}
	tests := []struct {
		name        string
		pieces, per int
		straight    bool
	}{
		{"30 pieces of 40 curves", 30, 40, false},
		{"1000 pieces of 40 curves", 1000, 40, false},
		{"7 pieces of 19000 lines", 7, 19000, true},
	}
	for _, tt := range tests {
		p := &pattern.Pattern{Name: "large"}
		for i := range tt.pieces {
			p.Pieces = append(p.Pieces, ring(fmt.Sprintf("p%d", i), tt.per, tt.straight))
		}
		start := time.Now()
		data := Write(p)
		wrote := time.Since(start)
		start = time.Now()
		q, err := Read("large.yaml", data)
		read := time.Since(start)
		if err != nil {
			t.Errorf("%s: %.300s", tt.name, err)
			continue
		}
		start = time.Now()
		q.Validate()
		t.Logf("%-26s %6d KB: written in %v, read in %v, of which validated in %v", tt.name, len(data)/1024,
			wrote.Round(time.Millisecond), read.Round(time.Millisecond), time.Since(start).Round(time.Millisecond))
		if read > 60*time.Second { // an order above what was measured, for slow machines
			t.Errorf("%s: read in %v", tt.name, read)
		}
	}
}
