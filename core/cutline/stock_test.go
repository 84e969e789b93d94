package cutline_test

import (
	"math"
	"slices"
	"testing"

	"bygone.example/core/cutline"
	"bygone.example/core/geom"
	"bygone.example/core/pattern"
	"bygone.example/internal/stock"
)

// The house pattern with a plain allowance: nothing to note, no crossing, and
// the law of areas to within what corners can add.
func TestStockDress(t *testing.T) {
	p, err := stock.Dress()
	if err != nil {
		t.Fatal(err)
	}
	for i := range p.Pieces {
		piece := &p.Pieces[i]
		for j := range piece.Edges {
			piece.Edges[j].Allowance = 15
			if r := piece.Edges[j].Is(); r == pattern.Neckline || r == pattern.Armscye {
				piece.Edges[j].Allowance = 10 // as workrooms do on hollow curves (common practice)
			}
		}
		line := cutline.Of(piece)
		if len(line.Notes) > 0 {
			t.Errorf("%s: %+v", piece.Name, line.Notes)
		}
		closed := geom.Polyline(append(slices.Clone(line.Points), line.Points[0])...)
		if c := closed.SelfCrossings(1e-9); len(c) > 0 {
			t.Errorf("%s: crosses itself at %v", piece.Name, c)
		}
		w, want := 15.0, piece.Boundary().Area()
		for _, e := range piece.Edges {
			if e.Finish != pattern.Fold {
				want += e.Path.Length() * e.Allowance
			}
		}
		got := closed.Area()
		if slack := w * w * 8; math.Abs(got-want) > slack {
			t.Errorf("%s: area %.0f mm², want %.0f within %.0f", piece.Name, got, want, slack)
		}
	}
}
