package planted

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/finding"
	"bygone.example/core/geom"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
)

// drawn are the patterns in which every corner and every edge is tried.
var drawn = []string{"dress", "tabard", "gown", "allowed", "lined"}

// wanted keeps a fault only if there is something to be found of it: a corner at
// an eased seam, or one moved square to its edges, leaves every length as it was.
func wanted(list []Fault, f Fault, sound *pattern.Pattern) []Fault {
	if len(f.Plant(sound.Clone())) == 0 {
		return list
	}
	return append(list, f)
}

// cornersMoved moves every corner of a piece by 2 mm, along and square to both
// its edges.
func cornersMoved(sound map[string]*pattern.Pattern) (list []Fault) {
	for _, from := range drawn {
		p := sound[from]
		for i := range p.Pieces {
			piece := &p.Pieces[i]
			for k := range piece.Edges {
				n := len(piece.Edges)
				into, out := piece.Edges[(k+n-1)%n].Path.EndDirection(), piece.Edges[k].Path.StartDirection()
				for name, u := range map[string]geom.Point{"along": out, "back along": into.Mul(-1), "on along": into, "out along": out.Mul(-1), "right": geom.Pt(1, 0), "up": geom.Pt(0, 1)} {
					for _, v := range [...]struct{ drag, marks bool }{{false, false}, {true, false}, {false, true}, {true, true}} {
						moved, how, kind := moveCorner, "the corner alone", "corner moved, figures of marks left"
						if v.drag {
							moved, how = dragCorner, "the corner with its curves"
						}
						if v.marks {
							kind = "corner moved, marks where they were"
						}
						list = wanted(list, Fault{
							Kind: kind, From: from, Name: fmt.Sprintf("%s: %s 2 mm %s", cornerName(piece, k), how, name),
							Plant: func(p *pattern.Pattern) []Want {
								q := p.Piece(piece.Name)
								was := q.Edges[k].Path.Length()
								moved(q, k, u.Mul(2))
								if v.marks {
									shiftMarks(q, q.Edges[k].Name, q.Edges[k].Path.Length()-was)
								}
								return lengthWants(p, piece.Name, k)
							},
							Follows: shapeCodes,
						}, p)
					}
				}
			}
		}
	}
	return list
}

// shiftMarks leaves what is marked on an edge where it is on the cloth when the
// edge has become longer at its start.
func shiftMarks(p *pattern.Piece, edge string, by float64) {
	for i := range p.Notches {
		if n := &p.Notches[i]; n.Edge == edge && n.At > 0 {
			n.At += by
		}
	}
	for i := range p.Darts {
		if d := &p.Darts[i]; d.Edge == edge {
			d.From, d.To = d.From+by, d.To+by
		}
	}
	for i := range p.Pleats {
		if d := &p.Pleats[i]; d.Edge == edge {
			d.From, d.To = d.From+by, d.To+by
		}
	}
}

// edgesStretched makes every sewn edge longer or shorter as a whole, by moving
// one of its ends along the line between both. Its marks go along in proportion.
func edgesStretched(sound map[string]*pattern.Pattern) (list []Fault) {
	for _, from := range drawn {
		p := sound[from]
		for i := range p.Pieces {
			piece := &p.Pieces[i]
			n := len(piece.Edges)
			for k := range piece.Edges {
				for _, atStart := range [...]bool{false, true} {
					for _, by := range [...]float64{0.3, 2, -2, 9} {
						which, corner := "end", (k+1)%n
						if atStart {
							which, corner = "start", k
						}
						list = wanted(list, Fault{
							Kind: "edge stretched", From: from, Name: fmt.Sprintf("%s/%s by %.1f mm at its %s", piece.Name, piece.Edges[k].Name, by, which),
							Plant: func(p *pattern.Pattern) []Want {
								stretch(p.Piece(piece.Name), k, atStart, by)
								return lengthWants(p, piece.Name, corner)
							},
							Follows: shapeCodes,
						}, p)
					}
				}
			}
		}
	}
	return list
}

