package alter

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"bygone.example/core/finding"
	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
)

func addFlounce(o Flounce) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return AddFlounce(p, o) }
}

func cutTiers(o Tiers) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return CutTiers(p, o) }
}

// noNews holds that an answer has no fault and no warning that the pattern did
// not have.
func noNews(t failer, before *pattern.Pattern, a *operation.Answer) {
	t.Helper()
	for _, f := range pairing.Compare(pairing.Check(before), pairing.Check(a.Pattern), a.Lineage, "new") {
		if f.Since == "new" && f.Severity != finding.Note && !ofMakingUp[f.Code] {
			t.Errorf("new: %s %s %+v %s", f.Severity, f.Code, f.Place, f.Text)
		}
	}
}

// The radii of circle skirts for a waist of 28 in and of 72 cm, and the hem and
// area of a ring: identities, r = W / 2πf, hem = W + 2πfL, area between both
// circles (figures computed by hand to the digits shown).
func TestRing(t *testing.T) {
	for _, c := range []struct{ seam, circles, radius float64 }{
		{28, 1, 4.456}, {28, 0.75, 5.942}, {28, 0.5, 8.913}, {28, 0.25, 17.825},
		{72, 1, 11.46}, {72, 0.75, 15.28}, {72, 0.5, 22.92}, {72, 0.25, 45.84},
	} {
		r := Ring{Seam: c.seam, Circles: c.circles}.Radius()
		if tol := map[float64]float64{28: 0.0005, 72: 0.005}[c.seam]; math.Abs(r-c.radius) > tol {
			t.Errorf("%g of a circle round %g: radius %.4f, want %.3f", c.circles, c.seam, r, c.radius)
		}
	}
	full, half := Ring{Seam: 28, Depth: 28, Circles: 1}, Ring{Seam: 28, Depth: 28, Circles: 0.5}
	within(t, "hem of a full circle, in", full.Hem(), 203.93, 0.005)
	within(t, "hem of a half circle, in", half.Hem(), 115.96, 0.005)
	within(t, "area of a full circle, sq in", full.Area(), 3247.0, 0.05)
	within(t, "area from both circles", full.Area(), math.Pi*(math.Pow(full.Radius()+28, 2)-math.Pow(full.Radius(), 2)), 1e-9)
}

// What is drawn measures what the identities say.
func TestStripsMeasure(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		seam, deep := rapid.Float64Range(100, 3000).Draw(t, "seam"), rapid.Float64Range(20, 600).Draw(t, "deep")
		angle := rapid.Float64Range(0.05, fullestRing).Draw(t, "angle")
		r := ringStrip(seam, angle, deep)
		whole := Ring{Seam: seam, Depth: deep, Circles: angle / 2 / math.Pi}
		within(t, "ring, seam", r.top.Length(), seam, exact)
		within(t, "ring, hem", r.hem.Length()/whole.Hem(), 1, 1e-8)
		outline := r.hem.Join(r.end).Join(r.top).Join(r.start)
		within(t, "ring, area", outline.Area()/whole.Area(), 1, 1e-8)
		within(t, "ring, end", r.end.Length(), deep, 1e-6)

		radius, gap := rapid.Float64Range(20, 300).Draw(t, "radius"), rapid.Float64Range(5, 60).Draw(t, "gap")
		c := coiled(seam, radius, deep+gap)
		s := coilStrip(seam, radius, deep+gap, deep)
		turned := c.to - c.from
		within(t, "coil, seam", s.top.Length(), seam, 1e-8)
		// A strip of one width that turns by an angle is longer outside by the
		// width times the angle, whatever curve it follows.
		within(t, "coil, hem", s.hem.Length()/(seam+turned*deep), 1, 1e-5)
		outline = s.hem.Join(s.end).Join(s.top).Join(s.start)
		within(t, "coil, area", outline.Area()/(deep*(seam+turned*deep/2)), 1, 1e-4)
		within(t, "coil, tightest curve", c.base*c.from, radius, exact)
		if crossed := outline.SelfCrossings(0.01); len(crossed) > 0 {
			t.Errorf("the coil crosses itself %d times", len(crossed))
		}
		for _, q := range []struct{ a, b geom.Point }{{s.end.StartDirection(), s.hem.EndDirection()}, {s.start.EndDirection(), s.hem.StartDirection()}, {r.end.StartDirection(), r.hem.EndDirection()}} {
			within(t, "ends square", q.a.Dot(q.b), 0, 1e-6)
		}
	})
}

