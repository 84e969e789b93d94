package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"

	yamlfile "bygone.example/core/format/yaml"
	"bygone.example/core/operation"
	"bygone.example/core/rules"
	"bygone.example/core/shelf"
)

// readRules reads the rules file that is named, or the one that is in force at
// the paths; nil when there is none.
func readRules(ctx context.Context, named string, paths []string, texts shelf.Texts, s *streams) (*shelf.InForce, error) {
	if named == "" {
		here, err := os.Getwd()
		if err != nil {
			return nil, nil // without a folder there are no rules either
		}
		found := rulesAt(here, paths, texts)
		if len(found) > 1 {
			return nil, &operation.Refusal{
				Why:     fmt.Sprintf("the paths are under two files of rules, %q and %q", found[0], found[1]),
				Instead: oneFile + ", check the paths apart, or say which with --rules FILE",
			}
		}
		if len(found) == 0 {
			return nil, nil
		}
		named = found[0]
	}
	name, data, err := named, []byte(nil), error(nil)
	if text := texts[shelf.Place(named)]; text != nil {
		data, err = text(yamlfile.MaxSize + 1)
	} else {
		name, data, err = readFile(ctx, named, s)
	}
	if err != nil {
		return nil, err
	}
	r, err := yamlfile.ReadRules(name, data)
	if err != nil {
		return nil, err
	}
	return &shelf.InForce{Rules: r, Path: named}, nil
}

// oneFile is what to do about several files of rules.
const oneFile = "keep the rules in one file at the top of the repository"

// unruled refuses a file of rules further down than the one that is in force: it
// would be taken by whoever stands in its folder, and by nobody else.
func unruled(found shelf.Found, in *shelf.InForce) error {
	for _, f := range found.Files {
		if f.Named || filepath.Base(f.Path) != rules.FileName || in != nil && shelf.Place(f.Path) == shelf.Place(in.Path) {
			continue
		}
		return &operation.Refusal{
			Why:     fmt.Sprintf("%q sets rules for its own folder, and would not be kept to from here", filepath.ToSlash(f.Path)),
			Instead: oneFile + ", check its folder apart, or say which with --rules FILE",
		}
	}
	return nil
}

// rulesAt returns the files of rules for the paths: all that are in its folder
// or above it, no further up than the top of its repository, or the folder we
// are in. Without either only its own folder is looked at: whatever lies further
// up was not put there for it.
func rulesAt(here string, paths []string, texts shelf.Texts) []string {
	var found []string
	for _, path := range paths {
		abs, err := filepath.Abs(path)
		if path == "-" {
			abs = here
		} else if err != nil {
			continue
		} else if info, err := os.Stat(abs); err != nil || !info.IsDir() {
			abs = filepath.Dir(abs)
		}
		for _, file := range above(abs, here, texts) {
			if rel, err := filepath.Rel(here, file); err == nil {
				file = rel
			}
			if !slices.Contains(found, file) {
				found = append(found, file)
			}
		}
	}
	return found
}

// above returns the files of rules in a folder and above it, up to its top, from
// the inmost.
func above(folder, here string, texts shelf.Texts) (files []string) {
	top := top(folder, here)
	for at := folder; ; at = filepath.Dir(at) {
		file := filepath.Join(at, rules.FileName)
		if there(texts, file) {
			files = append(files, file)
		}
		if at == top {
			return files
		}
	}
}

// base is the folder we are in, as seen from the top of its repository, with
// forward slashes; empty at the top and where there is none.
func base() string {
	here, err := os.Getwd()
	if err != nil {
		return ""
	}
	for at := here; at != filepath.Dir(at); at = filepath.Dir(at) {
		if _, err := os.Lstat(filepath.Join(at, ".git")); err == nil {
			if rel, err := filepath.Rel(at, here); err == nil && rel != "." {
				return filepath.ToSlash(rel)
			}
			return ""
		}
	}
	return ""
}

// top is the top of the repository that a folder is in, or else the folder we
// are in, where that is above it, or else the folder itself.
func top(folder, here string) string {
	top := folder
	for at := folder; ; at = filepath.Dir(at) {
		if at == here {
			top = here
		}
		if _, err := os.Lstat(filepath.Join(at, ".git")); err == nil {
			return at
		}
		if at == filepath.Dir(at) {
			return top
		}
	}
}
