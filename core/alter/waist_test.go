package alter

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
	"bygone.example/internal/stock"
)

func raise(o WaistRaise) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return RaiseWaist(p, o) }
}

// shaped is a dress whose bust dart is out of the way of a raised waist, and
// with half of them whose back is divided.
func shaped(t *rapid.T) *pattern.Pattern {
	p := anyDress(t)
	p = after(t, p, rotate(Rotation{Piece: "bodice-front", Dart: "bust-dart", Into: "waist-dart", Share: 1}))
	if rapid.Bool().Draw(t, "divided") {
		p = after(t, p, divide(Panel{AtArmscye: 110}))
	}
	return p
}

func TestRaiseWaistKeeps(t *testing.T) {
	doneAtAll := 0
	rapid.Check(t, func(t *rapid.T) {
		p := shaped(t)
		side := p.Piece("bodice-front").SewnLength("side")
		o := WaistRaise{
			BelowArmscye:  rapid.Float64Range(20, side-20).Draw(t, "below"),
			AtCentreFront: rapid.Float64Range(-15, 30).Draw(t, "centre front"), AtCentreBack: rapid.Float64Range(-15, 30).Draw(t, "centre back"),
			KeepLength: true,
		}
		a, no := lawful(t, p, raise(o))
		if no != nil {
			return
		}
		doneAtAll++
		q := a.Pattern
		rise := side - o.BelowArmscye
		for _, piece := range q.Pieces {
			for _, e := range piece.EdgesByRole(pattern.Side) {
				switch piece.Role {
				case pattern.BodiceFront, pattern.BodiceBack, pattern.BodiceSideBack:
					within(t, piece.Name+" side", piece.SewnLength(e.Name), o.BelowArmscye, laidOff)
				case pattern.SkirtFront, pattern.SkirtBack:
					within(t, piece.Name+" side", e.Path.Length(), length(p, piece.Name, e.Name)+rise, laidOff)
				}
			}
		}
		within(t, "centre front", length(q, "bodice-front", "centre-front"), length(p, "bodice-front", "centre-front")-rise-o.AtCentreFront, laidOff)
		within(t, "skirt's centre front", length(q, "skirt-front", "centre-front"), length(p, "skirt-front", "centre-front")+rise+o.AtCentreFront, laidOff)
		within(t, "hem", hemOf(q), hemOf(p), exact)
		bodyWaist, skirtWaist := 0.0, 0.0
		for _, s := range q.Seams {
			if len(s.B) == 0 {
				continue
			}
			if s.Meeting.Kind == pattern.Plain {
				within(t, "sides of seam "+s.Name, q.RunLength(s.A), q.RunLength(s.B), laidOff)
			}
			if s.Name == "waist" {
				bodyWaist, skirtWaist = q.RunLength(s.A), q.RunLength(s.B)
			}
		}
		within(t, "waist", skirtWaist, bodyWaist, laidOff)
		others(t, p, q, "bodice-front", "bodice-back", "side-back", "skirt-front", "skirt-back")
	})
	if doneAtAll == 0 {
		t.Error("no waist was raised")
	}
}

// The new waist meets the edges beside it square when darts are closed, so that
// it runs on across the seams.
func TestRaiseWaistIsSquare(t *testing.T) {
	p := after(t, dress(t), rotate(Rotation{Piece: "bodice-front", Dart: "bust-dart", Into: "waist-dart", Share: 1}))
	q := done(t, p, raise(WaistRaise{BelowArmscye: 64, AtCentreBack: 15, KeepLength: true})).Pattern
	for _, name := range []string{"bodice-front", "bodice-back", "skirt-front", "skirt-back"} {
		piece := q.Piece(name)
		i := piece.EdgeIndex("waist")
		n := len(piece.Edges)
		before, waist, next := piece.Edges[(i+n-1)%n].Path, piece.Edges[i].Path, piece.Edges[(i+1)%n].Path
		within(t, name+", at the start", before.EndDirection().Dot(waist.StartDirection()), 0, square)
		within(t, name+", at the end", waist.EndDirection().Dot(next.StartDirection()), 0, square)
	}
	for _, f := range pairing.Check(q) {
		if f.Code == pairing.CornerKink {
			t.Errorf("%+v: %s", f.Place, f.Text)
		}
	}
}

