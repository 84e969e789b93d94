package alter

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

const (
	// mostHeadChange is by what share of its length a borrowed sleeve's head is
	// made longer or shorter by its height alone: beyond it the head would come out
	// steep or flat, and the arm under it is another size (from memory).
	mostHeadChange = 0.15
	// mostSleeveChange is the same where the sleeve is made wider or narrower with
	// its head, in proportion: beyond it, nothing of its cut is left (from memory).
	mostSleeveChange = 0.3
	// mostCollarChange is the same of a collar's neck edge: two sizes of neck or
	// so (from memory).
	mostCollarChange = 0.12
	// fits is the difference in mm that counts as none before fitting.
	fits = 1e-6
)

// fit brings what a part has at a joint to the length it has here; nil when it
// fits as it is.
func (b *borrowing) fit(p *pattern.Pattern, j joint) (*operation.Answer, error) {
	s := p.Seam(j.name)
	group, rest := sideOf(s, j.groupIsB), sideOf(s, !j.groupIsB)
	roles := map[string]bool{}
	for _, r := range group {
		roles[p.Edge(r).Is()] = true
	}
	only := func(role string) bool { return len(roles) == 1 && roles[role] }
	switch {
	case only(pattern.Cap) && len(group) == 1 && p.Piece(group[0].Piece).Role == pattern.Sleeve:
		return b.fitHead(p, group, rest)
	case only(pattern.Waist):
		return b.fitWaist(p, j.name, group, rest)
	case only(pattern.Neckline):
		return b.fitCollar(p, j.name, group, rest)
	}
	has, wants := p.RunLength(group), p.RunLength(rest)
	least, most := 0.0, 0.0
	if s.Meeting.Kind == pattern.Eased {
		least, most = s.Meeting.Ease.Min, s.Meeting.Ease.Max
		if !j.groupIsB {
			least, most = -most, -least
		}
	}
	if ease := has - wants; ease < least-lengthAlike || ease > most+lengthAlike {
		return nil, refuse(fmt.Sprintf("%s measures %.1f mm, and what it joins here %.1f", runText(group), has, wants),
			"alter one of them to that length first; a sleeve's head, a skirt's waist and a collar's neckline are fitted")
	}
	return nil, nil
}

// lengthAlike in mm: two sides that differ by less are of one length; what the
// pairing check calls so too.
const lengthAlike = 0.1

// fitHead makes the head of a borrowed sleeve fit the armscye here.
func (b *borrowing) fitHead(p *pattern.Pattern, head, armscye pattern.Run) (*operation.Answer, error) {
	has, wants := p.RunLength(head), p.RunLength(armscye)
	sleeve := p.Piece(head[0].Piece)
	ease := b.Ease
	if ease < 0 {
		ease = b.lenderEase()
	}
	gathered := slices.ContainsFunc(sleeve.Gathers, func(g pattern.Gather) bool { return g.Edge == head[0].Edge })
	change := (wants + ease) / has
	if !gathered && math.Abs(change-1) > mostSleeveChange {
		return nil, refuse(
			fmt.Sprintf("the head of the borrowed sleeve measures %.0f mm, and the armscye %.0f and %.0f of ease", has, wants, ease),
			fmt.Sprintf("this head can be made to fit an armscye of %.0f to %.0f mm: borrow from a pattern nearer the size", has*(1-mostSleeveChange)-ease, has*(1+mostSleeveChange)-ease))
	}
	var a *operation.Answer
	var err error
	switch {
	case gathered:
		a, err = RefitCap(p, ease)
	case math.Abs(change-1) > mostHeadChange:
		if a, err = sleeveBy(p, change); err == nil {
			a, err = then(a, func(p *pattern.Pattern) (*operation.Answer, error) { return headTo(p, head[0], wants, ease) })
		}
	default:
		a, err = headTo(p, head[0], wants, ease)
	}
	if err != nil {
		return nil, err
	}
	a.Cautions = append(a.Cautions, "The borrowed sleeve was drawn for another arm: measure it round the upper arm, and the elbow and wrist, against the wearer before cutting.")
	return a, nil
}

