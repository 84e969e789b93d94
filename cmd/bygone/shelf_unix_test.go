//go:build unix

package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"
	"unicode"

	yamlfile "bygone.example/core/format/yaml"
	"bygone.example/internal/stock"
	"bygone.example/testdata"
)

// nobody is a user who may read nothing that is closed to others; as root the
// program could read everything.
const nobody = 65534

// shared is a folder in which a user who is not the tester may work, with the
// program in it.
func shared(t *testing.T) (dir, program string) {
	t.Helper()
	dir, err := os.MkdirTemp("", "shelf")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
			if d != nil && d.IsDir() {
				os.Chmod(path, 0o755)
			}
			return nil
		})
		os.RemoveAll(dir)
	})
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	from, err := os.Open(self)
	if err != nil {
		t.Fatal(err)
	}
	defer from.Close()
	program = filepath.Join(dir, "bygone")
	to, err := os.OpenFile(program, os.O_CREATE|os.O_WRONLY, 0o755)
	if err != nil {
		t.Fatal(err)
	}
	_, err = io.Copy(to, from)
	if err := errors.Join(err, to.Close(), os.Chmod(dir, 0o755)); err != nil {
		t.Fatal(err)
	}
	return dir, program
}

// finished is how a run of the program ended.
type finished struct {
	code           int
	stdout, stderr string
	wall, cpu      time.Duration
	memory         int64 // bytes at most in use
}

func runIn(t *testing.T, folder, program string, unprivileged bool, args ...string) finished {
	t.Helper()
	cmd := exec.Command(program, args...)
	cmd.Args[0] = "bygone"
	cmd.Dir = folder
	cmd.Env = append(os.Environ(), "XDG_CACHE_HOME="+filepath.Join(filepath.Dir(program), "cache"))
	var stdout, stderr bytes.Buffer
	cmd.Stdout, cmd.Stderr = &stdout, &stderr
	if unprivileged && os.Geteuid() == 0 {
		cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: nobody, Gid: nobody}}
	}
	// What we have in use counts as the program's until it is itself.
	debug.FreeOSMemory()
	began := time.Now()
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	timer := time.AfterFunc(2*time.Minute, func() { cmd.Process.Kill() })
	cmd.Wait()
	timer.Stop()
	s := cmd.ProcessState
	f := finished{code: s.ExitCode(), stdout: stdout.String(), stderr: stderr.String(), wall: time.Since(began), cpu: s.UserTime() + s.SystemTime()}
	if usage, ok := s.SysUsage().(*syscall.Rusage); ok {
		f.memory = int64(usage.Maxrss)
		if runtime.GOOS == "linux" {
			f.memory <<= 10
		}
	}
	return f
}

