package shelf

import (
	"os"
	"path/filepath"

	"bygone.example/core/finding"
	"bygone.example/core/rules"
)

// InForce are the rules that a check is done by, and the file they stand in.
type InForce struct {
	rules.Rules
	Path string // of the file, as it was reached
}

// Excepted is a finding that an exception of the rules lets pass.
type Excepted struct {
	Finding finding.Finding `json:"finding"`
	Reason  string          `json:"reason"`
}

// exceptions applies the exceptions of one file of rules.
type exceptions struct {
	in     *InForce
	folder string // absolute
	used   []bool
	seen   map[string]bool // files judged, as the rules name them
}

func newExceptions(in *InForce) *exceptions {
	if in == nil {
		return nil
	}
	folder, err := filepath.Abs(filepath.Dir(in.Path))
	if err != nil {
		folder = filepath.Dir(in.Path)
	}
	return &exceptions{in, folder, make([]bool, len(in.Exceptions)), map[string]bool{}}
}

// named is a file as the rules name it; empty when it is not below their folder.
func (x *exceptions) named(path string) string {
	abs, err := filepath.Abs(filepath.FromSlash(path))
	if err != nil {
		return ""
	}
	rel, err := filepath.Rel(x.folder, abs)
	if err != nil || !filepath.IsLocal(rel) {
		return ""
	}
	return filepath.ToSlash(rel)
}

// apply moves what is excepted out of the findings of a file.
func (x *exceptions) apply(c *Checked) {
	if x == nil || len(x.in.Exceptions) == 0 {
		return
	}
	file := x.named(c.Path)
	if file == "" {
		return
	}
	if len(c.Refused) == 0 { // of one that cannot be read nobody knows what would be found
		x.seen[file] = true
	}
	var kept []finding.Finding
	for _, f := range c.Findings {
		reason, excepted := "", false
		for i, e := range x.in.Exceptions {
			if e.Covers(file, f) {
				x.used[i] = true
				if !excepted {
					reason, excepted = e.Reason, true
				}
			}
		}
		if excepted {
			c.Excepted = append(c.Excepted, Excepted{f, reason})
		} else {
			kept = append(kept, f)
		}
	}
	c.Findings = kept
}

// expired returns the findings of exceptions that are no longer needed: those
// for a file in which nothing was found that they cover, and for a file that is
// not there any more. Of a file that was not looked at this time nothing is
// said; mine says which of those that are gone this run is to tell of.
func (x *exceptions) expired(mine func(path string) bool) (list []finding.Finding) {
	if x == nil {
		return nil
	}
	for i, e := range x.in.Exceptions {
		if x.used[i] {
			continue
		}
		if !x.seen[e.File] {
			_, err := os.Lstat(filepath.Join(x.folder, filepath.FromSlash(e.File)))
			if !os.IsNotExist(err) || !mine(filepath.ToSlash(filepath.Join(filepath.Dir(x.in.Path), filepath.FromSlash(e.File)))) {
				continue
			}
		}
		list = append(list, e.Expire(filepath.ToSlash(x.in.Path)))
	}
	return list
}
