// Package listing writes what a check of a shelf found: as text to read, and
// as JSON, SARIF and JUnit XML for machines. All are views of one list. Equal
// results give equal bytes.
package listing

import (
	"fmt"
	"io"

	"bygone.example/core/shelf"
)

// Format is a form to write a result in.
type Format string

// The formats.
const (
	Text  Format = "text"
	JSON  Format = "json"
	SARIF Format = "sarif"
	JUnit Format = "junit"
)

// Formats lists every format.
func Formats() []Format { return []Format{Text, JSON, SARIF, JUnit} }

// Write writes a result in a format.
func Write(w io.Writer, format Format, r *shelf.Result) error {
	switch format {
	case Text:
		return writeText(w, r)
	case JSON:
		return writeJSON(w, r)
	case SARIF:
		return writeSARIF(w, r)
	case JUnit:
		return writeJUnit(w, r)
	}
	return fmt.Errorf("there is no format %q", format)
}

// count says how many there are of a thing.
func count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}
