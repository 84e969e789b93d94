package pairing

import (
	"maps"
	"slices"

	"bygone.example/core/finding"
)

// The codes of the check. They never change meaning.
const (
	SeamLength      finding.Code = "seam-length"
	SeamEase        finding.Code = "seam-ease"
	SeamMirror      finding.Code = "seam-mirror"
	SeamRun         finding.Code = "seam-run"
	SeamTwist       finding.Code = "seam-twist"
	FullnessLength  finding.Code = "fullness-length"
	FullnessRatio   finding.Code = "fullness-ratio"
	FullnessMissing finding.Code = "fullness-missing"
	NotchMissing    finding.Code = "notch-missing"
	NotchDrift      finding.Code = "notch-drift"
	NotchCount      finding.Code = "notch-count"
	NotchNone       finding.Code = "notch-none"
	CornerKink      finding.Code = "corner-kink"
	CornerCentre    finding.Code = "corner-centre"
	CornerPoint     finding.Code = "corner-point"
	DartLegs        finding.Code = "dart-legs"
	DartMouth       finding.Code = "dart-mouth"
	DartPoint       finding.Code = "dart-point"
	FoldBent        finding.Code = "fold-bent"
	FoldApart       finding.Code = "fold-apart"
	EdgeLoose       finding.Code = "edge-loose"
	EdgeTwoFates    finding.Code = "edge-two-fates"
	GrainMissing    finding.Code = "grain-missing"
	GrainOutside    finding.Code = "grain-outside"
)

// Explanation tells what a code means.
type Explanation struct {
	Code     finding.Code
	Severity finding.Severity // the usual one; a finding may carry another
	Title    string           // a few words, no full stop
	Why      string           // what goes wrong at the machine if it is left
	Remedy   string           // what to do
}

// Explain returns what a code means; ok is false of a code that is not ours.
func Explain(code finding.Code) (e Explanation, ok bool) {
	e, ok = explanations[code]
	e.Code = code
	return e, ok
}

// Codes lists every code with what it means, sorted.
func Codes() []Explanation {
	list := make([]Explanation, 0, len(explanations))
	for _, code := range slices.Sorted(maps.Keys(explanations)) {
		e, _ := Explain(code)
		list = append(list, e)
	}
	return list
}

