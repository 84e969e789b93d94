package main

import (
	"context"
	"fmt"

	"bygone.example/core/finding"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
	"bygone.example/core/source"
)

// checkCommand walks the seams of patterns.
type checkCommand struct {
	Patterns []string `arg:"" help:"Pattern files, or - for standard input."`
}

// Run checks every pattern, also after one that is refused.
func (c *checkCommand) Run(ctx context.Context, s *streams) error {
	var problems source.Problems
	found := false
	for _, path := range c.Patterns {
		if ctx.Err() != nil {
			return context.Cause(ctx)
		}
		name, p, err := readPattern(ctx, path, s)
		if err != nil {
			if err := gather(&problems, err); err != nil {
				return err
			}
			continue
		}
		list := pairing.Check(p)
		tell(s, source.Harmless(name, maxPath), p, list)
		if n := pairing.Count(list); n.Faults+n.Warnings > 0 {
			found = true
		}
	}
	if err := problems.Err(); err != nil {
		return err
	}
	if found {
		return errFindings
	}
	return nil
}

// maxPath of a file's path is shown, in runes: what systems have room for.
const maxPath = 4096

// tell prints what was found in one pattern, or that nothing was.
func tell(s *streams, name string, p *pattern.Pattern, list []finding.Finding) {
	n := pairing.Count(list)
	for _, f := range list {
		where := name
		if f.Place.Piece != "" {
			where += ": " + f.Place.Piece
		}
		if f.Place.Edge != "" {
			where += "/" + f.Place.Edge
		}
		if at := f.Place.At; at != nil {
			where += fmt.Sprintf(" at (%.1f, %.1f)", at.X, at.Y)
		}
		fmt.Fprintf(s.out, "%s: %s: %s (%s)\n", where, f.Severity, f.Text, f.Code)
		if f.Remedy != "" {
			fmt.Fprintf(s.out, "      = %s\n", f.Remedy)
		}
	}
	seams := pairing.Walk(p)
	if n.Faults+n.Warnings == 0 {
		fmt.Fprintf(s.out, "%s: %s, %s walked: everything goes together\n", name, count(len(p.Pieces), "piece"), count(len(seams), "seam"))
		return
	}
	fmt.Fprintf(s.out, "%s: %s, %s walked: %s, %s\n", name, count(len(p.Pieces), "piece"), count(len(seams), "seam"),
		count(n.Faults, "fault"), count(n.Warnings, "warning"))
}

// count says how many there are of a thing.
func count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}
