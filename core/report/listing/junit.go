package listing

import (
	"encoding/xml"
	"fmt"
	"io"
	"strings"

	"bygone.example/core/finding"
	"bygone.example/core/shelf"
	"bygone.example/core/source"
)

// The parts of JUnit's XML that readers agree on (no standard names them; from
// memory of what test runners write): suites of cases, a case with a failure,
// an error, or neither. A file is a suite and each of its findings a case, so
// that none hides another; of a sound file the one case passes.
type (
	junitSuites struct {
		XMLName  xml.Name     `xml:"testsuites"`
		Name     string       `xml:"name,attr"`
		Tests    int          `xml:"tests,attr"`
		Failures int          `xml:"failures,attr"`
		Errors   int          `xml:"errors,attr"`
		Suites   []junitSuite `xml:"testsuite"`
	}
	junitSuite struct {
		Name     string      `xml:"name,attr"`
		Tests    int         `xml:"tests,attr"`
		Failures int         `xml:"failures,attr"`
		Errors   int         `xml:"errors,attr"`
		Skipped  int         `xml:"skipped,attr"`
		Time     string      `xml:"time,attr"` // nothing was timed, but readers want it
		Cases    []junitCase `xml:"testcase"`
	}
	junitCase struct {
		Class   string     `xml:"classname,attr"`
		Name    string     `xml:"name,attr"`
		File    string     `xml:"file,attr,omitempty"`
		Line    int        `xml:"line,attr,omitempty"`
		Time    string     `xml:"time,attr"`
		Failure *junitText `xml:"failure"`
		Error   *junitText `xml:"error"`
		Skipped *junitText `xml:"skipped"`
		Out     string     `xml:"system-out,omitempty"`
	}
	junitText struct {
		Message string `xml:"message,attr"`
		Type    string `xml:"type,attr,omitempty"`
		Text    string `xml:",chardata"`
	}
)

func writeJUnit(w io.Writer, r *shelf.Result) error {
	all := junitSuites{Name: "bygone check"}
	for i := range r.Files {
		s := suite(&r.Files[i])
		all.Tests += s.Tests
		all.Failures += s.Failures
		all.Errors += s.Errors
		all.Suites = append(all.Suites, s)
	}
	if _, err := io.WriteString(w, xml.Header); err != nil {
		return err
	}
	enc := xml.NewEncoder(w)
	enc.Indent("", " ")
	if err := enc.Encode(all); err != nil {
		return err
	}
	_, err := io.WriteString(w, "\n")
	return err
}

func suite(c *shelf.Checked) junitSuite {
	// XML has no place for most control characters, not even escaped.
	path := source.Harmless(c.Path, maxPath)
	s := junitSuite{Name: path, Time: "0"}
	add := func(k junitCase) {
		k.Class, k.File, k.Time = path, path, "0"
		switch {
		case k.Failure != nil:
			s.Failures++
		case k.Error != nil:
			s.Errors++
		case k.Skipped != nil:
			s.Skipped++
		}
		s.Tests++
		s.Cases = append(s.Cases, k)
	}
	for _, p := range c.Problems() {
		add(junitCase{Name: "can be used", Line: p.Line, Error: &junitText{Message: p.Text, Type: refused, Text: p.Error()}})
	}
	for _, f := range c.Findings {
		k := junitCase{Name: named(f), Line: f.Place.Line}
		text := fmt.Sprintf("%s%s: %s", path, where(f.Place), f.Text)
		if f.Remedy != "" {
			text += "\n" + f.Remedy
		}
		if f.Severity == finding.Note {
			k.Out = text
		} else {
			k.Failure = &junitText{Message: f.Text, Type: string(f.Code), Text: text}
		}
		add(k)
	}
	for _, e := range c.Excepted {
		add(junitCase{Name: named(e.Finding), Line: e.Finding.Place.Line, Skipped: &junitText{Message: "excepted: " + printable(e.Reason), Text: e.Finding.Text}})
	}
	if s.Tests == 0 {
		name := "goes together"
		if c.Kind != shelf.Pattern {
			name = "is in order"
		}
		add(junitCase{Name: name})
	}
	return s
}

// printable is text of several lines on one.
func printable(s string) string { return strings.Join(strings.Fields(s), " ") }

// named is a finding's case: what is wrong and with which part.
func named(f finding.Finding) string {
	if part := part(f.Place); part != "" {
		return string(f.Code) + ": " + part
	}
	return string(f.Code)
}
