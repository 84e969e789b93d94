// Package finish is the house plugin for what an edge is finished with: facings,
// plackets, waistbands, bias bindings and linings.
package finish

import (
	"context"
	"strings"

	"bygone.example/core/alter"
	"bygone.example/core/pattern"
	"bygone.example/sdk"
)

// Plugin finishes edges and lines pieces.
var Plugin = &sdk.Plugin{
	Name:       "finish",
	Purpose:    "Finishes edges with facings, plackets, waistbands and bias bindings, and lines pieces.",
	Operations: []*sdk.Operation{facing, placket, waistband, binding, lining, interlining},
}

const kinne = "H. Kinne and A. M. Cooley, Clothing and Health, 1916"

var edge = sdk.Parameter{
	Name: "edge", Kind: sdk.Choice, Default: pattern.Neckline, Choices: []string{pattern.Neckline, pattern.Armscye, pattern.Hem},
	Meaning: "Which edge is finished, all the way round.",
}

var piece = sdk.Parameter{
	Name: "piece", Kind: sdk.Name, DefaultNote: "the bodice's, for a hem the skirt's",
	Meaning: "A piece that has the edge; what it runs on into is finished too.",
}

// turning is the ¼ in that is turned in along the edges of a strip.
func turning(source string) sdk.Parameter {
	return sdk.Parameter{
		Name: "seam", Kind: sdk.Length, Default: "6.35mm", Min: 0, Max: 50,
		Meaning: "How much is turned in along the strip's long edges.", Mark: sdk.Published, Source: source,
	}
}

var facing = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "facing",
		Purpose: "Cuts facings from an edge's own shape and sews them to it.",
		Parameters: []sdk.Parameter{
			edge, piece,
			{
				Name: "width", Kind: sdk.Length, DefaultNote: "92 mm for a hem (Connecticut Museum of Culture and History 1956.3.5 (c. 1865): hem facing 9.2 cm), else 50 mm",
				Min: 5, Max: 400, Meaning: "How wide the finished facing is.",
			},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		of := r.Values.Text("edge")
		width := 50.0
		if of == pattern.Hem {
			width = 92
		}
		return alter.AddFacing(r.Pattern, alter.Facing{Edge: of, Piece: r.Values.Text("piece"), Width: r.Values.Or("width", width)})
	},
}

var placket = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "placket",
		Purpose: "Binds an opening with one strip down one side of it and up the other.",
		Parameters: []sdk.Parameter{
			{
				Name: "opening", Kind: sdk.Name, DefaultNote: "the first edge left open, of a skirt before other pieces",
				Meaning: "The opening: a piece, or a piece and its edge.",
			},
			{
				Name: "slash", Kind: sdk.Length, Min: 20, Max: 600, DefaultNote: "none: the opening is an edge left open",
				Meaning: "How deep the opening is slashed into the piece, square to the edge: a sleeve's hem or a skirt's waist, where no other is named.",
			},
			{
				Name: "slash-at", Kind: sdk.Ratio, Default: "0.25", Min: 0.02, Max: 0.98,
				Meaning: "Where along the edge it is slashed, as a share of the edge from its start.", Mark: sdk.FromMemory,
			},
			{
				Name: "finished", Kind: sdk.Length, Default: "25.4mm", Min: 3, Max: 100,
				Meaning: "How wide the finished placket is.",
				Mark:    sdk.Published, Source: kinne + ": a strip 2½ in wide makes a placket of 1 in",
			},
			turning(kinne + ": a strip 2½ in wide makes a placket of 1 in"),
			{
				Name: "end", Kind: sdk.Length, Default: "12.7mm", Min: 0, Max: 100,
				Meaning: "How much is turned in at each end of the strip.",
				Mark:    sdk.Published, Source: kinne + ": the strip is twice the opening and 1 in long",
			},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		of, on, _ := strings.Cut(r.Values.Text("opening"), "/")
		return alter.Placket(r.Pattern, alter.PlacketStrip{
			Piece: of, Edge: on, Finished: r.Values.Or("finished", 0), Seam: r.Values.Or("seam", 0), End: r.Values.Or("end", 0),
			Slash: r.Values.Or("slash", 0), At: r.Values.Or("slash-at", 0),
		})
	},
}

