package alter

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

func addPleats(o Pleats) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return AddPleats(p, o) }
}

func layPleats(o PleatLaying) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return LayPleats(p, o) }
}

func cartridges(o CartridgePleats) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return CartridgePleat(p, o) }
}

func tuckSkirt(o HemTucks) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return TuckSkirt(p, o) }
}

func addTucks(o Tucks) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return AddTucks(p, o) }
}

// W12: eight pleats a side in cloth of 44 in on the half, for a waist of 28, a
// hip of 40 and a hem that hangs as 55. To pleat are 30 at the waist, 24 at the
// hip and 16½ at the bottom; the panel's pleat takes 2⅛ all the way, the other
// seven share 27⅞ at the waist, "a little more than 3⅞" each, and 21⅞ at the
// hip, 3⅛ each (I. D. Conover, A Complete Course in Dressmaking, vol. 5, early
// 1920s, pp. 63–69). At the bottom the book rounds 16½ ÷ 8 up to 2⅛.
func TestPleatedSkirtOfTheBook(t *testing.T) {
	for _, c := range []struct {
		where                         string
		finished, take, others, share float64
		tol                           float64
	}{
		{"waist", 28, 30, 27.875, 3.982, 0.0005},
		{"hip", 40, 24, 21.875, 3.125, 1e-9},
	} {
		plan := PleatPlan{Cut: 44, Finished: c.finished / 2, Count: 8, Panel: 2.125}
		within(t, c.where+", to pleat", plan.TakeUp(), c.take, 0)
		within(t, c.where+", without the panel's", plan.TakeUp()-plan.Panel, c.others, 0)
		within(t, c.where+", each", plan.Each(), c.share, c.tol)
	}
	hem := PleatPlan{Cut: 44, Finished: 27.5, Count: 8}
	within(t, "bottom, to pleat", hem.TakeUp(), 16.5, 0)
	within(t, "bottom, each", hem.Each(), 2.0625, 0)
	if up := math.Ceil(hem.Each()*8) / 8; up != 2.125 {
		t.Errorf("rounded up to eighths: %g, want 2⅛", up)
	}

	// And in cloth: a straight width gathered to the waist is laid in pleats.
	p := panel(44*inch, 36*inch)
	p.Piece("band").Edges = panel(14*inch, 36*inch).Piece("band").Edges
	p.Piece("band").Notches[0].At = 7 * inch
	p.Piece("band").Grain = panel(14*inch, 36*inch).Piece("band").Grain
	p.Piece("skirt-front").Gathers = []pattern.Gather{{Name: "g", Edge: "waist", From: 0, To: 44 * inch, Length: 14 * inch, Kind: pattern.Gathers}}
	p.Piece("skirt-front").Notches = []pattern.Notch{{Name: "middle", Edge: "waist", At: 22 * inch, Count: 1}}
	p.Seam("waist").Meeting = pattern.Meeting{Kind: pattern.Gathered}
	a := done(t, p, layPleats(PleatLaying{
		Piece: "skirt-front", Edge: "waist", Kind: pattern.Knife, Pressed: pattern.PressedToEnd, Count: 8,
		Panel: 2.125 * inch, Hip: 20 * inch, HipDepth: 6 * inch, Hem: 27.5 * inch,
	}))
	noNews(t, p, a)
	w := a.Pattern.Piece("skirt-front")
	within(t, "waist, sewn", w.SewnLength("waist"), 14*inch, exact)
	for k, f := range w.Pleats {
		want := 27.875 / 7
		if k == 0 {
			want = 2.125
		}
		within(t, f.Name+" at the waist, in", (f.To-f.From)/inch, want, 1e-9)
		from, to := w.Landmark(fmt.Sprintf("pleat-%d.hip.from", k+1)), w.Landmark(fmt.Sprintf("pleat-%d.hip.to", k+1))
		if k > 0 {
			want = 3.125
		}
		within(t, f.Name+" at the hip, in", from.At.Dist(to.At)/inch, want, 1e-9)
	}
	told := map[string]float64{}
	for _, c := range a.Changes {
		told[c.What] = c.After / inch
	}
	within(t, "told of the waist", told["each pleat takes up at the waist"], 3.982, 0.0005)
	within(t, "told of the hip", told["each pleat takes up at the hip"], 3.125, 1e-9)
	if m := a.Pattern.Seam("waist").Meeting.Kind; m != pattern.Pleated {
		t.Errorf("the waist meets %s", m)
	}
}

