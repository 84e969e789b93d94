package alter

import (
	"testing"

	"pgregory.net/rapid"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

func moveGathers(o GatherMove) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return MoveGathers(p, o) }
}

func gatherBack(o BackFullness) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return GatherBack(p, o) }
}

// gatheredDress is the dress with the back of its skirt gathered.
func gatheredDress(t failer, p *pattern.Pattern) *pattern.Pattern {
	t.Helper()
	return after(t, p, gatherBack(BackFullness{Zone: 152, Ratio: 2.5}))
}

// takenUp is what gathers take up on an edge.
func takenUp(p *pattern.Pattern, piece, edge string) (sum float64) {
	for _, g := range p.Piece(piece).Gathers {
		if g.Edge == edge {
			sum += g.To - g.From - g.Length
		}
	}
	return sum
}

func TestMoveGathersAlongKeeps(t *testing.T) {
	moved := 0
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		b := GatherBack
		q, err := b(p, BackFullness{Zone: 152, Ratio: 2.5})
		if err != nil {
			t.Skip(err.Error())
		}
		p = q.Pattern
		o := GatherMove{Piece: "skirt-back", Edge: "waist", Share: rapid.SampledFrom([]float64{1, 0.5, 0.3}).Draw(t, "share")}
		o.From = rapid.Float64Range(0, 0.8).Draw(t, "from")
		o.To = min(1, o.From+rapid.Float64Range(0.1, 1).Draw(t, "long"))
		a, no := lawful(t, p, moveGathers(o))
		if no != nil {
			return
		}
		moved++
		was, now := p.Piece(o.Piece), a.Pattern.Piece(o.Piece)
		within(t, "sewn waist", now.SewnLength("waist"), was.SewnLength("waist"), exact)
		within(t, "taken up", takenUp(a.Pattern, o.Piece, "waist"), takenUp(p, o.Piece, "waist"), exact)
		for _, n := range was.Notches {
			for _, m := range now.Notches {
				if m.Name == n.Name && m.Edge == n.Edge && !marksGathers(n.Name) { // those go with the gathers
					within(t, "notch "+n.Name+" sewn", now.SewnPosition(m.Edge, m.At), was.SewnPosition(n.Edge, n.At), exact)
				}
			}
		}
		within(t, "area", area(a.Pattern, o.Piece), area(p, o.Piece), exact)
		others(t, p, a.Pattern, o.Piece)
	})
	if moved == 0 {
		t.Error("nothing was ever moved")
	}
}

func TestMoveGathersAcrossKeeps(t *testing.T) {
	moved := 0
	rapid.Check(t, func(t *rapid.T) {
		q, err := GatherBack(anyDress(t), BackFullness{Zone: 152, Ratio: 2.5})
		if err != nil {
			t.Skip(err.Error())
		}
		p := q.Pattern
		o := GatherMove{
			Piece: "skirt-back", Edge: "waist", ToPiece: "skirt-front", ToEdge: "waist", Slashes: rapid.IntRange(1, 6).Draw(t, "slashes"),
			Share: rapid.SampledFrom([]float64{1, 0.6, 0.25}).Draw(t, "share"), From: 0.1, To: 0.9, Parallel: rapid.Bool().Draw(t, "parallel"),
		}
		a, no := lawful(t, p, moveGathers(o))
		if no != nil {
			return
		}
		moved++
		cut := func(p *pattern.Pattern) float64 { return sum(p, "waist", "skirt-back", "skirt-front") }
		up := func(p *pattern.Pattern) float64 {
			return takenUp(p, "skirt-back", "waist") + takenUp(p, "skirt-front", "waist")
		}
		within(t, "both waists, cut", cut(a.Pattern), cut(p), 1e-8)
		within(t, "taken up by both", up(a.Pattern), up(p), 1e-8)
		within(t, "taken up in front", takenUp(a.Pattern, "skirt-front", "waist"), o.Share*up(p), 1e-8)
		within(t, "both hems", sum(a.Pattern, "hem", "skirt-back", "skirt-front"), sum(p, "hem", "skirt-back", "skirt-front"), 1e-8)
		for _, piece := range []string{"skirt-back", "skirt-front"} {
			within(t, "sewn waist of "+piece, a.Pattern.Piece(piece).SewnLength("waist"), p.Piece(piece).SewnLength("waist"), 1e-8)
			for _, e := range p.Piece(piece).Edges {
				if e.Name != "waist" && (e.Name != "hem" || !o.Parallel) {
					within(t, piece+"/"+e.Name, length(a.Pattern, piece, e.Name), e.Path.Length(), exact)
				}
			}
		}
		if s := a.Pattern.SeamsOf("skirt-front", "waist")[0]; s.Meeting.Kind != pattern.Gathered {
			t.Errorf("the waist meets %s", s.Meeting.Kind)
		}
		others(t, p, a.Pattern, "skirt-back", "skirt-front")
	})
	if moved == 0 {
		t.Error("nothing was ever moved")
	}
}

