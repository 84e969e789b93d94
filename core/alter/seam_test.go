package alter

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"bygone.example/core/finding"
	"bygone.example/core/operation"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
	"bygone.example/internal/stock"
)

func moveSeam(o SeamMove) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return MoveSeam(p, o) }
}

// quietly is done, and asks for no new warning either.
func quietly(t failer, p *pattern.Pattern, do alteration) *operation.Answer {
	t.Helper()
	a := done(t, p, do)
	for _, f := range pairing.Compare(pairing.Check(p), pairing.Check(a.Pattern), a.Lineage, "new") {
		if f.Severity != finding.Note && f.Since == "new" {
			t.Errorf("a new %s: %s %s/%s: %s", f.Severity, f.Code, f.Place.Piece, f.Place.Edge, f.Text)
		}
	}
	return a
}

// withoutBustDart is the dress with nothing in its side seam.
func withoutBustDart(t failer) *pattern.Pattern { t.Helper(); return after(t, dress(t), job[0].do) }

// with a divided back as well
func withSideBack(t failer) *pattern.Pattern {
	t.Helper()
	return after(t, dress(t), job[0].do, job[1].do)
}

func TestMoveSeam(t *testing.T) {
	for _, c := range []struct {
		name, front, back string
		roles             []string // of the edges that the seam ends on
		o                 SeamMove
		on                func(failer) *pattern.Pattern
	}{
		{"shoulder", "bodice-front", "bodice-back", []string{"neckline", "armscye"}, SeamMove{Seam: "shoulder", AtStart: 20, AtEnd: 45}, dress},
		{"shoulder forward", "bodice-front", "bodice-back", []string{"neckline", "armscye"}, SeamMove{Seam: "shoulder", AtStart: -20, AtEnd: -10}, dress},
		{"shoulder both ways", "bodice-front", "bodice-back", []string{"neckline", "armscye"}, SeamMove{Seam: "shoulder", AtStart: -15, AtEnd: 15}, dress},
		{"shoulder bowed", "bodice-front", "bodice-back", []string{"neckline", "armscye"}, SeamMove{Seam: "shoulder", Bow: 6}, dress},
		{"side", "bodice-front", "bodice-back", []string{"armscye", "waist"}, SeamMove{Seam: "side", AtStart: 12, AtEnd: 8}, withoutBustDart},
		{"side bowed", "bodice-front", "bodice-back", []string{"armscye", "waist"}, SeamMove{Seam: "side", AtStart: -12, AtEnd: -20, Bow: -4}, withoutBustDart},
		{"side back", "bodice-back", "side-back", []string{"armscye", "waist"}, SeamMove{Seam: "side-back", AtStart: 10, AtEnd: 10}, withSideBack},
		{"skirt side", "skirt-front", "skirt-back", []string{"waist"}, SeamMove{Seam: "skirt-side", AtStart: 15, AtEnd: 30}, dress},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := c.on(t)
			a := quietly(t, p, moveSeam(c.o))
			others(t, p, a.Pattern, c.front, c.back, "sleeve", "skirt-front", "skirt-back", "bodice-front", "bodice-back", "facing-front", "facing-back")
			s := a.Pattern.Seam(c.o.Seam)
			within(t, "the seam's two sides", a.Pattern.RunLength(s.B)-a.Pattern.RunLength(s.A), p.RunLength(s.B)-p.RunLength(s.A), exact)
			for k, role := range c.roles {
				within(t, role+" together", sum(a.Pattern, role, c.front, c.back), sum(p, role, c.front, c.back), laidOff)
				move := c.o.AtStart
				if k == 1 && role != "neckline" || len(c.roles) == 1 { // the walk of every seam here
					move = c.o.AtEnd
				}
				if role == "waist" && len(c.roles) == 1 {
					move = c.o.AtStart
				}
				if _, ok := s.A[0], c.o.Bow == 0 && c.front == "bodice-front"; ok {
					within(t, role+" of the front", sum(a.Pattern, role, c.front), sum(p, role, c.front)+move, laidOff)
				}
			}
		})
	}
}

