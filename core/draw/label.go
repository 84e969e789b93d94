package draw

import (
	"math"
	"slices"
	"strings"

	"bygone.example/core/geom"
	"bygone.example/core/label"
)

// HasLetter reports whether the fonts that words are set in have a letter.
func HasLetter(r rune) bool { return regular.has(r) && bold.has(r) && italic.has(r) }

// labelUnit is the unit that a label's letters have their heights of
// core/label at: that of true-size paper. A smaller picture is held nearer.
const labelUnit = 2.0

// Letter sizes of a label, of the em, at labelUnit. Where the name in full
// height finds no room it is set as high as the rest, in bold.
const (
	labelText = label.TextCap / capHeight
	labelName = label.NameCap / capHeight
	// labelHead is a name that is picked up to be read.
	labelHead = labelText * 1.2
)

// labelAir, in units, is kept clear around a label.
const labelAir = 1.0

// drawLabel sets all that stands on the paper of the piece where there is most
// room for it, and beside the piece, with a leader, what finds none.
func (a *art) drawLabel() {
	about := *a.about
	if about.Has == nil {
		about.Has = HasLetter
	}
	lines, warnings := label.Of(a.piece, about)
	a.warnings = append(a.warnings, warnings...)
	k := a.u / labelUnit
	space := label.Space{Outline: a.room.outline, Walls: a.room.lines}
	for _, w := range a.room.words {
		space.Taken = append(space.Taken, label.Rect{Centre: w.centre, Along: w.along, W: w.w, H: w.h})
	}
	var grain geom.Point
	if a.piece.Grain.Given() {
		grain = a.piece.Grain.To.Sub(a.piece.Grain.From)
	}
	rooms := space.Rooms(label.Angles(a.room.outline, grain))
	try := func(lines []label.Line, name float64) bool {
		sets := arranged(lines, name*k, labelText*k)
		var blocks []label.Block
		for _, b := range sets {
			w, h := b.size()
			blocks = append(blocks, label.Block{W: w, H: h, Least: label.LeastShrink})
		}
		c, ok := rooms.Best(blocks, labelAir*a.u)
		if ok {
			a.put(sets[c.Block].times(c.Shrink), slab{c.At.Centre, c.At.Along, c.At.W, c.At.H})
		}
		return ok
	}
	if try(lines, labelName) {
		return
	}
	// The lines stand in the order in which they are wanted on the piece itself:
	// what is told beside it is gone when it is cut out.
	for n := len(lines); n > 0; n-- {
		if !try(lines[:n], labelHead) {
			continue
		}
		a.lead = linesOf(withoutReminder(lines[n:]), labelText*k, labelText*k*label.LeastShrink)
		return
	}
	a.lead = linesOf(withoutReminder(lines), labelHead*k, labelText*k*label.LeastShrink)
}

func withoutReminder(lines []label.Line) []label.Line {
	return slices.DeleteFunc(slices.Clone(lines), func(l label.Line) bool { return l.Rank == label.Reminder })
}

// linesOf sets each line of a label on a line of its own.
func linesOf(lines []label.Line, name, text float64) block {
	var b block
	for _, l := range lines {
		switch l.Rank {
		case label.Name:
			b = append(b, line{l.Text, bold, name, false})
		case label.Reminder:
			b = append(b, line{l.Text, italic, text, false})
		default:
			b = append(b, line{l.Text, regular, text, false})
		}
	}
	return b
}

// arranged returns ways to set a label, the best-looking first: a line each,
// then in ever narrower columns, then as one or two long lines for a band.
func arranged(lines []label.Line, name, text float64) []block {
	plain := linesOf(lines, name, text)
	sets := []block{plain}
	widest, _ := plain.size()
	for _, part := range [...]float64{0.7, 0.5, 0.36} {
		if b := plain.wrapped(widest * part); len(b) != len(sets[len(sets)-1]) {
			sets = append(sets, b)
		}
	}
	var words []string
	for _, l := range lines[1:] {
		words = append(words, l.Text)
	}
	if len(words) > 0 {
		body := strings.Join(words, " · ")
		strip := block{{lines[0].Text, bold, name, false}, {body, regular, text, false}}
		sets = append(sets, strip)
		if name < labelName/labelHead*text { // a name of the rest's height can share their line
			sets = append(sets, block{{lines[0].Text + " · " + body, bold, text, false}})
		}
	}
	return sets
}

