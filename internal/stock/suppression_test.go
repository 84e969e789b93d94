package stock

import (
	"math"
	"testing"

	"bygone.example/core/pattern"
)

// Hecklinger draws by eye and reads his drafts to the quarter inch; three
// eighths is the difference his own figures show.
const hecklingerWithin = 3.0 / 8

// C. Hecklinger, Handbook on Dress and Cloak Cutting, New York 1884, in
// inches, half pattern.
func TestSuppressionHecklinger(t *testing.T) {
	for _, c := range []struct {
		figure      string
		draft       Suppression
		body        float64 // half waist
		waist, dart float64 // as he prints them
		within      float64
	}{
		{
			figure: "figs 3–4, breast 36, waist 24: 16 − 12 = two darts of 2",
			draft: Suppression{
				Half: 18, Standoff: Standoff(1.5, 36.0/4, 0.75, 15), CentreBack: 1.5,
				Seams: []float64{1}, // between back and side-body
			},
			body: 12, waist: 16, dart: 4, within: hecklingerWithin,
		},
		{
			// He prints 2¾ and then takes two darts of 1⅞: a misprint for 3¾.
			figure: "fig. 5, breast 44, waist 31½, measured 19½: two darts of 1⅞",
			draft:  Suppression{Half: 19.5},
			body:   15.75, waist: 19.5, dart: 3.75, within: 1e-12,
		},
		{
			// The standoff, 0.798 in, is worked out from the figure.
			figure: "fig. 16, jacket, 36/24: about 15 − 12 = a 3-inch dart",
			draft:  Suppression{Half: 18, Standoff: 0.798, CentreBack: 1.5, Seams: []float64{1, 0.75, 0.5}},
			body:   12, waist: 15, dart: 3, within: 1.0 / 8,
		},
		{
			figure: "fig. 27, jacket: 16 − 12 = two darts of 2",
			draft:  Suppression{Half: 18, Standoff: 0.825, CentreBack: 1.5, Seams: []float64{1, 0.25}},
			body:   12, waist: 16, dart: 4, within: 1.0 / 8,
		},
	} {
		t.Run(c.figure, func(t *testing.T) {
			if got := c.draft.HalfWaist(); math.Abs(got-c.waist) > c.within {
				t.Errorf("half waist %v in, the book has %v", got, c.waist)
			}
			if got := c.draft.Darts(c.body); math.Abs(got-c.dart) > c.within {
				t.Errorf("darts of %v in together, the book has %v", got, c.dart)
			}
		})
	}
	if got := Standoff(1.5, 9, 0.75, 15); math.Abs(got-0.825) > 1e-12 {
		t.Errorf("the centre back of fig. 3 stands off %v in, want 0.825", got)
	}
}

// The stock dress's own darts are what the sum leaves over: the curves of its
// waist, which the sum takes for straight, make less than Hecklinger's
// three eighths of an inch of difference.
func TestSuppressionOfTheDress(t *testing.T) {
	p, b := dress(t), StockBody
	var mouths float64
	for _, piece := range p.Pieces {
		for _, d := range piece.Darts {
			if d.Edge == pattern.Waist {
				mouths += d.To - d.From
			}
		}
	}
	want := b.suppression().Darts((b.Waist + waistEase) / 2)
	if math.Abs(mouths-want) > hecklingerWithin*25.4 {
		t.Errorf("waist darts take %v mm together, the sum leaves %v", mouths, want)
	}
}
