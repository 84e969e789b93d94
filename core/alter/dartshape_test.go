package alter

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"bygone.example/core/finding"
	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
	"bygone.example/internal/stock"
)

func of[O any](f func(*pattern.Pattern, O) (*operation.Answer, error), o O) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return f(p, o) }
}

// faultless is lawful that also takes no new warning, but for a kink that the
// operation says itself it leaves to be trued by hand.
func faultless(t failer, p *pattern.Pattern, do alteration) (*operation.Answer, *operation.Refusal) {
	t.Helper()
	a, no := lawful(t, p, do)
	if a == nil {
		return nil, no
	}
	for _, f := range pairing.Compare(pairing.Check(p), pairing.Check(a.Pattern), a.Lineage, "new") {
		if f.Since == "new" && f.Severity != finding.Note && !ofMakingUp[f.Code] {
			said := fmt.Sprintf("edge %s of %s bends", f.Place.Edge, f.Place.Piece)
			if f.Code == pairing.CurveKink && slices.ContainsFunc(a.Cautions, func(c string) bool { return strings.HasPrefix(c, said) }) {
				continue
			}
			t.Errorf("new %s: %s %s/%s: %s", f.Severity, f.Code, f.Place.Piece, f.Place.Edge, f.Text)
		}
	}
	return a, nil
}

// keptSewn holds the sewn length of every edge of a piece but those named.
func keptSewn(t failer, before, after *pattern.Pattern, piece string, but ...string) {
	t.Helper()
	for _, e := range before.Piece(piece).Edges {
		if !slices.Contains(but, e.Name) {
			within(t, "sewn "+e.Name, after.Piece(piece).SewnLength(e.Name), before.Piece(piece).SewnLength(e.Name), exact)
		}
	}
}

// anyDart draws one of the dress's darts: piece and dart.
func anyDart(t *rapid.T) (piece, dart string) {
	d := rapid.SampledFrom([][2]string{
		{"bodice-front", "bust-dart"}, {"bodice-front", "waist-dart"}, {"bodice-back", "waist-dart"},
	}).Draw(t, "dart")
	return d[0], d[1]
}

// insideOut reports whether a dart's legs lie the wrong way round, as the stock
// draft has them for a waist that is wider than the body's above it.
func insideOut(p *pattern.Pattern, piece, dart string) bool {
	q := p.Piece(piece)
	d := q.Dart(dart)
	path := q.Edge(d.Edge).Path
	return geom.Turn(path.At(d.From).Sub(d.Point), path.At(d.To).Sub(d.Point)) <= 0
}

// Divided evenly and joined again one after another, a dart is what it was, and
// meanwhile nothing but its mouth has changed: NIMI p. 195's stack of versions,
// told by area and sewn lengths.
func TestSplitDart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		piece, dart := anyDart(t)
		if insideOut(p, piece, dart) {
			return
		}
		o := Splitting{Piece: piece, Dart: dart, Into: rapid.IntRange(2, 3).Draw(t, "into"), Apart: rapid.Float64Range(8, 22).Draw(t, "apart")}
		a, no := lawful(t, p, of(SplitDart, o))
		if no != nil {
			return
		}
		old, now := p.Piece(piece), a.Pattern.Piece(piece)
		was, _, _ := dartAngle(old, dart)
		sum, names := 0.0, []string{}
		for _, d := range now.Darts {
			if d.Name != dart && old.Dart(d.Name) != nil {
				continue
			}
			angle, first, second := dartAngle(now, d.Name)
			within(t, "legs", first, second, legTolerance)
			within(t, "mouth = 2L sin(θ/2)", d.To-d.From, 2*first*math.Sin(angle/2), 0.001)
			within(t, "equal shares", angle, was/float64(o.Into), exact)
			sum += angle
			if d.Name != dart {
				names = append(names, d.Name)
			}
		}
		within(t, "angle together", sum, was, exact)
		within(t, "cloth", cloth(now), cloth(old), clothTolerance)
		keptSewn(t, p, a.Pattern, piece)
		others(t, p, a.Pattern, piece)
		q := a.Pattern
		for _, name := range names {
			q = done(t, q, of(RotateDart, Rotation{Piece: piece, Dart: name, Into: dart, Share: 1})).Pattern
		}
		back := q.Piece(piece)
		within(t, "outline when joined again", apart(old, back), 0, laidOff)
		if got, want := back.Dart(dart), old.Dart(dart); !got.Point.Near(want.Point, exact) || math.Abs(got.From-want.From) > laidOff || math.Abs(got.To-want.To) > laidOff {
			t.Errorf("joined again the dart is %+v, was %+v", got, want)
		}
	})
}

