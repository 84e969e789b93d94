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

	"bygone.example/core/finding"
	"bygone.example/core/pairing"
	"bygone.example/core/rules"
	"bygone.example/core/shelf"
	"bygone.example/core/source"
)

// mixed is a shelf of sound and faulty patterns, a chain, and files that are
// refused or not ours.
func mixed(t testing.TB) map[string]string {
	files := map[string]string{"chain.yaml": "bygone: chain/1\nname: c\nsteps:\n  - step: notch.place\n", "ci.yaml": "on: push", "empty.yaml": ""}
	for i := range 40 {
		files[fmt.Sprintf("p/%02d.yaml", i)] = demo(t, []string{"untested-blouse", "stock-dress"}[i%2])
	}
	files["p/40.yaml"] = "bygone: pattern/1\nname: broken"
	return files
}

// inForce are rules that set nothing but exceptions, in bygone.yaml.
func inForce(list ...rules.Exception) *shelf.InForce {
	r := rules.Default()
	r.Exceptions = list
	return &shelf.InForce{Rules: r, Path: rules.FileName}
}

// Shards are about equal, no file is in two, and merged they are the whole,
// with exceptions used and expired ones told once.
func TestShards(t *testing.T) {
	files := mixed(t)
	files["bygone.yaml"] = "bygone: rules/1\n"
	t.Chdir(lay(t, files))
	in := inForce(
		rules.Exception{Code: "corner-kink", File: "p/00.yaml", Piece: "bodice-front", Reason: "meant", Line: 3, Col: 5},
		rules.Exception{Code: "corner-kink", File: "p/01.yaml", Reason: "once", Line: 4, Col: 5}, // the dress has none
		rules.Exception{Code: "corner-kink", File: "p/99.yaml", Reason: "gone", Line: 5, Col: 5}, // not there
		rules.Exception{Code: "corner-kink", File: "p/40.yaml", Reason: "?", Line: 6, Col: 5},    // cannot be read: not known
	)
	whole := check(t, shelf.Options{Rules: in}, ".")
	text := func(r *shelf.Result) string {
		data, err := json.MarshalIndent(r, "", " ")
		if err != nil {
			t.Fatal(err)
		}
		return string(data)
	}
	n := whole.Counts()
	if n.Excepted != 1 || n.Patterns != 40 || n.Refused != 1 || n.Warnings != 20*4-1+2 {
		t.Errorf("counts %+v", n)
	}
	for _, of := range []int{1, 2, 3, 7} {
		var parts []shelf.Part
		for k := of; k >= 1; k-- {
			r := check(t, shelf.Options{Rules: in, Shard: &shelf.Shard{K: k, N: of}}, ".")
			if of == 3 && (len(r.Files) < 7 || len(r.Files) > 22) {
				t.Errorf("shard %d of 3 has %d of 43 files", k, len(r.Files))
			}
			parts = append(parts, shelf.Part{Name: fmt.Sprint(k), Result: r})
		}
		got, err := shelf.Merge(parts)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(text(whole), text(got)); d != "" {
			t.Errorf("%d shards (-whole +merged):\n%s", of, d)
		}
	}
}

// Shards of two states of a shelf are not joined, wherever it has changed:
// in a file of another shard, in one that is new, or in one that a chain names.
func TestMergeOneState(t *testing.T) {
	const chain = "bygone: chain/1\nname: c\npatterns:\n  other: ../apart/dress.yaml\nsteps:\n  - step: notch.place\n"
	dress := demo(t, "stock-dress")
	for _, c := range []struct{ name, path, text string }{
		{"changed", "p/dress.yaml", dress + "# changed\n"},
		{"new", "p/new.yaml", dress},
		{"named by a chain", "apart/dress.yaml", dress + "# changed\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := lay(t, map[string]string{"p/dress.yaml": dress, "p/chain.yaml": chain, "apart/dress.yaml": dress})
			t.Chdir(dir)
			shard := func(k int) shelf.Part {
				r := check(t, shelf.Options{Shard: &shelf.Shard{K: k, N: 2}}, "p")
				return shelf.Part{Name: fmt.Sprint(k), Result: r}
			}
			one, two := shard(1), shard(2)
			if _, err := shelf.Merge([]shelf.Part{one, two}); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(filepath.FromSlash(c.path), []byte(c.text), 0o600); err != nil {
				t.Fatal(err)
			}
			if _, err := shelf.Merge([]shelf.Part{one, shard(2)}); err == nil || !strings.Contains(err.Error(), "of other files") {
				t.Errorf("Merge = %v", err)
			}
		})
	}
}

