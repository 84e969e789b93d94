package planted

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
)

// sewnAlong is every edge of a run.
func sewnAlong(runs ...pattern.Run) (spots []Spot) {
	for _, run := range runs {
		for _, ref := range run {
			spots = append(spots, on(ref.Piece, ref.Edge))
		}
	}
	return spots
}

// turnedRun is a run walked from its other end.
func turnedRun(run pattern.Run) pattern.Run {
	run = slices.Clone(run)
	slices.Reverse(run)
	for i := range run {
		run[i].Backwards = !run[i].Backwards
	}
	return run
}

// seamFaults are slips of the pen in the list of seams.
func seamFaults(sound map[string]*pattern.Pattern) (list []Fault) {
	for _, from := range [...]string{"dress", "tabard", "gown", "layered", "lined"} {
		p := sound[from]
		for i := range p.Seams {
			s := &p.Seams[i]
			list = append(list, Fault{
				Kind: "seam dropped", From: from, Name: s.Name,
				Plant: func(p *pattern.Pattern) (wants []Want) {
					p.Seams = slices.DeleteFunc(p.Seams, func(o pattern.Seam) bool { return o.Name == s.Name })
					for _, ref := range slices.Concat(s.A, s.B) {
						if e := edgeOf(p, ref.Piece, ref.Edge); e.Finish == pattern.Sewn && !slices.ContainsFunc(p.SeamsOf(ref.Piece, ref.Edge), func(o *pattern.Seam) bool {
							return o.Kind != pattern.Basted || o.A.Has(ref.Piece, ref.Edge) // a layer on it does not hold it
						}) {
							wants = append(wants, want(pairing.EdgeLoose, "", 0, spot(ref.Piece, ref.Edge, e.Path.At(e.Path.Length()/2)))...)
						}
					}
					return wants
				},
				// What it held together is held by nothing now.
				Follows: codes(pairing.SeamRun, pairing.SewingOrder),
			})
			if len(s.B) == 0 {
				continue
			}
			list = append(list, Fault{
				Kind: "seam walked the wrong way", From: from, Name: s.Name,
				Plant: func(p *pattern.Pattern) []Want {
					t := p.Seam(s.Name)
					t.B = turnedRun(t.B)
					return want(pairing.SeamTwist, s.Name, 0, sewnAlong(s.A, s.B)...)
				},
				Follows: codes(pairing.NotchDrift, pairing.NotchMissing, pairing.SeamRun, pairing.CornerKink, pairing.SewingOrder, pairing.CapEase,
					pairing.AllowanceMismatch, pairing.FacingShape, pairing.LiningShape, pairing.CutCount),
			})
			if s.Kind != pattern.Basted {
				// Its first edge is named in another seam as well.
				list = append(list, Fault{
					Kind: "edge sewn twice", From: from, Name: fmt.Sprintf("%s of %s", s.A[0], s.Name),
					Plant: func(p *pattern.Pattern) []Want {
						p.Seams = append(p.Seams, pattern.Seam{Name: "again", A: pattern.Run{s.A[0]}, B: pattern.Run{s.A[0]}, Meeting: pattern.Meeting{Kind: pattern.Plain}})
						return want(pairing.EdgeTwoFates, "", 0, on(s.A[0].Piece, s.A[0].Edge))
					},
					Follows: codes(pairing.EdgeTwoFates, pairing.NotchDrift, pairing.SeamTwist, pairing.CornerKink, pairing.CutCount, pairing.SewingOrder, pairing.SeamRun),
				})
			}
			for _, finish := range [...]pattern.Finish{pattern.Hemmed, pattern.Faced, pattern.Open} {
				e := s.B[0]
				if s.Kind == pattern.Basted {
					e = s.A[0]
				}
				list = append(list, Fault{
					Kind: "edge finished and sewn", From: from, Name: fmt.Sprintf("%s, %s", e, finish),
					Plant: func(p *pattern.Pattern) []Want {
						q := edgeOf(p, e.Piece, e.Edge)
						q.Finish = finish
						return want(pairing.EdgeTwoFates, s.Name, 0, spot(e.Piece, e.Edge, q.Path.At(q.Path.Length()/2)))
					},
					Follows: codes(pairing.HemTurn),
				})
			}
			if s.Meeting.Kind == pattern.Eased && p.RunLength(s.B)-p.RunLength(s.A) > 1 {
				list = append(list, Fault{
					Kind: "sides of an eased seam swapped", From: from, Name: s.Name,
					Plant: func(p *pattern.Pattern) []Want {
						t := p.Seam(s.Name)
						t.A, t.B = t.B, t.A
						return want(pairing.SeamEase, s.Name, p.RunLength(s.B)-p.RunLength(s.A), sewnAlong(s.A, s.B)...)
					},
					Follows: codes(pairing.CapEase, pairing.NotchDrift, pairing.CutCount),
				})
			}
			if s.Meeting.Kind == pattern.Plain && s.Kind != pattern.Basted {
				list = append(list, Fault{
					Kind: "said to be gathered", From: from, Name: s.Name,
					Plant: func(p *pattern.Pattern) []Want {
						full := false
						for _, ref := range slices.Concat(s.A, s.B) {
							full = full || slices.ContainsFunc(p.Piece(ref.Piece).Gathers, func(g pattern.Gather) bool { return g.Edge == ref.Edge })
						}
						if full {
							return nil
						}
						p.Seam(s.Name).Meeting.Kind = pattern.Gathered
						return want(pairing.FullnessMissing, s.Name, 0, sewnAlong(s.A, s.B)...)
					},
				})
			}
			for name, run := range map[string]pattern.Run{"A": s.A, "B": s.B} {
				if len(run) < 2 {
					continue
				}
				list = append(list, Fault{
					Kind: "run out of order", From: from, Name: fmt.Sprintf("%s of %s, first two edges", name, s.Name),
					Plant: func(p *pattern.Pattern) []Want {
						t := p.Seam(s.Name)
						r := t.A
						if name == "B" {
							r = t.B
						}
						r[0], r[1] = r[1], r[0]
						// Round an armscye either order is one that can be sewn; its notches tell.
						return []Want{{Codes: codes(pairing.SeamRun, pairing.NotchDrift), Seam: s.Name, Spots: sewnAlong(s.A, s.B)}}
					},
					Follows: codes(pairing.SeamRun, pairing.NotchDrift, pairing.NotchMissing, pairing.SeamTwist, pairing.CornerKink, pairing.CapEase, pairing.FacingShape, pairing.LiningShape,
						pairing.AllowanceMismatch, pairing.CutCount, pairing.SewingOrder, pairing.OpeningMissing, pairing.EdgeTwoFates),
				}, Fault{
					Kind: "edge of a run walked the wrong way", From: from, Name: fmt.Sprintf("%s of %s, first edge", name, s.Name),
					Plant: func(p *pattern.Pattern) []Want {
						t := p.Seam(s.Name)
						r := t.A
						if name == "B" {
							r = t.B
						}
						r[0].Backwards = !r[0].Backwards
						return want(pairing.SeamRun, s.Name, 0, on(run[0].Piece, run[0].Edge))
					},
					Follows: codes(pairing.SeamRun, pairing.NotchDrift, pairing.SeamTwist, pairing.CornerKink, pairing.CapEase, pairing.FacingShape, pairing.LiningShape, pairing.SewingOrder),
				})
			}
		}
	}
	return slices.DeleteFunc(list, func(f Fault) bool { return len(f.Plant(sound[f.From].Clone())) == 0 })
}

