// Package stock drafts the demo's own patterns: the modern darted dress that
// an invented repertory company keeps in its stock, and a blouse with faults
// planted in it for the check to find.
//
// The draft is made the way a cutter makes one: rectangles from the measures
// and the ease, then curves, then truing. What a cutter trues by eye is solved
// here, so that every seam goes together to a millionth of a millimetre: the
// front side dart takes what the front is longer than the back, the waist
// darts take what is left over of the waist, the sleeve's head is raised until
// it holds its ease, and the skirt's gores are hollowed until they fit the
// bodice.
//
// Numbers come from the measures and from trade rules; each constant says
// which. The company and everyone in it are invented.
package stock

// Body is the stock figure the draft is made for. All are mm.
type Body struct {
	Height      float64
	Bust        float64
	Waist       float64
	Hip         float64
	NeckBase    float64
	BackLength  float64 // nape to waist
	FrontLength float64 // side of the neck over the bust to the waist
	BackWidth   float64 // between the armscyes
	ChestWidth  float64 // between the armscyes in front
	Shoulder    float64
	BustDepth   float64 // side of the neck to the bust point
	BustSpan    float64 // between the bust points
	UpperArm    float64
	ArmLength   float64
	Wrist       float64
	HipDepth    float64 // waist to hip
}

// StockBody is the company's stock size: bust 92, waist 74, hip 98, height
// 168 cm. It is a made-up figure, the lesser measures those that common
// practice puts with these girths; no published table was followed.
var StockBody = Body{
	Height: 1680, Bust: 920, Waist: 740, Hip: 980,
	NeckBase: 370, BackLength: 410, FrontLength: 450,
	BackWidth: 350, ChestWidth: 330, Shoulder: 125,
	BustDepth: 262, BustSpan: 186,
	UpperArm: 285, ArmLength: 595, Wrist: 160, HipDepth: 200,
}

// Wearing ease of a woven dress, over the whole girth, mm. A costume text of
// Central Washington University (ch. 16, ease in clothing) gives bust 1½–2 in,
// dress waist ¾–1 in, hip 2–2¾ in; these are the metric figures inside them.
const (
	bustEase  = 50
	waistEase = 25
	hipEase   = 60
)

// The neckline and shoulders, mm and degrees; common practice.
const (
	neckShare      = 1.0 / 5 // of the neck base: half the width of the neck, and near enough its depth in front
	neckOpened     = 4       // the dress neckline stands this far outside the base of the neck
	frontNeckLower = 14      // and is cut this much deeper in front
	// Pull of the front neckline's curve at the throat, of its width, and at
	// the neck, of its depth: as full as it can be without turning back.
	throatPull, neckPull = 0.50, 0.37
	backNeckRise         = 21 // side of the neck above the nape; Hecklinger 1884 draws ¾ in (19 mm)
	backSlope            = 20 // of the shoulder seam, degrees below level
	frontSlope           = 24
)

// The armscye, mm; common practice.
const (
	scyeShare       = 1.0 / 8 // of the bust,
	scyePlus        = 95      // and this much more, is the depth of scye from the nape
	frontScyeLess   = 16      // the front is this much shallower from the side of the neck
	backWidthEase   = 5       // on the half
	chestWidthEase  = 3
	frontMore       = 2  // the front quarter at the bust and waist is this much over a quarter, the back under
	backHollow      = 30 // from the corner of the scye to the curve, at 45 degrees
	frontHollow     = 24 // less in front: the front is hollowed deeper
	crossBackShare  = 0.50
	crossChestShare = 0.36
)

// Shaping of the bodice, mm; common practice but where said.
const (
	sideIn       = 20  // each side seam comes in this much at the waist
	centreBackIn = 10  // and the centre back; Hecklinger 1884, fig. 3, takes 1½ in of a corseted figure
	leastDart    = 10  // a waist dart takes about this much at least, and the seams come in less for it
	shortOfBust  = 22  // darts stop short of the bust point by 1.5–2.5 cm
	waistDartLow = 3   // the waist is this much lower at a dart's legs, which trues it
	sideDartDown = 52  // the side dart begins this far below the underarm
	backDartAt   = 98  // middle of the back waist dart from the centre back line
	backDartTop  = 188 // height of its point above the waist
)
