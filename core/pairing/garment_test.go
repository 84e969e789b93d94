package pairing_test

import (
	"testing"

	"bygone.example/core/geom"
	"bygone.example/core/pairing"
	"bygone.example/core/pairing/example"
	"bygone.example/core/pattern"
)

func pt(x, y float64) geom.Point { return geom.Pt(x, y) }

func line(a, b geom.Point) geom.Path { return geom.Path{geom.Line(a, b)} }

// sweep is a curve from a to b with unit directions u and v at its ends.
func sweep(a, u, b, v geom.Point) geom.Path {
	l := a.Dist(b)
	return geom.Path{geom.Hermite(a, u.Unit().Mul(l), b, v.Unit().Mul(l))}
}

func onFold(name string, role pattern.Role, grain geom.Point, edges ...pattern.Edge) pattern.Piece {
	return pattern.Piece{
		Name: name, Role: role, Cut: pattern.Cut{Count: 1}, Edges: edges,
		Grain: pattern.Grain{From: grain, To: grain.Add(pt(0, 100))},
	}
}

// A lone piece that is sewn to nothing and finished all round has nothing wrong
// with it.
func TestLonePiece(t *testing.T) {
	p := &pattern.Pattern{Name: "cloth", Pieces: []pattern.Piece{onFold("cloth", "", pt(150, 50),
		pattern.Edge{Name: "hem", Path: line(pt(0, 0), pt(300, 0)), Finish: pattern.Hemmed},
		pattern.Edge{Name: "side", Path: line(pt(300, 0), pt(300, 400)), Finish: pattern.Hemmed},
		pattern.Edge{Name: "top", Path: line(pt(300, 400), pt(0, 400)), Finish: pattern.Hemmed},
		pattern.Edge{Name: "centre", Path: line(pt(0, 400), pt(0, 0)), Finish: pattern.Fold},
	)}}
	mustBeValid(t, p)
	for _, f := range pairing.Check(p) {
		t.Errorf("Check() found %s", show(f))
	}
}

// garment is the sound dress that the faults are planted in.
func garment() *pattern.Pattern { return example.Garment() }

func mustBeValid(t testing.TB, p *pattern.Pattern) {
	t.Helper()
	for _, problem := range p.Validate() {
		t.Errorf("Validate(): %v", problem)
	}
}
