package listing_test

import (
	"bytes"
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	_ "github.com/owenrumney/go-sarif/v3/pkg/report/v210/sarif" // carries the schema
	"github.com/xeipuuv/gojsonschema"

	"bygone.example/core/finding"
	"bygone.example/core/report/listing"
	"bygone.example/core/shelf"
)

// sarifSchema returns the published schema of SARIF 2.1.0 (errata 01), as a
// module that writes SARIF carries it in its source.
func sarifSchema(t *testing.T) *gojsonschema.Schema {
	t.Helper()
	out, err := exec.Command("go", "list", "-f", "{{.Dir}}", "github.com/owenrumney/go-sarif/v3/pkg/report/v210/sarif").Output()
	if err != nil {
		t.Fatalf("finding the schema: %v", err)
	}
	file, err := parser.ParseFile(token.NewFileSet(), filepath.Join(strings.TrimSpace(string(out)), "schema.go"), nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	text := ""
	ast.Inspect(file, func(n ast.Node) bool {
		if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
			if s, err := strconv.Unquote(lit.Value); err == nil {
				text += s
			}
		}
		return true
	})
	if !strings.Contains(text, "sarif-schema-2.1.0.json") {
		t.Fatalf("this is not the schema of SARIF 2.1.0: %.200s", text)
	}
	schema, err := gojsonschema.NewSchema(gojsonschema.NewStringLoader(text))
	if err != nil {
		t.Fatal(err)
	}
	return schema
}

func faultsOf(t *testing.T, schema *gojsonschema.Schema, data []byte) (list []string) {
	t.Helper()
	got, err := schema.Validate(gojsonschema.NewBytesLoader(data))
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range got.Errors() {
		list = append(list, e.String())
	}
	return list
}

func sarif(t *testing.T, r *shelf.Result) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := listing.Write(&b, listing.SARIF, r); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestSARIFSchema(t *testing.T) {
	schema := sarifSchema(t)
	for name, r := range map[string]*shelf.Result{"sample": sample(), "nothing": {}} {
		if faults := faultsOf(t, schema, sarif(t, r)); len(faults) > 0 {
			t.Errorf("%s: %s", name, strings.Join(faults, "\n"))
		}
	}
	// What the program writes into a file about itself is allowed at its place.
	text := strings.TrimSuffix(string(sarif(t, sample())), "\n}\n")
	written := func(last string) []byte { return []byte(text + ",\n " + last + "\n}\n") }
	if faults := faultsOf(t, schema, written(`"properties": {"`+listing.Written+`": "by whom"}`)); len(faults) > 0 {
		t.Errorf("signed: %s", strings.Join(faults, "\n"))
	}
	if faults := faultsOf(t, schema, written(`"`+listing.Written+`": "by whom"`)); len(faults) == 0 {
		t.Error("a key that the standard does not have passes")
	}
	// The schema must be able to refuse.
	for was, is := range map[string]string{
		`"version": "2.1.0"`:               `"version": "2.2.0"`,
		`"level": "error"`:                 `"level": "fault"`,
		`"startLine": 3`:                   `"startLine": 0`,
		`"columnKind": "unicodeCodePoints`: `"columnKind": "bytes`,
		`"ruleIndex"`:                      `"ruleNumber"`,
		`"uri": "`:                         `"url": "`,
	} {
		good := string(sarif(t, sample()))
		bad := strings.Replace(good, was, is, 1)
		if bad == good {
			t.Errorf("%s is not there to be spoiled", was)
		} else if len(faultsOf(t, schema, []byte(bad))) == 0 {
			t.Errorf("%s instead of %s passes", is, was)
		}
	}
}

// log is what of a SARIF file the tests look at, read apart from how it was
// written.
type log struct {
	Runs []struct {
		Tool struct {
			Driver struct {
				Rules []struct{ ID string }
			}
		}
		Results []struct {
			RuleID    string
			RuleIndex int
			Level     string
			Message   struct{ Text string }
			Locations []struct {
				PhysicalLocation struct {
					ArtifactLocation struct{ URI string }
					Region           struct{ StartLine, StartColumn, EndLine, EndColumn int }
				}
			}
			PartialFingerprints map[string]string
			Suppressions        []struct{ Kind, Justification string }
		}
	}
}

