package matrix

import "bygone.example/core/chain"

// Preparation is what is done to the dress before an operation that cannot
// work on the plain one.
type Preparation struct {
	Name   string
	Reason string // what it gives an operation to work on
	Steps  []chain.Step
}

// Preparations are tried in this order, the plain dress first; an operation is
// at home on the first that it does not refuse for the stock figure.
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
}

func step(operation string, settings ...chain.Setting) chain.Step {
	return chain.Step{Name: operation, Operation: operation, Settings: settings}
}