// Where both sides of a seam are one line the strip goes across as it is.
func TestMoveSeamKeepsArea(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		o := SeamMove{
			Seam: "shoulder", AtStart: rapid.Float64Range(-25, 25).Draw(t, "neck"), AtEnd: rapid.Float64Range(-30, 30).Draw(t, "arm"),
			Bow: rapid.SampledFrom([]float64{0, 0, -4, 4}).Draw(t, "bow"),
		}
		a := done(t, p, moveSeam(o))
		both := []string{"bodice-front", "bodice-back"}
		within(t, "shoulders", length(a.Pattern, both[0], "shoulder")-length(a.Pattern, both[1], "shoulder"), 0, exact)
		within(t, "neckline", sum(a.Pattern, "neckline", both...), sum(p, "neckline", both...), laidOff)
		within(t, "armscye", sum(a.Pattern, "armscye", both...), sum(p, "armscye", both...), laidOff)
		within(t, "area in mm²", area(a.Pattern, both...), area(p, both...), 1e-3)
		// There and back again is the identity where the seam stays straight.
		if o.Bow == 0 {
			b := done(t, a.Pattern, moveSeam(SeamMove{Seam: "shoulder", AtStart: -o.AtStart, AtEnd: -o.AtEnd}))
			for _, name := range both {
				if off := offBy(p.Piece(name), b.Pattern.Piece(name)); off > laidOff {
					t.Errorf("%s, there and back: %g mm off", name, off)
				}
			}
		}
	})
}

// W6: C. Hecklinger, Handbook on Dress and Cloak Cutting, New York 1884, fig. 5:
// the back shoulder is taken up ½ in at the armhole and the front shoulder goes
// down ½ in; the seam lengths stay equal.
func TestMoveShoulderAsHecklinger(t *testing.T) {
	const half = 12.7 // mm
	p := dress(t)
	a := done(t, p, moveSeam(SeamMove{Seam: "shoulder", Into: "bodice-front", AtEnd: half}))
	within(t, "back armscye", length(a.Pattern, "bodice-back", "armscye"), length(p, "bodice-back", "armscye")+half, laidOff)
	within(t, "front armscye", length(a.Pattern, "bodice-front", "armscye"), length(p, "bodice-front", "armscye")-half, laidOff)
	within(t, "shoulders", length(a.Pattern, "bodice-front", "shoulder"), length(a.Pattern, "bodice-back", "shoulder"), exact)
	within(t, "back neckline", length(a.Pattern, "bodice-back", "neckline"), length(p, "bodice-back", "neckline"), exact)
	// The shoulder plugin's operation does the same by other words.
	b := done(t, p, func(p *pattern.Pattern) (*operation.Answer, error) {
		return MoveShoulder(p, ShoulderMove{AtArm: -half})
	})
	for _, name := range []string{"bodice-front", "bodice-back"} {
		if off := offBy(a.Pattern.Piece(name), b.Pattern.Piece(name)); off > exact {
			t.Errorf("%s: MoveShoulder lies %g mm off", name, off)
		}
	}
}

func TestMoveSeamSaysWhatNoLongerMeets(t *testing.T) {
	a := done(t, withoutBustDart(t), moveSeam(SeamMove{Seam: "side", AtStart: 10, AtEnd: 10}))
	if len(a.Cautions) != 1 || !strings.Contains(a.Cautions[0], "skirt-front and skirt-back across seam waist") {
		t.Errorf("cautions: %q", a.Cautions)
	}
}

func TestMoveSeamProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		o := SeamMove{
			Seam:    rapid.SampledFrom([]string{"side", "shoulder", "skirt-side", "side-back"}).Draw(t, "seam"),
			AtStart: rapid.Float64Range(-25, 25).Draw(t, "start"), AtEnd: rapid.Float64Range(-25, 25).Draw(t, "end"),
			Bow: rapid.Float64Range(-5, 5).Draw(t, "bow"),
		}
		p = after(t, p, job[0].do, job[1].do)
		a, no := lawful(t, p, moveSeam(o))
		if no != nil {
			if strings.Contains(no.Error(), "holds together") {
				t.Errorf("refused in the words of another: %v", no)
			}
			return
		}
		for _, f := range pairing.Compare(pairing.Check(p), pairing.Check(a.Pattern), a.Lineage, "new") {
			if f.Since == "new" && f.Code == pairing.NotchDrift && f.Severity != finding.Note {
				t.Errorf("%+v: %s", f.Place, f.Text)
			}
		}
		s := a.Pattern.Seam(o.Seam)
		within(t, "both sides", a.Pattern.RunLength(s.B), a.Pattern.RunLength(s.A), exact)
	})
}

