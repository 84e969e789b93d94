package darts

import (
	"context"
	"fmt"

	"bygone.example/core/alter"
	"bygone.example/core/pattern"
	"bygone.example/sdk"
)

var add = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "add",
		Purpose: "Adds a dart to an edge; what it takes is let out beside it, eased in on the mate, or taken in.",
		Parameters: []sdk.Parameter{
			{Name: "piece", Kind: sdk.Name, Meaning: "The piece that gets the dart.", DefaultNote: "the skirt back, else the first piece with that edge"},
			{Name: "edge", Kind: sdk.Name, Default: pattern.Waist, Meaning: "The edge that gets the dart."},
			{Name: "at", Kind: sdk.Ratio, Default: "0.5", Min: 0, Max: 1, Meaning: "Where on the edge, as a share of its length from where the piece's boundary comes to it.", Mark: sdk.CommonPractice},
			{Name: "intake", Kind: sdk.Length, Default: "16mm", Min: 1, Max: 300, Meaning: "How much the dart takes up at the edge.", Mark: sdk.FromMemory},
			{Name: "depth", Kind: sdk.Length, Default: "100mm", Min: 10, Max: 800, Meaning: "How long the dart is.", Mark: sdk.FromMemory},
			{
				Name: "made-up", Kind: sdk.Choice, Choices: []string{string(alter.LetOut), string(alter.MateEased), string(alter.TakenIn)}, Default: string(alter.LetOut),
				Meaning: "Where the width comes from.",
			},
			{Name: "neighbour", Kind: sdk.Name, Meaning: "The edge to let out at.", DefaultNote: "the one that is no fold or centre, with more room"},
			{Name: "name", Kind: sdk.Name, Meaning: "What the dart is called.", DefaultNote: "the edge's name and -dart"},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		name, edge := r.Values.Text("piece"), r.Values.Text("edge")
		var piece *pattern.Piece
		for i := range r.Pattern.Pieces {
			p := &r.Pattern.Pieces[i]
			if name != "" && p.Name != name || p.Edge(edge) == nil {
				continue
			}
			if piece == nil || name == "" && p.Role == pattern.SkirtBack && piece.Role != pattern.SkirtBack {
				piece = p
			}
		}
		if piece == nil {
			return nil, sdk.Refuse(fmt.Sprintf("no such piece has an edge %q", edge), "name the piece and the edge")
		}
		return alter.AddDart(r.Pattern, alter.NewDart{
			Piece: piece.Name, Edge: edge, Name: r.Values.Text("name"), At: r.Values.Or("at", 0.5) * piece.Edge(edge).Path.Length(),
			Intake: r.Values.Or("intake", 0), Depth: r.Values.Or("depth", 0),
			MadeUp: alter.MadeUp(r.Values.Text("made-up")), Neighbour: r.Values.Text("neighbour"),
		})
	},
}

var princess = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "princess",
		Purpose: "Takes two darts, or one, into a panel line from edge to edge.",
		Parameters: []sdk.Parameter{
			{Name: "piece", Kind: sdk.Name, Meaning: "The piece to divide.", DefaultNote: "the bodice front, else the piece with the widest dart"},
			{Name: "dart", Kind: sdk.Name, Meaning: "The dart the line begins in.", DefaultNote: "a dart on the waist, else the widest"},
			{Name: "other-dart", Kind: sdk.Name, Meaning: "The dart the line ends in.", DefaultNote: "the widest other dart of the piece, if it has one"},
			{Name: "to-edge", Kind: sdk.Name, Default: pattern.Shoulder, Meaning: "The edge the line ends on; the other dart is turned there if it is elsewhere."},
			{Name: "at", Kind: sdk.Ratio, Default: "0.5", Min: 0, Max: 1, Meaning: "Where on that edge, as a share of its length from where the piece's boundary comes to it.", Mark: sdk.CommonPractice},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		piece, dart, err := panelDart(r)
		if err != nil {
			return nil, err
		}
		edge, at, err := onEdge(r, piece)
		if err != nil {
			return nil, err
		}
		o := alter.Princess{Piece: piece.Name, Dart: dart, Other: r.Values.Text("other-dart"), Edge: edge, At: at}
		best := 0.0
		for _, d := range piece.Darts {
			if r.Values.Text("other-dart") == "" && d.Name != dart && d.To-d.From > best {
				o.Other, best = d.Name, d.To-d.From
			}
		}
		return alter.PanelLine(r.Pattern, o)
	},
}

