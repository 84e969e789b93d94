package planted

import (
	"cmp"
	"fmt"
	"slices"

	"bygone.example/core/finding"
	"bygone.example/core/pattern"
)

// Faults lists all faults to plant in the sound patterns, as Sound returns them,
// sorted by kind, pattern and name.
func Faults(sound map[string]*pattern.Pattern) []Fault {
	list := slices.Concat(
		cornersMoved(sound), edgesStretched(sound), linesBulged(sound), jointsMoved(sound), handlesTurned(sound), kinksInside(sound),
		notchFaults(sound), seamFaults(sound), fullnessFaults(sound),
		foldFaults(sound), grainFaults(sound), outlineFaults(sound), pieceFaults(sound),
		dartFaults(sound), allowanceFaults(sound), sewingFaults(sound),
	)
	slices.SortStableFunc(list, func(a, b Fault) int {
		return cmp.Or(cmp.Compare(a.Kind, b.Kind), cmp.Compare(a.From, b.From), cmp.Compare(a.Name, b.Name))
	})
	return list
}

// NearMisses lists what is done to sound patterns and is no fault: each lies just
// within what the check lets pass. None may be found.
func NearMisses(sound map[string]*pattern.Pattern) []Fault {
	return slices.Concat(smallMoves(sound), smallMarks(sound), smallShapes(sound))
}

// codes is a list of codes.
func codes(list ...finding.Code) []finding.Code { return list }

// want is a finding of one code at any of the spots.
func want(code finding.Code, seam string, size float64, spots ...Spot) []Want {
	return []Want{{Codes: codes(code), Seam: seam, Size: size, Spots: spots}}
}

// corner names a corner of a piece for a table.
func cornerName(p *pattern.Piece, i int) string {
	n := len(p.Edges)
	return fmt.Sprintf("%s, from %s to %s", p.Name, p.Edges[(i+n-1)%n].Name, p.Edges[i].Name)
}
