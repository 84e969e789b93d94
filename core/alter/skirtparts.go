package alter

import (
	"math"
	"slices"

	"bygone.example/core/pattern"
)

// Roles of the yokes cut off a skirt: what was its front's, and its back's.
const (
	yokeFront pattern.Role = "skirt-yoke-front"
	yokeBack  pattern.Role = "skirt-yoke-back"
)

// skirtPart is a piece that a skirt is made of: a yoke, what hangs from that, or
// a flounce or a tier sewn on below.
type skirtPart struct {
	*work
	side  pattern.Role // skirt-front or skirt-back: where in the skirt it hangs
	above float64      // mm of skirt above it along its shorter leg
}

// skirtParts returns the skirt's pieces from the waist down. The pieces that have
// the skirt's roles are among them; yokes are found above these, and strips below,
// by the seams that hold them.
func (e *edit) skirtParts() ([]skirtPart, error) {
	pieces, err := e.skirt()
	if err != nil {
		return nil, err
	}
	var parts []skirtPart
	has := func(w *work) bool { return slices.ContainsFunc(parts, func(p skirtPart) bool { return p.work == w }) }
	for _, w := range pieces {
		part := skirtPart{work: w, side: w.Role}
		for _, yoke := range e.sewnAcross(w, yokeLine) {
			if (yoke.Role == yokeFront || yoke.Role == yokeBack) && !has(yoke) {
				parts = append(parts, skirtPart{work: yoke, side: w.Role})
				part.above = yoke.shorterLeg()
			}
		}
		parts = append(parts, part)
	}
	for k := 0; k < len(parts); k++ { // it grows
		p := parts[k]
		for _, strip := range e.sewnAcross(p.work, StripSeam) {
			if !has(strip) {
				parts = append(parts, skirtPart{work: strip, side: p.side, above: p.above + p.shorterLeg()})
			}
		}
	}
	return parts, nil
}

// sewnAcross returns the pieces on the other side of the seams that take the edges
// of that role on a piece.
func (e *edit) sewnAcross(w *work, role string) []*work {
	var found []*work
	for _, edge := range w.Edges {
		if edge.Is() != role {
			continue
		}
		for _, s := range slices.Concat(e.seams, e.made) {
			if s.Kind != pattern.Joined {
				continue
			}
			for _, sides := range [2][2]pattern.Run{{s.A, s.B}, {s.B, s.A}} {
				at := slices.IndexFunc(sides[0], func(r pattern.EdgeRef) bool { return r.Piece == w.Name && r.Edge == edge.Name })
				if at < 0 {
					continue
				}
				for k, ref := range sides[1] {
					// Strips are sewn piece to piece; a longer run is one strip for all.
					if o := e.piece(ref.Piece); o != nil && (len(sides[1]) != len(sides[0]) || k == at) && !slices.Contains(found, o) {
						found = append(found, o)
					}
				}
			}
		}
	}
	return found
}

// skirtWith returns the parts of the skirt that have a loose edge of the role hem,
// or one of the role waist; without any, the pieces of the skirt itself, for
// which the operation then says what is in the way.
func (e *edit) skirtWith(role string) ([]skirtPart, error) {
	parts, err := e.skirtParts()
	if err != nil {
		return nil, err
	}
	with := slices.DeleteFunc(slices.Clone(parts), func(p skirtPart) bool {
		return !slices.ContainsFunc(p.Edges, func(edge pattern.Edge) bool {
			return edge.Is() == role && (role != pattern.Hem || edge.Finish != pattern.Sewn)
		})
	})
	if len(with) == 0 {
		return slices.DeleteFunc(parts, func(p skirtPart) bool { return p.Role != p.side }), nil
	}
	return with, nil
}

// asParts takes pieces as parts of a skirt with nothing above them.
func asParts(pieces []*work) []skirtPart {
	parts := make([]skirtPart, len(pieces))
	for k, w := range pieces {
		parts[k] = skirtPart{work: w, side: w.Role}
	}
	return parts
}

// works returns the pieces of the parts.
func works(parts []skirtPart) []*work {
	list := make([]*work, len(parts))
	for k, p := range parts {
		list[k] = p.work
	}
	return list
}

// upperEdge returns the position of the edge that a part of a skirt hangs from:
// its waist, else where its yoke is, else a strip's top.
func (w *work) upperEdge() (int, error) {
	for _, role := range []string{pattern.Waist, yokeLine, stripTop} {
		if i := slices.IndexFunc(w.Edges, func(edge pattern.Edge) bool { return edge.Is() == role }); i >= 0 {
			return w.edgeOf(role)
		}
	}
	return w.edgeOf(pattern.Waist)
}

// stripTop is the role of the edge that a flounce or a tier is sewn on by.
const stripTop = "top"

// shorterLeg is how far it is, mm, from a part's upper edge to its lower one along
// the shorter of the two sides between them; 0 where it has no such edges.
func (w *work) shorterLeg() float64 {
	top, err := w.upperEdge()
	if err != nil {
		return 0
	}
	foot := -1
	for _, role := range []string{pattern.Hem, StripSeam, yokeLine} {
		if i := slices.IndexFunc(w.Edges, func(edge pattern.Edge) bool { return edge.Is() == role }); i >= 0 && i != top {
			foot = i
			break
		}
	}
	if foot < 0 {
		return 0
	}
	long := func(step func(int) int) (sum float64) {
		for i := step(top); i != foot; i = step(i) {
			sum += w.lines[i].length()
		}
		return sum
	}
	return math.Min(long(w.next), long(w.prev))
}
