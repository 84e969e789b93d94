package yamlfile

import (
	"bytes"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"bygone.example/core/chain"
	"bygone.example/core/geom"
	"bygone.example/core/pattern"
	"bygone.example/core/source"
)

var update = flag.Bool("update", false, "write the golden files anew")

func readFile(t testing.TB, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// A file in the one form that Write has is read and written to the same bytes,
// and reads back as the same value.
func TestPatternIdentity(t *testing.T) {
	data := readFile(t, "testdata/dress.yaml")
	p, err := Read("dress.yaml", data)
	if err != nil {
		t.Fatal(err)
	}
	out := Write(p)
	if diff := cmp.Diff(string(data), string(out)); diff != "" {
		t.Errorf("written otherwise than read (-file +written):\n%s", diff)
	}
	again, err := Read("dress.yaml", out)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(p, again); diff != "" {
		t.Errorf("read otherwise the second time:\n%s", diff)
	}
	if second := Write(again); !bytes.Equal(out, second) {
		t.Error("two writings differ")
	}
	if p.Pieces[0].Edge("side").Corner != pattern.Bevel || p.Pieces[1].Edge("armhole").Is() != pattern.Armscye ||
		!p.Seam("side").B[0].Backwards || len(p.Seam("centre-back").B) != 0 || p.Seam("side").Meeting.Ease.Max != 30 {
		t.Errorf("not what the file says: %+v", p)
	}
}

func TestChainIdentity(t *testing.T) {
	data := readFile(t, "testdata/look.yaml")
	c, err := ReadChain("look.yaml", data)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(data), string(WriteChain(c))); diff != "" {
		t.Errorf("written otherwise than read (-file +written):\n%s", diff)
	}
	again, err := ReadChain("look.yaml", WriteChain(c))
	if diff := cmp.Diff(c, again); err != nil || diff != "" {
		t.Errorf("read otherwise the second time: %v\n%s", err, diff)
	}
	want := chain.Setting{Parameter: "below-armscye", Value: "64mm", Mark: "published", Source: "An invented draft: sheet 3, [plate 2]", Line: 14, Col: 30}
	if diff := cmp.Diff(want, c.Steps[0].Settings[0]); diff != "" {
		t.Error(diff)
	}
	if c.Steps[2].Name != "waist.raise" {
		t.Errorf("a step without a name is called %q", c.Steps[2].Name)
	}
}

func TestWearerIdentity(t *testing.T) {
	data := readFile(t, "testdata/lead.yaml")
	w, err := ReadWearer("lead.yaml", data)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(data), string(WriteWearer(w))); diff != "" {
		t.Errorf("written otherwise than read (-file +written):\n%s", diff)
	}
	if mm, ok := w.Of("waist-girth"); !ok || mm != 745 {
		t.Errorf("waist %v, %v", mm, ok)
	}
}