func TestSplitDartOverTwoPlaces(t *testing.T) {
	for _, b := range realBodies(t) {
		p := draftOf(t, b)
		long := length(p, "bodice-front", "shoulder")
		a := done(t, p, of(SplitDart, Splitting{Piece: "bodice-front", Dart: "bust-dart", Places: []Opening{
			{Edge: "shoulder", At: long / 2, Share: 0.4}, {Edge: "neckline", At: 50, Share: 0.6},
		}}))
		now := a.Pattern.Piece("bodice-front")
		if now.Dart("bust-dart") == nil || len(now.Darts) != 3 {
			t.Fatalf("darts: %+v", now.Darts)
		}
		was, _, _ := dartAngle(p.Piece("bodice-front"), "bust-dart")
		for i := range now.Darts {
			switch d := now.Darts[i]; d.Edge {
			case "shoulder":
				within(t, "shoulder's share", legAngle(now, &d), 0.4*was, exact)
			case "neckline":
				within(t, "neckline's share", legAngle(now, &d), 0.6*was, exact)
			}
		}
		keptSewn(t, p, a.Pattern, "bodice-front")
		within(t, "cloth", cloth(now), cloth(p.Piece("bodice-front")), clothTolerance)
	}
}

// A capped dart's edge runs on when it is folded shut, whatever the dart: here
// the point is moved first, so that nothing is true any more.
func TestCapDart(t *testing.T) {
	// Short and wide, the dart reaches beyond the centre when it is folded.
	t.Run("beyond the corner", func(t *testing.T) {
		capped(t, draftOf(t, realBodies(t)[18]), "bodice-front", "waist-dart", 0.7, "")
	})
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		piece, dart := anyDart(t)
		if insideOut(p, piece, dart) {
			return
		}
		shorter := rapid.Float64Range(0, 0.7).Draw(t, "shorter by")
		press := rapid.SampledFrom([]pattern.Pressed{"", pattern.PressedToStart, pattern.PressedToEnd}).Draw(t, "pressed")
		capped(t, p, piece, dart, shorter, press)
	})
}

// capped makes a dart shorter, a share of it, caps it and looks at its mouth.
func capped(t failer, p *pattern.Pattern, piece, dart string, shorter float64, press pattern.Pressed) {
	t.Helper()
	q := p.Piece(piece)
	d := q.Dart(dart)
	path := q.Edge(d.Edge).Path
	axis := d.Point.Sub(path.At(d.From).Lerp(path.At(d.To), 0.5))
	d.Point = d.Point.Sub(axis.Mul(shorter))
	was, leg, _ := dartAngle(q, dart)
	a, no := faultless(t, p, of(CapDart, Capping{Piece: piece, Dart: dart, Press: press}))
	if no != nil {
		if leg > 110 {
			t.Errorf("refused: %v", no)
		}
		return
	}
	now := a.Pattern.Piece(piece)
	c := now.Dart(dart)
	angle, first, second := dartAngle(now, dart)
	within(t, "angle", angle, was, exact)
	within(t, "legs", first, second, legTolerance)
	keptSewn(t, p, a.Pattern, piece)
	if kink, ok := traced("", "", now.Edge(c.Edge).Path).kinkAt(c); !ok || math.Abs(kink) > trueWithin {
		t.Errorf("folded shut, the edge kinks by %v degrees", degrees(kink))
	}
	for _, f := range pairing.Check(a.Pattern) {
		if f.Code == pairing.DartMouth && f.Place.Piece == piece && f.Place.Edge == c.Edge {
			t.Errorf("%s", f.Text)
		}
	}
	// Folded the way it is pressed, the mouth lies on the edge, or where that
	// ends before the fold does, as at a corner near a wide dart, on its straight
	// continuation.
	mouth := now.Edge(c.Edge).Path.Between(c.From, c.To)
	side := now.Edge(c.Edge).Path.Between(0, c.From)
	foot, other := mouth.Start(), mouth.End()
	if c.Pressed == pattern.PressedToEnd {
		side = now.Edge(c.Edge).Path.Between(c.To, now.Edge(c.Edge).Path.Length())
		foot, other = other, foot
	}
	far := mouth.Length()
	on := geom.Path{geom.Line(side.Start().Sub(side.StartDirection().Mul(far)), side.Start())}.Join(side)
	if c.Pressed == pattern.PressedToEnd {
		on = side.Join(geom.Path{geom.Line(side.End(), side.End().Add(side.EndDirection().Mul(far)))})
	}
	over, back := geom.Reflection(c.Point, foot), geom.Rotation(c.Point, geom.Turn(other.Sub(c.Point), foot.Sub(c.Point)))
	half := geom.Turn(foot.Sub(c.Point), other.Sub(c.Point)) / 2
	for k := range 21 {
		m := mouth.At(mouth.Length() * float64(k) / 20)
		turn := geom.Turn(foot.Sub(c.Point), m.Sub(c.Point))
		lies := over.Apply(m)
		if turn/half > 1 {
			lies = back.Apply(m)
		}
		if _, off := on.Nearest(lies); off > 0.001 {
			t.Errorf("folded, the mouth lies %.3f mm off the edge", off)
		}
	}
}