func TestAddFlounceKeeps(t *testing.T) {
	added := 0
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		o := Flounce{
			Kind:  rapid.SampledFrom([]FlounceKind{StraightFlounce, CircularFlounce, SpiralFlounce}).Draw(t, "kind"),
			Depth: rapid.Float64Range(20, 400).Draw(t, "depth"), Ratio: rapid.Float64Range(1, 3).Draw(t, "ratio"),
			Circles: rapid.Float64Range(0.1, 4).Draw(t, "circles"), Radius: rapid.Float64Range(20, 300).Draw(t, "radius"), Between: 30,
			Piece: rapid.SampledFrom([]string{"", "sleeve"}).Draw(t, "piece"),
		}
		a, no := lawful(t, p, addFlounce(o))
		if no != nil {
			return
		}
		added++
		noNews(t, p, a)
		names := []string{"skirt-front", "skirt-back"}
		if o.Piece != "" {
			names = []string{o.Piece}
		}
		for _, piece := range names {
			for _, e := range p.Piece(piece).Edges {
				within(t, piece+"/"+e.Name, length(a.Pattern, piece, e.Name), e.Path.Length(), 0)
			}
		}
		seams := 0
		for _, s := range a.Pattern.Seams {
			if p.Seam(s.Name) != nil {
				continue
			}
			seams++
			if len(s.B) > 0 {
				within(t, "seam "+s.Name, a.Pattern.RunLength(s.B), a.Pattern.RunLength(s.A), 1e-8)
			}
		}
		if seams == 0 {
			t.Errorf("no seam was made")
		}
		others(t, p, a.Pattern, names...)
		// The hem's finish is on the flounce, and on no piece above it.
		hems := 0
		for _, piece := range a.Pattern.ByRole(pattern.Flounce) {
			for _, e := range piece.EdgesByRole(pattern.Hem) {
				if e.Finish != pattern.Hemmed {
					t.Errorf("%s/%s is finished %q", piece.Name, e.Name, e.Finish)
				}
				hems++
			}
		}
		if hems == 0 {
			t.Errorf("no flounce has a hem")
		}
	})
	if added == 0 {
		t.Error("no flounce was ever added")
	}
}

// W14: a ruffle on a skirt 2½ yd round, half as full again, takes 3¾ yd (rule:
// Kinne and Cooley, Clothing and Health, 1916; the answer is computed).
func TestRuffle(t *testing.T) {
	const yard = 36 * inch
	a := done(t, panel(2.5*yard/2, 700), addFlounce(Flounce{Kind: StraightFlounce, Depth: 6 * inch, Ratio: 1.5}))
	within(t, "the ruffle in yards", 2*length(a.Pattern, "skirt-front-flounce", "top")/yard, 3.75, 1e-9)
	within(t, "drawn up, in yards", 2*a.Pattern.Piece("skirt-front-flounce").SewnLength("top")/yard, 2.5, 1e-9)
	noNews(t, panel(2.5*yard/2, 700), a)
}

// panel is half a skirt of straight cloth: a rectangle on the fold at the front,
// with a seam to its mirror image at the back, sewn to a band.
func panel(wide, deep float64) *pattern.Pattern {
	at := func(x, y float64) geom.Point { return geom.Pt(x, y) }
	side := func(a, b geom.Point) geom.Path { return geom.Path{geom.Line(a, b)} }
	notch := func(name, edge string, at float64) pattern.Notch {
		return pattern.Notch{Name: name, Edge: edge, At: at, Count: 1}
	}
	return &pattern.Pattern{
		Name: "panel", Title: "Straight width",
		Pieces: []pattern.Piece{
			{
				Name: "skirt-front", Title: "Width", Role: pattern.SkirtFront, Cut: pattern.Cut{Count: 1},
				Edges: []pattern.Edge{
					{Name: "hem", Path: side(at(0, 0), at(wide, 0)), Finish: pattern.Hemmed},
					{Name: "centre-front", Path: side(at(wide, 0), at(wide, deep)), Finish: pattern.Fold},
					{Name: "waist", Path: side(at(wide, deep), at(0, deep))},
					{Name: "side", Path: side(at(0, deep), at(0, 0))},
				},
				Grain: pattern.Grain{From: at(wide/2, deep/4), To: at(wide/2, 3*deep/4)},
			},
			{
				Name: "band", Title: "Band", Cut: pattern.Cut{Count: 1},
				Edges: []pattern.Edge{
					{Name: "lower", Path: side(at(0, 0), at(wide, 0))},
					{Name: "fold", Path: side(at(wide, 0), at(wide, 30)), Finish: pattern.Fold},
					{Name: "top", Path: side(at(wide, 30), at(0, 30)), Finish: pattern.Bound},
					{Name: "end", Path: side(at(0, 30), at(0, 0)), Finish: pattern.Open},
				},
				Grain:   pattern.Grain{From: at(wide/4, 15), To: at(3*wide/4, 15)},
				Notches: []pattern.Notch{notch("middle", "lower", wide/2)},
			},
		},
		Seams: []pattern.Seam{
			{Name: "back", A: pattern.Run{{Piece: "skirt-front", Edge: "side"}}, Meeting: pattern.Meeting{Kind: pattern.Plain}},
			{Name: "waist", A: pattern.Run{{Piece: "band", Edge: "lower"}}, B: pattern.Run{{Piece: "skirt-front", Edge: "waist", Backwards: true}}, Meeting: pattern.Meeting{Kind: pattern.Plain}},
		},
	}
}