// fullnessFaults set gathers to other lengths and bounds.
func fullnessFaults(sound map[string]*pattern.Pattern) (list []Fault) {
	for _, from := range [...]string{"gown", "pleated", "tiered", "gown/front-fullness", "gown/puff"} {
		p := sound[from]
		for i := range p.Pieces {
			piece := &p.Pieces[i]
			for k, g := range piece.Gathers {
				for _, s := range p.SeamsOf(piece.Name, g.Edge) {
					if s.Kind == pattern.Basted || len(s.B) == 0 {
						continue
					}
					for _, by := range [...]float64{0.4, 2, -2, 15, -15} {
						if g.Length+by < 5 || g.Length+by > g.To-g.From {
							continue
						}
						list = append(list, Fault{
							Kind: "gathers set to another length", From: from, Name: fmt.Sprintf("%s of %s/%s by %.1f mm", g.Name, piece.Name, g.Edge, by),
							Plant: func(p *pattern.Pattern) []Want {
								was := p.RunLength(s.B) - p.RunLength(s.A)
								p.Piece(piece.Name).Gathers[k].Length += by
								code := pairing.FullnessLength
								switch {
								case s.Meeting.Kind == pattern.Plain:
									code = pairing.SeamLength
								case s.Meeting.Kind == pattern.Eased:
									ease := p.RunLength(s.B) - p.RunLength(s.A)
									if s.Meeting.Ease.Holds(ease, 0.2) || !s.Meeting.Ease.Given() {
										return nil
									}
									code = pairing.SeamEase
								case math.Abs(was) > 0.05:
									return nil
								}
								return want(code, s.Name, 0, sewnAlong(s.A, s.B)...)
							},
							Follows: codes(pairing.NotchDrift, pairing.FullnessRatio, pairing.CapEase, pairing.CornerKink),
						})
					}
					if s.Meeting.Kind == pattern.Gathered {
						list = append(list, Fault{
							Kind: "gathers beyond their bounds", From: from, Name: s.Name + " to be fuller",
							Plant: func(p *pattern.Pattern) []Want {
								p.Seam(s.Name).Meeting.Ratio = pattern.Range{Min: 9, Max: 10}
								return want(pairing.FullnessRatio, s.Name, 0, sewnAlong(s.A, s.B)...)
							},
						}, Fault{
							Kind: "gathers beyond their bounds", From: from, Name: s.Name + " to be less full",
							Plant: func(p *pattern.Pattern) []Want {
								p.Seam(s.Name).Meeting.Ratio = pattern.Range{Min: 1, Max: 1.05}
								return want(pairing.FullnessRatio, s.Name, 0, sewnAlong(s.A, s.B)...)
							},
						})
					}
				}
				full := (g.To - g.From) / g.Length
				if g.Kind == pattern.Gathers && full > 2.1 {
					list = append(list, Fault{
						Kind: "more gathered than the cloth takes", From: from, Name: piece.Name + "/" + g.Edge, Options: pairing.Options{Cloth: pairing.Cloth{Weight: 400}},
						Plant: func(p *pattern.Pattern) []Want {
							e := edgeOf(p, piece.Name, g.Edge)
							return want(pairing.FullnessCloth, "", 0, spot(piece.Name, g.Edge, e.Path.At((g.From+g.To)/2)))
						},
						Follows: codes(pairing.FullnessCloth),
					})
				}
			}
		}
	}
	return slices.DeleteFunc(list, func(f Fault) bool { return len(f.Plant(sound[f.From].Clone())) == 0 })
}

