package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"

	"bygone.example/core/chain"
	yamlfile "bygone.example/core/format/yaml"
	"bygone.example/core/pattern"
	"bygone.example/core/source"
)

// other is another pattern that a chain lists, read.
type other struct {
	name, path string
	pattern    *pattern.Pattern
}

// readOthers reads the patterns that a chain lists, all of them, before
// anything runs. What is wrong inside one is told at its own place; a file that
// cannot be read, at the place in the chain file that names it.
//
// A file's name is taken from the folder of the chain file, or from the one we
// are in where the chain comes from standard input. It may lead out of that
// folder, by .. or by a link: a house keeps its patterns in one place and its
// chains in another, and whoever runs a chain could read the file by hand. So
// nothing more is allowed than is with the other inputs: an ordinary file, no
// larger than a pattern may be, that is read and held to be a pattern. A plugin
// is sent what was understood, never the file.
func readOthers(ctx context.Context, c chain.Chain, file *source.File, s *streams) ([]other, error) {
	var problems source.Problems
	var list []other
	for _, o := range c.Patterns {
		path := filepath.FromSlash(o.File)
		if file.Name != stdinName {
			path = filepath.Join(filepath.Dir(file.Name), path)
		}
		_, data, err := readFile(ctx, path, s)
		if bad, ok := errors.AsType[source.Problems](err); ok {
			for _, p := range bad {
				problems.Add(file.Problem(o.Line, o.Col, fmt.Sprintf("pattern %s, file %s: %s", source.Quote(o.Name), source.Quote(path), p.Text),
					"name a pattern file that you may read, as seen from the folder of the chain file"))
			}
			continue
		}
		if err != nil {
			return nil, err
		}
		p, err := yamlfile.Read(path, data)
		if err := gather(&problems, err); err != nil {
			return nil, err
		}
		list = append(list, other{o.Name, path, p})
	}
	return list, problems.Err()
}