func TestCutTiersKeeps(t *testing.T) {
	cut := 0
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		o := Tiers{Ratio: rapid.Float64Range(1, 2.5).Draw(t, "ratio")}
		for n := rapid.IntRange(2, 5).Draw(t, "tiers"); len(o.Heights) < n; {
			o.Heights = append(o.Heights, rapid.Float64Range(15, 400).Draw(t, "height"))
		}
		o.Heights[0] = max(o.Heights[0], 215)
		a, no := lawful(t, p, cutTiers(o))
		if no != nil {
			return
		}
		cut++
		noNews(t, p, a)
		within(t, "waist", sum(a.Pattern, "waist", "skirt-front", "skirt-back"), sum(p, "waist", "skirt-front", "skirt-back"), 0)
		within(t, "first tier down the side", length(a.Pattern, "skirt-front", "side"), o.Heights[0], laidOff)
		within(t, "first tier down the front", length(a.Pattern, "skirt-front", "centre-front"), o.Heights[0], laidOff)
		above := length(a.Pattern, "skirt-front", "hem")
		for n, deep := range o.Heights[1:] {
			name := "skirt-front-tier-" + string(rune('2'+n))
			within(t, name+", cut", length(a.Pattern, name, "top"), o.Ratio*above, 1e-8)
			within(t, name+", drawn up", a.Pattern.Piece(name).SewnLength("top"), above, 1e-8)
			within(t, name+", deep", length(a.Pattern, name, "side"), deep, exact)
			above = length(a.Pattern, name, "hem")
		}
	})
	if cut == 0 {
		t.Error("no skirt was ever cut in tiers")
	}
}

// W30: tiers of 6¼, 6¾, 7¼ and 8¾ in make a skirt of 29 in; each is 1½ to 2
// times as wide as the one above (National Instructional Media Institute, CITS
// Dress Making, trade theory, 2024, p. 250).
func TestTiersSum(t *testing.T) {
	o := Tiers{Heights: []float64{6.25 * inch, 6.75 * inch, 7.25 * inch, 8.75 * inch}, Ratio: 1.5}
	p := panel(400, 900)
	a := done(t, p, cutTiers(o))
	noNews(t, p, a)
	total := length(a.Pattern, "skirt-front", "side")
	for _, piece := range a.Pattern.ByRole(pattern.Tier) {
		total += piece.Edge("side").Path.Length()
	}
	within(t, "the skirt in inches", total/inch, 29, 1e-9)
	within(t, "the hem", length(a.Pattern, "skirt-front-tier-4", "hem"), 400*1.5*1.5*1.5, 1e-8)
	// Each tier is folded in front and joined to its mirror image behind, as the
	// skirt is.
	for _, piece := range a.Pattern.ByRole(pattern.Tier) {
		if piece.Edge("centre-front").Finish != pattern.Fold || len(a.Pattern.SeamsOf(piece.Name, "side")) != 1 {
			t.Errorf("%s is not made up like the skirt", piece.Name)
		}
	}
}

// W24: three night gowns, cloth 18, 16 and 14 nails wide cut on the slope so that
// the bottom is 21, 18 and 16 and the top 15, 14 and 12: what the one gains the
// other loses (The Ladies' Work-Table Book, 1844; a nail is 2¼ in). A slash lapped at
// the top and spread at the bottom by the same turns about its middle.
func TestNightGowns(t *testing.T) {
	const nail = 2.25 * inch
	for _, c := range []struct{ cloth, long, bottom, top float64 }{{18, 24, 21, 15}, {16, 22, 18, 14}, {14, 19, 16, 12}} {
		within(t, "the book's sum", (c.bottom+c.top)/2, c.cloth, 0)
		e := begin(panel(c.cloth*nail, c.long*nail))
		w := e.piece("skirt-front")
		hem, waist := w.EdgeIndex("hem"), w.EdgeIndex("waist")
		before := w.outlineArea()
		cut := slash{i: hem, a: c.cloth * nail / 2, j: waist, b: c.cloth * nail / 2, openA: (c.bottom - c.cloth) * nail, openB: (c.top - c.cloth) * nail}
		if _, _, err := w.open(&cut); err != nil {
			t.Fatal(err)
		}
		within(t, "bottom in nails", w.lines[hem].length()/nail, c.bottom, 1e-9)
		// Where paper is lapped, the edge is left with a bend until it is faired:
		// less than a twentieth of an inch in this.
		within(t, "top in nails", w.lines[waist].length()/nail, c.top, 0.03)
		within(t, "area", w.outlineArea()/before, 1, 0.01) // the wedge let in is the wedge lapped away, but for that
	}
}

