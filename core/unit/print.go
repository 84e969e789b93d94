package unit

import (
	"math"
	"strconv"
	"strings"
)

// Decimals is how many decimals of a millimetre files keep. A nanometre is
// far below what a plotter can draw, and a file still shows a curve's numbers
// at a length that can be read.
const Decimals = 6

// MaxLength is the largest length in mm that is taken for cloth: a hundred
// metres. Anything above is a slip or an attack.
const MaxLength = 1e5

// Float writes a number for a file: at most Decimals decimals, none that say
// nothing, never an exponent and never -0. What is not an ordinary number
// becomes nan, inf or -inf, which no reader of ours accepts.
func Float(v float64) string {
	switch {
	case math.IsNaN(v):
		return "nan"
	case math.IsInf(v, 1):
		return "inf"
	case math.IsInf(v, -1):
		return "-inf"
	}
	return trimmed(v, Decimals)
}

// Round returns the number that a file gives back after Float wrote v. Round
// of a rounded number is itself as long as it stays within MaxLength. What is
// not an ordinary number is returned as it came.
func Round(v float64) float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return v
	}
	var buf [32]byte
	r, err := strconv.ParseFloat(string(strconv.AppendFloat(buf[:0], v, 'f', Decimals, 64)), 64)
	if err != nil {
		return v
	}
	return r + 0 // -0 + 0 is 0
}

// Length writes mm for people: 412.5 mm, 3.25 mm, 0.04 mm. The larger the
// length, the fewer decimals, down to tenths.
func Length(mm float64) string { return People(mm) + " mm" }

// Angle writes radians for people, in degrees to the tenth: 12.5°.
func Angle(rad float64) string { return ordinary(rad*180/math.Pi, 1) + "°" }

// Ratio writes a bare ratio for people, to the hundredth: 1.45.
func Ratio(r float64) string { return ordinary(r, 2) }

// People writes a number of mm as Length does, without the unit: tenths from
// 10 up, hundredths from 0.1, thousandths below.
func People(mm float64) string {
	switch a := math.Abs(mm); {
	case a >= 9.995: // from here on hundredths would round to 10
		return ordinary(mm, 1)
	case a >= 0.0995:
		return ordinary(mm, 2)
	default:
		return ordinary(mm, 3)
	}
}

func ordinary(v float64, decimals int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "not a number"
	}
	return trimmed(v, decimals)
}

func trimmed(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}
