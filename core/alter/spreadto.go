package alter

import "math"

// spreadTo returns the piece with slashes opened until edge i measures target
// mm, within tol. opened places the slashes for a growth of the edge: drawing it
// smoothly afterwards takes off a little of what they give, so the growth is
// found by the secant method. ok is false where none is found; an error is a
// slash's own.
func (w *work) spreadTo(i int, target, tol float64, opened func(growth float64) []slash) (c *work, ok bool, err error) {
	const tries = 30
	growth := target - w.lines[i].length()
	last, lastMiss := 0.0, -growth
	if math.Abs(lastMiss) <= tol {
		return w, true, nil
	}
	for range tries {
		c = w.copy()
		if err := c.spread(opened(growth)); err != nil {
			return nil, false, err
		}
		miss := c.lines[i].length() - target
		if math.Abs(miss) <= tol {
			return c, true, nil
		}
		if miss == lastMiss {
			break
		}
		growth, last, lastMiss = growth-miss*(growth-last)/(miss-lastMiss), growth, miss
	}
	return nil, false, nil
}

// spreadBothTo is spreadTo for slashes that open two edges, which are to come to
// a target each: what fairing takes off is not the same on both. The openings
// differ by that little, so the parts turn by less than anybody could draw.
func (w *work) spreadBothTo(i int, target float64, j int, far, tol float64, opened func(growth, farGrowth float64) []slash) (c *work, ok bool, err error) {
	const tries = 30
	growth, farGrowth := target-w.lines[i].length(), far-w.lines[j].length()
	for range tries {
		c = w.copy()
		if err := c.spread(opened(growth, farGrowth)); err != nil {
			return nil, false, err
		}
		miss, farMiss := c.lines[i].length()-target, c.lines[j].length()-far
		if math.Abs(miss) <= tol && math.Abs(farMiss) <= tol {
			return c, true, nil
		}
		// An edge grows by nearly what its slashes open.
		growth, farGrowth = growth-miss, farGrowth-farMiss
	}
	return nil, false, nil
}
