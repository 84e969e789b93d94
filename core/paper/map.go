package paper

import (
	"fmt"
	"strings"

	"bygone.example/core/draw"
	"bygone.example/core/geom"
)

// pageMap draws the sheet small, in a box: the pieces, and over them the pages by
// name. A page that is not printed is left out.
func (s *Sheet) pageMap(d *draw.Drawing, room geom.Box) {
	x, y := s.pitch()
	k := min(room.Width()/(float64(s.Columns)*x), room.Height()/(float64(s.Rows)*y))
	origin := geom.Pt(room.Min.X+(room.Width()-float64(s.Columns)*x*k)/2, room.Max.Y-s.Drawing.Height*k)
	m := geom.Translation(origin).After(geom.Affine{A: k, E: k})
	for _, l := range s.Pieces {
		pts := make([]geom.Point, 0, len(l.Outline)+1)
		for _, q := range l.Outline {
			pts = append(pts, m.Apply(q))
		}
		d.Draw(layerSheet, draw.Ink{Stroke: draw.Black, Fill: grey(0xdd), Width: 0.2}, geom.Polyline(append(pts, pts[0])...))
	}
	for _, t := range s.Pages {
		own := s.own(t)
		b := geom.BoxOf(m.Apply(own.Min), m.Apply(own.Max))
		d.Draw(layerSheet, rule, rectangle(b))
		size := min(5, b.Width()*0.42, b.Height()*0.42)
		d.Write(layerSheet, draw.Text{Words: t.Name(), Face: draw.Bold, Size: size, At: b.Centre().Sub(geom.Pt(0, size*draw.CapHeight/2)), Align: 0.5})
	}
	for _, t := range s.hollow() {
		own := s.own(t)
		b := geom.BoxOf(m.Apply(own.Min), m.Apply(own.Max)).Grow(-0.8)
		d.Draw(layerSheet, draw.Pen(0.2).Dashed(1, 0.8), rectangle(b))
	}
	s.numberPieces(d, m)
}

// hollow are the pages within a piece that nothing is on: they are not printed,
// but the joined sheet has a hole there.
func (s *Sheet) hollow() []Tile {
	var out []Tile
	for row := range s.Rows {
		for column := range s.Columns {
			t := Tile{row, column}
			if s.has(t) {
				continue
			}
			for _, l := range s.Pieces {
				if geom.Contains(l.Outline, s.own(t).Centre()) {
					out = append(out, t)
					break
				}
			}
		}
	}
	return out
}

// numberPieces writes each piece's number on the map, in a ring, where it hides
// no page's name.
func (s *Sheet) numberPieces(d *draw.Drawing, m geom.Affine) {
	const r = 2.0
	var taken []geom.Point
	for _, t := range s.Pages {
		taken = append(taken, m.Apply(s.own(t).Centre()))
	}
	for i, l := range s.Pieces {
		pts := make([]geom.Point, 0, len(l.Outline))
		for _, q := range l.Outline {
			pts = append(pts, m.Apply(q))
		}
		at, best := geom.Centroid(pts), -1.0
		b := geom.BoxOf(pts...)
		for gx := range 25 {
			for gy := range 25 {
				q := b.Min.Add(geom.Pt(b.Width()*(float64(gx)+0.5)/25, b.Height()*(float64(gy)+0.5)/25))
				if !geom.Contains(pts, q) {
					continue
				}
				clear := 3 * r
				for _, t := range taken {
					clear = min(clear, q.Dist(t)-3)
				}
				for k, p := range pts {
					clear = min(clear, distance(q, p, pts[(k+1)%len(pts)]))
				}
				if clear > best {
					at, best = q, clear
				}
			}
		}
		taken = append(taken, at)
		ring := circle(at, r)
		d.Draw(layerSheet, draw.Ink{Stroke: draw.Black, Fill: draw.White, Width: 0.2}, ring)
		const size = 2.7
		d.Write(layerSheet, draw.Text{Words: number(i), Face: draw.Regular, Size: size, At: at.Sub(geom.Pt(0, size*draw.CapHeight/2)), Align: 0.5})
	}
}