func TestMoveGathersRefuses(t *testing.T) {
	p := dress(t)
	g := gatheredDress(t, p)
	refusals{
		{"no gathers", p, moveGathers(GatherMove{Piece: "skirt-back", Edge: "waist", To: 1, Share: 1}),
			`edge "waist" of piece "skirt-back" has no gathers; gather it first, or name another edge`},
		{"no stretch", g, moveGathers(GatherMove{Piece: "skirt-back", Edge: "waist", Share: 1}),
			`gathers need a stretch to lie on, and a share of them to move; give shares between 0 and 1, from the smaller`},
		{"too short", g, moveGathers(GatherMove{Piece: "skirt-back", Edge: "waist", To: 0.1, Share: 1}),
			`30 mm of edge "waist" of piece "skirt-back" are too short to take up so much; give the gathers a longer stretch, or move fewer of them`},
		{"over what stays", g, moveGathers(GatherMove{Piece: "skirt-back", Edge: "waist", To: 0.9, Share: 0.5}),
			`the gathers would lie over "waist-gathers" on edge "waist" of piece "skirt-back"; move all of them, or to a stretch beside it`},
		{"another seam", g, moveGathers(GatherMove{Piece: "skirt-back", Edge: "waist", ToPiece: "sleeve", ToEdge: "cap", To: 1, Share: 1, Slashes: 3}),
			`no seam has edge "waist" of piece "skirt-back" and edge "cap" of piece "sleeve" on one side; move gathers along one side of one seam`},
		{"no piece", g, moveGathers(GatherMove{Piece: "skirt-back", Edge: "waist", ToPiece: "yoke", ToEdge: "cap", To: 1, Share: 1, Slashes: 3}),
			`the pattern has no piece "yoke"; its pieces are bodice-front, bodice-back, sleeve, skirt-front, skirt-back, facing-front, facing-back`},
		{"no slash", g, moveGathers(GatherMove{Piece: "skirt-back", Edge: "waist", ToPiece: "skirt-front", ToEdge: "waist", To: 1, Share: 1}),
			`a piece cannot be spread without a slash; ask for at least one`},
	}.try(t)
}

// There and back again the gathers are where they were.
func TestMoveGathersAlongAndBack(t *testing.T) {
	p := gatheredDress(t, dress(t))
	g := p.Piece("skirt-back").Gathers[0]
	long := length(p, "skirt-back", "waist")
	q := after(t, p, moveGathers(GatherMove{Piece: "skirt-back", Edge: "waist", From: 0, To: 1, Share: 1}),
		moveGathers(GatherMove{Piece: "skirt-back", Edge: "waist", From: g.From / long, To: g.To / long, Share: 1}))
	sameDrawing(t, "there and back", q, p)
}

func flareEdge(o EdgeFlare) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return FlareEdge(p, o) }
}

