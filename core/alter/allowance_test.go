package alter

import (
	"strings"
	"testing"

	"bygone.example/core/operation"
	"bygone.example/core/pairing"
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

// A hem that would stick out at the side seams of a flared skirt is made
// narrower, the same all round, and the change says so; on a straight skirt it
// keeps the depth that was asked.
func TestSetAllowancesFlatHem(t *testing.T) {
	deep := Allowances{Seam: 15, Curve: 6.35, Hem: 63.5, Small: 15, FlatHems: true}
	flat := func(p *pattern.Pattern) (widths []float64, told bool) {
		a := done(t, p, allow(deep))
		for _, f := range pairing.Check(a.Pattern) {
			if f.Code == pairing.HemTurn {
				t.Errorf("%v", f)
			}
		}
		for _, name := range []string{"skirt-front", "skirt-back"} {
			widths = append(widths, a.Pattern.Piece(name).Edge("hem").Allowance)
		}
		for _, c := range a.Changes {
			told = told || strings.HasPrefix(c.What, "skirt hem, narrower") && c.Before == deep.Hem && c.After == widths[0]
		}
		return widths, told
	}
	flared := done(t, dress(t), func(p *pattern.Pattern) (*operation.Answer, error) {
		return SetHem(p, HemSweep{Circumference: 3000, Slashes: 5})
	}).Pattern
	if widths, told := flat(flared); widths[0] != widths[1] || widths[0] >= deep.Hem || widths[0] < hemLeast || !told {
		t.Errorf("on a flared skirt the hems are %v mm deep, told: %v", widths, told)
	}
	straight := dress(t)
	if widths, told := flat(straight); widths[0] != widths[1] || (widths[0] == deep.Hem) == told {
		t.Errorf("on the stock skirt the hems are %v mm deep, told: %v", widths, told)
	}
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
