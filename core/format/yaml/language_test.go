package yamlfile

import (
	"strings"
	"testing"

	"bygone.example/core/label"
	"bygone.example/core/pattern"
	"github.com/google/go-cmp/cmp"
)

// The English file says what the program says of itself: a shop that starts
// from it starts from the truth.
func TestEnglishFileIsEnglish(t *testing.T) {
	en, err := Language("en")
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range label.Words() {
		if got, want := en.Text(w), label.English().Text(w); got != want {
			t.Errorf("%s is %q in the file, %q in the program", w, got, want)
		}
	}
	data, err := LanguageFile("en")
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range label.Words() {
		if !strings.Contains(string(data), "\n  "+string(w)+": ") {
			t.Errorf("en.yaml leaves out %s", w)
		}
	}
}

// Every other language that ships says everything itself, and names whatever
// steps look for.
func TestLanguagesAreWhole(t *testing.T) {
	if d := cmp.Diff([]string{"en", "fr"}, Languages()); d != "" {
		t.Errorf("Languages (-want +got):\n%s", d)
	}
	for _, code := range Languages() {
		l, err := Language(code)
		if err != nil {
			t.Fatal(err)
		}
		if l.Code != code {
			t.Errorf("%s.yaml says it is %q", code, l.Code)
		}
		if code == "en" {
			continue
		}
		data, _ := LanguageFile(code)
		for _, w := range label.Words() {
			if !strings.Contains(string(data), "\n  "+string(w)+": ") {
				t.Errorf("%s.yaml leaves out %s", code, w)
			}
		}
		for _, name := range []string{
			pattern.Shoulder, pattern.Neckline, pattern.Armscye, pattern.Side, pattern.SideBack, pattern.Waist, pattern.Hem,
			pattern.CentreFront, pattern.CentreBack, pattern.Cap, pattern.Underarm, pattern.BustPoint,
			string(pattern.BodiceFront), string(pattern.BodiceBack), string(pattern.BodiceSideBack), string(pattern.SkirtFront), string(pattern.SkirtBack),
			string(pattern.Sleeve), string(pattern.SleeveBand), string(pattern.SleeveCuff), string(pattern.SleeveTop), string(pattern.SleeveUnder),
			string(pattern.Undersleeve), string(pattern.Flounce), string(pattern.Tier), string(pattern.Collar), string(pattern.FacingFront), string(pattern.FacingBack),
		} {
			if !strings.Contains(string(data), "\n  "+name+": ") {
				t.Errorf("%s.yaml has no name for %s", code, name)
			}
		}
	}
	_, err := Language("fe")
	if err == nil || !strings.Contains(err.Error(), `did you mean "fr"`) && !strings.Contains(err.Error(), "fr") {
		t.Errorf("Language(fe): %v", err)
	}
}

func TestShopsOwnLanguage(t *testing.T) {
	l, err := ReadLanguage("house.yaml", []byte("bygone: labels/1\nlanguage: house\nwords:\n  fold: place on fold\nnames:\n  cap: crown\n"))
	if err != nil {
		t.Fatal(err)
	}
	got := []string{l.Code, l.Title, l.Say(label.FoldLine), l.Say(label.Tuck, "width", l.Length(15)), l.Name("cap"), l.Name("side.upper")}
	if d := cmp.Diff([]string{"house", "house", "place on fold", "tuck 1.5 cm", "crown", "side upper"}, got); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
}

func TestLanguageRefusals(t *testing.T) {
	head := "bygone: labels/1\nlanguage: xx\n"
	for _, tt := range []struct{ name, file, want string }{
		{"empty", "", "the file is empty"},
		{"a pattern", "bygone: pattern/1\n", "house.yaml:1:9: this is a pattern file, where a language file is wanted"},
		{"no code", "bygone: labels/1\n", "the language file has no language"},
		{"unknown phrase", head + "words:\n  fodl: x\n", `house.yaml:4:3: words has no key "fodl"`},
		{"blank left out", head + "words:\n  size: taille\n", "house.yaml:4:9: the phrase size leaves out {size}"},
		{"blank unknown", head + "words:\n  fold: \"pli {x}\"\n", "house.yaml:4:9: the phrase fold holds {x}, which nothing fills in"},
		{"half a brace", head + "words:\n  fold: \"pli {\"\n", "a brace without its other half"},
		{"nothing said", head + "words:\n  fold: \"  \"\n", "the phrase fold is empty"},
		{"a list", head + "words:\n  fold: [a]\n", "fold should be one value"},
		{"decimal", head + "decimal: x\n", `decimal cannot be "x"`},
		{"twice", head + "names:\n  a: b\n  a: c\n", `names has the key "a" twice`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := ReadLanguage("house.yaml", []byte(tt.file))
			if err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("got %v\nwant %s", err, tt.want)
			}
		})
	}
}
