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
)

// inch in mm: the books' numbers are in inches.
const inch = 25.4

// strictly is done, and holds that no warning of pairing is new either.
func strictly(t failer, p *pattern.Pattern, do alteration) *operation.Answer {
	t.Helper()
	a := done(t, p, do)
	noNewWarning(t, p, a)
	return a
}

// ofMakingUp are the warnings that an alteration of shapes may bring in, since
// mending them is another step's work: a facing is traced anew once its edge has
// its last shape, and where a garment opens is said last of all.
var ofMakingUp = map[finding.Code]bool{pairing.FacingShape: true, pairing.LiningShape: true, pairing.OpeningMissing: true}

func noNewWarning(t failer, p *pattern.Pattern, a *operation.Answer) {
	t.Helper()
	for _, f := range pairing.Compare(pairing.Check(p), pairing.Check(a.Pattern), a.Lineage, "new") {
		if f.Severity != finding.Note && f.Since == "new" && !ofMakingUp[f.Code] {
			t.Errorf("%s %s %+v: %s", f.Severity, f.Code, f.Place, f.Text)
		}
	}
}

// everyBody are dresses drafted for the stock figure and the women of the
// sample, straight and turned over.
func everyBody(t failer) []*pattern.Pattern {
	t.Helper()
	all := []*pattern.Pattern{dress(t), turnedOver(dress(t))}
	for _, b := range realBodies(t) {
		all = append(all, draftOf(t, b))
	}
	return all
}

func lengthenAt(o LengthCut) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return LengthenAt(p, o) }
}

func lengthenSleeve(o SleeveLength) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return LengthenSleeve(p, o) }
}

func lower(o WaistDrop) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return LowerWaist(p, o) }
}

func pouch(o Pouch) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return PouchFront(p, o) }
}

func level(o HemLengths) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return LevelHem(p, o) }
}

func curve(o HemLengths) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return CurveHem(p, o) }
}

func train(o Train) alteration {
	return func(p *pattern.Pattern) (*operation.Answer, error) { return AddTrain(p, o) }
}

// Parting a gore leaves its hem as wide as it was, while running the sides on at
// the hem would widen it by what they slope (H. Kinne and A. M. Cooley, Clothing
// and Health, 1916); the seams are redrawn through the step, equal on both sides.
func TestLengthenAtBodies(t *testing.T) {
	cases := 0
	for _, p := range everyBody(t) {
		for _, piece := range []string{"skirt-front", "skirt-back", "sleeve"} {
			for _, by := range []float64{2 * inch, -30} {
				down, seam := 2.0/3, "skirt-side" // K. H. Watson, Textiles and Clothing, 1907: two-thirds of the way down
				if piece == "sleeve" {
					down, seam = 0.75, "sleeve-underarm"
				}
				q := strictly(t, p, lengthenAt(LengthCut{Piece: piece, Down: down, By: by, Blend: 150})).Pattern
				s := p.Seam(seam)
				within(t, seam, q.RunLength(s.A), p.RunLength(s.A)+by, exact)
				within(t, seam+", other side", q.RunLength(s.B), p.RunLength(s.B)+by, exact)
				for _, name := range []string{"skirt-front", "skirt-back", "sleeve"} {
					within(t, "hem of "+name, length(q, name, "hem"), length(p, name, "hem"), exact)
				}
				cases++
			}
		}
	}
	t.Logf("%d cases", cases)
}

