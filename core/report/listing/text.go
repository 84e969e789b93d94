package listing

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"bygone.example/core/finding"
	"bygone.example/core/shelf"
	"bygone.example/core/source"
)

// maxPath of a file's path is shown, in runes: what systems have room for.
const maxPath = 4096

// Lines writes what was found in one file, each finding with what to do under
// it. Sound says whether a file in which nothing was found gets a line too.
// Refusals are not written: they are shown as other refusals of the program's.
func Lines(w io.Writer, c *shelf.Checked, sound bool) error {
	if len(c.Refused) > 0 {
		return nil
	}
	b := bufio.NewWriter(w)
	name := source.Harmless(c.Path, maxPath)
	var n shelf.Counts
	n.Add(c)
	for _, f := range c.Findings {
		fmt.Fprintf(b, "%s%s: %s: %s (%s)\n", name, where(f.Place), f.Severity, f.Text, f.Code)
		if f.Remedy != "" {
			fmt.Fprintf(b, "      = %s\n", f.Remedy)
		}
	}
	switch {
	case n.Faults+n.Warnings+n.More > 0 && c.Kind == shelf.Rules:
		// Its findings are about itself, and nothing was walked.
	case n.Faults+n.Warnings+n.More > 0:
		fmt.Fprintf(b, "%s: %s: %s, %s%s\n", name, looked(c), count(n.Faults, "fault"), count(n.Warnings, "warning"), more(c.More))
	case !sound:
	case c.Kind == shelf.Pattern:
		fmt.Fprintf(b, "%s: %s: everything goes together\n", name, looked(c))
	default:
		fmt.Fprintf(b, "%s: a %s file in order\n", name, c.Kind)
	}
	return b.Flush()
}

func looked(c *shelf.Checked) string {
	if c.Kind == shelf.Pattern {
		return fmt.Sprintf("%s, %s walked", count(c.Pieces, "piece"), count(c.Seams, "seam"))
	}
	return string(c.Kind)
}

func more(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprintf(", and %d more findings", n)
}

// where is a finding's place after the name of its file.
func where(p finding.Place) string {
	var b strings.Builder
	if p.Line > 0 {
		fmt.Fprintf(&b, ":%d", p.Line)
		if p.Column > 0 {
			fmt.Fprintf(&b, ":%d", p.Column)
		}
	}
	if p.Piece != "" {
		b.WriteString(": " + part(p))
	}
	switch {
	case p.Where != "":
		b.WriteString(", " + p.Where)
	case p.At != nil:
		fmt.Fprintf(&b, " at (%.1f, %.1f)", p.At.X, p.At.Y)
	}
	return b.String()
}

// part names the part of the pattern.
func part(p finding.Place) string {
	switch {
	case p.Piece != "" && p.Edge != "":
		return p.Piece + "/" + p.Edge
	case p.Piece != "":
		return p.Piece
	case p.Seam != "":
		return "seam " + p.Seam
	}
	return ""
}

// Summary writes one line of what was looked at and what was found, and one of
// what was passed over.
func Summary(w io.Writer, n shelf.Counts, passed shelf.Passed) error {
	var b strings.Builder
	seen := count(n.Patterns, "pattern")
	if n.Chains > 0 {
		seen += ", " + count(n.Chains, "chain")
	}
	if n.Wearers > 0 {
		seen += ", " + count(n.Wearers, "wearer")
	}
	b.WriteString(seen + ": ")
	switch {
	case n.Faults+n.Warnings+n.More > 0:
		fmt.Fprintf(&b, "%s, %s in %s; %s sound", count(n.Faults, "fault"), count(n.Warnings, "warning"), count(n.FilesFaulty, "file"), count(n.Sound, "file"))
	case n.Refused > 0:
		fmt.Fprintf(&b, "%s sound", count(n.Sound, "file"))
	case n.Patterns+n.Chains+n.Wearers == 0:
		b.WriteString("nothing to check")
	default:
		b.WriteString("everything goes together")
	}
	if n.Refused > 0 {
		fmt.Fprintf(&b, "; %s could not be used", count(n.Refused, "file"))
	}
	if n.Excepted > 0 {
		fmt.Fprintf(&b, "; %s excepted by the rules", count(n.Excepted, "finding"))
	}
	b.WriteString("\n")
	var over []string
	for _, p := range []struct {
		n    int
		what string
	}{{passed.Others, "other YAML file"}, {passed.Empty, "empty file"}, {passed.Links, "link"}, {passed.Odd, "thing that is no ordinary file"}} {
		if p.n > 0 {
			over = append(over, count(p.n, p.what))
		}
	}
	if len(over) > 0 {
		fmt.Fprintf(&b, "passed over: %s\n", strings.Join(over, ", "))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// writeText writes all of a result, refusals included.
func writeText(w io.Writer, r *shelf.Result) error {
	for i := range r.Files {
		c := &r.Files[i]
		for _, p := range c.Problems() {
			if _, err := fmt.Fprintln(w, p.Error()); err != nil {
				return err
			}
		}
		if err := Lines(w, c, false); err != nil {
			return err
		}
	}
	return Summary(w, r.Counts(), r.Passed)
}
