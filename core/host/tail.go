package host

import (
	"bytes"
	"io"
	"slices"
	"strings"
	"sync"
)

// What is kept of a plugin's standard error, however much it writes.
const (
	// tailLines is about what fits below an error on one screen.
	tailLines = 12
	// tailRunes of a line, for a terminal of common width.
	tailRunes = 160
	// tailPartial bytes of a line are looked at; what follows is dropped.
	tailPartial = 1024
)

// tail keeps the last lines written to it, and the first line of the last
// crash, which a long stack pushes out of sight.
type tail struct {
	mu    sync.Mutex
	lines []string // the last, at most tailLines
	crash string   // empty when it is among lines, or there was none
	since int      // lines since the crash, its own included; 0 for none
}

func (t *tail) add(raw []byte) {
	line := clip(printable(string(raw)), tailRunes)
	if strings.TrimSpace(line) == "" {
		return
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	if strings.HasPrefix(line, "panic:") || strings.HasPrefix(line, "fatal error:") {
		t.crash, t.since = line, 0
	}
	if t.crash != "" {
		t.since++
	}
	if len(t.lines) == tailLines {
		t.lines = slices.Delete(t.lines, 0, 1)
	}
	t.lines = append(t.lines, line)
}

// last returns what was kept, oldest first.
func (t *tail) last() []string {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.crash == "" || t.since <= len(t.lines) {
		return slices.Clone(t.lines)
	}
	return append([]string{t.crash, "…"}, t.lines...)
}

// writer returns a writer of lines into the tail. Each stream needs its own.
func (t *tail) writer() io.Writer { return &tailWriter{tail: t} }

type tailWriter struct {
	tail    *tail
	partial []byte
}

// Write never fails and never holds more than a part of one line.
func (w *tailWriter) Write(b []byte) (int, error) {
	n := len(b)
	for len(b) > 0 {
		line, rest, found := bytes.Cut(b, []byte{'\n'})
		room := tailPartial - len(w.partial)
		w.partial = append(w.partial, line[:min(len(line), room)]...)
		if found {
			w.tail.add(w.partial)
			w.partial = w.partial[:0]
		}
		b = rest
	}
	return n, nil
}
