package shelf

import (
	"cmp"
	"context"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"bygone.example/core/source"
)

const (
	// MaxFiles is how many YAML files are looked at in one run: a hundred times
	// the largest repository that the check is measured with. The list of a
	// million names takes some 200 MB.
	MaxFiles = 1_000_000
	// maxDepth is how deep folders may nest: deeper than any path that a person
	// would type, and less than what systems refuse.
	maxDepth = 200
)

// File is a file to check.
type File struct {
	Path string // as it was reached, in the system's own form
	// Named files were given one by one, and are held to be ours whatever they
	// say; the others were found in a folder.
	Named bool
	// Data is the file's text where it was read already, as from standard input;
	// nil otherwise.
	Data []byte

	text  Text  // where it is to be read from instead of the disk; nil for the disk
	fault error // why it cannot be looked at, found while looking for it
}

// slash is what results call the file.
func (f File) slash() string { return filepath.ToSlash(f.Path) }

// Found is what lies at the paths that were named.
type Found struct {
	Files  []File // by path, each once; paths that are not there and folders that cannot be read among them
	Passed Passed

	texts Texts // see Instead
}

// Find lists the YAML files at and below the paths. Below a folder, names that
// begin with a dot are left alone, and so are links: what a link leads to is
// found where it lies, or is not of the repository. A path that is itself a
// link is followed, since somebody named it.
func Find(ctx context.Context, paths []string) (Found, error) {
	w := walk{ctx: ctx, seen: map[string]bool{}}
	for _, path := range paths {
		path = filepath.Clean(path)
		info, err := os.Stat(path)
		switch {
		case err != nil:
			w.refuse(path, err)
		case !info.IsDir():
			w.add(File{Path: path, Named: true})
		default:
			w.folder(path, 0)
		}
		if w.err != nil {
			return Found{}, w.err
		}
	}
	slices.SortFunc(w.found.Files, func(a, b File) int { return cmp.Compare(a.slash(), b.slash()) })
	return w.found, nil
}

type walk struct {
	ctx   context.Context
	found Found
	seen  map[string]bool // absolute paths
	err   error
}

func (w *walk) refuse(path string, err error) { w.add(File{Path: path, fault: err}) }

func (w *walk) add(f File) {
	abs, err := filepath.Abs(f.Path)
	if err != nil { // the folder we are in is gone
		abs = f.Path
	}
	if w.seen[abs] {
		return
	}
	if len(w.found.Files) >= MaxFiles {
		w.err = source.Problems{{File: f.Path, Text: fmt.Sprintf("there are more than %d YAML files", MaxFiles), Remedy: "name fewer folders, or check them in shards"}}
		return
	}
	w.seen[abs] = true
	w.found.Files = append(w.found.Files, f)
}

func (w *walk) folder(path string, depth int) {
	if w.ctx.Err() != nil {
		w.err = context.Cause(w.ctx)
		return
	}
	if depth > maxDepth {
		w.refuse(path, source.Problems{{File: path, Text: fmt.Sprintf("folders are nested more than %d deep", maxDepth), Remedy: "name a folder further in"}})
		return
	}
	entries, err := os.ReadDir(path)
	if err != nil {
		w.refuse(path, err) // what could be read of it is still looked at
	}
	for _, entry := range entries {
		name := entry.Name()
		if strings.HasPrefix(name, ".") {
			continue
		}
		full := filepath.Join(path, name)
		switch kind := entry.Type(); {
		case kind.IsDir():
			w.folder(full, depth+1)
		case kind&fs.ModeSymlink != 0:
			w.found.Passed.Links++
		case !isYAML(name):
		case !kind.IsRegular():
			w.found.Passed.Odd++
		default:
			w.add(File{Path: full})
		}
		if w.err != nil {
			return
		}
	}
}

// isYAML reports whether a file is named as ours are.
func isYAML(name string) bool {
	ext := strings.ToLower(filepath.Ext(name))
	return ext == ".yaml" || ext == ".yml"
}
