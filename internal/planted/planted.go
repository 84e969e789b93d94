// Package planted judges the pairing check from outside: it plants one fault at
// a time in patterns that are sound, and says from the drawing alone, without
// asking the check, which finding ought to come of it and where.
//
// The faults are data. Each starts from one of the Sound patterns, does one thing
// to it, and names the code, the place and where it can be known the size of what
// is to be found. What a fault entails besides (an edge drawn longer carries its
// notches along) may be found too, where the fault is and under the codes that it
// names; anything else counts against the check.
//
// Lengths are mm, angles degrees, as in findings.
package planted

import (
	"fmt"
	"math"
	"slices"

	"bygone.example/core/finding"
	"bygone.example/core/geom"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
)

// PlaceWithin in mm is how near to the fault's place a finding must be.
const PlaceWithin = 0.5

// SizeWithin is how near to the fault's size a finding's figures must come, in
// their own unit.
const SizeWithin = 0.05

// Fault is one fault to plant.
type Fault struct {
	Kind    string // what a table sums up: notch moved
	Name    string // what was done, and where
	From    string // the sound pattern it starts from
	Options pairing.Options
	// Plant does it, and says what must be found of it.
	Plant func(*pattern.Pattern) []Want
	// Follows are the codes that it may bring along, on the edges it touches,
	// their neighbours and whatever is sewn to them.
	Follows []finding.Code
}

// Want is a finding that must be made.
type Want struct {
	Codes []finding.Code // any of these
	Seam  string         // empty: not asked
	Spots []Spot         // at any of these; none: the seam is place enough
	Near  []Spot         // not the place itself, but on the right seam
	Size  float64        // of the difference, whatever its sign; 0: not asked
}

// Spot is a place on a piece.
type Spot struct {
	Piece string
	Edge  string // empty: whichever the finding names
	// At is where, within PlaceWithin; nil is anywhere on the edge.
	At *geom.Point
}

// String tells the spot as a list of misses writes it.
func (s Spot) String() string {
	if s.At == nil {
		return s.Piece + "/" + s.Edge
	}
	return fmt.Sprintf("%s/%s at %.1f,%.1f", s.Piece, s.Edge, s.At.X, s.At.Y)
}

// Verdict is what the check made of a fault.
type Verdict struct {
	Wanted  int               // findings that had to be made
	Found   int               // of those, made with the right code at the right place
	Sharp   int               // of those found, at the very place and not merely near
	Missed  []Want            // the others
	Along   int               // further findings that the fault entails
	Strange []finding.Finding // findings that it does not
}

// Judge plants the fault in a copy of the sound pattern and runs the check.
func Judge(f Fault, sound *pattern.Pattern) Verdict {
	p := sound.Clone()
	wants := f.Plant(p)
	list := pairing.CheckWith(p, f.Options)
	v := Verdict{Wanted: len(wants)}
	taken := make([]bool, len(list))
	for _, w := range wants {
		i := slices.IndexFunc(list, func(found finding.Finding) bool { return w.met(found, w.Spots) })
		if i >= 0 {
			v.Sharp++
		} else if w.Near != nil {
			i = slices.IndexFunc(list, func(found finding.Finding) bool { return w.met(found, w.Near) })
		}
		if i < 0 {
			v.Missed = append(v.Missed, w)
			continue
		}
		v.Found++
		taken[i] = true
	}
	near := touched(sound, p)
	for i, found := range list {
		switch {
		case taken[i]:
		case slices.Contains(f.Follows, found.Code) && near.local(found):
			v.Along++
		default:
			v.Strange = append(v.Strange, found)
		}
	}
	return v
}

// met reports whether the finding is the one wanted, at one of the spots.
func (w Want) met(f finding.Finding, spots []Spot) bool {
	if !slices.Contains(w.Codes, f.Code) || w.Seam != "" && f.Place.Seam != w.Seam {
		return false
	}
	if w.Size != 0 && (f.Figures == nil || math.Abs(math.Abs(f.Figures.Difference)-math.Abs(w.Size)) > SizeWithin) {
		return false
	}
	return len(spots) == 0 || slices.ContainsFunc(spots, func(s Spot) bool {
		return f.Place.Piece == s.Piece && (s.Edge == "" || f.Place.Edge == s.Edge) &&
			(s.At == nil || f.Place.At != nil && f.Place.At.Near(*s.At, PlaceWithin))
	})
}

// reach is what a fault touches: edges and whole pieces, and the seams of either.
type reach struct {
	pieces, seams, mates map[string]bool // mates: the other of a left and a right piece
	edges                map[[2]string]bool
}

