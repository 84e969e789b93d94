package yamlfile

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/xeipuuv/gojsonschema"
	"go.yaml.in/yaml/v4"
)

// schemas are those of the program, as a general validator understands them.
func schemas(t *testing.T) map[string]*gojsonschema.Schema {
	t.Helper()
	all := map[string]*gojsonschema.Schema{}
	for _, kind := range SchemaKinds() {
		data, ok := Schema(kind)
		if !ok {
			t.Fatalf("no schema for %s", kind)
		}
		loader := gojsonschema.NewSchemaLoader()
		loader.Validate = true // against the schema of schemas
		s, err := loader.Compile(gojsonschema.NewBytesLoader(data))
		if err != nil {
			t.Fatalf("the schema of %s is none: %v", kind, err)
		}
		all[kind] = s
	}
	return all
}

// faults returns what a schema has against a file; broken is set when the file is
// not YAML at all.
func faults(t *testing.T, s *gojsonschema.Schema, data []byte) (list []string, broken bool) {
	t.Helper()
	var doc any
	if err := yaml.Unmarshal(data, &doc); err != nil {
		return []string{err.Error()}, true
	}
	text, err := json.Marshal(doc)
	if err != nil {
		return []string{err.Error()}, true
	}
	result, err := s.Validate(gojsonschema.NewBytesLoader(text))
	if err != nil {
		return []string{err.Error()}, true
	}
	for _, e := range result.Errors() {
		list = append(list, e.String())
	}
	return list, false
}

// kindOfFile is what the first line of a file says it is.
func kindOfFile(data []byte) string {
	for line := range strings.Lines(string(data)) {
		if rest, ok := strings.CutPrefix(line, "bygone: "); ok {
			kind, _, _ := strings.Cut(strings.TrimSpace(rest), "/")
			return kind
		}
	}
	return ""
}

