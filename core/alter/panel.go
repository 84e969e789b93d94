package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Panel says where a back is divided.
type Panel struct {
	// Dart is the waist dart the seam takes up; empty takes the only one there
	// is, and without any the seam starts AtWaist mm from the centre back.
	Dart    string
	AtWaist float64
	// AtArmscye is where the seam ends: mm along the armscye from the shoulder.
	AtArmscye float64
}

// DivideBack divides the back into a centre back and a side back along a style
// line from the waist to the armscye. A waist dart goes into the seam: below
// its point the two sides are the dart's legs, trued to run on without a corner.
//
// Kept: waist, side and armscye, the area but for the truing, and everything on
// them. The two new edges are equal exactly: mirror images below the dart's
// point, one line above it. Degenerate: more than one waist dart, a back that
// has a side-back seam already, or a seam outside the armscye are refused.
func DivideBack(p *pattern.Pattern, o Panel) (*operation.Answer, error) {
	e := begin(p)
	backs := e.role(pattern.BodiceBack)
	if len(backs) != 1 {
		return nil, refuse(fmt.Sprintf("the pattern has %d pieces with the role %s", len(backs), pattern.BodiceBack), oneOf(len(backs)))
	}
	w := backs[0]
	if len(e.role(pattern.BodiceSideBack)) > 0 || len(w.Piece.EdgesByRole(pattern.SideBack)) > 0 {
		return nil, refuse("the back is divided already", "narrow it instead")
	}
	waist, err := w.edgeOf(pattern.Waist)
	if err != nil {
		return nil, err
	}
	armscye, err := w.edgeOf(pattern.Armscye)
	if err != nil {
		return nil, err
	}
	side, err := w.edgeOf(pattern.Side)
	if err != nil {
		return nil, err
	}
	cut, err := e.styleLine(w, waist, armscye, side, o)
	if err != nil {
		return nil, err
	}
	return e.divide(w, cut)
}

// styled is a style line worked out: where it leaves waist and armscye, and
// its lines from the waist up.
type styled struct {
	waist, armscye int
	from, to       float64   // the stretch of waist that the seam takes up
	at             float64   // mm along the armscye edge
	centre, side   geom.Path // up to the dart's point on either side, mirror images; empty without a dart
	upper          geom.Path // from there to the armscye, common to both
	dart           string
	sideFollows    bool // around the piece, the side comes after the waist
}

func (e *edit) styleLine(w *work, waist, armscye, side int, o Panel) (styled, error) {
	s := styled{waist: waist, armscye: armscye, sideFollows: w.next(waist) == side}
	if !s.sideFollows && w.prev(waist) != side {
		return s, refuse(fmt.Sprintf("the side of piece %q does not begin at its waist", w.Name), "give the edge under the arm, down to the waist, the role side")
	}
	total := w.lines[waist].length()
	arm := w.lines[armscye].path()
	if o.AtArmscye <= 0 || o.AtArmscye >= arm.Length() {
		return s, refuse(fmt.Sprintf("the side-back seam cannot end %.1f mm down an armscye of %.1f mm", o.AtArmscye, arm.Length()),
			"choose a place on the armscye")
	}
	// Around the piece the armscye runs up to the shoulder when the side follows
	// the waist, and down from it when not.
	s.at = o.AtArmscye
	if s.sideFollows {
		s.at = arm.Length() - o.AtArmscye
	}
	a := arm.At(s.at)
	outward := arm.Direction(s.at).Right()

	var darts []pattern.Dart
	for _, d := range w.Darts {
		if d.Edge == w.Edges[waist].Name && (o.Dart == "" || d.Name == o.Dart) {
			darts = append(darts, d)
		}
	}
	path := w.lines[waist].path()
	switch {
	case o.Dart != "" && len(darts) == 0:
		return s, noDart(w, o.Dart)
	case len(darts) > 1:
		return s, refuse(fmt.Sprintf("the waist of piece %q has %d darts", w.Name, len(darts)), "say which one the seam is to take up")
	case len(darts) == 1:
		d := darts[0]
		f, t := path.At(d.From), path.At(d.To)
		if math.Abs(f.Dist(d.Point)-t.Dist(d.Point)) > legTolerance {
			return s, refuse(fmt.Sprintf("the legs of dart %q on piece %q differ", d.Name, w.Name), "true the dart's legs first")
		}
		axis := d.Point.Sub(f.Lerp(t, 0.5)).Unit()
		leg := func(foot geom.Point) geom.Path {
			long := d.Point.Dist(foot)
			return geom.Path{geom.Hermite(foot, d.Point.Sub(foot), d.Point, axis.Mul(long))}
		}
		s.from, s.to, s.dart = d.From, d.To, d.Name
		s.centre, s.side = leg(f), leg(t)
		reach := d.Point.Dist(a)
		s.upper = geom.Path{geom.Hermite(d.Point, axis.Mul(reach), a, outward.Mul(reach))}
		if bend := panelBend(d.Point, axis, a); bend > mostPanelBend {
			highest := arm.Length()
			for bend > mostPanelBend && highest > panelStep {
				highest -= panelStep
				on := highest
				if s.sideFollows {
					on = arm.Length() - highest
				}
				bend = panelBend(d.Point, axis, arm.At(on))
			}
			text := fmt.Sprintf("%.0f mm down the armscye of %s the side-back seam turns aside over dart %s almost at a right angle: it looks like a step", o.AtArmscye, w.Name, d.Name)
			if bend <= mostPanelBend {
				text += fmt.Sprintf("; ended %.0f mm down or less it would not", math.Floor(highest))
			}
			e.caution(text)
		}
	default:
		at := o.AtWaist // from the centre back, where the waist starts if the side follows it
		if !s.sideFollows {
			at = total - o.AtWaist
		}
		if at <= 0 || at >= total {
			return s, refuse(fmt.Sprintf("the side-back seam cannot start %.1f mm along a waist of %.1f mm", o.AtWaist, total), "choose a place on the waist")
		}
		s.from, s.to = at, at
		foot := path.At(at)
		reach := foot.Dist(a)
		s.upper = geom.Path{geom.Hermite(foot, path.Direction(at).Left().Mul(reach), a, outward.Mul(reach))}
	}
	if !s.sideFollows {
		s.centre, s.side = s.side, s.centre
	}
	return s, nil
}