// foldFaults bend folds and set two of them apart.
func foldFaults(sound map[string]*pattern.Pattern) (list []Fault) {
	for _, from := range [...]string{"dress", "gown", "allowed", "lined"} {
		p := sound[from]
		for i := range p.Pieces {
			piece := &p.Pieces[i]
			for k := range piece.Edges {
				e := piece.Edges[k]
				if e.Finish != pattern.Fold {
					continue
				}
				u := e.Path.End().Sub(e.Path.Start()).Unit().Left()
				for _, share := range [...]float64{0.5, 0.2, 0.8} {
					for _, by := range [...]float64{0.5, -0.5, 0.13, 3} {
						list = append(list, Fault{
							Kind: "fold bent", From: from, Name: fmt.Sprintf("%s/%s by %.2f mm at %.1f of it", piece.Name, e.Name, by, share),
							Plant: func(p *pattern.Pattern) []Want {
								q := edgeOf(p, piece.Name, e.Name)
								at := q.Path.At(share * q.Path.Length()).Add(u.Mul(by))
								q.Path = geom.Polyline(q.Path.Start(), at, q.Path.End())
								return want(pairing.FoldBent, "", by, spot(piece.Name, e.Name, at))
							},
							Follows: nil,
						})
					}
				}
				list = append(list, Fault{
					Kind: "fold curved", From: from, Name: piece.Name + "/" + e.Name,
					Plant: func(p *pattern.Pattern) []Want {
						q := edgeOf(p, piece.Name, e.Name)
						a, b := q.Path.Start(), q.Path.End()
						q.Path = geom.Path{geom.Cubic(a, a.Lerp(b, 1.0/3).Add(u.Mul(1)), a.Lerp(b, 2.0/3).Add(u.Mul(1)), b)}
						return want(pairing.FoldBent, "", 0.75, spot(piece.Name, e.Name, a.Lerp(b, 0.5).Add(u.Mul(0.75))))
					},
				})
				list = append(list, Fault{
					Kind: "folds apart", From: from, Name: piece.Name + "/" + e.Name,
					Plant: func(p *pattern.Pattern) []Want {
						q := p.Piece(piece.Name)
						a, b := e.Path.Start(), e.Path.End()
						m := a.Lerp(b, 0.5).Add(u.Mul(-3))
						first, second := e, e
						first.Path, second.Path = geom.Path{geom.Line(a, m)}, geom.Path{geom.Line(m, b)}
						second.Name += ".second"
						q.Edges[k] = first
						q.Edges = slices.Insert(q.Edges, k+1, second)
						return []Want{{Codes: codes(pairing.FoldApart), Spots: []Spot{on(piece.Name, first.Name), on(piece.Name, second.Name)}}}
					},
					Follows: codes(pairing.GrainFold, pairing.CornerCentre),
				})
			}
		}
	}
	return list
}

