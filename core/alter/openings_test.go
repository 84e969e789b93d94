package alter

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
	"bygone.example/internal/stock"
)

func curveEdge(o Curving) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return CurveEdge(p, o) }
}

func lowerArmscye(o ScyeDepth) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return LowerArmscye(p, o) }
}

func narrowCrossBack(o CrossBack) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return NarrowCrossBack(p, o) }
}

func lowerNeckline(o NeckOpening) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return LowerNeckline(p, o) }
}

func TestCurveEdge(t *testing.T) {
	p := dress(t)
	for _, c := range []struct {
		o     Curving
		mate  string // piece and edge
		along float64
		trued bool // the edge came out short, and goes down further at the hem
	}{
		{Curving{Piece: "skirt-front", Edge: "side", Out: 8}, "skirt-back/side", 0.5, false},
		{Curving{Piece: "skirt-back", Edge: "side", Out: -8, At: 0.3}, "skirt-front/side", 0.3, true},
		{Curving{Piece: "bodice-front", Edge: "neckline", Out: -12}, "facing-front/neckline", 0.5, false},
		{Curving{Piece: "bodice-front", Edge: "shoulder", Out: 3}, "bodice-back/shoulder", 0.5, false},
		{Curving{Piece: "skirt-front", Edge: "hem", Out: 5}, "", 0.5, false},
	} {
		t.Run(c.o.Piece+" "+c.o.Edge, func(t *testing.T) {
			a := quietly(t, p, curveEdge(c.o))
			was, is := p.Piece(c.o.Piece).Edge(c.o.Edge).Path, a.Pattern.Piece(c.o.Piece).Edge(c.o.Edge).Path
			moved, turned := 0.0, 1e-9
			if c.trued {
				moved, turned = 1, 1e-3
			}
			within(t, "an end has moved", was.Start().Dist(is.Start())+was.End().Dist(is.End()), 0, moved)
			for _, d := range [][2]geom.Point{{was.StartDirection(), is.StartDirection()}, {was.EndDirection(), is.EndDirection()}} {
				within(t, "turn at an end", geom.Turn(d[0], d[1]), 0, turned)
			}
			at := c.along * was.Length()
			spot := was.At(at).Add(was.Direction(at).Right().Mul(c.o.Out))
			_, off := is.Nearest(spot)
			within(t, "furthest out", off, 0, 0.5)
			if c.mate != "" {
				piece, edge, _ := strings.Cut(c.mate, "/")
				within(t, "the mate", length(a.Pattern, piece, edge)-is.Length(), length(p, piece, edge)-was.Length(), exact)
			}
		})
	}
	a := done(t, p, curveEdge(Curving{Piece: "skirt-front", Edge: "side", Straight: true}))
	if !a.Pattern.Piece("skirt-front").Edge("side").Path.Straight(12) || len(a.Cautions) != 1 {
		t.Error("the side is not straight, or nothing was said of its corners")
	}
	within(t, "both sides, straight", length(a.Pattern, "skirt-front", "side"), length(a.Pattern, "skirt-back", "side"), exact)
	refusals{
		{"no piece", p, curveEdge(Curving{Piece: "cape"}), `the pattern has no piece "cape"; its pieces are bodice-front, bodice-back, sleeve, skirt-front, skirt-back, facing-front, facing-back`},
		{"fold", p, curveEdge(Curving{Piece: "bodice-front", Edge: "centre-front", Out: 5}), `edge "centre-front" of piece "bodice-front" is a fold; cloth folds along a straight line only: cut it as a seam first`},
		{"at the end", p, curveEdge(Curving{Piece: "skirt-front", Edge: "side", Out: 5, At: 1}), `an edge cannot be bent most at 1 of its length; choose a share from 0.1 to 0.9`},
		{"dart", p, curveEdge(Curving{Piece: "bodice-back", Edge: "waist", Out: 5}), `the waist edge of piece "bodice-back" has a dart or fullness in it; turn the dart elsewhere or let the fullness out first`},
		{"no single mate", p, curveEdge(Curving{Piece: "sleeve", Edge: "cap", Out: 5}), `edge "cap" of piece "sleeve" does not meet a single edge across seam "armscye"; alter the edges that it meets first, so that they begin and end where it does`},
		{"no number", p, curveEdge(Curving{Piece: "sleeve", Edge: "hem", Out: math.NaN()}), `an edge cannot be bent by a distance that is no number; give it in mm`},
	}.try(t)
}