func TestMoveSeamRefusals(t *testing.T) {
	p, q := dress(t), withoutBustDart(t)
	onePiece := withSideBack(t)
	refusals{
		{"no seam", p, moveSeam(SeamMove{Seam: "princess"}), `the pattern has no seam "princess"; its seams are shoulder, side, sleeve-underarm, armscye, skirt-centre-front, skirt-side, skirt-centre-back, waist, facing-shoulder, facing-neckline`},
		{"mirror", p, moveSeam(SeamMove{Seam: "skirt-centre-back", AtStart: 5}), `seam "skirt-centre-back" joins skirt-back/centre-back to its own mirror image; there is no other piece to take anything up`},
		{"several edges", p, moveSeam(SeamMove{Seam: "waist", AtStart: 5}), `seam "waist" takes 2 edges on one side and 2 on the other; join the edges of each side into one first`},
		{"dart", p, moveSeam(SeamMove{Seam: "side", AtStart: 5}), `the side edge of piece "bodice-front" has a dart or fullness in it; turn the dart elsewhere or let the fullness out first`},
		{"into another", q, moveSeam(SeamMove{Seam: "side", Into: "sleeve", AtStart: 5}), `seam "side" does not join piece "sleeve"; name piece "bodice-front" or "bodice-back"`},
		{"itself", p, moveSeam(SeamMove{Seam: "sleeve-underarm", AtStart: 5}), `seam "sleeve-underarm" joins piece "sleeve" to itself; what one edge loses the other would have to gain: cut the piece in two first`},
		{"too far", p, moveSeam(SeamMove{Seam: "shoulder", AtStart: 90}), `a strip of 90.0 mm is wider than the neckline of piece "bodice-back", which measures 83.4 mm; move the seam by less`},
		{"too far, curved", onePiece, moveSeam(SeamMove{Seam: "side-back", AtEnd: 150}), `the seam cannot move 150.0 mm along the armscye of piece "side-back", which measures 109.9 mm; move it by less`},
		{"no number", q, moveSeam(SeamMove{Seam: "side", AtStart: math.NaN()}), `a seam cannot be moved by a distance that is no number; give it in mm`},
		{"across a dart", q, moveSeam(SeamMove{Seam: "side", AtEnd: 120}), `the strip would take dart "waist-dart" of piece "bodice-back" along; move the seam by less, or turn the dart elsewhere first`},
	}.try(t)
}

func widenPanel(o PanelWidth) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return WidenPanel(p, o) }
}

// A diamond back: narrow at the waist, wide at the blades.
func TestWidenPanel(t *testing.T) {
	p := withSideBack(t)
	o := PanelWidth{Piece: "bodice-back", Lower: -25, Upper: -15, Middle: 10}
	a := quietly(t, p, widenPanel(o))
	both := []string{"bodice-back", "side-back"}
	for k, role := range []string{"waist", "armscye"} {
		within(t, role+" together", sum(a.Pattern, role, both...), sum(p, role, both...), laidOff)
		within(t, role+" of the panel", sum(a.Pattern, role, both[0]), sum(p, role, both[0])+[]float64{o.Lower, o.Upper}[k], laidOff)
	}
	within(t, "seam", length(a.Pattern, both[0], "side-back"), length(a.Pattern, both[1], "side-back"), exact)
	// NarrowBack is the same by other words, without the bow.
	b := done(t, p, widenPanel(PanelWidth{Piece: "bodice-back", Lower: -25, Upper: -15}))
	c := done(t, p, func(p *pattern.Pattern) (*operation.Answer, error) {
		return NarrowBack(p, Narrowing{AtWaist: 25, AtArmscye: 15})
	})
	for _, name := range both {
		if off := offBy(b.Pattern.Piece(name), c.Pattern.Piece(name)); off > exact {
			t.Errorf("%s: NarrowBack lies %g mm off", name, off)
		}
	}
	// The neighbour's view of it: what it gains the panel loses.
	d := done(t, p, widenPanel(PanelWidth{Piece: "side-back", Lower: 25, Upper: 15}))
	for _, name := range both {
		if off := offBy(b.Pattern.Piece(name), d.Pattern.Piece(name)); off > exact {
			t.Errorf("%s, from the side back: %g mm off", name, off)
		}
	}
	refusals{
		{"undivided", dress(t), widenPanel(o), `piece "bodice-back" has no side-back edge; give one of its edges the role side-back; or, where an earlier step took that edge up, take this step before it`},
		{"not its seam", p, widenPanel(PanelWidth{Piece: "bodice-back", Seam: "side"}), `seam "side" does not join piece "bodice-back"; name one that does`},
		{"neither waist nor hem", p, widenPanel(PanelWidth{Piece: "bodice-back", Seam: "shoulder"}), `seam "shoulder" of piece "bodice-back" ends on neither waist nor hem; move it by its start and end instead`},
		{"no piece", p, widenPanel(PanelWidth{Piece: "corset"}), `the pattern has no piece "corset"; its pieces are bodice-front, bodice-back, side-back, sleeve, skirt-front, skirt-back, facing-front, facing-back`},
	}.try(t)
}

