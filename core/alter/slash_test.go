package alter

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// gore is a skirt gore below the hip, held there: hem at the bottom, hip on top.
func gore() *pattern.Pattern {
	hem := geom.Smooth([]geom.Point{geom.Pt(-200, 8), geom.Pt(0, 0), geom.Pt(200, 8)}, geom.Point{}, geom.Point{})
	return &pattern.Pattern{Name: "gore", Pieces: []pattern.Piece{{
		Name: "gore", Cut: pattern.Cut{Count: 1},
		Edges: []pattern.Edge{
			{Name: "hem", Path: hem, Finish: pattern.Hemmed},
			{Name: "side", Path: geom.Polyline(geom.Pt(200, 8), geom.Pt(140, 600)), Finish: pattern.Open},
			{Name: "hip", Path: geom.Polyline(geom.Pt(140, 600), geom.Pt(-140, 600)), Finish: pattern.Open},
			{Name: "centre", Path: geom.Polyline(geom.Pt(-140, 600), geom.Pt(-200, 8)), Finish: pattern.Open},
		},
		Grain: pattern.Grain{From: geom.Pt(0, 100), To: geom.Pt(0, 500)},
	}}}
}

// anySlashes draws slashes from hem to hip, in any order, spread by openA below
// and openB above.
func anySlashes(t *rapid.T, w *work, openA, openB float64) []slash {
	n := rapid.IntRange(1, 9).Draw(t, "slashes")
	long, top := w.lines[0].length(), w.lines[2].length()
	var cuts []slash
	for k, share := range evenly(0, 1, n) {
		share += rapid.Float64Range(-0.2, 0.2).Draw(t, "shift") / float64(n+1)
		c := slash{i: 0, a: share * long, j: 2, b: (1 - share) * top, openA: openA, openB: openB}
		if k%2 == 0 {
			cuts = append(cuts, c)
		} else {
			cuts = append([]slash{c}, cuts...)
		}
	}
	return cuts
}

// I. D. Conover, A Complete Course in Dressmaking, vol. 5, p. 17: hold the gore
// at the hip and spread it below by any amount. The identity: the hip is as it
// was, and the hem grows by the sum of the chords, before it is faired.
func TestSlashChordIdentity(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := begin(gore())
		w := e.pieces[0]
		each := rapid.Float64Range(1, 60).Draw(t, "each")
		hem, hip, side, centre := w.lines[0].length(), w.lines[2].length(), w.lines[1].length(), w.lines[3].length()
		n := rapid.IntRange(1, 6).Draw(t, "slashes")
		places := evenly(0, hem, n)
		for k := n - 1; k >= 0; k-- { // from the hem's end, so that places before stay
			c := slash{i: 0, a: places[k], j: 2, b: hip * float64(n-k) / float64(n+1), openA: each}
			if _, _, err := w.open(&c); err != nil {
				t.Fatalf("%v", err)
			}
		}
		within(t, "hem", w.lines[0].length(), hem+float64(n)*each, exact)
		within(t, "hip", w.lines[2].length(), hip, exact)
		within(t, "side", w.lines[1].length(), side, exact)
		within(t, "centre", w.lines[3].length(), centre, exact)
	})
}

// turnedTooFar says whether the slashes together fan the gore out so far that it
// is no longer a skirt; spread does not ask, validation of the piece does.
func turnedTooFar(each float64, n int) bool { return each*float64(n) > 500 }

func TestSpreadKeeps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := begin(gore())
		w := e.pieces[0]
		openA := rapid.Float64Range(-12, 50).Draw(t, "below")
		openB := 0.0
		if rapid.Bool().Draw(t, "above too") {
			openB = rapid.Float64Range(0, 1).Draw(t, "share") * openA
		}
		cuts := anySlashes(t, w, openA, openB)
		if turnedTooFar(openA, len(cuts)) {
			return
		}
		var was []float64
		for _, l := range w.lines {
			was = append(was, l.length())
		}
		if err := w.spread(cuts); err != nil {
			return
		}
		sum := func(open float64) float64 { return open * float64(len(cuts)) }
		within(t, "side", w.lines[1].length(), was[1], exact)
		within(t, "centre", w.lines[3].length(), was[3], exact)
		if openB == 0 {
			within(t, "hip", w.lines[2].length(), was[2], exact)
		} else {
			within(t, "hip", w.lines[2].length(), was[2]+sum(openB), 0.1*math.Abs(sum(openB))+0.5)
		}
		within(t, "hem", w.lines[0].length(), was[0]+sum(openA), 0.1*math.Abs(sum(openA))+0.5)
		plain(t, w, 0)
	})
}

