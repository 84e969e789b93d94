package shelf

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"sync/atomic"
)

// Cache remembers on disk what was found in a file, by all that it depends on:
// the file's text, the settings, and the program. It is only ever a help: what
// cannot be read, or is not as it was written, counts as not there, and what
// cannot be written is done without. Any number of programs may share a folder.
type Cache struct {
	folder  string
	program []byte
	written atomic.Int64
}

// MaxCached is how many results a cache keeps after Tidy: those of a repository
// of 10,000 patterns, over several versions of each. They take some 50 MB.
const MaxCached = 50_000

// maxEntry in bytes of one result: MaxFindings of them take a fifth of it.
const maxEntry = 4 << 20

// NewCache is the cache in a folder, which is made when there is something to
// keep. Program stands for the program and its version: results of another are
// not used.
func NewCache(folder string, program []byte) *Cache {
	return &Cache{folder: folder, program: program}
}

// key is the name under which a result is kept.
func (c *Cache) key(settings string, kind Kind, data []byte) string {
	h := sha256.New()
	for _, part := range [][]byte{c.program, []byte(settings), []byte(kind), data} {
		sum := sha256.Sum256(part)
		h.Write(sum[:])
	}
	return hex.EncodeToString(h.Sum(nil))
}

func (c *Cache) path(key string) string { return filepath.Join(c.folder, key[:2], key[2:]) }

// get returns a result that is kept, without the path of a file.
func (c *Cache) get(key string) (*Checked, bool) {
	f, err := os.Open(c.path(key))
	if err != nil {
		return nil, false
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil || !info.Mode().IsRegular() || info.Size() > maxEntry {
		return nil, false
	}
	data := make([]byte, info.Size())
	if n, err := f.Read(data); err != nil || int64(n) < info.Size() {
		return nil, false
	}
	sum, text, ok := bytes.Cut(data, []byte("\n"))
	if !ok || string(sum) != entrySum(key, text) {
		return nil, false
	}
	var found Checked
	if json.Unmarshal(text, &found) != nil {
		return nil, false
	}
	return &found, true
}

// entrySum is the first line of an entry, by which one that was cut off, spoiled
// or put in another's place is known.
func entrySum(key string, text []byte) string {
	sum := sha256.Sum256(append([]byte(key), text...))
	return hex.EncodeToString(sum[:])
}

// put keeps a result. It is written beside its place and moved there, so that
// nobody reads half of it.
func (c *Cache) put(key string, found Checked) {
	found.Path = ""
	found.Findings = slices.Clone(found.Findings)
	for i := range found.Findings {
		found.Findings[i].Place.File = ""
	}
	text, err := json.Marshal(found)
	if err != nil || len(text) > maxEntry/2 {
		return
	}
	path := c.path(key)
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return
	}
	f, err := os.CreateTemp(filepath.Dir(path), ".new-*")
	if err != nil {
		return
	}
	_, err = f.Write(slices.Concat([]byte(entrySum(key, text)), []byte("\n"), text))
	if err = errors.Join(err, f.Close()); err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		os.Remove(f.Name())
		return
	}
	c.written.Add(1)
}

// Tidy takes the oldest results out of a cache that has grown beyond keep. Of a
// cache into which this run has put nothing, nothing is taken.
func (c *Cache) Tidy(keep int) {
	if c.written.Load() == 0 {
		return
	}
	type entry struct {
		path string
		at   int64
	}
	var list []entry
	// Only folders and names of the form that we make are looked at: the folder
	// may have been named by mistake.
	folders, _ := filepath.Glob(filepath.Join(escape(c.folder), "[0-9a-f][0-9a-f]"))
	for _, folder := range folders {
		entries, _ := os.ReadDir(folder)
		for _, e := range entries {
			info, err := e.Info()
			if err == nil && info.Mode().IsRegular() && isKey(e.Name()) {
				list = append(list, entry{filepath.Join(folder, e.Name()), info.ModTime().UnixNano()})
			}
		}
	}
	if len(list) <= keep {
		return
	}
	slices.SortFunc(list, func(a, b entry) int { return cmp.Or(cmp.Compare(a.at, b.at), cmp.Compare(a.path, b.path)) })
	for _, e := range list[:len(list)-keep] {
		if err := os.Remove(e.path); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return
		}
	}
}

// escape keeps Glob from reading a folder's name as a pattern.
func escape(folder string) string {
	var b bytes.Buffer
	for _, r := range folder {
		if (r == '*' || r == '?' || r == '[' || r == '\\') && filepath.Separator != '\\' {
			b.WriteByte('\\')
		}
		b.WriteRune(r)
	}
	return b.String()
}

// isKey reports whether a name is the rest of a key after its first two digits.
func isKey(name string) bool {
	_, err := hex.DecodeString(name)
	return err == nil && len(name) == 2*sha256.Size-2
}

// dressed is a kept result as that of a file.
func dressed(kept *Checked, path string) *Checked {
	kept.Path = path
	for i := range kept.Findings {
		kept.Findings[i].Place.File = path
	}
	return kept
}
