package operation

// Values are the parameters of one step, defaults filled in. A parameter that
// was neither set nor has a default is absent: the operation finds its own.
type Values map[string]Value

// Value is one parameter's value. Number is in mm for a length, radians for an
// angle, bare for a ratio or count, 1 or 0 for a switch; Text is the choice, or
// the name of a thing or of another pattern.
type Value struct {
	Kind   Kind
	Number float64
	Text   string
}

// Number returns the value as a number; ok is false when it is absent.
func (v Values) Number(name string) (n float64, ok bool) {
	value, ok := v[name]
	return value.Number, ok
}

// Or returns the number, or fallback when it is absent.
func (v Values) Or(name string, fallback float64) float64 {
	if n, ok := v.Number(name); ok {
		return n
	}
	return fallback
}

// Text returns the text, empty when absent.
func (v Values) Text(name string) string { return v[name].Text }

// On reports whether a switch is on.
func (v Values) On(name string) bool { return v[name].Number != 0 }
