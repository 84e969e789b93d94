package draw

import (
	"cmp"
	"fmt"
	"image/color"
	"math"
	"slices"
	"strings"

	"bygone.example/core/differ"
	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// mostCallouts is how many differences a picture numbers: more would hide one
// another.
const mostCallouts = 12

// noted is a number and the differences it stands for: what lies at one place
// and has gone to one other is seen once.
type noted struct {
	differ.Difference // the first of them
	number            int
	indices           []int // in the comparison
	texts             []string
	at                geom.Point
	known             bool    // at is a place on a piece
	like              []noted // further ones of its kind, at other places: see gatherMarks
}

// callouts are the places on a piece that a number points to.
func (n noted) callouts(piece string) (list []callout) {
	if n.Piece == piece && n.known {
		list = append(list, callout{n.number, n.at, n.To})
	}
	for _, o := range n.like {
		if o.Piece == piece && o.known {
			list = append(list, callout{n.number, o.at, o.To})
		}
	}
	return list
}

// on reports whether any of what the number stands for is of a piece.
func (n noted) on(piece string) bool {
	return n.Piece == piece || slices.ContainsFunc(n.like, func(o noted) bool { return o.Piece == piece })
}

// onePlace in mm: places nearer than this are one to look at.
const onePlace = 0.5

// joins reports whether two differences are seen at one place.
func (n noted) joins(o noted) bool {
	if n.Piece != o.Piece || !n.known || !o.known || (n.To == nil) != (o.To == nil) || !n.at.Near(o.at, onePlace) {
		return false
	}
	return n.To == nil || n.To.Near(*o.To, onePlace)
}

// Compared draws the pieces that differ between two patterns, the second laid
// over the first: the first in a quiet line, the second in a strong one, with a
// number at every difference and the place under a magnifying glass beside it.
// The largest come first where there are too many to show.
func Compared(a, b *pattern.Pattern, c *differ.Comparison) Drawing {
	const width, u = 210.0, 1.15
	d := Drawing{Width: width, Title: "How the patterns differ"}
	notes, more := noteDifferences(c)
	if len(notes) == 0 {
		d.Text = "The patterns do not differ."
		d.write(word{fmt.Sprintf("Nothing differs by more than %g mm.", c.Tolerance), italic, 3.2, geom.Pt(pageMargin, -12), 0, grey})
		d.finish(20)
		return d
	}
	var said []string
	for _, n := range notes {
		said = append(said, fmt.Sprintf("%d: %s", n.number, strings.Join(n.texts, "; ")))
	}
	d.Text = strings.Join(said, "; ") + "."

	var cells []cell
	var jobs []func(k float64) *art
	var drawn []*pattern.Piece
	add := func(now, old *pattern.Piece, under string, calls []callout) {
		box := now.Boundary().Bounds()
		if old != nil {
			box = box.Union(old.Boundary().Bounds())
		}
		cells = append(cells, cell{w: box.Width(), h: box.Height(), class: classOf(now)})
		drawn = append(drawn, now)
		jobs = append(jobs, func(k float64) *art {
			art := drawPiece(now, old, detail{scale: k, unit: u, title: true, brief: true})
			if under != "" {
				art.under = []line{{under, italic, 2.4 * u, false}}
				art.tellUnder()
			}
			art.call(calls, scaling(k))
			return art
		})
	}
	of := func(piece string) (list []callout, differs bool) {
		for _, n := range notes {
			list = append(list, n.callouts(piece)...)
			differs = differs || n.on(piece)
		}
		return list, differs
	}
	for _, p := range inOrder(a) {
		list, differs := of(p.Name)
		if !differs {
			continue
		}
		if pair := c.PairOf(p.Name); pair != nil {
			now := outlined(b.Piece(pair.B))
			if pair.Lay.A*pair.Lay.E-pair.Lay.B*pair.Lay.D < 0 || now == nil {
				add(p, nil, "its mirror image in "+c.Names.Second, list)
			} else {
				add(moved(now, pair.Lay), p, "", list)
			}
			continue
		}
		add(p, nil, "in "+c.Names.First+" only", list)
	}
	for _, p := range inOrder(b) {
		if slices.ContainsFunc(notes, func(n noted) bool { return n.What == differ.PieceNew && n.Piece == p.Name }) {
			add(p, nil, "in "+c.Names.Second+" only", nil)
		}
	}
	y := -pageMargin
	n := 1.0
	if len(jobs) > 0 {
		height := float64(stepHeight)
		if len(cells) > few {
			height = tallStepHeight
		}
		n = fit(cells, width-2*pageMargin, height, pieceGap*u, 3+4*badgeRadius*u)
		arts := make([]*art, len(jobs))
		inParallel(len(jobs), func(i int) { arts[i] = jobs[i](1 / n) })
		y -= d.arrange(arts, pageMargin, y, width-2*pageMargin, pieceGap*u)
		y -= 5 * u
		entries := []entry{{sample(seamInk), c.Names.Second}, {sample(beforeInk), c.Names.First}}
		h := d.key(entries, pageMargin, y, width-2*pageMargin-58*u, u)
		d.scaleBar(geom.Pt(width-pageMargin-50*u, y-4.5*u), 1/n, 46*u, u)
		y -= math.Max(h, 9.5*u) + 3
	}
	y -= d.noteList(notes, a, b, c, pageMargin, y, width-2*pageMargin, 1/n, u)
	if more > 0 {
		d.write(word{fmt.Sprintf("and %d more, told in words only", more), italic, 2.6 * u, geom.Pt(pageMargin, y-4*u), 0, grey})
		y -= 7 * u
	}
	d.finish(-y + 3)
	return d
}

// noteDifferences numbers what is shown, in the order of the comparison: all, or
// what matters most.
func noteDifferences(c *differ.Comparison) (notes []noted, more int) {
	for i, d := range c.Differences {
		if d.Harmless {
			continue
		}
		n := noted{Difference: d, indices: []int{i}, texts: []string{d.Text}}
		switch {
		case d.At != nil:
			n.at, n.known = *d.At, true
		case d.To != nil:
			n.at, n.known, n.To = *d.To, true, nil
		}
		if k := slices.IndexFunc(notes, n.joins); k >= 0 {
			notes[k].indices = append(notes[k].indices, i)
			notes[k].texts = append(notes[k].texts, d.Text)
			notes[k].MM = math.Max(notes[k].MM, d.MM)
			continue
		}
		notes = append(notes, n)
	}
	if len(notes) > mostCallouts {
		notes = gatherMarks(gatherMarks(notes, differ.MarkNew), differ.MarkGone)
		slices.SortStableFunc(notes, func(m, n noted) int { return cmp.Compare(weight(n), weight(m)) })
	}
	for len(notes) > mostCallouts {
		last := len(notes) - 1
		more += len(notes[last].indices)
		notes = notes[:last]
	}
	for i := range notes {
		notes[i].number = i + 1
	}
	return notes, more
}

// gatherMarks makes one of all marks that are new, or gone, so that they do not
// take the numbers of what has moved.
func gatherMarks(notes []noted, what differ.What) (list []noted) {
	at := -1
	for _, n := range notes {
		switch {
		case n.What != what:
			list = append(list, n)
		case at < 0:
			at = len(list)
			list = append(list, n)
		default:
			to := &list[at]
			to.like = append(to.like, n)
			to.indices = append(to.indices, n.indices...)
		}
	}
	if at >= 0 && len(list[at].like) > 0 {
		list[at].texts = []string{fmt.Sprintf("%d marks are %s", len(list[at].indices), map[differ.What]string{differ.MarkNew: "new", differ.MarkGone: "gone"}[what])}
	}
	return list
}

// weight says how much a difference matters to who looks at a picture, in mm:
// one without a measure counts as much as a line that has moved so far.
func weight(n noted) float64 {
	switch n.What {
	case differ.MarkNew, differ.MarkGone:
		if len(n.like) > 0 {
			return 1 // they are many, and seldom what somebody looks for
		}
	case differ.PieceGone, differ.PieceNew, differ.PieceTurned, differ.PieceRenamed:
		return 1e6
	case differ.EdgeGone, differ.EdgeNew:
		return 100
	case differ.SeamLength, differ.EdgeAllowance:
		return n.MM / 10 // it shows on no piece, or follows from what does
	}
	if n.MM == 0 {
		return 10
	}
	return n.MM
}

// Numbered returns the number that Compared puts to each difference of a
// comparison, in its order; 0 where it shows none.
func Numbered(c *differ.Comparison) []int {
	notes, _ := noteDifferences(c)
	numbers := make([]int, len(c.Differences))
	for _, n := range notes {
		for _, i := range n.indices {
			numbers[i] = n.number
		}
	}
	return numbers
}

// noteList sets the numbered differences in two columns, each with its place
// under a glass where it is too small to be seen at the picture's scale, and
// returns the height used.
func (d *Drawing) noteList(notes []noted, a, b *pattern.Pattern, c *differ.Comparison, left, top, width, scale, u float64) float64 {
	const columns = 2
	r := 11.5 * u
	gap := 7.0 * u
	column := (width - gap) / columns
	size := 2.7 * u
	y := top
	for i := 0; i < len(notes); i += columns {
		tall := 0.0
		for j, n := range notes[i:min(i+columns, len(notes))] {
			x := left + float64(j)*(column+gap)
			h := 0.0
			textLeft := x + 2*badgeRadius*u + 3*u
			k := magnify(math.Max(n.MM, 0.5), r)
			layers, ok := glass(n, a, b, c, k)
			if ok && n.MM > 0 && n.MM*scale < seenBare*u {
				about := n.at
				if n.To != nil {
					about = n.at.Lerp(*n.To, 0.5)
				}
				centre := geom.Pt(textLeft+r, y-r)
				d.loupe(centre, r, k, about, layers)
				if n.To != nil && n.MM > 0 {
					m := geom.Translation(centre).After(scaling(k)).After(geom.Translation(about.Mul(-1)))
					from, to := m.Apply(n.at), m.Apply(*n.To)
					if l := from.Dist(to); l > 1 {
						v := to.Sub(from).Unit()
						d.stroke(ink{stroke: madder, width: 0.4}, geom.Polyline(from, to.Sub(v.Mul(math.Min(1.4, l/2)))))
						d.stroke(fullSolid, arrow(to, v, math.Min(2.2, l)))
					}
				}
				label := times(k)
				d.write(word{label, italic, 2.1 * u, geom.Pt(centre.X-italic.width(label, 2.1*u)/2, y-2*r-3*u), 0, grey})
				textLeft = centre.X + r + 3*u
				h = 2*r + 5.5*u
			}
			d.items = append(d.items, badge(geom.Pt(x+badgeRadius*u, y-badgeRadius*u-0.3*u), n.number, u)...)
			var lines []string
			for _, t := range n.texts {
				lines = append(lines, wrap(t, regular, size, x+column-textLeft)...)
			}
			for j, text := range lines {
				d.write(word{text, regular, size, geom.Pt(textLeft, y-size*0.95-float64(j)*size*1.32-0.6*u), 0, black})
			}
			h = math.Max(h, float64(len(lines))*size*1.32+3*u)
			tall = math.Max(tall, h)
		}
		y -= tall + 2*u
	}
	return top - y
}

// seenBare in units is how far on paper a line must have moved to be seen without
// a glass.
const seenBare = 2.5

// glass returns what is to be seen around a difference at k times true size; ok
// is false of one that has no place.
func glass(n noted, a, b *pattern.Pattern, c *differ.Comparison, k float64) (layers []layer, ok bool) {
	pair := c.PairOf(n.Piece)
	if !n.known || pair == nil {
		return nil, false
	}
	layers = append(layers, underGlass(a.Piece(pair.A), geom.Identity, pale, 0.55, k)...)
	return append(layers, underGlass(b.Piece(pair.B), pair.Lay, black, 0.5, k)...), true
}

// underGlass are a piece's edges, darts and notches in one colour, laid by m;
// notches are of one size on paper whatever the scale k.
func underGlass(p *pattern.Piece, m geom.Affine, col color.RGBA, width, k float64) []layer {
	full := layer{ink: ink{stroke: col, width: width}}
	broken := layer{ink: ink{stroke: col, width: width * 0.8, dash: [4]float64{1.5, 0.8}}}
	for _, e := range p.Edges {
		full.paths = append(full.paths, e.Path.Transform(m))
	}
	for _, n := range p.Notches {
		if e := p.Edge(n.Edge); e != nil {
			at, dir := e.Path.At(n.At), e.Path.Direction(n.At)
			for i := range max(n.Count, 1) {
				q := at.Add(dir.Mul((float64(i) - float64(n.Count-1)/2) * 1.2 / k))
				full.paths = append(full.paths, geom.Polyline(q.Add(dir.Right().Mul(2/k)), q.Add(dir.Left().Mul(2/k))).Transform(m))
			}
		}
	}
	for _, d := range p.Darts {
		if e := p.Edge(d.Edge); e != nil {
			broken.paths = append(broken.paths, geom.Polyline(e.Path.At(d.From), d.Point, e.Path.At(d.To)).Transform(m))
		}
	}
	for _, l := range p.Landmarks {
		x, y := geom.Pt(1.2/k, 0), geom.Pt(0, 1.2/k)
		full.paths = append(full.paths, geom.Polyline(l.At.Sub(x), l.At.Add(x)).Transform(m), geom.Polyline(l.At.Sub(y), l.At.Add(y)).Transform(m))
	}
	if p.Grain.Given() {
		full.paths = append(full.paths, geom.Polyline(p.Grain.From, p.Grain.To).Transform(m))
	}
	return []layer{full, broken}
}
