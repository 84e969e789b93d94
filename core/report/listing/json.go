package listing

import (
	"encoding/json"
	"io"

	"bygone.example/core/shelf"
)

// Form is what the JSON form says it is, first of all.
const Form = "check/1"

// document is the JSON form: a result under a line that says what it is.
type document struct {
	Bygone string `json:"bygone"`
	Sound  bool   `json:"sound"` // no fault, no warning, nothing refused
	Counts counts `json:"counts"`
	*shelf.Result
}

type counts struct {
	Patterns int `json:"patterns"`
	Chains   int `json:"chains"`
	Sound    int `json:"sound"`
	Refused  int `json:"refused"`
	Faults   int `json:"faults"`
	Warnings int `json:"warnings"`
	Notes    int `json:"notes"`
}

func writeJSON(w io.Writer, r *shelf.Result) error {
	n := r.Counts()
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", " ")
	return enc.Encode(document{
		Bygone: Form, Sound: n.Faults+n.Warnings+n.Refused == 0,
		Counts: counts{n.Patterns, n.Chains, n.Sound, n.Refused, n.Faults, n.Warnings, n.Notes},
		Result: r,
	})
}
