// Package outfolder writes a folder of results whole or not at all: a run that
// is broken off leaves the old folder or the new one, never a mixture, and
// nothing that somebody else put there is ever touched.
package outfolder

import (
	"cmp"
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"syscall"

	"bygone.example/core/operation"
)

// Manifest is the name of the file that lists what a folder of ours holds: a
// checksum and a path a line. Only a folder whose files are all listed there,
// and are as they were written, is replaced.
const Manifest = ".bygone-files"

// manifestHead begins the file, for who opens it.
const manifestHead = "# Files in this folder that bygone wrote (SHA-256) and may replace. Add none of your own.\n"

// File is one file to write.
type File struct {
	Path string // slash-separated, inside the folder
	Data []byte
}

// elsewhere is what to do about a folder that cannot be written.
const elsewhere = "choose another folder with -o"

// Check reports why a folder cannot be written: a *operation.Refusal that says
// what to do. It leaves everything as it is.
func Check(dir string) error {
	if dir == "" {
		return refuse("the output folder has no name", "name one with -o")
	}
	info, err := os.Lstat(filepath.Clean(dir)) // a slash at its end would follow a link
	switch {
	case missing(err):
		return checkParent(dir)
	case err != nil:
		return refuse(fmt.Sprintf("output folder %q cannot be looked at: %v", dir, reason(err)), elsewhere)
	case info.Mode()&fs.ModeSymlink != 0:
		return refuse(fmt.Sprintf("output folder %q is a link to somewhere else", dir), "name the folder it leads to, or another one")
	case !info.IsDir():
		return refuse(fmt.Sprintf("output folder %q is a file", dir), elsewhere)
	case around(info):
		return refuse(fmt.Sprintf("output folder %q is the one you are in, or lies around it", dir), "name a folder inside it")
	}
	foreign, err := strangers(dir)
	switch {
	case err != nil:
		return refuse(fmt.Sprintf("output folder %q cannot be read: %v", dir, reason(err)), elsewhere)
	case len(foreign) > 0:
		return refuseStrangers(dir, foreign)
	}
	return checkParent(dir)
}

func refuseStrangers(dir string, foreign []string) error {
	more := ""
	switch n := len(foreign) - 1; {
	case n >= maxStrangers-1:
		more = " and many more"
	case n > 0:
		more = fmt.Sprintf(" and %d more", n)
	}
	return refuse(fmt.Sprintf("output folder %q holds what an earlier run did not write, or what was changed since: %q%s", dir, foreign[0], more),
		"choose an empty or a new folder with -o")
}

// around reports whether a folder is the working folder or one that it lies in:
// moving it would pull the floor from under whoever stands there.
func around(info fs.FileInfo) bool {
	var below fs.FileInfo
	for up := "."; ; up += "/.." {
		here, err := os.Stat(up)
		if err != nil || below != nil && os.SameFile(below, here) { // the root is its own parent
			return false
		}
		if os.SameFile(here, info) {
			return true
		}
		below = here
	}
}

// missing reports whether nothing is there, or what would hold it is a file.
func missing(err error) bool {
	return errors.Is(err, fs.ErrNotExist) || errors.Is(err, syscall.ENOTDIR)
}

// checkParent looks for the nearest folder above that exists, and tries whether
// it can be written into.
func checkParent(dir string) error {
	for up := filepath.Dir(filepath.Clean(dir)); ; up = filepath.Dir(up) {
		info, err := os.Stat(up)
		switch {
		case missing(err) && up != filepath.Dir(up):
			continue
		case err != nil:
			return refuse(fmt.Sprintf("output folder %q cannot be made: %v", dir, reason(err)), elsewhere)
		case !info.IsDir():
			return refuse(fmt.Sprintf("output folder %q would lie inside %q, which is a file", dir, up), elsewhere)
		}
		probe, err := os.MkdirTemp(up, ".bygone-probe-")
		if err != nil {
			return refuse(fmt.Sprintf("nothing can be written into %q, where output folder %q would lie: %v", up, dir, reason(err)), elsewhere)
		}
		return os.Remove(probe)
	}
}

// maxStrangers is how many files of somebody else's are looked for: enough to
// see that it is the wrong folder, without reading a whole disk.
const maxStrangers = 100

// strangers returns the files and folders of a folder that its manifest does
// not list, and those that are not as they were written, at most maxStrangers.
func strangers(dir string) ([]string, error) {
	sums := map[string]string{}
	folders := map[string]bool{".": true}
	data, err := os.ReadFile(filepath.Join(dir, Manifest))
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	for line := range strings.Lines(string(data)) {
		if sum, name, ok := strings.Cut(strings.TrimSuffix(line, "\n"), "  "); ok {
			sums[name] = sum
			for up := path.Dir(name); up != "."; up = path.Dir(up) {
				folders[up] = true
			}
		}
	}
	var foreign []string
	err = filepath.WalkDir(dir, func(full string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(dir, full)
		if err != nil {
			return err
		}
		rel = filepath.ToSlash(rel)
		ours := false
		switch sum, listed := sums[rel]; {
		case entry.IsDir(): // a link is never followed
			ours = folders[rel]
		case !entry.Type().IsRegular():
		case rel == Manifest:
			ours = true
		case listed:
			content, err := os.ReadFile(full)
			if err != nil {
				return err
			}
			ours = checksum(content) == sum
		}
		if ours {
			return nil
		}
		if foreign = append(foreign, rel); len(foreign) >= maxStrangers {
			return fs.SkipAll
		}
		if entry.IsDir() {
			return fs.SkipDir // it is named once
		}
		return nil
	})
	return foreign, err
}