const (
	// mostPanelBend is how far in radians a side-back seam may turn aside from the
	// dart that it takes up: from about 60 degrees on it looks like a step (from
	// memory).
	mostPanelBend = math.Pi / 3
	// panelStep in mm is how finely a better place is looked for.
	panelStep = 1.0
)

// panelBend is the angle in radians between a dart's axis and the line from its
// point to the end of the seam.
func panelBend(point, axis, end geom.Point) float64 { return math.Abs(geom.Turn(axis, end.Sub(point))) }

// divide cuts the piece along the style line: it keeps the centre back, and a
// new piece takes the rest.
func (e *edit) divide(w *work, s styled) (*operation.Answer, error) {
	sewn := e.sewnBefore(w.Name, w.Edges[s.waist].Name)
	centre, side := s.centre.Join(s.upper), s.side.Join(s.upper)
	mark := s.centre.Length() // a balance mark where the dart ended, or halfway
	if mark == 0 {
		mark = centre.Length() / 2
	}
	name := "side-back"
	if e.piece(name) != nil {
		name = w.Name + "-side"
	}
	cut := parting{
		seam: pattern.SideBack,
		piece: pattern.Piece{
			Name: name, Title: "Side back", Role: pattern.BodiceSideBack, Cut: pattern.Cut{Count: 2, Mirrored: true},
		},
		i: s.waist, iEnds: s.from, iStarts: s.to, j: s.armscye, jEnds: s.at, jStarts: s.at,
		kept: centre, taken: side, marks: []float64{mark},
	}
	if !s.sideFollows {
		cut.i, cut.iEnds, cut.iStarts = s.armscye, s.at, s.at
		cut.j, cut.jEnds, cut.jStarts = s.waist, s.from, s.to
		cut.kept, cut.taken = centre.Reverse(), side.Reverse()
		cut.marks = []float64{centre.Length() - mark}
	}
	w.Darts = slices.DeleteFunc(w.Darts, func(d pattern.Dart) bool { return d.Name == s.dart })
	part := e.part(w, cut)
	e.changed("waist of centre back and side back together", "", sewn, waistOf(w, part), "mm")
	e.changed("side-back seam", w.Name, 0, centre.Length(), "mm")
	e.changed("side-back seam", part.Name, 0, side.Length(), "mm")
	return e.finish()
}

// waistOf adds up the waists of pieces that have nothing in them to take up.
func waistOf(pieces ...*work) float64 {
	var sum float64
	for _, w := range pieces {
		for i, edge := range w.Edges {
			if edge.Is() == pattern.Waist {
				sum += w.lines[i].length()
			}
		}
	}
	return sum
}

// grainThrough returns a grainline parallel to like through the middle of an
// outline, as long as six tenths of the piece allow.
func grainThrough(outline []geom.Point, like pattern.Grain) pattern.Grain {
	dir := geom.Pt(0, 1)
	if like.Given() {
		dir = like.To.Sub(like.From).Unit()
	}
	c := geom.Centroid(outline)
	lo, hi := math.Inf(-1), math.Inf(1)
	for i, j := 0, len(outline)-1; i < len(outline); j, i = i, i+1 {
		a, b := outline[j].Sub(c), outline[i].Sub(c)
		sa, sb := dir.Cross(a), dir.Cross(b)
		if (sa > 0) == (sb > 0) {
			continue
		}
		q := a.Lerp(b, sa/(sa-sb)).Dot(dir)
		if q < 0 {
			lo = math.Max(lo, q)
		} else {
			hi = math.Min(hi, q)
		}
	}
	if math.IsInf(lo, 0) || math.IsInf(hi, 0) {
		return pattern.Grain{}
	}
	const share = 0.8
	return pattern.Grain{From: c.Add(dir.Mul(lo * share)), To: c.Add(dir.Mul(hi * share))}
}

// freshSeamName returns name, numbered if a seam has it already.
func freshSeamName(e *edit, name string) string {
	taken := func(n string) bool {
		has := func(s pattern.Seam) bool { return s.Name == n }
		return slices.ContainsFunc(e.seams, has) || slices.ContainsFunc(e.made, has)
	}
	if !taken(name) {
		return name
	}
	for n := 2; ; n++ {
		if s := fmt.Sprintf("%s-%d", name, n); !taken(s) {
			return s
		}
	}
}
