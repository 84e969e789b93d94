package stock

import (
	"math"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// round is the share of a quarter circle's radius at which a cubic's control
// points make it rounder than any eye can tell: 4/3·tan(π/8).
const round = 0.5523

// The right half of the body is drafted, seen from outside: the back with its
// centre at x = 0 and its side to the right, the front with its centre at
// x = 0 and its side to the left, both with the waist at y = 0.

// top is the upper part of half a bodice, down to the underarm. Its paths run
// as the piece's boundary does.
type top struct {
	neck, shoulder, underarm geom.Point
	armscye, seam, neckline  geom.Path
}

func (t top) landmarks(more ...pattern.Landmark) []pattern.Landmark {
	return append([]pattern.Landmark{
		{Name: "neck-point", At: t.neck},
		{Name: "shoulder-point", At: t.shoulder},
		{Name: "underarm", At: t.underarm},
	}, more...)
}

// Quarter widths at the bust and the waist, ease included.
func (b Body) quarters(front bool) (bust, waist float64) {
	more := -float64(frontMore)
	if front {
		more = -more
	}
	return (b.Bust+bustEase)/4 + more, (b.Waist+waistEase)/4 + more
}

// taken returns how far the side seam of a half comes in at the waist, and how
// far the centre back does. Where the waist is so wide that nothing would be
// left for a dart, they come in less, until the dart has its least; of a waist
// wider than the bust the side swings out.
func (b Body) taken(front bool) (side, centre float64) {
	bust, waist := b.quarters(front)
	left := bust - waist - leastDart
	if front {
		return min(sideIn, left), 0
	}
	centre = centreBackIn * min(1, max(0, left/(sideIn+centreBackIn)))
	return min(sideIn, left-centre), centre
}

// suppression is the sum of the draft at the waist.
func (b Body) suppression() Suppression {
	front, _ := b.taken(true)
	back, centre := b.taken(false)
	return Suppression{Half: (b.Bust + bustEase) / 2, CentreBack: centre, Seams: []float64{front, back}}
}

// levels returns the heights above the waist that both halves are built on:
// the sides of the neck and the underarms.
func (b Body) levels() (backNeck, backUnder, frontNeck, frontUnder float64) {
	backNeck = b.BackLength + backNeckRise
	backUnder = b.BackLength - (b.Bust*scyeShare + scyePlus)
	frontNeck = b.FrontLength
	return backNeck, backUnder, frontNeck, frontNeck - (backNeck - backUnder - frontScyeLess)
}

// slopeDir is the direction of a shoulder seam from the neck outwards.
func slopeDir(degrees, outward float64) geom.Point {
	s, c := math.Sincos(degrees * math.Pi / 180)
	return geom.Pt(outward*c, -s)
}

// backTop drafts the back above the underarm, for a side seam that runs up
// along the given direction.
func (b Body) backTop(up geom.Point) top {
	bust, _ := b.quarters(false)
	neckY, underY, _, _ := b.levels()
	width := b.NeckBase*neckShare + neckOpened
	t := top{neck: geom.Pt(width, neckY), underarm: geom.Pt(bust, underY)}
	out := slopeDir(backSlope, 1)
	t.shoulder = t.neck.Add(out.Mul(b.Shoulder - neckOpened))
	t.seam = geom.Path{geom.Line(t.shoulder, t.neck)}

	// The armscye leaves the side seam square, is hollowed out of the corner,
	// runs upright at the width of the back and meets the shoulder square.
	backX := b.BackWidth/2 + backWidthEase
	t.armscye = geom.Smooth([]geom.Point{
		t.underarm,
		geom.Pt(backX, underY).Add(geom.Polar(backHollow, math.Pi/4)),
		geom.Pt(backX, underY+crossBackShare*(t.shoulder.Y-underY)),
		t.shoulder,
	}, up.Left(), out.Left())

	nape := geom.Pt(0, b.BackLength)
	down := out.Mul(-1).Left()
	t.neckline = geom.Path{geom.Cubic(t.neck, t.neck.Add(down.Mul(round*backNeckRise)), geom.Pt(round*width, nape.Y), nape)}
	return t
}

// back drafts half the bodice back. Its whole centre back is the opening.
func (b Body) back() (pattern.Piece, error) {
	bust, waist := b.quarters(false)
	_, underY, _, _ := b.levels()
	in, centreIn := b.taken(false)
	waistSide := geom.Pt(bust-in, 0)
	side := geom.Path{geom.Line(waistSide, geom.Pt(bust, underY))}
	up := side.StartDirection()
	t := b.backTop(up)
	nape := t.neckline.End()

	// The centre back is upright to the blades and comes in from there.
	blades := geom.Pt(0, underY+0.25*(b.BackLength-underY))
	foot := geom.Pt(centreIn, 0)
	centre := geom.Path{geom.Line(nape, blades)}.Join(
		geom.Smooth([]geom.Point{blades, foot}, geom.Pt(0, -1), geom.Pt(0.75*centreIn, -blades.Y/2)))

	w := waistline{
		left: foot, leftDir: centre.EndDirection().Left(),
		right: waistSide, rightDir: up.Right(),
		point: geom.Pt(backDartAt, backDartTop),
	}
	waistPath, dart, err := w.draw(waist)
	if err != nil {
		return pattern.Piece{}, err
	}
	dart.Pressed = pattern.PressedToStart // darts are pressed towards the centre

	return pattern.Piece{
		Name: "bodice-back", Title: "Bodice back", Role: pattern.BodiceBack,
		Cut: pattern.Cut{Count: 2, Mirrored: true},
		Edges: []pattern.Edge{
			{Name: pattern.Waist, Path: waistPath},
			{Name: pattern.Side, Path: side},
			{Name: pattern.Armscye, Path: t.armscye},
			{Name: pattern.Shoulder, Path: t.seam},
			{Name: pattern.Neckline, Path: t.neckline},
			{Name: "centre-back.opening", Path: centre, Finish: pattern.Open},
		},
		Grain:     grainline(34, 60, 330),
		Darts:     []pattern.Dart{dart},
		Landmarks: t.landmarks(pattern.Landmark{Name: "nape", At: nape}),
	}, nil
}

// frontTop drafts the front above the underarm, for a side seam that runs down
// from there along the given direction.
func (b Body) frontTop(down geom.Point) top {
	bust, _ := b.quarters(true)
	_, _, neckY, underY := b.levels()
	width := b.NeckBase*neckShare + neckOpened
	t := top{neck: geom.Pt(-width, neckY), underarm: geom.Pt(-bust, underY)}
	out := slopeDir(frontSlope, -1)
	t.shoulder = t.neck.Add(out.Mul(b.Shoulder - neckOpened))
	t.seam = geom.Path{geom.Line(t.neck, t.shoulder)}
	chestX := b.ChestWidth/2 + chestWidthEase
	t.armscye = geom.Smooth([]geom.Point{
		t.shoulder,
		geom.Pt(-chestX, underY+crossChestShare*(t.shoulder.Y-underY)),
		geom.Pt(-chestX, underY).Add(geom.Polar(frontHollow, 3*math.Pi/4)),
		t.underarm,
	}, out.Left(), down.Right())
	throat := geom.Pt(0, neckY-b.NeckBase*neckShare-frontNeckLower)
	t.neckline = frontNeckline(throat, t.neck, out.Right())
	return t
}

// frontNeckline leaves the centre front square and reaches the neck along dir.
func frontNeckline(throat, neck, dir geom.Point) geom.Path {
	return geom.Path{geom.Cubic(throat, geom.Pt(throatPull*neck.X, throat.Y),
		neck.Sub(dir.Mul(neckPull*(neck.Y-throat.Y))), neck)}
}

// front drafts half the bodice front, to be cut on the fold, for a side seam
// that sews to the given length.
func (b Body) front(sideLength float64) (pattern.Piece, error) {
	bust, waist := b.quarters(true)
	_, _, neckY, underY := b.levels()
	in, _ := b.taken(true)
	waistSide := geom.Pt(in-bust, 0)
	bustX := b.BustSpan / 2
	across := bustX - (b.NeckBase*neckShare + neckOpened)
	bustPoint := geom.Pt(-bustX, neckY-math.Sqrt(b.BustDepth*b.BustDepth-across*across))

	side, sideDart, err := bustSide{geom.Pt(-bust, underY), waistSide, bustPoint, sideLength}.draw()
	if err != nil {
		return pattern.Piece{}, err
	}
	t := b.frontTop(side.StartDirection())
	throat := t.neckline.Start()

	w := waistline{
		left: waistSide, leftDir: side.EndDirection().Left(),
		right: geom.Pt(0, 0), rightDir: geom.Pt(1, 0),
		point: bustPoint.Sub(geom.Pt(0, shortOfBust)),
	}
	waistPath, waistDart, err := w.draw(waist)
	if err != nil {
		return pattern.Piece{}, err
	}
	waistDart.Pressed = pattern.PressedToEnd
	return pattern.Piece{
		Name: "bodice-front", Title: "Bodice front", Role: pattern.BodiceFront,
		Cut: pattern.Cut{Count: 1},
		Edges: []pattern.Edge{
			{Name: pattern.Waist, Path: waistPath},
			{Name: pattern.CentreFront, Path: geom.Path{geom.Line(geom.Pt(0, 0), throat)}, Finish: pattern.Fold},
			{Name: pattern.Neckline, Path: t.neckline},
			{Name: pattern.Shoulder, Path: t.seam},
			{Name: pattern.Armscye, Path: t.armscye},
			{Name: pattern.Side, Path: side},
		},
		Grain:     grainline(-34, 60, 310),
		Darts:     []pattern.Dart{sideDart, waistDart},
		Landmarks: t.landmarks(pattern.Landmark{Name: pattern.BustPoint, At: bustPoint}),
	}, nil
}

func grainline(x, from, to float64) pattern.Grain {
	return pattern.Grain{From: geom.Pt(x, from), To: geom.Pt(x, to)}
}

// waistline is a waist edge, walked left to right, with one upright dart.
type waistline struct {
	left, right       geom.Point
	leftDir, rightDir geom.Point // tangents there, along the walk: square to the seams
	point             geom.Point // the dart's
}

// draw finds the dart that brings the waist to net mm. Each part runs square
// to the dart's legs, so that the waist is smooth when the dart is closed.
func (w waistline) draw(net float64) (geom.Path, pattern.Dart, error) {
	legs := func(half float64) (first, second geom.Point, before, after geom.Path) {
		drop := w.point.Y + waistDartLow
		first, second = geom.Pt(w.point.X-half, w.point.Y-drop), geom.Pt(w.point.X+half, w.point.Y-drop)
		before = geom.Smooth([]geom.Point{w.left, first}, w.leftDir, first.Sub(w.point).Left())
		after = geom.Smooth([]geom.Point{second, w.right}, second.Sub(w.point).Left(), w.rightDir)
		return first, second, before, after
	}
	x, err := solve("the waist dart", func(x []float64) []float64 {
		_, _, before, after := legs(x[0])
		return []float64{before.Length() + after.Length() - net}
	}, (w.left.Dist(w.right)-net)/2)
	if err != nil {
		return nil, pattern.Dart{}, err
	}
	first, second, before, after := legs(x[0])
	mouth := geom.Line(first, second)
	from := before.Length()
	return before.Join(geom.Path{mouth}).Join(after),
		pattern.Dart{Name: "waist-dart", Edge: pattern.Waist, From: from, To: from + mouth.Length(), Point: w.point}, nil
}

// bustSide is the front's side edge, walked down from the underarm to the
// waist, with the bust dart in it.
type bustSide struct {
	underarm, waist, bust geom.Point
	sewn                  float64 // mm, with the dart closed
}

// draw finds the two straight stretches, together sewn mm long, that lie in
// one line when the dart between them is closed, and the dart: legs of equal
// length, on the line from the mouth's middle to the bust point.
func (s bustSide) draw() (geom.Path, pattern.Dart, error) {
	legs := func(x []float64) (upper, lower, point, upDir, downDir geom.Point) {
		upDir, downDir = geom.Polar(1, x[0]-math.Pi/2), geom.Polar(1, x[1]-math.Pi/2)
		upper = s.underarm.Add(upDir.Mul(sideDartDown))
		lower = s.waist.Sub(downDir.Mul(s.sewn - sideDartDown))
		middle := upper.Lerp(lower, 0.5)
		return upper, lower, s.bust.Add(middle.Sub(s.bust).Unit().Mul(shortOfBust)), upDir, downDir
	}
	x, err := solve("the side bust dart", func(x []float64) []float64 {
		upper, lower, point, upDir, downDir := legs(x)
		a, b := upper.Sub(point), lower.Sub(point)
		return []float64{a.Len() - b.Len(), geom.Turn(b, a) - geom.Turn(downDir, upDir)}
	}, -0.1, 0.13)
	if err != nil {
		return nil, pattern.Dart{}, err
	}
	upper, lower, point, _, _ := legs(x)
	return geom.Polyline(s.underarm, upper, lower, s.waist), pattern.Dart{
		Name: "bust-dart", Edge: pattern.Side, From: sideDartDown, To: sideDartDown + upper.Dist(lower),
		Point: point, Pressed: pattern.PressedToEnd, // downwards
	}, nil
}
