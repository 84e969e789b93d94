package outfolder

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"bygone.example/core/operation"
)

var (
	oldFiles = []File{{"pattern.yaml", []byte("old")}, {"steps/01-a.svg", []byte("old step")}, {"gone.txt", []byte("only old")}}
	newFiles = []File{{"pattern.yaml", []byte("new")}, {"steps/01-a.svg", []byte("new step")}, {"steps/02-b.svg", []byte("only new")}}
)

// contents are the files of a folder by path, folders and links among them; nil
// where there is no folder. The manifest is left out.
func contents(t *testing.T, dir string) map[string]string {
	t.Helper()
	if _, err := os.Lstat(dir); errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	found := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, e fs.DirEntry, err error) error {
		if err != nil || path == dir || e.Name() == Manifest {
			return err
		}
		rel, err := filepath.Rel(dir, path)
		if err != nil {
			return err
		}
		switch rel = filepath.ToSlash(rel); {
		case e.IsDir():
			found[rel] = "folder"
		case e.Type()&fs.ModeSymlink != 0:
			found[rel], err = os.Readlink(path)
		default:
			var data []byte
			data, err = os.ReadFile(path)
			found[rel] = string(data)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return found
}

func asContents(files []File) map[string]string {
	m := map[string]string{"steps": "folder"}
	for _, f := range files {
		m[f.Path] = string(f.Data)
	}
	return m
}

func siblings(t *testing.T, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(filepath.Dir(dir))
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range entries {
		if e.Name() != filepath.Base(dir) {
			names = append(names, e.Name())
		}
	}
	return names
}

func mustWrite(t *testing.T, dir string, files []File) {
	t.Helper()
	if err := Write(dir, files); err != nil {
		t.Fatal(err)
	}
}

func refused(err error) bool {
	_, ok := errors.AsType[*operation.Refusal](err)
	return ok
}

func TestWrite(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "a", "b", "out")
	for range 2 {
		for _, files := range [][]File{oldFiles, newFiles} {
			mustWrite(t, dir, files)
			if diff := cmp.Diff(asContents(files), contents(t, dir)); diff != "" {
				t.Error(diff)
			}
		}
	}
	if left := siblings(t, dir); len(left) > 0 {
		t.Errorf("left beside it: %v", left)
	}
	if err := os.Mkdir(filepath.Join(filepath.Dir(dir), "empty"), 0o755); err != nil {
		t.Fatal(err)
	}
	mustWrite(t, filepath.Join(filepath.Dir(dir), "empty"), oldFiles) // an empty folder may be used
	if err := Write(filepath.Join(filepath.Dir(dir), "x"), []File{{"../pattern.yaml", nil}}); err == nil {
		t.Error("a file was written outside the folder")
	}
	if got, want := siblings(t, dir), []string{"empty"}; !slices.Equal(got, want) {
		t.Errorf("beside it lie %v, want %v", got, want)
	}
}

var errInjected = errors.New("injected")

// stopAt makes moves whose call number n calls stop instead; count tells how
// many calls there were.
func stopAt(n int, exchanges bool, stop func() error) (m moves, count *int) {
	count = new(int)
	step := func(do func() error) error {
		if *count++; *count == n {
			return stop()
		}
		return do()
	}
	return moves{
		writeFile: func(path string, data []byte, perm fs.FileMode) error {
			return step(func() error { return disk.writeFile(path, data, perm) })
		},
		exchange: func(a, b string) error {
			if !exchanges {
				return errors.ErrUnsupported
			}
			return step(func() error { return disk.exchange(a, b) })
		},
		rename: func(from, to string) error { return step(func() error { return disk.rename(from, to) }) },
		remove: func(path string) error { return step(func() error { return disk.remove(path) }) },
	}, count
}

// canExchange reports whether this system and disk move two folders in one step.
func canExchange(t *testing.T) bool {
	t.Helper()
	a, b := filepath.Join(t.TempDir(), "a"), filepath.Join(t.TempDir(), "b")
	if err := errors.Join(os.Mkdir(a, 0o755), os.Mkdir(b, 0o755)); err != nil {
		t.Fatal(err)
	}
	err := exchange(a, b)
	if err != nil && runtime.GOOS == "linux" {
		t.Errorf("on Linux this should work on any ordinary disk: %v", err)
	}
	return err == nil
}