func TestLengthenAtKeeps(t *testing.T) {
	did := 0
	rapid.Check(t, func(t *rapid.T) {
		p := anyDress(t)
		o := LengthCut{
			Piece: rapid.SampledFrom([]string{"skirt-front", "skirt-back", "sleeve", "bodice-back", "bodice-front"}).Draw(t, "piece"),
			Down:  rapid.Float64Range(0.05, 0.95).Draw(t, "down"), By: rapid.Float64Range(-60, 150).Draw(t, "by"),
			Blend: rapid.Float64Range(0, 300).Draw(t, "blend"),
		}
		a, no := lawful(t, p, lengthenAt(o))
		if no != nil {
			return
		}
		did++
		for _, piece := range p.Pieces {
			for _, e := range piece.Edges {
				got := length(a.Pattern, piece.Name, e.Name)
				if e.Finish == pattern.Fold || e.Is() == pattern.CentreFront || e.Is() == pattern.CentreBack {
					continue // not held to another piece
				}
				if by := got - e.Path.Length(); by > exact || by < -exact {
					within(t, piece.Name+"/"+e.Name+" grew by", by, o.By, exact)
				}
			}
		}
	})
	if did == 0 {
		t.Error("nothing was ever lengthened")
	}
}

// Two pieces whose sides slant differently, sewn to each other on both edges:
// each seam still grows by the same on either side.
func TestLengthenAtUnequalSlants(t *testing.T) {
	p := after(t, dress(t), func(p *pattern.Pattern) (*operation.Answer, error) {
		return SetHem(p, HemSweep{Circumference: 2200, Slashes: 4})
	},
		func(p *pattern.Pattern) (*operation.Answer, error) {
			return MoveFlareBack(p, MoveFlare{Amount: 300, Slashes: 4})
		})
	q := strictly(t, p, lengthenAt(LengthCut{Piece: "skirt-back", Down: 0.5, By: 100, Blend: 150})).Pattern
	s := q.Seam("skirt-side")
	within(t, "side", q.RunLength(s.A), p.RunLength(s.A)+100, exact)
	within(t, "other side", q.RunLength(s.B), q.RunLength(s.A), exact)
	within(t, "hem", hemOf(q), hemOf(p), exact)
}

// Out and in again leaves every length as it was.
func TestLengthenAtThereAndBack(t *testing.T) {
	p := dress(t)
	q := strictly(t, p, lengthenAt(LengthCut{Piece: "skirt-front", Down: 0.5, By: 40, Blend: 150})).Pattern
	q = strictly(t, q, lengthenAt(LengthCut{Piece: "skirt-front", Down: 0.515, By: -40, Blend: 150})).Pattern
	for _, name := range []string{"skirt-front", "skirt-back"} {
		for _, e := range p.Piece(name).Edges {
			tol := exact
			if e.Is() == pattern.CentreFront || e.Is() == pattern.CentreBack {
				tol = 0.05 // free to come out as the piece does
			}
			within(t, name+"/"+e.Name, length(q, name, e.Name), e.Path.Length(), tol)
		}
	}
}

// K. H. Watson, Textiles and Clothing, 1907: two inches more in a sleeve are one
// above the elbow and one below it.
func TestLengthenSleeveTwoInches(t *testing.T) {
	p := dress(t)
	a := strictly(t, p, lengthenSleeve(SleeveLength{By: 2 * inch, Blend: 60}))
	q, was := a.Pattern.Piece("sleeve"), p.Piece("sleeve")
	for _, edge := range []string{"underarm.front", "underarm.back"} {
		within(t, edge, q.Edge(edge).Path.Length(), was.Edge(edge).Path.Length()+2*inch, exact)
	}
	elbow := func(p *pattern.Piece, edge string) (at float64) {
		for _, n := range p.Notches {
			if n.Name == "elbow" && n.Edge == edge {
				at = n.At
			}
		}
		return at
	}
	// The front underarm runs up from the hem.
	within(t, "hem to elbow", elbow(q, "underarm.front"), elbow(was, "underarm.front")+inch, laidOff)
	within(t, "head to elbow", elbow(q, "underarm.back"), elbow(was, "underarm.back")+inch, laidOff)
	within(t, "head", q.Edge("cap").Path.Length(), was.Edge("cap").Path.Length(), exact)
	within(t, "hem", q.Edge("hem").Path.Length(), was.Edge("hem").Path.Length(), exact)
}

