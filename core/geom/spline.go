package geom

// Smooth returns the curve of least bending through the points: a cubic
// spline, tangent and curvature continuous at every point, parametrised by
// chord length. startDir and endDir, where not zero, fix the tangents at the
// ends; a zero direction leaves that end free. Fewer than two points give an
// empty path, two points with free ends a straight line.
func Smooth(points []Point, startDir, endDir Point) Path {
	var q []Point
	for _, p := range points {
		if len(q) == 0 || p != q[len(q)-1] {
			q = append(q, p)
		}
	}
	n := len(q) - 1
	if n < 1 {
		return nil
	}
	if n == 1 && startDir == (Point{}) && endDir == (Point{}) {
		return Path{Line(q[0], q[1])}
	}
	h := make([]float64, n)
	for i := range h {
		h[i] = q[i+1].Dist(q[i])
	}
	// The velocities v solve a tridiagonal system: curvature continuity inside,
	// a given unit speed tangent or no curvature at the ends.
	lower, diag, upper := make([]float64, n+1), make([]float64, n+1), make([]float64, n+1)
	rhs := make([]Point, n+1)
	if startDir != (Point{}) {
		diag[0], rhs[0] = 1, startDir.Unit()
	} else {
		diag[0], upper[0], rhs[0] = 2, 1, q[1].Sub(q[0]).Mul(3/h[0])
	}
	for i := 1; i < n; i++ {
		lower[i], diag[i], upper[i] = h[i], 2*(h[i-1]+h[i]), h[i-1]
		rhs[i] = q[i].Sub(q[i-1]).Mul(3 * h[i] / h[i-1]).Add(q[i+1].Sub(q[i]).Mul(3 * h[i-1] / h[i]))
	}
	if endDir != (Point{}) {
		diag[n], rhs[n] = 1, endDir.Unit()
	} else {
		lower[n], diag[n], rhs[n] = 1, 2, q[n].Sub(q[n-1]).Mul(3/h[n-1])
	}
	for i := 1; i <= n; i++ {
		k := lower[i] / diag[i-1]
		diag[i] -= k * upper[i-1]
		rhs[i] = rhs[i].Sub(rhs[i-1].Mul(k))
	}
	v := make([]Point, n+1)
	for i := n; i >= 0; i-- {
		v[i] = rhs[i]
		if i < n {
			v[i] = v[i].Sub(v[i+1].Mul(upper[i]))
		}
		v[i] = v[i].Mul(1 / diag[i])
	}
	path := make(Path, n)
	for i := range path {
		path[i] = Hermite(q[i], v[i].Mul(h[i]), q[i+1], v[i+1].Mul(h[i]))
	}
	return path
}