// hostileRepository lays out all that a stranger could put into a repository to
// stop the check, or to have it do something else.
func hostileRepository(t *testing.T, dir string) {
	t.Helper()
	dress, err := testdata.Demo.ReadFile("patterns/stock-dress.yaml")
	if err != nil {
		t.Fatal(err)
	}
	write := func(path, text string) {
		full := filepath.Join(dir, path)
		if err := errors.Join(os.MkdirAll(filepath.Dir(full), 0o755), os.WriteFile(full, []byte(text), 0o644)); err != nil {
			t.Fatal(err)
		}
	}
	link := func(to, path string) {
		if err := errors.Join(os.MkdirAll(filepath.Dir(filepath.Join(dir, path)), 0o755), os.Symlink(to, filepath.Join(dir, path))); err != nil {
			t.Fatal(err)
		}
	}
	write("sound.yaml", string(dress))

	// Links that go round, lead out, or nowhere.
	link("..", "loops/up")
	link(".", "loops/here")
	link("self.yaml", "loops/self.yaml")
	link("/etc/passwd", "loops/passwd.yaml")
	link("/", "loops/root")

	// What may not be read, and what is no file.
	write("closed/file.yaml", string(dress))
	write("closed/folder/file.yaml", string(dress))
	if err := errors.Join(os.Chmod(filepath.Join(dir, "closed/file.yaml"), 0), os.Chmod(filepath.Join(dir, "closed/folder"), 0)); err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(syscall.Mkfifo(filepath.Join(dir, "pipe.yaml"), 0o644), os.MkdirAll(filepath.Join(dir, "folder.yaml"), 0o755)); err != nil {
		t.Fatal(err)
	}

	// Outlines of 100,000 points, over the bound, and just below it, crossing
	// itself all over.
	outline := func(points int) string {
		var b strings.Builder
		b.WriteString("bygone: pattern/1\nname: points\npieces:\n  - name: p\n    cut: {count: 1}\n    grain: [[10, 10], [10, 90]]\n    edges:\n      - {name: e, finish: open, path: \"M 0 0")
		for i := range points {
			fmt.Fprintf(&b, " L %.1f %.1f", float64((i*7919)%97+1)/10, float64((i*104729)%101+1)/10)
		}
		b.WriteString(" L 0 0\"}\n")
		return b.String()
	}
	write("points/100000.yaml", outline(100_000))
	write("points/9900.yaml", outline(9_900))

	// Names that a terminal would obey, or that lead elsewhere.
	for _, name := range []string{"\x1b[2J\x1b]0;x\a.yaml", "a\nb: fault.yaml", "..yaml", "....yaml", "-rf.yaml", "--format=json.yaml", "%2e%2e%2fx.yaml", "\xff\xfe.yaml", "\u202elmay.yaml", "$(id).yaml", "a b;'\".yaml", strings.Repeat("x", 250) + ".yaml"} {
		write(filepath.Join("names", name), "bygone: pattern/1\nname: ../../../tmp/x\n")
	}
	write("names/chain.yaml", "bygone: chain/1\nname: c\npatterns:\n  a: ../../../../../../../etc/passwd\n  b: ../../../../../../../etc/shadow\n  c: ../pipe.yaml\nsteps:\n  - step: notch.place\n")
	write("names/expects.yaml", "bygone: chain/1\nname: e\nexpect:\n  - {pattern: ../../../../../../../etc/passwd, result: ../../../../../../../etc/shadow}\n  - {pattern: ../pipe.yaml, result: ../sound.yaml}\nsteps:\n  - step: notch.place\n")
	write("names/rules.yaml", "bygone: rules/1\nexceptions:\n  - {code: seam-length, file: ../../../etc/passwd, reason: x}\n")

	// YAML that is deep, that multiplies, that is none.
	write("yaml/deep-flow.yaml", "bygone: pattern/1\nname: "+strings.Repeat("[", 50_000)+strings.Repeat("]", 50_000))
	write("yaml/deep-block.yaml", "bygone: pattern/1\n"+func() string {
		var b strings.Builder
		for i := range 1500 {
			fmt.Fprintf(&b, "%sa:\n", strings.Repeat(" ", i))
		}
		return b.String()
	}())
	write("yaml/aliases.yaml", "bygone: pattern/1\na: &a [x,x,x,x,x,x,x,x,x]\nb: &b [*a,*a,*a,*a,*a,*a,*a,*a,*a]\nc: &c [*b,*b,*b,*b,*b,*b,*b,*b,*b]\nd: &d [*c,*c,*c,*c,*c,*c,*c,*c,*c]\n")
	write("yaml/binary.yaml", "bygone: pattern/1\n\x00\x01\xff\xfe")
	write("yaml/numbers.yaml", strings.Replace(string(dress), "M 0 ", "M 1e308 ", 1))
	write("yaml/nan.yaml", strings.Replace(string(dress), "M 0 ", "M nan ", 1))
	write("yaml/keys.yaml", "bygone: pattern/1\n"+strings.Repeat("name: x\n", 100_000))
	write("yaml/open.yaml", "bygone: pattern/1\nname: \"")
	write("yaml/large.yaml", "bygone: pattern/1\n# "+strings.Repeat("x", 50<<20))

	// Very many, and very deep.
	for i := range 10_000 {
		write(fmt.Sprintf("empty/%02d/%d.yaml", i%100, i), "")
	}
	write(filepath.Join("deep", strings.Repeat("d/", 300), "x.yaml"), string(dress))
}

