package operation

import (
	"errors"
	"math"
	"testing"
)

func TestParseValue(t *testing.T) {
	below := Parameter{Name: "below-armscye", Kind: Length, Min: 15.875, Max: 120}
	tests := []struct {
		p    Parameter
		text string
		want Value
	}{
		{below, "64mm", Value{Length, 64, ""}},
		{below, "5/8in", Value{Length, 15.875, ""}},
		{below, "12cm", Value{Length, 120, ""}},
		{Parameter{Kind: Angle, Min: -90, Max: 90}, "90deg", Value{Angle, math.Pi / 2, ""}},
		{Parameter{Kind: Ratio}, "1.45", Value{Ratio, 1.45, ""}},
		{Parameter{Kind: Count, Min: 1, Max: 4}, "3", Value{Count, 3, ""}},
		{Parameter{Kind: Choice, Choices: []string{"hem", "band"}}, " band ", Value{Choice, 0, "band"}},
		{Parameter{Kind: Switch}, "yes", Value{Switch, 1, ""}},
		{Parameter{Kind: Switch}, "No", Value{Switch, 0, ""}},
		{Parameter{Kind: Name}, "front/waist.left", Value{Name, 0, "front/waist.left"}},
		{Parameter{Kind: OtherPattern}, "spencer", Value{OtherPattern, 0, "spencer"}},
	}
	for _, tt := range tests {
		got, err := ParseValue(tt.p, tt.text)
		if err != nil || got.Kind != tt.want.Kind || got.Text != tt.want.Text || math.Abs(got.Number-tt.want.Number) > 1e-12 {
			t.Errorf("ParseValue(%s, %q) = %+v, %v, want %+v", tt.p.Kind, tt.text, got, err, tt.want)
		}
	}
}

func TestParseValueRefusals(t *testing.T) {
	below := Parameter{Name: "below", Kind: Length, Min: 20, Max: 120}
	into := Parameter{Name: "into", Kind: Choice, Choices: []string{"gathers", "ease"}}
	tests := []struct {
		p    Parameter
		text string
		want string
	}{
		{below, "", `below has no value; write a length from 20mm to 120mm`},
		{below, "64", `below: "64" needs a unit; write 64mm if that is what is meant`},
		{below, "13cm", `below is "13cm", more than 120mm; write a length from 20mm to 120mm`},
		{below, "-1mm", `below is "-1mm", less than 20mm; write a length from 20mm to 120mm`},
		{below, "NaN", `below: "NaN" is not a length; write for instance 64mm, 6.4cm or 2 1/2in`},
		{Parameter{Name: "tilt", Kind: Angle, Max: 45}, "50deg", `tilt is "50deg", more than 45deg; write an angle from 0deg to 45deg`},
		{Parameter{Name: "gores", Kind: Count}, "2.5", `gores is "2.5", which is not a whole number; write a whole number`},
		{into, "gather", `into cannot be "gather"; did you mean "gathers"?`},
		{into, "zip", `into cannot be "zip"; choose from "gathers", "ease"`},
		{Parameter{Name: "keep", Kind: Switch}, "maybe", `keep is "maybe", neither yes nor no; write yes or no`},
		{Parameter{Name: "from", Kind: OtherPattern}, "../spencer.yaml", `from is "../spencer.yaml", which cannot be a name; write the name of one of the patterns that the chain lists`},
		{Parameter{Name: "edge", Kind: Name}, "a/b/c", `edge is "a/b/c", which cannot be a name; write the name of a piece, edge, dart or seam, for instance front or front/waist`},
	}
	for _, tt := range tests {
		_, err := ParseValue(tt.p, tt.text)
		if _, ok := errors.AsType[*Refusal](err); !ok || err.Error() != tt.want {
			t.Errorf("ParseValue(%s, %q): %v\nwant %s", tt.p.Name, tt.text, err, tt.want)
		}
	}
}
