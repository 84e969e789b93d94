package alter

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Way is how slashes find the other edge.
type Way string

// AlongGrain cuts parallel to the grainline; ToShare cuts to the same share of
// the edge opposite; AlongLine cuts one slash along a line drawn from a place on
// the edge to a place on another.
const (
	AlongGrain Way = "grain"
	ToShare    Way = "share"
	AlongLine  Way = "line"
)

// Taking is what becomes of the length that an edge gains.
type Taking string

// AsGathers, AsEase and the pleats record it on the edge. AsFlare leaves it,
// which an edge in no seam allows. MateToo spreads the pieces sewn to the edge
// by as much, hinged at their far side.
const (
	AsFlare    Taking = "flare"
	AsGathers  Taking = "gathers"
	AsEase     Taking = "ease"
	AsKnife    Taking = "knife"
	AsBox      Taking = "box"
	AsInverted Taking = "inverted"
	MateToo    Taking = "mate"
)

// Spreading says how a piece is slashed and spread.
type Spreading struct {
	Piece, Edge string
	// From and To bound the stretch of the edge that is slashed, mm along it; both
	// zero take the whole edge.
	From, To float64
	// Slashes divide the stretch evenly. A slash along a line is one, at From.
	Slashes int
	// Open is what the slashes open in all at the edge, and Far at the other, mm.
	// Far zero hinges them there; as much as Open spreads them parallel. Negative
	// amounts lap the paper instead of spreading it.
	Open, Far float64
	// Lean opens the slashes unevenly: from 1−Lean times the even share at the
	// start of the stretch to 1+Lean times at its end. Between -1 and 1.
	Lean float64

	Way Way
	// ToEdge is the edge cut to; empty is what lies opposite. ToAt is where a slash
	// along a line ends, mm along that edge, and Bow by how many mm the line stands
	// off the straight one at its middle, to the left as it runs.
	ToEdge    string
	ToAt, Bow float64

	// Take and TakeFar are of what is gained at the edge, and at the other. Empty
	// gathers an edge that is sewn to another and leaves any other flared.
	Take, TakeFar Taking
}

// SlashAndSpread cuts a piece from places on one edge to places on another and
// lays the parts apart: parallel, wider at one end than the other, or hinged.
// The part with the fold or grainline stays. Lines that were opened or hinged
// are drawn smooth again through the middle of what lies between, with the
// tangents their ends have come to have. A hinge that would come nearer to a
// corner than fromCorner is put into it.
//
// Kept: every edge not slashed, to the last digit; a hinged edge's length,
// exactly; the sewn length of an edge whose gain is recorded. Changed: an opened
// edge by the sum of what the slashes open there, their chords, exactly.
//
// Degenerate: an opened edge with a dart or pleat in it, a slash across a dart,
// parts turned by more than a right angle, or flare on an edge that is sewn to
// another are refused. A hinged edge with a dart in it keeps its line, with a
// caution.
func SlashAndSpread(p *pattern.Pattern, o Spreading) (*operation.Answer, error) {
	e := begin(p)
	w, i, err := e.edgeNamed(o.Piece, o.Edge)
	if err != nil {
		return nil, err
	}
	cuts, err := w.cuts(i, o)
	if err != nil {
		return nil, err
	}
	takes := map[int]Taking{}
	for _, c := range cuts {
		if w.inMark(w.Edges[c.i].Name, c.a) || w.inMark(w.Edges[c.j].Name, c.b) {
			return nil, refuse(fmt.Sprintf("a slash would run into a dart or pleat of piece %q", w.Name), "turn or let that out first, or slash elsewhere")
		}
		if c.openA != 0 {
			takes[c.i] = cmp.Or(o.Take, e.usualTaking(w, c.i))
		}
		if c.openB != 0 {
			takes[c.j] = cmp.Or(o.TakeFar, e.usualTaking(w, c.j))
		}
	}
	before := map[int]float64{}
	for _, k := range slices.Sorted(maps.Keys(takes)) {
		before[k] = w.lines[k].length()
		if err := e.takable(w, k, takes[k]); err != nil {
			return nil, err
		}
	}
	hinged, err := w.spreadSmooth(cuts)
	if err != nil {
		return nil, err
	}
	for _, name := range hinged {
		e.caution(fmt.Sprintf("edge %s of %s bends where the slashes are hinged, beside a dart or pleat; true it by hand", name, w.Name))
	}
	for _, k := range slices.Sorted(maps.Keys(takes)) {
		if err := e.take(w, k, takes[k], cuts); err != nil {
			return nil, err
		}
		e.changed(w.Edges[k].Name+", cut", w.Name, before[k], w.lines[k].length(), "mm")
	}
	w.keepGrainInside()
	return e.finish()
}

