package sdk_test

import (
	"bytes"
	"context"
	"strings"
	"testing"

	"bygone.example/sdk"
)

func good() *sdk.Plugin {
	return &sdk.Plugin{
		Name: "waist", Purpose: "Moves the waist seam.",
		Operations: []*sdk.Operation{{
			Spec: sdk.Spec{
				Name: "raise", Purpose: "Raises it.",
				Parameters: []sdk.Parameter{
					{Name: "by", Kind: sdk.Length, Meaning: "How far.", Default: "64mm", Min: 10, Max: 120, Mark: sdk.CommonPractice},
					{Name: "edge", Kind: sdk.Name, Meaning: "Which edge.", DefaultNote: "the waist"},
					{Name: "style", Kind: sdk.Choice, Meaning: "Which style.", Default: "plain", Choices: []string{"plain", "puff"}},
				},
				Needs: []sdk.Need{{Piece: "bodice-front", Edge: "waist"}},
			},
			Apply: func(context.Context, *sdk.Request) (*sdk.Answer, error) { return nil, nil },
		}},
	}
}

func TestValidate(t *testing.T) {
	if err := sdk.Validate(good()); err != nil {
		t.Fatal(err)
	}
	op := func(p *sdk.Plugin) *sdk.Operation { return p.Operations[0] }
	by := func(p *sdk.Plugin) *sdk.Parameter { return &op(p).Parameters[0] }
	style := func(p *sdk.Plugin) *sdk.Parameter { return &op(p).Parameters[2] }
	for _, test := range []struct {
		rule  string
		spoil func(*sdk.Plugin)
		want  string
	}{
		{"1", func(p *sdk.Plugin) { p.Name = "The Waist" }, `plugin "The Waist" is not a name`},
		{"1", func(p *sdk.Plugin) { p.Name = strings.Repeat("a", 41) }, `is not a name`},
		{"1", func(p *sdk.Plugin) { op(p).Name = "a--b" }, `operation "a--b" is not a name`},
		{"1", func(p *sdk.Plugin) { p.Operations = append(p.Operations, op(p)) }, "two operations are called raise"},
		{"1", func(p *sdk.Plugin) { by(p).Name = "1st" }, `"1st" is not a name`},
		{"1", func(p *sdk.Plugin) { op(p).Parameters = append(op(p).Parameters, *by(p)) }, "operation raise has two parameters called by"},
		{"2", func(p *sdk.Plugin) { p.Purpose = "moves the waist" }, `the purpose of plugin waist is "moves the waist", not one sentence`},
		{"2", func(p *sdk.Plugin) { by(p).Meaning = "How far" }, "the meaning of parameter raise.by"},
		{"3", func(p *sdk.Plugin) { p.Operations = nil }, "plugin waist has no operations"},
		{"3", func(p *sdk.Plugin) { p.Operations = []*sdk.Operation{nil} }, "an operation that is nil"},
		{"3", func(p *sdk.Plugin) { op(p).Apply = nil }, "operation raise has no Apply"},
		{"4", func(p *sdk.Plugin) { by(p).Kind = "colour" }, `parameter raise.by is of kind "colour"`},
		{"4", func(p *sdk.Plugin) { by(p).Choices = []string{"a"} }, "parameter raise.by has choices, but is a length"},
		{"4", func(p *sdk.Plugin) { style(p).Choices = nil }, "parameter raise.style is a choice without choices"},
		{"4", func(p *sdk.Plugin) { style(p).Choices = []string{"plain", "plain"} }, "offers plain twice"},
		{"4", func(p *sdk.Plugin) { style(p).Choices = []string{"plain", "Very Full"} }, `offers "Very Full": not a name`},
		{"5", func(p *sdk.Plugin) { by(p).Min = 200 }, "parameter raise.by is at least 200 and at most 120"},
		{"5", func(p *sdk.Plugin) { style(p).Max = 2 }, "parameter raise.style has bounds, but is a choice"},
		{"6", func(p *sdk.Plugin) { by(p).Default = "64" }, "parameter raise.by: the default: "},
		{"6", func(p *sdk.Plugin) { by(p).Default = "13cm" }, "more than 120mm"},
		{"6", func(p *sdk.Plugin) { style(p).Default = "huge" }, "parameter raise.style: the default: style cannot be"},
		{"6", func(p *sdk.Plugin) { by(p).Default = "" }, "parameter raise.by has neither a default nor a note"},
		{"6", func(p *sdk.Plugin) {
			*style(p) = sdk.Parameter{Name: "from", Kind: sdk.OtherPattern, Meaning: "Which.", Default: "spencer"}
		}, `has the default "spencer", but which patterns a chain lists is not the plugin's to know`},
		{"7", func(p *sdk.Plugin) { by(p).Mark = "" }, "parameter raise.by has a number for a default, but no mark"},
		{"7", func(p *sdk.Plugin) { by(p).Mark = sdk.Published }, "parameter raise.by is marked published, but names no source"},
		{"7", func(p *sdk.Plugin) { by(p).Mark = "certain" }, `parameter raise.by is marked "certain"`},
		{"8", func(p *sdk.Plugin) { op(p).Needs[0].Piece = "" }, `operation raise needs piece ""`},
		{"8", func(p *sdk.Plugin) { op(p).Measures = []sdk.Measure{"Bust Girth"} }, `measure "Bust Girth": not a name`},
		{"9", func(p *sdk.Plugin) { p.Version = strings.Repeat("1", 41) }, "description.version has 41 bytes, more than 40"},
		{"9", func(p *sdk.Plugin) { by(p).Source = "a\x00b" }, "holds the control character U+0000"},
	} {
		t.Run(test.rule+" "+test.want, func(t *testing.T) {
			p := good()
			test.spoil(p)
			err := sdk.Validate(p)
			if err == nil || !strings.Contains(err.Error(), test.want) {
				t.Fatalf("error is %v, want %s", err, test.want)
			}
			if lines := strings.Count(err.Error(), "\n") + 1; lines > 2 {
				t.Errorf("one fault gives %d lines:\n%v", lines, err)
			}
		})
	}
	if err := sdk.Validate(nil); err == nil {
		t.Error("no plugin is valid")
	}
}

func TestValidateGathers(t *testing.T) {
	p := good()
	p.Purpose, p.Operations[0].Apply = "", nil
	p.Operations[0].Parameters[0].Mark = ""
	if err := sdk.Validate(p); err == nil || strings.Count(err.Error(), "\n") != 2 {
		t.Errorf("error is %v, want three lines", err)
	}
}

// Started by hand, or not fit to serve, a plugin says so and ends.
func TestServeByHand(t *testing.T) {
	var stderr bytes.Buffer
	if code := sdk.Serve(good(), &stderr); code != 1 || !strings.Contains(stderr.String(), "bygone-plugin-waist") {
		t.Errorf("exit code %d, says %q", code, &stderr)
	}
	stderr.Reset()
	if code := sdk.Serve(&sdk.Plugin{}, &stderr); code != 1 || !strings.Contains(stderr.String(), "cannot be served") {
		t.Errorf("exit code %d, says %q", code, &stderr)
	}
}
