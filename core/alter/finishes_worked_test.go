package alter

import (
	"math"
	"testing"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// The books' finishes: inputs, the book's answer, and how near we come. The
// books count what is cut, turnings included.

// opened is the dress with the skirt's opening as long as given.
func opened(t *testing.T, long float64) *pattern.Pattern {
	t.Helper()
	p := dress(t)
	back := p.Piece("skirt-back")
	k := back.EdgeIndex("centre-back.opening")
	whole := back.Edges[k].Path.Join(back.Edges[k+1].Path)
	back.Edges[k].Path, back.Edges[k+1].Path = whole.Split(long)
	back.Notches = nil
	return p
}

func TestWorkedPlacket(t *testing.T) {
	for _, w := range []struct {
		source             string
		opening, finished  float64 // in
		seam, end          float64
		wantLong, wantWide float64
	}{
		// The strip is twice the opening and 1 in long, and 2½ in wide for 1 in finished.
		{"H. Kinne and A. M. Cooley, Clothing and Health, 1916", 8, 1, 0.25, 0.5, 17, 2.5},
		{"H. Kinne and A. M. Cooley, Clothing and Health, 1916", 10, 1, 0.25, 0.5, 21, 2.5},
		// Twice the finished width and ¼ in; the length "a little over" twice the opening.
		{"I. McGlauflin, Handicraft for Girls, 1910", 8, 0.75, 0.125, 0.125, 16.25, 1.75},
	} {
		p := opened(t, w.opening*inch)
		a := strictly(t, p, placket(PlacketStrip{Piece: "skirt-back", Finished: w.finished * inch, Seam: w.seam * inch, End: w.end * inch}))
		within(t, w.source+": strip's length", changeOf(t, a, "strip, cut length").After, w.wantLong*inch, 1e-6)
		within(t, w.source+": strip's width", changeOf(t, a, "strip, cut width").After, w.wantWide*inch, 1e-6)
		strip := a.Pattern.Piece("placket")
		within(t, "drawn", 2*(strip.Edge("opening").Path.Length()+strip.Edge("end").Allowance), w.wantLong*inch, 1e-6)
	}
}

// banded is the skirt with a waist of so many mm all round.
func banded(t *testing.T, waist float64) *pattern.Pattern {
	t.Helper()
	return after(t, skirtOnly(dress(t)), func(p *pattern.Pattern) (*operation.Answer, error) {
		return CircleSkirt(p, Circle{Fraction: 0.5, Waist: waist})
	})
}

func TestWorkedWaistband(t *testing.T) {
	for _, w := range []struct {
		source             string
		waist, finished    float64 // in
		lap, end, seam     float64
		layers             int
		wantLong, wantWide float64
	}{
		// Waist, 1 in for the lap and two turnings; twice the finished width and ½ in.
		{"H. Kinne and A. M. Cooley, Clothing and Health, 1916", 26, 1, 1, 0.25, 0.25, 2, 27.5, 2.5},
		{"H. Kinne and A. M. Cooley, Clothing and Health, 1916", 30, 1.5, 1, 0.25, 0.25, 2, 31.5, 3.5},
		// Waist and 3 in: 1 for the lap and 1 at each end; 2½ in wide.
		{"Ontario Teachers' Manuals, Household Science in Rural Schools, 1918", 27, 1, 1, 1, 0.25, 2, 30, 2.5},
		// Single: ½ in is lost.
		{"I. McGlauflin, Handicraft for Girls, 1910", 26, 1.5, 0, 0.25, 0.25, 1, 26.5, 2},
		{"I. McGlauflin, Handicraft for Girls, 1910", 26, 3.5, 0, 0.25, 0.25, 1, 26.5, 4},
		{"I. McGlauflin, Handicraft for Girls, 1910", 26, 3.25, 0, 0.25, 0.25, 1, 26.5, 3.75},
	} {
		p := banded(t, w.waist*inch)
		a := strictly(t, p, waistband(Band{
			Finished: w.finished * inch, Lap: w.lap * inch, End: w.end * inch, Seam: w.seam * inch, Layers: w.layers,
		}))
		within(t, w.source+": length", changeOf(t, a, "band, cut length").After, w.wantLong*inch, 1e-6)
		within(t, w.source+": width", changeOf(t, a, "band, cut width").After, w.wantWide*inch, 1e-6)
		b := a.Pattern.Piece("waistband")
		drawn := b.Edge(pattern.Waist).Path.Length() + b.Edge("end").Allowance
		if lap := b.Edge("lap"); lap != nil {
			drawn += lap.Path.Length()
		}
		within(t, "drawn length", 2*drawn, w.wantLong*inch, 1e-6)
		within(t, "drawn width", b.Edge("end").Path.Length()+b.Edge(pattern.Waist).Allowance+b.Edge("upper").Allowance, w.wantWide*inch, 1e-9)
	}
}

// Cut 2½ in wide with seams of ¼ in, a bias band looks 1 in wide (H. Kinne and
// A. M. Cooley, Clothing and Health, 1916). Its grain lies at 45° to it (National
// Instructional Media Institute, Dress Making, 2024).
func TestWorkedBinding(t *testing.T) {
	a := strictly(t, dress(t), bind(BiasBinding{Edge: pattern.Neckline, Finished: inch, Seam: inch / 4, Cloth: 36 * inch}))
	within(t, "strip's width", changeOf(t, a, "strip, cut width").After, 2.5*inch, 1e-9)
	b := a.Pattern.Piece("neckline-binding")
	along := b.Edge("edge").Path.StartDirection()
	within(t, "grain", math.Abs(along.Dot(b.Grain.To.Sub(b.Grain.From).Unit())), math.Sqrt2/2, 1e-12)
}

// Strips at 45° across a square of cloth: those that reach from edge to edge
// measure √2 times its width, and joins on the straight grain take two seams
// aslant. Computed.
func TestBiasStrips(t *testing.T) {
	const cloth, seam = 36 * inch, inch / 4
	each, join := math.Sqrt2*cloth, 2*math.Sqrt2*seam
	for n := 1; n < 40; n++ {
		most := float64(n)*each - float64(n-1)*join
		for _, c := range []struct {
			total float64
			want  int
		}{{most - 0.01, n}, {most, n}, {most + 0.01, n + 1}} {
			if got, err := BiasStrips(c.total, cloth, seam); err != nil || got != c.want {
				t.Errorf("BiasStrips(%g) = %d, %v, want %d", c.total, got, err, c.want)
			}
		}
	}
	if _, err := BiasStrips(1000, 10, 6); err == nil {
		t.Error("strips of cloth 10 mm wide")
	}
}

func TestFinishesRefuse(t *testing.T) {
	p := dress(t)
	hemmed := skirtOnly(p)
	hemmed.Piece("skirt-back").Edge("centre-back.opening").Finish = pattern.Hemmed
	sewnUp := skirtOnly(p)
	sewnUp.Piece("skirt-back").Edge("centre-back.opening").Finish = pattern.Sewn
	sewnUp.Seams = append(sewnUp.Seams, pattern.Seam{
		Name: "up", A: pattern.Run{{Piece: "skirt-back", Edge: "centre-back.opening"}}, Meeting: pattern.Meeting{Kind: pattern.Plain},
	})
	whole := p.Clone()
	whole.Piece("bodice-back").Cut = pattern.Cut{Count: 1}
	noNeck := p.Clone()
	for _, name := range []string{"bodice-front", "bodice-back"} {
		noNeck.Piece(name).Edge(pattern.Neckline).Role = "top"
	}
	refusals{
		{"no height", p, stand(Stand{Height: 0.5}), "a collar 0.5 mm high cannot be sewn; give it a height of 5 mm or more"},
		{"too much spring", p, stand(Stand{Height: 30, Spring: 200}), "the front of the neckline measures 124 mm, too little for a spring of 200 mm; ask for 73 mm or less"},
		{"no upper edge", p, stand(Stand{Height: 90, Spring: 70}), "a collar 90 mm high with a spring of 70 mm would have no upper edge to speak of; ask for less of either"},
		{"no neckline", noNeck, stand(Stand{Height: 30}), "the pattern has no neckline edge to work on; give the edges that are meant the role neckline"},
		{"not half", whole, stand(Stand{Height: 30}), `piece "bodice-back" is neither on the fold nor cut in pairs, and others are; draft half the garment, or unfold all of it`},
		{"collar on a collar", after(t, p, stand(Stand{Height: 30})), flat(Flat{Width: 60}), `the neckline of piece "bodice-front" is sewn to piece "collar"; take this step before the one that sews that on, or choose an edge that is free`},
		{"overlap", p, flat(Flat{Width: 60, Overlap: 0.7}), "the shoulders cannot overlap by 0.7 of their length; give a share from 0 to 0.6"},
		{"no width", p, flat(Flat{}), "a collar 0.0 mm wide cannot be sewn; give it a width of 5 mm or more"},
		{"wide facing", p, facing(Facing{Edge: pattern.Neckline, Width: 150}), `the shoulder of piece "bodice-front" measures 121 mm, too little for a facing 150 mm wide; make the facing narrower`},
		{"facing of a side", p, facing(Facing{Edge: pattern.Side, Width: 40}), `an edge of the role "side" is not faced; choose the neckline, the armscye or the hem`},
		{"narrow facing", p, facing(Facing{Edge: pattern.Hem, Width: 1}), "a facing 1.0 mm wide does not stay inside; make it 5 mm or more"},
		{"set-in sleeve", p, facing(Facing{Edge: pattern.Armscye, Width: 40}), `the armscye of piece "bodice-front" is sewn to piece "sleeve"; take this step before the one that sews that on, or choose an edge that is free`},
		{"facing into a dart", sleeveless(p), facing(Facing{Edge: pattern.Armscye, Width: 90}), `the side of piece "bodice-front" has a dart or fullness inside the facing's width; make the facing narrower`},
		{"no such piece", p, facing(Facing{Edge: pattern.Hem, Piece: "cape", Width: 40}), `the pattern has no piece "cape"; its pieces are bodice-front, bodice-back, sleeve, skirt-front, skirt-back, facing-front, facing-back`},
		{"no opening", hemmed, placket(PlacketStrip{Finished: 25}), "no edge is left open for a placket; finish the edge of the opening as open"},
		{"flat placket", p, placket(PlacketStrip{}), "a placket needs a width, and turnings of 0 mm or more; make it 2.5 mm wide or more"},
		{"closed waist", sewnUp, waistband(Band{Finished: 25, Layers: 2}), "the waist has no opening, and nobody gets into a band that is closed; leave an edge open at the waist first"},
		{"flat band", p, waistband(Band{Layers: 1}), "a band 0.0 mm high cannot be sewn; make it 2.5 mm or more"},
		{"thick band", p, waistband(Band{Finished: 25, Layers: 3}), "a band is not cut of 3 layers; ask for 1 or 2"},
		{"back lap", p, waistband(Band{Finished: 25, Layers: 1, Lap: -1}), "a band's lap and turnings cannot be less than nothing; give 0 mm or more"},
		{"binding of a side", p, bind(BiasBinding{Edge: pattern.Side, Finished: 6, Cloth: 900}), `an edge of the role "side" is not bound; choose the neckline, the armscye or the hem`},
		{"no binding", p, bind(BiasBinding{Edge: pattern.Hem, Cloth: 900}), "a binding needs a width, and turnings of 0 mm or more; let it show 1 mm or more"},
		{"ribbon", p, bind(BiasBinding{Edge: pattern.Hem, Finished: 6, Seam: 6, Cloth: 10}), "cloth 10 mm wide is too narrow to join strips of; give the width of the cloth in mm"},
		{"lined twice", after(t, p, lined(Lining{Join: onRoles})), lined(Lining{Join: onRoles}), `piece "bodice-front" has its lining already: piece "lining-bodice-front"; leave this step out, or name the pieces that have none`},
		{"named twice", p, lined(Lining{Pieces: []string{"sleeve", "sleeve"}}), `piece "sleeve" is named twice; name it once`},
		{"ease at an opening", p, lined(Lining{BackEase: 20}), "none of the backs that are lined lies on the fold at the centre back, where the ease would be pleated; ask for no ease at the centre back"},
		{"nothing left", p, lined(Lining{Pieces: []string{"sleeve"}, HemShorter: 900}), `the underarm.back of piece "sleeve" measures 451 mm, too little to end the lining 900 mm above the hem; make it shorter by less`},
		{"negative", p, lined(Lining{HemShorter: -1}), "a lining's ease, and what it is shorter by, cannot be less than nothing; give 0 mm or more"},
	}.try(t)
}
