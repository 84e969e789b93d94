package draw

import "slices"

// Layer names what a line or word belongs to. In a PDF each is a switch of its
// own (an optional content group): a maker can hide the seam lines, or print
// one size of several. The empty layer is always seen.
type Layer string

// The layers of a piece's art. A shop may show them under other names: see
// Document.Names.
const (
	LayerCloth  Layer = "cloth"     // the tint that tells inside from outside
	LayerBefore Layer = "before"    // how the piece was
	LayerCut    Layer = "cut line"  //
	LayerSeam   Layer = "seam line" // seam lines and folds
	LayerMarks  Layer = "marks"     // notches, darts, pleats, gathers, grain, landmarks
	LayerLabels Layer = "labels"    // words
)

// Relayered returns the drawing with everything on one layer: a size of
// several that are nested, say.
func (d Drawing) Relayered(l Layer) Drawing {
	d.items = slices.Clone(d.items)
	for i := range d.items {
		d.items[i].layer = l
	}
	return d
}

// Without returns the drawing without what is on the given layers.
func (d Drawing) Without(layers ...Layer) Drawing {
	d.items = slices.DeleteFunc(slices.Clone(d.items), func(it item) bool { return slices.Contains(layers, it.layer) })
	return d
}

// Layers returns the layers in use, in the order in which they are first drawn
// on, without the empty one.
func (d Drawing) Layers() []Layer {
	var out []Layer
	for _, it := range d.items {
		if it.layer != "" && !slices.Contains(out, it.layer) {
			out = append(out, it.layer)
		}
	}
	return out
}
