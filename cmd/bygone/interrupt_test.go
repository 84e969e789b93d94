package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"syscall"
	"testing"
	"time"

	"bygone.example/internal/testtool"
)

// Whenever the demo is interrupted, it has written its folder whole or not at
// all, an older one is whole too, and nothing temporary is left.
func TestInterruptedAnywhere(t *testing.T) {
	if runtime.GOOS == "windows" {
		testtool.Skip(t, "no program can be sent a signal here")
	}
	program, err := exec.LookPath("bygone") // this binary, as TestMain has put it on PATH
	if err != nil {
		t.Fatal(err)
	}
	temp, err := os.MkdirTemp("", "by") // a short path for sockets
	if err != nil {
		t.Fatal(err)
	}
	defer os.RemoveAll(temp)
	work := t.TempDir()
	demo := func(out string) *exec.Cmd {
		cmd := exec.Command(program, "demo", "-o", out)
		cmd.Dir, cmd.Env = work, append(os.Environ(), "TMPDIR="+temp)
		return cmd
	}
	began := time.Now()
	if out, err := demo("whole").CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	whole := folder(t, filepath.Join(work, "whole"))
	const tries = 16
	pause := time.Since(began) / tries * 5 / 4 // the last ones come too late
	codes := map[int]int{}
	for i := range tries {
		out := fmt.Sprintf("out%d", i)
		if i%2 == 1 {
			out = "whole"
		}
		cmd := demo(out)
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(i) * pause)
		signal := []os.Signal{os.Interrupt, syscall.SIGTERM, syscall.SIGHUP}[i%3]
		if err := cmd.Process.Signal(signal); err != nil && !errors.Is(err, os.ErrProcessDone) {
			t.Fatal(err)
		}
		if err := cmd.Wait(); err != nil && cmd.ProcessState == nil {
			t.Fatal(err)
		}
		code := cmd.ProcessState.ExitCode()
		codes[code]++
		// -1: the signal came before the program could listen for it.
		if code != exitClean && code != exitBroken && code != -1 {
			t.Errorf("%v after %v: exit code %d", signal, time.Duration(i)*pause, code)
		}
		now := folder(t, filepath.Join(work, out))
		if there := code == exitClean || out == "whole"; there && !slices.Equal(now, whole) || !there && now != nil {
			t.Errorf("%v after %v: exit code %d, and %s holds %v", signal, time.Duration(i)*pause, code, out, now)
		}
		if left := leftovers(temp, work); len(left) > 0 {
			t.Errorf("%v after %v: left behind: %v", signal, time.Duration(i)*pause, left)
		}
	}
	if codes[exitBroken] == 0 {
		t.Errorf("no run was interrupted: exit codes %v", codes)
	}
}

// folder lists the files of a folder with their sizes, nil where there is none.
func folder(t *testing.T, dir string) []string {
	t.Helper()
	var list []string
	err := fs.WalkDir(os.DirFS(dir), ".", func(path string, e fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		info, err := e.Info()
		if err == nil && !e.IsDir() {
			list = append(list, fmt.Sprintf("%s %d", path, info.Size()))
		}
		return err
	})
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		t.Fatal(err)
	}
	return list
}
