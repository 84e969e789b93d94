package alter

import (
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Closing says where a closed dart's width goes.
type Closing struct {
	Piece, Dart string
	Edge        string  // the edge that takes the width up
	At          float64 // mm along it
	Kind        pattern.GatherKind
	Spread      float64 // as in Release
}

// CloseDart closes a dart for good: its angle is turned to another edge, and
// what opens there is gathered or eased, so that no dart is left.
//
// Kept: every sewn length. It is RotateDart and then ReleaseDart in one, and
// refuses what either does.
func CloseDart(p *pattern.Pattern, c Closing) (*operation.Answer, error) {
	first, err := RotateDart(p, Rotation{Piece: c.Piece, Dart: c.Dart, Edge: c.Edge, At: c.At, Share: 1})
	if err != nil {
		return nil, err
	}
	second, err := ReleaseDart(first.Pattern, Release{Piece: c.Piece, Dart: c.Dart, Kind: c.Kind, Spread: c.Spread})
	if err != nil {
		return nil, err
	}
	return first.Then(second), nil
}