// touched compares a pattern with the sound one it was made from.
func touched(sound, p *pattern.Pattern) reach {
	r := reach{pieces: map[string]bool{}, seams: map[string]bool{}, mates: map[string]bool{}, edges: map[[2]string]bool{}}
	for i := range p.Pieces {
		piece := &p.Pieces[i]
		was := sound.Piece(piece.Name)
		if was == nil || was.Cut != piece.Cut || was.Grain != piece.Grain || was.Role != piece.Role {
			r.pieces[piece.Name] = true
		}
		if was == nil {
			continue
		}
		n := len(piece.Edges)
		for j := range piece.Edges {
			e := &piece.Edges[j]
			if old := was.Edge(e.Name); old == nil || old.Finish != e.Finish || old.Allowance != e.Allowance || old.Corner != e.Corner || !slices.Equal(old.Path, e.Path) {
				for _, k := range [...]int{j + n - 1, j, j + 1} {
					r.edges[[2]string{piece.Name, piece.Edges[k%n].Name}] = true
				}
			}
		}
		marks := func(q *pattern.Piece) (list []string) {
			for _, d := range q.Darts {
				list = append(list, d.Edge+fmt.Sprint(d))
			}
			for _, d := range q.Pleats {
				list = append(list, d.Edge+fmt.Sprint(d))
			}
			for _, d := range q.Gathers {
				list = append(list, d.Edge+fmt.Sprint(d))
			}
			for _, d := range q.Notches {
				list = append(list, d.Edge+fmt.Sprint(d))
			}
			return list
		}
		before, after := marks(was), marks(piece)
		for j := range piece.Edges {
			of := func(list []string) []string {
				return slices.DeleteFunc(slices.Clone(list), func(m string) bool {
					name := piece.Edges[j].Name
					return len(m) < len(name)+1 || m[:len(name)+1] != name+"{"
				})
			}
			if !slices.Equal(of(before), of(after)) {
				r.edges[[2]string{piece.Name, piece.Edges[j].Name}] = true
			}
		}
	}
	for _, two := range [...][2]string{{"front-left", "front-right"}, {"front-right", "front-left"}} {
		for e := range r.edges {
			if e[0] == two[0] {
				r.mates[two[1]] = true
			}
		}
	}
	for i := range p.Seams {
		s := &p.Seams[i]
		was := sound.Seam(s.Name)
		if was == nil || was.Meeting != s.Meeting || was.Kind != s.Kind || !slices.Equal(was.A, s.A) || !slices.Equal(was.B, s.B) {
			r.seam(p, s)
		}
	}
	for i := range sound.Seams {
		if s := &sound.Seams[i]; p.Seam(s.Name) == nil {
			r.seam(p, s)
		}
	}
	for _, list := range [...][]pattern.Seam{sound.Seams, p.Seams} {
		for i := range list {
			for _, run := range [...]pattern.Run{list[i].A, list[i].B} {
				for _, ref := range run {
					if r.pieces[ref.Piece] || r.edges[[2]string{ref.Piece, ref.Edge}] {
						r.seams[list[i].Name] = true
					}
				}
			}
		}
	}
	return r
}

// seam counts a seam that was changed as touched, with its edges and those beside
// them: what it brought together runs on there.
func (r reach) seam(p *pattern.Pattern, s *pattern.Seam) {
	r.seams[s.Name] = true
	for _, run := range [...]pattern.Run{s.A, s.B} {
		for _, ref := range run {
			piece := p.Piece(ref.Piece)
			n := len(piece.Edges)
			i := piece.EdgeIndex(ref.Edge)
			for _, k := range [...]int{i + n - 1, i, i + 1} {
				r.edges[[2]string{ref.Piece, piece.Edges[k%n].Name}] = true
			}
		}
	}
}

// local reports whether a finding lies where the fault was planted: on an edge
// it touches or beside one, in a piece it changes as a whole, or in a seam of
// those. What is told of a whole outline is in place anywhere on the piece, what
// is told of a left and a right piece on either, and what is told of the whole
// garment anywhere.
func (r reach) local(f finding.Finding) bool {
	at := f.Place
	switch f.Code {
	case pairing.OpeningMissing:
		return true
	case pairing.MirrorShape:
		if r.mates[at.Piece] {
			return true
		}
	case pairing.BoundaryCrossing, pairing.BoundaryTouching, pairing.BoundarySliver, pairing.BoundaryClockwise, pairing.AllowanceCrossing:
		at.Edge = ""
	}
	if at.Edge == "" && at.Seam == "" {
		for e := range r.edges {
			if e[0] == at.Piece {
				return true
			}
		}
	}
	return r.pieces[at.Piece] || r.seams[at.Seam] || r.edges[[2]string{at.Piece, at.Edge}]
}
