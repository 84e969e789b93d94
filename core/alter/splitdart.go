package alter

import (
	"fmt"
	"math"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Opening is a place that a share of a dart goes to.
type Opening struct {
	Edge  string
	At    float64 // mm along the edge of the pattern as it comes
	Share float64 // of the whole dart's angle
}

// Splitting says how a dart is divided.
type Splitting struct {
	Piece, Dart string
	// Places are where parts of the dart go. What is left over stays.
	Places []Opening
	// Into, without Places, divides the dart into so many equal ones on its own
	// edge, Apart mm of cloth between two: one stays, the others open on either
	// side of it by turns.
	Into  int
	Apart float64
}

// SplitDart divides a dart into several that all run to its point: a share of
// its angle is turned to each place, and the rest stays.
//
// Kept: the sum of the angles, every edge's sewn length, the area. Joined again,
// the parts are the dart they were. Changed: the mouths, each 2·L·sin(θ/2) for
// its own legs' length L.
//
// Degenerate: shares that add up to more than the dart, fewer than two parts,
// and whatever RotateDart refuses are refused.
func SplitDart(p *pattern.Pattern, o Splitting) (*operation.Answer, error) {
	e := begin(p)
	w, d, err := e.dart(o.Piece, o.Dart)
	if err != nil {
		return nil, err
	}
	places := o.Places
	if len(places) == 0 {
		if o.Into < 2 || o.Apart <= 0 {
			return nil, refuse(fmt.Sprintf("dart %q cannot be divided into %d", o.Dart, o.Into), "ask for two or more, with cloth between them")
		}
		for k := 1; k < o.Into; k++ {
			out := o.Apart * float64((k+1)/2)
			at := d.From - out
			if k%2 == 1 {
				at = d.To + out
			}
			places = append(places, Opening{Edge: d.Edge, At: at, Share: 1 / float64(o.Into)})
		}
	}
	left, all := 1.0, 0.0
	for _, at := range places {
		all += at.Share
	}
	if all > 1+cutSliver {
		return nil, refuse(fmt.Sprintf("the shares of dart %q add up to %.2f", o.Dart, all), "let them add up to 1 or less")
	}
	angle := legAngle(&w.Piece, d)
	answer, err := e.finish() // nothing is altered yet: every place is where it was
	if err != nil {
		return nil, err
	}
	for _, at := range places {
		now, ok := newCarrier(answer.Lineage).find(o.Piece, at.Edge, at.At, onward)
		if !ok || now.piece != o.Piece {
			instead := "choose another place"
			if o.Into > 1 {
				instead = "divide it into fewer parts, or leave less between them"
			}
			return nil, refuse(fmt.Sprintf("a dart cannot open at %.1f mm along edge %q of piece %q", at.At, at.Edge, o.Piece), instead)
		}
		share := at.Share / left
		if 1-share < cutSliver {
			share = 1
		}
		turn := Rotation{Piece: o.Piece, Dart: o.Dart, Edge: now.edge, At: now.at, Share: share}
		if answer, err = then(answer, func(p *pattern.Pattern) (*operation.Answer, error) { return RotateDart(p, turn) }); err != nil {
			return nil, err
		}
		left -= at.Share
	}
	answer.Changes = append([]operation.Change{{
		What: "angle of the darts " + o.Dart + " was divided into, together", Piece: o.Piece,
		Before: degrees(angle), After: degrees(freshAngle(answer.Pattern.Piece(o.Piece), p.Piece(o.Piece), o.Dart)), Unit: "degrees",
	}}, answer.Changes...)
	return answer, nil
}

// legAngle is the angle in radians between a dart's legs.
func legAngle(p *pattern.Piece, d *pattern.Dart) float64 {
	path := p.Edge(d.Edge).Path
	return math.Abs(geom.Turn(path.At(d.From).Sub(d.Point), path.At(d.To).Sub(d.Point)))
}

// freshAngle adds up the angles of the darts that a piece did not have, and of
// the named one.
func freshAngle(now, before *pattern.Piece, name string) float64 {
	sum := 0.0
	for i := range now.Darts {
		if d := &now.Darts[i]; d.Name == name || before.Dart(d.Name) == nil {
			sum += legAngle(now, d)
		}
	}
	return sum
}
