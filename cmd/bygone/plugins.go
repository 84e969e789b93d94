package main

import (
	"fmt"

	"bygone.example/core/source"
)

// pluginsCommand lists what was found where.
type pluginsCommand struct{ pluginFlags }

// Run starts nothing.
func (c *pluginsCommand) Run(s *streams) error {
	found, err := c.discover()
	if err != nil {
		return err
	}
	for _, f := range found {
		state := "taken"
		if !f.Taken {
			state = "not taken: " + f.Why
		}
		where := string(f.Origin)
		if f.Origin != "house" {
			where = source.Harmless(f.Path, 200)
		}
		fmt.Fprintf(s.out, "%-12s %-8s %s\n", source.Harmless(f.Name, 60), where, state)
	}
	fmt.Fprintln(s.out, "\nLooked for, in this order: house plugins, --plugin files, --plugins-from folders, the folder plugins.d here, PATH.")
	return nil
}
