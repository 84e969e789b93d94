package alter

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"bygone.example/core/finding"
	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
	"bygone.example/internal/stock"
)

// larger returns the stock dress for a figure larger all round by so many mm.
func larger(t failer, by float64) *pattern.Pattern {
	t.Helper()
	b := stock.StockBody
	b.Bust, b.Waist, b.Hip, b.UpperArm = b.Bust+by, b.Waist+by, b.Hip+by, b.UpperArm+by/4
	b.NeckBase += by / 3
	return draftOf(t, b)
}

var (
	sleeveRoles = []pattern.Role{pattern.Sleeve}
	skirtRoles  = []pattern.Role{pattern.SkirtFront, pattern.SkirtBack}
	collarRoles = []pattern.Role{pattern.Collar}
)

func borrowed(o Borrowing) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return Borrow(p, o) }
}

// clean holds that the alteration brought in no finding at all, not even a
// warning.
func clean(t failer, before *pattern.Pattern, a *operation.Answer) {
	t.Helper()
	for _, f := range pairing.Compare(pairing.Check(before), pairing.Check(a.Pattern), a.Lineage, "new") {
		if f.Since == "new" && f.Severity != finding.Note {
			t.Errorf("a new %s: %s %s/%s: %s", f.Severity, f.Code, f.Place.Piece, f.Place.Edge, f.Text)
		}
	}
}

// bare takes the pieces out of a pattern, and finishes what they were sewn to.
func bare(p *pattern.Pattern, finish pattern.Finish, gone ...string) *pattern.Pattern {
	p = p.Clone()
	out := map[string]bool{}
	for _, name := range gone {
		out[name] = true
	}
	p.Pieces = slices.DeleteFunc(p.Pieces, func(q pattern.Piece) bool { return out[q.Name] })
	p.Seams = slices.DeleteFunc(p.Seams, func(s pattern.Seam) bool {
		if !touches(s, out) {
			return false
		}
		for _, r := range slices.Concat(s.A, s.B) {
			if e := p.Edge(r); e != nil {
				e.Finish = finish
				q := p.Piece(r.Piece)
				q.Notches = slices.DeleteFunc(q.Notches, func(n pattern.Notch) bool { return n.Edge == r.Edge })
			}
		}
		return true
	})
	return p
}

// collared is the dress with a collar of two pieces, cut on the fold at the
// centre back, in the place of its facings.
func collared(t failer, by float64) *pattern.Pattern {
	t.Helper()
	p := bare(larger(t, by), pattern.Bound, "facing-front", "facing-back")
	neck := pattern.Run{{Piece: "bodice-front", Edge: pattern.Neckline}, {Piece: "bodice-back", Edge: pattern.Neckline}}
	long := p.RunLength(neck)
	// The neck edge bends up towards the front; its chord is what gives it the
	// neckline's length.
	curve := func(x float64) geom.Path {
		return geom.Path{geom.Hermite(geom.Pt(0, 0), geom.Pt(x, 0), geom.Pt(x, 14), geom.Pt(x, 14).Unit().Mul(x))}
	}
	x := zero(func(x float64) float64 { return curve(x).Length() - long }, long*0.8, curve(long*0.8).Length()-long, long, curve(long).Length()-long)
	for _, name := range []string{"collar", "collar-under"} {
		neckEdge, tip := curve(x), geom.Pt(x+12, 70)
		q := pattern.Piece{Name: name, Role: pattern.Collar, Cut: pattern.Cut{Count: 1}, Grain: pattern.Grain{From: geom.Pt(0, 10), To: geom.Pt(0, 40)}}
		q.Edges = []pattern.Edge{
			{Name: pattern.Neckline, Path: neckEdge},
			{Name: "end", Path: geom.Path{geom.Line(geom.Pt(x, 14), tip)}},
			{Name: "outer", Path: geom.Path{geom.Hermite(tip, geom.Pt(-x, -20), geom.Pt(0, 60), geom.Pt(-x, 0))}},
			{Name: "fold", Path: geom.Path{geom.Line(geom.Pt(0, 60), geom.Pt(0, 0))}, Finish: pattern.Fold},
		}
		if name == "collar-under" {
			q.Role = ""
			q.Edges[0].Finish = pattern.Open
		}
		p.Pieces = append(p.Pieces, q)
	}
	for _, r := range neck {
		p.Edge(r).Finish = pattern.Sewn
	}
	along := func(name string, a, b pattern.Run) {
		p.Seams = append(p.Seams, pattern.Seam{Name: name, A: a, B: b, Meeting: pattern.Meeting{Kind: pattern.Plain}})
	}
	along("collar", neck, pattern.Run{{Piece: "collar", Edge: pattern.Neckline, Backwards: true}})
	along("collar-outer", pattern.Run{{Piece: "collar", Edge: "end"}, {Piece: "collar", Edge: "outer"}},
		pattern.Run{{Piece: "collar-under", Edge: "end"}, {Piece: "collar-under", Edge: "outer"}})
	for _, q := range []string{"collar", "collar-under"} {
		piece := p.Piece(q)
		piece.Notches = append(piece.Notches, pattern.Notch{Name: "collar", Edge: "outer", At: 60, Count: 1})
	}
	faceNotches(p, "collar", true)
	if bad := p.Validate(); len(bad) > 0 {
		t.Fatalf("%v", bad)
	}
	return p
}

