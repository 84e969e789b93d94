package report

import (
	"bytes"
	"flag"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"bygone.example/core/chain"
	"bygone.example/core/finding"
	yamlfile "bygone.example/core/format/yaml"
	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
	"bygone.example/core/wearer"
)

var update = flag.Bool("update", false, "write golden files anew")

func stock(t testing.TB, name string) *pattern.Pattern {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "patterns", name+".yaml"))
	if err != nil {
		t.Fatal(err)
	}
	p, err := yamlfile.Read(name+".yaml", data)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// tagged marks findings that were not in old as brought in by step.
func tagged(old []finding.Finding, p *pattern.Pattern, step string) []finding.Finding {
	had := map[string]string{}
	for _, f := range old {
		had[string(f.Code)+f.Text] = f.Since
	}
	out := pairing.Check(p)
	for i, f := range out {
		since, ok := had[string(f.Code)+f.Text]
		if !ok {
			since = step
		}
		out[i].Since = since
	}
	return out
}

// run makes a result by hand: allowances, then a longer skirt, then, if broken
// is set, a front side seam that no longer fits.
func run(t testing.TB, name string, broken bool) *chain.Result {
	before := stock(t, name)
	r := &chain.Result{
		Chain: chain.Chain{
			Name: "high-waist", Title: "High waist", Years: "c. 1800–1815",
			Notes: "The invented Tannery Lane company's house standard for the play of 1806.",
		},
		Wearer:  wearer.Wearer{Name: "leading-lady", Title: "The leading lady", Measures: map[wearer.Measure]float64{wearer.BustGirth: 920, wearer.WaistGirth: 745, wearer.Height: 1680}},
		Before:  before,
		Arrival: pairing.Check(before),
	}
	add := func(p *pattern.Pattern, step chain.Step, spec operation.Spec, values operation.Values, changes []operation.Change, cautions ...string) {
		last := r.Arrival
		if n := len(r.Steps); n > 0 {
			last = r.Steps[n-1].Findings
		}
		r.Steps = append(r.Steps, chain.Done{
			Step: step, Spec: spec, Plugin: "house", Values: values, Pattern: p,
			Changes: changes, Cautions: cautions, Findings: tagged(last, p, step.Name),
		})
	}

	p := before.Clone()
	for i := range p.Pieces {
		for j := range p.Pieces[i].Edges {
			e := &p.Pieces[i].Edges[j]
			if e.Allowance = 15; e.Finish == pattern.Hemmed {
				e.Allowance = 40
			}
		}
	}
	add(p, chain.Step{
		Name: "allowances", Operation: "allowance.set", Why: "The company leaves 1.5 cm on every seam, so that the next wearer can have it let out.",
		Settings: []chain.Setting{{Parameter: "width", Value: "15mm", Mark: operation.CommonPractice, Source: "the house standard", Line: 12, Col: 5}},
	}, operation.Spec{Name: "set", Purpose: "Sets the allowance of every edge.", Parameters: []operation.Parameter{
		{Name: "width", Kind: operation.Length, Meaning: "What is cut beyond the seam line.", Default: "15mm", Mark: operation.CommonPractice},
		{Name: "hem", Kind: operation.Length, Meaning: "The same at hems.", DefaultNote: "as deep as the hem's curve lets it lie flat"},
		{Name: "mitre", Kind: operation.Switch, Meaning: "Run corners out until their cut lines meet.", Default: "yes", Mark: operation.FromMemory},
	}}, operation.Values{
		"width": {Kind: operation.Length, Number: 15}, "mitre": {Kind: operation.Switch, Number: 1},
	}, []operation.Change{{What: "seam allowance", Before: 0, After: 15, Unit: "mm"}, {What: "hem allowance", Before: 0, After: 40, Unit: "mm"}})

	p = p.Clone()
	const drop = 124
	for i := range p.Pieces {
		q := &p.Pieces[i]
		if q.Role != pattern.SkirtFront && q.Role != pattern.SkirtBack {
			continue
		}
		hem := q.EdgesByRole(pattern.Hem)[0].Path
		low := math.Max(hem.Start().Y, hem.End().Y)
		down := func(pt geom.Point) geom.Point {
			if pt.Y <= low+0.01 {
				pt.Y -= drop
			}
			return pt
		}
		for j := range q.Edges {
			e := &q.Edges[j]
			old, fromHem := e.Path.Length(), e.Path.Start().Y < e.Path.End().Y
			for k := range e.Path {
				s := &e.Path[k]
				s.P0, s.C1, s.C2, s.P1 = down(s.P0), down(s.C1), down(s.C2), down(s.P1)
			}
			for n := range q.Notches {
				if q.Notches[n].Edge == e.Name && fromHem {
					q.Notches[n].At += e.Path.Length() - old
				}
			}
		}
	}
	add(p, chain.Step{Name: "lengthen-skirt", Operation: "skirt.lengthen", Why: "From a waist under the bust the skirt falls to the ankle."},
		operation.Spec{Name: "lengthen", Purpose: "Lengthens the skirt from the hip down."}, nil,
		[]operation.Change{{What: "skirt side seam", Piece: "skirt-front", Before: 620, After: 744, Unit: "mm"}, {What: "hem circumference", Before: 2000, After: 2000, Unit: "mm"}, {What: "side seam's lean", Piece: "skirt-front", Before: 7, After: 5.8, Unit: "degrees"}},
		"A hem at the floor is stepped on: on stairs, keep it 3 cm clear of the tread.")
	if broken {
		p = p.Clone()
		f := p.ByRole(pattern.BodiceFront)[0]
		m := geom.ScaleAlong(geom.Pt(0, 0), geom.Pt(0, 1), 1.02)
		for j := range f.Edges {
			f.Edges[j].Path = f.Edges[j].Path.Transform(m)
		}
		add(p, chain.Step{Name: "slip", Operation: "house.slip"}, operation.Spec{Name: "slip", Purpose: "Stretches the front by mistake."}, nil, nil)
	}
	return r
}

