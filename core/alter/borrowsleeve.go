package alter

import (
	"fmt"
	"math"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// sleeveBy makes a sleeve wider or narrower, and its head higher or lower, by a
// factor. What the sleeve gains or loses at the foot of its head goes out towards
// the hem; the foot goes up or down so far that the seam under the arm keeps its
// length, and the hem stays.
func sleeveBy(p *pattern.Pattern, factor float64) (*operation.Answer, error) {
	e := begin(p)
	a, err := e.arm()
	if err != nil {
		return nil, err
	}
	width := a.width()
	upWas, downWas := a.lines[a.up].length(), a.lines[a.down].length()
	resized := func(lift float64) *arm {
		t := a.copy()
		t.scaleHead(factor, factor)
		t.liftHead(lift)
		t.swingSide(t.up)
		t.swingSide(t.down)
		return t
	}
	longer := func(lift float64) float64 { // of the two, the one that comes out longer
		t := resized(lift)
		return math.Max(t.lines[t.up].length()-upWas, t.lines[t.down].length()-downWas)
	}
	lo, hi := -math.Abs(factor-1)*width, math.Abs(factor-1)*width
	short, long := longer(lo), longer(hi)
	if short > 0 || long < 0 {
		return nil, refuse(fmt.Sprintf("the borrowed sleeve cannot be made %.0f mm wide at its underarm with the seam there as long as it is", factor*width),
			"borrow from a pattern nearer the size")
	}
	a.take(resized(zero(longer, lo, short, hi, long)))
	for _, side := range []struct {
		i   int
		was float64
	}{{a.up, upWas}, {a.down, downWas}} {
		if err := a.roundTo(side.i, side.was, roundLimit); err != nil {
			return nil, err
		}
	}
	e.changed("sleeve, width at the foot of the head", a.Name, width, a.width(), "mm")
	e.caution(fmt.Sprintf("The borrowed sleeve is of another size: its width at the underarm went from %.0f to %.0f mm, less and less towards the hem.", width, a.width()))
	return a.finish()
}

// liftHead moves the head up from its foot, with the landmarks on it; the edges
// under the arm are to be brought to it.
func (a *arm) liftHead(by float64) {
	middle, up := a.headAxis()
	m := geom.Translation(up.Mul(by))
	path := a.lines[a.cap].path()
	for i := range a.Landmarks {
		if mark := &a.Landmarks[i]; up.Dot(mark.At.Sub(middle)) > -sideTolerance {
			if _, off := path.Nearest(mark.At); off <= sideTolerance {
				mark.At = m.Apply(mark.At)
			}
		}
	}
	a.lines[a.cap] = a.lines[a.cap].transform(m)
}
