package draw

import (
	"math"
	"slices"
	"strconv"

	"bygone.example/core/geom"
	"bygone.example/core/label"
	"bygone.example/core/pattern"
)

// drawMarks draws what is marked on the piece, words apart.
func (a *art) drawMarks(m geom.Affine) {
	p := a.piece
	for i := range p.Darts {
		a.drawDart(&p.Darts[i], m)
	}
	for i := range p.Pleats {
		a.drawPleat(&p.Pleats[i], m)
	}
	for i := range p.Gathers {
		a.drawGather(&p.Gathers[i], m)
	}
	for i := range p.Notches {
		a.drawNotch(&p.Notches[i], m)
	}
	if p.Grain.Given() {
		a.drawGrain(m)
	}
	for i := range p.Edges {
		if p.Edges[i].Finish == pattern.Fold {
			a.drawFold(&p.Edges[i], m)
		}
	}
	for _, l := range p.Landmarks {
		if a.offPiece(m.Apply(l.At)) {
			continue
		}
		c, r := m.Apply(l.At), 0.7*a.u
		a.solid(thinInk.times(1.6*a.u), geom.Polyline(c.Add(geom.Pt(-r, 0)), c.Add(geom.Pt(r, 0))), geom.Polyline(c.Add(geom.Pt(0, -r)), c.Add(geom.Pt(0, r))))
	}
}

// offPiece reports whether a point lies clearly off the piece: a landmark
// there is nothing a maker could mark on the cloth.
func (a *art) offPiece(p geom.Point) bool { return a.room.clearance(p) < -0.5*a.u }

func (a *art) drawDart(d *pattern.Dart, m geom.Affine) {
	e := a.piece.Edge(d.Edge)
	if e == nil {
		return
	}
	tip := m.Apply(d.Point)
	a.solid(legInk.times(a.u), geom.Polyline(m.Apply(e.Path.At(d.From)), tip), geom.Polyline(m.Apply(e.Path.At(d.To)), tip))
	a.solid(fullSolid, circle(tip, 0.42*a.u))
}

// drawPleat draws a pleat's two lines running into the piece and an arrow the
// way it is laid.
func (a *art) drawPleat(p *pattern.Pleat, m geom.Affine) {
	e := a.piece.Edge(p.Edge)
	if e == nil {
		return
	}
	f, t := m.Apply(e.Path.At(p.From)), m.Apply(e.Path.At(p.To))
	in := e.Path.Direction((p.From + p.To) / 2).Left()
	deep := in.Mul(math.Min(9*a.u, 0.4*math.Min(a.room.box.Width(), a.room.box.Height())))
	a.solid(fullInk.times(a.u), geom.Polyline(f, f.Add(deep)), geom.Polyline(t, t.Add(deep)))
	lay := func(from, to geom.Point) {
		from, to = from.Add(deep.Mul(0.62)), to.Add(deep.Mul(0.38))
		a.solid(fullInk.times(0.7*a.u), geom.Polyline(from, to))
		a.solid(fullSolid, arrow(to, to.Sub(from), math.Min(1.5*a.u, from.Dist(to)/2)))
	}
	mid := f.Lerp(t, 0.5)
	switch {
	case p.Kind == pattern.Box:
		lay(mid, f)
		lay(mid, t)
	case p.Kind == pattern.Inverted:
		lay(f, mid)
		lay(t, mid)
	case p.Pressed == pattern.PressedToEnd:
		lay(f, t)
	default:
		lay(t, f)
	}
}

// gatherInset is how far inside the seam line the wave of a gathered stretch
// runs, in units.
const gatherInset = 1.5

