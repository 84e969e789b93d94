package alter

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// C. Hecklinger, Handbook on Dress and Cloak Cutting, 1884, fig. 9: for an
// armhole of 16 in the head is half of it wide on either side, a quarter of it
// high, and set to reach the armhole and 2 in, 18 in, in all. Drawn at that width
// and fitted with 2 in of ease, the head comes out as long as the book says to
// the last digit, and as high as it says within ½ in: the book's head is swept
// with compasses, ours hollowed under the arm.
func TestHecklingerSleeveHead(t *testing.T) {
	p := dress(t)
	a, err := begin(p).arm()
	if err != nil {
		t.Fatal(err)
	}
	k := 16 * inch / a.armscye // everything in the proportion to an armhole of 16 in
	wide := done(t, p, sleeved(ShapeHead, HeadShape{Width: 16 * inch / k, By: QuarterScye}))
	b, _ := begin(wide.Pattern).arm()
	within(t, "height by the rule, in", b.height()*k/inch, 4, 0.02)
	within(t, "diagonal, in", math.Hypot(b.width()/2, b.height())*k/inch, 8.944, 0.02) // √(8² + 4²)
	within(t, "head by the rule, in", b.lines[b.cap].length()*k/inch, 18, 0.5)
	fitted := done(t, wide.Pattern, refit(2*inch/k))
	c, _ := begin(fitted.Pattern).arm()
	within(t, "head fitted, in", c.lines[c.cap].length()*k/inch, 18, exact)
	within(t, "its height, in", c.height()*k/inch, 4, 0.5)
	// Fig. 10: a third of the armhole less ½ in.
	within(t, "fig. 10, depth, in", ThirdScye.Height(16*inch)/inch, 4.83, 0.005)
	within(t, "fig. 9, depth, in", QuarterScye.Height(16*inch)/inch, 4, exact)
}

// University of New Hampshire, Irma G. Bowen collection 856 (1812–16): 41.9 cm
// of cloth in a band of 28.9 cm, a ratio of 1.45, the fullness at the head all
// towards the back.
func TestBowen856Ratio(t *testing.T) {
	const cloth, band = 419.0, 289.0
	p := after(t, dress(t), shorten(60))
	for _, at := range []PuffAt{PuffBoth, PuffCuff} {
		a := done(t, p, puff(Puff{At: at, Band: band, BandHeight: 13, Ratio: cloth / band, HeadShare: 1, From: 0.4, To: 0.9, Slashes: 6}))
		q := a.Pattern.Piece("sleeve")
		within(t, "cut over band", length(a.Pattern, "sleeve", "hem")/q.SewnLength("hem"), 1.45, 0.01)
		within(t, "band", a.Pattern.Piece("sleeve-band").SewnLength("top"), band, exact)
	}
}

// Central Washington University, costume-construction course text, ch. 11: no
// more than 1½ to 2 in of fullness can be eased in without showing.
func TestEaseIsTold(t *testing.T) {
	for _, c := range []struct {
		ease float64 // in
		want string
	}{{1, ""}, {1.75, "near the 1½ to 2 in"}, {2, "near the 1½ to 2 in"}, {2.25, "more than the 2 in"}} {
		a := done(t, dress(t), sleeved(RefitHead, HeadEase{Ease: c.ease * inch, Front: 1, Top: 1, Back: 1}))
		if got := strings.Join(a.Cautions, "; "); c.want == "" && got != "" || !strings.Contains(got, c.want) {
			t.Errorf("%v in of ease: cautions %q, want %q", c.ease, got, c.want)
		}
	}
}

