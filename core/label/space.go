package label

import (
	"math"
	"slices"

	"bygone.example/core/geom"
)

// Rect is a rectangle at any angle: W and H are half its length along Along,
// a unit vector, and across it.
type Rect struct {
	Centre, Along geom.Point
	W, H          float64
}

func (r Rect) corners() [4]geom.Point {
	a, b := r.Along.Mul(r.W), r.Along.Left().Mul(r.H)
	c := r.Centre
	return [4]geom.Point{c.Sub(a).Sub(b), c.Add(a).Sub(b), c.Add(a).Add(b), c.Sub(a).Add(b)}
}

// Space is the inside of a piece and what of it is taken.
type Space struct {
	Outline []geom.Point    // closed polygon, the last point joined to the first
	Walls   [][2]geom.Point // lines that words keep clear of
	Taken   []Rect
}

// Block is a way to set a label: its size in mm and the least part of that
// size at which it can still be read.
type Block struct{ W, H, Least float64 }

// Choice is where a label goes.
type Choice struct {
	Block  int     // which of the blocks
	Shrink float64 // part of its full size, at most 1
	At     Rect    // what it takes up
}

// How a place is chosen. A turned label must come out this much larger than an
// upright one to be worth turning the head for; the same for the second and
// further blocks, each less wanted than the one before it. Air around a label is worth something, and so is being near
// the middle, where a reader looks.
const (
	turnedWorth = 0.9
	laterWorth  = 0.93
	airWorth    = 0.12
	midWorth    = 0.2
	airEnough   = 1.5 // times the label's own size
)

// gridSide is how many cells a piece's bounds are divided into each way. What
// a label could lose by it in size is two cells of these, a fiftieth.
const gridSide = 96

// Rooms are the largest free rectangles of a space along each of some
// directions.
type Rooms struct {
	middle geom.Point
	across float64 // of the space, corner to corner
	turns  []turn
}

// turn is the rooms along one direction, in its own frame.
type turn struct {
	g      *grid
	first  bool // the direction wanted most
	lo, hi []geom.Point
}

// Rooms finds the largest free rectangles along each of the directions, the
// first of which is wanted most. Nothing in them touches the outline, a wall
// or what is taken: the space is laid out on a grid and a cell is free when
// nothing passes through it, so that a rectangle of free cells is free. A
// space without area has none.
func (s Space) Rooms(angles []geom.Point) *Rooms {
	r := &Rooms{}
	if len(s.Outline) < 3 {
		return r
	}
	r.middle = geom.Centroid(s.Outline)
	box := geom.BoxOf(s.Outline...)
	r.across = math.Hypot(box.Width(), box.Height())
	for i, along := range angles {
		along = along.Unit()
		if along == (geom.Point{}) {
			continue
		}
		g := s.grid(along)
		if g == nil {
			continue
		}
		t := turn{g: g, first: i == 0}
		g.rectangles(func(x0, y0, x1, y1 int) {
			t.lo, t.hi = append(t.lo, g.corner(x0, y0)), append(t.hi, g.corner(x1, y1))
		})
		r.turns = append(r.turns, t)
	}
	return r
}

// Best finds the best place for one of the blocks, the first of which is
// wanted most, gap mm clear of everything and none below its least size; ok is
// false when none fits.
func (r *Rooms) Best(blocks []Block, gap float64) (c Choice, ok bool) {
	best := math.Inf(-1)
	for _, t := range r.turns {
		centre := t.g.local(r.middle)
		for i, lo := range t.lo {
			hi := t.hi[i]
			room := hi.Sub(lo)
			for k, b := range blocks {
				shrink := math.Min(1, math.Min((room.X-2*gap)/b.W, (room.Y-2*gap)/b.H))
				if !(shrink >= b.Least) {
					continue
				}
				worth := shrink * math.Pow(laterWorth, float64(k))
				if !t.first {
					worth *= turnedWorth
				}
				air := math.Min(room.X/(b.W*shrink), room.Y/(b.H*shrink))
				worth += airWorth * math.Min(1, (air-1)/(airEnough-1))
				w, h := b.W*shrink/2, b.H*shrink/2
				// Inside the rectangle, as near to the middle as keeps the air.
				keepX := math.Min((room.X-2*w)/2, math.Max(gap, w*(airEnough-1)))
				keepY := math.Min((room.Y-2*h)/2, math.Max(gap, h*(airEnough-1)))
				at := geom.Pt(
					math.Max(lo.X+w+keepX, math.Min(hi.X-w-keepX, centre.X)),
					math.Max(lo.Y+h+keepY, math.Min(hi.Y-h-keepY, centre.Y)),
				)
				worth -= midWorth * at.Dist(centre) / r.across
				if worth > best {
					best, ok = worth, true
					c = Choice{k, shrink, Rect{t.g.world(at), t.g.along, w, h}}
				}
			}
		}
	}
	return c, ok
}

// Angles returns the directions worth trying on a piece, upright first: across
// the paper, along the grain, along the piece's own long way, along its longest
// straight line. All read from left to right or from bottom to top.
func Angles(outline []geom.Point, grain geom.Point) []geom.Point {
	out := []geom.Point{{X: 1}}
	add := func(v geom.Point) {
		v = Readable(v.Unit())
		const apart = 0.035 // two degrees: no eye tells such labels apart
		if v != (geom.Point{}) && !slices.ContainsFunc(out, func(o geom.Point) bool { return math.Abs(o.Cross(v)) < apart }) {
			out = append(out, v)
		}
	}
	add(geom.Pt(0, 1))
	add(grain)
	add(longWay(outline))
	var long geom.Point
	for i, a := range outline {
		if v := outline[(i+1)%len(outline)].Sub(a); v.Len() > long.Len() {
			long = v
		}
	}
	add(long)
	return out
}

// Readable turns a direction so that words along it do not stand on their
// heads: left to right, or bottom to top.
func Readable(dir geom.Point) geom.Point {
	if dir.X < -1e-6 || math.Abs(dir.X) <= 1e-6 && dir.Y < 0 {
		return dir.Mul(-1)
	}
	return dir
}

// longWay returns the direction a polygon is longest in: the main axis of its
// corners' spread, each weighed by the sides it joins.
func longWay(outline []geom.Point) geom.Point {
	var sum geom.Point
	var total, xx, xy, yy float64
	each := func(f func(q geom.Point, w float64)) {
		for i, a := range outline {
			b := outline[(i+1)%len(outline)]
			f(a.Lerp(b, 0.5), a.Dist(b))
		}
	}
	each(func(q geom.Point, w float64) { sum = sum.Add(q.Mul(w)); total += w })
	if total == 0 {
		return geom.Point{}
	}
	c := sum.Mul(1 / total)
	each(func(q geom.Point, w float64) {
		v := q.Sub(c)
		xx, xy, yy = xx+w*v.X*v.X, xy+w*v.X*v.Y, yy+w*v.Y*v.Y
	})
	return geom.Polar(1, 0.5*math.Atan2(2*xy, xx-yy))
}
