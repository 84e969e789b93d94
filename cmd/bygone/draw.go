package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"bygone.example/core/draw"
	"bygone.example/core/operation"
)

// drawCommand draws a pattern's pieces.
type drawCommand struct {
	Pattern string `arg:"" help:"The pattern file, or - for standard input."`
	Out     string `short:"o" required:"" help:"The file to write: .svg or .png for a picture, .pdf for the pieces at true size on one sheet." placeholder:"FILE"`
}

// Run draws into memory first: a file is written whole or not at all.
func (c *drawCommand) Run(ctx context.Context, s *streams) error {
	_, p, err := readPattern(ctx, c.Pattern, s)
	if err != nil {
		return err
	}
	if same(c.Pattern, c.Out) {
		return &operation.Refusal{Why: fmt.Sprintf("%q is the pattern itself, and is not written over", c.Out), Instead: "choose another name with -o"}
	}
	var write func(io.Writer) error
	switch ext := strings.ToLower(filepath.Ext(c.Out)); ext {
	case ".svg":
		write = func(w io.Writer) error { return draw.Pieces(p).SVG(w, "p-") }
	case ".png":
		write = func(w io.Writer) error { return draw.Pieces(p).PNG(w, pngWidth) }
	case ".pdf":
		write = draw.Sheet(p).PDF
	default:
		return &operation.Refusal{
			Why:     fmt.Sprintf("a picture cannot be written as %q", c.Out),
			Instead: "end the name in .svg, .png or .pdf",
		}
	}
	var b bytes.Buffer
	if err := write(&b); err != nil {
		return err
	}
	return replaceFile(c.Out, b.Bytes())
}

// same reports whether two paths lead to one file that is there.
func same(a, b string) bool {
	one, err := os.Stat(a)
	if err != nil {
		return false
	}
	other, err := os.Stat(b)
	return err == nil && os.SameFile(one, other)
}

// replaceFile writes a file beside its place and moves it there.
func replaceFile(path string, data []byte) error {
	refuse := func(err error) error {
		if inner, ok := errors.AsType[*fs.PathError](err); ok {
			err = inner.Err
		}
		return &operation.Refusal{Why: fmt.Sprintf("%q cannot be written: %v", path, err), Instead: "choose another place with -o"}
	}
	if info, err := os.Lstat(path); err == nil && !info.Mode().IsRegular() {
		return refuse(errors.New("it is there and not an ordinary file"))
	}
	f, err := createBeside(path)
	if err != nil {
		return refuse(err)
	}
	_, err = f.Write(data)
	if err = errors.Join(err, f.Close()); err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		os.Remove(f.Name())
		return refuse(err)
	}
	return nil
}

// createBeside makes a hidden file beside path, as open to others as the user
// wants new files to be.
func createBeside(path string) (*os.File, error) {
	for n := 1; ; n++ {
		name := filepath.Join(filepath.Dir(path), fmt.Sprintf(".%s.new-%d", filepath.Base(path), n))
		f, err := os.OpenFile(name, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o666)
		if err == nil || !errors.Is(err, fs.ErrExist) {
			return f, err
		}
	}
}
