package alter

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"bygone.example/core/finding"
	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
)

// shiftCorner moves the corner at the end of edge i by v, and the handles of the
// curves that meet there with it: what a slip of the tracing wheel does.
func shiftCorner(p *pattern.Piece, i int, v geom.Point) {
	a, b := p.Edges[i].Path, p.Edges[(i+1)%len(p.Edges)].Path
	last, first := &a[len(a)-1], &b[0]
	last.P1, last.C2 = last.P1.Add(v), last.C2.Add(v)
	first.P0, first.C1 = first.P0.Add(v), first.C1.Add(v)
}

// codes lists what is found, but for what was found before already.
func codes(p *pattern.Pattern) map[finding.Code]int {
	n := map[finding.Code]int{}
	for _, f := range pairing.Check(p) {
		n[f.Code]++
	}
	return n
}

// outlineApart is Hausdorff's distance of two boundaries, by points set along the
// edges that differ and measured to the other's true curves: another way than
// Moved's.
func outlineApart(a, b *pattern.Piece) float64 {
	far := func(from, to *pattern.Piece) float64 {
		worst := 0.0
		for _, e := range from.Edges {
			o := to.Edge(e.Name)
			if o != nil && samePath(o.Path, e.Path) {
				continue
			}
			long := e.Path.Length()
			for d := 0.0; d <= long; d += math.Max(4, long/40) {
				q := e.Path.At(d)
				off := math.Inf(1)
				if o != nil {
					_, off = o.Path.Nearest(q)
				}
				if off > worst { // else the rest of the boundary cannot be further
					_, off = to.Boundary().Nearest(q)
				}
				worst = math.Max(worst, off)
			}
		}
		return worst
	}
	return math.Max(far(a, b), far(b, a))
}

func TestShareLength(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		var plain []string
		for _, s := range p.Seams {
			if s.Meeting.Kind == pattern.Plain && len(s.B) > 0 {
				plain = append(plain, s.Name)
			}
		}
		s := p.Seam(rapid.SampledFrom(plain).Draw(t, "seam"))
		run := rapid.SampledFrom([]pattern.Run{s.A, s.B}).Draw(t, "side")
		ref := run[len(run)-1]
		piece := p.Piece(ref.Piece)
		i := piece.EdgeIndex(ref.Edge)
		if ref.Backwards {
			i = (i + len(piece.Edges) - 1) % len(piece.Edges)
		}
		along := piece.Edge(ref.Edge).Path.EndDirection()
		if ref.Backwards {
			along = piece.Edge(ref.Edge).Path.StartDirection()
		}
		shiftCorner(piece, i, along.Mul(rapid.Float64Range(-5, 5).Draw(t, "by")))
		if len(p.Validate()) > 0 {
			t.Skip("no pattern any more")
		}
		off := p.RunLength(s.B) - p.RunLength(s.A)
		const bound = 3.0
		way := rapid.SampledFrom([]ShareWay{ShareAuto, ShareEnd, ShareStart, ShareBend}).Draw(t, "way")
		a, no := lawful(t, p, func(p *pattern.Pattern) (*operation.Answer, error) {
			return ShareLength(p, Sharing{Seam: s.Name, Way: way, A: 0.5, Bound: bound})
		})
		if no != nil {
			return
		}
		within(t, "difference of the sides", a.Pattern.RunLength(s.B)-a.Pattern.RunLength(s.A), 0, 5e-9)
		within(t, "side a", a.Pattern.RunLength(s.A), p.RunLength(s.A)+off/2, 5e-9)
		for _, other := range p.Seams {
			if other.Name == s.Name || len(other.B) == 0 {
				continue
			}
			now := a.Pattern.Seam(other.Name)
			within(t, "sides of seam "+other.Name, a.Pattern.RunLength(now.B)-a.Pattern.RunLength(now.A), p.RunLength(other.B)-p.RunLength(other.A), 1e-8)
		}
		for k := range p.Pieces {
			if d := outlineApart(&p.Pieces[k], a.Pattern.Piece(p.Pieces[k].Name)); d > bound+0.02 {
				t.Errorf("the outline of %s moved by %.3f mm", p.Pieces[k].Name, d)
			}
		}
	})
}

