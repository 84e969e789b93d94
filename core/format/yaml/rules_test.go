package yamlfile_test

import (
	"strings"
	"testing"

	yamlfile "bygone.example/core/format/yaml"
	"bygone.example/core/pairing"
	"bygone.example/core/rules"
	"github.com/google/go-cmp/cmp"
)

func TestReadRules(t *testing.T) {
	got, err := yamlfile.ReadRules("bygone.yaml", []byte(`bygone: rules/1
notes: |
  Agreed in March.
tolerances:
  length: 0.2
  ratio: 0.01
  kink-warning: 10
exceptions:
  - code: corner-kink
    file: patterns/blouse.yaml
    piece: bodice-front
    edge: neckline
    reason: Bound, and the binding hides it.
  - {code: notch-none, file: a.yaml, seam: side, reason: x}
`))
	if err != nil {
		t.Fatal(err)
	}
	want := rules.Default()
	want.Tolerances.Length, want.Tolerances.Ratio, want.Tolerances.KinkWarning = 0.2, 0.01, 10
	want.Exceptions = []rules.Exception{
		{Code: "corner-kink", File: "patterns/blouse.yaml", Piece: "bodice-front", Edge: "neckline", Reason: "Bound, and the binding hides it.", Line: 9, Col: 5},
		{Code: "notch-none", File: "a.yaml", Seam: "side", Reason: "x", Line: 14, Col: 5},
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("-want +got:\n%s", d)
	}
	if got, err := yamlfile.ReadRules("bygone.yaml", []byte("bygone: rules/1\n")); err != nil || got.Tolerances != pairing.DefaultTolerances() {
		t.Errorf("rules that set nothing: %v, %v", got, err)
	}
}

// Each refusal stands at its place and says what to do.
func TestReadRulesRefuses(t *testing.T) {
	exception := "exceptions:\n  - {code: seam-length, file: a.yaml, reason: x"
	for text, want := range map[string]string{
		"tolerances: {lenght: 1}":                                       `b.yaml:2:14: tolerances has no key "lenght"`,
		"tolerances: {length: 0}":                                       `b.yaml:2:22: length is "0", which is no tolerance`,
		"tolerances: {length: 5000}":                                    `b.yaml:2:22: length is "5000", which is no tolerance`,
		"tolerances: {length: 2mm}":                                     "b.yaml:2:22: length should be a number",
		"tolerances: {length: .nan}":                                    "b.yaml:2:22: length is .nan",
		"tolerances: {kink-warning: 30}":                                "b.yaml:2:13: kink-warning, 30 degrees, is more than kink-fault, 25",
		"tolerances: 1":                                                 "tolerances should have keys",
		"tolerance: {}":                                                 `has no key "tolerance"`,
		"exceptions: [seam-length]":                                     "the exception should have keys",
		exception + ", seams: x}":                                       `has no key "seams"`,
		exception + ", edge: side}":                                     "names an edge, but no piece",
		exception + ", piece: 'a b'}":                                   "piece cannot be the name of a part",
		"exceptions:\n  - {file: a.yaml, reason: x}":                    "b.yaml:3:5: the exception has no code",
		"exceptions:\n  - {code: seam-lenth, file: a.yaml, reason: x}":  `b.yaml:3:12: there is no finding "seam-lenth"`,
		"exceptions:\n  - {code: seam-length, reason: x}":               "the exception has no file",
		"exceptions:\n  - {code: seam-length, file: a.yaml}":            "the exception has no reason",
		"exceptions:\n  - {code: seam-length, file: a, reason: }":       "the exception has nothing after reason",
		"exceptions:\n  - {code: seam-length, file: a, reason: '  '}":   "the exception gives no reason",
		"exceptions:\n  - {code: seam-length, file: ../a, reason: x}":   `"../a" is no file of the repository`,
		"exceptions:\n  - {code: seam-length, file: /a, reason: x}":     `"/a" is no file of the repository`,
		"exceptions:\n  - {code: seam-length, file: a/./b, reason: x}":  "is no file of the repository",
		"exceptions:\n  - {code: seam-length, file: 'a\\b', reason: x}": "is no file of the repository",
	} {
		_, err := yamlfile.ReadRules("b.yaml", []byte("bygone: rules/1\n"+text+"\n"))
		if err == nil || !strings.Contains(err.Error(), want) || !strings.Contains(err.Error(), "\n      = ") {
			t.Errorf("%s\ngave %v\nwant %s", text, err, want)
		}
	}
	if _, err := yamlfile.ReadRules("b.yaml", []byte("bygone: chain/1\n")); err == nil || !strings.Contains(err.Error(), "this is a chain file, where a rules file is wanted") {
		t.Errorf("a chain: %v", err)
	}
}
