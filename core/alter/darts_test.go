package alter

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

func rotate(r Rotation) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return RotateDart(p, r) }
}

// dartAngle is the angle at a dart's point in radians, and the lengths of its
// legs.
func dartAngle(p *pattern.Piece, name string) (angle, first, second float64) {
	d := p.Dart(name)
	path := p.Edge(d.Edge).Path
	f, t := path.At(d.From), path.At(d.To)
	return math.Abs(geom.Turn(f.Sub(d.Point), t.Sub(d.Point))), f.Dist(d.Point), t.Dist(d.Point)
}

// cloth is a piece's area in mm² without what its darts take up.
func cloth(p *pattern.Piece) float64 {
	sum := p.Boundary().Area()
	for _, d := range p.Darts {
		path := p.Edge(d.Edge).Path
		sum -= math.Abs(path.At(d.From).Sub(d.Point).Cross(path.At(d.To).Sub(d.Point))) / 2
	}
	return sum
}

// clothTolerance in mm²: what 1e-9 mm leaves of a piece a metre long.
const clothTolerance = 1e-4

// Gap between the legs = 2·L·sin(θ/2) (trade identity): for θ = 12°, in inches.
func TestRotateDartMouth(t *testing.T) {
	const (
		inch    = 25.4
		theta   = 12 * math.Pi / 180
		printed = 0.0005 // the table has three decimals
	)
	pivot := geom.Pt(0, 0)
	foot := 10 * inch / math.Cos(theta/2)
	a, b := geom.Polar(foot, -math.Pi/2-theta/2), geom.Polar(foot, -math.Pi/2+theta/2)
	low, high, wide := a.Y, 8*inch, 30*inch
	p := &pattern.Pattern{Name: "square", Pieces: []pattern.Piece{{
		Name: "square", Cut: pattern.Cut{Count: 1},
		Edges: []pattern.Edge{
			{Name: "low", Path: geom.Polyline(geom.Pt(-wide, low), a, b, geom.Pt(wide, low)), Finish: pattern.Hemmed},
			{Name: "right", Path: geom.Polyline(geom.Pt(wide, low), geom.Pt(wide, high)), Finish: pattern.Hemmed},
			{Name: "high", Path: geom.Polyline(geom.Pt(wide, high), geom.Pt(-wide, high)), Finish: pattern.Hemmed},
			{Name: "left", Path: geom.Polyline(geom.Pt(-wide, high), geom.Pt(-wide, low)), Finish: pattern.Hemmed},
		},
		Darts: []pattern.Dart{{Name: "dart", Edge: "low", From: wide + a.X, To: wide + b.X, Point: pivot}},
	}}}
	for _, c := range []struct{ leg, gap float64 }{{10, 2.091}, {12, 2.509}, {15, 3.136}, {20, 4.181}, {25, 5.226}} {
		at := wide - math.Sqrt(c.leg*c.leg-8*8)*inch
		out := done(t, p, rotate(Rotation{Piece: "square", Dart: "dart", Edge: "high", At: at, Share: 1}))
		q := out.Pattern.Piece("square")
		d := q.Dart("dart")
		within(t, "gap as printed, in", (d.To-d.From)/inch, c.gap, printed)
		within(t, "gap, mm", d.To-d.From, 2*c.leg*inch*math.Sin(theta/2), exact)
		angle, first, second := dartAngle(q, "dart")
		within(t, "angle", angle, theta, exact)
		within(t, "first leg", first, c.leg*inch, exact)
		within(t, "second leg", second, c.leg*inch, exact)
	}
}

// anyTurn draws a rotation of one of the front's darts, or the back's.
func anyTurn(t *rapid.T, p *pattern.Pattern) Rotation {
	where := rapid.SampledFrom([][2]string{
		{"bodice-front", "bust-dart"}, {"bodice-front", "waist-dart"}, {"bodice-back", "waist-dart"},
	}).Draw(t, "dart")
	r := Rotation{Piece: where[0], Dart: where[1], Share: 1}
	if rapid.Bool().Draw(t, "a part of it") {
		r.Share = rapid.Float64Range(0.01, 1).Draw(t, "share")
	}
	edges := []string{"waist", "side", "armscye", "shoulder", "neckline", "centre-front"}
	if r.Piece == "bodice-back" {
		edges[5] = "centre-back.opening"
	}
	r.Edge = rapid.SampledFrom(edges).Draw(t, "edge")
	r.At = rapid.Float64Range(0, 1).Draw(t, "at") * length(p, r.Piece, r.Edge)
	return r
}

