package operation_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Two answers become one that leads from the first pattern to the last and tells
// what either told.
func TestThen(t *testing.T) {
	span := func(old, new string) pattern.Lineage {
		return pattern.Lineage{{Old: pattern.Stretch{Piece: old, Edge: "side", To: 10}, New: pattern.Stretch{Piece: new, Edge: "side", To: 10}}}
	}
	a := &operation.Answer{
		Pattern: &pattern.Pattern{Name: "middle"}, Lineage: span("first", "middle"),
		Changes: []operation.Change{{What: "hem", Before: 1, After: 2}}, Cautions: []string{"Mind the hem."},
	}
	b := &operation.Answer{
		Pattern: &pattern.Pattern{Name: "last"}, Lineage: span("middle", "last"),
		Changes: []operation.Change{{What: "train", Before: 0, After: 3}}, Cautions: []string{"Mind the train."},
	}
	want := &operation.Answer{
		Pattern: &pattern.Pattern{Name: "last"}, Lineage: span("first", "last"),
		Changes:  []operation.Change{{What: "hem", Before: 1, After: 2}, {What: "train", Before: 0, After: 3}},
		Cautions: []string{"Mind the hem.", "Mind the train."},
	}
	if diff := cmp.Diff(want, a.Then(b)); diff != "" {
		t.Errorf("-want +got:\n%s", diff)
	}
	if len(a.Changes) != 1 || len(b.Changes) != 1 {
		t.Error("an answer was changed")
	}
}
