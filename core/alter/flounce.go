package alter

import (
	"fmt"
	"math"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// FlounceKind is how a flounce gets its fullness.
type FlounceKind string

// A straight flounce is a strip gathered to its seam. A circular one is a part
// of a ring and a spiral one a coil: both are flat at the seam, and full at the
// hem because that is longer.
const (
	StraightFlounce FlounceKind = "straight"
	CircularFlounce FlounceKind = "circular"
	SpiralFlounce   FlounceKind = "spiral"
)

// Flounce says what is sewn to a hem.
type Flounce struct {
	// Piece is the one piece whose hem gets it; empty is the whole skirt.
	Piece string
	Kind  FlounceKind
	Depth float64 // mm, finished
	// Ratio is cut length over drawn-up length, of a straight flounce.
	Ratio float64
	// Circles is how many full circles of cloth go round the garment, of a
	// circular flounce: 0.5 is half a circle.
	Circles float64
	// Radius is that of the tightest curve of a spiral flounce's seam in mm, and
	// Between what is left from turn to turn for the allowances, mm.
	Radius, Between float64
}

// AddFlounce sews a flounce to the hem of the skirt, or of one piece. A straight
// or circular flounce is cut a piece to each piece above it, with the same joins
// and openings; a spiral one is one strip for as far as the hem runs on. The
// flounce takes over the hem's finish, and the old hem becomes a seam.
//
// Kept: every line of the pieces above. The seam's two sides are equal exactly:
// gathers bring a straight flounce's top to the hem's length; a circular or
// spiral one measures it without any. Changed: the garment grows longer by
// Depth, the hem to Ratio times, or by 2π times Depth for every full turn of
// cloth. Degenerate: a hem that is sewn already, a ratio under 1, a ring that
// would lie over itself, and hems that the seams do not bring together are
// refused.
func AddFlounce(p *pattern.Pattern, o Flounce) (*operation.Answer, error) {
	e := begin(p)
	list, err := e.lowers(o.Piece)
	if err != nil {
		return nil, err
	}
	if o.Depth < minStrip {
		return nil, refuse(fmt.Sprintf("a flounce %.1f mm deep is no flounce", o.Depth), fmt.Sprintf("make it %d mm or more", minStrip))
	}
	before := hemRound(list)
	var below []lowerEdge
	switch o.Kind {
	case StraightFlounce:
		if o.Ratio < 1 {
			return nil, stretches(o.Ratio)
		}
		below, err = e.sewBelow(list, "flounce", "flounce", pattern.Flounce, o.Ratio > 1, func(k int) (strip, error) {
			return straightStrip(o.Ratio*list[k].w.lines[list[k].hem].length(), o.Depth), nil
		})
	case CircularFlounce:
		below, err = e.circularFlounce(list, o)
	case SpiralFlounce:
		below, err = e.spiralFlounce(list, o)
	default:
		return nil, refuse(fmt.Sprintf("there is no %q flounce", o.Kind), "ask for straight, circular or spiral")
	}
	if err != nil {
		return nil, err
	}
	told := len(e.changes)
	for _, h := range below {
		top := h.w.lines[2].length()
		e.changed("flounce, cut at the seam", h.w.Name, 0, top, "mm")
		if o.Kind == StraightFlounce {
			e.changed("flounce, gathered to", h.w.Name, 0, top/o.Ratio, "mm")
		}
		e.changed("flounce, hem", h.w.Name, 0, h.w.lines[0].length(), "mm")
	}
	e.changedFirst(told, "length below the old hem", "", 0, o.Depth, "mm")
	e.changedFirst(told, "hem circumference", "", before, hemRound(below), "mm")
	if o.Piece == "" {
		e.caution("the skirt is longer by the flounce: see that it clears the wearer's feet, or shorten the skirt above it first")
	}
	if o.Kind != StraightFlounce {
		e.caution("a flounce on the curve hangs partly on the bias: let it hang a day before levelling and hemming it")
	}
	return e.finish()
}

// minStrip is the least depth in mm of a strip that can be hemmed and sewn on.
const minStrip = 10

func stretches(ratio float64) error {
	return refuse(fmt.Sprintf("a fullness ratio of %g would stretch the cloth", ratio), "ask for 1 or more")
}

// fullestRing is how far round in radians one piece may go: of a whole circle
// a little is left for the allowances at its ends.
const fullestRing = 2 * math.Pi * 0.95

func (e *edit) circularFlounce(list []lowerEdge, o Flounce) ([]lowerEdge, error) {
	if o.Circles <= 0 {
		return nil, refuse("a circular flounce needs part of a circle", "give the circles, as 0.5 or 1")
	}
	radius := Ring{Seam: hemRound(list), Depth: o.Depth, Circles: o.Circles}.Radius()
	widest, most := 0.0, 0.0 // how far the fullest piece goes round, and may
	for _, h := range list {
		limit := fullestRing
		if h.ends[0].edge.Finish == pattern.Fold || h.ends[1].edge.Finish == pattern.Fold {
			limit /= 2
		}
		if angle := h.w.lines[h.hem].length() / radius; widest*limit <= angle*most || most == 0 {
			widest, most = angle, limit
		}
	}
	if widest > most {
		return nil, refuse(fmt.Sprintf("%.2f circles in %d pieces would lie over themselves", o.Circles, len(list)),
			fmt.Sprintf("ask for up to %.2f, or cut the pieces above in more gores", math.Floor(100*o.Circles*most/widest)/100))
	}
	e.changed("radius of the flounce at its seam", "", 0, radius, "mm")
	return e.sewBelow(list, "flounce", "flounce", pattern.Flounce, false, func(k int) (strip, error) {
		long := list[k].w.lines[list[k].hem].length()
		return ringStrip(long, long/radius, o.Depth), nil
	})
}

func (e *edit) spiralFlounce(list []lowerEdge, o Flounce) ([]lowerEdge, error) {
	if o.Radius < minRadius || o.Between < 0 {
		return nil, refuse(fmt.Sprintf("a seam cannot be sewn round a curve of %.0f mm radius", o.Radius), fmt.Sprintf("ask for %d mm or more", minRadius))
	}
	var below []lowerEdge
	for _, chain := range chainsOf(list) {
		first := list[chain[0].k]
		seam := 0.0
		for _, l := range chain {
			h := list[l.k]
			if h.w.copies() != first.w.copies() {
				return nil, refuse(fmt.Sprintf("the hems of %q and %q run on from each other, but do not come round equally often", first.w.Name, h.w.Name),
					"cut both whole, or both in halves")
			}
			seam += h.w.lines[h.hem].length()
		}
		if turns := seam / (2 * math.Pi * o.Radius); turns > mostTurns {
			return nil, refuse(fmt.Sprintf("a spiral of %.0f mm seam from a curve of %.0f mm has too many turns", seam, o.Radius), "ask for a wider curve")
		}
		below = append(below, e.spiral(list, chain, seam, o))
	}
	return below, nil
}

const (
	// minRadius in mm is the tightest curve that a seam can be clipped to lie
	// straight on; from memory.
	minRadius = 20
	// mostTurns bounds a spiral: no cloth is wide enough for more.
	mostTurns = 40
)

// spiral sews one coiled strip to a chain of hems.
func (e *edit) spiral(list []lowerEdge, chain []link, seam float64, o Flounce) lowerEdge {
	const word = "flounce"
	first, last := list[chain[0].k], list[chain[len(chain)-1].k]
	end := func(l link, h lowerEdge, leaving bool) hemEnd {
		if leaving != l.backwards {
			return h.ends[1]
		}
		return h.ends[0]
	}
	b := band{strip: coilStrip(seam, o.Radius, o.Depth+o.Between, o.Depth)}
	b.ends = [2]hemEnd{end(chain[0], first, false), end(chain[len(chain)-1], last, true)}
	folded := false
	for k := range b.ends {
		// A strip of many turns cannot be folded: it is joined there instead.
		folded = folded || b.ends[k].edge.Finish == pattern.Fold
		if b.ends[k].edge.Finish == pattern.Fold {
			b.ends[k].edge.Finish, b.ends[k].seam = pattern.Sewn, b.ends[k].edge.Name
		}
	}
	if b.ends[0].edge.Name == b.ends[1].edge.Name {
		b.ends[0].edge.Name += ".start"
		b.ends[1].edge.Name += ".end"
	}
	b.piece = pattern.Piece{Name: freshPieceName(e, word), Title: "Flounce, spiral", Role: pattern.Flounce, Cut: first.w.Cut}
	if folded || first.w.copies() > 1 {
		b.piece.Cut = pattern.Cut{Count: int(first.w.copies()), Mirrored: first.w.Cut.Mirrored || folded}
	}
	w := e.newBand(b, seam, first.w.Edges[first.hem], last.w)
	s := pattern.Seam{Name: freshSeamName(e, word), Meeting: pattern.Meeting{Kind: pattern.Plain}}
	s.B = pattern.Run{{Piece: w.Name, Edge: "top", Backwards: true}}
	at := 0.0
	for _, l := range chain {
		h := list[l.k]
		long := h.w.lines[h.hem].length()
		s.A = append(s.A, pattern.EdgeRef{Piece: h.w.Name, Edge: h.w.Edges[h.hem].Name, Backwards: l.backwards})
		e.sewTo(h)
		quarters(h, w, word, l.backwards, at, at+long)
		at += long
	}
	e.made = append(e.made, s)
	switch {
	case b.ends[0].joined: // all the way round
		e.endSeam(b.ends[0].seam, word, o.Depth, stripEnd{w, 0}, stripEnd{w, 1})
	default:
		for k, x := range b.ends {
			if x.seam != "" {
				e.endSeam(x.seam, word, o.Depth, stripEnd{w, k})
			}
		}
	}
	c := coiled(seam, o.Radius, o.Depth+o.Between)
	e.changed("turns of the spiral", w.Name, 0, (c.to-c.from)/(2*math.Pi), "")
	return lowerEdge{w: w}
}
