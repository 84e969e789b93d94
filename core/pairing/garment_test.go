package pairing_test

import (
	"testing"

	"bygone.example/core/geom"
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

// garment is the sound dress that the faults are planted in.
func garment() *pattern.Pattern { return example.Garment() }

func mustBeValid(t testing.TB, p *pattern.Pattern) {
	t.Helper()
	for _, problem := range p.Validate() {
		t.Errorf("Validate(): %v", problem)
	}
}
