package planted

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"bygone.example/core/geom"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
)

// dartFaults move the points of darts, their legs and the lines beside their
// mouths.
func dartFaults(sound map[string]*pattern.Pattern) (list []Fault) {
	for _, from := range [...]string{"dress", "allowed", "lined", "gown/lengthen-skirt"} {
		p := sound[from]
		for i := range p.Pieces {
			piece := &p.Pieces[i]
			for k, d := range piece.Darts {
				e := piece.Edge(d.Edge)
				mouth := e.Path.At(d.To).Sub(e.Path.At(d.From)).Unit()
				name := piece.Name + "/" + d.Name
				for _, by := range [...]float64{2, -2, 0.8, -6} {
					list = append(list, Fault{
						Kind: "dart's point moved aside", From: from, Name: fmt.Sprintf("%s by %.1f mm", name, by),
						Plant: func(p *pattern.Pattern) []Want {
							q := &p.Piece(piece.Name).Darts[k]
							q.Point = q.Point.Add(mouth.Mul(by))
							a, b := e.Path.At(d.From).Dist(q.Point), e.Path.At(d.To).Dist(q.Point)
							if math.Abs(a-b) < 0.12 {
								return nil
							}
							return want(pairing.DartLegs, "", a-b, spot(piece.Name, d.Edge, q.Point))
						},
						Follows: codes(pairing.DartMouth),
					})
				}
				for _, by := range [...]float64{2, -2, 6} {
					list = append(list, Fault{
						Kind: "dart's leg moved", From: from, Name: fmt.Sprintf("%s by %.1f mm", name, by),
						Plant: func(p *pattern.Pattern) []Want {
							q := &p.Piece(piece.Name).Darts[k]
							q.From -= by
							a, b := e.Path.At(q.From).Dist(q.Point), e.Path.At(q.To).Dist(q.Point)
							wants := want(pairing.SeamLength, "", by, sewnAlong(pattern.Run{{Piece: piece.Name, Edge: d.Edge}}, otherSide(p, piece.Name, d.Edge))...)
							if math.Abs(a-b) >= 0.12 {
								wants = append(wants, want(pairing.DartLegs, "", a-b, spot(piece.Name, d.Edge, q.Point))...)
							}
							return wants
						},
						Follows: codes(pairing.DartLegs, pairing.DartMouth, pairing.NotchDrift, pairing.CurveKink),
					})
				}
				list = append(list, Fault{
					Kind: "dart points out of the piece", From: from, Name: name,
					Plant: func(p *pattern.Pattern) []Want {
						q := &p.Piece(piece.Name).Darts[k]
						q.Point = geom.Reflection(e.Path.At(d.From), e.Path.At(d.To)).Apply(q.Point)
						return want(pairing.DartPoint, "", 0, spot(piece.Name, d.Edge, q.Point))
					},
					Follows: codes(pairing.DartMouth),
				})
				for _, by := range [...]float64{12, -12, 30, -30} {
					list = append(list, Fault{
						Kind: "dart's mouth not true", From: from, Name: fmt.Sprintf("%s by %.0f degrees beyond it", name, by),
						Plant: func(p *pattern.Pattern) []Want {
							e := edgeOf(p, piece.Name, d.Edge)
							before, after := e.Path.Split(d.To)
							q, s := after.Start(), &after[0]
							if !s.Curved {
								*s = geom.Cubic(s.P0, s.P0.Lerp(s.P1, 1.0/3), s.P0.Lerp(s.P1, 2.0/3), s.P1)
							}
							s.C1 = q.Add(turned(s.C1.Sub(q), by))
							e.Path = before.Join(after)
							return want(pairing.DartMouth, "", 0, spot(piece.Name, d.Edge, e.Path.At(d.From)), spot(piece.Name, d.Edge, e.Path.At(d.To)))
						},
						Follows: shapeCodes,
					})
				}
				list = append(list, Fault{
					Kind: "dart's mouth not true", From: from, Name: name + " sewn to a third of its length",
					Plant: func(p *pattern.Pattern) []Want {
						q := &p.Piece(piece.Name).Darts[k]
						q.Point = e.Path.At(d.From).Lerp(e.Path.At(d.To), 0.5).Lerp(q.Point, 0.3)
						return want(pairing.DartMouth, "", 0, spot(piece.Name, d.Edge, e.Path.At(d.From)), spot(piece.Name, d.Edge, e.Path.At(d.To)))
					},
					Follows: codes(pairing.DartLegs),
				})
			}
		}
	}
	return slices.DeleteFunc(list, func(f Fault) bool { return len(f.Plant(sound[f.From].Clone())) == 0 })
}