// W13: a kilted skirt 4 yd round takes 5 yd of 36-in cloth: four widths of 45 in
// (C. C. Ingalls, Text-Book on Domestic Art, 1911; widths computed). In pleats
// of three layers, a third of it shows and each is as deep as it shows (common
// practice).
func TestKiltedSkirt(t *testing.T) {
	const cloth, width, round = 5 * 36 * inch, 36 * inch, 4 * 36 * inch
	long := cloth * width / round // what is left for the length when so much goes round
	within(t, "length of each width, in", long/inch, 45, 1e-9)
	p := panel(round/2, long)
	p.Piece("band").Edges, p.Piece("band").Grain = panel(round/6, long).Piece("band").Edges, panel(round/6, long).Piece("band").Grain
	p.Piece("band").Notches = nil
	p.Piece("skirt-front").Gathers = []pattern.Gather{{Name: "g", Edge: "waist", From: 0, To: round / 2, Length: round / 6, Kind: pattern.Gathers}}
	p.Seam("waist").Meeting = pattern.Meeting{Kind: pattern.Gathered, Ratio: pattern.Range{Min: 2.9, Max: 3.1}}
	a := done(t, p, layPleats(PleatLaying{Piece: "skirt-front", Edge: "waist", Kind: pattern.Knife, Pressed: pattern.PressedToEnd, Count: 24}))
	noNews(t, p, a)
	pleats := a.Pattern.Piece("skirt-front").Pleats
	for k, f := range pleats {
		within(t, f.Name+", depth", (f.To-f.From)/2, round/6/24, 1e-9)
		if k > 0 {
			within(t, f.Name+", shows", f.From-pleats[k-1].To, round/6/24, 1e-9)
		}
	}
}

func TestAddPleatsKeeps(t *testing.T) {
	laid := 0
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		o := Pleats{
			Piece: rapid.SampledFrom([]string{"", "skirt-front", "skirt-back"}).Draw(t, "piece"),
			Kind:  rapid.SampledFrom([]pattern.PleatKind{pattern.Knife, pattern.Box, pattern.Inverted}).Draw(t, "kind"),
			Count: rapid.IntRange(1, 8).Draw(t, "count"), AtWaist: rapid.Float64Range(5, 80).Draw(t, "waist"),
			From: rapid.Float64Range(0, 0.4).Draw(t, "from"), To: rapid.Float64Range(0.6, 1).Draw(t, "to"),
			Toward: rapid.SampledFrom([]Toward{TowardSide, TowardCentre}).Draw(t, "toward"),
		}
		o.AtHem = o.AtWaist * rapid.Float64Range(0.5, 3).Draw(t, "hem")
		a, no := lawful(t, p, addPleats(o))
		if no != nil {
			return
		}
		laid++
		noNews(t, p, a)
		names := []string{o.Piece}
		if o.Piece == "" {
			names = []string{"skirt-front", "skirt-back"}
		}
		for _, piece := range names {
			was, now := p.Piece(piece), a.Pattern.Piece(piece)
			for _, e := range was.Edges {
				switch e.Name {
				case "waist":
					within(t, piece+" waist, cut", now.Edge("waist").Path.Length(), e.Path.Length()+float64(o.Count)*o.AtWaist, 1e-8)
					within(t, piece+" waist, sewn", now.SewnLength("waist"), was.SewnLength("waist"), 1e-8)
				case "hem":
					grown := now.Edge("hem").Path.Length() - e.Path.Length()
					within(t, piece+" hem", grown, float64(o.Count)*o.AtHem, fairedOff*float64(o.Count)*o.AtHem+2)
				default:
					within(t, piece+"/"+e.Name, now.Edge(e.Name).Path.Length(), e.Path.Length(), exact)
				}
			}
			if len(now.Pleats) != o.Count {
				t.Errorf("%d pleats, want %d", len(now.Pleats), o.Count)
			}
			// The sewn line has every pleat's two ends in one place.
			for _, f := range now.Pleats {
				within(t, f.Name, now.SewnPosition("waist", f.To), now.SewnPosition("waist", f.From), 1e-9)
				within(t, f.Name+" takes up", f.To-f.From, o.AtWaist, 1e-8)
			}
		}
		if s := a.Pattern.SeamsOf(names[0], "waist")[0]; s.Meeting.Kind != pattern.Pleated {
			t.Errorf("the waist meets %s", s.Meeting.Kind)
		}
		others(t, p, a.Pattern, names...)
	})
	if laid == 0 {
		t.Error("no pleat was ever laid")
	}
}

