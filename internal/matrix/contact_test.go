package matrix

import (
	"bytes"
	"flag"
	"fmt"
	"html/template"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"bygone.example/core/chain"
	"bygone.example/core/draw"
	"bygone.example/core/operation"
	"bygone.example/internal/stock"
	"bygone.example/plugins/house"
)

var update = flag.Bool("update", false, "write the golden pictures and their contact sheet anew")

// The pictures of the operations at their defaults lie in one place, under
// their own names; those of core/alter's tests, at other numbers, stay beside
// those tests, and the sheet shows them too.
const (
	golden      = "../../testdata/golden"
	pictures    = "operations"
	alterGolden = "../../core/alter/testdata/golden"
)

// entry is one operation on the contact sheet.
type entry struct {
	Name, Purpose string
	On            Preparation
	Asked         []chain.Setting
	Picture       string // from the sheet
	Changes       []string
	Cautions      []string

	svg []byte
}

// most is how many changes the sheet tells of an operation: the first are the
// most telling.
const most = 6

// shown is what the pictures ask for beside the settings of the matrix, where at
// the defaults there would be little to see.
var shown = map[string][]chain.Setting{
	"darts.rotate": {{Parameter: "piece", Value: "bodice-front"}, {Parameter: "dart", Value: "bust-dart"}, {Parameter: "to-edge", Value: "shoulder"}},
	"sleeve.ease":  {{Parameter: "ease", Value: "50mm"}},
	"sleeve.head":  {{Parameter: "wider", Value: "60mm"}},
	"sleeve.refit": {{Parameter: "ease", Value: "0mm"}},
}

func entries(t *testing.T) []entry {
	t.Helper()
	homes, refused, err := Homes()
	if err != nil {
		t.Fatal(err)
	}
	dress, err := stock.Dress()
	if err != nil {
		t.Fatal(err)
	}
	lady, err := Stock()
	if err != nil {
		t.Fatal(err)
	}
	var list []entry
	for _, plugin := range house.Plugins {
		for _, op := range plugin.Operations {
			name := plugin.Name + "." + op.Name
			home, ok := homes[name]
			if !ok {
				t.Errorf("%s works on no preparation, so it has no picture: %q", name, refused[name])
				continue
			}
			p, err := Prepare(dress, home, lady)
			if err != nil {
				t.Fatal(err)
			}
			asked := Asked(name)
			asked.Settings = slices.Concat(asked.Settings, shown[name])
			a, err := Apply(p, asked, lady)
			if err != nil {
				t.Errorf("%s on %s: %v", name, home.Name, err)
				continue
			}
			e := entry{
				Name: name, Purpose: op.Purpose, On: home, Asked: asked.Settings, Cautions: a.Cautions,
				Picture: pictures + "/" + name + ".svg",
			}
			var svg bytes.Buffer
			if err := draw.Step(p, a.Pattern).SVG(&svg, name); err != nil {
				t.Fatal(err)
			}
			e.svg = svg.Bytes()
			for _, c := range a.Changes[:min(most, len(a.Changes))] {
				e.Changes = append(e.Changes, change(c))
			}
			list = append(list, e)
		}
	}
	return list
}

func change(c operation.Change) string {
	what := c.What
	if c.Piece != "" {
		what += ", " + c.Piece
	}
	return strings.TrimSpace(fmt.Sprintf("%s: %.1f → %.1f %s", what, c.Before, c.After, c.Unit))
}

