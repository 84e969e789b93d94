package label

import (
	"strings"
	"testing"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
	"github.com/google/go-cmp/cmp"
)

func piece(title string, cut pattern.Cut, edges ...pattern.Edge) *pattern.Piece {
	return &pattern.Piece{Name: "bodice-front", Title: title, Cut: cut, Edges: edges}
}

func edge(finish pattern.Finish, allowance float64) pattern.Edge {
	return pattern.Edge{Name: "e", Finish: finish, Allowance: allowance}
}

func TestOf(t *testing.T) {
	full := piece("Bodice front", pattern.Cut{Count: 1}, edge(pattern.Fold, 0), edge(pattern.Sewn, 15), edge(pattern.Hemmed, 40))
	about := About{Cloth: "white muslin", Size: "92", Wearer: "the younger sister", Look: "Round gown", Date: "1806", Number: 2, Of: 9, Pages: []string{"B2", "B3"}}
	lines, warnings := Of(full, about)
	want := []Line{
		{"Bodice front", Name},
		{"cut 1 on the fold, in white muslin", Instruction},
		{"size 92 · for the younger sister", Fact},
		{"Round gown, 1806", Fact},
		{"piece 2 of 9 · pages B2 B3", Fact},
		{"seam allowance included: 1.5 cm, hem 4.0 cm", Fact},
		{"sew on the full line, cut on the broken one", Reminder},
	}
	if d := cmp.Diff(want, lines); d != "" || len(warnings) > 0 {
		t.Errorf("Of (-want +got):\n%s%v", d, warnings)
	}
	bare, _ := Of(piece("Sash", pattern.Cut{Count: 2}, edge(pattern.Sewn, 0)), About{})
	if d := cmp.Diff([]Line{{"Sash", Name}, {"cut 2", Instruction}, {"no seam allowance: add it when cutting", Fact}}, bare); d != "" {
		t.Errorf("Of, nothing known (-want +got):\n%s", d)
	}
}

func TestAllowance(t *testing.T) {
	for _, tt := range []struct {
		edges []pattern.Edge
		want  string
	}{
		{nil, "no seam allowance: add it when cutting"},
		{[]pattern.Edge{edge(pattern.Sewn, 15), edge(pattern.Fold, 0), edge(pattern.Bound, 0)}, "seam allowance included: 1.5 cm"},
		{[]pattern.Edge{edge(pattern.Sewn, 10), edge(pattern.Sewn, 20), edge(pattern.Faced, 10)}, "seam allowance included: 1.0 cm to 2.0 cm"},
		{[]pattern.Edge{edge(pattern.Sewn, 10), edge(pattern.Sewn, 0)}, "allowance where a broken line runs outside"},
		{[]pattern.Edge{edge(pattern.Hemmed, 30), edge(pattern.Fold, 0)}, "hem 3.0 cm"},
	} {
		if got, _ := Allowance(piece("", pattern.Cut{}, tt.edges...), nil); got != tt.want {
			t.Errorf("Allowance of %v = %q, want %q", tt.edges, got, tt.want)
		}
	}
}

func TestTitle(t *testing.T) {
	fr, err := (*Language)(nil).With(nil, map[string]string{"bodice-front": "devant de corsage"})
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		title string
		lang  *Language
		want  string
	}{
		{"Bodice front", nil, "Bodice front"},
		{"Bodice front", fr, "Devant de corsage"}, // says no more than its name
		{"Front, lined", fr, "Front, lined"},      // the shop's own words stay
		{"", nil, "Bodice front"}, {"", fr, "Devant de corsage"},
	} {
		if got := Title(piece(tt.title, pattern.Cut{}), tt.lang); got != tt.want {
			t.Errorf("Title of %q = %q, want %q", tt.title, got, tt.want)
		}
	}
}

func TestPrintable(t *testing.T) {
	// A font with the plain letters and a few with accents.
	has := func(r rune) bool { return r < 0x7f || strings.ContainsRune("éêüŁß·", r) }
	for _, tt := range []struct{ text, want, lost string }{
		{"Manche – été", "Manche été", "–"},
		{"tête", "tête", ""},
		{"te\u0302te", "tête", ""}, // the accent written by itself
		{"Tiến", "Tiên", "ế"},
		{"ạ", "a", "ạ"},
		{"3\u202fcm", "3 cm", ""},
		{"前身頃", "", "前身頃"},
		{"前 front", "front", "前"},
	} {
		got, lost := Printable(tt.text, has)
		if got != tt.want || string(lost) != tt.lost {
			t.Errorf("Printable(%q) = %q, lost %q; want %q, lost %q", tt.text, got, string(lost), tt.want, tt.lost)
		}
	}
}

// A title that the font has nothing of is not printed as empty boxes: the name
// in the file stands for it, and a warning says so.
func TestOtherScripts(t *testing.T) {
	has := func(r rune) bool { return r < 0x250 }
	lines, warnings := Of(piece("前身頃", pattern.Cut{Count: 1}), About{Has: has, Wearer: "妹"})
	if lines[0].Text != "Bodice front" || len(warnings) != 2 ||
		!strings.Contains(warnings[0], "前") || !strings.Contains(warnings[0], "its name in the file is printed instead") || !strings.Contains(warnings[1], "妹") {
		t.Errorf("lines %v, warnings %q", lines, warnings)
	}
}

func TestMarks(t *testing.T) {
	if got := GatherText(pattern.Gather{Length: 155}, 260, nil); got != "gather 26.0 cm to 15.5 cm" {
		t.Error(got)
	}
	if got := GatherText(pattern.Gather{Length: 155, Kind: pattern.Ease}, 180, nil); got != "ease 18.0 cm to 15.5 cm" {
		t.Error(got)
	}
	if got := GatherText(pattern.Gather{Length: 100, Kind: pattern.Cartridge, Stitch: 10, Rows: 3}, 800, nil); got != "80.0 cm in 40 cartridge pleats to 10.0 cm" {
		t.Error(got)
	}
	if got := PleatText(pattern.Pleat{From: 10, To: 40, Kind: pattern.Inverted}, nil); got != "inverted pleat 3.0 cm" {
		t.Error(got)
	}
	p := piece("", pattern.Cut{})
	if got := GrainText(p, nil); got != "" {
		t.Error(got)
	}
	p.Grain = pattern.Grain{From: geom.Pt(0, 0), To: geom.Pt(0, 205)}
	if got := GrainText(p, nil); got != "grain 20.5 cm" {
		t.Error(got)
	}
}

func TestWithRefuses(t *testing.T) {
	for word, text := range map[Word]string{"fodl": "x", FoldLine: "", Cut: "cut", Tuck: "tuck {width} {depth}", Seam: "seam {n} {"} {
		if _, err := (*Language)(nil).With(map[Word]string{word: text}, nil); err == nil {
			t.Errorf("With accepts %q for %s", text, word)
		}
	}
}
