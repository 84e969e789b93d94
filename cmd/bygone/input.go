package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	yamlfile "bygone.example/core/format/yaml"
	"bygone.example/core/pattern"
	"bygone.example/core/source"
)

// stdinName is what messages call a pattern read from standard input.
const stdinName = "standard input"

// readFile reads a file, or standard input where the path is "-", up to a byte
// more than a reader of ours takes: the reader then refuses it.
func readFile(path string, stdin io.Reader) (name string, data []byte, err error) {
	from := stdin
	name = path
	if path == "-" {
		name = stdinName
	} else {
		info, err := os.Stat(path)
		if err != nil {
			return "", nil, unreadable(path, err)
		}
		if info.IsDir() {
			return "", nil, source.Problems{{File: path, Text: "this is a folder", Remedy: "name a file in it"}}
		}
		if !info.Mode().IsRegular() {
			return "", nil, source.Problems{{File: path, Text: "this is not an ordinary file", Remedy: "name a file, or - for standard input"}}
		}
		f, err := os.Open(path)
		if err != nil {
			return "", nil, unreadable(path, err)
		}
		defer f.Close()
		from = f
	}
	data, err = io.ReadAll(io.LimitReader(from, yamlfile.MaxSize+1))
	if err != nil {
		return "", nil, unreadable(name, err)
	}
	return name, data, nil
}

func unreadable(path string, err error) error {
	reason := err
	if e, ok := errors.AsType[*fs.PathError](err); ok {
		reason = e.Err
	}
	text, remedy := fmt.Sprintf("cannot be read: %v", reason), "check the name and who may read it"
	if errors.Is(err, fs.ErrNotExist) {
		text, remedy = "there is no such file", "check the name, and the folder you are in"
	}
	return source.Problems{{File: path, Text: text, Remedy: remedy}}
}

// readPattern reads a pattern file.
func readPattern(path string, stdin io.Reader) (*pattern.Pattern, error) {
	name, data, err := readFile(path, stdin)
	if err != nil {
		return nil, err
	}
	return yamlfile.Read(name, data)
}

// gather adds what is wrong with one of several inputs to the rest; any other
// error is returned.
func gather(all *source.Problems, err error) error {
	if problems, ok := errors.AsType[source.Problems](err); ok {
		all.Add(problems...)
		return nil
	}
	return err
}
