package main

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"bygone.example/core/finding"
	"bygone.example/core/operation"
	"bygone.example/core/pairing"
	"bygone.example/core/report"
	"bygone.example/core/source"
	"bygone.example/core/spelling"
)

// explainCommand tells what the codes of the check mean.
type explainCommand struct {
	Code string `arg:"" optional:"" help:"A code that a finding carries, for instance seam-length; without one, all are listed."`
	Out  string `short:"o" help:"Write it as a page (.html), or its drawing (.svg or .png)." placeholder:"FILE"`
	replaceFlag
}

// Run prints one code or the list of all.
func (c *explainCommand) Run(s *streams) error {
	if c.Code == "" {
		return c.all(s)
	}
	shown, ok := report.Show(finding.Code(c.Code))
	if !ok {
		var known []string
		for _, e := range report.Codes() {
			known = append(known, string(e.Code))
		}
		remedy := "bygone explain lists all there are"
		if near, ok := spelling.Nearest(c.Code, known); ok {
			remedy = fmt.Sprintf("did you mean %s? %s", near, remedy)
		}
		return &operation.Refusal{Why: "there is no code " + source.Quote(c.Code), Instead: remedy}
	}
	if c.Out != "" {
		if err := c.write([]report.Shown{shown}); err != nil {
			return err
		}
	}
	explainCode(s.out, shown)
	return nil
}

// all lists every code, or writes one page of them.
func (c *explainCommand) all(s *streams) error {
	var list []report.Shown
	for _, e := range report.Codes() {
		shown, _ := report.Show(e.Code)
		list = append(list, shown)
	}
	if c.Out != "" {
		if err := c.write(list); err != nil {
			return err
		}
	}
	for _, e := range list {
		fmt.Fprintf(s.out, "%-20s %-8s %s\n", e.Code, e.Severity, e.Title)
	}
	return nil
}

// textWidth is how wide text is set on a terminal.
const textWidth = 78

// explainCode prints what a code means.
func explainCode(w io.Writer, e report.Shown) {
	fmt.Fprintf(w, "%s: %s (%s)\n", e.Code, e.Title, e.Severity)
	paragraph := func(head, text string) {
		if text == "" {
			return
		}
		if head != "" {
			fmt.Fprintf(w, "\n%s\n", head)
		}
		line := "   "
		for word := range strings.FieldsSeq(text) {
			if len([]rune(line))+1+len([]rune(word)) > textWidth {
				fmt.Fprintln(w, line)
				line = "   "
			}
			line += " " + word
		}
		fmt.Fprintln(w, line)
	}
	paragraph("why it matters", e.Why)
	paragraph("what to do", e.Remedy)
	for i, b := range e.Bounds {
		head := ""
		if i == 0 {
			head = "judged by"
		}
		paragraph(head, boundText(b))
	}
	paragraph("known from", cmp.Or(e.Source, "common practice of the workroom, from memory"))
	if e.Found == nil {
		paragraph("no drawing", e.Unshown)
		return
	}
	paragraph("for example", e.Found.Text)
	fmt.Fprintf(w, "\nbefore and after, drawn: bygone explain %s -o FILE.html\n", e.Code)
}

// boundText says what a tolerance is and why.
func boundText(b pairing.Tolerance) string {
	unit := " " + b.Unit
	if b.Unit == "ratio" {
		unit = ""
	}
	return fmt.Sprintf("%s, %g%s unless a repository sets another: %s", b.Name, b.Default, unit, b.Reason)
}

// write writes codes to a page, or one to a picture.
func (c *explainCommand) write(list []report.Shown) error {
	ext := strings.ToLower(filepath.Ext(c.Out))
	var b bytes.Buffer
	var err error
	switch {
	case ext == ".html" || ext == ".htm":
		err = report.Explained(&b, list)
	case (ext == ".svg" || ext == ".png") && len(list) > 1:
		return &operation.Refusal{Why: "a drawing is of one code", Instead: "name the code, or end the name in .html for all of them"}
	case ext == ".svg" || ext == ".png":
		picture, ok := list[0].Picture()
		switch {
		case !ok:
			return &operation.Refusal{Why: fmt.Sprintf("%s has no drawing: %s", list[0].Code, list[0].Unshown), Instead: "leave -o out"}
		case ext == ".svg":
			err = picture.SVG(&b, "e-")
		default:
			err = picture.PNG(&b, pngWidth)
		}
	default:
		return &operation.Refusal{Why: fmt.Sprintf("an explanation cannot be written as %q", c.Out), Instead: "end the name in .html, .svg or .png"}
	}
	if err != nil {
		return err
	}
	return c.writeFile("-o", c.Out, formOf(c.Out), b.Bytes())
}
