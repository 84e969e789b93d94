package pairing_test

import (
	"math"
	"slices"
	"testing"

	"bygone.example/core/finding"
	"bygone.example/core/geom"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
)

// shapeCodes are the codes that TestShapes is about; lengths and corners that
// change along with a shape have tests of their own.
var shapeCodes = []finding.Code{
	pairing.BoundaryCrossing, pairing.BoundaryTouching, pairing.BoundaryClockwise, pairing.BoundarySliver,
	pairing.PointDoubled, pairing.CurveKink, pairing.GrainFold, pairing.MirrorShape, pairing.FoldBent,
}

// through is the edge's line drawn through more points, from its start to its end.
func through(e *pattern.Edge, points ...geom.Point) geom.Path {
	all := append([]geom.Point{e.Path.Start()}, points...)
	all = append(all, e.Path.End())
	var path geom.Path
	for i := 1; i < len(all); i++ { // doubled points are kept
		path = append(path, geom.Line(all[i-1], all[i]))
	}
	return path
}

// drawnClockwise turns the order and direction of a piece's edges round, with
// what is marked on them and the runs that take them.
func drawnClockwise(p *pattern.Pattern, name string) {
	piece := p.Piece(name)
	length := map[string]float64{}
	for i := range piece.Edges {
		length[piece.Edges[i].Name] = piece.Edges[i].Path.Length()
		piece.Edges[i].Path = piece.Edges[i].Path.Reverse()
	}
	slices.Reverse(piece.Edges)
	for i := range piece.Notches {
		n := &piece.Notches[i]
		n.At = length[n.Edge] - n.At
	}
	for i := range piece.Darts {
		d := &piece.Darts[i]
		d.From, d.To = length[d.Edge]-d.To, length[d.Edge]-d.From
	}
	for i := range piece.Gathers {
		g := &piece.Gathers[i]
		g.From, g.To = length[g.Edge]-g.To, length[g.Edge]-g.From
	}
	for _, s := range p.Seams {
		for _, run := range []pattern.Run{s.A, s.B} {
			for i := range run {
				if run[i].Piece == name {
					run[i].Backwards = !run[i].Backwards
				}
			}
		}
	}
}

// digitised draws an edge as short lines between points of it.
func digitised(e *pattern.Edge, n int) {
	var points []geom.Point
	for i := range n + 1 {
		points = append(points, e.Path.At(e.Path.Length()*float64(i)/float64(n)))
	}
	e.Path = geom.Polyline(points...)
}

