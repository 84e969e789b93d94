package draw

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// Changed returns the names of the pieces that differ between two states of a
// pattern, in reading order: first those of after, then those that are gone.
// Names and order of pieces alone are no difference.
func Changed(before, after *pattern.Pattern) []string {
	var names []string
	for _, p := range inOrder(after) {
		if old := before.Piece(p.Name); old == nil || !samePiece(old, p) {
			names = append(names, p.Name)
		}
	}
	for _, p := range inOrder(before) {
		if after.Piece(p.Name) == nil {
			names = append(names, p.Name)
		}
	}
	return names
}

// seen is the difference in mm below which two lines on a piece are one to
// the eye, at any scale that a step is drawn at.
const seen = 0.1

// samePiece reports whether two states of a piece would be drawn alike.
func samePiece(a, b *pattern.Piece) bool {
	near := func(x, y float64) bool { return math.Abs(x-y) <= seen }
	return a.Title == b.Title && a.Cut == b.Cut &&
		a.Grain.From.Near(b.Grain.From, seen) && a.Grain.To.Near(b.Grain.To, seen) &&
		slices.EqualFunc(a.Edges, b.Edges, sameEdge) &&
		slices.EqualFunc(a.Landmarks, b.Landmarks, func(x, y pattern.Landmark) bool { return x.Name == y.Name && x.At.Near(y.At, seen) }) &&
		slices.EqualFunc(a.Darts, b.Darts, func(x, y pattern.Dart) bool {
			return x.Name == y.Name && x.Edge == y.Edge && near(x.From, y.From) && near(x.To, y.To) && x.Point.Near(y.Point, seen)
		}) &&
		slices.EqualFunc(a.Pleats, b.Pleats, func(x, y pattern.Pleat) bool {
			return x.Name == y.Name && x.Edge == y.Edge && x.Kind == y.Kind && x.Pressed == y.Pressed && near(x.From, y.From) && near(x.To, y.To)
		}) &&
		slices.EqualFunc(a.Gathers, b.Gathers, func(x, y pattern.Gather) bool {
			return x.Name == y.Name && x.Edge == y.Edge && x.Kind == y.Kind && near(x.From, y.From) && near(x.To, y.To) && near(x.Length, y.Length) && near(x.Stitch, y.Stitch) && x.Rows == y.Rows
		}) &&
		slices.EqualFunc(a.Notches, b.Notches, func(x, y pattern.Notch) bool {
			return x.Edge == y.Edge && x.Count == y.Count && near(x.At, y.At)
		})
}

// sameEdge compares what shows of two edges; how their paths are divided does
// not.
func sameEdge(a, b pattern.Edge) bool {
	if a.Name != b.Name || a.Finish != b.Finish || a.Corner != b.Corner || math.Abs(a.Allowance-b.Allowance) > seen {
		return false
	}
	if slices.Equal(a.Path, b.Path) {
		return true
	}
	la, lb := a.Path.Length(), b.Path.Length()
	if math.Abs(la-lb) > seen {
		return false
	}
	const samples = 16
	for i := range samples + 1 {
		t := float64(i) / samples
		if !a.Path.At(la*t).Near(b.Path.At(lb*t), seen) {
			return false
		}
	}
	return true
}

// How much of a page, in mm, the pieces of a step may take up: one row of a
// few, or two rows of many.
const stepHeight, tallStepHeight, few = 118, 180, 4

