// Package outfolder writes a folder of results whole or not at all: a run that
// is broken off leaves the old folder or the new one, never a mixture, and
// nothing that somebody else put there is ever touched.
package outfolder

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"bygone.example/core/operation"
)

// Manifest is the name of the file that lists what a folder of ours holds, a
// path a line. Only a folder whose files are all listed there is replaced.
const Manifest = ".bygone-files"

// manifestHead begins the file, for who opens it.
const manifestHead = "# Files in this folder that bygone wrote and may replace. Add none of your own.\n"

// File is one file to write.
type File struct {
	Path string // slash-separated, inside the folder
	Data []byte
}

// Check reports why a folder cannot be written: a *operation.Refusal that says
// what to do. It changes nothing.
func Check(dir string) error {
	info, err := os.Lstat(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return checkParent(dir)
	case err != nil:
		return refuse(fmt.Sprintf("output folder %q cannot be looked at: %v", dir, reason(err)), "choose another folder with -o")
	case info.Mode()&fs.ModeSymlink != 0:
		return refuse(fmt.Sprintf("output folder %q is a link to somewhere else", dir), "name the folder it leads to, or another one")
	case !info.IsDir():
		return refuse(fmt.Sprintf("output folder %q is a file", dir), "choose another folder with -o")
	}
	foreign, err := strangers(dir)
	switch {
	case err != nil:
		return refuse(fmt.Sprintf("output folder %q cannot be read: %v", dir, reason(err)), "choose another folder with -o")
	case len(foreign) > 0:
		more := ""
		if len(foreign) > 1 {
			more = fmt.Sprintf(" and %d more", len(foreign)-1)
		}
		return refuse(fmt.Sprintf("output folder %q holds files that an earlier run did not write: %q%s", dir, foreign[0], more),
			"choose an empty or a new folder with -o")
	}
	return nil
}

// checkParent looks for the nearest folder above that exists.
func checkParent(dir string) error {
	for up := filepath.Dir(filepath.Clean(dir)); ; up = filepath.Dir(up) {
		info, err := os.Stat(up)
		switch {
		case errors.Is(err, fs.ErrNotExist) && up != filepath.Dir(up):
			continue
		case err != nil:
			return refuse(fmt.Sprintf("output folder %q cannot be made: %v", dir, reason(err)), "choose another folder with -o")
		case !info.IsDir():
			return refuse(fmt.Sprintf("output folder %q would lie inside %q, which is a file", dir, up), "choose another folder with -o")
		}
		return nil
	}
}

// strangers returns the files of a folder that its manifest does not list.
func strangers(dir string) ([]string, error) {
	listed := map[string]bool{Manifest: true}
	data, err := os.ReadFile(filepath.Join(dir, Manifest))
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	for line := range strings.Lines(string(data)) {
		if line = strings.TrimSpace(line); line != "" && !strings.HasPrefix(line, "#") {
			listed[line] = true
		}
	}
	var foreign []string
	err = filepath.WalkDir(dir, func(path string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(dir, path)
		if err != nil {
			return err
		}
		// Folders of ours are plain folders; a link is never followed.
		if entry.IsDir() {
			return nil
		}
		if rel = filepath.ToSlash(rel); !listed[rel] || !entry.Type().IsRegular() {
			foreign = append(foreign, rel)
		}
		return nil
	})
	return foreign, err
}

// Write puts the files into the folder dir. They are written beside it first
// and moved into place when all are there; a folder of an earlier run is
// replaced. On an error the folder is as it was.
func Write(dir string, files []File) (err error) {
	if err := Check(dir); err != nil {
		return err
	}
	dir = filepath.Clean(dir)
	parent := filepath.Dir(dir)
	if err := os.MkdirAll(parent, 0o755); err != nil {
		return refuse(fmt.Sprintf("output folder %q cannot be made: %v", dir, reason(err)), "choose another folder with -o")
	}
	fresh, err := os.MkdirTemp(parent, "."+filepath.Base(dir)+".new-")
	if err != nil {
		return refuse(fmt.Sprintf("nothing can be written beside %q: %v", dir, reason(err)), "choose another folder with -o")
	}
	defer func() {
		if err != nil {
			os.RemoveAll(fresh)
		}
	}()
	var list []string
	for _, f := range files {
		if !filepath.IsLocal(filepath.FromSlash(f.Path)) {
			return fmt.Errorf("a file would be written outside the folder: %q", f.Path)
		}
		path := filepath.Join(fresh, filepath.FromSlash(f.Path))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			return fmt.Errorf("writing %s: %w", f.Path, err)
		}
		if err := os.WriteFile(path, f.Data, 0o644); err != nil {
			return fmt.Errorf("writing %s: %w", f.Path, err)
		}
		list = append(list, f.Path)
	}
	slices.Sort(list)
	if err := os.WriteFile(filepath.Join(fresh, Manifest), []byte(manifestHead+strings.Join(list, "\n")+"\n"), 0o644); err != nil {
		return fmt.Errorf("writing %s: %w", Manifest, err)
	}
	if err := os.Chmod(fresh, 0o755); err != nil { // MkdirTemp makes it private
		return err
	}
	return swap(dir, fresh)
}

// swap moves fresh to dir. What was there is moved aside first, moved back if
// that fails, and looked through once more before it is removed: somebody may
// have put a file there while we worked.
func swap(dir, fresh string) error {
	aside := fresh + "-old"
	err := os.Rename(dir, aside)
	had := err == nil
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("moving the old %s aside: %w", dir, err)
	}
	if err := os.Rename(fresh, dir); err != nil {
		if had {
			os.Rename(aside, dir)
		}
		return fmt.Errorf("moving the results to %s: %w", dir, err)
	}
	if !had {
		return nil
	}
	if foreign, err := strangers(aside); err != nil || len(foreign) > 0 {
		return nil // left aside, whole: better a spare folder than a lost file
	}
	return os.RemoveAll(aside)
}

// Beside writes one file next to a folder that could not be written, under a
// name made from the folder's and suffix, and returns the path. A file that is
// there already is kept: a number is added until a name is free, or the very
// same file is found.
func Beside(dir, suffix string, data []byte) (string, error) {
	base := filepath.Clean(dir)
	if err := os.MkdirAll(filepath.Dir(base), 0o755); err != nil {
		return "", err
	}
	ext := filepath.Ext(suffix)
	stem := base + strings.TrimSuffix(suffix, ext)
	for n := 1; ; n++ {
		path := stem + ext
		if n > 1 {
			path = fmt.Sprintf("%s-%d%s", stem, n, ext)
		}
		f, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o644)
		if errors.Is(err, fs.ErrExist) {
			if old, err := os.ReadFile(path); err == nil && string(old) == string(data) {
				return path, nil
			}
			continue
		}
		if err != nil {
			return "", err
		}
		_, err = f.Write(data)
		return path, errors.Join(err, f.Close())
	}
}

func refuse(why, instead string) error { return &operation.Refusal{Why: why, Instead: instead} }

// reason is an error of the file system without the path, which is told apart.
func reason(err error) error {
	if e, ok := errors.AsType[*fs.PathError](err); ok {
		return e.Err
	}
	return err
}
