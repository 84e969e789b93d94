package example

import (
	"bygone.example/core/finding"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
)

var ofCorners = map[finding.Code]shown{
	pairing.CornerKink: {look: Closed, plant: func(p *pattern.Pattern) { // a dent in the neckline at the shoulder
		edge(p, "front", "neckline").Path = sweep(pt(70, 400), turn(pt(-110, 40).Left(), -20), pt(0, 320), pt(-1, 0))
	}},
	pairing.CornerCentre: {look: Opened, plant: func(p *pattern.Pattern) { // the neckline dips at the fold
		edge(p, "front", "neckline").Path = sweep(pt(70, 400), pt(-110, 40).Left(), pt(0, 320), turn(pt(-1, 0), 10))
	}},
	pairing.CornerPoint: {look: Opened, plant: func(p *pattern.Pattern) { // a V-neck
		edge(p, "front", "neckline").Path = sweep(pt(70, 400), pt(-110, 40).Left(), pt(0, 320), turn(pt(-1, 0), 40))
	}},
}
