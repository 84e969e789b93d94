package mend

import (
	"fmt"
	"math"

	"bygone.example/core/finding"
	"bygone.example/core/geom"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
	"bygone.example/core/unit"
)

// hindrances are what no step mends and what has to be put right before anything
// beside it is: mended round about them, a fault is only hidden.
type hindrances struct {
	pieces, seams map[string]string // why nothing of a piece or a seam is mended
	edges         map[pattern.EdgeRef]string
}

// hinder notes what hinders in the pattern as it is now.
func (m *mender) hinder() {
	m.first = hindrances{map[string]string{}, map[string]string{}, map[pattern.EdgeRef]string{}}
	for _, f := range m.known {
		switch f.Code {
		case pairing.BoundaryCrossing, pairing.BoundaryTouching:
			m.first.pieces[f.Place.Piece] = "the outline of " + f.Place.Piece + " must be put right first"
		case pairing.CornerKink, pairing.CornerCentre:
			if m.otherLine(f) {
				m.first.edges[pattern.EdgeRef{Piece: f.Place.Piece, Edge: f.Place.Edge}] = "the kink of " + f.Place.Piece + "/" + f.Place.Edge + " must be put right first"
			}
		case pairing.SeamTwist:
			m.first.seams[f.Place.Seam] = "seam " + f.Place.Seam + " is walked from opposite ends, and that must be put right first"
		case pairing.EdgeTwoFates:
			if f.Place.Seam != "" {
				m.first.seams[f.Place.Seam] = "seam " + f.Place.Seam + " takes an edge that it should not, and that must be put right first"
			}
		}
	}
}

// beyond says why a finding is not tried at all, or nothing.
func (m *mender) beyond(f finding.Finding) string {
	if why := m.first.seams[f.Place.Seam]; why != "" {
		return why
	}
	if why := m.first.pieces[f.Place.Piece]; why != "" {
		return why
	}
	if s := m.current.Seam(f.Place.Seam); s != nil && f.Place.Seam != "" {
		for _, r := range [...]pattern.Run{s.A, s.B} {
			for _, ref := range r {
				if why := m.first.pieces[ref.Piece]; why != "" {
					return why
				}
				if why := m.first.edges[pattern.EdgeRef{Piece: ref.Piece, Edge: ref.Edge}]; why != "" {
					return why
				}
			}
		}
	}
	switch f.Code {
	case pairing.CornerKink, pairing.CornerCentre:
		if m.otherLine(f) {
			return fmt.Sprintf("the line lies %s off a smooth one, and no line may move by more than %s: that is no untrue corner but another line",
				unit.Length(pairing.OffSmooth(f.Figures.Difference)), unit.Length(m.options.Bound))
		}
	case pairing.GrainOutside:
		if p := m.current.Piece(f.Place.Piece); p != nil && aslant(p) {
			return "the grainline lies aslant, so one of its ends may be wrong, and only whoever knows how the piece is to hang can say which"
		}
	}
	return ""
}

// otherLine reports whether a kink is so sharp that a line which gives way by no more
// than the bound would only get a small fillet at the corner, beside which stays
// whatever made the kink.
func (m *mender) otherLine(f finding.Finding) bool {
	return f.Figures != nil && pairing.OffSmooth(f.Figures.Difference) > m.options.Bound
}

// aslantFrom in radians is how far off the piece's centre line, or off the upright
// and the level of the drawing, a grainline is taken to be drawn otherwise than it
// was meant: 3 degrees.
const aslantFrom = 3 * math.Pi / 180

// aslant reports whether a piece's grainline runs neither along nor across its
// centre line or fold, nor along or across the drawing.
func aslant(p *pattern.Piece) bool {
	grain := p.Grain.To.Sub(p.Grain.From)
	square := func(v geom.Point) bool {
		off := math.Abs(math.Remainder(geom.Turn(v, grain), math.Pi/2))
		return off <= aslantFrom
	}
	if square(geom.Pt(0, 1)) {
		return false
	}
	for _, e := range p.Edges {
		if e.Finish == pattern.Fold || e.Is() == pattern.CentreFront || e.Is() == pattern.CentreBack {
			if square(e.Path.End().Sub(e.Path.Start())) {
				return false
			}
		}
	}
	return true
}

// asArrived returns a finding as the pattern had it when it came, so that it names
// no notch that only a step has set; one that has grown or shrunk since is told as
// it is now.
func (m *mender) asArrived(f finding.Finding) finding.Finding {
	for _, was := range m.Arrival {
		if same(f, was) && f.Severity == was.Severity && (f.Figures == nil) == (was.Figures == nil) &&
			(f.Figures == nil || math.Abs(f.Figures.Difference-was.Figures.Difference) < pairing.WorseLength) {
			return was
		}
	}
	return f
}