// Changing one edge changes few lines: one for a curve, two for a corner.
func TestOneEdgeChange(t *testing.T) {
	read := func() *pattern.Pattern {
		p, err := Read("dress.yaml", readFile(t, "testdata/dress.yaml"))
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	tests := []struct {
		name   string
		change func(front *pattern.Piece)
		most   int
	}{
		{"a curve", func(p *pattern.Piece) { p.Edge("armscye").Path[0].C1 = geom.Pt(195.1234567, 222) }, 1},
		{"a corner", func(p *pattern.Piece) {
			p.Edge("armscye").Path[0].P1 = geom.Pt(180, 390)
			p.Edge("shoulder").Path[0].P0 = geom.Pt(180, 390)
		}, 2},
		{"a straight edge bent, its allowance changed", func(p *pattern.Piece) {
			e := p.Edge("side")
			e.Path = geom.Path{geom.Quadratic(e.Path.Start(), geom.Pt(240, 100), e.Path.End())}
			e.Allowance = 25
		}, 3},
	}
	for _, tt := range tests {
		p := read()
		before := strings.Split(string(Write(p)), "\n")
		tt.change(&p.Pieces[0])
		after := strings.Split(string(Write(p)), "\n")
		changed := 0
		for i := range before {
			if len(after) != len(before) || before[i] != after[i] {
				changed++
			}
		}
		if changed == 0 || changed > tt.most {
			t.Errorf("%s: %d lines changed, want 1 to %d", tt.name, changed, tt.most)
		}
	}
}

// Each file in testdata/refused is refused with exactly the text beside it.
func TestRefusals(t *testing.T) {
	paths, err := filepath.Glob("testdata/refused/*.yaml")
	if err != nil || len(paths) < 30 {
		t.Fatalf("found %d refused files, %v", len(paths), err)
	}
	for _, path := range paths {
		name := strings.TrimSuffix(filepath.Base(path), ".yaml")
		t.Run(name, func(t *testing.T) {
			data := readFile(t, path)
			var err error
			switch {
			case strings.HasPrefix(name, "chain-"):
				_, err = ReadChain("house.yaml", data)
			case strings.HasPrefix(name, "wearer-"):
				_, err = ReadWearer("lead.yaml", data)
			default:
				_, err = Read("dress.yaml", data)
			}
			if err == nil {
				t.Fatal("not refused")
			}
			problems, ok := err.(source.Problems)
			if !ok {
				t.Fatalf("refused with a %T", err)
			}
			for _, p := range problems {
				if p.Text == "" || p.Remedy == "" || p.File == "" {
					t.Errorf("no remedy, text or file: %+v", p)
				}
			}
			golden := strings.TrimSuffix(path, ".yaml") + ".txt"
			got := err.Error() + "\n"
			if *update {
				if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			if diff := cmp.Diff(string(readFile(t, golden)), got); diff != "" {
				t.Errorf("(-golden +got)\n%s", diff)
			}
		})
	}
}

// The bounds hold, and hold quickly: a hostile file is refused or read in a
// second or so, whatever it is made of.
func TestBounds(t *testing.T) {
	dress := string(readFile(t, "testdata/dress.yaml"))
	flood := func(head, item string) string {
		return head + strings.Repeat(item, (MaxSize-len(head))/len(item))
	}
	tests := []struct{ name, text, want string }{
		{"50 MB", dress + strings.Repeat("# filler\n", 50<<20/9), "f: the file is larger than 4 MiB"},
		{"deep flow", "a: " + strings.Repeat("[", 200000), "f:1:20: lists and keys are nested more than 16 deep"},
		{"deep block", "a:\n" + strings.Repeat("- ", 1<<20), "lists and keys are nested more than 16 deep"},
		{"deep braces", strings.Repeat("{a: ", 200000), "f:1:65: lists and keys are nested more than 16 deep"},
		{"many items", flood("a: [", "1,"), "f:1:500004: the file has more than 250000 lines and entries"},
		{"many lines", flood("", "a\n"), "f:250001:2: the file has more than 250000 lines and entries"},
		{"many keys", "bygone: pattern/1\nname: x\n" + strings.Repeat("k: 1\n", 200000), `f:3:1: the pattern "x" has no key "k"`},
		{"many unknown keys", "bygone: pattern/1\nname: x\n" + numbered("k%d: 1\n", 200000), `f:3:1: the pattern "x" has no key "k0"`},
		{"many pieces", "bygone: pattern/1\nname: x\npieces:\n" + numbered("  - {name: p%d}\n", 100000), "f:4:3: there are 100000 pieces, more than 1000"},
		{"one long word", strings.Replace(dress, "small-dress", strings.Repeat("x", 3<<20), 1), `f:2:7: name is longer than 500 characters`},
		{"one long path", "bygone: pattern/1\nname: x\npieces:\n  - name: p\n    edges:\n      - name: e\n        path: M 0 0 " + strings.Repeat("h1 ", 1<<20), "f:7:30021: the path has more than 10000 lines and curves"},
		{"endless curves", "bygone: pattern/1\nname: x\npieces:\n  - name: p\n    edges:\n" + numbered("      - {name: e%d, path: M 0 0 "+strings.Repeat("C 99999 0 0 99999 99999 99999 C 0 0 99999 0 0 0 ", 100)+"}\n", 90), "f:4:11: piece p: the boundary is 2962363 m long, more than 100 m"},
		{"alias bomb", "a: &a [1]\nb: &b [*a, *a, *a, *a]\nc: &c [*b, *b, *b, *b]\n", "f:1:4: &a marks this to be repeated elsewhere, which our files do not do"},
		{"second document", dress + "---\n" + dress, "a second document starts here"},
	}
	for _, tt := range tests {
		start := time.Now()
		_, err := Read("f", []byte(tt.text))
		took := time.Since(start)
		if err == nil {
			t.Errorf("%s: not refused", tt.name)
			continue
		}
		first, _, _ := strings.Cut(err.Error(), "\n")
		if !strings.Contains(first, tt.want) {
			t.Errorf("%s: %.200s\nwant %s", tt.name, first, tt.want)
		}
		t.Logf("%-20s %8.1f KB refused in %v", tt.name, float64(len(tt.text))/1024, took.Round(time.Millisecond/10))
		if took > 20*time.Second { // an order above what was measured, for slow machines
			t.Errorf("%s took %v", tt.name, took)
		}
	}
}

func numbered(format string, n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, format, i)
	}
	return b.String()
}

