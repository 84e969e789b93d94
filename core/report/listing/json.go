package listing

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"

	"bygone.example/core/shelf"
	"bygone.example/core/source"
)

// Form is what the JSON form says it is, first of all.
const Form = "check/1"

// document is the JSON form: a result under a line that says what it is.
type document struct {
	Bygone string `json:"bygone"`
	Sound  bool   `json:"sound"` // no fault, no warning, nothing refused
	Counts counts `json:"counts"`
	*shelf.Result
	Written string `json:"written,omitempty"` // by whom, where it stands in a file
}

// Written is the last key of the JSON form in a file, and a property of the SARIF
// form: a place for the program to say that it wrote the file.
const Written = "written"

type counts struct {
	Patterns int `json:"patterns"`
	Chains   int `json:"chains"`
	Sound    int `json:"sound"`
	Refused  int `json:"refused"`
	Faults   int `json:"faults"`
	Warnings int `json:"warnings"`
	Notes    int `json:"notes"`
	Excepted int `json:"excepted"`
}

// MaxSize in bytes of a JSON file that is read: what 10,000 files with a hundred
// findings each come to.
const MaxSize = 512 << 20

// Read reads a result that was written as JSON. The name is what the user calls
// the file. An error is a source.Problems.
func Read(name string, data []byte) (*shelf.Result, error) {
	refuse := func(text string) error {
		return source.Problems{{File: name, Text: text, Remedy: "give a file that bygone check --format json=FILE has written"}}
	}
	var head struct {
		Bygone string `json:"bygone"`
	}
	if len(data) > MaxSize {
		return nil, refuse(fmt.Sprintf("the file is larger than %d MiB", MaxSize>>20))
	}
	if err := json.Unmarshal(data, &head); err != nil {
		return nil, refuse("this is not JSON: " + source.Harmless(err.Error(), 200))
	}
	if head.Bygone != Form {
		return nil, refuse(fmt.Sprintf("this is not the result of a check: it says that it is %s", source.Quote(head.Bygone)))
	}
	d := document{Result: new(shelf.Result)}
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&d); err != nil {
		return nil, refuse("the result of a check does not look like this: " + source.Harmless(err.Error(), 200))
	}
	// What it counts is held to what it holds: a file that lost its end, or a
	// finding, is not a clean one.
	if got := newDocument(d.Result); got.Counts != d.Counts || got.Sound != d.Sound {
		return nil, refuse("the file does not hold as many findings as it says")
	}
	return d.Result, nil
}

func newDocument(r *shelf.Result) document {
	n := r.Counts()
	return document{
		Bygone: Form, Sound: n.Clean(), Result: r,
		Counts: counts{n.Patterns, n.Chains, n.Sound, n.Refused, n.Faults, n.Warnings, n.Notes, n.Excepted},
	}
}

func writeJSON(w io.Writer, r *shelf.Result) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", " ")
	return enc.Encode(newDocument(r))
}