func TestRotateDartKeeps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		r := anyTurn(t, p)
		a, no := lawful(t, p, rotate(r))
		if no != nil {
			return // the laws of refusals are held by lawful, their words below
		}
		old, now := p.Piece(r.Piece), a.Pattern.Piece(r.Piece)
		was, _, _ := dartAngle(old, r.Dart)
		fresh := r.Dart
		if r.Share < 1 {
			fresh += "-2"
			left, first, second := dartAngle(now, r.Dart)
			within(t, "angle left", left, was*(1-r.Share), exact)
			within(t, "legs left", first, second, legTolerance)
		}
		angle, first, second := dartAngle(now, fresh)
		within(t, "angle", angle, was*r.Share, exact)
		within(t, "legs", first, second, exact)
		d := now.Dart(fresh)
		within(t, "mouth", d.To-d.From, 2*first*math.Sin(angle/2), exact)
		within(t, "area", cloth(now), cloth(old), clothTolerance)
		for _, e := range old.Edges {
			within(t, "sewn "+e.Name, now.SewnLength(e.Name), old.SewnLength(e.Name), exact)
		}
		others(t, p, a.Pattern, r.Piece)
	})
}

// Turned to another edge and back again, a dart leaves the outline as it was.
func TestRotateDartThereAndBack(t *testing.T) {
	p := dress(t)
	d := *p.Piece("bodice-front").Dart("bust-dart")
	for _, edge := range []string{"armscye", "shoulder", "neckline"} {
		a := done(t, p, rotate(Rotation{Piece: "bodice-front", Dart: "bust-dart", Edge: edge, At: 60, Share: 1}))
		b := done(t, a.Pattern, rotate(Rotation{Piece: "bodice-front", Dart: "bust-dart", Edge: "side", At: d.From, Share: 1}))
		within(t, "outline by way of the "+edge, apart(p.Piece("bodice-front"), b.Pattern.Piece("bodice-front")), 0, exact)
		back := *b.Pattern.Piece("bodice-front").Dart("bust-dart")
		within(t, "mouth", back.To-back.From, d.To-d.From, exact)
		if back.Point != d.Point {
			t.Errorf("the point came to %v from %v", back.Point, d.Point)
		}
	}
}

// Joint darts have legs of one length, take up what both did, and point at the
// bust point as nearly as that allows.
func TestRotateDartInto(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		r := Rotation{Piece: "bodice-front", Dart: "bust-dart", Into: "waist-dart", Share: 1}
		if rapid.Bool().Draw(t, "the other way") {
			r.Dart, r.Into = r.Into, r.Dart
		}
		if rapid.Bool().Draw(t, "a part of it") {
			r.Share = rapid.Float64Range(0.01, 0.99).Draw(t, "share")
		}
		a, no := lawful(t, p, rotate(r))
		if no != nil {
			t.Fatalf("refused: %v", no)
		}
		old, now := p.Piece("bodice-front"), a.Pattern.Piece("bodice-front")
		_, first, second := dartAngle(now, r.Into)
		within(t, "legs", first, second, exact)
		if (now.Dart(r.Dart) != nil) != (r.Share < 1) || len(now.Darts) > 2 {
			t.Errorf("darts left: %v", now.Darts)
		}
		for _, e := range old.Edges {
			within(t, "sewn "+e.Name, now.SewnLength(e.Name), old.SewnLength(e.Name), exact)
		}
		d := now.Dart(r.Into)
		path := now.Edge(d.Edge).Path
		mouth := path.At(d.To).Sub(path.At(d.From)).Unit()
		bust := now.Landmark(pattern.BustPoint).At
		within(t, "point beside the nearest place to the bust point", bust.Sub(d.Point).Cross(mouth.Left()), bust.Sub(d.Point).Dot(mouth)*mouth.Cross(mouth.Left()), exact)
		others(t, p, a.Pattern, "bodice-front")
	})
}

// wholeFront draws the dress's front out whole and leaves the rest: a piece
// without a fold, with two edges of most roles. Nothing is sewn to it.
func wholeFront(t failer) *pattern.Pattern {
	t.Helper()
	p := dress(t)
	p.Pieces, p.Seams = p.Pieces[:1], nil
	half := &p.Pieces[0]
	flip := turnedOver(p).Pieces[0] // the fold is on x = 0: its mirror image lies beside it
	fold := half.EdgeIndex(pattern.CentreFront)
	edges := slices.Concat(half.Edges[fold+1:], half.Edges[:fold])
	var other []pattern.Edge
	k := flip.EdgeIndex(pattern.CentreFront)
	other = slices.Concat(flip.Edges[k+1:], flip.Edges[:k])
	shift := map[string]float64{}
	for i := range other { // neckline and waist run on across the centre
		if other[i].Name == edges[len(edges)-1].Name {
			shift[other[i].Name] = edges[len(edges)-1].Path.Length()
			edges[len(edges)-1].Path = edges[len(edges)-1].Path.Join(other[i].Path)
			continue
		}
		if other[i].Name == edges[0].Name {
			edges[0].Path = other[i].Path.Join(edges[0].Path)
			continue
		}
		other[i].Role = other[i].Is()
		other[i].Name += ".left"
		edges = append(edges, other[i])
	}
	for i := range edges {
		edges[i].Finish = pattern.Open
	}
	for _, d := range flip.Darts {
		by, onCentre := shift[d.Edge]
		if !onCentre {
			d.Edge += ".left"
		}
		d.Name, d.From, d.To = d.Name+"-left", d.From+by, d.To+by
		half.Darts = append(half.Darts, d)
	}
	half.Edges, half.Notches, half.Landmarks = edges, nil, half.Landmarks[:0]
	return p
}

