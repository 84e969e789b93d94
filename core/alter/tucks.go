package alter

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// HemTucks says which tucks run round a skirt.
type HemTucks struct {
	Count int
	Width float64 // mm from crease to stitching: a tuck takes up twice that
	Space float64 // mm from one line of stitching to the next, finished
	First float64 // mm from the hem up to the first crease, on the flat cloth
}

// TuckSkirt lays tucks round the skirt above the hem, and lengthens every piece
// by what they take up. Each tuck is a strip set in straight across between the
// two edges that come down to the hem, and recorded on both.
//
// Kept: every edge's sewn length, exactly, and the skirt above and below the
// tucks. Changed: each edge that comes down to the hem is cut 2 × Width longer
// for every tuck. On the flat, creases lie 2 × Width + Space apart. Degenerate:
// tucks that reach above the edge that comes down to the hem are refused.
func TuckSkirt(p *pattern.Pattern, o HemTucks) (*operation.Answer, error) {
	e := begin(p)
	parts, err := e.skirtWith(pattern.Hem)
	if err != nil {
		return nil, err
	}
	pieces := works(parts)
	switch {
	case o.Count < 1 || o.Width < minTuck:
		return nil, refuse(fmt.Sprintf("%d tucks of %.1f mm cannot be sewn", o.Count, o.Width), fmt.Sprintf("ask for one at least, of %d mm or more", minTuck))
	case o.First < o.Width+cutSliver || o.Space < 0:
		return nil, refuse(fmt.Sprintf("a tuck of %.1f mm cannot be creased %.1f mm above the hem", o.Width, o.First), "crease it higher up")
	}
	take := 2 * o.Width
	e.changed("tucks", "", 0, float64(o.Count), "")
	e.changed("taken up by all tucks", "", 0, take*float64(o.Count), "mm")
	steepest := 0.0
	for _, w := range pieces {
		i, err := w.edgeOf(pattern.Hem)
		if err != nil {
			return nil, err
		}
		before, after := w.prev(i), w.next(i)
		top := o.First - o.Width + float64(o.Count-1)*o.Space // of the highest cut, as the piece is now
		for _, k := range []int{before, after} {
			if long := w.lines[k].length(); top > long-minStrip {
				return nil, refuse(fmt.Sprintf("%d tucks reach %.0f mm up edge %q of piece %q, which is %.0f mm long", o.Count, top, w.Edges[k].Name, w.Name, long),
					"lay fewer, or lay them closer")
			}
		}
		w.touched = true
		was := w.lines[before].length()
		for k := o.Count - 1; k >= 0; k-- { // from above, so that those below stay where they are
			up := o.First - o.Width + float64(k)*o.Space
			a := w.lines[before].length() - up
			from, to := w.lines[before].path().At(a), w.lines[after].path().At(up)
			if err := w.keepsDarts(from, to, ""); k == o.Count-1 && err != nil {
				return nil, err
			}
			down := w.down(before, after, from, to)
			for _, side := range []geom.Point{w.lines[before].path().Direction(a), w.lines[after].path().Direction(up).Mul(-1)} {
				steepest = math.Max(steepest, math.Abs(geom.Turn(side, down)))
			}
			w.setIn(before, a, after, up, down.Mul(take))
		}
		now := w.lines[before].length()
		for k := range o.Count {
			crease := o.First + float64(k)*(take+o.Space)
			name := fmt.Sprintf("tuck-%d", k+1)
			w.fold(before, now-crease-o.Width, now-crease+o.Width, name+"."+w.Edges[before].Name, pattern.Tuck, pattern.PressedToEnd)
			w.fold(after, crease-o.Width, crease+o.Width, name+"."+w.Edges[after].Name, pattern.Tuck, pattern.PressedToStart)
		}
		w.keepGrainInside()
		e.changed(w.Edges[before].Name+", cut", w.Name, was, now, "mm")
	}
	e.changed("from crease to crease, flat", "", 0, take+o.Space, "mm")
	if o.Space < o.Width && o.Count > 1 {
		e.caution("each tuck covers the stitching of the one below: press and stitch them from the hem up")
	}
	if a := degrees(steepest); a > tuckSlope {
		e.caution(fmt.Sprintf("the skirt flares: a tuck runs straight across each piece and meets the seams up to %.0f degrees off square; run the folds into each other there", a))
	}
	return e.finish()
}

const (
	minTuck = 2 // mm: a pin tuck is little more than its stitching; from memory
	// tuckSlope in degrees is how far off square a tuck may meet a seam and still
	// look straight; from memory.
	tuckSlope = 3
)

// down returns the direction in which the lower part of a skirt piece moves when
// it is parted between two edges: along a fold, which must stay straight, else
// square to the cut.
func (w *work) down(before, after int, from, to geom.Point) geom.Point {
	switch {
	case w.Edges[before].Finish == pattern.Fold:
		return w.lines[before].path().EndDirection()
	case w.Edges[after].Finish == pattern.Fold:
		return w.lines[after].path().StartDirection().Mul(-1)
	}
	return to.Sub(from).Unit().Right()
}

// fold records a pleat or tuck on edge i as it is now, mm along it.
func (w *work) fold(i int, from, to float64, name string, kind pattern.PleatKind, pressed pattern.Pressed) {
	if len(name) > pattern.MaxName {
		name = name[:pattern.MaxName]
	}
	w.fresh.pleats = append(w.fresh.pleats, pattern.Pleat{
		Name: freshName(w, name), Edge: w.Edges[i].Name, From: from, To: to, Kind: kind, Pressed: pressed,
	})
}

