package pairing

import "math"

// rounding, in mm, degrees or of a ratio, is by how much a figure must be over a
// tolerance to count as over it: what files round away. Without it, what lies
// exactly on a tolerance, as a notch moved by half a millimetre does, would be
// found or not depending on where the piece lies on the table.
const rounding = 1e-5

// over reports whether a figure, whatever its sign, is over a tolerance.
func over(v, tolerance float64) bool { return math.Abs(v) > tolerance+rounding }

// longer reports whether length a is longer than b by more than rounding.
func longer(a, b float64) bool { return a > b+rounding }
