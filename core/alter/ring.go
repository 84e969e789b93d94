package alter

import (
	"math"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// Ring is a ring of cloth, or part of one, whose inner edge is sewn flat to a
// seam: what a circle skirt and a circular flounce are cut from.
type Ring struct {
	Seam    float64 // mm of the inner edge, all pieces together
	Depth   float64 // mm from the inner edge to the outer
	Circles float64 // how much of a full circle all pieces make: 1, 0.5, 0.25; may be more than 1
}

// Radius returns the inner radius in mm: seam over 2π times the circles. It is
// +Inf where Circles is 0.
func (r Ring) Radius() float64 { return r.Seam / (2 * math.Pi * r.Circles) }

// Hem returns the length in mm of the outer edge: the seam and 2π times the
// depth for every circle.
func (r Ring) Hem() float64 { return r.Seam + 2*math.Pi*r.Circles*r.Depth }

// Area returns the area in mm².
func (r Ring) Area() float64 { return r.Depth * (r.Seam + r.Hem()) / 2 }

// strip is a band of cloth to be sewn on along its top, drawn with the top
// uppermost: hem from left to right, end up, top from right to left, start down.
// The ends are square to hem and top.
type strip struct {
	hem, end, top, start geom.Path
	grain                pattern.Grain
}

// stripBetween returns the strip between a hem and a top that were drawn. foot
// and head are a point on either, right across from each other: the grainline
// lies between them, clear of both.
func stripBetween(hem, top geom.Path, foot, head geom.Point) strip {
	const clear = 0.15
	return strip{
		hem: hem, end: geom.Path{geom.Line(hem.End(), top.Start())},
		top: top, start: geom.Path{geom.Line(top.End(), hem.Start())},
		grain: pattern.Grain{From: foot.Lerp(head, clear), To: head.Lerp(foot, clear)},
	}
}

// straightStrip returns a rectangle.
func straightStrip(long, deep float64) strip {
	at := func(x, y float64) geom.Point { return geom.Pt(x, y) }
	return stripBetween(geom.Path{geom.Line(at(0, 0), at(long, 0))}, geom.Path{geom.Line(at(long, deep), at(0, deep))},
		at(long/2, 0), at(long/2, deep))
}

// arcStep is the most in radians that one cubic of an arc turns: an eighth of a
// quarter, where the cubic is within 1e-10 of its radius.
const arcStep = math.Pi / 16

// ringStrip returns the part of a ring that turns by angle: its top measures
// seam exactly.
func ringStrip(seam, angle, deep float64) strip {
	r := seam / angle
	n := int(math.Ceil(angle / arcStep))
	arc := func(radius float64) geom.Path {
		at := func(k int) (p, dir geom.Point) {
			a := -math.Pi/2 + angle*(float64(k)/float64(n)-0.5)
			return geom.Polar(radius, a), geom.Polar(1, a).Left()
		}
		// The handle that makes a cubic touch the circle in its middle.
		handle := 4 * radius * math.Tan(angle/float64(n)/4)
		path := make(geom.Path, n)
		for k := range path {
			p0, d0 := at(k)
			p1, d1 := at(k + 1)
			path[k] = geom.Hermite(p0, d0.Mul(handle), p1, d1.Mul(handle))
		}
		return path
	}
	r *= seam / arc(r).Length()
	return stripBetween(arc(r+deep), arc(r).Reverse(), geom.Pt(0, -r-deep), geom.Pt(0, -r))
}

// coil is a strip wound like a watch spring: its top is an involute of a
// circle, so that every turn lies the same distance outside the one before, and
// its hem the involute beside it.
type coil struct {
	base     float64 // radius of the circle in mm that the line is unwound from
	from, to float64 // radians unwound where the strip starts and ends
}

// coiled returns the coil of a strip whose top measures seam and curves at its
// start with the given radius; apart is how far it is from turn to turn, mm.
func coiled(seam, radius, apart float64) coil {
	c := coil{base: apart / (2 * math.Pi)}
	c.from = radius / c.base
	c.to = math.Sqrt(c.from*c.from + 2*seam/c.base)
	return c
}

// coilStrip returns the strip of that depth along a coil; the top measures seam
// exactly.
func coilStrip(seam, radius, apart, deep float64) strip {
	c := coiled(seam, radius, apart)
	top := c.line(0)
	for range 20 { // the cubics are a trifle shorter than the line they follow
		miss := top.Length() - seam
		if math.Abs(miss) < spreadExact {
			break
		}
		c.to -= miss / (c.base * c.to)
		top = c.line(0)
	}
	// The grain lies where the strip runs level, if it does anywhere.
	level := math.Pi * math.Ceil(c.from/math.Pi+0.1)
	if level > c.to-0.1 {
		level = (c.from + c.to) / 2
	}
	return stripBetween(c.line(deep), top.Reverse(), c.at(level, deep), c.at(level, 0))
}

// line returns the parallel of the coil's top that lies out mm outside it.
func (c coil) line(out float64) geom.Path {
	n := int(math.Ceil((c.to - c.from) / arcStep))
	at := func(k int) (p, v geom.Point) {
		t := c.from + (c.to-c.from)*float64(k)/float64(n)
		return c.at(t, out), geom.Polar((c.base*t+out)*(c.to-c.from)/float64(n), t)
	}
	path := make(geom.Path, n)
	for k := range path {
		p0, v0 := at(k)
		p1, v1 := at(k + 1)
		path[k] = geom.Hermite(p0, v0, p1, v1)
	}
	return path
}

// at returns the point of that parallel where t radians are unwound; the line
// runs in the direction of t there.
func (c coil) at(t, out float64) geom.Point {
	return geom.Polar(c.base, t).Add(geom.Polar(c.base*t+out, t).Right())
}
