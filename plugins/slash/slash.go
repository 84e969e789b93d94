// Package slash is the house plugin that slashes pieces and spreads them.
package slash

import (
	"context"
	"fmt"
	"strings"

	"bygone.example/core/alter"
	"bygone.example/core/pattern"
	"bygone.example/sdk"
)

// Plugin cuts a piece across and lays the parts apart.
var Plugin = &sdk.Plugin{
	Name:       "slash",
	Purpose:    "Slashes a piece from edge to edge and spreads the parts, for fullness or flare.",
	Operations: []*sdk.Operation{spread, line},
}

var (
	pieceParameter = sdk.Parameter{Name: "piece", Kind: sdk.Name, Meaning: "The piece to slash.", DefaultNote: "the skirt front, else the first piece that has the edge"}
	edgeParameter  = sdk.Parameter{Name: "edge", Kind: sdk.Name, Default: pattern.Hem, Meaning: "The edge to slash from."}
	openParameter  = sdk.Parameter{
		Name: "open", Kind: sdk.Length, Default: "100mm", Min: -5000, Max: 5000,
		Meaning: "How much is opened at the edge in all; a negative amount laps the paper.", Mark: sdk.FromMemory,
	}
	farParameter = sdk.Parameter{
		Name: "open-opposite", Kind: sdk.Length, Default: "0mm", Min: -5000, Max: 5000,
		Meaning: "How much is opened at the opposite edge in all; nothing hinges the slashes there.", Mark: sdk.CommonPractice,
	}
	takes         = []string{"auto", string(alter.AsFlare), string(alter.AsGathers), string(alter.AsEase), string(alter.AsKnife), string(alter.AsBox), string(alter.AsInverted), string(alter.MateToo)}
	takeParameter = sdk.Parameter{
		Name: "as", Kind: sdk.Choice, Choices: takes, Default: "auto",
		Meaning: "What becomes of the width at the edge; auto gathers an edge that is sewn to another and leaves any other flared.",
	}
	takeFarParameter = sdk.Parameter{
		Name: "opposite-as", Kind: sdk.Choice, Choices: takes, Default: "auto", Meaning: "What becomes of the width at the opposite edge.",
	}
)

var spread = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "spread",
		Purpose: "Slashes a stretch of an edge evenly and spreads the slashes, hinged, tapered or parallel.",
		Parameters: []sdk.Parameter{
			pieceParameter, edgeParameter, openParameter, farParameter,
			{Name: "slashes", Kind: sdk.Count, Default: "4", Min: 1, Max: 60, Meaning: "How many slashes.", Mark: sdk.CommonPractice},
			{
				Name: "from", Kind: sdk.Ratio, Default: "0", Min: 0, Max: 1,
				Meaning: "Where the slashed stretch begins, as a share of the edge from where the piece's boundary comes to it.", Mark: sdk.CommonPractice,
			},
			{Name: "to", Kind: sdk.Ratio, Default: "1", Min: 0, Max: 1, Meaning: "Where the slashed stretch ends.", Mark: sdk.CommonPractice},
			{
				Name: "lean", Kind: sdk.Ratio, Default: "0", Min: -1, Max: 1,
				Meaning: "How unevenly the slashes open: 1 opens nothing at the stretch's start and twice the share at its end.", Mark: sdk.CommonPractice,
			},
			{
				Name: "along", Kind: sdk.Choice, Choices: []string{string(alter.AlongGrain), string(alter.ToShare)}, Default: string(alter.AlongGrain),
				Meaning: "Whether the slashes follow the grain or go to the same share of the opposite edge.",
			},
			{Name: "to-edge", Kind: sdk.Name, Meaning: "The edge to slash to.", DefaultNote: "what lies opposite"},
			takeParameter, takeFarParameter,
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		piece, edge, err := find(r)
		if err != nil {
			return nil, err
		}
		long := edge.Path.Length()
		return alter.SlashAndSpread(r.Pattern, alter.Spreading{
			Piece: piece.Name, Edge: edge.Name, From: long * r.Values.Or("from", 0), To: long * r.Values.Or("to", 1),
			Slashes: int(r.Values.Or("slashes", 1)), Open: r.Values.Or("open", 0), Far: r.Values.Or("open-opposite", 0),
			Lean: r.Values.Or("lean", 0), Way: alter.Way(r.Values.Text("along")), ToEdge: r.Values.Text("to-edge"),
			Take:    taking(r, "as"),
			TakeFar: taking(r, "opposite-as"),
		})
	},
}

