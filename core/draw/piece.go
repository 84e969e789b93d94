package draw

import (
	"math"
	"strings"

	"bygone.example/core/cutline"
	"bygone.example/core/geom"
	"bygone.example/core/label"
	"bygone.example/core/pattern"
)

// detail is how much a picture tells about each piece.
type detail struct {
	scale float64 // mm of paper to one of cloth
	unit  float64 // size of marks and words, 1 for a page at reading distance
	cut   bool    // the cut line
	edges bool    // the names of edges and landmarks
	title bool    // the pieces' names and cut instructions
	brief bool    // names alone, and no figures
	paper bool    // to cut from: the cut line leads, and lines are fine
	// about, when given, is all that is to stand on the piece; without it the name
	// and cut instruction do.
	about *label.About
}

// art is one piece drawn in its own plane, in mm of paper.
type art struct {
	piece  *pattern.Piece
	items  []item
	bounds geom.Box
	room   room
	layer  Layer   // what is drawn next belongs to
	u      float64 // unit
	k      float64 // scale
	under  []line  // what found no room inside and is told below

	about    *label.About
	lead     block // of the label, what found no room inside
	warnings []string
}

// drawPiece draws a piece. before, when given, is drawn under it in the quiet
// ink.
func drawPiece(p, before *pattern.Piece, d detail) *art {
	a := &art{piece: p, u: d.unit, k: d.scale, bounds: geom.EmptyBox, about: d.about}
	m := scaling(d.scale)
	seam := p.Boundary().Transform(m)
	a.room.outline = seam.Flatten(0.06)
	a.room.box = seam.Bounds()
	a.cover(a.room.box)

	a.layer = LayerCloth
	a.stroke(clothInk, seam)
	if before != nil {
		a.layer = LayerBefore
		a.drawBefore(before, m)
	}
	if d.cut {
		a.layer = LayerCut
		a.drawCut(m, d.paper)
	}
	a.layer = LayerSeam
	// The fold first, on a blank line so that nothing shows in its gaps; the seam
	// lines then cover its ends.
	for _, folds := range [...]bool{true, false} {
		for i := range p.Edges {
			e := &p.Edges[i]
			if folds != (e.Finish == pattern.Fold) {
				continue
			}
			path := e.Path.Transform(m)
			a.room.wall(path)
			if folds {
				a.stroke(ink{stroke: white, width: 0.7 * a.u}, path)
				a.stroke(foldInk.times(a.u), path)
			} else {
				a.stroke(a.seamInk(e, d).times(a.u), path)
			}
		}
	}
	a.layer = LayerMarks
	a.drawMarks(m)
	if d.about != nil {
		// What can stand in few places before what can stand in many.
		a.labelMarks(m)
		a.labelGrain(m)
		a.drawLabel()
	} else {
		if d.title {
			a.drawTitle(d.brief)
		}
		if !d.brief {
			a.labelMarks(m)
		}
	}
	if d.edges {
		a.labelEdges(m)
	}
	a.drawLead()
	a.tellUnder()
	return a
}

func (a *art) stroke(k ink, paths ...geom.Path) {
	a.items = append(a.items, item{layer: a.layer, ink: k, paths: paths})
}

// solid adds a stroke or fill that words must keep clear of.
func (a *art) solid(k ink, paths ...geom.Path) {
	a.stroke(k, paths...)
	for _, p := range paths {
		a.room.wall(p)
		a.cover(p.Bounds())
	}
}

func (a *art) cover(b geom.Box) { a.bounds = a.bounds.Union(b) }

// put places a block of words and takes up its room.
func (a *art) put(b block, s slab) {
	for _, w := range b.set(s) {
		a.items = append(a.items, item{layer: LayerLabels, word: &w})
	}
	a.room.words = append(a.room.words, s)
	a.cover(s.bounds())
}

func (a *art) drawBefore(before *pattern.Piece, m geom.Affine) {
	old := before.Boundary().Transform(m)
	a.solid(beforeInk.times(a.u), old)
	for _, n := range before.Notches {
		if e := before.Edge(n.Edge); e != nil {
			at, dir := m.Apply(e.Path.At(n.At)), e.Path.Direction(n.At)
			a.stroke(beforeInk.times(a.u), geom.Polyline(at.Add(dir.Right().Mul(1.3*a.u)), at.Add(dir.Left().Mul(1.2*a.u))))
		}
	}
	for _, dart := range before.Darts {
		if e := before.Edge(dart.Edge); e != nil {
			a.solid(oldLegInk.times(a.u), geom.Polyline(e.Path.At(dart.From), dart.Point, e.Path.At(dart.To)).Transform(m))
		}
	}
}

// seamInk is the ink of an edge's seam line. On paper to cut from, an edge with
// allowance is not cut there.
func (a *art) seamInk(e *pattern.Edge, d detail) ink {
	switch {
	case !d.paper:
		return seamInk
	case e.Allowance > 0:
		return paperSeamInk
	}
	return paperCutInk
}