func TestSleevesRefuse(t *testing.T) {
	p := dress(t)
	puffed := after(t, p, puff(houseHead))
	cuffed := after(t, p, sleeved(AddCuff, Cuff{Kind: StraightCuff, Height: 40}))
	bent := after(t, p, sleeved(BendSleeve, houseBend))
	with := func(o Gigot, change func(*Gigot)) alteration { change(&o); return sleeved(MakeGigot, o) }
	bell := func(change func(*Pagoda)) alteration { o := housePagoda; change(&o); return sleeved(MakePagoda, o) }
	two := func(change func(*TwoPiece)) alteration { o := houseTwo; change(&o); return sleeved(DivideSleeve, o) }
	refusals{
		{"gigot of a puffed sleeve", puffed, sleeved(MakeGigot, houseGigot), `the head or hem of piece "sleeve" has fullness or a cuff already; cut the plain sleeve`},
		{"gigot no wider", p, with(houseGigot, func(o *Gigot) { o.HeadRatio = 1 }), `a head of 1 times the armscye is no wider than the 466 mm it has; ask for more`},
		{"gigot too wide", p, with(houseGigot, func(o *Gigot) { o.HeadRatio = 9 }), `spreading a slash of 34 mm on piece "sleeve" by 49 mm turns the paper too far; use more slashes, or ask for less`},
		{"gigot, wrist too wide", p, with(houseGigot, func(o *Gigot) { o.Wrist = 300 }), `the hem of piece "sleeve" measures 220 mm, less than the wrist's 300; ask for a closer wrist`},
		{"gigot, gathers on nothing", p, with(houseGigot, func(o *Gigot) { o.To = 0.08 }), noStretch + "; " + noStretchInstead},
		{"gigot by one slash", p, with(houseGigot, func(o *Gigot) { o.Slashes = 1 }), `a fan needs at least two slashes a side; ask for more`},
		{"pagoda no wider", p, bell(func(o *Pagoda) { o.Hem = 100 }), `the hem of piece "sleeve" measures 220 mm already; ask for a wider one`},
		{"pagoda on a cuff", cuffed, sleeved(MakePagoda, housePagoda), `the hem of piece "sleeve" is sewn or drawn up already; take the cuff off first`},
		{"pagoda past itself", p, bell(func(o *Pagoda) { o.Hem = 3000 }), `spreading a slash of 31 mm on piece "sleeve" by 58 mm turns the paper too far; use more slashes, or ask for less`},
		{"bishop closer than its hem", p, sleeved(MakeBishop, Bishop{Cuff: 400, CuffHeight: 40, Ratio: 0.9, Slashes: 3}), `a fullness ratio of 0.9 would stretch the cloth; ask for 1 or more`},
		{"bishop, placket too long", p, sleeved(MakeBishop, Bishop{Cuff: 200, CuffHeight: 40, Ratio: 2, Placket: 900, Slashes: 3}), `an opening of 900 mm is as long as the seam under the arm of piece "sleeve", 451 mm; ask for a shorter one`},
		{"two pieces of too little", p, two(func(o *TwoPiece) { o.Back = 0.6 }), `an under sleeve takes a twentieth of the sleeve or more at front and back, and half of it at most in all; give such shares`},
		{"two pieces, ease beyond the bend", p, two(func(o *TwoPiece) { o.Bend, o.Ease = 0.02, 40 }), `an ease of 40.0 mm at the elbow is more than the bend of the sleeve gives; bend it more, or ask for less ease`},
		{"two pieces of a puffed sleeve", puffed, sleeved(DivideSleeve, houseTwo), `the head or hem of piece "sleeve" has fullness or a cuff already; divide the plain sleeve`},
		{"bent twice", bent, sleeved(BendSleeve, houseBend), `the edges under the arm of piece "sleeve" have a dart or fullness already; take that out first`},
		{"bent too far", p, sleeved(BendSleeve, ElbowBend{Angle: 1, Reach: 0.6}), `an elbow is not bent by 57 degrees; ask for more than 0 and up to 29`},
		{"bent with a short dart", p, sleeved(BendSleeve, ElbowBend{Angle: 0.2, Reach: 0.3}), `an elbow dart that goes 30% across would leave a corner of 26 degrees in the seam; let it reach further, or bend the sleeve less`},
		{"cuffed twice", cuffed, sleeved(AddCuff, houseCuff), `the hem of piece "sleeve" is sewn or drawn up already; take the cuff off first`},
		{"cuff too long", p, sleeved(AddCuff, Cuff{Kind: StraightCuff, Height: 40, Girth: 400}), `the hem of piece "sleeve" measures 220 mm, less than the cuff's 400; ask for a closer cuff, or spread the hem first`},
		{"no such cuff", p, sleeved(AddCuff, Cuff{Kind: "lace", Height: 40}), `there is no cuff of the kind "lace"; ask for a straight or a turned-back one`},
		{"undersleeve of nothing", p, sleeved(AddUndersleeve, Undersleeve{Attach: FromLevel, Level: 1, Shorter: 300}), `nothing to speak of would be left of an undersleeve 300 mm shorter than the sleeve; leave it longer, or begin it higher`},
		{"undersleeve of a puffed head", puffed, sleeved(AddUndersleeve, Undersleeve{Attach: FromArmscye}), `the head of piece "sleeve" has fullness in it; make the undersleeve before puffing the sleeve`},
		{"head too short", p, sleeved(ShapeHead, HeadShape{Height: 80}), `the head would measure 381.0 mm and the armscye 440.1; make the head higher or the sleeve wider`},
		{"head out of shape", p, sleeved(ShapeHead, HeadShape{Height: 600}), `a head of 148 by 335 mm cannot be made 600 by 335 by stretching its curve; change it less, or puff the sleeve`},
		{"no such rule", p, sleeved(ShapeHead, HeadShape{By: "half"}), `there is no rule "half" for the height of a head; use quarter or third`},
		{"ease on a gathered head", puffed, sleeved(RefitHead, houseEase), `the head of piece "sleeve" is gathered and has no ease to lay; refit it without thirds`},
		{"ease in no third", p, sleeved(RefitHead, HeadEase{Ease: 20}), `the thirds of a head take shares of the ease that are not below 0; give front, top and back, at least one more than 0`},
		{"puff nowhere", p, puff(Puff{At: "knee"}), `a sleeve cannot be puffed at "knee"; puff it at the head, the cuff or both`},
	}.try(t)
}

// A sleeve with no seam to an armscye, or in more than one piece, is nothing
// for any of them.
func TestSleevesAskForASleeve(t *testing.T) {
	none, loose := dress(t), dress(t)
	none.Piece("sleeve").Role = ""
	loose.Seams = nil
	for _, step := range sleeveSteps {
		if len(step.first) > 0 {
			continue
		}
		for _, p := range []*pattern.Pattern{none, loose} {
			var a *operation.Answer
			a, no := lawful(t, p, step.do)
			if a != nil {
				t.Errorf("%s was done", step.name)
			} else if !strings.Contains(no.Error(), fmt.Sprintf("role %s", pattern.Sleeve)) && !strings.Contains(no.Error(), "armscye") {
				t.Errorf("%s: %v", step.name, no)
			}
		}
	}
}