func TestShareLengthOfAnEasedSeam(t *testing.T) {
	p := dress(t)
	for i := range p.Seams {
		s := &p.Seams[i]
		if s.Meeting.Kind != pattern.Eased {
			continue
		}
		ease := p.RunLength(s.B) - p.RunLength(s.A)
		s.Meeting.Ease = pattern.Range{Min: ease + 1, Max: ease + 6}
		a := done(t, p, func(p *pattern.Pattern) (*operation.Answer, error) {
			return ShareLength(p, Sharing{Seam: s.Name, Way: ShareBend, A: 0, Bound: 3})
		})
		within(t, "ease", a.Pattern.RunLength(s.B)-a.Pattern.RunLength(s.A), ease+1, 1e-8)
		return
	}
	t.Error("the dress has no eased seam")
}

func TestTrueCorner(t *testing.T) {
	for _, degrees := range []float64{9, -9, 14, -14, 20} {
		p := dress(t)
		piece := p.Piece("skirt-back")
		hem := piece.EdgesByRole(pattern.Hem)[0]
		for _, atStart := range []bool{true, false} {
			s := &hem.Path[len(hem.Path)-1]
			pivot, handle := s.P1, &s.C2
			if atStart {
				s = &hem.Path[0]
				pivot, handle = s.P0, &s.C1
			}
			if !s.Curved {
				*s = geom.Cubic(s.P0, s.P0.Lerp(s.P1, 1./3), s.P0.Lerp(s.P1, 2./3), s.P1)
			}
			*handle = geom.Rotation(pivot, degrees*math.Pi/180).Apply(*handle)
		}
		found := pairing.Check(p)
		for n := 0; len(found) > 0; n++ {
			f := found[0]
			if f.Code != pairing.CornerKink && f.Code != pairing.CornerCentre || n > 4 {
				t.Fatalf("%g degrees: %d: %s", degrees, n, f.Text)
			}
			a := done(t, p, func(p *pattern.Pattern) (*operation.Answer, error) {
				return TrueCorner(p, Cornering{Seam: f.Place.Seam, Piece: f.Place.Piece, Edge: f.Place.Edge, Bound: 3})
			})
			if d := outlineApart(piece, a.Pattern.Piece(piece.Name)); d > 6 { // two corners at most
				t.Errorf("%g degrees: moved by %.3f mm", degrees, d)
			}
			p = a.Pattern
			found = pairing.Check(p)
		}
	}
}

func TestTrueNotches(t *testing.T) {
	sound := dress(t)
	notched := func(p *pattern.Pattern) *pattern.Piece {
		for i := range p.Pieces {
			if len(p.Pieces[i].Notches) > 0 {
				return &p.Pieces[i]
			}
		}
		t.Fatal("the dress has no notches")
		return nil
	}
	for name, spoil := range map[string]func(*pattern.Piece){
		"dropped": func(p *pattern.Piece) { p.Notches = p.Notches[1:] },
		"shifted": func(p *pattern.Piece) { p.Notches[len(p.Notches)-1].At += 3 },
		"doubled": func(p *pattern.Piece) { p.Notches[0].Count = p.Notches[0].Count%3 + 1 },
	} {
		t.Run(name, func(t *testing.T) {
			p := sound.Clone()
			spoil(notched(p))
			if len(pairing.Check(p)) == 0 {
				t.Fatal("the check does not see it")
			}
			a := done(t, p, func(p *pattern.Pattern) (*operation.Answer, error) {
				return TrueNotches(p, NotchTruing{LongerThan: 150, Clear: 20, Bound: 3})
			})
			if left := pairing.Check(a.Pattern); len(left) > 0 {
				t.Errorf("left: %s", left[0].Text)
			}
			if _, _, by := MostMoved(p, a.Pattern); by != 0 {
				t.Errorf("a line moved by %g mm", by)
			}
		})
	}
}

func TestTrueDart(t *testing.T) {
	for _, aside := range []float64{1, -2, 2.5} {
		p := dress(t)
		piece := p.Piece("bodice-front")
		for k := range piece.Darts {
			d := &piece.Darts[k]
			path := piece.Edge(d.Edge).Path
			d.Point = d.Point.Add(path.At(d.To).Sub(path.At(d.From)).Unit().Mul(aside))
		}
		before := codes(p)
		if before[pairing.DartLegs] != len(piece.Darts) {
			t.Fatalf("planted %d, found %v", len(piece.Darts), before)
		}
		for _, d := range piece.Darts {
			a := done(t, p, func(p *pattern.Pattern) (*operation.Answer, error) {
				return TrueDart(p, DartTruing{Piece: piece.Name, Dart: d.Name, Bound: 3})
			})
			p = a.Pattern
		}
		if left := codes(p); len(left) > 0 {
			t.Errorf("aside %g: left %v", aside, left)
		}
	}
}

