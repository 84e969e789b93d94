package alter

import (
	"fmt"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// PanelWidth says by how much a panel grows at one of its seams, in mm. Negative
// values narrow it.
type PanelWidth struct {
	Piece string
	// Seam is the one that moves; empty is the only one that joins the piece to
	// a side back.
	Seam string
	// Lower is at the seam's end on hem or waist, the lower of the two, Upper at
	// its other end, along the edges that it ends on. Middle is mm more halfway.
	Lower, Upper, Middle float64
}

// WidenPanel widens or narrows a panel at a seam; the neighbour takes up the
// rest. Narrow at both ends and wide in the middle makes the back a diamond.
//
// Kept and changed: as MoveSeam, which it is by other words. Degenerate: a seam
// that does not end on a waist or hem, and what MoveSeam refuses.
func WidenPanel(p *pattern.Pattern, o PanelWidth) (*operation.Answer, error) {
	e := begin(p)
	w, err := e.pieceNamed(o.Piece)
	if err != nil {
		return nil, err
	}
	if o.Seam == "" {
		i, err := w.edgeOf(pattern.SideBack)
		if err != nil {
			return nil, err
		}
		seams := p.SeamsOf(w.Name, w.Edges[i].Name)
		if len(seams) != 1 {
			return nil, refuse(fmt.Sprintf("no seam takes edge %q of piece %q", w.Edges[i].Name, w.Name), "add that seam to the pattern")
		}
		o.Seam = seams[0].Name
	}
	j, err := e.joint(o.Seam)
	if err != nil {
		return nil, err
	}
	own, other := j.a, j.b
	if own.w != w {
		own, other = other, own
	}
	if own.w != w {
		return nil, refuse(fmt.Sprintf("seam %q does not join piece %q", o.Seam, o.Piece), "name one that does")
	}
	atEnd, found := false, false
	for _, role := range []string{pattern.Hem, pattern.Waist} {
		for _, end := range []bool{true, false} {
			if i, _ := own.beside(end); !found && w.Edges[i].Is() == role {
				atEnd, found = end, true
			}
		}
	}
	if !found {
		return nil, refuse(fmt.Sprintf("seam %q of piece %q ends on neither waist nor hem", o.Seam, o.Piece), "move it by its start and end instead")
	}
	m := SeamMove{Seam: o.Seam, Into: other.w.Name, AtStart: o.Upper, AtEnd: o.Lower, Bow: o.Middle}
	if !atEnd {
		m.AtStart, m.AtEnd = o.Lower, o.Upper
	}
	return MoveSeam(p, m)
}
