package example

import (
	"slices"

	"bygone.example/core/finding"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
)

var ofSeams = map[finding.Code]shown{
	pairing.SeamLength: {look: Closed, plant: func(p *pattern.Pattern) { // the sleeve's back underarm 9 mm long at the wrist
		edge(p, "sleeve", "hem").Path = line(pt(0, -9), pt(300, 0))
		edge(p, "sleeve", "underarm.back").Path = line(pt(0, 400), pt(0, -9))
	}},
	pairing.SeamEase: {plant: func(p *pattern.Pattern) { // said to be eased, and 51 mm longer
		p.Seam("underarm").Meeting.Kind = pattern.Eased
		edge(p, "sleeve", "hem").Path = line(pt(0, -51), pt(300, 0))
		edge(p, "sleeve", "underarm.back").Path = line(pt(0, 400), pt(0, -51))
	}},
	pairing.SeamMirror: {plant: func(p *pattern.Pattern) { openSleeve(p); p.Piece("sleeve").Cut = pattern.Cut{Count: 1} }, mended: openSleeve,
		entails: []finding.Code{"cut-count"}},
	pairing.SeamRun: {plant: func(p *pattern.Pattern) { p.Seam("waist").A[0].Backwards = true }},
	pairing.SeamTwist: {plant: func(p *pattern.Pattern) { p.Seam("side").B[0].Backwards = false },
		entails: []finding.Code{pairing.NotchDrift}},
	pairing.FullnessLength: {plant: func(p *pattern.Pattern) { p.Piece("gore-front").Gathers[0].Length = 194 }},
	pairing.FullnessRatio:  {plant: func(p *pattern.Pattern) { p.Seam("waist").Meeting.Ratio.Max = 1.4 }},
	pairing.FullnessMissing: {plant: func(p *pattern.Pattern) {
		p.Seam("side").Meeting.Kind = pattern.Gathered
	}},
	pairing.NotchMissing: {plant: func(p *pattern.Pattern) { // the back's side seam lost its notch
		back := p.Piece("back")
		back.Notches = slices.DeleteFunc(back.Notches, func(n pattern.Notch) bool { return n.Edge == "side" })
	}},
	pairing.NotchDrift: {look: Closed, plant: func(p *pattern.Pattern) { p.Piece("front").Notches[0].At += 6 }},
	pairing.NotchCount: {look: Closed, plant: func(p *pattern.Pattern) { p.Piece("front").Notches[0].Count = 2 }},
	pairing.NotchNone: {plant: func(p *pattern.Pattern) {
		for _, name := range []string{"front", "back"} {
			piece := p.Piece(name)
			piece.Notches = slices.DeleteFunc(piece.Notches, func(n pattern.Notch) bool { return n.Edge == "side" })
		}
	}},
}

// openSleeve sews the sleeve's front underarm to its own mirror image, as of a
// piece that is half of something.
func openSleeve(p *pattern.Pattern) {
	p.Seam("underarm").B = nil
	edge(p, "sleeve", "underarm.back").Finish = pattern.Open
	sleeve := p.Piece("sleeve")
	sleeve.Notches = slices.DeleteFunc(sleeve.Notches, func(n pattern.Notch) bool { return n.Name == "elbow" })
}