// Every operation of the house has a picture of what it does at its defaults,
// and the sheet lists them all.
func TestContactSheet(t *testing.T) {
	list := entries(t)
	for _, e := range list {
		compare(t, e.Picture, e.svg)
	}
	have, err := filepath.Glob(filepath.Join(golden, pictures, "*.svg"))
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range have {
		if !slices.ContainsFunc(list, func(e entry) bool { return filepath.Base(e.Picture) == filepath.Base(file) }) {
			t.Errorf("%s is of no operation of the house; remove it", file)
		}
	}
	others, err := filepath.Glob(filepath.Join(alterGolden, "*.svg"))
	if err != nil {
		t.Fatal(err)
	}
	if len(others) == 0 {
		t.Errorf("no pictures in %s", alterGolden)
	}
	type picture struct{ Name, Path string }
	var more []picture
	for _, file := range others {
		rel, err := filepath.Rel(golden, file)
		if err != nil {
			t.Fatal(err)
		}
		more = append(more, picture{strings.TrimSuffix(filepath.Base(file), ".svg"), filepath.ToSlash(rel)})
	}
	var page bytes.Buffer
	if err := sheet.Execute(&page, map[string]any{"Entries": list, "More": more}); err != nil {
		t.Fatal(err)
	}
	compare(t, "index.html", page.Bytes())
	for _, name := range Operations() {
		if !strings.Contains(page.String(), fmt.Sprintf("id=%q", name)) {
			t.Errorf("the sheet does not list %s", name)
		}
	}
}

func compare(t *testing.T, name string, got []byte) {
	t.Helper()
	file := filepath.Join(golden, filepath.FromSlash(name))
	if *update {
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Errorf("%v (run go test ./internal/matrix -update)", err)
		return
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s is not what the operations give now; look at it, then run go test ./internal/matrix -update", name)
	}
}

var sheet = template.Must(template.New("sheet").Parse(`<!doctype html>
<html lang="en">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<title>Every operation, before and after</title>
<style>
:root { --ink: #1c1a17; --soft: #5d574e; --line: #cfc7b8; --paper: #fdfbf6; --accent: #98302a; }
body { margin: 0 auto; max-width: 100rem; padding: 2rem 1.5rem 4rem; background: var(--paper); color: var(--ink); font: 1rem/1.5 Georgia, serif; }
h1 { margin: 0 0 .3rem; font-size: 1.9rem; }
h2 { margin: 3rem 0 1rem; font-size: 1.4rem; }
h3 { margin: 0; font-size: 1.15rem; }
p { margin: .3rem 0; max-width: 46rem; }
nav { columns: 11rem; margin: 1rem 0 2rem; }
nav a { display: block; }
a { color: inherit; text-decoration-color: var(--accent); }
.sheet { display: grid; grid-template-columns: repeat(auto-fill, minmax(min(100%, 30rem), 1fr)); gap: 1.5rem; }
article { border: 1px solid var(--line); padding: 1rem; background: #fff; break-inside: avoid; }
img { display: block; width: 100%; height: 22rem; object-fit: contain; }
.more { grid-template-columns: repeat(auto-fill, minmax(min(100%, 19rem), 1fr)); }
.more img { height: 14rem; }
.on, ul { color: var(--soft); font-size: .9rem; }
ul { margin: .5rem 0 0; padding-left: 1.1rem; }
.caution { color: var(--accent); }
</style>
<h1>Every operation, before and after</h1>
<p>Each operation of the house plugins, at the values a chain has when it sets none, on the stock dress or on what
is said below its name. Quiet lines are before, strong lines after. The pictures are made and compared by the
tests of internal/matrix.</p>
<nav>{{range .Entries}}<a href="#{{.Name}}">{{.Name}}</a>{{end}}</nav>
<div class="sheet">
{{- range .Entries}}
<article id="{{.Name}}">
<h3>{{.Name}}</h3>
<p>{{.Purpose}}</p>
<p class="on">On {{.On.Name}}: {{.On.Reason}}.{{range .Asked}} {{.Parameter}}: {{.Value}}.{{end}}</p>
<a href="{{.Picture}}"><img src="{{.Picture}}" alt="{{.Name}}, before and after" loading="lazy"></a>
<ul>{{range .Changes}}
<li>{{.}}</li>{{end}}{{range .Cautions}}
<li class="caution">{{.}}</li>{{end}}
</ul>
</article>
{{- end}}
</div>
<h2>At other numbers</h2>
<p>From the tests of core/alter.</p>
<div class="sheet more">
{{- range .More}}
<article>
<h3>{{.Name}}</h3>
<a href="{{.Path}}"><img src="{{.Path}}" alt="{{.Name}}, before and after" loading="lazy"></a>
</article>
{{- end}}
</div>
</html>
`))