func TestLengthenRefuses(t *testing.T) {
	p := dress(t)
	at := func(piece string, down, by float64) alteration {
		return lengthenAt(LengthCut{Piece: piece, Down: down, By: by, Blend: 100})
	}
	noGrain := p.Clone()
	noGrain.Piece("skirt-back").Grain = pattern.Grain{}
	refusals{
		{"no such piece", p, at("cape", 0.5, 20), `the pattern has no piece "cape"; its pieces are bodice-front, bodice-back, sleeve, skirt-front, skirt-back, facing-front, facing-back`},
		{"off the piece", p, at("sleeve", 1, 20), `a cut 1 of the way down does not cross piece "sleeve"; choose a share between 0 and 1`},
		{"through the head", p, at("sleeve", 0.1, 20), `the cut does not go once straight across piece "sleeve"; cut where the piece has one edge on either side`},
		{"through the armscye", p, at("bodice-back", 0.3, 20), `the cut would run through the armscye of piece "bodice-back"; cut higher or lower, where it crosses only seams that run along the piece`},
		{"through a dart", p, at("bodice-front", 0.9, 20), `the cut would run across dart "waist-dart" of piece "bodice-front"; turn or let out that dart first, or cut elsewhere`},
		{"a pleat wider than there is", p, at("skirt-front", 0.9, -200), `edge "side" of piece "skirt-front" has no room for that between its ends, darts and gathers; cut elsewhere, or ask for less`},
		{"no grain across the seam", noGrain, at("skirt-front", 0.5, 20), `piece "skirt-back" has no grainline to cut across; draw the grainline first`},
	}.try(t)
}

func TestLowerWaistBodies(t *testing.T) {
	cases := 0
	for _, p := range everyBody(t) {
		side := p.Piece("bodice-back").SewnLength("side")
		for _, o := range []WaistDrop{{BelowArmscye: side + 99}, {BelowArmscye: side + 60, AtCentreFront: 20, AtCentreBack: -10}} {
			q := strictly(t, p, lower(o)).Pattern
			cases++
			drop := o.BelowArmscye - side
			within(t, "bodice side", q.Piece("bodice-front").SewnLength("side"), o.BelowArmscye, exact)
			within(t, "bodice back side", length(q, "bodice-back", "side"), o.BelowArmscye, exact)
			within(t, "skirt side", length(q, "skirt-front", "side"), length(p, "skirt-front", "side")-drop, laidOff)
			for _, c := range []struct {
				bodice, skirt, edge string
			}{{"bodice-front", "skirt-front", "centre-front"}, {"bodice-back", "skirt-back", "centre-back.opening"}} {
				within(t, c.edge+" from neck to hem", length(q, c.bodice, c.edge)+length(q, c.skirt, c.edge), length(p, c.bodice, c.edge)+length(p, c.skirt, c.edge), laidOff)
				within(t, "waist of "+c.bodice, length(q, c.bodice, "waist"), length(q, c.skirt, "waist"), 2*exact)
			}
			within(t, "hem", hemOf(q), hemOf(p), exact)
		}
	}
	t.Logf("%d cases", cases)
}