func TestFlareEdgeKeeps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		o := EdgeFlare{Piece: rapid.SampledFrom([]string{"sleeve", "skirt-front", "skirt-back"}).Draw(t, "piece"), Edge: "hem"}
		o.Slashes = rapid.IntRange(1, 8).Draw(t, "slashes")
		o.Length = length(p, o.Piece, "hem") * rapid.Float64Range(0.8, 2.2).Draw(t, "times")
		a, no := lawful(t, p, flareEdge(o))
		if no != nil {
			return
		}
		within(t, "hem", length(a.Pattern, o.Piece, "hem"), o.Length, exact)
		for _, e := range p.Piece(o.Piece).Edges {
			if e.Name != "hem" {
				within(t, e.Name, length(a.Pattern, o.Piece, e.Name), e.Path.Length(), exact)
			}
		}
		others(t, p, a.Pattern, o.Piece)
	})
	refusals{
		{"sewn", dress(t), flareEdge(EdgeFlare{Piece: "sleeve", Edge: "cap", Length: 700, Slashes: 3}),
			`edge "cap" of piece "sleeve" is not loose: flaring it would part it from its mate; name a hem, or add fullness there and gather it`},
		{"no slash", dress(t), flareEdge(EdgeFlare{Piece: "sleeve", Edge: "hem", Length: 700}), `a piece cannot be spread without a slash; ask for at least one`},
		{"nothing", dress(t), flareEdge(EdgeFlare{Piece: "sleeve", Edge: "hem", Slashes: 3}), `an edge of 0.0 mm is no edge; ask for more`},
		{"no piece", dress(t), flareEdge(EdgeFlare{Piece: "cape", Edge: "hem", Slashes: 3}), `the pattern has no piece "cape"; its pieces are bodice-front, bodice-back, sleeve, skirt-front, skirt-back, facing-front, facing-back`},
	}.try(t)
}

func TestMovePieceFlare(t *testing.T) {
	move := func(o PieceFlare) alteration {
		return func(p *pattern.Pattern) (*operation.Answer, error) { return MovePieceFlare(p, o) }
	}
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		o := PieceFlare{From: "skirt-front", To: "skirt-back", Amount: rapid.Float64Range(-300, 300).Draw(t, "amount"), Slashes: rapid.IntRange(1, 8).Draw(t, "slashes")}
		a, no := lawful(t, p, move(o))
		if no != nil {
			return
		}
		within(t, "the hem round", hemOf(a.Pattern), hemOf(p), 4*sweepTolerance)
		within(t, "what the back gains", 2*(length(a.Pattern, "skirt-back", "hem")-length(p, "skirt-back", "hem")), o.Amount, 2*sweepTolerance)
		others(t, p, a.Pattern, "skirt-front", "skirt-back")
	})
	p := dress(t)
	sameDrawing(t, "by name and by role",
		after(t, p, move(PieceFlare{From: "skirt-front", To: "skirt-back", Amount: 100, Slashes: 5})),
		after(t, p, func(p *pattern.Pattern) (*operation.Answer, error) {
			return MoveFlareBack(p, MoveFlare{Amount: 100, Slashes: 5})
		}))
	refusals{
		{"to itself", p, move(PieceFlare{From: "skirt-front", To: "skirt-front", Amount: 10, Slashes: 3}), `the flare of piece "skirt-front" would move to itself; name another piece`},
		{"no piece", p, move(PieceFlare{From: "skirt-front", To: "gore", Amount: 10, Slashes: 3}), `the pattern has no piece "gore"; its pieces are bodice-front, bodice-back, sleeve, skirt-front, skirt-back, facing-front, facing-back`},
		{"too much", p, move(PieceFlare{From: "skirt-front", To: "skirt-back", Amount: 700, Slashes: 3}), `the hem of "skirt-front" measures 730 mm: moving 700 of it leaves too little; move less`},
		{"no slash", p, move(PieceFlare{From: "skirt-front", To: "skirt-back", Amount: 70}), `a skirt cannot be spread without a slash; ask for at least one a piece`},
	}.try(t)
}
