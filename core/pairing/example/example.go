// Package example shows what each code of the check means: a small pattern with
// that one fault, and the same pattern mended. The garment is invented.
package example

import (
	"maps"
	"math"
	"slices"

	"bygone.example/core/finding"
	"bygone.example/core/geom"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
)

// Example is one code shown on a pattern.
type Example struct {
	Code          finding.Code
	Before, After *pattern.Pattern
	// Options are what the check must be told to find it.
	Options pairing.Options
	// Look says how the place is best looked at.
	Look Look
	// Entails are the codes that come with the fault: it has several faces.
	Entails []finding.Code
}

// Look is how a place is best looked at.
type Look string

// The ways to look.
const (
	Flat   Look = ""       // as it lies on the table
	Closed Look = "closed" // the seam closed: the other side laid against it
	Opened Look = "opened" // opened out along the fold or centre seam
	Folded Look = "folded" // the dart folded shut
)

// shown is how an example is made: a fault planted in a sound pattern, and what
// mends it; nil stands for the sound pattern as it was.
type shown struct {
	sound   func() *pattern.Pattern // nil: Garment
	plant   func(*pattern.Pattern)
	mended  func(*pattern.Pattern)
	options pairing.Options
	look    Look
	entails []finding.Code
}

// Of returns the example of a code; ok is false of one that no pattern can show,
// and Unshown says why.
func Of(code finding.Code) (e Example, ok bool) {
	s, ok := examples[code]
	if !ok {
		return e, false
	}
	sound := s.sound
	if sound == nil {
		sound = Garment
	}
	e = Example{Code: code, Before: sound(), After: sound(), Options: s.options, Look: s.look, Entails: s.entails}
	s.plant(e.Before)
	if s.mended != nil {
		s.mended(e.After)
	}
	return e, true
}

// Codes lists the codes that have an example, sorted.
func Codes() []finding.Code {
	return slices.DeleteFunc(slices.Sorted(maps.Keys(examples)), func(code finding.Code) bool {
		_, known := pairing.Explain(code)
		return !known
	})
}

// Unshown says of the codes that have no example why not.
var Unshown = map[finding.Code]string{
	pairing.ExpectDifferent: "it is about a chain, and bygone compare draws what differs",
	pairing.ExpectBroken:    "it is about a chain that does not run",
}

var examples = allOf(ofSeams, ofCorners, ofPieces, ofSewing, ofShapes, ofWearing)

func allOf(families ...map[finding.Code]shown) map[finding.Code]shown {
	all := map[finding.Code]shown{}
	for _, family := range families {
		maps.Copy(all, family)
	}
	return all
}

// edge returns an edge of a pattern built here.
func edge(p *pattern.Pattern, piece, name string) *pattern.Edge {
	return p.Edge(pattern.EdgeRef{Piece: piece, Edge: name})
}

// turn turns a direction counter-clockwise.
func turn(v geom.Point, degrees float64) geom.Point {
	return geom.Rotation(geom.Point{}, degrees*math.Pi/180).Apply(v)
}
