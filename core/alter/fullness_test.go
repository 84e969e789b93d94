package alter

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

func fullness(o Fullness) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return AddFullness(p, o) }
}

// letOut is the dress with all the front's suppression in gathers at the waist.
func letOut(t failer, p *pattern.Pattern) *pattern.Pattern {
	t.Helper()
	return after(t, p,
		rotate(Rotation{Piece: "bodice-front", Dart: "bust-dart", Into: "waist-dart", Share: 1}),
		release(Release{Piece: "bodice-front", Dart: "waist-dart", Kind: pattern.Gathers, Spread: 40}))
}

// fairedOff is the share of what slashes add that fairing may take off again:
// the smooth line cuts the corners at both sides of every gap.
const fairedOff = 0.05

func TestAddFullnessKeeps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		o := Fullness{Add: rapid.Float64Range(1, 120).Draw(t, "add"), Slashes: rapid.IntRange(1, 8).Draw(t, "slashes")}
		o.Piece = rapid.SampledFrom([]string{"bodice-front", "skirt-front", "skirt-back"}).Draw(t, "piece")
		o.Edge = pattern.Waist
		if o.Piece == "bodice-front" {
			p = letOut(t, p)
		}
		a, no := lawful(t, p, fullness(o))
		if no != nil {
			return
		}
		old, now := p.Piece(o.Piece), a.Pattern.Piece(o.Piece)
		for _, e := range old.Edges {
			within(t, "sewn "+e.Name, now.SewnLength(e.Name), old.SewnLength(e.Name), exact)
			if e.Name != o.Edge {
				within(t, "cut "+e.Name, now.Edge(e.Name).Path.Length(), e.Path.Length(), exact)
				if e.Path.Straight(laidOff) { // hinged, it bends in one smooth line
					smoothEdge(t, a.Pattern, o.Piece, e.Name)
				}
			}
		}
		grown := now.Edge(o.Edge).Path.Length() - old.Edge(o.Edge).Path.Length()
		within(t, "cut "+o.Edge, grown, o.Add, laidOff)
		for _, s := range a.Pattern.SeamsOf(o.Piece, o.Edge) {
			if s.Meeting.Kind != pattern.Gathered {
				t.Errorf("seam %s meets %s", s.Name, s.Meeting.Kind)
			}
		}
		others(t, p, a.Pattern, o.Piece)
	})
}

// Slashed towards an edge that curves away, every slash is hinged where the
// grain through it meets that edge, and the edge keeps its length.
func TestAddFullnessTowardsACurve(t *testing.T) {
	p := dress(t)
	a := done(t, p, fullness(Fullness{Piece: "sleeve", Edge: pattern.Hem, Add: 60, Slashes: 4}))
	within(t, "the sleeve's head", length(a.Pattern, "sleeve", "cap"), length(p, "sleeve", "cap"), exact)
	within(t, "the sleeve's hem, cut", length(a.Pattern, "sleeve", "hem"), length(p, "sleeve", "hem")+60, laidOff)
	smoothEdge(t, a.Pattern, "sleeve", "cap")
	within(t, "the sleeve's hem, sewn", a.Pattern.Piece("sleeve").SewnLength("hem"), length(p, "sleeve", "hem"), exact)
}

func TestAddFullnessRefuses(t *testing.T) {
	p := dress(t)
	refusals{
		{"no such piece", p, fullness(Fullness{Piece: "yoke", Edge: "hem", Add: 40, Slashes: 3}), `the pattern has no piece "yoke"; its pieces are bodice-front, bodice-back, sleeve, skirt-front, skirt-back, facing-front, facing-back`},
		{"no such edge", p, fullness(Fullness{Piece: "sleeve", Edge: "waist", Add: 40, Slashes: 3}), `piece "sleeve" has no edge "waist"; its edges are hem, underarm.front, cap, underarm.back`},
		{"nothing", p, fullness(Fullness{Piece: "sleeve", Edge: "hem", Slashes: 3}), `fullness needs an amount and at least one slash; give both`},
		{"no slash", p, fullness(Fullness{Piece: "sleeve", Edge: "hem", Add: 40}), `fullness needs an amount and at least one slash; give both`},
		{"beside a dart", p, fullness(Fullness{Piece: "bodice-back", Edge: "waist", Add: 40, Slashes: 2}), `a slash would run into a dart on edge "waist" of piece "bodice-back"; let the dart out into gathers first`},
		{"far too much", p, fullness(Fullness{Piece: "facing-front", Edge: "neckline", Add: 400, Slashes: 1}), `spreading a slash of 80 mm on piece "facing-front" by 400 mm turns the paper too far; use more slashes, or ask for less`},
	}.try(t)
}

func flare(amount float64, slashes int) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) {
		return MoveFlareBack(p, MoveFlare{Amount: amount, Slashes: slashes})
	}
}