// drawGather draws a wave along the stretch: full for gathers, flat and broken
// for ease.
func (a *art) drawGather(g *pattern.Gather, m geom.Affine) {
	e := a.piece.Edge(g.Edge)
	if e == nil || !(g.To > g.From) {
		return
	}
	if g.Kind == pattern.Cartridge {
		a.drawStitches(e, g, m)
		return
	}
	high, k := 0.62*a.u, fullInk.times(a.u)
	if g.Kind == pattern.Ease {
		high, k = 0.34*a.u, ink{stroke: madder, width: 0.3, dash: [4]float64{0.9, 0.6}}.times(a.u)
	}
	span := (g.To - g.From) * a.k
	waves := math.Max(2, math.Round(span/(2.1*a.u)))
	const steps = 8
	var pts []geom.Point
	n := int(waves) * steps
	part := e.Path.Between(g.From, g.To).Transform(m).Flatten(0.02)
	if len(part) < 2 {
		return
	}
	walk := walker{pts: part}
	for i := 0; i <= n; i++ {
		t := float64(i) / float64(n)
		q, dir := walk.at(t * span)
		off := gatherInset*a.u + high*math.Sin(2*math.Pi*waves*t)
		pts = append(pts, q.Add(dir.Left().Mul(off)))
	}
	a.solid(k, geom.Smooth(pts, geom.Point{}, geom.Point{}))
	for _, at := range [...]float64{g.From, g.To} {
		q, in := m.Apply(e.Path.At(at)), e.Path.Direction(at).Left()
		a.solid(fullInk.times(a.u), geom.Polyline(q, q.Add(in.Mul(2.6*a.u))))
	}
}

// Cartridge pleats are drawn as the rows they are stitched in, so many units apart
// whatever that is on the cloth, up to so many of them.
const (
	rowsApart = 0.8
	rowsDrawn = 5
)

var stitchInk = ink{stroke: madder, width: 0.3, dash: [4]float64{0.7, 0.7}}

// drawStitches draws the rows of stitches of cartridge pleats along the stretch.
func (a *art) drawStitches(e *pattern.Edge, g *pattern.Gather, m geom.Affine) {
	part := e.Path.Between(g.From, g.To).Transform(m)
	total := part.Length()
	n := max(4, int(total/(4*a.u)))
	for row := range min(g.Rows, rowsDrawn) {
		off := (gatherInset + rowsApart*float64(row-1)) * a.u
		var pts []geom.Point
		for i := range n + 1 {
			at := total * float64(i) / float64(n)
			pts = append(pts, part.At(at).Add(part.Direction(at).Left().Mul(off)))
		}
		a.solid(stitchInk.times(a.u), geom.Polyline(pts...))
	}
	for _, at := range [...]float64{g.From, g.To} {
		q, in := m.Apply(e.Path.At(at)), e.Path.Direction(at).Left()
		a.solid(fullInk.times(a.u), geom.Polyline(q, q.Add(in.Mul(2.6*a.u))))
	}
}

// walker walks a polyline by length, forwards only: near enough for a wave,
// and without measuring the curve anew for every point.
type walker struct {
	pts  []geom.Point
	i    int
	done float64 // length before pts[i]
}

func (w *walker) at(d float64) (p, dir geom.Point) {
	for w.i < len(w.pts)-2 {
		l := w.pts[w.i].Dist(w.pts[w.i+1])
		if w.done+l >= d {
			break
		}
		w.done += l
		w.i++
	}
	dir = w.pts[w.i+1].Sub(w.pts[w.i]).Unit()
	return w.pts[w.i].Add(dir.Mul(d - w.done)), dir
}

func (a *art) drawNotch(n *pattern.Notch, m geom.Affine) {
	e := a.piece.Edge(n.Edge)
	if e == nil {
		return
	}
	dir := e.Path.Direction(n.At)
	at := m.Apply(e.Path.At(n.At))
	count := max(n.Count, 1)
	for i := range count {
		q := at.Add(dir.Mul((float64(i) - float64(count-1)/2) * 0.95 * a.u))
		a.solid(markInk.times(1.15*a.u), geom.Polyline(q.Add(dir.Right().Mul(1.3*a.u)), q.Add(dir.Left().Mul(1.2*a.u))))
	}
}

