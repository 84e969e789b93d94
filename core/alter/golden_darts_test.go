package alter_test

import (
	"bytes"
	"testing"

	"bygone.example/core/alter"
	"bygone.example/core/draw"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
	"bygone.example/internal/stock"
)

// Pictures of slash and spread and of what is done to darts, before and after.
func TestGoldenSlashAndDarts(t *testing.T) {
	long := func(p *pattern.Pattern, piece, edge string) float64 { return p.Piece(piece).Edge(edge).Path.Length() }
	yokeDart := []alteration{
		func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.RotateDart(p, alter.Rotation{Piece: "bodice-back", Dart: "waist-dart", Edge: "shoulder", At: 60, Share: 0.5})
		},
		func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.MoveDartPoint(p, alter.PointMove{Piece: "bodice-back", Dart: "waist-dart-2", Longer: -90})
		},
	}
	spread := func(o alter.Spreading) alteration {
		return func(p *pattern.Pattern) (*operation.Answer, error) { return alter.SlashAndSpread(p, o) }
	}
	for _, c := range []struct {
		name  string
		first []alteration
		do    alteration
	}{
		{"spread-hinged", nil, spread(alter.Spreading{Piece: "skirt-front", Edge: "hem", Slashes: 4, Open: 240, Way: alter.AlongGrain, Take: alter.AsFlare})},
		{"spread-parallel-gathers", nil, spread(alter.Spreading{Piece: "skirt-back", Edge: "hem", Slashes: 4, Open: 120, Far: 120, Way: alter.ToShare, ToEdge: "waist", Take: alter.AsFlare, TakeFar: alter.AsGathers})},
		{"spread-tapered-pleats", nil, spread(alter.Spreading{Piece: "skirt-front", Edge: "waist", Slashes: 3, Open: 90, Far: 45, Way: alter.ToShare, ToEdge: "hem", Take: alter.AsKnife, TakeFar: alter.AsFlare})},
		{"spread-uneven", nil, spread(alter.Spreading{Piece: "sleeve", Edge: "hem", Slashes: 5, Open: 150, Lean: 0.9, Way: alter.AlongGrain, Take: alter.AsFlare})},
		{"spread-along-a-line", nil, spread(alter.Spreading{Piece: "sleeve", Edge: "hem", From: 150, ToEdge: "cap", ToAt: 150, Bow: 40, Open: 60, Far: 30, Way: alter.AlongLine, Take: alter.AsFlare, TakeFar: alter.AsGathers})},
		{"spread-with-mate", nil, spread(alter.Spreading{Piece: "facing-back", Edge: "neckline", Slashes: 2, Open: 16, Way: alter.ToShare, Take: alter.MateToo})},
		{"split-dart", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.SplitDart(p, alter.Splitting{Piece: "bodice-front", Dart: "waist-dart", Into: 2, Apart: 19})
		}},
		{"split-dart-two-places", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.SplitDart(p, alter.Splitting{Piece: "bodice-front", Dart: "bust-dart", Places: []alter.Opening{{Edge: "shoulder", At: 50, Share: 0.5}, {Edge: "neckline", At: 60, Share: 0.5}}})
		}},
		{"move-dart-point", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.MoveDartPoint(p, alter.PointMove{Piece: "bodice-front", Dart: "waist-dart", Longer: -40, Aside: 12, Bound: 15})
		}},
		{"cap-dart-start", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.CapDart(p, alter.Capping{Piece: "bodice-front", Dart: "waist-dart", Press: pattern.PressedToStart})
		}},
		{"cap-dart-end", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.CapDart(p, alter.Capping{Piece: "bodice-front", Dart: "bust-dart", Press: pattern.PressedToEnd})
		}},
		{"fold-dart-tuck", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.FoldDart(p, alter.Folding{Piece: "bodice-front", Dart: "waist-dart", Kind: pattern.Tuck, Level: 60})
		}},
		{"add-dart-let-out", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.AddDart(p, alter.NewDart{Piece: "skirt-back", Edge: "waist", At: long(p, "skirt-back", "waist") / 2, Intake: 25, Depth: 110, MadeUp: alter.LetOut})
		}},
		{"add-dart-mate-eased", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.AddDart(p, alter.NewDart{Piece: "bodice-back", Edge: "shoulder", At: 60, Intake: 8, Depth: 70, MadeUp: alter.MateEased})
		}},
		{"panel-line", nil, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.PanelLine(p, alter.Princess{Piece: "bodice-front", Dart: "waist-dart", Other: "bust-dart", Edge: "shoulder", At: long(p, "bodice-front", "shoulder") / 2})
		}},
		{"yoke-seam", yokeDart, func(p *pattern.Pattern) (*operation.Answer, error) {
			return alter.YokeSeam(p, alter.Yoke{Piece: "bodice-back", Darts: []string{"waist-dart-2"}, From: "armscye", FromAt: 120, To: "centre-back.opening", ToAt: 125})
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, err := stock.Dress()
			if err != nil {
				t.Fatal(err)
			}
			for _, do := range c.first {
				a, err := do(p)
				if err != nil {
					t.Fatal(err)
				}
				p = a.Pattern
			}
			a, err := c.do(p)
			if err != nil {
				t.Fatal(err)
			}
			var got bytes.Buffer
			if err := draw.Step(p, a.Pattern).SVG(&got, c.name); err != nil {
				t.Fatal(err)
			}
			compare(t, c.name+".svg", got.Bytes())
		})
	}
}