func (a *art) drawCut(m geom.Affine, paper bool) {
	path := cutline.Of(a.piece).Path.Transform(m)
	if len(path) == 0 {
		return
	}
	k := cutInk
	if paper {
		k = paperCutInk
	}
	a.stroke(k.times(a.u), path)
	a.cover(path.Bounds())
}

// CutInstruction tells how many of a piece to cut, in trade words.
func CutInstruction(p *pattern.Piece) string { return label.CutInstruction(p, nil) }

// titleOf returns what the paper calls the piece.
func titleOf(p *pattern.Piece) string {
	if p.Title != "" {
		return clip(p.Title, longestTitle)
	}
	return clip(plain(p.Name), longestTitle)
}

// longestTitle is how many letters of a name a picture has room for.
const longestTitle = 44

// clip shortens words to n runes, the last of them an ellipsis.
func clip(s string, n int) string {
	if r := []rune(s); len(r) > n {
		return strings.TrimRight(string(r[:n-1]), " ") + "…"
	}
	return s
}

// plain turns a name of the file into words.
func plain(name string) string {
	return strings.NewReplacer("-", " ", ".", " ", "_", " ").Replace(name)
}

const nameSize, instructionSize = 3.5, 2.5

// nameBlocks returns ways to set a piece's name, the best-looking first.
func nameBlocks(p *pattern.Piece, u float64) []block {
	name := titleOf(p)
	head := func(s string) line { return line{text: s, face: bold, size: nameSize * u} }
	blocks := []block{{head(name)}}
	if words := strings.Fields(name); len(words) > 1 {
		// Break the name where its halves are most alike.
		best, at := math.Inf(1), 1
		for i := 1; i < len(words); i++ {
			l, r := strings.Join(words[:i], " "), strings.Join(words[i:], " ")
			if d := math.Abs(bold.width(l, 1) - bold.width(r, 1)); d < best {
				best, at = d, i
			}
		}
		blocks = append(blocks, block{head(strings.Join(words[:at], " ")), head(strings.Join(words[at:], " "))})
	}
	return blocks
}

// titleBlocks returns ways to set a piece's name and cut instruction.
func titleBlocks(p *pattern.Piece, u float64) []block {
	cut := CutInstruction(p)
	small := func(s string) line { return line{s, regular, instructionSize * u, true} }
	var blocks []block
	for i, b := range nameBlocks(p, u) {
		if l, r, ok := strings.Cut(cut, ", "); ok && i > 0 {
			blocks = append(blocks, append(b[:len(b):len(b)], small(l+","), small(r)))
		}
		blocks = append(blocks, append(b[:len(b):len(b)], small(cut)))
	}
	return append(blocks, block{{titleOf(p) + "  ·  " + cut, bold, instructionSize * 1.1 * u, false}})
}

// drawTitle places the name at the roomiest spot, smaller or turned where the
// piece is narrow, and under the piece where nothing fits.
func (a *art) drawTitle(brief bool) {
	const columns, rows = 40, 40
	blocks := titleBlocks(a.piece, a.u)
	if brief {
		blocks = nameBlocks(a.piece, a.u)
	}
	box := a.room.box
	type spot struct {
		at    geom.Point
		clear float64
	}
	var spots []spot
	centre := geom.Centroid(a.room.outline)
	for i := range columns {
		for j := range rows {
			p := box.Min.Add(geom.Pt((float64(i)+0.5)/columns*box.Width(), (float64(j)+0.5)/rows*box.Height()))
			if c := a.room.clearance(p); c > 0.6*a.u {
				// Among equals, the middle of the piece.
				spots = append(spots, spot{p, math.Min(c, 9*a.u) - 0.12*p.Dist(centre)})
			}
		}
	}
	// First with air around it, then with as much as will do; smaller before
	// turned, turned before very small.
	upright, turned := geom.Pt(1, 0), geom.Pt(0, 1)
	for _, try := range [...]struct {
		dir         geom.Point
		shrink, air float64
	}{
		{upright, 1, 2.2}, {upright, 1, 1.1}, {upright, 0.86, 1}, {upright, 0.76, 0.9},
		{turned, 1, 1.1}, {turned, 0.86, 1}, {turned, 0.76, 0.9}, {upright, 0.66, 0.8}, {turned, 0.66, 0.8},
	} {
		if try.dir == turned && box.Height() < box.Width() {
			continue
		}
		for _, b := range blocks {
			b = b.times(try.shrink)
			best, score := slab{}, math.Inf(-1)
			t := b.slab(geom.Point{}, try.dir)
			for _, s := range spots {
				if s.clear <= score {
					continue
				}
				if t.centre = s.at; a.room.free(t, try.air*a.u) {
					best, score = t, s.clear
				}
			}
			if !math.IsInf(score, -1) {
				a.put(b, best)
				return
			}
		}
	}
	a.under = append(a.under, blocks[0]...)
}

// tellUnder sets below the piece what found no room in it.
func (a *art) tellUnder() {
	if len(a.under) == 0 {
		return
	}
	b := block(a.under)
	_, h := b.size()
	c := geom.Pt(a.room.box.Centre().X, a.bounds.Min.Y-2.2*a.u-h/2)
	a.put(b, b.slab(c, geom.Pt(1, 0)))
}
