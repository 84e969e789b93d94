package unit

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestParseLength(t *testing.T) {
	tests := []struct {
		text string
		want float64
	}{
		{"3cm", 30}, {"15mm", 15}, {"5/8in", 15.875}, {"1 1/2in", 38.1}, {"1.5in", 38.1}, {"64 mm", 64},
		{"1½\"", 38.1}, {"½in", 12.7}, {" 2m ", 2000}, {"-2cm", -20}, {"+4MM", 4}, {"1yd", 914.4}, {".5cm", 5},
		{"−3mm", -3}, {"1 inch", 25.4}, {"0mm", 0}, {"-1 1/4in", -31.75},
	}
	for _, tt := range tests {
		got, err := ParseLength(tt.text)
		if err != nil || math.Abs(got-tt.want) > 1e-12 {
			t.Errorf("ParseLength(%q) = %v, %v, want %v", tt.text, got, err, tt.want)
		}
	}
}

func TestParseRefusals(t *testing.T) {
	length := func(s string) error { _, err := ParseLength(s); return err }
	angle := func(s string) error { _, err := ParseAngle(s); return err }
	bare := func(s string) error { _, err := ParseNumber(s); return err }
	tests := []struct {
		parse func(string) error
		text  string
		want  string
	}{
		{length, "64", `"64" needs a unit; write 64mm if that is what is meant`},
		{length, "64kg", `"kg" is not a unit of length; write for instance 64mm, 6.4cm or 2 1/2in`},
		{length, "", `a length is missing; write for instance 64mm, 6.4cm or 2 1/2in`},
		{length, "NaN", `"NaN" is not a length; write for instance 64mm, 6.4cm or 2 1/2in`},
		{length, "infmm", `"infmm" is not a length; write for instance 64mm, 6.4cm or 2 1/2in`},
		{length, "1e308mm", `"1e308mm" is written with an exponent; write the number out in full`},
		{length, "100001mm", `"100001mm" is too long for any cloth; the longest length taken is 100m`},
		{length, "1,5cm", `"1,5cm" has a comma where a point should be; write 1.5cm`},
		{length, "1/0in", `"1/0in" is not a length; write for instance 64mm, 6.4cm or 2 1/2in`},
		{length, "5/in", `"5/in" is not a length; write for instance 64mm, 6.4cm or 2 1/2in`},
		{length, ".mm", `".mm" is not a length; write for instance 64mm, 6.4cm or 2 1/2in`},
		{length, "\x1b[31m", "\"�[31m\" is not a length; write for instance 64mm, 6.4cm or 2 1/2in"},
		{angle, "12", `"12" needs a unit; write 12deg if that is what is meant`},
		{angle, "3 rad", `"rad" is not a unit of angle; write for instance 12deg`},
		{angle, "361deg", `"361deg" is more than a full turn; angles go from -360deg to 360deg`},
		{bare, "1.5mm", `"1.5mm" has "mm" after the number; write the number alone, for instance 1.5`},
		{bare, "9999999", `"9999999" is too large; write a number up to 100000`},
	}
	for _, tt := range tests {
		err := tt.parse(tt.text)
		if err == nil || err.Error() != tt.want {
			t.Errorf("parsing %q: got %v\nwant %s", tt.text, err, tt.want)
		}
	}
}

func TestParseAngleAndNumber(t *testing.T) {
	if got, err := ParseAngle("90deg"); err != nil || math.Abs(got-math.Pi/2) > 1e-15 {
		t.Errorf(`ParseAngle("90deg") = %v, %v`, got, err)
	}
	if got, err := ParseAngle("12.5°"); err != nil || math.Abs(got-12.5*math.Pi/180) > 1e-15 {
		t.Errorf(`ParseAngle("12.5°") = %v, %v`, got, err)
	}
	for text, want := range map[string]float64{"1.45": 1.45, "3/2": 1.5, "2": 2, "1 1/2": 1.5} {
		if got, err := ParseNumber(text); err != nil || got != want {
			t.Errorf("ParseNumber(%q) = %v, %v, want %v", text, got, err, want)
		}
	}
}

func TestPrint(t *testing.T) {
	tests := []struct{ got, want string }{
		{Float(1), "1"}, {Float(-0.0000001), "0"}, {Float(math.Copysign(0, -1)), "0"}, {Float(1e20), "100000000000000000000"},
		{Float(0.1 + 0.2), "0.3"}, {Float(1.0000004), "1"}, {Float(100), "100"}, {Float(math.NaN()), "nan"},
		{Length(412.48), "412.5 mm"}, {Length(64), "64 mm"}, {Length(3.254), "3.25 mm"}, {Length(0.04), "0.04 mm"},
		{Length(0.0004), "0 mm"}, {Length(-9), "-9 mm"}, {Length(9.996), "10 mm"}, {Length(0.0999), "0.1 mm"},
		{Angle(math.Pi / 15), "12°"}, {Ratio(1.4501), "1.45"}, {Ratio(2), "2"}, {Length(math.Inf(1)), "not a number mm"},
	}
	for _, tt := range tests {
		if tt.got != tt.want {
			t.Errorf("got %q, want %q", tt.got, tt.want)
		}
	}
}

// What Float writes reads back as Round says, and rounding again changes
// nothing.
func TestFloatRoundLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(-MaxLength, MaxLength).Draw(t, "v")
		s, r := Float(v), Round(v)
		back, err := strconv.ParseFloat(s, 64)
		if err != nil || back != r || Round(r) != r || Float(r) != s || math.Abs(r-v) > 0.51e-6 {
			t.Fatalf("v %v: Float %q, read back %v, Round %v", v, s, back, r)
		}
		if strings.ContainsAny(s, "eE") || s == "-0" || strings.Contains(s, ".") && strings.HasSuffix(s, "0") {
			t.Fatalf("Float(%v) = %q", v, s)
		}
	})
}

// A printed length with its unit is one that ParseLength takes.
func TestParsePrintedLength(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(-MaxLength, MaxLength).Draw(t, "v")
		got, err := ParseLength(Length(v))
		if err != nil || math.Abs(got-v) > 0.0500001 {
			t.Fatalf("ParseLength(Length(%v)) = %v, %v", v, got, err)
		}
	})
}

func FuzzParseLength(f *testing.F) {
	for _, s := range []string{"3cm", "1 1/2in", "½in", "-", "1/", "1e9mm", "NaN"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for _, parse := range []func(string) (float64, error){ParseLength, ParseAngle, ParseNumber} {
			if v, err := parse(s); err == nil && (math.IsNaN(v) || math.Abs(v) > MaxLength) {
				t.Errorf("%q gave %v", s, v)
			}
		}
	})
}
