package alter

import (
	"fmt"
	"math"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Curving says how an edge is bent.
type Curving struct {
	Piece, Edge string
	// Out is how far the edge goes out of its piece, mm; negative hollows it.
	Out float64
	// At is where along the edge it goes furthest, as a share of its length; 0
	// is the middle.
	At float64
	// Straight draws the edge straight from end to end first.
	Straight bool
}

// CurveEdge rounds, hollows or straightens an edge and its mate across the seam
// together, so that both gain or lose the same shape: a hip seam, a side front,
// the line of a facing. (To bend a seam line and carry the strip across, so that
// one piece gains what the other loses, see MoveSeam.)
//
// Kept: the ends; the directions there, unless it is drawn straight, so that
// corners stay true; what the two sides differ by, to 1e-9 mm. The side that comes
// out short is bent by up to 1 mm more; where that is not enough it is lengthened
// at an end that no seam takes, as a hem, and only then bent further. Changed:
// both edges' lengths, equally.
//
// Degenerate: an edge without a mate is bent alone. An edge with a dart or
// fullness in it, a fold, and one whose mate across the seam is not a single edge
// of the same length but for ease are refused.
func CurveEdge(p *pattern.Pattern, o Curving) (*operation.Answer, error) {
	e := begin(p)
	w, i, err := e.edgeNamed(o.Piece, o.Edge)
	if err != nil {
		return nil, err
	}
	share := o.At
	if share == 0 {
		share = 0.5
	}
	switch {
	case !(share >= 0.1 && share <= 0.9):
		return nil, refuse(fmt.Sprintf("an edge cannot be bent most at %g of its length", o.At), "choose a share from 0.1 to 0.9")
	case !geom.Pt(o.Out, 0).Finite():
		return nil, refuse("an edge cannot be bent by a distance that is no number", "give it in mm")
	case w.Edges[i].Finish == pattern.Fold:
		return nil, refuse(fmt.Sprintf("edge %q of piece %q is a fold", o.Edge, o.Piece), "cloth folds along a straight line only: cut it as a seam first")
	}
	own := side{w: w, i: i, forward: true}
	sides := []side{own}
	mate, seam, err := e.mateOf(own)
	if err != nil {
		return nil, err
	}
	if mate != nil {
		sides = append(sides, *mate)
	}
	more := 0.0
	for _, s := range sides {
		if err := e.plainSide(s); err != nil {
			return nil, err
		}
	}
	if mate != nil {
		more = mate.length() - own.length()
	}
	for k, s := range sides {
		s.w.touched = true
		l := s.w.lines[s.i]
		if o.Straight {
			l = redrawn(geom.Path{geom.Line(l.start(), l.end())}, wholeOf(l))
		}
		if at := share; math.Abs(o.Out) > cutSliver {
			if k == 1 && s.forward != own.forward {
				at = 1 - share
			}
			l = l.hollowed(-o.Out, at)
		}
		s.w.lines[s.i] = l
	}
	if mate != nil {
		if err := matchLengths(own, *mate, more); err != nil {
			return nil, err
		}
	}
	if math.Abs(o.Out) > cutSliver {
		e.changed(o.Edge+", bent out of the piece", o.Piece, 0, o.Out, "mm")
	}
	for _, s := range sides {
		s.w.heal()
		s.w.keepGrainInside()
		e.changed(s.name(), s.w.Name, e.in.Piece(s.w.Name).Edge(s.name()).Path.Length(), s.length(), "mm")
	}
	if o.Straight {
		e.caution(fmt.Sprintf("Drawn straight, edge %s meets its neighbours at other angles: look whether the lines across its ends still run smoothly.", o.Edge))
	}
	if seam != nil {
		e.changed("what the sides of seam "+seam.Name+" differ by", "", more, mate.length()-own.length(), "mm")
	}
	return e.finish()
}

// mateOf returns the edge that a seam lays to this one, and the seam; nil where no
// seam takes it, or one to its own mirror image. forward of the mate says that
// the seam walks it as it walks the edge.
func (e *edit) mateOf(s side) (*side, *pattern.Seam, error) {
	for i := range e.seams {
		seam := &e.seams[i]
		for _, runs := range [][2]pattern.Run{{seam.A, seam.B}, {seam.B, seam.A}} {
			own, other := runs[0], runs[1]
			for k, ref := range own {
				if ref.Piece != s.w.Name || ref.Edge != s.name() || len(other) == 0 {
					continue
				}
				no := refuse(fmt.Sprintf("edge %q of piece %q does not meet a single edge across seam %q", s.name(), s.w.Name, seam.Name),
					"alter the edges that it meets first, so that they begin and end where it does")
				if len(own) != len(other) {
					return nil, nil, no
				}
				m := other[k]
				off := e.in.RunLength(own[:k]) - e.in.RunLength(other[:k])
				long := e.in.RunLength(own[k:k+1]) - e.in.RunLength(other[k:k+1])
				if len(own) > 1 && (math.Abs(off) > inStep || math.Abs(long) > inStep) {
					return nil, nil, no
				}
				w := e.piece(m.Piece)
				if w == nil {
					return nil, nil, no
				}
				n, err := w.named(m.Edge)
				if err != nil {
					return nil, nil, err
				}
				if w == s.w && n == s.i {
					return nil, seam, nil
				}
				return &side{w: w, i: n, forward: m.Backwards == ref.Backwards}, seam, nil
			}
		}
	}
	return nil, nil, nil
}