func TestRotateDartOnAWholeFront(t *testing.T) {
	p := wholeFront(t)
	for _, bad := range p.Validate() {
		t.Fatalf("%v", bad)
	}
	for _, dart := range []string{"bust-dart", "bust-dart-left", "waist-dart", "waist-dart-left"} {
		a := done(t, p, rotate(Rotation{Piece: "bodice-front", Dart: dart, Edge: "neckline", At: 60, Share: 1}))
		old, now := p.Piece("bodice-front"), a.Pattern.Piece("bodice-front")
		was, _, _ := dartAngle(old, dart)
		angle, first, second := dartAngle(now, dart)
		within(t, "angle", angle, was, exact)
		within(t, "legs", first, second, exact)
		within(t, "area", cloth(now), cloth(old), clothTolerance)
		if now.Grain != old.Grain {
			t.Errorf("%s: the grainline moved", dart)
		}
	}
}

func TestRotateDartRefuses(t *testing.T) {
	p := dress(t)
	lame := p.Clone()
	lame.Piece("bodice-back").Darts[0].Point.X += 1
	inverted := p.Clone()
	q := inverted.Piece("bodice-back")
	q.Darts[0].Point = q.Darts[0].Point.Add(geom.Pt(0, -400))
	bare := p.Clone()
	bare.Piece("bodice-back").Darts = nil
	refusals{
		{"no such piece", p, rotate(Rotation{Piece: "yoke", Dart: "dart"}), `the pattern has no piece "yoke"; its pieces are bodice-front, bodice-back, sleeve, skirt-front, skirt-back, facing-front, facing-back`},
		{"no such dart", p, rotate(Rotation{Piece: "bodice-front", Dart: "dart"}), `piece "bodice-front" has no dart "dart"; its darts are bust-dart, waist-dart`},
		{"no darts", bare, rotate(Rotation{Piece: "bodice-back", Dart: "dart"}), `piece "bodice-back" has no darts; leave this step out`},
		{"no such edge", p, rotate(Rotation{Piece: "bodice-back", Dart: "waist-dart", Edge: "hem", Share: 1}), `piece "bodice-back" has no edge "hem"; its edges are waist, side, armscye, shoulder, neckline, centre-back.opening`},
		{"nothing of it", p, rotate(Rotation{Piece: "bodice-back", Dart: "waist-dart", Edge: "side", At: 50}), `a dart can be turned by a share over 0 up to 1, not 0; use 1 for the whole dart`},
		{"more than it", p, rotate(Rotation{Piece: "bodice-back", Dart: "waist-dart", Edge: "side", At: 50, Share: 1.5}), `a dart can be turned by a share over 0 up to 1, not 1.5; use 1 for the whole dart`},
		{"into itself", p, rotate(Rotation{Piece: "bodice-front", Dart: "bust-dart", Into: "bust-dart", Share: 1}), `dart "bust-dart" cannot be turned into itself; name another dart, or an edge`},
		{"into none", p, rotate(Rotation{Piece: "bodice-front", Dart: "bust-dart", Into: "dart", Share: 1}), `piece "bodice-front" has no dart "dart"; its darts are bust-dart, waist-dart`},
		{"legs differ", lame, rotate(Rotation{Piece: "bodice-back", Dart: "waist-dart", Edge: "side", At: 50, Share: 1}), `the legs of dart "waist-dart" on piece "bodice-back" measure 191.4 and 191.2 mm; true the dart's legs first`},
		{"backwards", inverted, rotate(Rotation{Piece: "bodice-back", Dart: "waist-dart", Edge: "side", At: 50, Share: 1}), `the mouth of dart "waist-dart" on piece "bodice-back" runs backwards: it takes nothing up; leave the dart out, or draw its mouth the other way`},
		{"beyond the edge", p, rotate(Rotation{Piece: "bodice-back", Dart: "waist-dart", Edge: "side", At: 500, Share: 1}), `a dart cannot open at 500.0 mm along edge "side" of piece "bodice-back"; choose a place between 0 and 201.0 mm, outside the dart's own mouth`},
		{"inside its mouth", p, rotate(Rotation{Piece: "bodice-back", Dart: "waist-dart", Edge: "waist", At: 90, Share: 1}), `a dart cannot open at 90.0 mm along edge "waist" of piece "bodice-back"; choose a place between 0 and 210.8 mm, outside the dart's own mouth`},
		{"in a corner", p, rotate(Rotation{Piece: "bodice-back", Dart: "waist-dart", Edge: "side", At: 0, Share: 1}), `a dart at 0.0 mm along edge "side" of piece "bodice-back" would open in its corner; keep it 5 mm or more from the edge's ends`},
		{"across another dart", p, rotate(Rotation{Piece: "bodice-front", Dart: "bust-dart", Edge: "waist", At: 210, Share: 1}), `the cut would run across dart "waist-dart" of piece "bodice-front"; turn or let out that dart first, or cut elsewhere`},
	}.try(t)
}
