package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"bygone.example/core/differ"
	"bygone.example/core/draw"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
	"bygone.example/core/report"
	"bygone.example/core/source"
	"bygone.example/core/unit"
)

// compareCommand lays one pattern over another.
type compareCommand struct {
	First     string `arg:"" help:"The first pattern file, or - for standard input."`
	Second    string `arg:"" help:"The second, laid over it."`
	Tolerance string `default:"0.1mm" help:"Differences of no more than this are none; default: ${default}." placeholder:"LENGTH"`
	Out       string `short:"o" help:"A picture of what differs: .svg, .png, or .html with all of it in words." placeholder:"FILE"`
}

// Run tells every difference, those that move a line or mark with how far and
// where.
func (c *compareCommand) Run(ctx context.Context, s *streams) error {
	var problems source.Problems
	tolerance, err := readTolerance(c.Tolerance)
	if err := gather(&problems, err); err != nil {
		return err
	}
	patterns, names := [2]*pattern.Pattern{}, [2]string{}
	for i, path := range [...]string{c.First, c.Second} {
		var err error
		names[i], patterns[i], err = readPattern(ctx, path, s)
		if err := gather(&problems, err); err != nil {
			return err
		}
		if c.Out != "" && same(path, c.Out) {
			problems.Add(source.Problem{File: "bygone", Text: fmt.Sprintf("%q is one of the patterns, and is not written over", c.Out), Remedy: "choose another name with -o"})
		}
	}
	if err := problems.Err(); err != nil {
		return err
	}
	found := differ.Compare(patterns[0], patterns[1], tolerance)
	if c.Out != "" {
		if err := c.picture(names, patterns, found); err != nil {
			return err
		}
	}
	tellDifferences(s, source.Harmless(names[0], maxPath), source.Harmless(names[1], maxPath), found)
	if found.Different() {
		return errFindings
	}
	return nil
}

// readTolerance reads a length that says how much is no difference.
func readTolerance(text string) (mm float64, err error) {
	mm, err = unit.ParseLength(text)
	if err == nil && !(mm >= minTolerance && mm <= maxTolerance) {
		err = fmt.Errorf("%s is not between %g mm and %g mm", text, minTolerance, maxTolerance)
	}
	if err != nil {
		return 0, &operation.Refusal{Why: fmt.Sprintf("--tolerance: %v", err), Instead: "write a length, for instance --tolerance 0.5mm"}
	}
	return mm, nil
}

// The bounds on a tolerance in mm: what files round away, and more than any two
// patterns that are alike.
const (
	minTolerance = 1e-5
	maxTolerance = 100.0
)

// tellDifferences prints what differs, or that nothing does.
func tellDifferences(s *streams, first, second string, c *differ.Comparison) {
	for _, d := range c.Differences {
		where := ""
		if d.At != nil && d.MM > 0 {
			where = fmt.Sprintf(" at (%.1f, %.1f)", d.At.X, d.At.Y)
		}
		note := ""
		if d.Harmless {
			note = "harmless: "
		}
		fmt.Fprintf(s.out, "%s%s%s (%s)\n", note, d.Text, where, d.What)
	}
	if !c.Different() {
		fmt.Fprintf(s.out, "%s and %s do not differ by more than %s\n", first, second, unit.Length(c.Tolerance))
		return
	}
	fmt.Fprintf(s.out, "%s and %s: %s", first, second, count(c.Count(), "difference"))
	if d, ok := c.Largest(); ok {
		fmt.Fprintf(s.out, ", the largest %s", unit.Length(d.MM))
	}
	fmt.Fprintln(s.out)
}

// picture writes what differs to a file, whole or not at all.
func (c *compareCommand) picture(names [2]string, patterns [2]*pattern.Pattern, found *differ.Comparison) error {
	var write func(io.Writer) error
	switch strings.ToLower(filepath.Ext(c.Out)) {
	case ".svg":
		write = func(w io.Writer) error { return draw.Compared(patterns[0], patterns[1], found).SVG(w, "d-") }
	case ".png":
		write = func(w io.Writer) error { return draw.Compared(patterns[0], patterns[1], found).PNG(w, pngWidth) }
	case ".html", ".htm":
		write = func(w io.Writer) error {
			return report.Compared(w, report.Comparison{
				First: source.Harmless(names[0], maxPath), Second: source.Harmless(names[1], maxPath),
				A: patterns[0], B: patterns[1], Found: found,
			})
		}
	default:
		return &operation.Refusal{
			Why:     fmt.Sprintf("a comparison cannot be written as %q", c.Out),
			Instead: "end the name in .svg, .png or .html",
		}
	}
	var b bytes.Buffer
	if err := write(&b); err != nil {
		return err
	}
	return replaceFile(c.Out, b.Bytes())
}
