package matrix

import (
	"slices"

	"bygone.example/core/chain"
	"bygone.example/core/pattern"
	"bygone.example/internal/stock"
)

// Preparation is what is done to the dress before an operation that cannot
// work on the plain one.
type Preparation struct {
	Name   string
	Reason string // what it gives an operation to work on
	Steps  []chain.Step
	// Edit, if set, is done to the pattern after the steps: what no step of the
	// house would do to it. The pattern is its own to change.
	Edit func(*pattern.Pattern)
}

// Preparations are tried in this order, the plain dress first; an operation is
// at home on the first that it does not refuse for the stock figure and on
// which it has something to do.
var Preparations = []Preparation{
	{Name: "plain", Reason: "the stock dress as it is"},
	{
		Name: "divided-back", Reason: "a back in two pieces has a seam to narrow, to move and to close",
		Steps: []chain.Step{step("back.divide")},
	},
	{
		Name: "gathered-skirt", Reason: "gathers at the back waist can be moved, laid in pleats and drawn up otherwise",
		Steps: []chain.Step{step("skirt.gather-back")},
	},
	{
		Name: "godets", Reason: "a godet can be changed and taken out again",
		Steps: []chain.Step{step("skirt.godet")},
	},
	{
		Name: "darts-let-out", Reason: "with its darts turned into one and that let out, the front's waist is free for more fullness",
		Steps: []chain.Step{
			step("darts.rotate",
				chain.Setting{Parameter: "piece", Value: "bodice-front"},
				chain.Setting{Parameter: "dart", Value: "bust-dart"},
				chain.Setting{Parameter: "into-dart", Value: "waist-dart"}),
			step("darts.release", chain.Setting{Parameter: "piece", Value: "bodice-front"}),
		},
	},
	{
		Name: "untrue-darts", Reason: "darts whose points lie 6 mm off their middle, as a pattern may come, have legs to be made equal",
		Edit: func(p *pattern.Pattern) {
			for i := range p.Pieces {
				piece := &p.Pieces[i]
				for k := range piece.Darts {
					dart := &piece.Darts[k]
					path := piece.Edge(dart.Edge).Path
					dart.Point = dart.Point.Add(path.At(dart.To).Sub(path.At(dart.From)).Unit().Mul(6))
				}
			}
		},
	},
}

// allowed come last: much else could be done to a dress that is drawn to its cut
// lines.
var allowed = []Preparation{
	{
		Name: "with-allowances", Reason: "with allowances round it the dress has corners to shape",
		Steps: []chain.Step{step("allowance.set")},
	},
	{
		Name: "cut-out", Reason: "the dress drawn to its cut lines, as a pattern may come, has allowances to be brought in",
		Steps: []chain.Step{step("allowance.set")},
		Edit:  func(p *pattern.Pattern) { *p = *stock.CutOut(p) },
	},
}

func init() { Preparations = slices.Concat(Preparations, faulty, allowed) }

// settings are those that operations are tried with which do nothing unless
// something is asked of them. All others are tried at their defaults.
var settings = map[string][]chain.Setting{
	"allowance.corner":   {{Parameter: "shape", Value: "bevel"}},                                        // it has the house's shape already
	"skirt.godet-change": {{Parameter: "height", Value: "260mm"}, {Parameter: "width", Value: "220mm"}}, // a godet is left as it is unless another size or place is named
}

// Asked returns the step that an operation is tried as.
func Asked(operation string) chain.Step { return step(operation, settings[operation]...) }

func step(operation string, settings ...chain.Setting) chain.Step {
	return chain.Step{Name: operation, Operation: operation, Settings: settings}
}