// The schemas in docs are those that the program prints.
func TestSchemasAreFresh(t *testing.T) {
	for _, kind := range SchemaKinds() {
		got, _ := Schema(kind)
		path := filepath.Join("..", "..", "..", "docs", "schemas", kind+".schema.json")
		if *update {
			if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(path, got, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(string(want), string(got)); d != "" {
			t.Errorf("%s is not what bygone schema %s prints; run go test ./core/format/yaml -run TestSchemasAreFresh -update (-file +printed):\n%s", path, kind, d)
		}
	}
	if _, ok := Schema("sheet"); ok {
		t.Error("there is a schema of a kind that there is none of")
	}
}

// Every file of ours that the reader takes is one by its schema too.
func TestExamplesFitTheirSchema(t *testing.T) {
	all := schemas(t)
	seen := map[string]int{}
	for _, glob := range []string{"../../../testdata/*/*.yaml", "testdata/*.yaml", "languages/*.yaml", "../../../examples/*/*.yaml", "../../../examples/*/testdata/*.yaml", "../../../docs/*.yaml", "../../../plugins/*/testdata/*.yaml"} {
		paths, err := filepath.Glob(glob)
		if err != nil {
			t.Fatal(err)
		}
		for _, path := range paths {
			data, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			kind := kindOfFile(data)
			s := all[kind]
			if s == nil {
				continue // a file of another program, such as a recipe for CI
			}
			seen[kind]++
			if list, _ := faults(t, s, data); len(list) > 0 {
				t.Errorf("%s: %s", path, strings.Join(list, "\n\t"))
			}
		}
	}
	for _, kind := range []string{"pattern", "chain", "wearer", "labels"} {
		if seen[kind] == 0 {
			t.Errorf("no %s was held against its schema", kind)
		}
	}
}

// beyond are refused files that a schema cannot refuse, and why.
var beyond = map[string]string{
	"alias":                "to a schema it is what it stands for",
	"clockwise":            "it takes measuring",
	"closed-edge":          "it takes measuring",
	"crossing":             "it takes measuring",
	"does-not-close":       "it takes measuring",
	"gap":                  "it takes measuring",
	"marks-off-the-edge":   "it takes measuring",
	"path-folded":          "the fault is inside the path data",
	"path-quoted":          "the fault is inside the path data",
	"truncated-path":       "the fault is inside the path data",
	"edge-in-two-seams":    "two parts of the file say it together",
	"missing-edge-of-mark": "it names what is not there",
	"two-of-a-name":        "each of the two is sound",
	"two-pieces-one-name":  "each of the two is sound",
}

// What the reader refuses for a key or value of its own, the schema refuses too;
// what it refuses for how things hang together is listed here with the reason.
func TestRefusedFilesAndTheSchema(t *testing.T) {
	all := schemas(t)
	paths, err := filepath.Glob("testdata/refused/*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	refused := 0
	for _, path := range paths {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		name := strings.TrimSuffix(filepath.Base(path), ".yaml")
		kind := "pattern"
		for _, k := range []string{"chain", "wearer", "rules"} {
			if strings.HasPrefix(name, k+"-") {
				kind = k
			}
		}
		list, broken := faults(t, all[kind], data)
		why, listed := beyond[name]
		switch {
		case broken:
		case len(list) == 0 && !listed:
			t.Errorf("%s: the reader refuses it, the schema does not; say why in this test if none can", path)
		case len(list) > 0 && listed:
			t.Errorf("%s: the schema refuses it after all (%s); %s", path, why, list[0])
		case len(list) > 0:
			refused++
		}
	}
	if refused < 10 {
		t.Errorf("only %d refused files were refused by their schema", refused)
	}
}

// one is a sound file of each kind with every key in it.
var one = map[string]string{
	"pattern": `bygone: pattern/1
name: cloth
title: Cloth
notes: Of an invented kind.
pieces:
  - name: a
    title: A
    role: bodice-front
    cut: {count: 2, mirrored: true}
    grain: [[20, 20], [20, 80]]
    edges:
      - {name: hem, path: M 0 0 L 100 0, finish: hem, role: hem, allowance: 10, corner: bevel}
      - {name: side, path: M 100 0 L 100 100}
      - {name: top, path: M 100 100 L 0 100, finish: open}
      - {name: centre, path: M 0 100 L 0 0, finish: sewn}
    landmarks: [{name: bust-point, at: [50, 50]}]
    darts: [{name: d, edge: hem, from: 10, to: 20, point: [15, 60], pressed: start}]
    pleats: [{name: p, edge: hem, from: 30, to: 40, kind: knife, pressed: end}]
    gathers: [{name: g, edge: top, from: 10, to: 60, length: 30, kind: gathers}]
    notches: [{name: n, edge: side, at: 50, count: 2}]
seams:
  - {name: side, a: [a/side], b: [-a/centre], meeting: {kind: eased, ease: [0, 5]}, kind: joined}
`,
	"chain": `bygone: chain/1
name: look
title: Look
years: c. 1800
notes: Invented.
patterns: {spencer: ../spencer.yaml}
steps:
  - step: waist.raise
    name: up
    why: Because.
    with:
      by: {value: 64mm, mark: published, source: A book}
      keep: yes
      ratio: 1.45
expect:
  - {pattern: a.yaml, result: b.yaml, tolerance: 0.1mm, wearer: w.yaml}
`,
	"wearer": "bygone: wearer/1\nname: lead\ntitle: Lead\nmeasures: {bust-girth: 92cm, waist-girth: 29 1/4in}\n",
	"rules": `bygone: rules/1
notes: Agreed.
tolerances: {length: 0.2, ratio: 0.01}
exceptions:
  - {code: corner-kink, file: a.yaml, seam: side, piece: a, edge: side, reason: Bound.}
`,
	"labels": `bygone: labels/1
language: fr
title: français
notes: Ours.
decimal: ","
words: {fold: pliure, cut-pairs: "{count} fois, {pairs} paires"}
names: {cap: tête}
`,
}

func readAny(kind string, data []byte) error {
	var err error
	switch kind {
	case "pattern":
		_, err = ReadToCheck("f.yaml", data)
	case "chain":
		_, err = ReadChain("f.yaml", data)
	case "wearer":
		_, err = ReadWearer("f.yaml", data)
	case "rules":
		_, err = ReadRules("f.yaml", data)
	case "labels":
		_, err = ReadLanguage("f.yaml", data)
	}
	return err
}

// Reader and schema agree, key by key: a sound file with one value spoilt, one
// key added or one taken away is refused by both or taken by both.
func TestReaderAndSchemaAgree(t *testing.T) {
	all := schemas(t)
	tried, refused := 0, 0
	for kind, text := range one {
		if err := readAny(kind, []byte(text)); err != nil {
			t.Fatalf("the sound %s is refused: %v", kind, err)
		}
		var doc yaml.Node
		if err := yaml.Unmarshal([]byte(text), &doc); err != nil {
			t.Fatal(err)
		}
		check := func(what string) {
			t.Helper()
			var b bytes.Buffer
			enc := yaml.NewEncoder(&b)
			if err := enc.Encode(&doc); err != nil {
				t.Fatal(err)
			}
			err := readAny(kind, b.Bytes())
			list, _ := faults(t, all[kind], b.Bytes())
			tried++
			if err != nil {
				refused++
			}
			if why := hanging[what]; why != "" {
				if err == nil || len(list) > 0 {
					t.Errorf("%s, %s: refused only by the reader (%s), or not: %v, %v", kind, what, why, err, list)
				}
				return
			}
			strict := err == nil && len(list) == 1 && strings.Contains(list[0], "Expected: string, given:")
			if (err != nil) != (len(list) > 0) && !strict { // a name or file that is all digits wants quotes
				t.Errorf("%s, %s: the reader says %v, the schema %v", kind, what, err, list)
			}
		}
		check("as it is")
		var walk func(n *yaml.Node, where string)
		walk = func(n *yaml.Node, where string) {
			switch n.Kind {
			case yaml.MappingNode:
				for i := 0; i < len(n.Content); i += 2 {
					key := n.Content[i].Value
					here := where + "." + key
					whole := n.Content
					n.Content = append(append([]*yaml.Node{}, whole[:i]...), whole[i+2:]...)
					check("without " + here)
					n.Content = whole
					was := *n.Content[i+1]
					for _, spoilt := range spoils(kind, here) {
						*n.Content[i+1] = spoilt
						check(fmt.Sprintf("%s = %s", here, spoilt.Value))
					}
					*n.Content[i+1] = was
					walk(n.Content[i+1], here)
				}
				if !free[where] {
					whole := n.Content
					n.Content = append(append([]*yaml.Node{}, whole...), &yaml.Node{Kind: yaml.ScalarNode, Value: "unheard-of"}, &yaml.Node{Kind: yaml.ScalarNode, Value: "x"})
					check("with another key in " + where)
					n.Content = whole
				}
			case yaml.SequenceNode:
				for i, c := range n.Content {
					walk(c, fmt.Sprintf("%s[%d]", where, i))
				}
			}
		}
		walk(doc.Content[0], "")
	}
	if tried < 300 || refused < 200 {
		t.Errorf("%d spoilt files tried, %d refused: too few to say anything", tried, refused)
	}
	t.Logf("%d files tried, %d refused by both", tried, refused)
}

// free are the mappings that may have any keys.
var free = map[string]bool{".patterns": true, ".steps[0].with": true}

// hanging are spoilt files that only the reader refuses: each part is sound, and
// they do not go together.
var hanging = map[string]string{
	"without .pieces[0].cut.count":    "one piece cannot be half turned over",
	".pieces[0].darts[0].to = 0.5":    "it ends before it starts",
	".pieces[0].pleats[0].from = 0.5": "it overlaps the dart",
	".pieces[0].pleats[0].to = 0.5":   "it ends before it starts",
	".pieces[0].gathers[0].to = 0.5":  "it ends before it starts",
}

// spoils are values that do not fit anywhere, or nearly nowhere.
func spoils(kind, where string) []yaml.Node {
	str := func(s string) yaml.Node {
		return yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: s, Style: yaml.DoubleQuotedStyle}
	}
	num := func(s string) yaml.Node { return yaml.Node{Kind: yaml.ScalarNode, Value: s} }
	return []yaml.Node{
		str("Not A Name/"), num("-1e9"), num("0.5"),
		{Kind: yaml.SequenceNode, Content: []*yaml.Node{{Kind: yaml.SequenceNode}}},
		{Kind: yaml.MappingNode, Content: []*yaml.Node{{Kind: yaml.ScalarNode, Value: "unheard-of"}, {Kind: yaml.ScalarNode, Value: "x"}}},
	}
}
