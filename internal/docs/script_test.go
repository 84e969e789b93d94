package docs

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

// TestScripts runs the journeys in testdata/script with a bygone built for
// them.
func TestScripts(t *testing.T) {
	project, err := filepath.Abs(root)
	if err != nil {
		t.Fatal(err)
	}
	bin, env := install(t)
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(e *testscript.Env) error {
			e.Vars = append(e.Vars, env[len(os.Environ()):]...) // what goEnv has added
			e.Setenv("PROJECT", project)
			e.Setenv("PATH", bin+string(os.PathListSeparator)+e.Getenv("PATH"))
			return nil
		},
	})
}
