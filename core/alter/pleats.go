package alter

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Toward says which way pleats are laid.
type Toward string

// The ways a pleat can be laid: to the side seam or to the piece's centre. Box
// and inverted pleats lie both ways.
const (
	TowardSide   Toward = "side"
	TowardCentre Toward = "centre"
)

// Pleats says which pleats are set into a skirt that is fitted already.
type Pleats struct {
	// Piece is the one that gets them; empty is every piece of the skirt.
	Piece  string
	Kind   pattern.PleatKind // knife, box or inverted
	Toward Toward            // of knife pleats
	Count  int               // per piece as cut
	// AtWaist and AtHem are what one pleat takes up, mm: twice its depth. In
	// between it tapers evenly.
	AtWaist, AtHem float64
	// From and To bound the pleats as shares of the waist, from the centre.
	From, To float64
}

// AddPleats slashes skirt pieces from waist to hem and spreads them for pleats.
// Folded away again the pleats give back the piece as it was, at the waist, the
// hip and the hem at once.
//
// Kept: the waist's sewn length, exactly, and every other edge but the hem.
// Changed: the waist is cut wider by Count × AtWaist exactly, the hem by Count ×
// AtHem but for fairing; the waist's seam becomes a pleated one. Degenerate: a
// waist that has fullness in it where a pleat would be, or slashes that turn
// the piece too far, are refused.
func AddPleats(p *pattern.Pattern, o Pleats) (*operation.Answer, error) {
	e := begin(p)
	pieces, err := e.skirtOr(o.Piece)
	if err != nil {
		return nil, err
	}
	switch {
	case o.Kind != pattern.Knife && o.Kind != pattern.Box && o.Kind != pattern.Inverted:
		return nil, refuse(fmt.Sprintf("a %q pleat cannot be set into a skirt", o.Kind), "ask for knife, box or inverted")
	case o.Count < 1 || o.AtWaist < minPleat || o.AtHem < 0:
		return nil, refuse(fmt.Sprintf("%d pleats that take up %.1f mm cannot be laid", o.Count, o.AtWaist), fmt.Sprintf("ask for one at least, of %d mm or more", minPleat))
	case o.From < 0 || o.To > 1 || o.To <= o.From:
		return nil, refuse("the pleats need a stretch of the waist to lie on", "give shares between 0 and 1, the first the smaller")
	}
	skirt := e.roles(pattern.SkirtFront, pattern.SkirtBack)
	hem := around(skirt, pattern.Hem)
	for _, w := range pieces {
		if err := e.pleat(w, o); err != nil {
			return nil, err
		}
	}
	if o.Piece == "" {
		e.changedFirst(0, "hem circumference", "", hem, around(skirt, pattern.Hem), "mm")
	}
	return e.finish()
}

// minPleat is the least in mm that a pleat takes up: one of 2 mm depth is as
// fine as can be pressed; from memory.
const minPleat = 4

// skirtOr returns the piece of that name, or all of the skirt without one.
func (e *edit) skirtOr(piece string) ([]*work, error) {
	if piece == "" {
		return e.skirt()
	}
	w, err := e.pieceNamed(piece)
	return []*work{w}, err
}

