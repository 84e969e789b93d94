package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"bygone.example/core/draw"
	"bygone.example/core/operation"
)

// drawCommand draws a pattern's pieces.
type drawCommand struct {
	Pattern string `arg:"" help:"The pattern file, or - for standard input."`
	Out     string `short:"o" required:"" help:"The file to write: .svg or .png for a picture, .pdf for the pieces at true size on one sheet." placeholder:"FILE"`
	replaceFlag
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
	if err := c.mayWrite("-o", c.Out); err != nil {
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
	return c.writeFile("-o", c.Out, formOf(c.Out), b.Bytes())
}
