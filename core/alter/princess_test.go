package alter

import (
	"testing"

	"pgregory.net/rapid"

	"bygone.example/core/pattern"
)

// panelled holds what a division through darts promises: sewn lengths, equal
// sides, and that no dart it took is left.
func panelled(t failer, p, now *pattern.Pattern, seam string, piece, part string) {
	t.Helper()
	for _, e := range p.Piece(piece).Edges {
		sum := 0.0
		for _, q := range []string{piece, part} {
			sum += now.Piece(q).SewnLength(e.Name)
		}
		within(t, "sewn "+e.Name, sum, p.Piece(piece).SewnLength(e.Name), exact)
	}
	within(t, "the two sides", length(now, piece, seam), length(now, part, seam), exact)
	if got := now.Piece(piece).Landmark(pattern.BustPoint); p.Piece(piece).Landmark(pattern.BustPoint) != nil && got == nil && now.Piece(part).Landmark(pattern.BustPoint) == nil {
		t.Errorf("the bust point is lost")
	}
}

func TestPanelLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		if insideOut(p, "bodice-back", "waist-dart") {
			return
		}
		front := Princess{Piece: "bodice-front", Dart: "waist-dart", Other: "bust-dart"}
		front.Edge = rapid.SampledFrom([]string{"", "shoulder", "armscye"}).Draw(t, "by way of")
		if front.Edge != "" {
			front.At = rapid.Float64Range(0.35, 0.65).Draw(t, "at") * length(p, "bodice-front", front.Edge)
		}
		a, no := faultless(t, p, of(PanelLine, front))
		if no != nil && front.Edge == "armscye" {
			return // by a body's curve it may lie along the line
		}
		if no != nil {
			t.Fatalf("refused: %v", no)
		}
		panelled(t, p, a.Pattern, "panel", "bodice-front", "side-front")
		smoothEdge(t, a.Pattern, "bodice-front", "panel")
		smoothEdge(t, a.Pattern, "side-front", "panel")
		if len(a.Pattern.Piece("bodice-front").Darts)+len(a.Pattern.Piece("side-front").Darts) > 0 {
			t.Errorf("a dart is left")
		}
		if a.Pattern.Piece("bodice-front").Edge("centre-front") == nil {
			t.Errorf("the part with the fold does not keep the name")
		}
		back := Princess{Piece: "bodice-back", Dart: "waist-dart", Edge: rapid.SampledFrom([]string{"shoulder", "armscye"}).Draw(t, "to")}
		back.At = 0.5 * length(p, "bodice-back", back.Edge)
		b, no := faultless(t, a.Pattern, of(PanelLine, back))
		if no != nil {
			t.Fatalf("refused: %v", no)
		}
		panelled(t, p, b.Pattern, pattern.SideBack, "bodice-back", "side-back")
	})
}

func TestPanelLineRefuses(t *testing.T) {
	p := dress(t)
	refusals{
		{"no other", p, of(PanelLine, Princess{Piece: "bodice-back", Dart: "waist-dart", Other: "x"}), `piece "bodice-back" has no dart "x"; its darts are waist-dart`},
		{"same edge", p, of(PanelLine, Princess{Piece: "bodice-back", Dart: "waist-dart", Edge: "waist", At: 30}), `a panel line on piece "bodice-back" would begin and end on the same edge "waist"; turn one of the darts to another edge first`},
		{"in a corner", p, of(PanelLine, Princess{Piece: "bodice-back", Dart: "waist-dart", Edge: "shoulder", At: 1}), `a panel line cannot end 1.0 mm along edge "shoulder" of piece "bodice-back"; choose a place between 5 and 116.0 mm`},
		{"a yoke across a dart", p, of(YokeSeam, Yoke{Piece: "bodice-front", From: "side", FromAt: 170, To: "centre-front", ToAt: 250}), `the yoke seam would run across dart "bust-dart" of piece "bodice-front"; take it into the seam, or turn it first`},
		{"a yoke in a corner", p, of(YokeSeam, Yoke{Piece: "bodice-back", From: "armscye", FromAt: 1, To: "centre-back.opening", ToAt: 90}), `a yoke seam cannot end 1.0 mm along edge "armscye" of piece "bodice-back"; choose a place between 5 and 214.9 mm, outside darts and pleats`},
	}.try(t)
}

// A waist dart of the back and a shoulder dart of the front go into a yoke seam.
func TestYokeSeam(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		if insideOut(p, "bodice-back", "waist-dart") {
			return
		}
		// Turned to the shoulder, the back's dart ends well below: its point is
		// brought up to where a yoke lies.
		p = after(t, p,
			of(RotateDart, Rotation{Piece: "bodice-back", Dart: "waist-dart", Edge: "shoulder", At: 0.5 * length(p, "bodice-back", "shoulder"), Share: 0.5}),
			of(MoveDartPoint, PointMove{Piece: "bodice-back", Dart: "waist-dart-2", Longer: -90}))
		o := Yoke{
			Piece: "bodice-back", Darts: []string{"waist-dart-2"}, From: "armscye", FromAt: 0.6 * length(p, "bodice-back", "armscye"),
			To: "centre-back.opening", ToAt: 0.25 * length(p, "bodice-back", "centre-back.opening"),
		}
		for i, e := range p.Piece("bodice-back").Edges { // lying the other way, both are walked the other way
			if e.Name == "armscye" && p.Piece("bodice-back").Edges[(i+1)%6].Name == "side" {
				o.FromAt, o.ToAt = 0.4*length(p, "bodice-back", "armscye"), 0.75*length(p, "bodice-back", "centre-back.opening")
			}
		}
		a, no := faultless(t, p, of(YokeSeam, o))
		if no != nil {
			t.Fatalf("refused: %v", no)
		}
		yoke := a.Pattern.Piece("bodice-back-yoke")
		if yoke == nil || yoke.Edge("shoulder") == nil || len(yoke.Darts) > 0 {
			t.Fatalf("yoke: %+v", yoke)
		}
		panelled(t, p, a.Pattern, yokeEdge, "bodice-back", "bodice-back-yoke")
		smoothEdge(t, a.Pattern, "bodice-back-yoke", yokeEdge)
		smoothEdge(t, a.Pattern, "bodice-back", yokeEdge)
	})
}
