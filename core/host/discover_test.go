package host_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"bygone.example/core/host"
)

// file writes an executable candidate and returns its path.
func file(t *testing.T, folder, name string, mode os.FileMode) string {
	t.Helper()
	if err := os.MkdirAll(folder, 0o755); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(folder, name)
	if err := os.WriteFile(path, []byte("#!/bin/sh\n"), mode); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestDiscover(t *testing.T) {
	root := t.TempDir()
	in := func(parts ...string) string { return filepath.Join(append([]string{root}, parts...)...) }
	named := file(t, in("named"), "bygone-plugin-mine", 0o755)
	misnamed := file(t, in("named"), "mine", 0o755)
	file(t, in("project"), "bygone-plugin-mine", 0o755)
	file(t, in("project"), "bygone-plugin-lace", 0o755)
	file(t, in("project"), "bygone-plugin-text", 0o644)
	file(t, in("project"), "bygone-plugin-Bad_Name", 0o755)
	file(t, in("project"), "bygone-plugin-waist", 0o755)
	file(t, in("project"), "something-else", 0o755)
	file(t, in("bin"), "bygone-plugin-lace", 0o755)
	file(t, in("bin"), "bygone-plugin-stays", 0o755)
	if err := os.Symlink(in("nowhere"), in("bin", "bygone-plugin-dangling")); err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(in("bin", "bygone-plugin-folder"), 0o755); err != nil {
		t.Fatal(err)
	}

	got := host.Discover(host.Search{
		House: []string{"waist", "darts"}, HouseCommand: host.Command{Path: "/the/program", Args: []string{host.HouseArgument}},
		Files:   []string{named, misnamed},
		Folders: []string{in("project"), in("not-there")},
		Path:    []string{"", in("no-such-bin"), in("bin"), in("bin"), in("project")},
		Allow:   []string{"lace", "text", "dangling", "folder"},
	})
	want := []host.Found{
		{Name: "darts", Path: "/the/program", Args: []string{host.HouseArgument, "darts"}, Origin: host.House, Taken: true},
		{Name: "waist", Path: "/the/program", Args: []string{host.HouseArgument, "waist"}, Origin: host.House, Taken: true},
		{Name: "mine", Path: named, Origin: host.File, Taken: true},
		{Name: "mine", Path: misnamed, Origin: host.File, Why: "the file is not called bygone-plugin-NAME"},
		{Name: "Bad_Name", Path: in("project", "bygone-plugin-Bad_Name"), Origin: host.Folder, Why: `"Bad_Name" is not a plugin's name: lower-case letters, digits and hyphens, a letter first`},
		{Name: "lace", Path: in("project", "bygone-plugin-lace"), Origin: host.Folder, Taken: true},
		{Name: "mine", Path: in("project", "bygone-plugin-mine"), Origin: host.Folder, Why: "the name is taken by " + named},
		{Name: "text", Path: in("project", "bygone-plugin-text"), Origin: host.Folder, Why: "the file is not executable"},
		{Name: "waist", Path: in("project", "bygone-plugin-waist"), Origin: host.Folder, Why: "the name is a house plugin's"},
		{Path: in("not-there"), Origin: host.Folder, Why: "the folder cannot be read: no such file or directory"},
		{Name: "dangling", Path: in("bin", "bygone-plugin-dangling"), Origin: host.Path, Why: "the file cannot be read: no such file or directory"},
		{Name: "folder", Path: in("bin", "bygone-plugin-folder"), Origin: host.Path, Why: "it is a folder"},
		{Name: "lace", Path: in("bin", "bygone-plugin-lace"), Origin: host.Path, Why: "the name is taken by " + in("project", "bygone-plugin-lace")},
		{Name: "stays", Path: in("bin", "bygone-plugin-stays"), Origin: host.Path, Why: "it is outside the program and was not allowed by name"},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("Discover (-want +got):\n%s", diff)
	}

	picked, missing := host.Pick(got, "mine", "waist", "mine", "stays", "hats")
	if len(picked) != 2 || picked[0].Path != named || picked[1].Origin != host.House {
		t.Errorf("Pick = %v", picked)
	}
	var texts []string
	for _, m := range missing {
		texts = append(texts, strings.ReplaceAll(m.Error(), root, ""))
	}
	if diff := cmp.Diff([]string{
		"plugin stays was found but not taken: /bin/bygone-plugin-stays: it is outside the program and was not allowed by name",
		"there is no plugin hats; there is darts, lace, mine, waist",
	}, texts); diff != "" {
		t.Errorf("missing (-want +got):\n%s", diff)
	}
}

// A plugin that was not allowed does not keep its name from one that is.
func TestNotAllowedDoesNotShadow(t *testing.T) {
	root := t.TempDir()
	file(t, filepath.Join(root, "a"), "bygone-plugin-lace", 0o644)
	second := file(t, filepath.Join(root, "b"), "bygone-plugin-lace", 0o755)
	got, _ := host.Pick(host.Discover(host.Search{Folders: []string{filepath.Join(root, "a"), filepath.Join(root, "b")}, Allow: []string{"lace"}}), "lace")
	if len(got) != 1 || got[0].Path != second {
		t.Errorf("Pick = %v, want %s", got, second)
	}
}
