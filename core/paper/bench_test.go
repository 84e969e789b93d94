package paper

import (
	"bytes"
	"fmt"
	"testing"

	"bygone.example/core/pattern"
)

// twelve is a pattern of twelve pieces: the stock dress, the blouse, and two small
// ones once more.
func twelve(t testing.TB) *pattern.Pattern {
	p := stock(t, "stock-dress.yaml").Clone()
	p.Seams = nil
	for i, q := range append(stock(t, "untested-blouse.yaml").Pieces, p.Pieces[len(p.Pieces)-2:]...) {
		q.Name = fmt.Sprintf("more-%d", i)
		p.Pieces = append(p.Pieces, q)
	}
	if len(p.Pieces) != 12 {
		t.Fatalf("%d pieces, want 12", len(p.Pieces))
	}
	return p
}

// The bar: under 700 ms on two cores, the file under 1 MB; for sixty wearers under
// 15 s, that is 250 ms each.
func BenchmarkA4(b *testing.B) {
	p := twelve(b)
	for b.Loop() {
		var out bytes.Buffer
		s := lay(b, p, "a4", 0)
		if err := s.Document().PDF(&out); err != nil {
			b.Fatal(err)
		}
		x, y := s.pitch()
		area := 0.0
		for i := range p.Pieces {
			area += polygonArea(outlineOf(&p.Pieces[i]))
		}
		b.ReportMetric(float64(len(s.Pages)), "pages")
		b.ReportMetric(float64(len(s.Pages))/(area/x/y), "pages/bound")
		b.ReportMetric(float64(out.Len()), "bytes")
	}
}
