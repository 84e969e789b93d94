package sleeve

import (
	"context"

	"bygone.example/core/alter"
	"bygone.example/sdk"
)

var refit = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "refit",
		Purpose: "Makes the sleeve's head fit its armscye again.",
		Needs:   needs,
		Parameters: []sdk.Parameter{{
			Name: "ease", Kind: sdk.Length, Default: "25mm", Min: 0, Max: 100,
			Meaning: "By how much a head that is not gathered is longer than the armscye.", Mark: sdk.CommonPractice,
		}},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.RefitCap(r.Pattern, r.Values.Or("ease", 0))
	},
}

var ease = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "ease",
		Purpose: "Makes the sleeve's head fit its armscye and lays the ease by thirds, with notches that hold it there.",
		Needs:   needs,
		Parameters: []sdk.Parameter{
			{
				Name: "ease", Kind: sdk.Length, Default: "25mm", Min: 0, Max: 100,
				Meaning: "By how much the head is longer than the armscye; C. Hecklinger 1884, fig. 9, has 2in on 16in.", Mark: sdk.CommonPractice,
			},
			{Name: "front", Kind: sdk.Ratio, Default: "0.3", Min: 0, Max: 1, Meaning: "The front third's share of it.", Mark: sdk.FromMemory},
			{Name: "top", Kind: sdk.Ratio, Default: "0.4", Min: 0, Max: 1, Meaning: "The middle third's share, over the shoulder.", Mark: sdk.FromMemory},
			{Name: "back", Kind: sdk.Ratio, Default: "0.3", Min: 0, Max: 1, Meaning: "The back third's share.", Mark: sdk.FromMemory},
			{
				Name: "from", Kind: sdk.Ratio, Min: 0, Max: 1, DefaultNote: "the first pair of notches",
				Meaning: "Where the eased stretch begins, as a share of the armscye from its front end under the arm; set to as well.",
			},
			{Name: "to", Kind: sdk.Ratio, Min: 0, Max: 1, DefaultNote: "the last pair of notches", Meaning: "Where it ends; set from as well."},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		return alter.RefitHead(r.Pattern, alter.HeadEase{
			Ease: r.Values.Or("ease", 0), Front: r.Values.Or("front", 0), Top: r.Values.Or("top", 0), Back: r.Values.Or("back", 0),
			From: r.Values.Or("from", 0), To: r.Values.Or("to", 0),
		})
	},
}

// ownHeight stands for a head whose height is set by none of the rules.
const ownHeight = "own"

var head = &sdk.Operation{
	Spec: sdk.Spec{
		Name:    "head",
		Purpose: "Sets the height and width of the sleeve's head; what ease it comes to have is recorded.",
		Needs:   needs,
		Parameters: []sdk.Parameter{
			{Name: "height", Kind: sdk.Length, Min: 5, Max: 400, DefaultNote: "as by says", Meaning: "How high the head stands above its foot."},
			{
				Name: "by", Kind: sdk.Choice, Default: ownHeight, Choices: []string{ownHeight, string(alter.QuarterScye), string(alter.ThirdScye)},
				Meaning: "Its height if none is set: its own, a quarter of the armscye, or a third less half an inch (C. Hecklinger 1884, fig. 9 and 10).",
			},
			{Name: "width", Kind: sdk.Length, Min: 50, Max: 1000, DefaultNote: "as it is, and wider", Meaning: "The sleeve's width at the foot of the head."},
			{
				Name: "wider", Kind: sdk.Length, Default: "10mm", Min: -300, Max: 300,
				Meaning: "How much wider the sleeve is made there, if width is not set; negative narrows it.", Mark: sdk.FromMemory,
			},
		},
	},
	Apply: func(_ context.Context, r *sdk.Request) (*sdk.Answer, error) {
		o := alter.HeadShape{Height: r.Values.Or("height", 0)}
		if by := r.Values.Text("by"); by != ownHeight {
			o.By = alter.HeadRule(by)
		}
		var set bool
		if o.Width, set = r.Values.Number("width"); !set {
			o.Wider = r.Values.Or("wider", 0)
		}
		return alter.ShapeHead(r.Pattern, o)
	},
}
