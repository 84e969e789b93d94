package stock

import (
	"math"
	"testing"

	"bygone.example/core/pattern"
)

// The faults planted are in the blouse at their size, and no others.
func TestBlouseFaults(t *testing.T) {
	p, err := Blouse()
	if err != nil {
		t.Fatal(err)
	}
	for _, problem := range p.Validate() {
		t.Error(problem)
	}
	want := map[string]float64{ // side B over side A, mm
		"side": BlouseSideLong, "shoulder": -BlouseShoulderLong,
		"armscye": headEaseFront + headEaseBack, "sleeve-underarm": 0,
	}
	if len(p.Seams) != len(want) {
		t.Errorf("%d seams, want %d", len(p.Seams), len(want))
	}
	for _, s := range p.Seams {
		if got := p.RunLength(s.B) - p.RunLength(s.A); math.Abs(got-want[s.Name]) > sewnWithin {
			t.Errorf("seam %s: B over A by %v mm, want %v", s.Name, got, want[s.Name])
		}
	}
	for _, c := range []struct {
		name, piece1, edge1, piece2, edge2 string
		off                                float64
	}{
		{"neckline over the shoulder", "bodice-front", "neckline", "bodice-back", "shoulder", BlouseShoulderKink},
		{"armscye over the shoulder", "bodice-front", "shoulder", "bodice-back", "armscye", 0},
		{"armscye under the arm", "bodice-front", "armscye", "bodice-back", "side", 0},
		{"hem at the side", "bodice-front", "side", "bodice-back", "hem", 0},
	} {
		sum := corner(p, c.piece1, c.edge1) + corner(p, c.piece2, c.edge2)
		if math.Abs(math.Abs(sum-math.Pi)-c.off) > trueWithin {
			t.Errorf("%s: %.4f degrees from straight, want %.4f", c.name, math.Abs(sum-math.Pi)*180/math.Pi, c.off*180/math.Pi)
		}
	}
	for _, piece := range p.Pieces {
		if n := len(piece.Notches); n != 0 {
			t.Errorf("%s has %d notches, want none", piece.Name, n)
		}
	}
	if p.Piece("bodice-front").Role != pattern.BodiceFront {
		t.Error("the blouse front has lost its role")
	}
}
