package main

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"image/png"
	"io"
	"io/fs"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"

	"bygone.example/core/host"
	"bygone.example/internal/hostile"
	"bygone.example/internal/testtool"
	"bygone.example/testdata"
)

var update = flag.Bool("update", false, "write the golden files of the scripts anew")

// TestMain makes this test binary the program, and each of the plugins that
// misbehave; scripts find them on PATH. Under its own name it is each of the
// house plugins too, for tests that start those without the program.
func TestMain(m *testing.M) {
	if len(os.Args) == 3 && os.Args[1] == host.HouseArgument {
		main()
	}
	commands := hostile.Commands()
	commands["bygone"] = main
	testscript.Main(m, commands)
}

// TestScripts runs the journeys in testdata/script. A script finds the
// project's patterns, chains and wearers in its folder. When it ends, whatever
// it did, no plugin may run and nothing temporary may be left.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 filepath.Join("testdata", "script"),
		UpdateScripts:       *update,
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup:               setUp,
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"exits":     exits,
			"interrupt": interrupt,
			"large":     large,
			"changed":   changed,
			"unsigned":  unsigned,
			"tree":      tree,
			"same":      sameFolders,
			"untouched": untouched,
			"pixels":    pixels,
			"needs":     needs,
		},
	})
}

func setUp(env *testscript.Env) error {
	if err := os.CopyFS(env.WorkDir, testdata.Demo); err != nil {
		return err
	}
	// A short path: the plugins' sockets lie under it.
	temp, err := os.MkdirTemp("", "by")
	if err != nil {
		return err
	}
	env.Setenv("TMPDIR", temp)
	env.Setenv("XDG_CACHE_HOME", filepath.Join(env.WorkDir, ".cache")) // nothing of a test's stays with the user
	program, err := exec.LookPath("bygone")
	if err != nil {
		return err
	}
	env.Setenv("BYGONE", program)
	env.Setenv("HOSTILE", filepath.Dir(program))
	env.Values[testKey{}] = env.T().(testing.TB)
	env.Defer(func() {
		defer os.RemoveAll(temp)
		for end := time.Now().Add(2 * time.Second); ; time.Sleep(20 * time.Millisecond) {
			left := leftovers(temp, env.WorkDir)
			if len(left) == 0 {
				return
			}
			if time.Now().After(end) {
				env.T().Fatal("left behind: " + strings.Join(left, ", "))
			}
		}
	})
	return nil
}

// leftovers lists the files in the temporary folder, the processes that work in
// it, as plugins do, and what was half written in the work folder.
func leftovers(temp, work string) []string {
	var left []string
	for _, p := range processesIn(temp) {
		left = append(left, fmt.Sprintf("process %d", p))
	}
	entries, err := os.ReadDir(temp)
	if err != nil {
		left = append(left, err.Error())
	}
	for _, e := range entries {
		left = append(left, e.Name())
	}
	err = filepath.WalkDir(work, func(path string, e fs.DirEntry, err error) error {
		if err == nil && strings.HasPrefix(e.Name(), ".") && (strings.Contains(e.Name(), ".new-") || strings.Contains(e.Name(), "probe")) {
			left = append(left, e.Name())
		}
		return nil
	})
	if err != nil {
		left = append(left, err.Error())
	}
	return left
}

// processesIn returns the processes whose working folder is in dir, where the
// system tells of that (Linux).
func processesIn(dir string) []int {
	var found []int
	links, _ := filepath.Glob("/proc/[0-9]*/cwd")
	for _, link := range links {
		if cwd, err := os.Readlink(link); err == nil && strings.HasPrefix(cwd, dir+"/") {
			if pid, err := strconv.Atoi(filepath.Base(filepath.Dir(link))); err == nil {
				found = append(found, pid)
			}
		}
	}
	return found
}

// testKey is where a script's own test is kept.
type testKey struct{}

// needs skips a script on systems other than it was written for: needs SYSTEM
// WHY
func needs(ts *testscript.TestScript, neg bool, args []string) {
	if runtime.GOOS != args[0] {
		testtool.Skip(ts.Value(testKey{}).(testing.TB), "this needs "+strings.Join(args, ": "))
	}
}

// exits runs a command and asserts its exit code: exits CODE COMMAND ARG…
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE COMMAND ARG…")
	}
	err := ts.Exec(args[1], args[2:]...)
	code := 0
	if exit, ok := errors.AsType[*exec.ExitError](err); ok {
		code = exit.ExitCode()
	} else if err != nil {
		ts.Fatalf("%v", err)
	}
	if strconv.Itoa(code) != args[0] {
		ts.Fatalf("%s exited with %d, want %s", args[1], code, args[0])
	}
}

