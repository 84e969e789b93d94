package sdk_test

import (
	"context"
	"fmt"

	"bygone.example/core/pattern"
	"bygone.example/sdk"
)

// A plugin is a value; its main hands it to sdk.Main.
func Example() {
	plugin := &sdk.Plugin{
		Name:    "hems",
		Purpose: "Gives hems another depth.",
		Operations: []*sdk.Operation{{
			Spec: sdk.Spec{
				Name:    "set",
				Purpose: "Sets the allowance of every hemmed edge.",
				Parameters: []sdk.Parameter{{
					Name: "depth", Kind: sdk.Length, Meaning: "How deep the hem is turned up.",
					Default: "50mm", Min: 5, Max: 300, Mark: sdk.CommonPractice,
				}},
			},
			Apply: setHems,
		}},
	}

	// main is one line: sdk.Main(plugin). Here we only look.
	fmt.Println(sdk.Validate(plugin))
	// Output: <nil>
}

// setHems alters a clone, says where each edge came from (the edges are the
// same), tells the change in numbers, and refuses where there is nothing to do.
func setHems(_ context.Context, q *sdk.Request) (*sdk.Answer, error) {
	depth := q.Values.Or("depth", 50)
	after := q.Pattern.Clone()
	answer := &sdk.Answer{Pattern: after}
	for i := range after.Pieces {
		piece := &after.Pieces[i]
		for j := range piece.Edges {
			if e := &piece.Edges[j]; e.Finish == pattern.Hemmed {
				answer.Changes = append(answer.Changes, sdk.Change{
					What: e.Name + " allowance", Piece: piece.Name, Before: e.Allowance, After: depth, Unit: "mm",
				})
				e.Allowance = depth
			}
		}
	}
	if len(answer.Changes) == 0 {
		return nil, sdk.Refuse("no edge of the pattern is hemmed", "mark one with finish: hem")
	}
	answer.Lineage = pattern.Same(after)
	return answer, nil
}

// What the maker can act on is a refusal: what is wrong, and what to do.
func ExampleRefuse() {
	fmt.Println(sdk.Refuse("piece front has no waist", "name another edge with edge"))
	// Output: piece front has no waist; name another edge with edge
}

// Validate tells everything that is wrong with a declaration at once.
func ExampleValidate() {
	fmt.Println(sdk.Validate(&sdk.Plugin{Name: "Hems", Purpose: "hems"}))
	// Output:
	// plugin "Hems" is not a name: lower-case letters, digits and single hyphens, a letter first, at most 40
	// the purpose of plugin Hems is "hems", not one sentence of at most 300 bytes with a capital first and a full stop last
	// plugin Hems has no operations
}
