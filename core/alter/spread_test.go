package alter

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
	"bygone.example/internal/bodies"
)

// smoothEdge holds that an edge has no corner inside it and turns back nowhere.
func smoothEdge(t failer, p *pattern.Pattern, piece, edge string) {
	t.Helper()
	path := p.Piece(piece).Edge(edge).Path
	for k := 1; k < len(path); k++ {
		if turn := geom.Turn(path[k-1].Direction(1), path[k].Direction(0)); math.Abs(turn) > 1e-6 {
			t.Errorf("%s/%s has a corner of %.3g degrees", piece, edge, degrees(turn))
		}
	}
	const step = 2
	long := path.Length()
	for at := step; float64(at) < long; at += step {
		a, b := path.Direction(float64(at-step)), path.Direction(float64(at))
		if turn := geom.Turn(a, b); math.Abs(turn) > 35*math.Pi/180 {
			t.Errorf("%s/%s turns by %.0f degrees within %d mm, at %d of %.0f", piece, edge, degrees(turn), step, at, long)
		}
	}
}

// anySpread draws a slash and spread of a skirt or bodice back, wherever that
// can be.
func anySpread(t *rapid.T, p *pattern.Pattern) Spreading {
	where := rapid.SampledFrom([][2]string{
		{"skirt-front", pattern.Hem}, {"skirt-back", pattern.Hem}, {"skirt-front", pattern.Waist}, {"skirt-back", pattern.Waist},
		{"sleeve", pattern.Hem}, {"sleeve", pattern.Cap}, {"bodice-front", pattern.Neckline},
	}).Draw(t, "where")
	o := Spreading{
		Piece: where[0], Edge: where[1], Slashes: rapid.IntRange(1, 6).Draw(t, "slashes"),
		Open: rapid.Float64Range(2, 120).Draw(t, "open"), Lean: rapid.SampledFrom([]float64{0, 0, 0.5, -0.8}).Draw(t, "lean"),
		Way: rapid.SampledFrom([]Way{AlongGrain, ToShare}).Draw(t, "way"),
	}
	long := length(p, o.Piece, o.Edge)
	if rapid.Bool().Draw(t, "a stretch") {
		o.From, o.To = 0.2*long, 0.7*long
	}
	o.Far = o.Open * rapid.SampledFrom([]float64{0, 0, 0.5, 1, 1.5}).Draw(t, "far")
	taking := func(edge string) Taking {
		if edge == pattern.Hem {
			return AsFlare
		}
		return rapid.SampledFrom([]Taking{AsGathers, AsEase, AsKnife, AsBox, AsInverted}).Draw(t, "take")
	}
	o.Take = taking(o.Edge)
	o.TakeFar = AsGathers
	if o.Edge != pattern.Hem {
		o.TakeFar = AsFlare
	}
	return o
}

// What is opened is what the edge gains, to the last digit; what is hinged keeps
// its length; what is recorded keeps what it measured sewn; no line has a corner
// or a cusp that it had not.
func TestSlashAndSpread(t *testing.T) {
	did := 0
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		o := anySpread(t, p)
		a, no := faultless(t, p, of(SlashAndSpread, o))
		if no != nil {
			return
		}
		did++
		within(t, "gain of "+o.Edge, length(a.Pattern, o.Piece, o.Edge)-length(p, o.Piece, o.Edge), o.Open, exact)
		far := 0.0
		for _, e := range p.Piece(o.Piece).Edges {
			now := a.Pattern.Piece(o.Piece)
			if e.Name == o.Edge {
				continue
			}
			far += length(a.Pattern, o.Piece, e.Name) - e.Path.Length()
			if o.Far == 0 {
				within(t, "length of "+e.Name, now.Edge(e.Name).Path.Length(), e.Path.Length(), exact)
			}
		}
		within(t, "gain opposite", far, o.Far, exact)
		for _, e := range p.Piece(o.Piece).Edges {
			if len(p.SeamsOf(o.Piece, e.Name)) > 0 && len(p.SeamsOf(o.Piece, e.Name)[0].B) > 0 {
				within(t, "sewn "+e.Name, a.Pattern.Piece(o.Piece).SewnLength(e.Name), p.Piece(o.Piece).SewnLength(e.Name), exact)
			}
			if apart(p.Piece(o.Piece), a.Pattern.Piece(o.Piece)) == 0 {
				t.Errorf("nothing was done")
			}
		}
		for _, e := range []string{pattern.Hem, pattern.Waist, pattern.Cap, pattern.Neckline} {
			if q := a.Pattern.Piece(o.Piece); q.Edge(e) != nil && !slices.ContainsFunc(p.Piece(o.Piece).Darts, func(d pattern.Dart) bool { return d.Edge == e }) {
				smoothEdge(t, a.Pattern, o.Piece, e)
			}
		}
		others(t, p, a.Pattern, o.Piece)
	})
	if did < 20 {
		t.Errorf("only %d of the cases could be done", did)
	}
}

