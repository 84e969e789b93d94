package pairing

import (
	"testing"

	"bygone.example/core/finding"
	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

func TestWhereabouts(t *testing.T) {
	corners := []geom.Point{geom.Pt(0, 0), geom.Pt(200, 0), geom.Pt(200, 300), geom.Pt(0, 300)}
	piece := pattern.Piece{Name: "front"}
	for i, name := range []string{"hem", "side", "waist", "centre-front"} {
		piece.Edges = append(piece.Edges, pattern.Edge{Name: name, Path: geom.Path{geom.Line(corners[i], corners[(i+1)%4])}})
	}
	p := &pattern.Pattern{Pieces: []pattern.Piece{piece}}
	for _, test := range []struct {
		edge string
		at   geom.Point
		want string
	}{
		{"side", geom.Pt(200, 0.5), "where it meets hem"},
		{"side", geom.Pt(200, 299), "where it meets waist"},
		{"side", geom.Pt(200, 150), "half way from hem to waist"},
		{"side", geom.Pt(200, 100), "10.0 cm from hem"},
		{"side", geom.Pt(200, 250), "5.0 cm from waist"},
		{"waist", geom.Pt(100, 240), "inside the piece, 6.0 cm from the edge"},
		{"", geom.Pt(30, 150), "3.0 cm from centre-front"},
		{"", geom.Pt(100, 300), "at waist"},
		{"sleeve", geom.Pt(100, 300), ""}, // an edge that is not there
	} {
		at := test.at
		if got := whereabouts(p, finding.Place{Piece: "front", Edge: test.edge, At: &at}); got != test.want {
			t.Errorf("whereabouts of %v on %q = %q, want %q", at, test.edge, got, test.want)
		}
	}
	if got := whereabouts(p, finding.Place{Piece: "back", Edge: "side", At: &geom.Point{}}); got != "" {
		t.Errorf("whereabouts on a piece that is not there = %q", got)
	}
}
