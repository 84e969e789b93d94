package paper

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"bygone.example/core/draw"
	"bygone.example/core/geom"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
)

// afterPrinting is what to look at before anything is cut.
func (s *Sheet) afterPrinting() []string {
	out := []string{
		"Print at 100 %, not fitted to the page. Measure both squares: every side to the millimetre.",
	}
	if s.coverPage() {
		return append(out,
			"A side that is off: set the printer to actual size and print again. Do not cut.",
			"Then print the rest. The small rulers on each page must measure 5 cm and 2 in too.")
	}
	return append(out, "A side that is off: the sheet was scaled on its way. Have it plotted again at actual size.")
}

// joining tells how the pages are put together.
func (s *Sheet) joining() []string {
	var out []string
	if s.Overlap == 0 {
		out = []string{
			"Cut each page along the line at its left and its upper edge, where there is one.",
			"Lay it on the margin of its neighbour, up to the dotted line, and tape it. Two half diamonds make a whole; the letters beside each half name the page that belongs there.",
		}
	} else {
		out = []string{
			"Cut each page along the line at its left and its upper edge, where there is one.",
			"Lay it on the grey strip of its neighbour, up to the dotted line. Two half diamonds make a whole; the letters beside each half name the page that belongs there.",
			"Glue a row first, left to right, then row under row.",
		}
	}
	if len(s.hollow()) > 0 {
		out = append(out, "Fields with a broken frame have nothing on them and are not printed. Any blank sheet fills the hole.")
	}
	return out
}

// notes are the lists of the first sheet.
func (s *Sheet) notes() []list {
	var pieces []string
	for i, l := range s.Pieces {
		text := fmt.Sprintf("%d  %s: %s", i+1, l.art.Title, draw.CutInstruction(l.Piece))
		if len(l.pages) > 0 && !s.Size.Roll() {
			text += " (" + pageNames(l.pages) + ")"
		}
		pieces = append(pieces, text)
	}
	return []list{
		{head: "The pieces, and the pages they are on", items: pieces, tick: true},
		{head: "Seams to walk on paper first", items: seamsToWalk(s.pattern), tick: true},
		{head: "Mind", items: cautions(s.pattern)},
		{head: "Before cutting good cloth", items: mockUp(s.pattern), tick: true},
	}
}

// seamsToWalk lists the seams whose two sides are not simply of one length, as
// these go wrong first, and sums up the others.
func seamsToWalk(p *pattern.Pattern) []string {
	var out []string
	even, longest := 0, pairing.SeamWalk{}
	for _, w := range pairing.Walk(p) {
		if w.Kind == pattern.Basted {
			continue
		}
		switch name := capital(plain(w.Seam)); w.Meeting.Kind {
		case pattern.Eased:
			out = append(out, fmt.Sprintf("%s: %s eased to %s", name, cm(max(w.A.Sewn, w.B.Sewn)), cm(min(w.A.Sewn, w.B.Sewn))))
		case pattern.Gathered, pattern.Pleated:
			out = append(out, fmt.Sprintf("%s: %s %s to %s", name, cm(max(w.A.Cut, w.B.Cut)), w.Meeting.Kind, cm(max(w.A.Sewn, w.B.Sewn))))
		default:
			even++
			if w.A.Sewn > longest.A.Sewn {
				longest = w
			}
		}
	}
	if even > 0 {
		out = append(out, fmt.Sprintf("The other %s, sides alike; the longest: %s, %s", strings.TrimPrefix(count(even, "seam", "seams"), "1 "), plain(longest.Seam), cm(longest.A.Sewn)))
	}
	return out
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:] // names of the file are plain letters
}

// plain turns a name of the file into words.
func plain(name string) string {
	return strings.NewReplacer("-", " ", ".", " ", "_", " ").Replace(name)
}

// mockUp tells what to try in cheap cloth, by what the pattern has (common
// practice).
func mockUp(p *pattern.Pattern) []string {
	has := func(roles ...pattern.Role) bool {
		return slices.ContainsFunc(roles, func(r pattern.Role) bool { return len(p.ByRole(r)) > 0 })
	}
	bodice := has(pattern.BodiceFront, pattern.BodiceBack)
	out := []string{"Sew the body and one sleeve from old sheeting, without finishing, and put it on over what is worn below."}
	if bodice {
		out = append(out, "The waist seam lies level and where the look wants it, with arms up and down.",
			"The neckline neither gapes nor cuts in; the shoulder seam runs from neck to shoulder point.")
	}
	if has(pattern.Sleeve, pattern.SleeveTop, pattern.Undersleeve) {
		out = append(out, "Reach forward and up: the sleeve lets the arm go, and hangs without a twist.")
	}
	if has(pattern.SkirtFront, pattern.SkirtBack) {
		out = append(out, "Sit, climb a stair, and have the hem levelled from the floor in the shoes worn with it.")
	}
	return append(out, "Mark the changes on the paper; walk those seams again.")
}

// clothWidth is the width of most dress cloth, mm (common practice: 140 to 150 cm).
const clothWidth = 1400

// cloth tells what the pieces cover at least: nobody buys less.
func cloth(p *pattern.Pattern) string {
	area := 0.0
	for i := range p.Pieces {
		piece := &p.Pieces[i]
		outline := outlineOf(piece)
		if len(outline) < 3 {
			continue
		}
		one := polygonArea(outline)
		if piece.OnFold() {
			one *= 2
		}
		area += one * float64(max(piece.Cut.Count, 1))
	}
	return fmt.Sprintf("All pieces together cover %.2f m²: of cloth 140 cm wide no less than %.1f m. Gaps, naps and checks want more: lay the paper out and measure before you buy.",
		area/1e6, math.Ceil(area/clothWidth/100)/10)
}

// cautions are those that every pattern carries: the program does not know the
// cloth, the wearer or the place.
func cautions(p *pattern.Pattern) []string {
	out := []string{
		"This paper knows neither your cloth nor the wearer nor the place. For children, open flame, or a stage, follow the rules there and ask who is answerable.",
		"Thin cotton burns fast: keep it off candles and heaters.",
	}
	if len(p.ByRole(pattern.SkirtFront))+len(p.ByRole(pattern.SkirtBack)) > 0 {
		out = append(out, "Long hems: lift them on stairs, and keep off escalators.")
	}
	return append(out, "Count the pins before and after.")
}

// polygonArea returns the area that a polygon without a repeated point covers.
func polygonArea(pts []geom.Point) float64 {
	if len(pts) < 3 {
		return 0
	}
	return math.Abs(geom.Polyline(append(slices.Clone(pts), pts[0])...).Area())
}