func TestMoveDartPoint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		piece, dart := anyDart(t)
		if insideOut(p, piece, dart) {
			return
		}
		by := rapid.Float64Range(-30, 20).Draw(t, "longer")
		there, no := faultless(t, p, of(MoveDartPoint, PointMove{Piece: piece, Dart: dart, Longer: by}))
		if no != nil {
			t.Fatalf("refused: %v", no)
		}
		keptSewn(t, p, there.Pattern, piece)
		back := done(t, there.Pattern, of(MoveDartPoint, PointMove{Piece: piece, Dart: dart, Longer: -by}))
		if apart(p.Piece(piece), there.Pattern.Piece(piece)) == 0 { // nothing had to be trued
			sameDrawing(t, "longer and shorter again", back.Pattern, p)
		}
		within(t, "point", back.Pattern.Piece(piece).Dart(dart).Point.Dist(p.Piece(piece).Dart(dart).Point), 0, 0.5)
	})
}

func TestMoveDartPointAside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		piece, dart := anyDart(t)
		if insideOut(p, piece, dart) {
			return
		}
		o := PointMove{Piece: piece, Dart: dart, Longer: rapid.Float64Range(-20, 0).Draw(t, "longer"), Aside: rapid.Float64Range(-20, 20).Draw(t, "aside"), Bound: 20}
		a, no := faultless(t, p, of(MoveDartPoint, o))
		if no != nil {
			return
		}
		_, first, second := dartAngle(a.Pattern.Piece(piece), dart)
		within(t, "legs", first, second, legTolerance)
		keptSewn(t, p, a.Pattern, piece)
	})
}

func TestTrueLegs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		piece, dart := anyDart(t)
		if insideOut(p, piece, dart) {
			return
		}
		d := p.Piece(piece).Dart(dart)
		d.Point = d.Point.Add(geom.Pt(rapid.Float64Range(-6, 6).Draw(t, "x"), rapid.Float64Range(-6, 6).Draw(t, "y")))
		for _, way := range []TruingWay{ByPoint, ByMouth} {
			a, no := lawful(t, p, of(TrueLegs, Truing{Piece: piece, Dart: dart, By: way, Bound: 15}))
			if no != nil {
				t.Errorf("by %s: %v", way, no)
				continue
			}
			_, first, second := dartAngle(a.Pattern.Piece(piece), dart)
			within(t, "legs by "+string(way), first, second, laidOff)
			keptSewn(t, p, a.Pattern, piece)
		}
	})
}

func TestFoldDart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		piece, dart := anyDart(t)
		if insideOut(p, piece, dart) {
			return
		}
		kind := rapid.SampledFrom([]pattern.PleatKind{pattern.Knife, pattern.Box, pattern.Inverted, pattern.Tuck}).Draw(t, "kind")
		a, no := faultless(t, p, of(FoldDart, Folding{Piece: piece, Dart: dart, Kind: kind, Level: 30}))
		if no != nil {
			t.Fatalf("refused: %v", no)
		}
		now, d := a.Pattern.Piece(piece), p.Piece(piece).Dart(dart)
		f := now.Pleats[0]
		keptSewn(t, p, a.Pattern, piece)
		within(t, "cut = finished + 2 × depth", length(a.Pattern, piece, d.Edge), now.SewnLength(d.Edge)+2*(f.To-f.From)/2+takenBut(p.Piece(piece), d.Edge, dart), exact)
		if (now.Landmark(f.Name+"-release") != nil) != (kind == pattern.Tuck) {
			t.Errorf("landmarks: %+v", now.Landmarks)
		}
	})
}