// Anything that fits is borrowed by any dress from any other, drawn for the same
// side of the body or the other: the part keeps its shape where nothing joins
// it, and what was here keeps all of its.
func TestBorrowLaws(t *testing.T) {
	for _, c := range []struct {
		name  string
		roles []pattern.Role
		kept  []string // roles of edges that keep their length
	}{
		{"sleeve", sleeveRoles, []string{pattern.Underarm, pattern.Hem}},
		{"skirt", skirtRoles, []string{pattern.Side, pattern.CentreFront, pattern.CentreBack, pattern.Hem}},
	} {
		t.Run(c.name, func(t *testing.T) {
			done := 0
			rapid.Check(t, func(t *rapid.T) {
				p, lender := anyDress(t), anyDress(t)
				o := Borrowing{
					Lender: lender, Roles: c.roles, Ease: rapid.SampledFrom([]float64{-1, 0, 12.5}).Draw(t, "ease"),
					Waist: rapid.SampledFrom([]WaistFit{"", WaistFitOwn, WaistFitGathers, WaistFitSides}).Draw(t, "waist"), MostAtSide: 40,
				}
				was := lender.Clone()
				a, _ := lawful(t, p, borrowed(o))
				if d := apartBy(was, lender); d != 0 {
					t.Fatalf("the lender was changed by %g mm", d)
				}
				if a == nil {
					return
				}
				done++
				clean(t, p, a)
				var taken []string
				for _, piece := range lender.Pieces {
					if !slices.Contains(c.roles, piece.Role) {
						continue
					}
					taken = append(taken, piece.Name)
					for _, e := range piece.Edges {
						if slices.Contains(c.kept, e.Is()) {
							within(t, piece.Name+"/"+e.Name, length(a.Pattern, piece.Name, e.Name), e.Path.Length(), laidOff)
						}
					}
				}
				others(t, p, a.Pattern, taken...)
				if len(a.Pattern.Pieces) != len(p.Pieces) || len(a.Pattern.Seams) != len(p.Seams) {
					t.Errorf("%d pieces and %d seams, there were %d and %d", len(a.Pattern.Pieces), len(a.Pattern.Seams), len(p.Pieces), len(p.Seams))
				}
				for _, s := range a.Lineage {
					if slices.Contains(taken, s.New.Piece) && !s.Added() {
						t.Fatalf("%+v was here before", s)
					}
				}
			})
			if done < 10 {
				t.Errorf("%d borrowed: the law is not being tried", done)
			}
		})
	}
}