// CONO p. 17 (W35): flare by slashing, held at the top and spread below by any
// amount: what is held is unchanged, the hem grows by the sum of the chords.
func TestSlashAndSpreadFlare(t *testing.T) {
	const inch = 25.4
	refused := 0
	for _, b := range realBodies(t) {
		p := draftOf(t, b)
		a, no := lawful(t, p, of(SlashAndSpread, Spreading{Piece: "skirt-front", Edge: pattern.Hem, Slashes: 4, Open: 8 * inch, Way: AlongGrain, Take: AsFlare}))
		if no != nil { // on the shortest gores a slash down the grain ends on the centre front, and bends it too sharply
			t.Log(no)
			refused++
			continue
		}
		within(t, "hem, in", (length(a.Pattern, "skirt-front", pattern.Hem)-length(p, "skirt-front", pattern.Hem))/inch, 8, exact)
		for _, edge := range []string{pattern.Waist, pattern.Side, pattern.CentreFront} {
			within(t, edge, length(a.Pattern, "skirt-front", edge), length(p, "skirt-front", edge), exact)
		}
	}
	if refused > 1 {
		t.Errorf("%d bodies refused", refused)
	}
}

// A plain rectangle: every figure of a slash is known.
func TestSlashAndSpreadRectangle(t *testing.T) {
	p := halfWaist(300, 0)
	base := Spreading{Piece: "half", Edge: "waist", Slashes: 3, Open: 30, Way: AlongGrain, Take: AsFlare, TakeFar: AsFlare}
	parallel := base
	parallel.Far = 30
	a := done(t, p, of(SlashAndSpread, parallel))
	within(t, "area, parallel", area(a.Pattern, "half"), 330*400, 1e-6)
	parallel.Open, parallel.Far = -30, -30
	parallel.From, parallel.To = 0, 0
	b := done(t, a.Pattern, of(SlashAndSpread, parallel))
	within(t, "outline, spread and lapped again", apart(b.Pattern.Piece("half"), p.Piece("half")), 0, exact)

	lean := base
	lean.Far, lean.Lean, lean.Take, lean.TakeFar = 30, 1, AsKnife, AsKnife
	c := done(t, p, of(SlashAndSpread, lean)).Pattern.Piece("half")
	// 0, 10 and 20 mm: the first opens nothing.
	if len(c.Pleats) != 4 {
		t.Fatalf("pleats: %+v", c.Pleats)
	}
	within(t, "waist, sewn", c.SewnLength("waist"), 300, exact)
	within(t, "first pleat", c.Pleats[0].To-c.Pleats[0].From+c.Pleats[1].To-c.Pleats[1].From, 30, exact)

	// One slash hinged: the part swings by 2·asin(open / 2L), L = 400.
	one := base
	one.Slashes = 1
	d := done(t, p, of(SlashAndSpread, one)).Pattern.Piece("half")
	side := d.Edge("side").Path
	within(t, "turn", geom.Turn(geom.Pt(0, 1), side.StartDirection()), 2*math.Asin(30/(2*400.0)), exact)

	// What lies to the side of the line that swings goes with it: a point that a
	// straight slash leaves and one bowed round it takes along.
	p.Pieces[0].Landmarks = []pattern.Landmark{{Name: "spot", At: geom.Pt(140, 200)}}
	line := Spreading{Piece: "half", Edge: "waist", From: 150, Way: AlongLine, ToEdge: "top", ToAt: 150, Open: 20, Far: 20, Take: AsFlare, TakeFar: AsFlare}
	if at := done(t, p, of(SlashAndSpread, line)).Pattern.Piece("half").Landmarks[0].At; !at.Near(geom.Pt(140, 200), exact) {
		t.Errorf("the spot came to %v by a straight slash", at)
	}
	line.Bow = 40
	if at := done(t, p, of(SlashAndSpread, line)).Pattern.Piece("half").Landmarks[0].At; !at.Near(geom.Pt(160, 200), exact) {
		t.Errorf("the spot came to %v by a bowed slash", at)
	}
}