func TestLayPleatsKeeps(t *testing.T) {
	laid := 0
	rapid.Check(t, func(t *rapid.T) {
		q, err := GatherBack(anyDress(t), BackFullness{Zone: rapid.Float64Range(80, 200).Draw(t, "zone"), Ratio: rapid.Float64Range(1.5, 4).Draw(t, "ratio")})
		if err != nil {
			t.Skip(err.Error())
		}
		p := q.Pattern
		o := PleatLaying{
			Piece: "skirt-back", Edge: "waist", Kind: rapid.SampledFrom([]pattern.PleatKind{pattern.Knife, pattern.Box, pattern.Inverted}).Draw(t, "kind"),
			Pressed: pattern.PressedToStart, Count: rapid.IntRange(1, 12).Draw(t, "count"), Panel: rapid.SampledFrom([]float64{0, 15}).Draw(t, "panel"),
		}
		a, no := lawful(t, p, layPleats(o))
		if no != nil {
			return
		}
		laid++
		noNews(t, p, a)
		was, now := p.Piece(o.Piece), a.Pattern.Piece(o.Piece)
		within(t, "waist, sewn", now.SewnLength("waist"), was.SewnLength("waist"), exact)
		within(t, "on the paper", apart(was, now), 0, 0)
		for _, n := range was.Notches {
			for _, m := range now.Notches {
				if m.Name == n.Name && m.Edge == n.Edge {
					within(t, "notch "+n.Name, now.SewnPosition(m.Edge, m.At), was.SewnPosition(n.Edge, n.At), exact)
				}
			}
		}
		others(t, p, a.Pattern, o.Piece)
	})
	if laid == 0 {
		t.Error("no pleat was ever laid")
	}
}