func (w *work) outlineArea() float64 {
	var path geom.Path
	for _, l := range w.lines {
		path = append(path, l.path()...)
	}
	return path.Area()
}

func TestStripsRefuse(t *testing.T) {
	p := dress(t)
	refusals{
		{"no depth", p, addFlounce(Flounce{Kind: StraightFlounce, Ratio: 2}), `a flounce 0.0 mm deep is no flounce; make it 10 mm or more`},
		{"under 1", p, addFlounce(Flounce{Kind: StraightFlounce, Depth: 90, Ratio: 0.9}), `a fullness ratio of 0.9 would stretch the cloth; ask for 1 or more`},
		{"no such kind", p, addFlounce(Flounce{Kind: "box", Depth: 90}), `there is no "box" flounce; ask for straight, circular or spiral`},
		{"no circle", p, addFlounce(Flounce{Kind: CircularFlounce, Depth: 90}), `a circular flounce needs part of a circle; give the circles, as 0.5 or 1`},
		{"too many circles", p, addFlounce(Flounce{Kind: CircularFlounce, Depth: 90, Circles: 5}), `5.00 circles in 2 pieces would lie over themselves; ask for up to 3.80, or cut the pieces above in more gores`},
		{"too tight", p, addFlounce(Flounce{Kind: SpiralFlounce, Depth: 90, Radius: 3}), `a seam cannot be sewn round a curve of 3 mm radius; ask for 20 mm or more`},
		{"no piece", p, addFlounce(Flounce{Kind: StraightFlounce, Piece: "cape", Depth: 90, Ratio: 2}), `the pattern has no piece "cape"; its pieces are bodice-front, bodice-back, sleeve, skirt-front, skirt-back, facing-front, facing-back`},
		{"no hem", p, addFlounce(Flounce{Kind: StraightFlounce, Piece: "bodice-front", Depth: 90, Ratio: 2}), `piece "bodice-front" has no hem edge; give one of its edges the role hem; or, where an earlier step took that edge up, take this step before it`},
		{"one piece of two", p, addFlounce(Flounce{Kind: StraightFlounce, Piece: "skirt-front", Depth: 90, Ratio: 2}), `seam "skirt-side" does not come down from hem to hem at piece "skirt-front"; give the lower edges on both sides of it the role hem`},
		{"one tier", p, cutTiers(Tiers{Heights: []float64{300}, Ratio: 2}), `a skirt in tiers has two at least; give their heights from the waist down`},
		{"no tier", p, cutTiers(Tiers{Heights: []float64{300, 0}, Ratio: 2}), `a tier 0.0 mm deep is no tier; make each 10 mm or more`},
		{"tier under 1", p, cutTiers(Tiers{Heights: []float64{300, 300}, Ratio: 0.5}), `a fullness ratio of 0.5 would stretch the cloth; ask for 1 or more`},
		{"in the opening", p, cutTiers(Tiers{Heights: []float64{150, 300}, Ratio: 2}), `a first tier of 150 mm ends above edge "centre-back" of piece "skirt-back", which starts 200 mm down; make it 211 mm or more`},
		{"beyond the skirt", p, cutTiers(Tiers{Heights: []float64{900, 300}, Ratio: 2}), `a first tier of 900 mm reaches beyond piece "skirt-front", which is 612 mm long there; make it shorter, or lengthen the skirt first`},
	}.try(t)
}

// A flounce can have a flounce: its own hem is a hem like any other.
func TestFlounceOnFlounce(t *testing.T) {
	p := dress(t)
	q := after(t, p, addFlounce(Flounce{Kind: CircularFlounce, Piece: "sleeve", Depth: 120, Circles: 0.75}))
	a := done(t, q, addFlounce(Flounce{Kind: StraightFlounce, Piece: "sleeve-flounce", Depth: 40, Ratio: 1.5}))
	noNews(t, q, a)
	if names := pieceNames(a.Pattern); !strings.Contains(names, "sleeve-flounce-flounce") {
		t.Errorf("pieces: %s", names)
	}
}

func pieceNames(p *pattern.Pattern) string {
	var names []string
	for _, piece := range p.Pieces {
		names = append(names, piece.Name)
	}
	return strings.Join(names, " ")
}
