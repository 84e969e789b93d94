package cutline

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
)

// raw is the offset as walked, loops and all.
type raw struct {
	line   []vertex
	edges  []string // of each stretch
	curves []curve  // that chords lie along
	notes  []Note
	shade  *shade // what lies inside anyway, of a long line

	// Of matched corners, by the index of the edge they end: what the pattern's
	// seams ask, and how far each runs out by itself.
	asked   map[int]asked
	reached map[int]float64
}

// tight is the distance in mm below which two raw points are one: far below
// anything that can be cut, far above rounding.
const tight = 1e-7

func (r *raw) add(stretch int, line ...vertex) {
	for _, v := range line {
		v.stretch = stretch
		if n := len(r.line); n > 0 && r.line[n-1].at.Near(v.at, tight) {
			v.at = r.line[n-1].at
			r.line[n-1] = v
			continue
		}
		r.line = append(r.line, v)
	}
}

func (r *raw) note(trouble Trouble, edge string, at geom.Point, text string) {
	r.notes = append(r.notes, Note{trouble, edge, at, text})
}

// next returns where the chord that leaves vertex i ends.
func (r *raw) next(i int) geom.Point { return r.line[(i+1)%len(r.line)].at }

// arc is a stretch of the raw line between two crossings; its last vertex is
// where it ends.
type arc struct {
	from, to int // nodes
	line     []vertex
}

// outline keeps of the raw line what borders the region it winds around at
// least once, and of that the outermost loop.
//
// Crossings closer together than rounding can leave a loop of a few thousandths
// of a millimetre; a second trace over the first takes it out.
func (r *raw) outline() Line {
	if !r.trace() {
		return Line{Notes: r.notes}
	}
	return Line{tidy(r.line), r.path(), r.notes}
}

// trace puts the outline in the place of the raw line; it returns false where
// there is none.
func (r *raw) trace() bool {
	for pass := range maxPasses {
		if n := len(r.line); n > 1 && r.line[0].at.Near(r.line[n-1].at, tight) {
			r.line = r.line[:n-1]
		}
		if len(r.line) < 3 {
			return false
		}
		nodes, cuts := r.crossings(pass == 0)
		r.shade = nil
		if len(nodes) == 0 {
			break
		}
		best := r.outermost(nodes, cuts, pass == 0)
		if best == nil {
			r.note(Untraced, "", r.line[0].at, "the cut line could not be traced; the plain offset is drawn")
			break
		}
		r.line = best
	}
	return true
}

// maxPasses bounds how often an outline is traced over.
const maxPasses = 3

// outermost returns the outermost loop of what borders the region; of a line
// that does not go round anything, none.
func (r *raw) outermost(nodes []geom.Point, cuts []meeting, tell bool) []vertex {
	loops := link(r.kept(nodes, cuts))
	var best []vertex
	bestArea := 0.0
	for _, l := range loops {
		if a := area(l); a > bestArea {
			best, bestArea = l, a
		}
	}
	if best == nil || !tell {
		return best
	}
	for _, l := range loops {
		if a := area(l); a < -holeArea {
			r.note(Enclosed, "", geom.Centroid(points(l)), "the allowances close around a gap here; cut it by hand")
		}
	}
	var on places
	for _, v := range best {
		on.find(v.at, noteWithin, true)
	}
	r.notes = slices.DeleteFunc(r.notes, func(n Note) bool {
		return (n.Trouble == Overlaps || n.Trouble == Tight) && on.find(n.At, noteWithin, false) < 0
	})
	return best
}

// noteWithin in mm is how near the cut line a crossing lies that is on it.
const noteWithin = 1e-6

// kept returns the arcs that border the region. Where the line runs over itself,
// one of the equal arcs will do.
func (r *raw) kept(nodes []geom.Point, cuts []meeting) []arc {
	var kept []arc
	short := map[[2]int]bool{}
	w := newWinder(r)
	for _, a := range r.arcs(nodes, cuts) {
		ends := [2]int{a.from, a.to}
		if len(a.line) == 2 && short[ends] || !w.borders(a) {
			continue
		}
		if len(a.line) == 2 {
			short[ends] = true
		}
		kept = append(kept, a)
	}
	return kept
}