// stretch scales edge k along its chord about one end until it is longer by so
// many mm, takes the marks on it along in proportion, and lets its neighbour
// follow.
func stretch(p *pattern.Piece, k int, atStart bool, by float64) {
	n := len(p.Edges)
	e := &p.Edges[k]
	was := e.Path.Length()
	fixed, corner := e.Path.Start(), (k+1)%n
	if atStart {
		fixed, corner = e.Path.End(), k
	}
	u := e.Path.End().Sub(e.Path.Start())
	if u.Len() < 1 {
		return
	}
	lo, hi := 1-4*math.Abs(by)/was, 1+4*math.Abs(by)/was
	for range 80 {
		m := (lo + hi) / 2
		if e.Path.Transform(geom.ScaleAlong(fixed, u, m)).Length() < was+by {
			lo = m
		} else {
			hi = m
		}
	}
	path := e.Path.Transform(geom.ScaleAlong(fixed, u, lo))
	// What is marked goes along in proportion; a dart's mouth stays as wide as its
	// legs are far apart, so that only edges without darts stretch with their marks.
	if !slices.ContainsFunc(p.Darts, func(d pattern.Dart) bool { return d.Edge == e.Name }) {
		for i := range p.Notches {
			if q := &p.Notches[i]; q.Edge == e.Name {
				q.At *= path.Length() / was
			}
		}
	}
	moved := path.End().Sub(e.Path.End())
	if atStart {
		moved = path.Start().Sub(e.Path.Start())
	}
	follows := &p.Edges[(k+1)%n]
	length := follows.Path.Length()
	dragCorner(p, corner, moved)
	if !atStart { // the neighbour starts at the corner: its marks stay on the cloth
		shiftMarks(p, follows.Name, follows.Path.Length()-length)
	}
	e.Path = path
	// Moving the corner left the neighbour in place; both meet there exactly.
	prev, next := &p.Edges[(k+n-1)%n], &p.Edges[(k+1)%n]
	e.Path[0].P0, e.Path[len(e.Path)-1].P1 = prev.Path.End(), next.Path.Start()
}

// linesBulged bends every sewn edge out between its ends, which stay, until it is
// 2 mm longer.
func linesBulged(sound map[string]*pattern.Pattern) (list []Fault) {
	for _, from := range drawn {
		p := sound[from]
		for i := range p.Pieces {
			piece := &p.Pieces[i]
			for k := range piece.Edges {
				e := &piece.Edges[k]
				for s := range p.Seams {
					seam := &p.Seams[s]
					inA, inB := seam.A.Has(piece.Name, e.Name), seam.B.Has(piece.Name, e.Name)
					if !inA && !inB || len(seam.B) == 0 || seam.Meeting.Kind == pattern.Eased {
						continue
					}
					code := pairing.SeamLength
					if seam.Meeting.Kind != pattern.Plain {
						code = pairing.FullnessLength
					}
					other := seam.B
					if inB {
						other = seam.A
					}
					own := seam.A
					if inB {
						own = seam.B
					}
					// Notches may lie an edge further on to either side.
					at := slices.IndexFunc(own, func(r pattern.EdgeRef) bool { return r.Piece == piece.Name && r.Edge == e.Name })
					var spots []Spot
					for _, ref := range slices.Concat(own[max(0, at-2):min(len(own), at+3)], other) {
						spots = append(spots, on(ref.Piece, ref.Edge))
					}
					list = append(list, Fault{
						Kind: "line bulged", From: from, Name: fmt.Sprintf("%s/%s", piece.Name, e.Name),
						Plant: func(p *pattern.Pattern) []Want {
							bulge(edgeOf(p, piece.Name, e.Name), 2)
							return want(code, seam.Name, p.RunLength(seam.A)-p.RunLength(seam.B), spots...)
						},
						Follows: shapeCodes,
					})
				}
			}
		}
	}
	return list
}

// bulge bends the longest line or curve of an edge out until it is longer by so
// many mm.
func bulge(e *pattern.Edge, by float64) {
	k := 0
	for i := range e.Path {
		if e.Path[i].Length() > e.Path[k].Length() {
			k = i
		}
	}
	s := e.Path[k]
	if !s.Curved {
		s = geom.Cubic(s.P0, s.P0.Lerp(s.P1, 1.0/3), s.P0.Lerp(s.P1, 2.0/3), s.P1)
	}
	out := s.P1.Sub(s.P0).Unit().Right()
	was := s.Length()
	lo, hi := 0.0, 400.0
	bent := func(d float64) geom.Segment {
		return geom.Cubic(s.P0, s.C1.Add(out.Mul(d)), s.C2.Add(out.Mul(d)), s.P1)
	}
	if bent(1).Length() < was {
		out = out.Mul(-1) // it lay the other way
	}
	for range 60 {
		if m := (lo + hi) / 2; bent(m).Length() < was+by {
			lo = m
		} else {
			hi = m
		}
	}
	e.Path[k] = bent(hi)
}