// takenBut is what the other darts of an edge take up.
func takenBut(p *pattern.Piece, edge, but string) float64 {
	sum := 0.0
	for _, d := range p.Darts {
		if d.Edge == edge && d.Name != but {
			sum += d.To - d.From
		}
	}
	return sum
}

// KINNE 1908: three half-inch tucks, spaces aside, need 3 in of cloth (W15,
// derived by the published rule that a tuck takes up twice its width). Three
// darts of an inch each let out into tucks say the same.
func TestFoldDartTucks(t *testing.T) {
	const inch = 25.4
	p := halfWaist(16*inch, 0)
	for k := range 3 {
		p = done(t, p, of(AddDart, NewDart{Piece: "half", Edge: "waist", At: float64(3+3*k) * inch, Intake: inch, Depth: 5 * inch, MadeUp: TakenIn, Name: []string{"a", "b", "c"}[k]})).Pattern
	}
	for _, name := range []string{"a", "b", "c"} {
		p = done(t, p, of(FoldDart, Folding{Piece: "half", Dart: name, Kind: pattern.Tuck, Level: 2 * inch})).Pattern
	}
	within(t, "three half-inch tucks take, in", 16-p.Piece("half").SewnLength("waist")/inch, 3, 1e-9)
}

// halfWaist is half a plain bodice of a waist in mm, on the fold at x = 0.
func halfWaist(waist, lower float64) *pattern.Pattern {
	const high = 400
	return &pattern.Pattern{Name: "half", Pieces: []pattern.Piece{{
		Name: "half", Cut: pattern.Cut{Count: 1}, Grain: pattern.Grain{From: geom.Pt(30, 50), To: geom.Pt(30, 300)},
		Edges: []pattern.Edge{
			{Name: "waist", Path: geom.Polyline(geom.Pt(0, lower), geom.Pt(waist, lower)), Finish: pattern.Hemmed},
			{Name: "side", Path: geom.Polyline(geom.Pt(waist, lower), geom.Pt(waist, high)), Finish: pattern.Open},
			{Name: "top", Path: geom.Polyline(geom.Pt(waist, high), geom.Pt(0, high)), Finish: pattern.Hemmed},
			{Name: "centre-front", Path: geom.Polyline(geom.Pt(0, high), geom.Pt(0, lower)), Finish: pattern.Fold},
		},
	}}}
}

// Waist suppression by darts: what the half measures less the half body
// (HECK 1884, figs 3, 5 and 16; in fig. 5 the book prints 2¾ for the 3¾ that it
// takes). Inches; the darts' places are the book's where it gives any.
func TestAddDartSuppression(t *testing.T) {
	const inch, printed = 25.4, 1e-9
	for _, c := range []struct {
		name             string
		half, body       float64
		first, between   float64 // from the centre front to the first dart, and between two
		darts            int
		each, difference float64 // as the book has it, or as it ought to
	}{
		{"W1", 16, 12, 2, 0.75, 2, 2, 4},
		{"W3", 19.5, 15.75, 2.25, 1, 2, 1.875, 3.75},
		{"W4", 15, 12, 2, 0, 1, 3, 3},
		{"W2, by measures", 16, 12, 2, 0.75, 2, 2, 4},
		{"W4, fig. 27", 16, 12, 2, 0.75, 2, 2, 4},
		// J. H. Symonds, A Guide to Dressmaking, Boston 1876: half chest 10, quarter waist 6, in one dart or two.
		{"front of 1876, one dart", 10, 6, 3, 0, 1, 4, 4},
		{"front of 1876, two darts", 10, 6, 2, 0.75, 2, 2, 4},
	} {
		t.Run(c.name, func(t *testing.T) {
			want := stock.Suppression{Half: c.half}.Darts(c.body)
			within(t, "to be taken", want, c.difference, printed)
			p := halfWaist(c.half*inch, 0)
			each := want / float64(c.darts)
			within(t, "each dart", each, c.each, printed)
			for k := range c.darts {
				at := c.first + each/2 + float64(k)*(each+c.between)
				// The edge is a little longer than 16 in on the paper once the first
				// mouth is capped: lay off along it sewn, as a cutter does.
				q := p.Piece("half")
				at = q.FlatPosition("waist", q.SewnPosition("waist", 0)+(at-float64(k)*each)*inch-each/2*inch) + each/2*inch
				p = done(t, p, of(AddDart, NewDart{Piece: "half", Edge: "waist", At: at, Intake: each * inch, Depth: 150, MadeUp: TakenIn})).Pattern
			}
			within(t, "sewn half waist, in", p.Piece("half").SewnLength("waist")/inch, c.body, printed)
			for _, f := range pairing.Check(p) {
				if f.Code == pairing.DartMouth || f.Code == pairing.DartLegs {
					t.Errorf("%s", f.Text)
				}
			}
		})
	}
}