// Step draws what one step changed: of each changed piece the state before in
// a quiet line under the state after in a strong one, each in the piece's own
// coordinates; new and vanished pieces are said to be so. pieces names the
// ones to draw; none given means those that Changed finds. Where nothing
// changed, the picture says that.
func Step(before, after *pattern.Pattern, pieces ...string) Drawing {
	const width, u = 210.0, 1.15
	if len(pieces) == 0 {
		pieces = Changed(before, after)
	}
	d := Drawing{Width: width, Title: "What the step changed"}
	var cells []cell
	var jobs []func(k float64) *art
	var drawn []*pattern.Piece
	var said []string
	anyOld := false
	for _, name := range pieces {
		old, now := outlined(before.Piece(name)), outlined(after.Piece(name))
		switch {
		case now == nil && old == nil:
			continue
		case now == nil:
			said = append(said, titleOf(old)+" is gone")
			b := old.Boundary().Bounds()
			cells = append(cells, cell{w: b.Width(), h: b.Height(), class: classOf(old)})
			jobs = append(jobs, func(k float64) *art { return drawGone(old, k, u) })
			anyOld = true
			continue
		case old == nil:
			said = append(said, titleOf(now)+" is new")
		default:
			said = append(said, titleOf(now)+" is changed")
			anyOld = true
		}
		drawn = append(drawn, now)
		b := now.Boundary().Bounds()
		cut := old == nil || cutDiffers(old, now)
		if cut {
			b = cutBounds(now)
		}
		if old != nil {
			b = b.Union(old.Boundary().Bounds())
		}
		cells = append(cells, cell{w: b.Width(), h: b.Height(), class: classOf(now)})
		jobs = append(jobs, func(k float64) *art {
			a := drawPiece(now, old, detail{scale: k, unit: u, title: true, cut: cut})
			if old == nil {
				a.under = []line{{"a new piece", italic, 2.4 * u, false}}
				a.tellUnder()
			}
			return a
		})
	}
	if len(jobs) == 0 {
		d.Text = "Nothing that shows in a picture was changed."
		d.write(word{"Nothing that shows on the pieces was changed.", italic, 3.2, geom.Pt(pageMargin, -12), 0, grey})
		d.finish(20)
		return d
	}
	d.Text = strings.Join(said, "; ") + "."
	height := float64(stepHeight)
	if len(cells) > few {
		height = tallStepHeight
	}
	n := fit(cells, width-2*pageMargin, height, pieceGap*u, 3)
	arts := make([]*art, len(jobs))
	inParallel(len(jobs), func(i int) { arts[i] = jobs[i](1 / n) })

	y := -3.0
	y -= d.arrange(arts, pageMargin, y, width-2*pageMargin, pieceGap*u)
	y -= 5 * u
	entries := keyOf(drawn, slices.ContainsFunc(drawn, func(p *pattern.Piece) bool {
		old := before.Piece(p.Name)
		return old == nil || cutDiffers(old, p)
	}))
	entries[0].text = "seam line after the step"
	if anyOld {
		entries = slices.Insert(entries, 1, entry{sample(beforeInk), "before"})
	}
	h := d.key(entries, pageMargin, y, width-2*pageMargin-58*u, u)
	d.scaleBar(geom.Pt(width-pageMargin-50*u, y-4.5*u), 1/n, 46*u, u)
	y -= math.Max(h, 9.5*u) + 2
	d.Title = fmt.Sprintf("What the step changed, at 1:%g", n)
	d.finish(-y)
	return d
}

// outlined returns the piece if it has an outline to draw, else nil.
func outlined(p *pattern.Piece) *pattern.Piece {
	if p == nil || len(p.Boundary()) == 0 {
		return nil
	}
	return p
}

func cutDiffers(a, b *pattern.Piece) bool {
	for i := range b.Edges {
		e := &b.Edges[i]
		old := a.Edge(e.Name)
		if old != nil && (old.Allowance != e.Allowance || old.Corner != e.Corner || old.Finish != e.Finish) {
			return true
		}
	}
	return false
}

// drawGone draws a piece that the step took away.
func drawGone(p *pattern.Piece, k, u float64) *art {
	a := &art{piece: p, u: u, k: k, bounds: geom.EmptyBox}
	seam := p.Boundary().Transform(scaling(k))
	a.room.outline, a.room.box = seam.Flatten(0.06), seam.Bounds()
	a.solid(beforeInk.times(u), seam)
	b := block{{titleOf(p), bold, 3.2 * u, true}, {"gone after this step", italic, 2.4 * u, false}}
	s := b.slab(geom.Centroid(a.room.outline), geom.Pt(1, 0))
	if a.room.free(s, 0.8*u) {
		a.put(b, s)
	} else {
		a.under = b
		a.tellUnder()
	}
	return a
}
