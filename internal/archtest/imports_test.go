package archtest

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

const module = "bygone.example/"

// pkg is what go list tells of a package.
type pkg struct {
	ImportPath, Name string
	Imports, Deps    []string
}

func (p pkg) path() string { return short(p.ImportPath) }

// rule forbids imports. Its patterns are package names in the sense of short;
// one that ends in /... takes the folder and all below it.
type rule struct {
	of      []string // the packages held to it
	but     []string // and those that are not
	forbids []string
	allows  []string // of what is forbidden
	deep    bool     // through other packages too
	because string
}

var rules = []rule{
	{
		of: []string{"core/geom"}, forbids: []string{"..."}, allows: []string{"std/..."},
		because: "geometry stands on the standard library alone",
	},
	{
		of: []string{"core/..."}, forbids: []string{"cmd/...", "sdk/...", "plugins/...", "internal/..."}, deep: true,
		because: "dependencies point one way: the library knows nothing of the program, the plugins or the demo",
	},
	{
		of: []string{"core/geom/..."}, forbids: []string{"core/pattern", "core/alter", "core/pairing"},
		because: "geometry does not know what a pattern piece is",
	},
	{
		of:      []string{"core/pattern", "core/alter", "core/pairing", "core/operation", "core/finding"},
		forbids: []string{"core/host", "core/chain", "core/wire", "core/draw", "core/report", "core/format/...", "google.golang.org/...", "github.com/..."},
		deep:    true,
		because: "what a pattern is and how it is altered does not depend on how it is stored, sent or drawn",
	},
	{
		of: []string{"..."}, but: []string{"core/draw"}, forbids: []string{"github.com/tdewolff/canvas/..."},
		because: "only core/draw draws with canvas: its measuring is not exact enough for anything else",
	},
	{
		of: []string{"..."}, but: []string{"core/draw"}, forbids: []string{"codeberg.org/go-pdf/..."},
		because: "one place writes PDF: core/draw.Document, which mends what the writer has no words for",
	},
	{
		of: []string{"..."}, but: []string{"core/wire", "core/host", "sdk/...", "proto/gen/...", "internal/hostile"}, forbids: []string{"proto/gen/..."},
		because: "generated types stop at the wire; everybody else works with pattern types",
	},
	{
		of: []string{"sdk/..."}, but: []string{"sdk/sdktest"},
		forbids: []string{"core/host", "core/chain", "core/draw", "core/report", "core/pairing", "core/format/...", "cmd/...", "plugins/...", "github.com/tdewolff/...", "github.com/alecthomas/..."},
		deep:    true,
		because: "who writes a plugin carries no host, no drawing and no command line",
	},
	{
		of: []string{"plugins/..."}, but: []string{"plugins/house"}, forbids: []string{"..."},
		allows:  []string{"std/...", "sdk", "core/alter", "core/pattern", "core/geom", "core/wearer"},
		because: "house plugins stand on what any plugin may: the SDK, the cutter's operations, patterns, geometry and measures",
	},
	{
		of: []string{"examples/..."}, forbids: []string{"..."},
		allows:  []string{"std/...", "sdk", "core/alter", "core/pattern", "core/geom"},
		because: "an example stands on what a stranger's plugin would: the SDK, the cutter's operations, patterns and geometry",
	},
	{
		of: []string{"..."}, but: []string{"cmd/..."}, forbids: []string{"cmd/...", "github.com/alecthomas/kong"},
		because: "flags are read by the program, nowhere else",
	},
	{
		of: []string{"..."}, but: []string{"core/host", "sdk/internal/serve", "internal/hostile"}, forbids: []string{"github.com/hashicorp/..."},
		because: "only the two ends of the plugin connection know what it is made with",
	},
	{
		of: []string{"..."}, forbids: []string{"gonum.org/...", "pgregory.net/rapid", "github.com/google/go-cmp/...", "github.com/owenrumney/...", "github.com/xeipuuv/..."}, but: []string{"core/geom/geomtest", "sdk/sdktest"},
		because: "oracles, generators and schemas are for tests",
	},
}

func matches(patterns []string, path string) bool {
	return slices.ContainsFunc(patterns, func(p string) bool {
		switch {
		case p == "...":
			return true
		case strings.HasSuffix(p, "/..."):
			base := strings.TrimSuffix(p, "/...")
			return path == base || strings.HasPrefix(path, base+"/")
		}
		return path == p
	})
}

