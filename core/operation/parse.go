package operation

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"bygone.example/core/pattern"
	"bygone.example/core/spelling"
	"bygone.example/core/unit"
)

// boundSlack is how far a number may lie beyond a parameter's bounds, relative
// to them, so that 5/8in is not refused where 15.875 mm is the most.
const boundSlack = 1e-9

// ParseValue reads the value of a parameter from text, as a chain file or a
// flag writes it. An error is a *Refusal: Why says what is wrong with the
// text, Instead what is allowed.
func ParseValue(p Parameter, text string) (Value, error) {
	v := Value{Kind: p.Kind}
	text = strings.TrimSpace(text)
	if text == "" {
		return Value{}, &Refusal{Why: p.Name + " has no value", Instead: p.Allowed()}
	}
	var err error
	switch p.Kind {
	case Length:
		v.Number, err = unit.ParseLength(text)
	case Angle:
		v.Number, err = unit.ParseAngle(text)
	case Ratio, Count:
		v.Number, err = unit.ParseNumber(text)
	case Choice:
		return parseChoice(p, text)
	case Switch:
		return parseSwitch(p, text)
	case Name:
		return parseName(p, text)
	case OtherPattern:
		if !pattern.ValidName(text) {
			return Value{}, &Refusal{Why: fmt.Sprintf("%s is %s, which cannot be a name", p.Name, quote(text)), Instead: p.Allowed()}
		}
		return Value{Kind: OtherPattern, Text: text}, nil
	default:
		return Value{}, &Refusal{Why: fmt.Sprintf("%s is of a kind that is not known: %q", p.Name, string(p.Kind)), Instead: "tell the plugin's author"}
	}
	if bad, ok := errors.AsType[*unit.Error](err); ok {
		return Value{}, &Refusal{Why: p.Name + ": " + bad.Text, Instead: bad.Remedy}
	}
	if p.Kind == Count && v.Number != math.Trunc(v.Number) {
		return Value{}, &Refusal{Why: fmt.Sprintf("%s is %s, which is not a whole number", p.Name, quote(text)), Instead: p.Allowed()}
	}
	if why := p.outside(v.Number); why != "" {
		return Value{}, &Refusal{Why: fmt.Sprintf("%s is %s, %s", p.Name, quote(text), why), Instead: p.Allowed()}
	}
	return v, nil
}

// outside says on which side of the parameter's bounds a number of ParseValue
// lies, empty when it is within.
func (p Parameter) outside(n float64) string {
	if p.Min == 0 && p.Max == 0 {
		return ""
	}
	if p.Kind == Angle {
		n *= 180 / math.Pi // bounds are in degrees
	}
	slack := boundSlack * math.Max(1, math.Max(math.Abs(p.Min), math.Abs(p.Max)))
	switch {
	case n < p.Min-slack:
		return "less than " + p.bound(p.Min)
	case n > p.Max+slack:
		return "more than " + p.bound(p.Max)
	}
	return ""
}

// bound writes one of the parameter's bounds as a chain file would.
func (p Parameter) bound(n float64) string {
	switch p.Kind {
	case Length:
		return unit.Float(n) + "mm"
	case Angle:
		return unit.Float(n) + "deg"
	}
	return unit.Float(n)
}

// Allowed says in words what the parameter takes: "write a length from 20mm to
// 120mm".
func (p Parameter) Allowed() string {
	bounds := ""
	if p.Min != 0 || p.Max != 0 {
		bounds = " from " + p.bound(p.Min) + " to " + p.bound(p.Max)
	}
	switch p.Kind {
	case Length:
		if bounds == "" {
			bounds = " with its unit, for instance 64mm or 2 1/2in"
		}
		return "write a length" + bounds
	case Angle:
		if bounds == "" {
			bounds = " with its unit, for instance 12deg"
		}
		return "write an angle" + bounds
	case Ratio:
		return "write a number" + bounds
	case Count:
		return "write a whole number" + bounds
	case Choice:
		return spelling.List(p.Choices)
	case Switch:
		return "write yes or no"
	case Name:
		return "write the name of a piece, edge, dart or seam, for instance front or front/waist"
	case OtherPattern:
		return "write the name of one of the patterns that the chain lists"
	}
	return ""
}

func parseChoice(p Parameter, text string) (Value, error) {
	for _, c := range p.Choices {
		if c == text {
			return Value{Kind: Choice, Text: c}, nil
		}
	}
	return Value{}, &Refusal{Why: fmt.Sprintf("%s cannot be %s", p.Name, quote(text)), Instead: spelling.Remedy(text, p.Choices)}
}

func parseSwitch(p Parameter, text string) (Value, error) {
	switch strings.ToLower(text) {
	case "yes", "true", "on":
		return Value{Kind: Switch, Number: 1}, nil
	case "no", "false", "off":
		return Value{Kind: Switch}, nil
	}
	return Value{}, &Refusal{Why: fmt.Sprintf("%s is %s, neither yes nor no", p.Name, quote(text)), Instead: p.Allowed()}
}

func parseName(p Parameter, text string) (Value, error) {
	parts := strings.Split(text, "/")
	for _, part := range parts {
		if len(parts) > 2 || !pattern.ValidDotted(part) {
			return Value{}, &Refusal{Why: fmt.Sprintf("%s is %s, which cannot be a name", p.Name, quote(text)), Instead: p.Allowed()}
		}
	}
	return Value{Kind: Name, Text: text}, nil
}

// quote shows a stranger's text: escaped, and not too long.
func quote(s string) string {
	r := []rune(s)
	if len(r) > 40 {
		s = string(r[:39]) + "…"
	}
	return fmt.Sprintf("%q", s)
}
