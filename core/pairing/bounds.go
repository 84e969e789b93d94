package pairing

import (
	"slices"

	"bygone.example/core/finding"
)

// measuredBy names the tolerances that decide whether a finding is one.
var measuredBy = map[finding.Code][]string{
	SeamLength:        {"length"},
	SeamEase:          {"length", "most-ease"},
	FullnessLength:    {"length"},
	FullnessRatio:     {"ratio"},
	NotchMissing:      {"notch"},
	NotchDrift:        {"notch"},
	NotchNone:         {"long-seam"},
	CornerKink:        {"kink-warning", "kink-fault"},
	CornerCentre:      {"kink-warning", "kink-fault", "point"},
	CornerPoint:       {"point"},
	DartLegs:          {"dart-legs"},
	DartMouth:         {"kink-warning", "kink-fault"},
	FoldBent:          {"fold"},
	FoldApart:         {"fold"},
	GrainOutside:      {"grain"},
	AllowanceMismatch: {"allowance"},
	HemTurn:           {"hem-turn", "hem-fullness"},

	"curve-kink":      {"kink-warning", "kink-fault"},
	"point-doubled":   {"doubled"},
	"boundary-sliver": {"sliver"},
	"grain-fold":      {"grain-fold"},
	"mirror-shape":    {"mirror"},
	"cap-ease":        {"most-ease", "underarm-ease", "head-share"},
	"facing-shape":    {"shape"},
	"lining-shape":    {"shape"},
}

// Bounds returns the tolerances that decide whether there is a finding of that
// code, as the house has them; none where it is not a matter of measure.
func Bounds(code finding.Code) []Tolerance {
	var list []Tolerance
	for _, t := range AllTolerances() {
		if slices.Contains(measuredBy[code], t.Name) {
			list = append(list, t)
		}
	}
	return list
}