// Ends within SnapTolerance are joined, wider gaps refused; what was joined
// stays as it is.
func TestSnap(t *testing.T) {
	dress := string(readFile(t, "testdata/dress.yaml"))
	near := strings.Replace(dress, "M 240 10 L 250 200", "M 240.006 9.993 L 250 200", 1)
	p, err := Read("near.yaml", []byte(near))
	if err != nil {
		t.Fatal(err)
	}
	if got := p.Pieces[0].Edge("side").Path.Start(); got != geom.Pt(240, 10) {
		t.Errorf("the side starts at %v", got)
	}
	if string(Write(p)) != dress {
		t.Error("joined otherwise than the original")
	}
	far := strings.Replace(dress, "M 240 10 L 250 200", "M 240.011 10 L 250 200", 1)
	if _, err := Read("far.yaml", []byte(far)); err == nil || !strings.Contains(err.Error(), `edge "side" starts 0.011 mm from where edge "waist" ends`) {
		t.Errorf("a gap of 0.011 mm: %v", err)
	}
}

// Line ends and a byte order mark of another system change nothing.
func TestForeignText(t *testing.T) {
	dress := string(readFile(t, "testdata/dress.yaml"))
	for name, text := range map[string]string{
		"carriage returns": strings.ReplaceAll(dress, "\n", "\r\n"),
		"byte order mark":  "\ufeff" + dress,
		"a comment":        "# ours\n" + dress,
	} {
		p, err := Read("foreign.yaml", []byte(text))
		if err != nil || string(Write(p)) != dress {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// A mark at the very end of a curved edge survives rounding.
func TestMarkAtEnd(t *testing.T) {
	p, err := Read("dress.yaml", readFile(t, "testdata/dress.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	front := &p.Pieces[0]
	for i := range 200 {
		e := front.Edge("armscye")
		e.Path[0].C1 = geom.Pt(200+math.Sin(float64(i)), 220+math.Cos(3*float64(i)))
		front.Notches = []pattern.Notch{{Name: "end", Edge: "armscye", At: e.Path.Length(), Count: 1}}
		front.Gathers = []pattern.Gather{{Name: "all", Edge: "armscye", From: e.Path.Length() / 3, To: e.Path.Length(), Length: e.Path.Length() * 2 / 3, Kind: pattern.Ease}}
		out := Write(p)
		q, err := Read("dress.yaml", out)
		if err != nil {
			t.Fatal(err)
		}
		if again, err := Read("dress.yaml", Write(q)); err != nil || !cmp.Equal(q, again) {
			t.Fatalf("not stable: %v\n%s", err, cmp.Diff(q, again))
		}
	}
}

// Any text that a pattern may hold comes back as it was.
func TestTextLaw(t *testing.T) {
	word := rapid.SampledFrom([]string{
		"a", "Bodice", "the", "front:", "#", "-", "1806", "no", "yes", "null", "é", "日本", "\"", "'", "\\", ": ", " #x", "[", "]", "{", ",", "&a", "*a", "!t", "|", ">", "%", "@", "`",
		"  ", "\n", "\n\n", "\t", "~", "---", "...", "?", "\u00a0", "\u200d", "supercalifragilistic", "=", "<<", "1e3", "0x1F", "2020-01-01",
	})
	rapid.Check(t, func(t *rapid.T) {
		join := rapid.SampledFrom([]string{"", " "}).Draw(t, "join")
		notes := strings.Join(rapid.SliceOfN(word, 0, 30).Draw(t, "notes"), join)
		title := strings.NewReplacer("\n", " ", "\t", " ").Replace(strings.Join(rapid.SliceOfN(word, 0, 6).Draw(t, "title"), join))
		c := chain.Chain{Name: "x", Title: title, Years: title, Notes: notes, Steps: []chain.Step{{Operation: "a.b", Name: "a.b", Why: notes}}}
		if !strings.ContainsAny(title, `\\`) && strings.TrimSpace(title) == title {
			c.Patterns = []chain.Other{{Name: "spencer", File: "../" + title + ".yaml"}, {Name: "true", File: "no"}}
		}
		if strings.TrimSpace(title) != "" {
			c.Steps[0].Settings = []chain.Setting{{Parameter: "p", Value: title}, {Parameter: "q", Value: title, Source: title}}
		}
		out := WriteChain(c)
		got, err := ReadChain("x", out)
		if err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
		if diff := cmp.Diff(c, got, inFile); diff != "" {
			t.Fatalf("%s\n%s", diff, out)
		}
	})
}

// FuzzRead: reading never panics, and what it accepts is written and read to
// the same value and the same bytes.
func FuzzRead(f *testing.F) {
	f.Add(readFile(f, "testdata/dress.yaml"))
	paths, _ := filepath.Glob("testdata/refused/*.yaml")
	for _, path := range paths {
		f.Add(readFile(f, path))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := Read("f", data)
		if err != nil {
			if err.Error() == "" {
				t.Fatal("an empty refusal")
			}
			return
		}
		out := Write(p)
		again, err := Read("f", out)
		if err != nil {
			t.Fatalf("what was written is refused: %v\n%s", err, out)
		}
		if diff := cmp.Diff(p, again); diff != "" {
			t.Fatalf("read otherwise:\n%s\n%s", diff, out)
		}
		if second := Write(again); !bytes.Equal(out, second) {
			t.Fatalf("written otherwise:\n%s", cmp.Diff(string(out), string(second)))
		}
	})
}

// inFile leaves out where in its file a thing stands: that is not what a chain
// says.
var inFile = cmp.Options{
	cmpopts.IgnoreFields(chain.Setting{}, "Line", "Col"), cmpopts.IgnoreFields(chain.Step{}, "Line", "Col"),
	cmpopts.IgnoreFields(chain.Other{}, "Line", "Col"),
}

// FuzzReadOthers does the same for chains and wearers.
func FuzzReadOthers(f *testing.F) {
	f.Add(readFile(f, "testdata/look.yaml"))
	f.Add(readFile(f, "testdata/lead.yaml"))
	f.Fuzz(func(t *testing.T, data []byte) {
		if c, err := ReadChain("f", data); err == nil {
			again, err := ReadChain("f", WriteChain(c))
			if diff := cmp.Diff(c, again, inFile); err != nil || diff != "" {
				t.Fatalf("%v\n%s\n%s", err, diff, WriteChain(c))
			}
		}
		if w, err := ReadWearer("f", data); err == nil {
			again, err := ReadWearer("f", WriteWearer(w))
			if diff := cmp.Diff(w, again); err != nil || diff != "" {
				t.Fatalf("%v\n%s\n%s", err, diff, WriteWearer(w))
			}
		}
	})
}

func BenchmarkRead(b *testing.B) {
	data := readFile(b, "testdata/dress.yaml")
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		if _, err := Read("dress.yaml", data); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkWrite(b *testing.B) {
	p, err := Read("dress.yaml", readFile(b, "testdata/dress.yaml"))
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		Write(p)
	}
}