func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	file := filepath.Join("testdata", "golden", name)
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
		t.Fatalf("%v (run with -update)", err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s differs from the golden file; look at both, then run with -update", name)
	}
}

func TestGolden(t *testing.T) {
	for _, tt := range []struct {
		name   string
		result *chain.Result
	}{{"sound", run(t, "stock-dress", false)}, {"broken", run(t, "untested-blouse", true)}} {
		for ext, write := range map[string]func(io.Writer) error{
			".html": func(w io.Writer) error {
				return HTML(w, tt.result, Options{Files: []File{{"pattern.yaml", "the altered pattern"}, {"sheets.pdf", "the pieces at true size"}}})
			},
			".json": func(w io.Writer) error { return JSON(w, tt.result) },
			".txt":  func(w io.Writer) error { return Summary(w, tt.result, false) },
		} {
			t.Run(tt.name+ext, func(t *testing.T) {
				var b, again bytes.Buffer
				if err := write(&b); err != nil {
					t.Fatal(err)
				}
				if err := write(&again); err != nil {
					t.Fatal(err)
				}
				if !bytes.Equal(b.Bytes(), again.Bytes()) {
					t.Error("written twice, the bytes differ")
				}
				golden(t, tt.name+ext, b.Bytes())
			})
		}
	}
}

// The page needs nothing else and no id occurs twice.
func TestPageStandsAlone(t *testing.T) {
	var b bytes.Buffer
	if err := HTML(&b, run(t, "stock-dress", false), Options{}); err != nil {
		t.Fatal(err)
	}
	page := b.String()
	for _, bad := range []string{"<script", "http-equiv", "src=", "@import", "url(", "<link"} {
		if strings.Contains(page, bad) {
			t.Errorf("the page has %q", bad)
		}
	}
	ids := map[string]bool{}
	for _, m := range regexp.MustCompile(` id="([^"]+)"`).FindAllStringSubmatch(page, -1) {
		if ids[m[1]] {
			t.Errorf("id %q occurs twice", m[1])
		}
		ids[m[1]] = true
	}
	for _, m := range regexp.MustCompile(`href="#([^"]+)"`).FindAllStringSubmatch(page, -1) {
		if !ids[m[1]] {
			t.Errorf("a link to #%s, which is not there", m[1])
		}
	}
	if n := strings.Count(page, `role="img" aria-label="`); n != 5 {
		t.Errorf("%d pictures with words for those who cannot see them, want 5", n)
	}
}

