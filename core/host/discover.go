package host

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"

	"bygone.example/core/operation"
)

// Prefix begins the file name of a plugin outside the program.
const Prefix = "bygone-plugin-"

// HouseArgument is the hidden first argument with which the program is started
// again to be one of its own plugins; the plugin's name follows.
const HouseArgument = "serve-house-plugin"

// Origin is where a plugin was found.
type Origin string

// Where plugins come from, in the order in which names are taken.
const (
	House  Origin = "house"  // inside the program
	File   Origin = "file"   // named by its path
	Folder Origin = "folder" // in a folder that was named
	Path   Origin = "path"   // in one of the folders of PATH
)

// Command starts a house plugin: Path with Args, the plugin's name added.
type Command struct {
	Path string
	Args []string
}

// Search says where to look for plugins. Order decides: house plugins first, so
// that nothing outside can pass for one, then Files, Folders and PATH; within a
// folder by name. A name that was taken is not taken again.
type Search struct {
	// House names the plugins inside the program, and HouseCommand starts one.
	House        []string
	HouseCommand Command
	// Files are executables of plugins, named by the user one by one. To name
	// one is to allow it.
	Files []string
	// Folders are looked through for bygone-plugin-NAME: what a flag names, then
	// the project's plugins.d.
	Folders []string
	// Path holds the folders of PATH, looked through last.
	Path []string
	// Allow names the plugins from Folders and Path that may be run. There is
	// no lock file yet that could do so.
	Allow []string
}

// Found is one candidate, taken or not.
type Found struct {
	Name   string // NAME of bygone-plugin-NAME; empty when a whole folder could not be read
	Path   string // absolute
	Args   []string
	Origin Origin
	Taken  bool
	Why    string // why it was not taken; empty when it was
}

// Discover lists every candidate in the order in which it looked, those that
// were not taken with the reason. It starts nothing.
func Discover(s Search) []Found {
	d := &discovery{taken: map[string]Found{}, allow: s.Allow, looked: map[string]bool{}}
	for _, name := range slices.Sorted(slices.Values(s.House)) {
		d.add(Found{Name: name, Path: s.HouseCommand.Path, Args: append(slices.Clone(s.HouseCommand.Args), name), Origin: House})
	}
	for _, file := range s.Files {
		name, ok := pluginName(filepath.Base(file))
		f := Found{Name: name, Path: absolute(file), Origin: File}
		if !ok {
			f.Name, f.Why = filepath.Base(file), "the file is not called "+Prefix+"NAME"
		}
		d.add(f)
	}
	for _, folder := range s.Folders {
		d.folder(folder, Folder)
	}
	for _, folder := range s.Path {
		d.folder(folder, Path)
	}
	return d.found
}

type discovery struct {
	found  []Found
	taken  map[string]Found
	allow  []string
	looked map[string]bool
}

func (d *discovery) folder(folder string, origin Origin) {
	if folder == "" { // an empty entry of PATH means the working folder: not for us
		return
	}
	folder = absolute(folder)
	if d.looked[folder] {
		return
	}
	d.looked[folder] = true
	entries, err := os.ReadDir(folder) // sorted by name
	if err != nil {
		if origin == Folder { // PATH often holds folders that are not there
			d.found = append(d.found, Found{Path: folder, Origin: origin, Why: "the folder cannot be read: " + reason(err)})
		}
		return
	}
	for _, e := range entries {
		if name, ok := pluginName(e.Name()); ok {
			d.add(Found{Name: name, Path: filepath.Join(folder, e.Name()), Origin: origin})
		}
	}
}

func (d *discovery) add(f Found) {
	switch first, shadowed := d.taken[f.Name]; {
	case f.Why != "":
	case !operation.ValidName(f.Name):
		f.Why = fmt.Sprintf("%q is not a plugin's name: lower-case letters, digits and hyphens, a letter first", f.Name)
	case shadowed && first.Origin == House:
		f.Why = "the name is a house plugin's"
	case shadowed:
		f.Why = "the name is taken by " + first.Path
	case f.Origin != House:
		f.Why = unusable(f.Path)
		if f.Why == "" && f.Origin != File && !slices.Contains(d.allow, f.Name) {
			f.Why = "it is outside the program and was not allowed by name"
		}
	}
	if f.Taken = f.Why == ""; f.Taken {
		d.taken[f.Name] = f
	}
	d.found = append(d.found, f)
}

// unusable says why a file cannot be a plugin, or nothing.
func unusable(path string) string {
	info, err := os.Stat(path)
	switch {
	case err != nil:
		return "the file cannot be read: " + reason(err)
	case info.IsDir():
		return "it is a folder"
	case !info.Mode().IsRegular():
		return "it is not a regular file"
	case runtime.GOOS != "windows" && info.Mode().Perm()&0o111 == 0:
		return "the file is not executable"
	}
	f, err := os.Open(path) // what cannot be read cannot be checked before it runs
	if err != nil {
		return "the file cannot be read: " + reason(err)
	}
	f.Close()
	return ""
}

// pluginName returns NAME of bygone-plugin-NAME, without .exe on Windows.
func pluginName(file string) (name string, ok bool) {
	if runtime.GOOS == "windows" {
		file = strings.TrimSuffix(file, ".exe")
	}
	return strings.CutPrefix(file, Prefix)
}

func absolute(path string) string {
	if abs, err := filepath.Abs(path); err == nil {
		return abs
	}
	return path
}

// reason is an error of the file system without the path, which is told apart.
func reason(err error) string {
	if e, ok := errors.AsType[*os.PathError](err); ok {
		return e.Err.Error()
	}
	return err.Error()
}

// Missing is a plugin that was asked for and is not there to be started. It is
// the user's to act on.
type Missing struct {
	Name    string
	Refused []Found // candidates of that name that were not taken
	Known   []string
}

// Error says that the plugin was not found, or where it was and why it was not
// taken.
func (m *Missing) Error() string {
	if len(m.Refused) == 0 {
		s := fmt.Sprintf("there is no plugin %s", m.Name)
		if len(m.Known) > 0 {
			s += "; there is " + strings.Join(m.Known, ", ")
		}
		return s
	}
	var reasons []string
	for _, f := range m.Refused {
		reasons = append(reasons, f.Path+": "+f.Why)
	}
	return fmt.Sprintf("plugin %s was found but not taken: %s", m.Name, strings.Join(reasons, "; "))
}

// Pick returns the taken candidates of those names, in the order of names, each
// once, and a *Missing for every name without one.
func Pick(found []Found, names ...string) (picked []Found, missing []*Missing) {
	var known []string
	for _, f := range found {
		if f.Taken {
			known = append(known, f.Name)
		}
	}
	slices.Sort(known)
	done := map[string]bool{}
	for _, name := range names {
		if done[name] {
			continue
		}
		done[name] = true
		m := &Missing{Name: name, Known: known}
		taken := false
		for _, f := range found {
			switch {
			case f.Name == name && f.Taken:
				picked, taken = append(picked, f), true
			case f.Name == name:
				m.Refused = append(m.Refused, f)
			}
		}
		if !taken {
			missing = append(missing, m)
		}
	}
	return picked, missing
}
