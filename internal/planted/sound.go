package planted

import (
	"fmt"

	"bygone.example/core/chain"
	yamlfile "bygone.example/core/format/yaml"
	"bygone.example/core/geom"
	"bygone.example/core/pattern"
	"bygone.example/internal/matrix"
	"bygone.example/internal/stock"
	"bygone.example/testdata"
)

// Sound returns the patterns that faults are planted in, by name. All are to pass
// the check without a finding.
//
//   - dress: the company's stock dress, drawn to its seam lines
//   - allowed: the same with allowances
//   - gown: the dress after the whole chain to 1806, with gathers, puffed sleeves,
//     a back in two and allowances
//   - gown/STEP: what there is after each step on the way there
//   - lined, layered, pleated, tiered: the dress after one step that gives it such
//   - tabard: a left and a right front and a back drawn whole, our own shapes
//   - twelve: the dress and an under-dress, of twelve pieces
func Sound() (map[string]*pattern.Pattern, error) {
	all := map[string]*pattern.Pattern{"tabard": tabard()}
	dress, err := stock.Dress()
	if err != nil {
		return nil, err
	}
	all["dress"] = dress
	if all["twelve"], err = stock.Twelve(); err != nil {
		return nil, err
	}
	lady, err := matrix.Stock()
	if err != nil {
		return nil, err
	}
	for name, step := range map[string]string{
		"allowed": "allowance.set", "lined": "finish.lining", "layered": "layer.over", "pleated": "fullness.pleat", "tiered": "fullness.tiers",
	} {
		a, err := matrix.Apply(dress, matrix.Asked(step), lady)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", step, err)
		}
		all[name] = a.Pattern
	}
	c, err := houseChain()
	if err != nil {
		return nil, err
	}
	gown := dress
	for _, step := range c.Steps {
		a, err := matrix.Apply(gown, step, lady)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", step.Name, err)
		}
		gown = a.Pattern
		all["gown/"+step.Name] = gown
	}
	all["gown"] = gown
	return all, nil
}

func houseChain() (chain.Chain, error) {
	const file = "chains/high-waist-1806.yaml"
	data, err := testdata.Demo.ReadFile(file)
	if err != nil {
		return chain.Chain{}, err
	}
	return yamlfile.ReadChain(file, data)
}

// tabard is an open garment of a left and a right front and a back drawn whole:
// no folds, no roles, every piece cut once.
func tabard() *pattern.Pattern {
	pt := geom.Pt
	line := func(a, b geom.Point) geom.Path { return geom.Path{geom.Line(a, b)} }
	edge := func(name string, finish pattern.Finish, path geom.Path) pattern.Edge {
		return pattern.Edge{Name: name, Path: path, Finish: finish}
	}
	// Shoulders slope by one in four; lines that run on across a seam leave it
	// square.
	neck, arm := pt(80, 500), pt(200, 470)
	slope := neck.Sub(arm).Unit()
	under, hem := pt(240, 300), pt(240, 0)
	scye := geom.Path{geom.Hermite(under, pt(-60, 0), arm.Add(pt(-5, -90)), slope.Right().Mul(60)),
		geom.Hermite(arm.Add(pt(-5, -90)), slope.Right().Mul(60), arm, slope.Right().Mul(90))}
	left := pattern.Piece{
		Name: "front-left", Title: "Left front", Cut: pattern.Cut{Count: 1},
		Grain: pattern.Grain{From: pt(60, 50), To: pt(60, 350)},
		Edges: []pattern.Edge{
			edge("hem", pattern.Hemmed, line(pt(0, 0), hem)),
			edge("side", pattern.Sewn, line(hem, under)),
			edge("armhole", pattern.Bound, scye),
			edge("shoulder", pattern.Sewn, line(arm, neck)),
			edge("neck", pattern.Bound, geom.Path{geom.Hermite(neck, slope.Left().Mul(90), pt(0, 410), pt(-70, 0))}),
			edge("front", pattern.Bound, line(pt(0, 410), pt(0, 0))),
		},
		Notches: []pattern.Notch{{Name: "hip", Edge: "side", At: 110, Count: 1}, {Name: "chest", Edge: "side", At: 240, Count: 2}},
	}
	right := mirrored(left, "front-right", geom.Reflection(pt(0, 0), pt(0, 1)))
	right.Title = "Right front"
	back := pattern.Piece{
		Name: "back", Title: "Back", Cut: pattern.Cut{Count: 1},
		Grain: pattern.Grain{From: pt(0, 50), To: pt(0, 400)},
	}
	nape := pt(0, 480)
	half := geom.Path{geom.Hermite(neck, slope.Left().Mul(30), nape, pt(-90, 0))}
	flip := geom.Reflection(pt(0, 0), pt(0, 1))
	back.Edges = []pattern.Edge{
		edge("hem", pattern.Hemmed, line(pt(-240, 0), hem)),
		edge("side.right", pattern.Sewn, line(hem, under)),
		edge("armhole.right", pattern.Bound, scye),
		edge("shoulder.right", pattern.Sewn, line(arm, neck)),
		edge("neck", pattern.Bound, half.Join(half.Transform(flip).Reverse())),
		edge("shoulder.left", pattern.Sewn, line(flip.Apply(neck), flip.Apply(arm))),
		edge("armhole.left", pattern.Bound, scye.Transform(flip).Reverse()),
		edge("side.left", pattern.Sewn, line(flip.Apply(under), flip.Apply(hem))),
	}
	back.Notches = []pattern.Notch{
		{Name: "hip", Edge: "side.right", At: 110, Count: 1}, {Name: "chest", Edge: "side.right", At: 240, Count: 2},
		{Name: "hip", Edge: "side.left", At: 190, Count: 1}, {Name: "chest", Edge: "side.left", At: 60, Count: 2},
	}
	ref := func(piece, edge string, backwards bool) pattern.Run {
		return pattern.Run{{Piece: piece, Edge: edge, Backwards: backwards}}
	}
	plain := pattern.Meeting{Kind: pattern.Plain}
	return &pattern.Pattern{
		Name: "tabard", Title: "Tabard", Pieces: []pattern.Piece{left, right, back},
		Seams: []pattern.Seam{
			// Laid face to face, the left front's side lies on the back's own left.
			{Name: "side-left", A: ref("front-left", "side", false), B: ref("back", "side.left", true), Meeting: plain},
			{Name: "side-right", A: ref("front-right", "side", false), B: ref("back", "side.right", true), Meeting: plain},
			{Name: "shoulder-left", A: ref("front-left", "shoulder", false), B: ref("back", "shoulder.left", true), Meeting: plain},
			{Name: "shoulder-right", A: ref("front-right", "shoulder", false), B: ref("back", "shoulder.right", true), Meeting: plain},
		},
	}
}