func checksum(data []byte) string { return fmt.Sprintf("%x", sha256.Sum256(data)) }

// Write puts the files into the folder dir. They are written beside it first
// and moved into place when all are there; a folder of an earlier run is
// replaced, in one step where system and disk can do that (Linux, macOS).
// Elsewhere a crash between two renames leaves no folder, but the old and the
// new one whole beside its place. On an error the folder is as it was.
func Write(dir string, files []File) error { return write(dir, files, disk) }

// moves are the steps of Write that change what can be seen from outside the
// fresh folder, apart so that a test can fail each of them.
type moves struct {
	writeFile func(path string, data []byte, perm fs.FileMode) error
	// exchange puts each of two folders in the other's place in one step, or
	// returns errors.ErrUnsupported where the system or the disk cannot.
	exchange func(a, b string) error
	rename   func(from, to string) error
	remove   func(path string) error
}

var disk = moves{os.WriteFile, exchange, os.Rename, os.RemoveAll}

func write(dir string, files []File, m moves) (err error) {
	if err := Check(dir); err != nil {
		return err
	}
	dir = filepath.Clean(dir)
	if err := os.MkdirAll(filepath.Dir(dir), 0o755); err != nil {
		return refuse(fmt.Sprintf("output folder %q cannot be made: %v", dir, reason(err)), elsewhere)
	}
	fresh, err := mkdirBeside(dir)
	if err != nil {
		return refuse(fmt.Sprintf("nothing can be written beside %q: %v", dir, reason(err)), elsewhere)
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
		if err := m.writeFile(path, f.Data, 0o644); err != nil {
			return fmt.Errorf("writing %s: %w", f.Path, err)
		}
		list = append(list, checksum(f.Data)+"  "+f.Path+"\n")
	}
	slices.SortFunc(list, func(a, b string) int { return cmp.Compare(a[2*sha256.Size:], b[2*sha256.Size:]) })
	if err := m.writeFile(filepath.Join(fresh, Manifest), []byte(manifestHead+strings.Join(list, "")), 0o644); err != nil {
		return fmt.Errorf("writing %s: %w", Manifest, err)
	}
	return swap(dir, fresh, m)
}

// mkdirBeside makes a hidden folder beside dir, as open to others as the user
// wants new folders to be.
func mkdirBeside(dir string) (string, error) {
	for n := 1; ; n++ {
		fresh := filepath.Join(filepath.Dir(dir), fmt.Sprintf(".%s.new-%d", filepath.Base(dir), n))
		err := os.Mkdir(fresh, 0o755)
		if err == nil || !errors.Is(err, fs.ErrExist) {
			return fresh, err
		}
	}
}

// swap moves fresh to dir. What was there is looked through once more when it
// is out of reach: where somebody has put a file there while we worked,
// everything is moved back.
func swap(dir, fresh string, m moves) error {
	if _, err := os.Lstat(dir); errors.Is(err, fs.ErrNotExist) { // rename(2) refuses a folder that comes to be now and is not empty
		if err := m.rename(fresh, dir); err != nil {
			return fmt.Errorf("moving the results to %s: %w", dir, err)
		}
		return nil
	}
	old, back := fresh, func() error { return m.exchange(dir, fresh) }
	err := m.exchange(dir, fresh)
	if errors.Is(err, errors.ErrUnsupported) {
		// Between two renames there is a moment without a folder.
		old = fresh + "-old"
		back = func() error { return errors.Join(m.rename(dir, fresh), m.rename(old, dir)) }
		if err = m.rename(dir, old); err == nil {
			if err = m.rename(fresh, dir); err != nil {
				err = errors.Join(err, m.rename(old, dir))
			}
		}
	}
	if err != nil {
		return refuse(fmt.Sprintf("output folder %q cannot be replaced: %v", dir, err), "name a folder inside it, or another one")
	}
	foreign, err := strangers(old)
	if err == nil && len(foreign) == 0 {
		if err := m.remove(old); err != nil {
			return fmt.Errorf("the results are in %s, but the old ones could not be removed from %s: %w", dir, old, reason(err))
		}
		return nil
	}
	if failed := back(); failed != nil {
		return fmt.Errorf("output folder %s was changed while it was replaced; what was there is in %s: %w", dir, old, failed)
	}
	if err != nil {
		return fmt.Errorf("looking through the old %s: %w", dir, err)
	}
	return refuseStrangers(dir, foreign)
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
		if err = errors.Join(err, f.Close()); err != nil {
			os.Remove(path) // no half of a file
		}
		return path, err
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
