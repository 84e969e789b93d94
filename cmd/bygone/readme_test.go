package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// The main command of the README, as it is written there, does the whole job.
func TestReadmeAlters(t *testing.T) {
	root := filepath.Join("..", "..")
	data, err := os.ReadFile(filepath.Join(root, "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(data)) {
		words := strings.Fields(line)
		if !strings.HasPrefix(line, "    ./bygone alter testdata/") || len(words) < 4 || words[len(words)-2] != "-o" {
			continue
		}
		out := filepath.Join(t.TempDir(), "out")
		cmd := exec.Command("bygone", append(words[1:len(words)-1], out)...)
		cmd.Dir = root
		if told, err := cmd.CombinedOutput(); err != nil {
			t.Fatalf("%s: %v\n%s", strings.TrimSpace(line), err, told)
		}
		if _, err := os.Stat(filepath.Join(out, "report.html")); err != nil {
			t.Error(err)
		}
		return
	}
	t.Error("the README has no command that alters what lies in testdata")
}
