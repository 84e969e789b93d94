package alter

import "testing"

// BenchmarkFinishes runs every finish on the stock dress.
func BenchmarkFinishes(b *testing.B) {
	p := dress(b)
	for _, f := range finishes {
		b.Run(f.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := f.do(p); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
