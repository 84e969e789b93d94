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
	points []geom.Point
	of     []int    // the stretch that the chord leaving each point belongs to
	edges  []string // of each stretch
	notes  []Note
}

// tight is the distance in mm below which two raw points are one: far below
// anything that can be cut, far above rounding.
const tight = 1e-7

func (r *raw) add(stretch int, pts ...geom.Point) {
	for _, p := range pts {
		if n := len(r.points); n > 0 && r.points[n-1].Near(p, tight) {
			r.of[n-1] = stretch
			continue
		}
		r.points, r.of = append(r.points, p), append(r.of, stretch)
	}
}

func (r *raw) note(trouble Trouble, edge string, at geom.Point, text string) {
	r.notes = append(r.notes, Note{trouble, edge, at, text})
}

// meeting is a place where two chords of the raw line cross.
type meeting struct {
	chord int
	t     float64
	node  int
}

// arc is a stretch of the raw line between two crossings.
type arc struct {
	from, to int // nodes
	points   []geom.Point
}

// outline keeps of the raw line what borders the region it winds around at
// least once, and of that the outermost loop.
func (r *raw) outline(pass int) Line {
	if n := len(r.points); n > 1 && r.points[0].Near(r.points[n-1], tight) {
		r.points, r.of = r.points[:n-1], r.of[:n-1]
	}
	nodes, cuts := r.crossings()
	if len(nodes) == 0 {
		return Line{tidy(r.points), r.notes}
	}
	arcs := r.arcs(nodes, cuts)
	var kept []arc
	for _, a := range arcs {
		// Where the line runs over itself, one of the equal arcs will do.
		same := func(k arc) bool {
			return k.from == a.from && k.to == a.to && len(k.points) == 2 && len(a.points) == 2
		}
		if r.borders(a) && !slices.ContainsFunc(kept, same) {
			kept = append(kept, a)
		}
	}
	loops := link(kept)
	var best []geom.Point
	bestArea := 0.0
	for _, l := range loops {
		if a := area(l); a > bestArea {
			best, bestArea = l, a
		}
	}
	if best == nil {
		r.note(Untraced, "", r.points[0], "the cut line could not be traced; the plain offset is drawn")
		return Line{r.points, r.notes}
	}
	for _, l := range loops {
		if a := area(l); a < -holeArea {
			c := geom.Centroid(l)
			r.note(Enclosed, "", c, "the allowances close around a gap here; cut it by hand")
		}
	}
	r.notes = slices.DeleteFunc(r.notes, func(n Note) bool {
		return (n.Trouble == Overlaps || n.Trouble == Tight) && !onLoop(best, n.At)
	})
	// Crossings closer together than rounding can leave a loop of a few
	// thousandths of a millimetre; a second trace over the first takes it out.
	if pass < maxPasses {
		again := raw{points: best, of: make([]int, len(best)), edges: []string{""}}
		return Line{again.outline(pass + 1).Points, r.notes}
	}
	return Line{tidy(best), r.notes}
}

// maxPasses bounds how often an outline is traced over.
const maxPasses = 3