// apartBy is the largest distance in mm between two patterns' outlines.
func apartBy(a, b *pattern.Pattern) float64 {
	var worst float64
	for i := range a.Pieces {
		worst = math.Max(worst, apart(&a.Pieces[i], &b.Pieces[i]))
	}
	return worst
}

// A sleeve's head comes to the armscye and the ease asked for, or the ease it
// had, and none of that lies under the arm.
func TestBorrowSleeve(t *testing.T) {
	p, lender := dress(t), larger(t, 60)
	armscye := p.RunLength(p.Seam("armscye").A)
	for _, ease := range []float64{0, 22, -1} {
		a := done(t, p, borrowed(Borrowing{Lender: lender, Roles: sleeveRoles, Ease: ease}))
		clean(t, p, a)
		want := ease
		if ease < 0 {
			want = 26 // the stock draft's
		}
		within(t, "head", length(a.Pattern, "sleeve", pattern.Cap), armscye+want, exact)
		s := a.Pattern.Seam("armscye")
		under, mate := notchesAlong(a.Pattern, s.A), notchesAlong(a.Pattern, s.B)
		if len(under) != 3 || len(mate) != 3 {
			t.Fatalf("notches %v and %v", under, mate)
		}
		first := func(list []along) float64 {
			i := slices.IndexFunc(list, func(n along) bool { return n.name == "front" })
			return list[i].sewn
		}
		within(t, "front notch from the underarm", first(mate), first(under), laidOff)
	}
}

// puffed gives the dress short sleeves, full into a band.
func puffed(t failer, p *pattern.Pattern, band float64) *pattern.Pattern {
	t.Helper()
	return after(t, p, func(p *pattern.Pattern) (*operation.Answer, error) { return ShortenSleeve(p, 60) },
		func(p *pattern.Pattern) (*operation.Answer, error) {
			return PuffSleeve(p, Puff{Band: band, BandHeight: 13, Ratio: 1.45, HeadShare: 1, From: 0.35, To: 0.85, Slashes: 6})
		})
}

// A sleeve with its band comes whole, under names that are free, and its
// gathers are drawn up to the armscye here.
func TestBorrowPuffedSleeve(t *testing.T) {
	lender := puffed(t, larger(t, 20), 330)
	p := dress(t)
	p.Pieces[5].Name = "sleeve-band" // a facing by another name: the band gets a number
	for i := range p.Seams {
		for _, r := range []pattern.Run{p.Seams[i].A, p.Seams[i].B} {
			for k := range r {
				if r[k].Piece == "facing-front" {
					r[k].Piece = "sleeve-band"
				}
			}
		}
	}
	p.Seam("facing-shoulder").Name = "sleeve-band"
	a := done(t, p, borrowed(Borrowing{Lender: lender, Roles: sleeveRoles, Ease: -1}))
	clean(t, p, a)
	if a.Pattern.Piece("sleeve-band-2") == nil || a.Pattern.Seam("sleeve-band-3") == nil && a.Pattern.Seam("sleeve-band-2") == nil {
		t.Errorf("pieces %s", strings.Join(a.Pattern.PieceNames(), ", "))
	}
	s := a.Pattern.Seam("armscye")
	within(t, "head, gathered", a.Pattern.RunLength(s.B), a.Pattern.RunLength(s.A), exact)
	if s.Meeting.Kind != pattern.Gathered {
		t.Errorf("the head is %s", s.Meeting.Kind)
	}
}

