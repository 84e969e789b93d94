package main

import (
	"io"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"bygone.example/core/chain"
	yamlfile "bygone.example/core/format/yaml"
	"bygone.example/core/host"
	"bygone.example/core/pattern"
	"bygone.example/core/source"
	"bygone.example/core/wearer"
	"bygone.example/plugins/house"
	"bygone.example/testdata"
)

// demo is the demo's job, read and planned.
type demo struct {
	chain   chain.Chain
	pattern *pattern.Pattern
	body    wearer.Wearer
	plan    []chain.Planned
}

func readDemo(tb testing.TB) demo {
	tb.Helper()
	read := func(name string) []byte {
		data, err := testdata.Demo.ReadFile(name)
		if err != nil {
			tb.Fatal(err)
		}
		return data
	}
	var d demo
	var err error
	if d.pattern, err = yamlfile.Read(demoPattern, read(demoPattern)); err != nil {
		tb.Fatal(err)
	}
	if d.chain, err = yamlfile.ReadChain(demoChain, read(demoChain)); err != nil {
		tb.Fatal(err)
	}
	if d.body, err = yamlfile.ReadWearer(demoWearer, read(demoWearer)); err != nil {
		tb.Fatal(err)
	}
	d.plan, err = chain.Plan(d.chain, source.NewFile(demoChain, read(demoChain)), d.pattern, nil, inProcess.Offers())
	if err != nil {
		tb.Fatal(err)
	}
	return d
}

var inProcess = chain.InProcess(house.Plugins)

func (d demo) run(tb testing.TB, r chain.Runner) {
	if _, err := chain.Run(tb.Context(), d.chain, d.plan, d.pattern, d.body, r, chain.Options{}); err != nil {
		tb.Fatal(err)
	}
}

func (d demo) start(tb testing.TB) *host.Session {
	tb.Helper()
	s, missing, err := startFlags{Patience: patience(10 * time.Second)}.start(tb.Context(), d.chain.Plugins())
	if err != nil || len(missing) > 0 {
		tb.Fatal(err, missing)
	}
	return s.Session
}

// BenchmarkChain runs the demo's chain, its checks included, in this process,
// through plugins that are running, and through plugins that are started for it
// and ended after it, and reports the shortest time of each: ns/op is all three
// together. The house plugins are this binary, which knows how to be them.
func BenchmarkChain(b *testing.B) {
	d := readDemo(b)
	s := d.start(b)
	defer s.Close()
	d.run(b, s) // the plugins' first call is a little slower
	var direct, warm, cold []time.Duration
	// By turns, so that a busy machine slows all three alike.
	for b.Loop() {
		direct = append(direct, took(func() { d.run(b, inProcess) }))
		warm = append(warm, took(func() { d.run(b, s) }))
		cold = append(cold, took(func() {
			fresh := d.start(b)
			d.run(b, fresh)
			fresh.Close()
		}))
	}
	steps := float64(len(d.plan))
	in, through := least(direct), least(warm)
	b.ReportMetric(in, "in-process-ms")
	b.ReportMetric(through, "warm-ms")
	b.ReportMetric(least(cold), "cold-ms")
	b.ReportMetric(through/in, "warm/in-process")
	b.ReportMetric((through-in)/steps, "ms-more/step")
	b.ReportMetric(through/(1.25*in+steps), "of-what-is-allowed") // 1.25 × in process and 1 ms a step
}

// least of times in ms: what a machine that does nothing else would take.
func least(list []time.Duration) float64 { return slices.Min(list).Seconds() * 1e3 }

func took(f func()) time.Duration {
	began := time.Now()
	f()
	return time.Since(began)
}

// BenchmarkDemo is the whole of bygone demo but the start of its own process:
// plugins started, chain run, pictures and page made and written.
func BenchmarkDemo(b *testing.B) {
	out := filepath.Join(b.TempDir(), "out")
	for b.Loop() {
		if code := run([]string{"demo", "-o", out}, strings.NewReader(""), io.Discard, io.Discard); code != exitClean {
			b.Fatalf("exit code %d", code)
		}
	}
}

// BenchmarkCheck is the whole of bygone check on the stock dress.
func BenchmarkCheck(b *testing.B) {
	path := filepath.Join("..", "..", "testdata", filepath.FromSlash(demoPattern))
	for b.Loop() {
		if code := run([]string{"check", path}, strings.NewReader(""), io.Discard, io.Discard); code != exitClean {
			b.Fatalf("exit code %d", code)
		}
	}
}