func TestLowerArmscye(t *testing.T) {
	for _, p := range []*pattern.Pattern{dress(t), withSideBack(t)} {
		for _, o := range []ScyeDepth{{Down: 20}, {Down: -12}, {Down: 15, ScoopFront: 6, ScoopBack: 3}, {ScoopFront: 8}} {
			a := quietly(t, p, lowerArmscye(o))
			back := "bodice-back"
			if p.Piece("side-back") != nil {
				back = "side-back"
			}
			for _, name := range []string{"bodice-front", back} {
				within(t, name+": side", length(a.Pattern, name, "side"), length(p, name, "side")-o.Down, laidOff)
				within(t, name+": shoulder", length(a.Pattern, name, "waist"), length(p, name, "waist"), exact)
			}
			ease := func(q *pattern.Pattern) float64 {
				s := q.Seam("armscye")
				return q.RunLength(s.B) - q.RunLength(s.A)
			}
			within(t, "ease of the head", ease(a.Pattern), ease(p), exact)
			if (o.Down > 0) != (sum(a.Pattern, "armscye", "bodice-front") > sum(p, "armscye", "bodice-front")) && o.ScoopFront == 0 {
				t.Errorf("%+v: the front armscye went from %g to %g", o, sum(p, "armscye", "bodice-front"), sum(a.Pattern, "armscye", "bodice-front"))
			}
			if m := a.Pattern.Piece("bodice-front").Landmark("underarm"); m.At != a.Pattern.Piece("bodice-front").Edge("side").Path.Start() {
				t.Error("the landmark under the arm stayed behind")
			}
		}
	}
	p := dress(t)
	refusals{
		{"too deep", p, lowerArmscye(ScyeDepth{Down: 250}), `the side seam of piece "bodice-front" measures 237.3 mm and cannot be lowered by 250.0 mm; lower the armscye by less`},
		{"dart in the way", p, lowerArmscye(ScyeDepth{Down: 70}), `this would cut through the mouth of dart "bust-dart" on piece "bodice-front"; close, move or let out the dart first`},
		{"no number", p, lowerArmscye(ScyeDepth{Down: math.Inf(1)}), `an armscye cannot be deepened by a distance that is no number; give it in mm`},
	}.try(t)
}

func TestNarrowCrossBack(t *testing.T) {
	p := dress(t)
	a := quietly(t, p, narrowCrossBack(CrossBack{By: 15}))
	others(t, p, a.Pattern, "bodice-back", "sleeve")
	was, is := p.Piece("bodice-back").Edge("armscye").Path, a.Pattern.Piece("bodice-back").Edge("armscye").Path
	at := was.Length() * (1 - crossBackAt)
	_, off := is.Nearest(was.At(at))
	within(t, "narrower at the cross-back", off, 15, 0.5)
	for _, other := range []string{"shoulder", "side", "waist"} {
		within(t, other, length(a.Pattern, "bodice-back", other), length(p, "bodice-back", other), 0)
	}
	s := p.Seam("armscye")
	within(t, "ease of the head", a.Pattern.RunLength(s.B)-a.Pattern.RunLength(s.A), p.RunLength(s.B)-p.RunLength(s.A), exact)
	refusals{
		{"off the armscye", p, narrowCrossBack(CrossBack{By: 15, At: 1.5}), `the cross-back cannot lie at 1.5 of the armscye; choose a share from 0.1 to 0.9`},
	}.try(t)
}

