package planted

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// smallMoves moves corners by less than a pencil line, and whole pieces any way:
// the check may not depend on where a piece lies on the table, where its edges
// begin, or from which end a seam is walked.
func smallMoves(sound map[string]*pattern.Pattern) (list []Fault) {
	add := func(kind, from, name string, do func(p *pattern.Pattern)) {
		list = append(list, Fault{Kind: kind, From: from, Name: name, Plant: func(p *pattern.Pattern) []Want { do(p); return nil }})
	}
	for _, from := range drawn {
		p := sound[from]
		for i := range p.Pieces {
			for k := range p.Pieces[i].Edges {
				for _, v := range [...]geom.Point{geom.Pt(0.04, 0), geom.Pt(0, -0.04)} {
					add("corner within tolerance", from, fmt.Sprintf("%s by %v", cornerName(&p.Pieces[i], k), v), func(p *pattern.Pattern) {
						moveCorner(&p.Pieces[i], k, v)
					})
				}
			}
		}
		for _, turn := range [...]float64{0.1, 1, 2.5, math.Pi} {
			add("pieces laid elsewhere", from, fmt.Sprintf("turned by %.1f", turn), func(p *pattern.Pattern) {
				for i := range p.Pieces {
					lay(&p.Pieces[i], geom.Translation(geom.Pt(1000*float64(i), -300)).After(geom.Rotation(geom.Pt(17, 3), turn*float64(i+1))))
				}
			})
		}
		add("edges listed from another corner", from, "the second", func(p *pattern.Pattern) {
			for i := range p.Pieces {
				e := p.Pieces[i].Edges
				p.Pieces[i].Edges = append(e[1:len(e):len(e)], e[0])
			}
		})
		add("seams walked from the other end", from, "all", func(p *pattern.Pattern) {
			for i := range p.Seams {
				p.Seams[i].A, p.Seams[i].B = turnedRun(p.Seams[i].A), turnedRun(p.Seams[i].B)
				if len(p.Seams[i].B) == 0 {
					p.Seams[i].B = nil
				}
			}
		})
		add("sides of plain seams swapped", from, "all", func(p *pattern.Pattern) {
			for i := range p.Seams {
				if s := &p.Seams[i]; s.Meeting.Kind == pattern.Plain && len(s.B) > 0 && s.Kind == pattern.Joined {
					s.A, s.B = s.B, s.A
				}
			}
		})
		add("pieces and seams listed backwards", from, "all", func(p *pattern.Pattern) {
			slices.Reverse(p.Pieces)
			slices.Reverse(p.Seams)
		})
		add("all pieces mirrored", from, "all", func(p *pattern.Pattern) {
			for i := range p.Pieces {
				p.Pieces[i] = mirrored(p.Pieces[i], p.Pieces[i].Name, geom.Reflection(geom.Pt(0, 0), geom.Pt(0, 1)))
			}
			for i := range p.Seams {
				for _, run := range [...]pattern.Run{p.Seams[i].A, p.Seams[i].B} {
					for j := range run {
						run[j].Backwards = !run[j].Backwards
					}
				}
			}
		})
	}
	for _, by := range [...]float64{8, -5} {
		add("ease shared unevenly", "dress", fmt.Sprintf("shoulder notch of the head by %.0f mm", by), func(p *pattern.Pattern) {
			shiftNotch(p, "sleeve", "cap", "shoulder", by)
		})
	}
	add("sleeve set in flat", "dress", "underarm and side in one", func(p *pattern.Pattern) {
		p.Seams = slices.DeleteFunc(p.Seams, func(s pattern.Seam) bool { return s.Name == "sleeve-underarm" })
		s := p.Seam("side")
		s.A = append(pattern.Run{{Piece: "sleeve", Edge: "underarm.front"}}, s.A...)
		s.B = append(pattern.Run{{Piece: "sleeve", Edge: "underarm.back", Backwards: true}}, s.B...)
	})
	return list
}

