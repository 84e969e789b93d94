package main

import (
	"bytes"
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
func (c *drawCommand) Run(s *streams) error {
	p, err := readPattern(c.Pattern, s.in)
	if err != nil {
		return err
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

// replaceFile writes a file beside its place and moves it there.
func replaceFile(path string, data []byte) error {
	refuse := func(err error) error {
		var inner *fs.PathError
		if errors.As(err, &inner) {
			err = inner.Err
		}
		return &operation.Refusal{Why: fmt.Sprintf("%q cannot be written: %v", path, err), Instead: "choose another place with -o"}
	}
	if info, err := os.Lstat(path); err == nil && !info.Mode().IsRegular() {
		return refuse(errors.New("it is there and not an ordinary file"))
	}
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".new-")
	if err != nil {
		return refuse(err)
	}
	_, err = f.Write(data)
	if err = errors.Join(err, f.Chmod(0o644), f.Close()); err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		os.Remove(f.Name())
		return refuse(err)
	}
	return nil
}