// drawFold draws a bracket that leans on the fold, open in the middle for its
// word.
func (a *art) drawFold(e *pattern.Edge, m geom.Affine) {
	path := e.Path.Transform(m)
	l := path.Start().Dist(path.End())
	if l < 13*a.u {
		return // the broken line and the cut instruction say it; a bracket would crowd the piece
	}
	dir := path.End().Sub(path.Start()).Unit()
	in := dir.Left()
	inset := math.Min(2.7*a.u, 0.3*math.Min(a.room.box.Width(), a.room.box.Height()))
	from, to := path.Start().Add(dir.Mul(l*0.16)), path.Start().Add(dir.Mul(l*0.84))
	k := markInk.times(a.u)
	mid := from.Lerp(to, 0.5)
	b := block{{a.language().Say(label.FoldLine), italic, 2.3 * a.u, false}}
	s := b.slab(mid.Add(in.Mul(inset)), readable(dir))
	gap := s.w + 0.8*a.u
	if from.Dist(to) > 2*gap+6*a.u && a.room.free(s, 0.1*a.u) {
		a.put(b, s)
	} else {
		gap = 0
	}
	near, far := mid.Sub(dir.Mul(gap)), mid.Add(dir.Mul(gap))
	a.solid(k, geom.Polyline(near.Add(in.Mul(inset)), from.Add(in.Mul(inset)), from), geom.Polyline(far.Add(in.Mul(inset)), to.Add(in.Mul(inset)), to))
	size := math.Min(1.7*a.u, inset*0.7)
	a.solid(solidInk, arrow(from, in.Mul(-1), size), arrow(to, in.Mul(-1), size))
}

func (a *art) drawGrain(m geom.Affine) {
	from, to := m.Apply(a.piece.Grain.From), m.Apply(a.piece.Grain.To)
	size := math.Min(2.1*a.u, from.Dist(to)/4)
	u := to.Sub(from).Unit()
	a.solid(markInk.times(a.u), geom.Polyline(from.Add(u.Mul(size*0.7)), to.Sub(u.Mul(size*0.7))))
	a.solid(solidInk, arrow(to, to.Sub(from), size), arrow(from, from.Sub(to), size))
}

// flatOf is what a gathered stretch measures with the folds inside it laid.
func flatOf(p *pattern.Piece, g pattern.Gather) float64 {
	net := g.To - g.From
	for _, d := range p.Darts {
		if d.Edge == g.Edge && d.From >= g.From && d.To <= g.To {
			net -= d.To - d.From
		}
	}
	for _, d := range p.Pleats {
		if d.Edge == g.Edge && d.From >= g.From && d.To <= g.To {
			net -= d.To - d.From
		}
	}
	return net
}

// labelMarks puts words to gathers, pleats and landmarks; the first two are
// told under the piece if there is no room beside them.
func (a *art) labelMarks(m geom.Affine) {
	p, l := a.piece, a.language()
	for _, g := range p.Gathers {
		e := p.Edge(g.Edge)
		if e == nil {
			continue
		}
		text := label.GatherText(g, flatOf(p, g), l)
		if !a.beside(e, g.From, g.To, m, text, regular, a.letters(2.2), 3.4, false) {
			a.under = append(a.under, line{l.Say(label.Along, "what", text, "edge", l.Name(e.Name)), regular, a.letters(2.1) * a.u, a.about == nil})
		}
	}
	for _, g := range a.sameFolds() {
		if !a.beside(g.edge, g.from, g.to, m, g.text, regular, a.letters(2), 10.5, a.about == nil) {
			a.under = append(a.under, line{l.Say(label.Along, "what", g.text, "edge", l.Name(g.edge.Name)), regular, a.letters(2.1) * a.u, a.about == nil})
		}
	}
}

// folds are pleats of one kind and width along an edge.
type folds struct {
	edge     *pattern.Edge
	from, to float64 // of the first and the last
	text     string
	n        int
}

