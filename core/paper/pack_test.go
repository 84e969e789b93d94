package paper

import (
	"testing"

	"bygone.example/core/geom"
	"pgregory.net/rapid"
)

// Nothing overlaps, nothing lies off the sheet, and no page is counted that
// nothing is on: checked on the polygons themselves, not on the raster.
func TestPack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var parcels []parcel
		for range rapid.IntRange(1, 8).Draw(t, "parcels") {
			w := rapid.Float64Range(5, 400).Draw(t, "w")
			h := rapid.Float64Range(5, 400).Draw(t, "h")
			cut := rapid.Float64Range(0.05, 0.95).Draw(t, "cut")
			poly := []geom.Point{{X: 0, Y: 0}, {X: w, Y: 0}, {X: w, Y: h * cut}, {X: w * cut, Y: h}, {X: 0, Y: h}}
			var p parcel
			for k := range 4 {
				var turned []geom.Point
				for _, q := range poly {
					turned = append(turned, quarterTurn(k).Apply(q))
				}
				p.ways = append(p.ways, shape{polygons: [][]geom.Point{turned}, turn: k})
			}
			parcels = append(parcels, p)
		}
		f := field{tileX: 180, tileY: 267, columns: 4, whole: rapid.Bool().Draw(t, "whole")}
		if rapid.Bool().Draw(t, "roll") {
			f = field{tileX: 500, columns: 1}
		}
		got := pack(parcels, f)
		var laid [][]geom.Point
		for i, s := range got.spots {
			var poly []geom.Point
			for _, q := range parcels[i].ways[s.way].polygons[0] {
				poly = append(poly, q.Add(s.at))
			}
			b := geom.BoxOf(poly...)
			if b.Min.X < -1e-6 || b.Max.Y > 1e-6 || b.Max.X > f.tileX*float64(f.columns)+1e-6 {
				t.Fatalf("parcel %d lies at %v, off the sheet", i, b)
			}
			for j, other := range laid {
				if overlap(poly, other) {
					t.Fatalf("parcels %d and %d overlap: %v %v", i, j, poly, other)
				}
			}
			if f.whole && f.tileY > 0 && b.Width() <= f.tileX && b.Height() <= f.tileY {
				if int((b.Min.X+1e-6)/f.tileX) != int((b.Max.X-1e-6)/f.tileX) || int((1e-6-b.Max.Y)/f.tileY) != int((-b.Min.Y-1e-6)/f.tileY) {
					t.Fatalf("parcel %d fits a page and lies on more: %v", i, b)
				}
			}
			laid = append(laid, poly)
		}
		again := pack(parcels, f)
		for i := range got.spots {
			if got.spots[i] != again.spots[i] {
				t.Fatalf("parcel %d: %v, and then %v", i, got.spots[i], again.spots[i])
			}
		}
	})
}

// overlap reports whether polygons that may be hollow share area.
func overlap(a, b []geom.Point) bool {
	if !geom.BoxOf(a...).Overlaps(geom.BoxOf(b...)) {
		return false
	}
	for i, p := range a {
		q := a[(i+1)%len(a)]
		for j, r := range b {
			s := b[(j+1)%len(b)]
			if q.Sub(p).Cross(r.Sub(p))*q.Sub(p).Cross(s.Sub(p)) < 0 && s.Sub(r).Cross(p.Sub(r))*s.Sub(r).Cross(q.Sub(r)) < 0 {
				return true
			}
		}
	}
	return geom.Contains(a, b[0]) || geom.Contains(b, a[0])
}