// wrapped breaks lines at spaces so that none is wider than width if its words
// allow it, and its parts are as even as they can be.
func (b block) wrapped(width float64) block {
	var out block
	for _, l := range b {
		full := l.face.width(l.text, l.size)
		n := math.Ceil(full / width)
		if n <= 1 {
			out = append(out, l)
			continue
		}
		even := math.Max(full/n, width*0.8)
		var sofar string
		for _, w := range strings.Fields(l.text) {
			longer := w
			if sofar != "" {
				longer = sofar + " " + w
			}
			if sofar != "" && l.face.width(longer, l.size) > even*1.08 {
				out = append(out, line{strings.TrimSuffix(sofar, " ·"), l.face, l.size, l.soft})
				longer = w
			}
			if longer == "·" { // no line begins with what joins two parts
				longer = ""
			}
			sofar = longer
		}
		if sofar != "" {
			out = append(out, line{sofar, l.face, l.size, l.soft})
		}
	}
	return out
}

// drawLead sets below the piece what found no room in it, with a line that
// leads from the words to a dot on the piece.
func (a *art) drawLead() {
	if len(a.lead) == 0 {
		return
	}
	b := a.lead
	_, h := b.size()
	at := b.slab(geom.Pt(a.room.box.Centre().X, a.bounds.Min.Y-4*a.u-h/2), geom.Pt(1, 0))
	from := geom.Pt(at.centre.X, at.centre.Y+at.h+0.6*a.u)
	to, ok := a.foothold(from)
	if ok {
		a.layer = LayerLabels
		a.solid(ruleInk.times(a.u), geom.Polyline(from, to))
		a.solid(solidInk, circle(to, 0.5*a.u))
	}
	a.put(b, at)
}

// foothold returns the point on the piece nearest to one below it that a dot
// can stand on without touching anything, and a line from below can come to
// without crossing words; failing one nearby, the point of the seam line right
// above.
func (a *art) foothold(from geom.Point) (geom.Point, bool) {
	const side = 40
	box := a.room.box
	up, ok := geom.Point{}, false
	for i, p := range a.room.outline {
		q := a.room.outline[(i+1)%len(a.room.outline)]
		if (p.X > from.X) == (q.X > from.X) {
			continue
		}
		if y := p.Y + (q.Y-p.Y)*(from.X-p.X)/(q.X-p.X); !ok || y < up.Y {
			up, ok = geom.Pt(from.X, y), true
		}
	}
	near := math.Inf(1)
	if ok {
		near = up.Dist(from) + 6*a.u
	}
	best, found := up, ok
	for i := range side {
		for j := range side {
			p := box.Min.Add(geom.Pt((float64(i)+0.5)/side*box.Width(), (float64(j)+0.5)/side*box.Height()))
			if d := p.Dist(from); d < near && a.room.clearance(p) > 0.9*a.u &&
				!slices.ContainsFunc(a.room.words, func(w slab) bool { return w.grow(0.3*a.u).crossed(from, p) }) {
				best, near, found = p, d, true
			}
		}
	}
	return best, found
}

// labelGrain tells along the grainline what it is and how long, so that it can
// be laid by the selvedge and measured.
func (a *art) labelGrain(m geom.Affine) {
	text := label.GrainText(a.piece, a.language())
	from, to := m.Apply(a.piece.Grain.From), m.Apply(a.piece.Grain.To)
	dir := to.Sub(from).Unit()
	if text == "" || dir == (geom.Point{}) {
		return
	}
	for _, shrink := range [...]float64{1, 0.9, label.LeastShrink} {
		b := block{{text, italic, labelText * shrink * a.u / labelUnit, false}}
		w, h := b.size()
		if w > from.Dist(to)*0.9 {
			continue
		}
		for _, t := range [...]float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8} {
			for _, side := range [...]geom.Point{readable(dir).Left(), readable(dir).Right()} {
				c := from.Lerp(to, t).Add(side.Mul(h/2 + 0.8*a.u))
				if s := b.slab(c, readable(dir)); a.room.free(s, 0.25*a.u) {
					a.put(b, s)
					return
				}
			}
		}
	}
}

// letters returns the size of letters of a word beside a mark, usual units on a
// picture; on paper to cut from none is lower than can be read there.
func (a *art) letters(usual float64) float64 {
	if a.about == nil {
		return usual
	}
	return math.Max(usual, labelText*label.LeastShrink/labelUnit)
}

// language returns the language of the words on the piece.
func (a *art) language() *label.Language {
	if a.about == nil {
		return nil
	}
	return a.about.Language
}