// Cartridge pleats: 380 mm of cloth stitched every 5 mm stand in 38 tubes of 10;
// drawn up to 152 mm, each sits on 4 mm and stands out by 3, and three rows take
// 228 stitches. Planned by the seam instead, tubes that sit on 4 mm come to the
// same.
func TestCartridgePleats(t *testing.T) {
	for _, c := range []Cartridges{
		{Cut: 380, Finished: 152, Pitch: 10, Rows: 3},
		{Cut: 380, Finished: 152, Seat: 4, Rows: 3},
	} {
		if c.Count() != 38 || c.Stitches() != 228 {
			t.Errorf("%d tubes, %d stitches", c.Count(), c.Stitches())
		}
		within(t, "step", c.Step(), 10, 1e-12)
		within(t, "stitch", c.Stitch(), 5, 1e-12)
		within(t, "seat", c.SitsOn(), 4, 1e-12)
		within(t, "stands", c.Stands(), 3, 1e-12)
		// The tubes take up all there is to take up: nothing is left at the end.
		within(t, "taken up", float64(c.Count())*(c.Step()-c.SitsOn()), c.TakeUp(), 1e-9)
	}
	within(t, "all steps", Cartridges{Cut: 384, Finished: 152, Pitch: 10}.Step()*38, 384, 1e-9)

	p := gatheredDress(t, dress(t))
	a := done(t, p, cartridges(CartridgePleats{Piece: "skirt-back", Edge: "waist", Pitch: 10}))
	noNews(t, p, a)
	g, was := a.Pattern.Piece("skirt-back").Gathers[0], p.Piece("skirt-back").Gathers[0]
	cut := was.To - was.From
	was.Name, was.Kind, was.Rows = "waist-cartridge-pleats", pattern.Cartridge, 3
	was.Stitch = cut / math.Round(cut/10) / 2
	if g != was {
		t.Errorf("recorded as %+v, want %+v", g, was)
	}
	if n := g.Tubes(cut); n != int(math.Round(cut/10)) {
		t.Errorf("%d tubes in %v mm", n, cut)
	}
	// They are still gathers to what comes after: laid in pleats, or stitched anew.
	again := done(t, a.Pattern, cartridges(CartridgePleats{Piece: "skirt-back", Edge: "waist", Seat: 5, Rows: 2}))
	if g := again.Pattern.Piece("skirt-back").Gathers[0]; g.Rows != 2 || g.Tubes(cut) != int(math.Round(g.Length/5)) {
		t.Errorf("stitched anew, recorded as %+v", g)
	}
	if len(again.Cautions) != 1 {
		t.Errorf("two rows are not warned of: %v", again.Cautions)
	}
	knife := done(t, a.Pattern, layPleats(PleatLaying{Piece: "skirt-back", Edge: "waist", Kind: pattern.Knife, Count: 6}))
	if n := len(knife.Pattern.Piece("skirt-back").Pleats); n != 6 {
		t.Errorf("%d knife pleats of cartridges", n)
	}
}

func TestTuckSkirtKeeps(t *testing.T) {
	laid := 0
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		o := HemTucks{
			Count: rapid.IntRange(1, 6).Draw(t, "count"), Width: rapid.Float64Range(2, 30).Draw(t, "width"),
			Space: rapid.Float64Range(0, 60).Draw(t, "space"),
		}
		o.First = o.Width + rapid.Float64Range(5, 150).Draw(t, "first")
		a, no := lawful(t, p, tuckSkirt(o))
		if no != nil {
			return
		}
		laid++
		noNews(t, p, a)
		for _, piece := range []string{"skirt-front", "skirt-back"} {
			was, now := p.Piece(piece), a.Pattern.Piece(piece)
			hem := was.EdgeIndex("hem")
			n := len(was.Edges)
			for k, e := range was.Edges {
				within(t, piece+"/"+e.Name+", sewn", now.SewnLength(e.Name), was.SewnLength(e.Name), 1e-8)
				grown := 0.0
				if k == (hem+1)%n || k == (hem+n-1)%n {
					grown = 2 * o.Width * float64(o.Count)
				}
				within(t, piece+"/"+e.Name+", cut", now.Edge(e.Name).Path.Length(), e.Path.Length()+grown, 1e-8)
			}
			if len(now.Pleats) != 2*o.Count {
				t.Errorf("%d ends of tucks on %s, want %d", len(now.Pleats), piece, 2*o.Count)
			}
		}
		others(t, p, a.Pattern, "skirt-front", "skirt-back")
	})
	if laid == 0 {
		t.Error("no tuck was ever laid")
	}
}

// W15: three half-inch tucks with half an inch between add 3 in to the length:
// the spaces do not count (Kinne and Cooley, Clothing and Health, 1916; answer
// computed); 32 quarter-inch tucks use 16 in, and twelve half-inch ones 12.
func TestTucksAdd(t *testing.T) {
	for _, c := range []struct {
		n           int
		width, adds float64
	}{{3, 0.5, 3}, {32, 0.25, 16}, {12, 0.5, 12}} {
		p := panel(20*inch, 60*inch)
		a := done(t, p, tuckSkirt(HemTucks{Count: c.n, Width: c.width * inch, Space: 0.5 * inch, First: 3.5 * inch}))
		noNews(t, p, a)
		for _, edge := range []string{"side", "centre-front"} {
			within(t, "added to the "+edge+", in", (length(a.Pattern, "skirt-front", edge)-length(p, "skirt-front", edge))/inch, c.adds, 1e-9)
			within(t, "finished "+edge+", in", a.Pattern.Piece("skirt-front").SewnLength(edge)/inch, 60, 1e-9)
		}
	}
}