var waistband = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "waistband",
		Purpose: "Puts a straight band between bodice and skirt, or finishes a skirt's waist with one.",
		Needs:   []sdk.Need{{Piece: pattern.SkirtFront}, {Piece: pattern.SkirtBack}},
		Parameters: []sdk.Parameter{
			{
				Name: "finished", Kind: sdk.Length, Default: "25.4mm", Min: 3, Max: 250,
				Meaning: "How high the finished band is.",
				Mark:    sdk.Published, Source: "Ontario Teachers' Manuals, Household Science in Rural Schools, 1918: a band cut 2½ in wide",
			},
			{
				Name: "lap", Kind: sdk.Length, Default: "25.4mm", Min: 0, Max: 150,
				Meaning: "By how much the ends lie over each other at the opening; none between bodice and skirt.",
				Mark:    sdk.Published, Source: kinne + ": 1 in for the lap",
			},
			{
				Name: "layers", Kind: sdk.Count, Default: "2", Min: 1, Max: 2,
				Meaning: "Cut double and folded at the upper edge, or single; always single between bodice and skirt.",
				Mark:    sdk.Published, Source: kinne + ": twice the finished width",
			},
			turning(kinne + ": ½ in more than twice the finished width"),
			{
				Name: "end", Kind: sdk.Length, Default: "6.35mm", Min: 0, Max: 50,
				Meaning: "How much is turned in at each end.", Mark: sdk.CommonPractice,
			},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.Waistband(r.Pattern, alter.Band{
			Finished: r.Values.Or("finished", 0), Lap: r.Values.Or("lap", 0), Layers: int(r.Values.Or("layers", 0)),
			Seam: r.Values.Or("seam", 0), End: r.Values.Or("end", 0),
		})
	},
}

var binding = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "binding",
		Purpose: "Binds an edge with a strip on the bias, and tells how many strips of the cloth it takes.",
		Parameters: []sdk.Parameter{
			edge, piece,
			{
				Name: "finished", Kind: sdk.Length, Default: "10mm", Min: 1, Max: 100,
				Meaning: "How wide the binding shows.", Mark: sdk.FromMemory,
			},
			turning(kinne + ": seams of ¼ in on a bias band"),
			{
				Name: "cloth", Kind: sdk.Length, Default: "914.4mm", Min: 100, Max: 4000,
				Meaning: "How wide the cloth is that the strips are cut from.", Mark: sdk.CommonPractice,
			},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.Bind(r.Pattern, alter.BiasBinding{
			Edge: r.Values.Text("edge"), Piece: r.Values.Text("piece"),
			Finished: r.Values.Or("finished", 0), Seam: r.Values.Or("seam", 0), Cloth: r.Values.Or("cloth", 0),
		})
	},
}

var outers = sdk.Parameter{
	Name: "piece", Kind: sdk.Name, DefaultNote: "all pieces of the bodice, the skirt and the sleeves",
	Meaning: "The one piece that is lined.",
}

func named(r *sdk.Request) []string {
	if one := r.Values.Text("piece"); one != "" {
		return []string{one}
	}
	return nil
}

// The edges at which a lining is sewn in.
const (
	seams = "seams"
	loose = "nowhere"
)

var lining = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "lining",
		Purpose: "Makes linings from the outer pieces, with the seams among them, and sews them in.",
		Parameters: []sdk.Parameter{
			outers,
			{
				Name: "sewn-in", Kind: sdk.Choice, Default: seams, Choices: []string{seams, loose},
				Meaning: "Whether the lining is sewn in with the outer at neckline, armscye, sleeve head and waist, or hangs loose.",
			},
			{
				Name: "back-ease", Kind: sdk.Length, DefaultNote: "24 mm where a back lies on the fold at the centre back, none where it opens",
				Min: 0, Max: 200, Meaning: "By how much the lining's back is wider, laid in a pleat at the centre back.",
			},
			{
				Name: "hem-shorter", Kind: sdk.Length, Default: "20mm", Min: 0, Max: 500,
				Meaning: "How far above the hem the lining ends.", Mark: sdk.CommonPractice,
			},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		o := alter.Lining{Pieces: named(r), HemShorter: r.Values.Or("hem-shorter", 0)}
		if r.Values.Text("sewn-in") == seams {
			o.Join = []string{pattern.Neckline, pattern.Armscye, pattern.Cap, pattern.Waist}
		}
		ease := 0.0
		if backOnFold(r.Pattern, o.Pieces) {
			ease = 24
		}
		o.BackEase = r.Values.Or("back-ease", ease)
		return alter.Line(r.Pattern, o)
	},
}

// backOnFold reports whether one of the pieces, or of all pieces if none is
// named, is a back on the fold at the centre back.
func backOnFold(p *pattern.Pattern, names []string) bool {
	for _, role := range []pattern.Role{pattern.BodiceBack, pattern.SkirtBack} {
		for _, back := range p.ByRole(role) {
			if len(names) > 0 && names[0] != back.Name {
				continue
			}
			for _, e := range back.EdgesByRole(pattern.CentreBack) {
				if e.Finish == pattern.Fold {
					return true
				}
			}
		}
	}
	return false
}

var interlining = &sdk.Operation{
	Spec: sdk.Spec{
		Name:       "interlining",
		Purpose:    "Makes interlinings from the outer pieces, to be mounted on them all round and sewn as one.",
		Parameters: []sdk.Parameter{outers},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.Line(r.Pattern, alter.Lining{Pieces: named(r), Inter: true})
	},
}
