package draw

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	yamlfile "bygone.example/core/format/yaml"
	"bygone.example/core/geom"
	"bygone.example/core/label"
	"bygone.example/core/pattern"
	"github.com/google/go-cmp/cmp"
)

// wholeLabel is a label with everything on it that one can have.
func wholeLabel(t testing.TB, code string) *label.About {
	t.Helper()
	l, err := yamlfile.Language(code)
	if err != nil {
		t.Fatal(err)
	}
	return &label.About{
		Language: l, Cloth: "white muslin", Size: "92", Wearer: "the younger sister", Look: "Round gown", Date: "1806",
		Number: 2, Of: 9, Pages: []string{"A1", "A2", "B1"},
	}
}

// scaledPiece returns a piece made smaller or larger altogether.
func scaledPiece(p pattern.Piece, k float64) *pattern.Piece {
	p = p.Clone()
	m := scaling(k)
	for i := range p.Edges {
		p.Edges[i].Path = p.Edges[i].Path.Transform(m)
	}
	p.Grain = pattern.Grain{From: m.Apply(p.Grain.From), To: m.Apply(p.Grain.To)}
	for i := range p.Landmarks {
		p.Landmarks[i].At = m.Apply(p.Landmarks[i].At)
	}
	for i := range p.Darts {
		d := &p.Darts[i]
		d.From, d.To, d.Point = d.From*k, d.To*k, m.Apply(d.Point)
	}
	for i := range p.Pleats {
		p.Pleats[i].From, p.Pleats[i].To = p.Pleats[i].From*k, p.Pleats[i].To*k
	}
	for i := range p.Gathers {
		g := &p.Gathers[i]
		g.From, g.To, g.Length = g.From*k, g.To*k, g.Length*k
	}
	for i := range p.Notches {
		p.Notches[i].At *= k
	}
	return &p
}

// On pieces of the real size down to a doll's: a label overlaps nothing, stays
// on its piece or off it, loses no line, and is never too low to be read.
func TestLabelKeepsItsPlace(t *testing.T) {
	led := 0
	for _, p := range []*pattern.Pattern{frock(), altered(), stock(t, "stock-dress"), stock(t, "untested-blouse")} {
		for _, code := range yamlfile.Languages() {
			about := wholeLabel(t, code)
			for i := range p.Pieces {
				for _, k := range []float64{1, 0.5, 0.2, 0.08} {
					piece := scaledPiece(p.Pieces[i], k)
					a := drawPiece(piece, nil, detail{scale: 1, unit: labelUnit, cut: true, edges: true, title: true, about: about})
					where := fmt.Sprintf("%s %s × %g in %s", p.Name, piece.Name, k, code)
					checkPlaces(t, where, a)
					if len(a.lead) > 0 {
						led++
					}
					var said []string
					for _, it := range a.items {
						if it.word == nil {
							continue
						}
						said = append(said, it.word.text)
						if cap := it.word.size * capHeight; cap < label.LeastCap-1e-6 {
							t.Errorf("%s: %q is %.2f mm high", where, it.word.text, cap)
						}
					}
					all := " " + strings.Join(strings.Fields(strings.ReplaceAll(strings.Join(said, " "), "·", " ")), " ") + " "
					lines, _ := label.Of(piece, *about)
					for _, l := range lines {
						want := strings.Join(strings.Fields(strings.ReplaceAll(l.Text, "·", " ")), " ")
						if l.Rank != label.Reminder && !strings.Contains(all, " "+want+" ") {
							t.Errorf("%s: %q is not on the paper: %s", where, l.Text, all)
						}
					}
				}
			}
		}
	}
	if led == 0 {
		t.Error("no label needed a leader: small pieces were not tried")
	}
}

func checkPlaces(t *testing.T, where string, a *art) {
	t.Helper()
	for j, s := range a.room.words {
		for _, o := range a.room.words[:j] {
			if s.touches(o) {
				t.Errorf("%s: words %d overlap others", where, j)
			}
		}
		out, in := 0, 0
		for _, c := range s.corners() {
			if geom.Contains(a.room.outline, c) {
				in++
			} else {
				out++
			}
		}
		if in > 0 && out > 0 {
			t.Errorf("%s: words %d leave the piece", where, j)
		}
		for _, l := range a.room.lines {
			if s.crossed(l[0], l[1]) {
				t.Errorf("%s: words %d lie on a line", where, j)
				break
			}
		}
	}
}

func TestWrapped(t *testing.T) {
	b := block{{"seam allowance included: 1.0 cm to 2.0 cm, hem 4.0 cm · page B3", regular, 5, false}}
	for _, width := range []float64{200, 120, 80, 50, 1} {
		var words []string
		for _, l := range b.wrapped(width) {
			if strings.HasPrefix(l.text, "·") || strings.HasSuffix(l.text, "·") || l.text == "" {
				t.Errorf("at %g: a line reads %q", width, l.text)
			}
			if l.face.width(l.text, l.size) > width*1.1 && strings.Contains(l.text, " ") {
				t.Errorf("at %g: %q is too long", width, l.text)
			}
			words = append(words, strings.Fields(strings.ReplaceAll(l.text, "·", ""))...)
		}
		if d := cmp.Diff(strings.Fields(strings.ReplaceAll(b[0].text, "·", "")), words); d != "" {
			t.Errorf("at %g (-want +got):\n%s", width, d)
		}
	}
}

// Letters that no font has are told of; the same label twice is the same ink.
func TestLabelWarnsAndRepeats(t *testing.T) {
	about := wholeLabel(t, "fr")
	about.Wearer = "妹"
	draw := func() PieceArt { return Piece(frock().Piece("sleeve"), PieceOptions{Label: about}) }
	a := draw()
	if len(a.Warnings) != 1 || !strings.Contains(a.Warnings[0], "妹") {
		t.Errorf("warnings %q", a.Warnings)
	}
	if about.Has != nil {
		t.Error("the caller's label was changed")
	}
	if !bytes.Equal(svgOf(t, a.Drawing), svgOf(t, draw().Drawing)) {
		t.Error("the same label twice differs")
	}
}

// The language's words stand on the marks as well.
func TestMarksInTheLanguage(t *testing.T) {
	a := drawPiece(frock().Piece("sleeve"), nil, detail{scale: 1, unit: labelUnit, cut: true, edges: true, about: wholeLabel(t, "fr")})
	var all []string
	for _, it := range a.items {
		if it.word != nil {
			all = append(all, it.word.text)
		}
	}
	for _, want := range []string{"Manche", "froncer 26,0 cm à 15,0 cm", "soutenir 20,0 cm à 18,0 cm", "droit fil 29,0 cm", "tête de manche", "ourlet"} {
		if !strings.Contains("\n"+strings.Join(all, "\n")+"\n", "\n"+want+"\n") {
			t.Errorf("%q is not on the sleeve: %q", want, all)
		}
	}
}

func BenchmarkLabel(b *testing.B) {
	p, about := frock(), wholeLabel(b, "en")
	for b.Loop() {
		for i := range p.Pieces {
			drawPiece(&p.Pieces[i], nil, detail{scale: 1, unit: labelUnit, cut: true, edges: true, about: about})
		}
	}
}
