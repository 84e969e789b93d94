package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// droppedDarts are the darts of a waist that are carried down to a lower one, in
// their order along it: the point and the middle line stay, and the mouth is as
// wide on the new line as it was on the old.
type droppedDarts struct {
	darts              []pattern.Dart
	axis               []geom.Point // from the point down the middle
	angle              []float64    // between the legs, signed as the boundary turns
	mouth, leg, legNow []float64    // mm
}

// dartsToDrop takes the darts of a bodice's waist, edge i, to carry them down. Or
// it leaves them unsewn, marks where they were, and carries none.
func (e *edit) dartsToDrop(w *work, i int, carry bool) (*droppedDarts, error) {
	d := &droppedDarts{}
	path, name := w.lines[i].path(), w.Edges[i].Name
	for _, dart := range w.Darts {
		if dart.Edge == name {
			d.darts = append(d.darts, dart)
		}
	}
	slices.SortFunc(d.darts, func(a, b pattern.Dart) int { return int(math.Copysign(1, a.From-b.From)) })
	for _, dart := range d.darts {
		from, to := path.At(dart.From), path.At(dart.To)
		if carry {
			if math.Abs(from.Dist(dart.Point)-to.Dist(dart.Point)) > legTolerance {
				return nil, refuse(fmt.Sprintf("the legs of dart %q on piece %q differ", dart.Name, w.Name), "true the dart first")
			}
			d.axis = append(d.axis, from.Lerp(to, 0.5).Sub(dart.Point).Unit())
			d.angle = append(d.angle, geom.Turn(from.Sub(dart.Point), to.Sub(dart.Point)))
			d.mouth = append(d.mouth, from.Dist(to))
			d.leg = append(d.leg, from.Dist(dart.Point))
			continue
		}
		for _, m := range []pattern.Landmark{{Name: "point", At: dart.Point}, {Name: "from", At: from}, {Name: "to", At: to}} {
			if m.Name = dart.Name + "." + m.Name; w.Landmark(m.Name) == nil {
				w.Landmarks = append(w.Landmarks, m)
			}
		}
		e.changed("dart "+dart.Name+" is left unsewn", w.Name, dart.To-dart.From, 0, "mm")
	}
	d.legNow = slices.Clone(d.leg)
	if !carry {
		w.Darts = slices.DeleteFunc(w.Darts, func(dart pattern.Dart) bool { return dart.Edge == name })
		d.darts = nil
	}
	return d, nil
}

// take is what all mouths take up, mm.
func (d *droppedDarts) take() (sum float64) {
	for _, m := range d.mouth {
		sum += m
	}
	return sum
}

// closed returns how the parts of the piece move when the darts are closed: the
// part before the first stays.
func (d *droppedDarts) closed() []geom.Affine {
	list := []geom.Affine{geom.Identity}
	for k, dart := range d.darts {
		list = append(list, list[k].After(geom.Rotation(dart.Point, -d.angle[k])))
	}
	return list
}

// meet returns where the closed darts lie on the waist that was drawn with them
// closed, and notes how long their legs have become.
func (d *droppedDarts) meet(w *work, curve geom.Path, closed []geom.Affine) ([]float64, error) {
	at := make([]float64, len(d.darts))
	for k, dart := range d.darts {
		apex := closed[k].Apply(dart.Point)
		leg := linear(closed[k]).Apply(geom.Rotation(geom.Point{}, -d.angle[k]/2).Apply(d.axis[k]))
		met := curve.CutLine(apex, leg)
		met = slices.DeleteFunc(met, func(s float64) bool { return curve.At(s).Sub(apex).Dot(leg) < minDart })
		if len(met) == 0 || k > 0 && met[0] <= at[k-1] {
			return nil, refuse(fmt.Sprintf("dart %q of piece %q does not point at the new waist", dart.Name, w.Name), "leave it unsewn, or turn it elsewhere first")
		}
		at[k] = met[0]
		d.legNow[k] = apex.Dist(curve.At(at[k]))
	}
	return at, nil
}

// mouthTries bounds the search for the darts' angles: the legs hardly depend on
// them, and each try leaves a hundredth of the miss before it.
const mouthTries = 30

// adjust brings the angles to what makes the mouths as wide as they were with the
// legs there are now, and returns by how much in mm the furthest was off.
func (d *droppedDarts) adjust() (off float64) {
	for k, m := range d.mouth {
		now := 2 * d.legNow[k] * math.Sin(math.Abs(d.angle[k])/2)
		off = max(off, math.Abs(now-m))
		d.angle[k] = math.Copysign(2*math.Asin(min(1, m/2/d.legNow[k])), d.angle[k])
	}
	return off
}
