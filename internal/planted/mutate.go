package planted

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"bygone.example/core/finding"
	"bygone.example/core/geom"
	"bygone.example/core/pairing"
	"bygone.example/core/pattern"
)

// mirrored returns the mirror image of a piece under another name: the edges run
// counter-clockwise again, in the reverse order.
func mirrored(p pattern.Piece, name string, flip geom.Affine) pattern.Piece {
	q := turnedRound(p)
	q.Name = name
	for i := range q.Edges {
		q.Edges[i].Path = q.Edges[i].Path.Transform(flip)
	}
	q.Grain = pattern.Grain{From: flip.Apply(q.Grain.From), To: flip.Apply(q.Grain.To)}
	for i := range q.Darts {
		q.Darts[i].Point = flip.Apply(q.Darts[i].Point)
	}
	for i := range q.Landmarks {
		q.Landmarks[i].At = flip.Apply(q.Landmarks[i].At)
	}
	return q
}

// turnedRound returns the same outline walked the other way, with all that is
// marked on it where it was.
func turnedRound(p pattern.Piece) pattern.Piece {
	q := p.Clone()
	slices.Reverse(q.Edges)
	long := map[string]float64{}
	for i := range q.Edges {
		e := &q.Edges[i]
		long[e.Name] = e.Path.Length()
		e.Path = e.Path.Reverse()
	}
	for i := range q.Notches {
		q.Notches[i].At = long[q.Notches[i].Edge] - q.Notches[i].At
	}
	for i := range q.Darts {
		d := &q.Darts[i]
		d.From, d.To = long[d.Edge]-d.To, long[d.Edge]-d.From
	}
	for i := range q.Pleats {
		d := &q.Pleats[i]
		d.From, d.To = long[d.Edge]-d.To, long[d.Edge]-d.From
	}
	for i := range q.Gathers {
		d := &q.Gathers[i]
		d.From, d.To = long[d.Edge]-d.To, long[d.Edge]-d.From
	}
	return q
}

// edgeOf returns an edge that a fault names; that it is there is the table's own
// affair.
func edgeOf(p *pattern.Pattern, piece, edge string) *pattern.Edge {
	e := p.Edge(pattern.EdgeRef{Piece: piece, Edge: edge})
	if e == nil {
		panic(fmt.Sprintf("planted: no edge %s/%s", piece, edge))
	}
	return e
}

// moveCorner moves the corner where edge i of the piece starts, and leaves all
// control points where they are.
func moveCorner(p *pattern.Piece, i int, v geom.Point) geom.Point {
	n := len(p.Edges)
	before, after := p.Edges[(i+n-1)%n].Path, p.Edges[i].Path
	at := after[0].P0.Add(v)
	after[0].P0 = at
	before[len(before)-1].P1 = at
	return at
}

// dragCorner is moveCorner with the control points beside the corner.
func dragCorner(p *pattern.Piece, i int, v geom.Point) geom.Point {
	n := len(p.Edges)
	before, after := p.Edges[(i+n-1)%n].Path, p.Edges[i].Path
	after[0].C1 = after[0].C1.Add(v)
	last := &before[len(before)-1]
	last.C2 = last.C2.Add(v)
	return moveCorner(p, i, v)
}

// spot is a place on an edge.
func spot(piece, edge string, at geom.Point) Spot { return Spot{piece, edge, &at} }

// on is anywhere on an edge.
func on(piece, edge string) Spot { return Spot{Piece: piece, Edge: edge} }

// corners are the places between the edges of a run, its ends included: how far
// along it they lie, sewn, and the spots that a finding may name there.
type corners struct {
	at    float64
	spots []Spot
	piece []string
	index []int // which corner of the piece: the start of its edge of that index
}

