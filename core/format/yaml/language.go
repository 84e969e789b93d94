package yamlfile

import (
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
	f, _ := r.fields(root, "the language file", "bygone", "language", "title", "decimal", "words", "names", "notes")
	if !r.header(f, "labels") && f.values["bygone"] != nil {
		return nil, r.problems[len(r.problems)-1:].Err()
	}
	r.text(f, "notes")
	l := label.English()
	if r.require(f, "language", "write the language's code, as in language: fr") {
		l.Code = r.word(f, "language")
	}
	l.Title = r.word(f, "title")
	if l.Title == "" {
		l.Title = l.Code
	}
	if f.has("decimal") {
		l.Decimal = choice(r, f, "decimal", ".", map[string]string{".": ".", ",": ",", "·": "·", "٫": "٫"})
	}
	words := map[label.Word]string{}
	if f.has("words") {
		var known []string
		for _, w := range label.Words() {
			known = append(known, string(w))
		}
		if set, ok := r.fields(f.values["words"], "words", known...); ok {
			for _, key := range set.order {
				n, text := set.values[key], r.word(set, key)
				if n.Kind != set.keys[key].Kind { // refused by word already
					continue
				}
				if err := label.Check(label.Word(key), text); err != nil {
					r.refuse(n, "in English it is: "+label.English().Text(label.Word(key)), "%v", err)
					continue
				}
				words[label.Word(key)] = text
			}
		}
	}
	names := map[string]string{}
	if f.has("names") {
		if set, ok := r.fields(f.values["names"], "names"); ok {
			for _, key := range set.order {
				if text := r.word(set, key); text != "" {
					names[key] = text
				}
			}
		}
	}
	if err := r.problems.Err(); err != nil {
		return nil, err
	}
	return l.With(words, names)
}