// A skirt comes to the bodice's waist, piece by piece, the way it was asked for.
func TestBorrowSkirt(t *testing.T) {
	p := dress(t)
	front := p.Piece("bodice-front").SewnLength(pattern.Waist)
	for _, c := range []struct {
		by       float64
		how      WaistFit
		gathered bool
	}{{40, WaistFitOwn, false}, {40, WaistFitGathers, true}, {40, WaistFitSides, false}, {200, WaistFitOwn, true}, {-40, WaistFitOwn, false}} {
		lender := larger(t, c.by)
		a := done(t, p, borrowed(Borrowing{Lender: lender, Roles: skirtRoles, Waist: c.how, MostAtSide: 25}))
		clean(t, p, a)
		within(t, "front waist, sewn", a.Pattern.Piece("skirt-front").SewnLength(pattern.Waist), front, exact)
		if got := len(a.Pattern.Piece("skirt-front").Gathers) > 0; got != c.gathered || got != (a.Pattern.Seam("waist").Meeting.Kind == pattern.Gathered) {
			t.Errorf("by %g, %s: gathered is %v", c.by, c.how, got)
		}
		within(t, "hem", hemOf(a.Pattern), hemOf(lender), laidOff)
	}
}

// A collar replaces another one, or comes to a neckline that has none, and all
// its pieces with it.
func TestBorrowCollar(t *testing.T) {
	lender := collared(t, 60)
	bareNeck := bare(dress(t), pattern.Bound, "facing-front", "facing-back")
	for name, p := range map[string]*pattern.Pattern{"replaced": collared(t, 0), "added": bareNeck} {
		t.Run(name, func(t *testing.T) {
			a := done(t, p, borrowed(Borrowing{Lender: lender, Roles: collarRoles}))
			clean(t, p, a)
			s := a.Pattern.Seam("collar")
			within(t, "neckline", a.Pattern.RunLength(s.B), a.Pattern.RunLength(s.A), exact)
			outer := a.Pattern.Seam("collar-outer")
			within(t, "outer edge", a.Pattern.RunLength(outer.B), a.Pattern.RunLength(outer.A), laidOff)
			if e := a.Pattern.Piece("bodice-front").Edge(pattern.Neckline); e.Finish != pattern.Sewn {
				t.Errorf("the neckline is %s", e.Finish)
			}
		})
	}
}

// What a part was not sewn to here is joined where its own pattern has it.
func TestBorrowAdded(t *testing.T) {
	for _, c := range []struct {
		name  string
		p     *pattern.Pattern
		roles []pattern.Role
	}{
		{"sleeve", bare(dress(t), pattern.Bound, "sleeve"), sleeveRoles},
		{"skirt", bare(dress(t), pattern.Hemmed, "skirt-front", "skirt-back"), skirtRoles},
		{"sleeve, turned over", bare(turnedOver(dress(t)), pattern.Bound, "sleeve"), sleeveRoles},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := done(t, c.p, borrowed(Borrowing{Lender: larger(t, 30), Roles: c.roles, Ease: -1, MostAtSide: 30}))
			clean(t, c.p, a)
			if len(a.Cautions) < 2 {
				t.Errorf("cautions %q", a.Cautions)
			}
		})
	}
	// Turned over with the pattern, a sleeve's front stays in front.
	p := bare(turnedOver(dress(t)), pattern.Bound, "sleeve")
	a := done(t, p, borrowed(Borrowing{Lender: dress(t), Roles: sleeveRoles, Ease: -1}))
	want := turnedOver(dress(t)).Piece("sleeve")
	got := a.Pattern.Piece("sleeve")
	within(t, "area", got.Boundary().Area(), want.Boundary().Area(), 1e-6)
	opposed := func(p *pattern.Pattern) bool {
		s := p.Seam("armscye")
		return s.A[0].Backwards != s.B[0].Backwards
	}
	if !opposed(a.Pattern) {
		t.Error("the sleeve is of the other hand")
	}
}