// headTo makes a sleeve's head higher or lower until it is as long as the
// armscye and the ease, as RefitCap does, but leaves the underarm seams in the
// directions it did, so that the armscye runs on across them.
func headTo(p *pattern.Pattern, ref pattern.EdgeRef, armscye, ease float64) (*operation.Answer, error) {
	e := begin(p)
	w := e.piece(ref.Piece)
	i, err := w.named(ref.Edge)
	if err != nil {
		return nil, err
	}
	seam, _, err := e.capSeam(w, i)
	if err != nil {
		return nil, err
	}
	was, target := e.sewnBefore(ref.Piece, ref.Edge), armscye+ease
	seam.Meeting = e.easedBy(seam, ref.Piece, ref.Edge, ease)
	e.changed("armscye", "", armscye, armscye, "mm")
	e.changed("head", w.Name, was, target, "mm")
	if !w.raiseHead(e, i, w.lines[i].length()-was+target) { // a dart or pleat in it keeps what it takes up
		return nil, refuse(fmt.Sprintf("the head of the borrowed sleeve, %.0f mm, cannot be made to fit an armscye of %.0f mm by its height alone", was, armscye),
			"borrow from a pattern nearer the size")
	}
	w.keepGrainInside()
	return e.finish()
}

// lenderEase is what the part's first side has more than what it was sewn to.
func (b *borrowing) lenderEase() float64 {
	for _, s := range b.outer {
		for i, run := range []pattern.Run{s.A, s.B} {
			if len(run) > 0 && slices.ContainsFunc(b.group, func(g pattern.Piece) bool { return g.Name == run[0].Piece }) && b.Lender.Edge(run[0]).Is() == pattern.Cap {
				return math.Max(0, b.Lender.RunLength(run)-b.Lender.RunLength([]pattern.Run{s.B, s.A}[i]))
			}
		}
	}
	return 0
}

// borrowedGore is one piece of a skirt and what its waist is to measure.
type borrowedGore struct {
	w      *work
	i      int // the waist edge
	sewn   float64
	wanted float64
}

// fitWaist brings a borrowed skirt's waist to the bodice's. Each piece is to
// measure what the bodice has over it, front over front, shared out as the
// skirt's own pieces were.
func (b *borrowing) fitWaist(p *pattern.Pattern, seam string, waist, bodice pattern.Run) (*operation.Answer, error) {
	e := begin(p)
	over := map[bool]float64{} // by whether it is in front
	for _, r := range bodice {
		over[p.Piece(r.Piece).Role == pattern.BodiceFront] += p.Piece(r.Piece).SewnLength(r.Edge)
	}
	has := map[bool]float64{}
	front := func(name string) bool { return p.Piece(name).Role == pattern.SkirtFront }
	for _, r := range waist {
		has[front(r.Piece)] += p.Piece(r.Piece).SewnLength(r.Edge)
	}
	if len(over) != len(has) { // a skirt in one piece, or a bodice that is: shared out as a whole
		all, had := over[true]+over[false], has[true]+has[false]
		over[true], over[false] = all*has[true]/had, all*has[false]/had
	}
	var gores []borrowedGore
	most, gathered := 0.0, false
	for _, r := range waist {
		w := e.piece(r.Piece)
		i, err := w.named(r.Edge)
		if err != nil {
			return nil, err
		}
		g := borrowedGore{w: w, i: i, sewn: e.sewnBefore(r.Piece, r.Edge)}
		g.wanted = over[front(r.Piece)] * g.sewn / has[front(r.Piece)]
		most = math.Max(most, math.Abs(g.wanted-g.sewn)/float64(w.movable(i)))
		gathered = gathered || e.takesUpBy(w, r.Edge)
		gores = append(gores, g)
	}
	if most < fits {
		return nil, nil
	}
	spare := p.RunLength(waist) - p.RunLength(bodice)
	how := b.Waist
	if how == WaistFitOwn || how == "" {
		how = WaistFitSides
		if spare > 0 && (gathered || most > b.MostAtSide) {
			how = WaistFitGathers
		}
	}
	for _, g := range gores {
		var err error
		if how == WaistFitSides {
			err = b.atSides(e, g)
		} else {
			err = e.byGathers(g)
		}
		if err != nil {
			return nil, err
		}
		e.changed("waist, sewn", g.w.Name, g.sewn, g.wanted, "mm")
	}
	if s := &e.seams[slices.IndexFunc(e.seams, func(s pattern.Seam) bool { return s.Name == seam })]; s.Meeting.Kind != pattern.Pleated {
		s.Meeting = pattern.Meeting{Kind: pattern.Plain}
		for _, g := range gores {
			if len(g.w.fresh.gathers) > 0 || e.takesUpBy(g.w, g.w.Edges[g.i].Name) {
				s.Meeting.Kind = pattern.Gathered
			}
		}
	}
	e.caution("The borrowed skirt was drawn for another figure: measure it round the hips and the thighs against the wearer, and its length, before cutting.")
	return e.finish()
}