// usualTaking is what becomes of the width gained at edge k when nobody says.
func (e *edit) usualTaking(w *work, k int) Taking {
	if slices.ContainsFunc(e.in.SeamsOf(w.Name, w.Edges[k].Name), func(s *pattern.Seam) bool { return len(s.B) > 0 }) {
		return AsGathers
	}
	return AsFlare
}

// cuts lays the slashes out on the piece as it is.
func (w *work) cuts(i int, o Spreading) ([]slash, error) {
	total := w.lines[i].length()
	from, to := o.From, o.To
	if from == 0 && to == 0 {
		to = total
	}
	switch {
	case o.Open == 0 && o.Far == 0:
		return nil, refuse("nothing would be spread", "give an amount at one edge or the other")
	case o.Open*o.Far < 0:
		return nil, refuse("a slash cannot be spread at one end and lapped at the other", "make two steps of it")
	case math.Abs(o.Lean) > 1:
		return nil, refuse(fmt.Sprintf("slashes can lean by -1 to 1, not %g", o.Lean), "use 0 for even ones")
	case o.Way == AlongLine:
		return w.lineCut(i, from, o)
	case o.Slashes < 1 || from < 0 || to > total+cutSliver || to-from < minSlash:
		return nil, refuse(fmt.Sprintf("%d slashes between %.1f and %.1f mm do not fit on edge %q of piece %q, which measures %.1f mm", o.Slashes, from, to, o.Edge, w.Name, total), "use fewer, or a longer stretch of the edge")
	case o.Way != AlongGrain && o.Way != ToShare:
		return nil, refuse(fmt.Sprintf("slashes run along the grain, to a share or along a line, not by %q", o.Way), "say grain, share or line")
	}
	places := evenly(from, to, o.Slashes)
	up := w.grainDirection(i)
	opposite := -1
	if o.ToEdge != "" {
		j, err := w.named(o.ToEdge)
		if err != nil {
			return nil, err
		}
		opposite = j
	} else if o.Way == ToShare {
		j, _, err := w.across(i, (from+to)/2, up)
		if err != nil {
			return nil, err
		}
		opposite = j
	}
	var cuts []slash
	for k, a := range places {
		c := slash{i: i, a: a, j: opposite}
		var err error
		if o.Way == ToShare {
			// The boundary comes back on the other side, so the share is counted
			// from the far end.
			c.b = w.lines[opposite].length() * (1 - a/total)
		} else if c.j, c.b, err = w.across(i, a, up); err != nil {
			return nil, err
		} else if opposite >= 0 && c.j != opposite {
			return nil, refuse(fmt.Sprintf("along the grain, a slash %.1f mm along edge %q of piece %q comes to edge %q first", a, o.Edge, w.Name, w.Edges[c.j].Name), "slash to the same share, or leave the edge to be found")
		}
		weight := 1.0
		if n := len(places); n > 1 {
			weight += o.Lean * (2*float64(k)/float64(n-1) - 1)
		}
		c.openA, c.openB = o.Open*weight/float64(len(places)), o.Far*weight/float64(len(places))
		if c.openA != 0 || c.openB != 0 {
			cuts = append(cuts, c)
		}
	}
	return cuts, nil
}

// lineCut is the one slash along a straight or bowed line.
func (w *work) lineCut(i int, from float64, o Spreading) ([]slash, error) {
	if o.ToEdge == "" {
		return nil, refuse("a slash along a line needs the edge it goes to", "name it and the place on it")
	}
	j, err := w.named(o.ToEdge)
	if err != nil {
		return nil, err
	}
	if from < 0 || from > w.lines[i].length() || o.ToAt < 0 || o.ToAt > w.lines[j].length() {
		return nil, refuse(fmt.Sprintf("a slash across piece %q would miss it", w.Name), "choose another place for it")
	}
	a, b := w.lines[i].path().At(from), w.lines[j].path().At(o.ToAt)
	c := slash{i: i, a: from, j: j, b: o.ToAt, openA: o.Open, openB: o.Far}
	if o.Bow != 0 {
		c.along = geom.Smooth([]geom.Point{a, a.Lerp(b, 0.5).Add(b.Sub(a).Unit().Left().Mul(o.Bow)), b}, geom.Point{}, geom.Point{})
		region := w.outline()
		for _, q := range c.inside(false) {
			if !geom.Contains(region, q) {
				return nil, refuse(fmt.Sprintf("the slash line leaves piece %q", w.Name), "bow it less")
			}
		}
	}
	return []slash{c}, nil
}