// turned returns a direction turned by degrees.
func turned(v geom.Point, by float64) geom.Point {
	return geom.Rotation(geom.Point{}, by*math.Pi/180).Apply(v)
}

// handle turns the control point beside the start or end of an edge about the
// corner, keeping its length; a line becomes a curve.
func handle(e *pattern.Edge, atStart bool, by float64) {
	k := len(e.Path) - 1
	if atStart {
		k = 0
	}
	s := &e.Path[k]
	if !s.Curved {
		*s = geom.Cubic(s.P0, s.P0.Lerp(s.P1, 1.0/3), s.P0.Lerp(s.P1, 2.0/3), s.P1)
	}
	if atStart {
		s.C1 = s.P0.Add(turned(s.C1.Sub(s.P0), by))
	} else {
		s.C2 = s.P1.Add(turned(s.C2.Sub(s.P1), by))
	}
}

// handlesTurned turns a line at a corner where it runs on across a seam or a
// fold: 10, 15 and 35 degrees in both directions.
func handlesTurned(sound map[string]*pattern.Pattern) (list []Fault) {
	for _, c := range []struct {
		from, piece, edge string
		atStart           bool
		code              finding.Code
		seam              string
		twice             bool // the line is mirrored: the kink is double
		mate              [2]string
		mateStart         bool
	}{
		{"dress", "bodice-front", "armscye", true, pairing.CornerKink, "shoulder", false, [2]string{"bodice-back", "armscye"}, false},
		{"dress", "bodice-back", "armscye", false, pairing.CornerKink, "shoulder", false, [2]string{"bodice-front", "armscye"}, true},
		{"dress", "bodice-front", "armscye", false, pairing.CornerKink, "side", false, [2]string{"bodice-back", "armscye"}, true},
		{"dress", "bodice-back", "armscye", true, pairing.CornerKink, "side", false, [2]string{"bodice-front", "armscye"}, false},
		{"dress", "bodice-front", "neckline", false, pairing.CornerKink, "shoulder", false, [2]string{"bodice-back", "neckline"}, true},
		{"dress", "bodice-back", "neckline", true, pairing.CornerKink, "shoulder", false, [2]string{"bodice-front", "neckline"}, false},
		{"dress", "bodice-front", "waist", true, pairing.CornerKink, "side", false, [2]string{"bodice-back", "waist"}, false},
		{"dress", "bodice-back", "waist", false, pairing.CornerKink, "side", false, [2]string{"bodice-front", "waist"}, true},
		{"dress", "skirt-front", "hem", true, pairing.CornerKink, "skirt-side", false, [2]string{"skirt-back", "hem"}, false},
		{"dress", "skirt-back", "hem", false, pairing.CornerKink, "skirt-side", false, [2]string{"skirt-front", "hem"}, true},
		{"dress", "skirt-front", "waist", false, pairing.CornerKink, "skirt-side", false, [2]string{"skirt-back", "waist"}, true},
		{"dress", "sleeve", "hem", true, pairing.CornerKink, "sleeve-underarm", false, [2]string{"sleeve", "hem"}, false},
		{"dress", "sleeve", "hem", false, pairing.CornerKink, "sleeve-underarm", false, [2]string{"sleeve", "hem"}, true},
		{"dress", "sleeve", "cap", true, pairing.CornerKink, "sleeve-underarm", false, [2]string{"sleeve", "cap"}, false},
		{"dress", "facing-front", "outer", true, pairing.CornerKink, "facing-shoulder", false, [2]string{"facing-back", "outer"}, false},
		{"dress", "bodice-front", "neckline", true, pairing.CornerCentre, "", true, [2]string{"bodice-front", "neckline"}, true},
		{"dress", "bodice-front", "waist", false, pairing.CornerCentre, "", true, [2]string{"bodice-front", "waist"}, false},
		{"dress", "bodice-back", "neckline", false, pairing.CornerCentre, "", true, [2]string{"bodice-back", "neckline"}, false},
		{"dress", "facing-front", "outer", false, pairing.CornerCentre, "", true, [2]string{"facing-front", "outer"}, false},
		{"dress", "skirt-front", "hem", false, pairing.CornerCentre, "skirt-centre-front", true, [2]string{"skirt-front", "hem"}, false},
		{"dress", "skirt-front", "waist", true, pairing.CornerCentre, "skirt-centre-front", true, [2]string{"skirt-front", "waist"}, true},
		{"dress", "skirt-back", "hem", true, pairing.CornerCentre, "skirt-centre-back", true, [2]string{"skirt-back", "hem"}, true},
		{"tabard", "front-left", "armhole", true, pairing.CornerKink, "side-left", false, [2]string{"back", "armhole.left"}, false},
		{"tabard", "front-right", "armhole", true, pairing.CornerKink, "shoulder-right", false, [2]string{"back", "armhole.right"}, false},
		{"tabard", "front-right", "neck", false, pairing.CornerKink, "shoulder-right", false, [2]string{"back", "neck"}, true},
		{"tabard", "back", "hem", true, pairing.CornerKink, "side-left", false, [2]string{"front-left", "hem"}, false},
		{"gown", "skirt-front", "hem", true, pairing.CornerKink, "skirt-side", false, [2]string{"skirt-back", "hem"}, false},
		{"gown", "bodice-front", "neckline", true, pairing.CornerCentre, "", true, [2]string{"bodice-front", "neckline"}, true},
	} {
		for _, by := range [...]float64{10, -10, 15, -15, 35, -35} {
			code := c.code
			kink := by
			if c.twice {
				if math.Abs(by) > 30 {
					code = pairing.CornerPoint
				}
				kink = 2 * by
			}
			list = append(list, Fault{
				Kind: "line turned at a corner", From: c.from, Name: fmt.Sprintf("%s/%s by %.0f degrees, start %v", c.piece, c.edge, by, c.atStart),
				Plant: func(p *pattern.Pattern) []Want {
					e := edgeOf(p, c.piece, c.edge)
					handle(e, c.atStart, by)
					at := func(e *pattern.Edge, start bool) geom.Point {
						if start {
							return e.Path.Start()
						}
						return e.Path.End()
					}
					w := want(code, c.seam, 0, spot(c.piece, c.edge, at(e, c.atStart)),
						spot(c.mate[0], c.mate[1], at(edgeOf(p, c.mate[0], c.mate[1]), c.mateStart)))
					_ = kink // the sound corner is itself true to a few tenths of a degree only
					return w
				},
				Follows: shapeCodes,
			})
		}
	}
	return list
}