// offBy is the largest distance in mm of points of one outline from the other, edge
// by edge, exact to rounding: the foot of each is found by Newton's method.
func offBy(a, b *pattern.Piece) float64 {
	var worst float64
	for _, e := range a.Edges {
		o := b.Edge(e.Name)
		if o == nil {
			return math.Inf(1)
		}
		for _, s := range e.Path {
			for k := range 9 {
				q := s.At(float64(k) / 8)
				along, d := o.Path.Nearest(q)
				i, u := o.Path.Locate(along)
				seg := o.Path[i]
				for range 8 {
					v := seg.Velocity(u)
					u = max(0, min(1, u-seg.At(u).Sub(q).Dot(v)/v.Dot(v)))
					d = min(d, seg.At(u).Dist(q))
				}
				worst = max(worst, d)
			}
		}
		worst = max(worst, math.Abs(e.Path.Length()-o.Path.Length()))
	}
	return worst
}

// Every woman's dress takes the default numbers of every step on seam lines.
func TestSeamLinesOnRealBodies(t *testing.T) {
	cases := 0
	for _, b := range append(realBodies(t), stock.StockBody) {
		p := after(t, draftOf(t, b), job[0].do, job[1].do, func(p *pattern.Pattern) (*operation.Answer, error) {
			return PlaceNotches(p, NotchRule{LongerThan: 150, Clear: 20})
		})
		for _, do := range seamLines {
			a := done(t, p, do)
			for _, f := range pairing.Compare(pairing.Check(p), pairing.Check(a.Pattern), a.Lineage, "new") {
				kinkOfHead := f.Code == pairing.CornerKink && f.Place.Edge == "cap" // RefitCap only makes the head higher
				if f.Severity == finding.Warning && f.Since == "new" && !kinkOfHead {
					t.Errorf("%+v: %s", f.Place, f.Text)
				}
			}
			cases++
		}
	}
	t.Logf("%d cases", cases)
}

// seamLines are the operations on seam lines with the house plugins' numbers.
var seamLines = []alteration{
	moveSeam(SeamMove{Seam: "side", AtStart: 10, AtEnd: 10}),
	moveSeam(SeamMove{Seam: "skirt-side", AtStart: 10, AtEnd: 10}),
	moveSeam(SeamMove{Seam: "shoulder", AtStart: 10, AtEnd: 10}),
	widenPanel(PanelWidth{Piece: "bodice-back", Lower: -15, Upper: -10}),
	curveEdge(Curving{Piece: "skirt-front", Edge: "side", Out: 6}),
	lowerArmscye(ScyeDepth{Down: 15, ScoopFront: 5}),
	narrowCrossBack(CrossBack{By: 10}),
	lowerNeckline(NeckOpening{AtFront: 40, AtBack: 20, AtShoulder: 25.4}),
	splitPiece(Split{Piece: "bodice-back", From: "armscye", FromAt: 55, Name: "yoke"}),
	unfoldFrom("bodice-front"),
	func(p *pattern.Pattern) (*operation.Answer, error) { return MirrorPiece(p, "bodice-back", "", "") },
	func(p *pattern.Pattern) (*operation.Answer, error) {
		return JoinPieces(p, Join{Seam: "shoulder", MaxGap: 3})
	},
}

func BenchmarkSeamLines(b *testing.B) {
	p := withSideBack(b)
	for n, do := range seamLines {
		b.Run(string(rune('a'+n)), func(b *testing.B) {
			for b.Loop() {
				if _, err := do(p); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