// W7: C. Hecklinger, Handbook on Dress and Cloak Cutting, New York 1884, fig. 6:
// for a low neck the back shoulder is cut away by 1 to 1½ in at the neck and the
// front shoulder by the same.
func TestLowNeckAsHecklinger(t *testing.T) {
	p := dress(t)
	for _, inches := range []float64{1, 1.25, 1.5} {
		wide := inches * 25.4
		a := quietly(t, p, lowerNeckline(NeckOpening{AtShoulder: wide}))
		for _, side := range []string{"front", "back"} {
			within(t, side+" shoulder", length(a.Pattern, "bodice-"+side, "shoulder"), length(p, "bodice-"+side, "shoulder")-wide, laidOff)
			within(t, side+" facing's shoulder", length(a.Pattern, "facing-"+side, "shoulder"), length(p, "facing-"+side, "shoulder"), laidOff)
		}
		within(t, "shoulders", length(a.Pattern, "bodice-front", "shoulder"), length(a.Pattern, "bodice-back", "shoulder"), exact)
		within(t, "centre front", length(a.Pattern, "bodice-front", "centre-front"), length(p, "bodice-front", "centre-front"), 0)
	}
}

func TestLowerNeckline(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		o := NeckOpening{
			AtFront: rapid.Float64Range(-10, 100).Draw(t, "front"), AtBack: rapid.Float64Range(-5, 80).Draw(t, "back"),
			AtShoulder: rapid.Float64Range(-5, 45).Draw(t, "shoulder"),
		}
		a := done(t, p, lowerNeckline(o))
		for _, s := range []struct {
			piece, centre string
			down          float64
		}{{"bodice-front", "centre-front", o.AtFront}, {"bodice-back", "centre-back.opening", o.AtBack}} {
			within(t, s.centre, length(a.Pattern, s.piece, s.centre), length(p, s.piece, s.centre)-s.down, laidOff)
			within(t, s.piece+" shoulder", length(a.Pattern, s.piece, "shoulder"), length(p, s.piece, "shoulder")-o.AtShoulder, laidOff)
			facing := strings.Replace(s.piece, "bodice", "facing", 1)
			within(t, facing, length(a.Pattern, facing, "neckline"), length(a.Pattern, s.piece, "neckline"), exact)
			within(t, facing+" shoulder", length(a.Pattern, facing, "shoulder"), length(p, facing, "shoulder"), laidOff)
			within(t, facing+" centre", length(a.Pattern, facing, s.centre), length(p, facing, s.centre), laidOff)
			if _, off := sameLine(a.Pattern.Piece(s.piece).Edge("neckline").Path, a.Pattern.Piece(facing).Edge("neckline").Path); off > 1e-6 {
				t.Errorf("%s is %g mm off the neckline", facing, off)
			}
		}
	})
}

func TestLowerNecklineRefusals(t *testing.T) {
	p := dress(t)
	collar := dress(t)
	collar.Piece("facing-front").Role, collar.Piece("facing-back").Role = "", ""
	blouse, err := stock.Blouse()
	if err != nil {
		t.Fatal(err)
	}
	done(t, blouse, lowerNeckline(NeckOpening{AtFront: 20, AtShoulder: 10})) // bound: nothing to follow
	refusals{
		{"too wide", p, lowerNeckline(NeckOpening{AtShoulder: 118}), `the shoulder of piece "bodice-front" measures 121.0 mm and cannot lose 118.0 mm; open the neckline by less`},
		{"facing too wide", p, lowerNeckline(NeckOpening{AtShoulder: 80}), `facing "facing-front" is 60.0 mm wide at the shoulder, and only 41.0 mm of shoulder would be left; widen the neckline by less, or make the facing narrower first`},
		{"too low", p, lowerNeckline(NeckOpening{AtFront: 400}), `the centre-front of piece "bodice-front" measures 362.0 mm and cannot lose 400.0 mm; open the neckline by less`},
		{"a collar", collar, lowerNeckline(NeckOpening{AtFront: 40}), `the neckline of piece "bodice-front" is sewn to piece "facing-front", which is no facing; take that piece off first, and draw it again for the new neckline`},
		{"no number", p, lowerNeckline(NeckOpening{AtFront: math.NaN()}), `a neckline cannot be lowered by a distance that is no number; give it in mm`},
	}.try(t)
}