// Which shard a file is in depends on its path alone, for good: these were
// computed apart, with sha256sum.
func TestShardOfPath(t *testing.T) {
	for path, want := range map[string]int{"patterns/blouse.yaml": 1, "patterns/dress.yaml": 2} {
		for k := 1; k <= 8; k++ {
			if got := (shelf.Shard{K: k, N: 8}).Has(path); got != (k == want) {
				t.Errorf("shard %d/8 has %s: %v", k, path, got)
			}
		}
	}
	for _, bad := range []string{"", "1", "0/2", "3/2", "-1/2", "1/0", "1/2/3", "a/b", "1/99999", "1 /2"} {
		if s, err := shelf.ParseShard(bad); err == nil {
			t.Errorf("ParseShard(%q) = %v", bad, s)
		}
	}
	if s, err := shelf.ParseShard("2/8"); err != nil || s != (shelf.Shard{K: 2, N: 8}) {
		t.Errorf("ParseShard(2/8) = %v, %v", s, err)
	}
}

func TestMergeRefuses(t *testing.T) {
	part := func(name string, k, n int) shelf.Part {
		return shelf.Part{Name: name, Result: &shelf.Result{Shard: &shelf.Shard{K: k, N: n}, Settings: "s", Of: "o", Program: "p"}}
	}
	other := part("b", 2, 2)
	other.Result.Settings = "t"
	changed, newer := part("b", 2, 2), part("b", 2, 2)
	changed.Result.Of, newer.Result.Program = "x", "y"
	for _, c := range []struct {
		want  string
		parts []shelf.Part
	}{
		{"2/2 is missing", []shelf.Part{part("a", 1, 2)}},
		{"this is shard 1/2, as", []shelf.Part{part("a", 1, 2), part("b", 1, 2)}},
		{"this is shard 2/3, but", []shelf.Part{part("a", 1, 2), part("b", 2, 3)}},
		{"this is not the result of a shard", []shelf.Part{{Name: "a", Result: &shelf.Result{}}}},
		{"there is no shard 3/2", []shelf.Part{part("a", 1, 2), part("b", 3, 2)}},
		{"by other tolerances", []shelf.Part{part("a", 1, 2), other}},
		{"of other files", []shelf.Part{part("a", 1, 2), changed}},
		{"by another program", []shelf.Part{part("a", 1, 2), newer}},
		{"…", []shelf.Part{part("a", 1, 9999)}},
	} {
		_, err := shelf.Merge(c.parts)
		if _, ok := errors.AsType[source.Problems](err); !ok || !strings.Contains(err.Error(), c.want) {
			t.Errorf("Merge = %v, want %s", err, c.want)
		}
	}
}