// short names a package as the rules do: ours without the module, the standard
// library's under std/, others whole.
func short(importPath string) string {
	if path, ok := strings.CutPrefix(importPath, module); ok {
		return path
	}
	if first, _, _ := strings.Cut(importPath, "/"); !strings.Contains(first, ".") {
		return "std/" + importPath
	}
	return importPath
}

// broken returns one line for every import that a rule forbids.
func broken(rules []rule, packages []pkg) []string {
	var lines []string
	for _, r := range rules {
		for _, p := range packages {
			if !matches(r.of, p.path()) || matches(r.but, p.path()) {
				continue
			}
			imports := p.Imports
			if r.deep {
				imports = p.Deps
			}
			for _, i := range imports {
				path := short(i)
				if path != p.path() && matches(r.forbids, path) && !matches(r.allows, path) {
					lines = append(lines, p.path()+" imports "+path+": "+r.because)
				}
			}
		}
	}
	return lines
}

func packages(t *testing.T) []pkg {
	t.Helper()
	cmd := exec.Command("go", "list", "-json=ImportPath,Name,Imports,Deps", module+"...")
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v\n%s", err, stderr.String())
	}
	var list []pkg
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var p pkg
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			return list
		} else if err != nil {
			t.Fatal(err)
		}
		list = append(list, p)
	}
}

func TestImports(t *testing.T) {
	list := packages(t)
	if len(list) < 10 {
		t.Fatalf("go list found %d packages: the rules are not being tried", len(list))
	}
	for _, line := range broken(rules, list) {
		t.Error(line)
	}
}

// made is a package of one import.
func made(from, to string) []pkg {
	i := to
	if path, ok := strings.CutPrefix(to, "std/"); ok {
		i = path
	} else if first, _, _ := strings.Cut(to, "/"); !strings.Contains(first, ".") {
		i = module + to
	}
	return []pkg{{ImportPath: module + from, Imports: []string{i}, Deps: []string{i}}}
}

// Every rule is broken by some made-up package, so that none is toothless.
func TestRulesBite(t *testing.T) {
	bitten := map[string]bool{}
	for _, c := range []struct{ from, to string }{
		{"core/geom", "gonum.org/v1/gonum/mat"},
		{"core/chain", "plugins/waist"},
		{"core/alter", "google.golang.org/grpc"},
		{"core/geom/pathdata", "core/pattern"},
		{"core/report", "github.com/tdewolff/canvas/renderers/pdf"},
		{"core/paper", "codeberg.org/go-pdf/fpdf"},
		{"plugins/waist", "proto/gen/bygone/pattern/v1"},
		{"sdk", "core/host"},
		{"plugins/waist", "core/host"},
		{"examples/bygone-plugin-hems", "core/wearer"},
		{"core/report", "github.com/alecthomas/kong"},
		{"core/chain", "github.com/hashicorp/go-plugin"},
		{"core/pairing", "pgregory.net/rapid"},
	} {
		got := broken(rules, made(c.from, c.to))
		if len(got) == 0 {
			t.Errorf("no rule forbids that %s imports %s", c.from, c.to)
		}
		for _, line := range got {
			for _, r := range rules {
				if strings.HasSuffix(line, r.because) {
					bitten[r.because] = true
				}
			}
		}
	}
	for _, r := range rules {
		if !bitten[r.because] {
			t.Errorf("no case breaks the rule: %s", r.because)
		}
	}
	for _, c := range []struct{ from, to string }{
		{"core/geom", "std/math"}, {"core/wire", "std/internal/poll"}, {"core/draw", "github.com/tdewolff/canvas"},
		{"core/wire", "proto/gen/bygone/plugin/v1"}, {"plugins/waist", "sdk"}, {"plugins/waist", "core/alter"},
		{"plugins/house", "plugins/waist"}, {"examples/bygone-plugin-hems", "sdk"}, {"examples/bygone-plugin-train", "core/geom"},
	} {
		for _, line := range broken(rules, made(c.from, c.to)) {
			t.Errorf("should be allowed: %s", line)
		}
	}
}

// A package is named for what it holds.
func TestPackageNames(t *testing.T) {
	for _, p := range packages(t) {
		for _, bad := range []string{"util", "utils", "common", "helper", "helpers", "types", "misc", "shared", "base"} {
			if p.Name == bad {
				t.Errorf("%s: a package called %s says nothing of what it holds", p.path(), bad)
			}
		}
	}
}