var explanations = map[finding.Code]Explanation{
	SeamLength: {
		Severity: finding.Fault, Title: "The two sides of a seam differ in length",
		Why:    "Sewn from one end, the longer side runs over at the other: the hem steps, or the cloth puckers where it is forced in.",
		Remedy: "Lengthen the short side or shorten the long one, or say that the seam is eased.",
	},
	SeamEase: {
		Severity: finding.Fault, Title: "An eased seam has too much or too little ease",
		Why:    "Too much will not shrink in and shows as gathers; too little pulls the seam tight over the curve that wanted it.",
		Remedy: "Alter side B until its ease lies between the bounds, or widen the bounds if it is meant.",
	},
	SeamMirror: {
		Severity: finding.Fault, Title: "A seam to a mirror image that is never cut",
		Why:    "The seam joins the piece to its own other half, but only one way up of it is cut.",
		Remedy: "Cut the piece in pairs, half of them turned over, or name the edge on side B.",
	},
	SeamRun: {
		Severity: finding.Warning, Title: "Edges that follow one another in a seam do not meet",
		Why:    "A run of edges is sewn in one go: where no seam brings the end of one to the start of the next, the needle would have to jump.",
		Remedy: "Put the edges in sewing order, or walk the one that runs the other way backwards.",
	},
	SeamTwist: {
		Severity: finding.Warning, Title: "The two sides of a seam may be walked from opposite ends",
		Why:    "Hem would be sewn to waist: the notches agree when one side is turned round.",
		Remedy: "Walk one side of the seam backwards.",
	},
	FullnessLength: {
		Severity: finding.Fault, Title: "Drawn up or pleated, the sides of a seam differ in length",
		Why:    "Gathers and pleats are set to a measure; what is left over at the end has nowhere to go.",
		Remedy: "Set what the gathers come down to, or the depth of the pleats, to the length of the other side.",
	},
	FullnessRatio: {
		Severity: finding.Warning, Title: "The fullness of a seam is outside its bounds",
		Why:    "Much less looks like a mistake, much more will not go under the foot.",
		Remedy: "Widen or narrow the fuller side, or change the bounds if it is meant.",
	},
	FullnessMissing: {
		Severity: finding.Warning, Title: "A seam said to be gathered or pleated is flat",
		Why:    "Neither side has gathers or pleats on it, so the maker would look for fullness that is not there.",
		Remedy: "Put gathers or pleats on the fuller side, or make the seam plain.",
	},
	NotchMissing: {
		Severity: finding.Warning, Title: "A notch has no partner on the other side of the seam",
		Why:    "The maker has a mark and nothing to match it to.",
		Remedy: "Mark the other side at the same sewn length, under the same name, or take the notch away.",
	},
	NotchDrift: {
		Severity: finding.Warning, Title: "Two notches that belong together do not meet",
		Why:    "Matching them pushes length along the seam: one stretch puckers, the next is pulled.",
		Remedy: "Move one of the notches so that both lie at the same sewn length.",
	},
	NotchCount: {
		Severity: finding.Warning, Title: "Two notches that belong together are cut a different number of times",
		Why:    "A single notch laid to a double one looks like a mistake, and the maker will search for the right partner.",
		Remedy: "Make both single, double or triple.",
	},
	NotchNone: {
		Severity: finding.Warning, Title: "A long seam without notches",
		Why:    "Over a long seam one layer creeps; without a mark half way it is only seen at the end.",
		Remedy: "Mark both sides at the same sewn length.",
	},
	CornerKink: {
		Severity: finding.Warning, Title: "A line kinks where it runs on across a seam",
		Why:    "With the seam closed, neckline, armscye, waist or hem has a peak or a dent in it.",
		Remedy: "Lay the two pieces together along the closed seam and redraw the line across it in one sweep.",
	},
	CornerCentre: {
		Severity: finding.Warning, Title: "A line is not square to the fold or centre seam",
		Why:    "Opened out, neckline, waist or hem has a peak or a dent in the middle.",
		Remedy: "Redraw the line so that it meets the fold or centre seam at a right angle.",
	},
	CornerPoint: {
		Severity: finding.Note, Title: "A line comes to a point at the fold or centre seam",
		Why:    "Meant in a V-neck or a pointed waist; a slip of the pencil elsewhere.",
		Remedy: "Leave it if a point is meant.",
	},
	DartLegs: {
		Severity: finding.Fault, Title: "The legs of a dart differ in length",
		Why:    "They are sewn to each other: the edge steps where the dart closes.",
		Remedy: "Fold the dart shut and redraw the edge across it, or move the point until the legs are equal.",
	},
	DartMouth: {
		Severity: finding.Warning, Title: "The edge kinks where a dart is folded shut",
		Why:    "The closed dart leaves a peak or a dent in the seam line.",
		Remedy: "Fold the dart shut and redraw the edge across it in one sweep.",
	},
	DartPoint: {
		Severity: finding.Fault, Title: "A dart points out of its piece",
		Why:    "There is no cloth to sew the dart in.",
		Remedy: "Move the dart's point inside the piece.",
	},
	FoldBent: {
		Severity: finding.Fault, Title: "A fold that is not straight",
		Why:    "Cloth folds along a straight line only.",
		Remedy: "Draw the fold as one straight line, or cut the piece twice and sew it there.",
	},
	FoldApart: {
		Severity: finding.Fault, Title: "Two folds of a piece do not lie in one line",
		Why:    "A piece lies on one fold of the cloth at a time.",
		Remedy: "Keep one fold and make the other edge a seam.",
	},
	EdgeLoose: {
		Severity: finding.Fault, Title: "Nothing says what becomes of an edge",
		Why:    "The edge is to be sewn, but no seam takes it.",
		Remedy: "Name it in a seam, or say that it is hemmed, faced, bound, on the fold or left open.",
	},
	EdgeTwoFates: {
		Severity: finding.Warning, Title: "An edge is sewn and finished another way as well",
		Why:    "A seam takes the edge, yet it is said to be hemmed, faced, bound, on the fold or open.",
		Remedy: "Take it out of the seam, or finish it as sewn.",
	},
	GrainMissing: {
		Severity: finding.Warning, Title: "A piece without a grainline",
		Why:    "Nobody can tell how to lay it on the cloth, and it will hang askew if guessed wrong.",
		Remedy: "Draw the grainline.",
	},
	GrainOutside: {
		Severity: finding.Warning, Title: "A grainline that leaves its piece",
		Why:    "Cut out, the piece no longer carries the line.",
		Remedy: "Draw the grainline inside the piece.",
	},
}