// plain holds that a faired edge has no corner, hook or bulge: along it the
// tangent turns by no more than the edge as a whole does, and never jumps.
func plain(t failer, w *work, i int) {
	t.Helper()
	path := w.lines[i].path()
	total := path.Length()
	const steps = 200
	var sum float64
	dir := path.StartDirection()
	for k := 1; k <= steps; k++ {
		next := path.Direction(total * float64(k) / steps)
		turn := geom.Turn(dir, next)
		sum += math.Abs(turn)
		if math.Abs(turn) > mostTurn {
			t.Errorf("edge %s turns by %.1f degrees at %.0f mm", w.Edges[i].Name, degrees(turn), total*float64(k)/steps)
		}
		dir = next
	}
	if whole := math.Abs(geom.Turn(path.StartDirection(), path.EndDirection())); sum > whole+mostWiggle {
		t.Errorf("edge %s turns by %.1f degrees in all, %.1f from end to end", w.Edges[i].Name, degrees(sum), degrees(whole))
	}
}

const (
	mostTurn   = 8 * math.Pi / 180  // within a two-hundredth of an edge: a corner by pairing's measure
	mostWiggle = 20 * math.Pi / 180 // back and forth along it: half of that shows as a wave on paper
)

// A slash hard by an edge's end leaves no hook there.
func TestSpreadNearAnEnd(t *testing.T) {
	for _, near := range []float64{0.5, 2, 6, 9, 20} {
		e := begin(gore())
		w := e.pieces[0]
		hem := w.lines[0].length()
		err := w.spread([]slash{
			{i: 0, a: near, j: 2, b: w.lines[2].length() - near, openA: 15},
			{i: 0, a: hem - near, j: 2, b: near, openA: 15},
		})
		if err != nil {
			t.Fatalf("%v mm from the end: %v", near, err)
		}
		within(t, "hem", w.lines[0].length(), hem+30, 3)
		plain(t, w, 0)
	}
}

func TestSpreadNothing(t *testing.T) {
	e := begin(gore())
	w := e.pieces[0]
	if err := w.spread(nil); err != nil {
		t.Fatal(err)
	}
	a, err := e.finish()
	if err != nil {
		t.Fatal(err)
	}
	sameDrawing(t, "no slashes", a.Pattern, gore())
}

func TestSpreadRefuses(t *testing.T) {
	for _, c := range []struct {
		name string
		cut  slash
		want string
	}{
		{"one edge", slash{i: 0, a: 100, j: 0, b: 200, openA: 10}, `a slash on piece "gore" would begin and end on the same edge "hem"; choose another place for it`},
		{"beyond it", slash{i: 0, a: 1000, j: 2, b: 100, openA: 10}, `a slash across piece "gore" would miss it; choose another place for it`},
		{"too short", slash{i: 0, a: 1, j: 3, b: 594, openA: 10}, `a slash across piece "gore" would miss it; choose another place for it`},
		{"too far", slash{i: 0, a: 200, j: 2, b: 140, openA: 1000}, `spreading a slash of 600 mm on piece "gore" by 1000 mm turns the paper too far; use more slashes, or ask for less`},
		{"lapped away", slash{i: 0, a: 5, j: 2, b: 275, openA: -20}, `lapping a slash on piece "gore" by 20 mm leaves nothing of the edge beside it; ask for less`},
	} {
		w := begin(gore()).pieces[0]
		if err := w.spread([]slash{c.cut}); err == nil || err.Error() != c.want {
			t.Errorf("%s: %v\nwant %s", c.name, err, c.want)
		}
	}
}

func TestAcross(t *testing.T) {
	w := begin(gore()).pieces[0]
	j, b, err := w.across(0, w.lines[0].length()/2, geom.Pt(0, 1))
	if err != nil || w.Edges[j].Name != "hip" || math.Abs(b-140) > laidOff {
		t.Errorf("across = %s at %v, %v", w.Edges[j].Name, b, err)
	}
	if _, _, err := w.across(0, 10, geom.Pt(0, -1)); err == nil {
		t.Error("a slash out of the piece met an edge")
	}
}
