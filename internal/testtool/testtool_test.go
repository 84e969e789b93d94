package testtool

import (
	"runtime"
	"testing"
)

// recorder is a test that notes how it was ended.
type recorder struct {
	testing.TB
	fatal, skipped bool
}

func (r *recorder) Helper()               {}
func (r *recorder) Fatalf(string, ...any) { r.fatal = true; runtime.Goexit() }
func (r *recorder) Skipf(string, ...any)  { r.skipped = true; runtime.Goexit() }

func ask(t *testing.T, program string) *recorder {
	r := &recorder{TB: t}
	done := make(chan struct{})
	go func() {
		defer close(done)
		Path(r, program, "some-package")
	}()
	<-done
	return r
}

func TestPath(t *testing.T) {
	for _, c := range []struct {
		name, program, ci string
		fatal, skipped    bool
	}{
		{"there", "go", "true", false, false},
		{"missing at home", "no-such-program-anywhere", "", false, true},
		{"missing in CI", "no-such-program-anywhere", "true", true, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Setenv("CI", c.ci)
			r := ask(t, c.program)
			if r.fatal != c.fatal || r.skipped != c.skipped {
				t.Errorf("Path(%q) with CI=%q: failed %v, skipped %v; want %v, %v", c.program, c.ci, r.fatal, r.skipped, c.fatal, c.skipped)
			}
		})
	}
}
