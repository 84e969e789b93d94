package alter

import (
	"fmt"
	"slices"
	"strings"

	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// slashPlacket cuts an opening into a piece and makes the strip that binds it.
func (e *edit) slashPlacket(o PlacketStrip) (*operation.Answer, error) {
	w, i, err := e.slashedEdgeOf(o.Piece, o.Edge)
	if err != nil {
		return nil, err
	}
	edge := w.Edges[i].Name
	if !(o.At > 0 && o.At < 1) {
		return nil, refuse(fmt.Sprintf("a slash %g of the way along edge %q starts at no place on it", o.At, edge), "give a share between 0 and 1")
	}
	path := w.lines[i].path()
	at := o.At * path.Length()
	if w.inMark(edge, at) {
		return nil, refuse(fmt.Sprintf("the slash would start in a dart or pleat on edge %q of piece %q", edge, w.Name), "choose another place")
	}
	foot := path.At(at)
	end := foot.Add(path.Direction(at).Left().Mul(o.Slash))
	outline := w.outline()
	beyond := end.Add(end.Sub(foot).Unit().Mul(clearOfSlash))
	for _, side := range []geom.Point{end, beyond, end.Lerp(foot, 0.5)} {
		if !geom.Contains(outline, side) {
			return nil, refuse(fmt.Sprintf("a slash of %.0f mm from edge %q leaves piece %q, or ends too near its other side", o.Slash, edge, w.Name), "make it shorter")
		}
	}
	if err := w.keepsDarts(foot, end, ""); err != nil {
		return nil, err
	}
	w.touched = true
	name := "slash"
	for n := 2; w.Landmark(name+".foot") != nil; n++ {
		name = fmt.Sprintf("slash-%d", n)
	}
	w.Landmarks = append(w.Landmarks, pattern.Landmark{Name: name + ".foot", At: foot}, pattern.Landmark{Name: name + ".end", At: end})
	// Sewn to nothing that the pattern knows of: the slash has no edge to sew it to.
	strip := newStrip(pattern.Piece{
		Name: freshPiece(e, "placket"), Title: strings.TrimSpace(w.Title + " placket"), Role: "placket", Cut: pattern.Cut{Count: w.Cut.Count},
	}, 2*o.Slash, 2*o.Finished, 0, [4]pattern.Edge{
		{Name: "opening", Finish: pattern.Open, Allowance: o.Seam}, {Name: "end", Finish: pattern.Hemmed, Allowance: o.End},
		{Name: "inside", Finish: pattern.Faced, Allowance: o.Seam}, {Name: "end.other", Finish: pattern.Hemmed, Allowance: o.End},
	})
	strip.Landmarks = append(strip.Landmarks, pattern.Landmark{Name: name + ".end", At: geom.Pt(o.Slash, 0)})
	e.pieces = slices.Insert(e.pieces, slices.Index(e.pieces, w)+1, strip)
	cutLong, cutHigh := strip.cutSize()
	e.changed("slash", w.Name, 0, o.Slash, "mm")
	e.changed("slash, from the start of edge "+edge, w.Name, 0, at, "mm")
	e.changed("strip, cut length", strip.Name, 0, cutLong, "mm")
	e.changed("strip, cut width", strip.Name, 0, cutHigh, "mm")
	e.changed("placket, finished width", strip.Name, 0, o.Finished, "mm")
	if o.Slash < 2*o.Finished {
		e.caution("The opening is short for the width of its placket: try it in a scrap of the cloth first.")
	}
	e.caution(fmt.Sprintf("Slash piece %s only after the strip's seam is sewn down to a point round its end: cut first, it frays there. What is sewn to edge %s opens at the slash too.", w.Name, edge))
	return e.finish()
}

// clearOfSlash is how much cloth in mm there must be beyond the end of a slash: a
// turning and its stitches lie there; from memory.
const clearOfSlash = 20

// slashedEdgeOf returns the edge that a placket is slashed from: the one named,
// else a sleeve's hem, else the waist of a skirt's back.
func (e *edit) slashedEdgeOf(piece, edge string) (*work, int, error) {
	if piece != "" {
		w, err := e.pieceNamed(piece)
		if err != nil {
			return nil, 0, err
		}
		if edge != "" {
			i, err := w.named(edge)
			return w, i, err
		}
		for _, role := range []string{pattern.Hem, pattern.Waist} {
			if w.Role == pattern.Sleeve == (role == pattern.Hem) {
				i, err := w.edgeOf(role)
				return w, i, err
			}
		}
	}
	if w, _, hem, err := e.sleeve(); err == nil {
		return w, hem, nil
	}
	if parts, err := e.skirtWith(pattern.Waist); err == nil {
		for _, p := range parts {
			if p.side == pattern.SkirtBack {
				i, err := p.edgeOf(pattern.Waist)
				return p.work, i, err
			}
		}
	}
	return nil, 0, refuse("the pattern has no sleeve and no back of a skirt to slash a placket into", "name the piece and its edge")
}
