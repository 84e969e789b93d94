package pairing_test

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"bygone.example/core/pairing"
	"bygone.example/core/unit"
)

var update = flag.Bool("update", false, "write the table of tolerances in the docs anew")

const (
	tolerancePage = "../../docs/shared-repository.md"
	toleranceHead = "| name | | why |\n| --- | --- | --- |\n"
)

// The page on shared repositories lists every tolerance that they may set, with
// its size and reason.
func TestTolerancesAreTold(t *testing.T) {
	page, err := os.ReadFile(tolerancePage)
	if err != nil {
		t.Fatal(err)
	}
	rows := toleranceHead
	for _, d := range pairing.AllTolerances() {
		size := unit.Float(d.Default)
		if d.Unit != "ratio" {
			size += " " + d.Unit
		}
		rows += fmt.Sprintf("| `%s` | %s | %s |\n", d.Name, size, d.Reason)
	}
	before, rest, _ := strings.Cut(string(page), toleranceHead)
	_, after, ok := strings.Cut(rest, "|\n\n")
	want := before + rows + "\n" + after
	switch {
	case ok && string(page) == want:
	case ok && *update:
		if err := os.WriteFile(tolerancePage, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
	default:
		t.Errorf("%s should have this table (-update writes it):\n%s", tolerancePage, rows)
	}
}
