// The smallest plugin that does something: it gives every hem another depth.
package main

import (
	"context"

	"bygone.example/core/pattern"
	"bygone.example/sdk"
)

func main() { sdk.Main(plugin) }

var plugin = &sdk.Plugin{
	Name:       "hems",
	Purpose:    "Gives hems another depth.",
	Operations: []*sdk.Operation{set},
}

var set = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "set",
		Purpose: "Sets the allowance of every hemmed edge.",
		Parameters: []sdk.Parameter{{
			Name: "depth", Kind: sdk.Length, Meaning: "How deep the hem is turned up.",
			Default: "50mm", Min: 5, Max: 300, Mark: sdk.CommonPractice,
		}},
	},
	Apply: func(_ context.Context, q *sdk.Request) (*sdk.Answer, error) {
		depth := q.Values.Or("depth", 0) // in mm; the default is filled in
		after := q.Pattern.Clone()
		answer := &sdk.Answer{Pattern: after, Lineage: pattern.Same(after)}
		for i := range after.Pieces {
			piece := &after.Pieces[i]
			for j := range piece.Edges {
				if edge := &piece.Edges[j]; edge.Finish == pattern.Hemmed {
					answer.Changes = append(answer.Changes, sdk.Change{
						What: edge.Name + " allowance", Piece: piece.Name, Before: edge.Allowance, After: depth, Unit: "mm",
					})
					edge.Allowance = depth
				}
			}
		}
		if len(answer.Changes) == 0 {
			return nil, sdk.Refuse("no edge of the pattern is hemmed", "mark one with finish: hem")
		}
		return answer, nil
	},
}