// prompt is how long a program may take to end when it is asked to.
const prompt = 3 * time.Second

// interrupt runs a command, waits until as many plugins run, lets them get into
// their work, interrupts the command, and asserts its exit code and that it
// ends promptly: interrupt CODE PLUGINS COMMAND ARG…
func interrupt(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 3 {
		ts.Fatalf("usage: interrupt CODE PLUGINS COMMAND ARG…")
	}
	want, err := strconv.Atoi(args[1])
	ts.Check(err)
	path, err := exec.LookPath(args[2])
	ts.Check(err)
	cmd := exec.Command(path, args[3:]...)
	cmd.Args[0] = args[2]
	cmd.Dir = ts.MkAbs(".")
	cmd.Env = append(os.Environ(), "TMPDIR="+ts.Getenv("TMPDIR"))
	cmd.Stdout, cmd.Stderr = ts.Stdout(), ts.Stderr()
	stdin, err := cmd.StdinPipe() // stays open: reading it, the command waits
	ts.Check(err)
	defer stdin.Close()
	ts.Check(cmd.Start())
	for end := time.Now().Add(10 * time.Second); len(processesIn(ts.Getenv("TMPDIR"))) < want; time.Sleep(5 * time.Millisecond) {
		if time.Now().After(end) {
			cmd.Process.Kill()
			cmd.Wait()
			ts.Fatalf("%d plugins do not run after 10 s", want)
		}
	}
	time.Sleep(400 * time.Millisecond)
	ts.Check(cmd.Process.Signal(os.Interrupt))
	began := time.Now()
	ended := time.AfterFunc(2*prompt, func() { cmd.Process.Kill() })
	cmd.Wait()
	ended.Stop()
	if took := time.Since(began); took > prompt {
		ts.Fatalf("it took %v to end", took)
	}
	if code := strconv.Itoa(cmd.ProcessState.ExitCode()); code != args[0] {
		ts.Fatalf("it exited with %s, want %s", code, args[0])
	}
}

// large appends lines of comment to a file until it has so many MiB: large FILE
// MIB
func large(ts *testscript.TestScript, neg bool, args []string) {
	mib, err := strconv.Atoi(args[1])
	ts.Check(err)
	f, err := os.OpenFile(ts.MkAbs(args[0]), os.O_APPEND|os.O_WRONLY|os.O_CREATE, 0o644)
	ts.Check(err)
	line := []byte("# " + strings.Repeat("x", 61) + "\n")
	_, err = f.Write(bytes.Repeat(line, mib<<20/len(line)))
	ts.Check(errors.Join(err, f.Close()))
}

// changed writes a copy of a file in which one text, which must be there, is
// another: changed FILE COPY OLD NEW
func changed(ts *testscript.TestScript, neg bool, args []string) {
	was := ts.ReadFile(args[0])
	if !strings.Contains(was, args[2]) {
		ts.Fatalf("%s does not hold %q", args[0], args[2])
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[1]), []byte(strings.Replace(was, args[2], args[3], 1)), 0o644))
}

// tree prints the files in a folder, hidden ones included: tree DIR
func tree(ts *testscript.TestScript, neg bool, args []string) {
	ts.Check(fs.WalkDir(os.DirFS(ts.MkAbs(args[0])), ".", func(path string, e fs.DirEntry, err error) error {
		if err == nil && !e.IsDir() {
			fmt.Fprintln(ts.Stdout(), path)
		}
		return err
	}))
}

// same asserts that two folders hold the same files, byte for byte: same A B
func sameFolders(ts *testscript.TestScript, neg bool, args []string) {
	read := func(dir string) map[string]string {
		files := map[string]string{}
		root := os.DirFS(ts.MkAbs(dir))
		ts.Check(fs.WalkDir(root, ".", func(path string, e fs.DirEntry, err error) error {
			if err != nil || e.IsDir() {
				return err
			}
			data, err := fs.ReadFile(root, path)
			files[path] = string(data)
			return err
		}))
		return files
	}
	a, b := read(args[0]), read(args[1])
	for path := range a {
		if a[path] != b[path] {
			ts.Fatalf("%s is not the same in %s and %s", path, args[0], args[1])
		}
	}
	if len(a) != len(b) || len(a) == 0 {
		ts.Fatalf("%s has %d files, %s %d", args[0], len(a), args[1], len(b))
	}
}

// untouched asserts that the project's own inputs are as they were.
func untouched(ts *testscript.TestScript, neg bool, args []string) {
	ts.Check(fs.WalkDir(testdata.Demo, ".", func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		want, err := testdata.Demo.ReadFile(path)
		if err == nil && ts.ReadFile(path) != string(want) {
			err = fmt.Errorf("%s was changed", path)
		}
		return err
	}))
}

