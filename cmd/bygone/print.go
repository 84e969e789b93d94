package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"bygone.example/core/operation"
	"bygone.example/core/paper"
	"bygone.example/core/pattern"
	"bygone.example/core/source"
	"bygone.example/core/unit"
)

// printCommand lays a pattern on paper.
type printCommand struct {
	Pattern string   `arg:"" help:"The pattern file, or - for standard input."`
	Paper   string   `default:"a4" help:"The paper: a4, a3, a2, a1, a0, letter, tabloid, arch-e, roll:WIDTH as in roll:91cm, WIDTHxHEIGHT as in 50cmx70cm, or projector." placeholder:"SIZE"`
	Out     string   `short:"o" required:"" help:"The file to write: .pdf for all pages; .svg or .png for the joined sheet as a picture." placeholder:"FILE"`
	Sizes   []string `help:"Further sizes of the same pattern, drawn in each other: pattern files whose pieces have the same names." placeholder:"FILE"`
	Scale   string   `default:"1:1" help:"Draw smaller, as 1:5 for a notebook; 1:1 is to cut from." placeholder:"1:N"`
	Margin  string   `help:"What the printer leaves blank on every side (10mm)." placeholder:"LENGTH"`
	Overlap string   `help:"The edge to glue (10mm); 0mm to butt the pages." placeholder:"LENGTH"`
	replaceFlag
}

// Run lays out and draws in memory first: a file is written whole or not at all.
func (c *printCommand) Run(ctx context.Context, s *streams) error {
	options, err := c.options()
	if err != nil {
		return err
	}
	name, p, err := readPattern(ctx, c.Pattern, s)
	if err != nil {
		return err
	}
	if options.Sizes, err = c.sizes(ctx, s, name, p); err != nil {
		return err
	}
	if same(c.Pattern, c.Out) {
		return &operation.Refusal{Why: fmt.Sprintf("%q is the pattern itself, and is not written over", c.Out), Instead: "choose another name with -o"}
	}
	if err := c.mayWrite("-o", c.Out); err != nil {
		return err
	}
	sheet, err := paper.Lay(p, options)
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := c.write(&b, sheet); err != nil {
		return err
	}
	if ctx.Err() != nil {
		return context.Cause(ctx)
	}
	if err := c.writeFile("-o", c.Out, formOf(c.Out), b.Bytes()); err != nil {
		return err
	}
	_, err = fmt.Fprintln(s.out, sheet.Text())
	return err
}

// sizes reads the further sizes; each is called what its file is.
func (c *printCommand) sizes(ctx context.Context, s *streams, name string, p *pattern.Pattern) ([]paper.Nested, error) {
	if len(c.Sizes) == 0 {
		return nil, nil
	}
	called := func(path string) string { return strings.TrimSuffix(filepath.Base(path), filepath.Ext(path)) }
	list := []paper.Nested{{Name: called(name), Pattern: p}}
	var problems source.Problems
	for _, path := range c.Sizes {
		if same(path, c.Out) {
			return nil, &operation.Refusal{Why: fmt.Sprintf("%q is one of the sizes, and is not written over", c.Out), Instead: "choose another name with -o"}
		}
		name, p, err := readPattern(ctx, path, s)
		if err := gather(&problems, err); err != nil {
			return nil, err
		}
		list = append(list, paper.Nested{Name: called(name), Pattern: p})
	}
	return list, problems.Err()
}

// options reads what the flags say.
func (c *printCommand) options() (o paper.Options, err error) {
	switch ext := strings.ToLower(filepath.Ext(c.Out)); ext {
	case ".pdf", ".svg", ".png":
	default:
		return o, &operation.Refusal{Why: fmt.Sprintf("sheets cannot be written as %q", c.Out), Instead: "end the name in .pdf, .svg or .png"}
	}
	if o.Size, err = paper.ParseSize(c.Paper); err != nil {
		return o, err
	}
	length := func(flag, text string, usual float64) (float64, error) {
		if text == "" {
			return usual, nil
		}
		mm, err := unit.ParseLength(text)
		if err != nil {
			return 0, &operation.Refusal{Why: fmt.Sprintf("--%s %q: %v", flag, text, err), Instead: fmt.Sprintf("write for instance --%s 8mm", flag)}
		}
		return mm, nil
	}
	if o.Margin, err = length("margin", c.Margin, paper.DefaultMargin); err != nil {
		return o, err
	}
	if o.Overlap, err = length("overlap", c.Overlap, paper.DefaultOverlap); err != nil {
		return o, err
	}
	o.Scale, err = scale(c.Scale)
	return o, err
}

// The smallest scale that a line of a piece can still be told from the next at.
const smallestScale = 100

// scale reads 1:5.
func scale(text string) (float64, error) {
	one, n, ok := strings.Cut(text, ":")
	if ok && strings.TrimSpace(one) == "1" {
		if v, err := unit.ParseNumber(n); err == nil && v >= 1 && v <= smallestScale {
			return 1 / v, nil
		}
	}
	return 0, &operation.Refusal{
		Why:     fmt.Sprintf("%q is no scale to draw a pattern at", text),
		Instead: fmt.Sprintf("write 1:1 to cut from, or a smaller one down to 1:%d, for instance 1:5", smallestScale),
	}
}

func (c *printCommand) write(w io.Writer, sheet *paper.Sheet) error {
	switch strings.ToLower(filepath.Ext(c.Out)) {
	case ".svg":
		return sheet.Drawing.SVG(w, "p-")
	case ".png":
		return sheet.Drawing.PNG(w, pngWidth)
	}
	return sheet.Document().PDF(w)
}