// tidy leaves out points on the straight line between their neighbours.
func tidy(pts []geom.Point) []geom.Point {
	var out []geom.Point
	n := len(pts)
	for i, q := range pts {
		a := pts[(i+n-1)%n]
		if len(out) > 0 {
			a = out[len(out)-1]
		}
		b := pts[(i+1)%n]
		if q.Near(b, tight) || fromChord(q, a, b) < tight && q.Sub(a).Dot(b.Sub(q)) > 0 {
			continue
		}
		out = append(out, q)
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

func onLoop(loop []geom.Point, at geom.Point) bool {
	return slices.ContainsFunc(loop, func(q geom.Point) bool { return q.Near(at, 1e-6) })
}

// crossings finds where the raw line cuts itself.
func (r *raw) crossings() (nodes []geom.Point, cuts []meeting) {
	n := len(r.points)
	noted := map[int]bool{}
	order := make([]int, n)
	left := func(i int) float64 { return math.Min(r.points[i].X, r.points[(i+1)%n].X) }
	right := func(i int) float64 { return math.Max(r.points[i].X, r.points[(i+1)%n].X) }
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(i, j int) int { return cmp.Or(cmp.Compare(left(i), left(j)), i-j) })
	for k, i := range order {
		reach := right(i)
		for _, j := range order[k+1:] {
			if left(j) > reach {
				break
			}
			lo, hi := min(i, j), max(i, j)
			if hi == lo+1 || lo == 0 && hi == n-1 {
				continue
			}
			a, b, c, d := r.points[lo], r.points[lo+1], r.points[hi], r.points[(hi+1)%n]
			if math.Min(a.Y, b.Y) > math.Max(c.Y, d.Y)+tight || math.Max(a.Y, b.Y) < math.Min(c.Y, d.Y)-tight {
				continue
			}
			for _, at := range cross(a, b, c, d) {
				node := slices.IndexFunc(nodes, func(q geom.Point) bool { return q.Near(at, 2*tight) })
				if node < 0 {
					node = len(nodes)
					nodes = append(nodes, at)
				}
				cuts = append(cuts, meeting{lo, along(a, b, at), node}, meeting{hi, along(c, d, at), node})
				same := r.of[lo] == r.of[hi]
				if same && r.reach(at, lo, hi) < worthTelling {
					continue
				}
				if !r.neighbours(r.of[lo], r.of[hi]) && !noted[node] {
					noted[node] = true
					edge := r.edges[r.of[lo]]
					trouble, text := Overlaps, overlapText(edge)
					if same {
						trouble, text = Tight, tightText(edge)
					}
					r.note(trouble, edge, nodes[node], text)
				}
			}
		}
	}
	slices.SortFunc(cuts, func(a, b meeting) int {
		return cmp.Or(cmp.Compare(a.chord, b.chord), cmp.Compare(a.t, b.t), a.node-b.node)
	})
	cuts = slices.CompactFunc(cuts, func(a, b meeting) bool { return a.chord == b.chord && a.node == b.node })
	return nodes, cuts
}

// worthTelling is how far, in mm, a loop in one curve's offset must reach from
// where it was cut off to be told: the cloth left over there is about so much
// wider than was asked for. A third of a common allowance; less, nobody sees.
const worthTelling = 5

// reach returns how far from at the raw line gets between chords i and j.
func (r *raw) reach(at geom.Point, i, j int) float64 {
	var far float64
	for k := i + 1; k <= j; k++ {
		far = math.Max(far, at.Dist(r.points[k]))
	}
	return far
}

// neighbours reports whether two different stretches share a corner: their
// offsets crossing is only that corner.
func (r *raw) neighbours(i, j int) bool {
	n := len(r.edges)
	return i != j && ((i+1)%n == j || (j+1)%n == i)
}

// cross returns where ab and cd meet, ends included: nowhere, at one point,
// or, where they lie on one another, at both ends of the shared stretch.
func cross(a, b, c, d geom.Point) []geom.Point {
	v, w := b.Sub(a), d.Sub(c)
	lv, lw := v.Len(), w.Len()
	den := v.Cross(w)
	if math.Abs(den) > 1e-10*lv*lw {
		t, u := c.Sub(a).Cross(w)/den, c.Sub(a).Cross(v)/den
		et, eu := tight/lv, tight/lw
		if t < -et || t > 1+et || u < -eu || u > 1+eu {
			return nil
		}
		return []geom.Point{a.Add(v.Mul(t))}
	}
	if math.Abs(v.Cross(c.Sub(a))) > tight*lv {
		return nil
	}
	var shared []geom.Point
	for _, q := range [...]geom.Point{c, d} {
		if t := along(a, b, q); t >= 0 && t <= 1 {
			shared = append(shared, q)
		}
	}
	for _, q := range [...]geom.Point{a, b} {
		if t := along(c, d, q); t >= 0 && t <= 1 {
			shared = append(shared, q)
		}
	}
	return shared
}

// along returns where q falls on ab, as a fraction of it.
func along(a, b, q geom.Point) float64 {
	v := b.Sub(a)
	return q.Sub(a).Dot(v) / v.Dot(v)
}

// arcs cuts the raw line at its crossings.
func (r *raw) arcs(nodes []geom.Point, cuts []meeting) []arc {
	var out []arc
	n := len(r.points)
	for k, c := range cuts {
		d := cuts[(k+1)%len(cuts)]
		pts := []geom.Point{nodes[c.node]}
		steps := (d.chord - c.chord + n) % n
		if steps == 0 && k == len(cuts)-1 {
			steps = n
		}
		for i := 1; i <= steps; i++ {
			if q := r.points[(c.chord+i)%n]; !q.Near(pts[len(pts)-1], tight) {
				pts = append(pts, q)
			}
		}
		if q := nodes[d.node]; !q.Near(pts[len(pts)-1], tight) {
			pts = append(pts, q)
		} else if len(pts) > 1 {
			pts[len(pts)-1] = q
		}
		if len(pts) > 1 {
			out = append(out, arc{c.node, d.node, pts})
		}
	}
	return out
}

// borders reports whether the arc has the wound-around region on its left and
// none of it on its right.
func (r *raw) borders(a arc) bool {
	// The middle of the longest chord is the place furthest from trouble.
	k, longest := 1, -1.0
	for i := 1; i < len(a.points); i++ {
		if l := a.points[i].Dist(a.points[i-1]); l > longest {
			k, longest = i, l
		}
	}
	m := a.points[k].Lerp(a.points[k-1], 0.5)
	side := a.points[k].Sub(a.points[k-1]).Unit().Left().Mul(math.Min(1e-4, longest/8))
	return r.winding(m.Add(side)) > 0 && r.winding(m.Sub(side)) <= 0
}

func (r *raw) winding(q geom.Point) int {
	w, n := 0, len(r.points)
	for i, a := range r.points {
		b := r.points[(i+1)%n]
		up, down := a.Y <= q.Y && b.Y > q.Y, b.Y <= q.Y && a.Y > q.Y
		if !up && !down {
			continue
		}
		side := b.Sub(a).Cross(q.Sub(a))
		if up && side > 0 {
			w++
		}
		if down && side < 0 {
			w--
		}
	}
	return w
}

// link chains arcs into closed loops, turning as far left as there is a way.
func link(arcs []arc) [][]geom.Point {
	used := make([]bool, len(arcs))
	var loops [][]geom.Point
	for i := range arcs {
		if used[i] {
			continue
		}
		var loop []geom.Point
		at := i
		for at >= 0 && !used[at] {
			used[at] = true
			pts := arcs[at].points
			loop = append(loop, pts[:len(pts)-1]...)
			in := pts[len(pts)-1].Sub(pts[len(pts)-2])
			next, best := -1, math.Inf(1)
			for j := range arcs {
				if arcs[j].from != arcs[at].to || used[j] && j != i {
					continue
				}
				// Turning right keeps to the outside of where loops touch.
				if turn := geom.Turn(in, arcs[j].points[1].Sub(arcs[j].points[0])); turn < best {
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

func area(pts []geom.Point) float64 {
	var twice float64
	for i, j := 0, len(pts)-1; i < len(pts); j, i = i, i+1 {
		twice += pts[j].Cross(pts[i])
	}
	return twice / 2
}