// Spread with its mate, a plain seam stays plain.
func TestSlashAndSpreadMate(t *testing.T) {
	did := 0
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		o := Spreading{Piece: "facing-front", Edge: pattern.Neckline, Slashes: rapid.IntRange(1, 4).Draw(t, "slashes"), Open: rapid.Float64Range(1, 25).Draw(t, "open"), Way: ToShare, Take: MateToo}
		a, no := faultless(t, p, of(SlashAndSpread, o))
		if no != nil {
			return
		}
		did++
		for _, q := range []string{"facing-front", "bodice-front"} {
			within(t, "neckline of "+q, length(a.Pattern, q, pattern.Neckline), length(p, q, pattern.Neckline)+o.Open, exact)
		}
		s := a.Pattern.SeamsOf("facing-front", pattern.Neckline)[0]
		within(t, "the two sides", a.Pattern.RunLength(s.A), a.Pattern.RunLength(s.B), 1e-6)
	})
	if did < 20 {
		t.Errorf("only %d of the cases could be done", did)
	}
}

func TestSlashAndSpreadRefuses(t *testing.T) {
	p := dress(t)
	hem := Spreading{Piece: "skirt-front", Edge: pattern.Hem, Slashes: 3, Open: 60, Way: AlongGrain, Take: AsFlare}
	with := func(change func(*Spreading)) alteration {
		o := hem
		change(&o)
		return of(SlashAndSpread, o)
	}
	refusals{
		{"no piece", p, with(func(o *Spreading) { o.Piece = "yoke" }), `the pattern has no piece "yoke"; its pieces are bodice-front, bodice-back, sleeve, skirt-front, skirt-back, facing-front, facing-back`},
		{"nothing", p, with(func(o *Spreading) { o.Open = 0 }), `nothing would be spread; give an amount at one edge or the other`},
		{"both ways", p, with(func(o *Spreading) { o.Far = -5 }), `a slash cannot be spread at one end and lapped at the other; make two steps of it`},
		{"leaning", p, with(func(o *Spreading) { o.Lean = 2 }), `slashes can lean by -1 to 1, not 2; use 0 for even ones`},
		{"flare in a seam", p, with(func(o *Spreading) { o.Edge = pattern.Waist }), `edge "waist" of piece "skirt-front" is sewn to another and cannot just grow; gather, ease or pleat what it gains, or spread its mate too`},
		{"a mate that is none", p, with(func(o *Spreading) { o.Take = MateToo }), `edge "hem" of piece "skirt-front" is sewn to no other piece that could be spread with it; leave it as flare`},
		{"a dart in the edge", p, with(func(o *Spreading) { o.Piece, o.Edge, o.Take = "bodice-back", pattern.Waist, AsGathers }), `edge "waist" of piece "bodice-back" has a dart or pleat in it and cannot be spread; turn it elsewhere or let it out first`},
		{"too far", p, with(func(o *Spreading) { o.Open = 9000 }), `spreading a slash of 612 mm on piece "skirt-front" by 3000 mm turns the paper too far; use more slashes, or ask for less`},
		{"in a corner", p, with(func(o *Spreading) {
			o.Way, o.From, o.ToEdge, o.ToAt, o.Far, o.TakeFar = AlongLine, 100, pattern.Waist, 2, 60, AsGathers
		}), `a slash would open edge "waist" of piece "skirt-front" in its corner, 2.0 mm from its end; slash another stretch, or to the same share of the edge opposite`},
		{"a line to nowhere", p, with(func(o *Spreading) { o.Way = AlongLine }), `a slash along a line needs the edge it goes to; name it and the place on it`},
		{"a line outside", p, with(func(o *Spreading) { o.Way, o.From, o.ToEdge, o.ToAt, o.Bow = AlongLine, 100, pattern.Waist, 80, 900 }), `the slash line leaves piece "skirt-front"; bow it less`},
	}.try(t)
}

// Along the grain a slash may come to the side of a piece a few mm from its
// corner. It is hinged in the corner: what is left beside it is too short to bend.
func TestSpreadHingedBesideACorner(t *testing.T) {
	women, err := bodies.Women()
	if err != nil {
		t.Fatal(err)
	}
	tried := 0
	for _, person := range women {
		if !slices.Contains([]int{497, 601, 717, 853, 1197, 1529, 1717, 1857, 1881}, person.Row) {
			continue
		}
		tried++
		p := draftOf(t, person.Body())
		a := quietly(t, p, of(SlashAndSpread, Spreading{Piece: "skirt-front", Edge: "hem", Slashes: 4, Open: 100, Way: AlongGrain, Take: AsFlare}))
		for _, edge := range []string{"centre-front", "waist", "side"} {
			within(t, edge, length(a.Pattern, "skirt-front", edge), length(p, "skirt-front", edge), exact)
			smoothEdge(t, a.Pattern, "skirt-front", edge)
		}
		within(t, "hem", length(a.Pattern, "skirt-front", "hem"), length(p, "skirt-front", "hem")+100, laidOff)
	}
	if tried != 9 {
		t.Errorf("%d bodies were tried", tried)
	}
}
