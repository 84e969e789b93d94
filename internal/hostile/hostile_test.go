package hostile_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"bygone.example/core/host"
	"bygone.example/internal/hostile"
)

func TestMain(m *testing.M) { testscript.Main(m, hostile.Commands()) }

// As commands of testscript, the fixtures are found on PATH and start like any
// plugin.
func TestCommandsArePlugins(t *testing.T) {
	found := host.Discover(host.Search{Path: filepath.SplitList(os.Getenv("PATH")), Allow: hostile.Names()})
	picked, missing := host.Pick(found, hostile.Names()...)
	if len(missing) > 0 {
		t.Fatalf("not found: %v", missing)
	}
	var well []host.Found
	for _, f := range picked {
		if f.Name == hostile.Good || f.Name == hostile.Panics {
			well = append(well, f)
		}
	}
	s, err := host.Start(t.Context(), well, host.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if specs := s.Specs(); len(specs) != 2 || specs[0].Name != hostile.Good {
		t.Errorf("they describe themselves as %v", specs)
	}
	bad, _ := host.Pick(found, hostile.ExitsAtStart)
	if _, err := host.Start(t.Context(), bad, host.Options{}); err == nil || !strings.Contains(err.Error(), "no licence to sew") {
		t.Errorf("error is %v", err)
	}
}
