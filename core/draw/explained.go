package draw

import (
	"image/color"
	"math"
	"reflect"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"bygone.example/core/differ"
	"bygone.example/core/finding"
	"bygone.example/core/geom"
	"bygone.example/core/pairing/example"
	"bygone.example/core/pattern"
)

// Explained draws what a code of the check means, side by side: a pattern with
// the fault, its place ringed, and the pattern mended. Under each the place is
// seen under a glass, at true size or larger, with the other side of the seam
// laid against it where that is how to look. f is what the check finds in the
// first.
func Explained(e example.Example, f finding.Finding) Drawing {
	const width, u, gap = 210.0, 1.0, 8.0
	const panel = (width - 2*pageMargin - gap) / 2
	d := Drawing{Width: width, Title: "Before and after: " + string(e.Code), Text: "Before: " + f.Text + ". After: mended."}
	names := concerned(e.Before, f.Place)
	if changed := Changed(e.Before, e.After); len(changed) <= few {
		for _, name := range changed {
			if !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	states := [...]*pattern.Pattern{e.Before, e.After}
	var cells [2][]cell
	var shown [2][]*pattern.Piece
	for i, p := range states {
		for _, q := range inOrder(p) {
			if slices.Contains(names, q.Name) {
				shown[i] = append(shown[i], q)
			}
		}
		cells[i] = cellsOf(shown[i])
	}
	n := math.Max(fit(cells[0], panel-8, 84, pieceGap, 2), fit(cells[1], panel-8, 84, pieceGap, 2))
	top := -pageMargin + 1
	tallest := 0.0
	var drawn [2]Drawing
	var high [2]float64
	for i := range states {
		arts := make([]*art, len(shown[i]))
		inParallel(len(arts), func(k int) {
			q := shown[i][k]
			arts[k] = drawPiece(q, nil, detail{scale: 1 / n, unit: u, cut: true, title: true, brief: true})
			if at := f.Place.At; at != nil && q.Name == f.Place.Piece {
				arts[k].ring(*at, scaling(1/n), [...]color.RGBA{madder, pale}[i])
			}
		})
		drawn[i] = Drawing{Width: panel}
		high[i] = drawn[i].arrange(arts, 0, 0, panel, pieceGap)
		tallest = math.Max(tallest, high[i])
	}
	y := top
	for i, caption := range [...]string{"before", "after"} {
		x := pageMargin + float64(i)*(panel+gap)
		d.write(word{caption, bold, 3.6, geom.Pt(x, y-3.6*capHeight), 0, black})
		d.stroke(ruleInk, geom.Polyline(geom.Pt(x, y-4.4), geom.Pt(x+panel, y-4.4)))
		d.place(drawn[i].items, geom.Pt(x, y-9-(tallest-high[i])/2))
	}
	y -= 9 + tallest + 5
	if f.Place.At != nil {
		y -= d.glasses(e, f, [2]float64{pageMargin + panel/2, pageMargin + panel + gap + panel/2}, y)
	}
	for _, text := range changedWords(e) {
		for _, line := range wrap(text, regular, 2.7, width-2*pageMargin) {
			d.write(word{line, regular, 2.7, geom.Pt(pageMargin, y-2.7), 0, black})
			y -= 2.7 * 1.35
		}
	}
	y -= 4
	d.scaleBar(geom.Pt(width-pageMargin-46, y-4.5), 1/n, 42, u)
	d.key(keyOf(slices.Concat(shown[0], shown[1]), true), pageMargin, y, width-2*pageMargin-56, u)
	y -= 14
	d.finish(-y)
	return d
}

// glasses draws the place under a glass below each of the two panels, and returns
// the height used: none where the two look alike.
func (d *Drawing) glasses(e example.Example, f finding.Finding, middles [2]float64, top float64) float64 {
	const r = 17.0
	k := closeness(f, e.Look, r)
	var seen [2]Drawing
	for i, p := range [...]*pattern.Pattern{e.Before, e.After} {
		about, layers := looked(p, f.Place, e.Look, k)
		seen[i].loupe(geom.Point{}, r, k, about, layers)
	}
	if reflect.DeepEqual(seen[0].items, seen[1].items) {
		return 0
	}
	if q := e.After.Piece(f.Place.Piece); q != nil && e.Look == example.Flat { // what is to be, in a quiet line under what is
		about, layers := looked(e.Before, f.Place, e.Look, k)
		seen[0] = Drawing{}
		seen[0].loupe(geom.Point{}, r, k, about, slices.Concat(underGlass(q, geom.Identity, pale, 0.4, k), layers))
	}
	label := times(k)
	if note := lookWords(e.Look); note != "" {
		label += ", " + note
	}
	for i, x := range middles {
		d.place(seen[i].items, geom.Pt(x, top-r))
		d.write(word{label, italic, 2.4, geom.Pt(x-italic.width(label, 2.4)/2, top-2*r-3.6), 0, grey})
	}
	return 2*r + 9
}

// mostWords is how many differences are told under a picture.
const mostWords = 3

// changedWords says what was changed to mend the pattern.
func changedWords(e example.Example) []string {
	c := differ.CompareAs(differ.Names{First: "the left drawing", Second: "the right"}, e.Before, e.After, 0)
	var list []string
	for _, d := range c.Differences {
		// What sews longer or shorter follows from the lines that have moved.
		if !d.Harmless && (d.What != differ.SeamLength || len(list) == 0) {
			list = append(list, upperFirst(d.Text)+".")
		}
	}
	if len(list) > mostWords {
		list = list[:mostWords]
	}
	return list
}

// upperFirst begins a sentence, unless with a name of the file's own.
func upperFirst(s string) string {
	if first, _, _ := strings.Cut(s, " "); strings.Contains(first, "/") {
		return s
	}
	c, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(c)) + s[n:]
}

// concerned names the pieces that a place is about: its own, and those of its
// seam.
func concerned(p *pattern.Pattern, at finding.Place) []string {
	var names []string
	if at.Piece != "" {
		names = append(names, at.Piece)
	}
	if s := p.Seam(at.Seam); s != nil {
		for _, ref := range slices.Concat(s.A, s.B) {
			if !slices.Contains(names, ref.Piece) {
				names = append(names, ref.Piece)
			}
		}
	}
	if len(names) == 0 { // about the pattern as a whole
		for _, q := range p.Pieces {
			names = append(names, q.Name)
		}
	}
	return names
}

// closeness is how many times true size a finding is looked at.
func closeness(f finding.Finding, l example.Look, r float64) float64 {
	if l == example.Folded {
		return 1
	}
	if f.Figures == nil || f.Figures.Unit != "mm" || math.Abs(f.Figures.Difference) > r {
		return 0.5
	}
	return math.Max(0.5, math.Min(4, magnify(math.Abs(f.Figures.Difference), r)))
}

func lookWords(l example.Look) string {
	switch l {
	case example.Closed:
		return "the seam closed"
	case example.Opened:
		return "opened out along the fold"
	case example.Folded:
		return "the dart folded shut"
	}
	return ""
}

// ring draws a ring about a place.
func (a *art) ring(at geom.Point, m geom.Affine, col color.RGBA) {
	c := m.Apply(at)
	a.stroke(ink{stroke: col, width: 0.5 * a.u}, circle(c, 3.2*a.u))
	a.cover(geom.BoxOf(c).Grow(3.6 * a.u))
}

// looked returns what is seen around a place of a pattern, and the middle of what
// is seen.
func looked(p *pattern.Pattern, at finding.Place, how example.Look, k float64) (about geom.Point, layers []layer) {
	about = *at.At
	piece := p.Piece(at.Piece)
	if piece == nil {
		return about, nil
	}
	switch how {
	case example.Folded:
		if d := dartAt(piece, at); d != nil {
			return folded(piece, d)
		}
	case example.Opened:
		if e := foldAt(piece, about); e != nil {
			layers = underGlass(piece, geom.Reflection(e.Path.Start(), e.Path.End()), black, 0.5, k)
		}
	case example.Closed:
		if other, m, ok := closed(p, at); ok {
			layers = underGlass(other, m, grey, 0.5, k)
		}
	}
	return about, append(layers, underGlass(piece, geom.Identity, black, 0.5, k)...)
}

// dartAt is the dart on the place's edge nearest to the place, or nil.
func dartAt(p *pattern.Piece, at finding.Place) *pattern.Dart {
	var found *pattern.Dart
	best := math.Inf(1)
	for i := range p.Darts {
		d := &p.Darts[i]
		e := p.Edge(d.Edge)
		if e == nil || at.Edge != "" && at.Edge != d.Edge {
			continue
		}
		if off := math.Min(d.Point.Dist(*at.At), e.Path.At(d.From).Dist(*at.At)); off < best {
			found, best = d, off
		}
	}
	return found
}

// folded is the edge with its dart shut: what lies beyond the dart is turned
// about its point until the legs meet.
func folded(p *pattern.Piece, d *pattern.Dart) (about geom.Point, layers []layer) {
	e := p.Edge(d.Edge)
	from, to := e.Path.At(d.From), e.Path.At(d.To)
	shut := geom.Rotation(d.Point, geom.Turn(to.Sub(d.Point), from.Sub(d.Point)))
	edges := layer{ink: ink{stroke: black, width: 0.5}, paths: []geom.Path{
		e.Path.Between(0, d.From), e.Path.Between(d.To, e.Path.Length()).Transform(shut),
	}}
	leg := layer{ink: ink{stroke: madder, width: 0.4, dash: [4]float64{1.5, 0.8}}, paths: []geom.Path{
		geom.Polyline(from, d.Point), geom.Polyline(to, d.Point).Transform(shut),
	}}
	return from, []layer{leg, edges}
}

// foldAt is the fold of the piece nearest to a place, or nil.
func foldAt(p *pattern.Piece, q geom.Point) *pattern.Edge {
	var found *pattern.Edge
	best := math.Inf(1)
	for i := range p.Edges {
		if e := &p.Edges[i]; e.Finish == pattern.Fold {
			if _, d := e.Path.Nearest(q); d < best {
				found, best = e, d
			}
		}
	}
	return found
}

// closed returns the piece on the other side of the place's seam, and the move
// that lays it against the place's piece there: point to point and line to line,
// turned over where both would lie on one side.
func closed(p *pattern.Pattern, at finding.Place) (other *pattern.Piece, m geom.Affine, ok bool) {
	s := p.Seam(at.Seam)
	if s == nil || len(s.B) == 0 {
		return nil, m, false
	}
	q := *at.At
	this, that := s.A, s.B
	if s.B.Has(at.Piece, at.Edge) || !s.A.Has(at.Piece, at.Edge) && slices.ContainsFunc(s.B, func(r pattern.EdgeRef) bool { return r.Piece == at.Piece }) {
		this, that = that, this
	}
	// Where on this side's walk the place lies, in sewn length.
	walked, best := 0.0, math.Inf(1)
	var here float64
	var ref pattern.EdgeRef
	for _, r := range this {
		e := p.Edge(r)
		if e == nil {
			return nil, m, false
		}
		piece := p.Piece(r.Piece)
		sewn := piece.SewnLength(r.Edge)
		if along, d := e.Path.Nearest(q); r.Piece == at.Piece && d < best {
			pos := piece.SewnPosition(r.Edge, along)
			if r.Backwards {
				pos = sewn - pos
			}
			best, here, ref = d, walked+pos, r
		}
		walked += sewn
	}
	if ref.Piece == "" {
		return nil, m, false
	}
	fromEnd := here > walked/2 // sides that differ in length are laid together at the nearer end
	if fromEnd {
		here -= walked
		here += p.RunLength(that)
	}
	for i, r := range that {
		piece := p.Piece(r.Piece)
		sewn := piece.SewnLength(r.Edge)
		if here > sewn && i < len(that)-1 {
			here -= sewn
			continue
		}
		here = math.Max(0, math.Min(here, sewn))
		pos := here
		if r.Backwards {
			pos = sewn - here
		}
		flat := piece.FlatPosition(r.Edge, pos)
		mine, its := p.Edge(ref), p.Edge(r)
		along, _ := mine.Path.Nearest(q)
		a, da := mine.Path.At(along), mine.Path.Direction(along)
		b, db := its.Path.At(flat), its.Path.Direction(flat)
		if ref.Backwards {
			da = da.Mul(-1)
		}
		if r.Backwards {
			db = db.Mul(-1)
		}
		m = geom.Onto(b, b.Add(db), a, a.Add(da))
		if ref.Backwards == r.Backwards { // both lie on one side of the walk
			m = geom.Reflection(a, a.Add(da)).After(m)
		}
		return piece, m, true
	}
	return nil, m, false
}