// movable is how many ends of a waist edge can be moved: those not on a fold.
func (w *work) movable(i int) int {
	n := 0
	for _, k := range []int{w.prev(i), w.next(i)} {
		if w.Edges[k].Finish != pattern.Fold {
			n++
		}
	}
	return max(n, 1)
}

// takesUpBy reports whether gathers are on the edge.
func (e *edit) takesUpBy(w *work, edge string) bool {
	return slices.ContainsFunc(w.Gathers, func(g pattern.Gather) bool { return g.Edge == edge && g.Kind.Shows() })
}

// atSides takes a gore in or lets it out at the top of its seams, from below the
// hip, so that its waist sews to what is wanted. The seams keep their length.
func (b *borrowing) atSides(e *edit, g borrowedGore) error {
	w, edge := g.w, g.w.Edges[g.i].Name
	by := g.wanted - g.sewn
	if each := math.Abs(by) / float64(w.movable(g.i)); each > b.MostAtSide {
		word, other := "let out", "make the bodice's waist smaller, or borrow a larger skirt"
		if by < 0 {
			word, other = "taken in", "gather it, or make the bodice's waist larger"
		}
		return refuse(fmt.Sprintf("the waist of the borrowed piece %q would have to be %s by %.0f mm at each side, and %.0f is the most", w.Name, word, each, b.MostAtSide), other)
	}
	folded := slices.ContainsFunc(w.Darts, func(d pattern.Dart) bool { return d.Edge == edge }) ||
		slices.ContainsFunc(w.Pleats, func(f pattern.Pleat) bool { return f.Edge == edge })
	if folded {
		return refuse(fmt.Sprintf("the waist of the borrowed piece %q has darts or pleats in it and cannot be drawn anew at its sides", w.Name),
			"let them out in that pattern first, or fit it by gathers")
	}
	return w.raiseGore(g.i, rises{}, w.lines[g.i].length()+by)
}

// byGathers draws a gore's waist up to what is wanted, in the gathers it has, or
// in new ones all along it.
func (e *edit) byGathers(g borrowedGore) error {
	w, edge := g.w, g.w.Edges[g.i].Name
	by := g.wanted - g.sewn
	var had []*pattern.Gather
	drawn, flat := 0.0, 0.0
	for k := range w.Gathers {
		if r := &w.Gathers[k]; r.Edge == edge {
			had = append(had, r)
			drawn += r.Length
			flat += r.To - r.From
		}
	}
	name := fmt.Sprintf("the waist of the borrowed piece %q", w.Name)
	if len(had) == 0 {
		if by > 0 {
			return refuse(fmt.Sprintf("%s is %.0f mm shorter than the bodice's over it, and has no gathers to let out", name, by), "let it out at the sides")
		}
		w.touched = true
		r := pattern.Gather{Name: freshName(w, gatherName(pattern.Gathers, edge)), Edge: edge, Kind: pattern.Gathers, To: w.lines[g.i].length(), Length: g.wanted}
		w.fresh.gathers = append(w.fresh.gathers, r)
		e.changed("waist, gathered", w.Name, g.sewn, g.wanted, "mm")
		return nil
	}
	if drawn+by < minGathered*float64(len(had)) || drawn+by > flat {
		return refuse(fmt.Sprintf("the gathers in %s would have to measure %.0f mm, and lie on %.0f", name, drawn+by, flat),
			"fit it at the sides, or borrow a skirt nearer the size")
	}
	w.touched = true
	left := drawn + by
	for k, r := range had {
		if k == len(had)-1 {
			r.Length = left // the rest, so that the sum is exact
			break
		}
		r.Length *= (drawn + by) / drawn
		left -= r.Length
	}
	return nil
}

