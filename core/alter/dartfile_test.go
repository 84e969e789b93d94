package alter

import (
	"math"
	"testing"

	yamlfile "bygone.example/core/format/yaml"
	"bygone.example/core/pattern"
)

// filed returns a pattern as a file gives it back, its coordinates rounded.
func filed(t *testing.T, p *pattern.Pattern) *pattern.Pattern {
	t.Helper()
	q, err := yamlfile.Read("filed.yaml", yamlfile.Write(p))
	if err != nil {
		t.Fatal(err)
	}
	return q
}

// A dart whose places a file has rounded off its edge's joints has no kink that it
// had not before, and what is told of it is told of it and not of its neighbour.
func TestCapDartFromAFile(t *testing.T) {
	p := dress(t)
	cap := of(CapDart, Capping{Piece: "bodice-front", Dart: "bust-dart"})
	drawn, file := done(t, p, cap), done(t, filed(t, p), cap)
	dart := p.Piece("bodice-front").Dart("bust-dart")
	for i, c := range file.Changes {
		if math.Abs(c.Before-drawn.Changes[i].Before) > 0.01 || math.Abs(c.After-drawn.Changes[i].After) > 0.01 {
			t.Errorf("%s: %v to %v from a file, %v to %v as drawn", c.What, c.Before, c.After, drawn.Changes[i].Before, drawn.Changes[i].After)
		}
		if c.What == "path of the mouth of bust-dart" {
			within(t, c.What, c.Before, dart.To-dart.From, 1e-4)
		}
	}
}
