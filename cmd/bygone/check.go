package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"path/filepath"
	"slices"

	"bygone.example/core/operation"
	"bygone.example/core/report/listing"
	"bygone.example/core/shelf"
	"bygone.example/core/source"
)

// checkCommand walks the seams of patterns, one by one or of a whole shelf.
type checkCommand struct {
	Paths  []string `arg:"" name:"path" help:"Pattern files, folders of patterns and chains, or - for standard input."`
	Format []string `help:"How to write what was found: text, json, sarif or junit; with =FILE, into a file. May be given several times. Text goes to standard output unless another format does." placeholder:"FORMAT[=FILE]" sep:"none"`
}

// Run checks every file, also after one that is refused.
func (c *checkCommand) Run(ctx context.Context, s *streams) error {
	outputs, err := parseFormats(c.Format)
	if err != nil {
		return err
	}
	found, err := c.find(ctx, s)
	if err != nil {
		return err
	}
	if err := outputs.apart(found); err != nil {
		return err
	}
	result, err := c.check(ctx, s, found, outputs)
	if s.out.failed != nil {
		return nil // the program tells of it
	}
	if err != nil {
		return err
	}
	if len(result.Files) == 0 {
		// A check of nothing must not look like one that was passed.
		return &operation.Refusal{Why: "there is no pattern, chain or wearer at the paths named", Instead: "name a folder that holds YAML files beginning with a line such as: bygone: pattern/1"}
	}
	if err := outputs.write(s, result); err != nil {
		return err
	}
	return verdict(result)
}

// verdict is the error of a result: what was refused before what was found.
func verdict(r *shelf.Result) error {
	if err := r.Problems().Err(); err != nil {
		return err
	}
	if n := r.Counts(); n.Faults+n.Warnings > 0 {
		return errFindings
	}
	return nil
}

// find lists what is to be checked.
func (c *checkCommand) find(ctx context.Context, s *streams) (shelf.Found, error) {
	paths := slices.DeleteFunc(slices.Clone(c.Paths), func(p string) bool { return p == "-" })
	found, err := shelf.Find(ctx, paths)
	if err != nil || len(paths) == len(c.Paths) {
		return found, err
	}
	for range len(c.Paths) - len(paths) {
		data, err := s.readIn(ctx)
		if err != nil {
			return found, err
		}
		found.Files = append(found.Files, shelf.File{Path: stdinName, Named: true, Data: append([]byte{}, data...)})
	}
	return found, nil
}

// check checks the files and, where text is for standard output, prints what
// was found in each as soon as it is its turn.
func (c *checkCommand) check(ctx context.Context, s *streams, found shelf.Found, outputs outputs) (*shelf.Result, error) {
	progress := newProgress(s, len(found.Files))
	o := shelf.Options{}
	if outputs.text() {
		o.Progress = func(done, total int) { progress.files(done, total) }
		named := map[string]bool{}
		for _, f := range found.Files {
			named[filepath.ToSlash(f.Path)] = f.Named
		}
		o.Each = func(c *shelf.Checked) error {
			progress.done()
			return listing.Lines(s.out, c, named[c.Path])
		}
	}
	result, err := shelf.Check(ctx, found, o)
	progress.done()
	if err != nil {
		return nil, err
	}
	// Of files named one by one each has had its line already.
	if outputs.text() && slices.ContainsFunc(found.Files, func(f shelf.File) bool { return !f.Named }) {
		if err := listing.Summary(s.out, result.Counts(), result.Passed); err != nil {
			return nil, err
		}
	}
	return result, nil
}

// output is a format and the file to write it to; empty for standard output.
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
		word, file, toFile := bytes.Cut([]byte(flag), []byte("="))
		f := formatted{listing.Format(word), string(file)}
		switch {
		case !slices.Contains(listing.Formats(), f.format):
			return nil, &operation.Refusal{Why: fmt.Sprintf("there is no format %s", source.Quote(string(word))), Instead: "write --format text, json, sarif or junit, with =FILE after it for a file"}
		case toFile && f.file == "":
			return nil, &operation.Refusal{Why: fmt.Sprintf("--format %s names no file", source.Quote(flag)), Instead: "write the file's name after the ="}
		case !toFile && out != "":
			return nil, &operation.Refusal{Why: fmt.Sprintf("--format %s and --format %s would both go to standard output", out, word), Instead: fmt.Sprintf("write one of them to a file: --format %s=FILE", word)}
		case !toFile:
			out = string(word)
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

// apart refuses to write over a file that is to be checked.
func (o outputs) apart(found shelf.Found) error {
	for _, f := range o {
		if f.file == "" {
			continue
		}
		for _, in := range found.Files {
			if in.Data == nil && (filepath.Clean(in.Path) == filepath.Clean(f.file) || same(in.Path, f.file)) {
				return &operation.Refusal{Why: fmt.Sprintf("%q is to be checked, and is not written over", f.file), Instead: "choose another name after --format " + string(f.format) + "="}
			}
		}
	}
	return nil
}

// write writes every format but the text that was printed already. All are made
// before any is written.
func (o outputs) write(s *streams, r *shelf.Result) error {
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
			if err := replaceFile(f.file, made[i]); err != nil {
				return err
			}
		}
	}
	return nil
}

// maxPath of a file's path is shown, in runes: what systems have room for.
const maxPath = 4096
