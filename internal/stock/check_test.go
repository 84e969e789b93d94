package stock

import (
	"math"
	"testing"

	"bygone.example/core/finding"
	"bygone.example/core/geom"
	"bygone.example/core/pairing"
)

// foundWithin is how near a planted fault's size the check must come, mm; and
// how near its place.
const foundWithin = 0.05

// The check walks the stock dress and has nothing to say: not of the opening
// either that goes straight on from the centre-back seam.
func TestCheckPassesTheDress(t *testing.T) {
	for _, f := range pairing.Check(dress(t)) {
		t.Errorf("%s: %+v %s", f.Code, f.Place, f.Text)
	}
}

// The check finds every fault planted in the blouse at its size, and no fault
// that was not planted.
func TestCheckFindsThePlantedFaults(t *testing.T) {
	p, err := Blouse()
	if err != nil {
		t.Fatal(err)
	}
	type fault struct {
		code finding.Code
		seam string
	}
	neck := p.Piece("bodice-front").Edge("shoulder").Path.Start()
	hem := p.Piece("bodice-back").Edge("hem").Path.End()
	want := map[fault]struct {
		size float64 // mm or degrees, whichever way the check takes the difference
		at   *geom.Point
	}{
		{pairing.SeamLength, "side"}:           {BlouseSideLong, &hem},
		{pairing.SeamLength, "shoulder"}:       {BlouseShoulderLong, nil},
		{pairing.CornerKink, "shoulder"}:       {BlouseShoulderKink * 180 / math.Pi, &neck},
		{pairing.NotchNone, "armscye"}:         {},
		{pairing.NotchNone, "side"}:            {},
		{pairing.NotchNone, "sleeve-underarm"}: {},
	}
	found := map[fault]bool{}
	for _, f := range pairing.Check(p) {
		key := fault{f.Code, f.Place.Seam}
		w, planted := want[key]
		if !planted {
			t.Errorf("not planted: %s: %+v %s", f.Code, f.Place, f.Text)
			continue
		}
		found[key] = true
		if w.size != 0 && math.Abs(math.Abs(f.Figures.Difference)-w.size) > foundWithin {
			t.Errorf("%v: found %v %s off, planted %v", key, f.Figures.Difference, f.Figures.Unit, w.size)
		}
		if w.at != nil && (f.Place.At == nil || !f.Place.At.Near(*w.at, foundWithin)) {
			t.Errorf("%v: found at %v, planted at %v", key, f.Place.At, *w.at)
		}
	}
	for key := range want {
		if !found[key] {
			t.Errorf("not found: %v", key)
		}
	}
}
