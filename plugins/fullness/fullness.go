// Package fullness is the house plugin for gathers, flare, pleats, tucks, tiers
// and flounces.
package fullness

import (
	"context"
	"fmt"

	"bygone.example/core/alter"
	"bygone.example/core/pattern"
	"bygone.example/sdk"
)

// Plugin puts fullness into a garment, and moves what is there.
var Plugin = &sdk.Plugin{
	Name:    "fullness",
	Purpose: "Puts gathers, pleats, tucks, flare, tiers and flounces into a garment, and moves what is there.",
	Operations: []*sdk.Operation{
		moveGathers, moveFlare, flare,
		pleat, layPleats, cartridgePleats,
		tuckSkirt, tuck,
		tiers, flounce,
	},
}

// needsSkirt is what every operation on the whole skirt looks for. A skirt may
// be all one piece: no role but the hem's is asked for beyond the front's.
var needsSkirt = []sdk.Need{{Piece: pattern.SkirtFront}}

var slashes = sdk.Parameter{
	Name: "slashes", Kind: sdk.Count, Default: "5", Min: 1, Max: 50,
	Meaning: "In how many slashes a piece is spread or lapped; more make a smoother line.", Mark: sdk.CommonPractice,
}

// count returns a count.
func count(r *sdk.Request, name string) int { return int(r.Values.Or(name, 0)) }

// gathered returns the piece and edge that a request names for its gathers;
// without names, those that take up most.
func gathered(r *sdk.Request) (piece, edge string, err error) {
	piece, edge = r.Values.Text("piece"), r.Values.Text("edge")
	if piece != "" && edge != "" {
		return piece, edge, nil
	}
	longest := 0.0
	found := [2]string{}
	for _, p := range r.Pattern.Pieces {
		for _, g := range p.Gathers {
			if !g.Kind.Shows() || piece != "" && p.Name != piece || edge != "" && g.Edge != edge {
				continue
			}
			if take := g.To - g.From - g.Length; take > longest {
				longest, found = take, [2]string{p.Name, g.Edge}
			}
		}
	}
	if longest == 0 {
		return "", "", sdk.Refuse("the pattern has no gathers to work on", "gather an edge first, with skirt.gather-back or darts.release")
	}
	return found[0], found[1], nil
}

// firstOf returns the name given, or that of the first piece of the role.
func firstOf(r *sdk.Request, parameter string, role pattern.Role) (string, error) {
	if name := r.Values.Text(parameter); name != "" {
		return name, nil
	}
	if pieces := r.Pattern.ByRole(role); len(pieces) > 0 {
		return pieces[0].Name, nil
	}
	return "", sdk.Refuse(fmt.Sprintf("no piece has the role %s", role), "set "+parameter)
}

// parameters for the gathers that are worked on.
var (
	gatheredPiece = sdk.Parameter{Name: "piece", Kind: sdk.Name, Meaning: "The piece whose gathers are meant.", DefaultNote: "the one whose gathers take up most"}
	gatheredEdge  = sdk.Parameter{Name: "edge", Kind: sdk.Name, Meaning: "The edge of it that is gathered.", DefaultNote: "the one whose gathers take up most"}
)

