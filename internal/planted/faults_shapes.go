package planted

import (
	"fmt"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
)

// afterShape are what comes of an outline that cannot be cut: hardly anything that
// is asked of its edges means what it did.
var afterShape = append(slices.Clone(shapeCodes), pairing.BoundarySliver, pairing.BoundaryTouching, pairing.BoundaryCrossing,
	pairing.PointDoubled, pairing.GrainOutside, pairing.DartPoint, pairing.CutCount, pairing.SeamTwist)

// outlineFaults spoil an outline where an edge has room for it: points doubled,
// spikes, loops, and the whole outline turned or crossed.
func outlineFaults(sound map[string]*pattern.Pattern) (list []Fault) {
	for _, from := range [...]string{"dress", "tabard", "gown"} {
		p := sound[from]
		for i := range p.Pieces {
			piece := &p.Pieces[i]
			for k := range piece.Edges {
				e := &piece.Edges[k]
				at := freePlace(piece, e)
				if at == 0 || e.Finish == pattern.Fold {
					continue
				}
				q, u := e.Path.At(at), e.Path.Direction(at)
				// insert puts a polyline in at the place.
				insert := func(p *pattern.Pattern, points ...geom.Point) {
					e := edgeOf(p, piece.Name, e.Name)
					before, after := e.Path.Split(at)
					after = after.Clone()
					end := points[len(points)-1]
					after[0].P0 = end
					e.Path = before.Join(geom.Polyline(append([]geom.Point{before.End()}, points...)...)).Join(after)
				}
				name := piece.Name + "/" + e.Name
				list = append(list, Fault{
					Kind: "point doubled", From: from, Name: name + ", 0.03 mm off",
					Plant: func(p *pattern.Pattern) []Want {
						insert(p, q.Add(u.Left().Mul(0.03)))
						return want(pairing.PointDoubled, "", 0, spot(piece.Name, e.Name, q))
					},
				}, Fault{
					Kind: "point doubled", From: from, Name: name + ", in the same place",
					Plant: func(p *pattern.Pattern) []Want {
						e := edgeOf(p, piece.Name, e.Name)
						before, after := e.Path.Split(at)
						e.Path = append(append(before.Clone(), geom.Line(before.End(), before.End())), after...)
						return want(pairing.PointDoubled, "", 0, spot(piece.Name, e.Name, q))
					},
				}, Fault{
					Kind: "spike", From: from, Name: name + ", there and back",
					Plant: func(p *pattern.Pattern) []Want {
						insert(p, q.Add(u.Right().Mul(15)), q)
						return []Want{{Codes: codes(pairing.BoundaryTouching, pairing.BoundarySliver), Spots: []Spot{on(piece.Name, e.Name)}}}
					},
					Follows: afterShape,
				}, Fault{
					Kind: "spike", From: from, Name: name + ", 0.2 mm wide outwards",
					Plant: func(p *pattern.Pattern) []Want {
						insert(p, q.Add(u.Mul(0.1)).Add(u.Right().Mul(25)), q.Add(u.Mul(0.2)))
						return []Want{{Codes: codes(pairing.BoundarySliver), Spots: []Spot{on(piece.Name, e.Name)}}}
					},
					Follows: afterShape,
				}, Fault{
					Kind: "spike", From: from, Name: name + ", 2 mm wide",
					Plant: func(p *pattern.Pattern) []Want {
						insert(p, q.Add(u.Mul(1)).Add(u.Right().Mul(12)), q.Add(u.Mul(2)))
						return []Want{{Codes: codes(pairing.CurveKink, pairing.BoundarySliver), Spots: []Spot{on(piece.Name, e.Name)}}}
					},
					Follows: afterShape,
				}, Fault{
					Kind: "loop in a line", From: from, Name: name,
					Plant: func(p *pattern.Pattern) []Want {
						insert(p, q.Add(u.Mul(12)), q.Add(u.Mul(12)).Add(u.Left().Mul(12)), q.Add(u.Mul(6)).Add(u.Right().Mul(9)), q.Add(u.Mul(4)).Add(u.Right().Mul(3)))
						return []Want{{Codes: codes(pairing.BoundaryCrossing), Spots: []Spot{on(piece.Name, e.Name)}}}
					},
					Follows: afterShape,
				})
			}
			n := len(piece.Edges)
			list = append(list, Fault{
				Kind: "clockwise", From: from, Name: piece.Name + ", with its seams and marks set right",
				Plant: func(p *pattern.Pattern) []Want {
					*p.Piece(piece.Name) = turnedRound(*p.Piece(piece.Name))
					for i := range p.Seams {
						for _, run := range [...]pattern.Run{p.Seams[i].A, p.Seams[i].B} {
							for j := range run {
								if run[j].Piece == piece.Name {
									run[j].Backwards = !run[j].Backwards
								}
							}
						}
					}
					return want(pairing.BoundaryClockwise, "", 0, Spot{Piece: piece.Name})
				},
				// The rounds that a body passes are walked by the edges' own direction.
				Follows: codes(pairing.HemTurn, pairing.AllowanceCrossing),
			}, Fault{
				Kind: "clockwise", From: from, Name: piece.Name + ", turned over as it lies",
				Plant: func(p *pattern.Pattern) []Want {
					q := p.Piece(piece.Name)
					flip := geom.Reflection(geom.Pt(0, 0), geom.Pt(0, 1))
					for i := range q.Edges {
						q.Edges[i].Path = q.Edges[i].Path.Transform(flip)
					}
					q.Grain = pattern.Grain{From: flip.Apply(q.Grain.From), To: flip.Apply(q.Grain.To)}
					for i := range q.Darts {
						q.Darts[i].Point = flip.Apply(q.Darts[i].Point)
					}
					return want(pairing.BoundaryClockwise, "", 0, Spot{Piece: piece.Name})
				},
				Follows: codes(pairing.HemTurn, pairing.AllowanceCrossing, pairing.MirrorShape),
			})
			if n < 4 {
				continue
			}
			for k := range piece.Edges {
				next := (k + 1) % n
				list = append(list, Fault{
					Kind: "figure of eight", From: from, Name: cornerName(piece, k) + ", swapped with the next",
					Plant: func(p *pattern.Pattern) []Want {
						q := p.Piece(piece.Name)
						a, b := q.Edges[k].Path.Start(), q.Edges[next].Path.Start()
						straight := func(i int, from, to geom.Point) { q.Edges[i].Path = geom.Path{geom.Line(from, to)} }
						straight((k+n-1)%n, q.Edges[(k+n-1)%n].Path.Start(), b)
						straight(k, b, a)
						straight(next, a, q.Edges[next].Path.End())
						x, ok := meet(q.Edges[(k+n-1)%n].Path[0], q.Edges[next].Path[0])
						if !ok {
							return nil
						}
						return want(pairing.BoundaryCrossing, "", 0, Spot{Piece: piece.Name, At: &x})
					},
					Follows: append(slices.Clone(afterShape), pairing.FoldBent),
				})
			}
		}
	}
	return slices.DeleteFunc(list, func(f Fault) bool { return len(f.Plant(sound[f.From].Clone())) == 0 })
}

