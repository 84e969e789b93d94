package main

import (
	"context"
	"fmt"
	"io"

	"bygone.example/core/host"
	"bygone.example/core/operation"
	"bygone.example/core/source"
)

// stepsCommand lists operations.
type stepsCommand struct {
	Names []string `arg:"" optional:"" help:"Tell all of these: a plugin, or plugin.operation; without one, a line of each."`
	startFlags
}

// Run asks every plugin that may run what it offers.
func (c *stepsCommand) Run(ctx context.Context, s *streams) error {
	found, err := c.discover()
	if err != nil {
		return err
	}
	if err := unusable(found); err != nil {
		return err
	}
	var names []string
	for _, f := range found {
		if f.Taken {
			names = append(names, f.Name)
		}
	}
	picked, _ := host.Pick(found, names...)
	session, err := host.Start(ctx, picked, c.options())
	if err != nil {
		return err
	}
	specs := session.Specs()
	session.Close() // before printing, which ends us where nobody reads on
	wanted := map[string]bool{}
	for _, n := range c.Names {
		wanted[n] = false
	}
	for _, d := range specs {
		for _, op := range d.Operations {
			name := d.Name + "." + op.Name
			_, all := wanted[d.Name]
			_, one := wanted[name]
			if len(c.Names) > 0 && !all && !one {
				continue
			}
			if len(c.Names) == 0 {
				fmt.Fprintf(s.out, "%-24s %s\n", name, op.Purpose)
				continue
			}
			describe(s.out, name, op)
			if all {
				wanted[d.Name] = true
			}
			if one {
				wanted[name] = true
			}
		}
	}
	if len(c.Names) == 0 {
		fmt.Fprintln(s.out, "\nbygone steps NAME tells all about one, or about a plugin's: what it needs, its parameters and where they are known from")
	}
	var problems source.Problems
	for _, n := range c.Names {
		if !wanted[n] {
			problems.Add(source.Problem{File: "bygone", Text: "no plugin that may run offers " + source.Quote(n), Remedy: "bygone steps lists all there are, bygone plugins what may not run"})
		}
	}
	return problems.Err()
}

// describe prints one operation.
func describe(w io.Writer, name string, op operation.Spec) {
	fmt.Fprintf(w, "%s\n    %s\n", name, op.Purpose)
	for _, n := range op.Needs {
		fmt.Fprintf(w, "    needs %s\n", n)
	}
	for _, n := range op.Makes {
		fmt.Fprintf(w, "    makes %s\n", n)
	}
	for _, m := range op.Measures {
		fmt.Fprintf(w, "    looks at the wearer's %s\n", m)
	}
	for _, p := range op.Parameters {
		def := p.Default
		if def == "" {
			def = p.DefaultNote
		} else if p.Mark != "" {
			def += ", " + string(p.Mark)
		}
		fmt.Fprintf(w, "  %-16s %s\n%19s%s; default: %s\n", p.Name, p.Meaning, "", p.Allowed(), def)
		if p.Source != "" {
			fmt.Fprintf(w, "%19s%s\n", "", p.Source)
		}
	}
	fmt.Fprintln(w)
}