var moveGathers = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "move-gathers",
		Purpose: "Moves gathers to another stretch of their edge, or to another piece of the same seam and the width with them.",
		Parameters: []sdk.Parameter{
			gatheredPiece, gatheredEdge,
			{Name: "to-piece", Kind: sdk.Name, Meaning: "The piece that they move to.", DefaultNote: "the piece they are on"},
			{Name: "to-edge", Kind: sdk.Name, Meaning: "The edge that they move to.", DefaultNote: "the edge they are on, or one of its name on to-piece"},
			{
				Name: "from", Kind: sdk.Ratio, Default: "0", Min: 0, Max: 1,
				Meaning: "Where they begin on that edge, as a share of its length.", Mark: sdk.FromMemory,
			},
			{
				Name: "to", Kind: sdk.Ratio, Default: "1", Min: 0, Max: 1,
				Meaning: "Where they end on that edge, as a share of its length.", Mark: sdk.FromMemory,
			},
			{
				Name: "share", Kind: sdk.Ratio, Default: "1", Min: 0.01, Max: 1,
				Meaning: "How much of what the gathers take up moves: 1 is all of it.", Mark: sdk.FromMemory,
			},
			{Name: "down-to-hem", Kind: sdk.Switch, Default: "no", Meaning: "Whether the width moves all the way down to a loose edge opposite, and not at the gathers only."},
			slashes,
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		piece, edge, err := gathered(r)
		if err != nil {
			return nil, err
		}
		o := alter.GatherMove{
			Piece: piece, Edge: edge, ToPiece: r.Values.Text("to-piece"), ToEdge: r.Values.Text("to-edge"),
			From: r.Values.Or("from", 0), To: r.Values.Or("to", 1), Share: r.Values.Or("share", 1),
			Slashes: count(r, "slashes"), Parallel: r.Values.On("down-to-hem"),
		}
		if o.ToPiece == "" {
			o.ToPiece = piece
		}
		if o.ToEdge == "" {
			o.ToEdge = edge
		}
		return alter.MoveGathers(r.Pattern, o)
	},
}

var moveFlare = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "move-flare",
		Purpose: "Moves hem width from one piece of a skirt to another; the hem round the garment stays.",
		Parameters: []sdk.Parameter{
			{Name: "from-piece", Kind: sdk.Name, Meaning: "The piece that loses flare.", DefaultNote: "the first front of the skirt"},
			{Name: "to-piece", Kind: sdk.Name, Meaning: "The piece that gains it.", DefaultNote: "the first back of the skirt"},
			{
				Name: "amount", Kind: sdk.Length, Default: "100mm", Min: -5000, Max: 5000,
				Meaning: "How much of the hem moves, round the whole garment; negative moves it the other way.", Mark: sdk.FromMemory,
			},
			slashes,
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		from, err := firstOf(r, "from-piece", pattern.SkirtFront)
		if err != nil {
			return nil, err
		}
		to, err := firstOf(r, "to-piece", pattern.SkirtBack)
		if err != nil {
			return nil, err
		}
		return alter.MovePieceFlare(r.Pattern, alter.PieceFlare{From: from, To: to, Amount: r.Values.Or("amount", 0), Slashes: count(r, "slashes")})
	},
}

var flare = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "flare",
		Purpose: "Spreads a piece at a loose edge, hinged at the edge opposite, until the edge measures what is asked.",
		Parameters: []sdk.Parameter{
			{Name: "piece", Kind: sdk.Name, Meaning: "The piece that is flared.", DefaultNote: "the first sleeve"},
			{Name: "edge", Kind: sdk.Name, Meaning: "Its loose edge.", DefaultNote: "hem"},
			{
				Name: "times", Kind: sdk.Ratio, Default: "1.5", Min: 0.2, Max: 6,
				Meaning: "How many times as long the edge becomes, if length is not set.", Mark: sdk.FromMemory,
			},
			{Name: "length", Kind: sdk.Length, Min: 5, Max: 10000, Meaning: "How long the edge becomes.", DefaultNote: "from times"},
			slashes,
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		name, err := firstOf(r, "piece", pattern.Sleeve)
		if err != nil {
			return nil, err
		}
		edge := r.Values.Text("edge")
		if edge == "" {
			edge = pattern.Hem
		}
		long, set := r.Values.Number("length")
		if piece := r.Pattern.Piece(name); !set && piece != nil && piece.Edge(edge) != nil {
			long = piece.Edge(edge).Path.Length() * r.Values.Or("times", 1)
		}
		return alter.FlareEdge(r.Pattern, alter.EdgeFlare{Piece: name, Edge: edge, Length: long, Slashes: count(r, "slashes")})
	},
}