// The darts of a waist that is lowered are not lost: left unsewn, landmarks tell
// where they were; carried, they end on the new seam with the mouths they had and
// legs of one length, and the waists still agree. The skirt's darts go on from
// the new seam, narrower and shorter, or went with what was cut off.
func TestLowerWaistDarts(t *testing.T) {
	carried := 0
	for _, p := range everyBody(t) {
		side := p.Piece("bodice-back").SewnLength("side")
		drop := WaistDrop{BelowArmscye: side + 70}
		unsewn := strictly(t, p, lower(drop)).Pattern
		drop.CarryDarts = true
		sewn := strictly(t, p, lower(drop)).Pattern
		for _, name := range []string{"bodice-front", "bodice-back"} {
			was := p.Piece(name)
			for _, d := range was.Darts {
				if d.Edge != "waist" {
					continue
				}
				q := unsewn.Piece(name)
				from, to := was.Edge("waist").Path.At(d.From), was.Edge("waist").Path.At(d.To)
				for mark, at := range map[string]geom.Point{"point": d.Point, "from": from, "to": to} {
					if l := q.Landmark(d.Name + "." + mark); l == nil || !l.At.Near(at, exact) {
						t.Errorf("%s: landmark %s.%s is %v, want %v", name, d.Name, mark, l, at)
					}
				}
				q = sewn.Piece(name)
				g := q.Dart(d.Name)
				if g == nil {
					t.Fatalf("%s has no dart %s", name, d.Name)
				}
				carried++
				path := q.Edge("waist").Path
				within(t, "mouth", g.To-g.From, d.To-d.From, exact)
				within(t, "leg", g.Point.Dist(path.At(g.From)), g.Point.Dist(path.At(g.To)), 1e-6)
				if grown := g.Point.Dist(path.At(g.From)) - d.Point.Dist(from); grown < 40 || grown > 100 {
					t.Errorf("%s: the legs of %s grew by %v mm where the waist was lowered by 70", name, d.Name, grown)
				}
				if off := math.Abs(geom.Turn(path.At(g.From).Lerp(path.At(g.To), 0.5).Sub(d.Point), from.Lerp(to, 0.5).Sub(d.Point))); off > 0.1 {
					t.Errorf("%s: dart %s is turned by %v radians", name, d.Name, off)
				}
			}
		}
		for _, name := range []string{"skirt-front", "skirt-back"} {
			for _, g := range sewn.Piece(name).Darts {
				was := p.Piece(name).Dart(g.Name)
				if g.Point != was.Point || g.To-g.From >= was.To-was.From {
					t.Errorf("%s: dart %s is %v, was %v", name, g.Name, g, *was)
				}
			}
		}
		for _, side := range [][2]string{{"bodice-front", "skirt-front"}, {"bodice-back", "skirt-back"}} {
			within(t, "waist of "+side[0], sewn.Piece(side[0]).SewnLength("waist"), sewn.Piece(side[1]).SewnLength("waist"), 2*exact)
		}
	}
	if carried == 0 {
		t.Error("no dart was carried")
	}
	t.Logf("%d darts carried", carried)
}

// Raised again by as much, with the skirt growing, a lowered waist has the
// lengths it had.
func TestLowerWaistThereAndBack(t *testing.T) {
	p := dress(t)
	side := p.Piece("bodice-back").SewnLength("side")
	q := done(t, p, lower(WaistDrop{BelowArmscye: side + 60})).Pattern
	q = done(t, q, raise(WaistRaise{BelowArmscye: side, KeepLength: true})).Pattern
	within(t, "bodice side", length(q, "bodice-back", "side"), side, laidOff)
	within(t, "skirt side", length(q, "skirt-back", "side"), length(p, "skirt-back", "side"), laidOff)
	within(t, "centre front", length(q, "bodice-front", "centre-front"), length(p, "bodice-front", "centre-front"), laidOff)
}

func TestLowerWaistRefuses(t *testing.T) {
	p := dress(t)
	noSkirt := p.Clone()
	noSkirt.Piece("skirt-front").Role, noSkirt.Piece("skirt-back").Role = "", ""
	gathered := after(t, p, func(p *pattern.Pattern) (*operation.Answer, error) {
		return GatherBack(p, BackFullness{Zone: 100, Ratio: 2})
	})
	refusals{
		{"no skirt", noSkirt, lower(WaistDrop{BelowArmscye: 300}), `the pattern has no skirt; give its pieces the roles skirt-front and skirt-back`},
		{"not down", p, lower(WaistDrop{BelowArmscye: 150}), `the side seam measures 201.0 mm under the armscye: the waist would not go down; ask for more than 206 mm below the armscye`},
		{"below the opening", p, lower(WaistDrop{BelowArmscye: 420}), `edge "centre-back.opening" of piece "skirt-back", 200 mm long, ends above the new waist; lower the waist by less`},
		{"under a layer", after(t, p, overskirt(Overskirt{Share: 0.6})), lower(WaistDrop{BelowArmscye: 300}), `piece "overskirt-front" is basted onto the waist of piece "skirt-front"; lower the waist before laying that over it`},
		{"gathered", gathered, lower(WaistDrop{BelowArmscye: 300}), `the waist of piece "skirt-back" is gathered or pleated; lower the waist before gathering it`},
	}.try(t)
}

