package docs

import (
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"bygone.example/internal/testtool"
)

// TestCommands follows the page as a newcomer would: beside a copy of the
// project, writes the files that it says to write and runs every command, from
// the first to the last, in one folder after the other. A text block after
// commands is what they print: its lines, in this order, among others perhaps;
// … stands for anything.
func TestCommands(t *testing.T) {
	sh := testtool.Path(t, "sh", "dash")
	_, list := page(t)
	dir, err := filepath.EvalSymlinks(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	copyProject(t, filepath.Join(dir, "bygone"))
	env := append(goEnv(t), "GOBIN="+filepath.Join(dir, "bin"), "PATH="+filepath.Join(dir, "bin")+string(os.PathListSeparator)+os.Getenv("PATH"))
	follow(t, sh, dir, env, list)
}

// follow does what a page says, from its first block to its last.
func follow(t *testing.T, sh, dir string, env []string, list []block) {
	t.Helper()
	folder, printed, ran := dir, "", 0
	for _, b := range list {
		switch {
		case b.write != "":
			if err := os.WriteFile(filepath.Join(dir, b.write), []byte(b.text), 0o644); err != nil {
				t.Fatal(err)
			}
		case b.language == "sh":
			// The folder that the commands end in is the next ones' own.
			cmd := exec.Command(sh, "-e", "-c", b.text+"\npwd >"+filepath.Join(dir, "folder"))
			cmd.Dir, cmd.Env = folder, env
			out, err := cmd.CombinedOutput()
			if err != nil {
				t.Fatalf("line %d: %v\n%s%s", b.line, err, b.text, out)
			}
			where, err := os.ReadFile(filepath.Join(dir, "folder"))
			if err != nil {
				t.Fatal(err)
			}
			folder, printed = strings.TrimSpace(string(where)), string(out)
			ran++
		case b.language == "text":
			if missing := missingLine(printed, b.text); missing != "" {
				t.Errorf("line %d: the commands before it do not print %q, but\n%s", b.line, missing, printed)
			}
		case b.in == "":
			t.Errorf("line %d: a block of %q that nothing tries", b.line, b.language)
		}
	}
	if ran < 5 {
		t.Errorf("ran %d blocks of commands", ran)
	}
}

// missingLine returns the first line of want that text does not hold, in the
// order of want; empty when it holds them all.
func missingLine(text, want string) string {
	lines := strings.Split(text, "\n")
	for line := range strings.Lines(want) {
		line = strings.TrimSpace(line)
		pattern := regexp.MustCompile(`^\s*` + strings.ReplaceAll(regexp.QuoteMeta(line), "…", ".*") + `\s*$`)
		found := false
		for len(lines) > 0 && !found {
			found = pattern.MatchString(lines[0])
			lines = lines[1:]
		}
		if !found {
			return line
		}
	}
	return ""
}

func TestMissingLine(t *testing.T) {
	const text = "one\n  two 2\nthree\n"
	for _, test := range []struct{ want, missing string }{
		{"one\nthree\n", ""}, {"two …\n", ""}, {"three\none\n", "one"}, {"on\n", "on"}, {"one\none\n", "one"},
	} {
		if got := missingLine(text, test.want); got != test.missing {
			t.Errorf("missingLine(%q) = %q, want %q", test.want, got, test.missing)
		}
	}
}

// goEnv is an environment to build in: the caches are this one's own, paths are
// trimmed so that they serve a copy of the project as well, and no workspace or
// flag of the developer's is in the way.
func goEnv(t *testing.T) []string {
	t.Helper()
	out, err := exec.Command("go", "env", "GOCACHE", "GOMODCACHE", "GOPATH").Output()
	if err != nil {
		t.Fatal(err)
	}
	at := strings.Split(strings.TrimSpace(string(out)), "\n")
	return append(os.Environ(), "GOCACHE="+at[0], "GOMODCACHE="+at[1], "GOPATH="+at[2], "GOFLAGS=-trimpath -buildvcs=false", "GOWORK=")
}

// copyProject copies what builds, and the demo's files.
func copyProject(t *testing.T, to string) {
	t.Helper()
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(root, path)
		if err != nil {
			return err
		}
		if rel == ".git" && !d.IsDir() {
			return nil // of a linked working tree: git in the copy would write into the real repository
		}
		if d.IsDir() {
			switch {
			case rel == ".git" || rel == "out" || rel == "bin" || rel == "tools", d.Name() == "testdata" && rel != "testdata":
				return filepath.SkipDir
			}
			return os.MkdirAll(filepath.Join(to, rel), 0o755)
		}
		if !d.Type().IsRegular() {
			return nil
		}
		data, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		return os.WriteFile(filepath.Join(to, rel), data, 0o644)
	})
	if err != nil {
		t.Fatal(err)
	}
}
