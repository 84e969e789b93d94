package report_test

import (
	"bytes"
	"strings"
	"testing"

	"bygone.example/core/differ"
	"bygone.example/core/pairing/example"
	"bygone.example/core/report"
)

// Every code has its section, and every example its picture and what the check
// says of it.
func TestExplained(t *testing.T) {
	var list []report.Shown
	for _, e := range report.Codes() {
		s, ok := report.Show(e.Code)
		if !ok || (s.Found == nil) == (s.Unshown == "") {
			t.Errorf("Show(%s) = %+v, %v", e.Code, s, ok)
		}
		list = append(list, s)
	}
	if _, ok := report.Show("seam-lenth"); ok {
		t.Error("a code that is not ours is shown")
	}
	var b bytes.Buffer
	if err := report.Explained(&b, list); err != nil {
		t.Fatal(err)
	}
	page := b.String()
	if got, want := strings.Count(page, "<svg"), len(example.Codes()); got != want {
		t.Errorf("%d pictures, want %d", got, want)
	}
	for _, s := range list {
		if !strings.Contains(page, `<section id="`+string(s.Code)+`">`) {
			t.Errorf("no section for %s", s.Code)
		}
	}
	for _, bad := range []string{"<script", "<link", "src=", "http:"} {
		if i := strings.Index(strings.ReplaceAll(page, "http://www.w3.org/2000/svg", ""), bad); i >= 0 {
			t.Errorf("the page holds %q", bad)
		}
	}
}

// The page of a comparison has every difference, each that is drawn with its
// number; foreign text stays text.
func TestCompared(t *testing.T) {
	a, b := example.Garment(), example.Garment()
	b.Piece("front").Notches[0].At += 3
	b.Piece("sleeve").Title = "<b>Arm</b>"
	b.Piece("back").Grain.From.X++
	found := differ.Compare(a, b, 0)
	var out bytes.Buffer
	if err := report.Compared(&out, report.Comparison{First: "a.yaml", Second: "b<i>.yaml", A: a, B: b, Found: found}); err != nil {
		t.Fatal(err)
	}
	page := out.String()
	for _, want := range []string{"notch side of front/side lies 3 mm elsewhere", "b&lt;i&gt;.yaml", "&lt;b&gt;Arm", `<td class="n">1</td>`, "difference"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	out.Reset()
	if err := report.Compared(&out, report.Comparison{First: "a", Second: "a", A: a, B: a, Found: differ.Compare(a, a, 0)}); err != nil || !strings.Contains(out.String(), "make the same garment") {
		t.Errorf("equal patterns: %v\n%s", err, out.String())
	}
}
