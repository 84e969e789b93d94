// A plugin with an operation of its own, drawn by hand: it lengthens a skirt
// at the centre back into a train. What an operation owes the pattern when it
// draws line itself is all here: a copy, a lineage, marks that stay where they
// were, changes in numbers, cautions, and refusals.
package main

import (
	"context"
	"fmt"
	"slices"

	"bygone.example/core/geom"
	"bygone.example/core/pattern"
	"bygone.example/sdk"
)

func main() { sdk.Main(plugin) }

var plugin = &sdk.Plugin{
	Name:       "train",
	Purpose:    "Gives a skirt a train.",
	Operations: []*sdk.Operation{add},
}

var add = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "add",
		Purpose: "Lengthens the skirt at the centre back, and curves the hem to nothing at the next seam.",
		// What every pattern must bring along; the host checks it before the
		// first step of a chain runs.
		Needs: []sdk.Need{{Piece: pattern.SkirtBack, Edge: pattern.Hem}, {Piece: pattern.SkirtBack, Edge: pattern.CentreBack}},
		Parameters: []sdk.Parameter{{
			Name: "length", Kind: sdk.Length, Meaning: "How much longer the centre back becomes.",
			Default: "150mm", Min: 10, Max: 1000, Mark: sdk.FromMemory,
		}},
	},
	Apply: func(_ context.Context, q *sdk.Request) (*sdk.Answer, error) {
		// The request's pattern is read only: work on a copy. Same says that
		// every edge came from itself; what we draw replaces its spans.
		after := q.Pattern.Clone()
		answer := &sdk.Answer{Pattern: after, Lineage: pattern.Same(after)}
		for _, piece := range after.ByRole(pattern.SkirtBack) {
			if err := lengthen(answer, piece, q.Values.Or("length", 0)); err != nil {
				return nil, err
			}
		}
		if len(answer.Changes) == 0 {
			return nil, sdk.Refuse("no skirt back has its hem next to its centre back", "give the edges the roles hem and centre-back")
		}
		// The host would take an unsound pattern for a fault of ours.
		if problems := after.Validate(); len(problems) > 0 {
			return nil, sdk.Refuse("with a train of that length the piece no longer holds together: "+problems[0].Text, "ask for less")
		}
		answer.Cautions = []string{"A train is trodden on and drags: rehearse stairs and turns in the mock-up, give it a loop to carry it by, and keep it from flames and moving scenery."}
		return answer, nil
	},
}

// lengthen draws one piece's train. The centre back runs on straight, so that
// left and right, or the two halves on a fold, stay equal. The hem leaves it at
// a right angle, so that there is no point at the centre, and arrives at the
// other seam as it did before, so that it runs on smoothly into the next piece.
func lengthen(answer *sdk.Answer, piece *sdk.Piece, by float64) error {
	n := len(piece.Edges)
	i := slices.IndexFunc(piece.Edges, func(e sdk.Edge) bool { return e.Is() == pattern.Hem })
	if i < 0 {
		return nil
	}
	hem, centre, next := &piece.Edges[i], &piece.Edges[(i+n-1)%n], &piece.Edges[(i+1)%n]
	hemWas, from, to := hem.Path.Length(), hem.Path.Start(), hem.Path.End()
	var kept, drawn float64 // where on the centre back its old line, and the new line, begin
	switch {
	case centre.Is() == pattern.CentreBack:
		down := centre.Path.EndDirection()
		corner := from.Add(down.Mul(by))
		chord := corner.Dist(to)
		hem.Path = sdk.Path{geom.Hermite(corner, down.Left().Mul(chord), to, hem.Path.EndDirection().Mul(chord))}
		drawn = centre.Path.Length()
		centre.Path = centre.Path.Join(sdk.Path{geom.Line(from, corner)})
	case next.Is() == pattern.CentreBack: // the piece lies the other way round
		centre = next
		up := centre.Path.StartDirection()
		corner := to.Sub(up.Mul(by))
		chord := from.Dist(corner)
		hem.Path = sdk.Path{geom.Hermite(from, hem.Path.StartDirection().Mul(chord), corner, up.Right().Mul(chord))}
		kept = by
		centre.Path = sdk.Path{geom.Line(corner, to)}.Join(centre.Path)
	default:
		return nil // a side gore: its hem stays
	}
	if hem.Finish == pattern.Sewn || folded(piece, hem.Name) || folded(piece, centre.Name) {
		return sdk.Refuse(fmt.Sprintf("piece %q has a sewn hem, or darts, pleats or gathers on its hem or centre back", piece.Name),
			"add the train before those")
	}
	for i := range piece.Notches { // they stay where they were on the cloth
		switch m := &piece.Notches[i]; m.Edge {
		case centre.Name:
			m.At += kept
		case hem.Name:
			m.At *= hem.Path.Length() / hemWas
		}
	}
	long := centre.Path.Length()
	stretch := func(e *sdk.Edge, from, to float64) sdk.Stretch {
		return sdk.Stretch{Piece: piece.Name, Edge: e.Name, From: from, To: to}
	}
	answer.Lineage = slices.DeleteFunc(answer.Lineage, func(s sdk.Span) bool {
		return s.New.Piece == piece.Name && (s.New.Edge == hem.Name || s.New.Edge == centre.Name)
	})
	answer.Lineage = append(answer.Lineage,
		sdk.Span{New: stretch(centre, kept, kept+long-by), Old: stretch(centre, 0, long-by)}, // as it was
		sdk.Span{New: stretch(centre, drawn, drawn+by)},                                      // no Old: new line
		sdk.Span{New: stretch(hem, 0, hem.Path.Length()), Old: stretch(hem, 0, hemWas)},      // in proportion
	)
	answer.Changes = append(answer.Changes,
		sdk.Change{What: "centre back", Piece: piece.Name, Before: long - by, After: long, Unit: "mm"},
		sdk.Change{What: "hem", Piece: piece.Name, Before: hemWas, After: hem.Path.Length(), Unit: "mm"})
	return nil
}

// folded reports whether a dart, pleat or gathers lie on the edge.
func folded(p *sdk.Piece, edge string) bool {
	return slices.ContainsFunc(p.Darts, func(m sdk.Dart) bool { return m.Edge == edge }) ||
		slices.ContainsFunc(p.Pleats, func(m sdk.Pleat) bool { return m.Edge == edge }) ||
		slices.ContainsFunc(p.Gathers, func(m sdk.Gather) bool { return m.Edge == edge })
}