// W16: above a hem of 2½ in quarter-inch tucks are creased first 3½ in up from
// the finished bottom, so that the tuck's lower edge lies ½ in above the hem
// (F. Klickmann, ed., The Little Girl's Sewing Book, c. 1915); from crease to
// crease it is twice the tuck and the space (I. McGlauflin, Handicraft for Girls,
// 1910).
func TestTuckSpacing(t *testing.T) {
	o := HemTucks{Count: 2, Width: 0.25 * inch, Space: 0.75 * inch, First: 3.5 * inch}
	a := done(t, panel(20*inch, 40*inch), tuckSkirt(o))
	w := a.Pattern.Piece("skirt-front")
	var creases []float64 // up from the hem, on the fold side
	for _, f := range w.Pleats {
		if f.Edge == "centre-front" {
			creases = append(creases, (f.From+f.To)/2/inch)
		}
	}
	within(t, "first crease, in", creases[0], 3.5, 1e-9)
	within(t, "crease to crease, in", creases[1]-creases[0], 2*0.25+0.75, 1e-9)
	sewn := w.SewnPosition("centre-front", (3.5-0.25)*inch) / inch
	within(t, "above the hem of 2½ in the tuck's edge lies", sewn-0.25-2.5, 0.5, 1e-9)
}

func TestAddTucksKeeps(t *testing.T) {
	laid := 0
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		o := Tucks{
			Count: rapid.IntRange(1, 6).Draw(t, "count"), Width: rapid.Float64Range(2, 15).Draw(t, "width"),
			Space: rapid.Float64Range(2, 30).Draw(t, "space"), Centre: rapid.Float64Range(0.1, 0.9).Draw(t, "centre"),
		}
		o.Piece = rapid.SampledFrom([]string{"sleeve", "skirt-front", "skirt-back"}).Draw(t, "piece")
		o.Edge = rapid.SampledFrom([]string{"hem", map[bool]string{true: "cap", false: "waist"}[o.Piece == "sleeve"]}).Draw(t, "edge")
		a, no := lawful(t, p, addTucks(o))
		if no != nil {
			return
		}
		laid++
		noNews(t, p, a)
		was, now := p.Piece(o.Piece), a.Pattern.Piece(o.Piece)
		total := 0.0
		for _, e := range was.Edges {
			within(t, e.Name+", sewn", now.SewnLength(e.Name), was.SewnLength(e.Name), 1e-8)
			total += now.Edge(e.Name).Path.Length() - e.Path.Length()
		}
		within(t, "all edges, cut", total, 4*o.Width*float64(o.Count), 1e-8)
		others(t, p, a.Pattern, o.Piece)
	})
	if laid == 0 {
		t.Error("no tuck was ever laid")
	}
}

