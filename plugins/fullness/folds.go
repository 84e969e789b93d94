package fullness

import (
	"context"

	"bygone.example/core/alter"
	"bygone.example/core/pattern"
	"bygone.example/sdk"
)

var kinds = sdk.Parameter{
	Name: "kind", Kind: sdk.Choice, Default: "knife", Choices: []string{"knife", "box", "inverted"},
	Meaning: "How the pleats are laid: all one way, as boxes on the outside, or meeting with the box inside.",
}

var pleat = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "pleat",
		Purpose: "Sets pleats into a skirt from waist to hem; folded away they leave waist, hip and hem as they were.",
		Needs:   needsSkirt,
		Parameters: []sdk.Parameter{
			{Name: "piece", Kind: sdk.Name, Meaning: "The piece that gets the pleats.", DefaultNote: "every piece of the skirt"},
			kinds,
			{
				Name: "count", Kind: sdk.Count, Default: "4", Min: 1, Max: 200,
				Meaning: "How many pleats each piece gets, as it is cut.", Mark: sdk.FromMemory,
			},
			{
				Name: "depth", Kind: sdk.Length, Default: "2cm", Min: 2, Max: 300,
				Meaning: "How deep a pleat is at the waist: half of what it takes up.", Mark: sdk.FromMemory,
			},
			{Name: "hem-depth", Kind: sdk.Length, Min: 0, Max: 600, Meaning: "How deep it is at the hem.", DefaultNote: "as deep as at the waist"},
			{
				Name: "from", Kind: sdk.Ratio, Default: "0.1", Min: 0, Max: 1,
				Meaning: "Where the pleats begin, as a share of the waist from its centre.", Mark: sdk.FromMemory,
			},
			{
				Name: "to", Kind: sdk.Ratio, Default: "1", Min: 0, Max: 1,
				Meaning: "Where the pleats end, as a share of the waist from its centre.", Mark: sdk.FromMemory,
			},
			{
				Name: "toward", Kind: sdk.Choice, Default: "side", Choices: []string{"side", "centre"},
				Meaning: "Which way knife pleats are pressed.",
			},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		depth := r.Values.Or("depth", 0)
		return alter.AddPleats(r.Pattern, alter.Pleats{
			Piece: r.Values.Text("piece"), Kind: pattern.PleatKind(r.Values.Text("kind")), Toward: alter.Toward(r.Values.Text("toward")),
			Count: count(r, "count"), AtWaist: 2 * depth, AtHem: 2 * r.Values.Or("hem-depth", depth),
			From: r.Values.Or("from", 0), To: r.Values.Or("to", 1),
		})
	},
}

var layPleats = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "lay-pleats",
		Purpose: "Lays gathers in pleats that take up as much, planned to the hip and the hem too if asked.",
		Parameters: []sdk.Parameter{
			gatheredPiece, gatheredEdge, kinds,
			{
				Name: "count", Kind: sdk.Count, Default: "8", Min: 1, Max: 200, Meaning: "How many pleats are laid, as the piece is cut.",
				Mark: sdk.Published, Source: "Conover, A Complete Course in Dressmaking, vol. 5, 1922, pp. 63-69: eight pleats a side",
			},
			{Name: "panel", Kind: sdk.Length, Min: 4, Max: 600, Meaning: "What the pleat nearest the centre takes up by itself, beside a flat panel.", DefaultNote: "as much as the others"},
			{Name: "hip", Kind: sdk.Length, Min: 10, Max: 3000, Meaning: "The finished width of the piece at the hip.", DefaultNote: "the hip is not planned"},
			{
				Name: "hip-depth", Kind: sdk.Length, Default: "6in", Min: 10, Max: 600, Meaning: "How far the hip lies below the waist.",
				Mark: sdk.Published, Source: "Conover, A Complete Course in Dressmaking, vol. 5, 1922, p. 17: the hip about 6 in below the waist",
			},
			{Name: "hem", Kind: sdk.Length, Min: 10, Max: 10000, Meaning: "The width of the piece at the hem as it hangs in its pleats.", DefaultNote: "the hem is not planned"},
			{
				Name: "pressed", Kind: sdk.Choice, Default: "end", Choices: []string{"start", "end"},
				Meaning: "Whether knife pleats lie towards the start of the edge or its end.",
			},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		piece, edge, err := gathered(r)
		if err != nil {
			return nil, err
		}
		return alter.LayPleats(r.Pattern, alter.PleatLaying{
			Piece: piece, Edge: edge, Kind: pattern.PleatKind(r.Values.Text("kind")), Pressed: pattern.Pressed(r.Values.Text("pressed")),
			Count: count(r, "count"), Panel: r.Values.Or("panel", 0),
			Hip: r.Values.Or("hip", 0), Hem: r.Values.Or("hem", 0), HipDepth: r.Values.Or("hip-depth", 0),
		})
	},
}

