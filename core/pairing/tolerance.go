package pairing

import "bygone.example/core/pattern"

// Tolerances are the bounds of the check that a shared repository may set for
// itself. Start from DefaultTolerances.
type Tolerances struct {
	Length       float64 // mm
	Notch        float64 // mm
	LongSeam     float64 // mm
	MostEase     float64 // mm
	Ratio        float64 // ratio
	KinkWarning  float64 // degrees
	KinkFault    float64 // degrees
	Point        float64 // degrees
	Legs         float64 // mm
	Fold         float64 // mm
	Grain        float64 // mm
	Shape        float64 // mm
	UnderarmEase float64 // mm
	HeadShare    float64 // ratio
	Allowance    float64 // mm
	HemTurn      float64 // mm
	HemFullness  float64 // ratio
	GrainAskew   float64 // degrees
	Doubled      float64 // mm
	Sliver       float64 // mm
	Mirror       float64 // mm
}

// Tolerance describes one of the Tolerances.
type Tolerance struct {
	Name    string // as a repository's file writes it
	Unit    string // mm, degrees or ratio
	Default float64
	Reason  string // why it is that: common practice where it names no source

	field func(*Tolerances) *float64
}

// Of returns where the tolerance is kept in t.
func (d Tolerance) Of(t *Tolerances) *float64 { return d.field(t) }

// AllTolerances lists every tolerance, in the order of the check.
func AllTolerances() []Tolerance {
	return []Tolerance{
		{"length", "mm", 0.1, "two sides that differ by less are of one length: a fifth of a sharp pencil line, and ten times what files round away", func(t *Tolerances) *float64 { return &t.Length }},
		{"notch", "mm", 0.5, "a notch snipped with scissors is no truer than this", func(t *Tolerances) *float64 { return &t.Notch }},
		{"long-seam", "mm", LongSeam, "beyond this cloth creeps under the foot, and a seam wants a mark to be held by", func(t *Tolerances) *float64 { return &t.LongSeam }},
		{"most-ease", "mm", 50.8, "what can be worked in along one seam that gives no bounds: 2 in, the upper end of what a costume-construction text of Central Washington University (costxt, chapter 11) allows", func(t *Tolerances) *float64 { return &t.MostEase }},
		{"ratio", "ratio", 0.005, "how far a fullness may leave its bounds: what a tape shows over a metre of gathers", func(t *Tolerances) *float64 { return &t.Ratio }},
		{"kink-warning", "degrees", 8, "a smaller corner across a seam is rounded off with the scissors while trimming", func(t *Tolerances) *float64 { return &t.KinkWarning }},
		{"kink-fault", "degrees", 25, "a corner that no trimming inside a seam allowance makes smooth", func(t *Tolerances) *float64 { return &t.KinkFault }},
		{"point", "degrees", 60, "beyond this a corner at a fold or centre seam is a point that somebody drew, as of a V-neck, and not an untrue line", func(t *Tolerances) *float64 { return &t.Point }},
		{"dart-legs", "mm", 0.1, "the legs of a dart are sewn to each other like a seam", func(t *Tolerances) *float64 { return &t.Legs }},
		{"fold", "mm", pattern.FoldTolerance, "a fold is straight when it leaves its line by less than a pencil line", func(t *Tolerances) *float64 { return &t.Fold }},
		{"grain", "mm", 0.5, "a grainline may lie on the fold or on an edge", func(t *Tolerances) *float64 { return &t.Grain }},
		{"shape", "mm", 2, "by how much a facing or lining may leave the line it is sewn to: what the turn of the cloth takes (common practice)", func(t *Tolerances) *float64 { return &t.Shape }},
		{"underarm-ease", "mm", 5, "what lies between a sleeve's head and its armscye under the arm, on either side: next to none, since it does not shrink in there (common practice; the figure is from memory)", func(t *Tolerances) *float64 { return &t.UnderarmEase }},
		{"head-share", "ratio", 0.3, "what can be worked into one stretch of a sleeve's head: a little more than 2 in over the 8 in between the points that McGlauflin, Handicraft for Girls (1910), keeps the fullness to, 5 in before the shoulder and 3 in behind", func(t *Tolerances) *float64 { return &t.HeadShare }},
		{"allowance", "mm", 0.5, "raw edges that differ by less look like one", func(t *Tolerances) *float64 { return &t.Allowance }},
		{"hem-turn", "mm", 6, "what the end of a hem can be coaxed by into the side seam: a narrow turning, 1/4 in (common practice)", func(t *Tolerances) *float64 { return &t.HemTurn }},
		{"hem-fullness", "ratio", 0.12, "how much longer the raw edge of a hem may be than the cloth it lies on: more than an eighth or so is neither drawn in nor shrunk away (from memory)", func(t *Tolerances) *float64 { return &t.HemFullness }},
		{"grain-fold", "degrees", 0.5, "over the length of a bodice that is 2 mm, as near as a grainline is laid with a tape", func(t *Tolerances) *float64 { return &t.GrainAskew }},
		{"doubled", "mm", 0.05, "two points nearer than this are one under the sharpest pencil", func(t *Tolerances) *float64 { return &t.Doubled }},
		{"sliver", "mm", 0.5, "two lines nearer than scissors are true cannot both be cut", func(t *Tolerances) *float64 { return &t.Sliver }},
		{"mirror", "mm", 0.5, "how far a left piece may be from the mirror image of its right one: as true as scissors", func(t *Tolerances) *float64 { return &t.Mirror }},
	}
}

// DefaultTolerances are those of the house.
func DefaultTolerances() Tolerances {
	var t Tolerances
	for _, d := range AllTolerances() {
		*d.Of(&t) = d.Default
	}
	return t
}

// What is not for a repository to set.
const (
	// LongSeam in mm is the default beyond which a seam wants a notch.
	LongSeam = 150.0
	// CornerReach in mm: the direction of an edge at its corner is its tangent,
	// unless the last line or curve is shorter than this. Then it is the chord
	// over this length, since a digitised stub points anywhere.
	CornerReach = 2.0
	// WorseLength in mm, WorseAngle in degrees and WorseRatio: a finding that has
	// grown by less since the step before is the same finding.
	WorseLength = 0.1
	WorseAngle  = 0.5
	WorseRatio  = 0.005
)
