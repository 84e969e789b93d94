package stock

import (
	"math"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// The faults planted in the blouse, for the check to find at their place and
// size. Lengths mm, the angle in radians.
const (
	// BlouseSideLong is what the back's side edge is longer than the front's,
	// all of it at the hem.
	BlouseSideLong = 9.0
	// BlouseShoulderLong is what the front's shoulder edge is longer than the
	// back's, all of it at the neck.
	BlouseShoulderLong = 6.0
	// BlouseShoulderKink is how far from straight the neckline runs across the
	// shoulder seam.
	BlouseShoulderKink = 12 * math.Pi / 180
)

const (
	blouseBelowWaist = 190 // of the hem, mm; common practice
	blouseHemOut     = 8   // each side is this much wider at the hem than at the bust, mm; common practice
)

// Blouse drafts a loose blouse without darts, buttoned down the front, as it
// might come from a stranger: with the faults above, and with no notches at
// all. All else about it is sound.
func Blouse() (*pattern.Pattern, error) {
	b := StockBody
	// Without a dart the front may be no longer than the back: its neck comes
	// down until the underarms are level.
	backNeck, _, _, _ := b.levels()
	b.FrontLength = backNeck - frontScyeLess

	_, _, _, under := b.levels()
	frontSide, backSide := blouseSide(b, true, 0), blouseSide(b, false, BlouseSideLong)
	front, back := b.frontTop(frontSide.StartDirection()), b.backTop(backSide.StartDirection())
	sleeve, err := b.sleeve(front.armscye.Length(), back.armscye.Length())
	if err != nil {
		return nil, err
	}

	// The shoulder runs on past the neck, and the neckline meets it aslant.
	in := front.neck.Sub(front.shoulder).Unit()
	neck := front.neck.Add(in.Mul(BlouseShoulderLong))
	kink := geom.Rotation(geom.Point{}, -BlouseShoulderKink)
	throat := front.neckline.Start()

	foot := geom.Pt(0, -blouseBelowWaist)
	frontHem := geom.Smooth([]geom.Point{frontSide.End(), foot}, frontSide.EndDirection().Left(), geom.Pt(1, 0))
	backHem := geom.Smooth([]geom.Point{foot, backSide.Start()}, geom.Pt(1, 0), backSide.StartDirection().Right())
	nape := back.neckline.End()
	return &pattern.Pattern{
		Name:  "untested-blouse",
		Title: "Loose blouse, origin unknown",
		Notes: "Given to an invented repertory company, never sewn. Faults are planted in it for the check to find.",
		Pieces: []pattern.Piece{{
			Name: "bodice-front", Title: "Blouse front", Role: pattern.BodiceFront,
			Cut: pattern.Cut{Count: 2, Mirrored: true},
			Edges: []pattern.Edge{
				{Name: pattern.Hem, Path: frontHem, Finish: pattern.Hemmed},
				{Name: "centre-front.opening", Path: geom.Path{geom.Line(foot, throat)}, Finish: pattern.Open},
				{Name: pattern.Neckline, Path: frontNeckline(throat, neck, kink.Apply(in.Left())), Finish: pattern.Bound},
				{Name: pattern.Shoulder, Path: geom.Path{geom.Line(neck, front.shoulder)}},
				{Name: pattern.Armscye, Path: front.armscye},
				{Name: pattern.Side, Path: frontSide},
			},
			Grain: grainline(-34, -120, under),
		}, {
			Name: "bodice-back", Title: "Blouse back", Role: pattern.BodiceBack,
			Cut: pattern.Cut{Count: 1},
			Edges: []pattern.Edge{
				{Name: pattern.Hem, Path: backHem, Finish: pattern.Hemmed},
				{Name: pattern.Side, Path: backSide},
				{Name: pattern.Armscye, Path: back.armscye},
				{Name: pattern.Shoulder, Path: back.seam},
				{Name: pattern.Neckline, Path: back.neckline, Finish: pattern.Bound},
				{Name: pattern.CentreBack, Path: geom.Path{geom.Line(nape, foot)}, Finish: pattern.Fold},
			},
			Grain: grainline(34, -120, under),
		}, sleeve},
		Seams: sleeveSeams(),
	}, nil
}

// blouseSide draws a straight side edge, down in front and up behind, and
// longer mm of it below the hem's line.
func blouseSide(b Body, front bool, longer float64) geom.Path {
	_, backUnder, _, frontUnder := b.levels()
	bust, _ := b.quarters(front)
	arm, hem := geom.Pt(bust, backUnder), geom.Pt(bust+blouseHemOut, -blouseBelowWaist)
	if front {
		arm, hem = geom.Pt(-bust, frontUnder), geom.Pt(-bust-blouseHemOut, hem.Y)
	}
	hem = hem.Add(hem.Sub(arm).Unit().Mul(longer))
	if front {
		return geom.Path{geom.Line(arm, hem)}
	}
	return geom.Path{geom.Line(hem, arm)}
}