// A part that was borrowed and comes back is what it was: the fit is exact both
// ways, and the names are free again.
func TestBorrowThereAndBack(t *testing.T) {
	p := dress(t)
	there := done(t, p, borrowed(Borrowing{Lender: larger(t, 30), Roles: sleeveRoles, Ease: -1}))
	back := done(t, there.Pattern, borrowed(Borrowing{Lender: p, Roles: sleeveRoles, Ease: -1}))
	if d := apart(p.Piece("sleeve"), back.Pattern.Piece("sleeve")); d > 1e-6 {
		t.Errorf("the sleeve came back %.3g mm off", d)
	}
	// From itself, nothing changes at all but that the line counts as new.
	same := done(t, p, borrowed(Borrowing{Lender: p, Roles: skirtRoles, MostAtSide: 30}))
	if d := apartBy(p, same.Pattern); d != 0 {
		t.Errorf("borrowed from itself, the skirt is %.3g mm off", d)
	}
}

func TestBorrowRefusals(t *testing.T) {
	p := dress(t)
	divided := after(t, p, alteration(func(p *pattern.Pattern) (*operation.Answer, error) { return DivideBack(p, Panel{AtArmscye: 110}) }))
	lone := dress(t)
	lone.Seams = slices.DeleteFunc(lone.Seams, func(s pattern.Seam) bool { return s.Name == "armscye" })
	twoSeams := dress(t)
	w := twoSeams.Seam("waist")
	twoSeams.Seams = append(twoSeams.Seams, pattern.Seam{Name: "waist-back", Meeting: w.Meeting, A: w.A[1:2:2], B: w.B[1:2:2]})
	w = twoSeams.Seam("waist")
	w.A, w.B = w.A[:1:1], w.B[:1:1]
	refusals{
		{"from nothing", p, borrowed(Borrowing{Roles: sleeveRoles}), `it is not said which pattern to borrow from; name one of the patterns that the chain lists`},
		{"no such piece", p, borrowed(Borrowing{Lender: p, Piece: "cape"}), `pattern "stock-dress" has no piece "cape"; its pieces are bodice-front, bodice-back, sleeve, skirt-front, skirt-back, facing-front, facing-back`},
		{"no collar", p, borrowed(Borrowing{Lender: p, Roles: collarRoles}), `pattern "stock-dress" has no piece with the role collar; name the piece that is meant; its pieces are bodice-front, bodice-back, sleeve, skirt-front, skirt-back, facing-front, facing-back`},
		{"sewn to nothing", p, borrowed(Borrowing{Lender: lone, Roles: sleeveRoles}), `piece "sleeve" of pattern "stock-dress" is sewn to nothing else there; nothing tells where it would go here`},
		{"a head much too long", p, borrowed(Borrowing{Lender: larger(t, 400), Roles: sleeveRoles, Ease: 20}), `the head of the borrowed sleeve measures 777 mm, and the armscye 440 and 20 of ease; this head can be made to fit an armscye of 524 to 991 mm: borrow from a pattern nearer the size`},
		{"too little at the sides", p, borrowed(Borrowing{Lender: larger(t, -120), Roles: skirtRoles, MostAtSide: 10}), `the waist of the borrowed piece "skirt-front" would have to be let out by 15 mm at each side, and 10 is the most; make the bodice's waist smaller, or borrow a larger skirt`},
		{"nothing to gather", p, borrowed(Borrowing{Lender: larger(t, -40), Roles: skirtRoles, Waist: WaistFitGathers}), `the waist of the borrowed piece "skirt-front" is 10 mm shorter than the bodice's over it, and has no gathers to let out; let it out at the sides`},
		{"a divided back", bare(divided, pattern.Hemmed, "skirt-front", "skirt-back"), borrowed(Borrowing{Lender: p, Roles: skirtRoles, MostAtSide: 30}), `the waist of piece "side-back" would be left over: pattern "stock-dress" has no such piece; borrow before the bodice is divided`},
		{"a faced neckline", p, borrowed(Borrowing{Lender: collared(t, 0), Roles: collarRoles}), `in pattern "stock-dress", collar/neckline is sewn to the neckline of bodice-front, and here that is sewn in seam "facing-neckline" already; take what is sewn there off first`},
		{"two seams for one", twoSeams, borrowed(Borrowing{Lender: p, Roles: skirtRoles, MostAtSide: 30}), `skirt-front/waist + skirt-back/waist is sewn on in seam "waist" in pattern "stock-dress", and here skirt-front/waist in seam "waist": they do not match; borrow from a pattern that is put together alike`},
		{"a collar much too long", collared(t, 0), borrowed(Borrowing{Lender: collared(t, 500), Roles: collarRoles}), `the neckline of the borrowed collar measures 289 mm, and the one here 207; this collar can be made to fit a neckline of 254 to 323 mm: borrow one nearer the size`},
		{"no armscye", bare(p, pattern.Bound, "sleeve", "bodice-back", "facing-back", "skirt-back"), borrowed(Borrowing{Lender: p, Roles: sleeveRoles}), `in pattern "stock-dress", sleeve/cap is sewn to the armscye of bodice-back, and there is no such edge here; give the piece and the edge that are meant these roles`},
		{"a facing cut apart", p, borrowed(Borrowing{Lender: larger(t, 60), Piece: "facing-front"}), `seam "facing-neckline" of pattern "stock-dress" has the part and the rest on one side; name a piece whose seams begin and end with it`},
		{"a band of another length", puffed(t, p, 330), borrowed(Borrowing{Lender: puffed(t, p, 400), Piece: "sleeve-band"}), `sleeve-band/top measures 400.0 mm, and what it joins here 330.0; alter one of them to that length first; a sleeve's head, a skirt's waist and a collar's neckline are fitted`},
	}.try(t)
}

