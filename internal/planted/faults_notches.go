package planted

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/finding"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
)

// pair is two notches that belong together, each with the index of its piece and
// in it.
type pair struct {
	seam *pattern.Seam
	a, b held
}

type held struct {
	piece string
	index int // of its notches
	notch pattern.Notch
	sewn  float64 // along its run
}

func (h held) spot(p *pattern.Pattern) Spot {
	return spot(h.piece, h.notch.Edge, edgeOf(p, h.piece, h.notch.Edge).Path.At(h.notch.At))
}

// heldBy lists the notches of a run.
func heldBy(p *pattern.Pattern, run pattern.Run) (list []held) {
	before := 0.0
	for _, ref := range run {
		piece := p.Piece(ref.Piece)
		long := piece.SewnLength(ref.Edge)
		for i, n := range piece.Notches {
			if n.Edge == ref.Edge {
				at := piece.SewnPosition(n.Edge, n.At)
				if ref.Backwards {
					at = long - at
				}
				list = append(list, held{ref.Piece, i, n, before + at})
			}
		}
		before += long
	}
	return list
}

// pairsOf lists the pairs of notches of a pattern whose names are theirs alone in
// their seam.
func pairsOf(p *pattern.Pattern) (list []pair) {
	for i := range p.Seams {
		s := &p.Seams[i]
		as, bs := heldBy(p, s.A), heldBy(p, s.B)
		for _, a := range as {
			mates := slices.DeleteFunc(slices.Clone(bs), func(b held) bool { return b.notch.Name != a.notch.Name })
			own := slices.DeleteFunc(slices.Clone(as), func(b held) bool { return b.notch.Name != a.notch.Name })
			if len(mates) == 1 && len(own) == 1 {
				list = append(list, pair{s, a, mates[0]})
			}
		}
	}
	return list
}

// notched are the patterns whose notches are tried one by one.
var notched = []string{"dress", "tabard", "gown", "layered", "pleated"}

func notchFaults(sound map[string]*pattern.Pattern) (list []Fault) {
	drop := func(p *pattern.Pattern, h held) {
		piece := p.Piece(h.piece)
		piece.Notches = slices.Delete(piece.Notches, h.index, h.index+1)
	}
	for _, from := range notched {
		for _, pr := range pairsOf(sound[from]) {
			for _, side := range [...]struct {
				this, other held
				name        string
			}{{pr.a, pr.b, "A"}, {pr.b, pr.a, "B"}} {
				this, other := side.this, side.other
				// An edge that a layer is basted onto is in two seams, and its notches in both.
				both := func(code finding.Code) []finding.Code {
					if len(sound[from].SeamsOf(this.piece, this.notch.Edge)) > 1 {
						return codes(code)
					}
					return nil
				}
				add := func(kind, how string, follows []finding.Code, plant func(p *pattern.Pattern) []Want) {
					list = append(list, Fault{
						Kind: kind, From: from, Name: fmt.Sprintf("%s of seam %s, on %s/%s%s", this.notch.Name, pr.seam.Name, this.piece, this.notch.Edge, how),
						Plant: plant, Follows: follows,
					})
				}
				add("notch dropped", "", both(pairing.NotchMissing), func(p *pattern.Pattern) []Want {
					drop(p, this)
					return want(pairing.NotchMissing, pr.seam.Name, 0, other.spot(p))
				})
				add("notch renamed", "", both(pairing.NotchMissing), func(p *pattern.Pattern) []Want {
					p.Piece(this.piece).Notches[this.index].Name = "stray"
					return slices.Concat(want(pairing.NotchMissing, pr.seam.Name, 0, other.spot(p)), want(pairing.NotchMissing, pr.seam.Name, 0, this.spot(p)))
				})
				add("notch counted otherwise", "", both(pairing.NotchCount), func(p *pattern.Pattern) []Want {
					n := &p.Piece(this.piece).Notches[this.index]
					n.Count = n.Count%3 + 1
					return want(pairing.NotchCount, pr.seam.Name, 0, this.spot(p), other.spot(p))
				})
				if pr.seam.Meeting.Kind == pattern.Eased {
					continue // how far a notch may move there depends on the ease: see sewingFaults
				}
				for _, by := range [...]float64{0.7, 2, -2, 12, -12} {
					at := this.notch.At + by
					p := sound[from].Piece(this.piece)
					// What it comes to, sewn: less where it lies in gathers, 0 in a fold.
					moved := p.SewnPosition(this.notch.Edge, at) - p.SewnPosition(this.notch.Edge, this.notch.At)
					if at < 0 || at > p.Edge(this.notch.Edge).Path.Length() || math.Abs(moved) < 0.6 {
						continue
					}
					add("notch moved", fmt.Sprintf(" by %.1f mm", by), both(pairing.NotchDrift), func(p *pattern.Pattern) []Want {
						p.Piece(this.piece).Notches[this.index].At = at
						h := this
						h.notch.At = at
						return want(pairing.NotchDrift, pr.seam.Name, moved, h.spot(p), other.spot(p))
					})
				}
			}
		}
		p := sound[from]
		for i := range p.Seams {
			s := &p.Seams[i]
			if len(s.B) == 0 || len(heldBy(p, s.A)) == 0 || math.Max(p.RunLength(s.A), p.RunLength(s.B)) < 151 {
				continue
			}
			list = append(list, Fault{
				Kind: "all notches dropped", From: from, Name: "of seam " + s.Name, Follows: codes(pairing.NotchMissing),
				Plant: func(p *pattern.Pattern) []Want {
					var spots []Spot
					for _, run := range [...]pattern.Run{s.A, s.B} {
						for _, ref := range run {
							piece := p.Piece(ref.Piece)
							piece.Notches = slices.DeleteFunc(piece.Notches, func(n pattern.Notch) bool { return n.Edge == ref.Edge })
							spots = append(spots, on(ref.Piece, ref.Edge))
						}
					}
					return want(pairing.NotchNone, s.Name, 0, spots...)
				},
			})
		}
	}
	return list
}

// smallMarks moves every notch by less than it is snipped true.
func smallMarks(sound map[string]*pattern.Pattern) (list []Fault) {
	for _, from := range notched {
		for _, pr := range pairsOf(sound[from]) {
			for _, this := range [...]held{pr.a, pr.b} {
				for _, by := range [...]float64{0.35, -0.35} {
					at := this.notch.At + by
					if at < 0 || at > edgeOf(sound[from], this.piece, this.notch.Edge).Path.Length() {
						continue
					}
					list = append(list, Fault{
						Kind: "notch within tolerance", From: from, Name: fmt.Sprintf("%s on %s/%s by %.2f mm", this.notch.Name, this.piece, this.notch.Edge, by),
						Plant: func(p *pattern.Pattern) []Want {
							p.Piece(this.piece).Notches[this.index].At = at
							return nil
						},
					})
				}
			}
		}
	}
	return list
}