// What strangers write comes out as words.
func TestMarkupIsEscaped(t *testing.T) {
	r := run(t, "stock-dress", false)
	r.Chain.Title = `<script>alert("x")</script>`
	r.Before.Pieces[0].Title = `A & B <i>"`
	r.Steps[0].Step.Why = "</style><b>"
	var b bytes.Buffer
	if err := HTML(&b, r, Options{}); err != nil {
		t.Fatal(err)
	}
	for _, bad := range []string{"<script", "<b>Why", `B <i>"`, "</style><b>"} {
		if strings.Contains(b.String(), bad) {
			t.Errorf("the page has %q unescaped", bad)
		}
	}
}

func TestVerdictIsHonest(t *testing.T) {
	for _, tt := range []struct {
		result *chain.Result
		want   bool
	}{{run(t, "stock-dress", false), true}, {run(t, "stock-dress", true), false}} {
		var b bytes.Buffer
		if err := HTML(&b, tt.result, Options{}); err != nil {
			t.Fatal(err)
		}
		if got := strings.Contains(b.String(), "Walked after every step: every seam goes together."); got != tt.want {
			t.Errorf("the page says all is well: %v, want %v", got, tt.want)
		}
	}
}

func TestNoPattern(t *testing.T) {
	r := &chain.Result{}
	if HTML(io.Discard, r, Options{}) == nil || JSON(io.Discard, r) == nil || Summary(io.Discard, r, false) == nil {
		t.Error("a result without a pattern gave no error")
	}
}

func TestSummaryWidth(t *testing.T) {
	r := run(t, "stock-dress", true)
	r.Steps[0].Step.Name = "a-step-with-a-very-long-name-that-no-column-can-hold"
	r.Steps[0].Changes[0].What = "the circumference of the hem of the outer skirt, é"
	var plain, colour bytes.Buffer
	if err := Summary(&plain, r, false); err != nil {
		t.Fatal(err)
	}
	if err := Summary(&colour, r, true); err != nil {
		t.Fatal(err)
	}
	for _, l := range strings.Split(plain.String(), "\n") {
		if n := utf8.RuneCountInString(l); n > summaryWidth {
			t.Errorf("%d columns: %q", n, l)
		}
	}
	bare := regexp.MustCompile("\x1b\\[[0-9;]*m").ReplaceAllString(colour.String(), "")
	trim := func(s string) string { return regexp.MustCompile(`(?m) +$`).ReplaceAllString(s, "") }
	if trim(bare) != trim(plain.String()) {
		t.Errorf("colour changes the words:\n%s\n%s", bare, plain.String())
	}
}

func TestFigures(t *testing.T) {
	for _, tt := range []struct{ got, want string }{
		{cm(123.4), "12.3"}, {cm(-0.2), "0.0"}, {cm(-123), "−12.3"}, {signed(cm, 5), "+0.5"}, {signed(cm, 0.1), "0.0"}, {signed(cm, -5), "−0.5"},
		{bare(3), "3"}, {bare(1.456), "1.46"}, {lowerFirst("The lady"), "the lady"}, {lowerFirst("DXF file"), "DXF file"}, {upperFirst("écru"), "Écru"},
		{sideText("front/side + -back/side.upper"), "front: side + back: side upper"},
	} {
		if tt.got != tt.want {
			t.Errorf("got %q, want %q", tt.got, tt.want)
		}
	}
}

func BenchmarkReport(b *testing.B) {
	r := run(b, "stock-dress", false)
	for b.Loop() {
		if err := HTML(io.Discard, r, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