// otherSide is what an edge is sewn to.
func otherSide(p *pattern.Pattern, piece, edge string) pattern.Run {
	seams := p.SeamsOf(piece, edge)
	switch {
	case len(seams) == 0:
		return nil
	case seams[0].A.Has(piece, edge):
		return seams[0].B
	}
	return seams[0].A
}

// allowanceFaults change the allowance of one edge.
func allowanceFaults(sound map[string]*pattern.Pattern) (list []Fault) {
	for _, from := range [...]string{"allowed", "gown"} {
		p := sound[from]
		for i := range p.Seams {
			s := &p.Seams[i]
			if len(s.B) == 0 {
				continue
			}
			for _, ref := range [...]pattern.EdgeRef{s.A[0], s.B[len(s.B)-1]} {
				if edgeOf(p, ref.Piece, ref.Edge).Allowance == 0 {
					continue
				}
				for _, by := range [...]float64{-0.7, -5, 3} {
					list = append(list, Fault{
						Kind: "one allowance changed", From: from, Name: fmt.Sprintf("%s by %.1f mm", ref, by),
						Plant: func(p *pattern.Pattern) []Want {
							edgeOf(p, ref.Piece, ref.Edge).Allowance += by
							return want(pairing.AllowanceMismatch, s.Name, by, sewnAlong(s.A, s.B)...)
						},
						Follows: codes(pairing.AllowanceMismatch),
					})
				}
			}
		}
	}
	for _, c := range []struct {
		from, piece string
		width       float64
	}{{"allowed", "skirt-front", 450}, {"allowed", "skirt-back", 450}, {"gown", "skirt-front", 900}, {"allowed", "sleeve", 300}} {
		list = append(list, Fault{
			Kind: "hem too deep", From: c.from, Name: fmt.Sprintf("%s, %.0f mm", c.piece, c.width),
			Plant: func(p *pattern.Pattern) []Want {
				edgeOf(p, c.piece, "hem").Allowance = c.width
				return want(pairing.HemTurn, "", 0, on(c.piece, "hem"))
			},
			Follows: codes(pairing.HemTurn, pairing.AllowanceCrossing),
		})
	}
	wide := func(p *pattern.Pattern, width float64) {
		for i := range p.Pieces {
			for j := range p.Pieces[i].Edges {
				p.Pieces[i].Edges[j].Allowance = width
			}
		}
	}
	for _, width := range [...]float64{10, 15} {
		list = append(list, Fault{
			Kind: "allowances that cross", From: "tabard", Name: fmt.Sprintf("a slit 4 mm wide with %.0f mm", width),
			Plant: func(p *pattern.Pattern) []Want {
				wide(p, width)
				edgeOf(p, "back", "hem").Path = geom.Polyline(geom.Pt(-240, 0), geom.Pt(-2, 0), geom.Pt(0, 60), geom.Pt(2, 0), geom.Pt(240, 0))
				return want(pairing.AllowanceCrossing, "", 0, on("back", "hem"))
			},
			Follows: codes(pairing.CurveKink, pairing.HemTurn),
		})
	}
	return append(list, Fault{
		Kind: "allowances that cross", From: "tabard", Name: "25 mm round the neck",
		Plant: func(p *pattern.Pattern) []Want {
			wide(p, 25)
			return want(pairing.AllowanceCrossing, "", 0, on("back", "neck"), on("back", "shoulder.left"), on("back", "shoulder.right"))
		},
		Follows: codes(pairing.AllowanceCrossing),
	})
}