// However far a run comes, the folder is the old one or the new one.
func TestBrokenOff(t *testing.T) {
	ways := []bool{false}
	if canExchange(t) {
		ways = append(ways, true)
	}
	for _, exchanges := range ways {
		for _, before := range [][]File{nil, oldFiles} {
			for _, crash := range []bool{false, true} {
				t.Run(fmt.Sprintf("exchange %v, over %d files, crash %v", exchanges, len(before), crash), func(t *testing.T) {
					for n := 1; ; n++ {
						if calls := breakOff(t, n, exchanges, before, crash); n > calls {
							if n < 5 {
								t.Errorf("only %d steps were broken off", n-1)
							}
							return
						}
					}
				})
			}
		}
	}
}

// breakOff fails or crashes at step n, and returns how many steps there were.
func breakOff(t *testing.T, n int, exchanges bool, before []File, crash bool) int {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "out")
	var was map[string]string
	if before != nil {
		mustWrite(t, dir, before)
		was = asContents(before)
	}
	m, calls := stopAt(n, exchanges, func() error {
		if crash {
			panic(errInjected)
		}
		return errInjected
	})
	err := func() (err error) {
		defer func() {
			if r := recover(); r != nil {
				if r != any(errInjected) {
					panic(r)
				}
				err = errInjected
			}
		}()
		return write(dir, newFiles, m)
	}()
	if *calls < n { // it came to its end
		if err != nil {
			t.Errorf("nothing was in its way, but: %v", err)
		}
		return *calls
	}
	if err == nil {
		t.Errorf("step %d failed without an error", n)
	}
	now := contents(t, dir)
	isOld, isNew := cmp.Equal(now, was), cmp.Equal(now, asContents(newFiles))
	switch left := siblings(t, dir); {
	case crash && now == nil && !exchanges && was != nil:
		// Between two renames: both lie beside its place, whole.
		var whole []map[string]string
		for _, name := range left {
			whole = append(whole, contents(t, filepath.Join(filepath.Dir(dir), name)))
		}
		if len(whole) != 2 || !cmp.Equal(whole[0], asContents(newFiles)) || !cmp.Equal(whole[1], was) {
			t.Errorf("step %d left no folder, and beside it %v: %v", n, left, whole)
		}
	case !isOld && !isNew:
		t.Errorf("step %d left a mixture: %v", n, now)
	case !crash && isOld && len(left) > 0:
		t.Errorf("step %d failed and left %v", n, left)
	case !crash && isNew && !strings.Contains(err.Error(), "the results are in"):
		t.Errorf("step %d: the new folder is there and the error is %v", n, err)
	}
	return *calls
}

// Nothing that somebody else put into a folder is touched.
func TestForeign(t *testing.T) {
	put := func(name, text string) func(string) error {
		return func(dir string) error { return os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644) }
	}
	for name, change := range map[string]func(dir string) error{
		"a file":          put("letter.txt", "mine"),
		"a file below":    put("steps/letter.txt", "mine"),
		"a hidden file":   put(".notes", "mine"),
		"a changed file":  put("pattern.yaml", "edited"),
		"an empty folder": func(dir string) error { return os.Mkdir(filepath.Join(dir, "mine"), 0o755) },
		"a folder of files": func(dir string) error {
			return os.CopyFS(filepath.Join(dir, "mine"), os.DirFS(filepath.Join(dir, "steps")))
		},
		"a lost manifest":   func(dir string) error { return os.Remove(filepath.Join(dir, Manifest)) },
		"a forged manifest": put(Manifest, "pattern.yaml\ngone.txt\nsteps/01-a.svg\n"),
		"a folder for a file": func(dir string) error {
			return errors.Join(os.Remove(filepath.Join(dir, "gone.txt")), os.Mkdir(filepath.Join(dir, "gone.txt"), 0o755))
		},
	} {
		t.Run(name, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "out")
			mustWrite(t, dir, oldFiles)
			if err := change(dir); err != nil {
				t.Fatal(err)
			}
			was := contents(t, dir)
			for what, err := range map[string]error{"Check": Check(dir), "Write": Write(dir, newFiles)} {
				if !refused(err) {
					t.Errorf("%s gives %v, want a refusal", what, err)
				}
			}
			if diff := cmp.Diff(was, contents(t, dir)); diff != "" {
				t.Errorf("it was changed:\n%s", diff)
			}
			if left := siblings(t, dir); len(left) > 0 {
				t.Errorf("left beside it: %v", left)
			}
		})
	}
}