func TestStraightenFold(t *testing.T) {
	p := dress(t)
	var name string
	for i := range p.Pieces {
		for k := range p.Pieces[i].Edges {
			if e := &p.Pieces[i].Edges[k]; e.Finish == pattern.Fold && name == "" {
				name = p.Pieces[i].Name
				a, b := e.Path.Start(), e.Path.End()
				e.Path = geom.Polyline(a, a.Lerp(b, 0.3).Add(b.Sub(a).Unit().Left().Mul(1.5)), b)
			}
		}
	}
	if codes(p)[pairing.FoldBent] != 1 {
		t.Fatalf("found %v", codes(p))
	}
	a := done(t, p, func(p *pattern.Pattern) (*operation.Answer, error) {
		return StraightenFold(p, FoldTruing{Piece: name, Bound: 3})
	})
	if left := codes(a.Pattern); len(left) > 0 {
		t.Errorf("left %v", left)
	}
}

// A piece that was mirrored runs clockwise; turned round its shape is the same
// and its seams and marks meet as they did.
func TestTurnRound(t *testing.T) {
	sound := dress(t)
	for i := range sound.Pieces {
		p := sound.Clone()
		piece := &p.Pieces[i]
		turnRound(piece)
		for k := range p.Seams {
			turnRefs(p.Seams[k].A, piece.Name)
			turnRefs(p.Seams[k].B, piece.Name)
		}
		a := done(t, p, func(p *pattern.Pattern) (*operation.Answer, error) {
			return TrueOutline(p, Outlining{Within: 0.05, Bound: 3})
		})
		if left := codes(a.Pattern); len(left) > 0 {
			t.Errorf("%s: left %v", piece.Name, left)
		}
		if d := outlineApart(piece, a.Pattern.Piece(piece.Name)); d > 1e-6 {
			t.Errorf("%s moved by %g mm", piece.Name, d)
		}
		for _, d := range sound.Pieces[i].Darts {
			now := a.Pattern.Piece(piece.Name).Dart(d.Name)
			within(t, "start of dart "+d.Name, now.From, d.From, 1e-6)
			if now.Pressed != d.Pressed {
				t.Errorf("dart %s is pressed %q, was %q", d.Name, now.Pressed, d.Pressed)
			}
		}
	}
}

func TestDropPoints(t *testing.T) {
	p := dress(t)
	e := &p.Pieces[0].Edges[0]
	before, rest := e.Path.Split(e.Path.Length() / 3)
	crumb, rest := rest.Split(0.03)
	e.Path = before.Join(crumb).Join(rest)
	n := len(e.Path)
	a := done(t, p, func(p *pattern.Pattern) (*operation.Answer, error) {
		return DropPoints(p, Outlining{Within: 0.05, Bound: 3})
	})
	if got := len(a.Pattern.Pieces[0].Edges[0].Path); got != n-1 {
		t.Errorf("%d lines and curves are left of %d", got, n)
	}
	if d := outlineApart(&p.Pieces[0], &a.Pattern.Pieces[0]); d > 0.05 {
		t.Errorf("the outline moved by %g mm", d)
	}
}

func TestGrainInside(t *testing.T) {
	p := dress(t)
	g := &p.Pieces[0].Grain
	g.From = g.From.Sub(g.To.Sub(g.From).Mul(5))
	if codes(p)[pairing.GrainOutside] != 1 {
		t.Fatalf("found %v", codes(p))
	}
	a := done(t, p, func(p *pattern.Pattern) (*operation.Answer, error) { return GrainInside(p, "") })
	if left := codes(a.Pattern); len(left) > 0 {
		t.Errorf("left %v", left)
	}
}

