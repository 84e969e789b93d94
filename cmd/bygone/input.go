package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	yamlfile "bygone.example/core/format/yaml"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
	"bygone.example/core/source"
)

// stdinName is what messages call a pattern read from standard input.
const stdinName = "standard input"

// readFile reads a file, or standard input where the path is "-", up to a byte
// more than a reader of ours takes: the reader then refuses it. The name is
// what messages call it.
func readFile(ctx context.Context, path string, s *streams) (name string, data []byte, err error) {
	return readUpTo(ctx, path, s, yamlfile.MaxSize+1)
}

// readUpTo is readFile with a bound of its own; standard input keeps to that of
// readFile.
func readUpTo(ctx context.Context, path string, s *streams, most int64) (name string, data []byte, err error) {
	if path == "-" {
		data, err = s.readIn(ctx)
		return stdinName, data, err
	}
	info, err := os.Stat(path)
	if err != nil {
		return path, nil, unreadable(path, err)
	}
	if info.IsDir() {
		return path, nil, source.Problems{{File: path, Text: "this is a folder", Remedy: "name a file in it"}}
	}
	if !info.Mode().IsRegular() {
		return path, nil, source.Problems{{File: path, Text: "this is not an ordinary file", Remedy: "name a file, or - for standard input"}}
	}
	f, err := os.Open(path)
	if err != nil {
		return path, nil, unreadable(path, err)
	}
	defer f.Close()
	if data, err = io.ReadAll(io.LimitReader(f, most)); err != nil {
		return path, nil, unreadable(path, err)
	}
	return path, data, nil
}

func readBounded(from io.Reader) ([]byte, error) {
	return io.ReadAll(io.LimitReader(from, yamlfile.MaxSize+1))
}

// readIn reads standard input, once. It does not wait for input when ctx is
// done.
func (s *streams) readIn(ctx context.Context) ([]byte, error) {
	if s.read {
		return nil, source.Problems{{File: stdinName, Text: "it can be read only once", Remedy: "name a file for the others"}}
	}
	s.read = true
	type result struct {
		data []byte
		err  error
	}
	done := make(chan result, 1)
	go func() {
		data, err := readBounded(s.in)
		done <- result{data, err}
	}()
	select {
	case r := <-done:
		if r.err != nil {
			return nil, unreadable(stdinName, r.err)
		}
		return r.data, nil
	case <-ctx.Done():
		return nil, context.Cause(ctx)
	}
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
func readPattern(ctx context.Context, path string, s *streams) (name string, p *pattern.Pattern, err error) {
	name, data, err := readFile(ctx, path, s)
	if err != nil {
		return name, nil, err
	}
	p, err = yamlfile.Read(name, data)
	return name, p, err
}

// gather adds what is wrong with one of several inputs to the rest; any other
// error is returned. A refusal of what a flag says is told as the program's own.
func gather(all *source.Problems, err error) error {
	if problems, ok := errors.AsType[source.Problems](err); ok {
		all.Add(problems...)
		return nil
	}
	if refusal, ok := errors.AsType[*operation.Refusal](err); ok {
		all.Add(source.Problem{File: "bygone", Text: refusal.Why, Remedy: refusal.Instead})
		return nil
	}
	return err
}
