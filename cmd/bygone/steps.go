package main

import (
	"context"
	"fmt"
	"io"
	"strings"

	"bygone.example/core/host"
	"bygone.example/core/operation"
)

// stepsCommand lists operations.
type stepsCommand struct {
	Names []string `arg:"" optional:"" help:"Only these: a plugin, or plugin.operation."`
	pluginFlags
}

// Run asks every plugin that may run what it offers.
func (c *stepsCommand) Run(ctx context.Context, s *streams) error {
	found, err := c.discover()
	if err != nil {
		return err
	}
	var names []string
	for _, f := range found {
		if f.Taken {
			names = append(names, f.Name)
		}
	}
	picked, _ := host.Pick(found, names...)
	session, err := host.Start(ctx, picked, host.Options{})
	if err != nil {
		return err
	}
	defer session.Close()
	shown := 0
	for _, d := range session.Specs() {
		for _, op := range d.Operations {
			if name := d.Name + "." + op.Name; c.wants(d.Name, name) {
				describe(s.out, name, op)
				shown++
			}
		}
	}
	if shown == 0 {
		return &operation.Refusal{Why: "no plugin offers " + strings.Join(c.Names, ", "), Instead: "bygone steps lists all there are"}
	}
	return nil
}

func (c *stepsCommand) wants(plugin, name string) bool {
	for _, n := range c.Names {
		if n == plugin || n == name {
			return true
		}
	}
	return len(c.Names) == 0
}

// describe prints one operation.
func describe(w io.Writer, name string, op operation.Spec) {
	fmt.Fprintf(w, "%s\n    %s\n", name, op.Purpose)
	for _, n := range op.Needs {
		if n.Edge == "" {
			fmt.Fprintf(w, "    needs %s\n", n.Piece)
		} else {
			fmt.Fprintf(w, "    needs %s with a %s edge\n", n.Piece, n.Edge)
		}
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