func read(t *testing.T, data []byte) log {
	t.Helper()
	var l log
	if err := json.Unmarshal(data, &l); err != nil {
		t.Fatal(err)
	}
	return l
}

// Columns are code points: what stands before them may be of any width, in
// UTF-8 as in UTF-16.
func TestSARIFColumns(t *testing.T) {
	const text = "  - {title: 𝒳é, edge: side}"
	r := &shelf.Result{Files: []shelf.Checked{{
		Path: "p.yaml", Kind: shelf.Pattern, Lines: []shelf.Line{{Number: 4, Text: text}},
		Findings: []finding.Finding{{Code: "notch-none", Severity: finding.Warning, Text: "x", Place: finding.Place{Line: 4, Column: 17}}},
	}}}
	region := read(t, sarif(t, r)).Runs[0].Results[0].Locations[0].PhysicalLocation.Region
	if region.StartColumn != 17 || region.EndColumn != 28 || region.EndLine != 4 {
		t.Errorf("region %+v", region)
	}
	if got := string([]rune(text)[region.StartColumn-1 : region.EndColumn-1]); got != "edge: side}" {
		t.Errorf("the region holds %q", got)
	}
}

func TestSARIFPaths(t *testing.T) {
	for path, want := range map[string]string{
		"a/b c.yaml": "a/b%20c.yaml", "../x.yaml": "../x.yaml", "/srv/p.yaml": "file:///srv/p.yaml", "C:/p.yaml": "file:///C:/p.yaml",
		"a:b.yaml": "./a:b.yaml", "\x1b[31m\n.yaml": "%1B%5B31m%0A.yaml", "\xff.yaml": "%FF.yaml", "50%.yaml": "50%25.yaml", "a#b?c.yaml": "a%23b%3Fc.yaml",
	} {
		r := &shelf.Result{Files: []shelf.Checked{{Path: path, Refused: []shelf.Refusal{{Text: "x"}}}}}
		if got := read(t, sarif(t, r)).Runs[0].Results[0].Locations[0].PhysicalLocation.ArtifactLocation.URI; got != want {
			t.Errorf("uri of %q = %q, want %q", path, got, want)
		}
	}
}

// Every result points at its rule; equal findings of one file are told apart;
// a finding keeps its fingerprint when lines are put in before it.
func TestSARIFResults(t *testing.T) {
	l := read(t, sarif(t, sample()))
	seen := map[string]bool{}
	for _, r := range l.Runs[0].Results {
		if id := l.Runs[0].Tool.Driver.Rules[r.RuleIndex].ID; id != r.RuleID {
			t.Errorf("result of %s points at rule %s", r.RuleID, id)
		}
		for _, print := range r.PartialFingerprints {
			if seen[print] {
				t.Errorf("two results have the fingerprint %s", print)
			}
			seen[print] = true
		}
		if strings.Contains(r.Message.Text, "[side]") {
			t.Errorf("a bracket stands for a link: %s", r.Message.Text)
		}
	}
	if len(seen) != 7 {
		t.Fatalf("%d results, want 7", len(seen))
	}
	moved := sample()
	for i := range moved.Files {
		for j := range moved.Files[i].Findings {
			moved.Files[i].Findings[j].Place.Line += 7
		}
	}
	for _, r := range read(t, sarif(t, moved)).Runs[0].Results {
		for _, print := range r.PartialFingerprints {
			if !seen[print] {
				t.Errorf("%s has another fingerprint after lines were put in", r.RuleID)
			}
		}
	}
}

func TestSARIFUnknownCode(t *testing.T) {
	r := &shelf.Result{Files: []shelf.Checked{{Path: "p", Findings: []finding.Finding{{Code: "no-such-code"}}}}}
	if err := listing.Write(new(bytes.Buffer), listing.SARIF, r); err == nil {
		t.Error("a code that nothing explains was written")
	}
}
