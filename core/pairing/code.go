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
	Source   string           // where its bounds are known from; empty where a seam is merely a seam
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

// explanations are those of all families; each family of codes has a file of its
// own.
var explanations = allOf(
	ofSeams,
	ofCorners,
	ofPieces,
	ofShapes,
	ofSewing,
	ofChains,
)

func allOf(families ...map[finding.Code]Explanation) map[finding.Code]Explanation {
	all := map[finding.Code]Explanation{}
	for _, family := range families {
		maps.Copy(all, family)
	}
	return all
}