// square is the cosine of a right angle that was drawn.
const square = 1e-9

func TestRaiseWaistWithoutASkirt(t *testing.T) {
	p := after(t, dress(t), rotate(Rotation{Piece: "bodice-front", Dart: "bust-dart", Into: "waist-dart", Share: 1}))
	p.Pieces = slices.DeleteFunc(p.Pieces, func(q pattern.Piece) bool { return strings.HasPrefix(q.Name, "skirt") })
	p.Seams = slices.DeleteFunc(p.Seams, func(s pattern.Seam) bool { return strings.HasPrefix(s.Name, "skirt") || s.Name == "waist" })
	a := done(t, p, raise(WaistRaise{BelowArmscye: 64}))
	others(t, p, a.Pattern, "bodice-front", "bodice-back")
	front := a.Pattern.Piece("bodice-front")
	if geom.Contains(front.Boundary().Flatten(0.1), front.Grain.From) == false {
		t.Error("the grainline leaves the front")
	}
}

// Where the dress may become shorter, the skirt keeps its length and is fitted.
func TestRaiseWaistShortensTheDress(t *testing.T) {
	p := after(t, dress(t), rotate(Rotation{Piece: "bodice-front", Dart: "bust-dart", Into: "waist-dart", Share: 1}))
	q := done(t, p, raise(WaistRaise{BelowArmscye: 90})).Pattern
	for _, edge := range []string{"side", "centre-front", "hem"} {
		within(t, "skirt-front "+edge, length(q, "skirt-front", edge), length(p, "skirt-front", edge), laidOff)
	}
	s := q.Seam("waist")
	within(t, "waist", q.RunLength(s.A), q.RunLength(s.B), laidOff)
}

func TestRaiseWaistRefuses(t *testing.T) {
	p := dress(t)
	shapedDress := after(t, p, rotate(Rotation{Piece: "bodice-front", Dart: "bust-dart", Into: "waist-dart", Share: 1}))
	blouse, err := stock.Blouse()
	if err != nil {
		t.Fatal(err)
	}
	none := p.Clone()
	none.Piece("bodice-front").Role, none.Piece("bodice-back").Role = "", ""
	skirt := shapedDress.Clone()
	skirt.Piece("skirt-back").Edge("centre-back.opening").Role = "placket"
	refusals{
		{"no bodice", none, raise(WaistRaise{BelowArmscye: 64}), `the pattern has no bodice; give its pieces the roles bodice-front and bodice-back`},
		{"the bust dart is in the way", p, raise(WaistRaise{BelowArmscye: 40}), `dart "bust-dart" of piece "bodice-front" lies below the new waist; turn it elsewhere first`},
		{"not up", shapedDress, raise(WaistRaise{BelowArmscye: 250}), `the side seam measures 201.0 mm under the armscye: the waist would not go up; ask for less than 196 mm below the armscye`},
		{"gathered", letOut(t, p), raise(WaistRaise{BelowArmscye: 64}), `the waist of piece "bodice-front" is gathered or pleated; raise the waist before gathering it`},
		{"sides differ", blouse, raise(WaistRaise{BelowArmscye: 64}), `the side seams measure 390.1 and 399.1 mm; true the side seam first`},
		{"above everything", shapedDress, raise(WaistRaise{BelowArmscye: -10}), `piece "bodice-front" ends below the new waist; raise the waist by less`},
		{"a placket", skirt, raise(WaistRaise{BelowArmscye: 64, KeepLength: true}), `the waist of piece "skirt-back" lies between "side" and "centre-back.opening"; sew the pieces to each other from centre front to centre back, or give these edges the roles side, side-back, centre-front or centre-back`},
		{"out of reach", shapedDress, raise(WaistRaise{BelowArmscye: 64, AtCentreFront: -136}), `the side seam measures 201.0 mm under the armscye: the waist would not go up; ask for less than 196 mm below the armscye`},
	}.try(t)
}