func cornersOf(p *pattern.Pattern, run pattern.Run) []corners {
	list := make([]corners, len(run)+1)
	at := 0.0
	for i, ref := range run {
		piece := p.Piece(ref.Piece)
		e := piece.Edge(ref.Edge)
		k := piece.EdgeIndex(ref.Edge)
		from, to := k, (k+1)%len(piece.Edges)
		a, b := e.Path.Start(), e.Path.End()
		if ref.Backwards {
			a, b, from, to = b, a, to, from
		}
		list[i].add(at, piece.Name, from, a)
		at += piece.SewnLength(ref.Edge)
		list[i+1].add(at, piece.Name, to, b)
	}
	return list
}

func (c *corners) add(at float64, piece string, index int, q geom.Point) {
	c.at = at
	c.spots = append(c.spots, Spot{Piece: piece, At: &q})
	c.piece, c.index = append(c.piece, piece), append(c.index, index)
}

func (c *corners) has(piece string, index int) bool {
	for k := range c.piece {
		if c.piece[k] == piece && c.index[k] == index {
			return true
		}
	}
	return false
}

// cornerSpots lists where a seam may be said to be at fault when a corner of a
// piece was moved: there, or at the corner of the other side that is sewn to it.
func cornerSpots(p *pattern.Pattern, s *pattern.Seam, piece string, index int) (spots []Spot) {
	a, b := cornersOf(p, s.A), cornersOf(p, s.B)
	for _, pair := range [...][2][]corners{{a, b}, {b, a}} {
		own, other := pair[0], pair[1]
		for i, c := range own {
			if !c.has(piece, index) {
				continue
			}
			spots = append(spots, c.spots...)
			switch i {
			case 0:
				spots = append(spots, other[0].spots...)
			case len(own) - 1:
				spots = append(spots, other[len(other)-1].spots...)
			default:
				near := slices.MinFunc(other, func(x, y corners) int { return cmp.Compare(math.Abs(x.at-c.at), math.Abs(y.at-c.at)) })
				spots = append(spots, near.spots...)
			}
		}
	}
	return spots
}

// least in mm is by how much a seam's sides must differ before a fault counts as
// one: twice what the check lets pass.
const least = 0.2

// lengthWants lists what must be found of seams whose two sides differ after a
// corner was moved: at the corner, or at the one that is sewn to it. Elsewhere on
// the seam is near: no drawing says at which end a seam without notches is too
// long, and notches, written as so many mm from the start of their edge, go along
// where that was moved.
func lengthWants(p *pattern.Pattern, piece string, index int) (wants []Want) {
	q := p.Piece(piece)
	n := len(q.Edges)
	for i := range p.Seams {
		s := &p.Seams[i]
		if len(s.B) == 0 || s.Meeting.Kind == pattern.Eased {
			continue
		}
		touches := false
		for _, k := range [...]int{index, (index + n - 1) % n} {
			touches = touches || s.A.Has(piece, q.Edges[k].Name) || s.B.Has(piece, q.Edges[k].Name)
		}
		d := p.RunLength(s.A) - p.RunLength(s.B)
		if !touches || math.Abs(d) < least {
			continue
		}
		code := pairing.SeamLength
		if s.Meeting.Kind != pattern.Plain {
			code = pairing.FullnessLength
		}
		wants = append(wants, Want{Codes: []finding.Code{code}, Seam: s.Name, Spots: cornerSpots(p, s, piece, index), Near: sewnAlong(s.A, s.B), Size: d})
	}
	return wants
}

// shapeCodes are what a line that was drawn otherwise may entail.
var shapeCodes = []finding.Code{
	pairing.SeamLength, pairing.FullnessLength, pairing.FullnessRatio, pairing.SeamEase, pairing.NotchDrift,
	pairing.CornerKink, pairing.CornerCentre, pairing.CornerPoint, pairing.CurveKink,
	pairing.DartLegs, pairing.DartMouth, pairing.FacingShape, pairing.LiningShape, pairing.CapEase, pairing.MirrorShape,
	pairing.GrainFold, pairing.FoldApart, pairing.HemTurn, pairing.AllowanceCrossing, pairing.NotchNone,
}