var line = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "line",
		Purpose: "Slashes a piece once, along a straight or curved line between places on two edges, and spreads it.",
		Parameters: []sdk.Parameter{
			pieceParameter, edgeParameter, openParameter, farParameter,
			{
				Name: "at", Kind: sdk.Ratio, Default: "0.5", Min: 0, Max: 1,
				Meaning: "Where on the edge the line begins, as a share of it from where the piece's boundary comes to it.", Mark: sdk.CommonPractice,
			},
			{Name: "to-edge", Kind: sdk.Name, Meaning: "The edge the line goes to.", DefaultNote: "the waist, or for a slash from there the hem"},
			{Name: "to-at", Kind: sdk.Ratio, Default: "0.5", Min: 0, Max: 1, Meaning: "Where on that edge the line ends.", Mark: sdk.CommonPractice},
			{
				Name: "bow", Kind: sdk.Length, Default: "0mm", Min: -500, Max: 500,
				Meaning: "How far the line stands off the straight one at its middle, to the left as it runs.", Mark: sdk.CommonPractice,
			},
			takeParameter, takeFarParameter,
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		piece, edge, err := find(r)
		if err != nil {
			return nil, err
		}
		name := r.Values.Text("to-edge")
		if name == "" {
			if name = pattern.Waist; edge.Is() == pattern.Waist {
				name = pattern.Hem
			}
		}
		to := piece.Edge(name)
		if to == nil {
			return nil, sdk.Refuse(fmt.Sprintf("piece %q has no edge %q", piece.Name, name), "name the edge the line goes to")
		}
		return alter.SlashAndSpread(r.Pattern, alter.Spreading{
			Piece: piece.Name, Edge: edge.Name, From: edge.Path.Length() * r.Values.Or("at", 0.5), Way: alter.AlongLine,
			Open: r.Values.Or("open", 0), Far: r.Values.Or("open-opposite", 0),
			ToEdge: name, ToAt: to.Path.Length() * r.Values.Or("to-at", 0.5), Bow: r.Values.Or("bow", 0),
			Take: taking(r, "as"), TakeFar: taking(r, "opposite-as"),
		})
	},
}

// find returns the piece and edge that a request means: of the piece named, or of
// the skirt's front, or of the first piece that has the edge.
func find(r *sdk.Request) (*pattern.Piece, *pattern.Edge, error) {
	name, edge := r.Values.Text("piece"), r.Values.Text("edge")
	found := r.Pattern.Piece(name)
	for i := range r.Pattern.Pieces {
		p := &r.Pattern.Pieces[i]
		if name == "" && p.Edge(edge) != nil && (found == nil || p.Role == pattern.SkirtFront && found.Role != pattern.SkirtFront) {
			found = p
		}
	}
	switch {
	case found == nil && name != "":
		return nil, nil, sdk.Refuse(fmt.Sprintf("the pattern has no piece %q", name), "its pieces are "+strings.Join(r.Pattern.PieceNames(), ", "))
	case found == nil:
		return nil, nil, sdk.Refuse(fmt.Sprintf("no piece has an edge %q", edge), "name the piece and edge to slash")
	case found.Edge(edge) == nil:
		return nil, nil, sdk.Refuse(fmt.Sprintf("piece %q has no edge %q", found.Name, edge), "its edges are "+strings.Join(found.EdgeNames(), ", "))
	}
	return found, found.Edge(edge), nil
}

// taking reads what becomes of an edge's width; empty for auto.
func taking(r *sdk.Request, parameter string) alter.Taking {
	take := r.Values.Text(parameter)
	if take == "auto" {
		return ""
	}
	return alter.Taking(take)
}