// kinksInside bends curves and lines in the middle of an edge.
func kinksInside(sound map[string]*pattern.Pattern) (list []Fault) {
	for _, from := range drawn {
		p := sound[from]
		for i := range p.Pieces {
			piece := &p.Pieces[i]
			for k := range piece.Edges {
				e := &piece.Edges[k]
				if e.Finish == pattern.Fold || e.Path.Length() < 90 {
					continue // a bent fold has its own code
				}
				// Half way, unless something is folded away there.
				at := freePlace(piece, e)
				if at == 0 {
					continue
				}
				for _, by := range [...]float64{12, -12, 40} {
					list = append(list, Fault{
						Kind: "kink inside a line", From: from, Name: fmt.Sprintf("%s/%s by %.0f degrees", piece.Name, e.Name, by),
						Plant: func(p *pattern.Pattern) []Want {
							e := edgeOf(p, piece.Name, e.Name)
							before, after := e.Path.Split(at)
							q := after.Start()
							s := &after[0]
							if !s.Curved {
								*s = geom.Cubic(s.P0, s.P0.Lerp(s.P1, 1.0/3), s.P0.Lerp(s.P1, 2.0/3), s.P1)
							}
							s.C1 = q.Add(turned(s.C1.Sub(q), by))
							e.Path = before.Join(after)
							return want(pairing.CurveKink, "", by, spot(piece.Name, e.Name, q))
						},
						Follows: append(slices.Clone(shapeCodes), pairing.GrainOutside), // of a band no wider than the kink is high
					})
				}
			}
		}
	}
	return list
}

// freePlace returns a place along an edge, near its middle, that no dart, pleat,
// gather or joint of its path is near to; 0 where there is none.
func freePlace(p *pattern.Piece, e *pattern.Edge) float64 {
	l := e.Path.Length()
	for _, share := range [...]float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8} {
		at := share * l
		free := func(edge string, from, to float64) bool {
			return edge != e.Name || at < from-20 || at > to+20
		}
		ok := at > 35 && at < l-35
		for _, d := range p.Darts {
			ok = ok && free(d.Edge, d.From, d.To)
		}
		for _, d := range p.Pleats {
			ok = ok && free(d.Edge, d.From, d.To)
		}
		for _, d := range p.Gathers {
			ok = ok && free(d.Edge, d.From, d.To)
		}
		along := 0.0
		for _, s := range e.Path {
			ok = ok && math.Abs(along-at) > 10
			along += s.Length()
		}
		if ok {
			return at
		}
	}
	return 0
}
