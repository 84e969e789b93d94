package alter

import (
	"fmt"
	"math"

	"bygone.example/core/operation"
	"bygone.example/core/pattern"
)

// Tiers says how a skirt is cut in tiers.
type Tiers struct {
	// Heights are the tiers' finished depths in mm, from the waist down.
	Heights []float64
	// Ratio is the cut width of every tier but the first over that of the tier
	// above.
	Ratio float64
}

// CutTiers cuts the skirt off at the first tier's height below the waist, the
// same way down every seam, and sews straight tiers below it, each gathered to
// the one above.
//
// Kept: the waist, and the skirt above the cut. The gathers bring each tier to
// the width of the one above exactly. Changed: the skirt's length is the sum of
// the heights, and its hem the cut tier's times Ratio for every tier more.
// Degenerate: one tier, a ratio under 1, a first tier that reaches beyond the
// skirt or ends inside an opening or a dart are refused.
func CutTiers(p *pattern.Pattern, o Tiers) (*operation.Answer, error) {
	e := begin(p)
	list, err := e.lowers("")
	if err != nil {
		return nil, err
	}
	switch {
	case len(o.Heights) < 2:
		return nil, refuse("a skirt in tiers has two at least", "give their heights from the waist down")
	case o.Ratio < 1:
		return nil, stretches(o.Ratio)
	}
	whole := 0.0
	for _, h := range o.Heights {
		if h < minStrip {
			return nil, refuse(fmt.Sprintf("a tier %.1f mm deep is no tier", h), fmt.Sprintf("make each %d mm or more", minStrip))
		}
		whole += h
	}
	before := hemRound(list)
	long := 0.0
	for _, h := range list {
		l, err := e.cutOff(h, o.Heights[0])
		if err != nil {
			return nil, err
		}
		long = math.Max(long, l)
	}
	e.notchCut(list, o.Heights[0])
	e.changed("tier 1, round its lower edge", "", 0, hemRound(list), "mm")
	e.changed("tier 1, depth", "", 0, o.Heights[0], "mm")
	for n, deep := range o.Heights[1:] {
		above := list
		list, err = e.sewBelow(above, fmt.Sprintf("tier-%d", n+2), fmt.Sprintf("tier %d", n+2), pattern.Tier, o.Ratio > 1, func(k int) (strip, error) {
			return straightStrip(o.Ratio*above[k].w.lines[above[k].hem].length(), deep), nil
		})
		if err != nil {
			return nil, err
		}
		e.changed(fmt.Sprintf("tier %d, round before gathering", n+2), "", 0, hemRound(list), "mm")
		e.changed(fmt.Sprintf("tier %d, depth", n+2), "", 0, deep, "mm")
	}
	e.changedFirst(0, "skirt length along its longest seam", "", long, whole, "mm")
	e.changedFirst(0, "hem circumference", "", before, hemRound(list), "mm")
	if hemRound(list) > wideHem {
		e.caution("a hem this wide reaches further than its wearer looks: keep it from flames, heaters and machinery")
	}
	return e.finish()
}

// wideHem is the hem in mm past which a skirt stands clear of the legs; from
// memory.
const wideHem = 3000

// cutOff cuts a piece of skirt off down mm below its waist, measured down the
// edges at both ends of its hem, and returns how long the longer of these was.
func (e *edit) cutOff(h lowerEdge, down float64) (long float64, err error) {
	w := h.w
	waist, err := w.edgeOf(pattern.Waist)
	if err != nil {
		return 0, err
	}
	w.touched = true
	before, after := w.prev(h.hem), w.next(h.hem)
	keep := func(i int, step func(int) int, atEnd bool) error {
		above := 0.0
		for k := step(i); k != waist; k = step(k) {
			if k == h.hem {
				return refuse(fmt.Sprintf("the waist of piece %q cannot be reached up both sides of its hem", w.Name), "give the upper edge the role waist")
			}
			above += w.lines[k].length()
		}
		l := w.lines[i].length()
		long = math.Max(long, above+l)
		switch at := down - above; {
		case at < minStrip:
			return refuse(fmt.Sprintf("a first tier of %.0f mm ends above edge %q of piece %q, which starts %.0f mm down", down, w.Edges[i].Name, w.Name, above),
				fmt.Sprintf("make it %.0f mm or more", math.Ceil(above+minStrip)))
		case at > l-minStrip:
			return refuse(fmt.Sprintf("a first tier of %.0f mm reaches beyond piece %q, which is %.0f mm long there", down, w.Name, above+l), "make it shorter, or lengthen the skirt first")
		case atEnd:
			w.lines[i], _ = w.lines[i].split(at)
		default:
			_, w.lines[i] = w.lines[i].split(l - at)
		}
		return nil
	}
	if err := keep(before, w.prev, true); err != nil {
		return 0, err
	}
	if err := keep(after, w.next, false); err != nil {
		return 0, err
	}
	a, b := w.lines[before], w.lines[after]
	w.lines[h.hem] = redrawn(squareAcross(a.end(), a.path().EndDirection().Left(), b.start(), b.path().StartDirection().Right()), wholeOf(w.lines[h.hem]))
	w.keepGrainInside()
	return long, nil
}

// notchCut gives the seams between the pieces that were cut off, if they have no
// notch left to be held by, one halfway down what is left.
func (e *edit) notchCut(list []lowerEdge, down float64) {
	if down <= longSeam {
		return
	}
	marked := func(h lowerEdge, end int) bool {
		for _, n := range h.w.Notches {
			if n.Edge != h.ends[end].edge.Name {
				continue
			}
			i, long := h.w.EdgeIndex(n.Edge), h.ends[end].edge.Path.Length()
			if left := h.w.lines[i].length(); end == 0 && n.At <= left || end == 1 && n.At >= long-left {
				return true
			}
		}
		return false
	}
	for k, h := range list {
		for end, x := range h.ends {
			if !x.joined || x.mate < k || x.mate == k && x.end < end || marked(h, end) && marked(list[x.mate], x.end) {
				continue
			}
			name := x.seam + "-tier"
			for _, side := range []struct {
				h   lowerEdge
				end int
			}{{h, end}, {list[x.mate], x.end}} {
				edge := side.h.ends[side.end].edge.Name
				l := side.h.w.lines[side.h.w.EdgeIndex(edge)].length()
				at := l - down/2 // below the waist, or below an opening
				if side.end == 1 {
					at = down / 2
				}
				side.h.w.fresh.notches = append(side.h.w.fresh.notches, pattern.Notch{Name: name, Edge: edge, At: math.Max(0, math.Min(l, at)), Count: 1})
			}
		}
	}
}