// meet returns where two lines cross between their ends.
func meet(a, b geom.Segment) (geom.Point, bool) {
	u, v := a.P1.Sub(a.P0), b.P1.Sub(b.P0)
	d := u.Cross(v)
	if d == 0 {
		return geom.Point{}, false
	}
	t, s := b.P0.Sub(a.P0).Cross(v)/d, b.P0.Sub(a.P0).Cross(u)/d
	return a.At(t), t > 0.05 && t < 0.95 && s > 0.05 && s < 0.95
}

// pieceFaults change a piece as a whole: its mirror image, its shape where it
// touches itself or is too thin, how often it is cut.
func pieceFaults(sound map[string]*pattern.Pattern) (list []Fault) {
	tabard := sound["tabard"]
	front := tabard.Piece("front-right")
	for k := range front.Edges {
		for _, v := range [...]geom.Point{geom.Pt(2, 0), geom.Pt(0, 2), geom.Pt(-1, -1)} {
			q := front.Edges[k].Path.Start().Add(v)
			left := geom.Pt(-q.X, q.Y)
			list = append(list, Fault{
				Kind: "left and right unlike", From: "tabard", Name: fmt.Sprintf("%s by %v", cornerName(front, k), v),
				Plant: func(p *pattern.Pattern) []Want {
					dragCorner(p.Piece("front-right"), k, v)
					return want(pairing.MirrorShape, "", 0, Spot{Piece: "front-right", At: &q}, Spot{Piece: "front-left", At: &left})
				},
				Follows: shapeCodes,
			})
		}
	}
	for _, side := range [...]string{"left", "right"} {
		name := "front-" + side
		list = append(list, Fault{
			Kind: "piece flipped", From: "tabard", Name: name,
			Plant: func(p *pattern.Pattern) []Want {
				*p.Piece(name) = mirrored(*p.Piece(name), name, geom.Reflection(geom.Pt(0, 0), geom.Pt(0, 1)))
				return slices.Concat(want(pairing.MirrorShape, "", 0, Spot{Piece: "front-right"}, Spot{Piece: "front-left"}),
					want(pairing.SeamTwist, "side-"+side, 0, on(name, "side"), on("back", "side."+side)))
			},
			Follows: append(slices.Clone(afterShape), pairing.SeamTwist),
		})
	}
	for _, c := range []struct{ from, piece string }{
		{"dress", "bodice-front"}, {"dress", "bodice-back"}, {"dress", "sleeve"}, {"dress", "skirt-front"}, {"dress", "skirt-back"},
		{"gown", "bodice-front"}, {"gown", "bodice-back"}, {"gown", "skirt-back"}, {"allowed", "sleeve"},
	} {
		list = append(list, Fault{
			Kind: "piece flipped", From: c.from, Name: c.piece,
			Plant: func(p *pattern.Pattern) (wants []Want) {
				*p.Piece(c.piece) = mirrored(*p.Piece(c.piece), c.piece, geom.Reflection(geom.Pt(0, 0), geom.Pt(0, 1)))
				for i := range p.Seams {
					s := &p.Seams[i]
					a, b := slices.ContainsFunc(s.A, func(r pattern.EdgeRef) bool { return r.Piece == c.piece }), slices.ContainsFunc(s.B, func(r pattern.EdgeRef) bool { return r.Piece == c.piece })
					if a != b && len(s.A) == 1 && len(s.B) == 1 {
						wants = append(wants, want(pairing.SeamTwist, s.Name, 0, sewnAlong(s.A, s.B)...)...)
					}
				}
				return wants
			},
			Follows: append(slices.Clone(afterShape), pairing.SeamTwist, pairing.SeamRun, pairing.SewingOrder, pairing.NotchMissing, pairing.AllowanceMismatch),
		})
	}
	for _, c := range []struct {
		from, piece string
		cut         pattern.Cut
		seam        string // empty: any
	}{
		{"dress", "sleeve", pattern.Cut{Count: 1}, "armscye"},
		{"dress", "sleeve", pattern.Cut{Count: 2}, "armscye"},
		{"dress", "sleeve", pattern.Cut{Count: 4, Mirrored: true}, "armscye"},
		{"dress", "bodice-back", pattern.Cut{Count: 1}, "side"},
		{"dress", "bodice-back", pattern.Cut{Count: 2}, "side"},
		{"dress", "bodice-front", pattern.Cut{Count: 2}, "side"},
		{"dress", "skirt-front", pattern.Cut{Count: 1}, "skirt-side"},
		{"dress", "skirt-back", pattern.Cut{Count: 4, Mirrored: true}, "skirt-side"},
		{"dress", "facing-back", pattern.Cut{Count: 1}, ""},
		{"gown", "sleeve", pattern.Cut{Count: 1}, ""},
		{"gown", "bodice-back", pattern.Cut{Count: 2}, ""},
		{"tabard", "back", pattern.Cut{Count: 3}, ""},
	} {
		list = append(list, Fault{
			Kind: "cut another number of times", From: c.from, Name: fmt.Sprintf("%s: %+v", c.piece, c.cut),
			Plant: func(p *pattern.Pattern) []Want {
				p.Piece(c.piece).Cut = c.cut
				return []Want{{Codes: codes(pairing.CutCount), Seam: c.seam}}
			},
			Follows: codes(pairing.CutCount, pairing.SeamMirror),
		})
	}
	for _, c := range []struct{ piece, seam string }{{"skirt-front", "skirt-centre-front"}, {"skirt-back", "skirt-centre-back"}} {
		list = append(list, Fault{
			Kind: "sewn to a mirror image that is not cut", From: "dress", Name: c.seam,
			Plant: func(p *pattern.Pattern) []Want {
				p.Piece(c.piece).Cut = pattern.Cut{Count: 2}
				return want(pairing.SeamMirror, c.seam, 0, Spot{Piece: c.piece})
			},
			Follows: codes(pairing.CutCount),
		})
	}
	// A bodice whose side is drawn in until it touches the fold, and a strip of it.
	for _, c := range []struct {
		name string
		x    float64
		code []string
	}{{"drawn in to the fold", 0, []string{"touching"}}, {"drawn in to 0.3 mm of the other side", 0.3, nil}, {"drawn in across the other side", -20, []string{"crossing"}}} {
		list = append(list, Fault{
			Kind: "outline touches or crosses itself", From: "tabard", Name: "front-left " + c.name,
			Plant: func(p *pattern.Pattern) []Want {
				e := edgeOf(p, "front-left", "side")
				a, b := e.Path.Start(), e.Path.End()
				e.Path = geom.Polyline(a, geom.Pt(c.x, 150), b)
				code := codes(pairing.BoundarySliver, pairing.BoundaryTouching)
				if c.x < 0 {
					return []Want{{Codes: codes(pairing.BoundaryCrossing), Spots: []Spot{{Piece: "front-left"}}}}
				}
				if c.x == 0 {
					code = codes(pairing.BoundaryTouching)
				}
				return []Want{{Codes: code, Spots: []Spot{{Piece: "front-left", At: &geom.Point{X: c.x / 2, Y: 150}}}}}
			},
			Follows: afterShape,
		})
	}
	for _, name := range [...]string{"front-left", "back"} {
		list = append(list, Fault{
			Kind: "sliver", From: "tabard", Name: name + " squeezed to nothing",
			Plant: func(p *pattern.Pattern) []Want {
				q := p.Piece(name)
				squeeze := geom.ScaleAlong(geom.Pt(0, 0), geom.Pt(1, 0), 1e-6)
				for i := range q.Edges {
					q.Edges[i].Path = q.Edges[i].Path.Transform(squeeze)
				}
				return []Want{{Codes: codes(pairing.BoundarySliver, pairing.BoundaryTouching, pairing.BoundaryCrossing), Spots: []Spot{{Piece: name}}}}
			},
			Follows: afterShape,
		}, Fault{
			Kind: "sliver", From: "tabard", Name: name + " squeezed to 0.4 mm",
			Plant: func(p *pattern.Pattern) []Want {
				q := p.Piece(name)
				box := q.Boundary().Bounds()
				squeeze := geom.ScaleAlong(geom.Pt(0, 0), geom.Pt(1, 0), 0.4/box.Width())
				for i := range q.Edges {
					q.Edges[i].Path = q.Edges[i].Path.Transform(squeeze)
				}
				return []Want{{Codes: codes(pairing.BoundarySliver), Spots: []Spot{{Piece: name}}}}
			},
			Follows: afterShape,
		})
	}
	return list
}