func TestPouchFrontKeeps(t *testing.T) {
	for _, p := range everyBody(t) {
		for _, kind := range []pattern.GatherKind{pattern.Gathers, pattern.Ease} {
			q := strictly(t, p, pouch(Pouch{Piece: "bodice-front", Extra: 80, Zone: 0.6, Kind: kind})).Pattern
			within(t, "centre front", length(q, "bodice-front", "centre-front"), length(p, "bodice-front", "centre-front")+80, exact)
			within(t, "waist, sewn", q.Piece("bodice-front").SewnLength("waist"), p.Piece("bodice-front").SewnLength("waist"), exact)
			within(t, "side", length(q, "bodice-front", "side"), length(p, "bodice-front", "side"), exact)
			others(t, p, q, "bodice-front")
		}
	}
}

func TestPouchFrontRefuses(t *testing.T) {
	p := dress(t)
	refusals{
		{"no such piece", p, pouch(Pouch{Piece: "cape", Extra: 80, Zone: 0.6}), `the pattern has no piece "cape"; its pieces are bodice-front, bodice-back, sleeve, skirt-front, skirt-back, facing-front, facing-back`},
		{"nothing", p, pouch(Pouch{Piece: "bodice-front", Extra: 2, Zone: 0.6}), `2.0 mm do not make a front overhang; ask for 5 mm or more`},
		{"no zone", p, pouch(Pouch{Piece: "bodice-front", Extra: 80}), `a share 0 of the waist is no stretch to draw up; give more than 0 and at most 1`},
		{"the back", p, pouch(Pouch{Piece: "bodice-back", Extra: 80, Zone: 0.5}), `the waist of piece "bodice-back" does not end at its centre front; give that edge the role centre-front`},
		{"too narrow a zone", p, pouch(Pouch{Piece: "bodice-front", Extra: 120, Zone: 0.2}), `69 mm of fullness cannot be drawn up in 52 mm of the waist; draw it up over more of the waist, or ask for less`},
		{"twice", after(t, p, pouch(Pouch{Piece: "bodice-front", Extra: 80, Zone: 0.6, Kind: pattern.Gathers})), pouch(Pouch{Piece: "bodice-front", Extra: 80, Zone: 0.6}), `the waist of piece "bodice-front" is gathered or pleated; pouch the front before gathering it`},
	}.try(t)
}

// legLength is a skirt's length along its seams from waist to hem.
func legLength(p *pattern.Pattern, piece, role string) float64 { return sum(p, role, piece) }