func TestMoveFlareBackKeeps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		amount := rapid.Float64Range(-300, 300).Draw(t, "amount")
		a, no := lawful(t, p, flare(amount, rapid.IntRange(1, 8).Draw(t, "slashes")))
		if no != nil {
			return
		}
		q := a.Pattern
		within(t, "hem circumference", hemOf(q), hemOf(p), 4*sweepTolerance) // four gores
		within(t, "hem in front", 2*length(q, "skirt-front", "hem"), 2*length(p, "skirt-front", "hem")-amount, 2*sweepTolerance)
		for _, piece := range []string{"skirt-front", "skirt-back"} {
			for _, e := range p.Piece(piece).Edges {
				if e.Name != pattern.Hem && math.Abs(e.Path.Length()-length(q, piece, e.Name)) > exact {
					t.Errorf("%s/%s: %v, was %v", piece, e.Name, length(q, piece, e.Name), e.Path.Length())
				}
			}
		}
		others(t, p, q, "skirt-front", "skirt-back")
	})
}

func TestMoveFlareBackThereAndBack(t *testing.T) {
	p := dress(t)
	sameDrawing(t, "moved by nothing", done(t, p, flare(0, 3)).Pattern, p)
	q := done(t, done(t, p, flare(80, 4)).Pattern, flare(-80, 4)).Pattern
	for _, piece := range []string{"skirt-front", "skirt-back"} {
		off := apart(p.Piece(piece), q.Piece(piece))
		t.Logf("%s: %.3f mm", piece, off)
		within(t, piece, off, 0, flaredBack)
	}
}

// flaredBack in mm is how near a gore comes to what it was: the hem is faired
// twice, and what laps takes from the edge is not what spreading gives it.
const flaredBack = 0.05

func TestMoveFlareBackRefuses(t *testing.T) {
	p := dress(t)
	noFront := p.Clone()
	noFront.Piece("skirt-front").Role = "apron"
	none := noFront.Clone()
	none.Piece("skirt-back").Role = "train"
	refusals{
		{"no skirt", none, flare(50, 3), `the pattern has no skirt; give its pieces the roles skirt-front and skirt-back`},
		{"no front", noFront, flare(50, 3), `the pattern has no piece with the role skirt-front and a hem; give the pieces their roles`},
		{"more than there is", p, flare(700, 3), `the hem of skirt-front measures 730 mm: moving 700 of it leaves too little; move less`},
	}.try(t)
}

// straightSkirt is a quarter of a skirt with a waist dart, front and back, as
// plain as a modern one can be.
func straightSkirt() *pattern.Pattern {
	gore := func(name string, role pattern.Role, centre string) pattern.Piece {
		a, b, point := geom.Pt(110, 600), geom.Pt(135, 600), geom.Pt(122.5, 480)
		// Square to the legs, so that the waist is smooth when the dart is closed.
		right := geom.Smooth([]geom.Point{geom.Pt(225, 610), b}, geom.Point{}, b.Sub(point).Left())
		left := geom.Smooth([]geom.Point{a, geom.Pt(0, 602)}, a.Sub(point).Left(), geom.Pt(-1, 0))
		return pattern.Piece{
			Name: name, Role: role, Cut: pattern.Cut{Count: 1},
			Edges: []pattern.Edge{
				{Name: pattern.Hem, Path: geom.Polyline(geom.Pt(0, 0), geom.Pt(250, 0)), Finish: pattern.Hemmed},
				{Name: pattern.Side, Path: geom.Polyline(geom.Pt(250, 0), geom.Pt(250, 400)).Join(
					geom.Smooth([]geom.Point{geom.Pt(250, 400), geom.Pt(225, 610)}, geom.Pt(0, 1), geom.Point{}))},
				{Name: pattern.Waist, Path: right.Join(geom.Polyline(b, a)).Join(left), Finish: pattern.Faced},
				{Name: centre, Path: geom.Polyline(geom.Pt(0, 602), geom.Pt(0, 0)), Finish: pattern.Fold},
			},
			Darts: []pattern.Dart{{
				Name: "dart", Edge: pattern.Waist, From: right.Length(), To: right.Length() + 25, Point: point,
			}},
			Grain: pattern.Grain{From: geom.Pt(60, 100), To: geom.Pt(60, 400)},
		}
	}
	return &pattern.Pattern{
		Name:   "straight-skirt",
		Pieces: []pattern.Piece{gore("front", pattern.SkirtFront, pattern.CentreFront), gore("back", pattern.SkirtBack, pattern.CentreBack)},
		Seams: []pattern.Seam{{
			Name: "side", Meeting: pattern.Meeting{Kind: pattern.Plain},
			A: pattern.Run{{Piece: "front", Edge: pattern.Side}}, B: pattern.Run{{Piece: "back", Edge: pattern.Side}},
		}},
	}
}
