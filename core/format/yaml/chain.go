package yamlfile

import (
	"strings"

	"go.yaml.in/yaml/v4"

	"bygone.example/core/chain"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
	"bygone.example/core/source"
)

var marks = map[string]operation.Mark{
	string(operation.Published): operation.Published, string(operation.Computed): operation.Computed,
	string(operation.CommonPractice): operation.CommonPractice, string(operation.FromMemory): operation.FromMemory,
}

// ReadChain reads a chain file. Whether its operations and parameters exist is
// for the host to say: settings carry their line and column for that. An error
// is a source.Problems.
func ReadChain(name string, data []byte) (chain.Chain, error) {
	r, root := load(name, data)
	if root == nil {
		return chain.Chain{}, r.problems.Err()
	}
	f, _ := r.form(root, chainForm)
	if !r.header(f, "chain") && f.values["bygone"] != nil {
		return chain.Chain{}, r.problems[len(r.problems)-1:].Err()
	}
	c := chain.Chain{Name: r.identifier(f, "high-waist-1806"), Title: r.word(f, "title"), Years: r.word(f, "years"), Notes: r.text(f, "notes")}
	c.Patterns = r.others(f)
	if r.need(f, "steps") {
		names := map[string]*yaml.Node{}
		for _, n := range r.list(f, "steps") {
			if s, ok := r.step(n, names); ok {
				c.Steps = append(c.Steps, s)
			}
		}
	}
	c.Expect = r.expectations(f)
	if err := r.problems.Err(); err != nil {
		return chain.Chain{}, err
	}
	return c, nil
}

// maxOthers is how many other patterns a chain may list: as many as a step may
// be sent. A look takes one or two.
const maxOthers = 20

// others reads the patterns that a chain lists: a name and a file each. Whether
// the files are there is for the program to say.
func (r *reader) others(f fields) (list []chain.Other) {
	if !f.has("patterns") {
		return nil
	}
	const example = "spencer: spencer.yaml"
	at := f.values["patterns"]
	if at.Kind != yaml.MappingNode {
		r.refuse(at, "write a name and a file for each, for instance patterns: {"+example+"}", "patterns should be names and files, but is %s", kindOf(at))
		return nil
	}
	named, _ := r.fields(at, "patterns")
	if len(named.order) > maxOthers {
		r.refuse(at, "leave out those that no step looks at", "there are %d patterns, more than %d", len(named.order), maxOthers)
		return nil
	}
	for _, name := range named.order {
		before := len(r.problems)
		key := named.keys[name]
		switch {
		case !pattern.ValidName(name):
			r.refuse(key, "use lower-case letters, digits and hyphens, for instance "+example, "%s is not a name", source.Quote(name))
		case name == operation.Only:
			r.refuse(key, "call it otherwise, for instance "+example, "%s stands for the only pattern of a chain, whatever its name", source.Quote(name))
		case !named.has(name):
			r.refuse(key, "write its file after it, for instance "+example, "pattern %s has no file", source.Quote(name))
		}
		file := r.word(named, name)
		if len(r.problems) > before {
			continue
		}
		n := named.values[name]
		if r.fileFits(n, "pattern "+source.Quote(name), file, example) {
			list = append(list, chain.Other{Name: name, File: file, Line: n.Line, Col: n.Column})
		}
	}
	return list
}

// identifier reads the name of a file's own.
func (r *reader) identifier(f fields, example string) string {
	before := len(r.problems)
	name := r.named(f)
	if !pattern.ValidName(name) && len(r.problems) == before {
		r.refuse(f.values["name"], "use lower-case letters, digits and hyphens, for instance "+example, "%s is not a name", source.Quote(name))
	}
	return name
}

