package yamlfile

import (
	"cmp"
	"embed"
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"

	"bygone.example/core/label"
	"bygone.example/core/source"
	"bygone.example/core/spelling"
)

//go:embed languages/*.yaml
var languageFiles embed.FS

// Languages returns the codes of the languages that labels come in, sorted.
func Languages() []string { return slices.Sorted(maps.Keys(languages())) }

// languages reads the files that come with the program, once, and only when a
// language is asked for.
var languages = sync.OnceValue(func() map[string]*label.Language {
	out := map[string]*label.Language{}
	list, err := languageFiles.ReadDir("languages")
	if err != nil {
		panic("yamlfile: the languages are not in the program: " + err.Error()) // a broken build, not an input
	}
	for _, e := range list {
		data, err := languageFiles.ReadFile("languages/" + e.Name())
		if err == nil {
			code := strings.TrimSuffix(e.Name(), ".yaml")
			out[code], err = ReadLanguage(e.Name(), data)
		}
		if err != nil {
			panic("yamlfile: a language that comes with the program does not read: " + err.Error())
		}
	}
	return out
})

// LanguageFile returns the file of a language that comes with the program, for
// a shop to begin its own from.
func LanguageFile(code string) ([]byte, error) {
	if _, err := Language(code); err != nil {
		return nil, err
	}
	return languageFiles.ReadFile("languages/" + code + ".yaml")
}

// Language returns a language that comes with the program by its code.
func Language(code string) (*label.Language, error) {
	all := languages()
	if l, ok := all[code]; ok {
		return l, nil
	}
	known := Languages()
	return nil, fmt.Errorf("labels do not come in %s: %s; or give a language file of your own", source.Quote(code), spelling.Remedy(code, known))
}

// ReadLanguage reads a file of words for labels. What the file leaves out is
// English. An error is a source.Problems.
func ReadLanguage(name string, data []byte) (*label.Language, error) {
	r, root := load(name, data)
	if root == nil {
		return nil, r.problems.Err()
	}
	f, _ := r.form(root, languageForm)
	if !r.header(f, "labels") && f.values["bygone"] != nil {
		return nil, r.problems[len(r.problems)-1:].Err()
	}
	r.text(f, "notes")
	l := label.English()
	if r.need(f, "language") {
		l.Code = r.word(f, "language")
	}
	l.Title = cmp.Or(r.word(f, "title"), l.Code)
	l.Decimal = choice(r, f, "decimal", l.Decimal, map[string]string{".": ".", ",": ","})
	words, names := r.phrases(f), r.calls(f)
	if err := r.problems.Err(); err != nil {
		return nil, err
	}
	return l.With(words, names)
}

// phrases reads the words that a language has for the phrases of labels.
func (r *reader) phrases(f fields) map[label.Word]string {
	words := map[label.Word]string{}
	if !f.has("words") {
		return words
	}
	set, _ := r.fields(f.values["words"], "words", f.takes("words", phraseKind).keys...)
	for _, key := range set.order {
		n, before := set.values[key], len(r.problems)
		text := r.word(set, key)
		if len(r.problems) > before {
			continue
		}
		if err := label.Check(label.Word(key), text); err != nil {
			r.refuse(n, "in English it is: "+label.English().Text(label.Word(key)), "%v", err)
			continue
		}
		words[label.Word(key)] = text
	}
	return words
}

// calls reads what a language calls edges, landmarks and pieces.
func (r *reader) calls(f fields) map[string]string {
	names := map[string]string{}
	if !f.has("names") {
		return names
	}
	f.takes("names", callsKind)
	set, _ := r.fields(f.values["names"], "names")
	for _, key := range set.order {
		n, before := set.values[key], len(r.problems)
		text := r.word(set, key)
		switch {
		case len(r.problems) > before:
		case strings.TrimSpace(text) == "":
			r.refuse(n, "write what it is called, or take the line out", "%s is called nothing", source.Quote(key))
		default:
			names[key] = text
		}
	}
	return names
}
