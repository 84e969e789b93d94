package shelf

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"

	"bygone.example/core/chain"
	"bygone.example/core/finding"
	yamlfile "bygone.example/core/format/yaml"
	"bygone.example/core/pattern"
	"bygone.example/core/source"
	"bygone.example/core/wearer"
)

// Trial runs a chain over what it is tried on, and says what comes out otherwise
// than expected. It is for the program to give: the library starts no plugins.
type Trial interface {
	// Try returns the findings, with their places in the chain's file. An error
	// that is a source.Problems refuses the file; any other ends the check.
	Try(ctx context.Context, c chain.Chain, file *source.File, files chain.Files) ([]finding.Finding, error)
	// Repeatable reports whether the outcome depends on nothing but this program
	// and the files that the chain names.
	Repeatable(c chain.Chain) bool
}

// chain reads a chain, looks whether the patterns that it lists are there, and
// has it tried where it says what is to come out.
func (n *Inspector) chain(ctx context.Context, c *Checked, data []byte) error {
	ch, err := yamlfile.ReadChain(c.Path, data)
	if err != nil {
		c.refuse(err)
		return nil
	}
	c.Name = ch.Name
	files := n.namedBy(c.Path)
	text := source.NewFile(c.Path, data)
	var problems source.Problems
	for _, o := range ch.Patterns {
		if _, err := files.read(o.File, Pattern); err != nil {
			problems.Add(text.Problem(o.Line, o.Col, fmt.Sprintf("pattern %s, file %s: %s", source.Quote(o.Name), source.Quote(o.File), unreadable(err).Text),
				"name a pattern file, as seen from the folder of the chain file"))
		}
	}
	if err := problems.Err(); err != nil {
		c.refuse(err)
		return nil
	}
	if n.Trial == nil || len(ch.Expect) == 0 {
		return nil
	}
	key := ""
	if n.Cache != nil && n.Trial.Repeatable(ch) {
		if all, ok := files.all(ch, data); ok {
			key = n.Cache.key("", Chain, all)
		}
	}
	if key != "" {
		if _, ok := n.Cache.get(key); ok {
			return nil // only what went well is kept
		}
	}
	list, err := n.Trial.Try(ctx, ch, text, files)
	if problems, ok := asProblems(err); ok {
		c.refuse(problems)
		return nil
	}
	if err != nil {
		return err
	}
	if key != "" && len(list) == 0 {
		n.Cache.put(key, *c)
	}
	c.Findings = list
	c.settle()
	return nil
}

// named reads the files that a chain names, from its own folder. They may lie
// outside what is checked. Whoever wrote the chain may not be who runs it and
// sees what is said, so that of a file that does not say it is a pattern or a
// wearer no more is said than that.
type named struct {
	folder string
	texts  Texts
}

var _ chain.Files = named{}

// namedBy reads for the chain file of that path, with forward slashes.
func (n *Inspector) namedBy(path string) named {
	return named{filepath.Dir(filepath.FromSlash(path)), n.texts}
}

func (f named) path(file string) string { return filepath.Join(f.folder, filepath.FromSlash(file)) }

func (f named) read(file string, want Kind) ([]byte, error) {
	data, err := f.texts.read(f.path(file))
	if err == nil {
		if kind, _ := Sniff(data); kind != want {
			err = source.Problems{{Text: fmt.Sprintf("this is not a %s file", want)}}
		}
	}
	if err != nil {
		p := unreadable(err)
		p.File = filepath.ToSlash(f.path(file))
		return nil, source.Problems{p}
	}
	return data, nil
}

// Pattern reads a pattern file.
func (f named) Pattern(_ context.Context, file string) (*pattern.Pattern, error) {
	data, err := f.read(file, Pattern)
	if err != nil {
		return nil, err
	}
	return yamlfile.Read(filepath.ToSlash(f.path(file)), data)
}

// Wearer reads a wearer file.
func (f named) Wearer(_ context.Context, file string) (wearer.Wearer, error) {
	data, err := f.read(file, Wearer)
	if err != nil {
		return wearer.Wearer{}, err
	}
	return yamlfile.ReadWearer(filepath.ToSlash(f.path(file)), data)
}

// all is the text of a chain and of every file that it names, each with its
// length; ok is false when one cannot be read.
func (f named) all(c chain.Chain, data []byte) (text []byte, ok bool) {
	add := func(part []byte) { text = append(fmt.Appendf(text, "%d\n", len(part)), part...) }
	add(data)
	for _, r := range references(c) {
		part, err := f.read(r.file, r.kind)
		if err != nil {
			return nil, false
		}
		add(part)
	}
	return text, true
}

// reference is a file that a chain names.
type reference struct {
	file string
	kind Kind
}

// references are all files that a chain names, each once, in its own order.
func references(c chain.Chain) (list []reference) {
	add := func(file string, kind Kind) {
		if r := (reference{file, kind}); file != "" && !slices.Contains(list, r) {
			list = append(list, r)
		}
	}
	for _, o := range c.Patterns {
		add(o.File, Pattern)
	}
	for _, e := range c.Expect {
		add(e.Pattern, Pattern)
		add(e.Result, Pattern)
		add(e.Wearer, Wearer)
	}
	return list
}