func TestAddDart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		piece := rapid.SampledFrom([]string{"bodice-back", "skirt-back", "skirt-front"}).Draw(t, "piece")
		edge := pattern.Waist
		if piece == "bodice-back" {
			edge = rapid.SampledFrom([]string{"shoulder", "side", "waist"}).Draw(t, "edge")
		}
		o := NewDart{
			Piece: piece, Edge: edge, At: rapid.Float64Range(0.2, 0.8).Draw(t, "at") * length(p, piece, edge),
			Intake: rapid.Float64Range(4, 18).Draw(t, "intake"), Depth: rapid.Float64Range(60, 110).Draw(t, "depth"),
			MadeUp: rapid.SampledFrom([]MadeUp{LetOut, MateEased}).Draw(t, "made up"),
		}
		a, no := faultless(t, p, of(AddDart, o))
		if no != nil {
			return
		}
		now := a.Pattern.Piece(piece)
		d := now.Darts[len(now.Darts)-1]
		_, first, second := dartAngle(now, d.Name)
		within(t, "legs", first, second, legTolerance)
		path := now.Edge(d.Edge).Path
		_ = path
		if o.MadeUp == LetOut {
			keptSewn(t, p, a.Pattern, piece)
			others(t, p, a.Pattern, piece)
		} else {
			keptSewn(t, p, a.Pattern, piece, edge)
			within(t, "sewn", now.SewnLength(edge), p.Piece(piece).SewnLength(edge)-o.Intake, exact)
			for _, s := range a.Pattern.SeamsOf(piece, edge) {
				within(t, "both sides of "+s.Name, a.Pattern.RunLength(s.A)-a.Pattern.RunLength(s.B), p.RunLength(s.A)-p.RunLength(s.B), exact)
			}
		}
	})
}

// Every operation on darts does its work on every body with plain numbers; none
// may be refused.
func TestDartsOnEveryBody(t *testing.T) {
	count, skipped := 0, 0
	for _, b := range realBodies(t) {
		p := draftOf(t, b)
		if insideOut(p, "bodice-back", "waist-dart") {
			skipped++
			continue
		}
		for _, do := range []alteration{
			of(SplitDart, Splitting{Piece: "bodice-front", Dart: "waist-dart", Into: 2, Apart: 12}),
			of(SplitDart, Splitting{Piece: "bodice-back", Dart: "waist-dart", Into: 2, Apart: 12}),
			of(MoveDartPoint, PointMove{Piece: "bodice-front", Dart: "waist-dart", Longer: -20}),
			of(MoveDartPoint, PointMove{Piece: "bodice-back", Dart: "waist-dart", Longer: -20}),
			of(MoveDartPoint, PointMove{Piece: "bodice-back", Dart: "waist-dart", Aside: 8, Bound: 10}),
			of(CapDart, Capping{Piece: "bodice-front", Dart: "waist-dart"}),
			of(CapDart, Capping{Piece: "bodice-front", Dart: "bust-dart"}),
			of(CapDart, Capping{Piece: "bodice-back", Dart: "waist-dart"}),
			of(TrueLegs, Truing{Piece: "bodice-back", Dart: "waist-dart", By: ByMouth, Bound: 5}),
			of(FoldDart, Folding{Piece: "bodice-front", Dart: "waist-dart", Kind: pattern.Tuck, Level: 60}),
			of(FoldDart, Folding{Piece: "bodice-back", Dart: "waist-dart", Kind: pattern.Knife}),
			of(AddDart, NewDart{Piece: "skirt-back", Edge: "waist", At: length(p, "skirt-back", "waist") / 2, Intake: 16, Depth: 100, MadeUp: LetOut}),
			of(AddDart, NewDart{Piece: "bodice-back", Edge: "shoulder", At: length(p, "bodice-back", "shoulder") / 2, Intake: 8, Depth: 70, MadeUp: MateEased}),
		} {
			if a, no := faultless(t, p, do); a == nil {
				t.Errorf("case %d refused: %v", count, no)
			}
			count++
		}
	}
	if skipped > 4 {
		t.Errorf("%d bodies have a dart inside out", skipped)
	}
	t.Logf("%d cases", count)
}