func (r *reader) step(n *yaml.Node, names map[string]*yaml.Node) (s chain.Step, ok bool) {
	const example = "step: waist.raise"
	if n.Kind == yaml.ScalarNode && !empty(n) {
		r.refuse(n, "write - step: "+source.Harmless(n.Value, 60), "the step should have keys, but is %s", source.Quote(n.Value))
		return s, false
	}
	f, ok := r.form(n, stepForm)
	if !ok {
		return s, false
	}
	if !f.has("step") && f.keys["step"] == nil && len(f.unknown) == 0 {
		r.refuse(n, "name its operation first, for instance "+example, "the step does not say what it does")
		return s, false
	}
	if !r.need(f, "step") {
		return s, false
	}
	s = chain.Step{Operation: r.word(f, "step"), Name: r.word(f, "name"), Why: r.text(f, "why")}
	plugin, op, cut := strings.Cut(s.Operation, ".")
	if at := f.values["step"]; s.Operation != "" && (!cut || !operation.ValidName(plugin) || !operation.ValidName(op)) {
		r.refuse(at, "write plugin.operation, for instance "+example, "%s is not an operation", source.Quote(s.Operation))
	}
	at := f.values["step"]
	s.Line, s.Col = at.Line, at.Column
	remedy := "give one of them a name of its own, for instance name: " + strings.ReplaceAll(s.Operation, ".", "-") + "-again"
	switch {
	case !f.has("name"):
		s.Name = s.Operation
	case !pattern.ValidDotted(s.Name):
		at = f.values["name"]
		r.refuse(at, "use lower-case letters, digits and hyphens, for instance raise-waist", "%s is not a name", source.Quote(s.Name))
	default:
		at = f.values["name"]
		remedy = "give one of them another name"
	}
	if first := names[s.Name]; first != nil {
		r.refuse(at, remedy, "there are two steps called %s, the first in line %d", source.Quote(s.Name), first.Line)
	} else if s.Name != "" {
		names[s.Name] = at
	}
	if f.has("with") {
		if with, ok := r.fields(f.values["with"], "with"); ok {
			for _, key := range with.order {
				if set, ok := r.setting(with, key); ok {
					s.Settings = append(s.Settings, set)
				}
			}
		}
	}
	return s, true
}

func (r *reader) setting(with fields, key string) (s chain.Setting, ok bool) {
	n := with.values[key]
	if !operation.ValidName(key) {
		r.refuse(with.keys[key], "use lower-case letters, digits and hyphens", "%s cannot be a parameter", source.Quote(key))
		return s, false
	}
	s.Parameter = key
	before := len(r.problems)
	holder, valueKey := with, key
	if n.Kind == yaml.MappingNode {
		f, _ := r.fields(n, key, settingForm.keys()...)
		f.form = settingForm
		if !r.need(f, "value") {
			return s, false
		}
		s.Mark = choice(r, f, "mark", "", marks)
		s.Source = r.word(f, "source")
		if then := f.takes("mark").then; string(s.Mark) == then[0] && s.Source == "" && len(r.problems) == before {
			r.refuse(f.values["mark"], `add source: "…", or write computed, common practice or from memory`, "%s is marked published, but no source is named", key)
		}
		holder, valueKey = f, "value"
	} else if empty(n) {
		r.refuse(with.keys[key], "write its value after it, or leave the line out", "%s has no value", key)
		return s, false
	}
	s.Value = r.word(holder, valueKey)
	v := holder.values[valueKey]
	s.Line, s.Col = v.Line, v.Column
	if len(r.problems) > before {
		return s, false
	}
	if strings.TrimSpace(s.Value) == "" {
		r.refuse(v, "write its value after it, or leave the line out", "%s has an empty value", key)
		return s, false
	}
	return s, true
}

// WriteChain returns the chain as a file that ReadChain reads back the same.
func WriteChain(c chain.Chain) []byte {
	w := &writer{}
	w.line(0, "bygone: chain/1")
	w.line(0, "name: %s", scalar(c.Name, inBlock))
	w.text(0, "title", c.Title)
	w.text(0, "years", c.Years)
	w.text(0, "notes", c.Notes)
	if len(c.Patterns) > 0 {
		w.line(0, "patterns:")
	}
	for _, other := range c.Patterns {
		w.line(2, "%s: %s", scalar(other.Name, inBlock), fileName(other.File))
	}
	if len(c.Steps) == 0 {
		w.line(0, "steps: []")
	} else {
		w.line(0, "steps:")
	}
	for _, s := range c.Steps {
		w.line(2, "- step: %s", scalar(s.Operation, inBlock))
		if s.Name != "" && s.Name != s.Operation {
			w.line(4, "name: %s", scalar(s.Name, inBlock))
		}
		w.text(4, "why", s.Why)
		if len(s.Settings) > 0 {
			w.line(4, "with:")
		}
		for _, set := range s.Settings {
			if set.Mark == "" && set.Source == "" {
				w.line(6, "%s: %s", scalar(set.Parameter, inBlock), setting(set.Value, inBlock))
				continue
			}
			t := new(item).add("value", setting(set.Value, inFlow)).word("mark", string(set.Mark))
			if set.Source != "" {
				t.add("source", quoted(set.Source))
			}
			w.line(6, "%s: {%s}", scalar(set.Parameter, inBlock), t)
		}
	}
	w.expectations(c.Expect)
	return []byte(w.String())
}