// panelDart returns the piece a panel line divides and the dart it begins in.
func panelDart(r *sdk.Request) (*pattern.Piece, string, error) {
	var piece *pattern.Piece
	if fronts := r.Pattern.ByRole(pattern.BodiceFront); r.Values.Text("piece") == "" && len(fronts) == 1 && len(fronts[0].Darts) > 0 {
		piece = fronts[0]
	} else {
		found, _, err := widest(r, "dart")
		if err != nil {
			return nil, "", err
		}
		piece = found
	}
	if name := r.Values.Text("dart"); name != "" {
		return piece, name, nil
	}
	name, best := "", 0.0
	for _, d := range piece.Darts {
		wide := d.To - d.From
		if e := piece.Edge(d.Edge); e != nil && e.Is() == pattern.Waist {
			wide += 1000 // before any other
		}
		if wide > best {
			name, best = d.Name, wide
		}
	}
	return piece, name, nil
}

var yoke = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "yoke",
		Purpose: "Divides a piece by a yoke seam and takes darts into it that end there.",
		Parameters: []sdk.Parameter{
			{Name: "piece", Kind: sdk.Name, Meaning: "The piece to divide.", DefaultNote: "the bodice back"},
			{Name: "dart", Kind: sdk.Name, Meaning: "A dart to take into the seam, which runs through its point.", DefaultNote: "none"},
			{Name: "other-dart", Kind: sdk.Name, Meaning: "One more.", DefaultNote: "none"},
			{Name: "from-edge", Kind: sdk.Name, Default: pattern.Armscye, Meaning: "The edge the seam begins on."},
			{Name: "from", Kind: sdk.Ratio, Default: "0.5", Min: 0, Max: 1, Meaning: "Where, as a share of that edge from where the piece's boundary comes to it.", Mark: sdk.CommonPractice},
			{Name: "to-edge", Kind: sdk.Name, Meaning: "The edge the seam ends on.", DefaultNote: "the centre back or front"},
			{Name: "at", Kind: sdk.Ratio, Meaning: "Where, as a share of that edge from where the piece's boundary comes to it.", DefaultNote: "level with the other end, across the grain", Min: 0, Max: 1},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		var piece *pattern.Piece
		if name := r.Values.Text("piece"); name != "" {
			piece = r.Pattern.Piece(name)
		} else if backs := r.Pattern.ByRole(pattern.BodiceBack); len(backs) == 1 {
			piece = backs[0]
		}
		if piece == nil {
			return nil, sdk.Refuse("it is not clear which piece gets a yoke", "name a piece of the pattern")
		}
		from := piece.Edge(r.Values.Text("from-edge"))
		to := piece.Edge(r.Values.Text("to-edge"))
		for _, role := range []string{pattern.CentreBack, pattern.CentreFront} {
			if list := piece.EdgesByRole(role); r.Values.Text("to-edge") == "" && to == nil && len(list) > 0 {
				to = list[0]
			}
		}
		if from == nil || to == nil {
			return nil, sdk.Refuse(fmt.Sprintf("piece %q does not have both edges the yoke seam is to run between", piece.Name), "name two of its edges")
		}
		o := alter.Yoke{Piece: piece.Name, From: from.Name, FromAt: from.Path.Length() * r.Values.Or("from", 0.5), To: to.Name}
		for _, p := range []string{"dart", "other-dart"} {
			if name := r.Values.Text(p); name != "" {
				o.Darts = append(o.Darts, name)
			}
		}
		if share := r.Values.Or("at", -1); share >= 0 {
			o.ToAt = to.Path.Length() * share
		} else {
			// Across the grain from the one end to the other.
			up := piece.Grain.To.Sub(piece.Grain.From)
			cuts := to.Path.CutLine(from.Path.At(o.FromAt), up.Left())
			if !piece.Grain.Given() || len(cuts) == 0 {
				return nil, sdk.Refuse(fmt.Sprintf("level with its start, the yoke seam misses edge %q of piece %q", to.Name, piece.Name), "say where on the edge it ends")
			}
			o.ToAt = cuts[0]
		}
		return alter.YokeSeam(r.Pattern, o)
	},
}
