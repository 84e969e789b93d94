package shelf

import (
	"path/filepath"
	"slices"

	yamlfile "bygone.example/core/format/yaml"
)

// Touched leaves of what was found what a change touches: the files that
// changed, and the chains that name one of them. Changed is asked of absolute
// paths in the system's own form, of files that are gone as well. Reading is
// cheap beside checking, so every chain is read for it.
func Touched(found Found, changed func(abs string) bool) Found {
	out := found
	out.Files = nil
	for _, f := range found.Files {
		abs, err := filepath.Abs(f.Path)
		if f.fault != nil || f.Data != nil || err != nil || changed(abs) || names(f, abs, changed) {
			out.Files = append(out.Files, f)
		}
	}
	return out
}

// names reports whether a file is a chain that names a file that changed.
func names(f File, abs string, changed func(string) bool) bool {
	head, err := f.head()
	if err != nil {
		return false
	}
	if kind, _ := Sniff(head); kind != Chain {
		return false
	}
	data, err := f.read()
	if err != nil {
		return false
	}
	c, err := yamlfile.ReadChain(f.slash(), data)
	if err != nil {
		return false // it was refused before the change already
	}
	return slices.ContainsFunc(references(c), func(r reference) bool {
		return changed(filepath.Join(filepath.Dir(abs), filepath.FromSlash(r.file)))
	})
}
