package main

import (
	"bytes"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"bygone.example/core/operation"
	"bygone.example/core/report/listing"
	"bygone.example/core/shelf"
	"bygone.example/core/source"
)

// formatted is a format and the file to write it to; empty for standard output.
type formatted struct {
	format listing.Format
	file   string
}

type outputs []formatted

// parseFormats reads FORMAT or FORMAT=FILE, each.
func parseFormats(flags []string) (outputs, error) {
	var list outputs
	out := "" // the format that standard output takes
	for _, flag := range flags {
		word, file, toFile := strings.Cut(flag, "=")
		f := formatted{listing.Format(word), file}
		switch {
		case !slices.Contains(listing.Formats(), f.format):
			return nil, &operation.Refusal{Why: fmt.Sprintf("there is no format %s", source.Quote(word)), Instead: "write --format text, json, sarif or junit, with =FILE after it for a file"}
		case toFile && f.file == "":
			return nil, &operation.Refusal{Why: fmt.Sprintf("--format %s names no file", source.Quote(flag)), Instead: "write the file's name after the ="}
		case !toFile && out != "":
			return nil, &operation.Refusal{Why: fmt.Sprintf("--format %s and --format %s would both go to standard output", out, word), Instead: fmt.Sprintf("write one of them to a file: --format %s=FILE", word)}
		case !toFile:
			out = word
		}
		for _, other := range list {
			if toFile && filepath.Clean(other.file) == filepath.Clean(f.file) {
				return nil, &operation.Refusal{Why: fmt.Sprintf("two formats would be written to %q", f.file), Instead: "give each a file of its own"}
			}
		}
		list = append(list, f)
	}
	if out == "" {
		list = append(list, formatted{format: listing.Text})
	}
	return list, nil
}

// text reports whether text goes to standard output.
func (o outputs) text() bool { return slices.Contains(o, formatted{format: listing.Text}) }

// flag is what named the file.
func (f formatted) flag() string { return "--format " + string(f.format) + "=" }

// form is what the file is written in.
func (f formatted) form() form {
	switch f.format {
	case listing.JSON:
		return jsonForm
	case listing.SARIF:
		return sarifForm
	case listing.JUnit:
		return markupForm
	}
	return textForm
}

// apart refuses to write over a file that is read, whatever the user says, and
// over one that is somebody else's.
func (o outputs) apart(inputs []string, over replaceFlag) error {
	for _, f := range o {
		if f.file == "" {
			continue
		}
		for _, in := range inputs {
			if filepath.Clean(in) == filepath.Clean(f.file) || same(in, f.file) {
				return &operation.Refusal{Why: fmt.Sprintf("%q is read, and is not written over", f.file), Instead: "choose another name with " + f.flag()}
			}
		}
		if err := over.mayWrite(f.flag(), f.file); err != nil {
			return err
		}
	}
	return nil
}

// write writes every format but the text that was printed already. All are made
// before any is written.
func (o outputs) write(s *streams, r *shelf.Result, over replaceFlag) error {
	made := make([][]byte, len(o))
	for i, f := range o {
		if f == (formatted{format: listing.Text}) {
			continue
		}
		var b bytes.Buffer
		if err := listing.Write(&b, f.format, r); err != nil {
			return err
		}
		made[i] = b.Bytes()
	}
	for i, f := range o {
		switch {
		case made[i] == nil:
		case f.file == "":
			if _, err := io.Copy(s.out, bytes.NewReader(made[i])); err != nil {
				return nil // the program tells of it
			}
		default:
			if err := over.writeFile(f.flag(), f.file, f.form(), made[i]); err != nil {
				return err
			}
		}
	}
	return nil
}
