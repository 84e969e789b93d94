package geom

import (
	"math"
	"testing"
)

// TestGaussNodes works the nodes and weights out again: the nodes are the roots
// of the Legendre polynomial of degree 16, the weight at root x is
// 2 / ((1 − x²) P'(x)²).
func TestGaussNodes(t *testing.T) {
	const n = 16
	legendre := func(x float64) (p, slope float64) {
		before, p := 1.0, x
		for k := 2; k <= n; k++ { // k Pk = (2k−1) x Pk−1 − (k−1) Pk−2
			before, p = p, (float64(2*k-1)*x*p-float64(k-1)*before)/float64(k)
		}
		return p, n * (x*p - before) / (x*x - 1)
	}
	var sum float64
	for i, x := range gaussNodes {
		root := math.Cos(math.Pi * (float64(n/2-1-i) + 0.75) / (n + 0.5)) // near the root, then Newton
		for range 20 {
			p, slope := legendre(root)
			root -= p / slope
		}
		_, slope := legendre(root)
		weight := 2 / ((1 - root*root) * slope * slope)
		if math.Abs(x-root) > 2e-15 {
			t.Errorf("gaussNodes[%d] = %.18g, want %.18g", i, x, root)
		}
		if math.Abs(gaussWeights[i]-weight) > 2e-14 {
			t.Errorf("gaussWeights[%d] = %.18g, want %.18g", i, gaussWeights[i], weight)
		}
		sum += 2 * gaussWeights[i]
	}
	if math.Abs(sum-2) > 1e-15 {
		t.Errorf("the weights add up to %.18g, want 2", sum)
	}
}
