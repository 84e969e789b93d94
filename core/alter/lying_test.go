package alter

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
)

// turnedOver reflects every piece and walks it the other way, so that it runs
// counter-clockwise again.
func turnedOver(p *pattern.Pattern) *pattern.Pattern {
	p = p.Clone()
	m := geom.Reflection(geom.Pt(0, 0), geom.Pt(0, 1))
	for i := range p.Pieces {
		q := &p.Pieces[i]
		long := map[string]float64{}
		slices.Reverse(q.Edges)
		for k := range q.Edges {
			e := &q.Edges[k]
			long[e.Name] = e.Path.Length()
			e.Path = e.Path.Transform(m).Reverse()
		}
		turn := func(edge string, from, to *float64) { *from, *to = long[edge]-*to, long[edge]-*from }
		other := map[pattern.Pressed]pattern.Pressed{pattern.PressedToStart: pattern.PressedToEnd, pattern.PressedToEnd: pattern.PressedToStart}
		for k := range q.Darts {
			d := &q.Darts[k]
			turn(d.Edge, &d.From, &d.To)
			d.Point, d.Pressed = m.Apply(d.Point), other[d.Pressed]
		}
		for k := range q.Gathers {
			turn(q.Gathers[k].Edge, &q.Gathers[k].From, &q.Gathers[k].To)
		}
		for k := range q.Pleats {
			turn(q.Pleats[k].Edge, &q.Pleats[k].From, &q.Pleats[k].To)
			q.Pleats[k].Pressed = other[q.Pleats[k].Pressed]
		}
		for k := range q.Notches {
			q.Notches[k].At = max(0, long[q.Notches[k].Edge]-q.Notches[k].At)
		}
		for k := range q.Landmarks {
			q.Landmarks[k].At = m.Apply(q.Landmarks[k].At)
		}
		q.Grain.From, q.Grain.To = m.Apply(q.Grain.From), m.Apply(q.Grain.To)
	}
	for i := range p.Seams {
		for _, r := range []pattern.Run{p.Seams[i].A, p.Seams[i].B} {
			for k := range r {
				r[k].Backwards = !r[k].Backwards
			}
		}
	}
	return p
}

// onPaper turns every piece on the paper.
func onPaper(p *pattern.Pattern, angle float64) *pattern.Pattern {
	p = p.Clone()
	m := geom.Rotation(geom.Pt(0, 0), angle)
	for i := range p.Pieces {
		q := &p.Pieces[i]
		for k := range q.Edges {
			q.Edges[k].Path = q.Edges[k].Path.Transform(m)
		}
		for k := range q.Darts {
			q.Darts[k].Point = m.Apply(q.Darts[k].Point)
		}
		for k := range q.Landmarks {
			q.Landmarks[k].At = m.Apply(q.Landmarks[k].At)
		}
		q.Grain.From, q.Grain.To = m.Apply(q.Grain.From), m.Apply(q.Grain.To)
	}
	return p
}

// recounted starts every piece's boundary n edges later.
func recounted(p *pattern.Pattern, n int) *pattern.Pattern {
	p = p.Clone()
	for i := range p.Pieces {
		e := p.Pieces[i].Edges
		k := n % len(e)
		p.Pieces[i].Edges = slices.Concat(e[k:], e[:k])
	}
	return p
}

// asDrawn returns the pattern with the lists whose order says nothing in the
// order of names, to compare drawings.
func asDrawn(p *pattern.Pattern) *pattern.Pattern {
	p = p.Clone()
	slices.SortFunc(p.Pieces, func(a, b pattern.Piece) int { return strings.Compare(a.Name, b.Name) })
	for i := range p.Pieces {
		q := &p.Pieces[i]
		slices.SortFunc(q.Edges, func(a, b pattern.Edge) int { return strings.Compare(a.Name, b.Name) })
		slices.SortFunc(q.Darts, func(a, b pattern.Dart) int { return strings.Compare(a.Name, b.Name) })
		slices.SortFunc(q.Gathers, func(a, b pattern.Gather) int { return strings.Compare(a.Name, b.Name) })
		slices.SortFunc(q.Landmarks, func(a, b pattern.Landmark) int { return strings.Compare(a.Name, b.Name) })
		slices.SortFunc(q.Notches, func(a, b pattern.Notch) int {
			return strings.Compare(a.Name+" "+a.Edge, b.Name+" "+b.Edge)
		})
	}
	// Which end a seam is walked from says nothing either.
	for i := range p.Seams {
		s := &p.Seams[i]
		if len(s.A) == 0 || !s.A[0].Backwards {
			continue
		}
		for _, r := range []pattern.Run{s.A, s.B} {
			slices.Reverse(r)
			for k := range r {
				r[k].Backwards = !r[k].Backwards
			}
		}
	}
	return p
}

// alike is how near in mm two drawings come that ought to be one: solved
// lengths are exact to 1e-9, and places on them a little less.
const alike = 1e-5

// sameDrawing compares two patterns within alike.
func sameDrawing(t failer, what string, got, want *pattern.Pattern) {
	t.Helper()
	if diff := cmp.Diff(asDrawn(want), asDrawn(got), cmpopts.EquateApprox(0, alike), cmpopts.EquateEmpty()); diff != "" {
		t.Errorf("%s: (-want +got)\n%s", what, diff)
	}
}

// TestWhicheverWayItLies runs the house chain's alterations on the dress as it
// is, turned over, and turned on the paper: what they do does not depend on the
// way the pieces lie.
func TestWhicheverWayItLies(t *testing.T) {
	p := dress(t)
	const angle = 0.7
	over, round := turnedOver(p), onPaper(p, angle)
	for _, step := range job {
		a := done(t, p, step.do)
		b := done(t, over, step.do)
		c := done(t, round, step.do)
		sameDrawing(t, step.name+", turned over", withoutBand(turnedOver(b.Pattern)), withoutBand(a.Pattern))
		sameDrawing(t, step.name+", turned", withoutBand(onPaper(c.Pattern, -angle)), withoutBand(a.Pattern))
		p = a.Pattern
		over, round = turnedOver(p), onPaper(p, angle)
		if t.Failed() {
			return
		}
	}
}

// withoutBand leaves out the band that PuffSleeve makes, and the notches for it:
// it lies as it was drawn, whichever way the sleeve does.
func withoutBand(p *pattern.Pattern) *pattern.Pattern {
	p = p.Clone()
	p.Pieces = slices.DeleteFunc(p.Pieces, func(q pattern.Piece) bool { return q.Role == pattern.SleeveBand })
	p.Seams = slices.DeleteFunc(p.Seams, func(s pattern.Seam) bool { return strings.HasPrefix(s.Name, "sleeve-band") })
	for i := range p.Pieces {
		p.Pieces[i].Notches = slices.DeleteFunc(p.Pieces[i].Notches, func(n pattern.Notch) bool { return strings.HasPrefix(n.Name, "band-") })
	}
	return p
}
