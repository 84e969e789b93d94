package main

import (
	"fmt"

	yamlfile "bygone.example/core/format/yaml"
	"bygone.example/core/operation"
	"bygone.example/core/source"
	"bygone.example/core/spelling"
)

// schemaCommand prints the JSON Schema of a kind of file.
type schemaCommand struct {
	Kind string `arg:"" help:"pattern, chain, wearer, rules or labels."`
}

// Run prints it.
func (c *schemaCommand) Run(s *streams) error {
	data, ok := yamlfile.Schema(c.Kind)
	if !ok {
		return &operation.Refusal{
			Why:     "there is no kind of file " + source.Quote(c.Kind),
			Instead: spelling.Remedy(c.Kind, yamlfile.SchemaKinds()),
		}
	}
	_, err := fmt.Fprintf(s.out, "%s", data)
	return err
}