// The four measures of circle-type skirts in I. Rosenfeld, The Practical
// Designer, 1911, lessons 73 (waist 25, front 41, side 43, back 45) and 84 (a
// stout figure: front 44, side 40, back 39), and of a walking skirt with five
// gores, 1914 (front 38, side 39, back 39½): the skirt hangs to what was asked,
// and lesson 73's has 4 in of sweep.
func TestLevelHemBooks(t *testing.T) {
	for _, o := range []HemLengths{{41, 43, 45}, {44, 40, 39}, {38, 39, 39.5}} {
		mm := HemLengths{o.Front * inch, o.Side * inch, o.Back * inch}
		for _, p := range everyBody(t) {
			q := strictly(t, p, level(mm)).Pattern
			within(t, "front", legLength(q, "skirt-front", pattern.CentreFront), mm.Front, laidOff)
			within(t, "side", legLength(q, "skirt-front", pattern.Side), mm.Side, laidOff)
			within(t, "side of the back", legLength(q, "skirt-back", pattern.Side), mm.Side, laidOff)
			within(t, "back", legLength(q, "skirt-back", pattern.CentreBack), mm.Back, laidOff)
			for _, piece := range []string{"skirt-front", "skirt-back"} {
				within(t, "waist", length(q, piece, "waist"), length(p, piece, "waist"), exact)
			}
			others(t, p, q, "skirt-front", "skirt-back")
		}
	}
}

func TestCurveHemAndTrain(t *testing.T) {
	for _, p := range everyBody(t) {
		q := strictly(t, p, curve(HemLengths{Front: -30, Side: 10, Back: 60})).Pattern
		within(t, "front", legLength(q, "skirt-front", pattern.CentreFront), legLength(p, "skirt-front", pattern.CentreFront)-30, laidOff)
		within(t, "side", legLength(q, "skirt-back", pattern.Side), legLength(p, "skirt-back", pattern.Side)+10, laidOff)
		a := strictly(t, p, train(Train{Back: 400}))
		within(t, "train", legLength(a.Pattern, "skirt-back", pattern.CentreBack), legLength(p, "skirt-back", pattern.CentreBack)+400, laidOff)
		others(t, p, a.Pattern, "skirt-back")
		if len(a.Cautions) != 2 {
			t.Errorf("%d cautions about a train", len(a.Cautions))
		}
		back := strictly(t, a.Pattern, curve(HemLengths{Back: -400})).Pattern
		within(t, "the train off again", legLength(back, "skirt-back", pattern.CentreBack), legLength(p, "skirt-back", pattern.CentreBack), laidOff)
	}
}

func TestHemLineRefuses(t *testing.T) {
	p := dress(t)
	sewnHem := p.Clone()
	sewnHem.Piece("skirt-front").Edge("hem").Finish, sewnHem.Piece("skirt-back").Edge("hem").Finish = pattern.Sewn, pattern.Sewn
	sewnHem.Seams = append(sewnHem.Seams, pattern.Seam{Name: "hem", A: pattern.Run{{Piece: "skirt-front", Edge: "hem"}}, B: pattern.Run{{Piece: "skirt-back", Edge: "hem"}}, Meeting: pattern.Meeting{Kind: pattern.Plain}})
	refusals{
		{"too short", p, level(HemLengths{Side: 150}), `piece "skirt-front" cannot be made 462 mm shorter at "side": little more than its hip would be left, or less than its opening; shorten it by less`},
		{"a flounce there", sewnHem, curve(HemLengths{Back: 60}), `the hem "hem" of piece "skirt-front" is sewn to something; take this step before the one that sews something to the hem, as a flounce, a facing or a binding`},
		{"no train", p, train(Train{}), `a train is longest at the centre back; give a length there of more than 0, and less at the side`},
		{"longer at the side", p, train(Train{Back: 100, Side: 200}), `a train is longest at the centre back; give a length there of more than 0, and less at the side`},
	}.try(t)
}

// A train that is long for the cloth it hangs from brings a caution; one in
// proportion does not. The stock skirt's back hem is some 72 cm wide.
func TestAddTrainInProportion(t *testing.T) {
	for _, c := range []struct {
		back   float64
		narrow bool
	}{{200, false}, {1500, true}} {
		a := done(t, dress(t), train(Train{Back: c.back}))
		narrow := slices.ContainsFunc(a.Cautions, func(s string) bool { return strings.Contains(s, "narrow tongue") })
		if narrow != c.narrow {
			t.Errorf("a train of %.0f mm: cautions %q", c.back, a.Cautions)
		}
	}
}