// snapshot lists what lies in a folder: names, kinds, sizes and times.
func snapshot(t *testing.T, dir string) (list []string) {
	t.Helper()
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return nil
		}
		info, err := d.Info()
		if err == nil {
			list = append(list, fmt.Sprintf("%q %v %d %v", path, info.Mode(), info.Size(), info.ModTime()))
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// A hostile repository is checked to its end: what is sound in it is found to be
// so, everything else is told, nothing in it or beside it is changed, and nothing
// of it reaches the terminal as it is.
func TestHostileRepository(t *testing.T) {
	dir, program := shared(t)
	repository, out := filepath.Join(dir, "repository"), filepath.Join(dir, "out")
	if err := errors.Join(os.Mkdir(repository, 0o755), os.Mkdir(out, 0o777), os.Chmod(out, 0o777)); err != nil {
		t.Fatal(err)
	}
	hostileRepository(t, repository)
	before := snapshot(t, dir)
	f := runIn(t, repository, program, true, "check", ".", "--no-cache", "--format", "json=../out/o.json", "--format", "sarif=../out/o.sarif", "--format", "junit=../out/o.xml", "--format", "text=../out/o.txt")
	if f.code != exitRefused {
		t.Fatalf("exit code %d\n%.3000s", f.code, f.stderr)
	}
	t.Logf("%v on the clock, %v of processor, %d MB", f.wall.Round(time.Millisecond), f.cpu.Round(time.Millisecond), f.memory>>20)
	if f.cpu > time.Minute || f.memory > 500<<20 {
		t.Errorf("it took %v of processor and %d MB", f.cpu, f.memory>>20)
	}
	for _, want := range []string{"sound", "passed over: 10000 empty files, 5 links, 1 thing that is no ordinary file"} {
		if !strings.Contains(f.stdout, want) {
			t.Errorf("standard output lacks %q:\n%.3000s", want, f.stdout)
		}
	}
	text, err := os.ReadFile(filepath.Join(out, "o.txt"))
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range []string{f.stdout, f.stderr, string(text)} {
		for _, r := range s {
			if r != '\n' && !unicode.IsPrint(r) && r != ' ' {
				t.Errorf("a terminal would be given %q", r)
				break
			}
		}
		if strings.Contains(s, "root:") {
			t.Error("what is in a file outside the repository is told")
		}
	}
	// Only what was asked for was written.
	after := snapshot(t, dir)
	entries, err := os.ReadDir(out)
	if err != nil || len(entries) != 4 {
		t.Errorf("%d files written, want 4: %v", len(entries), err)
	}
	after = slices.DeleteFunc(after, func(s string) bool { return strings.Contains(s, `/out"`) || strings.Contains(s, `/out/`) })
	before = slices.DeleteFunc(before, func(s string) bool { return strings.Contains(s, `/out"`) })
	if !slices.Equal(before, after) {
		t.Error("the repository, or what lies beside it, was changed")
	}
	// Everything is told, and as what it is.
	data, err := os.ReadFile(filepath.Join(out, "o.json"))
	if err != nil {
		t.Fatal(err)
	}
	var got struct {
		Files []struct {
			Path     string
			Refused  []struct{ Text string }
			Findings []struct{ Code string }
		}
	}
	if err := json.Unmarshal(data, &got); err != nil {
		t.Fatal(err)
	}
	said := map[string]string{}
	for _, c := range got.Files {
		s := ""
		for _, r := range c.Refused {
			s += r.Text + "; "
		}
		for _, f := range c.Findings {
			s += f.Code + "; "
		}
		said[c.Path] = s
	}
	for path, want := range map[string]string{
		"closed/file.yaml": "permission denied", "closed/folder": "permission denied",
		"points/100000.yaml": "more than 10000", "points/9900.yaml": "cross",
		"names/a\nb: fault.yaml": "is not a name", "names/-rf.yaml": "is not a name", "names/chain.yaml": "this is not a pattern file", "names/rules.yaml": "no file of the repository", "names/expects.yaml": "expect-broken; expect-broken",
		"yaml/deep-flow.yaml": "deep", "yaml/deep-block.yaml": "deep", "yaml/aliases.yaml": "stands for something written elsewhere", "yaml/binary.yaml": "character",
		"yaml/numbers.yaml": "beyond", "yaml/nan.yaml": "nan", "yaml/keys.yaml": "twice", "yaml/open.yaml": "ends inside the quotation", "yaml/large.yaml": "larger than",
	} {
		if !strings.Contains(said[path], want) {
			t.Errorf("%q: want %q, but it says %.300q", path, want, said[path])
		}
	}
	if s, ok := said["sound.yaml"]; !ok || s != "" {
		t.Errorf("the sound pattern: %q", s)
	}
	if _, ok := said["pipe.yaml"]; ok {
		t.Error("a pipe was checked")
	}
}

// Bars for a shared repository: a thousand patterns of twelve pieces.
const (
	barPatterns = 1000
	barTime     = 20 * time.Second // of processor: less than that on the clock of two cores
	barAgain    = 2 * time.Second  // with nothing changed
	barMemory   = 500 << 20
)

func TestThousandPatterns(t *testing.T) {
	dir, program := shared(t)
	p, err := stock.Twelve()
	if err != nil {
		t.Fatal(err)
	}
	text := yamlfile.Write(p)
	repository := filepath.Join(dir, "repository")
	if err := os.Mkdir(repository, 0o755); err != nil {
		t.Fatal(err)
	}
	for i := range barPatterns {
		named := bytes.Replace(text, []byte("name: dress-and-under-dress"), fmt.Appendf(nil, "name: dress-%d", i), 1)
		if err := os.WriteFile(filepath.Join(repository, fmt.Sprintf("%04d.yaml", i)), named, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for _, bar := range []time.Duration{barTime, barAgain} {
		f := runIn(t, repository, program, false, "check", ".")
		if want := fmt.Sprintf("%d patterns: everything goes together\n", barPatterns); f.code != exitClean || f.stdout != want {
			t.Fatalf("exit code %d\n%.2000s%.2000s", f.code, f.stdout, f.stderr)
		}
		t.Logf("%v on the clock, %v of processor, %d MB", f.wall.Round(time.Millisecond), f.cpu.Round(time.Millisecond), f.memory>>20)
		if f.cpu > bar || f.memory > barMemory {
			t.Errorf("it took %v of processor and %d MB, want no more than %v and %d MB", f.cpu, f.memory>>20, bar, barMemory>>20)
		}
	}
}
