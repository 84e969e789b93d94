package pairing

import "bygone.example/core/finding"

// mends says for each code which step can mend it and what that has to be told
// of the place; a code that is not here is the maker's to mend. Whether it can
// be mended within a few millimetres only trying tells.
var mends = map[finding.Code]struct {
	operation string
	told      []string // of seam, piece, edge: what the step is to be told
}{
	SeamLength:     {"true.length", []string{"seam"}},
	SeamEase:       {"true.length", []string{"seam"}},
	FullnessLength: {"true.gathers", []string{"seam"}},
	NotchMissing:   {"true.notches", []string{"seam"}},
	NotchDrift:     {"true.notches", []string{"seam"}},
	NotchCount:     {"true.notches", []string{"seam"}},
	NotchNone:      {"true.notches", []string{"seam"}},
	CornerKink:     {"true.corner", []string{"seam", "piece", "edge"}},
	CornerCentre:   {"true.corner", []string{"seam", "piece", "edge"}},
	DartLegs:       {"true.dart", []string{"piece", "dart"}},
	DartMouth:      {"true.dart", []string{"piece", "dart"}},
	FoldBent:       {"true.fold", []string{"piece", "edge"}},
	GrainOutside:   {"true.grain", []string{"piece"}},

	"boundary-clockwise": {"true.outline", []string{"piece"}},
	"point-doubled":      {"true.outline", []string{"piece"}},
}

// mend returns the step that may mend a finding, or nil; dart is the dart that
// it concerns, if it concerns one.
func mend(code finding.Code, place finding.Place, dart string) *finding.Mend {
	m, ok := mends[code]
	if !ok {
		return nil
	}
	known := map[string]string{"seam": place.Seam, "piece": place.Piece, "edge": place.Edge, "dart": dart}
	with := map[string]string{}
	for _, name := range m.told {
		if known[name] != "" {
			with[name] = known[name]
		}
	}
	return &finding.Mend{Operation: m.operation, With: with}
}