// setIn parts the piece along a cut from the place a on edge i to the place b on
// edge j and moves what lies behind it, walked from i forward to j, by v. Both
// edges get a straight line across the gap, as long as v; nothing is faired.
func (w *work) setIn(i int, a float64, j int, b float64, v geom.Point) {
	far, near := w.walk(i, a, j, b), w.walk(j, b, i, a)
	m := geom.Translation(v)
	w.movePoints(far, regionOf(far), m)
	far = transformAll(far, m)
	w.lines[i] = near[len(near)-1].join(bridge(near[len(near)-1], far[0]), far[0])
	w.lines[j] = far[len(far)-1].join(bridge(far[len(far)-1], near[0]), near[0])
	copyMiddle(w, i, j, far)
	w.heal()
}

// Tucks says which tucks run into a piece from one of its edges, along the
// grain.
type Tucks struct {
	Piece, Edge string
	Count       int
	Width       float64 // mm from crease to stitching
	Space       float64 // mm from one line of stitching to the next, finished
	Centre      float64 // share of the edge's length that the middle of the tucks lies at, 0 to 1
}

// AddTucks lays tucks from one edge of a piece along the grain to whatever lies
// opposite, and widens the piece by what they take up. Each is a strip of one
// width from end to end, recorded on the edges at both ends of it.
//
// Kept: every edge's sewn length, exactly. Changed: the cut length of the edges
// at both ends, by 2 × Width for every tuck. Degenerate: tucks that would run
// into a dart or a pleat, over a corner, or off the edge are refused.
func AddTucks(p *pattern.Pattern, o Tucks) (*operation.Answer, error) {
	e := begin(p)
	w, i, err := e.edgeNamed(o.Piece, o.Edge)
	if err != nil {
		return nil, err
	}
	switch {
	case o.Count < 1 || o.Width < minTuck:
		return nil, refuse(fmt.Sprintf("%d tucks of %.1f mm cannot be sewn", o.Count, o.Width), fmt.Sprintf("ask for one at least, of %d mm or more", minTuck))
	case o.Space < minTuck && o.Count > 1:
		return nil, refuse(fmt.Sprintf("tucks cannot be sewn %.1f mm from each other", o.Space), fmt.Sprintf("leave %d mm or more", minTuck))
	}
	cuts, err := w.tuckCuts(i, o)
	if err != nil {
		return nil, err
	}
	w.touched = true
	take := 2 * o.Width
	across := w.grainDirection(i).Right() // from a cut to what follows it along edge i, walked counter-clockwise
	lengths := map[int]float64{}
	for _, c := range cuts {
		lengths[c.i], lengths[c.j] = w.lines[c.i].length(), w.lines[c.j].length()
	}
	slices.SortFunc(cuts, func(s, t slash) int { return cmp.Compare(t.a, s.a) })
	for n, c := range cuts {
		b := c.b
		for _, done := range cuts[:n] {
			if done.j == c.j && done.b < c.b {
				b += take
			}
		}
		w.setIn(i, c.a, c.j, b, across.Mul(take))
	}
	for k, c := range cuts {
		at, end := c.a, c.b
		for _, o := range cuts {
			if o.a < c.a {
				at += take
			}
			if o.j == c.j && o.b < c.b {
				end += take
			}
		}
		name := fmt.Sprintf("tuck-%d", len(cuts)-k)
		w.fold(i, at, at+take, name+"."+w.Edges[i].Name, pattern.Tuck, pattern.PressedToEnd)
		w.fold(c.j, end, end+take, name+"."+w.Edges[c.j].Name, pattern.Tuck, pattern.PressedToStart)
	}
	w.keepGrainInside()
	e.changed("tucks", w.Name, 0, float64(o.Count), "")
	e.changed("taken up by all tucks", w.Name, 0, take*float64(o.Count), "mm")
	for k := range w.Edges {
		if long, slashed := lengths[k]; slashed {
			e.changed(w.Edges[k].Name+", cut", w.Name, long, w.lines[k].length(), "mm")
		}
	}
	return e.finish()
}

// tuckCuts returns where the tucks cut into the piece.
func (w *work) tuckCuts(i int, o Tucks) ([]slash, error) {
	path := w.lines[i].path()
	up := w.grainDirection(i)
	middle := path.At(o.Centre * path.Length())
	var cuts []slash
	for k := range o.Count {
		off := (float64(k) - float64(o.Count-1)/2) * o.Space
		on := path.CutLine(middle.Add(up.Right().Mul(off)), up)
		if len(on) != 1 {
			return nil, refuse(fmt.Sprintf("%d tucks %.1f mm apart do not fit on edge %q of piece %q", o.Count, o.Space, w.Edges[i].Name, w.Name),
				"lay fewer, lay them closer, or begin at another edge")
		}
		j, b, err := w.across(i, on[0], up)
		if err != nil {
			return nil, err
		}
		c := slash{i: i, a: on[0], j: j, b: b}
		for _, at := range []struct {
			edge int
			at   float64
		}{{i, c.a}, {j, b}} {
			name, long := w.Edges[at.edge].Name, w.lines[at.edge].length()
			switch {
			case w.inMark(name, at.at):
				return nil, refuse(fmt.Sprintf("a tuck would run into a dart or pleat on edge %q of piece %q", name, w.Name), "turn or let that out first")
			case at.at < minTuck || at.at > long-minTuck || w.Edges[at.edge].Finish == pattern.Fold:
				return nil, refuse(fmt.Sprintf("a tuck would run into a corner or along the fold of piece %q", w.Name), "lay the tucks elsewhere on the edge")
			}
		}
		if err := w.keepsDarts(path.At(c.a), w.lines[j].path().At(b), ""); err != nil {
			return nil, err
		}
		cuts = append(cuts, c)
	}
	return cuts, nil
}
