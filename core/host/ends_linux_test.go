package host_test

import (
	"bufio"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"bygone.example/core/host"
	"bygone.example/internal/hostile"
)

// children returns the processes whose parent is pid.
func children(t *testing.T, pid int) []int {
	t.Helper()
	var found []int
	stats, err := filepath.Glob("/proc/[0-9]*/stat")
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range stats {
		if id, parent, state := stat(path); parent == pid && state != "Z" {
			found = append(found, id)
		}
	}
	return found
}

func stat(path string) (pid, parent int, state string) {
	b, err := os.ReadFile(path)
	if err != nil {
		return 0, 0, ""
	}
	open, shut := strings.IndexByte(string(b), '('), strings.LastIndexByte(string(b), ')')
	fields := strings.Fields(string(b[shut+1:]))
	pid, _ = strconv.Atoi(strings.TrimSpace(string(b[:open])))
	parent, _ = strconv.Atoi(fields[1])
	return pid, parent, fields[0]
}

// gone reports whether a process ends within d.
func gone(pid int, d time.Duration) bool {
	for end := time.Now().Add(d); time.Now().Before(end); time.Sleep(10 * time.Millisecond) {
		if id, _, state := stat(fmt.Sprintf("/proc/%d/stat", pid)); id == 0 || state == "Z" {
			return true
		}
	}
	return false
}

func TestCloseLeavesNobody(t *testing.T) {
	before := len(children(t, os.Getpid()))
	s, err := host.Start(t.Context(), candidates(t, hostile.Good, hostile.IgnoresTheHost, hostile.Hangs), host.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if n := len(children(t, os.Getpid())) - before; n != 3 {
		t.Errorf("%d processes run, want 3: one for each plugin", n)
	}
	began := time.Now()
	s.Close()
	if took := time.Since(began); took > 1500*time.Millisecond {
		t.Errorf("Close took %v", took)
	}
	if left := children(t, os.Getpid()); len(left) != before {
		t.Errorf("left running: %v", left)
	}
}

// A child of a plugin goes with it; one that runs away is not waited for.
func TestChildrenOfPlugins(t *testing.T) {
	for _, test := range []struct {
		name string
		dies bool
	}{{hostile.LeavesChild, true}, {hostile.LeavesRunaway, false}} {
		t.Run(test.name, func(t *testing.T) {
			before := sleepers(t)
			s, err := host.Start(t.Context(), candidates(t, test.name), host.Options{})
			if err != nil {
				t.Fatal(err)
			}
			var child int
			for pid := range sleepers(t) {
				if !before[pid] {
					child = pid
				}
			}
			if child == 0 {
				t.Fatal("no child was left: the fixture is of no use")
			}
			defer func() {
				if p, err := os.FindProcess(child); err == nil && !test.dies {
					p.Kill()
				}
			}()
			began := time.Now()
			s.Close()
			if took := time.Since(began); took > 3*time.Second {
				t.Errorf("Close took %v", took)
			}
			if test.dies && !gone(child, 2*time.Second) {
				t.Errorf("child %d is left running", child)
			}
		})
	}
}

// sleepers returns the processes that leaveChild starts.
func sleepers(t *testing.T) map[int]bool {
	t.Helper()
	found := map[int]bool{}
	paths, err := filepath.Glob("/proc/[0-9]*/cmdline")
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range paths {
		b, err := os.ReadFile(path)
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if string(b) == "sleep\x00600\x00" {
			pid, _ := strconv.Atoi(filepath.Base(filepath.Dir(path)))
			found[pid] = true
		}
	}
	return found
}

// When the host is killed outright, its plugins die.
func TestHostIsKilled(t *testing.T) {
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	dir, err := os.MkdirTemp("", "by") // who is killed outright leaves its folder
	if err != nil {
		t.Fatal(err)
	}
	defer os.RemoveAll(dir)
	victim := exec.Command(self, victimArgument)
	victim.Env = append(os.Environ(), "TMPDIR="+dir)
	out, err := victim.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := victim.Start(); err != nil {
		t.Fatal(err)
	}
	line, err := bufio.NewReader(out).ReadString('\n')
	if line != "started\n" {
		t.Fatalf("victim says %q, %v", line, err)
	}
	plugins := children(t, victim.Process.Pid)
	if len(plugins) != 2 {
		t.Errorf("victim has %d plugins, want 2", len(plugins))
	}
	time.Sleep(100 * time.Millisecond) // and they do not die with the thread that started them
	if again := children(t, victim.Process.Pid); len(again) != 2 {
		t.Errorf("victim has %d plugins after a while, want 2", len(again))
	}
	victim.Process.Kill()
	victim.Wait()
	for _, pid := range plugins {
		if !gone(pid, 2*time.Second) {
			t.Errorf("plugin %d outlives its host", pid)
		}
	}
}

// A plugin that is stopped cannot answer that it will end.
func TestCloseStopped(t *testing.T) {
	before := children(t, os.Getpid())
	s, err := host.Start(t.Context(), candidates(t, hostile.Good), host.Options{})
	if err != nil {
		t.Fatal(err)
	}
	stopped := 0
	for _, pid := range children(t, os.Getpid()) {
		if !slices.Contains(before, pid) {
			syscall.Kill(pid, syscall.SIGSTOP)
			waitStopped(t, pid)
			stopped++
		}
	}
	if stopped != 1 {
		t.Fatalf("%d plugins were stopped, want 1", stopped)
	}
	began := time.Now()
	s.Close()
	if took := time.Since(began); took > 2*time.Second {
		t.Errorf("Close took %v, want about half a second", took)
	}
	if left := children(t, os.Getpid()); len(left) != len(before) {
		t.Errorf("left running: %v", left)
	}
}

// waitStopped waits until the process has stopped: the signal is under way for a
// moment, in which a plugin still answers.
func waitStopped(t *testing.T, pid int) {
	t.Helper()
	for range 1000 {
		stat, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", pid))
		if err != nil {
			t.Fatal(err)
		}
		// The state follows the name, which stands in parentheses.
		if _, rest, ok := strings.Cut(string(stat), ") "); ok && strings.HasPrefix(rest, "T") {
			return
		}
		time.Sleep(time.Millisecond)
	}
	t.Fatalf("process %d did not stop", pid)
}