// pixels prints the size of a PNG: pixels FILE
func pixels(ts *testscript.TestScript, neg bool, args []string) {
	c, err := png.DecodeConfig(strings.NewReader(ts.ReadFile(args[0])))
	ts.Check(err)
	fmt.Fprintf(ts.Stdout(), "%d x %d\n", c.Width, c.Height)
}

var pageSize = regexp.MustCompile(`(?m)^Page size: +([\d.]+) x ([\d.]+) pts`)

// A piece drawn 100 mm longer takes a sheet 100 mm longer: the sheet is at true
// size, as another program reads it.
func TestSheetIsTrueSize(t *testing.T) {
	pdfinfo := testtool.Path(t, "pdfinfo", "poppler-utils")
	measure := func(height int) (wide, high float64) {
		folder := t.TempDir()
		pattern, pdf := filepath.Join(folder, "p.yaml"), filepath.Join(folder, "p.pdf")
		text := fmt.Sprintf(`bygone: pattern/1
name: cloth
pieces:
  - name: cloth
    cut: {count: 1}
    grain: [[100, 50], [100, 300]]
    edges:
      - {name: all, path: M 0 0 L 200 0 L 200 %[1]d L 0 %[1]d L 0 0, finish: open}
`, height)
		if err := os.WriteFile(pattern, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		var stderr strings.Builder
		if code := run([]string{"draw", pattern, "-o", pdf}, strings.NewReader(""), io.Discard, &stderr); code != exitClean {
			t.Fatalf("draw: %d: %s", code, stderr.String())
		}
		out, err := exec.Command(pdfinfo, pdf).CombinedOutput()
		if err != nil {
			t.Fatalf("pdfinfo: %v: %s", err, out)
		}
		size := pageSize.FindSubmatch(out)
		if size == nil || !regexp.MustCompile(`(?m)^Pages: +1$`).Match(out) {
			t.Fatalf("not one page: pdfinfo says %s", out)
		}
		mm := func(points []byte) float64 {
			n, err := strconv.ParseFloat(string(points), 64)
			if err != nil {
				t.Fatal(err)
			}
			return n * 25.4 / 72
		}
		return mm(size[1]), mm(size[2])
	}
	wide1, high1 := measure(400)
	wide2, high2 := measure(500)
	const within = 0.01 // mm: pdfinfo prints points to a few digits
	if math.Abs(high2-high1-100) > within || math.Abs(wide2-wide1) > within {
		t.Errorf("a sheet of %.2f x %.2f mm became one of %.2f x %.2f mm", wide1, high1, wide2, high2)
	}
	if wide1 < 200 || high1 < 400 {
		t.Errorf("a sheet of %.2f x %.2f mm holds no piece of 200 x 400 mm", wide1, high1)
	}
}

// What the scripts' last look depends on must be able to find something.
func TestLeftoversAreFound(t *testing.T) {
	temp, work := t.TempDir(), t.TempDir()
	if left := leftovers(temp, work); len(left) != 0 {
		t.Fatalf("in empty folders: %v", left)
	}
	socket := filepath.Join(temp, "bygone-1")
	if err := errors.Join(os.Mkdir(socket, 0o700), os.Mkdir(filepath.Join(work, ".out.new-1"), 0o700)); err != nil {
		t.Fatal(err)
	}
	plugin := exec.Command("sleep", "60")
	plugin.Dir = socket
	if err := plugin.Start(); err != nil {
		t.Fatal(err)
	}
	defer plugin.Wait()
	defer plugin.Process.Kill()
	want := []string{fmt.Sprintf("process %d", plugin.Process.Pid), "bygone-1", ".out.new-1"}
	if _, err := os.Stat("/proc/self/cwd"); err != nil {
		want = want[1:]
	}
	if left := leftovers(temp, work); strings.Join(left, " ") != strings.Join(want, " ") {
		t.Errorf("found %v, want %v", left, want)
	}
}

// signs are what the program says of itself in the files of a check.
var signs = regexp.MustCompile(`,\n "written": "bygone wrote [^"]*"|,\n "properties": {"written": "bygone wrote [^"]*"}|\(bygone wrote [^)]*\)\n|<!-- bygone wrote .* -->\n`)

// unsigned writes a file of a check without the sign in it: unsigned FILE OUT.
func unsigned(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: unsigned FILE OUT")
	}
	data := ts.ReadFile(args[0])
	if n := len(signs.FindAllString(data, -1)); n != 1 {
		ts.Fatalf("%s has %d signs", args[0], n)
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[1]), []byte(signs.ReplaceAllString(data, "")), 0o666))
}
