package shelf_test

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	yamlfile "bygone.example/core/format/yaml"
	"bygone.example/core/shelf"
	"bygone.example/internal/stock"
)

// large lays a repository of sound patterns of twelve pieces, no two of them
// equal, and returns its folder.
func large(b *testing.B, patterns int) string {
	p, err := stock.Twelve()
	if err != nil {
		b.Fatal(err)
	}
	text := yamlfile.Write(p)
	dir := b.TempDir()
	for i := range patterns {
		folder := filepath.Join(dir, fmt.Sprintf("%02d", i%100))
		if err := os.MkdirAll(folder, 0o755); err != nil {
			b.Fatal(err)
		}
		named := bytes.Replace(text, []byte("name: dress-and-under-dress"), fmt.Appendf(nil, "name: dress-%d", i), 1)
		if err := os.WriteFile(filepath.Join(folder, fmt.Sprintf("%d.yaml", i)), named, 0o644); err != nil {
			b.Fatal(err)
		}
	}
	return dir
}

// BenchmarkCheck checks repositories of three sizes, and one that has not
// changed since it was checked: what a pattern costs must not grow with their
// number.
func BenchmarkCheck(b *testing.B) {
	for _, patterns := range []int{100, 1000, 10_000} {
		dir := large(b, patterns)
		run := func(b *testing.B, o shelf.Options) {
			found, err := shelf.Find(context.Background(), []string{dir})
			if err != nil {
				b.Fatal(err)
			}
			r, err := shelf.Check(context.Background(), found, o)
			if err != nil {
				b.Fatal(err)
			}
			if n := r.Counts(); n.Sound != patterns || n.Pieces != 12*patterns {
				b.Fatalf("%d patterns: %+v", patterns, n)
			}
		}
		per := func(b *testing.B) {
			b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*patterns), "µs/pattern")
		}
		b.Run(fmt.Sprintf("%d", patterns), func(b *testing.B) {
			for b.Loop() {
				run(b, shelf.Options{})
			}
			per(b)
		})
		b.Run(fmt.Sprintf("%d-again", patterns), func(b *testing.B) {
			o := shelf.Options{Inspector: shelf.Inspector{Cache: shelf.NewCache(b.TempDir(), []byte("benchmark"))}}
			run(b, o)
			for b.Loop() {
				run(b, o)
			}
			per(b)
		})
	}
}