// An exception covers what it says and nothing else; tolerances are the rules'.
func TestRules(t *testing.T) {
	t.Chdir(lay(t, map[string]string{"p/blouse.yaml": demo(t, "untested-blouse"), "p/same.yaml": demo(t, "untested-blouse")}))
	codes := func(list []finding.Finding) map[finding.Code]int {
		n := map[finding.Code]int{}
		for _, f := range list {
			n[f.Code]++
		}
		return n
	}
	all := map[finding.Code]int{"seam-length": 2, "notch-none": 3, "corner-kink": 1}
	for _, c := range []struct {
		name string
		e    rules.Exception
		want map[finding.Code]int
	}{
		{"a code", rules.Exception{Code: "notch-none"}, map[finding.Code]int{"seam-length": 2, "corner-kink": 1}},
		{"a piece", rules.Exception{Code: "seam-length", Piece: "bodice-back"}, map[finding.Code]int{"seam-length": 1, "notch-none": 3, "corner-kink": 1}},
		{"an edge", rules.Exception{Code: "seam-length", Piece: "bodice-front", Edge: "shoulder"}, map[finding.Code]int{"seam-length": 1, "notch-none": 3, "corner-kink": 1}},
		{"a seam", rules.Exception{Code: "notch-none", Seam: "side"}, map[finding.Code]int{"seam-length": 2, "notch-none": 2, "corner-kink": 1}},
		{"another seam", rules.Exception{Code: "seam-length", Seam: "armscye"}, all},
		{"another edge", rules.Exception{Code: "seam-length", Piece: "bodice-front", Edge: "neckline"}, all},
	} {
		c.e.File, c.e.Reason = "p/blouse.yaml", "x"
		r := check(t, shelf.Options{Rules: inForce(c.e)}, "p")
		byPath := map[string]shelf.Checked{}
		for _, f := range r.Files {
			byPath[f.Path] = f
		}
		if d := cmp.Diff(c.want, codes(byPath["p/blouse.yaml"].Findings)); d != "" {
			t.Errorf("%s (-want +got):\n%s", c.name, d)
		}
		if d := cmp.Diff(all, codes(byPath["p/same.yaml"].Findings)); d != "" {
			t.Errorf("%s, another file:\n%s", c.name, d)
		}
		var total int
		for _, n := range c.want {
			total += n
		}
		expired := len(byPath["bygone.yaml"].Findings)
		if got := len(byPath["p/blouse.yaml"].Excepted); got != 6-total || (expired == 1) != (got == 0) {
			t.Errorf("%s: %d excepted, %d expired", c.name, got, expired)
		}
	}
	// Files that were not looked at say nothing of their exceptions.
	in := inForce(rules.Exception{Code: "fold-bent", File: "p/same.yaml", Reason: "x"})
	if r := check(t, shelf.Options{Rules: in}, "p/blouse.yaml"); len(r.Files) != 2 || len(r.Files[0].Findings) != 0 {
		t.Errorf("%+v", r.Files[0])
	}
	wide := inForce()
	wide.Tolerances.Length, wide.Tolerances.LongSeam, wide.Tolerances.KinkWarning = 20, 1000, 20
	if r := check(t, shelf.Options{Rules: wide}, "p/blouse.yaml"); !r.Counts().Clean() {
		t.Errorf("by wide tolerances: %+v", r.Files)
	}
}