// sewingFaults look at how the garment is put together: heads of sleeves,
// facings and linings, openings, cloth, order.
func sewingFaults(sound map[string]*pattern.Pattern) (list []Fault) {
	for _, from := range [...]string{"dress", "allowed"} {
		seam := sound[from].Seam("armscye")
		along := sewnAlong(seam.A, seam.B)
		for _, by := range [...]float64{8, 20, 45, -20} {
			list = append(list, Fault{
				Kind: "sleeve's head wider or narrower", From: from, Name: fmt.Sprintf("%.0f mm at either end", by),
				Plant: func(p *pattern.Pattern) []Want {
					sleeve := p.Piece("sleeve")
					k := sleeve.EdgeIndex("cap")
					dragCorner(sleeve, k, geom.Pt(by, 0))
					dragCorner(sleeve, k+1, geom.Pt(-by, 0))
					ease := p.RunLength(seam.B) - p.RunLength(seam.A)
					if seam.Meeting.Ease.Holds(ease, 0.2) {
						return nil
					}
					return want(pairing.SeamEase, "armscye", 0, along...)
				},
				Follows: shapeCodes,
			})
		}
		for _, by := range [...]float64{25, -25, 10, -12} {
			list = append(list, Fault{
				Kind: "ease of a sleeve shifted to one side", From: from, Name: fmt.Sprintf("shoulder notch of the head by %.0f mm", by),
				Plant: func(p *pattern.Pattern) []Want {
					shiftNotch(p, "sleeve", "cap", "shoulder", by)
					return []Want{{Codes: codes(pairing.NotchDrift, pairing.CapEase), Seam: "armscye", Spots: along}}
				},
				Follows: codes(pairing.NotchDrift, pairing.CapEase),
			})
		}
		for _, c := range [...]struct {
			notch string
			by    float64
		}{{"front", 14}, {"back", -14}, {"front", 7}, {"back", -6}, {"front", -4}, {"back", 4}} {
			list = append(list, Fault{
				Kind: "ease of a sleeve under the arm", From: from, Name: fmt.Sprintf("%s notch of the head by %.0f mm", c.notch, c.by),
				Plant: func(p *pattern.Pattern) []Want {
					shiftNotch(p, "sleeve", "cap", c.notch, c.by)
					return []Want{{Codes: codes(pairing.NotchDrift, pairing.CapEase), Seam: "armscye", Spots: along}}
				},
				Follows: codes(pairing.NotchDrift, pairing.CapEase),
			})
		}
		for name, bounds := range map[string]pattern.Range{"more meant": {Min: 40, Max: 50}, "less meant": {Min: 0, Max: 5}} {
			list = append(list, Fault{
				Kind: "ease out of bounds", From: from, Name: name,
				Plant: func(p *pattern.Pattern) []Want {
					p.Seam("armscye").Meeting.Ease = bounds
					return want(pairing.SeamEase, "armscye", 0, along...)
				},
			})
		}
		for _, c := range []struct {
			piece, edge string
			start, end  float64
		}{{"facing-front", "neckline", 1.8, 0.5}, {"facing-front", "neckline", 0.5, 1.7}, {"facing-back", "neckline", 0.3, 2.2}} {
			list = append(list, Fault{
				Kind: "facing of another shape", From: from, Name: fmt.Sprintf("%s/%s, curves times %.1f and %.1f", c.piece, c.edge, c.start, c.end),
				Plant: func(p *pattern.Pattern) []Want {
					reshape(edgeOf(p, c.piece, c.edge), c.start, c.end)
					return want(pairing.FacingShape, "facing-neckline", 0, on(c.piece, c.edge))
				},
				Follows: shapeCodes,
			})
		}
	}
	list = append(list, liningFaults(sound)...)
	for _, c := range []struct{ from, opening string }{{"dress", "bodice-back"}, {"dress", "both"}, {"allowed", "both"}} {
		list = append(list, Fault{
			Kind: "opening closed", From: c.from, Name: c.opening,
			Plant: func(p *pattern.Pattern) []Want {
				pieces := []string{"bodice-back"}
				if c.opening == "both" {
					pieces = append(pieces, "skirt-back")
				}
				for _, name := range pieces {
					edgeOf(p, name, "centre-back.opening").Finish = pattern.Sewn
					p.Seams = append(p.Seams, pattern.Seam{Name: name + "-closed", A: pattern.Run{{Piece: name, Edge: "centre-back.opening"}}, Meeting: pattern.Meeting{Kind: pattern.Plain}})
				}
				return []Want{{Codes: codes(pairing.OpeningMissing), Spots: []Spot{on("bodice-front", "neckline"), on("bodice-back", "neckline"), on("bodice-front", "waist"), on("bodice-back", "waist"), on("skirt-front", "waist"), on("skirt-back", "waist")}}}
			},
			Follows: codes(pairing.CornerCentre, pairing.CornerPoint, pairing.OpeningMissing),
		})
	}
	for _, from := range [...]string{"dress", "tabard", "lined", "pleated"} { // without allowances, which would add to it
		for _, share := range [...]float64{0.999, 0.8, 0.5} {
			// How wide each piece lies on the cloth, from its points alone.
			p := sound[from]
			wide := make([]float64, len(p.Pieces))
			widest := 0.0
			for i := range p.Pieces {
				wide[i] = across(&p.Pieces[i])
				widest = max(widest, wide[i])
			}
			list = append(list, Fault{
				Kind: "piece wider than the cloth", From: from, Name: fmt.Sprintf("cloth of %.0f mm", widest*share),
				Options: pairing.Options{Cloth: pairing.Cloth{Width: widest * share}},
				Plant: func(p *pattern.Pattern) (wants []Want) {
					for i := range p.Pieces {
						if wide[i] > widest*share+0.2 {
							wants = append(wants, want(pairing.ClothWidth, "", 0, Spot{Piece: p.Pieces[i].Name})...)
						}
					}
					return wants
				},
			})
		}
	}
	for _, prefix := range [...]string{"", "under-"} {
		from := "dress"
		if prefix != "" {
			from = "twelve"
		}
		list = append(list, Fault{
			Kind: "seams that wait for each other", From: from, Name: prefix + "side through the waist",
			Plant: func(p *pattern.Pattern) []Want {
				p.Seams = slices.DeleteFunc(p.Seams, func(s pattern.Seam) bool { return s.Name == prefix+"skirt-side" })
				s := p.Seam(prefix + "side")
				s.A = append(s.A, pattern.EdgeRef{Piece: prefix + "skirt-front", Edge: "side"})
				s.B = append(s.B, pattern.EdgeRef{Piece: prefix + "skirt-back", Edge: "side", Backwards: true})
				waist := p.Seam(prefix + "waist")
				return want(pairing.SewingOrder, "", 0, sewnAlong(s.A, s.B, waist.A, waist.B)...)
			},
			Follows: codes(pairing.NotchDrift, pairing.SeamRun),
		})
	}
	for _, c := range []struct{ piece, edge string }{{"bodice-front", "shoulder"}, {"bodice-back", "side"}, {"sleeve", "cap"}, {"skirt-front", "side"}} {
		list = append(list, Fault{
			Kind: "edge left to nobody", From: "dress", Name: c.piece + "/" + c.edge,
			Plant: func(p *pattern.Pattern) (wants []Want) {
				for i := range p.Seams {
					s := &p.Seams[i]
					if s.A.Has(c.piece, c.edge) || s.B.Has(c.piece, c.edge) {
						s.A, s.B = slices.DeleteFunc(s.A, func(r pattern.EdgeRef) bool { return r.Piece == c.piece }), slices.DeleteFunc(s.B, func(r pattern.EdgeRef) bool { return r.Piece == c.piece })
						if len(s.A) == 0 {
							s.A, s.B = s.B, nil
						}
					}
				}
				e := edgeOf(p, c.piece, c.edge)
				return want(pairing.EdgeLoose, "", 0, spot(c.piece, c.edge, e.Path.At(e.Path.Length()/2)))
			},
			Follows: codes(pairing.SeamLength, pairing.SeamMirror, pairing.NotchDrift, pairing.NotchMissing, pairing.SeamRun, pairing.CutCount, pairing.SeamEase, pairing.OpeningMissing, pairing.CornerCentre, pairing.CornerPoint, pairing.EdgeLoose),
		})
	}
	for _, c := range []struct{ piece, edge string }{{"sleeve", "hem"}, {"skirt-front", "hem"}, {"skirt-back", "centre-back.opening"}, {"facing-front", "outer"}} {
		list = append(list, Fault{
			Kind: "edge left to nobody", From: "dress", Name: c.piece + "/" + c.edge + ", its finish lost",
			Plant: func(p *pattern.Pattern) []Want {
				e := edgeOf(p, c.piece, c.edge)
				e.Finish = pattern.Sewn
				return want(pairing.EdgeLoose, "", 0, spot(c.piece, c.edge, e.Path.At(e.Path.Length()/2)))
			},
		})
	}
	return slices.DeleteFunc(list, func(f Fault) bool { return len(f.Plant(sound[f.From].Clone())) == 0 })
}

