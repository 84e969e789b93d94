package alter

import (
	"testing"

	"bygone.example/core/pattern"
)

// A placket slashed into a sleeve above its cuff edge, and into a skirt below its
// waist: the slash stands square to the edge at the place asked for, and the strip
// is twice its length and twice the finished width (H. Kinne and A. M. Cooley,
// Clothing and Health, 1916: cut, twice the opening and 1 in, by 2½ in for 1 in
// finished with seams of ¼ in). No line of the pieces changes.
func TestSlashedPlacket(t *testing.T) {
	const in = 25.4
	for _, p := range everyBody(t) {
		for _, c := range []struct {
			piece, edge string
			at          float64
		}{{"sleeve", "hem", 0.25}, {"skirt-back", "waist", 0.5}, {"", "", 0.3}} {
			o := PlacketStrip{Piece: c.piece, Edge: c.edge, Slash: 4 * in, At: c.at, Finished: in, Seam: in / 4, End: in / 2}
			a, no := lawful(t, p, placket(o))
			if no != nil {
				t.Fatalf("refused: %v", no)
			}
			noNewWarning(t, p, a)
			name, edge := c.piece, c.edge
			if name == "" {
				name, edge = "sleeve", "hem"
			}
			w, strip := a.Pattern.Piece(name), a.Pattern.Piece("placket")
			path := w.Edge(edge).Path
			foot, end := w.Landmark("slash.foot").At, w.Landmark("slash.end").At
			within(t, "foot", foot.Dist(path.At(c.at*path.Length())), 0, exact)
			within(t, "deep", foot.Dist(end), 4*in, exact)
			within(t, "square", end.Sub(foot).Unit().Dot(path.Direction(c.at*path.Length())), 0, 1e-9)
			within(t, "strip", strip.Edge("opening").Path.Length(), 8*in, exact)
			within(t, "strip, width", strip.Edge("end").Path.Length(), 2*in, exact)
			told := map[string]float64{}
			for _, ch := range a.Changes {
				told[ch.What] = ch.After
			}
			within(t, "cut length", told["strip, cut length"], 9*in, exact)
			within(t, "cut width", told["strip, cut width"], 2.5*in, exact)
			others(t, p, a.Pattern, name)
			for k, e := range p.Piece(name).Edges {
				within(t, e.Name, w.Edges[k].Path.Length(), e.Path.Length(), exact)
			}
		}
	}
	p := dress(t)
	slash := func(o PlacketStrip) alteration { o.Finished = 25; return placket(o) }
	refusals{
		{"no place", p, slash(PlacketStrip{Piece: "sleeve", Slash: 80, At: 1}), `a slash 1 of the way along edge "hem" starts at no place on it; give a share between 0 and 1`},
		{"through the head", p, slash(PlacketStrip{Piece: "sleeve", Slash: 900, At: 0.5}), `a slash of 900 mm from edge "hem" leaves piece "sleeve", or ends too near its other side; make it shorter`},
		{"in a dart", p, slash(PlacketStrip{Piece: "bodice-back", Edge: pattern.Waist, Slash: 60, At: dartAt(p)}), `the slash would start in a dart or pleat on edge "waist" of piece "bodice-back"; choose another place`},
	}.try(t)
}

// dartAt is where along the back's waist its dart has its middle, as a share.
func dartAt(p *pattern.Pattern) float64 {
	w := p.Piece("bodice-back")
	for _, d := range w.Darts {
		if d.Edge == pattern.Waist {
			return (d.From + d.To) / 2 / w.Edge(pattern.Waist).Path.Length()
		}
	}
	return 0
}