// faceNotches gives a borrowed part's side of a seam the notches of the side
// here, and both sides one in the middle where a long seam has none. Ease lies
// where it belongs: in a sleeve's head none of it under the arm, in the lowest
// quarter at either end (common practice); elsewhere it is spread.
func faceNotches(p *pattern.Pattern, seam string, partIsB bool) {
	s := p.Seam(seam)
	part, rest := sideOf(s, partIsB), sideOf(s, !partIsB)
	long, have := p.RunLength(rest), p.RunLength(part)
	marks := notchesAlong(p, rest)
	if len(marks) == 0 && len(notchesAlong(p, part)) > 0 {
		return // its own pattern marks one side alone; what the other was to show is not known
	}
	if len(marks) == 0 && long > longSeam {
		addNotch(p, rest, pattern.Notch{Name: seam, Count: 1}, long/2)
		marks = notchesAlong(p, rest)
	}
	head := p.Edge(part[0]).Is() == pattern.Cap
	for _, m := range marks {
		share := m.sewn / long
		if head {
			share = math.Max(0, math.Min(1, (share-0.25)*2))
		}
		n := p.Piece(m.piece).Notches[m.index]
		addNotch(p, part, pattern.Notch{Name: n.Name, Count: n.Count}, m.sewn+share*(have-long))
	}
}

// addNotch puts a notch at sewn mm along a run.
func addNotch(p *pattern.Pattern, run pattern.Run, n pattern.Notch, sewn float64) {
	for i, r := range run {
		piece := p.Piece(r.Piece)
		long := piece.SewnLength(r.Edge)
		if sewn > long && i < len(run)-1 {
			sewn -= long
			continue
		}
		at := math.Max(0, math.Min(long, sewn))
		if r.Backwards {
			at = long - at
		}
		n.Edge, n.At = r.Edge, piece.FlatPosition(r.Edge, at)
		piece.Notches = append(piece.Notches, n)
		return
	}
}

// fitCollar makes a borrowed collar longer or shorter until its neckline fits
// the one here: every piece of it is widened or narrowed in one direction, along
// its neckline, or square to its fold if it has one; the pieces sewn to it follow,
// edge for edge.
func (b *borrowing) fitCollar(p *pattern.Pattern, seam string, collar, neck pattern.Run) (*operation.Answer, error) {
	has, wants := p.RunLength(collar), p.RunLength(neck)
	if math.Abs(has-wants) < fits {
		return nil, nil
	}
	if math.Abs(wants/has-1) > mostCollarChange {
		return nil, refuse(fmt.Sprintf("the neckline of the borrowed collar measures %.0f mm, and the one here %.0f", has, wants),
			fmt.Sprintf("this collar can be made to fit a neckline of %.0f to %.0f mm: borrow one nearer the size", has*(1-mostCollarChange), has*(1+mostCollarChange)))
	}
	e := begin(p)
	name := fmt.Sprintf("the borrowed collar cannot be brought to %.1f mm in its length alone", wants)
	done := map[string]bool{}
	for _, r := range collar {
		w := e.piece(r.Piece)
		if err := w.widenTo(pattern.Run{r}, p.Piece(r.Piece).SewnLength(r.Edge)*wants/has, name); err != nil {
			return nil, err
		}
		done[r.Piece] = true
	}
	part := map[string]bool{}
	for _, n := range b.names {
		part[n] = true
	}
	for grown := true; grown; { // what is sewn to a piece that was fitted follows it
		grown = false
		for _, s := range e.seams {
			all, _ := allOf(slices.Concat(s.A, s.B), part)
			if s.Name == seam || !all || !onePiece(s.A) || !onePiece(s.B) {
				continue
			}
			lead, follow := s.A, s.B
			if done[follow[0].Piece] {
				lead, follow = follow, lead
			}
			if !done[lead[0].Piece] || done[follow[0].Piece] || e.longest(part, follow[0].Piece).Name != s.Name {
				continue
			}
			now := 0.0
			for _, r := range lead {
				l := e.piece(r.Piece)
				now += l.lines[l.EdgeIndex(r.Edge)].length()
			}
			if err := e.piece(follow[0].Piece).widenTo(follow, p.RunLength(follow)*now/p.RunLength(lead), name); err != nil {
				return nil, err
			}
			done[follow[0].Piece], grown = true, true
		}
	}
	e.changed("collar, along the neckline", "", has, wants, "mm")
	for i := range e.seams {
		s := &e.seams[i]
		if s.Name == seam {
			s.Meeting = pattern.Meeting{Kind: pattern.Plain}
		}
	}
	a, err := e.finish()
	if err != nil {
		return nil, err
	}
	for _, s := range a.Pattern.Seams {
		all, _ := allOf(slices.Concat(s.A, s.B), part)
		if !all || len(s.B) == 0 || s.Name == seam {
			continue
		}
		old := p.Seam(s.Name)
		was, now := p.RunLength(old.B)-p.RunLength(old.A), a.Pattern.RunLength(s.B)-a.Pattern.RunLength(s.A)
		if math.Abs(now-was) > lengthAlike {
			return nil, refuse(fmt.Sprintf("%s: its seam %q would come apart by %.1f mm", name, s.Name, math.Abs(now-was)), "borrow one nearer the size")
		}
	}
	return a, nil
}

