package main

import (
	"context"
	"path/filepath"

	"bygone.example/core/chain"
	yamlfile "bygone.example/core/format/yaml"
	"bygone.example/core/pattern"
	"bygone.example/core/wearer"
)

// chainFiles reads what a chain file names, from the folder it lies in.
type chainFiles struct {
	dir string
	s   *streams
}

var _ chain.Files = chainFiles{}

// filesOf reads for the chain file of that name; of one from standard input,
// from the folder we are in.
func filesOf(name string, s *streams) chainFiles {
	if name == stdinName {
		return chainFiles{".", s}
	}
	return chainFiles{filepath.Dir(name), s}
}

func (f chainFiles) path(file string) string { return filepath.Join(f.dir, filepath.FromSlash(file)) }

// Pattern reads a pattern file.
func (f chainFiles) Pattern(ctx context.Context, file string) (*pattern.Pattern, error) {
	_, p, err := readPattern(ctx, f.path(file), f.s)
	return p, err
}

// Wearer reads a wearer file.
func (f chainFiles) Wearer(ctx context.Context, file string) (wearer.Wearer, error) {
	name, data, err := readFile(ctx, f.path(file), f.s)
	if err != nil {
		return wearer.Wearer{}, err
	}
	return yamlfile.ReadWearer(name, data)
}