func (e *edit) pleat(w *work, o Pleats) error {
	waist, err := w.edgeOf(pattern.Waist)
	if err != nil {
		return err
	}
	hem, err := w.edgeOf(pattern.Hem)
	if err != nil {
		return err
	}
	name := w.Edges[waist].Name
	top, foot := w.lines[waist].length(), w.lines[hem].length()
	sideAtEnd := w.Edges[w.next(waist)].Is() == pattern.Side
	from, to := o.From, o.To
	if !sideAtEnd { // the centre is where the waist ends
		from, to = 1-o.To, 1-o.From
	}
	space := (to - from) * top / float64(o.Count)
	if space < minTuck {
		return refuse(fmt.Sprintf("%d pleats on %.0f mm of waist of piece %q lie %.1f mm apart", o.Count, (to-from)*top, w.Name, space), "lay fewer")
	}
	var cuts []slash
	deepest := 0.0
	for k := range o.Count {
		a := from*top + space*(float64(k)+0.5)
		b := foot * (1 - a/top)
		if w.busy(name, a) {
			return refuse(fmt.Sprintf("a pleat would run into a dart or fullness on edge %q of piece %q", name, w.Name), "let that out or move it first")
		}
		if long := w.lines[waist].path().At(a).Dist(w.lines[hem].path().At(b)); long > deepest {
			deepest = long
		}
		cuts = append(cuts, slash{i: waist, a: a, j: hem, b: b, openA: o.AtWaist, openB: o.AtHem})
	}
	if err := w.spreadUnfaired(cuts, hem); err != nil {
		return err
	}
	pressed := pattern.PressedToStart
	if sideAtEnd == (o.Toward != TowardCentre) {
		pressed = pattern.PressedToEnd
	}
	if o.Kind != pattern.Knife {
		pressed = ""
	}
	for k, c := range cuts {
		at := c.a + float64(k)*o.AtWaist
		w.fold(waist, at, at+o.AtWaist, fmt.Sprintf("%s-pleat-%d", name, k+1), o.Kind, pressed)
	}
	w.keepGrainInside()
	e.meetPleated(w.Name, name)
	e.changed(name+", cut", w.Name, top, w.lines[waist].length(), "mm")
	e.changed(name+", laid in pleats", w.Name, top, w.lines[waist].length()-float64(o.Count)*o.AtWaist, "mm")
	atHip := o.AtWaist + (o.AtHem-o.AtWaist)*math.Min(1, hipDepth/deepest)
	e.tellPleats(w, o.Count, []foldLevel{{"waist", o.AtWaist}, {"hip", atHip}, {"hem", o.AtHem}})
	e.changed("hem", w.Name, foot, w.lines[hem].length(), "mm")
	if depth := o.AtWaist / 2; depth > space+cutSliver && o.Kind == pattern.Knife {
		e.caution(fmt.Sprintf("the pleats of piece %q are %.0f mm deep and %.0f mm apart: they lie over one another at the waist", w.Name, depth, space))
	}
	return nil
}

// foldLevel is what one pleat takes up somewhere, mm.
type foldLevel struct {
	name string
	take float64
}

func (e *edit) tellPleats(w *work, n int, levels []foldLevel) {
	e.changed("pleats", w.Name, 0, float64(n), "")
	for _, l := range levels {
		e.changed("each pleat takes up at the "+l.name, w.Name, 0, l.take, "mm")
	}
	for _, l := range levels {
		e.changed("all pleats take up at the "+l.name, w.Name, 0, float64(n)*l.take, "mm")
	}
}

// busy reports whether the place on an edge of the input lies in a dart, a pleat
// or a gather.
func (w *work) busy(edge string, at float64) bool {
	return w.inMark(edge, at) || slices.ContainsFunc(w.Gathers, func(g pattern.Gather) bool { return g.Edge == edge && at > g.From && at < g.To })
}

// meetPleated turns the plain seams that take an edge into pleated ones.
func (e *edit) meetPleated(piece, edge string) {
	for i := range e.seams {
		s := &e.seams[i]
		if s.Meeting.Kind == pattern.Plain && (s.A.Has(piece, edge) || s.B.Has(piece, edge)) {
			s.Meeting = pattern.Meeting{Kind: pattern.Pleated}
		}
	}
}

// spreadUnfaired opens slashes that all run from one edge to another, and draws
// only the other, fair, smoothly through the gaps: the first gets a straight line
// across each, exactly as long as the slash is opened.
func (w *work) spreadUnfaired(slashes []slash, fair int) error {
	w.touched = true
	cuts := slices.Clone(slashes)
	slices.SortFunc(cuts, func(s, t slash) int { return cmp.Compare(t.a, s.a) })
	for _, c := range cuts {
		if err := w.keepsDarts(w.lines[c.i].path().At(c.a), w.lines[c.j].path().At(c.b), ""); err != nil {
			return err
		}
	}
	if err := w.fairable(fair); err != nil {
		return err
	}
	faired := map[int]*fairing{}
	for _, c := range cuts {
		w.beginFairing(faired, fair, c.b)
	}
	f := faired[fair]
	for n := range cuts {
		c := cuts[n]
		for _, done := range cuts[:n] {
			if done.b < c.b+cutSliver {
				c.b += done.openB
			}
		}
		far, near, err := w.open(&c)
		if err != nil {
			return err
		}
		f.startDir, f.endDir = far.Apply(f.startDir), near.Apply(f.endDir)
	}
	if err := w.fair(fair, f); err != nil {
		return err
	}
	w.heal()
	return nil
}