// tidy returns the points of a loop without those on the straight line between
// their neighbours.
func tidy(line []vertex) []geom.Point {
	var out []geom.Point
	n := len(line)
	for i, v := range line {
		q, a := v.at, line[(i+n-1)%n].at
		if len(out) > 0 {
			a = out[len(out)-1]
		}
		b := line[(i+1)%n].at
		if q.Near(b, tight) || fromChord(q, a, b) < tight && q.Sub(a).Dot(b.Sub(q)) > 0 {
			continue
		}
		out = append(out, q)
	}
	return out
}

func points(line []vertex) []geom.Point {
	out := make([]geom.Point, len(line))
	for i, v := range line {
		out[i] = v.at
	}
	return out
}

// holeArea is the waste in mm² below which a gap between allowances is nothing
// a pair of scissors can follow.
const holeArea = 1

func overlapText(edge string) string {
	return fmt.Sprintf("the allowance along %s runs into another; they are cut as one here", edge)
}

func tightText(edge string) string {
	return fmt.Sprintf("the curve of %s is tighter here than its allowance is wide; the cut line turns in a point", edge)
}

// tellCrossing notes a crossing of chords i and j that is more than a corner.
func (r *raw) tellCrossing(i, j int, at geom.Point) bool {
	a, b := r.line[i].stretch, r.line[j].stretch
	same := a == b
	if same && !r.leaves(at, i, j) || r.neighbours(a, b) {
		return false
	}
	trouble, text := Overlaps, overlapText(r.edges[a])
	if same {
		trouble, text = Tight, tightText(r.edges[a])
	}
	r.note(trouble, r.edges[a], at, text)
	return true
}

// worthTelling is how far, in mm, a loop in one curve's offset must reach from
// where it was cut off to be told: the cloth left over there is about so much
// wider than was asked for. A third of a common allowance; less, nobody sees.
const worthTelling = 5

// leaves reports whether the raw line gets further than worthTelling from at
// between chords i and j.
func (r *raw) leaves(at geom.Point, i, j int) bool {
	return slices.ContainsFunc(r.line[i+1:j+1], func(v vertex) bool { return at.Dist(v.at) >= worthTelling })
}

// neighbours reports whether two different stretches share a corner: their
// offsets crossing is only that corner.
func (r *raw) neighbours(i, j int) bool {
	n := len(r.edges)
	return i != j && ((i+1)%n == j || (j+1)%n == i)
}

// arcs cuts the raw line at its crossings.
func (r *raw) arcs(nodes []geom.Point, cuts []meeting) []arc {
	var out []arc
	n := len(r.line)
	for k, c := range cuts {
		d := cuts[(k+1)%len(cuts)]
		first := r.line[c.chord]
		steps := (d.chord - c.chord + n) % n
		if steps == 0 && k == len(cuts)-1 {
			steps = n
		}
		at := func(v vertex, t float64) float64 { return v.t0 + (v.t1-v.t0)*t }
		start := first
		start.at, start.t0 = nodes[c.node], at(first, c.t)
		line := []vertex{start}
		push := func(v vertex) {
			if m := len(line) - 1; v.at.Near(line[m].at, tight) {
				v.at = line[m].at
				line[m] = v
				return
			}
			line = append(line, v)
		}
		for i := 1; i <= steps; i++ {
			push(r.line[(c.chord+i)%n])
		}
		// What leaves the last vertex ends on its chord where the other line crosses.
		whole := r.line[d.chord]
		if m := len(line) - 1; line[m].curve == whole.curve {
			line[m].t1 = at(whole, d.t)
		}
		end := vertex{at: nodes[d.node], stretch: whole.stretch}
		if m := len(line) - 1; m > 0 && line[m].at.Near(end.at, tight) {
			line[m] = end
		} else if !line[m].at.Near(end.at, tight) {
			line = append(line, end)
		}
		if len(line) > 1 {
			out = append(out, arc{c.node, d.node, line})
		}
	}
	return out
}

