package pairing

import (
	"math"
	"strings"

	"bygone.example/core/finding"
	"bygone.example/core/pattern"
)

// Compare returns the findings now with Since set: what was there before, at
// the same place and not worse, keeps the origin it had; the rest came in with
// step. Places are carried over by the lineage; nil stands for one that renames
// nothing. Neither list is changed.
func Compare(before, now []finding.Finding, lineage pattern.Lineage, step string) []finding.Finding {
	type link struct{ from, to key }
	links := make(map[link]bool, len(lineage))
	pieces := make(map[link]bool, len(lineage))
	for _, s := range lineage {
		if !s.Added() {
			links[link{key{s.Old.Piece, s.Old.Edge}, key{s.New.Piece, s.New.Edge}}] = true
			pieces[link{key{s.Old.Piece, ""}, key{s.New.Piece, ""}}] = true
		}
	}
	// carried reports whether place o of the old pattern is now place n.
	carried := func(o, n finding.Place) bool {
		from, to := key{o.Piece, o.Edge}, key{n.Piece, n.Edge}
		return from == to || links[link{from, to}] || o.Edge == "" && n.Edge == "" && pieces[link{from, to}]
	}
	used := make([]bool, len(before))
	done := make([]bool, len(now))
	list := make([]finding.Finding, len(now))
	// What stayed as it was finds its own first, so that what is left over is
	// held against what is left over.
	for _, unchanged := range [...]bool{true, false} {
		for i, f := range now {
			if done[i] {
				continue
			}
			f.Since = step
			best := -1
			for j, b := range before {
				if used[j] && samePlace(b.Place, f.Place) || b.Code != f.Code || !sameSeam(b.Place.Seam, f.Place.Seam) || worse(b.Figures, f.Figures) ||
					unchanged && worse(f.Figures, b.Figures) {
					continue
				}
				whole := seamWide[f.Code] && b.Place.Seam == f.Place.Seam
				if !whole && !carried(b.Place, f.Place) {
					continue
				}
				if best < 0 || nearer(f, b, before[best]) {
					best = j
				}
			}
			if best >= 0 {
				f.Since, done[i] = before[best].Since, true
				// One finding carries over to one, but for an edge or seam that was
				// divided and a piece that was copied: each of them has it.
				used[best] = used[best] || samePlace(before[best].Place, f.Place)
			}
			list[i] = f
		}
	}
	return list
}

// seamWide are the codes that concern a seam as a whole, whichever of its sides
// they name.
var seamWide = map[finding.Code]bool{
	CutCount: true, SewingOrder: true, OpeningMissing: true, // the last concerns the whole garment
	SeamLength: true, SeamEase: true, SeamTwist: true,
	FullnessLength: true, FullnessRatio: true, FullnessMissing: true, NotchNone: true,
}

// samePlace reports whether two findings are of one edge in one seam.
func samePlace(a, b finding.Place) bool {
	return a.Seam == b.Seam && a.Piece == b.Piece && a.Edge == b.Edge
}

// sameSeam reports whether seam b is seam a or a part of it.
func sameSeam(a, b string) bool {
	return a == b || a != "" && strings.HasPrefix(b, a+".") || b != "" && strings.HasPrefix(a, b+".")
}

// worse reports whether the figures have grown by more than rounding.
func worse(before, now *finding.Figures) bool {
	if before == nil || now == nil {
		return false
	}
	tolerance := WorseLength
	switch now.Unit {
	case "degrees":
		tolerance = WorseAngle
	case "ratio":
		tolerance = WorseRatio
	}
	return math.Abs(now.Difference) > math.Abs(before.Difference)+tolerance
}

// nearer reports whether a is more like f than b is: the same words, or figures
// nearer to it.
func nearer(f, a, b finding.Finding) bool {
	if (a.Text == f.Text) != (b.Text == f.Text) {
		return a.Text == f.Text
	}
	off := func(o finding.Finding) float64 {
		if o.Figures == nil || f.Figures == nil {
			return 0
		}
		return math.Abs(o.Figures.Difference - f.Figures.Difference)
	}
	return off(a) < off(b)
}
