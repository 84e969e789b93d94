package draw

import (
	"fmt"
	"math"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// entry is one line of the key: a sample and its meaning.
type entry struct {
	draw func(d *Drawing, at geom.Point, u float64) // within 9 × 3 units from at, its left middle
	text string
}

func sample(k ink) func(*Drawing, geom.Point, float64) {
	return func(d *Drawing, at geom.Point, u float64) {
		d.stroke(k.times(u), geom.Polyline(at, at.Add(geom.Pt(9*u, 0))))
	}
}

// keyOf lists what a picture of these pieces needs explained.
func keyOf(pieces []*pattern.Piece, cut bool) []entry {
	has := map[string]bool{}
	for _, p := range pieces {
		has["fold"] = has["fold"] || p.OnFold()
		has["grain"] = has["grain"] || p.Grain.Given()
		has["notch"] = has["notch"] || len(p.Notches) > 0
		has["dart"] = has["dart"] || len(p.Darts) > 0
		has["pleat"] = has["pleat"] || len(p.Pleats) > 0
		for _, g := range p.Gathers {
			has[string(g.Kind)] = true
		}
		for _, e := range p.Edges {
			has["cut"] = has["cut"] || cut && e.Finish != pattern.Fold && e.Allowance > 0
		}
	}
	all := []struct {
		when string
		entry
	}{
		{"", entry{sample(seamInk), "seam line"}},
		{"cut", entry{sample(cutInk), "cut line"}},
		{"fold", entry{sample(foldInk), "fold of the cloth"}},
		{"grain", entry{func(d *Drawing, at geom.Point, u float64) {
			to := at.Add(geom.Pt(9*u, 0))
			d.stroke(markInk.times(u), geom.Polyline(at.Add(geom.Pt(u, 0)), to.Sub(geom.Pt(u, 0))))
			d.stroke(solidInk, arrow(to, geom.Pt(1, 0), 2*u))
			d.stroke(solidInk, arrow(at, geom.Pt(-1, 0), 2*u))
		}, "grainline"}},
		{"notch", entry{func(d *Drawing, at geom.Point, u float64) {
			d.stroke(seamInk.times(u), geom.Polyline(at, at.Add(geom.Pt(9*u, 0))))
			for _, x := range [...]float64{2.5, 5.6, 6.6} {
				q := at.Add(geom.Pt(x*u, 0))
				d.stroke(markInk.times(1.15*u), geom.Polyline(q.Add(geom.Pt(0, -1.2*u)), q.Add(geom.Pt(0, 1.3*u))))
			}
		}, "notches, single and double"}},
		{"dart", entry{func(d *Drawing, at geom.Point, u float64) {
			tip := at.Add(geom.Pt(8.5*u, 0))
			d.stroke(legInk.times(u), geom.Polyline(at.Add(geom.Pt(0, 1.1*u)), tip), geom.Polyline(at.Add(geom.Pt(0, -1.1*u)), tip))
			d.stroke(fullSolid, circle(tip, 0.42*u))
		}, "dart"}},
		{"pleat", entry{func(d *Drawing, at geom.Point, u float64) {
			a, b := at.Add(geom.Pt(2.4*u, 0)), at.Add(geom.Pt(6.6*u, 0))
			v := geom.Pt(0, 1.3*u)
			d.stroke(fullInk.times(u), geom.Polyline(a.Sub(v), a.Add(v)), geom.Polyline(b.Sub(v), b.Add(v)))
			d.stroke(fullInk.times(0.7*u), geom.Polyline(b, a))
			d.stroke(fullSolid, arrow(a, geom.Pt(-1, 0), 1.4*u))
		}, "pleat, laid along the arrow"}},
		{string(pattern.Gathers), entry{wave(0.62, fullInk), "gather here"}},
		{string(pattern.Cartridge), entry{stitches, "cartridge pleats: rows of even stitches"}},
		{string(pattern.Ease), entry{wave(0.34, ink{stroke: madder, width: 0.3, dash: [4]float64{0.9, 0.6}}), "ease in here"}},
	}
	var out []entry
	for _, e := range all {
		if e.when == "" || has[e.when] {
			out = append(out, e.entry)
		}
	}
	return out
}

// stitches samples the rows that cartridge pleats are drawn up by.
func stitches(d *Drawing, at geom.Point, u float64) {
	for row := range 3 {
		y := rowsApart * u * float64(row-1)
		d.stroke(stitchInk.times(u), geom.Polyline(at.Add(geom.Pt(0, y)), at.Add(geom.Pt(9*u, y))))
	}
}

func wave(high float64, k ink) func(*Drawing, geom.Point, float64) {
	return func(d *Drawing, at geom.Point, u float64) {
		var pts []geom.Point
		for i := range 33 {
			x := float64(i) / 32
			pts = append(pts, at.Add(geom.Pt(9*u*x, high*u*math.Sin(8*math.Pi*x))))
		}
		d.stroke(k.times(u), geom.Smooth(pts, geom.Point{}, geom.Point{}))
	}
}

const keySize = 2.4

// key sets the entries in lines no wider than width below top and returns the
// height used.
func (d *Drawing) key(entries []entry, left, top, width, u float64) float64 {
	x, y := 0.0, 3*u
	for _, e := range entries {
		w := 9*u + 1.8*u + regular.width(e.text, keySize*u)
		if x > 0 && x+w > width {
			x, y = 0, y+5*u
		}
		at := geom.Pt(left+x, top-y)
		e.draw(d, at, u)
		d.write(word{e.text, regular, keySize * u, at.Add(geom.Pt(10.8*u, -keySize*u*0.34)), 0, black})
		x += w + 6*u
	}
	return y + 2.5*u
}

// scaleBar draws centimetres above and inches below one line, k mm of paper to
// one of cloth, and returns its width.
func (d *Drawing) scaleBar(at geom.Point, k, room, u float64) float64 {
	length := 50.0
	for _, l := range [...]float64{2000, 1000, 500, 300, 200, 100, 50} {
		if l*k <= room {
			length = l
			break
		}
	}
	step := length / 5
	w := length * k
	// Alternate fields, filled and empty: a ruler, not a line, in black and white.
	for i := range 5 {
		x := at.X + float64(i)*step*k
		if i%2 == 0 {
			d.stroke(solidInk, rectangle(x, at.Y, step*k, 0.9*u))
		}
	}
	d.stroke(ruleInk.times(u), rectangle(at.X, at.Y, w, 0.9*u))
	label := func(x float64, text string, y float64) {
		d.write(word{text, regular, 2.1 * u, geom.Pt(x-regular.width(text, 2.1*u)/2, y), 0, black})
	}
	for _, i := range [...]int{0, 5} {
		text := fmt.Sprintf("%g", float64(i)*step/10)
		if i == 5 {
			text += " cm"
		}
		label(at.X+float64(i)*step*k, text, at.Y+1.9*u)
	}
	inches := math.Floor(length / 25.4)
	if inches >= 8 {
		inches = math.Floor(inches/4) * 4
	}
	iw := inches * 25.4 * k
	y := at.Y - 0.9*u
	d.stroke(ruleInk.times(u), geom.Polyline(geom.Pt(at.X, y), geom.Pt(at.X+iw, y)))
	n := int(inches)
	for i := 0; i <= n; i++ {
		if n > 8 && i%4 != 0 {
			continue
		}
		x := at.X + float64(i)*25.4*k
		d.stroke(ruleInk.times(u), geom.Polyline(geom.Pt(x, y), geom.Pt(x, y-0.9*u)))
	}
	label(at.X, "0", y-2.9*u)
	label(at.X+iw, fmt.Sprintf("%g in", inches), y-2.9*u)
	return w
}

// heading writes the picture's title over a rule and returns the height used.
func (d *Drawing) heading(title, sub string, left, top, width, u float64) float64 {
	size := 5.6 * u
	if w := bold.width(title, size); w > width {
		size *= width / w
	}
	y := top - size*capHeight
	d.write(word{title, bold, size, geom.Pt(left, y), 0, black})
	if sub != "" {
		s := 2.6 * u
		w := regular.width(sub, s)
		if left+bold.width(title, size)+6*u+w <= left+width {
			d.write(word{sub, regular, s, geom.Pt(left+width-w, y), 0, grey})
		} else {
			if w > width {
				s *= width / w
			}
			y -= s * 1.6
			d.write(word{sub, regular, s, geom.Pt(left, y), 0, grey})
		}
	}
	y -= 2.4 * u
	d.stroke(ruleInk.times(u), geom.Polyline(geom.Pt(left, y), geom.Pt(left+width, y)))
	return top - y
}
