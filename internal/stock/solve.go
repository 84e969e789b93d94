package stock

import (
	"fmt"
	"math"
)

// solved is how near, in mm or radians, a solution must come: a thousandth of
// the last decimal that pattern files keep.
const solved = 1e-10

// solve finds x near x0 at which every value of f is nought, by Newton's
// method with measured slopes. f returns as many values as it is given.
func solve(what string, f func(x []float64) []float64, x0 ...float64) ([]float64, error) {
	x := x0
	for range 50 {
		y := f(x)
		if worst(y) < solved {
			return x, nil
		}
		const h = 1e-5
		n := len(x)
		rows := make([][]float64, n)
		for i := range rows {
			rows[i] = make([]float64, n+1)
			rows[i][n] = y[i]
		}
		for j := range n {
			up, down := append([]float64(nil), x...), append([]float64(nil), x...)
			up[j], down[j] = up[j]+h, down[j]-h
			yu, yd := f(up), f(down)
			for i := range n {
				rows[i][j] = (yu[i] - yd[i]) / (2 * h)
			}
		}
		step, ok := eliminate(rows)
		if !ok {
			break
		}
		next := make([]float64, n)
		for i := range n {
			next[i] = x[i] - step[i]
		}
		x = next
	}
	return nil, fmt.Errorf("drafting %s: no solution near %v for this body", what, x0)
}

func worst(y []float64) float64 {
	var w float64
	for _, v := range y {
		if math.IsNaN(v) {
			return math.Inf(1)
		}
		w = max(w, math.Abs(v))
	}
	return w
}

// eliminate solves a small linear system whose rows carry their right side as
// the last column; ok is false when it is singular.
func eliminate(rows [][]float64) (x []float64, ok bool) {
	n := len(rows)
	for i := range n {
		best := i
		for k := i + 1; k < n; k++ {
			if math.Abs(rows[k][i]) > math.Abs(rows[best][i]) {
				best = k
			}
		}
		rows[i], rows[best] = rows[best], rows[i]
		if p := rows[i][i]; p == 0 || math.IsNaN(p) {
			return nil, false
		}
		for k := i + 1; k < n; k++ {
			q := rows[k][i] / rows[i][i]
			for j := i; j <= n; j++ {
				rows[k][j] -= q * rows[i][j]
			}
		}
	}
	x = make([]float64, n)
	for i := n - 1; i >= 0; i-- {
		x[i] = rows[i][n]
		for j := i + 1; j < n; j++ {
			x[i] -= rows[i][j] * x[j]
		}
		x[i] /= rows[i][i]
	}
	return x, true
}