// TestShapes plants one fault of shape at a time, and beside each what looks like
// it and is none.
func TestShapes(t *testing.T) {
	type pat = pattern.Pattern
	for _, c := range []struct {
		name  string
		plant func(*pat)
		want  []want
	}{
		{"side runs across the piece and back", func(p *pat) {
			e := edgeOf(p, "front", "side")
			e.Path = through(e, pt(-20, 150))
		}, []want{
			{pairing.BoundaryCrossing, "", "front", "centre-front", pt(0, 137.5), 0},
			{pairing.BoundaryCrossing, "", "front", "centre-front", pt(0, 154.1667), 0},
			{pairing.CurveKink, "", "front", "side", pt(-20, 150), 0},
		}},
		{"corners in the wrong order", func(p *pat) {
			edgeOf(p, "sleeve", "hem").Path = line(pt(300, 0), pt(0, 0))
			edgeOf(p, "sleeve", "underarm.front").Path = line(pt(0, 0), pt(300, 400))
			edgeOf(p, "sleeve", "underarm.back").Path = line(pt(0, 400), pt(300, 0))
		}, []want{{pairing.BoundaryCrossing, "", "sleeve", "underarm.back", pt(150, 200), 0}}},
		{"side bends in until it touches the fold", func(p *pat) {
			e := edgeOf(p, "front", "side")
			e.Path = through(e, pt(0, 150))
		}, []want{
			{pairing.BoundaryTouching, "", "front", "centre-front", pt(0, 150), 0},
			{pairing.CurveKink, "", "front", "side", pt(0, 150), 0},
		}},
		{"line drawn there and back", func(p *pat) {
			e := edgeOf(p, "front", "side")
			e.Path = through(e, pt(220, 150), pt(160, 150), pt(220, 150))
		}, []want{
			{pairing.BoundaryTouching, "", "front", "side", pt(220, 150), 0},
			{pairing.BoundaryTouching, "", "front", "side", pt(160, 150), 0},
			{pairing.CurveKink, "", "front", "side", pt(220, 150), 0},
			{pairing.CurveKink, "", "front", "side", pt(220, 150), 0},
			{pairing.CurveKink, "", "front", "side", pt(160, 150), 0},
		}},
		{"slit all but closed", func(p *pat) {
			e := edgeOf(p, "sleeve", "hem")
			e.Path = through(e, pt(150, 0), pt(150, 80), pt(150.03, 80), pt(150.03, 0))
		}, []want{
			{pairing.BoundaryTouching, "", "sleeve", "hem", geom.Point{}, -0.02},
			{pairing.PointDoubled, "", "sleeve", "hem", pt(150, 80), -0.02},
			{pairing.CurveKink, "", "sleeve", "hem", geom.Point{}, 0},
			{pairing.CurveKink, "", "sleeve", "hem", geom.Point{}, 0},
		}},
		{"slit", func(p *pat) {
			e := edgeOf(p, "sleeve", "hem")
			e.Path = through(e, pt(150, 0), pt(150, 80), pt(152, 80), pt(152, 0))
		}, []want{
			{pairing.CurveKink, "", "sleeve", "hem", geom.Point{}, 0},
			{pairing.CurveKink, "", "sleeve", "hem", geom.Point{}, 0},
		}},
		{"sleeve listed clockwise", func(p *pat) { drawnClockwise(p, "sleeve") },
			[]want{{pairing.BoundaryClockwise, "", "sleeve", "", geom.Point{}, 0}}},
		{"front listed clockwise, dart and all", func(p *pat) { drawnClockwise(p, "front") },
			[]want{{pairing.BoundaryClockwise, "", "front", "", geom.Point{}, 0}}},
		{"neck between two parts", func(p *pat) {
			e := edgeOf(p, "sleeve", "underarm.front")
			e.Path = through(e, pt(0.3, 200))
		}, []want{
			{pairing.BoundarySliver, "", "sleeve", "underarm.front", pt(0.15, 200), -0.2},
			{pairing.CurveKink, "", "sleeve", "underarm.front", pt(0.3, 200), 0},
		}},
		{"neck at the fold, twice as wide opened out", func(p *pat) {
			e := edgeOf(p, "front", "side")
			e.Path = through(e, pt(0.3, 150))
		}, []want{{pairing.CurveKink, "", "front", "side", pt(0.3, 150), 0}}},
		{"stray point", func(p *pat) {
			e := edgeOf(p, "sleeve", "underarm.front")
			e.Path = through(e, pt(300, 199.9), pt(340, 200), pt(300, 200.1))
		}, []want{
			{pairing.BoundarySliver, "", "sleeve", "underarm.front", geom.Point{}, 0},
			{pairing.CurveKink, "", "sleeve", "underarm.front", pt(340, 200), 0},
			{pairing.CurveKink, "", "sleeve", "underarm.front", geom.Point{}, 0},
			{pairing.CurveKink, "", "sleeve", "underarm.front", geom.Point{}, 0},
		}},
		{"piece drawn as a line", func(p *pat) {
			p.Pieces = append(p.Pieces, onFold("tape", "", pt(5, 0),
				pattern.Edge{Name: "there", Path: line(pt(0, 0), pt(400, 0)), Finish: pattern.Open},
				pattern.Edge{Name: "end", Path: line(pt(400, 0), pt(400, 0.002)), Finish: pattern.Open},
				pattern.Edge{Name: "back", Path: line(pt(400, 0.002), pt(0, 0)), Finish: pattern.Open},
			))
		}, []want{
			{pairing.BoundarySliver, "", "tape", "", geom.Point{}, 0},
			{pairing.PointDoubled, "", "tape", "end", pt(400, 0), -0.048},
		}},
		{"point twice", func(p *pat) {
			e := edgeOf(p, "front", "side")
			e.Path = through(e, pt(220, 90), pt(220, 90))
		}, []want{{pairing.PointDoubled, "", "front", "side", pt(220, 90), -0.05}}},
		{"point twice, 0.03 mm on", func(p *pat) {
			e := edgeOf(p, "front", "side")
			e.Path = through(e, pt(220, 90), pt(220, 90.03))
		}, []want{{pairing.PointDoubled, "", "front", "side", pt(220, 90), -0.02}}},
		{"point twice, aside", func(p *pat) {
			e := edgeOf(p, "front", "side")
			e.Path = through(e, pt(220, 90), pt(220.04, 90))
		}, []want{{pairing.PointDoubled, "", "front", "side", pt(220, 90), -0.01}}},
		{"two points 0.2 mm apart", func(p *pat) {
			e := edgeOf(p, "front", "side")
			e.Path = through(e, pt(220, 90), pt(220, 90.2))
		}, nil},
		{"curve cut 0.03 mm from a joint", func(p *pat) {
			e := edgeOf(p, "front", "armscye")
			head, tail := e.Path.Split(60)
			short, rest := tail.Split(0.03)
			e.Path = head.Join(short).Join(rest)
		}, nil},
		{"point pulled out of a digitised curve", func(p *pat) {
			e := edgeOf(p, "front", "armscye")
			digitised(e, 24)
			at := e.Path[11].P1.Add(pt(2, 1))
			e.Path[11].P1, e.Path[12].P0 = at, at
		}, []want{{pairing.CurveKink, "", "front", "armscye", geom.Point{}, 0}}},
		{"digitised curve", func(p *pat) { digitised(edgeOf(p, "front", "armscye"), 24) }, nil},
		{"side with a kink", func(p *pat) {
			e := edgeOf(p, "front", "side")
			e.Path = through(e, pt(230, 100))
		}, []want{{pairing.CurveKink, "", "front", "side", pt(230, 100), -2 * math.Atan(0.1) * 180 / math.Pi}}},
		{"side listed clockwise with a kink", func(p *pat) {
			e := edgeOf(p, "front", "side")
			e.Path = through(e, pt(230, 100))
			drawnClockwise(p, "front")
		}, []want{
			{pairing.BoundaryClockwise, "", "front", "", geom.Point{}, 0},
			{pairing.CurveKink, "", "front", "side", pt(230, 100), -2 * math.Atan(0.1) * 180 / math.Pi},
		}},
		{"side with a bend of 6 degrees", func(p *pat) {
			e := edgeOf(p, "front", "side")
			e.Path = through(e, pt(220+100*math.Tan(3*math.Pi/180), 100))
		}, nil},
		{"mouth of a dart trued to a peak", func(p *pat) {
			edgeOf(p, "front", "waist").Path = geom.Polyline(pt(0, 0), pt(90, 0), pt(100, -2), pt(110, 0), pt(220, 0))
			d := &p.Piece("front").Darts[0]
			d.To = 90 + 2*math.Hypot(10, 2)
		}, nil},
		{"bent fold", func(p *pat) {
			edgeOf(p, "front", "centre-front").Path = geom.Polyline(pt(0, 320), pt(0.4, 160), pt(0, 0))
		}, []want{{pairing.FoldBent, "", "front", "centre-front", pt(0.4, 160), 0.4}}},
		{"grainline askew of the fold", func(p *pat) { p.Piece("front").Grain.To.X += 2 },
			[]want{{pairing.GrainFold, "", "front", "", pt(62, 150), -math.Atan(0.02) * 180 / math.Pi}}},
		{"grainline on the bias", func(p *pat) { p.Piece("front").Grain.To.X += 100 }, nil},
		{"grainline askew without a fold", func(p *pat) { p.Piece("sleeve").Grain.To.X += 20 }, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := garment()
			c.plant(p)
			if left := p.ValidateParts(); left != nil {
				t.Fatalf("ValidateParts() = %v", left)
			}
			got := slices.DeleteFunc(pairing.Check(p), func(f finding.Finding) bool { return !slices.Contains(shapeCodes, f.Code) })
			for _, w := range c.want {
				i := slices.IndexFunc(got, func(f finding.Finding) bool { return matches(f, w) })
				if i < 0 {
					t.Errorf("Check() lacks %+v", w)
					continue
				}
				if e, ok := pairing.Explain(got[i].Code); !ok || e.Title == "" || e.Why == "" || got[i].Remedy != e.Remedy {
					t.Errorf("Explain(%s) = %+v", got[i].Code, e)
				}
				got = slices.Delete(got, i, i+1)
			}
			for _, f := range got {
				t.Errorf("Check() also found %s", show(f))
			}
		})
	}
}

// A piece that is listed clockwise has the corners, darts and lengths it had:
// nothing but its direction is found of it.
func TestClockwiseIsAllThatIsFound(t *testing.T) {
	for _, name := range []string{"front", "back", "sleeve", "gore-front", "gore-back"} {
		p := garment()
		drawnClockwise(p, name)
		got := pairing.Check(p)
		if len(got) != 1 || got[0].Code != pairing.BoundaryClockwise || got[0].Place.Piece != name {
			for _, f := range got {
				t.Errorf("Check() with %s clockwise found %s", name, show(f))
			}
		}
	}
}
