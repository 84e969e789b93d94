package unit

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
)

// Error is text that was not understood: what is wrong, and what to write.
type Error struct{ Text, Remedy string }

// Error gives both parts.
func (e *Error) Error() string {
	if e.Remedy == "" {
		return e.Text
	}
	return e.Text + "; " + e.Remedy
}

func refuse(remedy, format string, args ...any) error {
	return &Error{Text: fmt.Sprintf(format, args...), Remedy: remedy}
}

// maxText bounds what is looked at: no length takes more characters to write.
const maxText = 64

// lengthUnits holds mm per unit. An inch is 25.4 mm exactly (international
// yard and pound agreement, 1959).
var lengthUnits = map[string]float64{
	"mm": 1, "cm": 10, "m": 1000,
	"in": 25.4, "inch": 25.4, "inches": 25.4, `"`: 25.4, "″": 25.4, "”": 25.4,
	"yd": 914.4,
}

var angleUnits = map[string]float64{"deg": math.Pi / 180, "degrees": math.Pi / 180, "°": math.Pi / 180}

// ParseLength reads a length with its unit and returns mm: 3cm, 15mm, 5/8in,
// 1 1/2in, 1½", 64 mm, -2cm. A bare number is refused, as are numbers that are
// not ordinary and lengths beyond MaxLength.
func ParseLength(text string) (mm float64, err error) {
	const example = "write for instance 64mm, 6.4cm or 2 1/2in"
	mm, err = withUnit(text, "a length", "mm", example, lengthUnits)
	if err == nil && math.Abs(mm) > MaxLength {
		return 0, refuse("the longest length taken is 100m", "%s is too long for any cloth", quote(text))
	}
	return mm, err
}

// ParseAngle reads an angle in degrees (12deg, 12°) and returns radians. A
// bare number is refused, and more than a full turn.
func ParseAngle(text string) (rad float64, err error) {
	rad, err = withUnit(text, "an angle", "deg", "write for instance 12deg", angleUnits)
	if err == nil && math.Abs(rad) > 2*math.Pi {
		return 0, refuse("angles go from -360deg to 360deg", "%s is more than a full turn", quote(text))
	}
	return rad, err
}

// ParseNumber reads a number without a unit: 1.45, 3/2, 1 1/2. It is how
// ratios and counts are written.
func ParseNumber(text string) (float64, error) {
	n, rest, err := number(text, "a number", "write for instance 1.5")
	if err != nil {
		return 0, err
	}
	if rest != "" {
		return 0, refuse("write the number alone, for instance 1.5", "%s has %s after the number", quote(text), quote(rest))
	}
	if math.Abs(n) > MaxLength {
		return 0, refuse("write a number up to 100000", "%s is too large", quote(text))
	}
	return n, nil
}

func withUnit(text, what, usual, example string, units map[string]float64) (float64, error) {
	n, name, err := number(text, what, example)
	if err != nil {
		return 0, err
	}
	if name == "" {
		shown := strings.TrimSpace(text)
		return 0, refuse(fmt.Sprintf("write %s%s if that is what is meant", shown, usual), "%s needs a unit", quote(shown))
	}
	per, ok := units[strings.ToLower(name)]
	if !ok {
		return 0, refuse(example, "%s is not a unit of %s", quote(name), strings.TrimPrefix(strings.TrimPrefix(what, "a "), "an "))
	}
	return n * per, nil
}

// fractions are the ready-made ones that people paste.
var fractions = strings.NewReplacer("¼", " 1/4", "½", " 1/2", "¾", " 3/4", "⅓", " 1/3", "⅔", " 2/3",
	"⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8", "−", "-", "⁄", "/")

// number reads the number at the start of text (whole, decimal, fraction, or
// whole and fraction) and returns what follows it, trimmed.
func number(text, what, example string) (n float64, rest string, err error) {
	if len(text) > maxText {
		return 0, "", refuse(example, "%s is not %s", quote(text), what)
	}
	s := strings.TrimSpace(fractions.Replace(text))
	if s == "" {
		return 0, "", refuse(example, "%s is missing", what)
	}
	sign := 1.0
	if s[0] == '-' || s[0] == '+' {
		if s[0] == '-' {
			sign = -1
		}
		s = strings.TrimSpace(s[1:])
	}
	whole, s := digits(s)
	if whole == "" {
		return 0, "", refuse(example, "%s is not %s", quote(text), what)
	}
	if strings.HasPrefix(s, ",") {
		if frac, after := digits(s[1:]); frac != "" {
			fixed := strings.TrimSpace(whole + "." + frac + after)
			return 0, "", refuse("write "+fixed, "%s has a comma where a point should be", quote(text))
		}
	}
	if e := exponent(s); e != "" {
		return 0, "", refuse("write the number out in full", "%s is written with an exponent", quote(text))
	}
	n, ok := parse(whole)
	if !ok {
		return 0, "", refuse(example, "%s is not %s", quote(text), what)
	}
	top, after := digits(strings.TrimLeft(s, " "))
	switch {
	case strings.HasPrefix(s, "/"): // 5/8
		n, s, ok = fraction(n, s[1:])
	case top != "" && strings.HasPrefix(s, " ") && strings.HasPrefix(after, "/"): // 1 1/2
		var part float64
		if part, ok = parse(top); ok {
			part, s, ok = fraction(part, after[1:])
			n += part
		}
	}
	if !ok {
		return 0, "", refuse(example, "%s is not %s", quote(text), what)
	}
	return sign * n, strings.TrimSpace(s), nil
}

func fraction(top float64, s string) (n float64, rest string, ok bool) {
	bottom, rest := digits(s)
	b, ok := parse(bottom)
	if !ok || b == 0 {
		return 0, "", false
	}
	return top / b, rest, true
}

// digits splits off the leading digits and at most one decimal point.
func digits(s string) (number, rest string) {
	point := false
	for i := range len(s) {
		switch c := s[i]; {
		case c >= '0' && c <= '9':
		case c == '.' && !point:
			point = true
		default:
			return s[:i], s[i:]
		}
	}
	return s, ""
}

// exponent returns the e5 of 1e5, which a unit never begins with.
func exponent(s string) string {
	if s == "" || s[0] != 'e' && s[0] != 'E' {
		return ""
	}
	e := strings.TrimLeft(s[1:], "+-")
	if d, _ := digits(e); d != "" {
		return s
	}
	return ""
}

func parse(s string) (float64, bool) {
	n, err := strconv.ParseFloat(s, 64)
	return n, err == nil && !math.IsInf(n, 0) && !math.IsNaN(n)
}

// quote shows a stranger's text: cut, quoted, and with nothing in it that a
// terminal would obey.
func quote(s string) string {
	r := []rune(s)
	if len(r) > 40 {
		r = append(r[:39:39], '…')
	}
	for i, c := range r {
		if !unicode.IsPrint(c) {
			r[i] = '�'
		}
	}
	return `"` + string(r) + `"`
}
