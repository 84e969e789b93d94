package alter

import (
	"testing"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

func allow(a Allowances) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return SetAllowances(p, a) }
}

var houseAllowances = Allowances{Seam: 15, Curve: 10, Hem: 40, Small: 12}

func TestSetAllowances(t *testing.T) {
	p := dress(t)
	q := done(t, p, allow(houseAllowances)).Pattern
	for _, c := range []struct {
		piece, edge string
		want        float64
	}{
		{"bodice-front", "side", 15},
		{"bodice-front", "waist", 15},
		{"bodice-front", "centre-front", 0}, // on the fold
		{"bodice-front", "neckline", 10},
		{"facing-front", "neckline", 10},
		{"bodice-front", "armscye", 10},
		{"sleeve", "cap", 10},
		{"sleeve", "hem", 12},
		{"skirt-front", "hem", 40},
		{"skirt-back", "centre-back.opening", 15},
	} {
		if got := q.Piece(c.piece).Edge(c.edge).Allowance; got != c.want {
			t.Errorf("%s/%s has %v mm, want %v", c.piece, c.edge, got, c.want)
		}
	}
	// Both sides of every seam have one width, and nothing but widths changed.
	for _, s := range q.Seams {
		for _, a := range s.A {
			for _, b := range s.B {
				if x, y := q.Edge(a).Allowance, q.Edge(b).Allowance; x != y {
					t.Errorf("seam %s: %v has %v mm and %v %v", s.Name, a, x, b, y)
				}
			}
		}
	}
	for i := range q.Pieces {
		for k := range q.Pieces[i].Edges {
			q.Pieces[i].Edges[k].Allowance = 0
		}
	}
	sameDrawing(t, "but for the widths", q, p)
}

func TestSetAllowancesTwice(t *testing.T) {
	p := dress(t)
	once := done(t, p, allow(houseAllowances)).Pattern
	sameDrawing(t, "set twice", done(t, once, allow(houseAllowances)).Pattern, once)
	sameDrawing(t, "taken off again", done(t, once, allow(Allowances{})).Pattern, p)
}

func TestSetAllowancesRefuses(t *testing.T) {
	refusals{
		{"less than nothing", dress(t), allow(Allowances{Seam: -1}), `an allowance cannot be less than nothing; give widths of 0 mm or more`},
	}.try(t)
}
