package alter

import (
	"testing"

	"pgregory.net/rapid"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
	"bygone.example/internal/stock"
)

func shorten(under float64) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return ShortenSleeve(p, under) }
}

func puff(o Puff) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return PuffSleeve(p, o) }
}

func refit(ease float64) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return RefitCap(p, ease) }
}

// housePuff is the house chain's sleeve.
var housePuff = Puff{Band: 315, BandHeight: 13, Ratio: 1.45, HeadShare: 1, From: 0.35, To: 0.85, Slashes: 6}

func TestShortenSleeveKeeps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		under := rapid.Float64Range(10, 380).Draw(t, "under")
		a, no := lawful(t, p, shorten(under))
		if no != nil {
			return
		}
		within(t, "front seam", length(a.Pattern, "sleeve", "underarm.front"), under, laidOff)
		within(t, "back seam", length(a.Pattern, "sleeve", "underarm.back"), under, laidOff)
		within(t, "head", length(a.Pattern, "sleeve", "cap"), length(p, "sleeve", "cap"), exact)
		others(t, p, a.Pattern, "sleeve")
	})
}

func TestPuffSleeveKeeps(t *testing.T) {
	full := 0
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		if rapid.Bool().Draw(t, "short") {
			p = after(t, p, shorten(rapid.Float64Range(20, 250).Draw(t, "under")))
		}
		o := Puff{
			Band: rapid.Float64Range(200, 380).Draw(t, "band"), BandHeight: rapid.Float64Range(5, 60).Draw(t, "height"),
			Ratio: rapid.Float64Range(1.3, 2.5).Draw(t, "ratio"), HeadShare: rapid.Float64Range(0.3, 1).Draw(t, "head share"),
			From: rapid.Float64Range(0, 0.4).Draw(t, "from"), To: rapid.Float64Range(0.7, 1).Draw(t, "to"),
			Slashes: rapid.IntRange(2, 9).Draw(t, "slashes"),
		}
		a, no := lawful(t, p, puff(o))
		if no != nil {
			return
		}
		full++
		q := a.Pattern
		s := q.Seam("armscye")
		within(t, "the head, gathered", q.Piece("sleeve").SewnLength("cap"), q.RunLength(s.A), exact)
		within(t, "the hem, gathered", q.Piece("sleeve").SewnLength("hem"), o.Band, exact)
		within(t, "the band", q.Piece("sleeve-band").SewnLength("top"), o.Band, exact)
		for _, e := range []string{"underarm.front", "underarm.back"} {
			within(t, e, length(q, "sleeve", e), length(p, "sleeve", e), exact)
		}
		others(t, p, q, "sleeve")
	})
	if full == 0 {
		t.Error("no sleeve was puffed")
	}
}

// A sleeve that is not fuller than its band asks for is only gathered.
func TestPuffSleeveWideAlready(t *testing.T) {
	p := after(t, dress(t), shorten(60))
	o := housePuff
	o.Band, o.Ratio = 300, 1
	a := done(t, p, puff(o))
	within(t, "head, cut", length(a.Pattern, "sleeve", "cap"), length(p, "sleeve", "cap"), exact)
	within(t, "hem, cut", length(a.Pattern, "sleeve", "hem"), length(p, "sleeve", "hem"), exact)
}

func TestRefitCapFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		ease := rapid.Float64Range(0, 60).Draw(t, "ease")
		a, no := lawful(t, p, refit(ease))
		if no != nil {
			return
		}
		q := a.Pattern
		s := q.Seam("armscye")
		within(t, "ease", q.RunLength(s.B)-q.RunLength(s.A), ease, exact)
		for _, e := range p.Piece("sleeve").Edges {
			if e.Is() != pattern.Cap {
				within(t, e.Name, length(q, "sleeve", e.Name), e.Path.Length(), exact)
			}
		}
		top := q.Piece("sleeve").Landmark("cap-top").At
		if _, off := q.Piece("sleeve").Edge("cap").Path.Nearest(top); off > laidOff {
			t.Errorf("the mark of the head's top lies %v mm off it", off)
		}
		others(t, p, q, "sleeve")
	})
}

