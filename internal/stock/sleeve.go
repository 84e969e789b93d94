package stock

import (
	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// The sleeve, mm; common practice but where said.
const (
	upperArmEase = 50
	wristEase    = 60 // slips over the hand without a placket
	elbowIn      = 7  // the seam is hollowed this much at the elbow
	elbowShare   = 0.47

	// What the head is longer than the armscye, all of it between the notches
	// and over the shoulder. Together 26 mm: woven sleeves take 20–40 (common
	// practice), and a costume text of Central Washington University (ch. 11)
	// has eased fullness that should not show stay under 1½–2 in.
	headEaseFront = 11
	headEaseBack  = 15
	// The head is refused outside these bounds.
	headEaseMin, headEaseMax = 20, 30
)

// The head's curve off the straight from underarm to top, mm: a hollow below,
// a round above; deeper in front, where the arm moves (common practice).
const (
	frontHeadHollow, frontHeadRound = 12, 17
	backHeadHollow, backHeadRound   = 7, 17
)

// sleeve drafts the right sleeve seen from outside, front to the right, for
// armscyes of the given lengths. The top of the head lies at x = 0 and comes to
// the shoulder seam.
func (b Body) sleeve(frontArmscye, backArmscye float64) (pattern.Piece, error) {
	width := b.UpperArm + upperArmEase
	hem := b.Wrist + wristEase
	type shape struct{ hem, frontSeam, head, backSeam geom.Path }
	// draw lays the sleeve out for the height of the head and the width in
	// front of its top.
	draw := func(height, front float64) (s shape, headFront float64) {
		top := geom.Pt(0, b.ArmLength)
		level := b.ArmLength - height
		middle := front - width/2
		f, k := geom.Pt(front, level), geom.Pt(front-width, level)
		wristF, wristB := geom.Pt(middle+hem/2, 0), geom.Pt(middle-hem/2, 0)
		elbow := func(arm, wrist geom.Point, in float64) geom.Point {
			return wrist.Lerp(arm, 1-elbowShare).Add(geom.Pt(in, 0))
		}
		s.frontSeam = geom.Smooth([]geom.Point{wristF, elbow(f, wristF, -elbowIn), f}, geom.Point{}, geom.Point{})
		s.backSeam = geom.Smooth([]geom.Point{k, elbow(k, wristB, elbowIn), wristB}, geom.Point{}, geom.Point{})
		hemSeg := geom.Smooth([]geom.Point{wristB, wristF}, s.backSeam.EndDirection().Left(), s.frontSeam.StartDirection().Right())
		s.hem = hemSeg
		// off names a point beside the straight from the underarm to the top.
		off := func(arm geom.Point, share, by float64) geom.Point {
			up := top.Sub(arm).Unit()
			square := up.Left()
			if square.Y < 0 {
				square = up.Right()
			}
			return arm.Lerp(top, share).Add(square.Mul(by))
		}
		frontHead := geom.Smooth([]geom.Point{
			f, off(f, 0.27, -frontHeadHollow), off(f, 0.72, frontHeadRound), top,
		}, s.frontSeam.EndDirection().Left(), geom.Pt(-1, 0))
		backHead := geom.Smooth([]geom.Point{
			top, off(k, 0.68, backHeadRound), off(k, 0.25, -backHeadHollow), k,
		}, geom.Pt(-1, 0), s.backSeam.StartDirection().Right())
		s.head = frontHead.Join(backHead)
		return s, frontHead.Length()
	}
	wantFront, wantBack := frontArmscye+headEaseFront, backArmscye+headEaseBack
	// Hecklinger 1884, fig. 10, makes the head about a third of the armscye
	// high: the first guess.
	x, err := solve("the sleeve head", func(x []float64) []float64 {
		s, front := draw(x[0], x[1])
		return []float64{front - wantFront, s.head.Length() - front - wantBack}
	}, (frontArmscye+backArmscye)/3, width/2)
	if err != nil {
		return pattern.Piece{}, err
	}
	s, _ := draw(x[0], x[1])
	arm := s.frontSeam.End()
	return pattern.Piece{
		Name: "sleeve", Title: "Sleeve", Role: pattern.Sleeve,
		Cut: pattern.Cut{Count: 2, Mirrored: true},
		Edges: []pattern.Edge{
			{Name: pattern.Hem, Path: s.hem, Finish: pattern.Hemmed},
			{Name: "underarm.front", Path: s.frontSeam},
			{Name: pattern.Cap, Path: s.head},
			{Name: "underarm.back", Path: s.backSeam},
		},
		Grain: grainline(arm.X-width/2, 90, arm.Y-40),
		Landmarks: []pattern.Landmark{
			{Name: "cap-top", At: geom.Pt(0, b.ArmLength)},
			{Name: "underarm", At: arm},
		},
	}, nil
}