// A result from the cache is the one that a check gives, whatever else is in
// it; what is spoiled, or of other settings or another program, is not used.
func TestCache(t *testing.T) {
	t.Chdir(lay(t, mixed(t)))
	folder := filepath.Join(t.TempDir(), "deep", "cache")
	open := func(program string) shelf.Options {
		return shelf.Options{Inspector: shelf.Inspector{Cache: shelf.NewCache(folder, []byte(program))}}
	}
	want := check(t, shelf.Options{}, ".")
	same := func(what string, o shelf.Options) {
		t.Helper()
		if d := cmp.Diff(want, check(t, o, ".")); d != "" {
			t.Errorf("%s (-want +got):\n%s", what, d)
		}
	}
	entries := func() []string {
		list, err := filepath.Glob(filepath.Join(folder, "??", "*"))
		if err != nil {
			t.Fatal(err)
		}
		return list
	}
	same("empty cache", open("one"))
	if n := len(entries()); n != 3 { // equal files are one
		t.Fatalf("%d entries, want 3", n)
	}
	same("full cache", open("one"))
	same("another program", open("two"))
	if n := len(entries()); n != 6 {
		t.Errorf("%d entries for two programs, want 6", n)
	}
	// That it is used at all: a lie in it, well sealed, is believed.
	o := open("one")
	data := []byte(demo(t, "stock-dress"))
	key := shelf.CacheKey(o.Cache, &o.Inspector, shelf.Pattern, data)
	shelf.CachePut(o.Cache, key, shelf.Checked{Kind: shelf.Pattern, Name: "lie"})
	if r := check(t, o, "p/01.yaml"); r.Files[0].Name != "lie" || r.Files[0].Path != "p/01.yaml" {
		t.Errorf("the cache is not asked: %+v", r.Files[0])
	}
	// Other tolerances look again.
	loose := pairing.DefaultTolerances()
	loose.Length = 20
	o.Pairing.Tolerances = &loose
	if r := check(t, o, "p/00.yaml", "p/01.yaml"); r.Counts().Faults != 0 || r.Files[1].Name == "lie" {
		t.Errorf("by other tolerances: %+v", r.Files)
	}
	os.RemoveAll(folder)
	for name, spoil := range map[string]func([]byte) []byte{
		"cut off":      func(b []byte) []byte { return b[:len(b)/2] },
		"empty":        func([]byte) []byte { return nil },
		"one bit":      func(b []byte) []byte { b[len(b)-3] ^= 1; return b },
		"another seal": func(b []byte) []byte { b[0] ^= 1; return b },
		"rubbish":      func(b []byte) []byte { return []byte(strings.Repeat("\x00{", len(b))) },
		"no findings":  func(b []byte) []byte { return []byte(strings.Replace(string(b), `"findings"`, `"finding"`, 1)) },
	} {
		same("before "+name, open("one"))
		for _, path := range entries() {
			data, err := os.ReadFile(path)
			if err = errors.Join(err, os.WriteFile(path, spoil(data), 0o644)); err != nil {
				t.Fatal(err)
			}
		}
		same(name, open("one"))
	}
	// One result in another's place.
	list := entries()
	a, err := os.ReadFile(list[0])
	if err = errors.Join(err, os.WriteFile(list[1], a, 0o644)); err != nil {
		t.Fatal(err)
	}
	same("changed places", open("one"))
	// A folder that cannot be one.
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	same("no folder", shelf.Options{Inspector: shelf.Inspector{Cache: shelf.NewCache(file, nil)}})
}

// Tidy keeps as many as it is told, and touches nothing that is not its own.
func TestTidy(t *testing.T) {
	folder := t.TempDir()
	mine := filepath.Join(folder, "ab", "notes.txt")
	if err := errors.Join(os.MkdirAll(filepath.Dir(mine), 0o755), os.WriteFile(mine, nil, 0o644)); err != nil {
		t.Fatal(err)
	}
	c := shelf.NewCache(folder, nil)
	for i := range 30 {
		shelf.CachePut(c, shelf.CacheKey(c, new(shelf.Inspector), shelf.Pattern, fmt.Append(nil, i)), shelf.Checked{})
	}
	c.Tidy(10)
	left := 0
	err := filepath.WalkDir(folder, func(path string, d os.DirEntry, err error) error {
		if err == nil && !d.IsDir() && path != mine {
			left++
		}
		return err
	})
	if _, gone := os.Stat(mine); err != nil || left != 10 || gone != nil {
		t.Errorf("%d left, want 10; %v, %v", left, err, gone)
	}
}

func TestTouched(t *testing.T) {
	files := mixed(t)
	files["uses.yaml"] = "bygone: chain/1\nname: uses\npatterns:\n  other: p/03.yaml\n  gone: p/77.yaml\nsteps:\n  - step: borrow.piece\n"
	dir := lay(t, files)
	t.Chdir(dir)
	dir, err := filepath.EvalSymlinks(dir)
	if err != nil {
		t.Fatal(err)
	}
	for changed, want := range map[string]string{
		"p/03.yaml": "p/03.yaml uses.yaml", "p/04.yaml": "p/04.yaml", "p/77.yaml": "uses.yaml", "uses.yaml": "uses.yaml", "readme": "",
	} {
		found, err := shelf.Find(context.Background(), []string{"."})
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, f := range shelf.Touched(found, func(abs string) bool { return abs == filepath.Join(dir, changed) }).Files {
			got = append(got, filepath.ToSlash(f.Path))
		}
		if strings.Join(got, " ") != want {
			t.Errorf("%s touches %q, want %q", changed, got, want)
		}
	}
}