// grainFaults take the grainline away, put it outside, and turn it on a fold.
func grainFaults(sound map[string]*pattern.Pattern) (list []Fault) {
	for _, from := range [...]string{"dress", "tabard", "gown"} {
		p := sound[from]
		for i := range p.Pieces {
			piece := &p.Pieces[i]
			box := piece.Boundary().Bounds()
			list = append(list, Fault{
				Kind: "grainline missing", From: from, Name: piece.Name,
				Plant: func(p *pattern.Pattern) []Want {
					p.Piece(piece.Name).Grain = pattern.Grain{}
					return want(pairing.GrainMissing, "", 0, Spot{Piece: piece.Name})
				},
			})
			for name, v := range map[string]geom.Point{"beyond the bottom": geom.Pt(0, -1), "beyond the top": geom.Pt(0, 1)} {
				list = append(list, Fault{
					Kind: "grainline outside", From: from, Name: piece.Name + " " + name,
					Plant: func(p *pattern.Pattern) []Want {
						g := &p.Piece(piece.Name).Grain
						end := &g.From
						if v.Dot(g.To.Sub(g.From)) > 0 {
							end = &g.To
						}
						end.Y = box.Min.Y - 2
						if v.Y > 0 {
							end.Y = box.Max.Y + 2
						}
						return want(pairing.GrainOutside, "", 0, Spot{Piece: piece.Name, At: &geom.Point{X: end.X, Y: end.Y}})
					},
				})
			}
			list = append(list, Fault{
				Kind: "grainline outside", From: from, Name: piece.Name + " both ends",
				Plant: func(p *pattern.Pattern) []Want {
					g := &p.Piece(piece.Name).Grain
					v := geom.Pt(box.Width()+40, 0)
					g.From, g.To = g.From.Add(v), g.To.Add(v)
					a, b := g.From, g.To
					return want(pairing.GrainOutside, "", 0, Spot{Piece: piece.Name, At: &a}, Spot{Piece: piece.Name, At: &b})
				},
			})
			if !piece.OnFold() {
				continue // off a fold a grainline may lie any way
			}
			for _, by := range [...]float64{0.8, -2, 5, -20} {
				list = append(list, Fault{
					Kind: "grainline turned on a fold", From: from, Name: fmt.Sprintf("%s by %.1f degrees", piece.Name, by),
					Plant: func(p *pattern.Pattern) []Want {
						g := &p.Piece(piece.Name).Grain
						// About its middle, and short enough to stay inside.
						m, v := g.From.Lerp(g.To, 0.5), turned(g.To.Sub(g.From).Mul(0.1), by)
						g.From, g.To = m.Sub(v), m.Add(v)
						return want(pairing.GrainFold, "", by, Spot{Piece: piece.Name})
					},
				})
			}
		}
	}
	return list
}