// Nor is what somebody puts there while we write.
func TestForeignComesLate(t *testing.T) {
	for _, exchanges := range []bool{false, canExchange(t)} {
		dir := filepath.Join(t.TempDir(), "out")
		mustWrite(t, dir, oldFiles)
		m, _ := stopAt(0, exchanges, nil)
		plain := m.writeFile
		m.writeFile = func(path string, data []byte, perm fs.FileMode) error {
			if filepath.Base(path) == Manifest {
				if err := os.WriteFile(filepath.Join(dir, "letter.txt"), []byte("mine"), 0o644); err != nil {
					return err
				}
			}
			return plain(path, data, perm)
		}
		if err := write(dir, newFiles, m); !refused(err) || !strings.Contains(err.Error(), "letter.txt") {
			t.Errorf("error is %v, want a refusal that names the file", err)
		}
		want := asContents(oldFiles)
		want["letter.txt"] = "mine"
		if diff := cmp.Diff(want, contents(t, dir)); diff != "" {
			t.Errorf("exchange %v: it was changed:\n%s", exchanges, diff)
		}
		if left := siblings(t, dir); len(left) > 0 {
			t.Errorf("exchange %v: left beside it: %v", exchanges, left)
		}
	}
}

func TestCheck(t *testing.T) {
	base := t.TempDir()
	file := filepath.Join(base, "file")
	if err := os.WriteFile(file, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Join(base, "around", "here"), 0o755); err != nil {
		t.Fatal(err)
	}
	link := filepath.Join(base, "link")
	if err := os.Symlink(filepath.Join(base, "around", "here"), link); err != nil {
		t.Fatal(err)
	}
	t.Chdir(filepath.Join(base, "around", "here"))
	for dir, ok := range map[string]bool{
		filepath.Join(base, "new"):           true,
		filepath.Join(base, "new", "deeper"): true,
		"new":                                true,
		"../beside":                          true,
		"":                                   false,
		".":                                  false,
		"..":                                 false,
		filepath.Join(base, "around"):        false,
		file:                                 false,
		link:                                 false,
		link + "/":                           false,
		filepath.Join(link, "new"):           true,
		filepath.Join(file, "in", "a-file"):  false,
	} {
		if err := Check(dir); (err == nil) != ok || err != nil && !refused(err) {
			t.Errorf("Check(%q) = %v, want accepted: %v", dir, err, ok)
		}
	}
	if got := contents(t, base); len(got) != 4 {
		t.Errorf("Check left something: %v", got)
	}
}

// A folder full of somebody's files is not read to its end.
func TestCheckOfManyFiles(t *testing.T) {
	dir := t.TempDir()
	for i := range maxStrangers + 50 {
		if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("f%d", i)), nil, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if found, err := strangers(dir); err != nil || len(found) != maxStrangers {
		t.Errorf("%d strangers, %v", len(found), err)
	}
	if err := Check(dir); !refused(err) || !strings.Contains(err.Error(), "and many more") {
		t.Errorf("Check = %v", err)
	}
}

func TestBeside(t *testing.T) {
	base := t.TempDir()
	dir := filepath.Join(base, "deep", "out")
	write := func(text string) string {
		t.Helper()
		path, err := Beside(dir, ".after-01-a.yaml", []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		return path
	}
	for _, step := range []struct{ text, name string }{
		{"one", "out.after-01-a.yaml"},
		{"two", "out.after-01-a-2.yaml"},
		{"one", "out.after-01-a.yaml"}, // the very same is kept once
		{"three", "out.after-01-a-3.yaml"},
	} {
		path := write(step.text)
		if want := filepath.Join(base, "deep", step.name); path != want {
			t.Errorf("%s went to %s, want %s", step.text, path, want)
		}
	}
	want := map[string]string{"out.after-01-a.yaml": "one", "out.after-01-a-2.yaml": "two", "out.after-01-a-3.yaml": "three"}
	if diff := cmp.Diff(want, contents(t, filepath.Join(base, "deep"))); diff != "" {
		t.Error(diff)
	}
	if _, err := Beside(filepath.Join(base, "deep", "out.after-01-a.yaml", "out"), ".yaml", nil); err == nil {
		t.Error("a file was written inside a file")
	}
}

// A link that waits where the file would go is not followed.
func TestBesideLink(t *testing.T) {
	base := t.TempDir()
	victim := filepath.Join(base, "victim")
	if err := os.Symlink(victim, filepath.Join(base, "out.after.yaml")); err != nil {
		t.Fatal(err)
	}
	path, err := Beside(filepath.Join(base, "out"), ".after.yaml", []byte("x"))
	if err != nil || path != filepath.Join(base, "out.after-2.yaml") {
		t.Errorf("went to %s, %v", path, err)
	}
	if _, err := os.Stat(victim); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("the link was followed: %v", err)
	}
}
