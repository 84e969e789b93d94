package alter

import (
	"math"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// DartTruing says which dart is trued.
type DartTruing struct {
	Piece, Dart string
	Bound       float64 // mm that the dart's point, and any line, may move
}

// TrueDart makes the legs of a dart equal and lets its edge run on over the
// folded dart without a kink: the point slides over the middle of the mouth
// where the bound allows, else the shorter leg is let out; then as much of the
// edge is drawn anew on either side as the bound allows, 60 mm at most.
//
// Kept: the edge's sewn length, exactly, and the way the mouth is shaped:
// straight, or cut to the fold. Changed: the dart's point or one of its feet,
// both legs by the same amount. Units: mm.
//
// Degenerate: a dart that is true already is left alone; a move beyond the bound
// is refused.
func TrueDart(p *pattern.Pattern, o DartTruing) (*operation.Answer, error) {
	if _, _, err := begin(p).dart(o.Piece, o.Dart); err != nil {
		return nil, err
	}
	var first error
	for _, by := range [...]TruingWay{ByPoint, ByMouth} {
		for _, reach := range [...]float64{trueReach, trueReach / 2, trueReach / 4, trueReach / 8} {
			a, err := trueDartOver(p, o, by, reach)
			if err == nil {
				a, err = keepBound(p, a, o.Bound)
			}
			if err == nil {
				return a, nil
			}
			if first == nil {
				first = err
			}
		}
	}
	return nil, first
}

func trueDartOver(p *pattern.Pattern, o DartTruing, by TruingWay, reach float64) (*operation.Answer, error) {
	e := begin(p)
	w, d, err := e.dart(o.Piece, o.Dart)
	if err != nil {
		return nil, err
	}
	i, err := w.named(d.Edge)
	if err != nil {
		return nil, err
	}
	path := w.lines[i].path()
	f, t := path.At(d.From), path.At(d.To)
	legs := &operation.Answer{Pattern: p, Lineage: pattern.Same(p)}
	if math.Abs(f.Dist(d.Point)-t.Dist(d.Point)) > legTolerance {
		if legs, err = e.trueLegs(Truing{Piece: o.Piece, Dart: o.Dart, By: by, Bound: o.Bound}); err != nil {
			return nil, err
		}
	}
	return then(legs, func(p *pattern.Pattern) (*operation.Answer, error) {
		e := begin(p)
		w, d, err := e.dart(o.Piece, o.Dart)
		if err != nil {
			return nil, err
		}
		if i, err = w.named(d.Edge); err != nil {
			return nil, err
		}
		kink, ok := w.lines[i].kinkAt(d)
		if !ok || math.Abs(kink) <= trueFrom {
			return e.finish()
		}
		mouth := w.lines[i].between(d.From, d.To).path()
		press := pattern.Pressed("")
		if !mouth.Straight(straightWithin) {
			if press = d.Pressed; press == "" {
				press = w.pressing(d)
			}
		}
		if err := e.redrawMouthOver(w, d, press, []float64{reach}); err != nil {
			return nil, err
		}
		return e.finish()
	})
}