func shiftNotch(p *pattern.Pattern, piece, edge, name string, by float64) {
	for i := range p.Piece(piece).Notches {
		if n := &p.Piece(piece).Notches[i]; n.Edge == edge && n.Name == name {
			n.At += by
		}
	}
}

// reshape makes the handles at the ends of an edge longer or shorter and leaves
// their directions.
func reshape(e *pattern.Edge, start, end float64) {
	a, b := &e.Path[0], &e.Path[len(e.Path)-1]
	a.C1 = a.P0.Add(a.C1.Sub(a.P0).Mul(start))
	b.C2 = b.P1.Add(b.C2.Sub(b.P1).Mul(end))
}

// across is how far a piece reaches across its grain, opened out where it is cut
// on the fold, without allowances.
func across(p *pattern.Piece) float64 {
	u := p.Grain.To.Sub(p.Grain.From).Unit().Right()
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, q := range p.Boundary().Flatten(0.01) {
		lo, hi = min(lo, q.Dot(u)), max(hi, q.Dot(u))
	}
	for i := range p.Edges {
		if p.Edges[i].Finish == pattern.Fold {
			return 2 * (hi - lo)
		}
	}
	return hi - lo
}

// liningFaults give the edges of a lining that are sewn to its outer another
// curve, with the directions at its ends left as they are.
func liningFaults(sound map[string]*pattern.Pattern) (list []Fault) {
	p := sound["lined"]
	for i := range p.Seams {
		s := &p.Seams[i]
		if len(s.A) == 0 || len(s.B) == 0 {
			continue
		}
		for _, pair := range [...][2]pattern.EdgeRef{{s.A[0], s.B[0]}, {s.B[0], s.A[0]}} {
			inner, outer := pair[0], pair[1]
			if !strings.HasPrefix(inner.Piece, "lining-") || strings.HasPrefix(outer.Piece, "lining-") || !edgeOf(p, inner.Piece, inner.Edge).Path[0].Curved {
				continue
			}
			for _, k := range [...][2]float64{{3, 0.3}, {4, 0.2}} {
				list = append(list, Fault{
					Kind: "lining of another shape", From: "lined", Name: fmt.Sprintf("%s/%s, curves times %.1f and %.1f", inner.Piece, inner.Edge, k[0], k[1]),
					Plant: func(p *pattern.Pattern) []Want {
						reshape(edgeOf(p, inner.Piece, inner.Edge), k[0], k[1])
						return want(pairing.LiningShape, s.Name, 0, on(inner.Piece, inner.Edge))
					},
					Follows: shapeCodes,
				})
			}
		}
	}
	return list
}