// distance returns how far q is from the segment a to b.
func distance(q, a, b geom.Point) float64 {
	v := b.Sub(a)
	l := v.Dot(v)
	if l == 0 {
		return q.Dist(a)
	}
	return q.Dist(a.Lerp(b, min(1, max(0, q.Sub(a).Dot(v)/l))))
}

// circle returns a closed path around c.
func circle(c geom.Point, r float64) geom.Path {
	const k = 0.5522847498 // a quarter of a circle as a cubic, off by less than 0.03 %
	var p geom.Path
	for i := range 4 {
		a := geom.Pt(r, 0)
		for range i {
			a = a.Left()
		}
		b := a.Left()
		p = append(p, geom.Cubic(c.Add(a), c.Add(a).Add(b.Mul(k)), c.Add(b).Add(a.Mul(k)), c.Add(b)))
	}
	return p
}

// joinSketch draws how two pages are put together.
func (s *Sheet) joinSketch(c *column) {
	const w, h, strip = 17.0, 22.0, 3.0
	x0, y0 := c.left+4, c.y-h-2
	left := geom.BoxOf(geom.Pt(x0, y0), geom.Pt(x0+w, y0+h))
	right := geom.BoxOf(geom.Pt(x0+w+9, y0), geom.Pt(x0+2*w+9, y0+h))
	d := c.d
	d.Draw(layerSheet, faint, rectangle(geom.BoxOf(geom.Pt(left.Max.X-strip, left.Min.Y), left.Max)))
	d.Draw(layerSheet, rule, rectangle(left), rectangle(right))
	d.Draw(layerSheet, dotted, geom.Polyline(geom.Pt(left.Max.X-strip, left.Min.Y), geom.Pt(left.Max.X-strip, left.Max.Y)))
	d.Draw(layerSheet, strong, geom.Polyline(right.Min, geom.Pt(right.Min.X, right.Max.Y)))
	half := func(at geom.Point, dir float64) {
		const r = 2.2
		d.Draw(layerSheet, solid, geom.Polyline(at.Add(geom.Pt(0, r)), at.Add(geom.Pt(dir*r, 0)), at.Sub(geom.Pt(0, r)), at.Add(geom.Pt(0, r))))
	}
	mid := left.Centre().Y
	half(geom.Pt(left.Max.X-strip, mid), -1)
	half(geom.Pt(right.Min.X, mid), 1)
	word := func(text string, at geom.Point, align, size float64) {
		d.Write(layerSheet, draw.Text{Words: text, Face: draw.Bold, Size: size, At: at, Align: align})
	}
	word("A2", geom.Pt(left.Max.X-strip-2.8, mid-0.9), 1, 2.5)
	word("A1", geom.Pt(right.Min.X+2.8, mid-0.9), 0, 2.5)
	word("A1", geom.Pt(left.Min.X+1, left.Max.Y-3.4), 0, 3)
	word("A2", geom.Pt(right.Max.X-1, right.Max.Y-3.4), 1, 3)
	// The way the right page goes.
	from, to := geom.Pt(right.Min.X-1.2, y0+4), geom.Pt(left.Max.X+0.6, y0+4)
	d.Draw(layerSheet, rule, geom.Polyline(from, to), geom.Polyline(to.Add(geom.Pt(1.6, 1)), to, to.Add(geom.Pt(1.6, -1))))
	c.y = y0 - 3
}

// number is how a piece is counted: from 1.
func number(i int) string { return fmt.Sprint(i + 1) }

// pageNames tells pages, runs of a row as one: A1–A3 B1.
func pageNames(pages []Tile) string {
	var names []string
	for i := 0; i < len(pages); i++ {
		from := i
		for i+1 < len(pages) && pages[i+1] == pages[i].step(0, 1) {
			i++
		}
		switch name := pages[from].Name(); i - from {
		case 0:
			names = append(names, name)
		case 1:
			names = append(names, name, pages[i].Name())
		default:
			names = append(names, name+"–"+pages[i].Name())
		}
	}
	return strings.Join(names, " ")
}
