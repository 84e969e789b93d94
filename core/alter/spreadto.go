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