// PleatLaying says how gathered cloth is laid in pleats instead.
type PleatLaying struct {
	Piece, Edge string
	Kind        pattern.PleatKind // knife, box or inverted
	Pressed     pattern.Pressed   // of knife pleats: to the start or the end of the edge
	Count       int
	// Panel is what the pleat nearest the centre takes up by itself, mm; 0 is
	// as much as the others.
	Panel float64
	// Hip and Hem are the finished widths of the piece at the hip and the hem,
	// mm; 0 leaves them alone. HipDepth is how far the hip lies below the edge.
	Hip, Hem, HipDepth float64
}

// LayPleats lays gathers of an edge in pleats: the paper stays as it is, and so
// does the sewn length; the pleats take up, each the same, what the gathers did.
// For cloth that is pleated over a fitted body, the same pleats are planned to
// the hip and the hem as well, and marked there as landmarks.
//
// Kept: every line, and every edge's sewn length. Changed: the gathers become
// Count pleats, and a seam that has no gathers left meets pleated. Degenerate: an
// edge without gathers, or with more than one stretch of them, and pleats that
// would have to take up less than nothing at any level are refused.
func LayPleats(p *pattern.Pattern, o PleatLaying) (*operation.Answer, error) {
	e := begin(p)
	w, i, had, err := e.gathered(o.Piece, o.Edge)
	if err != nil {
		return nil, err
	}
	if o.Kind != pattern.Knife && o.Kind != pattern.Box && o.Kind != pattern.Inverted {
		return nil, refuse(fmt.Sprintf("gathers cannot be laid in %q pleats", o.Kind), "ask for knife, box or inverted")
	}
	g := w.Gathers[had]
	if slices.ContainsFunc(w.Pleats, func(f pattern.Pleat) bool { return f.Edge == o.Edge && f.From < g.To && f.To > g.From }) ||
		slices.ContainsFunc(w.Darts, func(d pattern.Dart) bool { return d.Edge == o.Edge && d.From < g.To && d.To > g.From }) {
		return nil, refuse(fmt.Sprintf("the gathers on edge %q of piece %q have folds inside them", o.Edge, w.Name), "let those out first")
	}
	plan := PleatPlan{Cut: g.To - g.From, Finished: g.Length, Count: o.Count, Panel: o.Panel}
	if err := plan.check(w.Name, o.Edge); err != nil {
		return nil, err
	}
	was := notchesAt(e.in.Piece(w.Name), o.Edge)
	w.touched = true
	w.Gathers = slices.Delete(w.Gathers, had, had+1)
	turned := w.Edges[w.next(i)].Is() != pattern.Side // the centre is at the end of the edge
	pressed := o.Pressed
	if o.Kind != pattern.Knife {
		pressed = ""
	}
	for k, at := range plan.lay(turned) {
		w.Pleats = append(w.Pleats, pattern.Pleat{
			Name: freshName(w, fmt.Sprintf("%s-pleat-%d", o.Edge, k+1)), Edge: o.Edge, From: g.From + at[0], To: g.From + at[1], Kind: o.Kind, Pressed: pressed,
		})
	}
	w.keepNotches(o.Edge, was)
	levels, err := e.pleatLevels(w, i, o, g, plan, turned)
	if err != nil {
		return nil, err
	}
	e.noGathersLeft(w.Name, o.Edge)
	e.changed(o.Edge+", cut", w.Name, plan.Cut, plan.Cut, "mm")
	e.changed(o.Edge+", gathered before, laid in pleats now", w.Name, g.Length, plan.Finished, "mm")
	if o.Panel > 0 {
		e.changed("the pleat beside the panel takes up", w.Name, 0, o.Panel, "mm")
	}
	e.changed("pleats", w.Name, 0, float64(o.Count), "")
	for _, l := range levels {
		e.changed("all pleats take up at the "+l.name, w.Name, 0, l.plan.TakeUp(), "mm")
		e.changed("each pleat takes up at the "+l.name, w.Name, 0, l.plan.Each(), "mm")
		e.changed("each pleat shows at the "+l.name, w.Name, 0, l.plan.Space(), "mm")
	}
	return e.finish()
}