var cartridgePleats = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "cartridge-pleats",
		Purpose: "Works gathers as cartridge pleats: tubes of even width that stand side by side on the seam.",
		Parameters: []sdk.Parameter{
			gatheredPiece, gatheredEdge,
			{
				Name: "pitch", Kind: sdk.Length, Default: "12mm", Min: 4, Max: 100,
				Meaning: "How much cloth goes into one tube: two stitches.", Mark: sdk.FromMemory,
			},
			{
				Name: "seat", Kind: sdk.Length, Min: 1, Max: 50, DefaultNote: "what follows from the pitch",
				Meaning: "How much of the waist one tube sits on: twice the thickness of the cloth or more. The pitch then follows from it.",
			},
			{
				Name: "rows", Kind: sdk.Count, Default: "3", Min: 1, Max: pattern.MaxRows,
				Meaning: "How many rows are stitched one below the other; with fewer than three the tubes fall over.", Mark: sdk.FromMemory,
			},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		piece, edge, err := gathered(r)
		if err != nil {
			return nil, err
		}
		return alter.CartridgePleat(r.Pattern, alter.CartridgePleats{
			Piece: piece, Edge: edge, Pitch: r.Values.Or("pitch", 0), Seat: r.Values.Or("seat", 0), Rows: count(r, "rows"),
		})
	},
}

var tuckSkirt = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "tuck-skirt",
		Purpose: "Lays tucks round the skirt above the hem, and lengthens it by what they take up.",
		Needs:   needsSkirt,
		Parameters: []sdk.Parameter{
			{
				Name: "count", Kind: sdk.Count, Default: "4", Min: 1, Max: 60, Meaning: "How many tucks run round the skirt.",
				Mark: sdk.Published, Source: "Colonial Williamsburg 1994-153: four tucks near the hem",
			},
			{
				Name: "width", Kind: sdk.Length, Default: "1/4in", Min: 2, Max: 200, Meaning: "How wide a tuck is, from its crease to its stitching.",
				Mark: sdk.Published, Source: "Klickmann (ed.), The Little Girl's Sewing Book, c. 1915: quarter-inch tucks",
			},
			{
				Name: "space", Kind: sdk.Length, Default: "3/4in", Min: 0, Max: 600,
				Meaning: "How far it is from one line of stitching to the next, finished.", Mark: sdk.FromMemory,
			},
			{
				Name: "first", Kind: sdk.Length, Default: "3 1/2in", Min: 3, Max: 2000, Meaning: "How far above the hem the first tuck is creased, on the flat cloth.",
				Mark: sdk.Published, Source: "Klickmann (ed.), The Little Girl's Sewing Book, c. 1915: 3 1/2 in above the finished bottom",
			},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.TuckSkirt(r.Pattern, alter.HemTucks{
			Count: count(r, "count"), Width: r.Values.Or("width", 0), Space: r.Values.Or("space", 0), First: r.Values.Or("first", 0),
		})
	},
}

var tuck = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "tuck",
		Purpose: "Lays tucks along the grain from one edge of a piece to the edge opposite, and widens it by what they take up.",
		Parameters: []sdk.Parameter{
			{Name: "piece", Kind: sdk.Name, Meaning: "The piece that is tucked.", DefaultNote: "the first sleeve"},
			{Name: "edge", Kind: sdk.Name, Meaning: "The edge that the tucks start from.", DefaultNote: "hem"},
			{
				Name: "count", Kind: sdk.Count, Default: "3", Min: 1, Max: 100, Meaning: "How many tucks there are.",
				Mark: sdk.Published, Source: "Kinne and Cooley, Clothing and Health, 1916: three tucks",
			},
			{
				Name: "width", Kind: sdk.Length, Default: "5mm", Min: 2, Max: 100,
				Meaning: "How wide a tuck is, from its crease to its stitching.", Mark: sdk.FromMemory,
			},
			{
				Name: "space", Kind: sdk.Length, Default: "12mm", Min: 2, Max: 300,
				Meaning: "How far it is from one line of stitching to the next, finished.", Mark: sdk.FromMemory,
			},
			{
				Name: "centre", Kind: sdk.Ratio, Default: "0.5", Min: 0, Max: 1,
				Meaning: "Where the middle of the tucks lies on the edge, as a share of its length.", Mark: sdk.FromMemory,
			},
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
		return alter.AddTucks(r.Pattern, alter.Tucks{
			Piece: name, Edge: edge, Count: count(r, "count"), Width: r.Values.Or("width", 0), Space: r.Values.Or("space", 0), Centre: r.Values.Or("centre", 0.5),
		})
	},
}
