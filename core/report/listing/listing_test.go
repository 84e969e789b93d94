package listing_test

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"errors"
	"flag"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"bygone.example/core/finding"
	"bygone.example/core/geom"
	"bygone.example/core/report/listing"
	"bygone.example/core/shelf"
	"bygone.example/core/source"
)

var update = flag.Bool("update", false, "write the golden files anew")

// sample has one of everything.
func sample() *shelf.Result {
	at := geom.Pt(12.5, -3)
	long := finding.Finding{
		Code: "seam-length", Severity: finding.Fault, Text: "front/side is 2.0 mm longer than back/side (402.0 mm against 400.0 mm)", Remedy: "Shorten it.",
		Place:   finding.Place{Seam: "side", Piece: "front", Edge: "side", At: &at, Line: 3, Column: 5},
		Figures: &finding.Figures{A: 402, B: 400, Difference: 2, Unit: "mm"},
	}
	note := finding.Finding{Code: "corner-point", Severity: finding.Note, Text: "a point {here}", Place: finding.Place{Piece: "front"}}
	return &shelf.Result{
		Passed: shelf.Passed{Links: 2, Empty: 1, Others: 3},
		Files: []shelf.Checked{
			{Path: "patterns/bad.yaml", Kind: shelf.Pattern, Refused: []shelf.Refusal{
				{Line: 2, Column: 7, Text: `there is no edge "[side](x)" & <y>`, Remedy: `did you mean "side"?`, Excerpt: "    2 | edge: x\n      |       ^"},
				{Text: "the file has no pieces"},
			}, Lines: []shelf.Line{{Number: 2, Text: "edge: x"}}},
			{
				Path: "patterns/blouse.yaml", Kind: shelf.Pattern, Name: "blouse", Pieces: 3, Seams: 4, More: 9,
				Findings: []finding.Finding{long, long, note}, Excepted: []shelf.Excepted{{Finding: long, Reason: "Let out on the body.\nAgreed."}}, Lines: []shelf.Line{{Number: 3, Text: "  - [front/side]"}},
			},
			{Path: "patterns/dress.yaml", Kind: shelf.Pattern, Name: "dress", Pieces: 7, Seams: 10},
			{Path: "chains/high\x1b[31m.yaml", Kind: shelf.Chain, Name: "high", Findings: []finding.Finding{
				{Code: "edge-loose", Severity: finding.Warning, Text: "x"},
			}},
		},
	}
}

// Each format is as its golden file, whenever it is written.
func TestGolden(t *testing.T) {
	for _, format := range listing.Formats() {
		var one, two bytes.Buffer
		for _, b := range []*bytes.Buffer{&one, &two} {
			if err := listing.Write(b, format, sample()); err != nil {
				t.Fatal(err)
			}
		}
		if !bytes.Equal(one.Bytes(), two.Bytes()) {
			t.Errorf("%s: two files of one result differ", format)
		}
		// The rules of SARIF follow the check's explanations, which have tests of
		// their own.
		got := one.Bytes()
		if format == listing.SARIF {
			got = withoutRules(t, got)
		}
		golden := filepath.Join("testdata", "sample."+string(format))
		if *update {
			if err := os.WriteFile(golden, got, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(golden)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(string(want), string(got)); d != "" {
			t.Errorf("%s (-want +got):\n%s", format, d)
		}
	}
}

func withoutRules(t *testing.T, data []byte) []byte {
	t.Helper()
	var log map[string]any
	if err := json.Unmarshal(data, &log); err != nil {
		t.Fatal(err)
	}
	run := log["runs"].([]any)[0].(map[string]any)
	run["tool"] = nil
	for _, r := range run["results"].([]any) {
		delete(r.(map[string]any), "ruleIndex")
	}
	out, err := json.MarshalIndent(log, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func TestJSONReadsBack(t *testing.T) {
	var b bytes.Buffer
	if err := listing.Write(&b, listing.JSON, sample()); err != nil {
		t.Fatal(err)
	}
	got, err := listing.Read("r.json", b.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(sample(), got); d != "" {
		t.Errorf("read back (-want +got):\n%s", d)
	}
	// What is not whole, or not a result, is refused.
	text := b.String()
	for name, bad := range map[string]string{
		"cut off":      text[:len(text)/2],
		"another form": strings.Replace(text, "check/1", "check/2", 1),
		"unknown key":  strings.Replace(text, `"passed"`, `"past"`, 1),
		"a list":       "[]",
		"nothing":      "",
		"a fault less": strings.Replace(text, `"severity": "fault"`, `"severity": "note"`, 1),
		"said sound":   strings.Replace(text, `"sound": false`, `"sound": true`, 1),
	} {
		if _, err := listing.Read("r.json", []byte(bad)); err == nil {
			t.Errorf("%s: read", name)
		} else if _, ok := errors.AsType[source.Problems](err); !ok {
			t.Errorf("%s: %T", name, err)
		}
	}
}

// The XML is well formed, and its counts are those of its cases.
func TestJUnit(t *testing.T) {
	var b bytes.Buffer
	if err := listing.Write(&b, listing.JUnit, sample()); err != nil {
		t.Fatal(err)
	}
	type totals struct{ cases, failures, errors int }
	var said, found totals
	d := xml.NewDecoder(bytes.NewReader(b.Bytes()))
	for {
		token, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		start, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		switch start.Name.Local {
		case "testcase":
			found.cases++
		case "failure":
			found.failures++
		case "error":
			found.errors++
		case "testsuites":
			var s struct {
				Tests, Failures, Errors int
			}
			for _, a := range start.Attr {
				n := map[string]*int{"tests": &s.Tests, "failures": &s.Failures, "errors": &s.Errors}[a.Name.Local]
				if n == nil {
					continue
				}
				if err := json.Unmarshal([]byte(a.Value), n); err != nil {
					t.Fatal(err)
				}
			}
			said = totals{s.Tests, s.Failures, s.Errors}
		}
	}
	if want := (totals{8, 3, 2}); said != want || found != want {
		t.Errorf("says %v, holds %v, want %v", said, found, want)
	}
}

func TestText(t *testing.T) {
	for _, c := range []struct {
		name  string
		n     shelf.Counts
		want  string
		after shelf.Passed
	}{
		{"sound", shelf.Counts{Patterns: 2, Chains: 1, Sound: 3}, "2 patterns, 1 chain: everything goes together\n", shelf.Passed{}},
		{"nothing", shelf.Counts{}, "0 patterns: nothing to check\npassed over: 1 link\n", shelf.Passed{Links: 1}},
		{"refused", shelf.Counts{Patterns: 1, Sound: 1, Refused: 2}, "1 pattern: 1 file sound; 2 files could not be used\n", shelf.Passed{}},
		{"found", shelf.Counts{Patterns: 3, Sound: 2, Faults: 1, Warnings: 4, FilesFaulty: 1}, "3 patterns: 1 fault, 4 warnings in 1 file; 2 files sound\n", shelf.Passed{}},
	} {
		var b strings.Builder
		if err := listing.Summary(&b, c.n, c.after); err != nil {
			t.Fatal(err)
		}
		if b.String() != c.want {
			t.Errorf("%s: %q, want %q", c.name, b.String(), c.want)
		}
	}
}
