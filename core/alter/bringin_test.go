package alter

import (
	"math"
	"testing"

	"bygone.example/core/cutline"
	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

func bring(a Allowances) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return BringIn(p, a) }
}

// What is cut out is what was there: away from corners the cut lines of what was
// brought in lie on the outlines of the pattern that came; at a corner, where they
// run straight on and the outline may have been bent, within a pencil line.
func TestBringInKeepsWhatIsCut(t *testing.T) {
	p := dress(t)
	a, err := BringIn(p, houseAllowances)
	if err != nil {
		t.Fatal(err)
	}
	for i := range p.Pieces {
		was, now := &p.Pieces[i], &a.Pattern.Pieces[i]
		line := cutline.Of(now)
		if now.Boundary().Area() > was.Boundary().Area()-1000 {
			t.Errorf("%s is hardly smaller", was.Name)
		}
		for k := range was.Edges {
			path := was.Edges[k].Path
			long := path.Length()
			for at := 0.0; at <= long; at += 0.5 {
				allowed := 3.0
				if clear := 2 * houseAllowances.Hem; at > clear && at < long-clear {
					allowed = 0.05
				}
				if _, d := line.Path.Nearest(path.At(at)); d > allowed {
					t.Errorf("%s/%s: the cut line lies %.3f mm off the outline %.0f mm along", was.Name, was.Edges[k].Name, d, at)
					break
				}
			}
		}
	}
}

// A square of 400 by 300 with 15 mm all round: 370 by 270 are left. The dart's
// legs run from (100, 0) and (120, 0) to (110, 90): at 15 mm up its mouth is 15/90
// narrower, 16⅔ mm.
func TestBringInSquare(t *testing.T) {
	q := done(t, sheet(), bring(Allowances{Seam: 15, Curve: 15, Hem: 15, Small: 15})).Pattern.Pieces[0]
	for i, want := range []float64{370, 270, 370, 270} {
		within(t, q.Edges[i].Name, q.Edges[i].Path.Length(), want, 1e-9)
	}
	d := q.Darts[0]
	within(t, "mouth", d.To-d.From, 20*75.0/90, 1e-8)
	within(t, "mouth starts", d.From, 100-15+10*15.0/90, 1e-8)
	within(t, "notch", q.Notches[0].At, 35, 1e-9)
	within(t, "allowance", q.Edges[0].Allowance, 15, 0)
}

func TestBringInRefuses(t *testing.T) {
	with := sheet()
	with.Pieces[0].Edges[1].Allowance = 10
	if _, err := BringIn(with, houseAllowances); err == nil {
		t.Error("a pattern that has allowances was brought in")
	}
	if _, err := BringIn(sheet(), Allowances{Seam: 160, Curve: 160, Hem: 160, Small: 160}); err == nil {
		t.Error("a piece of 400 by 300 was brought in by 160 all round")
	}
	if _, err := BringIn(sheet(), Allowances{Seam: math.NaN()}); err == nil {
		t.Error("a width that is no number was taken")
	}
}

// The rules give a hem's corners the turned shape and slanting seams a matched
// one; nothing but corners differs.
func TestShapeCorners(t *testing.T) {
	a := houseAllowances
	a.Corners = true
	q := done(t, dress(t), allow(a)).Pattern
	plain := done(t, dress(t), allow(houseAllowances)).Pattern
	for _, c := range []struct {
		piece, edge string
		want        pattern.Corner
	}{
		{"skirt-back", "hem", pattern.Turned},
		{"sleeve", "hem", pattern.Turned},
		{"bodice-front", "waist", pattern.Meet}, // at the fold
	} {
		e := q.Piece(c.piece).Edge(c.edge)
		if e == nil {
			t.Errorf("no %s/%s", c.piece, c.edge)
		} else if e.Corner != c.want {
			t.Errorf("the corner after %s/%s is %q, want %q", c.piece, c.edge, e.Corner, c.want)
		}
	}
	for i := range q.Pieces {
		for k := range q.Pieces[i].Edges {
			q.Pieces[i].Edges[k].Corner = pattern.Meet
		}
	}
	sameDrawing(t, "but for the corners", q, plain)
}

// Seams that meet at a slant get a matched corner, at a right angle a plain one,
// and so do folds and corners that cut in.
func TestCornerRule(t *testing.T) {
	for _, c := range []struct {
		name   string
		next   geom.Point
		finish [2]pattern.Finish
		widths [2]float64
		want   pattern.Corner
	}{
		{"right angle", geom.Pt(100, 50), [2]pattern.Finish{}, [2]float64{15, 15}, pattern.Meet},
		{"blunt", geom.Pt(150, 50), [2]pattern.Finish{}, [2]float64{15, 10}, pattern.Matched},
		{"sharp", geom.Pt(70, 50), [2]pattern.Finish{}, [2]float64{15, 10}, pattern.Matched},
		{"cuts in", geom.Pt(150, -50), [2]pattern.Finish{}, [2]float64{15, 15}, pattern.Meet},
		{"runs on", geom.Pt(150, 1), [2]pattern.Finish{}, [2]float64{15, 15}, pattern.Meet},
		{"hem first", geom.Pt(70, 50), [2]pattern.Finish{pattern.Hemmed, ""}, [2]float64{30, 15}, pattern.Turned},
		{"hem after", geom.Pt(100, 50), [2]pattern.Finish{"", pattern.Hemmed}, [2]float64{15, 30}, pattern.Turned},
		{"two hems", geom.Pt(100, 50), [2]pattern.Finish{pattern.Hemmed, pattern.Hemmed}, [2]float64{30, 30}, pattern.Turned},
		{"two narrow hems", geom.Pt(100, 50), [2]pattern.Finish{pattern.Hemmed, pattern.Hemmed}, [2]float64{10, 10}, pattern.Meet},
		{"hem at a fold", geom.Pt(100, 50), [2]pattern.Finish{pattern.Hemmed, pattern.Fold}, [2]float64{30, 0}, pattern.Meet},
		{"no allowance", geom.Pt(70, 50), [2]pattern.Finish{}, [2]float64{15, 0}, pattern.Meet},
	} {
		w := &work{}
		for i, ends := range [][2]geom.Point{{geom.Pt(0, 0), geom.Pt(100, 0)}, {geom.Pt(100, 0), c.next}} {
			path := geom.Polyline(ends[0], ends[1])
			w.Edges = append(w.Edges, pattern.Edge{Name: "e", Path: path, Finish: c.finish[i], Allowance: c.widths[i]})
			w.lines = append(w.lines, drawn(path...))
		}
		if got := cornerRule(w, 0); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}