// link chains arcs into closed loops, turning as far right as there is a way:
// that keeps to the outside of where loops touch.
func link(arcs []arc) [][]vertex {
	leaving := map[int][]int{}
	for i, a := range arcs {
		leaving[a.from] = append(leaving[a.from], i)
	}
	used := make([]bool, len(arcs))
	var loops [][]vertex
	for i := range arcs {
		if used[i] {
			continue
		}
		var loop []vertex
		at := i
		for at >= 0 && !used[at] {
			used[at] = true
			line := arcs[at].line
			n := len(line)
			loop = append(loop, line[:n-1]...)
			in := line[n-1].at.Sub(line[n-2].at)
			next, best := -1, math.Inf(1)
			for _, j := range leaving[arcs[at].to] {
				if used[j] && j != i {
					continue
				}
				if turn := geom.Turn(in, arcs[j].line[1].at.Sub(arcs[j].line[0].at)); turn < best {
					next, best = j, turn
				}
			}
			at = next
		}
		if len(loop) > 2 {
			loops = append(loops, loop)
		}
	}
	return loops
}

func area(line []vertex) float64 {
	var twice float64
	for i, j := 0, len(line)-1; i < len(line); j, i = i, i+1 {
		twice += line[j].at.Cross(line[i].at)
	}
	return twice / 2
}

// meeting is a place where two chords of the raw line cross, seen from one.
type meeting struct {
	chord int
	t     float64 // along the chord, as a fraction
	node  int
}

// crossings finds where the raw line cuts itself.
func (r *raw) crossings(tell bool) (nodes []geom.Point, cuts []meeting) {
	found := r.pairs()
	slices.SortFunc(found, func(a, b pair) int {
		return cmp.Or(a.i-b.i, a.j-b.j, cmp.Compare(a.at.X, b.at.X), cmp.Compare(a.at.Y, b.at.Y))
	})
	var seen places
	told := map[int]bool{}
	for _, p := range found {
		node := seen.find(p.at, 2*tight, true)
		if node == len(nodes) {
			nodes = append(nodes, p.at)
		}
		cuts = append(cuts,
			meeting{p.i, along(r.line[p.i].at, r.next(p.i), p.at), node},
			meeting{p.j, along(r.line[p.j].at, r.next(p.j), p.at), node})
		if tell && !told[node] {
			told[node] = r.tellCrossing(p.i, p.j, nodes[node])
		}
	}
	slices.SortFunc(cuts, func(a, b meeting) int {
		return cmp.Or(cmp.Compare(a.chord, b.chord), cmp.Compare(a.t, b.t), a.node-b.node)
	})
	cuts = slices.CompactFunc(cuts, func(a, b meeting) bool { return a.chord == b.chord && a.node == b.node })
	return nodes, cuts
}

// cross returns where ab and cd meet, ends included: nowhere, at one point,
// or, where they lie on one another, at both ends of the shared stretch.
func cross(a, b, c, d geom.Point) (at [4]geom.Point, n int) {
	v, w := b.Sub(a), d.Sub(c)
	lv, lw := v.Len(), w.Len()
	den := v.Cross(w)
	if math.Abs(den) > 1e-10*lv*lw {
		t, u := c.Sub(a).Cross(w)/den, c.Sub(a).Cross(v)/den
		et, eu := tight/lv, tight/lw
		if t < -et || t > 1+et || u < -eu || u > 1+eu {
			return at, 0
		}
		at[0] = a.Add(v.Mul(t))
		return at, 1
	}
	if math.Abs(v.Cross(c.Sub(a))) > tight*lv {
		return at, 0
	}
	for _, q := range [...]geom.Point{c, d} {
		if t := along(a, b, q); t >= 0 && t <= 1 {
			at[n] = q
			n++
		}
	}
	for _, q := range [...]geom.Point{a, b} {
		if t := along(c, d, q); t >= 0 && t <= 1 {
			at[n] = q
			n++
		}
	}
	return at, n
}

// along returns where q falls on ab, as a fraction of it.
func along(a, b, q geom.Point) float64 {
	v := b.Sub(a)
	return q.Sub(a).Dot(v) / v.Dot(v)
}