// What is true already is left alone, to the last digit.
func TestTrueIsLeftAlone(t *testing.T) {
	p := dress(t)
	for name, do := range map[string]alteration{
		"length": func(p *pattern.Pattern) (*operation.Answer, error) {
			return TrueNotches(p, NotchTruing{LongerThan: 150, Clear: 20, Bound: 3})
		},
		"fold": func(p *pattern.Pattern) (*operation.Answer, error) { return StraightenFold(p, FoldTruing{Bound: 3}) },
		"outline": func(p *pattern.Pattern) (*operation.Answer, error) {
			return TrueOutline(p, Outlining{Within: 0.05, Bound: 3})
		},
		"grain":   func(p *pattern.Pattern) (*operation.Answer, error) { return GrainInside(p, "") },
		"gathers": func(p *pattern.Pattern) (*operation.Answer, error) { return DrawUp(p, "") },
	} {
		a := done(t, p, do)
		if piece, edge, by := MostMoved(p, a.Pattern); by != 0 {
			t.Errorf("%s: %s/%s moved by %g mm", name, piece, edge, by)
		}
		for i := range p.Pieces {
			if len(a.Pattern.Pieces[i].Notches) != len(p.Pieces[i].Notches) {
				t.Errorf("%s: piece %s has other notches", name, p.Pieces[i].Name)
			}
		}
	}
}

func TestMoved(t *testing.T) {
	line := geom.Path{geom.Line(geom.Pt(0, 0), geom.Pt(100, 0))}
	for name, c := range map[string]struct {
		a, b geom.Path
		want float64
	}{
		"nothing":         {line, line, 0},
		"aside":           {line, line.Transform(geom.Translation(geom.Pt(0, 2))), 2},
		"longer":          {line, geom.Path{geom.Line(geom.Pt(0, 0), geom.Pt(103, 0))}, 3},
		"a point between": {line, geom.Polyline(geom.Pt(0, 0), geom.Pt(40, 0), geom.Pt(100, 0)), 0},
		"a bump":          {line, geom.Polyline(geom.Pt(0, 0), geom.Pt(50, 1.5), geom.Pt(100, 0)), 1.5},
		"empty":           {nil, line, 0},
	} {
		within(t, name, Moved(c.a, c.b), c.want, 0.001)
		within(t, name+", the other way", Moved(c.b, c.a), c.want, 0.001)
	}
}

func TestTruingRefusals(t *testing.T) {
	p := dress(t)
	long := p.Clone()
	shiftCorner(long.Piece("skirt-front"), long.Piece("skirt-front").EdgeIndex("hem"), geom.Pt(0, 0))
	refusals{
		{"no seam", p, func(p *pattern.Pattern) (*operation.Answer, error) {
			return ShareLength(p, Sharing{Seam: "nowhere", Way: ShareEnd, A: 0.5, Bound: 3})
		}, `the pattern has no seam "nowhere"`},
		{"no share", p, func(p *pattern.Pattern) (*operation.Answer, error) {
			return ShareLength(p, Sharing{Way: ShareEnd, A: 2, Bound: 3})
		}, "side a cannot take 2 of a difference; give it between 0 and 1"},
		{"no corner", p, func(p *pattern.Pattern) (*operation.Answer, error) {
			return TrueCorner(p, Cornering{Piece: "nothing", Edge: "hem", Bound: 3})
		}, `the pattern has no piece "nothing"; its pieces are bodice-front, bodice-back, sleeve, skirt-front, skirt-back, facing-front, facing-back`},
		{"no dart", p, func(p *pattern.Pattern) (*operation.Answer, error) {
			return TrueDart(p, DartTruing{Piece: "skirt-front", Dart: "none", Bound: 3})
		}, `piece "skirt-front" has no darts; leave this step out`},
		{"no fold", p, func(p *pattern.Pattern) (*operation.Answer, error) {
			return StraightenFold(p, FoldTruing{Piece: "skirt-front", Edge: "hem", Bound: 3})
		}, `edge "hem" of piece "skirt-front" is no fold`},
		{"no distance", p, func(p *pattern.Pattern) (*operation.Answer, error) {
			return DropPoints(p, Outlining{Bound: 3})
		}, "points are one when they lie near one another, and how near was not said; give a distance of more than 0 mm"},
		{"no grain", p, func(p *pattern.Pattern) (*operation.Answer, error) { return GrainInside(p, "nothing") }, `the pattern has no piece "nothing"`},
		{"no gathers", p, func(p *pattern.Pattern) (*operation.Answer, error) { return DrawUp(p, "nowhere") }, `the pattern has no seam "nowhere"`},
	}.try(t)
}
