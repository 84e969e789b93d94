package alter

import (
	"math"
	"testing"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
	"bygone.example/internal/stock"
)

func bring(a Allowances) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return BringIn(p, a) }
}

// The house dress is cut out with its allowances, and comes back: the same seam
// lines, darts and notches, seams that go together.
func TestBringInUndoesCutOut(t *testing.T) {
	p := done(t, dress(t), allow(houseAllowances)).Pattern
	q := done(t, stock.CutOut(p), bring(houseAllowances)).Pattern
	for i := range p.Pieces {
		was, now := &p.Pieces[i], &q.Pieces[i]
		for k := range was.Edges {
			path := was.Edges[k].Path
			for at := 0.0; at <= path.Length(); at += 2 {
				if _, d := now.Edges[k].Path.Nearest(path.At(at)); d > 0.05 {
					t.Errorf("%s/%s comes back %.3f mm off, %.0f mm along", was.Name, was.Edges[k].Name, d, at)
					break
				}
			}
			within(t, was.Edges[k].Name, now.Edges[k].Path.Length(), path.Length(), 0.05)
			within(t, was.Edges[k].Name+" allowance", now.Edges[k].Allowance, was.Edges[k].Allowance, 0)
		}
		for k, d := range was.Darts {
			within(t, d.Name+" from", now.Darts[k].From, d.From, 0.05)
			within(t, d.Name+" to", now.Darts[k].To, d.To, 0.05)
		}
		for k, n := range was.Notches {
			within(t, was.Name+" notch", now.Notches[k].At, n.At, 0.1)
		}
		for k, l := range was.Landmarks {
			within(t, l.Name, now.Landmarks[k].At.Dist(l.At), 0, 0.05)
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
	if _, err := BringIn(dress(t), houseAllowances); err == nil {
		t.Error("the dress, drawn to its seam lines, was brought in")
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

func TestSetCorner(t *testing.T) {
	p := done(t, dress(t), allow(houseAllowances)).Pattern
	bevel := CornerShape{Piece: "skirt-front", Edge: "hem", Shape: pattern.Bevel}
	q := done(t, p, func(p *pattern.Pattern) (*operation.Answer, error) { return SetCorner(p, bevel) }).Pattern
	if got := q.Piece("skirt-front").Edge("hem").Corner; got != pattern.Bevel {
		t.Errorf("the corner is %q", got)
	}
	for _, c := range []struct {
		name string
		on   *pattern.Pattern
		ask  CornerShape
	}{
		{"no allowance", dress(t), bevel}, {"so already", q, bevel},
		{"no piece", p, CornerShape{Piece: "cape", Edge: "hem"}}, {"no edge", p, CornerShape{Piece: "skirt-front", Edge: "fringe"}},
	} {
		if _, err := SetCorner(c.on, c.ask); err == nil {
			t.Errorf("%s: not refused", c.name)
		}
	}
}