// After the shoulder is moved the head fits again; of a puffed one the gathers
// are drawn up to the armscye.
func TestRefitCapAfterOthers(t *testing.T) {
	p := after(t, dress(t), shorten(60), puff(housePuff))
	// The armscye grows by 12 mm: the front's underarm goes down.
	wider := p.Clone()
	for i := range wider.Pieces {
		for k := range wider.Pieces[i].Gathers {
			if g := &wider.Pieces[i].Gathers[k]; g.Edge == "cap" {
				g.Length -= 12
			}
		}
	}
	a := done(t, wider, refit(0))
	s := a.Pattern.Seam("armscye")
	within(t, "the head", a.Pattern.RunLength(s.B), a.Pattern.RunLength(s.A), exact)
	// C. Hecklinger 1884, fig. 9, sets the head 2 in longer than the armhole.
	const twoInches = 50.8
	b := done(t, dress(t), refit(twoInches))
	s = b.Pattern.Seam("armscye")
	within(t, "the head, 2 in longer", b.Pattern.RunLength(s.B)-b.Pattern.RunLength(s.A), twoInches, exact)
}

func TestSleeveRefuses(t *testing.T) {
	p := dress(t)
	none := p.Clone()
	none.Piece("sleeve").Role = ""
	loose := p.Clone()
	loose.Seams = nil
	split := p.Clone()
	q := split.Piece("sleeve")
	front, back := q.Edge("cap").Path.Split(200)
	q.Edges = []pattern.Edge{q.Edges[0], q.Edges[1], {Name: "cap.front", Path: front}, {Name: "cap.back", Path: back}, q.Edges[3]}
	q.Notches = nil
	for i := range split.Seams {
		if split.Seams[i].Name == "armscye" {
			split.Seams[i].B = pattern.Run{{Piece: "sleeve", Edge: "cap.front"}, {Piece: "sleeve", Edge: "cap.back"}}
		}
	}
	if bad := split.Validate(); len(bad) > 0 {
		t.Fatal(bad)
	}
	puffed := after(t, p, shorten(60), puff(housePuff))
	with := func(change func(*Puff)) alteration {
		o := housePuff
		change(&o)
		return puff(o)
	}
	blouse, err := stock.Blouse()
	if err != nil {
		t.Fatal(err)
	}
	done(t, blouse, shorten(60))
	refusals{
		{"no sleeve", none, shorten(60), `the pattern has 0 pieces with the role sleeve; give one piece that role`},
		{"cuffed", puffed, shorten(30), `the hem of piece "sleeve" is sewn to something; take the cuff off first`},
		{"shorter already", p, shorten(600), `the underarm seam of piece "sleeve" measures 451 mm already; ask for a shorter sleeve`},
		{"nothing of it", p, shorten(1), `a sleeve needs some seam under the arm; ask for 5 mm or more`},
		{"head in two", split, puff(housePuff), `piece "sleeve" has more than one cap edge; join them into one, or name the edge that is meant`},
		{"less than the band", p, with(func(o *Puff) { o.Ratio = 0.9 }), `a fullness ratio of 0.9 would stretch the cloth; ask for 1 or more`},
		{"nowhere at the head", p, with(func(o *Puff) { o.From, o.To = 0.5, 0.5 }), `the gathers at the head need a stretch of it to lie on; give shares between 0 and 1, the first the smaller`},
		{"no slash", p, with(func(o *Puff) { o.Slashes = 0 }), `a sleeve cannot be spread without a slash; ask for at least one`},
		{"puffed already", puffed, puff(housePuff), `the head or hem of piece "sleeve" has fullness or a cuff already; puff the plain sleeve`},
		{"no band", p, with(func(o *Puff) { o.Band = 0 }), `a band needs a length and a height; give both`},
		{"not set in", loose, puff(housePuff), `no seam sets the head of piece "sleeve" into an armscye; add that seam to the pattern`},
		{"too little to gather on", after(t, p, shorten(60)), with(func(o *Puff) { o.From, o.To = 0.5, 0.6 }), `the head measures 576 mm and the armscye 440: that cannot be gathered into 58 mm of it; widen the stretch that is gathered, or ask for less fullness`},
		{"smaller than the armscye", p, refit(-5), `a sleeve's head cannot be 5.0 mm shorter than its armscye; ask for an ease of 0 mm or more`},
		{"far too high", p, refit(400), `a head of 466 mm cannot be made to fit an armscye of 440 mm by its height alone; widen or narrow the sleeve first`},
	}.try(t)
}
