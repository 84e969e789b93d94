package draw

import (
	"fmt"
	"strings"
	"testing"

	"bygone.example/core/differ"
	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// Where there is more to number than a picture holds, what has moved furthest
// comes first, and new notches are one number at all their places: they do not
// push a moved line out.
func TestComparedManyNotches(t *testing.T) {
	a := stock(t, "untested-blouse")
	b := a.Clone()
	added := 0
	for i := range b.Pieces {
		p := &b.Pieces[i]
		for _, e := range p.Edges {
			for _, share := range []float64{0.3, 0.7} {
				p.Notches = append(p.Notches, pattern.Notch{Edge: e.Name, At: e.Path.Length() * share, Count: 1})
				added++
			}
		}
	}
	p := b.Piece("sleeve")
	for i := range p.Edges { // the hem drops by 4 mm at its middle, and nowhere else
		if e := &p.Edges[i]; e.Name == "hem" {
			from, to := e.Path.Start(), e.Path.End()
			e.Path = geom.Polyline(from, from.Lerp(to, 0.5).Sub(geom.Pt(0, 4)), to)
		}
	}
	c := differ.Compare(a, b, 0)
	numbers := Numbered(c)
	moved := 0
	marks := map[int]int{}
	for i, d := range c.Differences {
		switch d.What {
		case differ.MarkNew:
			marks[numbers[i]]++
		case differ.EdgeMoved:
			moved++
			if numbers[i] != 1 {
				t.Errorf("%s has number %d", d.Text, numbers[i])
			}
		}
	}
	if moved != 1 || len(marks) != 1 || marks[0] > 0 || added <= mostCallouts {
		t.Errorf("%d edges moved; new marks by number: %v of %d", moved, marks, added)
	}
	if d := Compared(a, b, c); !strings.Contains(d.Text, fmt.Sprintf(": %d marks are new", added)) {
		t.Errorf("the marks have no line of their own: %s", d.Text)
	}
}
