package wire_test

import (
	"strings"
	"testing"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
	"bygone.example/core/wire"
	"bygone.example/internal/stock"
)

// More patterns than a plugin is sent, and one that the contract has no room
// for, are told by name.
func TestOthersAreBounded(t *testing.T) {
	dress, err := stock.Dress()
	if err != nil {
		t.Fatal(err)
	}
	q := &operation.Request{Pattern: dress, Others: map[string]*pattern.Pattern{}}
	for i := range wire.MaxOthers + 1 {
		q.Others["p"+strings.Repeat("x", i)] = dress
	}
	if _, err := wire.EncodeRequest("piece", q); err == nil || err.Error() != "21 other patterns, more than the 20 a plugin is sent" {
		t.Errorf("21 patterns: %v", err)
	}
	spoilt := dress.Clone()
	spoilt.Pieces[0].Edges[0].Finish = "frayed"
	q.Others = map[string]*pattern.Pattern{"spencer": spoilt}
	if _, err := wire.EncodeRequest("piece", q); err == nil || !strings.HasPrefix(err.Error(), "pattern spencer: piece "+dress.Pieces[0].Name) {
		t.Errorf("a pattern with a word that means nothing: %v", err)
	}
}
