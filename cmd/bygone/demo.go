package main

import (
	"context"
	"fmt"

	yamlfile "bygone.example/core/format/yaml"
	"bygone.example/core/outfolder"
	"bygone.example/core/source"
	"bygone.example/testdata"
)

// The demo's files, inside the program and in testdata/.
const (
	demoPattern = "patterns/stock-dress.yaml"
	demoChain   = "chains/high-waist-1806.yaml"
	demoWearer  = "wearers/leading-lady.yaml"
)

// demoCommand runs the house chain over the house's stock dress.
type demoCommand struct {
	Out string `short:"o" default:"out/demo" help:"The folder to write; a new one, or one of an earlier run." placeholder:"DIR"`
	startFlags
}

// Run does what alter does with the demo's own files.
func (c *demoCommand) Run(ctx context.Context, s *streams) error {
	read := func(name string) (*source.File, []byte, error) {
		data, err := testdata.Demo.ReadFile(name)
		if err != nil {
			return nil, nil, fmt.Errorf("the demo's own file is missing: %w", err)
		}
		name = "testdata/" + name
		return source.NewFile(name, data), data, nil
	}
	if err := outfolder.Check(c.Out); err != nil {
		return err
	}
	j := job{input: "testdata/" + demoPattern, out: c.Out, plugins: c.startFlags}
	_, data, err := read(demoPattern)
	if err != nil {
		return err
	}
	if j.pattern, err = yamlfile.Read(j.input, data); err != nil {
		return err
	}
	if j.file, data, err = read(demoChain); err != nil {
		return err
	}
	if j.chain, err = yamlfile.ReadChain(j.file.Name, data); err != nil {
		return err
	}
	if _, data, err = read(demoWearer); err != nil {
		return err
	}
	if j.wearer, err = yamlfile.ReadWearer("testdata/"+demoWearer, data); err != nil {
		return err
	}
	return j.run(ctx, s)
}