// spreadSmooth opens slashes as spread does, and draws hinged edges smooth too.
// Opened edges grow by what is opened and hinged ones keep their length, exactly.
// It returns the names of hinged edges that could not be redrawn. Slashes may
// not all run from one edge to one other.
func (w *work) spreadSmooth(list []slash) (stiff []string, err error) {
	w.touched = true
	cuts := slices.Clone(list)
	slices.SortFunc(cuts, func(s, t slash) int { return cmp.Compare(t.a, s.a) }) // from the edge's end
	faired, want := map[int]*fairing{}, map[int]float64{}
	for n := range cuts {
		c := &cuts[n]
		if c.openA == 0 {
			c.a = w.hinge(c.i, c.a, c.j)
		}
		if c.openB == 0 {
			c.b = w.hinge(c.j, c.b, c.i)
		}
	}
	for _, c := range cuts {
		if err := w.clear(&c); err != nil {
			return nil, err
		}
		for _, side := range []struct {
			k        int
			at, open float64
		}{{c.i, c.a, c.openA}, {c.j, c.b, c.openB}} {
			if long := w.lines[side.k].length(); side.open == 0 && (side.at == 0 || side.at == long) {
				continue // hinged in the corner, the edge does not bend
			}
			if err := w.fairable(side.k); err != nil {
				if side.open != 0 {
					return nil, err
				}
				if !slices.Contains(stiff, w.Edges[side.k].Name) {
					stiff = append(stiff, w.Edges[side.k].Name)
				}
				continue
			}
			if long := w.lines[side.k].length(); side.open != 0 && math.Min(side.at, long-side.at) < fromCorner {
				return nil, refuse(fmt.Sprintf("a slash would open edge %q of piece %q in its corner, %.1f mm from its end", w.Edges[side.k].Name, w.Name, math.Min(side.at, long-side.at)),
					"slash another stretch, or to the same share of the edge opposite")
			}
			if _, seen := want[side.k]; !seen {
				want[side.k] = w.lines[side.k].length()
			}
			want[side.k] += side.open
			w.beginFairing(faired, side.k, side.at)
		}
	}
	opened := map[int]map[float64]float64{} // by edge and old place: how far it opened
	for n := range cuts {
		c := cuts[n]
		for _, side := range []struct {
			k        int
			at, open float64
		}{{c.i, c.a, c.openA}, {c.j, c.b, c.openB}} {
			if opened[side.k] == nil {
				opened[side.k] = map[float64]float64{}
			}
			opened[side.k][side.at] = side.open
		}
		for _, done := range cuts[:n] {
			if done.j == c.j && done.b < c.b+cutSliver {
				c.b += done.openB
			}
		}
		if _, _, err := w.open(&c); err != nil {
			return nil, err
		}
	}
	for _, k := range slices.Sorted(maps.Keys(faired)) {
		if err := w.smooth(k, faired[k], opened[k], want[k]); err != nil {
			return nil, err
		}
	}
	w.heal()
	return stiff, nil
}

// hinge is where a slash from another edge is hinged on edge i: in the corner, if
// what would be left beside it is too short to bend.
func (w *work) hinge(i int, at float64, from int) float64 {
	switch long := w.lines[i].length(); {
	case at < fromCorner && w.prev(i) != from:
		return 0
	case at > long-fromCorner && w.next(i) != from:
		return long
	}
	return at
}

const (
	// blendReach is how far in mm from a slash a line is drawn anew; further off it
	// stays as it lay. From memory.
	blendReach = 60
	// knotEvery is how closely in mm what stays is followed.
	knotEvery = 15
	// blendBulge is the most in mm that a line drawn smooth is rounded out to come
	// to its length.
	blendBulge = 20
)

