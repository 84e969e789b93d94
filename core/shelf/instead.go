package shelf

import (
	"cmp"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
)

// Text reads a file's text, or as many bytes of it as are asked for.
type Text func(most int64) ([]byte, error)

// Texts are the texts of files to be checked in place of those on the disk, as
// those staged for a commit, by Place; nil of a file that is not to be there.
// Texts are read by several workers at a time.
type Texts map[string]Text

// Place is the absolute path of a file, links in its folder resolved: the file
// itself may be gone, or be a link.
func Place(path string) string {
	abs, err := filepath.Abs(path)
	if err != nil { // the folder we are in is gone
		return path
	}
	if folder, err := filepath.EvalSymlinks(filepath.Dir(abs)); err == nil {
		abs = filepath.Join(folder, filepath.Base(abs))
	}
	return abs
}

// Instead returns what is found at the paths when files have these texts: those
// that are not to be there are left out, and those that the disk does not have
// are put in.
func (f Found) Instead(texts Texts, paths []string) Found {
	out := f
	out.texts, out.Files = texts, nil
	listed := map[string]bool{}
	for _, file := range f.Files {
		place := Place(file.Path)
		text, known := texts[place]
		if known && file.Data == nil {
			if text == nil {
				continue
			}
			listed[place] = true
			file.Named = file.Named || file.fault != nil // a path that was named, and that the disk does not have
			file.text, file.fault = text, nil
		}
		out.Files = append(out.Files, file)
	}
	for place, text := range texts {
		if text == nil || listed[place] || !isYAML(place) {
			continue
		}
		for _, path := range paths {
			path = filepath.Clean(path)
			folder := Place(path)
			if inner, err := filepath.EvalSymlinks(folder); err == nil { // a path that is a link is followed
				folder = inner
			}
			rel, err := filepath.Rel(folder, place)
			if err != nil || rel == "." || !filepath.IsLocal(rel) || hidden(rel) {
				continue
			}
			out.Files = append(out.Files, File{Path: filepath.Join(path, rel), text: text})
			break
		}
	}
	slices.SortFunc(out.Files, func(a, b File) int { return cmp.Compare(a.slash(), b.slash()) })
	return out
}

// hidden reports whether a name in a path begins with a dot.
func hidden(path string) bool {
	return slices.ContainsFunc(strings.Split(filepath.ToSlash(path), "/"), func(name string) bool { return strings.HasPrefix(name, ".") })
}

// read returns the text of the file at a path, wherever it is to be taken from.
func (t Texts) read(path string) ([]byte, error) {
	f := File{Path: path, Named: true}
	if len(t) > 0 {
		text, known := t[Place(path)]
		if known && text == nil {
			return nil, fs.ErrNotExist
		}
		f.text = text
	}
	return f.read()
}
