package docs

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"bygone.example/internal/testtool"
)

// install builds bygone into a new folder, and returns an environment in which
// it is on PATH, and in which git knows no settings and no repository of the
// tester's: a hook that runs the tests hands its own on.
func install(t *testing.T) (bin string, env []string) {
	t.Helper()
	for _, name := range []string{"GIT_DIR", "GIT_WORK_TREE", "GIT_INDEX_FILE", "GIT_COMMON_DIR", "GIT_OBJECT_DIRECTORY", "GIT_PREFIX"} {
		t.Setenv(name, "") // so that it is put back
		os.Unsetenv(name)
	}
	project, err := filepath.Abs(root)
	if err != nil {
		t.Fatal(err)
	}
	bin = t.TempDir()
	env = append(goEnv(t), "PATH="+bin+string(os.PathListSeparator)+os.Getenv("PATH"),
		"HOME="+t.TempDir(), "XDG_CACHE_HOME="+t.TempDir(), "GIT_CONFIG_NOSYSTEM=1", "GIT_CONFIG_GLOBAL="+os.DevNull,
		"GIT_AUTHOR_NAME=Workroom", "GIT_AUTHOR_EMAIL=workroom@example.org", "GIT_COMMITTER_NAME=Workroom", "GIT_COMMITTER_EMAIL=workroom@example.org")
	build := exec.Command("go", "build", "-o", bin+string(filepath.Separator), "./cmd/bygone")
	build.Dir, build.Env = project, env
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("building bygone: %v\n%s", err, out)
	}
	return bin, env
}

// TestShelfCommands follows the page on shared repositories: on a repository
// that it makes on the spot.
func TestShelfCommands(t *testing.T) {
	sh := testtool.Path(t, "sh", "dash")
	_, list := pageAt(t, forShelves)
	dir, err := filepath.EvalSymlinks(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	if err := os.CopyFS(filepath.Join(dir, "bygone", "testdata"), os.DirFS(filepath.Join(root, "testdata"))); err != nil {
		t.Fatal(err)
	}
	_, env := install(t)
	follow(t, sh, dir, env, list)
}

// The hook that the project defines does its work, with the program that such
// hooks are for, on a repository made on the spot: it refuses a commit of a
// pattern that does not sew, lets one pass that does, and is not asked about
// other files.
func TestPreCommit(t *testing.T) {
	testtool.Path(t, "pre-commit", "pre-commit")
	_, env := install(t)
	dir, err := filepath.EvalSymlinks(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	env = append(env, "PRE_COMMIT_HOME="+filepath.Join(dir, "hooks"))
	run := func(folder string, fails bool, name string, args ...string) string {
		t.Helper()
		cmd := exec.Command(name, args...)
		cmd.Dir, cmd.Env = filepath.Join(dir, folder), env
		out, err := cmd.CombinedOutput()
		if (err != nil) != fails {
			t.Fatalf("%s %s: %v\n%s", name, strings.Join(args, " "), err, out)
		}
		return string(out)
	}
	copyProject(t, filepath.Join(dir, "bygone"))
	begin := func(folder string) {
		if _, err := os.Lstat(filepath.Join(dir, folder, ".git")); err == nil {
			t.Fatalf("%s has a repository already: whose?", folder)
		}
		run(folder, false, "git", "init", "-q", "-b", "main")
		if top := strings.TrimSpace(run(folder, false, "git", "rev-parse", "--absolute-git-dir")); top != filepath.Join(dir, folder, ".git") {
			t.Fatalf("git in %s works in %s", folder, top)
		}
		run(folder, false, "git", "add", ".")
	}
	begin("bygone")
	run("bygone", false, "git", "commit", "-q", "-m", "the program")
	pattern := func(name string) string {
		data, err := os.ReadFile(filepath.Join(root, "testdata", "patterns", name+".yaml"))
		if err != nil {
			t.Fatal(err)
		}
		return string(data)
	}
	write := func(path, text string) {
		full := filepath.Join(dir, "wardrobe", path)
		if err := os.MkdirAll(filepath.Dir(full), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(full, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	_, list := pageAt(t, forShelves)
	for _, b := range list {
		if b.write == "wardrobe/.pre-commit-config.yaml" {
			write(".pre-commit-config.yaml", b.text)
		}
	}
	write("patterns/dress.yaml", pattern("stock-dress"))
	begin("wardrobe")
	run("wardrobe", false, "pre-commit", "install")
	if out := run("wardrobe", false, "git", "commit", "-m", "a dress"); !strings.Contains(out, "Passed") {
		t.Errorf("the dress: %s", out)
	}
	write("patterns/blouse.yaml", pattern("untested-blouse"))
	write("notes.txt", "to do")
	run("wardrobe", false, "git", "add", "notes.txt")
	if out := run("wardrobe", false, "git", "commit", "-m", "notes"); !strings.Contains(out, "Skipped") {
		t.Errorf("the notes: %s", out)
	}
	run("wardrobe", false, "git", "add", ".")
	if out := run("wardrobe", true, "git", "commit", "-m", "a blouse"); !strings.Contains(out, "(seam-length)") || !strings.Contains(out, "exit code: 3") {
		t.Errorf("the blouse: %s", out)
	}
}
