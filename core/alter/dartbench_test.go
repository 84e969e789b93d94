package alter

import (
	"testing"

	"bygone.example/core/pattern"
)

// BenchmarkSlashAndDarts runs the operations on the stock dress.
func BenchmarkSlashAndDarts(b *testing.B) {
	p := dress(b)
	for _, c := range []struct {
		name string
		do   alteration
	}{
		{"spread", of(SlashAndSpread, Spreading{Piece: "skirt-front", Edge: "hem", Slashes: 4, Open: 240, Way: AlongGrain, Take: AsFlare})},
		{"split", of(SplitDart, Splitting{Piece: "bodice-front", Dart: "waist-dart", Into: 3, Apart: 12})},
		{"point", of(MoveDartPoint, PointMove{Piece: "bodice-back", Dart: "waist-dart", Longer: -20, Aside: 8, Bound: 10})},
		{"cap", of(CapDart, Capping{Piece: "bodice-front", Dart: "waist-dart"})},
		{"fold", of(FoldDart, Folding{Piece: "bodice-front", Dart: "waist-dart", Kind: pattern.Knife})},
		{"add", of(AddDart, NewDart{Piece: "skirt-back", Edge: "waist", At: 80, Intake: 16, Depth: 100, MadeUp: LetOut})},
		{"panel", of(PanelLine, Princess{Piece: "bodice-front", Dart: "waist-dart", Other: "bust-dart", Edge: "shoulder", At: 58})},
		{"yoke", of(YokeSeam, Yoke{Piece: "bodice-back", From: "armscye", FromAt: 120, To: "centre-back.opening", ToAt: 125})},
	} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				if _, err := c.do(p); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