func (p PleatPlan) check(piece, where string) error {
	switch each := p.Each(); {
	case p.Count < 1 || math.IsNaN(each):
		return refuse(fmt.Sprintf("%d pleats cannot take up %.0f mm", p.Count, p.TakeUp()), "ask for more pleats")
	case p.TakeUp() <= 0:
		return refuse(fmt.Sprintf("at the %s the cloth of piece %q measures %.0f mm, and is to be laid to %.0f", where, piece, p.Cut, p.Finished), "use wider cloth, or ask for less")
	case each < minPleat:
		return refuse(fmt.Sprintf("at the %s of piece %q, %d pleats would take up %.1f mm each of %.0f mm laid to %.0f", where, piece, p.Count, each, p.Cut, p.Finished), "lay fewer, or use wider cloth")
	}
	return nil
}

// gathered returns a piece, its edge and the only gathers on it.
func (e *edit) gathered(piece, edge string) (w *work, i, had int, err error) {
	if w, err = e.pieceNamed(piece); err != nil {
		return nil, 0, 0, err
	}
	if i, err = w.named(edge); err != nil {
		return nil, 0, 0, err
	}
	had = -1
	for k, g := range w.Gathers {
		if g.Edge != edge || !g.Kind.Shows() {
			continue
		}
		if had >= 0 {
			return nil, 0, 0, refuse(fmt.Sprintf("edge %q of piece %q is gathered in more than one place", edge, w.Name), "move the gathers together first")
		}
		had = k
	}
	if had < 0 {
		return nil, 0, 0, refuse(fmt.Sprintf("edge %q of piece %q has no gathers", edge, w.Name), "gather it first, or name another edge")
	}
	return w, i, had, nil
}

// planned is the plan of one level.
type planned struct {
	name string
	plan PleatPlan
}

// pleatLevels plans the pleats at the waist, and at the hip and the hem where
// those are asked for, and marks them there.
func (e *edit) pleatLevels(w *work, i int, o PleatLaying, g pattern.Gather, waist PleatPlan, turned bool) ([]planned, error) {
	levels := []planned{{"waist", waist}}
	up := w.grainDirection(i)
	path := w.lines[i].path()
	hem, hemErr := w.edgeOf(pattern.Hem)
	for _, l := range []struct {
		name     string
		finished float64
	}{{"hip", o.Hip}, {"hem", o.Hem}} {
		if l.finished <= 0 {
			continue
		}
		var line geom.Path
		switch {
		case l.name == "hip":
			line = w.level(path.At(path.Length()/2).Add(up.Mul(o.HipDepth)), up.Right())
		case hemErr != nil:
			return nil, hemErr
		default:
			line = w.lines[hem].path().Reverse() // the way the waist runs
		}
		if len(line) == 0 {
			return nil, refuse(fmt.Sprintf("piece %q has no hip %.0f mm below its edge %q", w.Name, o.HipDepth, o.Edge), "give another depth")
		}
		plan := PleatPlan{Cut: line.Length(), Finished: l.finished, Count: o.Count, Panel: o.Panel}
		if err := plan.check(w.Name, l.name); err != nil {
			return nil, err
		}
		// What lies flat beside the gathers lies flat below them too.
		flat := path.Length() - (g.To - g.From)
		plan.Cut, plan.Finished = plan.Cut-flat, plan.Finished-flat
		if plan.Finished < minGathered {
			return nil, refuse(fmt.Sprintf("%.0f mm of piece %q lie flat beside the pleats: at the %s it cannot measure %.0f", flat, w.Name, l.name, l.finished), "ask for more")
		}
		for k, at := range plan.lay(turned) {
			for n, end := range []string{"from", "to"} {
				w.Landmarks = append(w.Landmarks, pattern.Landmark{Name: fmt.Sprintf("pleat-%d.%s.%s", k+1, l.name, end), At: line.At(g.From + at[n])})
			}
		}
		levels = append(levels, planned{l.name, plan})
	}
	return levels, nil
}

// level returns the straight line across the piece through p, in the direction
// dir; none where p is not inside.
func (w *work) level(p, dir geom.Point) geom.Path {
	lo, hi := math.Inf(-1), math.Inf(1)
	for _, l := range w.lines {
		path := l.path()
		for _, s := range path.CutLine(p, dir) {
			switch d := path.At(s).Sub(p).Dot(dir); {
			case d < 0:
				lo = math.Max(lo, d)
			default:
				hi = math.Min(hi, d)
			}
		}
	}
	if math.IsInf(lo, 0) || math.IsInf(hi, 0) {
		return nil
	}
	return geom.Path{geom.Line(p.Add(dir.Mul(lo)), p.Add(dir.Mul(hi)))}
}
