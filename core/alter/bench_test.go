package alter

import "testing"

// BenchmarkOperations runs every alteration of the house chain on the dress as
// it is when the chain comes to it.
func BenchmarkOperations(b *testing.B) {
	p := dress(b)
	for _, step := range job {
		from := p
		b.Run(step.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := step.do(from); err != nil {
					b.Fatal(err)
				}
			}
		})
		p = after(b, p, step.do)
	}
}