func TestFoldsRefuse(t *testing.T) {
	p := dress(t)
	g := gatheredDress(t, p)
	refusals{
		{"tuck kind", p, addPleats(Pleats{Kind: pattern.Tuck, Count: 3, AtWaist: 30, AtHem: 30, To: 1}), `a "tuck" pleat cannot be set into a skirt; ask for knife, box or inverted`},
		{"no pleats", p, addPleats(Pleats{Kind: pattern.Knife, AtWaist: 30, To: 1}), `0 pleats that take up 30.0 mm cannot be laid; ask for one at least, of 4 mm or more`},
		{"no stretch", p, addPleats(Pleats{Kind: pattern.Knife, Count: 3, AtWaist: 30, From: 1}), `the pleats need a stretch of the waist to lie on; give shares between 0 and 1, the first the smaller`},
		{"too many", p, addPleats(Pleats{Kind: pattern.Knife, Count: 300, AtWaist: 30, To: 1}), `300 pleats on 193 mm of waist of piece "skirt-front" lie 0.6 mm apart; lay fewer`},
		{"in gathers", g, addPleats(Pleats{Piece: "skirt-back", Kind: pattern.Knife, Count: 3, AtWaist: 30, AtHem: 30, To: 1}), `a pleat would run into a dart or fullness on edge "waist" of piece "skirt-back"; let that out or move it first`},
		{"no waist", p, addPleats(Pleats{Piece: "sleeve", Kind: pattern.Knife, Count: 3, AtWaist: 30, AtHem: 30, To: 1}), `piece "sleeve" has no waist edge; give one of its edges the role waist; or, where an earlier step took that edge up, take this step before it`},
		{"nothing to lay", p, layPleats(PleatLaying{Piece: "skirt-back", Edge: "waist", Kind: pattern.Knife, Count: 3}), `edge "waist" of piece "skirt-back" has no gathers; gather it first, or name another edge`},
		{"too many to lay", g, layPleats(PleatLaying{Piece: "skirt-back", Edge: "waist", Kind: pattern.Knife, Count: 80}), `at the waist of piece "skirt-back", 80 pleats would take up 1.4 mm each of 190 mm laid to 76; lay fewer, or use wider cloth`},
		{"only the panel", g, layPleats(PleatLaying{Piece: "skirt-back", Edge: "waist", Kind: pattern.Knife, Count: 1, Panel: 30}), `1 pleats cannot take up 114 mm; ask for more pleats`},
		{"wider than the cloth", g, layPleats(PleatLaying{Piece: "skirt-back", Edge: "waist", Kind: pattern.Knife, Count: 3, Hem: 5000}), `at the hem the cloth of piece "skirt-back" measures 479 mm, and is to be laid to 5000; use wider cloth, or ask for less`},
		{"no rows", g, cartridges(CartridgePleats{Piece: "skirt-back", Edge: "waist", Pitch: 10, Rows: 30}), `cartridge pleats are not drawn up by 30 rows; ask for 1 to 20`},
		{"too many tubes", g, cartridges(CartridgePleats{Piece: "skirt-back", Edge: "waist", Seat: 1}), `76 tubes on 76 mm take 2.5 mm of cloth each; let each sit on more of the seam, or use wider cloth`},
		{"flat tubes", g, cartridges(CartridgePleats{Piece: "skirt-back", Edge: "waist", Pitch: 200}), `190 mm of cloth cannot be stitched in tubes of 200.0 mm; ask for 4 mm or more, twice over in the cloth`},
		{"no room for tucks", p, tuckSkirt(HemTucks{Count: 40, Width: 10, Space: 20, First: 90}), `40 tucks reach 860 mm up edge "side" of piece "skirt-front", which is 612 mm long; lay fewer, or lay them closer`},
		{"below the hem", p, tuckSkirt(HemTucks{Count: 1, Width: 10, First: 5}), `a tuck of 10.0 mm cannot be creased 5.0 mm above the hem; crease it higher up`},
		{"no tuck", p, tuckSkirt(HemTucks{Width: 10, First: 50}), `0 tucks of 10.0 mm cannot be sewn; ask for one at least, of 2 mm or more`},
		{"off the edge", p, addTucks(Tucks{Piece: "sleeve", Edge: "hem", Count: 40, Width: 5, Space: 20, Centre: 0.5}), `40 tucks 20.0 mm apart do not fit on edge "hem" of piece "sleeve"; lay fewer, lay them closer, or begin at another edge`},
		{"into a dart", p, addTucks(Tucks{Piece: "bodice-back", Edge: "waist", Count: 3, Width: 5, Space: 10, Centre: 0.5}), `a tuck would run into a dart or pleat on edge "waist" of piece "bodice-back"; turn or let that out first`},
		{"on each other", p, addTucks(Tucks{Piece: "sleeve", Edge: "hem", Count: 4, Width: 5, Space: 0, Centre: 0.5}), `tucks cannot be sewn 0.0 mm from each other; leave 2 mm or more`},
	}.try(t)
}
