package shelf_test

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"bygone.example/core/shelf"
	"bygone.example/testdata"
)

// demo returns one of the demo's patterns.
func demo(t testing.TB, name string) string {
	t.Helper()
	data, err := testdata.Demo.ReadFile("patterns/" + name + ".yaml")
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// lay writes files into a new folder, by path and text, and returns it.
func lay(t testing.TB, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for path, text := range files {
		full := filepath.Join(dir, filepath.FromSlash(path))
		if err := errors.Join(os.MkdirAll(filepath.Dir(full), 0o755), os.WriteFile(full, []byte(text), 0o644)); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

func check(t testing.TB, o shelf.Options, paths ...string) *shelf.Result {
	t.Helper()
	found, err := shelf.Find(context.Background(), paths)
	if err != nil {
		t.Fatal(err)
	}
	r, err := shelf.Check(context.Background(), found, o)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func TestSniff(t *testing.T) {
	for text, want := range map[string]shelf.Kind{
		"bygone: pattern/1\n":                           shelf.Pattern,
		"\ufeffbygone: chain/1":                         shelf.Chain,
		"# a comment\n\nname: x\nbygone: wearer/1":      shelf.Wearer,
		"bygone : rules/1":                              shelf.Rules,
		`"bygone": "pattern/1"`:                         shelf.Pattern,
		"{bygone: pattern/2, name: x}":                  shelf.Pattern,
		"bygone: patern/1":                              "",
		"bygone:\n  pattern/1":                          "",
		"bygone:\r\n":                                   "",
		strings.Repeat("#\n", 9999) + "bygone: chain/1": shelf.Chain,
	} {
		if kind, ours := shelf.Sniff([]byte(text)); kind != want || !ours {
			t.Errorf("Sniff(%.40q) = %q, %v; want %q", text, kind, ours, want)
		}
	}
	for _, text := range []string{"", "on: push", "  bygone: pattern/1", "x: bygone: pattern/1", "# bygone: pattern/1", "bygones: pattern/1", "bygone:pattern/1"} {
		if kind, ours := shelf.Sniff([]byte(text)); ours {
			t.Errorf("Sniff(%q) = %q, which is not ours", text, kind)
		}
	}
}

func TestFind(t *testing.T) {
	dir := lay(t, map[string]string{
		"b/two.yaml": "x", "a/one.yml": "x", "a/ONE.YAML": "x", "a/notes.txt": "x", ".git/three.yaml": "x", "a/.four.yaml": "x", "dir.yaml/five.yaml": "x",
	})
	t.Chdir(dir)
	if err := errors.Join(os.Symlink(".", "a/round"), os.Symlink("../b/two.yaml", "a/link.yaml"), os.Symlink("nowhere", "a/gone.yaml"), os.Symlink("b", "named")); err != nil {
		t.Fatal(err)
	}
	names := func(paths ...string) string {
		found, err := shelf.Find(context.Background(), paths)
		if err != nil {
			t.Fatal(err)
		}
		var list []string
		for _, f := range found.Files {
			name := filepath.ToSlash(f.Path)
			if f.Named {
				name += "!"
			}
			list = append(list, name)
		}
		return fmt.Sprintf("%s; %d links", strings.Join(list, " "), found.Passed.Links)
	}
	for _, c := range []struct {
		paths []string
		want  string
	}{
		{[]string{"."}, "a/ONE.YAML a/one.yml b/two.yaml dir.yaml/five.yaml; 4 links"},
		{[]string{"b/two.yaml"}, "b/two.yaml!; 0 links"},
		{[]string{"a/link.yaml"}, "a/link.yaml!; 0 links"},
		{[]string{"b", "./b", filepath.Join(dir, "b")}, "b/two.yaml; 0 links"},
		{[]string{"named"}, "named/two.yaml; 0 links"},
		{[]string{"a", "missing"}, "a/ONE.YAML a/one.yml missing; 3 links"},
	} {
		if got := names(c.paths...); got != c.want {
			t.Errorf("Find(%q) = %s, want %s", c.paths, got, c.want)
		}
	}
}

// The result is the same whatever the number of workers, and in the order of
// the paths, and so is what Each is called with.
func TestOrder(t *testing.T) {
	files := map[string]string{}
	for i := range 60 {
		name := fmt.Sprintf("%c/%02d.yaml", 'a'+i%3, i)
		switch i % 4 {
		case 0:
			files[name] = demo(t, "untested-blouse")
		case 1:
			files[name] = demo(t, "stock-dress")
		case 2:
			files[name] = "bygone: pattern/1\nname: broken"
		case 3:
			files[name] = "on: push"
		}
	}
	t.Chdir(lay(t, files))
	var want []byte
	for _, workers := range []int{1, 2, 3, 16} {
		var each []string
		calls := 0
		r := check(t, shelf.Options{
			Workers: workers, Each: func(c *shelf.Checked) error { each = append(each, c.Path); return nil },
			Progress: func(done, total int) {
				if calls++; done != calls || total != 60 {
					t.Errorf("progress says %d of %d in call %d", done, total, calls)
				}
			},
		}, ".")
		got, err := json.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		if want == nil {
			want = got
		}
		if d := cmp.Diff(string(want), string(got)); d != "" {
			t.Errorf("with %d workers:\n%s", workers, d)
		}
		for i := range r.Files {
			if i > 0 && r.Files[i-1].Path >= r.Files[i].Path || r.Files[i].Path != each[i] {
				t.Fatalf("with %d workers file %d is %s", workers, i, r.Files[i].Path)
			}
		}
		n := r.Counts()
		if n.Patterns != 30 || n.Sound != 15 || n.Refused != 15 || n.FilesFaulty != 15 || n.Faults != 30 || n.Warnings != 60 || r.Passed.Others != 15 || calls != 60 {
			t.Errorf("counts %+v, passed %+v", n, r.Passed)
		}
	}
}

// Findings carry the file, line and column of what they are about.
func TestPlaces(t *testing.T) {
	t.Chdir(lay(t, map[string]string{"p/blouse.yaml": "\ufeff" + demo(t, "untested-blouse")}))
	r := check(t, shelf.Options{}, "p")
	for _, f := range r.Files[0].Findings {
		text, ok := r.Files[0].Line(f.Place.Line)
		if f.Place.File != "p/blouse.yaml" || !ok || !strings.Contains(text, f.Place.Edge) && !strings.Contains(text, f.Place.Seam) {
			t.Errorf("%s at %s:%d %q", f.Code, f.Place.File, f.Place.Line, text)
		}
	}
}

// An error of Each ends the check and is returned.
func TestEachFails(t *testing.T) {
	files := map[string]string{}
	for i := range 50 {
		files[fmt.Sprintf("%02d.yaml", i)] = demo(t, "stock-dress")
	}
	found, err := shelf.Find(context.Background(), []string{lay(t, files)})
	if err != nil {
		t.Fatal(err)
	}
	full, calls := errors.New("the disk is full"), 0
	_, err = shelf.Check(context.Background(), found, shelf.Options{Each: func(*shelf.Checked) error { calls++; return full }})
	if !errors.Is(err, full) || calls != 1 {
		t.Errorf("Check = %v after %d calls", err, calls)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := shelf.Check(ctx, found, shelf.Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("broken off: %v", err)
	}
}