// onePiece reports whether all of a run is of one piece.
func onePiece(r pattern.Run) bool {
	return len(r) > 0 && !slices.ContainsFunc(r, func(e pattern.EdgeRef) bool { return e.Piece != r[0].Piece })
}

// longest returns the longest seam that joins the piece to others of the part.
func (e *edit) longest(part map[string]bool, piece string) pattern.Seam {
	var best pattern.Seam
	long := -1.0
	for _, s := range e.seams {
		all, _ := allOf(slices.Concat(s.A, s.B), part)
		if all && len(s.B) > 0 && touches(s, map[string]bool{piece: true}) {
			if l := e.in.RunLength(s.A); l > long {
				best, long = s, l
			}
		}
	}
	return best
}

// widenTo widens or narrows the piece in one direction until the edges, all of
// them its own, come to target mm: square to its fold, or along the first edge
// from end to end.
func (w *work) widenTo(edges pattern.Run, target float64, name string) error {
	if len(w.Darts)+len(w.Pleats)+len(w.Gathers) > 0 {
		return refuse(fmt.Sprintf("the borrowed piece %q has darts, gathers or pleats in it", w.Name), "let them out in that pattern first")
	}
	i := w.EdgeIndex(edges[0].Edge)
	dir, centre := w.lines[i].end().Sub(w.lines[i].start()).Unit(), w.lines[i].start()
	for k, e := range w.Edges {
		if e.Finish == pattern.Fold {
			dir, centre = w.lines[k].path().StartDirection().Left(), w.lines[k].start()
		}
	}
	miss := func(k float64) float64 {
		m, sum := geom.ScaleAlong(centre, dir, k), 0.0
		for _, r := range edges {
			sum += w.lines[w.EdgeIndex(r.Edge)].transform(m).length()
		}
		return sum - target
	}
	lo, hi := 1-2*mostCollarChange, 1+2*mostCollarChange
	short, long := miss(lo), miss(hi)
	if short > 0 || long < 0 {
		return refuse(name, "borrow one nearer the size")
	}
	m := geom.ScaleAlong(centre, dir, zero(miss, lo, short, hi, long))
	w.touched = true
	for k := range w.lines {
		w.lines[k] = w.lines[k].transform(m)
	}
	w.heal()
	for k := range w.Landmarks {
		w.Landmarks[k].At = m.Apply(w.Landmarks[k].At)
	}
	w.Grain.From, w.Grain.To = m.Apply(w.Grain.From), m.Apply(w.Grain.To)
	return nil
}
