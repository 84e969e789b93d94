package paper

import (
	"fmt"
	"slices"

	"bygone.example/core/cutline"
	"bygone.example/core/draw"
	"bygone.example/core/geom"
	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Nested is a size of a pattern.
type Nested struct {
	Name    string
	Pattern *pattern.Pattern
}

// styles are the lines of sizes that lie in each other, the first of them the
// pattern's own: told apart by their breaks alone, in black and white. Lengths are
// mm, long enough to be seen from a standing height.
var styles = []draw.Ink{
	draw.Pen(0.5),
	draw.Pen(0.5).Dashed(9, 2.5),
	draw.Pen(0.5).Dashed(4, 2),
	draw.Pen(0.5).Dashed(9, 2, 1.2, 2),
	draw.Pen(0.5).Dashed(1.2, 1.8),
	draw.Pen(0.5).Dashed(4, 1.6, 1.2, 1.6),
}

// layerOf is the layer that a size prints alone by.
func layerOf(size string) draw.Layer { return draw.Layer("size " + size) }

// nested reports whether there is more than one size.
func (o Options) nested() bool { return len(o.Sizes) > 1 }

// checkSizes refuses sizes that do not belong together: of more of them than lines
// can be told apart, of one name, with a piece that the first does not have.
func (o Options) checkSizes(p *pattern.Pattern) error {
	if !o.nested() {
		return nil
	}
	refuse := func(instead, format string, args ...any) error {
		return &operation.Refusal{Why: fmt.Sprintf(format, args...), Instead: instead}
	}
	if len(o.Sizes) > len(styles) {
		return refuse("print them in two lots", "%d sizes in each other cannot be told apart; %d can", len(o.Sizes), len(styles))
	}
	names := map[string]bool{}
	for _, s := range o.Sizes {
		if names[s.Name] {
			return refuse("give the files names of their own", "two sizes are called %q", s.Name)
		}
		names[s.Name] = true
		for i := range s.Pattern.Pieces {
			if name := s.Pattern.Pieces[i].Name; p.Piece(name) == nil {
				return refuse("sizes are nested by the names of their pieces: name them alike, or print this one by itself",
					"size %q has a piece %q, which the first size has not", s.Name, name)
			}
		}
	}
	return nil
}

// outlines are what is cut out of a piece in the sizes after the first.
func (o Options) outlines(name string) [][]geom.Point {
	var out [][]geom.Point
	for k := 1; k < len(o.Sizes); k++ {
		if q := o.Sizes[k].Pattern.Piece(name); q != nil && len(q.Boundary()) > 0 {
			out = append(out, outlineOf(q))
		}
	}
	return out
}

// nest draws a piece in all its sizes, each on its layer, for placing where the
// first size's art goes: the sizes lie in each other as their files have them.
func (o Options) nest(art *draw.PieceArt, w *way, options draw.PieceOptions) draw.Drawing {
	d := art.Without(draw.LayerCloth, draw.LayerCut, draw.LayerSeam, draw.LayerMarks)
	for k, size := range o.Sizes {
		q := size.Pattern.Piece(w.piece.Name)
		if q == nil || len(q.Boundary()) == 0 {
			continue
		}
		layer := layerOf(size.Name)
		q = turned(q, w.quarter)
		own := *art
		if k > 0 {
			own = draw.Piece(q, options)
		}
		marks := own.Without(draw.LayerCloth, draw.LayerCut, draw.LayerSeam, draw.LayerLabels).Relayered(layer)
		d.Place(marks, draw.Placing{At: art.Origin.Sub(own.Origin)})
		m := geom.Translation(art.Origin).After(geom.Affine{A: o.scale(), E: o.scale()})
		seam := q.Boundary().Transform(m)
		cut := cutline.Of(q).Path
		if len(cut) == 0 || !slices.ContainsFunc(q.Edges, func(e pattern.Edge) bool { return cutline.Width(&e) > 0 }) {
			d.Draw(layer, styles[k], seam) // cut along the seam line itself
			continue
		}
		fine := styles[k]
		fine.Width = 0.18
		d.Draw(layer, fine, seam)
		d.Draw(layer, styles[k], cut.Transform(m))
	}
	return d
}

// styleKey draws the line of each size with its name, and returns the height used.
func (s *Sheet) styleKey(d *draw.Drawing, y, width float64) float64 {
	if !s.nested() {
		return 0
	}
	const sample, row = 26.0, 5.6
	x, used := 0.0, row
	for k, size := range s.Sizes {
		w := sample + 2 + draw.Bold.Width(size.Name, bodySize)
		if x > 0 && x+w > width {
			x, used = 0, used+row
		}
		at := geom.Pt(x, y-used+1.8)
		d.Draw(layerOf(size.Name), styles[k], geom.Polyline(at, at.Add(geom.Pt(sample, 0))))
		d.Write(layerOf(size.Name), draw.Text{Words: size.Name, Face: draw.Bold, Size: bodySize, At: at.Add(geom.Pt(sample+2, -bodySize*draw.CapHeight/2))})
		x += w + 7
	}
	return used + 3
}
