// Package testtool finds the programs that some tests compare our work with:
// a PDF reader, an SVG renderer. Where one is missing the test is skipped, and
// says so; under CI=true it fails instead, so that no check goes missing in
// silence. It is the only place of the project that may skip a test.
package testtool

import (
	"os"
	"os/exec"
	"testing"
)

// Path returns where the program is. Where it is not, it skips the test, or
// fails it under CI=true, naming the Debian package it comes in.
func Path(t testing.TB, program, debian string) string {
	t.Helper()
	path, err := exec.LookPath(program)
	if err != nil {
		Skip(t, "the program "+program+" is not on PATH (Debian package "+debian+")")
	}
	return path
}

// Skip ends the test for a reason outside the project; under CI=true it fails
// the test.
func Skip(t testing.TB, why string) {
	t.Helper()
	if os.Getenv("CI") == "true" {
		t.Fatalf("cannot run, and CI=true lets no test be skipped: %s", why)
	}
	t.Skipf("skipped: %s", why)
}
