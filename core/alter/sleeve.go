package alter

import (
	"fmt"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// slitBefore is what to do where an earlier step has divided the edges of a sleeve.
const slitBefore = "take this step before the one that slits the sleeve, as a cuff with a placket does; or draw each side as one edge"

// sleeve returns the pattern's only sleeve and its cap and hem edges.
func (e *edit) sleeve() (w *work, cap, hem int, err error) {
	found := e.role(pattern.Sleeve)
	if len(found) != 1 {
		instead := "give one piece that role"
		switch {
		case len(e.roles(pattern.SleeveTop, pattern.SleeveUnder)) > 0:
			instead = "take this step before the sleeve is divided"
		case len(found) > 1:
			instead = "let one of them alone have that role"
		}
		return nil, 0, 0, refuse(fmt.Sprintf("the pattern has %d pieces with the role %s", len(found), pattern.Sleeve), instead)
	}
	w = found[0]
	if cap, err = w.edgeOf(pattern.Cap); err != nil {
		return nil, 0, 0, err
	}
	if hem, err = w.edgeOf(pattern.Hem); err != nil {
		return nil, 0, 0, err
	}
	return w, cap, hem, nil
}

// ShortenSleeve cuts the sleeve off below the underarm: its underarm seams keep
// the length under, in mm, and the hem is drawn square to them.
//
// Kept: the head, and the underarm seams' equality. Degenerate: a sleeve that
// is not longer than that, or whose hem is sewn to a cuff, is refused.
func ShortenSleeve(p *pattern.Pattern, under float64) (*operation.Answer, error) {
	e := begin(p)
	w, cap, hem, err := e.sleeve()
	if err != nil {
		return nil, err
	}
	if w.Edges[hem].Finish == pattern.Sewn {
		return nil, refuse(fmt.Sprintf("the %s of piece %q is sewn to something", w.Edges[hem].Name, w.Name), "take the cuff off first")
	}
	before, after := w.prev(hem), w.next(hem)
	if before != w.next(cap) || after != w.prev(cap) {
		return nil, refuse(fmt.Sprintf("between head and hem, piece %q has more than one edge a side", w.Name), slitBefore)
	}
	for _, i := range []int{before, after} {
		if long := w.lines[i].length(); long <= under+minSlash {
			return nil, refuse(fmt.Sprintf("the underarm seam of piece %q measures %.0f mm already", w.Name, long), "ask for a shorter sleeve")
		}
	}
	if under < minSlash {
		return nil, refuse("a sleeve needs some seam under the arm", fmt.Sprintf("ask for %d mm or more", minSlash))
	}
	w.touched = true
	long, wide := w.lines[before].length(), w.lines[hem].length()
	w.lines[before], _ = w.lines[before].split(under)
	_, w.lines[after] = w.lines[after].split(w.lines[after].length() - under)
	cut := squareAcross(w.lines[before].end(), w.lines[before].path().EndDirection().Left(),
		w.lines[after].start(), w.lines[after].path().StartDirection().Right())
	w.lines[hem] = redrawn(cut, wholeOf(w.lines[hem]))
	w.keepGrainInside()
	w.Landmarks = slices.DeleteFunc(w.Landmarks, func(l pattern.Landmark) bool { return w.beyond(l.At) })
	w.heal()
	e.changed("underarm seam", w.Name, long, under, "mm")
	e.changed("hem", w.Name, wide, w.lines[hem].length(), "mm")
	return e.finish()
}

// beyond reports whether a point lies off the piece by more than it is drawn
// finely: a landmark on an edge counts as on it.
func (w *work) beyond(p geom.Point) bool {
	return !onPart(p, w.lines, w.outline())
}

// capSeam returns the seam that sets the sleeve in, and whether the cap's first
// end is the front one.
func (e *edit) capSeam(w *work, cap int) (seam *pattern.Seam, frontAtStart bool, err error) {
	for i := range e.seams {
		s := &e.seams[i]
		for _, sides := range [][2]pattern.Run{{s.A, s.B}, {s.B, s.A}} {
			own, other := sides[0], sides[1]
			if !own.Has(w.Name, w.Edges[cap].Name) || len(other) == 0 {
				continue
			}
			first := e.piece(other[0].Piece)
			frontFirst := first != nil && first.Role == pattern.BodiceFront
			return s, frontFirst != own[0].Backwards, nil
		}
	}
	return nil, false, refuse(fmt.Sprintf("no seam sets the head of piece %q into an armscye", w.Name), "add that seam to the pattern")
}

// otherRun returns the side of the seam that does not have the edge.
func (e *edit) otherRun(s *pattern.Seam, piece, edge string) pattern.Run {
	if s.A.Has(piece, edge) {
		return s.B
	}
	return s.A
}

// easedBy returns how a seam meets when its side with the edge is to be ease mm
// longer than the other: as it did before, if it asked for that already.
func (e *edit) easedBy(seam *pattern.Seam, piece, edge string, ease float64) pattern.Meeting {
	if seam.A.Has(piece, edge) {
		ease = -ease // a seam's ease is what B is longer than A
	}
	switch m := seam.Meeting; {
	case m.Kind == pattern.Eased && m.Ease.Given() && m.Ease.Holds(ease, 0):
		return m
	case ease == 0:
		return pattern.Meeting{Kind: pattern.Plain}
	}
	return pattern.Meeting{Kind: pattern.Eased, Ease: pattern.Range{Min: ease, Max: ease}}
}

// RefitCap makes the sleeve's head fit its armscye again with a wanted ease, in
// mm. A gathered head is drawn up to the armscye exactly, and takes no ease;
// any other is made higher or lower, its width kept.
//
// Kept: the underarm seams and what lies below the underarm; the directions in
// which the head leaves them, so that its line runs on where they are sewn. Where
// it did not, by more than half of what the pairing check lets pass, it is trued.
// A head that fits already is left as it is. Degenerate: ease under 0, and a head
// that would have to be half or twice as high, are refused.
func RefitCap(p *pattern.Pattern, ease float64) (*operation.Answer, error) {
	if !(ease >= 0) {
		return nil, refuse(fmt.Sprintf("a sleeve's head cannot be %.1f mm shorter than its armscye", -ease), "ask for an ease of 0 mm or more")
	}
	e := begin(p)
	w, cap, _, err := e.sleeve()
	if err != nil {
		return nil, err
	}
	seam, _, err := e.capSeam(w, cap)
	if err != nil {
		return nil, err
	}
	edge := w.Edges[cap].Name
	armscye := e.in.RunLength(e.otherRun(seam, w.Name, edge))
	was := e.sewnBefore(w.Name, edge)
	w.touched = true
	for i := range w.Gathers {
		g := &w.Gathers[i]
		if g.Edge != edge {
			continue
		}
		length := g.Length + armscye - was
		if length < minGathered || length > g.To-g.From {
			return nil, refuse(fmt.Sprintf("the gathers of the head would have to measure %.0f mm, and lie on %.0f", length, g.To-g.From),
				"puff the sleeve more, or less")
		}
		g.Length = length
		e.changed("head, gathered", w.Name, was, armscye, "mm")
		return e.finish()
	}
	if !w.raiseHead(e, cap, w.lines[cap].length()-was+armscye+ease) { // a dart or pleat in it keeps what it takes up
		return nil, refuse(fmt.Sprintf("a head of %.0f mm cannot be made to fit an armscye of %.0f mm by its height alone", was, armscye),
			"widen or narrow the sleeve first")
	}
	w.keepGrainInside()
	seam.Meeting = e.easedBy(seam, w.Name, edge, ease)
	e.changed("armscye", "", armscye, armscye, "mm")
	e.changed("head", w.Name, was, armscye+ease, "mm")
	return e.finish()
}
