package example

import (
	"slices"

	"bygone.example/core/finding"
	"bygone.example/core/geom"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
)

var ofPieces = map[finding.Code]shown{
	pairing.DartLegs:  {look: Folded, plant: func(p *pattern.Pattern) { p.Piece("front").Darts[0].Point = pt(112, 150) }},
	pairing.DartMouth: {look: Folded, plant: func(p *pattern.Pattern) { p.Piece("front").Darts[0].Point = pt(100, 60) }},
	pairing.DartPoint: {plant: func(p *pattern.Pattern) { p.Piece("front").Darts[0].Point = pt(100, 600) }},
	pairing.FoldBent: {plant: func(p *pattern.Pattern) {
		edge(p, "front", "centre-front").Path = geom.Polyline(pt(0, 320), pt(3, 160), pt(0, 0))
	}},
	pairing.FoldApart: {entails: []finding.Code{pairing.CutCount}, plant: func(p *pattern.Pattern) { // the sleeve on the fold at both sides
		p.Seams = slices.DeleteFunc(p.Seams, func(s pattern.Seam) bool { return s.Name == "underarm" })
		sleeve := p.Piece("sleeve")
		sleeve.Notches = slices.DeleteFunc(sleeve.Notches, func(n pattern.Notch) bool { return n.Name == "elbow" })
		edge(p, "sleeve", "underarm.front").Finish = pattern.Fold
		edge(p, "sleeve", "underarm.back").Finish = pattern.Fold
	}},
	pairing.EdgeLoose:    {plant: func(p *pattern.Pattern) { edge(p, "sleeve", "hem").Finish = pattern.Sewn }},
	pairing.EdgeTwoFates: {plant: func(p *pattern.Pattern) { edge(p, "front", "side").Finish = pattern.Hemmed }},
	pairing.GrainMissing: {plant: func(p *pattern.Pattern) { p.Piece("back").Grain = pattern.Grain{} }},
	pairing.GrainOutside: {plant: func(p *pattern.Pattern) {
		p.Piece("back").Grain = pattern.Grain{From: pt(-15, 300), To: pt(-15, 460)}
	}},
}