// smooth draws a slashed edge anew: through the middle of what was opened, past
// the corner where it was hinged, through the middle of short parts and along
// long ones, and to the length wanted. Where that cannot be done as far as
// blendReach from a slash, as with one near an end, it is done nearer to it.
func (w *work) smooth(i int, f *fairing, opened map[float64]float64, want float64) error {
	first := w.smoothWithin(i, f, opened, want, blendReach)
	if first == nil {
		return nil
	}
	for _, reach := range [...]float64{blendReach / 2, blendReach / 4, blendReach / 8} {
		if w.smoothWithin(i, f, opened, want, reach) == nil {
			return nil
		}
	}
	return first
}

// smoothWithin is smooth as far as reach from every slash. It leaves the edge as
// it is where it refuses.
func (w *work) smoothWithin(i int, f *fairing, opened map[float64]float64, want, reach float64) error {
	places := slices.Compact(slices.Sorted(slices.Values(f.places)))
	total := f.original.length()
	knots := []knot{{0, 0}}
	add := func(old float64) {
		if before, _ := w.lines[i].whereSlashed(old); old > knots[len(knots)-1].old+cutSliver && before > knots[len(knots)-1].now+cutSliver {
			knots = append(knots, knot{old, before})
		}
	}
	stretch := func(from, to, clearFrom, clearTo float64) {
		if to-from < minFairPart {
			return
		}
		lo, hi := from+min(clearFrom, (to-from)/2), to-min(clearTo, (to-from)/2)
		n := int(math.Ceil((hi - lo) / knotEvery))
		for k := range n + 1 {
			if at := lo + (hi-lo)*float64(k)/float64(max(n, 1)); at > cutSliver && at < total-cutSliver {
				add(at)
			}
		}
	}
	last, clear := 0.0, 0.0
	for _, at := range places {
		stretch(last, at, clear, reach)
		if opened[at] != 0 {
			before, after := w.lines[i].whereSlashed(at)
			knots = append(knots, knot{at, (before + after) / 2})
		}
		last, clear = at, reach
	}
	stretch(last, total, clear, 0)
	knots = append(knots, knot{total, w.lines[i].length()})
	now := w.lines[i].path()
	points := make([]geom.Point, len(knots))
	for k, kn := range knots {
		points[k] = now.At(kn.now)
	}
	points[0], points[len(points)-1] = now.Start(), now.End()
	// The ends still lie as they were cut, and so tell their tangents.
	startDir, endDir := now.StartDirection(), now.EndDirection()
	// Its length is settled by moving what lies between the ends off sideways.
	chordAt := func(k int) float64 { return knots[k].now / knots[len(knots)-1].now }
	left := make([]geom.Point, len(knots))
	for k, kn := range knots {
		left[k] = now.Direction(kn.now).Left()
	}
	curve := func(by float64) geom.Path {
		moved := make([]geom.Point, len(points))
		for k := range points {
			s := math.Sin(math.Pi * chordAt(k))
			moved[k] = points[k].Add(left[k].Mul(by * s * s))
		}
		return geom.Smooth(moved, startDir, endDir)
	}
	by, ok := rootNear(func(by float64) float64 { return curve(by).Length() - want }, blendBulge)
	path := curve(by)
	if !ok || len(path) != len(knots)-1 {
		return refuse(fmt.Sprintf("edge %q of piece %q cannot be drawn smoothly through the slashes", w.Edges[i].Name, w.Name), "use more slashes, or ask for less")
	}
	if sharp(path) && !sharp(f.original.path()) {
		return refuse(fmt.Sprintf("edge %q of piece %q would come to a sharp bend between the slashes", w.Edges[i].Name, w.Name), "ask for less, or slash a longer stretch")
	}
	fresh := make(line, len(path))
	for k, s := range path {
		fresh[k].seg = s
		fresh[k].old, _ = f.original.between(knots[k].old, knots[k+1].old).old()
	}
	w.lines[i] = fresh.snapEnds(now.Start(), now.End())
	return nil
}

// sharpest is the smallest radius in mm that a line drawn smooth may turn on: a
// tighter one cannot be sewn in one sweep. From memory.
const sharpest = 4

// sharp reports whether a path turns anywhere on less than the sharpest radius.
func sharp(path geom.Path) bool {
	const samples = 8
	for _, s := range path {
		dir, at := s.Direction(0), s.P0
		for k := 1; k <= samples; k++ {
			t := float64(k) / samples
			d, q := s.Direction(t), s.At(t)
			if turn := math.Abs(geom.Turn(dir, d)); turn > 0.1 && q.Dist(at) < sharpest*turn {
				return true
			}
			dir, at = d, q
		}
	}
	return false
}