// lay turns and moves a piece with all that is on it.
func lay(p *pattern.Piece, m geom.Affine) {
	for i := range p.Edges {
		p.Edges[i].Path = p.Edges[i].Path.Transform(m)
	}
	p.Grain = pattern.Grain{From: m.Apply(p.Grain.From), To: m.Apply(p.Grain.To)}
	for i := range p.Darts {
		p.Darts[i].Point = m.Apply(p.Darts[i].Point)
	}
	for i := range p.Landmarks {
		p.Landmarks[i].At = m.Apply(p.Landmarks[i].At)
	}
}

// smallShapes turns lines, folds, grain and allowances by less than shows.
func smallShapes(sound map[string]*pattern.Pattern) (list []Fault) {
	add := func(kind, from, name string, do func(p *pattern.Pattern)) {
		list = append(list, Fault{Kind: kind, From: from, Name: name, Plant: func(p *pattern.Pattern) []Want { do(p); return nil }})
	}
	for _, f := range foldFaults(sound) {
		if f.Kind != "fold bent" {
			continue
		}
		add("fold within tolerance", f.From, f.Name+", but by a tenth of it at most", func(p *pattern.Pattern) {
			q := p.Clone()
			f.Plant(q)
			for i := range q.Pieces {
				for k, e := range q.Pieces[i].Edges {
					if was := p.Pieces[i].Edges[k].Path; e.Finish == pattern.Fold && len(e.Path) != len(was) {
						at := e.Path[0].P1
						along, off := was.Nearest(at)
						foot := was.At(along)
						p.Pieces[i].Edges[k].Path = geom.Polyline(e.Path.Start(), foot.Lerp(at, min(1, 0.08/off)), e.Path.End())
					}
				}
			}
		})
	}
	for _, from := range drawn {
		p := sound[from]
		for i := range p.Pieces {
			piece := &p.Pieces[i]
			add("grainline the other way", from, piece.Name, func(p *pattern.Pattern) {
				g := &p.Pieces[i].Grain
				g.From, g.To = g.To, g.From
			})
			if piece.OnFold() {
				add("grainline within tolerance", from, piece.Name, func(p *pattern.Pattern) {
					g := &p.Pieces[i].Grain
					m, v := g.From.Lerp(g.To, 0.5), turned(g.To.Sub(g.From).Mul(0.1), 0.4)
					g.From, g.To = m.Sub(v), m.Add(v)
				})
			}
			for k, e := range piece.Edges {
				at := freePlace(piece, &piece.Edges[k])
				if at != 0 && e.Finish != pattern.Fold {
					add("line divided without moving it", from, piece.Name+"/"+e.Name, func(p *pattern.Pattern) {
						before, after := p.Pieces[i].Edges[k].Path.Split(at)
						p.Pieces[i].Edges[k].Path = before.Join(after)
					})
				}
				if e.Allowance > 0 && e.Finish != pattern.Fold {
					add("allowance within tolerance", from, piece.Name+"/"+e.Name, func(p *pattern.Pattern) {
						p.Pieces[i].Edges[k].Allowance += 0.4
					})
				}
			}
			for k := range piece.Darts {
				add("dart within tolerance", from, piece.Name+"/"+piece.Darts[k].Name, func(p *pattern.Pattern) {
					q := &p.Pieces[i]
					d := &q.Darts[k]
					e := q.Edge(d.Edge)
					d.Point = d.Point.Add(e.Path.At(d.To).Sub(e.Path.At(d.From)).Unit().Mul(0.25))
				})
			}
		}
	}
	front := sound["tabard"].Piece("front-right")
	for k := range front.Edges {
		add("left and right nearly alike", "tabard", cornerName(front, k), func(p *pattern.Pattern) {
			// Along the grain at the front and hem, where nothing is sewn.
			if n := front.Edges[k].Name; n == "front" {
				dragCorner(p.Piece("front-right"), k, geom.Pt(0, 0.3))
			}
		})
	}
	return list
}
