package matrix

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"bygone.example/core/pattern"
	"bygone.example/internal/stock"
)

// pieces is how many a pattern has that operations are timed on: as many as a
// lined dress with collar and cuffs.
const pieces = 12

// The bars: half of all operations take less than the first, none more than the
// second.
const (
	medianBar = time.Millisecond
	worstBar  = 10 * time.Millisecond
)

// filled fills a pattern up to so many pieces with linings of the ones it has,
// their edges left open.
func filled(p *pattern.Pattern) *pattern.Pattern {
	p = p.Clone()
	for i := 0; len(p.Pieces) < pieces; i++ {
		lining := p.Clone().Pieces[i]
		lining.Name += "-lining"
		lining.Role = ""
		for k := range lining.Edges {
			if lining.Edges[k].Finish == pattern.Sewn {
				lining.Edges[k].Finish = pattern.Open
			}
		}
		p.Pieces = append(p.Pieces, lining)
	}
	return p
}

// BenchmarkOperations times every operation at its defaults on a pattern of
// twelve pieces, as it is when a chain comes to it; its own line gives the
// median of one run. The last lines give the slowest, with -v all of them in one
// table, and hold them to the bars.
func BenchmarkOperations(b *testing.B) {
	homes, _, err := Homes()
	if err != nil {
		b.Fatal(err)
	}
	dress, err := stock.Dress()
	if err != nil {
		b.Fatal(err)
	}
	lady, err := Stock()
	if err != nil {
		b.Fatal(err)
	}
	type timed struct {
		name   string
		median time.Duration
	}
	var list []timed
	for _, op := range Operations() {
		home, ok := homes[op]
		if !ok {
			b.Errorf("%s works on no preparation", op)
			continue
		}
		p, err := Prepare(dress, home, lady)
		if err != nil {
			b.Fatal(err)
		}
		p = filled(p)
		if len(p.Pieces) != pieces {
			b.Fatalf("%s is timed on %d pieces", op, len(p.Pieces))
		}
		planned, err := plan(p, Asked(op))
		if err != nil {
			b.Fatalf("%s: %v", op, err)
		}
		median := time.Duration(-1)
		b.Run(op, func(b *testing.B) {
			var runs []time.Duration
			for b.Loop() {
				start := time.Now()
				if _, err := run(p, planned, lady); err != nil {
					b.Fatal(err)
				}
				runs = append(runs, time.Since(start))
			}
			slices.Sort(runs)
			median = runs[len(runs)/2]
			b.ReportMetric(float64(median.Microseconds())/1000, "median-ms")
		})
		if median >= 0 { // not left out by -bench
			list = append(list, timed{op, median})
		}
	}
	if len(list) < len(homes) {
		return
	}
	slices.SortStableFunc(list, func(x, y timed) int { return int(y.median - x.median) })
	var table strings.Builder
	for _, t := range list {
		fmt.Fprintf(&table, "%-26s %7.3f ms\n", t.name, float64(t.median.Microseconds())/1000)
	}
	median, worst := list[len(list)/2].median, list[0].median
	b.Run("together", func(b *testing.B) { // a benchmark of its own: what one with parts has to say is not shown
		for b.Loop() {
		}
		b.Logf("%d operations on %d pieces, median %v, worst %v\n%s", len(list), pieces, median, worst, table.String())
		if median > medianBar {
			b.Errorf("half of the operations take more than %v", medianBar)
		}
		if worst > worstBar {
			b.Errorf("%s takes %v, more than %v", list[0].name, worst, worstBar)
		}
	})
}