// sameFolds gathers the pleats that are told by the same words, so that they
// are told once.
func (a *art) sameFolds() []folds {
	l := a.language()
	var out []folds
	for _, g := range a.piece.Pleats {
		e := a.piece.Edge(g.Edge)
		if e == nil {
			continue
		}
		text := label.PleatText(g, l)
		i := slices.IndexFunc(out, func(f folds) bool { return f.edge == e && f.text == text })
		if i < 0 {
			out = append(out, folds{e, g.From, g.To, text, 1})
			continue
		}
		f := &out[i]
		f.from, f.to, f.n = math.Min(f.from, g.From), math.Max(f.to, g.To), f.n+1
	}
	for i, f := range out {
		if f.n > 1 {
			out[i].text = l.Say(label.Times, "n", strconv.Itoa(f.n), "what", f.text)
		}
	}
	return out
}

// beside writes along a stretch of an edge, inset units inside it or further,
// and reports whether there was room. A long label may overhang the stretch.
func (a *art) beside(e *pattern.Edge, from, to float64, m geom.Affine, text string, f face, size, inset float64, soft bool) bool {
	l := e.Path.Length()
	for _, shrink := range [...]float64{1, 0.85} {
		if shrink < 1 && a.about != nil {
			break // it is as low as can be read already
		}
		b := block{{text, f, size * shrink * a.u, soft}}
		_, h := b.size()
		for _, in := range [...]float64{0, 0.5, 1.2, 2, 3.2, 4.6} {
			for _, t := range [...]float64{0.5, 0.42, 0.58, 0.33, 0.67, 0.24, 0.76, 0.15, 0.85} {
				at := math.Max(0, math.Min(l, from+(to-from)*t))
				dir := e.Path.Direction(at)
				c := m.Apply(e.Path.At(at)).Add(dir.Left().Mul((inset+in)*a.u + h/2))
				for _, d := range [...]geom.Point{readable(dir), {X: 1}} {
					if s := b.slab(c, d); a.room.free(s, 0.3*a.u) {
						a.put(b, s)
						return true
					}
				}
			}
		}
	}
	return false
}

// labelEdges names edges and landmarks where there is room: nothing is lost if
// there is none.
func (a *art) labelEdges(m geom.Affine) {
	for _, l := range a.piece.Landmarks {
		b := block{{a.language().Name(l.Name), italic, a.letters(1.9) * a.u, a.about == nil}}
		w, h := b.size()
		at := m.Apply(l.At)
		if a.offPiece(at) {
			continue
		}
		for _, v := range [...]geom.Point{{X: 1}, {X: -1}, {Y: -1}, {Y: 1}, {X: 1, Y: 1}, {X: -1, Y: 1}, {X: 1, Y: -1}, {X: -1, Y: -1}} {
			c := at.Add(geom.Pt(v.X*(w/2+1.2*a.u), v.Y*(h/2+1.1*a.u)))
			if s := b.slab(c, geom.Pt(1, 0)); a.room.free(s, 0.2*a.u) {
				a.put(b, s)
				break
			}
		}
	}
	for i := range a.piece.Edges {
		e := &a.piece.Edges[i]
		if e.Finish == pattern.Fold {
			continue
		}
		b := block{{a.language().Name(e.Name), italic, a.letters(2) * a.u, a.about == nil}}
		w, h := b.size()
		l := e.Path.Length()
		if l*a.k < w*0.9 {
			continue
		}
		a.nameEdge(e, b, w, h, l, m)
	}
}

func (a *art) nameEdge(e *pattern.Edge, b block, w, h, l float64, m geom.Affine) {
	for _, inset := range [...]float64{0.75, 1.1, 1.6, 2.3, 3} {
		for _, t := range [...]float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8} {
			at := l * t
			half := math.Min(w/2/a.k, math.Min(at, l-at))
			// Words lie along the chord they cover, so that a curve bends away evenly.
			dir := m.Apply(e.Path.At(at + half)).Sub(m.Apply(e.Path.At(at - half))).Unit()
			if dir == (geom.Point{}) {
				continue
			}
			c := m.Apply(e.Path.At(at)).Add(dir.Left().Mul(inset*a.u + h/2))
			if s := b.slab(c, readable(dir)); a.room.free(s, 0.35*a.u) {
				a.put(b, s)
				return
			}
		}
	}
}