// A sleeve of another size is made narrower or wider with its head, so that the
// head keeps its shape; the seam under the arm and the hem keep their lengths.
func TestBorrowASleeveOfAnotherSize(t *testing.T) {
	for _, c := range []struct {
		name        string
		mine, other float64 // mm in girth more than the stock figure
	}{{"much larger", 0, 130}, {"much smaller", 160, 0}} {
		t.Run(c.name, func(t *testing.T) {
			p, lender := larger(t, c.mine), larger(t, c.other)
			a := done(t, p, borrowed(Borrowing{Lender: lender, Roles: sleeveRoles, Ease: 25}))
			clean(t, p, a)
			was, now := lender.Piece("sleeve"), a.Pattern.Piece("sleeve")
			for _, e := range []string{"underarm.front", "underarm.back", "hem"} {
				within(t, e, now.Edge(e).Path.Length(), was.Edge(e).Path.Length(), laidOff)
			}
			s := a.Pattern.Seam("armscye")
			within(t, "ease", a.Pattern.RunLength(s.B)-a.Pattern.RunLength(s.A), 25, exact)
			foot := func(q *pattern.Piece) float64 { return q.Edge("cap").Path.Start().Dist(q.Edge("cap").Path.End()) }
			factor := a.Pattern.RunLength(s.B) / was.SewnLength("cap")
			if math.Abs(factor-1) < mostHeadChange {
				t.Fatalf("the head changes by %.0f %% only", 100*(factor-1))
			}
			within(t, "width, in proportion", foot(now)/foot(was), factor, 1e-6)
			if kink := underarmKink(a.Pattern); math.Abs(kink) > 4 {
				t.Errorf("the head kinks by %.1f degrees under the arm", kink)
			}
			top := now.Landmark("cap-top").At
			if _, off := now.Edge("cap").Path.Nearest(top); off > laidOff {
				t.Errorf("the mark of the head's top lies %v mm off it", off)
			}
			before, _ := bends(was.Edge("cap").Path)
			if after, corner := bends(now.Edge("cap").Path); after > before+2 || corner > 0.01 {
				t.Errorf("the head bends to the other side %d times, before %d; its sharpest corner is %.2f degrees", after, before, corner)
			}
		})
	}
}
