package main

import (
	"fmt"

	"bygone.example/core/chain"
)

// progress shows which step is running, or how many files are done, on a terminal only: one line, wiped
// when done.
type progress struct {
	s     *streams
	total int
}

func newProgress(s *streams, total int) *progress { return &progress{s, total} }

func (p *progress) step(n int, step chain.Step) {
	if p.s.terminal() {
		fmt.Fprintf(p.s.out, "\r\x1b[K%d of %d  %s", n+1, p.total, step.Name)
	}
}

// files shows how many of several files are done.
func (p *progress) files(done, total int) {
	if p.s.terminal() {
		fmt.Fprintf(p.s.out, "\r\x1b[K%d of %d files", done, total)
	}
}

func (p *progress) done() {
	if p.s.terminal() {
		fmt.Fprint(p.s.out, "\r\x1b[K")
	}
}
